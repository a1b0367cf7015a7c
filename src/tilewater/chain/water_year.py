# SPDX-License-Identifier: Apache-2.0
"""What a daily series of drain flow says of its years, months and days.

Days are counted from 1 January of the year 1. A measured series may have gaps: means are those of
the days there are, and a year counts with at least nine days of ten.
"""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.chain.water_series import EPOCH, Ordinals
from tilewater.hydrology.daily_weather import Series

DAY = 86400.0
YEAR_DAYS = 365.25
MONTHS = 12
LEAST_SHARE = 0.9
"""Share of its days that a year must have; practice. [-]"""
AT_LIMIT = 0.999
"""A day at this share of what the main carries is at the limit; practice. [-]"""


def calendar(day: Ordinals) -> NDArray[np.datetime64]:
    """Dates of days that are counted from the year 1."""
    return (day - EPOCH).astype("datetime64[D]")


def years_of(day: Ordinals) -> NDArray[np.int64]:
    """Calendar years that have nine days of ten.

    Parameters
    ----------
    day : array of int
        Days with a value, counted from the year 1. [-]

    Returns
    -------
    array of int
        Years. [-]

    Notes
    -----
    years with days >= 0.9 x 365    (practice)

    References
    ----------
    practice, a year with a gap of a month says little of its water
    """
    year, count = np.unique(_year(day), return_counts=True)
    return year[count >= LEAST_SHARE * 365]


def year_depths(day: Ordinals, depth: Series) -> Series:
    """Drainage of each calendar year that has nine days of ten.

    Parameters
    ----------
    day : array of int
        Days with a value, counted from the year 1. [-]
    depth : array
        Drain flow of each over the drained area. [m/s]

    Returns
    -------
    array
        Depth of each of these years. [m]

    Notes
    -----
    D = 86400 x days of the year x mean(q)    (derived)

    Missing days count as if they were like the others of their year.

    References
    ----------
    derived, mean of the days there are
    """
    of_day = _year(day)
    found = []
    for year in years_of(day):
        ends = np.array([year - 1970, year - 1969]).astype("datetime64[Y]").astype("datetime64[D]")
        length = int(np.diff(ends).astype(np.int64)[0])
        found.append(float(depth[of_day == year].mean()) * DAY * length)
    return np.array(found)


def month_depths(day: Ordinals, depth: Series) -> Series:
    """Drainage of each month of a mean year.

    Parameters
    ----------
    day : array of int
        Days with a value, counted from the year 1. [-]
    depth : array
        Drain flow of each over the drained area. [m/s]

    Returns
    -------
    array of 12
        Depth of each month; not a number where no year has a day of it. [m]

    Notes
    -----
    D_m = 86400 x days of the month x mean(q of the month)    (derived)

    References
    ----------
    derived, mean of the days there are
    """
    length = np.array([31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    of_day = calendar(day).astype("datetime64[M]").astype(np.int64) % MONTHS
    days = np.bincount(of_day, minlength=MONTHS)
    total = np.bincount(of_day, weights=depth, minlength=MONTHS)
    mean = np.divide(total, days, out=np.full(MONTHS, np.nan), where=days > 0)
    depths: Series = mean * DAY * length
    return depths


def month_shares(month_depth: Series) -> Series:
    """Share of the year's drainage in each month.

    Parameters
    ----------
    month_depth : array of 12
        Depth of each month of a mean year. [m]

    Returns
    -------
    array of 12
        Shares that sum to 1. [-]

    Raises
    ------
    OutOfDomain
        If no water flows, or a month has no day.

    Notes
    -----
    s_m = D_m / sum(D)    (derived)

    References
    ----------
    derived, parts of a whole
    """
    total = float(month_depth.sum())
    if not total > 0.0:
        raise OutOfDomain(
            f"The months bring {1000 * total:.3g} mm. Shares need some water, and a day of every "
            "month. Use a longer record."
        )
    shares: Series = month_depth / total
    return shares


def wettest_months(month_share: Series) -> float:
    """First of the three months in a row that bring most of the year's drainage.

    Parameters
    ----------
    month_share : array of 12
        Share of each month. [-]

    Returns
    -------
    float
        Number of the month, 1 for January; 11 is November to January. [-]

    Notes
    -----
    m with the largest s_m + s_(m+1) + s_(m+2)    (derived)

    References
    ----------
    derived, sums of parts
    """
    return float(np.argmax(_of_three(month_share)) + 1)


def share_of_wettest_months(month_share: Series) -> float:
    """Share of the year's drainage in the three months in a row that bring most.

    Parameters
    ----------
    month_share : array of 12
        Share of each month. [-]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    max(s_m + s_(m+1) + s_(m+2))    (derived)

    References
    ----------
    derived, sums of parts
    """
    return float(_of_three(month_share).max())


def _of_three(month_share: Series) -> Series:
    """Sums of each month and the two after it."""
    sums: Series = month_share + np.roll(month_share, -1) + np.roll(month_share, -2)
    return sums


def median_year(years: NDArray[np.int64], depth: Series) -> float:
    """The year whose drainage is nearest the middle one.

    Parameters
    ----------
    years : array of int
        Years. [-]
    depth : array
        Drainage of each. [m]

    Returns
    -------
    float
        Year. [years]

    Raises
    ------
    OutOfDomain
        If there is no year.

    Notes
    -----
    year with rank (n + 1) / 2, the lower of two    (derived)

    References
    ----------
    derived, order of the years
    """
    if years.size == 0:
        raise OutOfDomain("The series has 0 whole years. At least one is needed. Use a longer one.")
    return float(years[np.argsort(depth, kind="stable")[(years.size - 1) // 2]])


def zero_flow_share(flow: Series) -> float:
    """Share of the days without flow.

    Parameters
    ----------
    flow : array
        Flow of each day. [m3/s]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    f = days with Q = 0 / days    (derived)

    References
    ----------
    derived, a count
    """
    return float((flow == 0.0).mean())


def flow_of_one_day_in_hundred(flow: Series) -> float:
    """Flow that one day of a hundred passes.

    Parameters
    ----------
    flow : array
        Flow of each day. [m3/s]

    Returns
    -------
    float
        Flow, the 99th percentile of all days. [m3/s]

    Notes
    -----
    Q with share of days <= Q of 0.99, straight between ranks    (derived)

    References
    ----------
    derived, order of the days
    """
    return float(np.quantile(flow, 0.99))


def days_in_class(flow: Series, peak: float, above: float = -np.inf, to: float = np.inf) -> float:
    """Days of a mean year whose flow lies within a class.

    Parameters
    ----------
    flow : array
        Flow of each day. [m3/s]
    peak : float
        Flow that the classes are shares of. [m3/s]
    above, to : float
        Ends of the class as shares of the peak, if it has them; the upper one belongs to it. [-]

    Returns
    -------
    float
        Days. [days]

    Raises
    ------
    OutOfDomain
        If the peak is not above 0.

    Notes
    -----
    d = 365.25 x share of days with a P < Q <= b P    (derived)

    A flow within 0.1 percent of the peak counts as the peak.

    References
    ----------
    derived, a count
    """
    return YEAR_DAYS * float(_inside(flow, peak, above, to).mean())


def water_in_class(flow: Series, peak: float, above: float = -np.inf, to: float = np.inf) -> float:
    """Share of all the water that flows on days of a class.

    Parameters
    ----------
    flow : array
        Flow of each day. [m3/s]
    peak : float
        Flow that the classes are shares of. [m3/s]
    above, to : float
        Ends of the class as shares of the peak, if it has them; the upper one belongs to it. [-]

    Returns
    -------
    float
        Share; 0 where no water flows. [-]

    Raises
    ------
    OutOfDomain
        If the peak is not above 0.

    Notes
    -----
    f = sum(Q with a P < Q <= b P) / sum(Q)    (derived)

    References
    ----------
    derived, a sum
    """
    total = float(flow.sum())
    inside = _inside(flow, peak, above, to)
    return float(flow[inside].sum()) / total if total > 0.0 else 0.0


def _inside(
    flow: Series, peak: float, above: float = -np.inf, to: float = np.inf
) -> NDArray[np.bool_]:
    if not peak > 0.0:
        raise OutOfDomain(
            f"peak is {peak:g} m3/s. Classes are shares of it. Give what the main carries."
        )
    share = np.where(np.abs(flow / peak - 1.0) < 1.0 - AT_LIMIT, 1.0, flow / peak)
    inside: NDArray[np.bool_] = (share > above) & (share <= to)
    return inside


def _year(day: Ordinals) -> NDArray[np.int64]:
    years: NDArray[np.int64] = calendar(day).astype("datetime64[Y]").astype(np.int64) + 1970
    return years
