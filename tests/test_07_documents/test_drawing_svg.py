# SPDX-License-Identifier: Apache-2.0
"""The SVG is to scale, keeps keys and names, and stays text and pattern in the PDF."""

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
import typst
from pypdf import PdfReader

from tests.drawings import BED, one_of_each
from tilewater.documents.drawing.frame import paper_frame
from tilewater.documents.drawing.furniture import scale_bar
from tilewater.documents.drawing.matters import MATTERS
from tilewater.documents.drawing.metrics import FAMILY, text_width
from tilewater.documents.drawing.model import SMALL, Area, Drawing, Placed, Sheet, Text
from tilewater.documents.drawing.svg import to_svg
from tools.letter_widths import FONTS

SVG = "{http://www.w3.org/2000/svg}"
MM_OF_POINT = 25.4 / 72
HUNDREDTH = 0.01
"""What a length may be off on paper. [mm]"""
KERNING = 0.02
"""Part of a width by which drawing letters together may change it."""

Points = list[tuple[float, float]]


def parts(text: str, name: str) -> list[Points]:
    """Corners of the paths of a name on the sheet. [mm]"""
    return [
        [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path.attrib["d"])]
        for path in ElementTree.fromstring(text).iter(f"{SVG}path")
        if path.get("data-part") == name
    ]


def pdf_of(svg: str, folder: Path, *, wide: float, high: float) -> Path:
    """A page as large as a drawing, made by typst with the vendored typeface alone."""
    (folder / "drawing.svg").write_text(svg, encoding="utf-8")
    page = f"#set page(width: {wide}mm, height: {high}mm, margin: 0mm)\n"
    page += f'#set document(date: none)\n#image("drawing.svg", width: {wide}mm)\n'
    (folder / "page.typ").write_text(page, encoding="utf-8")
    typst.compile(
        folder / "page.typ",
        output=folder / "page.pdf",
        font_paths=[FONTS],
        ignore_system_fonts=True,
    )
    return folder / "page.pdf"


@pytest.mark.by_hand(of=(to_svg,))
@pytest.mark.parametrize("exaggerated", [True, False])
def test_the_bed_is_as_long_on_paper_as_the_scale_says(exaggerated: bool) -> None:
    drawing = one_of_each(exaggerated=exaggerated)
    text = to_svg(drawing)
    (edge,) = parts(text, "bed-edge")
    across, down = [x for x, _ in edge], [y for _, y in edge]
    frame = drawing.frame
    assert pytest.approx(30.0e3 / frame.scale_x, abs=HUNDREDTH) == max(across) - min(across)
    assert pytest.approx(2.5e3 / frame.scale_y, abs=HUNDREDTH) == max(down) - min(down)
    root = ElementTree.fromstring(text)
    assert ("400mm", "180mm", "0 0 400 180") == tuple(
        root.attrib[name] for name in ("width", "height", "viewBox")
    )


@pytest.mark.works(of=(to_svg,))
def test_the_group_says_how_metres_fall_on_the_sheet() -> None:
    drawing = one_of_each()
    sheet = Sheet("two", 500.0, 400.0, (Placed(drawing, 20.0, 30.0), Placed(drawing, 90.0, 215.0)))
    text = to_svg(sheet)
    groups = ElementTree.fromstring(text).findall(f"{SVG}g")
    for group, edge in zip(groups, parts(text, "bed-edge"), strict=True):
        said = {name: float(group.attrib[f"data-{name}"]) for name in ("x0", "y0", "left", "base")}
        across, up = float(group.attrib["data-across"]), float(group.attrib["data-up"])
        for (x, y), (px, py) in zip(BED, edge, strict=True):
            assert pytest.approx(px, abs=HUNDREDTH) == said["left"] + (x - said["x0"]) * across
            assert pytest.approx(py, abs=HUNDREDTH) == said["base"] - (y - said["y0"]) * up


@pytest.mark.works(of=(to_svg,))
def test_values_carry_their_keys_and_shapes_their_names() -> None:
    root = ElementTree.fromstring(to_svg(one_of_each()))
    keyed = {each.get("data-key"): each.text for each in root.iter() if each.get("data-key")}
    assert {
        "structure.crest_m": "1184.20",
        "site.ground_m": "1184.38",
        "box.length_m": "6.56",
        "bed.length_m": "98.43",
    } == keyed
    named = {each.get("data-part") for each in root.iter()} - {None}
    assert {"bed", "box", "bed-edge", "grade-line", "pipe", "arc", "north", "scale bar"} == named
    assert "not drawn: the ditch" == root.findtext(f"{SVG}desc")


@pytest.mark.works(of=(to_svg,))
def test_lines_carry_the_look_of_their_layer() -> None:
    root = ElementTree.fromstring(to_svg(one_of_each()))
    (line,) = (each for each in root.iter() if each.get("data-part") == "grade-line")
    assert ("0.25", "2.4 1.2", "#2c7a9b") == (
        line.get("stroke-width"),
        line.get("stroke-dasharray"),
        line.get("stroke"),
    )
    assert "http" not in to_svg(one_of_each()).replace("http://www.w3.org/2000/svg", "")


@pytest.mark.works(of=(to_svg,))
def test_texts_can_be_held_to_their_room_where_the_typeface_is_missing() -> None:
    drawing = one_of_each()
    assert "textLength" not in to_svg(drawing)
    held = ElementTree.fromstring(to_svg(drawing, hold_widths=True))
    for text in held.iter(f"{SVG}text"):
        if "".join(text.itertext()) == "98.43":
            assert pytest.approx(text_width("98.43", SMALL), abs=HUNDREDTH) == float(
                text.attrib["textLength"]
            )


@pytest.mark.by_hand(of=(scale_bar,))
def test_the_scale_bar_is_as_long_as_it_says() -> None:
    drawing = one_of_each(exaggerated=False)
    pieces = parts(to_svg(drawing), "scale bar")
    ends = [x for piece in pieces for x, _ in piece]
    figures = [e.plain for e in drawing.entities if isinstance(e, Text) and e.plain.endswith(" ft")]
    said = float(figures[-1].removesuffix(" ft"))
    assert pytest.approx(said * 304.8 / drawing.frame.scale_x, abs=HUNDREDTH) == max(ends) - min(
        ends
    )


@pytest.mark.oracle("pypdf 7.1", of=(to_svg, text_width))
def test_texts_stay_texts_in_the_pdf(tmp_path: Path) -> None:
    file = pdf_of(to_svg(one_of_each()), tmp_path, wide=400, high=180)
    page = PdfReader(file).pages[0]
    assert pytest.approx((400.0, 180.0), abs=HUNDREDTH) == (
        float(page.mediabox.width) * MM_OF_POINT,
        float(page.mediabox.height) * MM_OF_POINT,
    )
    words = page.extract_text()
    for said in ("Weir crest 1184.20 ft", "98.43", "42.65", "8.20", "1184.38", "40 ft"):
        assert said in words
    fonts = {font.get_object()["/BaseFont"] for font in page["/Resources"]["/Font"].values()}
    plain = FAMILY.replace(" ", "")
    assert 3 == len(fonts)
    assert all(plain in font for font in fonts)


@pytest.mark.oracle("typst 0.15", of=(text_width,))
def test_widths_are_those_that_typst_sets(tmp_path: Path) -> None:
    lines = ("Weir crest 1184.20 ft", "AVATAR Type", "6+23.5 down 33.6 in", "fluffy office")
    source = f'#set text(font: "{FAMILY}", size: 100pt)\n#context [#metadata(('
    source += "".join(f"measure([{line}]).width.pt()," for line in lines) + ")) <widths>]"
    (tmp_path / "widths.typ").write_text(source, encoding="utf-8")
    found = typst.query(
        tmp_path / "widths.typ",
        "<widths>",
        field="value",
        one=True,
        font_paths=[FONTS],
        ignore_system_fonts=True,
    )
    set_by_typst = [float(each) for each in re.findall(r"[\d.]+", found)]
    for line, wide in zip(lines, set_by_typst, strict=True):
        assert text_width(line, 100.0) >= wide * (1.0 - 1e-6)
        assert text_width(line, 100.0) <= wide * 1.10
    assert pytest.approx(text_width(lines[2], 100.0), rel=KERNING) == set_by_typst[2]


@pytest.mark.works(of=(to_svg,))
def test_every_matter_has_its_own_pattern_in_the_pdf(tmp_path: Path) -> None:
    frame = paper_frame(100.0, 20.0)
    tiles = tuple(
        Area(((x, 0.0), (x + 10.0, 0.0), (x + 10.0, 20.0), (x, 20.0)), name)
        for x, name in zip(range(0, 100, 10), MATTERS, strict=False)
    )
    text = to_svg(Drawing("matters", frame, tiles))
    rows = sum(len(matter.strokes) for matter in MATTERS.values())
    assert rows == text.count("<pattern")
    assert rows == text.count("url(#")
    page = PdfReader(pdf_of(text, tmp_path, wide=100, high=20)).pages[0]
    assert rows == len(page["/Resources"]["/Pattern"])
