# SPDX-License-Identifier: Apache-2.0
"""Level above a pipe, by integrating the water surface as a differential equation.

Written from the equations alone. Shares nothing with the program: not the step, not the section,
not the search for critical depth.

    dy/ds = (Sf - S0) / (1 - Fr^2), s upstream from the lower end

The slope is endless at critical depth, so what is integrated is w = (y - yc)^2, whose slope is not.
"""

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

G = 9.80665
STILL = 1e-13
"""Flow below which water is taken as standing. [m3/s]"""
HAIR = 1e-8
"""How far from critical depth the integration starts, in diameters. [-]"""
INTEGRATION = 1e-9


def sector_less_triangle(angle: float) -> float:
    """phi - sin(phi) cos(phi), by its series where the difference would lose its digits."""
    if angle < 0.1:
        square = (2.0 * angle) ** 2
        return angle * square / 6.0 * (1.0 - square / 20.0 * (1.0 - square / 42.0))
    return angle - math.sin(angle) * math.cos(angle)


@dataclass(frozen=True)
class Pipe:
    """A circular pipe between two pools; `invert_up` is at the end that water enters."""

    invert_up: float
    invert_down: float
    diameter: float
    length: float
    n: float
    entrance: float

    @cached_property
    def slope(self) -> float:
        return (self.invert_up - self.invert_down) / self.length

    @cached_property
    def area_full(self) -> float:
        return math.pi * self.diameter**2 / 4.0

    @cached_property
    def conveyance_full(self) -> float:
        return self.area_full * (self.diameter / 4.0) ** (2.0 / 3.0) / self.n

    def angle(self, depth: float) -> float:
        """Half the angle that the wet arc subtends at the centre."""
        share = min(max(depth / self.diameter, 0.0), 1.0)
        return 2.0 * math.asin(math.sqrt(share))

    def area(self, depth: float) -> float:
        return self.diameter**2 / 4.0 * sector_less_triangle(self.angle(depth))

    def surface(self, depth: float) -> float:
        """Width of the free surface, none in the full pipe."""
        return 0.0 if depth >= self.diameter else self.diameter * math.sin(self.angle(depth))

    def friction(self, flow: float, depth: float) -> float:
        if depth >= self.diameter:
            return (flow / self.conveyance_full) ** 2
        area, perimeter = self.area(depth), self.diameter * self.angle(depth)
        conveyance = area * (area / perimeter) ** (2.0 / 3.0) / self.n
        return float((flow / min(conveyance, self.conveyance_full)) ** 2)

    def velocity_head(self, flow: float, depth: float) -> float:
        return (flow / self.area(depth)) ** 2 / (2.0 * G)

    def froude_squared(self, flow: float, depth: float) -> float:
        return flow**2 * self.surface(depth) / (G * self.area(depth) ** 3)

    def least_depth(self, flow: float, factor: float) -> float:
        """Depth where y + factor V^2 / 2g is least: critical depth for a factor of one."""

        def excess(angle: float) -> float:
            area = self.diameter**2 / 4.0 * sector_less_triangle(angle)
            return factor * flow**2 * self.diameter * math.sin(angle) - G * area**3

        angle = brentq(excess, 1e-5, math.pi, xtol=1e-15, rtol=1e-14)
        return self.diameter * math.sin(angle / 2.0) ** 2

    def start_depth(self, flow: float, lower: float) -> float:
        """Depth at the lower end, counted from the invert there, more than full under pressure."""
        return max(lower - self.invert_down, self.least_depth(flow, 1.0))

    def upper_depth(self, flow: float, lower: float) -> float:
        """Depth at the upper end, less than critical counted as critical."""
        depth, rest = self.start_depth(flow, lower), self.length
        pressed = self.friction(flow, self.diameter) - self.slope
        if depth >= self.diameter:
            rise = pressed * rest
            if depth + rise >= self.diameter:
                return depth + rise
            rest -= (self.diameter - depth) / pressed
            depth = self.diameter
        depth, rest = self.surface_upstream(flow, depth, rest)
        return depth + max(pressed, 0.0) * rest if depth >= self.diameter else depth

    def surface_upstream(self, flow: float, start: float, rest: float) -> tuple[float, float]:
        """Depth where the part-full reach ends, and the length that is left above it."""
        critical = self.least_depth(flow, 1.0)
        hair = HAIR * self.diameter
        if self.diameter - critical < 4.0 * hair:
            return self.diameter, rest
        start = max(start, critical + hair)

        def growth(_: float, state: np.ndarray) -> list[float]:
            above = math.sqrt(max(state[0], hair**2))
            depth = min(critical + above, self.diameter)
            drop = self.friction(flow, depth) - self.slope
            return [2.0 * above * drop / (1.0 - self.froude_squared(flow, depth))]

        def at_crown(_: float, state: np.ndarray) -> float:
            return float(state[0]) - (self.diameter - critical) ** 2

        def at_critical(_: float, state: np.ndarray) -> float:
            return float(state[0]) - 0.25 * hair**2

        at_crown.terminal = at_critical.terminal = True  # type: ignore[attr-defined]
        at_crown.direction, at_critical.direction = 1.0, -1.0  # type: ignore[attr-defined]
        first = (start - critical) ** 2
        if start <= critical + hair and growth(0.0, np.array([first]))[0] <= 0.0:
            return critical, 0.0
        path = solve_ivp(
            growth,
            (0.0, rest),
            [first],
            method="LSODA",
            rtol=INTEGRATION,
            atol=1e-4 * INTEGRATION * self.diameter**2,
            events=(at_crown, at_critical),
        )
        if len(path.t_events[0]):
            return self.diameter, rest - float(path.t_events[0][0])
        if len(path.t_events[1]):
            return critical, 0.0
        return critical + math.sqrt(max(float(path.y[0, -1]), 0.0)), 0.0

    def upper(self, flow: float, lower: float) -> float:
        """Level of the pool above the pipe."""
        if flow < STILL:
            return self.still(lower)
        factor = 1.0 + self.entrance
        depth = max(self.upper_depth(flow, lower), self.least_depth(flow, factor))
        return self.invert_up + depth + factor * self.velocity_head(flow, depth)

    def still(self, lower: float) -> float:
        """Level above at which water begins to flow."""
        return max(lower, self.invert_up, self.invert_down)

    def turned(self) -> "Pipe":
        """The same pipe for water that comes back."""
        return replace(self, invert_up=self.invert_down, invert_down=self.invert_up)
