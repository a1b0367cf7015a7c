# SPDX-License-Identifier: Apache-2.0
"""The set of sheets: its order, its size, its status, its words, the same bytes each time."""

import io
from functools import cache
from itertools import combinations

import pypdf
import pytest

from tests.sheet_pdf import MM, read_page, texts_in
from tilewater.basis.errors import BadInputFile, OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.design import design_practice
from tilewater.chain.practices import first_practice
from tilewater.chain.stake_record import StakeList
from tilewater.documents.details.set_of import details_of, not_drawn
from tilewater.documents.details.structures import boards_detail
from tilewater.documents.drawing.measured import collisions, outside_frame
from tilewater.documents.drawing.model import Drawing, Text, sheet_of
from tilewater.documents.plan import plan_drawing
from tilewater.documents.scales import Figures
from tilewater.documents.sheets.cover import cover_sheet
from tilewater.documents.sheets.detailed import detail_sheets
from tilewater.documents.sheets.matched import strips
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.measure import AFTER, foot_of, heights_of, parted
from tilewater.documents.sheets.notes import notes_sheet
from tilewater.documents.sheets.press import press_sheets
from tilewater.documents.sheets.record import (
    PAPERS,
    Box,
    Columns,
    Lines,
    Picture,
    SheetPage,
    SheetSet,
    Strip,
    Title,
    body_of,
)
from tilewater.documents.sheets.schedules import schedule_blocks
from tilewater.documents.sheets.sheet_set import sheet_set
from tilewater.documents.words import Words
from tilewater.tasks.checking import check_job
from tilewater.tasks.designing import Outcome
from tilewater.tasks.sheeting import press_set, sheet_words, sheets_of
from tools.package import ROOT

INCH = 72.0
HAIR = 0.3
"""Rounding of what is set. [mm]"""
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
    ("corbel-farm", "a3"),
    ("merridew-farm", "letter"),
    ("merridew-farm", "22x34"),
    ("merridew-farm", "a3"),
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
@pytest.mark.parametrize(("farm", "paper"), FOLDED)
def test_boxes_of_a_sheet_stand_inside_its_frame_and_beside_each_other(farm: str, paper: str):
    made = review(farm, paper)
    width, height = body_of(made.paper)
    for sheet in made.sheets:
        places = []
        for box in sheet.boxes:
            foot = foot_of((box,))
            assert -HAIR <= box.x_mm <= box.x_mm + box.width_mm <= width + HAIR, sheet.title
            assert -HAIR <= box.y_mm <= foot <= height + HAIR, sheet.title
            for block in box.blocks:
                if isinstance(block, Picture):
                    assert block.width_mm <= box.width_mm + HAIR, (sheet.title, block.name)
            places.append((box.x_mm, box.y_mm, box.x_mm + box.width_mm, foot))
        for one, other in combinations(places, 2):
            apart = one[2] <= other[0] or other[2] <= one[0]
            assert apart or one[3] <= other[1] + HAIR or other[3] <= one[1] + HAIR, sheet.title


@pytest.mark.works(of=(sheet_set, strips))
@pytest.mark.parametrize(
    ("title", "name"), [("Profile of the main", "main"), ("Profile of the bed", "long-section")]
)
def test_small_paper_breaks_profiles_at_match_lines_that_meet(title: str, name: str):
    drawn = drawings_on(review("corbel-farm", "letter"))
    first, second = drawn[f"{title}: {name}-1"], drawn[f"{title}, 2: {name}-2"]
    cut = [
        {x for e in d.entities if getattr(e, "name", "") == "match line" for x, _ in e.points}
        for d in (first, second)
    ]
    assert max(cut[0]) == pytest.approx(min(cut[1]), abs=1e-9)
    assert first.frame.scale_x == second.frame.scale_x
    for drawing in (first, second):
        bars = [e for e in drawing.entities if getattr(e, "name", "") == "scale bar"]
        scales = [e for e in drawing.entities if isinstance(e, Text) and "Scale" in e.plain]
        assert len(scales) == 1
        assert len(bars) in (0, 4)


@pytest.mark.works(of=(sheet_set,))
def test_a_set_for_builders_shows_no_mark_of_the_review():
    for farm in ("corbel-farm", "merridew-farm"):
        for name, drawing in drawings_on(review(farm)).items():
            layers = {getattr(e, "layer", "") for e in drawing.entities}
            assert not layers & {"binds", "binds-label"}, name


@pytest.mark.works(of=(sheet_set,))
def test_the_profile_has_the_stations_of_its_parts():
    drawing = drawings_on(review("corbel-farm"))["Profile of the bed: long-section"]
    said = {e.plain for e in drawing.entities if isinstance(e, Text)}
    assert {"sta 0+22.5", "sta 1+40", "floor sta 0+44.3 to 1+40.8"} <= said


@pytest.mark.works(of=(plan_drawing,))
def test_the_works_are_drawn_larger_than_on_the_plan_and_shots_have_heights():
    drawn = drawings_on(review("corbel-farm"))
    works, plan = drawn["Plan of the works: works"], drawn["Plan: plan"]
    assert works.frame.scale_x < plan.frame.scale_x
    found = drawn["Existing conditions: existing"]
    heights = [e for e in found.entities if isinstance(e, Text) and e.plain.startswith("1185.")]
    assert len(heights) > 10


def table_of(made: SheetSet, heads: tuple[str, ...]) -> list[tuple[str, ...]]:
    """Rows of all tables of a set with these heads."""
    blocks = (block for sheet in made.sheets for box in sheet.boxes for block in box.blocks)
    return [
        row
        for block in blocks
        if isinstance(block, Columns) and block.heads == heads
        for row in block.rows
    ]


@pytest.mark.by_hand(of=(schedule_blocks,))
def test_boards_to_order_are_the_most_of_any_season():
    """Inlet: 36 in is four of 8 and one of 4, 14 in is 8 and 6. Outlet: 24 in three of 8, 10 in
    is 6 and 4."""
    rows = table_of(review("corbel-farm"), ("set", "boards", "wide"))
    assert rows == [
        ("inlet", "4 of 8 in, 1 of 6 in, 1 of 4 in", "1.17 ft"),
        ("outlet", "3 of 8 in, 1 of 6 in, 1 of 4 in", "1.17 ft"),
    ]


@pytest.mark.works(of=(schedule_blocks,))
def test_a_set_without_a_board_in_any_season_is_not_listed():
    rows = table_of(review("merridew-farm"), ("set", "season", "boards", "crest", "down"))
    assert {row[0] for row in rows} == {"inlet"}


@pytest.mark.works(of=(not_drawn,))
def test_a_detail_without_its_sizes_is_named_with_what_is_missing():
    trace = outcome("corbel-farm").design.trace
    all_of_them = {f"detail-{each}" for each in ("outlet", "header", "gate", "boards-inlet")}
    assert not_drawn(trace, "bed", all_of_them | {"detail-boards-outlet"}) == ()
    bare = Trace.start([])
    assert not_drawn(bare, "buffer", ()) == (
        "outlet in the bank: bottom of the ditch, bank top not given",
        "line from its box: size of the line not given",
        "trench of the line: width of the trench, size of the line, invert of the line, ground "
        "over the line not given",
    )


@pytest.mark.works(of=(detail_sheets,))
def test_the_sheet_of_details_says_what_is_not_drawn():
    material = SheetMaterial(
        title="",
        practice="bed",
        trace=Trace.start([]),
        stakes=StakeList((), (), (), (), (), ()),
        words=Words(),
        draw={},
        paper=PAPERS["11x17"],
        strip=STRIP,
        without=("outlet in the bank: bank top not given",),
    )
    (sheet,) = detail_sheets(material)
    said = [
        line for box in sheet.boxes for b in box.blocks if isinstance(b, Lines) for line in b.words
    ]
    assert said == ["outlet in the bank: bank top not given"]


@pytest.mark.works(of=(cover_sheet,))
@pytest.mark.parametrize(
    ("status", "signed", "words"),
    [
        ("bid", "", "what is open is closed before this set is issued for construction"),
        ("construction", "R. Lindqvist, PE 12345", "the engineer named answers for each"),
    ],
)
def test_the_cover_says_what_open_items_mean(status: str, signed: str, words: str):
    made = sheets_of(outcome("corbel-farm"), "us", sheet_words(status, signed, "11x17"))
    notes = [b.note for box in made.sheets[0].boxes for b in box.blocks if isinstance(b, Title)]
    assert any(words in note for note in notes)


@pytest.mark.works(of=(notes_sheet,))
def test_distances_of_practice_are_in_the_units_of_the_reader():
    made = sheets_of(outcome("corbel-farm"), "si", sheet_words("review", "", "a3"))
    said = " ".join(
        words
        for sheet in made.sheets
        if sheet.title.startswith("Notes")
        for box in sheet.boxes
        for block in box.blocks
        for words in (block.words if isinstance(block, Lines) else ())
    )
    assert "{" not in said
    assert " ft" not in said
    assert "0.6 m from the edge" in said


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


@pytest.mark.works(of=(parted,))
def test_a_table_is_parted_where_no_row_is_left_alone():
    table = Columns(("a", "b"), tuple((f"{n}", "x") for n in range(6)))
    whole = heights_of(table, 80.0, 10.0)
    head, row = whole[0], whole[1]
    assert parted(table, 80.0, 10.0, head + 1.5 * row + AFTER)[0] is None
    first, rest = parted(table, 80.0, 10.0, head + 5.5 * row + AFTER)
    assert isinstance(first, Columns)
    assert isinstance(rest, Columns)
    assert (len(first.rows), len(rest.rows)) == (4, 2)
