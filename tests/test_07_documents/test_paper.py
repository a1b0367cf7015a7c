# SPDX-License-Identifier: Apache-2.0
"""A paper shows every word as it was typed, is tagged, and is the same file each time."""

from functools import cache
from io import BytesIO
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from tests.pdf import Paper
from tilewater.documents.drawing.metrics import FAMILY, advances
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Column,
    Contents,
    Document,
    Figure,
    Formula,
    Heading,
    Items,
    Letter,
    Lying,
    NewPage,
    Number,
    Paragraph,
    Run,
    Seal,
    Table,
    Worked,
    number,
)
from tilewater.documents.paper.letters import BREAK, shown
from tilewater.documents.paper.packed import packed
from tilewater.documents.paper.press import press
from tilewater.documents.paper.widths import PAGE, layout_of, width_of

MARKUP = '#let x = 1 *bold* _it_ $a^2$ @ref <label> `code` "quoted" \\ // -- ... [c] ~ = + - /'
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="10mm" viewBox="0 0 40 10">'
    f'<text x="1" y="6" font-size="3" font-family="{FAMILY}">crest 1184.20</text></svg>'
)
EVERY: tuple[Block, ...] = (
    Banner("A job", ("about",), "It fits.", "Of all rules", "What binds"),
    Heading("Second", 2),
    Paragraph(("see ", Run("[D1]", "small", to="D1")), "lead"),
    Contents(4),
    NewPage(),
    Heading("Numbers", 1, new_page=True),
    Items(("one", ("two ", Run("more", "muted")))),
    Table(
        (Column("what", wide=True), Column("flow", "point"), Column("n", "right")),
        ((Run("main", at="D1"), number("0.930 cfs"), "1"), ("coefficient", number("12.5 cfs"), "")),
        ruled=(1,),
    ),
    Formula("A method", ("q = Q / A",), "", (Letter("Q", "flow", "0.930 cfs [D2]"),), "derived"),
    Worked(Run("D2", "muted", at="D2"), "Flux", (Run("0.655 in/day", "bold"),), "with A = 1 acre"),
    Figure(SVG, 40.0, 10.0, "A crest", "The crest of the boards at 1184.20"),
    Seal("I sign.", "Room for a seal", ("Name", "Date")),
)


def document(*blocks: Block, title: str = "A job") -> Document:
    return Document(title, title, "Report", "Tilewater 0", "us-letter", blocks)


def titled(title: str) -> Paper:
    blocks = (Banner(title, (title,)), Paragraph(title), Table((Column("a"),), ((title,),)))
    return Paper(press(document(*blocks, title=title)))


@pytest.mark.works(of=(press,))
def test_the_same_document_gives_the_same_bytes() -> None:
    assert press(document(*EVERY)) == press(document(*EVERY))


@pytest.mark.works(of=(press,))
def test_a_paper_can_be_read_aloud() -> None:
    paper = Paper(press(document(*EVERY)))
    assert paper.root["/MarkInfo"]["/Marked"] is not None
    assert "/StructTreeRoot" in paper.root
    assert "en-US" == paper.root["/Lang"]
    assert ["A job", "Second", "Numbers"] == paper.outline


@pytest.mark.works(of=(press,))
def test_every_font_is_in_the_file() -> None:
    fonts = dict(Paper(press(document(*EVERY))).fonts())
    assert any("SourceSans3" in name for name in fonts)
    assert all(fonts.values())


@pytest.mark.works(of=(press, Lying))
def test_a_page_that_lies_is_turned_with_its_heading_and_the_next_stands() -> None:
    lying = Lying((Heading("Wide"), Figure(SVG, 230.0, 57.5, "A wide one", "alt")))
    paper = Paper(press(document(Paragraph("before"), lying, Paragraph("behind"))))
    sizes = [(float(p.mediabox.width), float(p.mediabox.height)) for p in paper.reader.pages]
    assert [(612.0, 792.0), (792.0, 612.0), (612.0, 792.0)] == sizes
    assert "Wide" in paper.page(2)
    assert "crest 1184.20" in paper.page(2)
    assert ["Wide"] == paper.outline


@pytest.mark.works(of=(press,))
def test_words_of_a_drawing_are_words_of_the_paper() -> None:
    assert "crest 1184.20" in Paper(press(document(*EVERY))).text


@pytest.mark.works(of=(press,))
def test_markup_in_a_name_is_only_a_name() -> None:
    paper = titled(MARKUP)
    assert 4 <= paper.letters.count("".join(MARKUP.split()))


@pytest.mark.law(of=(press, shown))
@settings(max_examples=15)
@given(
    st.text(alphabet=st.sampled_from("#*_$@<>`\"\\/~=+-[]{}()&%'|^ aZ0é≥"), min_size=1, max_size=40)
)
def test_any_row_of_signs_is_shown_as_it_stands(signs: str) -> None:
    wanted = "".join(f"x{signs}x".split())
    assert wanted in Paper(press(document(Banner("t", ()), Paragraph(f"x{signs}x")))).letters


@pytest.mark.works(of=(shown,))
def test_a_letter_that_the_typeface_has_not_is_named() -> None:
    assert "[U+6F22] farm" == shown("漢 farm")
    assert "a b" == shown("a\u2028b")
    assert "ab" == shown("a\u0007b")
    assert "Ω ≥ é" == shown("Ω ≥ é")
    assert "[U+6F22]" in titled("漢").text


@pytest.mark.works(of=(shown,))
def test_a_word_longer_than_a_line_stays_on_its_page() -> None:
    assert BREAK in shown("A" * 60)
    paper = titled("A" * 300)
    width, _ = paper.size
    known = advances("semibold")
    for piece in paper.placed:
        end = piece.x + piece.size * sum(known.get(letter, 0.0) for letter in piece.words)
        assert end <= width - 40, piece


@pytest.mark.works(of=(number,))
def test_a_number_is_cut_at_its_point() -> None:
    assert Number("1184", ".20", Run(" ft", "muted")) == number("1184.20 ft")
    assert Number("$1,750", "", Run("", "muted")) == number("$1,750")
    assert Number("16", ".4", Run(" %", "muted")) == number("16.4 %")
    assert Run("not known") == number("not known")


@pytest.mark.works(of=(number,))
def test_a_station_a_day_and_a_range_are_not_cut_apart() -> None:
    assert Number("2+90", "", Run("", "muted")) == number("2+90")
    assert Number("1:1", "", Run("", "muted")) == number("1:1")
    assert Run("12-01") == number("12-01")
    assert Run("51 to 340 lb") == number("51 to 340 lb")


@pytest.mark.works(of=(number,))
def test_a_place_behind_a_number_is_kept() -> None:
    found = number("0.930 cfs", Run("D2", "small", at="D2"))
    assert isinstance(found, Number)
    assert "D2" in [part.at for part in found.unit if isinstance(part, Run)]


@pytest.mark.by_hand(of=(layout_of, width_of))
def test_numbers_line_up_on_their_points() -> None:
    cells = (number("1.5"), number("12.25"), number("7"))
    table = Table((Column("", "point"),), tuple((cell,) for cell in cells))
    pads = [row[0] for row in layout_of(table, "us-letter").pads]
    point, digit = advances("regular")["."] * 9.5, advances("regular")["2"] * 9.5
    assert [digit, 0.0, point + 2 * digit] == pytest.approx(pads)


@pytest.mark.by_hand(of=(layout_of,))
def test_a_row_of_single_lines_has_a_known_height() -> None:
    rows = (("short", number("1.5 ft")), ("a long row of words " * 20, number("2 ft")))
    table = Table((Column("", wide=True), Column("", "point")), rows, small=True)
    assert (pytest.approx(2.5 + 0.656 * 8.0 + 2.8), None) == layout_of(table, "us-letter").heights


@pytest.mark.works(of=(press, layout_of))
def test_no_row_of_a_known_height_runs_into_the_next() -> None:
    rows = tuple(
        (f"row {n} of words", number(f"{n}.5 ft"), Run("+ holds", "bold")) for n in range(30)
    )
    table = Table((Column("", wide=True), Column("", "point"), Column("")), rows, small=True)
    assert None not in layout_of(table, "us-letter").heights
    placed = [p for p in Paper(press(document(Heading("H"), table))).placed if "row" in p.words]
    heights = [above.y - below.y for above, below in pairwise(placed)]
    assert all(apart == pytest.approx(heights[0], abs=0.1) for apart in heights)
    assert placed[0].size < heights[0]


@pytest.mark.works(of=(layout_of,))
def test_a_table_never_leaves_its_page() -> None:
    words = "a long row of words " * 8
    table = Table(
        (Column("a"), Column("b"), Column("c", "point")), ((words, words, number("1.5 ft")),)
    )
    widths = layout_of(table, "a4").widths
    assert None in widths
    assert sum(width for width in widths if width is not None) < PAGE["a4"]


# ---- packed ----


@pytest.mark.works(of=(packed,))
def test_a_packed_file_holds_the_same_objects_in_less_room() -> None:
    plain, small = plain_and_packed()
    assert len(small) < 0.6 * len(plain)
    one, other = PdfReader(BytesIO(plain)), PdfReader(BytesIO(small))
    count = int(one.trailer["/Size"])
    for at in range(1, count):
        assert written(one.get_object(at)) == written(other.get_object(at)), at


@pytest.mark.works(of=(packed,))
def test_what_is_no_plain_pdf_is_left_as_it_is() -> None:
    _, small = plain_and_packed()
    assert small == packed(small)
    assert b"no PDF" == packed(b"no PDF")


@cache
def plain_and_packed() -> tuple[bytes, bytes]:
    rows = tuple((f"row {n}", number(f"{n}.5 ft")) for n in range(200))
    table = Table((Column("", wide=True), Column("", "point")), rows)
    kept: list[bytes] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("tilewater.documents.paper.press.packed", lambda pdf: kept.append(pdf) or pdf)
        press(document(*EVERY, table))
    return kept[0], packed(kept[0])


def written(thing: Any) -> bytes:
    """An object as a file has it, references by their numbers."""
    out = BytesIO()
    thing.write_to_stream(out)
    return out.getvalue()
