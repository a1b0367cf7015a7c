# SPDX-License-Identifier: Apache-2.0
"""The set of sheets: its order, its size, its status, its words, the same bytes each time."""

import io
from functools import cache

import pypdf
import pytest

from tilewater.basis.errors import BadInputFile, OutOfDomain
from tilewater.chain.design import design_practice
from tilewater.chain.practices import first_practice
from tilewater.documents.sheets.press import press_sheets
from tilewater.documents.sheets.record import (
    PAPERS,
    Box,
    Lines,
    SheetPage,
    SheetSet,
    Strip,
)
from tilewater.documents.sheets.sheet_set import sheet_set
from tilewater.tasks.checking import check_job
from tilewater.tasks.designing import Outcome
from tilewater.tasks.sheeting import press_set, sheet_words, sheets_of
from tools.package import ROOT

INCH = 72.0
STRIP = Strip("A farm", "A county", "", "", "", "review", "for review", "NAVD88")


@cache
def outcome(farm: str) -> Outcome:
    job = check_job(ROOT / "examples" / farm)
    practice = first_practice(job.inputs)
    return Outcome(job, design_practice(job.inputs, practice, by_days=False), {}, ())


@cache
def pdf(farm: str, paper: str = "11x17") -> bytes:
    return press_set(sheets_of(outcome(farm), "us", sheet_words("review", "", paper)))


def pages(content: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(content)).pages)


@pytest.mark.works(of=(sheet_set,))
@pytest.mark.parametrize("farm", ["corbel-farm", "merridew-farm"])
def test_the_set_has_its_sheets_in_order_and_each_says_its_status(farm: str):
    made = sheets_of(outcome(farm), "us", sheet_words("bid", "", "11x17"))
    titles = [sheet.title for sheet in made.sheets]
    assert titles[:4] == ["Cover", "Existing conditions", "Plan", "Setting out"]
    assert titles[-4:] == ["Schedules", "Notes", "Looking after it", "As built"]
    for number, page in enumerate(pages(press_set(made)), start=1):
        text = page.extract_text()
        assert "BID" in text
        assert "not for construction" in " ".join(text.split())
        assert titles[number - 1] in text


@pytest.mark.works(of=(press_sheets,))
@pytest.mark.parametrize(
    ("paper", "inches"), [("11x17", (17, 11)), ("22x34", (34, 22)), ("a3", (16.535, 11.693))]
)
def test_a_sheet_has_the_size_of_its_paper(paper: str, inches: tuple[float, float]):
    box = pages(pdf("corbel-farm", paper))[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(
        [side * INCH for side in inches], abs=0.2
    )


@pytest.mark.works(of=(press_sheets,))
def test_the_same_set_gives_the_same_bytes():
    again = press_set(sheets_of(outcome("corbel-farm"), "us", sheet_words("review", "", "11x17")))
    assert again == pdf("corbel-farm")


@pytest.mark.works(of=(press_sheets,))
def test_a_set_is_bookmarked_by_its_sheets():
    outline = pypdf.PdfReader(io.BytesIO(pdf("corbel-farm"))).outline
    assert [entry.title for entry in outline if not isinstance(entry, list)][:2] == [
        "Cover",
        "Existing conditions",
    ]


@pytest.mark.works(of=(press_sheets,))
def test_a_box_that_holds_too_much_is_refused():
    box = Box(0.0, 0.0, 60.0, 20.0, (Lines(("word " * 400,)),))
    full = SheetSet("full", PAPERS["11x17"], STRIP, (SheetPage("One", (box,)),))
    with pytest.raises(OutOfDomain, match="room for less"):
        press_sheets(full)


@pytest.mark.works(of=(sheet_words,))
def test_construction_needs_a_sign_off_that_is_typed():
    with pytest.raises(BadInputFile, match="sign-off"):
        sheet_words("construction", "", "11x17")
    with pytest.raises(BadInputFile, match="no status"):
        sheet_words("done", "", "11x17")
    with pytest.raises(BadInputFile, match="no size of paper"):
        sheet_words("review", "", "a9")
    words = sheet_words("construction", "R. Lindqvist, PE 00000, 2026-11-25", "11x17")
    sheets = sheets_of(outcome("corbel-farm"), "us", words)
    assert "PE 00000" in pages(press_set(sheets))[0].extract_text()


@pytest.mark.works(of=(sheets_of,))
def test_the_larger_paper_tells_the_larger_scale():
    """What is 1 in = 40 ft on 11 by 17 is 1 in = 20 ft on 22 by 34."""
    small = pages(pdf("corbel-farm"))[2].extract_text()
    large = pages(pdf("corbel-farm", "22x34"))[2].extract_text()
    assert "1 in = 40 ft" in small
    assert "1 in = 20 ft" in large
    assert "1 in = 40 ft" not in large
