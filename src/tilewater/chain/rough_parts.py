# SPDX-License-Identifier: Apache-2.0
"""Arithmetic of the rough answer: closed forms over draws, and the band that is told of them.

Size and volume of its bed are in `rough_bed`.
"""

import numpy as np

from tilewater.basis.domain import Number, require_positive
from tilewater.nitrate.parameter_ranges import ParameterRange, Values, draw_parameters

MM_PER_DAY = 0.001 / 86400.0
CAUGHT_AT = 1.67 * MM_PER_DAY
"""Capacity at which the caught share of the measured plots is stated. [m/s]"""
CAUGHT_POWER = 0.55
"""How the caught share grows with capacity on the measured plots. [-]"""


def drawn(parameter: ParameterRange, count: float, seed: float) -> Values:
    """Values of one parameter, drawn from its range.

    Parameters
    ----------
    parameter : ParameterRange
        The range. [-]
    count : float
        Draws. [-]
    seed : float
        Another seed gives other draws. [-]

    Returns
    -------
    array
        Values in the unit of the range. [-]

    Notes
    -----
    one value of each of n equal strata, in an order made from the name    (mckay1979)

    References
    ----------
    mckay1979, Latin hypercube
    """
    return draw_parameters([parameter], int(count), seed=int(seed))[parameter.slug]


def times(value: Number, factor: Number) -> Number:
    """A value as told, times what is not known of it.

    Parameters
    ----------
    value, factor : float or array
        Value in its own unit, and a plain number. [-]

    Returns
    -------
    float or array
        Their product in the unit of the value. [-]

    Notes
    -----
    y = x f    (derived)

    References
    ----------
    derived, a product
    """
    return value * factor


def lesser(first: Number, second: Number) -> Number:
    """The lesser of two flows, draw by draw.

    Parameters
    ----------
    first, second : float or array
        Flows. [m3/s]

    Returns
    -------
    float or array
        The lesser. [m3/s]

    Notes
    -----
    Q = min(Q1, Q2)    (derived)

    References
    ----------
    derived, the lesser of two
    """
    return np.minimum(first, second)[()]


def share_caught(flow: Number, area: Number, share_at_reference: Number) -> Number:
    """Share of a year's drain water that a constant capacity takes.

    Parameters
    ----------
    flow : float or array
        Capacity of the practice. [m3/s]
    area : float or array
        Drained area. [m2]
    share_at_reference : float or array
        Share that 1.67 mm a day catches. [-]

    Returns
    -------
    float or array
        Share, 1 at most. [-]

    Raises
    ------
    OutOfDomain
        If the area is not above zero.

    Notes
    -----
    s = s0 (Q / (A 1.67 mm/day))^0.55, 1 at most    (missing-drainage)

    A power through the medians of seventeen plots at 0.95 to 2.9 mm a day, within 0.02 of them.

    References
    ----------
    missing-drainage, medians over plots
    """
    require_positive("area", area, "m2", "Give the acres that drain to the outlet")
    grown = share_at_reference * (np.maximum(flow, 0.0) / area / CAUGHT_AT) ** CAUGHT_POWER
    return np.minimum(grown, 1.0)[()]


def greater(first: Number, second: Number) -> Number:
    """The greater of two volumes, draw by draw.

    Parameters
    ----------
    first, second : float or array
        Volumes. [m3]

    Returns
    -------
    float or array
        The greater. [m3]

    Notes
    -----
    V = max(V1, V2)    (derived)

    References
    ----------
    derived, the greater of two
    """
    return np.maximum(first, second)[()]


def depth_below_ground(tile_depth: Number, below_tile: float) -> Number:
    """Ditch water below the ground of the strip.

    Parameters
    ----------
    tile_depth : float or array
        End of the main below the ground of the strip. [m]
    below_tile : float
        Ditch water below the end of the main, negative where it stands above. [m]

    Returns
    -------
    float or array
        Depth below the ground. [m]

    Notes
    -----
    s = t + b    (derived)

    References
    ----------
    derived, a sum
    """
    return tile_depth + below_tile


def head_over_barrier(barrier: Number, below_ground: Number) -> Number:
    """Head over the restrictive layer of water that stands some way below the ground.

    Parameters
    ----------
    barrier : float or array
        Restrictive layer below the ground. [m]
    below_ground : float or array
        Water below the ground. [m]

    Returns
    -------
    float or array
        Head, 0 where the water stands below the layer. [m]

    Notes
    -----
    h = D - s, at least 0    (derived)

    References
    ----------
    derived, a difference
    """
    return np.maximum(np.subtract(barrier, below_ground), 0.0)[()]


def share_of(part: Number, whole: Number) -> Number:
    """One flow as a share of another, draw by draw.

    Parameters
    ----------
    part, whole : float or array
        Flows. [m3/s]

    Returns
    -------
    float or array
        Share. [-]

    Raises
    ------
    OutOfDomain
        If the whole is not above zero.

    Notes
    -----
    s = Q / Q0    (derived)

    References
    ----------
    derived, a ratio
    """
    require_positive("whole", whole, "m3/s", "Check acres, size and grade of the main")
    return part / whole


def pool_reach(rise: Number, slope: Number) -> Number:
    """How far up the main the raised water stands.

    Parameters
    ----------
    rise : float or array
        Boards over the invert of the main. [m]
    slope : float or array
        Grade of the main. [m/m]

    Returns
    -------
    float or array
        Distance. [m]

    Raises
    ------
    OutOfDomain
        If the grade is not above zero.

    Notes
    -----
    x = h / S    (derived)

    References
    ----------
    derived, level water over a sloping pipe
    """
    require_positive("slope", slope, "m/m", "Give the fall of the main, such as 0.18 %")
    return np.divide(rise, slope)[()]


def quantile(values: Values, share: float) -> float:
    """Value that a share of the draws stay below.

    Parameters
    ----------
    values : array
        Draws. [-]
    share : float
        Between 0 and 1. [-]

    Returns
    -------
    float
        In the unit of the draws. [-]

    Notes
    -----
    linear between neighbours of the ranked draws    (derived)

    References
    ----------
    derived, order statistics
    """
    return float(np.quantile(values, share))


def share_above(values: Values, limit: float) -> float:
    """Share of the draws at or above a limit.

    Parameters
    ----------
    values : array
        Draws. [-]
    limit : float
        In the unit of the draws. [-]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    share = count(x >= limit) / n    (derived)

    References
    ----------
    derived, a count
    """
    return float(np.mean(np.asarray(values) >= limit))
