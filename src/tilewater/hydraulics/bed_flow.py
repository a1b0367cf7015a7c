# SPDX-License-Identifier: Apache-2.0
"""Steady flow through a bed of media under a falling water surface.

Level floor, trapezoidal section, depths from the floor, flow level in each section (Dupuit): poor
within about one depth of the ends. Water standing above the media adds head and no area. Where the
downstream end stands higher, the flow comes back negative. Heads over boards and losses in pipes
are added by the caller. The bare arithmetic is in `_bed_section`, which the compiled kernels share.
"""

import math

import numpy as np

from tilewater.basis.domain import Number, refuse, require_not_negative, require_positive
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics._bed_section import (
    CLOSENESS,
    area,
    area_times_conveyance,
    distance_missing,
    flow_forchheimer,
)


def bed_flow_darcy(
    depth_upstream: Number,
    depth_downstream: Number,
    *,
    length: Number,
    width: Number,
    side_slope: Number,
    conductivity: Number,
    media_depth: Number = math.inf,
) -> Number:
    """Flow through a bed by Darcy's law, under a falling surface.

    Over-predicts by some percent in coarse new chips; see `bed_flow_forchheimer`.

    Parameters
    ----------
    depth_upstream : float or array
        Water above the floor at the inlet end. [m]
    depth_downstream : float or array
        Water above the floor at the outlet end. [m]
    length : float or array
        Way of the water through the media. [m]
    width : float or array
        Bottom width. [m]
    side_slope : float or array
        Horizontal per vertical, 0 for upright sides. [m/m]
    conductivity : float or array
        Saturated hydraulic conductivity at the temperature of the water. [m/s]
    media_depth : float or array
        Top of the media above the floor; infinite if water never stands above it. [m]

    Returns
    -------
    float or array
        Flow, negative where the downstream end stands higher. [m3/s]

    Raises
    ------
    OutOfDomain
        If a depth or the side slope is negative, or length, conductivity or section is zero.

    Notes
    -----
    Q = (K / L) integral of A dh, A = b h + z h^2    (dupuit1863)

    Of upright sides it is Q = K b (h1^2 - h2^2) / (2 L).

    References
    ----------
    darcy1856, linear resistance
    dupuit1863, level flow under a falling surface
    """
    _require_bed(depth_upstream, depth_downstream, length, width, side_slope, media_depth)
    require_positive("conductivity", conductivity, "m/s", "Give it at the water's temperature")
    driven = _area_integral(depth_upstream, width, side_slope, media_depth) - _area_integral(
        depth_downstream, width, side_slope, media_depth
    )
    return conductivity * driven / length


def bed_flow_forchheimer(
    depth_upstream: float,
    depth_downstream: float,
    *,
    length: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float = math.inf,
) -> float:
    """Flow through a bed with linear and inertial resistance, under a falling surface.

    Parameters
    ----------
    depth_upstream : float
        Water above the floor at the inlet end. [m]
    depth_downstream : float
        Water above the floor at the outlet end. [m]
    length : float
        Way of the water through the media. [m]
    width : float
        Bottom width. [m]
    side_slope : float
        Horizontal per vertical, 0 for upright sides. [m/m]
    conductivity : float
        Saturated hydraulic conductivity at the temperature of the water. [m/s]
    inertia : float
        Inertia of the media, the same at any temperature; 0 for Darcy's law. [s2/m2]
    media_depth : float
        Top of the media above the floor; infinite if water never stands above it. [m]

    Returns
    -------
    float
        Flow, negative where the downstream end stands higher. [m3/s]

    Raises
    ------
    OutOfDomain
        If a depth, the side slope or the inertia is negative, or length, conductivity or section
        is zero.

    Notes
    -----
    dh/dx = -(Q / (K A) + b (Q / A)^2)    (forchheimer1901)

    Q is the root of Q L = K integral of A^2 / (A + K b Q) dh, whose parts have closed forms.

    References
    ----------
    forchheimer1901, quadratic resistance
    dupuit1863, level flow under a falling surface
    """
    _require_bed(depth_upstream, depth_downstream, length, width, side_slope, media_depth)
    require_positive("conductivity", conductivity, "m/s", "Give it at the water's temperature")
    require_not_negative("inertia", inertia, "s2/m2", "Use 0 for Darcy's law")
    low, high = sorted((depth_upstream, depth_downstream))
    flow = flow_forchheimer(
        low, high, length, width, side_slope, conductivity, inertia, media_depth
    )
    return flow if depth_upstream >= depth_downstream else -flow


def bed_wet_volume(
    depth_upstream: float,
    depth_downstream: float,
    *,
    length: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float = math.inf,
) -> float:
    """Volume of media under water while the bed flows.

    Media and pores together; times the porosity it is the water in the media.

    Parameters
    ----------
    depth_upstream : float
        Water above the floor at the inlet end. [m]
    depth_downstream : float
        Water above the floor at the outlet end. [m]
    length : float
        Way of the water through the media. [m]
    width : float
        Bottom width. [m]
    side_slope : float
        Horizontal per vertical, 0 for upright sides. [m/m]
    conductivity : float
        Saturated hydraulic conductivity at the temperature of the water. [m/s]
    inertia : float
        Inertia of the media; 0 for Darcy's law. [s2/m2]
    media_depth : float
        Top of the media above the floor; infinite if water never stands above it. [m]

    Returns
    -------
    float
        Wet volume of the media. [m3]

    Raises
    ------
    OutOfDomain
        As `bed_flow_forchheimer`.

    Notes
    -----
    V = integral of A dx = (K / Q) integral of A^3 / (A + K b Q) dh    (derived)

    References
    ----------
    derived, from the surface of bed_flow_forchheimer
    """
    flow = abs(
        bed_flow_forchheimer(
            depth_upstream,
            depth_downstream,
            length=length,
            width=width,
            side_slope=side_slope,
            conductivity=conductivity,
            inertia=inertia,
            media_depth=media_depth,
        )
    )
    low, high = sorted((depth_upstream, depth_downstream))
    if flow == 0.0:
        return length * area(min(high, media_depth), width, side_slope)
    c = conductivity * inertia * flow
    held = area_times_conveyance(low, high, width, side_slope, media_depth, c)
    return conductivity * held / flow


def bed_surface_depth(
    distance: float,
    depth_upstream: float,
    depth_downstream: float,
    *,
    length: float,
    width: float,
    side_slope: float,
    conductivity: float,
    inertia: float,
    media_depth: float = math.inf,
) -> float:
    """Depth of the water at a distance along a flowing bed.

    Parameters
    ----------
    distance : float
        Distance from the inlet end. [m]
    depth_upstream : float
        Water above the floor at the inlet end. [m]
    depth_downstream : float
        Water above the floor at the outlet end. [m]
    length : float
        Way of the water through the media. [m]
    width : float
        Bottom width. [m]
    side_slope : float
        Horizontal per vertical, 0 for upright sides. [m/m]
    conductivity : float
        Saturated hydraulic conductivity at the temperature of the water. [m/s]
    inertia : float
        Inertia of the media; 0 for Darcy's law. [s2/m2]
    media_depth : float
        Top of the media above the floor; infinite if water never stands above it. [m]

    Returns
    -------
    float
        Depth of the water above the floor. [m]

    Raises
    ------
    OutOfDomain
        If the distance lies outside the bed, and as `bed_flow_forchheimer`.

    Notes
    -----
    h is the root of Q x = K integral from h to h1 of A^2 / (A + K b Q) dh    (forchheimer1901)

    References
    ----------
    forchheimer1901, quadratic resistance
    dupuit1863, level flow under a falling surface
    """
    flow = bed_flow_forchheimer(
        depth_upstream,
        depth_downstream,
        length=length,
        width=width,
        side_slope=side_slope,
        conductivity=conductivity,
        inertia=inertia,
        media_depth=media_depth,
    )
    if not 0.0 <= distance <= length:
        raise refuse(
            "distance", distance, "m", f"The bed is {length:g} m long", "Count from the inlet end"
        )
    if distance in (0.0, length):
        return depth_downstream if distance else depth_upstream
    low, high = sorted((depth_upstream, depth_downstream))
    if flow == 0.0:
        return high
    from_high = distance if flow > 0.0 else length - distance
    rest = (from_high, high, abs(flow), width, side_slope, conductivity, inertia, media_depth)
    # The flow itself is only solved closely, so the last hair of the bed may show no root.
    if distance_missing(low, *rest) <= 0.0:
        return low
    return bracketed_root(distance_missing, low, high, rest, CLOSENESS * high)


def _area_integral(depth: Number, width: Number, side_slope: Number, media_depth: Number) -> Number:
    """Integral of the wetted area of the media from the floor to `depth`."""
    within = np.minimum(depth, media_depth)
    full = within * (width + side_slope * within)
    return width * within**2 / 2.0 + side_slope * within**3 / 3.0 + full * (depth - within)


def _require_bed(
    depth_upstream: Number,
    depth_downstream: Number,
    length: Number,
    width: Number,
    side_slope: Number,
    media_depth: Number,
) -> None:
    from_floor = "Count from the floor of the bed"
    require_not_negative("depth_upstream", depth_upstream, "m", from_floor)
    require_not_negative("depth_downstream", depth_downstream, "m", from_floor)
    require_positive("length", length, "m", "Give the way of the water through the media")
    require_not_negative("width", width, "m", "Give the width of the bottom")
    require_not_negative("side_slope", side_slope, "m/m", "Give horizontal per vertical")
    require_positive("width + side_slope", width + side_slope, "", "Give the bed a section")
    require_positive("media_depth", media_depth, "m", "Leave it out where chips stand higher")
