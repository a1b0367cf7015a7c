# SPDX-License-Identifier: Apache-2.0
"""Ranges of uncertain parameters: what their three values mean, and draws that stay as they are."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import read_table, slug_faults
from tilewater.nitrate.parameter_ranges import (
    QUANTILES,
    ParameterRange,
    default_ranges,
    draw_parameters,
    quantile_of_range,
)
from tilewater.nitrate.removal import default_rates

DRAWS = 1024
ONE_STRATUM = 1.0 / DRAWS
"""Stratified draws have one value in each stratum, so a share is off by no more than one."""
RANGES = default_ranges()
PINNED = [0.944237842828, 0.10042535203, 0.704304114296, 0.272048185661]


@pytest.mark.works(of=(default_ranges,))
def test_table_of_ranges_is_edited_on_purpose_only() -> None:
    table = read_table("tilewater.nitrate", "practice_parameter_ranges")

    assert slug_faults(table) == ()
    assert (len(table.rows), table.digest) == (13, "eabd8df256ff")


@pytest.mark.by_hand(of=(default_ranges,))
def test_removal_rate_is_the_default_rates_of_the_program() -> None:
    rate = RANGES["removal-rate"]

    assert (rate.low, rate.mid, rate.high) == default_rates()
    assert (rate.low_means, rate.high_means) == ("p10", "p90")


@pytest.mark.law(of=(draw_parameters, quantile_of_range))
@pytest.mark.parametrize("parameter", RANGES.values(), ids=list(RANGES))
def test_three_values_are_where_the_table_says(parameter: ParameterRange) -> None:
    drawn = draw_parameters([parameter], DRAWS, seed=7)[parameter.slug]

    if parameter.kind == "triangular":
        assert parameter.low <= drawn.min() < drawn.max() <= parameter.high
        peak = (parameter.mid - parameter.low) / (parameter.high - parameter.low)
        assert peak == pytest.approx(np.mean(drawn <= parameter.mid), abs=ONE_STRATUM)
        return
    # What lies beyond the limits is left out, less than half a percent of any range here.
    slack = ONE_STRATUM + 0.005
    for value, share in (
        (parameter.low, QUANTILES[parameter.low_means]),
        (parameter.mid, 0.5),
        (parameter.high, QUANTILES[parameter.high_means]),
    ):
        assert share == pytest.approx(np.mean(drawn <= value), abs=slack)
    assert parameter.least <= drawn.min() < drawn.max() <= parameter.most


@pytest.mark.oracle("scipy 1.17", of=(quantile_of_range,))
def test_quantiles_are_those_of_a_library() -> None:
    u = np.array([1e-6, 0.01, 0.2, 0.5, 0.77, 0.99, 1 - 1e-6])
    z95 = stats.norm.ppf(0.95)
    normal = ParameterRange("n", "normal", -2.0, 1.0, 4.0, "p5", "p95", "", about="difference")
    logn = ParameterRange("l", "lognormal", 0.5, 2.0, 8.0, "p5", "p95", "")
    tri = ParameterRange("t", "triangular", 1.0, 2.0, 5.0, "end", "end", "")
    flat = ParameterRange("u", "uniform", 1.0, 2.0, 5.0, "end", "end", "")
    cut = replace(normal, least=0.0, most=3.0)
    a, b = (0.0 - 1.0) / (3 / z95), (3.0 - 1.0) / (3 / z95)

    for expected, ours in (
        (stats.norm(1.0, 3.0 / z95), normal),
        (stats.lognorm(math.log(4.0) / z95, scale=2.0), logn),
        (stats.triang(0.25, 1.0, 4.0), tri),
        (stats.uniform(1.0, 4.0), flat),
        (stats.truncnorm(a, b, 1.0, 3.0 / z95), cut),
    ):
        assert expected.ppf(u) == pytest.approx(quantile_of_range(u, ours), rel=1e-9)


@pytest.mark.oracle("scipy 1.17", of=(quantile_of_range,))
def test_a_triangle_cut_on_both_sides_of_its_peak() -> None:
    whole = ParameterRange("t", "triangular", 0.0, 2.0, 5.0, "end", "end", "")
    cut = replace(whole, least=1.0, most=4.0)
    u = np.linspace(0.01, 0.99, 33)
    reference = stats.triang(0.4, 0.0, 5.0)
    first, last = reference.cdf(1.0), reference.cdf(4.0)

    assert reference.ppf(first + u * (last - first)) == pytest.approx(
        quantile_of_range(u, cut), rel=1e-9
    )


@pytest.mark.law(of=(draw_parameters,))
def test_draws_can_be_repeated() -> None:
    first = draw_parameters(RANGES.values(), DRAWS, seed=1)
    again = draw_parameters(reversed(RANGES.values()), DRAWS, seed=1)
    other = draw_parameters(RANGES.values(), DRAWS, seed=2)

    for slug in RANGES:
        assert np.array_equal(first[slug], again[slug])
        assert not np.array_equal(first[slug], other[slug])


@pytest.mark.law(of=(draw_parameters,))
@given(kept=st.sets(st.sampled_from(sorted(RANGES)), min_size=1), seed=st.integers(0, 2**31))
def test_a_parameter_more_or_less_leaves_the_others_alone(kept: set[str], seed: int) -> None:
    every = draw_parameters(RANGES.values(), 64, seed=seed)
    some = draw_parameters([RANGES[slug] for slug in sorted(kept)], 64, seed=seed)

    assert all(np.array_equal(some[slug], every[slug]) for slug in kept)


@pytest.mark.law(of=(draw_parameters,))
def test_parameters_are_drawn_apart() -> None:
    drawn = draw_parameters(RANGES.values(), DRAWS, seed=3)
    ranks = np.array([stats.rankdata(values) for values in drawn.values()])
    together = np.corrcoef(ranks)[np.triu_indices(len(RANGES), 1)]

    # Of 78 pairs the largest should stay below 4 of the spread that chance gives each.
    assert np.abs(together).max() < 4.0 / math.sqrt(DRAWS)
    assert 0.7 < together.std() * math.sqrt(DRAWS) < 1.3


@pytest.mark.law(of=(draw_parameters,))
@pytest.mark.parametrize("count", [1, 2, 100])
def test_each_stratum_has_one_draw(count: int) -> None:
    flat = ParameterRange("share", "uniform", 0.0, 0.5, 1.0, "end", "end", "-")
    drawn = draw_parameters([flat], count, seed=5)["share"]

    assert sorted(np.ceil(drawn * count)) == list(range(1, count + 1))


@pytest.mark.pinned(of=(draw_parameters,))
def test_draws_are_the_same_on_every_machine() -> None:
    flat = ParameterRange("share", "uniform", 0.0, 0.5, 1.0, "end", "end", "-")

    assert PINNED == pytest.approx(draw_parameters([flat], 4, seed=1)["share"], abs=1e-12)


@pytest.mark.by_hand(of=(draw_parameters,))
def test_new_chips_times_what_is_left_are_the_aged_chips() -> None:
    drawn = draw_parameters(RANGES.values(), DRAWS, seed=1)
    aged = drawn["conductivity-new"] * drawn["conductivity-left"]
    stated = RANGES["conductivity-aged"]

    assert 0.07 * 0.48 == pytest.approx(stated.mid, rel=0.05)
    spread = np.quantile(aged, [0.05, 0.95])
    assert (stated.low, stated.high) == pytest.approx(tuple(spread), rel=0.1)
    assert (drawn["conductivity-left"] < 1.0).all()


@pytest.mark.by_hand(of=(ParameterRange,))
def test_range_moves_with_the_value_of_a_job() -> None:
    new = RANGES["conductivity-new"].about_value(0.095)
    porosity = RANGES["porosity-effective"].about_value(0.70)

    assert (0.03 * 0.095 / 0.07, 0.095, 0.14 * 0.095 / 0.07) == pytest.approx(
        (new.low, new.mid, new.high), rel=1e-12
    )
    assert (0.50 + 0.09, 0.70, 0.70 + 0.09) == pytest.approx(
        (porosity.low, porosity.mid, porosity.high), rel=1e-12
    )


@pytest.mark.law(of=(ParameterRange, quantile_of_range))
@given(ratio=st.floats(0.1, 10.0), u=st.floats(0.01, 0.99))
def test_a_range_about_a_ratio_scales_every_quantile(ratio: float, u: float) -> None:
    rate, share = RANGES["removal-rate"], np.array([u])
    scaled = rate.about_value(rate.mid * ratio)

    assert ratio * quantile_of_range(share, rate) == pytest.approx(
        quantile_of_range(share, scaled), rel=1e-9
    )


@pytest.mark.law(of=(ParameterRange, draw_parameters))
def test_nothing_is_drawn_beyond_the_limits_of_a_moved_range() -> None:
    left = RANGES["conductivity-left"].about_value(0.95)
    decline = RANGES["rate-decline-per-year"].about_value(0.0)
    drawn = draw_parameters([left, decline], DRAWS, seed=1)

    assert left.high > 1.0 >= drawn["conductivity-left"].max()
    assert decline.low < 0.0 <= drawn["rate-decline-per-year"].min()


@pytest.mark.works(of=(ParameterRange,))
@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"low": 3.0}, "r is 3, 2, 8 m. Low, middle and high rise. Correct the range."),
        (
            {"low": 0.0},
            "r is 0, 2, 8 m. A lognormal range lies above zero. Correct the range.",
        ),
        (
            {"most": 1.5},
            "r is 1, 2, 8 m. The middle lies from -inf to 1.5. Correct the range.",
        ),
        (
            {"low_means": "p50"},
            "The ends of r mean p50 and p95. A lognormal range has p5 or p10 and p90 or p95. "
            "Correct the range.",
        ),
        (
            {"kind": "uniform"},
            "The ends of r mean p5 and p95. A uniform range has end twice. Correct the range.",
        ),
        (
            {"kind": "beta"},
            "r is beta about its middle by ratio. Known: lognormal, normal, triangular, uniform; "
            "ratio, difference. Correct the range.",
        ),
    ],
)
def test_ranges_that_mean_nothing_are_refused(change: dict[str, object], message: str) -> None:
    good = ParameterRange("r", "lognormal", 1.0, 2.0, 8.0, "p5", "p95", "m")

    with pytest.raises(OutOfDomain) as refused:
        replace(good, **change)  # type: ignore[arg-type]

    assert message == str(refused.value)


@pytest.mark.works(of=(draw_parameters, quantile_of_range, ParameterRange))
def test_draws_that_cannot_be_are_refused() -> None:
    rate = RANGES["removal-rate"]
    with pytest.raises(OutOfDomain, match=r"'removal-rate' is drawn twice. A name is drawn once."):
        draw_parameters([rate, rate], 8, seed=1)
    with pytest.raises(OutOfDomain, match=r"count is 0. At least one is drawn. Ask for 1024."):
        draw_parameters([rate], 0, seed=1)
    with pytest.raises(OutOfDomain, match=r"It lies between 0 and 1. Leave out both ends."):
        quantile_of_range(np.array([0.0, 0.5]), rate)
    with pytest.raises(OutOfDomain, match=r"removal-rate is 0 g/m3/day. It lies above zero."):
        rate.about_value(0.0)
