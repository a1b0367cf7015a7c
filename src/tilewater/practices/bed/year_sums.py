# SPDX-License-Identifier: Apache-2.0
"""What the days of a routed record add up to, by year, over all years and over draws.

Percents are ratios of loads of the same years; a mean of percents is never taken.
"""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse
from tilewater.basis.errors import OutOfDomain
from tilewater.practices.bed._split import Array, Whole

Days = NDArray[np.datetime64]

WHOLE_YEAR = 360
"""Days that make a year whole."""
INFLOW, THROUGH, LOAD, LOAD_THROUGH, REMOVED, LIMITED = range(6)
"""Columns of the sums by year."""


def year_by_day(day: Days) -> Whole:
    """Number of the year of each day, from 0, counted in calendar years.

    Parameters
    ----------
    day : array of datetime64
        Days.

    Returns
    -------
    array of int
        Number. [-]

    References
    ----------
    derived, a calendar
    """
    years = day.astype("datetime64[Y]").astype(np.int64)
    return np.asarray(years - years[0], dtype=np.int64)


def whole_years(day: Days) -> NDArray[np.bool_]:
    """Which years of a record are whole.

    Parameters
    ----------
    day : array of datetime64
        Days.

    Returns
    -------
    array of bool
        By the number of `year_by_day`; a year with fewer than 360 days is not whole. [-]

    Raises
    ------
    OutOfDomain
        If no year is whole.

    References
    ----------
    practice, a year with a few days missing counts
    """
    whole = np.bincount(year_by_day(day)) >= WHOLE_YEAR
    if not whole.any():
        raise OutOfDomain(
            f"The record holds {day.size} days and no whole calendar year. A mean year needs one "
            "of 360 days or more. Give a longer record."
        )
    return whole


def count_of(whole: NDArray[np.bool_]) -> float:
    """Number of whole years.

    Parameters
    ----------
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    float
        How many. [years]

    Notes
    -----
    n = number that are whole    (derived)

    References
    ----------
    derived, a count
    """
    return float(np.count_nonzero(whole))


def quantile_of(values: Array, share: float) -> float:
    """Quantile of draws.

    Parameters
    ----------
    values : array
        Draws, in their own unit. [-]
    share : float
        Share of the draws below it. [-]

    Returns
    -------
    float
        Quantile, in the unit of the draws. [-]

    Notes
    -----
    straight lines between the sorted draws    (derived)

    References
    ----------
    derived, empirical quantile
    """
    if values.size == 0:
        raise refuse("values", 0.0, "", "At least one draw is needed", "Run the draws")
    return float(np.quantile(values, share))


def removed_by_year(sums: Array, whole: NDArray[np.bool_]) -> Array:
    """Nitrate nitrogen taken out in each draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    array
        Removed, all draws and years in a row. [kg]

    Notes
    -----
    M = sum of Q (C_in - C_out) over the days of the year    (derived)

    References
    ----------
    derived, sums of the daily routing
    """
    return np.asarray(sums[:, whole, REMOVED].ravel(), dtype=np.float64)


def load_by_year(sums: Array, whole: NDArray[np.bool_]) -> Array:
    """Nitrate nitrogen that the drains bring in each draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    array
        Load at the diversion, all draws and years in a row. [kg]

    Notes
    -----
    L = sum of Q C_in over the days of the year    (derived)

    References
    ----------
    derived, sums of the daily routing
    """
    return np.asarray(sums[:, whole, LOAD].ravel(), dtype=np.float64)


def site_percent_by_year(sums: Array, whole: NDArray[np.bool_], volume_below_share: float) -> Array:
    """Share of the site's load taken out, by draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]
    volume_below_share : float
        Load of the site over the load that reaches the diversion. [-]

    Returns
    -------
    array
        Percent, in a row. [%]

    Notes
    -----
    100 M_removed / M_site    (derived)

    References
    ----------
    derived, a ratio of loads of the same year
    """
    load = sums[:, whole, LOAD] * volume_below_share
    return _percent(sums[:, whole, REMOVED], load)


def bed_percent_by_year(sums: Array, whole: NDArray[np.bool_]) -> Array:
    """Share of the load through the bed taken out, by draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    array
        Percent, in a row. [%]

    Notes
    -----
    100 M_removed / M_bed    (derived)

    References
    ----------
    derived, a ratio of loads of the same year
    """
    return _percent(sums[:, whole, REMOVED], sums[:, whole, LOAD_THROUGH])


def treated_share_by_year(sums: Array, whole: NDArray[np.bool_]) -> Array:
    """Share of the year's water that goes through the bed, by draw and whole year.

    Parameters
    ----------
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    array
        Ratio, in a row. [-]

    Notes
    -----
    V_bed / V_drains    (derived)

    References
    ----------
    derived, a ratio of volumes of the same year
    """
    return _percent(sums[:, whole, THROUGH], sums[:, whole, INFLOW]) / 100.0


def long_run_reduction(sums: Array, whole: NDArray[np.bool_]) -> Array:
    """Reduction in the treated water over all whole years, by draw.

    Parameters
    ----------
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    array of shape (draws,)
        Ratio of loads. [-]

    Notes
    -----
    sum M_removed / sum M_bed    (derived)

    References
    ----------
    derived, a ratio of loads over all years, not a mean of percents
    """
    through = sums[:, whole, LOAD_THROUGH].sum(axis=1)
    return _percent(sums[:, whole, REMOVED].sum(axis=1), through) / 100.0


def long_run_share(sums: Array, whole: NDArray[np.bool_]) -> Array:
    """Share of the water of all whole years that goes through the bed, by draw.

    Parameters
    ----------
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    array of shape (draws,)
        Ratio of volumes. [-]

    Notes
    -----
    sum V_bed / sum V_drains    (derived)

    References
    ----------
    derived, a ratio of volumes over all years
    """
    inflow = sums[:, whole, INFLOW].sum(axis=1)
    return _percent(sums[:, whole, THROUGH].sum(axis=1), inflow) / 100.0


def long_run_removed(sums: Array, whole: NDArray[np.bool_]) -> Array:
    """Nitrate nitrogen taken out in a mean year, by draw.

    Parameters
    ----------
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    array of shape (draws,)
        Mean over the whole years. [kg]

    Notes
    -----
    mean of M over the years    (derived)

    References
    ----------
    derived, sums of the daily routing
    """
    return np.asarray(sums[:, whole, REMOVED].mean(axis=1), dtype=np.float64)


def probability_above(values: Array, limit: float) -> float:
    """Share of draws that keep a limit.

    Parameters
    ----------
    values : array
        Draws, in the unit of the limit. [-]
    limit : float
        Least that is asked. [-]

    Returns
    -------
    float
        Share of the draws at or above the limit. [-]

    Notes
    -----
    P = n(x >= limit) / n    (derived)

    References
    ----------
    derived, a count of draws
    """
    return float(np.mean(values >= limit))


def _percent(part: Array, whole: Array) -> Array:
    share = np.divide(part, whole, out=np.zeros_like(part), where=whole > 0)
    return np.asarray(100.0 * share.ravel(), dtype=np.float64)
