# SPDX-License-Identifier: Apache-2.0
"""The drain flow of a day of ten years: what it rests on, its methods, the share of the bed."""

from functools import cache

import numpy as np
import pytest

from tests.jobs import corbel_inputs, with_givens
from tests.test_06_chain.test_water import record, with_weather
from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Given, Origin, Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain import water_peaks as peaks
from tilewater.chain.design import design_bed
from tilewater.chain.water_side import compute_water
from tilewater.hydrology.annual_maxima import annual_maxima
from tilewater.hydrology.drain_peak import GEV, LIMIT, LOG_PEARSON3, drain_peak

FLOW, SHARE = "water.ten_year.flow_m3_s", "capacity.criterion.share_of_ten_year_peak"


def measured(years: int) -> tuple[Given, ...]:
    """A record of whole water years whose largest days differ."""
    day = np.datetime64("1990-10-01") + np.arange(int(365.25 * years))
    largest = np.random.default_rng(2).gamma(5.0, 1.0, years + 1) * 1e-8
    depth = np.where(np.arange(day.size) % 365 == 200, 1.0, 0.01)
    depth *= largest[np.arange(day.size) // 366]
    return (
        Given("inputs.record.daily_depth_m_s", depth, "m/s", "Flow", Origin("flow.csv")),
        Given("inputs.record.day", day, "", "Days", Origin("flow.csv")),
    )


@cache
def with_record() -> Trace:
    return compute_water(with_givens(corbel_inputs(), *measured(12))).trace


@pytest.mark.works(of=(peaks.add_ten_year_peak, peaks.largest_days, peaks.years_with_maximum))
def test_the_peak_is_that_of_the_largest_days_of_the_water_years():
    trace = with_record()
    maxima = trace.value("water.ten_year.maxima")
    by_itself = annual_maxima(trace.value("inputs.record.day"), trace.value("water.flow_m3_s"))
    assert np.array_equal(maxima.values, by_itself.values)
    assert trace.value("water.ten_year.years") == maxima.years.size == 12
    assert trace.value("water.ten_year.basis") == "measured"
    assert trace.value(FLOW) == drain_peak(by_itself.values).daily_depth


@pytest.mark.works(of=(peaks.peak_of_ten_years, peaks.peak_flow, peaks.peak_low, peaks.peak_high))
def test_every_method_stands_beside_the_one_to_use_first():
    peak = with_record().value("water.ten_year.peak")
    assert peaks.peak_of_ten_years(with_record().value("water.ten_year.maxima")) == peak
    assert peaks.peak_flow(peak) == peaks.peak_flow(peak, GEV)
    for name, method in (("gev", GEV), ("log_pearson3", LOG_PEARSON3)):
        here = f"water.ten_year.by_method.{name}"
        low, flow, high = (
            with_record().value(f"{here}.{part}_m3_s") for part in ("low", "flow", "high")
        )
        assert low < flow < high
        assert (low, high) == (peaks.peak_low(peak, method), peaks.peak_high(peak, method))
    with pytest.raises(UnknownName, match="The peak was not estimated by 'limit"):
        peaks.peak_flow(peak, LIMIT)


@pytest.mark.works(of=(peaks.add_ten_year_peak,))
def test_a_short_record_gives_way_to_the_simulated_years():
    trace = compute_water(with_givens(with_weather(), *record())).trace
    assert trace.value("water.basis") == "measured"
    assert trace.value("water.ten_year.basis") == "simulated"


@pytest.mark.works(of=(peaks.add_ten_year_peak,))
def test_few_years_without_weather_leave_the_peak_not_known_and_nothing_fails():
    trace = compute_water(with_givens(corbel_inputs(), *record())).trace
    why = trace.value("water.ten_year.peak").why
    assert why == "of 4 whole water years with flow the series has 1"
    assert is_unknown(trace.value(FLOW))
    assert not any(finding.severity == "fails" for finding in trace.findings)


@pytest.mark.works(of=(peaks.add_ten_year_peak,))
def test_where_the_main_holds_the_simulated_days_down_it_is_said():
    trace = compute_water(with_weather()).trace
    told = {finding.code: finding for finding in trace.findings}
    assert "drain-peak-limited" not in told
    assert told["drain-peak-limited-by-main"].severity == "note"
    full = trace.value("drain_flow.candidates_m3_s.main_full")
    assert trace.value(FLOW) == pytest.approx(full)
    assert trace.value("water.ten_year.share_of_main") == pytest.approx(1.0)


@pytest.mark.by_hand(of=(peaks.add_share_of_ten_year_peak,))
def test_the_share_of_the_bed_is_its_flow_over_that_of_the_day():
    trace = design_bed(with_weather(), by_days=False).trace
    share = trace.value("capacity.criterion.flow_m3_s") / trace.value(FLOW)
    assert trace.value(SHARE) == pytest.approx(share)
    assert trace.value(f"criteria.{_row(trace)}.status") in ("holds", "short")


def _row(trace: Trace) -> str:
    (row,) = (r for r in trace.requirements if r.value == SHARE)
    return row.key.removeprefix("criteria.")


@pytest.mark.works(of=(peaks.add_share_of_ten_year_peak,))
def test_without_a_series_the_share_is_not_known():
    trace = design_bed(corbel_inputs()).trace
    assert trace.value(SHARE).measure == "give the weather of the place, or a long record of flow"
