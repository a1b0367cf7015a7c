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
    assert worth.chance.share == pytest.approx(NORMAL.cdf(-u), abs=0.03)
    assert worth.saving == pytest.approx(s * (density - u * NORMAL.cdf(-u)), abs=0.02)
    assert worth.chance.error < 0.06
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
    assert (blunt.chance.share, blunt.saving) == (0.0, 0.0)
    beside = worth_of_measuring(
        {"leave": np.ones(256), "build": np.full(256, 2.0)}, [Settled(cost, error)]
    )
    assert (beside.chance.share, beside.saving, beside.was_settled, beside.settles.share) == (
        0.0,
        0.0,
        True,
        1.0,
    )


@pytest.mark.law(of=(worth_of_measuring,))
def test_what_breaks_a_rule_is_left_and_a_sharp_measurement_settles_it():
    """Built at 20 where x > 0.3: it is broken by the middle, and kept in 38 of 100 results."""
    x = scores()
    options = {"leave": np.full(1024, 50.0), "build": np.full(1024, 20.0)}
    rule = {"build": [x - 0.3]}
    worth = worth_of_measuring(options, [Settled(x, 0.05)], rule)
    assert (worth.choice, worth.was_settled) == ("leave", False)
    assert worth.chance.share == pytest.approx(NORMAL.cdf(-0.3), abs=0.03)
    assert worth.saving == pytest.approx(30 * NORMAL.cdf(-0.3), abs=1.0)
    assert worth.settles.share > 0.85
    unpriced = {**options, "leave": np.full(1024, np.inf)}
    assert worth_of_measuring(unpriced, [Settled(x, 0.05)], rule).saving == np.inf
    blunt = worth_of_measuring(options, [Settled(x, 2.0)], rule)
    assert blunt.settles.share < 0.2
    aside = worth_of_measuring(options, [Settled(scores(seed=2), 0.05)], rule)
    assert aside.chance.share < 0.1
    both = worth_of_measuring(options, [Settled(x, 1.0), Settled(scores(seed=2), 1.0)], rule)
    alone = worth_of_measuring(options, [Settled(x, 1.0)], rule)
    assert both.chance.share == pytest.approx(alone.chance.share, abs=0.1)


@pytest.mark.law(of=(worth_of_measuring,))
def test_of_three_practices_the_cheapest_that_keeps_its_rules_is_chosen():
    x = scores()
    options = {"bed": 30 + 5 * x, "buffer": 20 + 0 * x, "raised": 25 + 0 * x}
    assert worth_of_measuring(options, [Settled(x, 0.1)]).choice == "buffer"
    dry = worth_of_measuring(options, [Settled(x, 0.1)], {"buffer": [x - 1.0]})
    assert dry.choice == "raised"
    assert dry.chance.share == pytest.approx(
        2 * NORMAL.cdf(-1.0), abs=0.04
    )  # buffer, or a cheap bed


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
