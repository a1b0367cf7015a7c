# SPDX-License-Identifier: Apache-2.0
"""The daily drain flow of a job: its parts, its pool, its series, its years, what it rests on."""

import datetime
import math
from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from tests.jobs import corbel_inputs, with_givens
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.basis.trace import Given, Origin, Trace, Value
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain import water_balance as balance
from tilewater.chain import water_parts as parts
from tilewater.chain import water_pool as pool
from tilewater.chain import water_series as series
from tilewater.chain import water_year as year
from tilewater.chain.flow import add_year
from tilewater.chain.inputs import JobInputs
from tilewater.chain.result_water import water_record
from tilewater.chain.water import add_water
from tilewater.chain.water_field import add_field_run
from tilewater.chain.water_side import compute_water
from tilewater.hydrology.crops import crop_named
from tilewater.hydrology.ditch_stage import SeasonValue, year_table
from tilewater.hydrology.field import simulate_field
from tilewater.hydrology.field_defaults import field_default_words
from tilewater.hydrology.field_parts import FieldDrains, FieldSoil
from tilewater.job.reading import read_job
from tools.package import ROOT

FIRST = np.datetime64("2001-10-01")
DAYS = 6 * 365 + 2
OPEN = Unknown("nobody knows", "look")


def weather() -> tuple[Given, ...]:
    """Six invented years: cold winters, rain on a fifth of the days."""
    random = np.random.default_rng(4)
    day = FIRST + np.arange(DAYS)
    angle = 2 * np.pi * (np.arange(DAYS) + 180) / 365.25
    mean = 9 - 13 * np.cos(angle) + random.normal(0, 3, DAYS)
    rain = np.where(random.random(DAYS) < 0.3, random.gamma(0.8, 0.010, DAYS), 0.0)
    here = "inputs.weather"
    return (
        Given(f"{here}.day", day, "", "Days", Origin("weather.csv")),
        Given(f"{here}.precipitation_m", rain, "m", "Rain", Origin("weather.csv")),
        Given(f"{here}.temperature_max_c", mean + 5, "degC", "Highest", Origin("weather.csv")),
        Given(f"{here}.temperature_min_c", mean - 5, "degC", "Lowest", Origin("weather.csv")),
        Given(f"{here}.elevation_m", 360.0, "m", "Elevation", Origin("weather.csv")),
    )


def record(days: int = 800) -> tuple[Given, ...]:
    """A measured record that begins in the second of those years."""
    depth = np.where(np.arange(days) % 4 == 0, 4e-8, 0.0)
    day = np.datetime64("2003-01-01") + np.arange(days)
    return (
        Given("inputs.record.daily_depth_m_s", depth, "m/s", "Flow", Origin("flow.csv")),
        Given("inputs.record.day", day, "", "Days", Origin("flow.csv")),
    )


def watered(job: JobInputs) -> Trace:
    return compute_water(job).trace


def with_weather(changes: Mapping[str, Value] | None = None) -> JobInputs:
    return with_givens(corbel_inputs(changes), *weather())


@cache
def farm() -> Trace:
    return watered(with_weather())


def codes(trace: Trace) -> set[str]:
    return {finding.code for finding in trace.findings}


@pytest.mark.works(of=(add_water, series.days_of_weather, series.flow_of_run))
def test_simulated_days_have_no_gap_and_their_flow_is_that_of_the_area():
    trace = farm()
    day = trace.value("water.day")
    area = trace.value("drain_flow.area_above_m2")

    assert trace.value("water.basis") == "simulated"
    assert day.dtype == np.int64
    assert day[0] == datetime.date(2001, 10, 1).toordinal()
    assert np.all(np.diff(day) == 1)
    assert len(day) == DAYS
    depth = trace.value("water.depth_m_s")
    assert np.array_equal(trace.value("water.flow_m3_s"), depth * area)


@pytest.mark.works(of=(add_water, add_year))
def test_the_year_follows_the_simulated_days():
    trace = farm()
    assert trace.value("drain_flow.basis") == "simulated"
    for name in ("mean_annual_depth_m", "flow_days_per_year", "mean_annual_volume_m3"):
        assert trace.value(f"drain_flow.{name}") == trace.value(f"water.{name}")


@pytest.mark.works(of=(add_water, add_year, series.days_of_record, series.air_on_days))
def test_a_measured_record_comes_first_and_the_simulated_days_stay_beside_it():
    trace = watered(with_givens(with_weather(), *record()))

    assert trace.value("water.basis") == trace.value("drain_flow.basis") == "measured"
    assert trace.value("water.day")[0] == datetime.date(2003, 1, 1).toordinal()
    assert len(trace.value("water.flow_m3_s")) == 800
    assert len(trace.value("water.simulated.flow_m3_s")) == DAYS
    mean = trace.value("drain_flow.record_depth_m")
    assert trace.value("drain_flow.mean_annual_depth_m") == mean
    assert np.all(np.isfinite(trace.value("water.air_temperature_c")))


@pytest.mark.works(of=(add_water, water_record))
def test_without_weather_and_record_only_the_basis_is_there_and_not_known():
    trace = watered(corbel_inputs())
    assert trace.value("water.basis").why == (
        "neither weather nor a record of daily drain flow is given"
    )
    assert water_record(trace) == {"basis": None}
    assert trace.value("drain_flow.basis") == "stated"


@pytest.mark.works(of=(add_water,))
def test_a_record_without_weather_has_no_air():
    trace = watered(with_givens(corbel_inputs(), *record()))
    assert is_unknown(trace.value("water.air_temperature_c"))
    assert "water.run" not in trace


@pytest.mark.works(of=(add_field_run, add_year))
def test_what_is_not_known_of_the_soil_leaves_the_days_not_known_and_the_year_as_stated():
    trace = watered(with_weather({"drainage.conductivity_m_s": OPEN}))
    value = trace.value("water.flow_m3_s")
    assert is_unknown(value)
    assert "inputs.drainage.conductivity_m_s" in value.causes
    assert is_unknown(trace.value("water.basis"))
    assert trace.value("drain_flow.basis") == "stated"


@pytest.mark.works(of=(add_field_run,))
def test_a_value_of_the_job_stands_in_the_place_of_the_default():
    stated = Given("inputs.field.drainable_porosity", 0.08, "-", "f", Origin("job.toml", 3))
    trace = watered(with_givens(with_weather(), stated))
    assert trace.value("water.soil").drainable_porosity == 0.08
    assert farm().value("water.soil").drainable_porosity == 0.05
    step = farm().steps["water.default.drainable_porosity"]
    assert str(step.origin) == "default of the program (practice)"
    assert step.origin.note.startswith("from memory: clay loam")
    assert "water.default.drainable_porosity" not in trace


@pytest.mark.works(of=(field_default_words,))
def test_a_default_says_its_value_its_unit_and_what_it_rests_on():
    words = field_default_words("deep-seepage")
    assert (words.title, words.typed, words.unit) == ("Deep seepage", "25 mm/yr", "m/s")
    assert words.label == "from memory: flat till; usual 0 to 75 mm/yr"
    assert field_default_words("drainable-porosity").typed == "0.05"


@pytest.mark.by_hand(of=(add_field_run,))
def test_the_main_limits_the_days_as_a_depth_over_the_area_above():
    trace = farm()
    limit = trace.value("drain_flow.candidates_m3_s.main_full") / trace.value(
        "drain_flow.area_above_m2"
    )
    assert trace.value("water.drains").main_capacity == pytest.approx(limit)
    flow = trace.value("water.flow_m3_s")
    assert flow.max() <= trace.value("drain_flow.candidates_m3_s.main_full") * (1 + 1e-12)


@pytest.mark.works(of=(add_field_run,))
def test_surface_inlets_bring_what_the_main_carries_unless_kept_out_or_stated():
    brings = {"drainage.surface_inlets": "some"}
    trace = watered(with_weather(brings))
    drains = trace.value("water.drains")
    assert drains.inlet_capacity == drains.main_capacity
    water = Given("inputs.drainage.surface_inlet_water", "kept out", "", "Water", Origin("job"))
    assert watered(with_givens(with_weather(brings), water)).value("water.drains") == (
        replace(drains, inlet_capacity=0.0)
    )
    own = Given("inputs.field.inlet_flow_m3_s", 0.001, "m3/s", "Inlets", Origin("job"))
    area = trace.value("drain_flow.area_above_m2")
    stated = watered(with_givens(with_weather(brings), own)).value("water.drains")
    assert stated.inlet_capacity == pytest.approx(0.001 / area)


@pytest.mark.works(of=(add_field_run,))
def test_a_pump_holds_no_water_in_the_field():
    pump = Given("inputs.pump.capacity_m3_s", 0.02, "m3/s", "Pump", Origin("job"))
    trace = watered(with_givens(with_weather(), pump))
    assert trace.value("water.outlet_height_m") == 0.0
    assert trace.value("water.main_limit_m3_s") == 0.02


@pytest.mark.works(of=(add_field_run,))
def test_without_a_spot_the_laterals_lie_as_low_as_the_main_and_it_is_said():
    job = with_weather()
    bare = replace(job, givens=tuple(g for g in job.givens if "inputs.spot." not in g.key))
    trace = watered(bare)
    assert "laterals-not-shot" in codes(trace)
    held = "water.setting.design.outlet_height_m"
    assert trace.value(held) > farm().value(held)


@pytest.mark.works(of=(parts.field_run, parts.daily_weather))
def test_an_edit_that_leaves_the_field_as_it_was_runs_no_day_again():
    again = watered(with_weather({"bed.width_bottom_m": 8.0}))
    assert again.value("water.run") is farm().value("water.run")


@pytest.mark.by_hand(of=(pool.pool_height, pool.pool_share, pool.lateral_at_spot))
def test_water_held_over_laterals_that_rise_evenly():
    """Laterals from 10 to 11 m along 100 m; at a crest of 10.5 half of them hold 0.25 m."""
    laterals = {"a": pool.lateral_at_spot(0.0, 10.0), "b": pool.lateral_at_spot(100.0, 11.0)}
    line = {"start": 0.0, "end": 100.0, "slope": 0.01}
    assert pool.pool_share(10.5, **line, **laterals) == pytest.approx(0.5)
    assert pool.pool_height(10.5, **line, **laterals) == pytest.approx(0.5 * 0.25, rel=1e-3)
    assert (
        pool.pool_height(9.9, **line, **laterals) == pool.pool_share(9.9, **line, **laterals) == 0
    )


@pytest.mark.by_hand(of=(pool.pool_height,))
def test_laterals_beyond_the_last_that_is_known_follow_the_main():
    """One lateral at 10 m at station 50: on 1 percent, 9.5 at station 0 and 10.5 at 100."""
    height = pool.pool_height(10.5, 0.0, 100.0, 0.01, only=(50.0, 10.0))
    assert height == pytest.approx((1.0 + 0.0) / 2, rel=1e-3)


@pytest.mark.works(of=(pool.pool_height,))
def test_of_two_laterals_at_one_station_the_lower_counts():
    both = pool.pool_height(10.5, 0.0, 100.0, 0.0, a=(0.0, 10.0), b=(0.0, 10.2))
    assert both == pytest.approx(0.5)


@pytest.mark.works(of=(pool.pool_share,))
def test_laterals_need_a_main_above_the_structure_and_a_place():
    with pytest.raises(OutOfDomain, match="Laterals join above the structure"):
        pool.pool_share(10.0, 100.0, 50.0, 0.01, a=(0.0, 10.0))
    with pytest.raises(OutOfDomain, match="Shoot a spot of the field"):
        pool.pool_share(10.0, 0.0, 50.0, 0.01)


@pytest.mark.works(of=(pool.outlet_by_day,))
def test_boards_hold_water_by_the_season_of_the_day():
    wet = farm().value("water.weather")
    table = year_table(spring=SeasonValue("03-20", "06-14", 0.3))
    held = pool.outlet_by_day(wet, table, 0.1)
    spring = [datetime.date(2003, 3, 20), datetime.date(2003, 6, 14)]
    assert [held[wet.number_of(day)] for day in spring] == [0.3, 0.3]
    assert held[wet.number_of(datetime.date(2003, 6, 15))] == 0.1


@pytest.mark.works(of=(parts.rotation_of,))
def test_roots_stop_at_the_layer_that_the_job_knows():
    (corn, soybean) = parts.rotation_of(("corn", "soybean"), 1.0)
    assert corn.root_depth == 1.0
    assert soybean == crop_named("soybean")
    with pytest.raises(UnknownName, match="No crop called 'maize'"):
        parts.rotation_of(("maize",))


@pytest.mark.law(of=(parts.field_run, parts.field_run_range, parts.spot_run))
def test_a_run_of_the_chain_is_the_run_of_the_model():
    run = farm().value("water.run")
    names = ("soil", "drains", "cold", "rotation")
    given = {name: farm().value(f"water.{name}") for name in names}
    outlet = farm().value("water.outlet_height_m")
    model = simulate_field(farm().value("water.weather"), **given, outlet_height=outlet)
    assert np.array_equal(run.drain_flow, model.drain_flow)
    assert parts.field_run_range(farm().value("water.weather"), **given, outlet_height=outlet) == (
        run.findings
    )
    spot = parts.spot_run(farm().value("water.weather"), **given, outlet_height=outlet)
    assert spot is run


@pytest.mark.by_hand(of=(year.year_depths, year.years_of, year.median_year))
def test_depths_of_whole_years():
    """1 mm/day through 2003 and 2 mm/day through 2004, which is a leap year; 2005 is too short."""
    start = datetime.date(2003, 1, 1).toordinal()
    day = start + np.arange(365 + 366 + 100)
    depth = np.where(np.arange(day.size) < 365, 1.0, 2.0) / 1000 / 86400
    assert list(year.years_of(day)) == [2003, 2004]
    assert year.year_depths(day, depth) == pytest.approx([0.365, 0.732])
    assert year.median_year(np.array([2003, 2004, 2005]), np.array([3.0, 1.0, 2.0])) == 2005
    with pytest.raises(OutOfDomain, match="0 whole years"):
        year.median_year(np.array([], dtype=int), np.array([]))


@pytest.mark.by_hand(of=(year.month_depths, year.month_shares))
def test_depths_of_months():
    """Only in April, 2 mm/day: 60 mm in a mean year, all of it."""
    day = datetime.date(2003, 1, 1).toordinal() + np.arange(730)
    april = year.calendar(day).astype("datetime64[M]").astype(int) % 12 == 3
    depths = year.month_depths(day, np.where(april, 0.002 / 86400, 0.0))
    assert depths[3] == pytest.approx(0.060)
    assert list(year.month_shares(depths)) == [0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0]
    with pytest.raises(OutOfDomain, match="Shares need some water"):
        year.month_shares(np.zeros(12))


@pytest.mark.by_hand(of=(year.wettest_months, year.share_of_wettest_months))
def test_the_three_wettest_months_may_pass_the_turn_of_the_year():
    shares = np.array([0.3, 0.1, 0.0, 0.0, 0.1, 0.0, 0.0, 0.0, 0.0, 0.0, 0.1, 0.4])
    assert year.wettest_months(shares) == 11
    assert year.share_of_wettest_months(shares) == pytest.approx(0.1 + 0.4 + 0.3)


@pytest.mark.by_hand(of=(year.days_in_class, year.water_in_class))
def test_days_and_water_of_a_class():
    """Of ten days two flow at a tenth, one at half, one at the peak within rounding."""
    flow = np.array([0, 0, 0, 0, 0, 0, 0.1, 0.1, 0.5, 1.0 + 1e-9])
    assert year.days_in_class(flow, 1.0, 0.05, 0.15) == pytest.approx(365.25 * 2 / 10)
    assert year.water_in_class(flow, 1.0, 0.05, 0.15) == pytest.approx(0.2 / 1.7)
    assert year.days_in_class(flow, 1.0, 0.6, 1.0) == pytest.approx(365.25 / 10)
    assert year.days_in_class(flow, 1.0, 1.0, 1e9) == 0
    assert year.water_in_class(np.zeros(3), 1.0, 0.0, 1.0) == 0
    with pytest.raises(OutOfDomain, match="Give what the main carries"):
        year.days_in_class(flow, 0.0, 0.0, 1.0)


@pytest.mark.by_hand(of=(year.zero_flow_share, year.flow_of_one_day_in_hundred))
def test_dry_days_and_the_day_of_a_hundred():
    flow = np.arange(101.0)
    assert year.zero_flow_share(flow) == 1 / 101
    assert year.flow_of_one_day_in_hundred(flow) == 99


@pytest.mark.law(of=(add_water,))
def test_classes_hold_every_day_and_all_the_water():
    trace = farm()
    names = trace.names("water.classes")
    days = sum(trace.value(f"water.classes.{name}.days") for name in names)
    water = sum(trace.value(f"water.classes.{name}.share_of_water") for name in names)
    assert days == pytest.approx(365.25)
    assert water == pytest.approx(1.0)
    assert trace.value("water.classes.above.days") == 0


@pytest.mark.law(of=(balance.balance_of, balance.balance_year))
def test_what_comes_goes_or_stays():
    parts_of_it = {
        name.removesuffix("_m"): farm().value(f"water.balance.{name}")
        for name in farm().names("water.balance")
    }
    comes = parts_of_it.pop("precipitation") + parts_of_it.pop("snow_added")
    assert abs(parts_of_it.pop("error")) < 1e-12
    assert comes == pytest.approx(sum(parts_of_it.values()), rel=1e-12)
    drained = parts_of_it["drain_flow"] + parts_of_it["inlet_flow"]
    assert farm().value("water.mean_annual_depth_m") == pytest.approx(drained)


@pytest.mark.by_hand(of=(balance.water_held_by_roots, balance.water_that_drains))
def test_what_the_soil_holds():
    """0.2 of 0.95 m of roots; a root of 1.35 m stops at drains of 1 m; 0.05 of 1 m drains."""
    soil, drains = FieldSoil(water_capacity=0.2), FieldDrains(depth=1.0)
    crops = (crop_named("corn"), crop_named("soybean"))
    assert balance.water_held_by_roots(soil, drains, crops) == pytest.approx((0.2, 0.19))
    assert balance.water_that_drains(soil, drains) == pytest.approx(0.05)


@pytest.mark.works(of=(balance.days_limited, balance.evapotranspiration_name))
def test_what_only_the_run_knows():
    run = farm().value("water.run")
    assert balance.days_limited(run) == pytest.approx(365.25 * run.days_of("limited") / DAYS)
    assert balance.evapotranspiration_name(run) == "Hargreaves-Samani"


@pytest.mark.works(of=(series.depth_of_run, series.air_on_days))
def test_air_is_the_mean_of_the_extremes_and_absent_outside_the_weather():
    wet = farm().value("water.weather")
    first = wet.first_day.toordinal()
    air = series.air_on_days(np.array([first - 1, first]), wet)
    assert math.isnan(air[0])
    assert air[1] == 0.5 * (wet.temperature_max[0] + wet.temperature_min[0])
    run = farm().value("water.run")
    assert np.array_equal(series.depth_of_run(run), run.drain_flow)


@pytest.mark.works(of=(water_record,))
def test_the_record_lists_months_years_and_classes():
    found = water_record(farm())
    assert found["basis"] == "simulated"
    assert sum(found["month_share"]) == pytest.approx(1.0)
    assert found["years"] == [2002, 2003, 2004, 2005, 2006]
    assert len(found["year_depth_m"]) == 5
    assert found["median_year"] in found["years"]
    assert set(found["spot"]) == {"low-1", "low-2", "junction-9", "junction-15"}
    assert found["setting"]["autumn"]["pool_share"] == 0


@pytest.mark.works(of=(read_job,))
def test_the_example_states_no_soil_of_its_own():
    job = read_job(ROOT / "examples" / "corbel-farm")
    assert not any(given.key.startswith("inputs.field.") for given in job.givens)
