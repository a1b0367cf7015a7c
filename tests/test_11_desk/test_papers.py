# SPDX-License-Identifier: Apache-2.0
"""Papers of the desk: made in a thread, seen in the page, issued whole or not at all."""

from collections.abc import Iterator
from pathlib import Path
from time import monotonic, sleep
from typing import Any

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of, edit, version_of
from tests.draws import few_draws
from tests.test_11_desk.test_search import of_last_years
from tilewater.desk import paper_runs
from tilewater.desk.pages import papers as papers_of_desk
from tilewater.desk.runs import Run
from tilewater.documents.words import Words
from tilewater.job.issued import issued_copies
from tilewater.tasks.designing import design_job
from tilewater.tasks.papers import papers_of

FARM = "corbel-farm"
ENOUGH = 300.0
"""Longer than papers take on a busy machine. [s]"""
QUICK = ("plan.svg", "plan.dxf")
"""Papers that are made in a moment."""


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A desk that makes two papers of a job."""
    root = tmp_path_factory.mktemp("desk")
    of_last_years(copy_of(FARM, root))

    def few(outcome: Any, units: Any, status: str = "") -> Any:
        return {n: make for n, make in papers_of(outcome, units, status).items() if n in QUICK}

    with pytest.MonkeyPatch.context() as patch, few_draws():
        patch.setattr(paper_runs, "papers_of", few)
        patch.setattr(paper_runs, "_sheets", lambda outcome, units: b"%PDF of sheets")
        patch.setattr("tilewater.tasks.issuing.papers_of", few)
        yield desk_of(root)


def wait_for(desk: TestClient, kind: str) -> dict[str, Any]:
    until = monotonic() + ENOUGH
    while monotonic() < until:
        now = desk.get(f"/job/{FARM}/papers.json").json()
        if now[kind]["state"] != "runs":
            return dict(now[kind])
        sleep(0.05)
    raise AssertionError(f"it still says {now[kind]['said']}")


def folder_of(desk: TestClient) -> Path:
    return Path(desk.app.state.shelf.place(FARM).folder)  # type: ignore[attr-defined]


@pytest.fixture(scope="module")
def made(desk: TestClient) -> dict[str, Any]:
    assert desk.post(f"/job/{FARM}/papers/papers").status_code == 303
    return wait_for(desk, "papers")


@pytest.mark.works(of=(paper_runs.make_papers, papers_of_desk.file))
def test_a_paper_in_the_page_is_that_of_the_command_line(
    desk: TestClient, made: dict[str, Any]
) -> None:
    assert made["state"] == "done"
    assert made["files"] == sorted([*QUICK, "sheets.pdf"])
    outcome = design_job(folder_of(desk))
    seen = desk.get(f"/job/{FARM}/papers/papers/plan.svg")
    assert seen.content == papers_of(outcome, "us")["plan.svg"]()
    assert seen.headers["content-type"].startswith("image/svg+xml")
    assert seen.headers["content-disposition"].startswith("inline")
    assert "script-src" not in seen.headers["content-security-policy"]
    saved = desk.get(f"/job/{FARM}/papers/papers/plan.dxf")
    assert saved.headers["content-disposition"].startswith("attachment")


@pytest.mark.works(of=(papers_of_desk.papers, papers_of_desk.write))
def test_nothing_stands_in_the_folder_before_it_is_asked_for(
    desk: TestClient, made: dict[str, Any]
) -> None:
    results = folder_of(desk) / "results"
    assert not results.exists()
    page = desk.post(f"/job/{FARM}/papers/write").text
    assert "3 files stand in results/ now." in page  # the record, the drawing, its lines
    assert {file.name for file in results.iterdir()} == {*QUICK, "design.json", "checksums.txt"}


@pytest.mark.works(of=(papers_of_desk.rows_of,))
def test_reports_stand_before_drawings_and_a_drawing_has_its_forms_on_one_line() -> None:
    rows = papers_of_desk.rows_of(["main-plan.svg", "main-plan.dxf", "report.pdf"])
    assert [row.title for row in rows] == ["Report", "Main plan"]
    assert rows[1].look == "main-plan.svg"
    assert rows[1].forms == (("SVG", "main-plan.svg"), ("DXF", "main-plan.dxf"))


@pytest.mark.works(of=(papers_of_desk.issue,))
def test_a_copy_without_a_name_or_of_an_old_page_is_not_issued(desk: TestClient) -> None:
    version = version_of(desk, FARM)
    words = {"version": version, "status": "review copy", "by": "  "}
    nobody = desk.post(f"/job/{FARM}/papers/issue", data=words)
    assert nobody.status_code == 422
    assert "the copy has no name" in nobody.text
    assert 'value="review copy"' in nobody.text
    old = words | {"by": "R. Lindqvist", "version": "of another day"}
    refused = desk.post(f"/job/{FARM}/papers/issue", data=old)
    assert refused.status_code == 409
    assert "has changed since this page was shown" in refused.text
    assert issued_copies(folder_of(desk)) == ()


@pytest.mark.works(of=(paper_runs.issue, papers_of_desk.papers_twin))
def test_an_issued_copy_is_listed_and_an_altered_one_is_found_out(desk: TestClient) -> None:
    words = {"version": version_of(desk, FARM), "status": "review copy", "by": "R. Lindqvist"}
    assert desk.post(f"/job/{FARM}/papers/issue", data=words).status_code == 303
    now = wait_for(desk, "issue")
    assert now["state"] == "done"
    (copy,) = issued_copies(folder_of(desk))
    assert (copy.status, copy.by, copy.is_sound) == ("review copy", "R. Lindqvist", True)
    assert now["issued"]["name"] == copy.name
    page = desk.get(f"/job/{FARM}/papers").text
    assert "+ as issued" in page
    assert now["issued"]["seal"] in page
    paper = copy.folder / "results" / "plan.svg"
    paper.write_bytes(paper.read_bytes() + b" ")
    assert "! not as issued" in desk.get(f"/job/{FARM}/papers").text
    assert not desk.get(f"/job/{FARM}/papers.json").json()["issued"][0]["is_as_issued"]


@pytest.mark.works(of=(paper_runs.screen, papers_of_desk.run_twin))
def test_a_screening_opens_in_the_page_with_its_page_for_the_owner(desk: TestClient) -> None:
    assert desk.post(f"/job/{FARM}/papers/screen").status_code == 303
    assert wait_for(desk, "screen")["files"] == ["screen.pdf"]
    assert "What could lie here" in desk.get(f"/job/{FARM}/papers").text
    assert desk.get(f"/job/{FARM}/papers/screen/screen.pdf").content.startswith(b"%PDF")
    assert "answers" in desk.get(f"/job/{FARM}/papers/screen.json").json()
    assert desk.post(f"/job/{FARM}/papers/nothing").status_code == 404


@pytest.mark.works(of=(paper_runs.make_papers, Run))
def test_papers_that_are_stopped_are_not_half_made(desk: TestClient, made: dict[str, Any]) -> None:
    assert made["state"] == "done"
    run = Run("v")
    run.stop()
    run.begin(lambda each: paper_runs.make_papers(each, folder_of(desk), "us"))
    assert run.wait(ENOUGH)
    assert (run.state, run.result) == ("stopped", None)


@pytest.mark.works(of=(papers_of_desk.papers,))
def test_papers_of_a_job_that_has_changed_say_so(desk: TestClient, made: dict[str, Any]) -> None:
    assert made["is_of_this_job"]
    edit(folder_of(desk), 'owner = "J. Corbel"', 'owner = "K. Corbel"')
    page = desk.get(f"/job/{FARM}/papers").text
    assert "The job has changed since. These show it as it was." in page


@pytest.mark.slow
@pytest.mark.works(of=(paper_runs.compare,))
def test_practices_side_by_side_open_with_the_owner_s_pages(tmp_path: Path) -> None:
    copy_of("merridew-farm", tmp_path)
    with few_draws():
        run = Run("v")
        run.begin(lambda each: paper_runs.compare(each, tmp_path / "merridew-farm", Words("us")))
        assert run.wait(ENOUGH)
    opened = run.result
    assert run.state == "done"
    assert set(opened.files) == {"owner-compare.pdf"}
    assert opened.blocks
