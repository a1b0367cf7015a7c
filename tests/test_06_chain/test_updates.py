# SPDX-License-Identifier: Apache-2.0
"""Nitrate as a job wants it known, and ranges narrowed by what it measured."""

import numpy as np
import pytest

from tests.records import DATES, plain_design, recorded
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.design import design_bed
from tilewater.chain.nitrate_days import (
    add_daily_nitrate,
    add_nitrate,
    as_it_is,
    middle_of,
    nitrate_key,
    pattern_of,
)
from tilewater.chain.updated import (
    add_updates,
    high_end,
    low_end,
    measured_by_samples,
    measured_of,
    middle,
    range_of,
    with_ranges,
    with_regional_nitrate,
)
from tilewater.chain.updated_draws import (
    are_weighed,
    as_drawn,
    draws_key,
    keep_agreeing,
    kept_draws,
    tell_unused_share,
    those_kept,
)
from tilewater.chain.water_side import compute_water
from tilewater.nitrate.concentration import regional_range
from tilewater.nitrate.parameter_ranges import default_ranges
from tilewater.nitrate.range_update import weights_of_draws

MONTHS = (11.0, 12.0, 13.0, 15.0, 18.0, 17.0, 13.0, 6.0, 3.0, 4.0, 8.0, 10.0)


def traced(**more: object) -> Trace:
    return design_bed(recorded({key.replace("__", "."): v for key, v in more.items()})).trace


def spread(trace: Trace, group: str) -> float:
    low, high = (float(trace.value(f"days.{group}.{p}")) for p in ("p10", "p90"))
    return high / low


@pytest.mark.law(of=(add_nitrate, add_daily_nitrate, pattern_of, nitrate_key))
def test_a_job_that_says_nothing_keeps_one_nitrate_every_day():
    trace = plain_design().trace
    assert pattern_of(trace) == "same every day"
    assert nitrate_key(trace) == "inputs.nitrate.mean_mg_per_l"
    assert np.ptp(trace.value("days.nitrate_mg_per_l")) == 0
    assert not [step.key for step in trace if step.key.startswith(("nitrate.", "updated."))]


@pytest.mark.law(of=(add_nitrate, add_daily_nitrate, as_it_is))
def test_months_change_days_and_load_alike():
    trace = traced(nitrate__pattern="by month", nitrate__by_month_mg_per_l=MONTHS)
    days, flow = trace.value("days.nitrate_mg_per_l"), trace.value("water.flow_m3_s")
    assert days[np.flatnonzero(DATES == np.datetime64("2011-08-15"))[0]] == 6.0
    mean = float((days * flow).sum() / flow.sum())
    assert trace.value("nitrate.flow_weighted_mg_per_l") == pytest.approx(mean)
    volume = trace.value("drain_flow.mean_annual_volume_m3")
    assert trace.value("drain_flow.annual_load_kg") == pytest.approx(volume * mean / 1000)


@pytest.mark.law(of=(add_nitrate, add_updates, measured_by_samples))
def test_samples_with_flow_make_the_days_and_narrow_the_nitrate():
    at = np.arange(20, 1400, 35)
    plain = plain_design().trace
    flow = plain.value("water.flow_m3_s")[at]
    values = np.where(flow > 0, 12 * (np.maximum(flow, 1e-9) / 0.005) ** 0.1, 12.0)
    samples = {
        "samples__day": DATES[at],
        "samples__nitrate_mg_per_l": values * np.exp(0.1 * np.sin(np.arange(at.size))),
        "samples__is_below": np.zeros(at.size, dtype=bool),
    }
    trace = traced(nitrate__pattern="fitted to samples", **samples)
    assert np.ptp(trace.value("days.nitrate_mg_per_l")) > 1
    assert 8 < trace.value("nitrate.flow_weighted_mg_per_l") < 16
    assert 0 < trace.value("nitrate.fit_error") < 0.1
    prior, after = (trace.value(f"updated.nitrate-factor.{s}") for s in ("prior", "posterior"))
    assert after.high / after.low < prior.high / prior.low
    assert np.std(trace.value("days.drawn")["nitrate-factor"]) < np.std(
        plain.value("days.drawn")["nitrate-factor"]
    )
    assert {"nitrate-fit", "range-updated"} <= {finding.code for finding in trace.findings}


@pytest.mark.works(of=(add_nitrate,))
def test_what_a_pattern_needs_and_does_not_have_stays_unknown():
    for pattern in ("by month", "fitted to samples", "by region"):
        trace = compute_water(recorded({"nitrate.pattern": pattern})).trace
        assert is_unknown(trace.value("nitrate.flow_weighted_mg_per_l"))
        assert is_unknown(trace.value("drain_flow.annual_load_kg"))


@pytest.mark.law(of=(add_nitrate, middle_of, with_regional_nitrate, add_updates))
def test_a_region_stands_in_with_its_whole_range():
    trace = traced(
        nitrate__pattern="by region",
        nitrate__rotation="corn and soybean, Iowa, Minnesota, Illinois",
    )
    assert trace.value("nitrate.flow_weighted_mg_per_l") == 13
    low, high = np.quantile(trace.value("days.drawn")["nitrate-factor"], [0.1, 0.9])
    assert (13 * low, 13 * high) == pytest.approx((8, 20), rel=0.02)
    group = "long_run_reduction"
    assert spread(trace, group) > spread(plain_design().trace, group)
    assert "nitrate-by-region" in {finding.code for finding in trace.findings}
    regional = regional_range("grass or alfalfa for years")
    assert middle_of(regional) == 2
    factor = with_regional_nitrate({}, regional)["nitrate-factor"]
    assert (factor.low, factor.mid, factor.high) == (0.25, 1.0, 2.5)


@pytest.mark.law(of=(add_updates, measured_of, range_of, with_ranges, low_end, middle, high_end))
def test_a_measurement_narrows_draws_and_shows_what_was_thought_before():
    plain = plain_design().trace
    trace = traced(measured__removal_rate_g_per_m3_day=6.0, measured__removal_rate_error=0.15)
    before, after = (
        [float(trace.value(f"updated.removal-rate.{state}.{p}")) for p in ("low", "mid", "high")]
        for state in ("prior", "posterior")
    )
    assert before == [2.5, 6.0, 13.0]
    assert before[0] < after[0] < after[1] < after[2] < before[2]
    assert trace.value("updated.removal-rate.measured").value == 6.0
    for group in ("long_run_removed_kg", "long_run_reduction"):
        assert spread(trace, group) < spread(plain, group)
        wide, narrow = (t.value(f"days.all.{group}") for t in (plain, trace))
        assert wide.min() <= narrow.min() <= narrow.max() <= wide.max()
    others = set(trace.value("days.drawn")) - {"removal-rate"}
    for name in others:
        assert np.array_equal(trace.value("days.drawn")[name], plain.value("days.drawn")[name])
    (told,) = [f for f in trace.findings if f.code == "range-updated"]
    assert told.message.startswith("Thought before 2.5 to 13, measured 6 with an error of 0.15")
    assert trace.value("capacity.criterion.flow_m3_s") == plain.value(
        "capacity.criterion.flow_m3_s"
    )


@pytest.mark.works(of=(add_updates,))
def test_every_kind_of_measurement_has_its_place():
    trace = traced(
        measured__conductivity_m_s=0.08,
        measured__conductivity_error=0.2,
        measured__porosity=0.58,
        measured__porosity_error=0.03,
        measured__nitrate_mg_per_l=12.0,
    )
    assert trace.value("updated.conductivity-new.posterior").mid < 0.095
    assert 0.58 < trace.value("updated.porosity-effective.posterior").mid < 0.61
    assert "updated.nitrate-factor.posterior" not in trace
    (told,) = [f for f in trace.findings if f.code == "measured-without-error"]
    assert "nitrate_error" in told.message
    stated = traced(measured__nitrate_mg_per_l=12.0, measured__nitrate_error=0.1)
    factor = stated.value("updated.nitrate-factor.measured")
    assert factor.value == pytest.approx(12.0 / 14.2)


@pytest.mark.law(of=(keep_agreeing, draws_key, as_drawn, are_weighed, tell_unused_share))
def test_a_season_of_flow_keeps_the_draws_that_agree():
    plain = plain_design().trace
    shares = plain.value("days.all.long_run_share")
    high = float(np.quantile(shares, 0.8))
    trace = traced(measured__treated_share=high, measured__treated_share_error=0.04)
    kept = trace.value("days.all.long_run_share")
    assert kept.size == shares.size
    assert set(kept) <= set(shares)
    assert np.median(kept) == pytest.approx(high, abs=0.04)
    assert np.std(kept) < np.std(shares)
    assert len(trace.value("days.draws")) == len(plain.value("days.draws"))
    assert trace.value("updated.treated_share.draws_that_count") < shares.size
    assert "draws-weighed" in {finding.code for finding in trace.findings}
    assert are_weighed(trace)
    assert not are_weighed(plain)
    assert trace.value(as_drawn(trace, "days.sums")).shape == plain.value("days.sums").shape
    before = trace.value("decides.long_run_share.shares")
    assert before == plain.value("decides.long_run_share.shares")
    tell_unused_share(trace, "buffer")
    assert trace.findings[-1].code == "treated-share-not-used"


@pytest.mark.by_hand(of=(kept_draws, those_kept))
def test_draws_are_kept_as_often_as_they_weigh():
    """Weights 1/8, 5/8 and 2/8 of four places at 1/8, 3/8, 5/8, 7/8: 0, 1, 1, 2."""
    kept = kept_draws(np.array([0.13, 0.62, 0.25, 0.0]))
    assert kept.tolist() == [0, 1, 1, 2]
    assert those_kept(("a", "b", "c"), kept) == ("a", "b", "b", "c")
    assert those_kept(np.array([5.0, 6.0, 7.0]), kept).tolist() == [5.0, 6.0, 6.0, 7.0]
    many = kept_draws(weights_of_draws(np.linspace(0, 1, 500), 0.5, 0.1))
    assert many.size == 500


@pytest.mark.by_hand(of=(measured_of, measured_by_samples, with_ranges, range_of))
def test_small_records():
    assert measured_of(12.0, 0.1, 8.0).value == 1.5
    assert measured_by_samples(0.3, 0.4).error == pytest.approx(0.5)
    ranges = default_ranges()
    other = ranges["q10"].about_value(2.5)
    changed = with_ranges(ranges, q10=other)
    assert range_of(changed, "q10") == other
    assert range_of(changed, "flush") == ranges["flush"]
    assert [end(other) for end in (low_end, middle, high_end)] == [other.low, 2.5, other.high]
