# SPDX-License-Identifier: Apache-2.0
"""The ditch through the chain: four ways to know it, one set of keys, and what meets it high."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import ACRE, CFS, FARM, FOOT, corbel_inputs, farm_text_without, with_givens
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.design import design_bed
from tilewater.chain.ditch import add_ditch
from tilewater.chain.ditch_section import add_section
from tilewater.chain.ditch_share import add_shares
from tilewater.chain.inputs import JobInputs
from tilewater.chain.result_ditch import ditch_record
from tilewater.hydraulics.channel_sections import channel_section_trapezoid
from tilewater.hydraulics.channels import channel_normal_level_manning
from tilewater.hydrology.ditch_shares import volume_share_above
from tilewater.job.reading import job_of_text

DAYS = np.arange("2023-01-01", "2025-01-01", dtype="datetime64[D]")
AREA = 62 * ACRE
SEASONS = ("winter", "spring", "summer", "autumn")
EDGES = ("outlet_crest", "inlet_crest", "return_end", "main_outlet")
OUTLET_CREST = 1182.70  # ft, winter and spring


def record(flow_cfs: np.ndarray | float) -> tuple[Given, Given]:
    """Drain flow on every day of two years, with its days."""
    depth = np.broadcast_to(np.asarray(flow_cfs, float), DAYS.shape) * CFS / AREA
    return (
        Given("inputs.record.daily_depth_m_s", depth.copy(), "m/s", "Daily drain flow"),
        Given("inputs.record.day", DAYS, "", "Days"),
    )


def series(stage_ft: np.ndarray, days: np.ndarray = DAYS) -> tuple[Given, ...]:
    """A series of ditch levels, one reading a day."""
    return (
        Given("inputs.ditch.series", "stage.csv", "", "File"),
        Given("inputs.ditch_series.day", days, "", "Days"),
        Given("inputs.ditch_series.stage_m", stage_ft * FOOT, "m", "Mean"),
        Given("inputs.ditch_series.highest_m", stage_ft * FOOT, "m", "Highest"),
    )


def rule(*pairs: tuple[float, float]) -> Given:
    knots = tuple((flow * CFS, level * FOOT) for flow, level in pairs)
    return Given("inputs.ditch.rule", knots, "", "Rule")


def job(way: str, *givens: Given, changes: Mapping[str, Any] | None = None) -> JobInputs:
    return with_givens(corbel_inputs({"ditch.stage": way, **(changes or {})}), *givens)


def with_lines(way: str, lines: str, *givens: Given) -> JobInputs:
    """Corbel Farm with lines for the ditch typed into its file."""
    text = farm_text_without("ditch.section")
    text = text.replace('stage = "season table"\n', f'stage = "{way}"\n{lines}\n', 1)
    return with_givens(
        replace(corbel_inputs(), givens=job_of_text(text, FARM).inputs.givens), *givens
    )


def ditch_of(inputs: JobInputs) -> Trace:
    """Trace of a design."""
    return design_bed(inputs, by_days=False).trace


def feet(trace: Trace, key: str) -> float:
    return float(trace.value(key)) / FOOT


def codes(trace: Trace) -> list[str]:
    return [f.code for f in trace.findings if f.code.startswith("ditch")]


SECTION = """
[ditch.section]
bottom_width = "4 ft"
side_slope = "1.5:1"
slope = "0.08 %"
n = 0.035
n_low = 0.028
n_high = 0.050

[ditch_flow.ordinary]
flow = "3 cfs"
use = "ordinary"
source = "current meter, 2025-05-02"

[ditch_flow.two-year]
flow = "45 cfs"
use = "high"
source = "regional regression, 2-year"
error = "40 %"
"""
MARK = """
[mark.culvert]
elevation = "1182.3 ft"
event = "2024-06-22"
sure = "0.3 ft"
flow = "60 cfs"
"""


@pytest.mark.by_hand(of=(add_ditch,))
def test_the_season_table_gives_what_is_typed_and_no_band() -> None:
    trace = ditch_of(corbel_inputs())
    assert feet(trace, "ditch.spring.stage_m") == pytest.approx(1180.1)
    assert feet(trace, "ditch.spring.high_m") == pytest.approx(1182.1)
    assert feet(trace, "ditch.ordinary_m") == pytest.approx(1180.1)
    assert is_unknown(trace.value("ditch.spring.high_high_m"))
    assert trace.value("ditch.stage_rule").stage_on(100, 0.01) / FOOT == pytest.approx(1180.1)
    assert printed("0.60") == feet(trace, "elevations.outlet_crest-spring.value_m")
    assert codes(trace) == []


@pytest.mark.by_hand(of=(add_ditch,))
def test_a_band_that_is_typed_stands_on_both_sides_of_both_levels() -> None:
    band = Given("inputs.season.spring.ditch_band_m", 0.7 * FOOT, "m", "Band")
    trace = ditch_of(with_givens(corbel_inputs(), band))
    assert feet(trace, "ditch.spring.stage_low_m") == pytest.approx(1180.1 - 0.7)
    assert feet(trace, "ditch.spring.high_high_m") == pytest.approx(1182.1 + 0.7)
    # 1182.80 is above the crest of 1182.70, the level itself is not
    (found,) = [f for f in trace.findings if f.code == "ditch-over-outlet"]
    assert found.message.startswith(
        "In spring the ditch stands at 1182.80 ft at the upper end of the band of its high level, "
        "0.10 ft above the outlet crest, 1182.70 ft. Ditch water would enter the bed over the "
        "outlet boards whenever the bed stands lower"
    )


@pytest.mark.by_hand(of=(add_ditch,))
def test_a_series_gives_median_highest_and_the_years_as_band() -> None:
    stage = np.where(DAYS < np.datetime64("2024-01-01"), 1179.8, 1180.4)
    stage[DAYS == np.datetime64("2024-05-10")] = 1182.5
    trace = ditch_of(job("series", *series(stage)))
    assert feet(trace, "ditch.spring.stage_m") == pytest.approx((1179.8 + 1180.4) / 2)
    assert feet(trace, "ditch.spring.high_m") == pytest.approx(1182.5)
    assert feet(trace, "ditch.spring.stage_low_m") == pytest.approx(1179.8)
    assert feet(trace, "ditch.spring.stage_high_m") == pytest.approx(1180.4)
    assert trace.value("ditch.spring.days") == 2 * 87
    assert feet(trace, "ditch.autumn.high_m") == pytest.approx(1180.4)
    assert codes(trace) == ["ditch-levels-instead"]
    assert printed("0.20") == feet(trace, "elevations.outlet_crest-spring.value_m")


@pytest.mark.works(of=(add_ditch,))
def test_a_season_without_a_reading_is_not_known_and_a_short_series_is_told() -> None:
    half = DAYS[:170]
    trace = ditch_of(job("series", *series(np.full(half.size, 1179.9), half)))
    assert trace.known("ditch.spring.stage_m")
    assert trace.value("ditch.autumn.stage_m") == Unknown(
        "the series of ditch levels has no day in autumn",
        "go on reading through that season",
        ("ditch.autumn.stage_m",),
    )
    assert trace.value("elevations.outlet_crest-autumn.status") == "not known"
    assert "ditch-series-short" in codes(trace)


@pytest.mark.by_hand(of=(add_ditch,))
def test_a_rule_is_read_at_the_flows_of_the_record() -> None:
    spring = (DAYS.astype("M8[M]").astype(int) % 12) == 4  # May
    pairs = ((0.0, 1179.4), (0.4, 1180.2), (0.8, 1183.0))
    flow = np.where(spring, 0.6, 0.2)
    trace = ditch_of(job("rule", rule(*pairs), *record(flow)))
    assert feet(trace, "ditch.summer.stage_m") == pytest.approx(1179.4 + 0.8 / 2)
    assert feet(trace, "ditch.spring.stage_m") == pytest.approx(1179.8)
    assert feet(trace, "ditch.spring.high_m") == pytest.approx((1180.2 + 1183.0) / 2)
    # May of two years carries 31 x 0.6 of spring's water, the ditch above neither crest
    assert trace.value("ditch.share_above.outlet_crest-spring") == 0.0
    may, rest = 31 * 0.6, (87 - 31) * 0.2
    share = trace.value("ditch.share_above.main_outlet-spring")  # 1180.95 against 1181.60
    assert share == pytest.approx(may / (may + rest))
    assert "ditch.share_above_high.outlet_crest-spring" not in trace


@pytest.mark.works(of=(add_ditch,))
def test_a_rule_without_a_record_is_read_at_the_flows_of_the_design() -> None:
    trace = ditch_of(job("rule", rule((0.0, 1179.4), (0.1, 1179.6))))
    assert trace.value("ditch.spring.drain_flow_high_m3_s") == trace.value(
        "drain_flow.peak_for_bypass_m3_s"
    )
    # 0.055 cfs in winter: 1179.4 + 0.55 x 0.2
    assert feet(trace, "ditch.winter.stage_m") == pytest.approx(1179.51)
    # 0.20 cfs in spring, above the last pair
    assert feet(trace, "ditch.spring.stage_m") == pytest.approx(1179.6)
    assert "ditch-rule-above" in codes(trace)


@pytest.mark.by_hand(of=(add_ditch, add_section))
def test_a_section_gives_normal_depth_and_the_largest_doubt() -> None:
    trace = ditch_of(with_lines("section", SECTION + MARK))
    shape = channel_section_trapezoid(1178.9 * FOOT, 4 * FOOT, 1.5, height=6.85 * FOOT)

    def level(flow: float, n: float) -> float:
        return channel_normal_level_manning(flow * CFS, shape, 0.0008, n=n) / FOOT

    assert feet(trace, "ditch.spring.stage_m") == pytest.approx(level(3, 0.035))
    assert feet(trace, "ditch.spring.high_m") == pytest.approx(level(45, 0.035))
    misfit = 1182.3 - level(60, 0.035)
    assert feet(trace, "ditch.marks.culvert.misfit_m") == pytest.approx(misfit)
    highest = max(level(45, 0.050), level(45 * 1.4, 0.035), level(45, 0.035) + abs(misfit))
    assert feet(trace, "ditch.spring.high_high_m") == pytest.approx(highest)
    lowest = min(level(45, 0.028), level(45 / 1.4, 0.035), level(45, 0.035) - abs(misfit))
    assert feet(trace, "ditch.spring.high_low_m") == pytest.approx(lowest)
    assert trace.value("ditch.flows.two-year.doubt") == "range of n"
    # the roughness that the mark alone would give carries 60 cfs at 1182.3
    fitted = trace.value("ditch.section.n_fitted")
    assert level(60, fitted) == pytest.approx(1182.3, abs=1e-4)


@pytest.mark.works(of=(add_section,))
def test_marks_give_n_where_it_is_not_typed() -> None:
    lines = SECTION.replace("n = 0.035\nn_low = 0.028\nn_high = 0.050\n", "")
    trace = ditch_of(with_lines("section", lines + MARK))
    n = trace.value("ditch.section.n")
    assert n == trace.value("ditch.section.n_fitted")
    assert (
        trace.value("ditch.section.n_fitted_low") < n < trace.value("ditch.section.n_fitted_high")
    )
    unfitted = ditch_of(with_lines("section", lines))
    assert is_unknown(unfitted.value("ditch.spring.high_m"))
    assert unfitted.value("inputs.ditch.section.n").why == (
        "neither n nor a high water mark with its flow is given"
    )


@pytest.mark.works(of=(add_section,))
def test_a_mark_above_all_computed_levels_and_a_stray_season_are_told() -> None:
    high = MARK.replace("1182.3", "1185.0").replace('flow = "60 cfs"\n', "")
    stray = SECTION.replace('use = "high"', 'use = "high"\nseason = "harvest"')
    trace = ditch_of(with_lines("section", stray + high))
    messages = {f.code: f.message for f in trace.findings}
    assert messages["ditch-flow-season"] == (
        "The flow two-year is for the season 'harvest', which the job does not have. "
        "Its seasons: winter, spring, summer, autumn. It judges nothing."
    )
    assert "ditch-mark-higher" in messages
    assert trace.value("ditch.spring.high_m").why == "the high flow is not known"


@pytest.mark.works(of=(add_section,))
def test_a_flow_of_one_season_stands_before_that_of_all() -> None:
    own = SECTION + (
        '\n[ditch_flow.flush]\nflow = "70 cfs"\nuse = "high"\nseason = "spring"\n'
        'source = "gauge nearby"\n'
    )
    trace = ditch_of(with_lines("section", own))
    assert trace.value("ditch.spring.high_m") == trace.value("ditch.flows.flush.level_m")
    assert trace.value("ditch.summer.high_m") == trace.value("ditch.flows.two-year.level_m")


@pytest.mark.works(of=(add_ditch,))
@pytest.mark.parametrize(
    ("inputs", "cause"),
    [
        (job("series"), "inputs.ditch.series"),
        (job("rule"), "inputs.ditch.rule"),
        (with_lines("section", ""), "inputs.ditch.section.points"),
        (corbel_inputs({"ditch.stage": Unknown("answered unknown")}), "inputs.ditch.stage"),
        (
            corbel_inputs({"season.spring.ditch_high_m": Unknown("answered unknown")}),
            "inputs.season.spring.ditch_high_m",
        ),
    ],
    ids=["series", "rule", "section", "unknown", "one season"],
)
def test_a_way_of_which_something_is_missing_stays_open(inputs: JobInputs, cause: str) -> None:
    design = design_bed(inputs)
    assert is_unknown(design.trace.value("ditch.spring.high_m"))
    assert design.trace.value("elevations.outlet_crest-spring.status") == "not known"
    assert cause in {item.key for item in design.open_items}
    assert design.verdict == "fits with open items"


def without_seasons(inputs: JobInputs) -> JobInputs:
    kept = tuple(g for g in inputs.givens if not g.key.startswith("inputs.season."))
    return replace(inputs, givens=kept)


@pytest.mark.by_hand(of=(add_ditch,))
def test_without_seasons_the_year_is_one() -> None:
    stage = np.full(DAYS.size, 1180.0)
    stage[9] = 1183.0
    design = design_bed(without_seasons(job("series", *series(stage), *record(0.3))))
    trace = design.trace
    assert feet(trace, "ditch.year.stage_m") == pytest.approx(1180.0)
    assert printed("-0.30") == feet(trace, "elevations.outlet_crest_stage.value_m")
    assert trace.value("ditch.share_above.outlet_crest-year") == pytest.approx(1 / DAYS.size)
    assert "ditch-over-outlet" in codes(trace)
    table = design_bed(without_seasons(corbel_inputs()))
    assert table.trace.value("elevations.main_outlet.status") == "not known"


@pytest.mark.by_hand(of=(add_shares,))
def test_by_season_the_share_lies_between_ordinary_and_high() -> None:
    """In summer and autumn the outlet stands at 10 in, 1181.53 ft; only summer's high is under."""
    change = {"season.autumn.ditch_high_m": 1181.9 * FOOT}
    trace = ditch_of(job("season table", *record(0.3), changes=change))
    assert trace.value("ditch.share_above.outlet_crest-autumn") == 0.0
    assert trace.value("ditch.share_above_high.outlet_crest-autumn") == 1.0
    assert trace.value("ditch.share_above_high.outlet_crest-summer") == 0.0
    autumn = 2 * (16 + 31 + 30)
    assert trace.value("ditch.share_above_high.outlet_crest-year") == pytest.approx(
        autumn / DAYS.size
    )
    assert trace.value("ditch.share_above.outlet_crest-year") == 0.0


@pytest.mark.works(of=(add_shares,))
def test_without_a_daily_record_every_share_is_not_known_and_says_what_to_measure() -> None:
    design = design_bed(corbel_inputs())
    for edge in EDGES:
        for season in (*SEASONS, "year"):
            share = design.trace.value(f"ditch.share_above.{edge}-{season}")
            assert share.why == (
                "no day of drain flow is measured, and no weather is given to simulate any"
            )
            assert share.measure.startswith("name a file of daily weather under [weather], or log")
    assert is_unknown(design.trace.value("ditch.share_basis"))
    assert is_unknown(design.trace.value("ditch.days_back_high.outlet_crest-year"))
    undated = design_bed(with_givens(corbel_inputs(), record(0.3)[0]))
    share = undated.trace.value("ditch.share_above.outlet_crest-year")
    assert share.why == "the days of the drain flow record are not known"


@pytest.mark.works(of=(add_shares,))
def test_days_that_only_one_record_has_are_counted() -> None:
    logged = DAYS[40:]
    stage = np.full(logged.size, 1183.0)
    trace = ditch_of(job("series", *series(stage, logged), *record(0.3)))
    (found,) = [f for f in trace.findings if f.code == "ditch-days-apart"]
    assert found.message.startswith("40 of 731 days of the drain flow record have no level of the")
    assert trace.value("ditch.share_above.outlet_crest-year") == 1.0
    dry = ditch_of(job("series", *series(stage, logged), *record(np.where(DAYS < DAYS[40], 1, 0))))
    assert dry.value("ditch.share_above.outlet_crest-spring").why == (
        "no day of spring has drain flow and a level of the ditch"
    )


@pytest.mark.works(of=(add_ditch,))
def test_ditch_water_over_the_boards_is_told_by_season() -> None:
    trace = ditch_of(
        corbel_inputs(
            {
                "season.spring.ditch_high_m": 1183.0 * FOOT,
                "season.autumn.ditch_stage_m": 1182.5 * FOOT,
                "season.autumn.ditch_high_m": 1182.6 * FOOT,
            }
        )
    )
    found = {f"{f.code} {f.subject}": f.message for f in trace.findings if "ditch-over" in f.code}
    assert found == {
        "ditch-over-outlet Ditch, spring": "In spring the ditch stands at 1183.00 ft at its high "
        "level, 0.30 ft above the outlet crest, 1182.70 ft. Ditch water would enter the bed over "
        "the outlet boards whenever the bed stands lower, and the bed has that much less head. Set "
        "the outlet boards above it in that season, or keep it out with a flap gate.",
        "ditch-over-outlet Ditch, autumn": "In autumn the ditch stands at 1182.50 ft on ordinary "
        "days, 0.97 ft above the outlet crest, 1181.53 ft. Ditch water would enter the bed over "
        "the outlet boards whenever the bed stands lower, and the bed has that much less head. Set "
        "the outlet boards above it in that season, or keep it out with a flap gate.",
        "ditch-over-bypass Ditch, autumn": "In autumn the ditch stands at 1182.50 ft on ordinary "
        "days, 0.13 ft above the bypass crest, 1182.37 ft. No water would leave over the bypass "
        "boards; ditch water would stand in the main and in the field behind them. No setting of "
        "the boards helps the drains then; the ditch does.",
    }


@pytest.mark.law(of=(add_ditch,))
@settings(max_examples=6)
@given(st.floats(1178.95, 1182.0), st.floats(0.0, 2.0))
def test_a_constant_ditch_is_the_same_by_any_way(level, up) -> None:
    typed = {
        f"season.{season}.ditch_{what}_m": value * FOOT
        for season in SEASONS
        for what, value in (("stage", level), ("high", level))
    }
    flat = rule((0.0, level), (9.0, level))
    ways = (
        job("season table", *record(0.3), changes=typed),
        job("series", *series(np.full(DAYS.size, level)), *record(0.3)),
        job("rule", flat, *record(0.3)),
    )
    found = []
    for inputs in ways:
        trace = ditch_of(inputs)
        found.append(
            [trace.value(f"ditch.{s}.{k}_m") for s in SEASONS for k in ("stage", "high")]
            + [trace.value(f"ditch.share_above.{e}-year") for e in EDGES]
            + [trace.value(f"elevations.outlet_crest-{s}.value_m") for s in SEASONS]
        )
    assert found[1] == pytest.approx(found[0], abs=1e-9)
    assert found[2] == pytest.approx(found[0], abs=1e-9)


@pytest.mark.works(of=(ditch_record,))
def test_the_record_has_every_season_and_share_at_every_site() -> None:
    found = ditch_record(ditch_of(with_lines("section", SECTION + MARK, *record(0.3))))
    assert found["way"] == "section"
    assert found["seasons"] == list(SEASONS)
    assert set(found["share_above"]) == {f"{e}-{s}" for e in EDGES for s in (*SEASONS, "year")}
    assert found["spring"]["high_high_m"] > found["spring"]["high_m"]
    assert found["flows"]["two-year"]["doubt"] == "range of n"
    bare = ditch_record(ditch_of(corbel_inputs({"ditch.stage": Unknown("answered unknown")})))
    assert bare["way"] is None
    assert bare["spring"]["stage_m"] is None
    assert set(bare["share_above"].values()) == {None}


@pytest.mark.law(of=(volume_share_above,))
@pytest.mark.parametrize(("site", "plot"), [("SERF_IA", "S2"), ("DPAC", "NE")])
def test_on_measured_flow_a_constant_ditch_drowns_all_or_none(field_data, site, plot) -> None:
    """The levels are invented; the flow is measured."""
    rows = [
        line.split(",")
        for line in (field_data / "drain-flow" / "daily_drain_flow.csv").read_text().splitlines()
    ]
    mine = [r for r in rows if r[0] == site and r[1] == plot and r[4] != "NA"]
    flow = np.array([max(float(r[4]), 0.0) for r in mine])
    wet = flow > np.quantile(flow, 0.9)
    assert volume_share_above(flow, 360.0, 359.9) == 1.0
    assert volume_share_above(flow, 360.0, 360.0) == 0.0
    rising = np.where(wet, 361.0, 360.0)
    drowned = volume_share_above(flow, rising, 360.5)
    assert drowned == pytest.approx(flow[wet].sum() / flow.sum())
    assert drowned > wet.mean()  # the wet days carry more than their share
