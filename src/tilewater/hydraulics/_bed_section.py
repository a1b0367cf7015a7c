# SPDX-License-Identifier: Apache-2.0
"""Steady flow through a bed of trapezoidal section under a falling surface: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
daily kernels share. Read `media` for what it means, its units and its limits.

The fall of the surface is dh/dx = -(Q / (K A) + b (Q / A)^2), hence with c = K b Q

    Q x = K (integral of A^2 / (A + c) dh),    A^2 / (A + c) = A - c + c^2 / (A + c)

from one depth to another. A is a quadratic of the depth, so each of the three parts has a closed
form; where the water stands above the media A is constant.
"""

import math

from tilewater.basis.roots import search_between, search_on

CLOSENESS = 1e-12
"""Closeness of a solved flow or depth, as a share of its bracket."""
NEGLIGIBLE = 1e-18
"""Share of the area below which c changes no digit of the result."""


def area(depth: float, width: float, side_slope: float) -> float:
    """Area of a trapezoid of bottom `width` filled to `depth`."""
    return depth * (width + side_slope * depth)


def mean_reciprocal(low: float, high: float, width: float, side_slope: float, c: float) -> float:
    """Mean of 1 / (A + c) over the depths from `low` to `high`, for c > 0."""
    span = high - low
    discriminant = width * width - 4.0 * side_slope * c
    both = 2.0 * side_slope * low * high + width * (low + high) + 2.0 * c
    if discriminant > 0.0:
        s = math.sqrt(discriminant)
        # both - s span, written without the difference of width and s
        other = (
            2.0 * side_slope * low * high
            + 2.0 * c
            + high * 4.0 * side_slope * c / (width + s)
            + low * (width + s)
        )
        return math.log1p(2.0 * s * span / other) / (s * span)
    if discriminant < 0.0:
        s = math.sqrt(-discriminant)
        return 2.0 * math.atan(s * span / both) / (s * span)
    return 2.0 / both


def mean_conveyance(low: float, high: float, width: float, side_slope: float, c: float) -> float:
    """Mean of A^2 / (A + c) over the depths from `low` to `high`."""
    first = area(low, width, side_slope)
    middle = area(0.5 * (low + high), width, side_slope)
    last = area(high, width, side_slope)
    mean_area = (first + 4.0 * middle + last) / 6.0
    if c <= NEGLIGIBLE * mean_area:
        return mean_area
    if high == low:
        return first * first / (first + c)
    return mean_area - c + c * c * mean_reciprocal(low, high, width, side_slope, c)


def mean_area_times_conveyance(
    low: float, high: float, width: float, side_slope: float, c: float
) -> float:
    """Mean of A^3 / (A + c) = A^2 - c A^2 / (A + c) over the depths from `low` to `high`."""
    first = area(low, width, side_slope)
    middle = area(0.5 * (low + high), width, side_slope)
    last = area(high, width, side_slope)
    ends = first * first + last * last + 4.0 * middle * middle
    mean_square = (2.0 * ends + 2.0 * middle * (first + last) - first * last) / 15.0
    return mean_square - c * mean_conveyance(low, high, width, side_slope, c)


def conveyance(
    low: float, high: float, width: float, side_slope: float, media_depth: float, c: float
) -> float:
    """Integral of A^2 / (A + c) over depth, A counted no higher than the media."""
    bottom, top = min(low, media_depth), min(high, media_depth)
    wetted = 0.0
    if top > bottom:
        wetted = (top - bottom) * mean_conveyance(bottom, top, width, side_slope, c)
    above = (high - top) - (low - bottom)
    if above > 0.0:
        full = area(media_depth, width, side_slope)
        wetted += above * full * full / (full + c)
    return wetted


def area_times_conveyance(
    low: float, high: float, width: float, side_slope: float, media_depth: float, c: float
) -> float:
    """Integral of A^3 / (A + c) over depth, A counted no higher than the media."""
    bottom, top = min(low, media_depth), min(high, media_depth)
    wetted = 0.0
    if top > bottom:
        mean = mean_area_times_conveyance(bottom, top, width, side_slope, c)
        wetted = (top - bottom) * mean
    above = (high - top) - (low - bottom)
    if above > 0.0:
        full = area(media_depth, width, side_slope)
        wetted += above * full * full * full / (full + c)
    return wetted


def flow_surplus(
    flow: float,
    low: float,
    high: float,
    length: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float,
) -> float:
    """What the fall could drive less `flow`; zero at the flow of the bed."""
    c = conductivity * inertia * flow
    driven = conveyance(low, high, width, side_slope, media_depth, c)
    return conductivity * driven / length - flow


def flow_forchheimer(
    low: float,
    high: float,
    length: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float,
) -> float:
    """Flow from the end with depth `high` to the end with depth `low`."""
    ceiling = conductivity * conveyance(low, high, width, side_slope, media_depth, 0.0) / length
    if inertia == 0.0 or ceiling == 0.0:
        return ceiling
    # A little above Darcy's flow, so that rounding cannot lift the root out of the bracket.
    most = ceiling * 1.000001
    at_most = flow_surplus(
        most, low, high, length, width, side_slope, conductivity, inertia, media_depth
    )
    search = search_between(0.0, most, ceiling, at_most, CLOSENESS * ceiling)
    while search.goes_on:
        short = flow_surplus(
            search.x, low, high, length, width, side_slope, conductivity, inertia, media_depth
        )
        search = search_on(search, short)
    return search.x


def distance_missing(
    depth: float,
    distance: float,
    high: float,
    flow: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float,
) -> float:
    """How far past `distance` from the deep end the surface comes down to `depth`."""
    c = conductivity * inertia * flow
    passed = conveyance(depth, high, width, side_slope, media_depth, c)
    return conductivity * passed / flow - distance


def depth_at_inlet(
    flow: float,
    depth: float,
    length: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float,
) -> float:
    """Depth at the inlet that sends `flow` through the bed to `depth` at its outlet."""
    if flow <= 0.0:
        return depth
    c = conductivity * inertia * flow
    needed = flow * length / conductivity
    full = area(media_depth, width, side_slope)
    above = full * full / (full + c)
    if depth >= media_depth:
        return depth + needed / above
    within = conveyance(depth, media_depth, width, side_slope, media_depth, c)
    if within <= needed:
        return media_depth + (needed - within) / above
    spare = within - needed
    search = search_between(depth, media_depth, -needed, spare, CLOSENESS * media_depth)
    while search.goes_on:
        driven = conveyance(depth, search.x, width, side_slope, media_depth, c)
        search = search_on(search, driven - needed)
    return search.x


def depth_at_far_end(
    flow: float,
    depth: float,
    length: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float,
) -> float:
    """Depth to which `flow` falls through the bed from `depth`; minus infinity if it cannot."""
    if flow <= 0.0:
        return depth
    c = conductivity * inertia * flow
    needed = flow * length / conductivity
    spare = conveyance(0.0, depth, width, side_slope, media_depth, c) - needed
    if spare < 0.0:
        return -math.inf
    search = search_between(0.0, depth, spare, -needed, CLOSENESS * media_depth)
    while search.goes_on:
        driven = conveyance(search.x, depth, width, side_slope, media_depth, c)
        search = search_on(search, driven - needed)
    return search.x


def wet_volume(
    depth_inlet: float,
    depth_outlet: float,
    flow: float,
    length: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float,
) -> float:
    """Media under the surface of a flow of either sign between two depths."""
    low, high = min(depth_inlet, depth_outlet), max(depth_inlet, depth_outlet)
    through = abs(flow)
    if through == 0.0 or high - low <= CLOSENESS * media_depth:
        return length * area(min(0.5 * (low + high), media_depth), width, side_slope)
    c = conductivity * inertia * through
    held = area_times_conveyance(low, high, width, side_slope, media_depth, c)
    # Over what the fall conveys, not over the flow: the mean area lies between those of the ends.
    return length * held / conveyance(low, high, width, side_slope, media_depth, c)
