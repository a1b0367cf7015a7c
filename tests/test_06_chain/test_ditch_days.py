# SPDX-License-Identifier: Apache-2.0
"""The days on which drain flow meets the ditch: simulated without a record; days that run back."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.jobs import FOOT, corbel_inputs, with_givens
from tests.test_06_chain.test_ditch import DAYS, SEASONS, job, record, series
from tests.test_06_chain.test_water import weather
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.ditch_back import add_days_back
from tilewater.chain.ditch_days import add_ditch_days
from tilewater.chain.ditch_share import add_shares
from tilewater.chain.inputs import JobInputs
from tilewater.chain.result_ditch import ditch_record
from tilewater.chain.water_side import compute_water
from tilewater.hydrology.ditch_back import (
    days_above_per_year,
    days_back_per_year,
    days_with_level,
    share_of_days_back,
)
from tilewater.hydrology.ditch_shares import elevation_on_days
from tilewater.hydrology.ditch_stage import day_of_year

SPRING = ("03-20", "06-14")
HIGH_SUMMER = {
    "season.summer.ditch_stage_m": 1182.0 * FOOT,
    "season.summer.ditch_high_m": 1184.4 * FOOT,
}
"""Above the outlet crest of 1181.53 ft on ordinary days, above the bypass crest at times."""


def watered(inputs: JobInputs) -> Trace:
    return compute_water(inputs).trace


@cache
def simulated() -> Trace:
    return watered(with_givens(corbel_inputs(HIGH_SUMMER), *weather()))


def in_summer(trace: Trace) -> np.ndarray:
    """Days from 15 June to 14 September, counted here by month and day."""
    day = trace.value("ditch.share_day")
    month = day.astype("datetime64[M]").astype(int) % 12 + 1
    number = (day - day.astype("datetime64[M]")).astype(int) + 1
    return (
        ((month == 6) & (number >= 15))
        | (month == 7)
        | (month == 8)
        | ((month == 9) & (number <= 14))
    )


@pytest.mark.by_hand(of=(add_shares, add_ditch_days))
def test_without_a_record_the_simulated_days_are_counted() -> None:
    trace = simulated()
    assert trace.value("ditch.share_basis") == "simulated"
    flow, summer = trace.value("water.depth_m_s"), in_summer(trace)
    assert 0 < flow[summer].sum() < flow.sum()
    assert trace.value("ditch.share_above.outlet_crest-summer") == 1.0
    assert trace.value("ditch.share_above.inlet_crest-summer") == 0.0
    assert trace.value("ditch.share_above_high.inlet_crest-summer") == 1.0
    of_year = flow[summer].sum() / flow.sum()
    assert trace.value("ditch.share_above.outlet_crest-year") == pytest.approx(of_year)
    assert trace.value("ditch.share_above.outlet_crest-spring") == 0.0
    assert ditch_record(trace)["share_basis"] == "simulated"


@pytest.mark.by_hand(of=(add_days_back,))
def test_the_ditch_runs_back_on_days_without_drain_flow() -> None:
    trace = simulated()
    still = in_summer(trace) & (trace.value("water.depth_m_s") == 0.0)
    share = still.sum() / in_summer(trace).sum()
    assert 0.3 < share < 1.0
    assert trace.value("ditch.share_of_days_back.outlet_crest-summer") == pytest.approx(share)
    days = 92.0  # 16 of June, July, August, 14 of September
    assert trace.value("ditch.days_above.outlet_crest-summer") == days
    assert trace.value("ditch.days_back.outlet_crest-summer") == pytest.approx(share * days)
    assert trace.value("ditch.days_back.inlet_crest-summer") == 0.0
    high = trace.value("ditch.days_back_high.inlet_crest-summer")
    assert high == pytest.approx(share * days)
    year = trace.value("ditch.days_back.outlet_crest-year")
    assert year == pytest.approx(365.25 * still.sum() / still.size)
    found = ditch_record(trace)
    assert found["days_back"]["outlet_crest-year"] == year
    assert set(found["share_of_days_back_high"]) == {
        f"{crest}-{name}"
        for crest in ("outlet_crest", "inlet_crest")
        for name in (*SEASONS, "year")
    }


@pytest.mark.works(of=(add_ditch_days,))
def test_a_measured_record_stands_before_the_simulated_days() -> None:
    trace = watered(with_givens(corbel_inputs(), *weather(), *record(0.3)))
    assert trace.value("ditch.share_basis") == "measured"
    assert trace.value("ditch.record_stage_m").size == DAYS.size
    undated = watered(with_givens(corbel_inputs(), *weather(), record(0.3)[0]))
    assert undated.value("ditch.share_basis") == "simulated"


@pytest.mark.works(of=(add_ditch_days,))
def test_readings_of_the_simulated_days_are_matched_and_others_bound_the_share() -> None:
    meet = np.arange("2004-01-01", "2006-01-01", dtype="datetime64[D]")
    stage = np.where(np.arange(meet.size) % 3, 1180.0, 1183.0)  # over the outlet every third day
    trace = watered(job("series", *series(stage, meet), *weather()))
    assert "ditch.share_above_high.outlet_crest-year" not in trace
    assert 0.1 < trace.value("ditch.share_above.outlet_crest-year") < 0.5
    (told,) = [f.message for f in trace.findings if f.code == "ditch-days-apart"]
    assert told.startswith("1461 of 2192 simulated days have no level of the ditch.")
    apart = watered(job("series", *series(stage, meet + 7305), *weather()))
    assert apart.value("ditch.share_above.outlet_crest-year") == 0.0  # the median is low
    assert apart.value("ditch.share_above_high.outlet_crest-year") == 1.0


@pytest.mark.works(of=(add_days_back,))
def test_a_season_without_a_reading_has_no_days_that_run_back() -> None:
    half = DAYS[:170]  # to 19 June
    trace = watered(job("series", *series(np.full(half.size, 1183.0), half), *record(0.0)))
    back = trace.value("ditch.days_back.outlet_crest-autumn")
    assert back.why == "no day of autumn has a level of the ditch"
    # the drains stand still all winter, so that no share of their flow can be told, but the days
    assert is_unknown(trace.value("ditch.share_above.outlet_crest-winter"))
    assert trace.value("ditch.share_of_days_back.outlet_crest-winter") == 1.0
    assert not [f for f in trace.findings if f.code == "cannot-compute" and "ditch" in f.subject]


@pytest.mark.by_hand(
    of=(
        days_with_level,
        days_above_per_year,
        days_back_per_year,
        share_of_days_back,
        elevation_on_days,
    )
)
def test_days_above_and_days_back_by_counting() -> None:
    day = np.array(["2023-03-19", "2023-03-20", "2023-03-21", "2023-03-22", "2023-03-23"], "M8[D]")
    number = day_of_year(day)
    stage = np.array([9.0, 9.0, 9.0, np.nan, 5.0])
    flow = np.array([0.0, 1e-8, 0.0, 0.0, 0.0])
    assert days_with_level(number, stage, *SPRING) == 3
    assert days_with_level(number, 6.0, *SPRING) == 4
    # 87 days from 20 March to 14 June; above on two of three with a level, still on one of those
    assert days_above_per_year(number, stage, 6.0, *SPRING) == pytest.approx(87 * 2 / 3)
    assert days_back_per_year(flow, number, stage, 6.0, *SPRING) == pytest.approx(87 / 3)
    assert share_of_days_back(flow, number, stage, 6.0, *SPRING) == pytest.approx(1 / 3)
    crest = np.full(366, 99.0)
    crest[number[0] - 1] = 6.0  # the boards of the winter were low
    assert days_above_per_year(number, stage, crest, "01-01", "12-31") == 365.25 / 4
    assert list(elevation_on_days(crest, number)) == [6.0, 99.0, 99.0, 99.0, 99.0]


@pytest.mark.law(of=(days_above_per_year, days_back_per_year, share_of_days_back))
@settings(max_examples=40)
@given(st.integers(0, 9999), st.floats(0.0, 3.0), st.floats(0.0, 1.0))
def test_what_runs_back_stands_above_and_falls_with_the_crest(seed, crest, up) -> None:
    random = np.random.default_rng(seed)
    number = day_of_year(DAYS)
    stage, flow = random.uniform(0, 3, DAYS.size), random.integers(0, 2, DAYS.size) * 1e-8
    above = days_above_per_year(number, stage, crest, *SPRING)
    back = days_back_per_year(flow, number, stage, crest, *SPRING)
    assert 0 <= days_back_per_year(flow, number, stage, crest + up, *SPRING) <= back <= above <= 87
    share = share_of_days_back(flow, number, stage, crest, *SPRING)
    assert back == pytest.approx(87 * share)
    assert days_back_per_year(0 * flow, number, stage, crest, *SPRING) == pytest.approx(above)
