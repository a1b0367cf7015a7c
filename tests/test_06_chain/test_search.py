# SPDX-License-Identifier: Apache-2.0
"""Cost against nitrate over sizes that exist: no worse than asking every size."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.draws import few_draws
from tests.jobs import FOOT, INCH, corbel_inputs, with_givens
from tests.test_06_chain.test_days import designed, with_record
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.bed import BED
from tilewater.chain.design import design_bed, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.raised import RAISED
from tilewater.chain.search import Search, most_for_money, search_shape, usd_per_kg
from tilewater.chain.search_ask import Asking, Judged, Progress
from tilewater.chain.search_axes import Axis, Level, SearchPlan
from tilewater.chain.search_bed import floor_of_bed, plan_of_bed
from tilewater.chain.search_record import point, search_record, shortfalls, table_rows
from tilewater.chain.search_replay import Replay
from tilewater.chain.search_sizes import boards_axis, removed_in_mean_year, stackable
from tilewater.chain.search_walk import Tried, amount, front_of

FLOORS = "bed.length_bottom_m", "bed.width_bottom_m"
OUTLET = "boards.outlet-design.height_m"
SAME = 1e-9
"""Rounding between a search and a design, as a share."""
DRAWS = 16


def few(trace: Trace) -> SearchPlan:
    """Sizes near the bed of the farm: nine lengths, four widths, three stacks at the outlet."""
    plan = plan_of_bed(trace)
    wanted = {
        FLOORS[0]: {60 + 10 * n for n in range(9)},
        FLOORS[1]: {24, 28, 32, 36},
        OUTLET: {22, 26, 30},
    }
    axes = tuple(
        replace(axis, levels=tuple(v for v in axis.levels if _whole(axis, v) in wanted[axis.key]))
        for axis in plan.axes
        if axis.key in wanted
    )
    return replace(plan, axes=axes, rewired=())


def _whole(axis: Axis, level: Level) -> int:
    """A size in feet, of boards in inches."""
    return round(level.value / (INCH if axis.key == OUTLET else FOOT))


def searched(plan_for: Any = few, **asked: Any) -> Search:
    """A search of the farm's bed, its designs with few draws."""
    with few_draws():
        return search_shape(with_record(), BED, plan_for=plan_for, **asked)


@cache
def whole() -> Search:
    """Every size of the small problem."""
    return searched(threads=1)


@cache
def walked() -> Search:
    """The same problem from a grid of a few, by the steps of the walk."""
    return searched(threads=2, start=12)


def is_no_worse(found: Sequence[Tried], than: Sequence[Tried]) -> bool:
    """Whether a front has, for each member of another, one that is no worse in both."""
    return all(
        any(
            amount(f.cost) <= amount(t.cost) + SAME
            and amount(f.removed) >= amount(t.removed) - SAME
            for f in found
        )
        for t in than
    )


@pytest.mark.law(of=(search_shape,))
def test_a_walk_is_no_worse_than_the_dense_grid() -> None:
    assert whole().ended == "all asked"
    assert len(whole().tried) == whole().plan.size
    assert len(walked().tried) <= len(whole().tried)

    assert len(whole().front) > 3
    assert is_no_worse(walked().front, whole().front)


@pytest.mark.law(of=(search_shape,))
def test_the_answer_does_not_depend_on_threads() -> None:
    alone = searched(threads=1, start=12)

    assert alone.tried == walked().tried
    assert alone.own == walked().own
    assert [w.regret for w in alone.weighed] == [w.regret for w in walked().weighed]
    assert [c.tried for c in alone.choices] == [c.tried for c in walked().choices]


@pytest.mark.law(of=(search_shape,))
def test_more_beds_never_give_less() -> None:
    fronts = [searched(start=12, beds=beds) for beds in (8, 24)]

    for fewer, more in pairwise(fronts):
        assert fewer.tried == more.tried[: len(fewer.tried)]
        assert is_no_worse(more.front, fewer.front)
        assert fewer.routed <= more.routed


@pytest.mark.law(of=(front_of,))
def test_more_money_never_buys_less_nitrate() -> None:
    front = whole().front

    assert [t.cost for t in front] == sorted(amount(t.cost) for t in front)
    assert [t.removed for t in front] == sorted(amount(t.removed) for t in front)


@pytest.mark.law(of=(search_shape, removed_in_mean_year))
def test_what_is_chosen_is_the_same_when_designed_whole() -> None:
    names = [choice.name for choice in whole().choices]
    assert names == ["cheapest", "money", "nitrate", "robust"]

    for choice in whole().choices:
        trace = choice.design.trace
        cost, removed = amount(choice.tried.cost), amount(choice.tried.removed)
        assert abs(trace.value("cost.total_usd") - cost) <= SAME * cost
        assert abs(trace.value("cost.annual_usd") - amount(choice.tried.annual)) <= SAME * cost
        assert abs(removed_in_mean_year(trace) - removed) <= SAME * removed
        assert choice.design.verdict != "does not fit"
    assert whole().findings == ()


@pytest.mark.law(of=(Replay, Asking))
@settings(max_examples=10)
@given(st.data())
def test_a_candidate_is_judged_as_the_whole_chain_judges_it(data: st.DataObject) -> None:
    job, trace = with_record(), designed().trace
    plan = plan_of_bed(trace)
    asking = Asking(trace, plan, budget=1, threads=1, goes_on=lambda _: True)
    candidate = tuple(data.draw(st.integers(0, len(a.levels) - 1)) for a in plan.axes)

    values = asking.replay.before(candidate)

    changed = design_practice(job.changed(plan.inputs_of(candidate)), BED, by_days=False).trace
    told = [key for key in values if key in changed]
    assert "cost.total_usd" in told
    for key in told:
        theirs, ours = changed.value(key), values[key]
        if isinstance(ours, float) and isinstance(theirs, float):
            assert abs(ours - theirs) <= SAME * max(1.0, abs(theirs)), key
        else:
            assert isinstance(ours, Unknown) == isinstance(theirs, Unknown), key


@pytest.mark.works(of=(search_shape,))
def test_a_search_that_is_stopped_tells_what_it_knows() -> None:
    def goes_on(progress: Progress) -> bool:
        return progress.routed < 16

    found = searched(start=12, goes_on=goes_on)

    assert found.ended == "stopped"
    assert 0 < len(found.tried) < len(walked().tried)
    assert found.tried == walked().tried[: len(found.tried)]
    assert found.front
    assert [c.name for c in found.choices] == ["cheapest", "money", "nitrate"]


@pytest.mark.law(of=(search_shape,))
def test_the_engineers_own_bed_is_asked_like_any_other() -> None:
    def as_it_is(trace: Trace) -> SearchPlan:
        plan = few(trace)
        own = [
            replace(axis, levels=(*axis.levels[:1], _own_level(trace, axis))) for axis in plan.axes
        ]
        return replace(plan, axes=tuple(own))

    found = searched(as_it_is)

    twin = next(t for t in found.tried if t.candidate == (1, 1, 1))
    assert twin.cost == pytest.approx(found.own.cost, rel=SAME)
    assert twin.removed == pytest.approx(found.own.removed, rel=SAME)
    assert (twin.binds, twin.short, twin.doubtful) == (
        found.own.binds,
        found.own.short,
        found.own.doubtful,
    )


def _own_level(trace: Trace, axis: Axis) -> Level:
    """The design's own size as a level."""
    return Level(trace.value(axis.key), {key: trace.value(key) for key in axis.levels[0].inputs})


@pytest.mark.works(of=(plan_of_bed, stackable))
def test_sizes_are_those_that_exist() -> None:
    trace = designed().trace
    axes = {axis.key: axis for axis in plan_of_bed(trace).axes}

    lengths = [level.value / FOOT for level in axes[FLOORS[0]].levels]
    assert all(abs(length - round(length)) < 1e-6 for length in lengths)
    inches = [round(height / INCH, 6) for height in stackable(trace, 20 * INCH)]
    assert inches == [4, 6, 8, 10, 12, 14, 16, 18, 20]
    slopes = [level.value for level in axes["bed.side_slope"].levels]
    assert slopes == [1.0, 1.5, 2.0]


@pytest.mark.by_hand(of=(boards_axis, Replay))
def test_a_search_holds_every_stack_to_a_foot_of_head() -> None:
    """36 in at the inlet and 24 in at the outlet, whose sill is 0.5 ft lower, leave 1.5 ft."""
    trace = design_bed(corbel_inputs(), by_days=False).trace
    head, limit = (f"elevations.driving_head.{end}_m" for end in ("value", "limit"))
    outlet = boards_axis(trace, "outlet")
    replay = Replay(trace, (outlet,), sooner=(), later=(head, limit), sums="days.sums")

    assert trace.value(limit) == pytest.approx(1.0 * FOOT)
    assert not replay.changes(limit)
    for place, level in enumerate(outlet.levels):
        by_hand = 1.5 * FOOT + 24 * INCH - level.value
        assert replay.before((place,))[head] == pytest.approx(by_hand, abs=1e-5)


@pytest.mark.works(of=(plan_of_bed,))
def test_boards_of_a_season_go_along_or_stand_no_higher() -> None:
    trace = designed().trace
    outlet = next(axis for axis in plan_of_bed(trace).axes if axis.key == OUTLET)
    low = next(level for level in outlet.levels if round(level.value / INCH) == 8)
    high = next(level for level in outlet.levels if round(level.value / INCH) == 30)

    spring, summer = (f"inputs.season.{s}.outlet_boards_m" for s in ("spring", "summer"))
    assert round(high.inputs[spring] / INCH) == 30
    assert round(high.inputs[summer] / INCH) == 10
    assert round(low.inputs[summer] / INCH) == 8


def in_cells(job: JobInputs) -> JobInputs:
    """Two cells: one as long as the bed, the other shorter and shut until the water stands high."""
    sizes = {"a.width": 18.0, "b.width": 14.0, "b.length": 90.0}
    cells = (
        Given(f"inputs.cell.{side}_bottom_m", feet * FOOT, "m", "Side of a cell")
        for side, feet in sizes.items()
    )
    opens = Given("inputs.cell.b.opens_at_m", 1183.9 * FOOT, "m", "Boards of cell b")
    return with_givens(job, *cells, opens)


@pytest.mark.law(of=(floor_of_bed, Replay))
def test_cells_change_each_by_its_width_and_together_by_their_length() -> None:
    job = in_cells(corbel_inputs())
    trace = design_bed(job, by_days=False).trace
    length, first, second = floor_of_bed(trace)
    assert (first.key, second.key) == ("bed.cells.a.width_bottom_m", "bed.cells.b.width_bottom_m")
    asked = ("cost.total_usd", "capacity.spring.flow_m3_s", "bed.media_volume_m3")
    replay = Replay(trace, (length, first, second), sooner=(), later=asked, sums="days.sums")
    places = (length.levels[-1], first.levels[10], second.levels[6])
    candidate = tuple(a.levels.index(v) for a, v in zip(replay.axes, places, strict=True))

    values = replay.before(candidate)

    assert places[0].inputs["inputs.cell.b.length_bottom_m"] == pytest.approx(
        places[0].value - 6.5 * FOOT
    )
    changed = {key: value for place in places for key, value in place.inputs.items()}
    whole_design = design_bed(job.changed(changed), by_days=False).trace
    for key in asked:
        assert values[key] == pytest.approx(whole_design.value(key), rel=SAME)


@pytest.mark.slow
@pytest.mark.law(of=(search_shape, plan_of_bed))
def test_a_bed_in_cells_is_searched_through_the_same_door() -> None:
    def cells(trace: Trace) -> SearchPlan:
        plan = plan_of_bed(trace)
        axis = next(a for a in plan.axes if a.key == "bed.cells.b.width_bottom_m")
        levels = tuple(v for v in axis.levels if round(v.value / FOOT) in (12, 16))
        return replace(plan, axes=(replace(axis, levels=levels),), rewired=())

    with few_draws():
        found = search_shape(in_cells(with_record()), BED, plan_for=cells)

    assert found.ended == "all asked"
    assert found.findings == ()
    narrow, wide = found.tried
    assert amount(narrow.cost) < amount(found.own.cost) < amount(wide.cost)
    assert amount(narrow.removed) < amount(found.own.removed) < amount(wide.removed)
    assert any(words.startswith("Cells") for words in found.plan.fixed)


@pytest.mark.by_hand(of=(usd_per_kg, most_for_money))
def test_most_for_the_money_by_hand() -> None:
    dear, fair = tried(1, 9_000.0, 1_000.0, 10.0), tried(2, 12_000.0, 1_400.0, 20.0)

    assert usd_per_kg(dear) == 1_000 / 10
    assert usd_per_kg(fair) == 1_400 / 20
    assert most_for_money((dear, fair)) is fair
    assert usd_per_kg(replace(dear, removed=0.0)) == float("inf")


def tried(place: int, cost: float, annual: float, removed: float | None, **more: Any) -> Tried:
    """A candidate that passes unless something else is said."""
    said = {"binds": "", "slack": 1.0, "short": ()} | more
    return Tried((place,), cost, annual, removed, **said)


@pytest.mark.by_hand(of=(Judged,))
def test_what_falls_short_comes_before_what_does_not() -> None:
    holds, short = Judged("a", 0.2), Judged("b", 0.0, ("b",), ("c",))

    assert holds.with_other(short) == Judged("b", 0.0, ("b",), ("c",))
    assert short.with_other(Judged("d", -1.0, ("d",))).binds == "d"
    assert holds.with_other(Judged("e", 0.1)).slack == 0.1


@pytest.mark.works(of=(search_record, table_rows, point, shortfalls))
def test_the_record_tells_every_choice_with_the_inputs_that_make_it() -> None:
    record = search_record(whole(), "0")

    assert record["tried"] == record["there_are"] == whole().plan.size
    assert [c["name"] for c in record["choices"]] == ["cheapest", "money", "nitrate", "robust"]
    cheapest = record["choices"][0]
    assert set(cheapest["inputs"]) >= {f"inputs.{key}" for key in FLOORS}
    assert cheapest["design"]["verdict"] == "fits with open items"
    assert record["own"]["inputs"] == {}
    assert record["own"]["sizes"][FLOORS[0]] == pytest.approx(96.5 * FOOT)
    assert sum(record["short_first_by"].values()) == sum(not t.passes for t in whole().tried)
    rows = list(table_rows(whole()))
    assert len(rows) == 1 + len(whole().tried)
    assert {len(row) for row in rows} == {len(rows[0])}
    assert [row[3] for row in rows[1:]].count("yes") == sum(t.passes for t in whole().tried)


@pytest.mark.works(of=(search_shape, plan_of_bed))
def test_what_cannot_be_searched_says_why() -> None:
    no_price = replace(
        with_record(),
        givens=tuple(g for g in with_record().givens if g.key != "inputs.price.woodchips.usd"),
    )
    with pytest.raises(OutOfDomain, match=r"The cost is not known: unit price of woodchips\. "):
        search_shape(no_price, BED)
    with pytest.raises(OutOfDomain, match=r"^No sizes of a raised can be searched\. Known: bed, "):
        search_shape(with_record(), RAISED)
