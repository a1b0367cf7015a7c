# SPDX-License-Identifier: Apache-2.0
"""The records of a plan: what a drawing of the site needs, in SI, nothing drawn.

Points are east and north of the job's grid, or station and offset downward.
"""

from dataclasses import dataclass

from tilewater.chain.scene_records import Level, Missing

Point = tuple[float, float]
Line = tuple[Point, ...]


@dataclass(frozen=True)
class PlanOutline:
    """An outline that is laid out: `part` is floor, chips, cut, footprint or structure. [m]"""

    name: str
    part: str
    corners: Line
    key: str


@dataclass(frozen=True)
class PlanPipe:
    """A pipe that is laid, in the order of the water. [m]"""

    name: str
    use: str
    is_solid: bool
    line: Line
    diameter: float | None
    diameter_key: str
    length: float
    length_key: str


@dataclass(frozen=True)
class PlanLine:
    """A line of the site, of a kind and, where it is buried, as found. [m]"""

    name: str
    kind: str
    found: str
    line: Line


@dataclass(frozen=True)
class PlanMark:
    """A point of the site: a bore hole, benchmark or spot. [m]"""

    name: str
    kind: str
    at: Point
    level: Level | None


@dataclass(frozen=True)
class PlanShot:
    """A shot of the survey; one that is not used is drawn as such. [m]"""

    point: str
    at: Point
    height: float
    note: str
    is_used: bool


@dataclass(frozen=True)
class Measured:
    """A distance with the two points between which it is measured. [m]"""

    words: str
    start: Point
    end: Point
    value: float
    key: str


@dataclass(frozen=True)
class PlanScene:
    """Where things lie.

    Attributes
    ----------
    title, grid, foot, datum : str
    is_grid : bool
        Whether points are east and north; station and offset else.
    azimuth : float or None
        Of the main beside the bed, clockwise from north. [rad]
    main : tuple of (found, line)
        The main as it lies, from its outlet up.
    stations : tuple of (station, point)
        Ends of the main and the diversion.
    outlines, pipes, lines, marks, shots, distances
    floor, top : Level or None
        Of the bed: its mean floor, the top of its media.
    right_of_way : tuple of point
        Its edge; empty where it is not known.
    right_of_way_width : Measured or None
    missing : tuple of Missing
    """

    title: str
    grid: str
    foot: str
    datum: str
    is_grid: bool
    azimuth: float | None
    main: tuple[tuple[str, Line], ...]
    stations: tuple[tuple[float, Point], ...]
    outlines: tuple[PlanOutline, ...]
    pipes: tuple[PlanPipe, ...]
    lines: tuple[PlanLine, ...]
    marks: tuple[PlanMark, ...]
    shots: tuple[PlanShot, ...]
    distances: tuple[Measured, ...]
    floor: Level | None
    top: Level | None
    right_of_way: Line
    right_of_way_width: Measured | None
    missing: tuple[Missing, ...]

    def outline(self, part: str) -> tuple[PlanOutline, ...]:
        """Outlines of one part: one for each cell."""
        return tuple(each for each in self.outlines if each.part == part)
