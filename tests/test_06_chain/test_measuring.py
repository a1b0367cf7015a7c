# SPDX-License-Identifier: Apache-2.0
"""What a measurement is worth, against the closed form of two normal laws."""

from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.chain.measuring import (
    Settled,
    share_settled,
    worth_of_knowing_all,
    worth_of_measuring,
)

NORMAL = NormalDist()


def scores(count: int = 1024, *, seed: int = 1) -> np.ndarray:
    """Normal scores in an order of their own."""
    even = np.array([NORMAL.inv_cdf((i + 0.5) / count) for i in range(count)])
    return even[np.argsort(np.random.default_rng(seed).random(count))]


@pytest.mark.by_hand(of=(worth_of_measuring,))
@pytest.mark.parametrize(("mean", "error"), [(0.5, 1.0), (0.2, 0.5), (-0.8, 0.7)])
def test_worth_is_that_of_the_closed_form(mean: float, error: float):
    """Build costs N(mean, 1), leaving costs 0: s = 1 / sqrt(1 + e^2), u = |mean| / s."""
    cost = scores()
    options = {"leave": np.zeros(1024), "build": cost + mean}
    worth = worth_of_measuring(options, [Settled(cost, error)])
    s = 1 / np.sqrt(1 + error**2)
    u = abs(mean) / s
    density = np.exp(-(u**2) / 2) / np.sqrt(2 * np.pi)
    assert worth.choice == ("leave" if mean > 0 else "build")
    assert worth.chance == pytest.approx(NORMAL.cdf(-u), abs=0.03)
    assert worth.saving == pytest.approx(s * (density - u * NORMAL.cdf(-u)), abs=0.02)
    assert worth.chance_error < 0.06
    assert worth.saving <= worth_of_knowing_all(options) + 0.02


@pytest.mark.by_hand(of=(worth_of_knowing_all,))
def test_knowing_all_saves_the_mean_of_the_least():
    """Costs 1, 3 and 2, 2: means 2 and 2, least 1 and 2, so 2 - 1.5 is saved."""
    assert worth_of_knowing_all({"a": np.array([1.0, 3.0]), "b": np.array([2.0, 2.0])}) == 0.5


@pytest.mark.law(of=(worth_of_measuring,))
@settings(max_examples=25)
@given(st.floats(0.1, 1.5), st.floats(0.05, 5.0))
def test_a_measurement_never_does_harm_and_an_idle_one_changes_nothing(mean: float, error: float):
    cost = scores(256)
    options = {"leave": np.zeros(256), "build": cost + mean}
    assert worth_of_measuring(options, [Settled(cost, error)]).saving >= 0
    blunt = worth_of_measuring(options, [Settled(cost, 1e4)])
    assert (blunt.chance, blunt.saving) == (0.0, 0.0)
    beside = worth_of_measuring(
        {"leave": np.ones(256), "build": np.full(256, 2.0)}, [Settled(cost, error)]
    )
    assert (beside.chance, beside.saving, beside.settles) == (0.0, 0.0, 0.0)


@pytest.mark.law(of=(worth_of_measuring,))
def test_what_does_not_fit_is_left_and_a_sharp_measurement_settles_it():
    x = scores()
    build = np.where(x > 0.3, 20.0, np.inf)
    options = {"leave": np.full(1024, np.inf), "build": build}
    worth = worth_of_measuring(options, [Settled(x, 0.05)])
    assert worth.choice == "leave"
    assert worth.chance == pytest.approx(NORMAL.cdf(-0.3), abs=0.03)
    assert worth.settles > 0.8
    assert worth.saving == np.inf  # leaving has no price
    priced = worth_of_measuring({**options, "leave": np.full(1024, 50.0)}, [Settled(x, 0.05)])
    assert priced.saving == pytest.approx(30 * NORMAL.cdf(-0.3), abs=1.5)
    two = worth_of_measuring(options, [Settled(x, 1.0), Settled(scores(seed=2), 1.0)])
    assert two.chance < worth.chance + 0.1


@pytest.mark.by_hand(of=(share_settled,))
def test_share_settled_of_two_normal_laws():
    assert share_settled(np.array([-2.0, 2.0]), 2.0) == 0.5
    assert share_settled(np.array([-2.0, 2.0]), 0.0) == 1.0
    assert share_settled(np.ones(3), 0.1) == 0.0


@pytest.mark.works(of=(worth_of_measuring,))
def test_a_choice_has_two_options_over_the_same_draws():
    x = Settled(np.zeros(4), 1.0)
    with pytest.raises(OutOfDomain, match="A choice has two"):
        worth_of_measuring({"build": np.ones(4)}, [x])
    with pytest.raises(OutOfDomain, match="A number in each"):
        worth_of_measuring({"build": np.ones(5), "leave": np.ones(5)}, [x])
