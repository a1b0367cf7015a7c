# SPDX-License-Identifier: Apache-2.0
"""What a series of the ditch level says of a season, and how much drain flow meets it too high.

A series is one value a day; days without a value are left out before it comes here. A day counts
with its mean level against its mean flow: a peak within the day is not seen.
"""

import numpy as np

from tilewater.basis.domain import require_not_negative, require_share
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


def stage_of_days(day: Days, stage_day: Days, stage: Series) -> Series:
    """Water level of the ditch on the days of another record.

    Parameters
    ----------
    day : array of datetime64
        Days that are asked for.
    stage_day : array of datetime64
        Days of the series of levels, rising.
    stage : array
        Level on each of those. [m]

    Returns
    -------
    array
        Level on each day asked for; not a number where the series has no such day. [m]

    Notes
    -----
    stage(day), days in common only    (derived)

    References
    ----------
    derived, days matched by their date
    """
    place = np.clip(np.searchsorted(stage_day, day), 0, stage_day.size - 1)
    return np.where(stage_day[place] == day, stage[place], np.nan)


def volume_share_above(flow: Series, stage: Series | float, crest: Series | float) -> float:
    """Share of a volume of water that flows while the ditch stands above a crest.

    Parameters
    ----------
    flow : array
        Flow of each day, in any unit. [m3/s]
    stage : array or float
        Level of the ditch on those days; days on which it is not a number are left out. [m]
    crest : array or float
        Elevation that the ditch is compared with. [m]

    Returns
    -------
    float
        Share, 0 to 1. [-]

    Raises
    ------
    OutOfDomain
        If a flow is negative, or no water flows on the days with a level.

    Notes
    -----
    f = sum(Q_i where stage_i > crest_i) / sum(Q_i)    (derived)

    References
    ----------
    derived, daily means
    """
    require_not_negative("flow", flow, "m3/s", "Check the record")
    above = np.broadcast_to(np.asarray(stage) - np.asarray(crest), flow.shape)
    counted = ~np.isnan(above)
    total = float(flow[counted].sum())
    if total <= 0:
        raise OutOfDomain(
            "No water flows on the days on which the level of the ditch is known. A share needs "
            "some. Log drain flow and ditch on the same days."
        )
    return float(flow[counted & (above > 0)].sum()) / total


def table_on_days(day: Days, table: Series) -> Series:
    """Values of a table of the days of a year on the days of a record.

    Parameters
    ----------
    day : array of datetime64
        Days that are asked for.
    table : array of 366
        Value of each day of the year. [m]

    Returns
    -------
    array
        Value on each day asked for. [m]

    Notes
    -----
    value(day) = table(day of the year)    (derived)

    References
    ----------
    derived, a table of the days
    """
    values: Series = table[day_of_year(day) - 1]
    return values


def days_in_common(
    daily_depth: Series, day: Days, stage: Series | float, first: str, last: str
) -> int:
    """Days of a season with drain flow on which the level of the ditch is known too.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]
    day : array of datetime64
        The days.
    stage : array or float
        Level of the ditch on those days. [m]
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    int
        Days. [days]

    Notes
    -----
    days with q > 0 and a level    (derived)

    References
    ----------
    derived, a count
    """
    known = np.broadcast_to(~np.isnan(stage), day.shape)
    inside = is_in_season(first, last)[day_of_year(day) - 1]
    return int(np.count_nonzero(inside & known & (daily_depth > 0)))


def season_share_above(
    daily_depth: Series, day: Days, stage: Series | float, crest: float, first: str, last: str
) -> float:
    """Share of a season's drain flow that meets the ditch above a crest.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]
    day : array of datetime64
        The days.
    stage : array or float
        Level of the ditch on those days, or of the whole season. [m]
    crest : float
        Elevation that the ditch is compared with. [m]
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    float
        Share of the volume of the season's days. [-]

    Raises
    ------
    OutOfDomain
        If no water flows on the days of the season with a level.

    Notes
    -----
    f = sum(q_i where stage_i > crest) / sum(q_i), days of the season    (derived)

    References
    ----------
    derived, daily means
    """
    inside = is_in_season(first, last)[day_of_year(day) - 1]
    level = stage[inside] if isinstance(stage, np.ndarray) else stage
    return volume_share_above(daily_depth[inside], level, crest)


def year_share_above(daily_depth: Series, day: Days, stage: Series, crest: Series | float) -> float:
    """Share of all recorded drain flow that meets the ditch above a crest.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]
    day : array of datetime64
        The days.
    stage : array
        Level of the ditch on those days. [m]
    crest : array or float
        Elevation that the ditch is compared with, one or one for each of the 366 days. [m]

    Returns
    -------
    float
        Share of the volume, each day against the boards of its season. [-]

    Raises
    ------
    OutOfDomain
        If no water flows on the days with a level.

    Notes
    -----
    f = sum(q_i where stage_i > crest_i) / sum(q_i)    (derived)

    References
    ----------
    derived, daily means
    """
    height = crest[day_of_year(day) - 1] if isinstance(crest, np.ndarray) else crest
    return volume_share_above(daily_depth, stage, height)


def _of_season(values: Series, day: Days, first: str, last: str) -> Series:
    """Values of the days of a season."""
    inside: Series = values[is_in_season(first, last)[day_of_year(day) - 1]]
    if inside.size == 0:
        raise OutOfDomain(
            f"The series has no day from {first} to {last}. A season needs some. "
            "Go on reading, or state the levels of that season."
        )
    return inside
