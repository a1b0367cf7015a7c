# SPDX-License-Identifier: Apache-2.0
"""What to measure before one of several practices is chosen, and draws that stay in pairs."""

from functools import cache

import numpy as np
import pytest

from tests.jobs import with_givens
from tests.test_06_chain.test_compare import compared
from tests.test_06_chain.test_water import with_weather
from tilewater.basis.trace import Given
from tilewater.chain.bed import BED
from tilewater.chain.compare import PracticeComparison, compare_practices
from tilewater.chain.compare_draws import difference_of_draws
from tilewater.chain.compare_steps import in_step_with, removed_key
from tilewater.chain.compare_worth import (
    add_choice,
    margins_in_step,
    margins_of_both,
    settled_in_step,
    worth_among_practices,
)
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.measurements import choice_words, measurement_of
from tilewater.chain.measuring import Settled
from tilewater.chain.practice import Practice
from tilewater.nitrate.parameter_ranges import default_ranges

KEPT = np.array([0, 0, 3, 5, 5, 9])


def weighed_job() -> JobInputs:
    """Corbel Farm, on whose bed a share of the water was measured."""
    return with_givens(
        with_weather(),
        Given("inputs.measured.treated_share", 0.55, "-", "Share of the water treated"),
        Given("inputs.measured.treated_share_error", 0.05, "-", "Its error"),
    )


def twice_the_bed(job: JobInputs, practice: Practice) -> Design:
    """A bed in the place of any practice; it knows the measured share where it is called a bed."""
    return design_practice(job if practice.name == "bed" else with_weather(), BED)


@cache
def with_itself() -> PracticeComparison:
    return compare_practices(weighed_job(), ("bed", "raised"), design=twice_the_bed)


@pytest.mark.by_hand(of=(in_step_with, margins_in_step, margins_of_both))
def test_draw_seven_stands_beside_draw_seven():
    values = np.arange(8.0)
    assert in_step_with(values, KEPT).tolist() == [0, 0, 3, 5, 5]  # there is no draw 9
    assert in_step_with(tuple("abcdefgh"), KEPT) == ("a", "a", "d", "f", "f")
    (margin,) = margins_in_step(kept=KEPT, value_share=values, limit_share=3.0)
    assert margin.tolist() == [-3, -3, 0, 2, 2]
    (plain,) = margins_in_step(value_share=values, limit_share=3.0)
    assert plain.tolist() == (values - 3).tolist()
    assert margins_of_both((margin,), ()) == (margin,)


@pytest.mark.law(of=(compare_practices, in_step_with, removed_key))
def test_a_practice_beside_itself_ties_in_every_draw_whatever_was_measured():
    trace = with_itself().trace
    first, second = (trace.value(removed_key(trace, name) or "") for name in ("bed", "raised"))
    assert first.size == second.size == 1024
    assert np.all(difference_of_draws(first, second) == 0.0)
    assert np.unique(first).size < first.size  # the measured share did weigh the draws
    (pair,) = [p for p in with_itself().pairs if p.measure == "removed"]
    assert (pair.first_better, pair.second_better) == (0.0, 0.0)
    nitrate = np.array([bed.nitrate_factor for bed in trace.value("bed.days.draws")])
    beside = in_step_with(trace.value("raised.days.draws"), trace.value(BED_KEPT))
    assert nitrate.tolist() == [bed.nitrate_factor for bed in beside]


BED_KEPT = "bed.updated.treated_share.kept"


@pytest.mark.by_hand(of=(worth_among_practices,))
def test_a_measurement_changes_the_choice_as_often_as_the_other_is_cheaper():
    """Of 100 draws 40 make the second cost 5 in the place of 20; the first costs 10 in all."""
    known = np.arange(100.0)
    costs = {"bed": np.full(100, 10.0), "buffer": np.where(known < 40, 5.0, 20.0)}
    exact = Settled(known, 0.01)
    found = worth_among_practices(costs, {}, exact)
    assert found.choice == "bed"
    assert not found.was_settled
    assert found.chance.share == pytest.approx(0.40, abs=1 / 64)
    assert found.saving == pytest.approx(0.40 * (10.0 - 5.0), abs=5 / 64)
    assert found.settles.share == 1.0
    dear = worth_among_practices(costs, {}, exact, most=4.0)
    assert (dear.choice, dear.chance.share) == ("leave", 0.0)


@pytest.mark.by_hand(of=(worth_among_practices,))
def test_a_rule_that_draws_decide_lets_a_practice_in_or_out():
    known = np.arange(100.0)
    costs = {"bed": np.full(100, 10.0), "buffer": np.full(100, 5.0)}
    out = {"buffer": (known - 70.0,)}  # 30 of 100 draws keep it, so the middle does not
    found = worth_among_practices(costs, out, Settled(known, 0.01))
    assert found.choice == "bed"
    assert found.chance.share == pytest.approx(0.30, abs=1 / 64)
    fewer = {"bed": costs["bed"][:50], "buffer": costs["buffer"]}
    assert worth_among_practices(fewer, out, Settled(known, 0.01)).chance.share == 0.0


@pytest.mark.works(of=(add_choice, settled_in_step, choice_words))
def test_measurements_stand_in_the_order_of_what_they_change_for_their_price():
    choice = compared().choice
    assert choice is not None
    assert choice.options == ("bed", "raised")
    ranks = [
        (each.changes.share if each.changes.is_told else 0.0) / each.usd for each in choice.measures
    ]
    assert ranks == sorted(ranks, reverse=True)
    slugs = [each.measurement.slug for each in choice.measures]
    assert len(slugs) == len(set(slugs))
    assert {"chips-rate", "field-holes", "flow-season"} <= set(slugs)
    for each in choice.measures:
        assert choice_words(each).startswith(f"Tells {each.measurement.means}")
    assert f"choice.{slugs[0]}.chance" in compared().trace


@pytest.mark.works(of=(add_choice,))
def test_a_price_of_the_job_stands_in_the_place_of_the_usual_one():
    own = Given("inputs.measure.chips-rate.cost_usd", 1.0, "USD", "Price")
    job = with_givens(with_weather(), own)
    choice = compare_practices(job, ("bed",)).choice
    assert choice is not None
    priced = {each.measurement.slug: each.usd for each in choice.measures}
    assert priced["chips-rate"] == 1.0
    assert priced["neighbour-bed"] == measurement_of("neighbour-bed").usd


@pytest.mark.works(of=(settled_in_step,))
def test_a_measurement_knows_the_draws_that_stand_in_step():
    ranges = default_ranges()
    drawn = {"removal-rate": np.linspace(2.0, 12.0, 10)}
    whole = settled_in_step(drawn, ranges, "chips-rate")
    some = settled_in_step(drawn, ranges, "chips-rate", kept=KEPT)
    assert some.values.tolist() == whole.values[KEPT].tolist()
    assert some.error == whole.error
