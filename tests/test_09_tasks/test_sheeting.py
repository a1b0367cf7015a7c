# SPDX-License-Identifier: Apache-2.0
"""The set of sheets: its order, its size, its status, its words, the same bytes each time."""

import io
from functools import cache

import pypdf
import pytest

from tests.sheet_pdf import MM, read_page, texts_in
from tilewater.basis.errors import BadInputFile, OutOfDomain
from tilewater.chain.design import design_practice
from tilewater.chain.practices import first_practice
from tilewater.documents.details.set_of import details_of
from tilewater.documents.details.structures import boards_detail
from tilewater.documents.drawing.measured import collisions, outside_frame
from tilewater.documents.drawing.model import Drawing, Text, sheet_of
from tilewater.documents.scales import Figures
from tilewater.documents.sheets.press import press_sheets
from tilewater.documents.sheets.record import (
    PAPERS,
    Box,
    Lines,
    Picture,
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
def review(farm: str, paper: str = "11x17") -> SheetSet:
    return sheets_of(outcome(farm), "us", sheet_words("review", "", paper))


@cache
def pdf(farm: str, paper: str = "11x17") -> bytes:
    return press_set(review(farm, paper))


def pages(content: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(content)).pages)


@pytest.mark.works(of=(sheet_set,))
@pytest.mark.parametrize("farm", ["corbel-farm", "merridew-farm"])
def test_the_set_has_its_sheets_in_order_and_each_says_its_status(farm: str):
    made = sheets_of(outcome(farm), "us", sheet_words("bid", "", "11x17"))
    titles = [sheet.title for sheet in made.sheets]
    assert titles[:4] == ["Cover", "Existing conditions", "Plan", "Plan of the works"]
    assert titles[4].startswith("Setting out")
    assert any("schedules" in title.lower() for title in titles[4:6])
    assert titles[-3:] == ["Notes", "Looking after it", "As built"]
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
    """A plan that is 1 in = 30 ft on 11 by 17 is 1 in = 20 ft on 22 by 34."""
    small = pages(pdf("corbel-farm"))[2].extract_text()
    large = pages(pdf("corbel-farm", "22x34"))[2].extract_text()
    assert "1 in = 30 ft" in small
    assert "1 in = 20 ft" in large
    assert "1 in = 30 ft" not in large


LEAST_EM = 2.9
"""Capitals of this em are 0.075 in high, those of the least size used 0.08 in. [mm]"""
FOLDED = [
    ("corbel-farm", "11x17"),
    ("corbel-farm", "letter"),
    ("corbel-farm", "22x34"),
    ("merridew-farm", "11x17"),
    ("merridew-farm", "letter"),
]


@pytest.mark.works(of=(sheet_set, press_sheets))
@pytest.mark.parametrize(("farm", "paper"), FOLDED)
def test_no_words_on_a_sheet_are_too_small_to_read_or_off_the_paper(farm: str, paper: str):
    """Sizes are read from the finished file; the large paper is read at half its size."""
    times = PAPERS[paper].times
    for page in pages(pdf(farm, paper)):
        found = read_page(page)
        assert found.texts
        assert min(texts_in(found)) / times >= LEAST_EM
        wide, high = float(page.mediabox.width) * MM, float(page.mediabox.height) * MM
        assert all(0.0 < x < wide and 0.0 < y < high for x, y, _ in found.texts)


@pytest.mark.works(of=(sheet_set,))
@pytest.mark.parametrize(("farm", "paper"), FOLDED)
def test_no_words_of_a_drawing_collide_or_leave_it_at_the_size_of_its_sheet(farm: str, paper: str):
    made = review(farm, paper)
    drawn = drawings_on(made)
    assert drawn
    for name, drawing in drawn.items():
        assert not collisions(sheet_of(drawing)), name
        assert not outside_frame(sheet_of(drawing)), name


def drawings_on(made: SheetSet) -> dict[str, Drawing]:
    """Every drawing of a set by its sheet and name."""
    return {
        f"{sheet.title}: {block.name}": block.drawing
        for sheet in made.sheets
        for box in sheet.boxes
        for block in box.blocks
        if isinstance(block, Picture) and block.drawing is not None
    }


@pytest.mark.works(of=(sheet_set,))
def test_small_paper_takes_more_sheets_and_breaks_the_main_at_match_lines():
    made = review("corbel-farm", "letter")
    titles = [sheet.title for sheet in made.sheets]
    assert {"Quantities", "Profile of the main, 2"} <= set(titles)
    first, second = (
        drawings_on(made)[f"Profile of the main{end}"] for end in (": main-1", ", 2: main-2")
    )
    cut = [
        {x for e in d.entities if getattr(e, "name", "") == "match line" for x, _ in e.points}
        for d in (first, second)
    ]
    assert max(cut[0]) == pytest.approx(min(cut[1]), abs=1e-9)
    assert first.frame.scale_x == second.frame.scale_x


@pytest.mark.works(of=(details_of,))
@pytest.mark.parametrize(
    ("farm", "wanted"),
    [
        ("corbel-farm", {"boards-inlet", "boards-outlet", "header", "gate", "outlet", "collar"}),
        ("merridew-farm", {"boards-inlet", "trench", "solid", "cap", "outlet", "collar"}),
    ],
)
@pytest.mark.parametrize("paper", ["11x17", "letter"])
def test_every_detail_of_a_design_stands_on_a_sheet(farm: str, wanted: set[str], paper: str):
    made = review(farm, paper)
    names = {name.partition(": ")[2] for name in drawings_on(made)}
    assert {f"detail-{each}" for each in wanted | {"anchor", "post"}} <= names


@pytest.mark.by_hand(of=(boards_detail,))
def test_the_detail_of_the_boards_measures_down_from_the_rim():
    """36 in of boards on a sill of 1181.20: crest 1184.20, 1187.00 - 1184.20 = 2.80 ft, 33.6 in."""
    drawing = boards_detail(
        outcome("corbel-farm").design.trace, Figures("us"), (131.0, 98.0), "inlet"
    )
    assert drawing is not None
    said = [entity.plain for entity in drawing.entities if isinstance(entity, Text)]
    assert "design, winter, spring, summer: 1184.20, down 33.6 in" in said
    boards = [e for e in drawing.entities if getattr(e, "name", "") == "board"]
    assert max(y for e in boards for _, y in e.points) == pytest.approx(1184.20 * 0.3048)
