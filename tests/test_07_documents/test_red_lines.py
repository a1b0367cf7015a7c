# SPDX-License-Identifier: Apache-2.0
"""Red lines: designed words struck through, built ones beside, clear of all other words."""

import pytest

from tilewater.documents.built.redlined import LAYER, red_lined
from tilewater.documents.drawing.frame import Frame
from tilewater.documents.drawing.layers import layer_of
from tilewater.documents.drawing.measured import collisions, outside_frame
from tilewater.documents.drawing.model import Dimension, Drawing, Part, Polyline, Text
from tilewater.documents.inks import BINDS

FRAME = Frame(low=(0.0, 0.0), scale_x=1000.0, scale_y=1000.0, width_mm=120.0, height_mm=80.0)


def drawing(sill: str, crest: str, water: str, width: str) -> Drawing:
    """A drawing that tells a sill, a crest, a water level and a width."""
    return Drawing(
        "Section",
        FRAME,
        (
            Text((10.0, 60.0), (Part("sill "), Part(sill, "inputs.structure.inlet.sill_m"))),
            Text(
                (10.0, 50.0),
                (
                    Part("crest "),
                    Part(crest, "boards.inlet-design.crest_m"),
                    Part(" of "),
                    Part(sill, "inputs.structure.inlet.sill_m"),
                ),
            ),
            Text((10.0, 40.0), water, key="capacity.criterion.levels_m.diversion"),
            Dimension((10.0, 10.0), (60.0, 10.0), (10.0, 20.0), width, key="bed.width_bottom_m"),
        ),
    )


DESIGNED = drawing("1181.20", "1184.20", "1184.15", "30.00")
BUILT = drawing("1181.26", "1184.26", "1184.21", "30.26")


def red(entities: tuple[object, ...]) -> list[str]:
    """Words in red."""
    return [e.plain for e in entities if isinstance(e, Text) and e.layer == LAYER]


@pytest.mark.works(of=(red_lined,))
def test_what_was_built_is_marked_and_water_levels_are_not() -> None:
    marked = red_lined(DESIGNED, BUILT)
    words = red(marked.drawing.entities)
    assert words == ["1181.26", "crest 1184.26 of 1181.26", "30.26"]
    strokes = [e for e in marked.drawing.entities if isinstance(e, Polyline) and e.name == "struck"]
    assert len(strokes) == 4
    assert marked.changes[0] == ("inputs.structure.inlet.sill_m", "1181.20", "1181.26")
    assert "capacity.criterion.levels_m.diversion" not in {key for key, _, _ in marked.changes}
    assert not collisions(marked.drawing)
    assert not outside_frame(marked.drawing)


@pytest.mark.works(of=(red_lined,))
def test_nothing_is_marked_where_all_was_built_as_designed() -> None:
    marked = red_lined(DESIGNED, DESIGNED)
    assert marked.changes == ()
    assert marked.drawing == DESIGNED


@pytest.mark.works(of=(red_lined, layer_of))
def test_red_is_not_the_ink_of_what_binds() -> None:
    assert layer_of(LAYER).ink != BINDS
