# SPDX-License-Identifier: Apache-2.0
"""Cost against nitrate over buffers that exist: no worse than asking every size."""

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.draws import few_draws
from tests.jobs import FOOT, INCH
from tests.merridew import merridew_inputs, with_days
from tests.test_06_chain.test_search import SAME, is_no_worse
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.buffer import BUFFER
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.search import Search, search_shape
from tilewater.chain.search_ask import Asking, Progress
from tilewater.chain.search_axes import Axis, Level, SearchPlan
from tilewater.chain.search_buffer import plan_of_buffer
from tilewater.chain.search_record import rests_on, search_record, table_rows
from tilewater.chain.search_sizes import removed_in_mean_year, require_days
from tilewater.chain.search_walk import amount
from tilewater.practices.buffer.line_lengths import longest_line

LENGTH, WIDTH = "buffer.laid_length_m", "buffer.width_m"
CREST, DEPTH = "boards.inlet-design.height_m", "quantities.line_depth_m"
LOW_DITCH = {
    "ditch.stage": "season table",
    "season.spring.ditch_stage_m": 738.0 * FOOT,
    "season.spring.ditch_high_m": 740.0 * FOOT,
    "buffer.tree_length_m": 0.0,
    "buffer.width_available_m": 60 * FOOT,
}
"""A ditch that never backs up, so that shorter lines take their five percent too."""


@cache
def job() -> JobInputs:
    return with_days(merridew_inputs(LOW_DITCH))


@cache
def designed() -> Design:
    with few_draws():
        return design_practice(job(), BUFFER)


def few(trace: Trace) -> SearchPlan:
    """Twelve lengths, four widths, four stacks and three depths about the buffer of the farm."""
    plan = plan_of_buffer(trace)
    wanted = {
        LENGTH: {*range(500, 1050, 50), 1049},
        WIDTH: {30, 38, 46, 54},
        CREST: {50, 52, 54, 56},
        DEPTH: {36, 42, 48},
    }
    axes = tuple(
        replace(axis, levels=tuple(v for v in axis.levels if _whole(axis, v) in wanted[axis.key]))
        for axis in plan.axes
        if axis.key in wanted
    )
    return replace(plan, axes=axes, rewired=())


def _whole(axis: Axis, level: Level) -> int:
    """A size in feet, of boards and depths in inches."""
    return round(level.value / (INCH if axis.key in (CREST, DEPTH) else FOOT))


@cache
def whole() -> Search:
    """Every size of the small problem."""
    with few_draws():
        return search_shape(job(), BUFFER, plan_for=few, threads=1)


@cache
def walked() -> Search:
    """The same problem from a grid of a few, by the steps of the walk."""
    with few_draws():
        return search_shape(job(), BUFFER, plan_for=few, threads=2, start=12)


@pytest.mark.law(of=(search_shape,))
def test_a_walk_over_buffers_is_no_worse_than_the_dense_grid() -> None:
    assert whole().ended == "all asked"
    assert len(whole().tried) == whole().plan.size
    assert len(walked().tried) < len(whole().tried)

    assert len(whole().front) > 3
    assert is_no_worse(walked().front, whole().front)


@pytest.mark.law(of=(search_shape, removed_in_mean_year))
def test_a_chosen_buffer_is_the_same_when_designed_whole() -> None:
    assert [c.name for c in whole().choices] == ["cheapest", "money", "nitrate", "robust"]

    for choice in whole().choices:
        trace = choice.design.trace
        cost, removed = amount(choice.tried.cost), amount(choice.tried.removed)
        assert abs(trace.value("cost.total_usd") - cost) <= SAME * cost
        assert abs(removed_in_mean_year(trace) - removed) <= SAME * removed
        assert choice.design.verdict != "does not fit"
    assert whole().findings == ()


@pytest.mark.law(of=(Asking, plan_of_buffer))
@settings(max_examples=10, deadline=None)
@given(st.data())
def test_a_buffer_is_judged_as_the_whole_chain_judges_it(data: st.DataObject) -> None:
    trace = designed().trace
    plan = plan_of_buffer(trace)
    asking = Asking(trace, plan, budget=1, threads=1, goes_on=lambda _: True)
    candidate = tuple(data.draw(st.integers(0, len(a.levels) - 1)) for a in plan.axes)

    values = asking.replay.before(candidate)

    changed = design_practice(job().changed(plan.inputs_of(candidate)), BUFFER, by_days=False).trace
    told = [key for key in values if key in changed]
    assert {"cost.total_usd", "buffer.flow_rule"} <= set(told)
    for key in told:
        theirs, ours = changed.value(key), values[key]
        if isinstance(ours, float) and isinstance(theirs, float):
            assert abs(ours - theirs) <= SAME * max(1.0, abs(theirs)), key
        else:
            assert isinstance(ours, Unknown) == isinstance(theirs, Unknown), key


@pytest.mark.works(of=(plan_of_buffer,))
def test_sizes_of_a_buffer_are_those_that_exist() -> None:
    axes = {axis.key: axis for axis in plan_of_buffer(designed().trace).axes}

    *steps, longest = (level.value / FOOT for level in axes[LENGTH].levels)
    assert all(abs(length / 10 - round(length / 10)) < 1e-6 for length in steps)
    assert longest == pytest.approx(1100 - 2 * 25.4, abs=1.0)
    branches = axes[LENGTH].levels[-1].inputs["inputs.buffer.branches_m"]
    assert sum(branches) == pytest.approx(longest * FOOT)
    widths = [level.value / FOOT for level in axes[WIDTH].levels]
    assert (round(widths[0]), round(widths[-1])) == (20, 60)
    depths = [level.value / FOOT for level in axes[DEPTH].levels]
    assert max(depths) + 0.1 / FOOT <= 5.0
    assert all(abs(4 * depth - round(4 * depth)) < 1e-6 for depth in depths)


@pytest.mark.works(of=(plan_of_buffer,))
def test_a_strip_whose_width_is_not_open_keeps_it_and_says_so() -> None:
    closed = with_days(merridew_inputs(LOW_DITCH | {"buffer.width_available_m": Unknown("open")}))
    with few_draws():
        plan = plan_of_buffer(design_practice(closed, BUFFER).trace)

    assert WIDTH not in {axis.key for axis in plan.axes}
    assert any("buffer.width_available" in words for words in plan.fixed)


@pytest.mark.by_hand(of=(longest_line,))
def test_the_longest_line_by_hand() -> None:
    assert longest_line((100.0, 50.0), 300.0, 20.0) == 300 - 2 * 20
    assert longest_line((150.0, 150.0), 300.0, 20.0) == 150 + 150


@pytest.mark.works(of=(search_record, table_rows, rests_on))
def test_the_record_speaks_of_buffers() -> None:
    record = search_record(whole(), "0")

    assert record["practice"] == "buffer"
    assert {axis["key"] for axis in record["axes"]} == {LENGTH, WIDTH, CREST, DEPTH}
    assert record["own"]["sizes"][LENGTH] == pytest.approx(1050 * FOOT)
    told = " ".join((record["rests_on"], *record["fixed"], *(c["why"] for c in record["choices"])))
    assert "buffer" in told
    assert not {"bed", "beds", "chips"} & set(told.replace(",", " ").replace(".", " ").split())
    assert {len(row) for row in table_rows(whole())} == {4 + 8}


@pytest.mark.works(of=(search_shape,))
def test_a_search_of_buffers_that_is_stopped_tells_what_it_knows() -> None:
    told: list[Progress] = []

    def goes_on(progress: Progress) -> bool:
        told.append(progress)
        return progress.routed < 16

    with few_draws():
        found = search_shape(job(), BUFFER, plan_for=few, start=12, goes_on=goes_on)

    assert found.ended == "stopped"
    assert told[0].at == "routing buffers"
    assert found.tried == walked().tried[: len(found.tried)]


@pytest.mark.works(of=(require_days,))
def test_a_buffer_without_days_is_not_searched() -> None:
    with pytest.raises(OutOfDomain, match=r"^No days have been routed through the practice\. "):
        search_shape(merridew_inputs(LOW_DITCH), BUFFER)
