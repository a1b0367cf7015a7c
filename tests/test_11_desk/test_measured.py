# SPDX-License-Identifier: Apache-2.0
"""The page of what was measured: the answer, its twin, a number, its files; or what to add."""

import pytest

from tests.desks import copy_of, desk_of
from tilewater.desk.pages import measured as page
from tilewater.tasks.monitoring import monitor_checked

PART = {"HX-Request": "true"}


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """A desk whose reports rest on designs without their days, which are another test's."""
    root = tmp_path_factory.mktemp("jobs")
    copy_of("corbel-built", root, "built")
    copy_of("corbel-farm", root, "farm")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(page, "monitor_checked", lambda job: monitor_checked(job, by_days=False))
        yield desk_of(root)


@pytest.mark.works(of=(page.measured,))
def test_page_comes_at_once_and_asks_for_its_parts(desk):
    first = desk.get("/job/built/measured")
    assert first.status_code == 200
    assert "Leading the levels over the boards" in first.text
    part = desk.get("/job/built/measured", headers=PART).text
    assert "What did it remove?" in part
    assert part.index("What did it remove?") < part.index("measured-charts") < part.index("Loads")


@pytest.mark.works(of=(page.measured_twin, page.series))
def test_twins_hold_the_same_numbers(desk):
    record = desk.get("/job/built/measured.json").json()
    assert record["monitor"]["removed_kg"]["p50"] > 0.0
    series = desk.get("/job/built/measured/series.json").json()
    assert len(series["groups"]) == 2


@pytest.mark.works(of=(page.number,))
def test_a_number_opens(desk):
    shown = desk.get("/job/built/measured/number/monitor.site_percent.value")
    assert "Share of the site" in shown.text
    assert "Back to the report" in shown.text
    assert desk.get("/job/built/measured/number/monitor.nothing").status_code == 404


@pytest.mark.works(of=(page.measured_file,))
def test_files_can_be_saved(desk):
    paper = desk.get("/job/built/measured/file/monitor.pdf")
    assert paper.content[:4] == b"%PDF"
    table = desk.get("/job/built/measured/file/loads.csv?save=true")
    assert table.headers["content-disposition"].startswith("attachment")
    assert desk.get("/job/built/measured/file/other.txt").status_code == 404


@pytest.mark.works(of=(page.measured,))
def test_a_job_without_loggers_says_what_to_add(desk):
    text = desk.get("/job/farm/measured").text
    assert "Nothing was measured here yet." in text
    assert desk.get("/job/farm/measured.json").status_code == 409
