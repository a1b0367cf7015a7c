# SPDX-License-Identifier: Apache-2.0
"""The section along the line of a buffer: its pieces, its water, and what is not known of it."""

from collections.abc import Mapping

import pytest

from tests.buffers import designed
from tests.jobs import FOOT
from tilewater.basis.trace import Value
from tilewater.basis.units import System
from tilewater.basis.unknown import Unknown
from tilewater.documents.drawing.measured import collisions, outside_frame
from tilewater.documents.drawing.model import Drawing, Polyline, Text
from tilewater.documents.line_section import line_section_drawing
from tilewater.practices.buffer.line_scene import LineSection, line_section

BOX: dict[str, Value] = {
    "inputs.structure.inlet.floor_m": 737.9 * FOOT,
    "inputs.structure.inlet.ground_m": 745.6 * FOOT,
    "inputs.structure.inlet.box_length_m": 2.0 * FOOT,
}


def section(changes: Mapping[str, Value] | None = None) -> LineSection:
    return line_section(designed({**BOX, **(changes or {})}))


def words_of(drawing: Drawing) -> str:
    return " | ".join(each.plain for each in drawing.entities if isinstance(each, Text))


@pytest.mark.by_hand(of=(line_section,))
def test_a_branch_is_solid_at_the_box_then_perforated_then_solid_past_roots() -> None:
    branches = (525 * FOOT, 525 * FOOT)
    found = section(
        {
            "inputs.buffer.branches_m": branches,
            "inputs.buffer.solid_at_structure_m": 25 * FOOT,
            "inputs.buffer.tree_length_m": 140 * FOOT,
        }
    )
    right = [reach for reach in found.reaches if reach.end > 0.0]
    assert ["solid", "perforated", "solid past roots"] == [reach.kind for reach in right]
    ends = [25.0, 25.0 + (525.0 - 140.0 / 2), 25.0 + 525.0]
    assert ends == pytest.approx([reach.end / FOOT for reach in right])
    assert (-550.0, 550.0) == pytest.approx(tuple(x / FOOT for x in found.ends))


@pytest.mark.law(of=(line_section,))
def test_water_falls_from_the_boards_into_the_pipe_and_into_the_soil() -> None:
    for water in section().waters:
        far = {z for _, z in water.far}
        assert all(water.soil.elevation < z <= water.structure.elevation for z in far)


@pytest.mark.works(of=(line_section_drawing,))
@pytest.mark.parametrize("units", ["us", "si"])
def test_the_line_is_drawn_with_box_cover_caps_and_layer_below(units: System) -> None:
    drawing = line_section_drawing(section(), units)
    assert () == outside_frame(drawing)
    assert () == collisions(drawing)
    told = words_of(drawing)
    for words in ("rim of the box", "line, invert", "restrictive layer", "at the boards", "box"):
        assert words in told
    names = [each.name for each in drawing.entities if isinstance(each, Polyline)]
    assert 2 == names.count("end cap")
    assert (" ft" in told) == (units == "us")


@pytest.mark.works(of=(line_section_drawing,))
def test_where_roots_reach_is_said_not_to_be_known() -> None:
    roots = {"inputs.buffer.tree_length_m": 140 * FOOT}
    assert "is not given" in words_of(line_section_drawing(section(roots)))
    assert "is not given" not in words_of(line_section_drawing(section()))


@pytest.mark.works(of=(line_section_drawing,))
def test_a_line_without_an_invert_is_words_alone() -> None:
    unknown = {"inputs.buffer.line_invert_m": Unknown("not decided", "decide it")}
    drawing = line_section_drawing(section(unknown))
    assert "not known" in words_of(drawing)
    assert "line invert" in drawing.about
