# SPDX-License-Identifier: Apache-2.0
"""Steps of a measured record: other years, intervals, what is told, a range that narrows."""

import datetime

import numpy as np
import pytest

from tilewater.basis.trace import Trace
from tilewater.chain.monitor import analyse, is_measured, measured_of
from tilewater.chain.monitor_intervals import add_intervals, interval_table
from tilewater.chain.monitor_job import add_against_design
from tilewater.chain.monitor_parts import (
    closed_by_main,
    limited_days_of,
    limited_removed,
    load_kept,
    mean_retention,
    percentile,
    spread_alone,
)
from tilewater.chain.monitor_steps import give
from tilewater.chain.monitor_update import measured_rate
from tilewater.chain.monitor_water_parts import (
    cut_of,
    cut_of_range,
    flow_days_of,
    left_out_share_of,
    left_out_share_of_range,
    total_volume_of,
    volume_bypassed,
    volume_treated,
    water_of,
)
from tilewater.chain.monitor_year import (
    days_like_these,
    flow_days_measured,
    flow_of_years,
    is_usual,
    rain_measured,
    rain_of_years,
)
from tilewater.monitoring.concentration import nitrate_of
from tilewater.monitoring.load_draws import inlet_draws, shares_of
from tilewater.monitoring.load_uncertainty import Drawn, Shares, usual_errors
from tilewater.monitoring.sampling_error import share_beyond_sampled
from tilewater.monitoring.series import DAY, Series, grab_samples
from tilewater.monitoring.stage_flow import FlowRecord, flow_as_measured

HOUR = 3600.0


def record(days=40, treated=0.002, bypass=0.001, total=None):
    """Steady flows by the hour."""
    time = HOUR * np.arange(24 * days)
    ways = {"treated": treated, "bypass": bypass} | ({} if total is None else {"total": total})
    flows = {n: flow_as_measured(Series(n, time, np.full(time.size, q))) for n, q in ways.items()}
    return water_of(0.0, float(time[-1]), **flows)


def nitrate(place, values, every=5.0):
    time = DAY * (1.0 + every * np.arange(len(values)))
    return nitrate_of(grab_samples(place, time, np.array(values, float)), 0.5)


@pytest.mark.by_hand(of=(volume_treated, volume_bypassed, total_volume_of, flow_days_of))
def test_steady_water_by_hand():
    water = record(total=0.0031)
    seconds = 40 * DAY
    assert volume_treated(water) == pytest.approx(0.002 * seconds)
    assert volume_bypassed(water) == pytest.approx(0.001 * seconds)
    assert total_volume_of(water) == pytest.approx(0.0031 * seconds)
    assert flow_days_of(water) == pytest.approx(40.0)
    assert closed_by_main(31.0, 20.0, 10.0) == pytest.approx(30.0 / 31.0 - 1.0)
    assert load_kept(20.0, 10.0) == 20.0 + 10.0


@pytest.mark.by_hand(of=(cut_of, cut_of_range))
def test_what_is_cut_off_is_told_from_two_percent_on():
    time = HOUR * np.arange(100)
    came = np.full(100, 1.0)
    past = np.where(np.arange(100) < 10, 1.5, 0.5)
    flows = {
        name: flow_as_measured(Series(name, time, each))
        for name, each in (("total", came), ("bypass", past))
    }
    water = water_of(0.0, float(time[-1]), **flows)
    assert cut_of(water) == pytest.approx(10 * 0.5 * HOUR)
    (found,) = cut_of_range(water)
    assert found.value == pytest.approx(5.0 / (15.0 + 45.0 + 45.0))


@pytest.mark.by_hand(of=(limited_days_of, limited_removed))
def test_days_on_which_nitrate_ran_out_are_left_out_of_the_rate():
    water = record(days=21)
    came = nitrate("inlet", [10.0] * 5)
    left = nitrate("outlet", [0.1, 0.1, 6.0, 6.0, 6.0])
    days = limited_days_of(water, left)
    # From the first to the second sample and 0.4 / 5.9 of the way to the third.
    assert days == pytest.approx(6.0 + 5.0 * 0.4 / 5.9, abs=0.1)
    rate = limited_removed(water, came, left, 200.0)
    assert rate < 1000 * 0.002 * DAY * (10.0 - 0.5) / 200.0 / 1e3
    assert rate > 1000 * 0.002 * DAY * (10.0 - 6.0) / 200.0 / 1e3


@pytest.mark.by_hand(of=(interval_table,))
def test_many_samples_are_cut_by_months():
    water = record(days=95)
    few = nitrate("outlet", [4.0] * 5, every=20.0)
    many = nitrate("outlet", [4.0] * 18)
    came = nitrate("inlet", [10.0] * 18)
    assert len(interval_table(water, came, few, came)) == 5
    months = interval_table(water, came, many, came)
    begins = [datetime.datetime.fromtimestamp(row.start_s, datetime.UTC).day for row in months]
    assert begins == [1, 1, 1, 1]
    assert sum(row.removed_kg for row in months) == pytest.approx(
        0.002 * 95 * DAY * 6.0 / 1e3, rel=1e-6
    )


@pytest.mark.by_hand(of=(days_like_these, flow_of_years, rain_of_years))
def test_same_days_of_other_years():
    first = datetime.date(2001, 1, 1).toordinal()
    day = np.arange(first, datetime.date(2005, 1, 1).toordinal())
    start = (datetime.date(2028, 3, 1) - datetime.date(1970, 1, 1)).days * DAY
    rows = days_like_these(day, start, start + 31 * DAY)
    assert rows.shape == (4, 31)
    assert datetime.date.fromordinal(int(day[rows[2, 0]])) == datetime.date(2003, 3, 1)
    flow = np.where(np.arange(day.size) % 2 == 0, 0.01, 0.0)
    assert set(flow_of_years(flow, rows)) <= {15.0, 16.0}
    assert rain_of_years(np.full(day.size, 0.002), rows) == pytest.approx([0.062] * 4)


@pytest.mark.by_hand(of=(flow_days_measured, rain_measured))
def test_days_and_rain_of_the_measured_time():
    assert flow_days_measured(record(days=12), DAY * np.arange(13.0)) == 12.0
    behind = 6 * HOUR + DAY * np.arange(-1.0, 12.0)  # midnights six hours after those of UTC
    assert flow_days_measured(record(days=12), behind) == 13.0
    rain = Series("rain", DAY * np.arange(5.0), np.array([0.01, 0.0, np.nan, 0.02, 0.04]))
    assert rain_measured(rain, 0.0, 3 * DAY) == pytest.approx(0.01 + 0.02)


@pytest.mark.by_hand(of=(is_usual,))
def test_inside_below_and_above():
    assert [is_usual(x, 10.0, 20.0) for x in (9.0, 10.0, 20.0, 21.0)] == [
        "below",
        "inside",
        "inside",
        "above",
    ]


@pytest.mark.by_hand(of=(percentile, spread_alone))
def test_tails_and_spread_of_draws():
    values = np.linspace(0.0, 100.0, 1001)
    drawn = Drawn(values, values, values, values, values)
    assert percentile(drawn, "removed_kg", 0.1) == pytest.approx(10.0)
    assert spread_alone(drawn) == pytest.approx(0.5 * (84.1345 - 15.8655))


@pytest.mark.by_hand(of=(shares_of,))
def test_zero_of_a_logger_moves_a_low_head_more():
    time = HOUR * np.arange(48)
    for head in (0.05, 0.20):
        flow = np.full(48, 0.65 * head**1.5)
        slope = np.full(48, 0.65 * 1.5 * head**0.5)
        none = np.zeros(48, bool)
        logged = FlowRecord(Series("outlet", time, flow), slope, none, none)
        water = water_of(0.0, float(time[-1]), treated=logged)
        shares = shares_of(water, water.treated, 0.1, 0.003)
        assert shares == Shares(0.1, pytest.approx(1.5 * 0.003 / head), 0.0)


@pytest.mark.by_hand(of=(share_beyond_sampled,))
def test_water_at_flows_that_no_sample_came_near():
    sampled = np.array([1.0, 2.0])
    flow = np.array([0.4, 0.6, 1.0, 4.0, 4.1])
    share = share_beyond_sampled(sampled, flow, flow)
    assert share == pytest.approx((0.4 + 4.1) / flow.sum())


@pytest.mark.by_hand(of=(left_out_share_of, left_out_share_of_range))
def test_time_that_is_in_no_load_is_told():
    water = record(days=40)
    assert left_out_share_of(water, 0.0, 50 * DAY) == pytest.approx(10.0 / 50.0)
    (found,) = left_out_share_of_range(water, 0.0, 50 * DAY)
    assert found.message.startswith("20% of the period has no flow that could be used")
    assert left_out_share_of_range(water, 0.0, 40 * DAY) == ()


@pytest.mark.by_hand(of=(mean_retention,))
def test_water_stays_for_its_pores_over_the_flow():
    assert mean_retention(record(), 200.0, 0.6) == pytest.approx(200.0 * 0.6 / 0.002)


@pytest.mark.law(of=(inlet_draws,))
def test_a_bypass_that_was_sampled_has_its_own_nitrate():
    water = record()
    came, past = nitrate("inlet", [12.0] * 8), nitrate("bypass", [6.0] * 8)
    draws = inlet_draws(water, came, past, usual_errors())
    volume = 40 * DAY / 1e3
    assert np.median(draws, axis=0) == pytest.approx(
        [0.002 * 12.0 * volume, 0.001 * 6.0 * volume], rel=0.01
    )


@pytest.mark.by_hand(of=(measured_rate,))
def test_rate_is_brought_to_the_temperature_of_the_range():
    water = record()
    warm = Series("warmth", DAY * np.arange(50.0), np.full(50, 5.0))
    draws = np.linspace(8.0, 12.0, 101)
    drawn = Drawn(draws, draws, draws, draws, draws)
    measured = measured_rate(4.0, water, warm, 2.15, 15.0, drawn)
    assert measured.value == pytest.approx(4.0 * 2.15)
    assert measured.error == pytest.approx((11.6 - 8.4) / (2.563 * 10.0))


@pytest.mark.works(of=(analyse, is_measured, measured_of, add_intervals, add_against_design))
def test_steps_stand_on_one_trace():
    time = HOUR * np.arange(24 * 60)
    flow = 0.002 + 0.001 * np.sin(time / DAY / 4.0)
    at = DAY * np.arange(2.0, 58.0, 7.0)
    samples = {
        "inlet": grab_samples("inlet", at, np.full(at.size, 12.0)),
        "outlet": grab_samples("outlet", at, np.full(at.size, 7.0)),
    }
    flows = {"treated": Series("t", time, flow), "total": Series("m", time, 1.5 * flow)}
    measured = analyse(flows, samples, start_s=0.0, end_s=float(time[-1]))
    trace = measured.trace
    assert is_measured(trace)
    assert not is_measured(Trace())
    assert measured.closure_error == pytest.approx(0.0, abs=1e-9)
    assert measured.bed_percent.p50 == pytest.approx(100.0 * 5.0 / 12.0, rel=0.03)
    assert measured.treated_share.value == pytest.approx(1.0 / 1.5)
    add_intervals(trace)
    assert trace.known("monitor.average_of_percents")
    give(trace, "end_s", 30.0 * DAY, "s", "End of the period")
    add_against_design(trace)
    assert trace.findings[-1].code == "monitor-part-of-a-year"
    assert measured_of(trace).removed_kg == measured.removed_kg
