# SPDX-License-Identifier: Apache-2.0
"""Move and turn what a job places in plan: from a place on the map to edits of its file.

Only what the job file places by station and offset can be moved; what was shot stays where it was
shot. Places move in the steps of a tape, turns by whole degrees.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import atan2, cos, degrees, pi, radians, sin
from typing import Any

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.chain.design import Design
from tilewater.chain.plan_parts import BASELINE
from tilewater.desk.moving_pipes import pipes_after
from tilewater.documents.scales import Figures, foot_of
from tilewater.documents.words import Words
from tilewater.ground.baseline import grid_of_station_offset, station_offset_of_grid
from tilewater.job.edits import Edit

Place = tuple[float, float]
STEP = {"us": 0.1, "si": 0.05}
"""Step of a place, in the unit of the reader. [ft, or m]"""
LINES = ("distribution line", "property line", "field edge", "fence", "buried utility", "tile line")
"""Lines that may be moved; of the ditch nothing is."""
PLACES = {
    "bed": "the bed",
    "footprint": "the ground that may be used",
    "inlet": "the inlet structure",
    "outlet": "the outlet structure",
}


@dataclass(frozen=True)
class Movable:
    """Something that has a place in the job file.

    Attributes
    ----------
    name, words : str
        The name is that of its features on the map too.
    path : str
        Of its table in the job file.
    points : tuple of (station, offset)
        Its corner, or the points of a line. [m]
    turn_deg : float or None
        How it is turned; None where it cannot be. A line is turned from where it lies.
    """

    name: str
    words: str
    path: str
    points: tuple[Place, ...]
    turn_deg: float | None

    @property
    def is_line(self) -> bool:
        """Whether it is a line of several points."""
        return self.path.startswith("line.")


def movables(design: Design) -> tuple[Movable, ...]:
    """What can be moved, the practice first."""
    trace = design.trace
    found = [_cell(trace, cell) for cell in trace.names("inputs.cell")]
    found += [_placed(trace, name, words) for name, words in PLACES.items()]
    found += [_line(trace, name) for name in trace.names("inputs.line")]
    known = [each for each in found if each is not None]
    return tuple(sorted(known, key=lambda each: _rank(each, design.practice.name)))


def _rank(each: Movable, practice: str) -> int:
    if "buffer" in practice:
        return 0 if each.name.startswith("line-") and "line of" in each.words else 1
    return 0 if each.name == "bed" or each.name.startswith("cell-") else 1


def _placed(trace: Trace, name: str, words: str) -> Movable | None:
    here = f"inputs.place.{name}"
    if name == "bed" and trace.names("inputs.cell"):
        return None
    if not trace.known(f"{here}.station_m", f"{here}.offset_m"):
        return None
    turn = f"{here}.turn_deg"
    turned = (float(trace.value(turn)) if trace.known(turn) else 0.0) if name == "bed" else None
    at = (float(trace.value(f"{here}.station_m")), float(trace.value(f"{here}.offset_m")))
    return Movable(name, words, f"place.{name}", (at,), turned)


def _cell(trace: Trace, cell: str) -> Movable | None:
    here = f"inputs.cell.{cell}"
    if not trace.known(f"{here}.station_m", f"{here}.offset_m"):
        return None
    at = (float(trace.value(f"{here}.station_m")), float(trace.value(f"{here}.offset_m")))
    return Movable(f"cell-{cell}", f"cell {cell}", f"cell.{cell}", (at,), None)


def _line(trace: Trace, name: str) -> Movable | None:
    here = f"inputs.line.{name}"
    kind = str(trace.value(f"{here}.kind"))
    if kind not in LINES or not trace.known(f"{here}.points"):
        return None
    points = tuple((float(s), float(o)) for s, o in trace.value(f"{here}.points"))
    words = "the line of the buffer" if kind == "distribution line" else f"{kind} {name}"
    return Movable(f"line-{name}", words, f"line.{name}", points, 0.0)


def movable_of(design: Design, name: str) -> Movable:
    """The movable of a name.

    Raises
    ------
    OutOfDomain
        If the job places nothing of that name.
    """
    found = next((each for each in movables(design) if each.name == name), None)
    if found is None:
        raise OutOfDomain(f"'{name}' has no place in the job file that could be moved.")
    return found


def shifted(design: Design, what: Movable, east: float, north: float, words: Words) -> list[Place]:
    """Points of a movable after it was drawn over the map by so much of the grid.

    Parameters
    ----------
    design : Design
        Where it lies now.
    what : Movable
    east, north : float
        In the unit of the reader.
    words : Words
    """
    unit = _figures(design, words).metre_per_unit
    first = what.points[0]
    station, offset = _moved(design.trace, first, east * unit, north * unit)
    along, away = station - first[0], offset - first[1]
    return [(s + along, o + away) for s, o in what.points]


def _moved(trace: Trace, at: Place, east: float, north: float) -> Place:
    if not trace.known(BASELINE):
        return at[0] + east, at[1] - north
    baseline = trace.value(BASELINE)
    here_north, here_east = grid_of_station_offset(baseline, *at)
    return station_offset_of_grid(baseline, here_north + north, here_east + east)


def turned_towards(design: Design, what: Movable, east: float, north: float, words: Words) -> float:
    """Turn of a movable whose upper near corner, or end, was drawn to a point of the grid. [deg]"""
    unit = _figures(design, words).metre_per_unit
    trace = design.trace
    if trace.known(BASELINE):
        to = station_offset_of_grid(trace.value(BASELINE), north * unit, east * unit)
    else:
        to = (east * unit, -north * unit)
    about = _middle(what) if what.is_line else what.points[0]
    turn = degrees(atan2(to[1] - about[1], to[0] - about[0]))
    if what.is_line:
        last = what.points[-1]
        turn -= degrees(atan2(last[1] - about[1], last[0] - about[0]))
    turn = (turn + 180.0) % 360.0 - 180.0
    return float(round(turn))


def _middle(what: Movable) -> Place:
    (s0, o0), (s1, o1) = what.points[0], what.points[-1]
    return (s0 + s1) / 2, (o0 + o1) / 2


def edits_to(
    design: Design, what: Movable, points: Sequence[Place], turn: float | None, words: Words
) -> dict[str, Edit]:
    """Edits that put a movable at points, in the steps of a tape, turned by whole degrees.

    Parameters
    ----------
    design : Design
    what : Movable
    points : sequence of (station, offset)
        [m]
    turn : float or None
        None leaves it as it is. [deg]
    words : Words
        Units in which it is typed.
    """
    figures = _figures(design, words)
    if what.is_line:
        placed = _turned(points, turn or 0.0)
        pairs: Any = [[_station(s, figures), _offset(o, figures)] for s, o in placed]
        return {f"{what.path}.points": pairs}
    now = place_typed(design, what, words)
    typed = {"station": _station(points[0][0], figures), "offset": _offset(points[0][1], figures)}
    edits: dict[str, Edit] = {
        f"{what.path}.{side}": said for side, said in typed.items() if said != now[side]
    }
    if turn is not None and what.turn_deg is not None and turn != what.turn_deg:
        edits[f"{what.path}.turn"] = f"{turn:g} deg"
    turned = 0.0 if turn is None or what.turn_deg is None else turn - what.turn_deg
    before, after = (
        (_as_typed(at[0], figures), _as_typed(at[1], figures)) for at in (what.points[0], points[0])
    )
    return edits | pipes_after(design.trace, what.name, before, after, turned, figures)


def _as_typed(metres: float, figures: Figures) -> float:
    return _stepped(metres / figures.metre_per_unit, figures) * figures.metre_per_unit


def _turned(points: Sequence[Place], turn: float) -> list[Place]:
    """A line turned about its middle, clockwise seen from above."""
    if not turn:
        return list(points)
    (s0, o0), (s1, o1) = points[0], points[-1]
    s, o, angle = (s0 + s1) / 2, (o0 + o1) / 2, radians(turn) % (2 * pi)
    return [
        (
            s + (x - s) * cos(angle) - (y - o) * sin(angle),
            o + (x - s) * sin(angle) + (y - o) * cos(angle),
        )
        for x, y in points
    ]


def _figures(design: Design, words: Words) -> Figures:
    key = "inputs.site.foot"
    stated = design.trace.value(key) if design.trace.known(key) else ""
    return Figures(words.system, foot_of(stated))


def _station(metres: float, figures: Figures) -> str:
    if figures.units == "si":
        return f"{_stepped(metres, figures):.2f} m"
    feet = _stepped(metres / figures.metre_per_unit, figures)
    if feet < 0.0:
        return f"{feet:.1f} ft"
    hundreds = int(feet // 100.0)
    return f"{hundreds}+{feet - 100.0 * hundreds:04.1f}"


def _offset(metres: float, figures: Figures) -> str:
    if figures.units == "si":
        return f"{_stepped(metres, figures):.2f} m"
    return f"{_stepped(metres / 0.3048, figures):.1f} ft"


def _stepped(value: float, figures: Figures) -> float:
    step = STEP[figures.units]
    return round(round(value / step) * step, 6) + 0.0


def place_typed(design: Design, what: Movable, words: Words) -> Mapping[str, str]:
    """Station, offset and turn of a movable as they would be typed."""
    figures = _figures(design, words)
    station, offset = what.points[0]
    turn = "" if what.turn_deg is None else f"{what.turn_deg:g} deg"
    return {
        "station": _station(station, figures),
        "offset": _offset(offset, figures),
        "turn": turn,
    }
