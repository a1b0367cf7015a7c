# SPDX-License-Identifier: Apache-2.0
"""Emptying, first weeks and winter of Corbel Farm: wiring, records, and what an edit turns."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from tests.digits import printed
from tests.jobs import CFS, FOOT, corbel_inputs, with_givens
from tilewater.basis.trace import Given
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.design import Design, design_bed
from tilewater.chain.plain import plain, plain_group, plain_value
from tilewater.chain.result import result_record
from tilewater.chain.result_season import (
    emptying_record,
    frost_record,
    snowmelt_record,
    start_up_record,
)
from tilewater.practices.bed.capacity_steps import add_line
from tilewater.practices.bed.emptying_steps import (
    add_emptying,
    add_way_out,
    seasons_not_to_empty,
    stage_key,
)
from tilewater.practices.bed.frost_steps import add_frost
from tilewater.practices.bed.start_up_steps import add_start_up, slow_seasons
from tilewater.practices.bed.steps import add_media

HOUR = 3600.0
OPEN = Unknown("nobody knows", "look")


@pytest.fixture(scope="module")
def design() -> Design:
    return design_bed(corbel_inputs())


def codes(design: Design) -> set[str]:
    return {finding.code for finding in design.findings}


def value(design: Design, key: str) -> float:
    return float(design.trace.value(key))


@pytest.mark.by_hand(of=(add_emptying,))
def test_two_cells_let_out_no_more_than_they_hold() -> None:
    """1.4 of 3.5 ft stay in cells of 15 and 12 ft, 96.5 ft long."""

    def volume(d: float, width: float) -> float:
        return 96.5 * width * d + (96.5 + width) * d**2 + 4 / 3 * d**3

    widths = {"a": 15.0, "b": 12.0}
    cells = (
        Given(f"inputs.cell.{name}.width_bottom_m", width * FOOT, "m", "Width")
        for name, width in widths.items()
    )
    two = design_bed(with_givens(corbel_inputs(), *cells))
    stays, full = (sum(volume(d, width) for width in widths.values()) for d in (1.4, 3.5))

    assert value(two, "emptying.seasons.spring.ordinary.share") == pytest.approx(1.0)
    assert value(two, "emptying.seasons.spring.high.share") == pytest.approx(1 - stays / full)


@pytest.mark.by_hand(of=(add_emptying,))
def test_the_first_hour_counts_only_what_can_leave() -> None:
    """A return 0.29 ft above the floor keeps that much in the bed."""
    held = design_bed(corbel_inputs({"bed.return_invert_m": 1180.99 * FOOT}))
    shares = value(held, "emptying.first_hour_share") * value(held, "emptying.share")
    full = value(held, "emptying.pore_volume_drainable_m3")

    assert value(held, "emptying.share") < 0.95
    assert value(held, "emptying.first_hour_m3_s") == pytest.approx(shares * full / HOUR)


@pytest.mark.by_hand(of=(add_emptying, stage_key))
def test_shares_that_come_out_by_season(design: Design) -> None:
    """Water of 3.5 ft over 1180.70; ordinary ditch water is below it in every season."""

    def volume(d: float) -> float:
        return 96.5 * 30 * d + (96.5 + 30) * d**2 + 4 / 3 * d**3

    for season, high in (("winter", 1181.0), ("spring", 1182.1), ("summer", 1181.4)):
        here = f"emptying.seasons.{season}"
        assert value(design, f"{here}.ordinary.share") == pytest.approx(1.0)
        share = 1 - volume(high - 1180.70) / volume(3.5)
        assert share == pytest.approx(value(design, f"{here}.high.share"), rel=1e-9)
    assert value(design, "emptying.pore_volume_drainable_m3") == pytest.approx(
        0.45 * volume(3.5) * FOOT**3
    )
    # new chips, 9.5 cm/s: c t = 1.115 K D t / (f L^2), one hour
    c = 1.115 * 0.095 * 3.5 * FOOT / (0.45 * (100 * FOOT) ** 2) * HOUR
    first = c / (1 + c) * 0.45 * volume(3.5) / HOUR
    assert first == pytest.approx(value(design, "emptying.first_hour_m3_s") / CFS, rel=1e-6)
    assert printed("24.0") == value(design, "emptying.pull_s") / HOUR


@pytest.mark.law(of=(add_way_out, add_emptying))
def test_a_higher_sill_or_ditch_keeps_more_in(design: Design) -> None:
    sill = design_bed(corbel_inputs({"structure.outlet.sill_m": 1181.0 * FOOT}))
    ditch = design_bed(corbel_inputs({"season.spring.ditch_stage_m": 1181.5 * FOOT}))

    assert value(sill, "bed.dead_pool_m") == pytest.approx(0.3 * FOOT)
    assert sill.trace.value("criteria.605-drainable.status") == "short"
    for other in (sill, ditch):
        key = "emptying.seasons.spring.ordinary.share"
        assert value(other, key) < value(design, key)
    pool = "emptying.seasons.spring.ordinary.pool_m"
    assert value(ditch, pool) == pytest.approx(0.8 * FOOT)


@pytest.mark.works(of=(add_way_out,))
def test_a_bed_that_cannot_be_shut_off_does_not_fit(design: Design) -> None:
    none = design_bed(corbel_inputs({"bed.feed_gate": "none"}))
    boards = design_bed(corbel_inputs({"bed.feed_gate": "boards"}))
    open_ = design_bed(corbel_inputs({"bed.feed_gate": OPEN}))

    assert [d.trace.value("feed_gate.status") for d in (design, boards, none, open_)] == [
        "holds",
        "holds",
        "short",
        "not known",
    ]
    assert none.verdict == "does not fit"
    assert none.governs is not None
    assert none.governs.key == "feed_gate"
    assert "inputs.bed.feed_gate" in {item.key for item in open_.open_items}


@pytest.mark.works(of=(seasons_not_to_empty, add_emptying))
def test_high_ground_water_forbids_emptying_in_its_season(design: Design) -> None:
    wet = design_bed(corbel_inputs({"season.spring.groundwater_m": 1184.6 * FOOT}))
    cloth = design_bed(corbel_inputs({"bed.lining": "geotextile"}))
    blank = design_bed(corbel_inputs({"season.spring.groundwater_m": OPEN}))

    assert seasons_not_to_empty(design.trace) == ()
    assert seasons_not_to_empty(wet.trace) == ("spring",)
    (told,) = (f for f in wet.findings if f.code == "do-not-empty")
    assert told.message == (
        "Do not empty the bed in spring: the ground water then stands above 1184.39 ft, and an "
        "empty lined bed would be lifted. Put it on the lid card."
    )
    assert wet.verdict == design.verdict  # a rule for operating, no fault of the design
    assert "emptying.seasons.spring.stands_empty.status" not in cloth.trace
    assert blank.trace.value("emptying.seasons.spring.stands_empty.status") == "not known"


@pytest.mark.works(of=(add_emptying,))
def test_a_return_that_is_too_small_or_ends_in_the_main_is_told(design: Design) -> None:
    small = design_bed(corbel_inputs({"pipe.return.diameter_m": 4 / 12 * FOOT}))
    main = design_bed(corbel_inputs({"bed.return": "main"}))

    assert "emptying-fills-return" in codes(small) - codes(design)
    assert "emptying-into-main" in codes(main) - codes(design)


@pytest.mark.works(of=(add_start_up, slow_seasons))
def test_a_new_bed_is_started_in_spring_and_not_in_summer(design: Design) -> None:
    plan = design.trace.value("start_up.settings")
    quick = design_bed(
        corbel_inputs({f"season.{s}.drain_flow_m3_s": 0.3 * CFS for s in ("summer", "autumn")})
    )

    assert design.trace.value("start_up.season") == "spring"
    assert slow_seasons(design.trace) == ("summer", "autumn")
    assert slow_seasons(quick.trace) == ()
    assert [len(step.outlet_boards) for step in plan] == [0, 1, 2, 3]
    # 0.3 cfs is more than new chips take
    assert value(quick, "start_up.seasons.summer.flow_m3_s") == value(
        quick, "capacity.new.flow_m3_s"
    )
    assert {"start-up-water", "start-up-slow"} <= codes(design)
    assert "start-up-slow" not in codes(quick)


@pytest.mark.works(of=(add_frost,))
def test_boards_that_change_in_the_frost_are_told(design: Design) -> None:
    late = design_bed(corbel_inputs({"season.winter.from": "12-20"}))
    (told,) = (f for f in late.findings if f.code == "boards-frozen")

    assert "boards-frozen" not in codes(design)
    assert told.message == (
        "The boards of winter go in on 12-20, and boards may be frozen in from 12-10 to 03-15: "
        "they cannot be moved then. Set them before 12-10, or let the season begin outside the "
        "frost. What stands at the first frost has to carry the snowmelt."
    )
    # what stands at the first frost is autumn's, and the melt meets that
    assert late.trace.value("frost.setting") == "autumn"
    assert value(late, "capacity.snowmelt.flow_m3_s") < value(design, "capacity.snowmelt.flow_m3_s")


@pytest.mark.law(of=(add_frost, add_media, add_line))
def test_snowmelt_is_the_winter_in_balance_with_colder_water(design: Design) -> None:
    here = "capacity.snowmelt"
    full = value(design, "drain_flow.candidates_m3_s.main_full")
    both = value(design, f"{here}.flow_m3_s") + value(design, f"{here}.bypass_flow_m3_s")
    same = design_bed(
        corbel_inputs(
            {
                "frost.melt_temperature_c": 4.0,  # that of the winter
                "season.winter.ditch_high_m": 1179.6 * FOOT,  # its ordinary water
            }
        )
    )

    assert both == pytest.approx(full)
    assert value(design, f"{here}.flow_m3_s") < value(design, "seasons.winter.full.flow_m3_s")
    assert value(same, f"{here}.flow_m3_s") == pytest.approx(
        value(same, "seasons.winter.full.flow_m3_s"), rel=1e-9
    )


@pytest.mark.works(of=(add_frost,))
def test_frost_deeper_than_the_feed_is_short_and_binds_nothing(design: Design) -> None:
    deep = design_bed(corbel_inputs({"frost.depth_m": 5 * FOOT}))
    odd = design_bed(corbel_inputs({"frost.depth_m": 1.5 * FOOT}))
    open_ = design_bed(corbel_inputs({"frost.depth_m": OPEN}))

    assert design.trace.value("frost.feed.status") == "holds"
    assert deep.trace.value("frost.feed.status") == "short"
    assert deep.verdict == design.verdict
    assert "frost-depth-doubtful" in codes(odd) - codes(design)
    assert open_.trace.value("frost.feed.status") == "not known"
    assert "inputs.frost.depth_m" in {item.key for item in open_.open_items}
    assert {"frost-in-chips"} <= codes(design) - codes(odd)


@pytest.mark.works(of=(add_frost, snowmelt_record, start_up_record))
def test_what_is_not_known_of_the_winter_stays_so() -> None:
    blank = design_bed(corbel_inputs({"frost.frozen_from": OPEN, "bed.width_bottom_m": OPEN}))
    record = result_record(blank, (), "0")

    assert is_unknown(blank.trace.value("frost.setting"))
    assert record["capacity"]["snowmelt"]["flow_m3_s"] is None
    assert record["start_up"]["plan"] == []
    assert record["emptying"]["pore_volume_drainable_m3"] is None
    assert plain_value(OPEN) is None


def leaves(record: Any, path: str) -> Iterator[str]:
    """Dotted paths of the numbers of a record."""
    if isinstance(record, dict):
        for key, inside in record.items():
            yield from leaves(inside, f"{path}.{key}")
    elif isinstance(record, (int, float)):
        yield path


@pytest.mark.works(of=(emptying_record, start_up_record, frost_record, snowmelt_record, plain))
def test_every_number_of_the_records_has_a_step(design: Design) -> None:
    trace = design.trace
    records = {
        "emptying": emptying_record(trace),
        "start_up": start_up_record(trace),
        "frost": frost_record(trace),
        "capacity.snowmelt": snowmelt_record(trace),
        "feed_gate": plain_group(trace, "feed_gate", "sets"),
    }
    paths = [path for name, record in records.items() for path in leaves(record, name)]

    assert len(paths) > 60
    assert [] == [path for path in paths if path not in trace]
    assert [] == [path for path in paths if not trace.steps[path].function]
    plan = records["start_up"]["plan"]
    assert [step["name"] for step in plan] == [f"setting-{n}" for n in range(1, 5)]
    assert plan[-1]["to_day"] is None
    assert plan[-1]["outlet_boards_in"] == [8.0, 8.0, 8.0]


@pytest.mark.works(of=(add_emptying, add_frost, add_start_up))
def test_a_job_without_seasons_or_frost_is_still_computed() -> None:
    job = corbel_inputs()
    left = ("inputs.season.", "inputs.frost.freezing_index")
    bare = replace(job, givens=tuple(g for g in job.givens if not g.key.startswith(left)))
    plan = design_bed(bare)

    assert plan.trace.value("frost.setting") == "design"
    assert is_unknown(plan.trace.value("capacity.snowmelt.flow_m3_s"))  # no ditch, no balance
    assert plan.trace.value("start_up.season") == "year"
    assert "frost.estimate_m" not in plan.trace
    result_record(plan, (), "0")
