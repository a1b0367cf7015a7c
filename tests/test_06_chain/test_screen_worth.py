# SPDX-License-Identifier: Apache-2.0
"""What a measurement could change in the answers of a screening, and which comes first."""

from pathlib import Path

import numpy as np
import pytest

from tests.jobs import with_givens
from tilewater.basis.trace import Given
from tilewater.chain.measurements import measurement_of, unknown_names
from tilewater.chain.measuring import Settled
from tilewater.chain.screen import screen_job
from tilewater.chain.screen_next import HOUR, is_worth_telling, measurements
from tilewater.chain.screen_worth import (
    RANGE_OF,
    margin_by_draw,
    price_of,
    weighed_for,
    worth_for_answer,
)
from tilewater.tasks.checking import job_inputs

EXAMPLES = Path(__file__).parents[2] / "examples"


def farm(name: str, *givens: Given):
    return screen_job(with_givens(job_inputs(EXAMPLES / f"{name}-farm")[0], *givens))


@pytest.mark.by_hand(of=(margin_by_draw, worth_for_answer))
def test_an_answer_changes_as_often_as_its_draws_lie_beyond_the_limit():
    """A share of 0.06 is 0.05 or more with a factor over 0.8333: 70 of these 100 draws."""
    factor = np.concatenate([np.linspace(0.4, 0.8, 30), np.linspace(0.9, 3.0, 70)])
    margin = margin_by_draw(0.06, {"x": factor}, "x", 0.05)
    assert np.count_nonzero(margin >= 0.0) == 70
    assert margin[0] == pytest.approx(0.06 * 0.4 - 0.05)
    worth = worth_for_answer(Settled(np.log(factor), 0.001), share=margin)
    assert worth.choice == "build"
    assert worth.chance.share == pytest.approx(0.30, abs=1.5 / 64)
    assert not worth.was_settled
    both = worth_for_answer(Settled(np.log(factor), 0.001), share=margin, nitrate=margin - 1.0)
    assert (both.choice, both.chance.share, both.was_settled) == ("leave", 0.0, True)


@pytest.mark.works(of=(weighed_for, measurements))
def test_holes_are_weighed_where_the_range_of_the_strip_lies_on_both_sides_of_the_rule():
    screen = farm("sorrel")
    (holes,) = [each for each in screen.measure if each.slug == "holes"]
    assert holes.weighed is not None
    assert holes.weighed.measurement == measurement_of("auger-holes")
    assert is_worth_telling(holes.weighed)
    assert "buffer" in holes.practices
    assert holes.usd == measurement_of("auger-holes").usd
    assert holes.changes < 1.0 < holes.price
    drawn = screen.trace.value("screen.worth.drawn")
    assert set(drawn) <= set(RANGE_OF.values())


@pytest.mark.law(of=(measurements,))
@pytest.mark.parametrize("name", ["corbel", "sorrel"])
def test_what_could_stop_it_is_measured_first_then_what_changes_most_for_its_price(name: str):
    screen = farm(name)
    stops = [
        any(row.weight == "stops" and not row.hangs for row in each.settles)
        for each in screen.measure
    ]
    assert stops == sorted(stops, reverse=True)
    for wanted in (True, False):
        ranks = [
            each.changes / each.price
            for each, is_stop in zip(screen.measure, stops, strict=True)
            if is_stop is wanted
        ]
        assert ranks == sorted(ranks, reverse=True)
    for each in screen.measure:
        assert each.price == max(1.0, each.usd + HOUR * each.hours)


@pytest.mark.works(of=(price_of, unknown_names))
def test_a_price_of_the_job_stands_in_the_place_of_the_usual_one():
    own = Given("inputs.measure.auger-holes.cost_usd", 12345.0, "USD", "Price")
    (holes,) = [each for each in farm("sorrel", own).measure if each.slug == "holes"]
    assert holes.usd == 12345.0
    assert price_of(farm("sorrel").trace, "auger-holes", 7.0) == 7.0
    assert unknown_names(("auger-holes", "stage", "nothing-like-it")) == ("nothing-like-it",)


@pytest.mark.works(of=(weighed_for,))
def test_what_cannot_lie_here_waits_for_no_measurement():
    screen = farm("verling")
    assert screen.nothing
    assert screen.measure == ()
