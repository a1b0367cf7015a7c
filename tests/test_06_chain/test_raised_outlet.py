# SPDX-License-Identifier: Apache-2.0
"""An outlet raised in season: its boards, what it keeps back, and what it is held to."""

import json
from dataclasses import replace
from functools import cache
from io import StringIO

import numpy as np
import pytest

from tests.jobs import INCH, corbel_inputs, with_givens
from tests.pages import Console
from tests.test_06_chain.test_water import record, with_weather
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.raised import OF_OTHERS, RAISED
from tilewater.chain.raised_days import WAYS, add_raised_days, add_raised_removal
from tilewater.chain.result import result_record
from tilewater.chain.result_raised import raised_record
from tilewater.documents.pages import summary_raised, summary_rules
from tilewater.documents.words import Words
from tilewater.practices.raised.quantities import add_quantities, pipe_on_both_sides

BOARDS = {"winter": 40.0, "spring": 0.0, "summer": 24.0, "autumn": 6.0}
"""Height of the boards by season. [in]"""


def own_boards(job: JobInputs) -> JobInputs:
    key = "inputs.season.{}.raised_boards_m"
    given = (Given(key.format(n), h * INCH, "m", f"Boards, {n}") for n, h in BOARDS.items())
    return with_givens(job, *given)


@cache
def designed() -> Design:
    return design_practice(own_boards(with_weather()), RAISED)


def trace() -> Trace:
    return designed().trace


@pytest.mark.works(of=(OF_OTHERS.applied_to,))
def test_each_season_has_its_own_boards_and_the_design_the_highest():
    for season, height in BOARDS.items():
        wanted = trace().value(f"inputs.season.{season}.inlet_boards_m")
        assert wanted == pytest.approx(height * INCH)
    assert trace().value("inputs.boards.inlet_m") == pytest.approx(40 * INCH)
    assert not any("raised_boards" in key or key.startswith("inputs.bed.") for key in trace().steps)


@pytest.mark.works(of=(OF_OTHERS.applied_to,))
def test_without_boards_of_its_own_those_of_the_inlet_are_taken():
    left = {g.key: g.value for g in OF_OTHERS.applied_to(corbel_inputs().givens)}
    assert left["inputs.boards.inlet_m"] == pytest.approx(36 * INCH)
    assert left["inputs.season.autumn.inlet_boards_m"] == pytest.approx(14 * INCH)


@pytest.mark.law(of=(add_raised_days, add_raised_removal))
def test_what_is_kept_back_is_the_range_of_the_draws():
    for group in ("removed_kg", "site_percent", "long_run_removed_kg"):
        low, middle, high = (trace().value(f"removal.{group}.{p}") for p in ("p10", "p50", "p90"))
        assert low < middle < high
    load = float(trace().value("drain_flow.annual_load_kg"))
    assert 0.0 < trace().value("removal.long_run_removed_kg.p50") < 0.2 * load
    assert trace().value("days.all.long_run_removed_kg").size == len(trace().value("days.draws"))


@pytest.mark.law(of=(add_raised_days,))
def test_water_that_the_boards_keep_back_goes_elsewhere():
    less = -float(trace().value("raised.balance.drain_flow.change_m"))
    more = sum(float(trace().value(f"raised.balance.{way}.change_m")) for way in WAYS)
    assert less > 0.0
    assert more == pytest.approx(less, rel=0.15)  # the rest stays in the ground on the last day
    told = [f for f in designed().findings if f.code == "water-goes-elsewhere"]
    assert len(told) == 1
    assert "nothing is treated" in told[0].message


@pytest.mark.law(of=(add_raised_days,))
def test_boards_out_all_year_keep_nothing_back():
    none = {f"season.{s}.inlet_boards_m": 0.0 for s in ("winter", "spring", "summer", "autumn")}
    found = design_practice(with_weather(none), RAISED).trace
    assert np.all(found.value("days.all.long_run_removed_kg") == 0.0)
    assert np.all(found.value("days.all.kept_share") == 0.0)


@pytest.mark.works(of=(add_raised_days,))
def test_a_measured_record_sets_the_water_of_the_mean_year():
    found = design_practice(with_givens(with_weather(), *record()), RAISED).trace
    measured = found.value("water.mean_annual_depth_m")
    assert found.value("raised.annual_depth_m") == measured
    assert found.value("raised.annual_depth_m") != trace().value("raised.annual_depth_m")


@pytest.mark.works(of=(add_raised_removal,))
def test_without_weather_nothing_is_said_of_what_is_kept_back():
    found = design_practice(corbel_inputs(), RAISED)
    value = found.trace.value("removal.removed_kg.p50")
    assert isinstance(value, Unknown)
    assert "weather" in value.measure
    assert found.trace.known("cost.total_usd")


@pytest.mark.works(of=(design_practice,))
def test_it_is_judged_by_its_own_standard_and_by_the_field():
    codes = {row.code for row in designed().rows}
    assert codes == {"554-zone", "554-field-slope", "554-below-lowest", "554-solid-pipe"}
    assert not designed().requirement("criteria.554-zone").binding
    keys = {r.key for r in trace().requirements}
    assert {"field.low-1.standing", "field.low-1.midway", "property_line"} <= keys
    assert not any(key.startswith(("uplift", "capacity", "elevations.outlet")) for key in keys)


@pytest.mark.by_hand(of=(add_quantities, pipe_on_both_sides))
def test_pipe_and_pieces_are_bid():
    assert trace().value("quantities.solid-pipe-10-in.quantity") == pytest.approx(2 * 20 * 0.3048)
    bill = 1500 + 2 * 140 + 2450 + 2 * 165 + 45 + 850 + 40 * 17.50
    anchor = float(trace().value("cost.items.anchor-inlet.usd"))
    assert trace().value("cost.subtotal_usd") == pytest.approx(bill + anchor)
    assert "cost.renewals_usd" not in trace()


@pytest.mark.works(of=(result_record, raised_record))
def test_its_record_tells_what_is_kept_back_and_nothing_of_a_bed():
    record = json.loads(json.dumps(result_record(designed(), (), "0"), allow_nan=False))
    assert record["practice"] == "raised"
    assert record["raised"]["draws"] == len(trace().value("days.draws"))
    assert record["raised"]["kept"]["kept_share"]["p50"] > 0.0
    assert record["removal"]["by_method"] == {}
    assert not {"bed", "buffer", "system", "uplift"} & set(record)


@pytest.mark.works(of=(design_asked,))
def test_a_job_may_ask_for_it():
    kind = Given("inputs.practice.kind", "raised", "", "Kind of practice")
    job = corbel_inputs()
    job = replace(job, givens=tuple(g for g in job.givens if g.key != kind.key))
    assert design_asked(with_givens(job, kind)).design.practice is RAISED


@pytest.mark.works(of=(summary_raised.kept_back, summary_raised.where, summary_raised.zone))
def test_the_page_says_that_nothing_is_treated():
    out = StringIO()
    words = Words()
    for part in (
        summary_rules.verdict("Farm", designed(), words),
        summary_raised.zone(trace(), words),
        summary_raised.kept_back(trace(), words),
        summary_raised.where(trace(), words),
        summary_rules.criteria(designed(), words),
    ):
        Console(file=out, width=100).print(part)
    page = out.getvalue()
    for told in ("of the drain flow kept back", "treated", "nothing", "boards out", "as is usual"):
        assert told in page
    assert "not known" not in page
    assert "bed" not in page
