# SPDX-License-Identifier: Apache-2.0
"""The dimension style: extension lines, a line with short oblique ticks, words above the line.

`laid_out` says where each stroke and the words of a dimension fall on paper, for every output.
`chain` makes the dimensions of a row of points and lifts words that have no room.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import atan2, cos, degrees, hypot, radians, sin

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import SMALL, Along, Dimension, Text

OFF, BEYOND, TICK, GAP = 1.0, 1.2, 1.0, 0.6
"""Extension line: off the point and beyond the line; half a tick; words above the line. [mm]"""
SIDE = 0.8
"""Room that words keep from the ends of their line. [mm]"""
STRAIGHT = 1e-9


@dataclass(frozen=True)
class LaidOut:
    """A dimension on paper: its ends on the dimension line, strokes, ticks and words. [mm]"""

    ends: tuple[Point, Point]
    strokes: tuple[tuple[Point, Point], ...]
    ticks: tuple[tuple[Point, Point], ...]
    words_at: Point
    angle_deg: float


def laid_out(dimension: Dimension, frame: Frame) -> LaidOut:
    """Where a dimension falls on paper.

    Raises
    ------
    OutOfDomain
        If its points are one, or it is measured askew where heights are exaggerated.
    """
    start, end, through = (
        frame.paper(point) for point in (dimension.start, dimension.end, dimension.through)
    )
    ux, uy = _direction(dimension, start, end, frame)
    nx, ny = -uy, ux
    off = [(through[0] - p[0]) * nx + (through[1] - p[1]) * ny for p in (start, end)]
    ends = tuple((p[0] + nx * d, p[1] + ny * d) for p, d in zip((start, end), off, strict=True))
    strokes = [(ends[0], ends[1])]
    for point, tip, d in zip((start, end), ends, off, strict=True):
        if abs(d) > OFF:
            way = 1.0 if d > 0 else -1.0
            strokes.append(
                (
                    (point[0] + nx * way * OFF, point[1] + ny * way * OFF),
                    (tip[0] + nx * way * BEYOND, tip[1] + ny * way * BEYOND),
                )
            )
    angle = degrees(atan2(uy, ux))
    lean = radians(angle + 45.0)
    dx, dy = TICK * cos(lean), TICK * sin(lean)
    ticks = tuple(((x - dx, y - dy), (x + dx, y + dy)) for x, y in ends)
    right, up = dimension.moved_mm
    up += GAP
    middle = (ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2
    words_at = middle[0] + right * ux + up * nx, middle[1] + right * uy + up * ny
    return LaidOut((ends[0], ends[1]), tuple(strokes), ticks, words_at, angle)


def _direction(dimension: Dimension, start: Point, end: Point, frame: Frame) -> Point:
    """Direction of the dimension line on paper; its words read along it, never upside down."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = {"x": abs(dx), "y": abs(dy), "line": hypot(dx, dy)}[dimension.along]
    if length < STRAIGHT:
        raise OutOfDomain(
            f"The dimension '{dimension.words}' has no length along {dimension.along}. "
            "It needs two points apart. Leave it out."
        )
    if dimension.along == "x":
        return 1.0, 0.0
    if dimension.along == "y":
        return 0.0, 1.0
    askew = min(abs(dx), abs(dy)) > 1e-6 * length
    if askew and abs(frame.exaggeration - 1.0) > 1e-9:
        raise OutOfDomain(
            f"The dimension '{dimension.words}' runs askew on a drawing with heights drawn "
            f"{frame.exaggeration:.3g} times. Only lengths across or up can be measured there. "
            "Measure along x or y."
        )
    backwards = dx < -1e-9 * length or (abs(dx) <= 1e-9 * length and dy < 0)
    sign = -1.0 if backwards else 1.0
    return sign * dx / length, sign * dy / length


def words_of(dimension: Dimension, frame: Frame) -> Text:
    """The words of a dimension as a text of the drawing."""
    placed = laid_out(dimension, frame)
    return Text(
        frame.ground(placed.words_at),
        dimension.words,
        layer=dimension.layer,
        size_mm=dimension.size_mm,
        across="middle",
        angle_deg=placed.angle_deg,
        key=dimension.key,
        clear=True,
    )


def chain(
    frame: Frame,
    points: Sequence[Point],
    words: Sequence[str],
    *,
    through: Point,
    along: Along = "x",
    keys: Sequence[str] = (),
    size_mm: float = SMALL,
) -> tuple[Dimension, ...]:
    """Dimensions of a row of points on one line.

    Words wider than their piece are lifted, in turn to one and two rows above the line, so that
    neighbours do not run into each other.
    """
    if len(words) != len(points) - 1:
        raise OutOfDomain(
            f"{len(words)} words stand for {len(points)} points. A chain has one fewer than "
            "points. Give one for each piece."
        )
    made: list[Dimension] = []
    lifted = 0
    for index, text in enumerate(words):
        key = keys[index] if keys else ""
        one = Dimension(
            points[index], points[index + 1], through, text, along, size_mm=size_mm, key=key
        )
        (xa, ya), (xb, yb) = laid_out(one, frame).ends
        if text_width(text, size_mm) + 2 * SIDE > hypot(xb - xa, yb - ya):
            lifted = lifted % 2 + 1
            one = replace(one, moved_mm=(0.0, lifted * (size_mm + GAP)))
        else:
            lifted = 0
        made.append(one)
    return tuple(made)
