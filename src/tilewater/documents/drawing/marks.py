# SPDX-License-Identifier: Apache-2.0
"""The signs of the drawings: shapes of fixed size on paper, around the point that they mark."""

from dataclasses import dataclass
from math import cos, pi, sin

from tilewater.documents.drawing.frame import Point
from tilewater.documents.drawing.model import MarkKind


@dataclass(frozen=True)
class Shape:
    """A line on paper; `filled` with the ink of its layer, `blank` with paper. [mm]"""

    points: tuple[Point, ...]
    closed: bool = False
    filled: bool = False
    blank: bool = False


def _ring(radius: float, *, corners: int = 24, filled: bool = False, blank: bool = False) -> Shape:
    turns = (2 * pi * corner / corners for corner in range(corners))
    points = tuple((radius * cos(turn), radius * sin(turn)) for turn in turns)
    return Shape(points, closed=True, filled=filled, blank=blank)


def _quarter(radius: float, from_deg: float) -> Shape:
    turns = (pi * (from_deg + 15 * step) / 180 for step in range(7))
    curve = tuple((radius * cos(turn), radius * sin(turn)) for turn in turns)
    return Shape(((0.0, 0.0), *curve), closed=True, filled=True)


MARKS: dict[MarkKind, tuple[Shape, ...]] = {
    "dot": (_ring(0.45, filled=True),),
    "level": (
        Shape(((0.0, 0.0), (-1.1, 1.7), (1.1, 1.7)), closed=True, blank=True),
        Shape(((0.0, 0.0), (-1.1, 1.7), (0.0, 1.7)), closed=True, filled=True),
    ),
    "water": (
        Shape(((0.0, 0.1), (-1.1, 1.8), (1.1, 1.8)), closed=True, blank=True),
        Shape(((-0.9, -0.7), (0.9, -0.7))),
        Shape(((-0.4, -1.2), (0.4, -1.2))),
    ),
    "tick": (Shape(((0.0, -1.0), (0.0, 1.0))),),
    "point": (Shape(((-0.9, 0.0), (0.9, 0.0))), Shape(((0.0, -0.9), (0.0, 0.9)))),
    "benchmark": (
        _ring(1.4, blank=True),
        Shape(((-1.4, 0.0), (1.4, 0.0))),
        Shape(((0.0, -1.4), (0.0, 1.4))),
        _ring(0.4, filled=True),
    ),
    "boring": (_ring(1.3, blank=True), _quarter(1.3, 0.0), _quarter(1.3, 180.0)),
    "arrow": (
        Shape(((0.0, 0.0), (-2.2, 0.6), (-1.7, 0.0), (-2.2, -0.6)), closed=True, filled=True),
    ),
    "north": (
        Shape(((0.0, 7.0), (-2.0, -4.0), (0.0, -2.4)), closed=True, filled=True),
        Shape(((0.0, 7.0), (2.0, -4.0), (0.0, -2.4)), closed=True, blank=True),
    ),
    "ring": (_ring(1.1, blank=True),),
}
"""Shapes of each sign before it is turned. [mm]"""


def shapes_of(kind: MarkKind, at: Point, angle_deg: float) -> tuple[Shape, ...]:
    """Shapes of a sign that stands at a point of the paper, turned counter-clockwise. [mm]"""
    c, s = cos(angle_deg * pi / 180), sin(angle_deg * pi / 180)
    return tuple(
        Shape(
            tuple((at[0] + c * x - s * y, at[1] + s * x + c * y) for x, y in shape.points),
            shape.closed,
            shape.filled,
            shape.blank,
        )
        for shape in MARKS[kind]
    )
