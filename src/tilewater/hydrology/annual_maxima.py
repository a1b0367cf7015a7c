# SPDX-License-Identifier: Apache-2.0
"""The largest day of each year of a daily series, and where it plots among the others.

Years with too few days are left out and named, never filled. What the maxima say about rarer years
is in `frequency`.
"""

import datetime
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse, require_finite, require_share
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.hydrology.frequency import Values

Days = NDArray[np.datetime64]
Series = NDArray[np.float64]

WATER_YEAR, CALENDAR_YEAR = 10, 1
"""First month of a year. The snowmelt and the wet spring of a water year stay together."""
LEAST_SHARE = 0.9
"""Share of its days that a year must have; practice. [-]"""
EPOCH = 1970
"""Year from which the calendar of numpy counts."""
CUNNANE = 0.4
"""Constant of a plotting position that favours no distribution (cunnane1978). [-]"""


@dataclass(frozen=True, eq=False)
class AnnualMaxima:
    """Largest day of each year that has enough days.

    Attributes
    ----------
    years : array of int
        Calendar year in which the year ends.
    values : array
        Largest value of each, in the unit of the series.
    days : array of datetime64
        The first day that had it.
    left_out : tuple of int
        Years with too few days.
    findings : tuple of Finding
        Years left out, and whether the largest day of all went with them.
    """

    years: NDArray[np.int64]
    values: Series
    days: Days
    left_out: tuple[int, ...]
    findings: tuple[Finding, ...]


def annual_maxima(
    days: Days,
    values: Series,
    *,
    first_month: int = WATER_YEAR,
    least_share: float = LEAST_SHARE,
) -> AnnualMaxima:
    """Find the largest day of each year that has enough days.

    A missing day may be absent or have no number. A year with some days missing may have lost its
    largest; how far that is likely depends on the season, which the share of days does not see.

    Parameters
    ----------
    days : array of datetime64
        The days, in any order, each once.
    values : array
        One value a day, in its own unit. [-]
    first_month : int
        Month in which a year begins: 10 for the water year, 1 for the calendar year. [-]
    least_share : float
        Share of its days that a year must have to count. [-]

    Returns
    -------
    AnnualMaxima
        In the order of the years; empty where no year has enough days.

    Raises
    ------
    OutOfDomain
        If days and values are not as many, a day comes twice or a value is infinite.

    Notes
    -----
    x_j = max of the values of year j, if its days with a value >= share x its days    (practice)
    """
    _require_series(days, values)
    if first_month not in range(1, 13):
        raise refuse("first_month", first_month, "", "It lies between 1 and 12", "Give 10 or 1")
    require_share("least_share", least_share, "Give 0.9")
    there = ~np.isnan(values)
    order = np.argsort(days[there], kind="stable")
    date, value = days[there][order].astype("datetime64[D]"), values[there][order]
    shift = (13 - first_month) % 12
    year = _year(date, shift)
    kept: list[tuple[int, int]] = []  # years with the place of their largest day
    left_out: list[int] = []
    for each in _years_between(days, shift):
        of_year = np.flatnonzero(year == each)
        ends = (np.array([each, each + 1]) * 12 - shift).astype("datetime64[M]")
        length = int(np.diff(ends.astype("datetime64[D]")).astype(np.int64)[0])
        if of_year.size == 0 or of_year.size < least_share * length:
            left_out.append(each)
        else:
            kept.append((each, int(of_year[np.argmax(value[of_year])])))
    number = np.array([at for _, at in kept], dtype=np.int64)
    names = tuple(each + EPOCH for each in left_out)
    return AnnualMaxima(
        np.array([each + EPOCH for each, _ in kept], dtype=np.int64),
        value[number],
        date[number],
        names,
        _findings(date, value, value[number], names, least_share),
    )


def plotting_positions(values: Values, *, constant: float = CUNNANE) -> Series:
    """Exceedance at which each value of a sample is plotted.

    Parameters
    ----------
    values : array
        Largest values of the years, in any order, in their own unit. [-]
    constant : float
        0 for Weibull, 0.4 for Cunnane, 0.44 for Gringorten, 0.5 for Hazen. [-]

    Returns
    -------
    array
        In the order given; of equal values the earlier has the rarer place. [-]

    Raises
    ------
    OutOfDomain
        If a value is no number or the constant is not from 0 to 0.5.

    Notes
    -----
    p = (i - a) / (n + 1 - 2 a), i = 1 for the largest    (cunnane1978)

    References
    ----------
    cunnane1978, whole paper
    """
    x = np.asarray(values, dtype=np.float64)
    require_finite("values", x, "", "Leave the years without a value out")
    if not 0.0 <= constant <= 0.5:
        raise refuse("constant", constant, "", "It lies between 0 and 0.5", "Give 0 or 0.4")
    rank = np.empty(x.size)
    rank[np.argsort(-x, kind="stable")] = np.arange(1.0, x.size + 1.0)
    positions: Series = (rank - constant) / (x.size + 1.0 - 2.0 * constant)
    return positions


def _require_series(days: Days, values: Series) -> None:
    if days.size != values.size:
        raise OutOfDomain(
            f"There are {days.size} days and {values.size} values. Each day needs one. "
            "Check the columns."
        )
    dates, counts = np.unique(days.astype("datetime64[D]"), return_counts=True)
    if np.any(counts > 1):
        raise OutOfDomain(
            f"{dates[counts > 1][0]} comes {counts.max()} times. A day has one value. "
            "Look for two series in one file."
        )
    require_finite("values", values[~np.isnan(values)], "", "Correct the day")


def _year(days: Days, shift: int) -> NDArray[np.int64]:
    """Years in which the years of these days end, counted from 1970."""
    years: NDArray[np.int64] = (days.astype("datetime64[M]").astype(np.int64) + shift) // 12
    return years


def _years_between(days: Days, shift: int) -> range:
    """Every year from the first to the last day, with or without a value."""
    if days.size == 0:
        return range(0)
    first, last = _year(np.array([days.min(), days.max()]), shift)
    return range(int(first), int(last) + 1)


def _findings(
    date: Days, value: Series, maxima: Series, left_out: tuple[int, ...], least_share: float
) -> tuple[Finding, ...]:
    """What the engineer must know of the years that do not count."""
    if not left_out:
        return ()
    found = [
        Finding(
            "annual-maxima-left-out",
            "note",
            "annual maxima",
            f"Left out for less than {least_share:.0%} of their days: "
            f"{', '.join(map(str, left_out))}.",
            source="practice",
        )
    ]
    if value.size and (maxima.size == 0 or value.max() > maxima.max()):
        day: datetime.date = date[int(value.argmax())].item()
        found.append(
            Finding(
                "annual-maxima-largest-left-out",
                "caution",
                "annual maxima",
                f"The largest day of the record, {day}, lies in a year that is left out. The "
                "maxima understate the record. Find the missing days or plan with that day too.",
                source="practice",
            )
        )
    return tuple(found)
