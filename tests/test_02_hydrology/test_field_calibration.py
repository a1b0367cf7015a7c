# SPDX-License-Identifier: Apache-2.0
"""A soil fitted to measured drain flow: never worse, within bounds, the same each time."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.oracles.humid_weather import humid_weather
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.hydrology.field import simulate_field
from tilewater.hydrology.field_bounds import bounds_of
from tilewater.hydrology.field_calibration import (
    FREE,
    FieldFit,
    FlowDays,
    fit_soil,
    goodness_of,
)
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil, field_parts_range
from tilewater.hydrology.goodness import kling_gupta

WEATHER = humid_weather(4)
MONTH = WEATHER.dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
TWO = ("drainable-porosity", "water-capacity")


def run(soil: FieldSoil) -> np.ndarray:
    return simulate_field(WEATHER, soil=soil).drain_flow


def days_of(flow: np.ndarray) -> FlowDays:
    return FlowDays(flow, WEATHER.years, MONTH)


@cache
def noisy() -> FlowDays:
    """Flow of another soil, with errors, and a gap."""
    draws = np.random.default_rng(3)
    flow = run(FieldSoil(water_capacity=0.12, drainable_porosity=0.08))
    flow = flow * draws.lognormal(0.0, 0.3, flow.size)
    flow[100:130] = np.nan
    return days_of(flow)


@cache
def fitted() -> FieldFit:
    return fit_soil(run, noisy(), free=TWO)


@pytest.mark.law(of=(fit_soil,))
def test_a_soil_that_made_the_flow_is_found_again():
    secret = FieldSoil(water_capacity=0.13, drainable_porosity=0.09)
    found = fit_soil(run, days_of(run(secret)), free=TWO)
    assert found.fit.values["water-capacity"] == pytest.approx(0.13, rel=0.02)
    assert found.fit.values["drainable-porosity"] == pytest.approx(0.09, rel=0.02)
    assert found.fit.after.kling_gupta > 0.99
    assert found.holds


@pytest.mark.law(of=(fit_soil, goodness_of))
@settings(max_examples=4, deadline=None)
@given(seed=st.integers(0, 10_000), noise=st.floats(0.0, 2.0))
def test_no_fit_is_worse_than_the_start_on_its_own_years(seed, noise):
    draws = np.random.default_rng(seed)
    flow = run(FieldSoil())
    record = days_of(flow * draws.lognormal(0.0, noise, flow.size))
    found = fit_soil(run, record, free=TWO, seed=seed)
    for fit in (found.fit, *(trial.fit for trial in found.trials)):
        assert fit.after.objective <= fit.before.objective + 1e-9


@pytest.mark.law(of=(fit_soil, bounds_of))
def test_bounds_are_kept_and_nothing_else_is_moved():
    record = days_of(3.0 * run(FieldSoil()))
    found = fit_soil(run, record, free=("water-capacity", "deep-seepage"))
    for fit in (found.fit, *(trial.fit for trial in found.trials)):
        assert not field_parts_range(fit.soil, FieldDrains(), FieldCold())
        for slug, value in fit.values.items():
            assert bounds_of(slug).low <= value <= bounds_of(slug).high
        moved = {"water_capacity": 0.17, "deep_seepage": FieldSoil().deep_seepage}
        assert replace(fit.soil, **moved) == FieldSoil()
    assert found.fit.on_bound


@pytest.mark.law(of=(fit_soil,))
def test_the_same_seed_gives_the_same_fit_whatever_runs_beside_it():
    with ThreadPoolExecutor(3) as beside:
        jobs = [beside.submit(fit_soil, run, noisy(), free=TWO) for _ in range(3)]
    for job in jobs:
        assert job.result() == fitted()


@pytest.mark.law(of=(fit_soil,))
def test_halves_share_no_year_and_miss_none():
    first, second = fitted().trials
    assert (first.fit.years, first.years) == (second.years, second.fit.years)
    assert (*first.fit.years, *first.years) == fitted().fit.years == noisy().years
    assert not set(first.years) & set(first.fit.years)


@pytest.mark.by_hand(of=(goodness_of,))
def test_goodness_is_that_of_the_measured_days():
    record = noisy()
    simulated = run(FieldSoil())
    there = np.isfinite(record.flow)
    found = goodness_of(simulated, record)
    assert there.sum() == record.flow.size - 30
    assert found.kling_gupta == kling_gupta(simulated[there], record.flow[there])
    missed = abs(found.without_flow - found.without_flow_measured)
    assert found.objective == pytest.approx(1 - found.kling_gupta + missed)
    assert sum(found.seasons) == pytest.approx(found.bias)


@pytest.mark.law(of=(bounds_of,))
@pytest.mark.parametrize("slug", FREE)
@given(place=st.floats(0.0, 1.0))
def test_places_between_bounds_go_both_ways(slug, place):
    bounds = bounds_of(slug)
    value = bounds.at(place)
    assert bounds.low <= value <= bounds.high
    assert bounds.place(value) == pytest.approx(place, abs=0.01)
    assert value == float(f"{value:.3g}")


@pytest.mark.by_hand(of=(bounds_of,))
def test_bounds_are_the_usual_range():
    capacity, seepage = bounds_of("water-capacity"), bounds_of("deep-seepage")
    assert (capacity.low, capacity.high, capacity.typed(0.123)) == (0.10, 0.22, "0.123")
    assert (seepage.low, seepage.high, seepage.typed(12.5)) == (0.0, 75.0, "12.5 mm/yr")
    assert seepage.at(0.5) == 37.5
    assert capacity.at(0.5) == pytest.approx((0.10 * 0.22) ** 0.5, abs=0.0005)
    assert bounds_of("conductivity").names == ("conductivity_above", "conductivity_below")


@pytest.mark.works(of=(fit_soil, bounds_of))
def test_what_cannot_be_fitted_is_refused():
    with pytest.raises(OutOfDomain, match="free has 0 values"):
        fit_soil(run, noisy(), free=())
    with pytest.raises(OutOfDomain, match="has 1 calendar years"):
        fit_soil(run, noisy().of((noisy().years[0],)))
    with pytest.raises(OutOfDomain, match=r"water-capacity is 0\.4 -"):
        fit_soil(run, noisy(), soil=FieldSoil(water_capacity=0.4), free=TWO)
    layered = FieldSoil(conductivity_above=1e-6)
    with pytest.raises(OutOfDomain, match="one for the whole soil"):
        fit_soil(run, noisy(), soil=layered, free=("conductivity",))
    with pytest.raises(UnknownName):
        bounds_of("colour")
