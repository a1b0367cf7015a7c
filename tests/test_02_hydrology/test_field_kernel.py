# SPDX-License-Identifier: Apache-2.0
"""The days of a field: one source for kernel and twin, water that balances, every branch run."""

import datetime
import math

import numpy as np
import pytest

from tests.oracles.humid_weather import humid_weather
from tilewater.hydrology._field import Daily, State, run_field
from tilewater.hydrology._field_ground import (
    FROZEN,
    INFILTRATION_LIMITED,
    INLETS_RAN,
    RUNOFF,
    SATURATED,
    UPWARD_LIMITED,
    keep_cold,
    take_water,
    wet_ground,
)
from tilewater.hydrology.crops import crop_named
from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.field import FLAGS, FieldRun, simulate_field
from tilewater.hydrology.field_inputs import empty_daily
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil, SideSeepage
from tilewater.hydrology.field_replay import replay_day, state_before

DAY = 86400.0
MM_PER_DAY = 0.001 / DAY
ROUNDING = 1e-15
"""A few units in the last place of the water that a field holds. [m]"""

WEATHER = humid_weather(4)
RAISED = np.where((WEATHER.day_of_year > 135) & (WEATHER.day_of_year < 270), 0.0, 0.7)
"""Boards in through the winter and out in the crop season, as many fields do. [m]"""

CASES = {
    "defaults": {},
    "tight soil": {
        "soil": FieldSoil(
            conductivity_above=0.1 / DAY,
            conductivity_below=0.05 / DAY,
            infiltration=20 * MM_PER_DAY,
        ),
        "drains": FieldDrains(inlet_capacity=4 * MM_PER_DAY, main_capacity=6 * MM_PER_DAY),
    },
    "loose soil, small laterals": {
        "soil": FieldSoil(conductivity_above=2 / DAY, conductivity_below=2 / DAY),
        "drains": FieldDrains(
            spacing=10, laterals_capacity=8 * MM_PER_DAY, main_capacity=30 * MM_PER_DAY
        ),
    },
    "raised outlet": {"outlet_height": RAISED, "pool_share": 0.8},
    "ditch beside": {"side": SideSeepage(ditch_height=1.0, distance=30.0, field_width=200.0)},
    "hard winter, small grain": {
        "cold": FieldCold(snow_undercatch=1.4, frozen_share=0.0, frost_cover_per_cm=0.1),
        "rotation": (crop_named("small-grain"), crop_named("grass")),
    },
}


@pytest.fixture(scope="module", params=CASES)
def run(request: pytest.FixtureRequest) -> FieldRun:
    return simulate_field(WEATHER, **CASES[request.param])


def series_of(run: FieldRun) -> dict[str, np.ndarray]:
    names = (
        "drain_depth",
        "inlet_depth",
        "runoff",
        "evapotranspiration",
        "deep_seepage",
        "side_seepage",
        "snow",
        "pond",
        "soil_water",
        "table_depth",
        "flags",
    )
    return {name: getattr(run, name) for name in names}


@pytest.mark.law(of=(run_field, simulate_field))
def test_twin_and_compiled_give_the_same_bits(run):
    given = run.inputs
    daily = empty_daily(WEATHER.days)
    run_field(given.weather, 0, WEATHER.days, run.start, given.soil, given.drains, daily)
    for compiled, plain in zip(series_of(run).values(), daily, strict=True):
        assert np.array_equal(compiled, plain)


@pytest.mark.law(of=(run_field, simulate_field))
def test_water_balances_every_day_and_in_all(run):
    given = run.inputs.weather
    gone = sum(series_of(run)[name] for name in list(series_of(run))[:6])
    held = run.snow + run.pond + run.soil_water
    first = run.start.snow + run.start.pond + run.start.ground - run.start.depletion
    first += run.start.transit
    kept = np.diff(held, prepend=first)
    error = given.rain + given.snowfall - gone - kept
    assert np.abs(error).max() <= ROUNDING
    assert abs(run.balance.error) <= ROUNDING * math.sqrt(WEATHER.days)
    assert run.balance.drain_flow == pytest.approx(run.drain_depth.sum())
    assert run.balance.precipitation == pytest.approx(WEATHER.precipitation.sum())


@pytest.mark.law(of=(run_field,))
def test_nothing_is_negative_and_no_capacity_is_passed(run):
    drains, soil = run.inputs.drains, run.inputs.soil
    for name, series in series_of(run).items():
        if name != "soil_water":
            assert series.min() >= 0.0, name
    grace = 1.0 + 1e-12
    assert run.drain_depth.max() <= drains.laterals * grace
    assert (run.drain_depth + run.inlet_depth).max() <= drains.main * grace
    assert run.pond.max() <= soil.surface_storage * grace
    assert run.soil_water.max() <= soil.full * grace
    lowest = drains.depth - soil.lowest / drains.porosity
    assert run.table_depth.max() <= lowest * grace


@pytest.mark.law(of=(run_field,))
def test_no_value_fades_to_a_subnormal(run):
    least = np.finfo(np.float64).tiny
    for name, series in series_of(run).items():
        assert np.all((series == 0.0) | (np.abs(series) >= least)), name


@pytest.mark.law(of=(replay_day, state_before))
def test_replayed_days_are_the_days_of_the_run(run):
    for number in range(0, WEATHER.days, 97):
        date = WEATHER.day(number)
        replay = replay_day(run, date)
        assert replay.value("drained.flow") == run.drain_depth[number]
        assert replay.value("wetted.runoff") == run.runoff[number]
        assert replay.value("after.table_depth") == run.table_depth[number]
        assert replay.value("after.snow") == run.snow[number]
        bits = sum(FLAGS[name] for name in replay.branches)
        assert bits == run.flags[number]
        if number + 1 < WEATHER.days:
            assert replay.state_after == state_before(run, WEATHER.day(number + 1))


@pytest.mark.works(of=(simulate_field, run_field))
def test_every_branch_runs_in_some_field():
    ran = dict.fromkeys(FLAGS, 0)
    for case in CASES.values():
        run = simulate_field(WEATHER, **case)
        for name in FLAGS:
            ran[name] += run.days_of(name)
    assert [] == [name for name, days in ran.items() if days == 0]


@pytest.mark.law(of=(run_field,))
def test_days_run_in_parts_are_the_days_run_in_one():
    run = simulate_field(WEATHER)
    given = run.inputs
    daily = empty_daily(WEATHER.days)
    state = run.start
    for first, last in ((0, 400), (400, 401), (401, WEATHER.days)):
        state = run_field(given.weather, first, last, state, given.soil, given.drains, daily)
    assert np.array_equal(daily.drain_flow, run.drain_depth)


@pytest.mark.works(of=(simulate_field,))
def test_first_days_run_twice_so_that_the_start_does_not_show():
    run = simulate_field(WEATHER)
    given = run.inputs
    daily: Daily = empty_daily(365)
    level = State(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    end = run_field(given.weather, 0, 365, level, given.soil, given.drains, daily)
    assert end == run.start


def dry_weather(days: int, temperature: float = -5.0) -> DailyWeather:
    """Days without rain, and without evapotranspiration where it is cold enough."""
    return DailyWeather(
        datetime.date(2001, 1, 1),
        0.0,
        np.zeros(days),
        np.full(days, temperature),
        np.full(days, temperature),
    )


@pytest.mark.law(of=(run_field,))
def test_a_field_that_only_drains_gives_what_lay_above_the_outlet():
    weather = dry_weather(400)
    run = simulate_field(weather, soil=FieldSoil(deep_seepage=0.0), outlet_height=0.4)
    given = run.inputs
    full = State(0.0, 0.0, 0.0, 0.0, given.soil.full, 0.0)
    daily = empty_daily(weather.days)
    end = run_field(given.weather, 0, weather.days, full, given.soil, given.drains, daily)
    assert end.ground == pytest.approx(0.4 * given.drains.porosity, abs=1e-7)
    assert daily.drain_flow.sum() == pytest.approx(given.soil.full - end.ground, abs=1e-15)
    assert daily.drain_flow[-1] == 0.0, "a fading flow stops, it does not become subnormal"


@pytest.mark.by_hand(of=(wet_ground,))
def test_water_at_the_surface_is_shared_out_in_order():
    run = simulate_field(WEATHER, drains=FieldDrains(inlet_capacity=3 * MM_PER_DAY))
    soil, drains = run.inputs.soil, run.inputs.drains
    # 100 mm on a ground that takes 60: 40 stand, inlets take 3, hollows 10, 27 run off
    wetted = wet_ground(0.100, 0.020, -0.050, False, soil, drains)
    assert wetted.infiltration == pytest.approx(0.060)
    assert wetted.to_roots == pytest.approx(0.020)
    assert wetted.passed == pytest.approx(0.040)
    assert wetted.inlet_flow == pytest.approx(0.003)
    assert wetted.pond == pytest.approx(0.010)
    assert wetted.runoff == pytest.approx(0.027)
    assert wetted.flags == INFILTRATION_LIMITED + INLETS_RAN + RUNOFF
    # frozen it takes 15 percent of the same
    frozen = wet_ground(0.100, 0.020, -0.050, True, soil, drains)
    assert frozen.infiltration == pytest.approx(0.015)
    # with room for 5 mm, 1.1 m x 0.05 less 50 mm, it takes these
    full = wet_ground(0.040, 0.0, 0.050, False, soil, drains)
    assert full.infiltration == pytest.approx(0.005)
    assert full.flags == SATURATED + INLETS_RAN + RUNOFF


@pytest.mark.by_hand(of=(take_water,))
def test_plants_drink_from_pond_then_table_then_roots():
    run = simulate_field(WEATHER, soil=FieldSoil(deep_seepage=0.0))
    soil, drains = run.inputs.soil, run.inputs.drains
    # table 0.2 m under the drains, roots to 0.5 m: it rises 1.1 + 0.2 - 0.5 = 0.8 m,
    # at most 1 mm / 0.8^3 = 1.953 mm; of 6 mm 1 mm comes from the pond, the rest from the roots
    ground = -0.2 * 0.05
    taken = take_water(0.006, 0.5, 0.17, 0.09, 0.001, 0.0, ground, soil, drains)
    assert taken.from_pond == pytest.approx(0.001)
    assert taken.from_table == pytest.approx(0.001 / 0.8**3)
    assert taken.from_roots == pytest.approx(0.005 - 0.001 / 0.8**3)
    assert taken.flags == UPWARD_LIMITED
    # roots short of 0.13 of 0.17 m give (0.17 - 0.13) / (0.17 - 0.09) = half
    stressed = take_water(0.006, 0.5, 0.17, 0.09, 0.001, 0.13, ground, soil, drains)
    assert stressed.from_roots == pytest.approx(0.5 * (0.005 - 0.001 / 0.8**3))


@pytest.mark.by_hand(of=(keep_cold,))
def test_bare_ground_at_five_below_freezes_on_the_fourteenth_day():
    soil = simulate_field(WEATHER).inputs.soil
    frost, days = 0.0, []
    for _ in range(15):
        cold = keep_cold(0.0, frost, 0.0, 0.0, -5.0, soil)
        frost = cold.frost
        days.append(cold.flags == FROZEN)
    # F = 5 (1 - 0.97^n) / 0.03: 57.86 on day 14, 43.76 on day 10
    assert days.index(True) + 1 == 14
    assert 5 * (1 - 0.97**10) / 0.03 == pytest.approx(43.76, abs=0.005)


@pytest.mark.by_hand(of=(keep_cold,))
def test_a_hundred_millimetres_of_snow_water_shield_the_ground():
    soil = simulate_field(WEATHER).inputs.soil
    bare = keep_cold(0.0, 0.0, 0.0, 0.0, -5.0, soil).frost
    covered = keep_cold(0.100, 0.0, 0.0, 0.0, -5.0, soil).frost
    assert covered / bare == pytest.approx(math.exp(-0.4 * 0.57 * 10.0 / 0.45))
    assert covered / bare == pytest.approx(0.0063, abs=0.00005)
