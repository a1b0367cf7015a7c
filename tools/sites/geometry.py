# SPDX-License-Identifier: Apache-2.0
"""Shapes of an invented site, in the frame of its main.

`x` is the station along the main in feet, 0 at its end in the ditch and growing upstream; `y` is
the offset in feet, positive to the right of a person looking upstream; elevations are feet above
the vertical datum. The ditch runs across, along `y`.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]


@dataclass(frozen=True)
class Spot:
    """A place along the main where the water under the field is checked."""

    name: str
    kind: str
    x: float
    ground: float


@dataclass(frozen=True)
class Mark:
    """A named point with its elevation: a benchmark, a bore hole or a hole that was bailed."""

    name: str
    x: float
    y: float
    elevation: float
    note: str


@dataclass(frozen=True)
class Rectangle:
    """A rectangle along the axes of the frame."""

    name: str
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def size(self) -> tuple[float, float]:
        """Length along the main and width across it."""
        return self.x1 - self.x0, self.y1 - self.y0

    def grown(self, by: float) -> "Rectangle":
        """The rectangle moved out on all sides."""
        return Rectangle(self.name, self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def overlaps(self, other: "Rectangle") -> bool:
        """Whether the two share any area."""
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )

    def contains(self, other: "Rectangle") -> bool:
        """Whether the other lies wholly inside."""
        return (
            self.x0 <= other.x0
            and self.y0 <= other.y0
            and self.x1 >= other.x1
            and self.y1 >= other.y1
        )


@dataclass(frozen=True)
class Pipe:
    """A piece of pipe: from, to, inverts, inside diameter, and where it turns on its way."""

    name: str
    start: Point
    end: Point
    invert_start: float
    invert_end: float
    diameter_in: float
    kind: str = "solid"
    turns: tuple[Point, ...] = ()

    @property
    def points(self) -> tuple[Point, ...]:
        """Where it begins, turns and ends."""
        return self.start, *self.turns, self.end

    @property
    def length(self) -> float:
        """Length in plan."""
        return sum(math.dist(a, b) for a, b in pairwise(self.points))

    @property
    def slope(self) -> float:
        """Fall from start to end over the length."""
        return (self.invert_start - self.invert_end) / self.length

    @property
    def trenches(self) -> tuple[Rectangle, ...]:
        """Trench of each straight piece in plan, 2 ft wide."""
        return tuple(_trench(self.name, a, b) for a, b in pairwise(self.points))

    @property
    def strip(self) -> Rectangle:
        """Trench of a pipe without turns."""
        return _trench(self.name, self.start, self.end)


@dataclass(frozen=True)
class Ditch:
    """A ditch across the lower end of the main, its near bank at `bank_top_x`."""

    bottom: float
    bottom_width: float
    side_slope: float
    bank_top: float
    bank_top_x: float
    water: float

    @property
    def bank_height(self) -> float:
        """Bank top above the bottom."""
        return self.bank_top - self.bottom

    def bank_x(self, elevation: float) -> float:
        """Station at which the near bank has an elevation."""
        return self.bank_top_x - self.side_slope * (self.bank_top - elevation)

    def far_bank_x(self, elevation: float) -> float:
        """Station at which the far bank has an elevation."""
        toe = self.bank_x(self.bottom) - self.bottom_width
        return toe - self.side_slope * (elevation - self.bottom)


@dataclass(frozen=True)
class Grid:
    """Where the frame lies in the grid of its county: end of the main, azimuth up the main."""

    north: float
    east: float
    azimuth_deg: float

    def at(self, x: float, y: float) -> Point:
        """North and east of a point, in feet of the grid."""
        azimuth = math.radians(self.azimuth_deg)
        return (
            self.north + x * math.cos(azimuth) - y * math.sin(azimuth),
            self.east + x * math.sin(azimuth) + y * math.cos(azimuth),
        )


def between(points: tuple[Point, ...], x: float) -> float:
    """Height at a station on a line of points; that of the nearest end beyond them."""
    if x <= points[0][0]:
        return points[0][1]
    for (xa, za), (xb, zb) in pairwise(points):
        if xa <= x <= xb:
            return za + (zb - za) * (x - xa) / (xb - xa)
    return points[-1][1]


def box_around(name: str, centre: Point, along: float, across: float) -> Rectangle:
    """Outline of a box around its middle."""
    x, y = centre
    return Rectangle(name, x - along / 2, y - across / 2, x + along / 2, y + across / 2)


def station(x: float) -> str:
    """A station as it is written: 2+90, 1+40.5."""
    tenths = round(abs(x) * 10)
    hundreds, rest = divmod(tenths, 1000)
    text = f"{hundreds}+{rest // 10:02d}" + (f".{rest % 10}" if rest % 10 else "")
    return f"-{text}" if x < 0 and tenths else text


def _trench(name: str, start: Point, end: Point) -> Rectangle:
    (x0, x1), (y0, y1) = sorted((start[0], end[0])), sorted((start[1], end[1]))
    along = abs(x1 - x0) > abs(y1 - y0)
    dx, dy = (0.0, 1.0) if along else (1.0, 0.0)
    return Rectangle(name, x0 - dx, y0 - dy, x1 + dx, y1 + dy)
