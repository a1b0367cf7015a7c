# SPDX-License-Identifier: Apache-2.0
"""How much of the drain flow meets the ditch above a crest.

Series are one value a day. A day counts with its mean level against its mean flow: a peak within
the day is not seen. Days on which either is not known are left out, and `days_in_common` counts
what is left. Days on which the ditch runs back are counted in `ditch_back`.
"""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import require_not_negative
from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.ditch_stage import Days, Series, day_of_year, is_in_season

Numbers = NDArray[np.int64]


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


def flow_of_days(daily_depth: Series, area: float) -> Series:
    """Drain flow on the days of a record.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each recorded day over the drained area. [m/s]
    area : float
        Drained area. [m2]

    Returns
    -------
    array
        Flow of each day. [m3/s]

    Notes
    -----
    Q_i = q_i A    (derived)

    References
    ----------
    derived, a depth over an area
    """
    return daily_depth * area


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
    daily_depth: Series, number: Numbers, stage: Series | float, first: str, last: str
) -> int:
    """Days of a season with drain flow on which the level of the ditch is known too.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each day over the drained area. [m/s]
    number : array of int
        Day of the year of each, as `day_of_year` counts. [days]
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
    known = np.broadcast_to(~np.isnan(stage), number.shape)
    inside = is_in_season(first, last)[number - 1]
    return int(np.count_nonzero(inside & known & (daily_depth > 0)))


def season_share_above(
    daily_depth: Series,
    number: Numbers,
    stage: Series | float,
    crest: float,
    first: str,
    last: str,
) -> float:
    """Share of a season's drain flow that meets the ditch above a crest.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each day over the drained area. [m/s]
    number : array of int
        Day of the year of each, as `day_of_year` counts. [days]
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
    inside = is_in_season(first, last)[number - 1]
    level = stage[inside] if isinstance(stage, np.ndarray) else stage
    return volume_share_above(daily_depth[inside], level, crest)


def year_share_above(
    daily_depth: Series, number: Numbers, stage: Series, crest: Series | float
) -> float:
    """Share of all drain flow that meets the ditch above a crest.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each day over the drained area. [m/s]
    number : array of int
        Day of the year of each, as `day_of_year` counts. [days]
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
    return volume_share_above(daily_depth, stage, elevation_on_days(crest, number))


def elevation_on_days(crest: Series | float, number: Numbers) -> Series | float:
    """An elevation on each day, where it may change with the day of the year.

    Parameters
    ----------
    crest : array of 366 or float
        One for each day of the year, or the same on all. [m]
    number : array of int
        Day of the year of each, as `day_of_year` counts. [days]

    Returns
    -------
    array or float
        Elevation on each of the days. [m]

    Notes
    -----
    z_i = z(day of the year)    (derived)

    References
    ----------
    derived, a table of the days
    """
    return crest[number - 1] if isinstance(crest, np.ndarray) else crest
