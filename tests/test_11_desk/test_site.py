# SPDX-License-Identifier: Apache-2.0
"""On site in the desk: hold points signed through the one door, nothing typed is lost."""

import re
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.browsers import PHONE, a_browser, served
from tests.desks import TOKEN, copy_of, desk_of, edit, version_of
from tilewater.desk.keys import KEY
from tilewater.desk.pages import site

FARM = "corbel-built"
UNSIGNED = re.compile(
    r"\[hold\.(?:uplift|chips|fabric|structures|boards|final)\]\n(?:[^\[\n].*\n)*"
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the built farm where work stops at the uplift, on that day."""
    monkeypatch.setattr(site, "now", lambda: datetime(2027, 9, 24, 16, 0))
    folder = copy_of(FARM, tmp_path, "job")
    file = folder / "job.toml"
    file.write_text(UNSIGNED.sub("", file.read_text(encoding="utf-8")), encoding="utf-8")
    return folder


@pytest.fixture
def desk(folder: Path) -> TestClient:
    return desk_of(folder.parent)


def signed(desk: TestClient, point: str, **typed: str) -> Any:
    fields = {"by": "M. Ostrow", "at": "2027-09-24 15:45", "result": "accepted"} | typed
    data = {"version": version_of(desk, "job")} | fields
    return desk.post(f"/job/job/site/{point}", data=data)


@pytest.mark.works(of=(site.site, site.site_twin))
def test_the_page_stops_at_the_next_hold_point_and_shows_the_gates(desk: TestClient):
    page = desk.get("/job/job/site").text
    assert 'Work stops at <a href="#uplift">uplift: ground water below the floor</a>' in page
    assert page.count("<form") == 10
    assert "Gate for dig" in page
    assert "no copy issued for construction" in page
    told = desk.get("/job/job/site.json").json()
    assert told["next"] == "uplift"
    assert told["points"]["liner"]["state"] == "signed"
    assert told["gates"]["start"]["missing"] == ["design issued for construction"]


@pytest.mark.works(of=(site.sign,))
def test_a_hold_point_is_written_to_the_job_file_and_can_be_taken_back(
    desk: TestClient, folder: Path
):
    before = (folder / "job.toml").read_text(encoding="utf-8")
    sent = signed(desk, "uplift", groundwater="1180.42", reading="pit at 1+00", photo="IMG_1.jpg")
    assert sent.status_code == 303
    assert sent.headers["location"] == "/job/job/site#uplift"
    text = (folder / "job.toml").read_text(encoding="utf-8")
    assert "[hold.uplift]" in text
    assert 'groundwater = "1180.42 ft"' in text
    assert 'reading = "pit at 1+00"' in text
    assert "note" not in text.partition("[hold.uplift]")[2]
    assert desk.get("/job/job/site.json").json()["points"]["uplift"]["state"] == "signed"
    desk.post("/job/job/undo", data={"version": version_of(desk, "job")})
    assert (folder / "job.toml").read_text(encoding="utf-8") == before


@pytest.mark.works(of=(site.sign, site.site))
def test_one_signed_over_an_open_one_is_kept_and_told_as_out_of_turn(desk: TestClient):
    assert signed(desk, "fabric").status_code == 303
    told = desk.get("/job/job/site.json").json()
    assert told["points"]["fabric"]["state"] == "out of turn"
    assert told["next"] == "uplift"
    assert (
        "signed while open: uplift: ground water below the floor" in desk.get("/job/job/site").text
    )


@pytest.mark.works(of=(site.sign,))
def test_a_refused_one_stays_where_work_stops(desk: TestClient):
    assert signed(desk, "uplift", result="refused", note="water at the floor").status_code == 303
    told = desk.get("/job/job/site.json").json()
    assert (told["next"], told["points"]["uplift"]["state"]) == ("uplift", "refused")


@pytest.mark.works(of=(site.sign,))
@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"by": ""}, "Who signs is blank. A hold point counts with a name and a day."),
        ({"at": "noon"}, "is no day"),
        ({"groundwater": "wet"}, "wet"),
    ],
)
def test_what_is_wrong_stands_at_its_box_and_nothing_is_written(
    desk: TestClient, folder: Path, typed: dict[str, str], words: str
):
    before = (folder / "job.toml").read_text(encoding="utf-8")
    sent = signed(desk, "uplift", reading="kept as typed", **typed)
    assert sent.status_code == 422
    assert words in sent.text
    assert 'value="kept as typed"' in sent.text
    assert 'aria-invalid="true"' in sent.text
    assert (folder / "job.toml").read_text(encoding="utf-8") == before


@pytest.mark.works(of=(site.sign,))
def test_a_job_that_moved_meanwhile_is_not_written_over_and_what_was_typed_stands(
    desk: TestClient, folder: Path
):
    version = version_of(desk, "job")
    edit(folder, 'by = "D. Pruett, competent person"', 'by = "E. Pruett, competent person"')
    data = {"version": version, "by": "M. Ostrow", "at": "2027-09-24", "reading": "typed here"}
    sent = desk.post("/job/job/site/uplift", data=data)
    assert sent.status_code == 409
    assert 'value="typed here"' in sent.text
    assert "What you typed stands below." in sent.text
    text = (folder / "job.toml").read_text(encoding="utf-8")
    assert "E. Pruett" in text
    assert "[hold.uplift]" not in text
    again = signed(desk, "uplift", reading="typed here")
    assert again.status_code == 303


@pytest.mark.works(of=(site.sign, site.site_file))
def test_a_strange_hold_point_and_a_strange_paper_are_not_there(desk: TestClient):
    assert signed(desk, "roof").status_code == 404
    assert desk.get("/job/job/site/file/secrets.pdf").status_code == 404
    assert desk.get("/job/none/site").status_code == 404


@pytest.mark.works(of=(site.site_file,))
def test_the_papers_of_the_site_are_seen_in_the_page(desk: TestClient):
    for file in (site.BOOK, site.BEFORE):
        seen = desk.get(f"/job/job/site/file/{file}")
        assert seen.content.startswith(b"%PDF")
        assert seen.headers["content-disposition"].startswith("inline")


@pytest.mark.slow
@pytest.mark.works(of=(site.site, site.sign))
def test_a_phone_signs_with_big_targets_and_asks_no_other_host(folder: Path):
    with served(folder.parent) as address, a_browser() as browser:
        context = browser.new_context(viewport=PHONE)
        asked: list[str] = []
        page = context.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.goto(f"{address}/?{KEY}={TOKEN}")
        page.goto(f"{address}/job/job/site")
        assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
        point = page.locator("#uplift")
        for target in (point.locator("summary"), point.get_by_text("Accept and sign")):
            box = target.bounding_box()
            assert box is not None
            assert box["height"] >= 48.0
        point.get_by_label("Who signs").fill("M. Ostrow")
        point.get_by_text("Accept and sign").click()
        page.wait_for_url("**/site#uplift")
        assert "signed" in page.locator("#uplift .mark").inner_text()
        assert {url.split("/")[2] for url in asked if "://" in url} == {address.split("/")[2]}
        context.close()
