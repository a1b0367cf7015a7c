# SPDX-License-Identifier: Apache-2.0
"""The section through a header: the pipe on the floor, the water that stands at it."""

from functools import cache

import pytest

from tests.jobs import FOOT, INCH, corbel_inputs
from tilewater.basis.trace import Trace
from tilewater.basis.units import System
from tilewater.chain.design import design_bed
from tilewater.chain.scene_header import header_sections
from tilewater.documents.drawing.measured import collisions, outside_frame
from tilewater.documents.drawing.model import Dimension, Polyline, Text
from tilewater.documents.header_section import header_section_drawing


@cache
def trace(inlet_in: float = 6.0) -> Trace:
    changes = {"pipe.header-inlet.diameter_m": inlet_in * INCH}
    return design_bed(corbel_inputs(changes), by_days=False).trace


@pytest.mark.works(of=(header_sections,))
def test_headers_that_are_alike_have_one_section_and_others_two() -> None:
    assert [("inlet header", "outlet header")] == [s.names for s in header_sections(trace())]
    names = [section.names for section in header_sections(trace(8.0))]
    assert [("inlet header",), ("outlet header",)] == names


@pytest.mark.by_hand(of=(header_section_drawing,))
def test_the_pipe_lies_on_the_floor_as_long_as_it_is() -> None:
    (section,) = header_sections(trace())
    drawing = header_section_drawing(section)
    pipe = [e for e in drawing.entities if isinstance(e, Polyline) and e.name == "header"]
    low, high = sorted((each.points for each in pipe), key=lambda points: points[0][1])
    assert 29.0 == pytest.approx((low[1][0] - low[0][0]) / FOOT)
    assert 1180.70 == pytest.approx(low[0][1] / FOOT)
    assert 0.5 == pytest.approx((high[0][1] - low[0][1]) / FOOT)
    floor = section.bed.cells[0]
    assert (30.0 - 29.0) / 2 == pytest.approx((low[0][0] - floor.left) / FOOT)


@pytest.mark.works(of=(header_section_drawing,))
@pytest.mark.parametrize("units", ["us", "si"])
def test_the_section_says_its_widths_and_the_water_at_the_header(units: System) -> None:
    (section,) = header_sections(trace())
    drawing = header_section_drawing(section, units)
    assert () == outside_frame(drawing)
    assert () == collisions(drawing)
    widths = {each.words for each in drawing.entities if isinstance(each, Dimension)}
    assert {"us": {"29.00", "30.00"}, "si": {"8.839", "9.144"}}[units] <= widths
    told = " | ".join(each.plain for each in drawing.entities if isinstance(each, Text))
    assert "water, criterion line" in told
    assert {"us": "1184.19", "si": "360.942"}[units] in told
