# SPDX-License-Identifier: Apache-2.0
"""How well chips still let water through: flow over head drop and wet section, and its trend.

The index is a conductivity as it seems: what is lost at the ends of the bed is in it, so its size
says little. But its trend is that of the conductivity, measured without digging. Cold water is
thicker, so each value is brought to 20 C first; without that every winter would look like clogging.
"""

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from tilewater.basis.domain import require_positive, require_share
from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.hydraulics.media import conductivity_at_temperature
from tilewater.monitoring.series import DAY, Floats

YEAR = 365.25 * DAY
LEAST_DROP = 0.02
"""Head drop below which two loggers do not tell it well enough. [m]"""
FEWEST_DAYS = 10
SHORTEST = 1.9
"""Span from which a trend is more than a season. [years]"""
TAIL = 1.2815515655446004
"""Normal quantile of 0.9."""


@dataclass(frozen=True)
class IndexDays:
    """The index of each day that tells it.

    Attributes
    ----------
    time_s : array
        Middle of the day. [s]
    index : array
        Flow per wet section and gradient, at 20 C. [m/s]
    """

    time_s: Floats
    index: Floats


@dataclass(frozen=True)
class Trend:
    """A trend with its range, as a share of the index at the beginning, per year.

    Attributes
    ----------
    per_year, low, high : float
        Median slope of the logarithm, and its P10 and P90. [1/year]
    first : float
        Index at the beginning of the record. [m/s]
    days : int
        Days that tell it. [-]
    years : float
        From the first of them to the last. [years]
    """

    per_year: float
    low: float
    high: float
    first: float
    days: int
    years: float


def index_of_days(
    time_s: Floats,
    flow: Floats,
    head_drop: Floats,
    temperature: Floats,
    section: Floats,
    length: float,
    missing_share: float = 0.0,
) -> IndexDays:
    """Flow per wet section and gradient of each day, brought to 20 C.

    Parameters
    ----------
    time_s : array
        Middle of each step. [s]
    flow : array
        Through the practice. [m3/s]
    head_drop : array
        From the inlet pool to the outlet pool. [m]
    temperature : array
        Of the water in the bed. [degC]
    section : array
        Wet section of the media, mean along the bed. [m2]
    length : float
        Flow length. [m]
    missing_share : float
        Share of a day that may be missing. [-]

    Returns
    -------
    IndexDays
        Days with a drop of 2 cm or more throughout. [m/s]

    Raises
    ------
    OutOfDomain
        If the share is no share.

    Notes
    -----
    I = Q L / (A dh) * mu(T) / mu(20 C)    (derived)

    References
    ----------
    derived, conductivity goes as one over the viscosity; see `media.conductivity_at_temperature`
    """
    require_share("missing share", missing_share, "Take 0 to 1")
    require_positive("length", length, "m", "Check the size of the bed")
    good = (head_drop >= LEAST_DROP) & (flow > 0.0) & ~np.isnan(temperature)
    day, which = np.unique(np.floor(time_s / DAY), return_inverse=True)
    count = np.bincount(which)
    used = np.bincount(which, good.astype(np.float64))
    with np.errstate(invalid="ignore", divide="ignore"):
        means = [
            np.bincount(which, np.where(good, x, 0.0)) / used
            for x in (flow, head_drop, temperature, section)
        ]
    whole = used >= np.maximum((1.0 - missing_share) * count, 1.0)
    q, drop, warm, wet = (mean[whole] for mean in means)
    thinner = np.array([conductivity_at_temperature(1.0, float(t)) for t in warm])
    return IndexDays(
        (day[whole] + 0.5) * DAY, np.asarray(q * length / (wet * drop) / thinner, np.float64)
    )


def trend_theil_sen(days: IndexDays) -> Trend:
    """Trend of the index by the median of all slopes, with the range that its scatter leaves.

    Parameters
    ----------
    days : IndexDays
        Days that tell it. [m/s]

    Returns
    -------
    Trend
        Of the logarithm: a share per year. [1/year]

    Raises
    ------
    NoSolution
        If fewer than ten days tell it.

    Notes
    -----
    b = median of (ln I_j - ln I_i)/(t_j - t_i);  ranks (N -+ z sqrt(n (n-1) (2 n + 5)/18))/2
    (sen1968)

    The range is widened by sqrt((1 + r)/(1 - r)), with r how much a day's scatter keeps of that of
    the day before, since days that follow each other do not tell twice.

    References
    ----------
    sen1968, median slope and its range by ranks, from memory
    derived, fewer days that tell by themselves
    """
    n = days.time_s.size
    if n < FEWEST_DAYS:
        message = (
            f"{n} days tell flow and head drop. A trend needs {FEWEST_DAYS} or more. "
            "Log the level on both sides of the bed through the flow season."
        )
        raise NoSolution(message)
    thin = slice(None, None, max(1, n // 500))
    years = (days.time_s[thin] - days.time_s[0]) / YEAR
    logs = np.log(days.index[thin])
    i, j = np.array(list(combinations(range(years.size), 2))).T
    slopes = np.sort((logs[j] - logs[i]) / (years[j] - years[i]))
    slope = float(np.median(slopes))
    m = years.size
    z = TAIL * np.sqrt(m * (m - 1) * (2 * m + 5) / 18.0) * _longer(logs - slope * years)
    low, high = ((slopes.size + side * z) / 2.0 for side in (-1.0, 1.0))
    ends = slopes[np.clip([int(np.floor(low)) - 1, int(np.ceil(high))], 0, slopes.size - 1)]
    first = float(np.exp(np.median(logs - slope * years)))
    span = float(days.time_s[-1] - days.time_s[0]) / YEAR
    return Trend(slope, float(ends[0]), float(ends[1]), first, n, span)


def trend_theil_sen_range(days: IndexDays) -> tuple[Finding, ...]:
    """Say where a record is too short to tell a trend from a season.

    Parameters
    ----------
    days : IndexDays
        Days that tell it. [m/s]

    Returns
    -------
    tuple of Finding
        Empty from two years on.
    """
    span = float(days.time_s[-1] - days.time_s[0]) / YEAR if days.time_s.size else 0.0
    if span >= SHORTEST:
        return ()
    return (
        Finding(
            "monitor-trend-short",
            "caution",
            "How the chips let water through",
            f"The record spans {span:.1f} years. A trend from less than {SHORTEST:g} holds the "
            "seasons, the boards and the first settling of the chips in it. Do not lead it on.",
            span,
            ">=",
            SHORTEST,
            "years",
            "practice",
        ),
    )


def _longer(rest: Floats) -> float:
    """How much wider a range is because days resemble the day before."""
    rest = rest - rest.mean()
    same = float(rest[1:] @ rest[:-1] / max(float(rest @ rest), 1e-30))
    same = min(max(same, 0.0), 0.95)
    return float(np.sqrt((1.0 + same) / (1.0 - same)))
