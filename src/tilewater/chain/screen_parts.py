# SPDX-License-Identifier: Apache-2.0
"""Arithmetic of the screening: plain functions from what a job says to what is held to a limit."""

import numpy as np

from tilewater.basis.domain import require_positive
from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.ditch_stage import Series

WATER_WEIGHT = 62.4 * 0.45359237 / 0.3048**3 * 9.80665
"""Weight of water, the trade's 62.4 lb/ft3. [N/m3]"""


def higher_of(first: float, second: float) -> float:
    """Higher of two elevations.

    Parameters
    ----------
    first, second : float
        Elevations. [m]

    Returns
    -------
    float
        The higher. [m]

    Notes
    -----
    z = max(z1, z2)    (derived)

    References
    ----------
    derived, the higher of two
    """
    return max(first, second)


def shorter_side(length: float, width: float) -> float:
    """Shorter side of a piece of ground.

    Parameters
    ----------
    length, width : float
        Of the ground. [m]

    Returns
    -------
    float
        The shorter. [m]

    Notes
    -----
    b = min(L, W)    (derived)

    References
    ----------
    derived, the lesser of two
    """
    return min(length, width)


def outside_usual(value: float, low: float, high: float) -> float:
    """How far a value lies outside its usual range.

    Parameters
    ----------
    value, low, high : float
        Value and ends of the range, in one unit. [-]

    Returns
    -------
    float
        Distance to the nearer end, 0 within the range. [-]

    Notes
    -----
    d = max(low - x, x - high, 0)    (derived)

    References
    ----------
    derived, a distance
    admc-bioreactors, usual acres and mains
    """
    return max(low - value, value - high, 0.0)


def left_open(**answers: str) -> float:
    """Questions left open, where every answer is known.

    Parameters
    ----------
    **answers : str
        As answered. [-]

    Returns
    -------
    float
        None of them, 0; an answer that is not known makes the result unknown before. [-]

    Notes
    -----
    n = 0    (derived)

    References
    ----------
    derived, a count
    """
    return 0.0


def share_of_days_above(daily_depth: Series, stage: Series, crest: float) -> float:
    """Share of the days with drain flow on which the ditch stands above a crest.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each day over the drained area. [m/s]
    stage : array
        Level of the ditch on those days; days without one are left out. [m]
    crest : float
        Elevation that the ditch is compared with. [m]

    Returns
    -------
    float
        Share of those days. [-]

    Raises
    ------
    OutOfDomain
        If no day has drain flow and a level.

    Notes
    -----
    s = count(q > 0 and stage > crest) / count(q > 0)    (derived)

    References
    ----------
    derived, a count of days
    """
    counted = (np.asarray(daily_depth) > 0) & ~np.isnan(stage)
    days = int(np.count_nonzero(counted))
    if days == 0:
        raise OutOfDomain(
            "No day has drain flow and a level of the ditch. A share needs some. "
            "Log both on the same days."
        )
    return int(np.count_nonzero(counted & (np.asarray(stage) > crest))) / days


def lift_of_water(groundwater: float, floor: float) -> float:
    """Pressure of the ground water under an empty lining.

    Parameters
    ----------
    groundwater : float
        Elevation of the ground water outside. [m]
    floor : float
        Elevation of the lining. [m]

    Returns
    -------
    float
        Pressure; 0 where the water stands lower. [Pa]

    Notes
    -----
    p = w (groundwater - floor), at least 0    (practice)

    References
    ----------
    practice, uplift of an empty lined bed, water of 62.4 lb/ft3
    """
    return WATER_WEIGHT * max(0.0, groundwater - floor)


def strip_flow_per_length(
    conductivity: float, head_line: float, head_stream: float, width: float
) -> float:
    """Flow through a foot of strip from the raised water to the ditch, no loss at the line.

    Parameters
    ----------
    conductivity : float
        Conductivity of the strip. [m/s]
    head_line, head_stream : float
        Heads above the restrictive layer at the line and at the ditch. [m]
    width : float
        From the line to the water's edge. [m]

    Returns
    -------
    float
        Flow per length; 0 where the ditch stands as high as the line. [m2/s]

    Raises
    ------
    OutOfDomain
        If the strip has no width.

    Notes
    -----
    q = K (h1^2 - h2^2) / (2 w)    (dupuit1863)

    Losses at the pipe are left out: no buffer takes more.

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    require_positive("width", width, "m", "Give the way from the line to the water")
    return max(0.0, conductivity * (head_line**2 - head_stream**2) / (2.0 * width))


def flow_of_strip(flow_per_length: float, length: float) -> float:
    """Flow of the whole strip.

    Parameters
    ----------
    flow_per_length : float
        Flow per length. [m2/s]
    length : float
        Length of strip that lets water out. [m]

    Returns
    -------
    float
        Flow. [m3/s]

    Notes
    -----
    Q = q L    (derived)

    References
    ----------
    derived, a product
    """
    return flow_per_length * length


def length_for_share(share: float, peak: float, flow_per_length: float) -> float:
    """Length of strip that takes a share of the capacity of the drains.

    Parameters
    ----------
    share : float
        Share that is asked. [-]
    peak : float
        Capacity of the drains. [m3/s]
    flow_per_length : float
        Flow per length. [m2/s]

    Returns
    -------
    float
        Length; infinite where the strip takes nothing. [m]

    Notes
    -----
    L = s Q / q    (derived)

    References
    ----------
    derived, a quotient
    """
    return share * peak / flow_per_length if flow_per_length > 0.0 else float("inf")


def length_of_strip(available: float, trees: float = 0.0) -> float:
    """Length of strip along which a line lets water out.

    Parameters
    ----------
    available : float
        Strip that a line could use. [m]
    trees : float
        Of it within reach of roots. [m]

    Returns
    -------
    float
        Length, 0 at least. [m]

    Notes
    -----
    L = L0 - Lt    (derived)

    References
    ----------
    derived, a difference
    """
    return max(0.0, available - trees)


def reach_share(reach: float, upper_end: float, start: float) -> float:
    """Share of the main above the structure that standing water reaches.

    Parameters
    ----------
    reach : float
        Main that holds standing water. [m]
    upper_end, start : float
        Stations of the upper end of the main and of the structure. [m]

    Returns
    -------
    float
        Share, 1 at most. [-]

    Raises
    ------
    OutOfDomain
        If the main ends at the structure or below it.

    Notes
    -----
    s = x / (X2 - X1), 1 at most    (derived)

    References
    ----------
    derived, a quotient
    """
    require_positive("length", upper_end - start, "m", "Check both stations of the main")
    return min(1.0, reach / (upper_end - start))
