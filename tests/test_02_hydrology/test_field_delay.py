# SPDX-License-Identifier: Apache-2.0
"""Water on its way from the roots to the table, beside the flow that Richards gives for it."""

import dataclasses
import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from tests.oracles.humid_weather import humid_weather
from tests.oracles.wet_column import excess_after, steady_excess
from tests.test_02_hydrology.test_field_kernel import CASES
from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology._field_delay import DELAYED, MOST_SHARE, STEEPER, let_down
from tilewater.hydrology.field import simulate_field
from tilewater.hydrology.field_inputs import kernel_drains, kernel_soil
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil
from tilewater.hydrology.soil_water import percolation_time_gardner, upward_flux_factor_gardner

DAY = 86400.0
CLAY_LOAM = FieldSoil()
A = CLAY_LOAM.upward_flux_at_one_metre * DAY / upward_flux_factor_gardner(3.0)
"""Gardner's a of the default soil. [m4/day]"""
K = CLAY_LOAM.conductivity_above * DAY
C = CLAY_LOAM.loss_at_one_metre
SOIL = kernel_soil(CLAY_LOAM, FieldDrains(), FieldCold(), None)
DRAINS = kernel_drains(CLAY_LOAM, FieldDrains())


def time_of(way: float) -> float:
    """Mean delay in days."""
    days = percolation_time_gardner(
        way, suction_coefficient=A / DAY, conductivity=K / DAY, loss_per_metre=C
    )
    return float(days) / DAY


def after_days(transit: float, way: float, days: int) -> list[float]:
    """Water on its way after each day over a table that stays level with the drains."""
    left = []
    for _ in range(days):
        transit = let_down(transit, 0.0, DRAINS.depth - way, False, SOIL, DRAINS).transit
        left.append(transit)
    return left


@pytest.mark.by_hand(of=(percolation_time_gardner,))
def test_delay_of_a_metre_is_four_and_a_half_days():
    # A = (pi / (3 sin(pi / 3)))^3 = 1.7680, a = 0.001 / 1.7680 = 5.656e-4 m4/day
    # T = 0.05 (1 / (20 x 5.656e-4) + 1 / (2 x 0.5)) = 0.05 (88.40 + 1.00) = 4.470 days
    assert time_of(1.0) == pytest.approx(4.470, abs=0.0005)
    # half the way: 0.05 (88.40 / 32 + 1 / 4) = 0.151 days; two metres: 0.05 (2828.8 + 4) = 141.6
    assert time_of(0.5) == pytest.approx(0.151, abs=0.0005)
    assert time_of(2.0) == pytest.approx(141.6, abs=0.05)


@pytest.mark.law(of=(kernel_soil, percolation_time_gardner))
@pytest.mark.parametrize("way", [0.2, 0.7, 1.6])
def test_kernel_takes_the_delay_of_the_floor(way):
    passed = let_down(0.05, 0.0, DRAINS.depth - way, False, SOIL, DRAINS)
    assert passed.rise == pytest.approx(way)
    assert passed.time == pytest.approx(time_of(way))


@pytest.mark.oracle("scipy 1.17 solve_ivp, steady Richards", of=(percolation_time_gardner,))
@pytest.mark.parametrize("way", [0.3, 0.8, 1.5, 2.5])
def test_delay_is_what_a_weak_steady_flow_holds_over_its_flux(way):
    flux = 1e-4 * A / way**3
    held = steady_excess(flux, way, A, A / K, C)
    assert held / flux == pytest.approx(time_of(way), rel=1e-3)


@pytest.mark.oracle("scipy 1.17 solve_ivp, steady Richards", of=(let_down,))
@pytest.mark.parametrize("way", [0.8, 1.5, 2.5])
@pytest.mark.parametrize("scaled", [0.1, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0])
def test_flux_of_the_store_is_that_of_steady_flow_within_a_quarter(way, scaled):
    flux = scaled * A / way**3
    held = steady_excess(flux, way, A, 0.0, C)
    whole = C * way**2
    assert held <= MOST_SHARE * whole
    time = C * way**5 / (20.0 * A)
    assert held / time * (1.0 + STEEPER * held / whole) == pytest.approx(flux, rel=0.25)


@pytest.mark.oracle("scipy 1.17 solve_ivp", of=(let_down,))
@pytest.mark.parametrize(("way", "transit"), [(0.8, 0.006), (1.2, 0.010), (1.2, 0.0005), (2, 0.03)])
def test_a_day_of_the_store_is_its_own_equation_solved(way, transit):
    time, whole = time_of(way), C * way**2
    assert transit <= MOST_SHARE * whole

    def change(_, held):
        return -held / time * (1.0 + STEEPER * held / whole)

    solved = solve_ivp(change, (0.0, 1.0), [transit], rtol=1e-10, atol=1e-14)
    passed = let_down(transit, -0.010, DRAINS.depth + 0.2 - way, False, SOIL, DRAINS)
    assert passed.rise == pytest.approx(way)
    assert passed.transit == pytest.approx(solved.y[0, -1], rel=1e-7)
    assert passed.ground == pytest.approx(-0.010 + transit - passed.transit)
    assert passed.flags == DELAYED


@pytest.mark.oracle("scipy 1.17 solve_ivp, Richards in a column", of=(let_down,))
@pytest.mark.parametrize(
    ("way", "transit"), [(0.5, 0.001), (1.0, 0.001), (1.0, 0.005), (1.0, 0.02), (1.5, 0.02)]
)
def test_rain_on_a_column_arrives_as_richards_lets_it(way, transit):
    days = [1, 2, 3, 5, 10, 20, 40]
    column = excess_after(days, transit, way, A, A / K, C) / transit
    store = np.array(after_days(transit, way, 40))[np.array(days) - 1] / transit
    # a store lets some down at once where a front takes its time; later both agree
    assert np.abs(store - column).max() < 0.19
    assert np.abs(store - column)[4:].max() < 0.05


@pytest.mark.law(of=(let_down,))
def test_water_waits_only_where_there_is_a_way_and_suction_to_hold_it():
    root = DRAINS.depth - 1.0
    waits = let_down(0.004, 0.0, root, False, SOIL, DRAINS)
    assert 0.0 < waits.transit < 0.004
    assert waits.arrived + waits.transit == 0.004
    at_once = {
        "full ground": let_down(0.004, 0.0, root, True, SOIL, DRAINS),
        "table at the roots": let_down(0.004, 0.0, DRAINS.depth, False, SOIL, DRAINS),
        "no loss": let_down(0.004, 0.0, root, False, SOIL._replace(loss=0.0), DRAINS),
        "hardly any way": let_down(0.004, 0.0, DRAINS.depth - 0.01, False, SOIL, DRAINS),
    }
    for case, passed in at_once.items():
        assert (passed.arrived, passed.transit, passed.flags) == (0.004, 0.0, 0), case
    little = let_down(1e-7, 0.0, root, False, SOIL, DRAINS)
    assert (little.arrived, little.transit) == (1e-7, 0.0)
    much = let_down(0.04, 0.0, root, False, SOIL, DRAINS)
    most = let_down(MOST_SHARE * C, 0.0, root, False, SOIL, DRAINS)
    assert much.transit == pytest.approx(most.transit)


WITHOUT_DELAY = {
    "defaults": (1.0206294237166884, 2.3408011005432767, 2575.3595472434645),
    "tight soil": (0.49228355511559324, 2.356333791654264, 2335.3034906144153),
    "loose soil, small laterals": (1.0413469546900491, 2.3260848033066073, 2674.3332062955456),
    "raised outlet": (0.9546650509604353, 2.3415737675089723, 2368.6508917654637),
    "ditch beside": (0.9323941366857528, 2.3356083245408295, 2603.6116167019195),
    "hard winter, small grain": (0.6096173754509175, 2.5534137134862083, 2603.307860016686),
}
"""Drain flow, evapotranspiration and table depths summed, of the model before it had a delay."""


@pytest.mark.pinned(of=(simulate_field, let_down))
@pytest.mark.parametrize("case", WITHOUT_DELAY)
@pytest.mark.parametrize("name", ["loss_at_one_metre", "upward_flux_at_one_metre"])
def test_without_delay_the_field_is_what_it_was(case, name):
    given = CASES[case]
    soil = dataclasses.replace(given.get("soil", FieldSoil()), **{name: 0.0})
    run = simulate_field(humid_weather(4), **{**given, "soil": soil})
    assert run.days_of("delayed") == 0
    if name == "loss_at_one_metre":
        sums = [run.drain_depth.sum(), run.evapotranspiration.sum(), run.table_depth.sum()]
        assert sums == pytest.approx(WITHOUT_DELAY[case], rel=1e-12)


@pytest.mark.law(of=(simulate_field,))
def test_a_vanishing_delay_comes_to_none():
    weather = humid_weather(4)
    none, little, usual = (
        simulate_field(weather, soil=FieldSoil(loss_at_one_metre=loss))
        for loss in (0.0, 1e-7, FieldSoil().loss_at_one_metre)
    )
    assert np.abs(little.drain_depth - none.drain_depth).max() < 1e-5
    assert np.abs(usual.drain_depth - none.drain_depth).max() > 1e-3
    assert usual.balance.drain_flow == pytest.approx(none.balance.drain_flow, rel=0.05)
    assert usual.days_of("delayed") > 0


@pytest.mark.works(of=(percolation_time_gardner, FieldSoil))
def test_a_delay_without_meaning_is_refused():
    for name, value in (
        ("way", -1.0),
        ("suction_coefficient", 0.0),
        ("conductivity", 0.0),
        ("loss_per_metre", -0.1),
    ):
        given = {"suction_coefficient": 1e-9, "conductivity": 1e-5, "loss_per_metre": 0.05}
        with pytest.raises(OutOfDomain, match=f"{name} is {value:g}"):
            percolation_time_gardner(**{"way": 1.0, **given, name: value})
    with pytest.raises(OutOfDomain, match="loss_at_one_metre is 5"):
        FieldSoil(loss_at_one_metre=5.0)
    ways = np.array([0.0, 1.0])
    times = percolation_time_gardner(
        ways, suction_coefficient=A / DAY, conductivity=K / DAY, loss_per_metre=C
    )
    assert times[0] == 0.0
    assert math.isclose(times[1] / DAY, time_of(1.0))
