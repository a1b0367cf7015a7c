# SPDX-License-Identifier: Apache-2.0
"""How sure a quantile is that was fitted to the maxima of some years.

The chance of the years alone: neither errors of measurement nor another distribution is in these
bands. The band of log-Pearson III is in `log_pearson3`.
"""

import math
from typing import NamedTuple

import numpy as np

from tilewater.basis.domain import Number, refuse, require_finite
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.hydrology.frequency import (
    Gev,
    Values,
    fit_gev_l_moments,
    quantile_gev,
    require_exceedance,
)

ENOUGH_YEARS = 10
"""Fewest years for a frequency analysis (iacwd1982). [years]"""
FARTHEST = 2.0
"""Recurrence in lengths of the record beyond which a fit is carried far; practice. [-]"""
SEED = 1747
"""Where the draws of a band begin, so that it is the same each time."""


class Band(NamedTuple):
    """Confidence band of a quantile.

    Attributes
    ----------
    low, high : float or array
        In the unit of the quantile.
    """

    low: Number
    high: Number


def band_gev_bootstrap(
    parameters: Gev,
    exceedance: float,
    *,
    years: int,
    confidence: float = 0.9,
    draws: int = 1000,
    seed: int = SEED,
) -> Band:
    """Band within which a quantile fitted to a record of this length would mostly fall.

    Records of the same length are drawn from the fitted distribution and fitted anew. The draws
    hang on the seed alone, not on threads or on what was computed before.

    Parameters
    ----------
    parameters : Gev
        As fitted to the record.
    exceedance : float
        Chance that a year passes the value. [-]
    years : int
        Years of the record. [years]
    confidence : float
        Share of the drawn quantiles that lie within the band. [-]
    draws : int
        Records drawn. [-]
    seed : int
        Where the draws begin. [-]

    Returns
    -------
    Band
        Lower and upper end, in the unit of the values.

    Raises
    ------
    OutOfDomain
        If a chance is not between 0 and 1, or there are fewer than four years.

    Notes
    -----
    band = percentiles (1 -/+ confidence) / 2 of the quantiles of drawn records    (efron1993)

    It holds chance of the years alone, neither errors of measurement nor another distribution.

    References
    ----------
    efron1993, ch. 13, percentiles of a parametric bootstrap
    """
    require_exceedance(exceedance)
    require_confidence(confidence)
    stream = np.random.Generator(np.random.PCG64(seed))
    drawn = np.asarray(quantile_gev(parameters, 1.0 - stream.random((draws, years))))
    fitted = [quantile_gev(fit_gev_l_moments(record), exceedance) for record in drawn]
    tail = 0.5 * (1.0 - confidence)
    low, high = np.quantile(np.array(fitted), (tail, 1.0 - tail))
    return Band(float(low), float(high))


def band_order_statistics(values: Values, exceedance: float, *, confidence: float = 0.9) -> Band:
    """Band of a quantile that asks for no distribution.

    For a record whose largest values are held down by a limit, where no smooth distribution fits.

    Parameters
    ----------
    values : array
        Largest values of the years, in their own unit. [-]
    exceedance : float
        Chance that a year passes the value. [-]
    confidence : float
        Chance that the band holds the quantile, at least. [-]

    Returns
    -------
    Band
        Two values of the record; minus infinity or infinity where the record is too short for an
        end.

    Raises
    ------
    OutOfDomain
        If a chance is not between 0 and 1, there is no value or one is no number.

    Notes
    -----
    sum over i < r of C(n, i) F^i p^(n-i) <= (1 - confidence) / 2, F = 1 - p    (conover1999)

    The r-th smallest value is the lower end, for the largest such r; the upper end likewise from
    above.

    References
    ----------
    conover1999, ch. 3, confidence interval for a quantile
    """
    require_exceedance(exceedance)
    require_confidence(confidence)
    x = np.sort(np.asarray(values, dtype=np.float64))
    require_finite("values", x, "", "Leave the years without a value out")
    if x.size == 0:
        raise OutOfDomain("The sample has 0 values. At least one is needed. Use a longer record.")
    tail = 0.5 * (1.0 - confidence)
    below = _ranks_in_tail(x.size, 1.0 - exceedance, tail)
    above = _ranks_in_tail(x.size, exceedance, tail)
    low = float(x[below - 1]) if below else -math.inf
    high = float(x[x.size - above]) if above else math.inf
    return Band(low, high)


def record_length_range(years: int, exceedance: float) -> tuple[Finding, ...]:
    """Say where a record is short, or a quantile lies far beyond it.

    Parameters
    ----------
    years : int
        Years of the record. [years]
    exceedance : float
        Chance that a year passes the quantile. [-]

    Returns
    -------
    tuple of Finding
        Empty where the record is long enough.
    """
    found = []
    if years < ENOUGH_YEARS:
        found.append(
            Finding(
                "frequency-record-short",
                "caution",
                "frequency",
                f"The record has {years} years; at least {ENOUGH_YEARS} are asked for. "
                "Use it for comparison only, or simulate a longer one.",
                float(years),
                ">=",
                float(ENOUGH_YEARS),
                "years",
                "iacwd1982",
            )
        )
    if 1.0 / exceedance > FARTHEST * years:
        found.append(
            Finding(
                "frequency-beyond-record",
                "caution",
                "frequency",
                f"A recurrence of {1.0 / exceedance:.3g} years is read from {years} years. Beyond "
                f"{FARTHEST:g} times the record the chosen distribution decides, not the data. "
                "Look at the band.",
                1.0 / exceedance,
                "<=",
                FARTHEST * years,
                "years",
                "practice",
            )
        )
    return tuple(found)


def require_confidence(confidence: float) -> None:
    """Refuse a confidence that is not between 0 and 1, ends excluded.

    Parameters
    ----------
    confidence : float
        Share that a band holds. [-]

    Raises
    ------
    OutOfDomain
        If it is 0 or less, 1 or more, or no number.
    """
    if not 0.0 < confidence < 1.0:
        allowed = "It lies between 0 and 1, ends excluded"
        raise refuse("confidence", confidence, "", allowed, "Give 0.9 for nine in ten")


def _ranks_in_tail(count: int, chance: float, tail: float) -> int:
    """Largest r for which fewer than r of so many hits have no more than this chance."""
    total = 0.0
    for hits in range(count):
        total += math.comb(count, hits) * chance**hits * (1.0 - chance) ** (count - hits)
        if total > tail:
            return hits
    return count
