# SPDX-License-Identifier: Apache-2.0
"""The drain flow of a day that is passed once in so many years, from the maxima of the years.

The ten-year, 24-hour flow of a drain, from a simulated or measured daily series. It is the mean of
a calendar day: not the peak within it, and a little less than the wettest 24 hours from any hour
on. How the peak of a drainage system is estimated without a record is in `drain_flow`.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import Number, refuse, require_finite, require_not_negative
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.hydrology.frequency import (
    fit_gev_l_moments,
    fit_gev_l_moments_range,
    quantile_gev,
)
from tilewater.hydrology.frequency_bands import (
    SEED,
    Band,
    band_gev_bootstrap,
    band_order_statistics,
    record_length_range,
)
from tilewater.hydrology.log_pearson3 import (
    band_log_pearson3,
    exceedance_among_flow_years,
    fit_log_pearson3_moments,
    fit_log_pearson3_moments_range,
    quantile_log_pearson3,
)

GEV = "GEV by L-moments"
LOG_PEARSON3 = "log-Pearson III by moments"
LIMIT = "limit that the years reach"
DRY = "most years without flow"

SAME = 0.02
"""Maxima within this share of the largest count as one limit; practice. [-]"""
SEVERAL = 3
"""Years at the largest value that no chance explains; practice."""

DAY_NOT_PEAK = Finding(
    "drain-peak-daily-mean",
    "note",
    "drain flow",
    "This is the mean of a calendar day. The flow within the day peaks higher, and the wettest 24 "
    "hours seldom begin at midnight. Size pipes and bypass on the physical peak instead.",
    source="practice",
)


@dataclass(frozen=True)
class PeakEstimate:
    """One estimate of a rare day.

    Attributes
    ----------
    method : str
    daily_depth : float
        Drain flow of the day over the drained area. [m/s]
    low, high : float
        Band of confidence; infinite above where the record is too short to close it. [m/s]
    """

    method: str
    daily_depth: float
    low: float
    high: float


@dataclass(frozen=True)
class DrainPeak:
    """Drain flow of a rare day.

    Attributes
    ----------
    recurrence : float
        Mean number of years between such years. [years]
    years : int
        Years with a maximum.
    dry_years : int
        Those of them without flow.
    confidence : float
        Of the bands. [-]
    estimates : tuple of PeakEstimate
        The one to use first, the others for comparison.
    findings : tuple of Finding
        What the engineer must know.
    """

    recurrence: float
    years: int
    dry_years: int
    confidence: float
    estimates: tuple[PeakEstimate, ...]
    findings: tuple[Finding, ...]

    @property
    def daily_depth(self) -> float:
        """Drain flow of the day over the drained area, by the first estimate. [m/s]"""
        return self.estimates[0].daily_depth


def drain_peak(
    maxima: NDArray[np.float64],
    *,
    recurrence: float = 10.0,
    confidence: float = 0.9,
    seed: int = SEED,
) -> DrainPeak:
    """Drain flow of the day that is passed once in so many years.

    The generalized extreme value distribution first, log-Pearson III beside it. Where so many
    years reach one limit that the wanted one is among them, the limit itself is the answer.

    Parameters
    ----------
    maxima : array
        Largest daily depth of each year, 0 for a year without flow. [m/s]
    recurrence : float
        Mean number of years between years that pass it. [years]
    confidence : float
        Of the bands. [-]
    seed : int
        Where the draws of the band begin. [-]

    Returns
    -------
    DrainPeak
        Estimates with their bands, and findings.

    Raises
    ------
    OutOfDomain
        If the recurrence is not above one year, a maximum is negative or no number, or fewer than
        four years have flow where a distribution is needed.

    Notes
    -----
    p = 1 / T    (derived)
    p of the years with flow = p years / flow_years    (iacwd1982)

    References
    ----------
    derived, mean recurrence of a yearly chance
    iacwd1982, appendix 5
    """
    require_not_negative("maxima", maxima, "m/s", "Leave the years without a value out")
    require_finite("maxima", maxima, "m/s", "Leave the years without a value out")
    if not recurrence > 1.0:
        raise refuse("recurrence", recurrence, "years", "It must be above 1", "Give 10")
    if maxima.size == 0:
        raise OutOfDomain(
            "There is no year with a maximum. At least four are needed. "
            "Use a longer record or allow more missing days."
        )
    flowing = maxima[maxima > 0.0]
    dry = int(maxima.size - flowing.size)
    p = 1.0 / recurrence
    found = [DAY_NOT_PEAK, *record_length_range(maxima.size, p), *_dry_years(dry, maxima.size)]
    if p * maxima.size >= flowing.size:
        estimates: tuple[PeakEstimate, ...] = (_in_order(DRY, 0.0, maxima, p, confidence),)
    else:
        among = exceedance_among_flow_years(p, flow_years=flowing.size, years=maxima.size)
        estimates, more = _estimates(flowing, among, maxima, p, confidence, seed)
        found += more
    return DrainPeak(recurrence, maxima.size, dry, confidence, estimates, tuple(found))


def _estimates(
    flowing: NDArray[np.float64],
    among: float,
    maxima: NDArray[np.float64],
    p: float,
    confidence: float,
    seed: int,
) -> tuple[tuple[PeakEstimate, ...], list[Finding]]:
    """The estimates in the order of their use, and what is to say of them."""
    largest = float(flowing.max())
    at_limit = int(np.count_nonzero(flowing >= (1.0 - SAME) * largest))
    capped = at_limit >= SEVERAL
    found = [_capped(at_limit, maxima.size, largest)] if capped else []
    first: tuple[PeakEstimate, ...] = ()
    if capped and at_limit >= p * maxima.size:
        first = (_in_order(LIMIT, largest, maxima, p, confidence),)
        if flowing.min() >= (1.0 - SAME) * largest:
            return first, found
    try:
        gev = fit_gev_l_moments(flowing)
    except NoSolution:  # all but a few years stand at the limit: nothing is left to fit
        if not first:
            raise
        return first, found
    years = flowing.size
    band = band_gev_bootstrap(gev, among, years=years, confidence=confidence, seed=seed)
    by_gev = _estimate(GEV, quantile_gev(gev, among), band)
    logs = fit_log_pearson3_moments(flowing)
    band = band_log_pearson3(logs, among, years=years, confidence=confidence)
    by_logs = _estimate(LOG_PEARSON3, quantile_log_pearson3(logs, among), band)
    found += [*fit_gev_l_moments_range(gev), *fit_log_pearson3_moments_range(flowing)]
    return (*first, by_gev, by_logs), found


def _estimate(method: str, value: Number, band: Band) -> PeakEstimate:
    return PeakEstimate(method, *(float(np.asarray(each)) for each in (value, *band)))


def _in_order(
    method: str, value: float, maxima: NDArray[np.float64], p: float, confidence: float
) -> PeakEstimate:
    """An estimate whose band is two years of the record, from 0 up to a limit."""
    low, high = band_order_statistics(maxima, p, confidence=confidence)
    if method == LIMIT:
        high = value
    return PeakEstimate(method, value, max(0.0, float(low)), float(high))


def _dry_years(dry: int, years: int) -> tuple[Finding, ...]:
    if dry == 0:
        return ()
    return (
        Finding(
            "drain-peak-dry-years",
            "note",
            "drain flow",
            f"{dry} of {years} years had no flow. The distribution is fitted to the others, and "
            "the chance of a year with flow multiplied in.",
            float(dry),
            unit="years",
            source="iacwd1982",
        ),
    )


def _capped(at_limit: int, years: int, largest: float) -> Finding:
    return Finding(
        "drain-peak-limited",
        "caution",
        "drain flow",
        f"{at_limit} of {years} years have the same largest day, within {SAME:.0%}. A pipe, a "
        "coefficient or the measuring weir holds it down; no distribution of free maxima fits "
        "there. Find out which, and take the flow that it allows as the most.",
        largest,
        unit="m/s",
        source="practice",
    )
