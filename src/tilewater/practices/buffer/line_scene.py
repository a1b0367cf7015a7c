# SPDX-License-Identifier: Apache-2.0
"""The plain geometric record that a section along the line of a buffer is drawn from.

Distances run along the line from the middle of its structure: the first branch to the right, the
second to the left, further ones on either side in turn. Every elevation carries the key by which
it is explained; what is not known is listed. Nothing is drawn here.
"""

from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.hydraulics.distribution_line import branch_flow
from tilewater.practices.buffer.givens import LINE
from tilewater.practices.buffer.line_steps import seasons
from tilewater.practices.buffer.scene import Mark


@dataclass(frozen=True)
class Reach:
    """A piece of the line between two distances: solid, perforated, or solid past roots. [m]"""

    kind: str
    start: float
    end: float


@dataclass(frozen=True)
class LineWater:
    """Water along the line in a season in which it takes water.

    Attributes
    ----------
    season : str
    structure, soil : Mark
        At the boards, and in the soil at the line. [m]
    far : tuple of (distance, elevation)
        In the pipe where the water of each branch ends. [m]
    is_criterion : bool
        Whether the share is judged by this season.
    """

    season: str
    structure: Mark
    soil: Mark
    far: tuple[tuple[float, float], ...]
    is_criterion: bool


@dataclass(frozen=True)
class LineSection:
    """A section along the line of a buffer.

    Attributes
    ----------
    reaches : tuple of Reach
        Pieces of all drawn branches.
    branches : int
        How many branches there are; more than two share a side.
    rim, floor, ground_at_structure : Mark or None
        Of the structure. [m]
    box_length : float or None
        [m]
    head_boards : Mark or None
        Crest of the head boards; None where none stand.
    invert, ground, barrier, cover : Mark or None
        Invert of the line, lowest ground over it, restrictive layer, soil over its crown. [m]
    diameter, fall : float or None
        Inside diameter, and most that the line departs from level. [m]
    waters : tuple of LineWater
    dry : tuple of str
        Seasons in which nothing enters the line.
    missing : tuple of str
        Keys that are not known.
    """

    reaches: tuple[Reach, ...]
    branches: int
    rim: Mark | None
    floor: Mark | None
    ground_at_structure: Mark | None
    box_length: float | None
    head_boards: Mark | None
    invert: Mark | None
    ground: Mark | None
    barrier: Mark | None
    cover: Mark | None
    diameter: float | None
    fall: float | None
    waters: tuple[LineWater, ...]
    dry: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def ends(self) -> tuple[float, float]:
        """Ends of the line to the left and to the right. [m]"""
        xs = [0.0, *(x for reach in self.reaches for x in (reach.start, reach.end))]
        return min(xs), max(xs)


def line_section(trace: Trace) -> LineSection:
    """The section along the line of a designed buffer.

    Parameters
    ----------
    trace : Trace
        Trace of a design. [-]

    Returns
    -------
    LineSection
    """
    missing: list[str] = []

    def number(key: str) -> float | None:
        if trace.known(key):
            return float(trace.value(key))
        missing.append(key)
        return None

    def mark(key: str) -> Mark | None:
        value = number(key)
        return None if value is None else Mark(value, key)

    boards, box = "boards.head-design", "inputs.structure.inlet"
    has_head = trace.known(f"{boards}.stack_m") and bool(trace.value(f"{boards}.stack_m"))
    reaches = _reaches(trace)
    if not reaches:
        missing.append(f"{LINE}.branches_m")
    found = [_water(trace, season, reaches) for season in seasons(trace)]
    return LineSection(
        reaches=reaches,
        branches=len(trace.value("buffer.branches_m")) if reaches else 0,
        rim=mark(f"{box}.rim_m"),
        floor=mark(f"{box}.floor_m"),
        ground_at_structure=mark(f"{box}.ground_m"),
        box_length=number(f"{box}.box_length_m"),
        head_boards=mark(f"{boards}.crest_m") if has_head else None,
        invert=mark(f"{LINE}.line_invert_m"),
        ground=mark(f"{LINE}.ground_at_line_m"),
        barrier=mark(f"{LINE}.barrier_m"),
        cover=mark("buffer.cover_m"),
        diameter=number(f"{LINE}.pipe_diameter_m"),
        fall=number(f"{LINE}.line_fall_m"),
        waters=tuple(water for water in found if water is not None),
        dry=tuple(season for season in seasons(trace) if _is_dry(trace, season)),
        missing=tuple(missing),
    )


def _reaches(trace: Trace) -> tuple[Reach, ...]:
    """Pieces of the first two branches; what is solid past roots stands at the far ends."""
    laid, solid = f"{LINE}.branches_m", f"{LINE}.solid_at_structure_m"
    if not trace.known(laid, solid, "buffer.branches_m"):
        return ()
    start = float(trace.value(solid))
    found = []
    for side, long, feeds in zip(
        (1.0, -1.0), trace.value(laid), trace.value("buffer.branches_m"), strict=False
    ):
        places = (0.0, start, start + float(feeds), start + float(long))
        kinds = ("solid", "perforated", "solid past roots")
        for kind, low, high in zip(kinds, places, places[1:], strict=False):
            if high - low > HAIR:
                found.append(Reach(kind, side * low, side * high))
    return tuple(found)


HAIR = 1e-6
"""A piece no longer than this is none. [m]"""


def _is_dry(trace: Trace, season: str) -> bool:
    flow = f"buffer.season.{season}.flow_m3_s"
    return trace.known(flow) and not float(trace.value(flow)) > 0.0


def _water(trace: Trace, season: str, reaches: tuple[Reach, ...]) -> LineWater | None:
    here = f"buffer.season.{season}"
    setting = season if season in trace.names("inputs.season") else "design"
    crest, soil = f"boards.inlet-{setting}.crest_m", f"{here}.head_soil_m"
    heads = f"{here}.head_line_m", f"{here}.head_stream_m"
    records = ("buffer.pipe", "buffer.soil", f"{LINE}.barrier_m")
    if not trace.known(crest, soil, *heads, *records) or _is_dry(trace, season):
        return None
    barrier = float(trace.value(f"{LINE}.barrier_m"))
    pipe, ground = trace.value("buffer.pipe"), trace.value("buffer.soil")
    far = []
    for reach in reaches:
        if reach.kind != "perforated":
            continue
        long = abs(reach.end - reach.start)
        head_line, head_stream = (float(trace.value(key)) for key in heads)
        flow = branch_flow(head_line, head_stream, long, pipe=pipe, soil=ground)
        way = 1.0 if reach.end > reach.start else -1.0
        far.append((reach.start + way * flow.wet_length, barrier + flow.far_head))
    return LineWater(
        season,
        Mark(float(trace.value(crest)), crest),
        Mark(barrier + float(trace.value(soil)), soil),
        tuple(far),
        season == str(trace.value("buffer.criterion_season")),
    )
