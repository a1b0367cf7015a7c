# SPDX-License-Identifier: Apache-2.0
"""Shapes of the section across a buffer: ground, bank, layer below, line in its trench, water."""

from dataclasses import dataclass

from tilewater.documents.drawing.frame import Point
from tilewater.documents.drawing.model import Circle
from tilewater.documents.profile.plot import Plot
from tilewater.practices.buffer.scene import BufferSection, SeasonWater

BEDDING = 0.1
"""Trench under the invert. [m]"""
FIELD, BED = 0.32, 0.16
"""Field shown before the line, and bottom of the ditch, as shares of the strip."""
BELOW = 0.5
"""Ground shown under the restrictive layer. [m]"""
WATERS = ("water-first", "water-second", "water-third", "water-fourth")
"""Layers of the seasons, that of the criterion first."""


@dataclass(frozen=True)
class Ground:
    """The surface from the field to the ditch, and how far it is shown.

    Attributes
    ----------
    surface : tuple of (distance, elevation)
        From left to right. [m]
    left, right, low, high : float
        Ends of what is shown. [m]
    """

    surface: tuple[Point, ...]
    left: float
    right: float
    low: float
    high: float

    @classmethod
    def of(cls, section: BufferSection) -> "Ground | None":
        """The ground of a section; None where too little is known to draw it."""
        top, bottom, line = section.bank_top, section.ditch_bottom, section.ground_at_line
        if section.width is None or top is None or bottom is None or line is None:
            return None
        if section.bank_slope is None or section.barrier is None:
            return None
        width, slope = section.width, section.bank_slope
        stage = next(
            (w.ditch.elevation for w in section.waters if w.season == section.criterion_season),
            bottom.elevation,
        )
        at_top = max(0.05 * width, width - (top.elevation - stage) * slope)
        at_toe = width + (stage - bottom.elevation) * slope
        edge = section.ground_at_field_edge or line
        left, right = -FIELD * width, at_toe + BED * width
        surface = (
            (left, edge.elevation),
            (0.0, line.elevation),
            (at_top, top.elevation),
            (at_toe, bottom.elevation),
            (right, bottom.elevation),
        )
        low = min(section.barrier.elevation, bottom.elevation) - BELOW
        high = max(z for _, z in surface)
        return cls(surface, left, right, low, high)

    @classmethod
    def flat(cls, left: float, right: float, low: float, level: float) -> "Ground":
        """Level ground."""
        return cls(((left, level), (right, level)), left, right, low, level)

    def bank_at(self, elevation: float) -> float:
        """Distance at which the bank has an elevation. [m]"""
        (x1, z1), (x2, z2) = self.surface[-3], self.surface[-2]
        if z1 <= z2:
            return x2
        share = min(1.0, max(0.0, (z1 - elevation) / (z1 - z2)))
        return x1 + share * (x2 - x1)


def draw_ground(plot: Plot, section: BufferSection, ground: Ground) -> None:
    """Draw the soil, the ground cut along the section, and the restrictive layer."""
    corners = ((ground.right, ground.low), (ground.left, ground.low))
    plot.fill((*ground.surface, *corners), "soil", name="soil")
    plot.shape(ground.surface, "ground", name="ground")
    barrier = section.barrier
    if barrier is not None and ground.low < barrier.elevation < ground.high:
        z = barrier.elevation
        plot.shape(((ground.left, z), (ground.right, z)), "soil-line", name="restrictive layer")


def draw_line(plot: Plot, section: BufferSection, ground: Ground) -> None:
    """Draw the trench of the line, and the line in it."""
    invert, over, wide = section.line_invert, section.ground_at_line, section.trench_width
    if invert is None or section.line_diameter is None:
        return
    radius = section.line_diameter / 2
    if over is not None and wide is not None:
        bottom, half = invert.elevation - BEDDING, wide / 2
        sides = ((-half, over.elevation), (-half, bottom), (half, bottom), (half, over.elevation))
        plot.fill(sides, "cover", name="backfill")
        plot.shape(sides, "excavation", name="trench")
    centre = 0.0, invert.elevation + radius
    plot.entities.append(Circle(centre, radius, "pipe-cut", "paper", name="line"))


def draw_water(
    plot: Plot, section: BufferSection, ground: Ground, water: SeasonWater, number: int
) -> None:
    """Draw the water of a season: in the field, from the line to the bank, and in the ditch."""
    layer = WATERS[min(number, len(WATERS) - 1)]
    stage = water.ditch.elevation
    shore = ground.bank_at(stage)
    if number == 0 and stage > ground.surface[-1][1]:
        toe = ground.surface[-2]
        pool = ((shore, stage), (ground.right, stage), (ground.right, toe[1]), toe)
        plot.fill(pool, "water", name="ditch water")
    plot.shape(((shore, stage), (ground.right, stage)), layer, name=f"ditch {water.season}")
    if number == 0:
        plot.mark((0.5 * (shore + ground.right), stage), "water", "water")
    table = tuple((x, z) for x, z in water.table if x <= ground.bank_at(z))
    plot.shape(table, layer, name=f"water table {water.season}")
    if section.ground_at_field_edge is not None and table:
        held = water.structure.elevation
        plot.shape(((ground.left, held), (0.0, held)), "grade-line", name=f"held {water.season}")
