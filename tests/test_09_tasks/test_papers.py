# SPDX-License-Identifier: Apache-2.0
"""Every paper of a design is made, of the same design, and says what kind of copy it is."""

import shutil
from io import BytesIO, StringIO

import ezdxf
import pytest
from pypdf import PdfReader

from tests.jobs import FARM, farm_text_without
from tilewater.basis.units import System
from tilewater.tasks.designing import Outcome, design_job
from tilewater.tasks.papers import papers_of

pytestmark = pytest.mark.works(of=(papers_of,))

DRAWINGS = {
    "long-section": ("1180.70", "359.877"),
    "main": ("1181.20", "360.030"),
    "cross-section": ("1180.70", "359.877"),
    "plan": ("1187.62", "361.987"),
}
"""An elevation of each drawing, in feet and in metres."""


STATUS = "For bids 2026-11-16-01, R. Lindqvist, with open items"


@pytest.fixture(scope="module")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> Outcome:
    folder = tmp_path_factory.mktemp("papers") / "corbel-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results", "issued"))
    # One answer without thirty years of days is quick.
    (folder / "job.toml").write_text(farm_text_without("weather"), encoding="utf-8")
    return design_job(folder)


@pytest.fixture(scope="module")
def reports(outcome: Outcome) -> dict[str, PdfReader]:
    papers = papers_of(outcome, "us", STATUS)
    return {name: PdfReader(BytesIO(papers[name]())) for name in ("report.pdf", "owner.pdf")}


def test_papers_are_named_before_they_are_made(outcome: Outcome) -> None:
    drawn = [f"{name}.{ending}" for name in DRAWINGS for ending in ("svg", "dxf")]
    assert [*drawn, "report.pdf", "owner.pdf"] == list(papers_of(outcome, "us"))


@pytest.mark.parametrize("name", DRAWINGS)
@pytest.mark.parametrize("units", ["us", "si"])
def test_drawings_are_in_the_units_of_the_reader(
    outcome: Outcome, name: str, units: System
) -> None:
    papers, elevation = papers_of(outcome, units), DRAWINGS[name][units == "si"]
    svg = papers[f"{name}.svg"]().decode("utf-8")
    is_there = elevation in svg  # a bool, so that a failure does not print the drawing
    assert is_there
    document = ezdxf.read(StringIO(papers[f"{name}.dxf"]().decode("utf-8")))
    assert document.audit().errors == []
    texts = [text.dxf.text for text in document.modelspace().query("TEXT")]
    assert any(elevation in text for text in texts)


def test_each_drawing_has_its_page_in_the_report(reports: dict[str, PdfReader]) -> None:
    words = " ".join(page.extract_text() for page in reports["report.pdf"].pages[:12])
    assert [] == [name for name in DRAWINGS if f"The whole sheet is {name}.svg" not in words]


@pytest.mark.parametrize("name", ["report.pdf", "owner.pdf"])
def test_reports_say_what_kind_of_copy_they_are(name: str, reports: dict[str, PdfReader]) -> None:
    words = " ".join(reports[name].pages[0].extract_text().split())
    assert STATUS in words
    assert "not issued" not in words
