# SPDX-License-Identifier: Apache-2.0
"""Steady water levels along one pipe, part-full or under pressure: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernels share. Read `grade_lines` for what it means, its units and its limits.

The water is followed upstream from the lower end, gradually varied (dE/dx = S0 - Sf), in steps of
depth and not of distance, so that no step needs a search. Flow faster than critical is followed no
further than its control at the upper end. Conveyance counts no higher than that of
the full pipe, so that a flow has one normal depth and the level never falls as the flow grows.
"""

import math
from typing import NamedTuple

from tilewater.basis.roots import search_between, search_on

G = 9.80665
DEPTH_STEPS = 24
"""Steps of depth in which the surface is followed along a pipe."""
CLOSENESS = 1e-10
"""Closeness of critical and normal depth, as a share of the diameter."""
FULLEST = 0.9999
"""Share of the diameter at which a pipe counts as full."""


class PipeRun(NamedTuple):
    """A straight pipe between two pools.

    Attributes
    ----------
    invert_up, invert_down : float
        Invert at the two ends; up is where the water comes from. [m]
    diameter : float
        Inside diameter. [m]
    length : float
        Length. [m]
    n : float
        Manning roughness. [s/m^(1/3)]
    entrance : float
        Entrance loss in velocity heads, other losses at the upper end included. [-]
    """

    invert_up: float
    invert_down: float
    diameter: float
    length: float
    n: float
    entrance: float


def area_wetted(depth: float, diameter: float) -> float:
    """Wetted area of a circular pipe."""
    if depth >= diameter:
        return 0.25 * math.pi * diameter * diameter
    if depth <= 0.0:
        return 0.0
    angle = 2.0 * math.acos(1.0 - 2.0 * depth / diameter)
    return 0.125 * diameter * diameter * (angle - math.sin(angle))


def conveyance_manning(depth: float, diameter: float, n: float) -> float:
    """Flow per root of slope, no more than that of the full pipe."""
    full_area = 0.25 * math.pi * diameter * diameter
    full = float(full_area * (0.25 * diameter) ** (2.0 / 3.0) / n)
    if depth >= diameter:
        return full
    if depth <= 0.0:
        return 0.0
    angle = 2.0 * math.acos(1.0 - 2.0 * depth / diameter)
    wetted = 0.125 * diameter * diameter * (angle - math.sin(angle))
    radius = wetted / (0.5 * diameter * angle)
    return min(full, float(wetted * radius ** (2.0 / 3.0) / n))


def froude_surplus(depth: float, flow: float, diameter: float, weight: float) -> float:
    """w Q^2 T / (g A^3) - 1, multiplied by g A^3; zero where the specific head is least."""
    wetted = area_wetted(depth, diameter)
    top = 2.0 * math.sqrt(max(0.0, depth * (diameter - depth)))
    return G * wetted * wetted * wetted - weight * flow * flow * top


def choke_depth(flow: float, diameter: float, weight: float) -> float:
    """Depth at which y + w V^2 / 2g is least; critical depth for a weight of one."""
    low, high = 1e-6 * diameter, FULLEST * diameter
    at_low = froude_surplus(low, flow, diameter, weight)
    at_high = froude_surplus(high, flow, diameter, weight)
    if at_low >= 0.0:
        return low
    if at_high <= 0.0:
        return high
    search = search_between(low, high, at_low, at_high, CLOSENESS * diameter)
    while search.goes_on:
        search = search_on(search, froude_surplus(search.x, flow, diameter, weight))
    return search.x


def normal_depth(flow: float, diameter: float, slope: float, n: float) -> float:
    """Depth of even flow; the diameter where the pipe runs full, and on no fall."""
    if slope <= 0.0:
        return diameter
    wanted = flow / math.sqrt(slope)
    if conveyance_manning(diameter, diameter, n) <= wanted:
        return diameter
    low, high = 1e-6 * diameter, 0.9 * diameter  # as much as full is reached below that depth
    at_low = conveyance_manning(low, diameter, n) - wanted
    if at_low >= 0.0:
        return low
    at_high = conveyance_manning(high, diameter, n) - wanted
    search = search_between(low, high, at_low, at_high, CLOSENESS * diameter)
    while search.goes_on:
        search = search_on(search, conveyance_manning(search.x, diameter, n) - wanted)
    return search.x


def friction_slope(depth: float, flow: float, diameter: float, n: float) -> float:
    """Fall of the energy line per length."""
    carried = flow / conveyance_manning(depth, diameter, n)
    return carried * carried


def specific_head(depth: float, flow: float, diameter: float) -> float:
    """Depth and velocity head."""
    velocity = flow / area_wetted(depth, diameter)
    return depth + velocity * velocity / (2.0 * G)


def node_depth(step: int, first: float, target: float) -> float:
    """Depth number `step` on the way from `first` to `target`; they bunch at the target."""
    left = 1.0 - step / DEPTH_STEPS
    return float(first * (target / first) ** (1.0 - left * left))


def depth_upstream(flow: float, start: float, length: float, slope: float, pipe: PipeRun) -> float:
    """Depth at the upper end of a pipe that starts part-full at its lower end.

    The depths at which the surface is followed do not depend on `start`: from critical depth up,
    or from the crown down, to the depth of even flow. So two surfaces never cross.
    """
    diameter, n = pipe.diameter, pipe.n
    critical = choke_depth(flow, diameter, 1.0)
    target = max(normal_depth(flow, diameter, slope, n), critical)
    if start == target or (start <= critical and target == critical):
        return target
    if critical >= FULLEST * diameter and target >= diameter:  # no free surface
        return diameter + max(0.0, friction_slope(diameter, flow, diameter, n) - slope) * length
    first = critical if start < target else diameter
    here, head = first, specific_head(first, flow, diameter)
    loss = friction_slope(first, flow, diameter, n)
    left = length
    for step in range(1, DEPTH_STEPS + 1):
        depth = node_depth(step, first, target)
        ahead = specific_head(depth, flow, diameter)
        loss_ahead = friction_slope(depth, flow, diameter, n)
        gap = 0.5 * (loss + loss_ahead) - slope  # rise of the specific head per length, upstream
        rise = ahead - head
        inside = (depth - start) / (depth - here)  # share of this step that lies above the start
        if inside > 0.0:
            if gap * rise <= 0.0:  # even flow, to rounding
                return depth
            share = min(inside, 1.0)
            stretch = share * rise / gap
            if stretch >= left:
                return depth - share * (depth - here) * (1.0 - left / stretch)
            left -= stretch
        here, head, loss = depth, ahead, loss_ahead
    if target >= diameter:  # full from here on: under pressure
        full = friction_slope(diameter, flow, diameter, n)
        return target + max(0.0, full - slope) * left
    return target


def level_upstream(flow: float, level_down: float, pipe: PipeRun) -> float:
    """Level of the upper pool that sends `flow` through a pipe into the lower pool."""
    if flow <= 0.0:
        return max(level_down, pipe.invert_up, pipe.invert_down)
    depth = depth_inside(flow, level_down, pipe)
    if depth < pipe.diameter:
        depth = max(depth, choke_depth(flow, pipe.diameter, 1.0 + pipe.entrance))
    velocity = flow / area_wetted(depth, pipe.diameter)
    return pipe.invert_up + depth + (1.0 + pipe.entrance) * velocity * velocity / (2.0 * G)


def depth_inside(flow: float, level_down: float, pipe: PipeRun) -> float:
    """Depth, or pressure head, just inside the upper end of a pipe; flow above zero."""
    diameter, n, length = pipe.diameter, pipe.n, pipe.length
    start = level_down - pipe.invert_down
    critical = 0.0
    if start < diameter:
        critical = choke_depth(flow, diameter, 1.0)
        start = max(start, critical)
    if length <= 0.0:
        return max(start + pipe.invert_down - pipe.invert_up, critical)
    slope = (pipe.invert_up - pipe.invert_down) / length
    if start < diameter:
        return depth_upstream(flow, start, length, slope, pipe)
    full = friction_slope(diameter, flow, diameter, n)
    end = start + (full - slope) * length
    if end >= diameter:
        return end
    # The pipe comes out of the pool somewhere on the way up, and runs part-full above it.
    under = (start - diameter) / (slope - full)
    return depth_upstream(flow, diameter, length - under, slope, pipe)


def level_upstream_full(flow: float, level_down: float, pipe: PipeRun) -> float:
    """Level of the upper pool with the whole pipe under water: never below `level_upstream`."""
    crowns = max(pipe.invert_up, pipe.invert_down) + pipe.diameter
    if flow <= 0.0:
        return max(level_down, crowns)
    velocity = flow / area_wetted(pipe.diameter, pipe.diameter)
    friction = friction_slope(pipe.diameter, flow, pipe.diameter, pipe.n) * pipe.length
    lost = (1.0 + pipe.entrance) * velocity * velocity / (2.0 * G)
    return max(level_down, crowns) + friction + lost


def level_backwards(flow: float, level_high: float, pipe: PipeRun) -> float:
    """Highest level of the upper pool into which `flow` still comes back from the lower one.

    `level_high` is the level of the lower pool, which stands higher. Minus infinity where it cannot
    send that much.
    """
    if flow <= 0.0:
        return level_high if level_high > max(pipe.invert_up, pipe.invert_down) else -math.inf
    turned = PipeRun(
        pipe.invert_down, pipe.invert_up, pipe.diameter, pipe.length, pipe.n, pipe.entrance
    )
    low = min(pipe.invert_up, pipe.invert_down)
    at_low = level_upstream(flow, low, turned) - level_high
    if at_low > 0.0:
        return -math.inf
    at_high = level_upstream(flow, level_high, turned) - level_high
    if at_high <= 0.0:  # less is lost than rounding
        return level_high
    search = search_between(low, level_high, at_low, at_high, CLOSENESS * pipe.diameter)
    while search.goes_on:
        search = search_on(search, level_upstream(flow, search.x, turned) - level_high)
    return search.x
