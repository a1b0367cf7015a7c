# SPDX-License-Identifier: Apache-2.0
"""Sheets and stakes of the desk: a set that is seen in the page, stakes as the command has them."""

import re
from collections.abc import Iterator
from pathlib import Path
from time import monotonic, sleep
from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.desks import EXAMPLES, copy_of, desk_of
from tilewater.desk import paper_runs
from tilewater.desk.pages import draw
from tilewater.tasks.issuing import Issued
from tilewater.tasks.staking import rover_columns, rover_text, stake_job

FARM = "corbel-farm"
ENOUGH = 120.0
"""Longer than a set takes on a busy machine. [s]"""


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    root = tmp_path_factory.mktemp("desk")
    copy_of(FARM, root)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(paper_runs, "design_job", lambda folder: None)
        patch.setattr(paper_runs, "sheets_of", lambda outcome, units, words: words)
        patch.setattr(
            paper_runs,
            "papers_of_set",
            lambda outcome, made, units, words: {
                "sheets.pdf": lambda: f"%PDF {words.status} {words.paper}".encode(),
                "sheets-dxf/plan.dxf": lambda: b"plan",
            },
        )
        yield desk_of(root)


@pytest.mark.works(of=(draw.make, draw.drawn_file, draw.draw_twin))
def test_a_set_is_drawn_for_a_status_and_a_paper_and_seen_in_the_page(desk: TestClient):
    assert desk.get(f"/job/{FARM}/draw/file/sheets.pdf").status_code == 404
    sent = desk.post(f"/job/{FARM}/draw", data={"status": "bid", "paper": "a3"})
    assert sent.status_code == 303
    until = monotonic() + ENOUGH
    while desk.get(f"/job/{FARM}/draw.json").json()["state"] == "runs" and monotonic() < until:
        sleep(0.05)
    told = desk.get(f"/job/{FARM}/draw.json").json()
    assert told["files"] == ["sheets-dxf/plan.dxf", "sheets.pdf"]
    page = desk.get(f"/job/{FARM}/draw").text
    assert "<iframe" in page
    assert "The dig waits for the locate ticket" in page
    seen = desk.get(f"/job/{FARM}/draw/file/sheets.pdf")
    assert seen.content == b"%PDF bid a3"
    assert seen.headers["content-disposition"].startswith("inline")
    saved = desk.get(f"/job/{FARM}/draw/file/sheets-dxf/plan.dxf")
    assert saved.content == b"plan"
    assert saved.headers["content-disposition"].startswith("attachment")


@pytest.mark.works(of=(draw.make,))
@pytest.mark.parametrize(
    ("typed", "words"),
    [({"status": "construction"}, "sign-off"), ({"paper": "a9"}, "no size of paper")],
)
def test_a_set_that_cannot_be_is_refused_with_its_reason(
    desk: TestClient, typed: dict[str, str], words: str
):
    refused = desk.post(f"/job/{FARM}/draw", data=typed)
    assert refused.status_code == 422
    assert words in refused.text


def wait_for_issue(desk: TestClient) -> dict[str, Any]:
    until = monotonic() + ENOUGH
    while monotonic() < until:
        told = desk.get(f"/job/{FARM}/draw.json").json()["issue"]
        if told["state"] not in ("not made", "runs"):
            break
        sleep(0.05)
    return told


def version_of(desk: TestClient) -> str:
    found = re.search(r'name="version" value="([^"]+)"', desk.get(f"/job/{FARM}/draw").text)
    assert found is not None
    return found[1]


@pytest.mark.works(of=(draw.issue, paper_runs.issue_set))
def test_a_set_is_issued_by_the_task_of_the_command_line(
    desk: TestClient, monkeypatch: pytest.MonkeyPatch
):
    asked: list[tuple[object, ...]] = []

    def keep(outcome, units, words, by, note, day, *, tell):
        tell("sheets.pdf")
        asked.append((units, words.status, words.paper, words.signed, by, note))
        return Issued(Path("2026-11-25-sheets-for-bid"), "0" * 64)

    monkeypatch.setattr(paper_runs, "issue_sheets", keep)
    assert 'value="R. Lindqvist"' in desk.get(f"/job/{FARM}/draw").text
    typed = {"status": "bid", "by": "R. Lindqvist", "note": "to three bidders"}
    sent = desk.post(f"/job/{FARM}/draw/issue", data=typed | {"version": version_of(desk)})
    assert sent.status_code == 303
    told = wait_for_issue(desk)
    assert told["state"] == "done"
    assert told["name"] == "2026-11-25-sheets-for-bid"
    assert asked == [("us", "bid", "11x17", "", "R. Lindqvist", "to three bidders")]
    page = desk.get(f"/job/{FARM}/draw").text
    assert "Issued: 2026-11-25-sheets-for-bid" in page
    assert "0" * 64 in page


@pytest.mark.works(of=(draw.issue,))
@pytest.mark.parametrize(
    ("typed", "code", "words"),
    [
        ({"by": ""}, 422, "the copy has no name"),
        ({"status": "construction", "by": "R. Lindqvist"}, 422, "sign-off"),
        ({"by": "R. Lindqvist", "version": "older"}, 409, "has changed since"),
    ],
)
def test_an_issue_that_cannot_be_is_refused_with_its_reason(
    desk: TestClient, typed: dict[str, str], code: int, words: str
):
    refused = desk.post(f"/job/{FARM}/draw/issue", data={"version": version_of(desk)} | typed)
    assert refused.status_code == code
    assert words in refused.text


@pytest.mark.works(of=(draw.issue,))
def test_an_issue_from_another_site_is_refused(desk: TestClient):
    typed = {"status": "bid", "by": "R. Lindqvist", "version": version_of(desk)}
    sent = desk.post(
        f"/job/{FARM}/draw/issue", data=typed, headers={"origin": "http://elsewhere.example"}
    )
    assert sent.status_code == 403


@pytest.mark.works(of=(draw.stake, draw.remember, draw.staked_file))
def test_stakes_are_those_of_the_command_line_and_columns_are_remembered(desk: TestClient):
    page = desk.get(f"/job/{FARM}/stake").text
    assert "bed-floor-lower-near" in page
    staked = stake_job(EXAMPLES / FARM)
    told = desk.get(f"/job/{FARM}/stake/file/stake-points.txt").text
    assert "1  point: name of the point" in told
    sent = desk.get(f"/job/{FARM}/stake/file/stake-points.csv")
    assert sent.text == rover_text(staked, rover_columns(staked, ()))
    assert desk.post(f"/job/{FARM}/stake", data={"columns": "point, nothing"}).status_code == 422
    kept = desk.post(f"/job/{FARM}/stake", data={"columns": "east, north, point"})
    assert kept.status_code == 303
    assert 'value="east, north, point"' in desk.get(f"/job/{FARM}/stake").text
    assert desk.get(f"/job/{FARM}/stake/file/other.csv").status_code == 404
