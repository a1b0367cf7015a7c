# SPDX-License-Identifier: Apache-2.0
"""Days through a bed: the laws of one day, of ageing, and of sums over years and draws."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.test_03_practices.test_split import MOST
from tests.test_03_practices.test_split import table as one_setting
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.media import conductivity_at_age, conductivity_at_temperature
from tilewater.nitrate.kinetics import (
    outlet_nitrate_first_order,
    outlet_nitrate_tanks,
    outlet_nitrate_zero_order,
)
from tilewater.nitrate.parameter_ranges import ParameterRange, draws_of_ranges
from tilewater.practices.bed import _route
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.draws import bed_ranges, draw_beds, middle_bed
from tilewater.practices.bed.route import (
    BedDraw,
    BedYears,
    DaySeries,
    bed_years,
    day_series,
    replay_day,
    route_by_year,
    route_days,
)
from tilewater.practices.bed.split import apparent_conductivity, read_split
from tilewater.practices.bed.year_sums import (
    bed_percent_by_year,
    long_run_reduction,
    long_run_removed,
    probability_above,
    quantile_of,
    removed_by_year,
    treated_share_by_year,
    whole_years,
    year_by_day,
)

DAYS = 3 * 365
GRADIENT = 0.015
DRAIN_FLOW = ParameterRange("drain-flow", "lognormal", 0.7, 1.0, 1.4, "p10", "p90", "-")


def draw(**changed: float) -> BedDraw:
    values = {
        "conductivity_new": 0.095,
        "conductivity_aged": 0.042,
        "aged_years": 9.25,
        "ward_coefficient": 0.55,
        "porosity": 0.61,
        "rate_g_per_m3_day": 6.0,
        "q10": 2.15,
    }
    return BedDraw(**(values | changed))  # type: ignore[arg-type]


def bed(**changed: float) -> BedYears:
    return bed_years(draw(**changed), gradient=GRADIENT)


@cache
def series() -> DaySeries:
    """Three years of wet springs and dry summers, drawn once."""
    random = np.random.default_rng(5)
    flow = np.zeros(DAYS)
    for day in range(1, DAYS):
        rain = random.gamma(1.0, 0.012) if random.random() < 0.12 and day % 365 < 220 else 0.0
        flow[day] = 0.75 * flow[day - 1] + rain
    flow[flow < 1e-4] = 0.0
    return day_series(
        inflow=np.minimum(flow, MOST),
        nitrate_mg_per_l=random.uniform(6.0, 20.0, DAYS),
        temperature=9.0 + 8.0 * np.sin(2 * np.pi * (np.arange(DAYS) - 100) / 365),
        stage=np.full(DAYS, 359.9),
        setting=np.zeros(DAYS, dtype=np.int64),
    )


@pytest.mark.law(of=(route_days,))
def test_water_and_nitrate_of_every_day_add_up():
    run, given_ = route_days(series(), bed(), one_setting("design")), series()
    assert np.allclose(run.bed_flow + run.bypass_flow, given_.inflow, atol=1e-15)
    load = run.bed_flow * 86.4 * given_.nitrate  # kg a day
    left = run.bed_flow * 86.4 * run.outlet_nitrate_mg_per_l
    assert np.allclose(load - left, run.removed_kg, atol=1e-12)
    assert np.all(run.removed_kg >= 0)
    assert np.all(run.outlet_nitrate_mg_per_l <= given_.nitrate + 1e-12)
    flowing = run.bed_flow > 0
    assert 0.2 < flowing.mean() < 0.9
    pores = 0.61 * run.wet_volume[flowing] / (86400 * run.bed_flow[flowing])
    assert np.allclose(run.retention_days[flowing], pores)
    assert run.limited.sum() > 0
    assert not np.any(run.limited & ~flowing)


@pytest.mark.by_hand(of=(route_days, replay_day))
def test_one_day_by_its_table_and_its_rate():
    day = int(np.argmax(series().inflow))
    plain = bed(rate_g_per_m3_day=4.0, flush=0.5)
    routed = replay_day(series(), plain, one_setting("design"), day)
    aged = float(conductivity_at_age(0.095, day / 365.25, conductivity_aged=0.042, aged_years=9.25))
    warmth = float(series().temperature[day])
    inertia = plain.inertia_scale / aged**0.5
    shown = apparent_conductivity(
        Media(float(conductivity_at_temperature(aged, warmth)), inertia), GRADIENT
    )
    there = read_split(
        one_setting("design"), float(series().inflow[day]), conductivity=shown, stage=359.9
    )
    assert routed.bed_flow == pytest.approx(there.bed_flow, rel=1e-4)
    # rate x (1 + flush that is left) x Q10^((T - 15)/10), over the wet media, against the water
    rate = 4.0 * (1 + 0.5 * np.exp(-day / (0.5 * 365.25))) * 2.15 ** ((warmth - 15) / 10)
    fall = rate * routed.wet_volume / (routed.bed_flow * 86400)
    assert series().nitrate[day] - routed.outlet_nitrate == pytest.approx(fall, rel=1e-6)


@pytest.mark.law(of=(route_days, replay_day))
def test_a_replayed_day_is_the_day_of_the_run():
    run = route_days(series(), bed(), one_setting("design"))
    for day in (0, 40, 400, 1000):
        routed = replay_day(series(), bed(), one_setting("design"), day)
        assert routed.bed_flow == run.bed_flow[day]
        assert routed.outlet_nitrate == run.outlet_nitrate_mg_per_l[day]


@pytest.mark.law(of=(route_days,))
def test_compiled_days_are_those_of_the_readable_twin():
    pytest.importorskip("numba")
    twin = np.zeros((DAYS, 9))
    _route.route_series(
        series(), bed(half_saturation_mg_per_l=2.5, tanks=4), one_setting("design"), twin
    )
    run = route_days(series(), bed(half_saturation_mg_per_l=2.5, tanks=4), one_setting("design"))
    assert np.array_equal(twin[:, 0], run.bed_flow)
    assert np.array_equal(twin[:, 5], run.outlet_nitrate_mg_per_l)


@pytest.mark.oracle("tilewater.nitrate.kinetics, another form", of=(route_days,))
@given(
    inlet=st.floats(0.1, 40),
    days=st.floats(0.01, 5),
    rate=st.floats(0.1, 40),
    half=st.floats(0.1, 10),
    tanks=st.integers(1, 6),
)
def test_nitrate_falls_by_the_laws_of_kinetics(inlet, days, rate, half, tanks):
    zero = outlet_nitrate_zero_order(inlet, days, rate_mg_per_l_day=rate)
    assert _route.nitrate_left(inlet, days, rate, 0.0, 1) == pytest.approx(zero, abs=1e-12)
    first = outlet_nitrate_first_order(inlet, days, rate_per_day=rate / 10)
    assert _route.nitrate_left(inlet, days, rate, float("inf"), 1) == pytest.approx(first)
    mixed = outlet_nitrate_tanks(
        inlet, days, max_rate_mg_per_l_day=rate, half_saturation_mg_per_l=half, tanks=tanks
    )
    assert _route.nitrate_left(inlet, days, rate, half, tanks) == pytest.approx(mixed, abs=1e-9)


@pytest.mark.law(of=(bed_years,))
def test_chips_age_as_stated_and_are_renewed():
    aged = bed(renewed_years=4.0)
    state = _route.first_state(aged)
    for _ in range(1000):
        state = _route.next_state(state, aged)
    stated = conductivity_at_age(0.095, 1000 / 365.25, conductivity_aged=0.042, aged_years=9.25)
    assert state.conductivity_20 == pytest.approx(float(stated), rel=1e-9)
    for _ in range(461):
        state = _route.next_state(state, aged)
    assert state == _route.first_state(aged)


@pytest.mark.law(of=(route_by_year, removed_by_year, treated_share_by_year, bed_percent_by_year))
def test_sums_by_year_are_those_of_the_days_for_any_threads():
    ranges = bed_ranges(0.095, 0.042, 0.55, 0.61, 2.5, 6.0, 13.0, 2.15, DRAIN_FLOW)
    beds = draw_beds(draws_of_ranges(ranges, 40, 3), GRADIENT, 9.25, 10.0)
    date = np.arange(DAYS) + np.datetime64("2001-01-01")
    year, whole = year_by_day(date), whole_years(date)
    one, two = (
        route_by_year(series(), year, beds, one_setting("design"), threads=n) for n in (1, 3)
    )
    assert np.array_equal(one, two)
    run = route_days(series(), beds[7], one_setting("design"))
    assert one[7, 1, 4] == pytest.approx(run.removed_kg[365:730].sum(), rel=1e-12)
    assert one[7, :, 1].sum() == pytest.approx(86400 * run.bed_flow.sum(), rel=1e-12)
    assert whole.tolist() == [True, True, True]
    assert removed_by_year(one, whole).shape == (120,)
    assert np.all(
        (treated_share_by_year(one, whole) >= 0) & (treated_share_by_year(one, whole) <= 1)
    )
    assert np.all(bed_percent_by_year(one, whole) <= 100 + 1e-9)
    reduction = long_run_reduction(one, whole)
    assert reduction[7] == pytest.approx(one[7, :, 4].sum() / one[7, :, 3].sum())
    assert long_run_removed(one, whole)[7] == pytest.approx(one[7, :, 4].mean())
    assert 0 < probability_above(reduction, quantile_of(reduction, 0.5)) <= 0.51


@pytest.mark.law(of=(route_by_year,))
def test_warmer_water_and_larger_rates_take_out_more_and_newer_chips_more_water():
    year = np.zeros(DAYS, dtype=np.int64)

    def sums(days: DaySeries, **changed: float) -> np.ndarray:
        return route_by_year(days, year, [bed(**changed)], one_setting("design"), threads=1)[0, 0]

    def removed(**changed: float) -> float:
        return float(sums(series(), **changed)[4])

    warm = series()._replace(temperature=series().temperature + 4)
    assert sums(warm)[4] > removed() > 0
    assert removed(rate_g_per_m3_day=9.0) > removed()
    assert sums(series(), conductivity_aged=0.06)[1] > sums(series())[1]
    assert removed(dead_share=0.4) == pytest.approx(removed(), rel=1e-9)  # zero order by volume
    assert removed(half_saturation_mg_per_l=2.5, tanks=4) < removed()


@pytest.mark.law(of=(_route.inflow_at, route_by_year))
def test_a_draw_with_more_drain_flow_is_a_bed_with_more_drain_flow():
    year = np.zeros(DAYS, dtype=np.int64)
    plain, factor = series(), 1.3
    more = plain._replace(inflow=np.minimum(plain.inflow * factor, plain.most))
    drawn = route_by_year(plain, year, [bed(flow_factor=factor)], one_setting("design"), threads=1)
    same = route_by_year(more, year, [bed()], one_setting("design"), threads=1)
    assert np.array_equal(drawn, same)
    assert (
        drawn[0, 0, 0] > 1.2 * route_by_year(plain, year, [bed()], one_setting("design"))[0, 0, 0]
    )
    assert more.inflow.max() == plain.inflow.max()


@pytest.mark.works(of=(middle_bed, draw_beds, bed_ranges, draws_of_ranges))
def test_middle_of_the_draws_is_near_the_middle_bed():
    ranges = bed_ranges(0.095, 0.042, 0.55, 0.61, 2.5, 6.0, 13.0, 2.15, DRAIN_FLOW)
    beds = draw_beds(draws_of_ranges(ranges, 512, 1), GRADIENT, 9.25, 10.0)
    middle = middle_bed(ranges, GRADIENT, 9.25, 10.0)
    for field in ("conductivity_new", "porosity", "half_saturation_mg_per_l", "flow_factor"):
        drawn = np.median([getattr(each, field) for each in beds])
        assert drawn == pytest.approx(getattr(middle, field), rel=0.05)
    assert middle.rate_g_per_m3_day == pytest.approx(6.0 * 12.5 / 10)  # stated at 10 mg/L, half 2.5
    again = draws_of_ranges(ranges, 512, 1)
    assert draw_beds(again, GRADIENT, 9.25, 10.0) == beds


@pytest.mark.works(of=(day_series, bed_years, whole_years))
def test_what_makes_no_sense_is_refused():
    good = {
        "inflow": np.ones(5),
        "nitrate_mg_per_l": np.ones(5),
        "temperature": np.ones(5),
        "stage": np.ones(5),
        "setting": np.zeros(5, dtype=np.int64),
    }
    for name, values, words in (
        ("inflow", np.full(5, np.nan), "No day may be missing"),
        ("inflow", -np.ones(5), "It is not negative"),
        ("stage", np.ones(4), "as many days"),
    ):
        with pytest.raises(OutOfDomain, match=words):
            day_series(**(good | {name: values}))
    with pytest.raises(OutOfDomain, match="q10 is 0"):
        bed(q10=0.0)
    with pytest.raises(OutOfDomain, match="no whole calendar year"):
        whole_years(np.arange(100) + np.datetime64("2001-01-01"))
