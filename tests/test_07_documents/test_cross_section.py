# SPDX-License-Identifier: Apache-2.0
"""The cross section is true to scale, says the numbers of the result, and keeps its words apart."""

import re
from collections.abc import Callable
from functools import cache
from io import StringIO
from itertools import pairwise
from xml.etree import ElementTree

import ezdxf
import pytest

from tests.digits import printed
from tests.jobs import FOOT, corbel_inputs, with_givens
from tilewater.basis.trace import Given, Trace
from tilewater.basis.units import System
from tilewater.basis.unknown import Unknown
from tilewater.chain.cross import (
    add_cross,
    half_way,
    level_between,
    level_half_way,
    tell_of_cover,
    width_between_slopes,
)
from tilewater.chain.design import design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.chain.scene_cross import CellCut, CrossSection, Length, cross_section_scene
from tilewater.documents.cross_labels import write_callouts, write_levels, write_widths
from tilewater.documents.cross_section import cross_section_drawing
from tilewater.documents.cross_shapes import Profile, crown_line, cut_line, media_outline
from tilewater.documents.drawing.dxf import to_dxf
from tilewater.documents.drawing.measured import collisions, outside_frame, struck_texts, text_boxes
from tilewater.documents.drawing.model import Dimension, Drawing
from tilewater.documents.drawing.svg import to_svg
from tilewater.hydraulics.media import bed_surface_depth

Points = list[tuple[float, float]]
NOBODY = Unknown("nobody knows")
UNITS: dict[System, float] = {"us": FOOT, "si": 1.0}
CLOSE = 1e-6  # m
PAPER = 0.0011  # mm, twice half of the last digit of the SVG


def unknown(*keys: str) -> JobInputs:
    return corbel_inputs(dict.fromkeys(keys, NOBODY))


def with_cells() -> JobInputs:
    cells = []
    for name, width, offset in (("near", 14.0, 21.0), ("far", 12.0, 41.0)):
        here = f"inputs.cell.{name}"
        cells.append(Given(f"{here}.width_bottom_m", width * FOOT, "m", "Width"))
        cells.append(Given(f"{here}.offset_m", offset * FOOT, "m", "Offset"))
    return with_givens(corbel_inputs(), *cells)


JOBS: dict[str, Callable[[], JobInputs]] = {
    "as it is": corbel_inputs,
    "in cells": with_cells,
    "to the left": lambda: corbel_inputs({"place.bed.offset_m": -21.0 * FOOT}),
    "deep": lambda: corbel_inputs({"site.ground_at_bed_m": 1190.0 * FOOT, "site.soil_type": "C"}),
    "no place": lambda: unknown("place.bed.offset_m"),
    "no ground": lambda: unknown("site.ground_at_bed_m", "site.soil_type", "bed.lining"),
    "no lap": lambda: unknown("estimate.lap_m", "bed.crown_m", "main.invert_outlet_m"),
    "no width": lambda: unknown("bed.width_bottom_m"),
}


@cache
def designed(name: str = "as it is") -> Trace:
    return design_bed(JOBS[name](), by_days=False).trace


@cache
def scene(name: str = "as it is") -> CrossSection:
    return cross_section_scene(designed(name))


@cache
def drawn(name: str = "as it is", units: System = "us") -> Drawing:
    return cross_section_drawing(scene(name), units)


def level(key: str) -> float:
    return float(designed().value(key))


def measured(drawing: Drawing, layer: str) -> list[Points]:
    """Lines of a layer as measured in the DXF, in metres."""
    document = ezdxf.read(StringIO(to_dxf(drawing).decode("utf-8")))
    unit = UNITS[drawing.units]
    return [
        [(x * unit, y * unit) for x, y in line.get_points("xy")]
        for line in document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    ]


def shape(drawing: Drawing, name: str) -> Points:
    """The last shape of a name as measured on the paper of the SVG, in metres."""
    frame = drawing.frame
    root = ElementTree.fromstring(to_svg(drawing))
    path = [each for each in root.iter() if each.get("data-part") == name][-1]
    pairs = re.findall(r"(-?[\d.]+) (-?[\d.]+)", path.attrib["d"])
    return [frame.ground((float(x), frame.height_mm - float(y))) for x, y in pairs]


@pytest.mark.works(of=(cross_section_drawing, write_levels, write_widths, write_callouts))
@pytest.mark.parametrize(("name", "units"), [("as it is", "si"), *((name, "us") for name in JOBS)])
def test_no_words_touch_and_nothing_leaves_the_paper(name: str, units: System) -> None:
    on_page = cross_section_drawing(scene(name), units, width_mm=205.0, height_mm=160.0)
    for drawing in (drawn(name, units), on_page):
        assert () == collisions(drawing)
        assert () == outside_frame(drawing)
        assert () == struck_texts(drawing)


@pytest.mark.by_hand(of=(cross_section_drawing, add_cross, width_between_slopes))
@pytest.mark.parametrize("units", UNITS)
def test_section_measured_in_the_dxf_is_that_of_the_job(units: System) -> None:
    drawing = drawn(units=units)
    assert 1.0 == pytest.approx(drawing.frame.exaggeration)
    (chips,) = measured(drawing, "chips-edge")
    feet = [(x / FOOT, z / FOOT) for x, z in chips]
    # floor 30 ft wide from 21 ft beside the main, sides 1:1 over 3.5 ft
    stated = [(21.0, 1180.70), (51.0, 1180.70), (54.5, 1184.20), (17.5, 1184.20)]
    for found, corner in zip(feet, stated, strict=True):
        assert corner == pytest.approx(found, abs=CLOSE)
    (cut,) = measured(drawing, "excavation")
    feet = [(x / FOOT, z / FOOT) for x, z in cut]
    stated = [(15.7, 1186.0), (21.0, 1180.70), (51.0, 1180.70), (56.3, 1186.0)]
    for found, corner in zip(feet, stated, strict=True):
        assert corner == pytest.approx(found, abs=CLOSE)


@pytest.mark.works(of=(cross_section_drawing,))
@pytest.mark.parametrize("units", UNITS)
def test_section_measured_on_paper_is_that_of_the_result(units: System) -> None:
    drawing = drawn(units=units)
    near = PAPER * drawing.frame.scale_x / 1000.0
    chips = shape(drawing, "chips")
    assert level("cross.bed.chips_top_width_m") == pytest.approx(
        chips[2][0] - chips[3][0], abs=2 * near
    )
    water = shape(drawing, "water criterion")
    assert level("cross.water.criterion_m") == pytest.approx(water[0][1], abs=2 * near)
    (cut,) = (shape(drawing, "cut"),)
    assert level("cross.bed.cut_top_width_m") == pytest.approx(cut[-1][0] - cut[0][0], abs=2 * near)


@pytest.mark.works(of=(write_widths,))
@pytest.mark.parametrize("name", ["as it is", "in cells", "to the left", "deep"])
def test_every_dimension_is_as_long_as_it_says(name: str) -> None:
    drawing = drawn(name)
    dimensions = [each for each in drawing.entities if isinstance(each, Dimension)]
    assert len(dimensions) >= 8
    for each in dimensions:
        axis = 0 if each.along == "x" else 1
        assert printed(each.words) == abs(each.end[axis] - each.start[axis]) / FOOT, each


@pytest.mark.works(of=(cross_section_drawing,))
def test_every_key_on_the_section_is_of_the_trace() -> None:
    root = ElementTree.fromstring(to_svg(drawn()))
    keys = {each.attrib["data-key"] for each in root.iter() if "data-key" in each.attrib}
    assert {"bed.floor_mean_m", "bed.width_bottom_m", "cross.main_invert_m"} <= keys
    assert set() == {key for key in keys if not designed().known(key)}


@pytest.mark.by_hand(of=(half_way, level_between, add_cross))
def test_main_at_the_section_lies_on_its_grade() -> None:
    # half way along a floor from 0+44.3 to 1+40.8; the main rises 0.25 ft in 140 ft
    assert (44.3 + 140.8) / 2 == pytest.approx(half_way(44.3, 140.8))
    assert printed("92.55") == level("cross.station_m") / FOOT
    invert = 1180.95 + 0.25 * 92.55 / 140.0
    assert invert == pytest.approx(level("cross.main_invert_m") / FOOT)
    assert invert == pytest.approx(level_between(92.55, 0.0, 140.0, 1180.95, 1181.20))


@pytest.mark.by_hand(of=(add_cross, tell_of_cover))
def test_cover_that_does_not_reach_the_ground_is_told() -> None:
    # the ground 4 ft higher than where 1.8 ft of cover ends
    assert printed("5.80") == 1190.0 - 1184.2
    assert 5.8 == pytest.approx(float(designed("deep").value("cross.cover_m")) / FOOT)
    told = [f.message for f in designed("deep").findings if f.code == "cover-in-section"]
    assert told == [
        "The ground lies 5.80 ft over the media, and the cover is stated as 1.80 ft. Correct one "
        "of them."
    ]
    assert [] == [f for f in designed().findings if f.code == "cover-in-section"]


@pytest.mark.works(of=(level_half_way,))
def test_water_half_way_lies_on_the_curved_surface() -> None:
    trace, here = designed(), "capacity.criterion"
    shape, chips = trace.value("bed.shape"), trace.value(f"{here}.media")
    floor = level("bed.floor_mean_m")
    ends = level(f"{here}.levels_m.inlet_end"), level(f"{here}.levels_m.outlet_end")
    depth = bed_surface_depth(
        shape.length / 2,
        ends[0] - floor,
        ends[1] - floor,
        length=shape.length,
        width=shape.width,
        side_slope=shape.side_slope,
        conductivity=chips.conductivity,
        inertia=chips.inertia,
        media_depth=shape.media_depth,
    )
    found = level_half_way(*ends, floor, shape, chips)
    assert floor + depth == pytest.approx(found)
    assert level("cross.water.criterion_m") == pytest.approx(found)
    assert sum(ends) / 2 < found < ends[0]


def profile() -> Profile:
    """Floor at 0, media to 4, ground at 6, slopes 1:1 and 2:1."""
    one, two = Length(1.0, ""), Length(2.0, "")
    return Profile(0.0, 4.0, 6.0, 0.3, 12.0, one, two)


def cell(left: float, right: float) -> CellCut:
    return CellCut("", left, right, Length(right - left, ""), None, None)


@pytest.mark.by_hand(of=(cut_line, media_outline, Profile))
def test_two_cuts_meet_half_way_or_leave_ground_between() -> None:
    assert ((-12, 6), (0, 0), (5, 0), (17, 6)) == cut_line((cell(0, 5),), profile())
    # 8 m between the floors at 2:1: the slopes meet 4 m out, 2 m up
    close = cut_line((cell(0, 5), cell(13, 20)), profile())
    assert ((-12, 6), (0, 0), (5, 0), (9, 2), (13, 0), (20, 0), (32, 6)) == close
    apart = cut_line((cell(40, 45), cell(0, 5)), profile())
    assert ((17, 6), (28, 6)) == apart[3:5]
    assert ((0, 0), (5, 0), (8, 3), (-3, 3)) == media_outline(cell(0, 5), profile(), 3.0)


@pytest.mark.by_hand(of=(crown_line,))
def test_crown_has_its_mean_height() -> None:
    line = crown_line(0.0, 12.0, profile())
    area = sum((b[0] - a[0]) * ((a[1] + b[1]) / 2 - 6.0) for a, b in pairwise(line))
    assert 0.3 == pytest.approx(area / 12.0, rel=0.002)  # 24 chords of a parabola
    assert 6.0 == line[0][1] == line[-1][1]
    assert 6.45 == pytest.approx(max(z for _, z in line))


@pytest.mark.works(of=(cross_section_scene, cross_section_drawing))
def test_what_is_not_known_is_left_out_and_said() -> None:
    lost = scene("no ground")
    drawing = cross_section_drawing(lost)
    assert "the ground" in drawing.about
    assert [] == drawing_names(drawing, {"ground", "cut", "crown", "liner"})
    nothing = drawn("no width")
    words = [box.words for box in text_boxes(nothing)]
    assert "not known: see what is not drawn" in words
    assert "the bed" in nothing.about


def drawing_names(drawing: Drawing, names: set[str]) -> list[str]:
    return [each.name for each in drawing.entities if getattr(each, "name", "") in names]


@pytest.mark.works(of=(cross_section_scene,))
def test_turned_bed_is_cut_without_its_main() -> None:
    turn = Given("inputs.place.bed.turn_deg", 10.0, "deg", "Turn")
    turned = cross_section_scene(
        design_bed(with_givens(corbel_inputs(), turn), by_days=False).trace
    )
    assert turned.main is None
    assert ["the main beside the bed"] == [each.what for each in turned.missing]
