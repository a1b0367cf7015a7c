# SPDX-License-Identifier: Apache-2.0
"""Days and ages of a renewal, and what the trend of loggers shows at both of its ends."""

import math
from datetime import date

from tilewater.monitoring.conductivity_index import IndexDays, Trend

YEAR_DAYS, DAY_S = 365.25, 86400.0


def years_between(first: str, second: str) -> float:
    """Years from one day to another.

    Parameters
    ----------
    first, second : str
        Days, year-month-day. [-]

    Returns
    -------
    float
        Below zero where the second comes first. [years]

    Notes
    -----
    t = days / 365.25    (derived)

    References
    ----------
    derived, calendar
    """
    return (date.fromisoformat(second) - date.fromisoformat(first)).days / YEAR_DAYS


def age_at(time_s: float, filled: str) -> float:
    """Age of the chips at a time.

    Parameters
    ----------
    time_s : float
        Since 1970-01-01 in universal time. [s]
    filled : str
        Day the chips were placed, year-month-day. [-]

    Returns
    -------
    float
        Age. [years]

    Notes
    -----
    t = days / 365.25    (derived)

    References
    ----------
    derived, calendar
    """
    return time_s / DAY_S / YEAR_DAYS - years_between("1970-01-01", filled)


def first_of_days(days: IndexDays) -> float:
    """When the first of the logged days was.

    Parameters
    ----------
    days : IndexDays
        Days that tell the index. [-]

    Returns
    -------
    float
        Since 1970-01-01 in universal time. [s]

    Notes
    -----
    t of the first day    (derived)

    References
    ----------
    derived, a part of a record
    """
    return float(days.time_s[0])


def last_of_days(days: IndexDays) -> float:
    """When the last of the logged days was.

    Parameters
    ----------
    days : IndexDays
        Days that tell the index. [-]

    Returns
    -------
    float
        Since 1970-01-01 in universal time. [s]

    Notes
    -----
    t of the last day    (derived)

    References
    ----------
    derived, a part of a record
    """
    return float(days.time_s[-1])


def trend_at_first(trend: Trend) -> float:
    """Conductivity that loggers show at the beginning of their record.

    Parameters
    ----------
    trend : Trend
        Of flow per wet section and gradient. [-]

    Returns
    -------
    float
        At 20 degC; less than the true one by what inertia takes, a tenth or so. [m/s]

    Notes
    -----
    K = I_first    (sen1968)

    References
    ----------
    sen1968, line through the median of slopes
    """
    return trend.first


def trend_at_last(trend: Trend) -> float:
    """Conductivity that loggers show at the end of their record.

    Parameters
    ----------
    trend : Trend
        Of flow per wet section and gradient. [-]

    Returns
    -------
    float
        At 20 degC; less than the true one by what inertia takes, a tenth or so. [m/s]

    Notes
    -----
    K = I_first exp(b t)    (sen1968)

    References
    ----------
    sen1968, line through the median of slopes
    """
    return trend.first * math.exp(trend.per_year * trend.years)
