# SPDX-License-Identifier: Apache-2.0
"""Log-Pearson III by moments: beside a library of statistics, its laws, and years without flow."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.log_pearson3 import (
    LogPearson3,
    band_log_pearson3,
    exceedance_among_flow_years,
    fit_log_pearson3_moments,
    fit_log_pearson3_moments_range,
    low_outlier_limit_grubbs_beck,
    quantile_log_pearson3,
    skew_square_error_wallis,
    skew_weighted,
)

CHANCES = np.array([0.5, 0.2, 0.1, 0.04, 0.02, 0.01])
NORMAL_APPROXIMATION = 0.01
"""How near the band of the guidelines comes to the exact one. [standard deviations]"""

samples = st.lists(st.integers(10, 10_000), min_size=5, max_size=40, unique=True).map(
    lambda whole: np.array(whole, dtype=np.float64) / 100.0
)


def drawn(seed: int, years: int = 30) -> np.ndarray:
    return np.random.default_rng(seed).gamma(3.0, 4.0, years)


@pytest.mark.oracle("scipy.stats.skew, numpy.std", of=(fit_log_pearson3_moments,))
@pytest.mark.parametrize("seed", range(4))
def test_moments_beside_libraries(seed):
    logs = np.log10(drawn(seed))
    expected = [logs.mean(), logs.std(ddof=1), stats.skew(logs, bias=False)]
    assert list(fit_log_pearson3_moments(drawn(seed))) == pytest.approx(expected, rel=1e-10)


@pytest.mark.oracle("scipy.stats.pearson3", of=(quantile_log_pearson3,))
@pytest.mark.parametrize("skew", [-0.6, 0.0, 0.4])
def test_quantiles_beside_a_library(skew):
    theirs = 10.0 ** stats.pearson3.isf(CHANCES, skew, loc=1.2, scale=0.3)
    ours = quantile_log_pearson3(LogPearson3(1.2, 0.3, skew), CHANCES)
    assert ours == pytest.approx(theirs, rel=1e-8)


@pytest.mark.oracle("scipy.stats.nct, exact without skew", of=(band_log_pearson3,))
@pytest.mark.parametrize("years", [30, 60])
@pytest.mark.parametrize("exceedance", [0.5, 0.1, 0.01])
def test_band_without_skew_beside_the_exact_one(years, exceedance):
    z = stats.norm.isf(exceedance)
    exact = stats.nct.ppf([0.05, 0.95], years - 1, z * math.sqrt(years)) / math.sqrt(years)
    band = band_log_pearson3(LogPearson3(0.0, 1.0, 0.0), exceedance, years=years)
    ours = np.log10([band.low, band.high])
    assert ours == pytest.approx(exact, abs=NORMAL_APPROXIMATION * max(1.0, z))


@pytest.mark.law(of=(fit_log_pearson3_moments, quantile_log_pearson3, band_log_pearson3))
@given(sample=samples, factor=st.floats(1e-6, 1e6))
def test_another_unit_changes_nothing_but_the_unit(sample, factor):
    here, there = fit_log_pearson3_moments(sample), fit_log_pearson3_moments(factor * sample)
    assert there.deviation == pytest.approx(here.deviation, rel=1e-8)
    assert there.skew == pytest.approx(here.skew, abs=1e-6)
    expected = factor * quantile_log_pearson3(here, CHANCES)
    assert quantile_log_pearson3(there, CHANCES) == pytest.approx(expected, rel=1e-5)


@pytest.mark.law(of=(fit_log_pearson3_moments,))
@given(sample=samples)
def test_logarithms_turned_round_have_the_opposite_skew(sample):
    straight, turned = fit_log_pearson3_moments(sample), fit_log_pearson3_moments(1.0 / sample)
    assert turned.skew == pytest.approx(-straight.skew, abs=1e-8)


@pytest.mark.law(of=(band_log_pearson3,))
@given(skew=st.floats(-2.0, 2.0), exceedance=st.floats(0.002, 0.99), years=st.integers(5, 100))
def test_band_holds_the_estimate_and_narrows_with_years(skew, exceedance, years):
    moments = LogPearson3(1.0, 0.25, skew)
    estimate = quantile_log_pearson3(moments, exceedance)
    band = band_log_pearson3(moments, exceedance, years=years)
    longer = band_log_pearson3(moments, exceedance, years=2 * years)
    assert band.low < estimate < band.high
    assert longer.high - longer.low < band.high - band.low


@pytest.mark.law(of=(skew_weighted,))
@given(
    own=st.floats(-2, 2),
    regional=st.floats(-2, 2),
    one=st.floats(0.01, 1),
    other=st.floats(0.01, 1),
)
def test_weighted_skew_lies_between_the_two_and_nearer_the_surer(own, regional, one, other):
    joined = skew_weighted(own, one, regional_skew=regional, regional_square_error=other)
    assert min(own, regional) - 1e-12 <= joined <= max(own, regional) + 1e-12
    if one < other:
        assert abs(joined - own) <= abs(joined - regional) + 1e-12


@pytest.mark.by_hand(of=(skew_square_error_wallis,))
def test_square_error_of_a_strong_skew():
    by_hand = [10 ** (-0.52 + 0.30 * 1.2 - (0.94 - 0.26 * 1.2) * math.log10(2.5))]
    by_hand += [10 ** (-0.52 + 0.30 * 2.0 - 0.55 * math.log10(2.5))]
    assert by_hand == pytest.approx(list(skew_square_error_wallis(np.array([-1.2, 2.0]), 25)))


@pytest.mark.by_hand(of=(exceedance_among_flow_years,))
def test_years_without_flow_make_a_flow_year_rarer_to_pass():
    assert exceedance_among_flow_years(0.1, flow_years=24, years=30) == 0.1 / (24 / 30)
    assert exceedance_among_flow_years(0.1, flow_years=30, years=30) == 0.1
    assert exceedance_among_flow_years(0.1, flow_years=2, years=30) > 1.0


@pytest.mark.law(of=(exceedance_among_flow_years, quantile_log_pearson3))
def test_conditional_rule_gives_the_quantile_of_all_years():
    """A long record of which a third is dry: the plain quantile of all years is the same."""
    moments, years = LogPearson3(1.0, 0.2, 0.3), 3_000
    flow_years = years * 2 // 3
    chance = (np.arange(flow_years) + 0.5) / flow_years
    record = np.concatenate((np.zeros(years - flow_years), quantile_log_pearson3(moments, chance)))
    among = exceedance_among_flow_years(0.1, flow_years=flow_years, years=years)
    expected = np.quantile(record, 0.9)
    assert quantile_log_pearson3(moments, among) == pytest.approx(expected, rel=2e-3)


@pytest.mark.works(of=(fit_log_pearson3_moments_range, low_outlier_limit_grubbs_beck))
def test_year_that_bends_the_fit_is_reported():
    record = np.append(drawn(1), 0.01)
    assert fit_log_pearson3_moments_range(10.0 + drawn(1)) == ()
    (finding,) = fit_log_pearson3_moments_range(record)
    assert finding.message == (
        "1 of 31 years lie so low that they bend the fit of log-Pearson III at its upper end. "
        "They are kept. Rely on the other estimate, or find out why they are low."
    )
    assert finding.limit == low_outlier_limit_grubbs_beck(fit_log_pearson3_moments(record), 31)
    assert fit_log_pearson3_moments_range(record[-9:]) == ()


@pytest.mark.works(of=(fit_log_pearson3_moments, band_log_pearson3, exceedance_among_flow_years))
@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: fit_log_pearson3_moments([1.0, 0.0, 2.0, 3.0]),
            "values is 0. It must be above zero. Leave years without flow out and count them.",
        ),
        (
            lambda: fit_log_pearson3_moments([1.0, 2.0]),
            "The sample has 2 values. A skew needs at least 3. Use a longer record.",
        ),
        (
            lambda: fit_log_pearson3_moments([2.0, 2.0, 2.0]),
            "All 3 values are 2. They must differ for a distribution. "
            "Look for a limit that every year reaches.",
        ),
        (
            lambda: band_log_pearson3(LogPearson3(1.0, 0.2, 0.0), 0.1, years=2),
            "years is 2 years. A band of confidence 0.9 needs more than 2.35. Use a longer record.",
        ),
        (
            lambda: exceedance_among_flow_years(0.1, flow_years=0, years=30),
            "flow_years is 0 years. It lies between 1 and the 30 years of the record. "
            "Count the years with flow.",
        ),
        (
            lambda: low_outlier_limit_grubbs_beck(LogPearson3(1.0, 0.2, 0.0), 8),
            "years is 8 years. The test is tabled from 10 to 149 years. "
            "Look at the smallest values by eye.",
        ),
    ],
)
def test_meaningless_input_is_refused(call, message):
    with pytest.raises(OutOfDomain) as refused:
        call()
    assert message == str(refused.value)
