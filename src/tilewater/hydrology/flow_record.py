# SPDX-License-Identifier: Apache-2.0
"""What a measured record of daily drain flow says by itself.

Series are depths over the drained area, one value a day; days without a value are left out before
they come here and counted by `complete_share`. Daily means hide the peaks within a day, so a
capacity catches somewhat less of the true water than these shares say.
"""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain

Series = NDArray[np.float64]


def peak_daily_depth(daily_depth: Series) -> float:
    """Largest daily depth of a record.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each day over the drained area. [m/s]

    Returns
    -------
    float
        Largest value. [m/s]

    Raises
    ------
    OutOfDomain
        If the record holds no day.

    Notes
    -----
    q_max = max(q_i)    (derived)

    References
    ----------
    derived, largest daily mean; the peak within the day is higher
    """
    _require_days(daily_depth)
    return float(daily_depth.max())


def mean_annual_depth(daily_depth: Series) -> float:
    """Drainage of a mean year of a record.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]

    Returns
    -------
    float
        Depth per year of 365.25 days. [m]

    Raises
    ------
    OutOfDomain
        If the record holds no day.

    Notes
    -----
    D = 365.25 x 86400 x mean(q_i)    (derived)

    Missing days count as if they were like the recorded ones.

    References
    ----------
    derived, mean of the recorded days
    """
    _require_days(daily_depth)
    return float(daily_depth.mean()) * 365.25 * 86400.0


def flow_days_per_year(daily_depth: Series) -> float:
    """Days with flow in a mean year of a record.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]

    Returns
    -------
    float
        Days. [days]

    Raises
    ------
    OutOfDomain
        If the record holds no day.

    Notes
    -----
    d = 365.25 x share of days with q > 0    (derived)

    References
    ----------
    derived, count of the recorded days with flow
    """
    _require_days(daily_depth)
    return 365.25 * float((daily_depth > 0).mean())


def share_within_capacity(daily_depth: Series, area: float, capacity: float) -> float:
    """Share of the recorded water that lies within a capacity.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]
    area : float
        Drained area. [m2]
    capacity : float
        Flow that the practice takes. [m3/s]

    Returns
    -------
    float
        Share of the volume. [-]

    Raises
    ------
    OutOfDomain
        If the record holds no flow.

    Notes
    -----
    f = sum(min(q_i A, c)) / sum(q_i A)    (derived)

    References
    ----------
    derived, daily means within a constant capacity
    """
    _require_days(daily_depth)
    total = float(daily_depth.sum()) * area
    if total <= 0:
        raise OutOfDomain(
            "The flow record holds no flow at all. A share needs some water. "
            "Check that the right column is read."
        )
    return float(np.minimum(daily_depth * area, max(capacity, 0.0)).sum()) / total


def capacity_for_share(daily_depth: Series, area: float, share: float) -> float:
    """Capacity within which a wanted share of the recorded water lies.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]
    area : float
        Drained area. [m2]
    share : float
        Wanted share of the volume, 0 to 1. [-]

    Returns
    -------
    float
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If the record holds no day.

    Notes
    -----
    c with sum(min(q_i A, c)) = f sum(q_i A)    (derived)

    Exact: the sum is piecewise linear in c between the sorted daily flows.

    References
    ----------
    derived, share_within_capacity turned round
    """
    _require_days(daily_depth)
    flows = np.concatenate(([0.0], np.sort(daily_depth) * area))
    below = np.concatenate(([0.0], np.cumsum(flows)[:-1]))
    caught = below + flows * np.arange(len(flows), 0, -1)
    return float(np.interp(share * flows.sum(), caught, flows))


def _require_days(daily_depth: Series) -> None:
    if daily_depth.size == 0:
        raise OutOfDomain(
            "The flow record holds no day with a value. At least one is needed. "
            "Check the columns and the missing-value word."
        )
