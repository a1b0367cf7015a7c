# SPDX-License-Identifier: Apache-2.0
"""Stop boards, gates, headers and media, each as the level above it for a flow and a level below.

Written from the equations alone, with quadrature and bracketed roots of scipy.
"""

import math
from dataclasses import dataclass, replace

from scipy.integrate import quad
from scipy.optimize import brentq

G = 9.80665


@dataclass(frozen=True)
class Boards:
    """Stop boards, with what the flow over one metre of head is and how it grows.

    Above the top of a notch the water that it no longer confines is taken off, and what goes over
    the board beside it is put on: Q - c ((h - t + k)^m - k^m) + wings (h - t)^1.5.
    """

    crest: float
    sill: float
    coefficient: float
    growth: float = 0.0
    growth_ends: float = 0.0
    head_added: float = 0.0
    exponent: float = 1.5
    top: float = math.inf
    wings: float = 0.0
    leak: float = 0.0

    def into_air(self, head: float) -> float:
        """Flow through a notch without a top, nothing below it."""
        if head <= 0.0:
            return 0.0
        coefficient = self.coefficient + self.growth * min(head, self.growth_ends)
        return float(coefficient * (head + min(self.head_added, head)) ** self.exponent)

    def through_joints(self, level: float, lower: float) -> float:
        """Flow through slits from sill to crest, each height driven by its own head."""
        if self.leak == 0.0:
            return 0.0
        wet, drowned = min(level, self.crest), min(max(lower, self.sill), self.crest)
        if wet <= self.sill:
            return 0.0

        def jet(height: float) -> float:
            return math.sqrt(2.0 * G * max(level - max(height, lower), 0.0))

        below, _ = quad(jet, self.sill, min(drowned, wet), epsabs=1e-13, epsrel=1e-12)
        above, _ = quad(jet, min(drowned, wet), wet, epsabs=1e-13, epsrel=1e-12)
        return self.leak * float(below + above)

    def flow(self, level: float, lower: float) -> float:
        """Flow from the higher pool to the lower."""
        head, tail = level - self.crest, lower - self.crest
        over = self.into_air(head)
        if head > self.top:
            above, k = head - self.top, self.head_added
            over -= self.coefficient * ((above + k) ** self.exponent - k**self.exponent)
            over += self.wings * above**1.5
        if tail > 0.0:
            over *= max(1.0 - (tail / head) ** self.exponent, 0.0) ** 0.385 if head > tail else 0.0
        return over + self.through_joints(level, lower)

    def upper(self, flow: float, lower: float) -> float:
        low = self.still(lower)
        if flow <= 0.0:
            return low
        high = low + 0.1
        while self.flow(high, lower) < flow:
            high = low + 2.0 * (high - low)
        return float(
            brentq(lambda level: self.flow(level, lower) - flow, low, high, xtol=1e-14, rtol=1e-14)
        )

    def still(self, lower: float) -> float:
        return max(lower, self.sill if self.leak > 0.0 else self.crest)

    def turned(self) -> "Boards":
        return self


@dataclass(frozen=True)
class Gate:
    """A sharp opening that always runs full."""

    area: float
    discharge_coefficient: float

    def upper(self, flow: float, lower: float) -> float:
        if flow <= 0.0:
            return self.still(lower)
        if self.area == 0.0:
            return math.inf
        return lower + (flow / (self.discharge_coefficient * self.area)) ** 2 / (2.0 * G)

    def still(self, lower: float) -> float:
        return lower if self.area > 0.0 else math.inf

    def turned(self) -> "Gate":
        return self


@dataclass(frozen=True)
class Header:
    """A loss that grows with the square of the flow."""

    loss: float

    def upper(self, flow: float, lower: float) -> float:
        return lower + self.loss * flow**2

    def still(self, lower: float) -> float:
        return lower

    def turned(self) -> "Header":
        return self


@dataclass(frozen=True)
class Media:
    """A trapezoid of media on a level floor; water above the media adds head and no area."""

    floor: float
    width: float
    side_slope: float
    length: float
    depth: float
    conductivity: float
    inertia: float

    def area(self, depth: float) -> float:
        wet = min(depth, self.depth)
        return wet * (self.width + self.side_slope * wet)

    def length_per_depth(self, depth: float, flow: float) -> float:
        """dx/dh, which unlike dh/dx is finite where the water runs out at the floor."""
        area = self.area(depth)
        return area**2 / (flow * (area / self.conductivity + self.inertia * flow))

    def reach(self, low: float, high: float, flow: float) -> float:
        """Length over which the surface falls from one depth to another."""
        turn = min(max(low, self.depth), high)
        inside, _ = quad(
            self.length_per_depth, low, turn, args=(flow,), epsabs=1e-13, epsrel=1e-12, limit=200
        )
        return float(inside) + (high - turn) * self.length_per_depth(self.depth, flow)

    def upper(self, flow: float, lower: float) -> float:
        if flow <= 0.0:
            return self.still(lower)
        low = max(lower - self.floor, 0.0)
        rise = 0.1
        while self.reach(low, low + rise, flow) < self.length:
            rise *= 2.0
        rise = brentq(
            lambda rise: self.reach(low, low + rise, flow) - self.length,
            0.0,
            rise,
            xtol=1e-14,
            rtol=1e-14,
        )
        return self.floor + low + float(rise)

    def still(self, lower: float) -> float:
        return max(lower, self.floor)

    def turned(self) -> "Media":
        return replace(self)

    def wet_volume(self, flow: float, lower: float) -> float:
        """Media under water, with the surface that a flow above zero makes."""
        low = max(lower - self.floor, 0.0)
        high = self.upper(flow, lower) - self.floor
        turn = min(max(low, self.depth), high)
        inside, _ = quad(
            lambda depth: self.area(depth) * self.length_per_depth(depth, flow),
            low,
            turn,
            epsabs=1e-13,
            epsrel=1e-12,
            limit=200,
        )
        return float(inside) + self.area(self.depth) * self.reach(turn, high, flow)
