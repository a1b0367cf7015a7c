# SPDX-License-Identifier: Apache-2.0
"""The public face of the field: its parts, their ranges, what is refused, laws on random fields."""

import dataclasses
import datetime
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.oracles.humid_weather import humid_weather
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.hydraulics.groundwater import drain_flux_hooghoudt, drain_flux_kirkham_ponded
from tilewater.hydrology._field_drain import flux_at
from tilewater.hydrology.field import FLAGS, flag_names, simulate_field
from tilewater.hydrology.field_inputs import kernel_drains, kernel_soil, outlet_series
from tilewater.hydrology.field_parts import (
    FieldCold,
    FieldDrains,
    FieldSoil,
    SideSeepage,
    field_default,
    field_parts_range,
)
from tilewater.hydrology.field_replay import replay_day
from tilewater.hydrology.soil_water import upward_flux_gardner

DAY = 86400.0
MM_PER_DAY = 0.001 / DAY
WEATHER = humid_weather(2)
FEW = settings(max_examples=25)


@pytest.mark.by_hand(of=(field_default, FieldSoil, FieldDrains, FieldCold))
def test_defaults_come_in_si():
    assert FieldSoil().conductivity_above == pytest.approx(0.5 / DAY)
    assert FieldSoil().deep_seepage == pytest.approx(0.025 / (365.25 * DAY), rel=0.001)
    assert FieldSoil().infiltration == pytest.approx(0.060 / DAY)
    assert FieldDrains().main_capacity == pytest.approx(10 * MM_PER_DAY)
    assert FieldCold().melt_mm_per_degc_day == 2.7
    with pytest.raises(UnknownName, match="No 'colour' in the table"):
        field_default("colour")


@pytest.mark.law(of=(field_parts_range,))
def test_defaults_are_within_their_own_ranges():
    assert field_parts_range(FieldSoil(), FieldDrains(), FieldCold()) == ()


@pytest.mark.works(of=(field_parts_range,))
def test_unusual_values_are_pointed_out_and_used():
    soil = FieldSoil(drainable_porosity=0.2)
    drains = FieldDrains(spacing=45.0)
    findings = field_parts_range(soil, drains, FieldCold())
    assert [finding.message for finding in findings] == [
        "Drainable porosity is 0.2, outside the usual 0.03 to 0.12 (clay loam and silty clay loam; "
        "subsoils measured 0.03 to 0.08). Check it, or keep it if it was measured.",
        "Spacing is 45 m, outside the usual 7.6 to 30 m (spacings of the measured plots of the "
        "Midwest). Check it, or keep it if it was measured.",
    ]
    run = simulate_field(WEATHER, soil=soil, drains=drains)
    assert set(findings) <= set(run.findings)
    assert run.inputs.drains.porosity == 0.2


@pytest.mark.works(of=(FieldSoil, FieldDrains, FieldCold, SideSeepage))
def test_parts_that_cannot_be_are_refused():
    with pytest.raises(OutOfDomain, match="drainable_porosity is 0"):
        FieldSoil(drainable_porosity=0.0)
    with pytest.raises(OutOfDomain, match=r"spacing is 0\.01 m"):
        FieldDrains(spacing=0.01)
    with pytest.raises(OutOfDomain, match="frost_kept is 2"):
        FieldCold(frost_kept=2.0)
    with pytest.raises(OutOfDomain, match="rain_above is 0 degC and snow_below 2"):
        FieldCold(rain_above=0.0, snow_below=2.0)
    with pytest.raises(OutOfDomain, match="distance is 0 m"):
        SideSeepage(1.0, 0.0, 100.0)


@pytest.mark.works(of=(simulate_field, outlet_series, kernel_soil))
def test_runs_that_cannot_be_are_refused():
    with pytest.raises(OutOfDomain) as refused:
        simulate_field(WEATHER, outlet_height=np.zeros(3))
    assert str(refused.value) == (
        "outlet_height has 3 days and the weather 731. Give one height, or one a day."
    )
    with pytest.raises(OutOfDomain, match=r"outlet_height is -0\.1 m"):
        simulate_field(WEATHER, outlet_height=-0.1)
    with pytest.raises(OutOfDomain, match="pool_share is 2"):
        simulate_field(WEATHER, pool_share=2.0)
    with pytest.raises(OutOfDomain, match="would empty the ground within a day"):
        simulate_field(WEATHER, soil=FieldSoil(deep_seepage=1e-4))


@pytest.mark.works(of=(simulate_field,))
def test_without_the_compiler_the_answer_is_the_same():
    compiled = simulate_field(WEATHER)
    plain = simulate_field(WEATHER, is_compiled=False)
    assert np.array_equal(compiled.drain_flow, plain.drain_flow)
    assert compiled.balance == plain.balance


@pytest.mark.works(of=(simulate_field,))
def test_series_cannot_be_written_to():
    run = simulate_field(WEATHER)
    with pytest.raises(ValueError, match="read-only"):
        run.drain_depth[0] = 1.0
    assert run.drain_flow == pytest.approx((run.drain_depth + run.inlet_depth) / DAY)


@pytest.mark.works(of=(flag_names,))
def test_flags_have_names():
    assert flag_names(FLAGS["snow"] + FLAGS["ponded"]) == ("snow", "ponded")
    assert len(set(FLAGS.values())) == len(FLAGS) == 13


@pytest.mark.law(of=(kernel_drains, flux_at))
def test_kernel_takes_hooghoudt_and_kirkham_from_the_floor_below():
    soil = FieldSoil(conductivity_above=0.8 / DAY, conductivity_below=0.3 / DAY)
    parts = FieldDrains()
    drains = kernel_drains(soil, parts)
    depth = drains.linear * parts.spacing**2 / (8.0 * soil.conductivity_below * DAY)
    flux = drain_flux_hooghoudt(
        0.9,
        outlet_height=0.3,
        spacing=parts.spacing,
        equivalent_depth=depth,
        conductivity_below=soil.conductivity_below,
        conductivity_above=soil.conductivity_above,
    )
    assert flux_at(0.6, 0.3, drains) == pytest.approx(flux * DAY)
    mean = (0.8 * 1.1 + 0.3 * 2.0) / 3.1 / DAY
    ponded = drain_flux_kirkham_ponded(
        0.02,
        outlet_height=0.3,
        drain_depth=1.1,
        barrier_depth=3.1,
        spacing=parts.spacing,
        radius=parts.radius,
        conductivity=mean,
    )
    assert drains.pond_rate * (0.02 + 1.1 - 0.3) == pytest.approx(ponded * DAY)


@pytest.mark.law(of=(kernel_soil, upward_flux_gardner))
def test_kernel_lifts_water_as_gardner_does():
    soil = kernel_soil(FieldSoil(), FieldDrains(), FieldCold(), None)
    at_one = FieldSoil().upward_flux_at_one_metre
    a = at_one / upward_flux_gardner(1.0, suction_coefficient=1.0, exponent=3.0)
    for rise in (0.3, 0.7, 1.6):
        flux = upward_flux_gardner(rise, suction_coefficient=a, exponent=3.0)
        assert soil.upward / rise**3 == pytest.approx(flux * DAY)


soils = st.builds(
    FieldSoil,
    conductivity_above=st.floats(0.05, 3.0).map(lambda k: k / DAY),
    conductivity_below=st.floats(0.05, 3.0).map(lambda k: k / DAY),
    drainable_porosity=st.floats(0.02, 0.2),
    shape_factor=st.floats(0.7, 0.95),
    barrier_below_drains=st.floats(0.5, 5.0),
    deep_seepage=st.floats(0.0, 100.0).map(lambda mm: mm * 0.001 / (365 * DAY)),
    infiltration=st.floats(5.0, 100.0).map(lambda mm: mm * MM_PER_DAY),
    surface_storage=st.floats(0.0, 0.03),
)
pipes = st.builds(
    FieldDrains,
    depth=st.floats(0.6, 1.5),
    spacing=st.floats(6.0, 40.0),
    laterals_capacity=st.floats(3.0, 30.0).map(lambda mm: mm * MM_PER_DAY),
    inlet_capacity=st.sampled_from([0.0, 2 * MM_PER_DAY, 50 * MM_PER_DAY]),
    main_capacity=st.floats(2.0, 30.0).map(lambda mm: mm * MM_PER_DAY),
)


@pytest.mark.law(of=(simulate_field,))
@FEW
@given(
    soil=soils,
    drains=pipes,
    wetness=st.floats(0.3, 3.0),
    height=st.floats(0.0, 1.6),
    share=st.floats(0.0, 1.0),
)
def test_any_field_balances_and_keeps_its_limits(soil, drains, wetness, height, share):
    weather = humid_weather(1, seed=3, wetness=wetness)
    run = simulate_field(weather, soil=soil, drains=drains, outlet_height=height, pool_share=share)
    assert abs(run.balance.error) < 1e-13
    flow = run.drain_flow
    assert flow.min() >= 0.0
    assert flow.max() <= drains.main_capacity * (1.0 + 1e-9)
    assert run.drain_depth.max() <= drains.laterals_capacity * DAY * (1.0 + 1e-9)
    for series in (run.runoff, run.pond, run.snow, run.deep_seepage, run.evapotranspiration):
        assert series.min() >= 0.0
    assert run.table_depth.max() <= drains.depth + soil.barrier_below_drains + 1e-9
    assert run.table_depth.min() >= -max(0.0, height * share - drains.depth) - 1e-9


@pytest.mark.law(of=(simulate_field,))
def test_more_rain_gives_no_less_of_anything_that_leaves():
    dry, wet = (simulate_field(humid_weather(3, wetness=wetness)) for wetness in (0.8, 1.2))
    assert wet.balance.drain_flow > dry.balance.drain_flow
    assert wet.balance.runoff >= dry.balance.runoff
    assert wet.balance.evapotranspiration >= dry.balance.evapotranspiration


@pytest.mark.law(of=(simulate_field,))
def test_a_raised_outlet_keeps_the_table_up_and_holds_water_back():
    low = simulate_field(WEATHER)
    high = simulate_field(WEATHER, outlet_height=0.6)
    half = simulate_field(WEATHER, outlet_height=0.6, pool_share=0.5)
    same = simulate_field(WEATHER, outlet_height=0.3)
    assert high.balance.drain_flow < half.balance.drain_flow < low.balance.drain_flow
    assert high.table_depth.mean() < half.table_depth.mean() < low.table_depth.mean()
    assert np.array_equal(half.drain_depth, same.drain_depth)
    assert high.days_of("held by outlet") > 0 == low.days_of("held by outlet")


@pytest.mark.law(of=(simulate_field,))
def test_a_ditch_beside_the_field_takes_water_from_the_drains():
    alone = simulate_field(WEATHER)
    beside = simulate_field(WEATHER, side=SideSeepage(0.5, 30.0, 200.0))
    assert beside.balance.side_seepage > 0.0 == alone.balance.side_seepage
    assert beside.balance.drain_flow < alone.balance.drain_flow


@pytest.mark.by_hand(of=(simulate_field,))
def test_snow_that_the_gauge_missed_is_added():
    frozen = dataclasses.replace(
        WEATHER,
        temperature_max=np.full(WEATHER.days, -4.0),
        temperature_min=np.full(WEATHER.days, -8.0),
    )
    run = simulate_field(frozen, cold=FieldCold(snow_undercatch=1.3))
    caught = math.fsum(WEATHER.precipitation)
    assert run.balance.snow_added == pytest.approx(0.3 * caught)
    # the first year runs twice, and its snow lies on
    first_year = math.fsum(WEATHER.precipitation[:365])
    assert run.snow[-1] == pytest.approx(1.3 * (caught + first_year))
    assert run.balance.drain_flow < 0.2 * caught


@pytest.mark.works(of=(replay_day,))
def test_a_replayed_day_names_its_values():
    run = simulate_field(WEATHER)
    replay = replay_day(run, datetime.date(1991, 5, 3))
    units = {name: unit for name, _, unit in replay.values}
    assert units["cold.frost"] == "degC-day"
    assert units["drained.flow"] == "m"
    assert units["outlet.capacity"] == "m/day"
    assert len(units) == len(replay.values)
    with pytest.raises(OutOfDomain, match="2005-01-01 is not in the weather"):
        replay_day(run, datetime.date(2005, 1, 1))
