# SPDX-License-Identifier: Apache-2.0
"""What shares room and what crosses on paper, asked of many shapes at once.

Shapes are rows of points in millimetres: a line is two, a box is the four corners of a rectangle,
turned or not. What only touches shares no room. A shape that is not a number meets nothing.
"""

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from tilewater.documents.drawing.frame import Point

TOUCH = 1e-6
"""Overlap that is only the rounding of arithmetic. [mm]"""
Shapes = NDArray[np.float64]
"""Points of shapes: shape, point, across and up. [mm]"""


def as_lines(lines: Iterable[Sequence[Point]]) -> Shapes:
    """Lines by their ends."""
    return np.array(list(lines), dtype=np.float64).reshape(-1, 2, 2)


def as_boxes(boxes: Iterable[Sequence[Point]]) -> Shapes:
    """Boxes by their corners."""
    return np.array(list(boxes), dtype=np.float64).reshape(-1, 4, 2)


def share_room(shapes: Shapes, others: Shapes) -> NDArray[np.bool_]:
    """Whether each shape, a row, shares room with each other, a column; one of them is boxes."""
    meet = _meet(shapes, others, -TOUCH)
    first, second = np.nonzero(meet)
    meet[first, second] = pairs_share_room(shapes[first], others[second])
    return meet


def pairs_share_room(shapes: Shapes, others: Shapes) -> NDArray[np.bool_]:
    """Whether each shape shares room with the other of the same row.

    Notes
    -----
    Convex shapes are apart where a line parts them that runs along a side of either.
    """
    ways = np.concatenate([_ways(shapes), _ways(others)], axis=1)
    one, other = (np.einsum("npx,nwx->nwp", each, ways) for each in (shapes, others))
    together = (one.max(axis=2) > other.min(axis=2) + TOUCH) & (
        other.max(axis=2) > one.min(axis=2) + TOUCH
    )
    return np.asarray(together.all(axis=1))


def cross(lines: Shapes, others: Shapes) -> NDArray[np.bool_]:
    """Whether each line, a row, crosses or touches each other, a column."""
    meet = _meet(lines, others, 0.0)
    first, second = np.nonzero(meet)
    (a, b), (c, d) = lines[first].swapaxes(0, 1), others[second].swapaxes(0, 1)
    meet[first, second] = (_turn(a, b, c) * _turn(a, b, d) <= 0.0) & (
        _turn(c, d, a) * _turn(c, d, b) <= 0.0
    )
    return meet


def _meet(shapes: Shapes, others: Shapes, room: float) -> NDArray[np.bool_]:
    """Whether upright boxes around shapes come this near: the quick answer to most questions."""
    meet = np.ones((len(shapes), len(others)), dtype=np.bool_)
    for way in range(2):  # one at a time: rows of plain numbers are compared quickly
        one, other = shapes[:, :, way], others[:, :, way]
        meet &= one.min(axis=1)[:, None] <= other.max(axis=1) + room
        meet &= one.max(axis=1)[:, None] + room >= other.min(axis=1)
    return meet


def _ways(shapes: Shapes) -> Shapes:
    """Along the first side of each shape, and square to it."""
    side = shapes[:, 1] - shapes[:, 0]
    long = np.hypot(side[:, 0], side[:, 1])[:, None]
    along = np.where(long > 0.0, side, (1.0, 0.0)) / np.where(long > 0.0, long, 1.0)
    return np.stack([along, along[:, ::-1] * (-1.0, 1.0)], axis=1)


def _turn(
    a: NDArray[np.float64], b: NDArray[np.float64], c: NDArray[np.float64]
) -> NDArray[np.float64]:
    (ux, uy), (vx, vy) = (b - a).T, (c - a).T
    return np.asarray(ux * vy - uy * vx)
