# SPDX-License-Identifier: Apache-2.0
"""Every paper of a design is made, of the same design, and says what kind of copy it is."""

import shutil
from io import BytesIO, StringIO

import ezdxf
import pytest
from pypdf import PdfReader

from tests.jobs import FARM, farm_text_without
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.units import System
from tilewater.tasks import papers
from tilewater.tasks.designing import Outcome, design_job
from tilewater.tasks.papers import Sheets, papers_of

pytestmark = pytest.mark.works(of=(papers_of,))

DRAWINGS = {
    "long-section": ("1180.70", "359.877"),
    "cross-section": ("1180.70", "359.877"),
    "header-section": ("1180.70", "359.877"),
    "main": ("1181.20", "360.030"),
    "plan": ("1187.62", "361.987"),
    "main-plan": ("1190.30", "362.803"),
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
    made = papers_of(outcome, "us", STATUS)
    return {name: PdfReader(BytesIO(made[name]())) for name in ("report.pdf", "owner.pdf")}


def test_papers_are_named_before_they_are_made(outcome: Outcome) -> None:
    drawn = [f"{name}.{ending}" for name in DRAWINGS for ending in ("svg", "dxf")]
    assert [*drawn, "report.pdf", "owner.pdf"] == list(papers_of(outcome, "us"))


@pytest.mark.parametrize("name", DRAWINGS)
@pytest.mark.parametrize("units", ["us", "si"])
def test_drawings_are_in_the_units_of_the_reader(
    outcome: Outcome, name: str, units: System
) -> None:
    made, elevation = papers_of(outcome, units), DRAWINGS[name][units == "si"]
    svg = made[f"{name}.svg"]().decode("utf-8")
    is_there = elevation in svg  # a bool, so that a failure does not print the drawing
    assert is_there
    document = ezdxf.read(StringIO(made[f"{name}.dxf"]().decode("utf-8")))
    assert document.audit().errors == []
    texts = [text.dxf.text for text in document.modelspace().query("TEXT")]
    assert any(elevation in text for text in texts)


def test_each_drawing_has_its_page_in_the_report(reports: dict[str, PdfReader]) -> None:
    pages = [page.extract_text() for page in reports["report.pdf"].pages[:12]]
    told = [" ".join(words.split()) for words in pages if "Lines to draw on" in words]
    assert [
        "Whole sheet: long-section.svg. Lines to draw on: long-section.dxf.",
        "Whole sheet: cross-section.svg, header-section.svg. Lines to draw on: "
        "cross-section.dxf, header-section.dxf.",
        "Whole sheet: main.svg. Lines to draw on: main.dxf.",
        "Whole sheet: plan.svg. Lines to draw on: plan.dxf.",
        "Whole sheet: main-plan.svg. Lines to draw on: main-plan.dxf.",
    ] == [words[words.index("Whole sheet") : words.index(".dxf.") + 5] for words in told]


def test_no_drawing_of_a_report_is_read_with_the_head_turned(
    reports: dict[str, PdfReader],
) -> None:
    pages = [p for p in reports["report.pdf"].pages if "Lines to draw on" in p.extract_text()]
    lies = [float(page.mediabox.width) > float(page.mediabox.height) for page in pages]
    assert [True, True, True, True, False] == lies


def test_a_plan_has_its_lines_and_signs_beside_it(
    outcome: Outcome, reports: dict[str, PdfReader]
) -> None:
    made = papers_of(outcome, "us")
    for name in ("plan", "main-plan"):
        is_beside = b"Lines and signs" in made[f"{name}.svg"]()
        assert is_beside
        is_in_lines = b"Lines and signs" in made[f"{name}.dxf"]()
        assert not is_in_lines
    pages = [page.extract_text() for page in reports["report.pdf"].pages[:12]]
    assert any("low spot or junction" in words for words in pages)


def test_a_drawing_that_nothing_is_known_of_leaves_the_others_on_their_pages(
    outcome: Outcome, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> Sheets:
        raise OutOfDomain("The plan has too little room.")

    monkeypatch.setitem(papers._DRAWINGS, "plan", fails)
    made = papers_of(outcome, "us")
    with pytest.raises(OutOfDomain, match="too little room"):
        made["plan.svg"]()
    report = PdfReader(BytesIO(made["report.pdf"]()))
    words = " ".join(page.extract_text() for page in report.pages[:12])
    assert "main-plan.svg" in words
    assert "Whole sheet: plan.svg" not in words


@pytest.mark.parametrize("name", ["report.pdf", "owner.pdf"])
def test_reports_say_what_kind_of_copy_they_are(name: str, reports: dict[str, PdfReader]) -> None:
    words = " ".join(reports[name].pages[0].extract_text().split())
    assert STATUS in words
    assert "not issued" not in words
