# SPDX-License-Identifier: Apache-2.0
"""The days of a record through the bed of Corbel Farm, and what the chain makes of them."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from tests.jobs import CFS, FOOT, corbel_inputs, with_givens
from tilewater.basis.trace import Given, Origin, Trace, Value
from tilewater.basis.unknown import is_unknown
from tilewater.chain.days import add_days, largest_inflow
from tilewater.chain.days_rules import add_probabilities, probability_key, shares_of
from tilewater.chain.days_sums import ratio_of
from tilewater.chain.design import Design, design_bed
from tilewater.chain.ditch_back import add_days_back
from tilewater.chain.inputs import JobInputs
from tilewater.chain.removal import add_removal
from tilewater.chain.removal_parts import likely_reduction
from tilewater.chain.result import result_record
from tilewater.criteria.standards import Confirmation
from tilewater.hydrology.ditch_stage import SeasonValue, stage_rule_by_flow, stage_rule_by_season
from tilewater.practices.bed.days import dates_of, setting_by_day, stage_by_day, value_by_day
from tilewater.practices.bed.draws import capacity_of_draws, life_of_draws, retention_of_draws
from tilewater.practices.bed.route import route_days

DAYS = 4 * 366


def flows() -> np.ndarray:
    """Four invented years of daily depth, wet in spring."""
    random = np.random.default_rng(11)
    depth = np.zeros(DAYS)
    for day in range(1, DAYS):
        rain = random.gamma(1.0, 3.0) if random.random() < 0.2 and day % 366 < 200 else 0.0
        depth[day] = 0.8 * depth[day - 1] + rain
    return np.minimum(depth, 12.0) / 1000 / 86400


def with_record(changes: Mapping[str, Value] | None = None, *, least_mm: float = 0.0) -> JobInputs:
    """Corbel Farm with those years; days below a depth are still."""
    day = np.arange(DAYS) + np.datetime64("2010-01-01")
    depth = np.where(flows() >= least_mm / 1000 / 86400, flows(), 0.0)
    record = (
        Given("inputs.record.daily_depth_m_s", depth, "m/s", "Daily drain flow", Origin()),
        Given("inputs.record.day", day, "", "Days", Origin()),
    )
    return with_givens(corbel_inputs(changes), *record)


@cache
def designed() -> Design:
    return design_bed(with_record())


@cache
def trace() -> Trace:
    return designed().trace


@pytest.mark.law(of=(add_days, add_removal))
def test_removal_is_the_range_of_the_draws():
    for group in ("removed_kg", "site_percent", "bed_percent", "treated_volume_share"):
        low, middle, high = (
            float(trace().value(f"removal.{group}.{p}")) for p in ("p10", "p50", "p90")
        )
        assert 0 < low < middle < high
    assert float(trace().value("removal.bed_percent.p90")) < 100
    assert trace().value("water.basis") == "measured"
    assert len(trace().value("days.draws")) == 1024


@pytest.mark.law(of=(add_days,))
def test_days_of_the_middle_add_up_to_the_flow_of_the_record():
    run, flow = trace().value("days.run"), trace().value("water.flow_m3_s")
    assert np.allclose(run.bed_flow + run.bypass_flow, flow, atol=1e-12)
    share = run.bed_flow.sum() / flow.sum()
    middle = float(trace().value("removal.long_run_share.p50"))
    assert share == pytest.approx(middle, abs=0.06)
    sums = trace().value("days.sums")
    factor = trace().value("days.drawn")["drain-flow"]
    whole = sums[:, :, 0].sum(axis=1) / (86400 * flow.sum())
    less = factor < 1.0  # more is cut at the largest day of the record, so it grows more slowly
    assert whole[less] == pytest.approx(factor[less], rel=1e-6)
    assert np.all((whole[~less] < factor[~less] + 1e-6) & (whole[~less] > 1.0 - 1e-6))
    year = trace().value("days.year")
    counted = flow[(year == 1) & (flow > 1e-9)]  # what counts as flow
    few = int(np.argmin(factor))
    assert sums[few, 1, 0] == pytest.approx(86400 * factor[few] * counted.sum(), rel=1e-6)


@pytest.mark.law(of=(route_days, add_days_back))
def test_the_routed_days_run_back_where_the_ditch_stands_over_the_outlet_boards():
    """Summer boards of 10 in end at 1181.53 ft; the ditch stands at 1182.0 ft."""
    change = {"season.summer.ditch_stage_m": 1182.0 * FOOT}
    high = design_bed(with_record(change, least_mm=0.01)).trace
    back, flow = high.value("days.run").runs_back, high.value("water.flow_m3_s")
    summer = high.value("days.setting") == 3
    assert np.array_equal(back, summer & (flow == 0))
    share = back[summer].mean()
    assert 0.1 < share < 1
    assert high.value("ditch.share_of_days_back.outlet_crest-summer") == pytest.approx(share)
    assert not trace().value("days.run").runs_back.any()


@pytest.mark.law(of=(add_removal, likely_reduction))
def test_a_rule_is_judged_where_the_draws_agree():
    probability = float(trace().value("removal.probability_of_reduction"))
    reduction = trace().value("removal.reduction_in_treated_water")
    assert is_unknown(reduction) == (0.1 < probability < 0.9)
    assert likely_reduction(0.4, 0.95) == 0.4
    assert likely_reduction(0.1, 0.05) == 0.1
    assert is_unknown(likely_reduction(0.3, 0.5))


@pytest.mark.law(of=(add_removal,))
def test_long_run_share_answers_the_rule_of_years():
    share = float(trace().value("capacity.criterion.share_of_annual_flow"))
    assert share == float(trace().value("removal.long_run_share.p50"))
    assert 0.2 < share < 0.9


@pytest.mark.works(of=(add_days,))
def test_a_job_without_days_keeps_the_published_rates():
    plain = design_bed(corbel_inputs()).trace
    assert "days.sums" not in plain
    assert float(plain.value("removal.removed_kg.p50")) > 0
    assert is_unknown(plain.value("removal.treated_volume_share.p10"))


@pytest.mark.works(of=(add_days,))
def test_a_runner_up_is_judged_without_routing_its_days():
    plain = design_bed(designed().job, by_days=False).trace
    assert "days.sums" not in plain


@pytest.mark.by_hand(of=(setting_by_day, value_by_day, dates_of))
def test_seasons_become_days():
    day = np.array(["2024-01-05", "2024-03-20", "2023-07-01"], dtype="datetime64[D]")
    spring = SeasonValue("03-20", "06-14", 2.0)
    winter = SeasonValue("12-01", "03-19", 1.0)
    assert setting_by_day(day, winter=winter, spring=spring).tolist() == [1, 2, 0]
    warm = value_by_day(day, winter=winter._replace(value=4.0), spring=spring._replace(value=8.0))
    assert warm[:2].tolist() == [4.0, 8.0]
    assert 4.0 < warm[2] < 8.0
    assert (
        dates_of(np.array([719163, 719164])).tolist()
        == dates_of(np.array(["1970-01-01", "1970-01-02"], dtype="datetime64[D]")).tolist()
    )


@pytest.mark.by_hand(of=(stage_by_day,))
def test_ditch_follows_the_day_or_the_flow():
    day = np.array(["2024-01-05", "2024-04-20"], dtype="datetime64[D]")
    flow = np.array([0.0, 0.02])
    table = np.where(np.arange(366) < 79, 359.5, 359.9)
    assert stage_by_day(day, flow, stage_rule_by_season(table)).tolist() == [359.5, 359.9]
    rule = stage_rule_by_flow(((0.0, 359.5), (0.04, 359.9)))
    assert stage_by_day(day, flow, rule) == pytest.approx([359.5, 359.7])


@pytest.mark.by_hand(of=(largest_inflow, ratio_of))
def test_table_reaches_over_the_largest_day_and_the_full_main():
    assert largest_inflow(np.array([0.1 * CFS]), 0.93 * CFS) == pytest.approx(1.023 * CFS)
    assert largest_inflow(np.array([2.0 * CFS]), 0.93 * CFS) == pytest.approx(2.2 * CFS)
    assert ratio_of(3.0, 2.0) == 1.5
    assert ratio_of(3.0, 0.0) == 1.0


@pytest.mark.law(of=(add_probabilities, capacity_of_draws, retention_of_draws, shares_of))
def test_the_rules_have_the_share_of_the_draws_that_keep_them():
    shares = trace().value("days.all.share_of_peak")
    limit = float(trace().value("sizing.share_limit"))
    assert float(trace().value("probability.share_of_peak")) == np.mean(shares >= limit)
    criterion = float(trace().value("capacity.criterion.share_of_peak"))
    assert np.median(shares) == pytest.approx(criterion, rel=0.06)
    hours = trace().value("days.all.retention_h")
    stated = float(trace().value("capacity.criterion.retention_h"))
    assert np.median(hours) == pytest.approx(stated, rel=0.08)
    assert 0.3 < float(trace().value("probability.share_of_peak")) < 0.9
    assert float(trace().value("probability.retention")) > 0.9


@pytest.mark.by_hand(of=(add_probabilities,))
def test_every_row_that_draws_decide_has_its_share_of_them():
    values = {
        "share-of-peak": ("share_of_peak", 0.15),
        "monitored-share-of-peak": ("share_of_peak", 0.10),
        "share-of-annual-flow": ("long_run_share", 0.60),
        "retention": ("retention_h", 3.0),
        "reduction": ("long_run_reduction", 0.30),
        "life": ("permeability_years", 10.0),
    }
    record = result_record(designed(), (), "0")
    rows = {row["code"]: row["probability"] for row in record["criteria"]}
    for name, (by_draw, limit) in values.items():
        kept = sum(value >= limit for value in trace().value(f"days.all.{by_draw}")) / 1024
        assert trace().value(probability_key(f"605-{name}")) == pytest.approx(kept)
        assert rows[f"605-{name}"] == record["probability"][name.replace("-", "_")]
    assert rows["605-drainable"] is rows["605-lining"] is None
    # four years are too few for a day of ten years
    assert record["probability"]["ten_year_day"] is rows["605-ten-year-day"] is None
    assert len(record["probability"]) == len(values) + 1
    assert 0 < record["probability"]["share_of_annual_flow"] < 1
    long_run = trace().value("days.sums")[5, :, 1].sum() / trace().value("days.sums")[5, :, 0].sum()
    assert trace().value("days.all.long_run_share")[5] == pytest.approx(long_run)


@pytest.mark.works(of=(add_probabilities,))
def test_a_limit_that_was_looked_up_is_the_one_that_draws_are_held_to():
    word = Confirmation("605-retention", "R. Lindqvist", "2026-11-16", "Iowa 2021", limit=12.0)
    strict = design_bed(replace(with_record(), confirmations=(word,))).trace
    kept = float(strict.value("probability.retention"))
    assert kept == np.mean(strict.value("days.all.retention_h") >= 12.0)
    assert kept < float(trace().value("probability.retention"))


@pytest.mark.law(of=(life_of_draws, capacity_of_draws))
def test_a_draw_lives_as_long_as_it_takes_its_share():
    """Ten years is the design year: who takes the share then is not yet at the end of its life."""
    lives = trace().value("days.all.permeability_years")
    takes = trace().value("days.all.share_of_peak") >= 0.15
    assert np.array_equal(takes, lives >= 10.0)
    assert 0 < takes.mean() < 1
    stated = float(trace().value("life.permeability_years"))
    assert np.median(lives) == pytest.approx(stated, rel=0.1)
    beds, table = trace().value("days.draws"), trace().value("days.table")
    peak, free = (trace().value(f) for f in ("drain_flow.peak_for_share_m3_s", "system.free_m"))
    for draw in (0, 200, 900):
        one = (beds[draw],)
        (life,) = life_of_draws(one, table, peak, 0.15, free)
        if 0.0 < life < 60.0:
            assert capacity_of_draws(one, table, life, free)[0] == pytest.approx(0.15 * peak)
    assert life_of_draws(beds[:3], table, peak, 50.0, free).tolist() == [0.0, 0.0, 0.0]
    assert life_of_draws(beds[:3], table, peak, 1e-6, free).tolist() == [60.0, 60.0, 60.0]
    even = beds[0]._replace(decline_per_day=1.0)
    asked = 0.5 * capacity_of_draws((even,), table, 0.0, free)[0] / peak
    assert life_of_draws((even,), table, peak, asked, free).tolist() == [60.0]
