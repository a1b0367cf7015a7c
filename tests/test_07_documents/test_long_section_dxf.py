# SPDX-License-Identifier: Apache-2.0
"""What is measured in the DXF of the long section is what the design says."""

from functools import cache
from io import StringIO

import ezdxf
import pytest

from tests.jobs import FOOT, corbel_inputs
from tilewater.basis.trace import Trace
from tilewater.basis.units import System, format_quantity
from tilewater.chain.design import design_bed
from tilewater.chain.scene import LongSection, long_section_scene
from tilewater.documents.drawing.dxf import to_dxf
from tilewater.documents.drawing.model import Drawing
from tilewater.documents.long_section import (
    long_section_drawing,
    main_reach_drawing,
    season_drawings,
)

Points = list[tuple[float, float]]
CLOSE = 1e-6  # of a unit of the file
METRES: dict[System, float] = {"us": FOOT, "si": 1.0}


@cache
def farm() -> tuple[Trace, LongSection]:
    trace = design_bed(corbel_inputs()).trace
    return trace, long_section_scene(trace)


def measured(drawing: Drawing, layer: str) -> list[Points]:
    """Lines of a layer as measured in the file, in metres along and of elevation."""
    document = ezdxf.read(StringIO(to_dxf(drawing).decode("utf-8")))
    unit, times = METRES[drawing.units], drawing.frame.exaggeration
    return [
        [(x * unit, y / times * unit) for x, y in line.get_points("xy")]
        for line in document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    ]


def level(key: str) -> float:
    return float(farm()[0].value(key))


@pytest.mark.works(of=(long_section_drawing, to_dxf))
@pytest.mark.parametrize("units", METRES)
def test_levels_measured_in_the_file_are_those_of_the_design(units: System) -> None:
    drawing = long_section_drawing(farm()[1], units)
    (chips,) = measured(drawing, "chips-edge")
    assert level("bed.media_top_m") == pytest.approx(max(z for _, z in chips), abs=CLOSE)
    assert level("inputs.bed.floor_outlet_m") == pytest.approx(min(z for _, z in chips), abs=CLOSE)
    boxes = measured(drawing, "structure-cut")
    rims = [level(f"inputs.structure.{box}.rim_m") for box in ("inlet", "outlet")]
    assert rims == pytest.approx([max(z for _, z in box) for box in boxes], abs=CLOSE)
    water, _sample = measured(drawing, "water-first")
    here = "capacity.criterion.levels_m"
    ends = [level(f"{here}.diversion"), level(f"{here}.outlet_box")]
    assert ends == pytest.approx([water[0][1], water[-1][1]], abs=CLOSE)
    (ground,) = measured(drawing, "ground")
    assert level("inputs.ditch.bottom_m") == pytest.approx(min(z for _, z in ground), abs=CLOSE)


@pytest.mark.works(of=(main_reach_drawing, season_drawings, to_dxf))
@pytest.mark.parametrize("units", METRES)
def test_pool_and_season_are_measured_in_the_file(units: System) -> None:
    ((start, end),) = measured(main_reach_drawing(farm()[1], units), "water-first")
    crest = level("elevations.inlet_crest.elevation_m")
    assert (crest, crest) == pytest.approx((start[1], end[1]), abs=CLOSE)
    assert level("pool_reach_m") == pytest.approx(end[0] - start[0], abs=1e-5)
    autumn = season_drawings(farm()[1], units)[-1]
    (water,) = measured(autumn, "water-first")
    assert level("seasons.autumn.full.levels_m.diversion") == pytest.approx(water[0][1], abs=CLOSE)


@pytest.mark.works(of=(long_section_drawing, to_dxf))
@pytest.mark.parametrize("units", METRES)
def test_the_file_writes_the_levels_of_the_result(units: System) -> None:
    document = ezdxf.read(StringIO(to_dxf(long_section_drawing(farm()[1], units)).decode("utf-8")))
    written = [text.dxf.text for text in document.modelspace().query("TEXT")]
    written += [text.plain_text() for text in document.modelspace().query("MTEXT")]
    for key in ("bed.media_top_m", "boards.inlet-design.crest_m", "inputs.ditch.bottom_m"):
        number = format_quantity(level(key), "elevation", system=units, unit=False)
        assert any(number in text for text in written), key


@pytest.mark.works(of=(long_section_drawing, to_dxf))
def test_the_file_is_the_same_each_time() -> None:
    drawing = long_section_drawing(farm()[1])
    assert to_dxf(drawing) == to_dxf(long_section_drawing(farm()[1]))
