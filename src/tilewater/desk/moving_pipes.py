# SPDX-License-Identifier: Apache-2.0
"""Pipes that follow what they end in when it is moved in plan.

An end that lies in a bed, or at a structure, moves and turns with it; the other end stays. The
length of such a pipe is measured again along its points.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, hypot, radians, sin
from typing import Any

from tilewater.basis.trace import Trace
from tilewater.chain.plan_parts import BASELINE
from tilewater.chain.scene_plan import plan_scene
from tilewater.documents.scales import Figures
from tilewater.ground.baseline import station_offset_of_grid
from tilewater.job.edits import Edit

Place = tuple[float, float]
FOLLOWS_M = {"floor": 1.0, "structure": 0.6}
"""How far beyond the floor of a bed, or beyond a structure, a pipe still ends in it. [m]"""
SAME_M = 0.005
"""Below this nothing is written anew. [m]"""


def pipes_after(
    trace: Trace, name: str, before: Place, after: Place, turn_deg: float, figures: Figures
) -> dict[str, Edit]:
    """Edits of the pipes that end in what is moved.

    Parameters
    ----------
    trace : Trace
        Of the design where it lies now.
    name : str
        Its outline in plan: "bed", "inlet", or that of a cell.
    before, after : tuple of (station, offset)
        Its corner. [m]
    turn_deg : float
        By how much it is turned about that corner, clockwise seen from above. [deg]
    figures : Figures
        Units in which it is typed.

    Returns
    -------
    dict of str to Edit
        Points, and lengths where they change.
    """
    outline = _outline(trace, name)
    if outline is None:
        return {}
    corners, beyond = outline
    edits: dict[str, Edit] = {}
    for pipe in trace.names("inputs.pipe"):
        here = f"inputs.pipe.{pipe}"
        if not trace.known(f"{here}.points"):
            continue
        points = [(float(s), float(o)) for s, o in trace.value(f"{here}.points")]
        moved = [
            _moved(p, before, after, turn_deg) if _lies_in(p, corners, beyond) else p
            for p in points
        ]
        if all(_apart(a, b) < SAME_M for a, b in zip(points, moved, strict=True)):
            continue
        pairs: Any = [[_station(s, figures), figures.length(o)] for s, o in moved]
        edits[f"pipe.{pipe}.points"] = pairs
        if trace.known(f"{here}.length_m") and abs(_long(moved) - _long(points)) > SAME_M:
            edits[f"pipe.{pipe}.length"] = figures.length(_long(moved))
    return edits


def _outline(trace: Trace, name: str) -> tuple[list[Place], float] | None:
    """Corners of the floor, or of the structure, and how far beyond them a pipe ends in it."""
    for outline in plan_scene(trace).outlines:
        if outline.name == name and outline.part in FOLLOWS_M:
            return [_back(trace, at) for at in outline.corners], FOLLOWS_M[outline.part]
    return None


def _back(trace: Trace, at: Place) -> Place:
    """Station and offset of a place in the scene: east and north, or station and -offset."""
    if not trace.known(BASELINE):
        return at[0], -at[1]
    return station_offset_of_grid(trace.value(BASELINE), at[1], at[0])


def _lies_in(point: Place, corners: Sequence[Place], beyond: float) -> bool:
    """Whether a point lies in a rectangle that is made wider all around."""
    first = corners[0]
    for end in (corners[1], corners[3]):
        side = (end[0] - first[0], end[1] - first[1])
        long = hypot(*side)
        at = ((point[0] - first[0]) * side[0] + (point[1] - first[1]) * side[1]) / long
        if not -beyond <= at <= long + beyond:
            return False
    return True


def _moved(point: Place, before: Place, after: Place, turn_deg: float) -> Place:
    x, y, angle = point[0] - before[0], point[1] - before[1], radians(turn_deg)
    return (
        after[0] + x * cos(angle) - y * sin(angle),
        after[1] + x * sin(angle) + y * cos(angle),
    )


def _apart(a: Place, b: Place) -> float:
    return hypot(b[0] - a[0], b[1] - a[1])


def _long(points: Sequence[Place]) -> float:
    return sum(_apart(a, b) for a, b in pairwise(points))


def _station(metres: float, figures: Figures) -> str:
    """A station to the hundredth, as a pipe is typed; on paper it has a tenth."""
    if figures.units == "si":
        return f"{metres:.3f} m"
    feet = round(metres / figures.metre_per_unit, 2)
    hundreds = int(feet // 100.0)
    return f"{feet:.2f} ft" if feet < 0.0 else f"{hundreds}+{feet - 100.0 * hundreds:05.2f}"
