# SPDX-License-Identifier: Apache-2.0
"""Nitrate day by day from months, samples or a region."""

import math

import numpy as np
import pytest
from scipy import stats
from scipy.optimize import curve_fit

from tilewater.basis.errors import OutOfDomain
from tilewater.nitrate.concentration import (
    NitrateFit,
    error_of_fit,
    fit_nitrate,
    flow_weighted_nitrate,
    nitrate_by_month,
    nitrate_of_fit,
    nitrate_of_fit_range,
    regional_range,
    rotations,
)

DAY = np.arange(1461) + np.datetime64("2021-01-01")
TURN = 2 * np.pi * (DAY - DAY.astype("datetime64[Y]")).astype(float) / 365.25
FLOW = 0.004 * np.exp(1.2 * np.sin(TURN) + np.random.default_rng(3).normal(0, 0.8, 1461))
CLEAN = 12.0 * (FLOW / 0.004) ** 0.15 * np.exp(0.3 * np.sin(TURN) - 0.1 * np.cos(TURN))


def sampled(step: int, spread: float, seed: int = 1) -> NitrateFit:
    at = np.arange(5, 1461, step)
    noise = np.exp(np.random.default_rng(seed).normal(0, spread, at.size))
    none = np.zeros(at.size, dtype=bool)
    return fit_nitrate(DAY, FLOW, DAY[at], CLEAN[at] * noise, none)


@pytest.mark.by_hand(of=(nitrate_by_month, flow_weighted_nitrate))
def test_months_and_the_mean_of_the_water():
    """2 of 3 parts at 9 mg/L and 1 at 12: (18 + 12) / 3 = 10."""
    months = tuple(float(m) for m in range(1, 13))
    day = np.array(["2024-01-31", "2024-02-29", "2024-12-01"], dtype="datetime64[D]")
    assert nitrate_by_month(day, months).tolist() == [1.0, 2.0, 12.0]
    assert flow_weighted_nitrate(np.array([2.0, 1.0]), np.array([9.0, 12.0])) == 10.0


@pytest.mark.law(of=(fit_nitrate, nitrate_of_fit, error_of_fit))
def test_samples_without_scatter_give_the_line_back():
    fit = sampled(30, 0.0)
    inside = (fit.least <= FLOW) & (fit.most >= FLOW)
    assert fit.smearing == pytest.approx(1.0)
    assert nitrate_of_fit(DAY, FLOW, fit)[inside] == pytest.approx(CLEAN[inside])
    assert error_of_fit(DAY, FLOW, fit) < 1e-9
    assert fit.slopes[1] == pytest.approx(0.15)


@pytest.mark.oracle("scipy 1.17", of=(fit_nitrate,))
def test_slopes_and_errors_are_those_of_another_least_squares():
    """With the season left out of the truth and the samples on one date a year, a plain line."""
    at = np.arange(100, 1461, 29)
    values = (
        10 * (FLOW[at] / 0.004) ** 0.2 * np.exp(np.random.default_rng(5).normal(0, 0.2, at.size))
    )
    fit = fit_nitrate(DAY, FLOW, DAY[at], values, np.zeros(at.size, dtype=bool))
    terms = np.column_stack(
        [np.ones(at.size), np.log(FLOW[at] / fit.middle), np.sin(TURN[at]), np.cos(TURN[at])]
    )
    slopes, covariance = curve_fit(
        lambda _, *b: terms @ np.array(b), at, np.log(values), np.zeros(4)
    )
    assert fit.slopes == pytest.approx(slopes, rel=1e-5, abs=1e-7)
    assert fit.covariance == pytest.approx(covariance, rel=1e-4)
    left = np.log(values) - terms @ slopes
    assert fit.smearing == pytest.approx(np.exp(left).mean())


@pytest.mark.law(of=(error_of_fit, flow_weighted_nitrate, nitrate_of_fit))
def test_the_error_is_the_spread_of_fits_to_other_samples():
    true = flow_weighted_nitrate(FLOW, CLEAN * math.exp(0.25**2 / 2))
    fits = [sampled(40, 0.25, seed) for seed in range(60)]
    means = np.array([flow_weighted_nitrate(FLOW, nitrate_of_fit(DAY, FLOW, fit)) for fit in fits])
    said = np.mean([error_of_fit(DAY, FLOW, fit) for fit in fits])
    assert means.std() / true == pytest.approx(said, rel=0.35)
    assert means.mean() == pytest.approx(true, rel=0.05)  # smeared, so no longer the median


@pytest.mark.by_hand(of=(fit_nitrate,))
def test_bottles_of_a_day_count_once_and_half_the_limit_stands_in():
    at = np.arange(5, 1461, 30)
    twice = np.concatenate([at, at[:3]])
    values, below = CLEAN[twice].copy(), np.zeros(twice.size, dtype=bool)
    values[5], below[5] = 2 * values[5], True
    fit = fit_nitrate(DAY, FLOW, DAY[twice], values, below)
    assert fit.days == at.size
    assert fit.spread < 1e-9


@pytest.mark.works(of=(nitrate_of_fit_range, fit_nitrate))
def test_water_outside_the_sampled_flows_is_said():
    fit = sampled(30, 0.1)
    (found,) = nitrate_of_fit_range(DAY, FLOW, fit)
    assert (found.code, found.severity) == ("nitrate-fit", "note")
    assert "49 days of samples" in found.message
    (found,) = nitrate_of_fit_range(DAY, 30 * FLOW, fit)
    assert found.severity == "caution"
    few = DAY[:7]
    with pytest.raises(OutOfDomain, match="7 of 7 days of samples have drain flow"):
        fit_nitrate(DAY, FLOW, few, np.ones(7), np.zeros(7, dtype=bool))


@pytest.mark.practice(of=(regional_range, rotations))
def test_regions_have_a_range_that_is_said_to_be_remembered():
    every = [regional_range(rotation) for rotation in rotations()]
    assert len(every) == 5
    assert {each.honesty for each in every} == {"memory", "practice"}
    assert (every[0].low, every[0].mid, every[0].high) == (8, 13, 20)
    assert stats.lognorm.cdf(20, np.log(20 / 13) / 1.2816, scale=13) == pytest.approx(0.9, abs=1e-3)
    with pytest.raises(OutOfDomain, match="no rotation of the table"):
        regional_range("sugar beet")


@pytest.mark.works(of=(nitrate_by_month, flow_weighted_nitrate))
def test_what_makes_no_sense_is_refused():
    with pytest.raises(OutOfDomain, match="There are 12 months"):
        nitrate_by_month(DAY, (1.0, 2.0))
    with pytest.raises(OutOfDomain, match="Some water leaves"):
        flow_weighted_nitrate(np.zeros(3), np.ones(3))
