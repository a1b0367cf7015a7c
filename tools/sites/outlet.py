# SPDX-License-Identifier: Apache-2.0
"""An invented outlet at which both a bed and a buffer were thought through.

Stated is what was measured and decided; whatever follows from it is computed. The sketch and the
point file of an example are made from it; its job file and its page repeat the values in words, and
a test holds all of them together. Feet throughout; the frame is that of `geometry`.
"""

import math
from dataclasses import dataclass

from tools.sites.geometry import (
    Ditch,
    Grid,
    Mark,
    Pipe,
    Point,
    Rectangle,
    Spot,
    between,
    box_around,
)

BOX_LENGTH = 2.0
BOX_WIDTH = 1.3
SOLID_PIPE_LEAST = 20.0
LINE_FROM_MAIN = 25.0
"""Offset at which a distribution line begins on either side of the main."""


@dataclass(frozen=True)
class MainLine:
    """The main: from its end in the ditch to its upper end."""

    diameter_in: float
    wall_in: float
    material: str
    n: float
    slope: float
    invert_outlet: float
    invert_diversion: float
    upper_end: float
    property_line: float


@dataclass(frozen=True)
class Block:
    """The tiled field: from and to along the main, its width, its laterals."""

    x0: float
    x1: float
    width: float
    spacing: float
    depth: float
    first: float

    @property
    def acres(self) -> float:
        """Its area."""
        return (self.x1 - self.x0) * self.width / 43560.0

    @property
    def laterals(self) -> tuple[float, ...]:
        """Stations at which they join the main."""
        count = round((self.x1 - self.x0) / self.spacing)
        return tuple(self.first + self.spacing * i for i in range(count))


@dataclass(frozen=True)
class Box:
    """A structure: its middle, sill and rim, and the boards of the design setting."""

    x: float
    y: float
    sill: float
    rim: float
    boards_in: float

    @property
    def centre(self) -> Point:
        """Its middle in plan."""
        return self.x, self.y

    @property
    def outline(self) -> Rectangle:
        """Its outline in plan."""
        return box_around("structure", self.centre, BOX_LENGTH, BOX_WIDTH)

    @property
    def crest(self) -> float:
        """Top of its boards."""
        return self.sill + self.boards_in / 12


@dataclass(frozen=True)
class Pit:
    """The bed: its floor in plan and height, depth of media, the ground over it."""

    floor: Rectangle
    floor_level: float
    media_depth: float
    side_slope: float
    cut_slope: float
    ground: float
    turned_deg: float
    shown: str

    @property
    def cut_depth(self) -> float:
        """Depth of the cut."""
        return self.ground - self.floor_level

    @property
    def media_top(self) -> float:
        """Top of the media."""
        return self.floor_level + self.media_depth

    @property
    def cover(self) -> float:
        """Soil over the media."""
        return self.ground - self.media_top

    @property
    def chips(self) -> Rectangle:
        """Outline of the media at their top."""
        return self.floor.grown(self.side_slope * self.media_depth)

    @property
    def top(self) -> Rectangle:
        """Outline of the cut at the ground, at the slope that its soil asks for."""
        return self.floor.grown(self.cut_slope * self.cut_depth)


@dataclass(frozen=True)
class Line:
    """The distribution line of a buffer: along the ditch at a station, both ways from the main."""

    x: float
    y0: float
    y1: float
    invert: float
    diameter_in: float
    trench_in: float
    roots: tuple[float, float] | None = None

    @property
    def branches(self) -> tuple[float, float]:
        """Lengths from the solid pipe to the ends."""
        return -self.y0 - LINE_FROM_MAIN, self.y1 - LINE_FROM_MAIN

    @property
    def tree_length(self) -> float:
        """Length in the reach of roots."""
        return 0.0 if self.roots is None else self.roots[1] - self.roots[0]

    @property
    def strip(self) -> Rectangle:
        """Its trench in plan."""
        half = self.trench_in / 24
        return Rectangle("distribution line", self.x - half, self.y0, self.x + half, self.y1)


@dataclass(frozen=True)
class Outlet:
    """The whole site."""

    name: str
    title: str
    ditch: Ditch
    waters: tuple[tuple[str, float], ...]
    right_of_way: float | None
    main: MainLine
    block: Block
    inlet: Box
    outlet: Box
    pit: Pit
    pipes: tuple[Pipe, ...]
    line: Line
    strip: Rectangle
    barrier: float
    grid: Grid
    ground_points: tuple[Point, ...]
    spots: tuple[Spot, ...]
    benchmarks: tuple[Mark, ...]
    borings: tuple[Mark, ...]
    bailed: tuple[Mark, ...] = ()

    def ground(self, x: float) -> float:
        """Ground along the main, the ditch included."""
        ditch = self.ditch
        toe = ditch.bank_x(ditch.bottom)
        far_toe = toe - ditch.bottom_width
        if x < far_toe:
            return min(ditch.bank_top, ditch.bottom + (far_toe - x) / ditch.side_slope)
        if x < ditch.bank_top_x:
            return max(ditch.bottom, ditch.bank_top - (ditch.bank_top_x - x) / ditch.side_slope)
        return between(self.ground_points, x)

    def main_invert(self, x: float) -> float:
        """Invert of the main at a station."""
        main, low = self.main, self.inlet.x
        if x <= low:
            rise = (main.invert_diversion - main.invert_outlet) / low
            return main.invert_outlet + rise * x
        return main.invert_diversion + main.slope * (x - low)

    def pipe(self, name: str) -> Pipe:
        """One of the pipes that are laid."""
        return next(each for each in self.pipes if each.name == name)

    @property
    def width(self) -> float:
        """From the distribution line to the edge of ordinary water."""
        return self.line.x - self.ditch.bank_x(self.ditch.water)

    @property
    def solid_at_structure(self) -> float:
        """Solid pipe from the middle of the structure to where the line begins."""
        return math.dist(self.inlet.centre, (self.line.x, LINE_FROM_MAIN))

    @property
    def edge_distance(self) -> float:
        """From the bank top to the top of the bed's cut."""
        return self.pit.top.x0 - self.ditch.bank_top_x

    @property
    def right_of_way_x(self) -> float | None:
        """Station of the line to which the right of way reaches."""
        return None if self.right_of_way is None else self.ditch.bank_top_x + self.right_of_way

    @property
    def pool_reach(self) -> float:
        """Distance above the diversion to which level water at the inlet crest stands."""
        return (self.inlet.crest - self.main.invert_diversion) / self.main.slope

    @property
    def in_right_of_way(self) -> tuple[str, ...]:
        """What lies in the right of way and needs consent."""
        limit = self.right_of_way_x
        if limit is None:
            return ()
        things: list[tuple[str, float]] = [
            (f"{pipe.name} pipe", min(x for x, _ in pipe.points)) for pipe in self.pipes
        ]
        things += [
            ("inlet structure", self.inlet.outline.x0),
            ("outlet structure", self.outlet.outline.x0),
            ("bed", self.pit.top.x0),
            ("distribution line", self.line.x),
        ]
        return tuple(name for name, low in things if low < limit)
