# SPDX-License-Identifier: Apache-2.0
"""The drain flow of a rare day: which estimate leads, dry years, limits, and what is said."""

import math

import numpy as np
import pytest

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.drain_peak import (
    DAY_NOT_PEAK,
    DRY,
    GEV,
    LIMIT,
    LOG_PEARSON3,
    drain_peak,
)
from tilewater.hydrology.frequency import fit_gev_l_moments, quantile_gev
from tilewater.hydrology.frequency_bands import band_gev_bootstrap
from tilewater.hydrology.log_pearson3 import (
    band_log_pearson3,
    fit_log_pearson3_moments,
    quantile_log_pearson3,
)

MM_PER_DAY = 0.001 / 86400.0
YEARS = 30
MAXIMA = np.random.default_rng(8).gamma(6.0, 1.4, YEARS) * MM_PER_DAY
COEFFICIENT = 12.7 * MM_PER_DAY


def codes(peak) -> list[str]:
    return [finding.code for finding in peak.findings]


@pytest.mark.works(of=(drain_peak,))
def test_ten_year_day_of_thirty_years():
    peak = drain_peak(MAXIMA)
    gev, logs = fit_gev_l_moments(MAXIMA), fit_log_pearson3_moments(MAXIMA)
    first, second = peak.estimates
    assert (first.method, second.method) == (GEV, LOG_PEARSON3)
    assert peak.daily_depth == first.daily_depth == quantile_gev(gev, 0.1)
    assert (first.low, first.high) == band_gev_bootstrap(gev, 0.1, years=YEARS)
    assert second.daily_depth == quantile_log_pearson3(logs, 0.1)
    assert (second.low, second.high) == band_log_pearson3(logs, 0.1, years=YEARS)
    assert (peak.years, peak.dry_years, peak.findings) == (YEARS, 0, (DAY_NOT_PEAK,))


@pytest.mark.works(of=(drain_peak,))
def test_it_is_said_that_a_day_is_no_peak():
    assert drain_peak(MAXIMA).findings[0].message == (
        "This is the mean of a calendar day. The flow within the day peaks higher, and the "
        "wettest 24 hours seldom begin at midnight. Size pipes and bypass on the physical peak "
        "instead."
    )


@pytest.mark.by_hand(of=(drain_peak,))
def test_dry_years_count_as_years():
    maxima = np.append(MAXIMA[:24], np.zeros(6))
    peak = drain_peak(maxima)
    among = 0.1 / (24 / 30)
    assert peak.daily_depth == pytest.approx(quantile_gev(fit_gev_l_moments(maxima[:24]), among))
    assert (peak.years, peak.dry_years) == (30, 6)
    assert peak.findings[1].message == (
        "6 of 30 years had no flow. The distribution is fitted to the others, and the chance of a "
        "year with flow multiplied in."
    )


@pytest.mark.by_hand(of=(drain_peak,))
@pytest.mark.parametrize("flowing", [0, 1, 3])
def test_where_one_year_in_ten_flows_the_ten_year_day_is_dry(flowing):
    peak = drain_peak(np.append(MAXIMA[:flowing], np.zeros(YEARS - flowing)))
    (only,) = peak.estimates
    assert (only.method, only.daily_depth, only.low) == (DRY, 0.0, 0.0)
    assert only.high == (MAXIMA[:flowing].max() if flowing else 0.0)  # the 30th of 30


@pytest.mark.works(of=(drain_peak,))
def test_dry_record_too_short_to_bound_the_rare_day_says_so():
    (only,) = drain_peak(np.zeros(9)).estimates
    assert (only.low, only.high) == (0.0, math.inf)


@pytest.mark.by_hand(of=(drain_peak,))
def test_limit_that_enough_years_reach_is_the_answer():
    maxima = np.append(MAXIMA[:22] * 0.5, np.full(8, COEFFICIENT))
    peak = drain_peak(maxima)
    assert [each.method for each in peak.estimates] == [LIMIT, GEV, LOG_PEARSON3]
    assert peak.daily_depth == COEFFICIENT
    assert peak.estimates[0].low == COEFFICIENT  # the 24th of 30
    assert peak.estimates[0].high == COEFFICIENT
    (limited,) = (each for each in peak.findings if each.code == "drain-peak-limited")
    assert limited.message == (
        "8 of 30 years have the same largest day, within 2%. A pipe, a coefficient or the "
        "measuring weir holds it down; no distribution of free maxima fits there. Find out which, "
        "and take the flow that it allows as the most."
    )


@pytest.mark.works(of=(drain_peak,))
def test_limit_that_too_few_years_reach_is_only_reported():
    maxima = np.append(np.tile(MAXIMA[:27], 2) * 0.5, np.full(3, COEFFICIENT))
    peak = drain_peak(maxima)
    assert peak.estimates[0].method == GEV
    assert "drain-peak-limited" in codes(peak)


@pytest.mark.works(of=(drain_peak,))
def test_record_at_its_limit_every_year_needs_no_distribution():
    (only,) = drain_peak(np.full(YEARS, COEFFICIENT)).estimates
    assert (only.method, only.low, only.daily_depth) == (LIMIT, COEFFICIENT, COEFFICIENT)


@pytest.mark.works(of=(drain_peak,))
def test_short_record_and_far_recurrence_are_reported():
    assert codes(drain_peak(MAXIMA[:8], recurrence=25.0))[:3] == [
        "drain-peak-daily-mean",
        "frequency-record-short",
        "frequency-beyond-record",
    ]


@pytest.mark.law(of=(drain_peak,))
@pytest.mark.parametrize(("seed", "factor"), [(1, 0.1), (2, 3.7), (3, 25.4)])
def test_more_flow_has_a_rare_day_as_much_wetter(seed, factor):
    maxima = np.random.default_rng(seed).gamma(4.0, 2.0, 20) * MM_PER_DAY
    one, other = drain_peak(maxima), drain_peak(factor * maxima)
    for here, there in zip(one.estimates, other.estimates, strict=True):
        assert here.method == there.method
        assert there.daily_depth == pytest.approx(factor * here.daily_depth, rel=1e-6)
        assert (there.low, there.high) == pytest.approx(
            (factor * here.low, factor * here.high), rel=1e-6
        )


@pytest.mark.law(of=(drain_peak,))
def test_rarer_day_is_wetter_and_within_its_band():
    depths = []
    for recurrence in (2.0, 5.0, 10.0, 25.0):
        peak = drain_peak(MAXIMA, recurrence=recurrence)
        assert all(each.low < each.daily_depth < each.high for each in peak.estimates)
        depths.append([each.daily_depth for each in peak.estimates])
    assert np.all(np.diff(depths, axis=0) > 0.0)


@pytest.mark.works(of=(drain_peak,))
@pytest.mark.parametrize(
    ("maxima", "recurrence", "message"),
    [
        (
            np.array([]),
            10.0,
            "There is no year with a maximum. At least four are needed. "
            "Use a longer record or allow more missing days.",
        ),
        (MAXIMA, 1.0, "recurrence is 1 years. It must be above 1. Give 10."),
        (
            np.array([1.0, np.nan]),
            10.0,
            "maxima is nan m/s. It cannot be negative. Leave the years without a value out.",
        ),
        (
            MAXIMA[:3],
            10.0,
            "The sample has 3 values. L-moments need at least 4. Use a longer record.",
        ),
    ],
)
def test_meaningless_input_is_refused(maxima, recurrence, message):
    with pytest.raises(OutOfDomain) as refused:
        drain_peak(maxima, recurrence=recurrence)
    assert message == str(refused.value)


@pytest.mark.works(of=(drain_peak,))
def test_one_year_below_the_limit_leaves_the_limit_alone():
    maxima = np.full(29, COEFFICIENT)
    maxima[0] = 0.84 * COEFFICIENT
    (only,) = drain_peak(maxima).estimates
    assert (only.method, only.daily_depth) == (LIMIT, COEFFICIENT)
