# SPDX-License-Identifier: Apache-2.0
"""A drawing with one of each thing, for the tests of what is drawn."""

from tilewater.basis.units import Foot, System
from tilewater.documents.drawing.dimensions import chain
from tilewater.documents.drawing.frame import Sides, fitted_frame
from tilewater.documents.drawing.furniture import elevation_mark, north_arrow, scale_bar
from tilewater.documents.drawing.model import (
    Arc,
    Area,
    Circle,
    Dimension,
    Drawing,
    Entity,
    Leader,
    Line,
    Mark,
    Part,
    Polyline,
    Text,
)

BED = ((20.0, 357.0), (50.0, 357.0), (50.0, 359.5), (20.0, 359.5))
BOX = ((5.0, 356.0), (7.0, 356.0), (7.0, 361.6), (5.0, 361.6))
INSIDE = ((5.3, 356.4), (6.7, 356.4), (6.7, 361.6), (5.3, 361.6))


def one_of_each(
    *, exaggerated: bool = True, units: System = "us", foot: Foot = "international foot"
) -> Drawing:
    """A bed 30 m long and 2.5 m high, a box beside it, with every kind of entity."""
    frame = fitted_frame(
        (0.0, 355.0),
        (60.0, 361.5),
        width_mm=400.0,
        height_mm=180.0,
        units=units,
        free=Sides(20.0, 25.0, 20.0, 25.0),
        exaggerated=exaggerated,
    )
    crest = (
        Part("Weir crest "),
        Part("1184.20", "structure.crest_m", "semibold"),
        Part(" ft", weight="light"),
    )
    entities: tuple[Entity, ...] = (
        Area(((0, 355), (60, 355), (60, 361), (0, 361)), "soil"),
        Area(((20, 359.6), (50, 359.6), (50, 361), (20, 361)), "cover"),
        Area(BED, "chips", name="bed"),
        Area(((20, 357), (50, 357), (50, 358.3), (20, 358.8)), "wet-chips"),
        Area(BOX, "structure", holes=(INSIDE,), name="box"),
        Area(((5.3, 356.4), (6.7, 356.4), (6.7, 358.4), (5.3, 358.4)), "water"),
        Polyline(BED, "chips-edge", closed=True, name="bed-edge"),
        Line((20.0, 358.8), (50.0, 358.3), "grade-line", name="grade-line"),
        Circle((3.0, 357.5), 0.3, "pipe-cut", "paper", name="pipe"),
        Arc((55.0, 358.0), 1.0, 20.0, 200.0, "water", name="arc"),
        Text(frame.moved((1.0, 361.0), 0.0, 8.0), crest, clear=True),
        Leader(((30.0, 358.0), frame.moved((30.0, 358.0), 5.0, 8.0))),
        Mark((58.0, 357.0), "benchmark"),
        *north_arrow((57.0, 356.0), north_deg=90.0),
        *elevation_mark(frame, (52.0, 361.0), "1184.38", key="site.ground_m"),
        *scale_bar(frame, frame.moved((0.0, 355.0), 0.0, -22.0), units, foot),
        *chain(
            frame,
            [(5.0, 355.5), (7.0, 355.5), (20.0, 357.0), (50.0, 357.0)],
            ["6.56", "42.65", "98.43"],
            through=frame.moved((0.0, 355.0), 0.0, -10.0),
            keys=["box.length_m", "", "bed.length_m"],
        ),
        Dimension(
            (50.0, 357.0), (50.0, 359.5), frame.moved((50.0, 357.0), 12.0, 0.0), "8.20", along="y"
        ),
    )
    return Drawing("Section <A>", frame, entities, units, foot, about="not drawn: the ditch")
