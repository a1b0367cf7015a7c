# SPDX-License-Identifier: Apache-2.0
"""How metres of the ground fall on pixels of a page: a panel, and the room of several beside it."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

Point = tuple[float, float]

BOX_PX = 34.0
"""Width of a structure at least, so that its boards can be told apart. [px]"""


@dataclass(frozen=True)
class Panel:
    """A stretch of ground on a page.

    Attributes
    ----------
    name : str
    knots : tuple of (distance, pixel)
        Where distances fall; straight between, and to scale but for the structures. [m], [px]
    low, high : float
        Elevations at its foot and at its head. [m]
    top : float
        Of its head on the page. [px]
    up : float
        Pixels to a metre of height.
    exaggeration : float
        How many times heights are drawn. [-]
    """

    name: str
    knots: tuple[Point, ...]
    low: float
    high: float
    top: float
    up: float
    exaggeration: float

    @property
    def left(self) -> float:
        """Its left edge. [px]"""
        return self.knots[0][1]

    @property
    def right(self) -> float:
        """Its right edge. [px]"""
        return self.knots[-1][1]

    @property
    def base(self) -> float:
        """Its foot. [px]"""
        return self.y(self.low)

    def x(self, distance: float) -> float:
        """Where a distance falls. [px]"""
        places = [knot[0] for knot in self.knots]
        at = min(max(bisect_right(places, distance), 1), len(self.knots) - 1)
        (xa, pa), (xb, pb) = self.knots[at - 1], self.knots[at]
        return pa + (distance - xa) * (pb - pa) / (xb - xa)

    def y(self, elevation: float) -> float:
        """Where an elevation falls. [px]"""
        return self.top + (self.high - elevation) * self.up

    def at(self, point: Point) -> Point:
        """Where a point of the ground falls. [px]"""
        return self.x(point[0]), self.y(point[1])


def knots_of(
    start: float, end: float, boxes: Sequence[tuple[float, float]], left: float, right: float
) -> tuple[tuple[Point, ...], float]:
    """Places of a stretch with structures that are drawn wider than they are, and its scale.

    Parameters
    ----------
    start, end : float
        Of the stretch. [m]
    boxes : sequence of (low, high)
        Structures along it, in their order. [m]
    left, right : float
        Its room. [px]

    Returns
    -------
    tuple
        Knots for a panel, and pixels to a metre outside the structures.
    """
    length = end - start - sum(high - low for low, high in boxes)
    across = (right - left - BOX_PX * len(boxes)) / length
    knots: list[Point] = [(start, left)]
    for low, high in boxes:
        x = knots[-1][1] + (low - knots[-1][0]) * across
        knots += [(low, x), (high, x + BOX_PX)]
    knots.append((end, knots[-1][1] + (end - knots[-1][0]) * across))
    return tuple(_rising(knots)), across


def _rising(knots: Sequence[Point]) -> list[Point]:
    """Knots without those that fall on the one before."""
    kept = [knots[0]]
    for knot in knots[1:]:
        if knot[0] > kept[-1][0] + 1e-9:
            kept.append(knot)
    return kept


def plain_times(times: float) -> float:
    """The largest plain number of times that is no larger: whole, below four also halves."""
    if times < 1.0:
        return times
    return floor(times) if times >= 4.0 else floor(2.0 * times) / 2.0
