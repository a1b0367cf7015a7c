# SPDX-License-Identifier: Apache-2.0
"""Days through a buffer: water that adds up, steady limits, storage, age, sums of draws."""

import math
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tests.buffers import designed
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Given
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.hydraulics.groundwater import buffer_flow_dupuit, buffer_travel_time_dupuit
from tilewater.nitrate.parameter_ranges import ParameterRange, draws_of_ranges
from tilewater.practices.bed.year_sums import removed_by_year, treated_share_by_year
from tilewater.practices.buffer import _route
from tilewater.practices.buffer.day_steps import (
    add_buffer_days,
    boards_by_setting,
    both_sets,
    friction_of_line,
    loss_per_flow,
)
from tilewater.practices.buffer.draws import buffer_ranges, draw_buffers, middle_buffer
from tilewater.practices.buffer.route import (
    BufferDraw,
    BufferYears,
    DaySeries,
    board_table,
    buffer_years,
    day_series,
    flow_after_buffer,
    replay_water,
    route_buffer_by_year,
    route_buffer_days,
)
from tilewater.practices.buffer.route_replay import replay_buffer

DAY = 86400.0
DAYS = 3 * 365
BARRIER, CREST, STAGE = 100.0, 101.8, 100.8
BYPASS = board_set_sharp_francis(CREST, BARRIER, crest_width=0.35)
BOARDS = board_table((BYPASS, None))
DRAIN_FLOW = ParameterRange("drain-flow", "lognormal", 0.7, 1.0, 1.4, "p10", "p90", "-")
GIVEN = (300.0, 15.0, BARRIER, 101.5, 5 / DAY, 0.35, 0.10, 20.0, 100.0, 10.0, 0.10, 1.97, 8.0, 2.0)


def buffer(**changed: float) -> BufferYears:
    values = {
        "length": 300.0,
        "width": 15.0,
        "barrier": BARRIER,
        "conductivity": 5 / DAY,
        "porosity": 0.35,
        "drainable": 0.10,
        "rate_per_day": 0.1,
    }
    return buffer_years(BufferDraw(**(values | changed)))  # type: ignore[arg-type]


def even(flow: float, days: int = 900, stage: float = STAGE, temperature: float = 10.0):
    full = np.full(days, 1.0)
    return day_series(
        inflow=flow * full,
        nitrate_mg_per_l=12.0 * full,
        temperature=temperature * full,
        stage=stage * full,
        setting=np.zeros(days, dtype=np.int64),
    )


@cache
def series() -> DaySeries:
    """Three years of wet springs and dry summers, drawn once."""
    random = np.random.default_rng(9)
    flow = np.zeros(DAYS)
    for day in range(1, DAYS):
        rain = random.gamma(1.0, 0.004) if random.random() < 0.12 and day % 365 < 220 else 0.0
        flow[day] = 0.75 * flow[day - 1] + rain
    flow[flow < 1e-5] = 0.0
    return day_series(
        inflow=flow,
        nitrate_mg_per_l=random.uniform(6.0, 20.0, DAYS),
        temperature=9.0 + 8.0 * np.sin(2 * np.pi * (np.arange(DAYS) - 100) / 365),
        stage=STAGE + 0.3 * np.sin(2 * np.pi * np.arange(DAYS) / 200),
        setting=np.zeros(DAYS, dtype=np.int64),
    )


@pytest.mark.law(of=(route_buffer_days,))
def test_water_and_nitrate_of_every_day_add_up():
    run = route_buffer_days(series(), buffer(), BOARDS)
    assert np.allclose(run.bed_flow + run.bypass_flow, series().inflow, atol=1e-15)
    load = run.bed_flow * 86.4 * series().nitrate
    left = run.bed_flow * 86.4 * run.outlet_nitrate_mg_per_l
    assert np.allclose(load - left, run.removed_kg, atol=1e-12)
    assert np.all(run.removed_kg >= 0)
    assert 0.05 < (run.bypass_flow > 0).mean() < 0.9
    wet = run.bed_flow > 0
    assert np.all(run.retention_days[wet] > 0)
    assert np.all(run.retention_days[~wet] == 0)


@pytest.mark.law(of=(route_buffer_days, replay_water))
def test_what_comes_in_leaves_or_is_stored():
    soil = buffer()
    stored = _route.first_stored(series(), soil)
    start, came, left = stored, 0.0, 0.0
    for day in range(400):
        water = _route.water_at(day, series(), soil, BOARDS, stored)
        h2 = series().stage[day] - BARRIER
        stored = soil.drainable * _route.soil_under_water(water.head, h2, soil.area)
        came += water.line_flow * DAY
        left += water.out_flow * DAY
    assert stored - start == pytest.approx(came - left, abs=0.05)
    again = replay_water(series(), soil, BOARDS, 399)
    assert again == water


@pytest.mark.by_hand(of=(route_buffer_days, buffer_years))
def test_a_steady_day_under_capacity_is_that_of_level_flow():
    """All of 0.5 L/s goes in; it stays n times the soil under water over the flow."""
    run = route_buffer_days(even(5e-4), buffer(), BOARDS)
    h2 = STAGE - BARRIER
    h1 = math.sqrt(h2**2 + 2 * 15 * 5e-4 / (300 * 5 / DAY))
    assert run.bed_flow[-1] == pytest.approx(5e-4)
    assert run.level[-1] == pytest.approx(BARRIER + h1, abs=1e-6)
    time = buffer_travel_time_dupuit(h1, h2, width=15.0, conductivity=5 / DAY, porosity=0.35)
    assert run.retention_days[300] == pytest.approx(float(time) / DAY, rel=1e-3)
    left = 12.0 * math.exp(-0.1 * 1.97**-0.5 * float(time) / DAY)
    assert run.outlet_nitrate_mg_per_l[300] == pytest.approx(left, rel=2e-3)


@pytest.mark.by_hand(of=(route_buffer_days,))
def test_a_steady_day_over_capacity_is_held_by_the_boards():
    run = route_buffer_days(even(0.02), buffer(), BOARDS)
    level = run.level[-1]
    flow = buffer_flow_dupuit(
        level - BARRIER, STAGE - BARRIER, width=15.0, length=300.0, conductivity=5 / DAY
    )
    assert run.bed_flow[-1] == pytest.approx(float(flow), rel=1e-6)
    over = 1.8385 * 0.35 * (level - CREST) ** 1.5  # 3.33 in feet
    assert run.bypass_flow[-1] == pytest.approx(over, rel=1e-3)
    lossy = buffer(loss_linear=200.0, loss_square=1e4)
    less = route_buffer_days(even(0.02), lossy, BOARDS)
    q = less.bed_flow[-1]
    h1 = less.level[-1] - BARRIER - 200.0 * q - 1e4 * q * q
    within = buffer_flow_dupuit(h1, STAGE - BARRIER, width=15.0, length=300.0, conductivity=5 / DAY)
    assert q == pytest.approx(float(within), rel=1e-6)
    assert q < run.bed_flow[-1]


@pytest.mark.oracle("scipy.integrate.solve_ivp", of=(route_buffer_days,))
def test_soil_that_drains_follows_its_differential_equation():
    """Twenty steady days, then none come: n_d dV/dt = -Q(h), in steps of a day here."""
    flow = np.zeros(80)
    flow[:40] = 6e-4
    days = even(0.0, 80)._replace(inflow=flow)
    slow = buffer(conductivity=0.5 / DAY)
    run = route_buffer_days(days, slow, BOARDS)
    h2 = STAGE - BARRIER

    def soil(h: float) -> float:
        return 300 * 15 * (2 / 3) * (h * h + h * h2 + h2 * h2) / (h + h2)

    def rate(t: float, h: np.ndarray) -> np.ndarray:
        out = slow.conductance * (h[0] ** 2 - h2**2)
        step = (soil(h[0] + 1e-6) - soil(h[0] - 1e-6)) / 2e-6
        return np.array([-out * DAY / (0.10 * step)])

    head = replay_water(days, slow, BOARDS, 39).head
    exact = solve_ivp(rate, (0, 40), [head], rtol=1e-9, dense_output=True).sol
    for day in (5, 20, 39):
        found = replay_water(days, slow, BOARDS, 40 + day).head
        assert found == pytest.approx(float(exact(day + 1)[0]), abs=0.02)
    assert run.bed_flow[50] == 0


@pytest.mark.law(of=(route_buffer_days,))
def test_what_the_soil_took_in_before_a_dry_summer_stays_long():
    flow = np.zeros(400)
    flow[:30], flow[200:] = 8e-4, 8e-4
    days = even(0.0, 400)._replace(inflow=flow)
    run = route_buffer_days(days, buffer(width=30.0, conductivity=2 / DAY), BOARDS)
    assert run.retention_days[25] > 100
    steady = route_buffer_days(even(8e-4), buffer(width=30.0, conductivity=2 / DAY), BOARDS)
    assert run.retention_days[25] > steady.retention_days[300]


@pytest.mark.law(of=(route_buffer_days,))
@settings(max_examples=20)
@given(
    flow=st.floats(1e-5, 0.03),
    stage=st.floats(99.5, 103.0),
    drainable=st.floats(0.0, 0.3),
    loss=st.floats(0.0, 500.0),
)
def test_no_water_is_made_and_a_high_ditch_takes_none(flow, stage, drainable, loss):
    days = even(flow, 60, stage)
    run = route_buffer_days(days, buffer(drainable=drainable, loss_linear=loss), BOARDS)
    assert np.all((run.bed_flow >= 0) & (run.bed_flow <= flow * (1 + 1e-9)))
    if stage >= CREST + 0.3:
        assert run.bed_flow[-1] < 0.5 * flow or flow < 1e-3
    dry = route_buffer_days(even(0.0, 20, stage), buffer(drainable=drainable), BOARDS)
    assert np.all(dry.bed_flow == 0)
    assert np.all(dry.removed_kg == 0)


@pytest.mark.law(of=(route_buffer_days,))
def test_without_storage_each_day_stands_by_itself():
    run = route_buffer_days(series(), buffer(drainable=0.0), BOARDS)
    for day in np.flatnonzero(run.bypass_flow > 0)[:20]:
        flow = buffer_flow_dupuit(
            run.level[day] - BARRIER,
            series().stage[day] - BARRIER,
            width=15.0,
            length=300.0,
            conductivity=5 / DAY * series().viscosity_ratio[day] / buffer().viscosity_ratio,
        )
        assert run.bed_flow[day] == pytest.approx(float(flow), rel=1e-6)


@pytest.mark.law(of=(route_buffer_days,))
def test_warmth_rate_and_conductivity_pull_as_they_should():
    def total(days: DaySeries | None = None, **changed: float) -> float:
        run = route_buffer_days(days or series(), buffer(**changed), BOARDS)
        return float(run.removed_kg.sum())

    warm = series()._replace(temperature=series().temperature + 4)
    assert total(warm) > total() > 0
    assert total(rate_per_day=0.2) > total() > total(oxic_days=5.0)
    more = route_buffer_days(series(), buffer(conductivity=8 / DAY), BOARDS).bed_flow.sum()
    assert more > route_buffer_days(series(), buffer(), BOARDS).bed_flow.sum()
    low = board_table((board_set_sharp_francis(101.2, BARRIER, crest_width=0.35), None))
    assert route_buffer_days(series(), buffer(), low).bed_flow.sum() < more
    zero = buffer(rate_per_day=0.0, rate_g_per_m3_day=0.04)
    assert 0 < route_buffer_days(series(), zero, BOARDS).removed_kg.sum() < total()


@pytest.mark.law(of=(board_table, route_buffer_days))
def test_head_boards_raise_only_the_water_of_the_field():
    head = board_set_sharp_francis(102.4, BARRIER, crest_width=0.35)
    plain = route_buffer_days(series(), buffer(), BOARDS)
    raised = route_buffer_days(series(), buffer(), board_table((BYPASS, head)))
    assert np.array_equal(plain.bed_flow, raised.bed_flow)
    assert np.all(raised.level[series().inflow > 0] > 102.4)
    assert np.all(raised.level >= plain.level - 1e-9)


@pytest.mark.law(of=(route_buffer_days,))
def test_compiled_days_are_those_of_the_readable_twin():
    pytest.importorskip("numba")
    work, twin = np.zeros((DAYS + 1, 3)), np.zeros((DAYS, 9))
    soil = buffer(loss_linear=30.0, loss_square=500.0, oxic_days=2.0)
    _route.route_series(series(), soil, BOARDS, work, twin, True)
    run = route_buffer_days(series(), soil, BOARDS)
    assert np.array_equal(twin[:, 0], run.bed_flow)
    assert np.array_equal(twin[:, 5], run.outlet_nitrate_mg_per_l)
    assert np.array_equal(twin[:, 4], run.retention_days)


@pytest.mark.law(of=(route_buffer_by_year, draw_buffers, buffer_ranges, middle_buffer))
def test_sums_by_year_are_those_of_the_days_for_any_threads():
    ranges = buffer_ranges(2.0, 0.35, 0.10, 0.10, 1.97, 2.0, DRAIN_FLOW)
    fixed = (*GIVEN[:5], 20.0, 100.0, 10.0, 8.0)
    drawn = draw_buffers(draws_of_ranges(ranges, 40, 3), *fixed)
    year = np.repeat(np.arange(3), 365)
    one, two = (route_buffer_by_year(series(), year, drawn, BOARDS, threads=n) for n in (1, 3))
    assert np.array_equal(one, two)
    run = route_buffer_days(series(), drawn[7], BOARDS)
    assert one[7, 1, 4] == pytest.approx(run.removed_kg[365:730].sum(), rel=1e-12)
    assert one[7, :, 1].sum() == pytest.approx(DAY * run.bed_flow.sum(), rel=1e-12)
    whole = np.array([True, True, True])
    assert removed_by_year(one, whole).shape == (120,)
    assert np.all(treated_share_by_year(one, whole) <= 1 + 1e-12)
    middle = middle_buffer(*GIVEN)
    for field in ("conductance", "porosity", "drainable", "flow_factor"):
        median = np.median([getattr(each, field) for each in drawn])
        assert median == pytest.approx(getattr(middle, field), rel=0.06)
    assert drawn == draw_buffers(draws_of_ranges(ranges, 40, 3), *fixed)


@pytest.mark.law(of=(route_buffer_by_year,))
def test_a_draw_with_more_drain_flow_is_a_buffer_with_more_drain_flow():
    year, plain = np.zeros(DAYS, dtype=np.int64), series()
    more = plain._replace(inflow=np.minimum(plain.inflow * 1.3, plain.most))
    drawn = route_buffer_by_year(plain, year, [buffer(flow_factor=1.3)], BOARDS)
    assert np.array_equal(drawn, route_buffer_by_year(more, year, [buffer()], BOARDS))
    assert drawn[0, 0, 1] > route_buffer_by_year(plain, year, [buffer()], BOARDS)[0, 0, 1]


@pytest.mark.law(of=(BufferDraw, buffer_years, route_buffer_days))
def test_water_under_the_line_does_not_reach_it_and_a_higher_line_takes_no_more():
    """Only with water over the boards does the level pass the crest, by some inches."""
    low, just, over = (
        route_buffer_days(series(), buffer(line_invert=invert), BOARDS).bed_flow
        for invert in (BARRIER, CREST + 0.05, CREST + 2.0)
    )
    assert np.array_equal(low, route_buffer_days(series(), buffer(), BOARDS).bed_flow)
    assert 0.0 < just.sum() < low.sum()
    assert np.all(over == 0.0)


@pytest.mark.law(of=(replay_buffer,))
@pytest.mark.parametrize("place", [0, 130, 131, 600, 1094])
def test_a_day_worked_again_ends_at_the_numbers_of_its_run(place: int):
    middle = buffer(line_invert=101.2, oxic_days=2.0)
    run = route_buffer_days(series(), middle, BOARDS)
    replay = replay_buffer(series(), middle, BOARDS, run, place)
    for name, there in (
        ("bed_flow", run.bed_flow),
        ("bypass_flow", run.bypass_flow),
        ("level", run.level),
        ("outlet_nitrate", run.outlet_nitrate_mg_per_l),
    ):
        assert getattr(replay.routed, name) == pytest.approx(there[place], rel=1e-9), name
    assert replay.value("removed") == pytest.approx(run.removed_kg[place], rel=1e-9)
    with pytest.raises(OutOfDomain, match="days 0 to"):
        replay_buffer(series(), middle, BOARDS, run, DAYS)


@pytest.mark.works(of=(flow_after_buffer,))
def test_what_passes_the_buffer_can_go_on():
    run = route_buffer_days(series(), buffer(), BOARDS)
    below = flow_after_buffer(series(), run)
    assert np.array_equal(below.inflow, run.bypass_flow)
    assert np.array_equal(below.nitrate, series().nitrate)
    again = route_buffer_days(below, buffer(), BOARDS)
    assert again.bed_flow.sum() > 0


@pytest.mark.works(of=(add_buffer_days, both_sets, boards_by_setting))
def test_days_of_the_farm_by_the_steps():
    trace = designed({"buffer.note": "days"})
    crest = trace.value("boards.inlet-design.crest_m")
    days = even(0.0176, DAYS, 738.0 * 0.3048)
    trace.give(Given("days.series", days, "", "Days"))
    trace.give(Given("days.year", np.repeat(np.arange(3), 365), "", "Years"))
    trace.give(Given("days.drain_flow_range", DRAIN_FLOW, "", "Factor on the drain flow"))
    add_buffer_days(trace)
    run = trace.value("days.run")
    # The main just full: a little over the criterion line, by the head over the boards.
    assert run.level[-1] > crest
    capacity = trace.value("buffer.flow_m3_s")
    assert capacity < run.bed_flow[-1] == pytest.approx(capacity, rel=0.12)
    sums = trace.value("days.sums")
    assert sums.shape[1:] == (3, 6)
    share = np.median(treated_share_by_year(sums, np.array([True] * 3)))
    assert share == pytest.approx(run.bed_flow.sum() / 0.0176 / DAYS, rel=0.1)


@pytest.mark.by_hand(of=(loss_per_flow, friction_of_line))
def test_losses_of_the_line_per_flow():
    assert loss_per_flow(6000.0, 300.0) == 20.0
    one = 4.126e-5 / 0.0003**2 * 150 / 16
    assert one == pytest.approx(friction_of_line((150.0, 150.0), 0.1016, 0.015), rel=1e-3)


@pytest.mark.works(of=(buffer_years,))
def test_what_makes_no_sense_is_refused():
    with pytest.raises(OutOfDomain, match="width is 0"):
        buffer(width=0.0)
    with pytest.raises(OutOfDomain, match="One law is used"):
        buffer(rate_g_per_m3_day=0.04)
