# SPDX-License-Identifier: Apache-2.0
"""Figures of how near a simulated series comes to a measured one."""

import math

import hydroeval
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.goodness import (
    NO_FLOW,
    bias,
    days_without_flow_share,
    kling_gupta,
    nash_sutcliffe,
    season_errors,
)

ALL = (bias, nash_sutcliffe, kling_gupta)
MEASURED = np.array([1.0, 2.0, 3.0, 6.0])
SIMULATED = np.array([2.0, 2.0, 4.0, 4.0])


def series(seed: int) -> tuple[np.ndarray, np.ndarray]:
    draws = np.random.default_rng(seed)
    measured = draws.gamma(0.5, 2.0, 400)
    return np.maximum(0.0, 0.8 * measured + draws.normal(0.2, 0.7, 400)), measured


@pytest.mark.by_hand(of=ALL)
def test_four_days_by_hand():
    assert bias(SIMULATED, MEASURED) == pytest.approx(12 / 12 - 1)
    missed, variance = 1 + 0 + 1 + 4, 4 + 1 + 0 + 9
    assert nash_sutcliffe(SIMULATED, MEASURED) == pytest.approx(1 - missed / variance)
    together = ((-2) * (-1) + (-1) * (-1) + 0 * 1 + 3 * 1) / math.sqrt(14 * 4)
    spread = math.sqrt(4 / 14)
    expected = 1 - math.sqrt((together - 1) ** 2 + (spread - 1) ** 2 + 0**2)
    assert kling_gupta(SIMULATED, MEASURED) == pytest.approx(expected)


@pytest.mark.oracle("hydroeval 0.1.0", of=(nash_sutcliffe, kling_gupta, bias))
@pytest.mark.parametrize("seed", range(4))
def test_efficiencies_are_those_of_another_library(seed):
    simulated, measured = series(seed)
    theirs = float(hydroeval.nse(simulated[:, None], measured[:, None])[0])
    assert nash_sutcliffe(simulated, measured) == pytest.approx(theirs, rel=1e-12)
    kge, _, _, ratio = hydroeval.kge(simulated[:, None], measured[:, None])[:, 0]
    assert kling_gupta(simulated, measured) == pytest.approx(kge, rel=1e-12)
    assert bias(simulated, measured) == pytest.approx(ratio - 1, rel=1e-12)


@pytest.mark.law(of=ALL)
@given(seed=st.integers(0, 1000), factor=st.floats(1e-9, 1e3))
def test_the_unit_of_the_flow_does_not_matter(seed, factor):
    simulated, measured = series(seed)
    for figure in ALL:
        plain = figure(simulated, measured)
        assert figure(factor * simulated, factor * measured) == pytest.approx(plain, abs=1e-9)


@pytest.mark.law(of=ALL)
def test_a_series_is_perfect_beside_itself_and_its_mean_explains_nothing():
    _, measured = series(7)
    mean = np.full(measured.size, measured.mean())
    assert [figure(measured, measured) for figure in ALL] == pytest.approx([0, 1, 1])
    assert nash_sutcliffe(mean, measured) == pytest.approx(0, abs=1e-12)
    assert kling_gupta(mean, measured) == pytest.approx(1 - math.sqrt(2))


@pytest.mark.by_hand(of=(days_without_flow_share,))
def test_less_than_a_weir_can_show_is_no_flow():
    flow = np.array([0.0, 0.99, 1.0, 5.0]) * NO_FLOW
    assert days_without_flow_share(flow) == 2 / 4


@pytest.mark.by_hand(of=(season_errors,))
def test_errors_of_the_quarters_make_up_the_bias():
    month = np.array([1, 4, 9, 12])
    simulated = np.array([2.0, 2.0, 4.0, 5.0])
    errors = season_errors(simulated, MEASURED, month)
    assert errors == pytest.approx((1 / 12, 0 / 12, 1 / 12, -1 / 12))
    assert sum(errors) == pytest.approx(bias(simulated, MEASURED))


@pytest.mark.works(of=ALL)
@pytest.mark.parametrize(
    ("simulated", "measured", "words"),
    [
        ([1.0], [1.0, 2.0], "1 days and measured 2"),
        ([], [], "at least one"),
        ([1.0, math.nan], [1.0, 2.0], "no value"),
        ([1.0, 2.0], [0.0, 0.0], "0 m/s in all"),
    ],
)
def test_what_cannot_be_compared_is_refused(simulated, measured, words):
    for figure in ALL:
        with pytest.raises(OutOfDomain, match=words):
            figure(np.array(simulated), np.array(measured))


@pytest.mark.works(of=(nash_sutcliffe, kling_gupta, days_without_flow_share))
def test_a_flow_that_never_changes_has_no_efficiency():
    for figure in (nash_sutcliffe, kling_gupta):
        with pytest.raises(OutOfDomain, match="never changes"):
            figure(np.array([1.0, 2.0]), np.array([3.0, 3.0]))
    with pytest.raises(OutOfDomain, match="0 days"):
        days_without_flow_share(np.array([]))
