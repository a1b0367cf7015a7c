# SPDX-License-Identifier: Apache-2.0
"""The plan lies in the grid, its distances are those of the result, and no two words touch."""

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import StringIO
from itertools import pairwise
from math import cos, hypot, radians, sin
from xml.etree import ElementTree

import ezdxf
import pytest

from tests.digits import printed
from tests.jobs import FARM, FOOT
from tilewater.basis.trace import Given, Trace
from tilewater.basis.units import System
from tilewater.chain.design import design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.chain.scene_plan import plan_scene
from tilewater.chain.scene_plan_records import PlanScene
from tilewater.documents.drawing.dxf import to_dxf
from tilewater.documents.drawing.measured import collisions, outside_frame, struck_texts, text_boxes
from tilewater.documents.drawing.model import Dimension, Drawing
from tilewater.documents.drawing.svg import to_svg
from tilewater.documents.plan import main_plan_drawing, plan_drawing
from tilewater.documents.plan_labels import on_the_main, setback, write_dimensions, write_labels
from tilewater.documents.plan_legend import plan_legend_drawing
from tilewater.documents.plan_shapes import Window, draw_pipes, remaining_main
from tilewater.tasks.checking import check_job

Points = list[tuple[float, float]]
UNITS: dict[System, float] = {"us": FOOT, "si": 1.0}
CLOSE = 1e-6  # m, a coordinate of a million metres in doubles
PAPER = 0.0011  # mm, twice half of the last digit of the SVG
AZIMUTH = radians(68.50)


@cache
def job() -> JobInputs:
    return check_job(FARM).inputs


def without(*starts: str) -> JobInputs:
    return replace(job(), givens=tuple(g for g in job().givens if not g.key.startswith(starts)))


def with_cells() -> JobInputs:
    cells = []
    for name, width, offset in (("near", 14.0, 21.0), ("far", 12.0, 41.0)):
        here = f"inputs.cell.{name}"
        cells.append(Given(f"{here}.width_bottom_m", width * FOOT, "m", "Width"))
        cells.append(Given(f"{here}.offset_m", offset * FOOT, "m", "Offset"))
    return replace(job(), givens=(*job().givens, *cells))


def turned() -> JobInputs:
    turn = Given("inputs.place.bed.turn_deg", 12.0, "deg", "Turn")
    return replace(job(), givens=(*job().givens, turn))


JOBS: dict[str, Callable[[], JobInputs]] = {
    "as it is": job,
    "in cells": with_cells,
    "turned": turned,
    "to the left": lambda: job().changed({"inputs.place.bed.offset_m": -21.0 * FOOT}),
    "no grid": lambda: without("inputs.baseline.azimuth"),
    "no place": lambda: without("inputs.place"),
    "hardly anything": lambda: without(
        "inputs.place", "inputs.baseline", "inputs.line", "inputs.pipe", "inputs.shots"
    ),
}


@cache
def designed(name: str = "as it is") -> Trace:
    return design_bed(JOBS[name](), by_days=False).trace


@cache
def scene(name: str = "as it is") -> PlanScene:
    return plan_scene(designed(name))


@cache
def drawn(name: str = "as it is", units: System = "us") -> Drawing:
    return plan_drawing(scene(name), units)


def measured(drawing: Drawing, layer: str) -> list[Points]:
    """Lines of a layer as measured in the DXF, in metres."""
    document = ezdxf.read(StringIO(to_dxf(drawing).decode("utf-8")))
    unit = UNITS[drawing.units]
    return [
        [(x * unit, y * unit) for x, y in line.get_points("xy")]
        for line in document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    ]


def shape(drawing: Drawing, name: str) -> Points:
    """The shape of a name as measured on the paper of the SVG, in metres of ground."""
    frame = drawing.frame
    root = ElementTree.fromstring(to_svg(drawing))
    path = next(each for each in root.iter() if each.get("data-part") == name)
    pairs = re.findall(r"(-?[\d.]+) (-?[\d.]+)", path.attrib["d"])
    return [frame.ground((float(x), frame.height_mm - float(y))) for x, y in pairs]


def sides(corners: Points) -> list[float]:
    return [hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(corners)]


@pytest.mark.works(of=(plan_drawing, write_labels, plan_legend_drawing))
@pytest.mark.parametrize(("name", "units"), [("as it is", "si"), *((name, "us") for name in JOBS)])
def test_no_words_touch_and_nothing_leaves_the_paper(name: str, units: System) -> None:
    for drawing in (
        drawn(name, units),
        plan_drawing(scene(name), units, width_mm=205.0, height_mm=160.0),
        plan_legend_drawing(scene(name), units),
        main_plan_drawing(scene(name), units),
        main_plan_drawing(scene(name), units, width_mm=166.0, height_mm=200.0),
    ):
        assert () == collisions(drawing)
        assert () == outside_frame(drawing)
        assert () == struck_texts(drawing)
        assert "no room" not in drawing.about


@pytest.mark.by_hand(of=(plan_drawing, plan_scene))
@pytest.mark.parametrize("units", UNITS)
def test_corners_measured_in_the_dxf_are_those_of_the_grid(units: System) -> None:
    (cut,) = measured(drawn(units=units), "excavation")
    # top of the cut: 5.3 ft outside a floor of 96.5 by 30 ft at 0+44.3, 21 ft right
    lower_near = 44.3 - 5.3, 21.0 - 5.3
    east = (4843520.00 + lower_near[0] * sin(AZIMUTH) + lower_near[1] * cos(AZIMUTH)) * FOOT
    north = (3813100.00 + lower_near[0] * cos(AZIMUTH) - lower_near[1] * sin(AZIMUTH)) * FOOT
    assert (east, north) == pytest.approx(cut[0], abs=CLOSE)
    assert printed("40.60") == sides(cut)[0] / FOOT == pytest.approx(30.0 + 2 * 5.3)
    assert printed("107.10") == sides(cut)[1] / FOOT == pytest.approx(96.5 + 2 * 5.3)


@pytest.mark.works(of=(plan_drawing, draw_pipes))
@pytest.mark.parametrize("units", UNITS)
def test_lengths_measured_on_paper_are_those_of_the_result(units: System) -> None:
    drawing, trace = drawn(units=units), designed()
    near = PAPER * drawing.frame.scale_x / 1000.0
    for name in trace.names("plan.pipes"):
        line = shape(drawing, f"pipe {name}")
        assert trace.value(f"inputs.pipe.{name}.length_m") == pytest.approx(
            sum(sides(line)), abs=2 * near
        )
    floor = shape(drawing, "bed floor")
    assert trace.value("bed.width_bottom_m") == pytest.approx(sides(floor)[0], abs=2 * near)
    assert trace.value("bed.length_bottom_m") == pytest.approx(sides(floor)[1], abs=2 * near)


@pytest.mark.works(of=(write_dimensions, setback))
@pytest.mark.parametrize("name", ["as it is", "in cells", "turned", "to the left", "no grid"])
def test_every_dimension_is_as_long_as_it_says(name: str) -> None:
    drawing = drawn(name)
    dimensions = [each for each in drawing.entities if isinstance(each, Dimension)]
    assert len(dimensions) >= 5
    for each in dimensions:
        long = hypot(each.end[0] - each.start[0], each.end[1] - each.start[1])
        assert printed(each.words) == long / FOOT, each


@pytest.mark.works(of=(write_dimensions,))
def test_setbacks_say_what_the_sketch_says() -> None:
    drawing = drawn()
    said = {each.key: each.words for each in drawing.entities if isinstance(each, Dimension)}
    here = "plan.distances"
    assert "15.7" == said[f"{here}.main_to_bed_cut_m"]
    assert "31.0" == said[f"{here}.bank_to_bed_cut_m"]
    assert "6.0" == said[f"{here}.right_of_way_to_bed_cut_m"]
    assert "25.0" == said["inputs.ditch.right_of_way_m"]


@pytest.mark.works(of=(plan_drawing,))
def test_every_key_on_the_plan_is_of_the_trace() -> None:
    root = ElementTree.fromstring(to_svg(drawn()))
    keys = {each.attrib["data-key"] for each in root.iter() if "data-key" in each.attrib}
    assert len(keys) > 20
    assert set() == {key for key in keys if not designed().known(key)}


@pytest.mark.works(of=(plan_drawing, plan_scene))
def test_plan_without_a_grid_says_so() -> None:
    drawing = drawn("no grid")
    words = [box.words for box in text_boxes(drawing)]
    assert any("by station and offset" in each for each in words)
    assert not any(each.startswith(("N ", "E ")) for each in words)
    assert "the grid, north and the shots" in drawing.about


@pytest.mark.works(of=(plan_scene, plan_legend_drawing))
def test_what_has_no_place_is_left_out_and_listed() -> None:
    lost = scene("no place")
    assert () == lost.outline("cut")
    assert {"the bed", "the outlet structure"} <= {each.what for each in lost.missing}
    words = [box.words for box in text_boxes(plan_legend_drawing(lost))]
    assert "Not drawn, not known" in words
    assert any("offset of its floor is not given" in each for each in words)


@pytest.mark.works(of=(plan_scene,))
def test_shots_that_are_not_used_are_marked() -> None:
    assert ["112", "113"] == [shot.point for shot in scene().shots if not shot.is_used]


@pytest.mark.works(of=(plan_scene, remaining_main))
def test_main_is_drawn_as_it_was_found_where_it_stays() -> None:
    # what is left inside the box of the diversion lies under it
    pieces = [(found, line) for found, line in remaining_main(scene()) if sum(sides([*line])) > 1.0]
    assert ["probed", "from a map"] == [found for found, _ in pieces]
    # the new pipe reaches to 1+62, the segment to 6+40, the main to 20+70
    assert 640.0 - 162.0 == pytest.approx(sum(sides(list(pieces[0][1]))) / FOOT)
    assert 2070.0 - 640.0 == pytest.approx(sum(sides(list(pieces[1][1]))) / FOOT)


@pytest.mark.by_hand(of=(main_plan_drawing, on_the_main))
@pytest.mark.parametrize("units", UNITS)
def test_main_is_as_long_on_paper_as_its_stations_say(units: System) -> None:
    drawing = main_plan_drawing(scene(), units)
    pieces = measured(drawing, "drain")
    far = max(pieces, key=lambda line: max(x for x, _ in line))[-1]
    start = (4843520.00 * FOOT, 3813100.00 * FOOT)
    assert 2070.0 == pytest.approx(hypot(far[0] - start[0], far[1] - start[1]) / FOOT, abs=CLOSE)
    words = [box.words for box in text_boxes(drawing)]
    assert {"low spot", "junction", "property line"} == {
        mark.kind for mark in on_the_main(scene()).marks
    }
    assert any("low-1" in each for each in words)
    assert "property line" in words


@pytest.mark.by_hand(of=(Window,))
def test_lines_are_cut_at_the_edge_of_the_window() -> None:
    window = Window((0.0, 0.0), (10.0, 10.0))
    assert [((0.0, 5.0), (10.0, 5.0))] == list(window.pieces(((-5.0, 5.0), (15.0, 5.0))))
    assert [] == list(window.pieces(((-5.0, 5.0), (-1.0, 5.0))))
    bent = ((5.0, 5.0), (5.0, 15.0), (8.0, 15.0), (8.0, 5.0))
    assert [((5.0, 5.0), (5.0, 10.0)), ((8.0, 10.0), (8.0, 5.0))] == list(window.pieces(bent))
    assert window.holds((3.0, 4.0))
    assert not window.holds((3.0, 11.0))


@pytest.mark.works(of=(plan_drawing,))
def test_survey_feet_stay_survey_feet() -> None:
    text = (FARM / "job.toml").read_text(encoding="utf-8")
    assert 'foot = "international foot"' in text
    survey = job().changed({"inputs.site.foot": "us survey foot"})
    drawing = plan_drawing(plan_scene(design_bed(survey, by_days=False).trace))
    words = [box.words for box in text_boxes(drawing)]
    assert any("US survey foot" in each for each in words)
    # the same metres, 2 parts in a million fewer survey feet: 4,843,650.26 less 9.69
    assert any(each.endswith("E 4,843,640.57") for each in words)
