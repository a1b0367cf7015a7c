# SPDX-License-Identifier: Apache-2.0
"""Ranges after a measurement, against numerical integration of prior times likelihood."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tilewater.basis.errors import OutOfDomain
from tilewater.nitrate.parameter_ranges import (
    ParameterRange,
    default_ranges,
    draw_parameters,
    quantile_of_range,
)
from tilewater.nitrate.range_update import (
    Measured,
    draws_that_count,
    quantile_of_weighed,
    updated_range,
    updated_range_range,
    weights_of_draws,
    weights_of_draws_range,
)

EVEN = ParameterRange("rate", "lognormal", 3.0, 6.0, 12.0, "p10", "p90", "g/m3/day")
PLAIN = ParameterRange("porosity", "normal", 0.5, 0.6, 0.7, "p5", "p95", "-")


@pytest.mark.by_hand(of=(updated_range,))
def test_equal_variances_meet_half_way():
    """s = 0.1 / 1.645 and e the same: middle (0.6 + 0.7) / 2, spread s / sqrt(2)."""
    s = 0.1 / 1.6448536
    after = updated_range(PLAIN, Measured(0.7, s))
    assert after.mid == pytest.approx(0.65)
    assert after.high - after.mid == pytest.approx(0.1 / math.sqrt(2))
    s = math.log(2) / 1.2815516
    share = math.sqrt(math.exp(s**2) - 1)
    after = updated_range(EVEN, Measured(24.0, share))
    assert after.mid == pytest.approx(math.sqrt(6.0 * 24.0))
    assert after.low == pytest.approx(after.mid / 2 ** (1 / math.sqrt(2)))


@pytest.mark.oracle("scipy 1.17", of=(updated_range,))
@pytest.mark.parametrize(("value", "error"), [(4.0, 0.2), (9.0, 0.5), (20.0, 0.3)])
def test_closed_form_is_the_integral_of_prior_times_likelihood(value: float, error: float):
    log = np.linspace(-5, 9, 40001)
    s, e = math.log(2) / stats.norm.ppf(0.9), math.sqrt(math.log1p(error**2))
    density = stats.norm.pdf(log, math.log(6), s) * stats.norm.pdf(math.log(value), log, e)
    below = np.cumsum(density) / density.sum()
    after = updated_range(EVEN, Measured(value, error))
    for share, found in ((0.1, after.low), (0.5, after.mid), (0.9, after.high)):
        assert found == pytest.approx(math.exp(np.interp(share, below, log)), rel=2e-3)


@pytest.mark.oracle("scipy 1.17", of=(updated_range,))
def test_uneven_sides_stay_near_the_integral():
    """No closed form: the default range of new chips, 0.07 m/s, measured as 0.095 +/- 20 %."""
    prior = default_ranges()["conductivity-new"]
    x = quantile_of_range((np.arange(200000) + 0.5) / 200000, prior)
    e = math.sqrt(math.log1p(0.2**2))
    weights = stats.norm.pdf(np.log(0.095), np.log(x), e)
    after = updated_range(prior, Measured(0.095, 0.2))
    for share, found in ((0.05, after.low), (0.5, after.mid), (0.95, after.high)):
        assert found == pytest.approx(
            quantile_of_weighed(x, weights / weights.sum(), share), rel=0.08
        )


@pytest.mark.law(of=(updated_range, updated_range_range))
@given(
    st.sampled_from(["conductivity-new", "removal-rate", "porosity-effective", "nitrate-factor"]),
    st.floats(0.5, 2.0),
    st.floats(0.02, 3.0),
)
def test_a_measurement_never_widens_a_range(slug: str, ratio: float, error: float):
    prior = default_ranges()[slug]
    value = prior.mid * ratio if prior.kind == "lognormal" else prior.mid + 0.2 * (ratio - 1)
    after = updated_range(prior, Measured(value, error))
    spread = math.log if prior.kind == "lognormal" else float
    for wide, narrow in ((prior, after),):
        assert spread(narrow.high) - spread(narrow.mid) <= spread(wide.high) - spread(wide.mid)
        assert spread(narrow.mid) - spread(narrow.low) <= spread(wide.mid) - spread(wide.low)
    assert min(prior.mid, value) <= after.mid <= max(prior.mid, value)
    sharp = updated_range(prior, Measured(value, 1e-6))
    assert sharp.mid == pytest.approx(value, rel=1e-6)
    blunt = updated_range(prior, Measured(value, 1e9))
    assert blunt.mid == pytest.approx(prior.mid, rel=0.05)


@pytest.mark.law(of=(updated_range,))
@given(st.floats(0.05, 2.0))
def test_a_narrower_range_about_its_middle_never_widens_the_answer(error: float):
    prior = default_ranges()["removal-rate"]
    after = updated_range(prior, Measured(prior.mid, error))

    def answer(each: ParameterRange) -> np.ndarray:
        drawn = draw_parameters([each, default_ranges()["half-saturation"]], 256, seed=1)
        return drawn["removal-rate"] * 10 / (10 + drawn["half-saturation"])

    wide, narrow = answer(prior), answer(after)
    assert wide.min() <= narrow.min() <= narrow.max() <= wide.max()


@pytest.mark.by_hand(of=(weights_of_draws, draws_that_count, quantile_of_weighed))
def test_weights_of_two_draws():
    """One error apart: exp(-1/2) to 1, so 0.378 and 0.622; 1 / (0.378^2 + 0.622^2) count."""
    weights = weights_of_draws(np.array([1.0, 2.0]), 2.0, 1.0)
    assert weights.tolist() == pytest.approx([0.3775, 0.6225], abs=5e-5)
    assert draws_that_count(weights) == pytest.approx(1 / (0.3775**2 + 0.6225**2), rel=1e-3)
    assert draws_that_count(np.full(8, 1 / 8)) == pytest.approx(8)
    assert quantile_of_weighed(np.array([3.0, 1.0, 2.0]), np.full(3, 1 / 3), 0.5) == 2.0


@pytest.mark.law(of=(weights_of_draws, quantile_of_weighed))
@given(st.floats(-2, 2), st.floats(0.1, 5))
def test_weighed_draws_stay_within_the_draws(measured: float, error: float):
    values = stats.norm.ppf((np.arange(512) + 0.5) / 512)
    weights = weights_of_draws(values, measured, error)
    low, middle, high = (quantile_of_weighed(values, weights, p) for p in (0.1, 0.5, 0.9))
    assert values.min() <= low <= middle <= high <= values.max()
    share = 1 / (1 + error**2)
    assert middle == pytest.approx(share * measured, abs=0.05)
    assert (high - low) / 2 == pytest.approx(1.2816 * math.sqrt(1 - share), abs=0.05)


@pytest.mark.works(of=(updated_range, updated_range_range, weights_of_draws_range))
def test_what_does_not_agree_is_said():
    assert updated_range_range(PLAIN, Measured(0.65, 0.03)) == ()
    (found,) = updated_range_range(PLAIN, Measured(0.9, 0.02))
    assert found.code == "measured-far-from-range"
    assert "0.5 to 0.7 was thought before" in found.message
    values = np.linspace(0, 1, 200)
    assert weights_of_draws_range(values, 0.5, 0.3) == ()
    (found,) = weights_of_draws_range(values, 1.5, 0.05)
    assert found.code == "few-draws-agree"


@pytest.mark.works(of=(updated_range, weights_of_draws))
def test_a_measurement_states_its_error():
    for prior, value, error, words in (
        (PLAIN, 0.6, 0.0, "It lies above 0"),
        (EVEN, -1.0, 0.1, "It lies above 0"),
        (replace(PLAIN, kind="uniform", low_means="end", high_means="end"), 0.6, 0.1, "normal"),
    ):
        with pytest.raises(OutOfDomain, match=words):
            updated_range(prior, Measured(value, error))
    with pytest.raises(OutOfDomain, match="It lies above 0"):
        weights_of_draws(np.ones(3), 1.0, 0.0)
