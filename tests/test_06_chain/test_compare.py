# SPDX-License-Identifier: Apache-2.0
"""Practices side by side: who is ahead, what it costs, and what a comparison must not do."""

from dataclasses import replace
from functools import cache
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import spearmanr

from tests.jobs import ACRE, FOOT, INCH, corbel_inputs, with_givens
from tests.test_06_chain.test_water import with_weather
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Given, Origin, Trace
from tilewater.chain import compare_draws as draws
from tilewater.chain.compare import PracticeComparison, compare_practices
from tilewater.chain.compare_contenders import (
    NAMES,
    NONE,
    ROW,
    Contender,
    contender,
    missing_of,
    with_own_upkeep,
)
from tilewater.chain.compare_owner import (
    cropped_of_vegetation,
    hours_cost,
    land_cost,
    largest_difference,
    strip_area,
)
from tilewater.chain.compare_pairs import Pair, add_pairs, answer, drawn_together, hinge_words
from tilewater.chain.compare_steps import add_owner, adopt
from tilewater.chain.design import Design, design_practice
from tilewater.chain.drain_flow_range import drain_flow_range
from tilewater.chain.inputs import JobInputs
from tilewater.chain.practice import Practice
from tilewater.economics.estimate import cost_per_mass
from tilewater.economics.value import annual_cost, present_value_of_replacements
from tilewater.nitrate.parameter_ranges import default_ranges, draw_parameters, read_ranges
from tilewater.practices.raised.draws import field_ranges

POUND = 0.45359237
RANDOM = np.random.default_rng(3)


def pair(first: str, second: str, better: float, measure: str = "removed") -> Pair:
    return Pair(first, second, measure, better, 1.0 - better, None)


@cache
def _design(name: str, kind: str) -> Design:
    practice = next(p for p in PRACTICE_OF.values() if p.name == name)
    job = with_weather() if kind == "weather" else corbel_inputs()
    return design_practice(job, practice)


PRACTICE_OF: dict[str, Practice] = {}


def cached(job: JobInputs, practice: Practice) -> Design:
    """The design of a practice, made once for these tests."""
    PRACTICE_OF[practice.name] = practice
    kind = "weather" if any(g.key == "inputs.weather.day" for g in job.givens) else "plain"
    return _design(practice.name, kind)


@cache
def compared(names: tuple[str, ...] = NAMES) -> PracticeComparison:
    """What Corbel Farm describes: a bed and a raised outlet."""
    return compare_practices(with_weather(), names, design=cached)


# Draws in pairs


@pytest.mark.by_hand(of=(draws.share_better, draws.share_less, draws.difference_of_draws))
def test_pairs_of_draws_are_counted():
    first, second = np.arange(20.0), np.full(24, 4.0)
    assert draws.share_better(first, second) == 15 / 20
    assert draws.share_less(first, second) == 4 / 20
    assert draws.difference_of_draws(second, first)[0] == 4.0
    with pytest.raises(OutOfDomain, match="3 pairs"):
        draws.share_better(np.arange(3.0), second)


@pytest.mark.oracle("scipy 1.17", of=(draws.rank_correlation,))
@given(st.lists(st.integers(0, 9), min_size=3, max_size=40))
def test_rank_correlation_is_that_of_a_library(values):
    first, second = np.array(values, dtype=float), np.sin(np.arange(len(values)) * 1.7)
    ours = draws.rank_correlation(first, second)
    theirs = 0.0 if len(set(values)) == 1 else float(spearmanr(first, second).statistic)
    assert ours == pytest.approx(theirs, abs=1e-12)


@pytest.mark.law(of=(draws.hinge_of, drawn_together))
def test_the_hinge_is_what_the_difference_is_made_of():
    ranges = [default_ranges()[slug] for slug in ("removal-rate", "q10", "flush")]
    drawn = draw_parameters(ranges, 256, seed=1)
    first = {"removal-rate": drawn["removal-rate"], "q10": drawn["q10"]}
    both = drawn_together(bed=first, raised={"flush": drawn["flush"]})
    assert set(both) == {"removal-rate", "q10", "flush"}
    difference = 3.0 * np.log(drawn["q10"]) - 0.01 * drawn["flush"]
    assert draws.hinge_of(difference, both).name == "q10"
    assert draws.hinge_of(-difference, both).correlation < -0.9
    with pytest.raises(OutOfDomain, match="0 parameters"):
        draws.hinge_of(difference, {})


@pytest.mark.works(of=(hinge_words,))
def test_every_parameter_that_is_drawn_has_its_words():
    slugs = set(field_ranges(drain_flow_range("measured")))
    slugs |= set(read_ranges("tilewater.practices", "practice_buffer_ranges"))
    slugs |= set(compared().trace.value("bed.days.drawn"))
    assert all(hinge_words(slug) for slug in slugs)


# Who is ahead


@pytest.mark.law(of=(answer,))
def test_order_of_practices_and_pairs_does_not_matter():
    pairs = [pair("a", "b", 0.95), pair("a", "c", 0.97), pair("b", "c", 0.6)]
    for order in permutations(pairs):
        for names in permutations(("a", "b", "c")):
            found = answer(order, names, "removed")
            assert (found.ahead, set(found.front)) == ("a", {"a"})


@pytest.mark.law(of=(answer,))
def test_nobody_is_ahead_where_ranges_cannot_be_told_apart():
    pairs = [pair("a", "b", 0.85), pair("a", "c", 0.99), pair("b", "c", 0.99)]
    found = answer(pairs, ("a", "b", "c"), "removed")
    assert found.ahead == ""
    assert found.front == ("a", "b")


@pytest.mark.law(of=(answer,))
@given(st.lists(st.floats(0.0, 1.0), min_size=3, max_size=3))
def test_what_is_worse_in_every_draw_is_never_ahead(shares):
    pairs = [
        pair("a", "b", shares[0]),
        pair("a", "c", shares[1]),
        pair("b", "c", shares[2]),
        *(pair(name, "worst", 1.0) for name in "abc"),
    ]
    found = answer(pairs, ("a", "b", "c", "worst"), "removed")
    assert found.ahead != "worst"
    assert "worst" not in found.front


@pytest.mark.law(of=(answer,))
def test_what_may_not_be_built_is_not_ahead():
    pairs = [pair("a", "b", 1.0), pair("a", "c", 1.0), pair("b", "c", 1.0)]
    assert answer(pairs, ("b", "c"), "removed").ahead == "b"
    assert answer(pairs, ("c",), "removed") == replace(
        answer(pairs, ("c",), "removed"), ahead="", front=("c",)
    )
    assert answer(pairs, (), "removed").front == ()


def of_draws(**removed: np.ndarray) -> tuple[Trace, list[Contender]]:
    """A trace with what each of some practices removes by draw."""
    trace = Trace()
    for name, values in removed.items():
        trace.give(Given(f"{name}.days.all.long_run_removed_kg", values, "kg", name))
        trace.give(Given(f"{name}.owner.usd_per_kg_by_draw", 1000.0 / values, "USD", name))
        trace.give(Given(f"{name}.owner.kg_per_usd_by_draw", values / 1000.0, "kg", name))
    return trace, [Contender(name, name, verdict="fits") for name in removed]


@pytest.mark.law(of=(add_pairs,))
def test_ranges_that_overlap_may_still_be_apart_in_every_pair():
    base = RANDOM.lognormal(4.0, 0.5, 64)
    trace, both = of_draws(bed=base * 1.1, buffer=base)
    removed, cost = add_pairs(trace, both)
    assert base.max() > (base * 1.1).min()
    assert (removed.first_better, removed.better) == (1.0, "bed")
    assert cost.better == "bed"


@pytest.mark.law(of=(add_pairs,))
def test_one_more_practice_changes_no_pair_of_the_others():
    base = RANDOM.lognormal(4.0, 0.5, 64)
    two = add_pairs(*of_draws(bed=base * 1.1, buffer=base[::-1]))
    three = add_pairs(*of_draws(bed=base * 1.1, buffer=base[::-1], raised=base / 9))
    assert [p for p in three if "raised" not in (p.first, p.second)] == list(two)


# Money of the owner


@pytest.mark.by_hand(of=(annual_cost, present_value_of_replacements, cost_per_mass))
def test_cost_of_a_pound_of_a_bed_and_of_a_buffer():
    # 4 percent, 20 years: 0.04 / (1 - 1.04^-20) = 0.07358
    factor = 0.04 / (1 - 1.04**-20)
    renewed = present_value_of_replacements(
        0.55 * 35459, interval_years=10, horizon_years=20, rate=0.04
    )
    assert 35459 + renewed == pytest.approx(48634, abs=1)
    bed = annual_cost(35459 + renewed, rate=0.04, years=20, upkeep_per_year=150)
    assert bed == pytest.approx(48634 * factor + 150, abs=0.1)
    assert bed == pytest.approx(3729, abs=0.5)
    for pounds, dollars in ((268, 13.91), (420, 8.88), (623, 5.98)):
        assert cost_per_mass(bed, pounds) == pytest.approx(dollars, abs=0.006)
        by_mass = cost_per_mass(bed, pounds * POUND)
        assert by_mass == pytest.approx(dollars / POUND, abs=0.02)
    buffer = annual_cost(6900, rate=0.04, years=20, upkeep_per_year=60)
    assert buffer == pytest.approx(568, abs=0.5)
    assert cost_per_mass(buffer, 378) == pytest.approx(1.50, abs=0.005)
    assert cost_per_mass(buffer, 378 * POUND) == pytest.approx(3.31, abs=0.005)


@pytest.mark.by_hand(
    of=(hours_cost, land_cost, strip_area, draws.cost_of_draws, draws.mass_for_money)
)
def test_hours_and_ground_have_their_price():
    assert hours_cost(6.0, 25.0) == 150.0
    assert land_cost(2 * ACRE, 0.5, 250.0) == pytest.approx(250.0)
    assert strip_area(1100 * FOOT, 55 * FOOT) / ACRE == pytest.approx(60500 / 43560)
    removed = np.array([20.0, 0.0, -1.0])
    assert list(draws.cost_of_draws(600.0, removed)) == [30, np.inf, np.inf]
    assert list(draws.mass_for_money(600.0, removed)) == [20 / 600, 0.0, -1 / 600]
    with pytest.raises(OutOfDomain, match="0 USD"):
        draws.mass_for_money(0.0, removed)


@pytest.mark.practice(of=(cropped_of_vegetation, largest_difference))
def test_grass_is_no_cropland_and_the_worst_spot_counts():
    assert cropped_of_vegetation("perennial") == 0.0
    assert cropped_of_vegetation("annual") == 1.0
    assert largest_difference(a_in=5.0, a_out=3.0, b_in=9.0, b_out=8.5) == 2.0


# What a job describes


@pytest.mark.works(of=(missing_of, contender))
def test_what_is_not_described_says_what_is_missing():
    job = corbel_inputs()
    assert missing_of(job, "bed") == ()
    assert "buffer.branches" in missing_of(job, "buffer")[0]
    assert missing_of(job, "raised") == ("daily weather, under [weather]",)
    assert missing_of(job, ROW) == missing_of(job, "buffer")
    assert missing_of(job, NONE) == ()
    found = contender(job, "buffer")
    assert (found.design, found.verdict, found.is_described) == (None, "not described", False)
    assert not found.may_be_built


@pytest.mark.works(of=(with_own_upkeep,))
def test_a_practice_may_have_its_own_upkeep():
    key = "inputs.compare.bed.upkeep_usd_per_year"
    own = Given(key, 90.0, "USD/yr", "Upkeep", Origin("job.toml", 7))
    job = with_own_upkeep(with_givens(corbel_inputs(), own), "bed")
    (money,) = [g for g in job.givens if g.key == "inputs.money.upkeep_usd_per_year"]
    assert (money.value, money.origin.line) == (90.0, 7)
    assert with_own_upkeep(corbel_inputs(), "bed") == corbel_inputs()


# The whole comparison


@pytest.mark.works(of=(compare_practices, adopt, add_owner))
def test_keys_of_a_comparison_begin_with_the_practice():
    trace, bed = compared().trace, _design("bed", "weather").trace
    assert trace.value("bed.cost.total_usd") == bed.value("cost.total_usd")
    step = trace.steps["bed.owner.annual_usd"]
    assert dict(step.inputs)["bill"] == "bed.cost.annual_usd"
    whole = sum(
        float(trace.value(f"bed.{key}"))
        for key in ("cost.annual_usd", "owner.hours_usd", "owner.land_usd")
    )
    assert trace.value("bed.owner.annual_usd") == pytest.approx(whole)
    assert all(key in trace for step in trace for _, key in step.inputs)


@pytest.mark.law(of=(compare_practices,))
def test_adding_a_practice_changes_nothing_of_the_others():
    few, all_ = compared(("bed", "none")), compared()
    assert {k for k in few.trace.steps if k.startswith("bed.")} == {
        k for k in all_.trace.steps if k.startswith("bed.")
    }
    for part in ("hours", "land_m2", "annual_usd", "usd_per_kg.p50", "wet_days_more"):
        assert few.trace.value(f"bed.owner.{part}") == all_.trace.value(f"bed.owner.{part}")
    kept = [p for p in all_.pairs if {p.first, p.second} <= {"bed", "none"}]
    assert kept == list(few.pairs)


@pytest.mark.law(of=(compare_practices,))
def test_the_order_in_which_they_are_named_does_not_matter():
    turned = compared(tuple(reversed(NAMES)))
    assert turned.pairs == compared().pairs
    assert turned.answers == compared().answers
    assert [c.name for c in turned.contenders] == list(NAMES)


@pytest.mark.works(of=(compare_practices,))
def test_leaving_it_costs_and_removes_nothing():
    trace = compared().trace
    assert trace.value("none.owner.annual_usd") == 0.0
    assert not np.any(trace.value("none.days.all.long_run_removed_kg"))
    assert NONE not in compared().buildable
    raised = [p for p in compared().pairs if (p.first, p.second) == (NONE, "raised")]
    assert [p.measure for p in raised] == ["removed"]
    assert raised[0].second_better > 0.5


@pytest.mark.works(of=(compare_practices,))
def test_without_days_there_are_no_pairs_and_nobody_is_ahead():
    found = compare_practices(corbel_inputs(), ("bed", "none"), design=cached)
    assert found.pairs == ()
    assert {a.ahead for a in found.answers} == {""}
    assert found.answers[0].front == found.buildable


@pytest.mark.works(of=(compare_practices,))
def test_boards_of_a_raised_outlet_are_its_own():
    assert compared().trace.value("raised.inputs.boards.inlet_m") == pytest.approx(36 * INCH)
    assert compared().trace.value("bed.inputs.boards.inlet_m") == pytest.approx(36 * INCH)
