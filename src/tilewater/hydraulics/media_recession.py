# SPDX-License-Identifier: Apache-2.0
"""Emptying of a closed bed onto standing water: how long it takes, how much has come out by when.

A bed never empties below the water that stands where it lets go: a dead pool, or the ditch. What
stands there still carries flow, so the water above it drains sooner than it would from a floor at
that level. Read `media.drain_down_time_boussinesq` for a bed that empties to its floor.
"""

import math

from tilewater.basis.domain import require_not_negative, require_positive, require_share
from tilewater.hydraulics.media import BOUSSINESQ_DECAY

NEVER = math.inf


def drain_down_time_over_pool(
    share_drained: float,
    *,
    depth: float,
    pool: float,
    length: float,
    conductivity: float,
    drainable_porosity: float,
) -> float:
    """Time until a closed bed has let go a share of the water above the level it drains to.

    Parameters
    ----------
    share_drained : float
        Share of the water above that level that has left, below 1. [-]
    depth : float
        Water at the closed upstream end at the start, above the level it drains to. [m]
    pool : float
        Standing water between the floor and that level; 0 where the bed drains to its floor. [m]
    length : float
        Length of the whole bed. [m]
    conductivity : float
        Saturated hydraulic conductivity at the temperature of the water. [m/s]
    drainable_porosity : float
        Water let go per volume of media. [-]

    Returns
    -------
    float
        Time since the outlet was opened; infinite where no water stands above the level. [s]

    Raises
    ------
    OutOfDomain
        If the share is not from 0 to below 1, the porosity no share, the pool negative, or
        length or conductivity not above zero.

    Notes
    -----
    t = ln((a + c y) / (y (a + c))) / a,  y = 1 - s    (boussinesq1904)

    From dy/dt = -(a y + c y^2) with a = pi^2 K p / (4 f L^2), the lowest mode of the linear
    equation over the depth p of the pool, and c = 1.115 K D / (f L^2), Boussinesq's recession on a
    floor. It is exact without a pool (y = 1 / (1 + c t)) and for a film of water over a deep pool
    (y = e^(-a t)); between, both outflows are added (derived), at most 4 percent too slow
    beside the water table solved in time. Upright sides; the surface keeps one shape while it
    sinks. A bed that is level full at the start is done in 0.65 to 0.95 of the time.

    References
    ----------
    boussinesq1904, recession of a water table on a level floor
    derived, the sum of the two limits
    """
    require_share("share_drained", share_drained, "Give 95 percent as 0.95")
    require_positive("1 - share_drained", 1.0 - share_drained, "", "The last drop never leaves")
    decay, squared = _rates(depth, pool, length, conductivity, drainable_porosity)
    if share_drained == 0.0:
        return 0.0
    if decay + squared == 0.0:
        return NEVER
    left = 1.0 - share_drained
    if decay <= 1e-9 * squared:
        return share_drained / left / squared
    # (a + c y) / (y (a + c)) = 1 + a s / (y (a + c)), without the loss of digits at small s
    return math.log1p(decay * share_drained / (left * (decay + squared))) / decay


def drained_share_over_pool(
    time: float,
    *,
    depth: float,
    pool: float,
    length: float,
    conductivity: float,
    drainable_porosity: float,
) -> float:
    """Share of the water above the level it drains to that a closed bed has let go by a time.

    Parameters
    ----------
    time : float
        Time since the outlet was opened. [s]
    depth : float
        Water at the closed upstream end at the start, above the level it drains to. [m]
    pool : float
        Standing water between the floor and that level; 0 where the bed drains to its floor. [m]
    length : float
        Length of the whole bed. [m]
    conductivity : float
        Saturated hydraulic conductivity at the temperature of the water. [m/s]
    drainable_porosity : float
        Water let go per volume of media. [-]

    Returns
    -------
    float
        Share, 0 to below 1; 0 where no water stands above the level. [-]

    Raises
    ------
    OutOfDomain
        If the time or the pool is negative, the porosity no share, or length or conductivity not
        above zero.

    Notes
    -----
    s = 1 - a / ((a + c) e^(a t) - c)    (boussinesq1904)

    The inverse of `drain_down_time_over_pool`, with its a and c.

    References
    ----------
    boussinesq1904, recession of a water table on a level floor
    derived, the sum of the two limits
    """
    require_not_negative("time", time, "s", "Count from the opening of the outlet")
    decay, squared = _rates(depth, pool, length, conductivity, drainable_porosity)
    if decay + squared == 0.0:
        return 0.0
    grown = math.expm1(min(decay * time, 600.0)) / decay if decay > 1e-9 * squared else time
    gone = (decay + squared) * grown  # 1 / y - 1 = (a + c) (e^(a t) - 1) / a
    return gone / (1.0 + gone)


def _rates(
    depth: float, pool: float, length: float, conductivity: float, drainable_porosity: float
) -> tuple[float, float]:
    """The two rates a and c of the recession; both zero where nothing stands above the level."""
    require_not_negative("pool", pool, "m", "Give 0 where the bed drains to its floor")
    require_positive("length", length, "m", "Give the whole length of the bed")
    require_positive("conductivity", conductivity, "m/s", "Give it at the water's temperature")
    require_share("drainable_porosity", drainable_porosity, "Give 45 percent as 0.45")
    require_positive("drainable_porosity", drainable_porosity, "", "Give 45 percent as 0.45")
    if depth <= 0.0:
        return 0.0, 0.0
    spread = conductivity / (drainable_porosity * length**2)
    return 0.25 * math.pi**2 * spread * pool, BOUSSINESQ_DECAY * spread * depth
