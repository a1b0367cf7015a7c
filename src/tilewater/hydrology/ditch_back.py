# SPDX-License-Identifier: Apache-2.0
"""Days on which the ditch stands above a crest, and those of them on which its water runs back.

A day counts with its mean level and its mean flow: a rise and fall within the day is not seen.
Days without a level are left out and count as the others of their season.
"""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.ditch_shares import Numbers, elevation_on_days
from tilewater.hydrology.ditch_stage import Series, is_in_season

STILL = 1e-14
"""Drain flow that holds nothing back, a millionth of a millimetre a day. [m/s]"""
LEAP_DAY = 60
"""Number of the 29th of February, which is there every fourth year."""


def days_with_level(number: Numbers, stage: Series | float, first: str, last: str) -> int:
    """Days of a season on which the level of the ditch is known.

    Parameters
    ----------
    number : array of int
        Day of the year of each, as `day_of_year` counts. [days]
    stage : array or float
        Level of the ditch on those days, or of the whole season. [m]
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    int
        Days. [days]

    Notes
    -----
    days with a level    (derived)

    References
    ----------
    derived, a count
    """
    known = np.broadcast_to(~np.isnan(stage), number.shape)
    return int(np.count_nonzero(is_in_season(first, last)[number - 1] & known))


def days_above_per_year(
    number: Numbers,
    stage: Series | float,
    crest: Series | float,
    first: str,
    last: str,
) -> float:
    """Days of a mean year on which the ditch stands above a crest, whether drains flow or not.

    Parameters
    ----------
    number : array of int
        Day of the year of each, as `day_of_year` counts. [days]
    stage : array or float
        Level of the ditch on those days, or of the whole season. [m]
    crest : array or float
        Elevation that the ditch is compared with, one or one for each of the 366 days. [m]
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    float
        Days. [days]

    Raises
    ------
    OutOfDomain
        If no day of the season has a level.

    Notes
    -----
    d = D n(stage_i > crest_i) / n, days of the season with a level    (derived)

    D is the length of the season; the 29th of February counts a quarter.

    References
    ----------
    derived, a count of daily means
    """
    above, known = _above(number, stage, crest, first, last)
    return _season_length(first, last) * int(np.count_nonzero(above)) / known


def days_back_per_year(
    daily_depth: Series,
    number: Numbers,
    stage: Series | float,
    crest: Series | float,
    first: str,
    last: str,
) -> float:
    """Days of a mean year on which the ditch stands above a crest and no drain flow holds it.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each day over the drained area. [m/s]
    number : array of int
        Day of the year of each, as `day_of_year` counts. [days]
    stage : array or float
        Level of the ditch on those days, or of the whole season. [m]
    crest : array or float
        Elevation that the ditch is compared with, one or one for each of the 366 days. [m]
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    float
        Days. [days]

    Raises
    ------
    OutOfDomain
        If no day of the season has a level.

    Notes
    -----
    d = D n(stage_i > crest_i and q_i = 0) / n, days of the season with a level    (derived)

    A flow of the drains keeps the water moving out, if slowly; a rise of the ditch within such a
    day is not seen.

    References
    ----------
    derived, a count of daily means
    """
    share = share_of_days_back(daily_depth, number, stage, crest, first, last)
    return _season_length(first, last) * share


def share_of_days_back(
    daily_depth: Series,
    number: Numbers,
    stage: Series | float,
    crest: Series | float,
    first: str,
    last: str,
) -> float:
    """Share of the days of a season on which ditch water runs back over a crest.

    Parameters
    ----------
    daily_depth : array
        Drain flow of each day over the drained area. [m/s]
    number : array of int
        Day of the year of each, as `day_of_year` counts. [days]
    stage : array or float
        Level of the ditch on those days, or of the whole season. [m]
    crest : array or float
        Elevation that the ditch is compared with, one or one for each of the 366 days. [m]
    first, last : str
        First and last day of the season, as `03-20`.

    Returns
    -------
    float
        Share of the days with a level. [-]

    Raises
    ------
    OutOfDomain
        If no day of the season has a level.

    Notes
    -----
    f = n(stage_i > crest_i and q_i = 0) / n, days of the season with a level    (derived)

    References
    ----------
    derived, a count of daily means
    """
    above, known = _above(number, stage, crest, first, last)
    return int(np.count_nonzero(above & (daily_depth <= STILL))) / known


def _above(
    number: Numbers,
    stage: Series | float,
    crest: Series | float,
    first: str,
    last: str,
) -> tuple[NDArray[np.bool_], int]:
    """Days of a season with the ditch above a crest, and how many of its days have a level."""
    apart = np.broadcast_to(np.asarray(stage) - elevation_on_days(crest, number), number.shape)
    inside = is_in_season(first, last)[number - 1]
    known = int(np.count_nonzero(inside & ~np.isnan(apart)))
    if known == 0:
        raise OutOfDomain(
            f"No day from {first} to {last} has a level of the ditch. A share of the days needs "
            "one. Log drain flow and ditch on the same days."
        )
    return inside & (apart > 0), known


def _season_length(first: str, last: str) -> float:
    inside = is_in_season(first, last)
    return float(inside.sum()) - 0.75 * bool(inside[LEAP_DAY - 1])
