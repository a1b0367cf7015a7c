# SPDX-License-Identifier: Apache-2.0
"""How near a simulated series of daily flow comes to a measured one.

Both series hold the same days, one value a day; days that were not measured are left out before
they come here. None of these figures says why two series differ, and a good one over the days a
model was fitted to says nothing of other days.
"""

import math

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain

Series = NDArray[np.float64]
Months = NDArray[np.int64]

NO_FLOW = 0.01 * 0.001 / 86400.0
"""Less than a weir can show, 0.01 mm a day; it counts as no flow. [m/s]"""
SEASONS = ((1, 3), (4, 6), (7, 9), (10, 12))
"""First and last month of each quarter of the year."""


def bias(simulated: Series, measured: Series) -> float:
    """What the simulated days bring too much, as a share of the measured water.

    Parameters
    ----------
    simulated : array
        Simulated flow of each day. [m/s]
    measured : array
        Measured flow of the same days. [m/s]

    Returns
    -------
    float
        Positive where too much was simulated. [-]

    Raises
    ------
    OutOfDomain
        If the series do not match or nothing flowed.

    Notes
    -----
    B = sum(s_i) / sum(o_i) - 1    (derived)

    References
    ----------
    derived, ratio of two sums
    """
    _require_pair(simulated, measured)
    return float(simulated.sum() / measured.sum()) - 1.0


def nash_sutcliffe(simulated: Series, measured: Series) -> float:
    """Share of the measured variance that the simulation explains; 1 is perfect.

    Parameters
    ----------
    simulated : array
        Simulated flow of each day. [m/s]
    measured : array
        Measured flow of the same days. [m/s]

    Returns
    -------
    float
        0 where the mean of the measured days would do as well, less where it would do better. [-]

    Raises
    ------
    OutOfDomain
        If the series do not match, nothing flowed, or the measured flow never changes.

    Notes
    -----
    E = 1 - sum((o_i - s_i)^2) / sum((o_i - mean(o))^2)    (nash1970)

    Large flows rule it.

    References
    ----------
    nash1970, efficiency
    """
    _require_pair(simulated, measured)
    _require_change(measured)
    missed = float(np.square(measured - simulated).sum())
    return 1.0 - missed / float(np.square(measured - measured.mean()).sum())


def kling_gupta(simulated: Series, measured: Series) -> float:
    """Distance of correlation, spread and mean from perfect, taken from 1; 1 is perfect.

    Parameters
    ----------
    simulated : array
        Simulated flow of each day. [m/s]
    measured : array
        Measured flow of the same days. [m/s]

    Returns
    -------
    float
        About -0.41 where the mean of the measured days would do as well. [-]

    Raises
    ------
    OutOfDomain
        If the series do not match, nothing flowed, or the measured flow never changes.

    Notes
    -----
    KGE = 1 - sqrt((r - 1)^2 + (sd(s)/sd(o) - 1)^2 + (mean(s)/mean(o) - 1)^2)    (gupta2009)

    r is the correlation of the two series; 0 is taken where the simulated flow never changes.

    References
    ----------
    gupta2009, criterion with unit weights
    """
    _require_pair(simulated, measured)
    _require_change(measured)
    spread = float(simulated.std() / measured.std())
    together = float(np.corrcoef(simulated, measured)[0, 1]) if np.ptp(simulated) > 0.0 else 0.0
    return 1.0 - math.hypot(together - 1.0, spread - 1.0, bias(simulated, measured))


def days_without_flow_share(daily_depth: Series) -> float:
    """Share of the days on which less flows than a weir can show.

    Parameters
    ----------
    daily_depth : array
        Flow of each day over the drained area. [m/s]

    Returns
    -------
    float
        Share of the days. [-]

    Raises
    ------
    OutOfDomain
        If there is no day.

    Notes
    -----
    n(q_i < 0.01 mm/day) / n    (derived)

    References
    ----------
    derived, days counted
    """
    if daily_depth.size == 0:
        raise OutOfDomain("The series has 0 days. At least one is needed. Give measured days.")
    return float((daily_depth < NO_FLOW).mean())


def season_errors(simulated: Series, measured: Series, month: Months) -> tuple[float, ...]:
    """What each quarter of the year brings too much, as a share of all measured water.

    Parameters
    ----------
    simulated : array
        Simulated flow of each day. [m/s]
    measured : array
        Measured flow of the same days. [m/s]
    month : array of int
        Month of each day, 1 to 12. [-]

    Returns
    -------
    tuple of float
        From January, from April, from July, from October; together they are the bias. [-]

    Raises
    ------
    OutOfDomain
        If the series do not match or nothing flowed.

    Notes
    -----
    e_k = sum over the quarter (s_i - o_i) / sum over all days (o_i)    (derived)

    References
    ----------
    derived, the bias by quarters
    """
    _require_pair(simulated, measured)
    over, total = simulated - measured, float(measured.sum())
    return tuple(
        float(over[(month >= first) & (month <= last)].sum()) / total for first, last in SEASONS
    )


def _require_pair(simulated: Series, measured: Series) -> None:
    if simulated.size != measured.size or measured.size == 0:
        raise OutOfDomain(
            f"simulated has {simulated.size} days and measured {measured.size}. Both need the same "
            f"days, at least one. Leave out the days that were not measured."
        )
    if not (np.all(np.isfinite(simulated)) and np.all(np.isfinite(measured))):
        raise OutOfDomain(
            "Some days have no value. Only measured days can be compared. Leave the others out."
        )
    if not measured.sum() > 0.0:
        raise OutOfDomain(
            f"measured is {measured.sum():g} m/s in all. Some flow is needed to compare with. "
            f"Check the record."
        )


def _require_change(measured: Series) -> None:
    if not np.ptp(measured) > 0.0:
        raise OutOfDomain(
            "measured never changes. A spread is needed to compare with. Check the record."
        )
