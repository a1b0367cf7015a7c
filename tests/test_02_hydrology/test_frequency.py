# SPDX-License-Identifier: Apache-2.0
"""L-moments, GEV, Pearson III and their bands beside libraries of statistics, and their laws."""

import math
from concurrent.futures import ThreadPoolExecutor

import lmoments3
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from lmoments3 import distr
from scipy import stats
from scipy.integrate import quad

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.roots import bracketed_root
from tilewater.hydrology.frequency import (
    Gev,
    fit_gev_l_moments,
    fit_gev_l_moments_range,
    frequency_factor_pearson3,
    l_moments,
    quantile_gev,
    require_exceedance,
)
from tilewater.hydrology.frequency_bands import (
    band_gev_bootstrap,
    band_order_statistics,
    record_length_range,
)

EQUAL = 1e-9
"""Two ways to the same number, of its size."""
LIBRARY_FIT = 2e-6
"""The library stops its search for the shape there. [of the value]"""
DRAWN = 0.12
"""How far the ends of two bands of a thousand draws lie apart by chance. [of the width]"""
CHANCES = np.array([1e-4, 0.01, 0.1, 0.3, 0.5, 0.8, 0.99, 0.9999])
RECORD = np.array([5.1, 7.4, 3.8, 9.9, 6.2, 4.4, 12.7, 5.5, 8.1, 6.9, 3.1, 7.7])

samples = st.lists(st.integers(1, 10_000), min_size=8, max_size=40, unique=True).map(
    lambda whole: np.array(whole, dtype=np.float64) / 100.0
)
chances = st.floats(0.001, 0.999)
skews = st.floats(-4.0, 4.0)


def drawn(seed: int, years: int = 40) -> np.ndarray:
    return np.random.default_rng(seed).gamma(2.0, 3.0, years)


def near_gumbel(shape: float) -> np.ndarray:
    """A sample whose fit has this shape, as near as none."""
    chance = (np.arange(50.0) + 0.5) / 50.0

    def of(k: float) -> np.ndarray:
        return np.asarray(quantile_gev(Gev(10.0, 2.0, k), chance))

    k = bracketed_root(lambda k: fit_gev_l_moments(of(k)).shape - shape, -0.3, 0.3, (), 1e-15)
    return of(k)


@pytest.mark.oracle("lmoments3 1.0.8 and scipy.stats.lmoment", of=(l_moments,))
@pytest.mark.parametrize("seed", range(5))
def test_l_moments_beside_two_libraries(seed):
    sample = drawn(seed)
    ours = list(l_moments(sample))
    assert ours == pytest.approx(lmoments3.lmom_ratios(sample, nmom=4), rel=EQUAL)
    assert ours == pytest.approx(stats.lmoment(sample, [1, 2, 3, 4]), rel=EQUAL)


@pytest.mark.oracle("lmoments3 1.0.8", of=(fit_gev_l_moments,))
@pytest.mark.parametrize("seed", range(5))
def test_fit_beside_a_library(seed):
    sample = drawn(seed)
    theirs = distr.gev.lmom_fit(sample)
    expected = [theirs["loc"], theirs["scale"], theirs["c"]]
    assert list(fit_gev_l_moments(sample)) == pytest.approx(expected, rel=LIBRARY_FIT, abs=1e-6)


@pytest.mark.oracle("scipy.integrate over scipy.stats.genextreme", of=(fit_gev_l_moments,))
@pytest.mark.parametrize("shape", [-0.2, -2e-5, -5e-6, 0.0, 5e-6, 2e-5, 0.2])
def test_fitted_distribution_has_the_moments_of_the_sample(shape):
    sample = near_gumbel(shape)
    fitted = fit_gev_l_moments(sample)
    assert fitted.shape == pytest.approx(shape, abs=1e-12)
    of = stats.genextreme(fitted.shape, fitted.location, fitted.scale)
    l1 = quad(of.ppf, 0.0, 1.0)[0]
    l2 = quad(lambda below: of.ppf(below) * (2.0 * below - 1.0), 0.0, 1.0)[0]
    assert l_moments(sample)[:2] == pytest.approx((l1, l2), rel=1e-8)


@pytest.mark.oracle("scipy.stats.genextreme", of=(quantile_gev,))
@pytest.mark.parametrize("shape", [-0.4, -0.1, -1e-7, 0.0, 0.1, 0.6])
def test_quantiles_beside_a_library(shape):
    theirs = stats.genextreme.isf(CHANCES, shape, loc=3.0, scale=1.5)
    assert quantile_gev((3.0, 1.5, shape), CHANCES) == pytest.approx(theirs, rel=1e-7)


@pytest.mark.oracle("scipy.stats.pearson3", of=(frequency_factor_pearson3,))
@pytest.mark.parametrize(
    "skew", [-9.0, -2.0, -0.5, -0.02, -0.011, 0.0, 0.009, 0.011, 0.3, 1.0, 5.0]
)
def test_frequency_factor_beside_a_library(skew):
    theirs = stats.pearson3.isf(CHANCES, skew)
    assert frequency_factor_pearson3(skew, CHANCES) == pytest.approx(theirs, rel=EQUAL, abs=1e-9)


@pytest.mark.oracle("genextreme draws fitted by lmoments3", of=(band_gev_bootstrap,))
def test_band_beside_one_drawn_and_fitted_by_libraries():
    fitted = fit_gev_l_moments(drawn(3))
    records = stats.genextreme.rvs(
        fitted.shape, fitted.location, fitted.scale, size=(1000, 40), random_state=5
    )
    tens = [stats.genextreme.isf(0.1, **distr.gev.lmom_fit(record)) for record in records]
    low, high = np.quantile(tens, [0.05, 0.95])
    ours = band_gev_bootstrap(fitted, 0.1, years=40)
    assert list(ours) == pytest.approx([low, high], abs=DRAWN * (high - low))


@pytest.mark.oracle("scipy.stats.quantile_test", of=(band_order_statistics,))
@pytest.mark.parametrize(("years", "exceedance"), [(30, 0.1), (30, 0.5), (60, 0.1), (12, 0.04)])
def test_band_without_distribution_beside_a_library(years, exceedance):
    sample = drawn(years, years)
    theirs = stats.quantile_test(sample, p=1.0 - exceedance).confidence_interval(0.9)
    low, high = (
        end if math.isfinite(end) else side
        for end, side in zip(theirs, (-math.inf, math.inf), strict=True)
    )
    assert (low, high) == band_order_statistics(sample, exceedance)


@pytest.mark.law(of=(l_moments, fit_gev_l_moments, quantile_gev))
@given(sample=samples, factor=st.floats(0.01, 100.0), shift=st.floats(-50.0, 50.0))
def test_another_unit_and_origin_change_nothing_but_unit_and_origin(sample, factor, shift):
    before, after = l_moments(sample), l_moments(shift + factor * sample)
    assert after.l1 == pytest.approx(shift + factor * before.l1, abs=1e-8)
    assert after.l2 == pytest.approx(factor * before.l2, rel=1e-8)
    assert after[2:] == pytest.approx(before[2:], abs=1e-7)
    assume(abs(before.t3) < 0.7)
    here, there = fit_gev_l_moments(sample), fit_gev_l_moments(shift + factor * sample)
    expected = shift + factor * quantile_gev(here, 0.1)
    assert quantile_gev(there, 0.1) == pytest.approx(expected, rel=1e-6, abs=1e-6)


@pytest.mark.law(of=(l_moments,))
@given(sample=samples)
def test_turned_round_a_sample_has_the_opposite_skewness(sample):
    straight, turned = l_moments(sample), l_moments(-sample)
    assert turned.t3 == pytest.approx(-straight.t3, abs=1e-9)
    assert (turned.l2, turned.t4) == pytest.approx((straight.l2, straight.t4), abs=1e-9)
    assert -1.0 <= straight.t3 <= 1.0


@pytest.mark.law(of=(l_moments,))
@given(half=samples)
def test_symmetric_sample_has_no_skewness(half):
    assert l_moments(np.concatenate((half, -half))).t3 == pytest.approx(0.0, abs=1e-9)


@pytest.mark.law(of=(fit_gev_l_moments,))
@pytest.mark.parametrize("shape", [-0.3, -0.1, 0.0, 0.2])
def test_fit_finds_the_distribution_a_long_sample_comes_from(shape):
    chance = (np.arange(20_000.0) + 0.5) / 20_000.0
    sample = np.asarray(quantile_gev(Gev(10.0, 2.0, shape), chance))
    assert list(fit_gev_l_moments(sample)) == pytest.approx([10.0, 2.0, shape], abs=0.005)


@pytest.mark.law(of=(quantile_gev, frequency_factor_pearson3))
@given(one=chances, other=chances, shape=st.floats(-0.9, 2.0), skew=skews)
def test_rarer_value_is_never_smaller(one, other, shape, skew):
    rare, common = min(one, other), max(one, other)
    parameters = Gev(0.0, 1.0, shape)
    assert quantile_gev(parameters, rare) >= quantile_gev(parameters, common)
    lower = frequency_factor_pearson3(skew, common)
    assert frequency_factor_pearson3(skew, rare) >= lower - EQUAL


@pytest.mark.law(of=(frequency_factor_pearson3,))
@given(skew=skews, chance=chances)
def test_opposite_skew_turns_the_distribution_round(skew, chance):
    ours = frequency_factor_pearson3(skew, chance)
    assert -frequency_factor_pearson3(-skew, 1.0 - chance) == pytest.approx(ours, abs=1e-9)


@pytest.mark.law(of=(frequency_factor_pearson3,))
@pytest.mark.parametrize("skew", [-0.01, 0.01])
def test_factor_does_not_jump_where_the_series_ends(skew):
    inside = frequency_factor_pearson3(math.nextafter(skew, 0.0), CHANCES)
    assert inside == pytest.approx(frequency_factor_pearson3(skew, CHANCES), abs=1e-9)


@pytest.mark.law(of=(frequency_factor_pearson3, quantile_gev))
def test_arrays_give_what_their_members_give():
    skew, chance = np.array([[-0.5], [0.0], [1.2]]), np.array([0.1, 0.01])
    table = frequency_factor_pearson3(skew, chance)
    assert table.shape == (3, 2)
    assert table[2, 1] == frequency_factor_pearson3(1.2, 0.01)
    quantiles = quantile_gev(Gev(1.0, 2.0, -0.1), chance)
    assert list(quantiles) == [quantile_gev(Gev(1.0, 2.0, -0.1), each) for each in chance]


@pytest.mark.law(of=(band_gev_bootstrap,))
def test_band_is_the_same_however_many_threads_ask():
    fitted = fit_gev_l_moments(RECORD)

    def band(number: int):
        return band_gev_bootstrap(fitted, 0.1, years=12, draws=60)

    with ThreadPoolExecutor(4) as pool:
        bands = set(pool.map(band, range(8)))
    assert bands == {band(0)}


@pytest.mark.law(of=(band_gev_bootstrap,))
def test_longer_record_and_less_confidence_narrow_the_band():
    def width(**how):
        band = band_gev_bootstrap(fit_gev_l_moments(RECORD), 0.1, draws=300, **how)
        return band.high - band.low

    assert width(years=80) < 0.6 * width(years=20)
    assert width(years=20, confidence=0.5) < 0.6 * width(years=20)


@pytest.mark.law(of=(band_gev_bootstrap, fit_gev_l_moments))
def test_nine_bands_in_ten_hold_the_true_value():
    """Of 100 records; by chance alone the count strays by 3 of its standard deviation."""
    truth = Gev(10.0, 3.0, -0.1)
    ten_year = quantile_gev(truth, 0.1)
    stream = np.random.default_rng(11)
    held = 0
    for record in np.asarray(quantile_gev(truth, stream.random((100, 40)))):
        band = band_gev_bootstrap(fit_gev_l_moments(record), 0.1, years=40, draws=100)
        held += band.low <= ten_year <= band.high
    assert 78 <= held <= 98


@pytest.mark.works(of=(fit_gev_l_moments_range,))
def test_shape_outside_what_was_studied_is_reported():
    assert fit_gev_l_moments_range(Gev(1.0, 1.0, -0.5)) == ()
    (heavy,) = fit_gev_l_moments_range(Gev(1.0, 1.0, -0.62))
    assert heavy.message == (
        "The fitted shape is -0.62; fits were studied from -0.5 to 0.5. A record of this length "
        "seldom shows so heavy a tail; compare the other estimate."
    )
    (sharp,) = fit_gev_l_moments_range(Gev(1.0, 1.0, 0.7))
    assert (sharp.limit, "so sharp an upper end" in sharp.message) == (0.5, True)


@pytest.mark.works(of=(record_length_range,))
def test_short_record_and_far_quantile_are_reported():
    assert record_length_range(10, 0.1) == ()
    short, far = record_length_range(8, 0.04)
    assert short.message == (
        "The record has 8 years; at least 10 are asked for. "
        "Use it for comparison only, or simulate a longer one."
    )
    assert far.message == (
        "A recurrence of 25 years is read from 8 years. Beyond 2 times the record the chosen "
        "distribution decides, not the data. Look at the band."
    )


@pytest.mark.works(of=(l_moments, fit_gev_l_moments, quantile_gev, require_exceedance))
@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: l_moments([1.0, 2.0, 3.0]),
            "The sample has 3 values. L-moments need at least 4. Use a longer record.",
        ),
        (
            lambda: fit_gev_l_moments([2.0] * 6),
            "All 6 values are 2. They must differ for a distribution. "
            "Look for a limit that every year reaches.",
        ),
        (
            lambda: l_moments([1.0, 2.0, 3.0, math.nan]),
            "values is nan. A number is needed. Leave the years without a value out.",
        ),
        (
            lambda: quantile_gev(Gev(1.0, 0.0, 0.1), 0.1),
            "scale is 0. It must be above zero. Fit it to values that differ.",
        ),
        (
            lambda: quantile_gev(Gev(1.0, 1.0, 0.1), np.array([0.1, 10.0])),
            "exceedance is 10. It lies between 0 and 1, ends excluded. "
            "Give 0.1 for the ten-year value.",
        ),
        (
            lambda: band_order_statistics(RECORD, 0.1, confidence=1.0),
            "confidence is 1. It lies between 0 and 1, ends excluded. Give 0.9 for nine in ten.",
        ),
        (
            lambda: band_order_statistics([], 0.1),
            "The sample has 0 values. At least one is needed. Use a longer record.",
        ),
    ],
)
def test_meaningless_input_is_refused(call, message):
    with pytest.raises(OutOfDomain) as refused:
        call()
    assert message == str(refused.value)
