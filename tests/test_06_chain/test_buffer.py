# SPDX-License-Identifier: Apache-2.0
"""A saturated buffer through the whole chain: Merridew Farm, and what holds for any buffer."""

from dataclasses import replace
from functools import cache
from math import exp

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import CFS, FOOT, corbel_inputs
from tests.merridew import merridew_inputs, with_days
from tests.test_06_chain.test_water import with_weather
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Given
from tilewater.basis.unknown import Unknown
from tilewater.chain.bed import BED
from tilewater.chain.buffer import BUFFER, flow_rule_words, hours_of
from tilewater.chain.buffer_days import add_buffer_by_draw, add_days_of_buffer
from tilewater.chain.buffer_levels import add_buffer_levels
from tilewater.chain.buffer_removal import add_buffer_removal
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design, design_practice
from tilewater.chain.money import add_money
from tilewater.chain.plain import Record
from tilewater.chain.practice import Omission, Practice
from tilewater.chain.practices import described_in, first_practice, kind_of
from tilewater.chain.result import result_record
from tilewater.chain.result_buffer import buffer_record, curve_record
from tilewater.chain.standard import add_standard, judge_rows
from tilewater.criteria.standards import numbers_of_standards
from tilewater.practices.buffer.draw_rules import capacity_of_draws
from tilewater.practices.buffer.field_steps import add_head_over_both, head_over_both

BLANK = Unknown("answered unknown", "measure it")
DAY = 86400.0
HAND = {
    "ditch.stage": "season table",
    "buffer.tree_length_m": 0.0,
    "buffer.branches_m": (550 * FOOT, 550 * FOOT),
    "buffer_soil.conductivity_from": "soil survey",
}
"""The line of the hand arithmetic: all of 1,100 ft feeds."""


def designed(changes: dict[str, object] | None = None, *, by_days: bool = False) -> Design:
    return design_practice(merridew_inputs(changes), BUFFER, by_days=by_days)  # type: ignore[arg-type]


@cache
def plain() -> Design:
    return designed()


@cache
def routed() -> Design:
    return design_practice(with_days(merridew_inputs()), BUFFER)


@cache
def record() -> Record:
    design = routed()
    return result_record(design, (), "0")


def of_hand(feet_per_day: float) -> Design:
    """The buffer of the hand arithmetic with one conductivity, as a soil survey would state it."""
    return designed(HAND | {"buffer_soil.conductivity_survey_m_s": feet_per_day * FOOT / DAY})


@pytest.mark.by_hand(of=(design_practice,))
@pytest.mark.parametrize(("feet_per_day", "cfs"), [(9.0, 0.0492), (2.55, 0.0139)])
def test_merridew_takes_what_the_hand_arithmetic_says_before_its_line_loses_head(
    feet_per_day: float, cfs: float
):
    """K (7.567^2 - 3.0^2) / (2 x 55) a foot over 1,100 ft; crest 742.567, ditch 738.0 in winter.

    By hand with the crest at 742.5 it is 0.0492 and 0.0139 cfs; the boards there are stack to
    742.567. Spreading from a bare line and friction then take a quarter of it.
    """
    trace = of_hand(feet_per_day).trace
    head = 742.567 - 735.0
    by_hand = feet_per_day * (head**2 - 3.0**2) / 110 * 1100 / DAY
    free = trace.value("buffer.season.winter.flow_without_losses_m3_s") / CFS
    assert free == pytest.approx(by_hand, rel=1e-3)
    assert by_hand == pytest.approx(cfs, rel=0.03)
    assert 0.6 * free < trace.value("buffer.season.winter.flow_m3_s") / CFS < 0.85 * free


@pytest.mark.by_hand(of=(design_practice,))
def test_the_share_hinges_on_the_conductivity():
    """0.0492 of 0.620 cfs are 7.9 percent; losses leave 5.8. The survey's 2.3 are left at 1.7."""
    measured, survey = of_hand(9.0).trace, of_hand(2.55).trace
    key = "buffer.season.winter.share_of_peak"
    assert 0.05 < measured.value(key) < 0.079
    assert survey.value(key) < 0.023
    assert printed("0.620") == measured.value("drain_flow.peak_for_share_m3_s") / CFS


@pytest.mark.by_hand(of=(add_buffer_removal,))
def test_without_days_the_treated_share_is_one_less_an_exponential():
    trace = plain().trace
    flow, mean = (trace.value(key) for key in ("buffer.flow_m3_s", "drain_flow.mean_flow_m3_s"))
    share = trace.value("removal.treated_volume_share.p50")
    assert share == pytest.approx(1 - exp(-flow / mean), rel=1e-9)
    first, zero = (trace.value(f"buffer.removal.{law}") for law in ("first_order", "zero_order"))
    low, middle, high = (trace.value(f"removal.removed_kg.{p}") for p in ("p10", "p50", "p90"))
    load = trace.value("drain_flow.annual_load_kg")
    assert middle == pytest.approx(load * share * first)
    assert low == pytest.approx(
        load * trace.value("removal.treated_volume_share.p10") * min(first, zero)
    )
    assert low < middle < high
    assert trace.value("removal.diverted_percent.p50") == pytest.approx(100 * first)
    assert not trace.known("capacity.criterion.share_of_annual_flow")


@pytest.mark.works(of=(add_standard, judge_rows, numbers_of_standards))
def test_a_buffer_is_judged_by_its_own_standard():
    design = plain()
    assert {row.code.partition("-")[0] for row in design.rows} == {"604"}
    assert set(numbers_of_standards()) >= {"604", "605"}
    arms = ("604-share-of-capacity", "604-length-used")
    assert not any(design.requirement(f"criteria.{code}").binding for code in arms)
    assert design.requirement("criteria.604-flow").binding
    unknown = designed({"criteria.flow_option": BLANK})
    assert not any(unknown.requirement(f"criteria.{code}").binding for code in arms)
    bed = design_practice(merridew_inputs(), BED, by_days=False)
    assert {row.code.partition("-")[0] for row in bed.rows} == {"605"}


@pytest.mark.works(of=(flow_rule_words,))
def test_the_flow_rule_is_told_in_words_by_either_arm():
    second = designed().trace
    assert "second arm" in flow_rule_words(second)
    assert "poor value" in flow_rule_words(second)
    low_ditch = {"season.spring.ditch_stage_m": 737.4 * FOOT, "buffer.tree_length_m": 0.0}
    first = designed(low_ditch).trace
    assert "first arm" in flow_rule_words(first)
    short = designed({"buffer.branches_m": (200 * FOOT, 200 * FOOT)}).trace
    assert "neither arm" in flow_rule_words(short)
    assert "cannot be judged" in flow_rule_words(designed({"buffer.width_m": BLANK}).trace)


@pytest.mark.works(of=(add_buffer_levels,))
def test_a_season_with_boards_under_the_line_takes_nothing_and_says_so():
    design = plain()
    assert design.trace.value("buffer.season.autumn.flow_m3_s") == 0.0
    told = {finding.code: finding for finding in design.findings}["line-dry-in-season"]
    assert "autumn" in told.subject
    assert "2.40 ft" in told.message
    assert "cannot-compute" not in {finding.code for finding in design.findings}


@pytest.mark.works(of=(add_buffer_levels,))
def test_a_line_above_the_crest_does_not_fit():
    high = designed({"buffer.line_invert_m": 743.0 * FOOT})
    assert high.trace.value("elevations.line_under_crest.status") == "short"
    assert high.verdict == "does not fit"


@pytest.mark.law(of=(design_practice,))
@settings(max_examples=15, deadline=None)
@drawn(st.floats(0.5, 20.0), st.floats(1.05, 3.0))
def test_more_conductive_soil_never_takes_less(feet_per_day: float, factor: float):
    slow, fast = of_hand(feet_per_day).trace, of_hand(feet_per_day * factor).trace
    for season in ("winter", "spring", "summer", "autumn"):
        key = f"buffer.season.{season}.flow_m3_s"
        assert fast.value(key) >= slow.value(key)


@pytest.mark.law(of=(design_practice, Omission))
def test_blanking_an_input_never_makes_a_design_fit():
    """Each answer of the job that a buffer is designed from, in turn."""
    job = merridew_inputs()
    before = plain()
    assert before.verdict == "fits with open items"
    kept = {given.key for given in BUFFER.givens_of(job)}
    blanked = [
        key
        for key in sorted(kept)
        if key.startswith(("inputs.buffer", "inputs.ditch.b", "inputs.main.", "inputs.structure."))
    ]
    assert len(blanked) > 40
    for key in blanked:
        after = design_practice(job.changed({key: BLANK}), BUFFER, by_days=False)
        assert after.verdict != "fits", key
        assert any(item.key == key for item in after.open_items), key
        result_record(after, (), "0")


@pytest.mark.works(of=(Omission, Practice))
def test_each_practice_leaves_the_inputs_of_the_other_alone():
    job = merridew_inputs({"bed.media_depth_m": BLANK})
    design = design_practice(job, BUFFER, by_days=False)
    assert design.verdict == "fits with open items"
    assert not any(item.key.startswith("inputs.bed") for item in design.open_items)
    assert not any(key.startswith(("inputs.bed.", "inputs.media.")) for key in design.trace.steps)
    assert "inputs.pipe.bypass.length_m" in design.trace
    assert "inputs.pipe.feed.length_m" not in design.trace
    bed = design_practice(job, BED, by_days=False)
    assert not any(key.startswith("inputs.buffer.") for key in bed.trace.steps)
    assert "buffer.flow_m3_s" not in bed.trace


@pytest.mark.works(of=(add_money,))
def test_a_buffer_is_paid_without_new_chips():
    trace = plain().trace
    assert trace.known("cost.annual_usd")
    assert "cost.renewals_usd" not in trace
    assert trace.value("cost.present_usd") == trace.value("cost.subtotal_usd")
    line = trace.value("quantities.perforated-line.quantity") / FOOT
    assert trace.value("cost.items.perforated-line.usd") == pytest.approx(1.45 * line)


@pytest.mark.law(of=(add_days_of_buffer, add_buffer_by_draw, capacity_of_draws))
def test_the_days_give_ranges_in_order_and_probabilities_of_the_rule():
    trace = routed().trace
    for group in ("removed_kg", "site_percent", "diverted_percent", "treated_volume_share"):
        low, middle, high = (trace.value(f"removal.{group}.{p}") for p in ("p10", "p50", "p90"))
        assert 0 <= low <= middle <= high
    flows = trace.value("days.all.capacity_m3_s")
    assert flows.size == len(trace.value("days.draws"))
    steady = trace.value("buffer.flow_m3_s")
    assert flows.min() < steady < flows.max()
    assert trace.value("probability.share_of_capacity") <= trace.value("probability.flow")
    assert trace.known("capacity.criterion.share_of_annual_flow")


@pytest.mark.works(of=(result_record, buffer_record, curve_record))
def test_the_record_has_a_buffer_in_place_of_a_bed():
    found = record()
    assert found["practice"] == "buffer"
    assert "bed" not in found
    for name in ("line_length_m", "width_m", "conductivity_m_s", "flow_m3_s", "share_of_peak",
                 "travel_time_days"):  # fmt: skip
        assert found["buffer"][name] > 0
    assert {row["set"] for row in found["boards"]} == {"bypass", "head"}
    assert set(found["removal"]["removed_kg"]) == {"p10", "p50", "p90"}
    assert found["removal"]["diverted_percent"]["p50"] > found["removal"]["site_percent"]["p50"]
    assert set(found["removal"]["by_method"]) == {"first_order_kg", "zero_order_kg"}
    assert found["buffer"]["curve"]["width"]["flat_low"] <= found["buffer"]["width_m"] * 10
    assert {row["standard"] for row in found["criteria"]} == {"604"}


@pytest.mark.by_hand(of=(hours_of,))
def test_hours_of_days():
    assert hours_of(2.5) == 60.0


@pytest.mark.works(of=(design_asked, described_in, kind_of, first_practice))
def test_a_job_that_leaves_it_open_gets_the_practice_that_fits():
    job = with_kind("choose")
    assert [practice.name for practice in described_in(job)] == ["bed", "buffer"]
    chosen = design_asked(job, by_days=False)
    assert chosen.design.practice is BUFFER
    told = {finding.code: finding for finding in chosen.design.findings}["practice-chosen"]
    assert "only one that fits" in told.message
    assert chosen.alternatives[0].what == "a woodchip bed"
    assert chosen.alternatives[0].why_not.startswith("does not fit")
    assert first_practice(job) is BED


@pytest.mark.works(of=(design_asked, described_in))
def test_a_raised_outlet_stands_to_choose_where_weather_and_a_structure_are_given():
    job = with_weather()
    others = tuple(each for each in job.givens if each.key != "inputs.practice.kind")
    kind = Given("inputs.practice.kind", "choose", "", "Kind")
    chosen = design_asked(replace(job, givens=(*others, kind)), by_days=False)
    assert [practice.name for practice in described_in(job)] == ["bed", "raised"]
    told = {finding.code: finding for finding in chosen.design.findings}["practice-chosen"]
    assert "a woodchip bed and an outlet raised in season" in told.message
    names = {chosen.design.practice.words} | {
        each.what.partition(" ")[2] for each in chosen.alternatives
    }
    assert {"woodchip bed", "outlet raised in season"} <= names
    dry = replace(
        job, givens=tuple(g for g in job.givens if not g.key.startswith("inputs.weather"))
    )
    assert [practice.name for practice in described_in(dry)] == ["bed"]


@pytest.mark.works(of=(design_asked, kind_of))
def test_what_cannot_be_designed_is_said():
    assert kind_of(corbel_inputs()) == "bed"
    assert design_asked(with_kind("buffer"), by_days=False).design.practice is BUFFER
    with pytest.raises(OutOfDomain, match="bed, then buffer") as row:
        design_asked(with_kind(("bed", "buffer")))
    for words in ('with kind = "bed"', 'with kind = "buffer"', "`tilewater compare`"):
        assert words in str(row.value)
    with pytest.raises(OutOfDomain, match=r"practice\.kind is pond"):
        design_asked(with_kind("pond"))
    bare = replace(
        with_kind("choose"),
        givens=tuple(
            each
            for each in with_kind("choose").givens
            if not each.key.startswith(("inputs.bed.", "inputs.buffer."))
        ),
    )
    with pytest.raises(OutOfDomain, match="none of the tables"):
        design_asked(bare)


def with_kind(kind: object):
    job = merridew_inputs()
    others = tuple(each for each in job.givens if each.key != "inputs.practice.kind")
    return replace(job, givens=(*others, Given("inputs.practice.kind", kind, "", "Kind")))  # type: ignore[arg-type]


@pytest.mark.law(of=(add_head_over_both, head_over_both))
def test_head_boards_hold_the_field_higher_than_the_bypass_alone():
    none = plain().trace
    raised = designed({"buffer.head_boards_m": 5.0 * FOOT}).trace
    crest = "elevations.inlet_crest.elevation_m"
    assert raised.value(crest) > none.value(crest) == none.value("boards.inlet-design.crest_m")
    assert raised.value(crest) == raised.value("boards.head-design.crest_m")
    assert raised.value("field.edge.standing_m") < none.value("field.edge.standing_m")
    assert raised.value("buffer.flow_m3_s") == none.value("buffer.flow_m3_s")
    low, middle, high = (raised.value(f"field_storm.head{end}_m") for end in ("_low", "", "_high"))
    assert low < middle < high
