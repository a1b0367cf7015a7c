# SPDX-License-Identifier: Apache-2.0
"""What a series of the ditch level, or of the drain flow, says of a season.

A series is one value a day; days without a value are left out before it comes here. How much drain
flow meets the ditch too high is in `ditch_shares`.
"""

import numpy as np

from tilewater.basis.domain import require_share
from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.ditch_stage import Days, Series, day_of_year, is_in_season

FULL_YEAR = 0.5
"""Share of a season's days that a year must have to be compared with other years."""


def season_ordinary(stage: Series, day: Days, first: str, last: str) -> float:
    """Ordinary water level of the ditch in a season.

    Parameters
    ----------
    stage : array
        Mean level of each day. [m]
    day : array of datetime64
        The days.
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    float
        Median over the days of the season, of all years. [m]

    Raises
    ------
    OutOfDomain
        If no day of the series lies in the season.

    Notes
    -----
    ordinary = median(stage of the season's days)    (practice)

    References
    ----------
    practice, the level that is passed on half of the days
    """
    return float(np.median(_of_season(stage, day, first, last)))


def season_days(day: Days, first: str, last: str) -> int:
    """Days of a series that lie in a season.

    Parameters
    ----------
    day : array of datetime64
        The days with a value.
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    int
        Days, of all years. [days]

    Notes
    -----
    count of the season's days    (derived)

    References
    ----------
    derived, a count
    """
    return int(np.count_nonzero(is_in_season(first, last)[day_of_year(day) - 1]))


def season_high(highest: Series, day: Days, first: str, last: str, quantile: float = 1.0) -> float:
    """High water level of the ditch in a season.

    Parameters
    ----------
    highest : array
        Highest level of each day. [m]
    day : array of datetime64
        The days.
    first, last : str
        First and last day of the season, as `03-20`.
    quantile : float
        Share of the season's days that stay at or below it; 1 takes the highest of all. [-]

    Returns
    -------
    float
        Level. [m]

    Raises
    ------
    OutOfDomain
        If no day of the series lies in the season, or the quantile is no share.

    Notes
    -----
    high = quantile(highest level of the season's days), the highest of all as a rule    (practice)

    References
    ----------
    practice, the highest that was read; a longer series would show a higher one
    """
    require_share("quantile", quantile, "Write the share of days that stay below")
    return float(np.quantile(_of_season(highest, day, first, last), quantile))


def season_by_years(stage: Series, day: Days, first: str, last: str) -> tuple[float, ...]:
    """Ordinary water levels of the ditch in a season, year by year.

    Parameters
    ----------
    stage : array
        Mean level of each day. [m]
    day : array of datetime64
        The days.
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    tuple of float
        Median of each year that has at least half of the season's days. [m]

    Notes
    -----
    ordinary_j = median(stage of the season's days in year j)    (derived)

    A season over the turn of the year belongs to the year in which it begins.

    References
    ----------
    derived, years set side by side
    """
    days_of_season = is_in_season(first, last)
    number = day_of_year(day)
    inside = days_of_season[number - 1]
    year = day.astype("datetime64[Y]").astype(np.int64)
    if first > last:  # over the turn of the year
        end = day_of_year(np.array(f"2024-{last}", dtype="datetime64[D]"))
        year = np.where(number <= end, year - 1, year)
    found = []
    for each in np.unique(year[inside]):
        of_year = stage[inside & (year == each)]
        if of_year.size >= FULL_YEAR * days_of_season.sum():
            found.append(float(np.median(of_year)))
    return tuple(found)


def season_flow(
    daily_depth: Series, day: Days, area: float, first: str, last: str, quantile: float
) -> float:
    """Drain flow that a share of a season's days does not pass.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]
    day : array of datetime64
        The days.
    area : float
        Drained area. [m2]
    first, last : str
        First and last day of the season, as `03-20`.
    quantile : float
        Share of the days: 0.5 for an ordinary day, 1 for the largest. [-]

    Returns
    -------
    float
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If no day of the record lies in the season, or the quantile is no share.

    Notes
    -----
    Q = A quantile(q of the season's days)    (derived)

    References
    ----------
    derived, daily means of the recorded days
    """
    require_share("quantile", quantile, "Write the share of days that stay below")
    return area * float(np.quantile(_of_season(daily_depth, day, first, last), quantile))


def _of_season(values: Series, day: Days, first: str, last: str) -> Series:
    """Values of the days of a season."""
    inside: Series = values[is_in_season(first, last)[day_of_year(day) - 1]]
    if inside.size == 0:
        raise OutOfDomain(
            f"The series has no day from {first} to {last}. A season needs some. "
            "Go on reading, or state the levels of that season."
        )
    return inside
