# SPDX-License-Identifier: Apache-2.0
"""Size of a bed for the rough answer: level chips, Darcy's flow under a falling surface.

Pipes, boards and inertia are left out, as nobody knows them on the day of the first call.
"""

import numpy as np

from tilewater.basis.domain import Number, refuse, require_positive
from tilewater.hydraulics.media import bed_mean_depth_dupuit


def volume_for_reduction(
    reduction: Number,
    nitrate_mg_per_l: Number,
    volume_per_year: Number,
    flow_days: Number,
    rate_g_per_m3_day: Number,
) -> Number:
    """Wet chips that take a share of the nitrate out of the treated water of a year.

    Parameters
    ----------
    reduction : float or array
        Share to be taken out. [-]
    nitrate_mg_per_l : float or array
        Nitrate of the drain water as N. [mg/L]
    volume_per_year : float or array
        Water through the bed in a year. [m3]
    flow_days : float or array
        Days with flow. [days]
    rate_g_per_m3_day : float or array
        Removal per volume of wet chips at the temperature of the water. [g/m3/day]

    Returns
    -------
    float or array
        Volume of wet chips. [m3]

    Raises
    ------
    OutOfDomain
        If rate or days are not above zero.

    Notes
    -----
    V = r C V_year / (R t)    (schipper2010)

    References
    ----------
    schipper2010, rates per volume of bed
    """
    require_positive("rate_g_per_m3_day", rate_g_per_m3_day, "g/m3/day", "Give a removal rate")
    require_positive("flow_days", flow_days, "days", "Give the days with flow")
    return reduction * nitrate_mg_per_l * volume_per_year / (rate_g_per_m3_day * flow_days)


def bed_length(
    flow: Number,
    wet_volume: Number,
    depth_upstream: Number,
    drop: Number,
    conductivity: Number,
) -> Number:
    """Length at which a bed carries a flow and holds a wet volume, both just so.

    Parameters
    ----------
    flow : float or array
        Flow through the bed. [m3/s]
    wet_volume : float or array
        Chips under water. [m3]
    depth_upstream : float or array
        Water at the inlet end. [m]
    drop : float or array
        Fall of the water to the outlet end. [m]
    conductivity : float or array
        Of the chips. [m/s]

    Returns
    -------
    float or array
        Length of the bed. [m]

    Raises
    ------
    OutOfDomain
        If flow, volume, drop or conductivity is not above zero, or the drop not below the depth.

    Notes
    -----
    L = (V K (h1^2 - h2^2) / (2 Q hm))^(1/2)    (dupuit1863)

    hm is the mean depth of the falling surface. The width of `bed_width` then makes the volume
    L (W hm + z hm^2), whatever the side slope.

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    for name, value, unit in (
        ("flow", flow, "m3/s"),
        ("wet_volume", wet_volume, "m3"),
        ("conductivity", conductivity, "m/s"),
    ):
        require_positive(name, value, unit, "Give what the bed has to do")
    low = _depth_downstream(depth_upstream, drop)
    mean = bed_mean_depth_dupuit(depth_upstream, low)
    squares = depth_upstream**2 - low**2
    return np.sqrt(wet_volume * conductivity * squares / (2.0 * flow * mean))[()]


def bed_width(
    flow: Number,
    length: Number,
    depth_upstream: Number,
    drop: Number,
    conductivity: Number,
    side_slope: float,
    least: float,
) -> Number:
    """Bottom width of a bed that carries a flow, no narrower than can be dug.

    Parameters
    ----------
    flow : float or array
        Flow through the bed. [m3/s]
    length : float or array
        Length of the bed. [m]
    depth_upstream : float or array
        Water at the inlet end. [m]
    drop : float or array
        Fall of the water to the outlet end. [m]
    conductivity : float or array
        Of the chips. [m/s]
    side_slope : float
        Horizontal per vertical. [m/m]
    least : float
        Narrowest bed that is dug. [m]

    Returns
    -------
    float or array
        Bottom width. [m]

    Raises
    ------
    OutOfDomain
        If the drop is not above zero and below the depth.

    Notes
    -----
    Q L / K = W (h1^2 - h2^2) / 2 + z (h1^3 - h2^3) / 3    (dupuit1863)

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    low = _depth_downstream(depth_upstream, drop)
    sides = side_slope * (depth_upstream**3 - low**3) / 3.0
    width = 2.0 * (flow * length / conductivity - sides) / (depth_upstream**2 - low**2)
    return np.maximum(width, least)[()]


def chips_volume(length: Number, width: Number, depth: Number, side_slope: float) -> Number:
    """Chips neat in place, sides and ends sloped alike.

    Parameters
    ----------
    length, width : float or array
        Of the floor. [m]
    depth : float or array
        Of the chips. [m]
    side_slope : float
        Horizontal per vertical. [m/m]

    Returns
    -------
    float or array
        Volume. [m3]

    Notes
    -----
    V = d (L W + z d (L + W) + (4/3) z^2 d^2)    (derived)

    References
    ----------
    derived, the prismoid of a frustum
    """
    z = side_slope * depth
    return depth * (length * width + z * (length + width) + 4.0 / 3.0 * z**2)


def share_that_fits(
    length: Number, width: Number, strip_length: float, strip_width: float, margin: float
) -> float:
    """Share of the draws whose cut fits into the strip, along it or across.

    Parameters
    ----------
    length, width : float or array
        Floor of the bed. [m]
    strip_length, strip_width : float
        Ground that may be used. [m]
    margin : float
        Top of cut, access and clearance beyond the floor, on each side. [m]

    Returns
    -------
    float
        Share of the draws. [-]

    Notes
    -----
    a draw fits where L + 2 m and W + 2 m are no more than the strip, either way round    (derived)

    References
    ----------
    derived, a comparison
    """
    long, wide = length + 2.0 * margin, width + 2.0 * margin
    along = (long <= strip_length) & (wide <= strip_width)
    across = (long <= strip_width) & (wide <= strip_length)
    return float(np.mean(along | across))


def _depth_downstream(depth_upstream: Number, drop: Number) -> Number:
    require_positive("drop", drop, "m", "Water goes down through a bed")
    low = np.subtract(depth_upstream, drop)
    if np.any(low <= 0.0):
        raise refuse("drop", drop, "m", "It is less than the depth of water", "Take fewer boards")
    return low[()]
