# SPDX-License-Identifier: Apache-2.0
"""A falling water table: closed forms against integrations, and the flow of a drying field."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tests.digits import printed
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydraulics.groundwater import (
    drain_flux_hooghoudt,
    drain_flux_kirkham_ponded,
    equivalent_depth_moody,
)
from tilewater.hydrology._field_drain import (
    HELD,
    Drained,
    Drains,
    Outlet,
    drain_freely,
    drain_in_phases,
    outlet_at,
    table_height,
)
from tilewater.hydrology.drawdown import (
    SHAPE_GLOVER,
    SHAPE_VAN_SCHILFGAARDE,
    drawdown_time_van_schilfgaarde,
    spacing_glover_dumm,
    water_height_after_hooghoudt,
)
from tilewater.hydrology.field_inputs import kernel_drains
from tilewater.hydrology.field_parts import FieldDrains, FieldSoil

DAY = 86400.0
MM_PER_DAY = 0.001 / DAY
SUB_STEPPED = 1e-6
"""How closely a closed form follows its own equation integrated in small steps."""

FLOW_OF_A_DAY, LITTLE_FLOW = 0.09, 0.0002
"""How far the flow of a day may lie from the flow equation, as a share or in m."""
FLOW_IN_ALL = 0.01
"""How far the flow of two weeks may lie from it, as a share."""
TABLE = 0.03
"""How far the table midway may lie from it. [m]"""

SOIL = FieldSoil()
OPEN = FieldDrains(spacing=15.0, main_capacity=1.0)
TILED = {
    "spacing": 15.0,
    "equivalent_depth": 0.7758,
    "conductivity_below": 0.5 / DAY,
    "conductivity_above": 0.5 / DAY,
}


def drained(ground: float, pond: float, outlet: Outlet, drains: Drains) -> Drained:
    """A day by the path that the kernel takes."""
    if ground > outlet.ground_free:
        return drain_in_phases(ground, pond, True, outlet, drains)
    return drain_freely(ground, pond, outlet, drains)


def hooghoudt(height: float, outlet_height: float) -> float:
    """Flux in m/day by the function of the floor below."""
    flux = drain_flux_hooghoudt(
        height,
        outlet_height=outlet_height,
        spacing=OPEN.spacing,
        equivalent_depth=equivalent_depth_moody(
            SOIL.barrier_below_drains, OPEN.spacing, radius=OPEN.radius
        ),
        conductivity_below=SOIL.conductivity_below,
        conductivity_above=SOIL.conductivity_above,
    )
    return float(flux) * DAY


def kirkham(pond: float, outlet_height: float) -> float:
    """Flux in m/day by the function of the floor below."""
    flux = drain_flux_kirkham_ponded(
        pond,
        outlet_height=outlet_height,
        drain_depth=OPEN.depth,
        barrier_depth=OPEN.depth + SOIL.barrier_below_drains,
        spacing=OPEN.spacing,
        radius=OPEN.radius,
        conductivity=SOIL.conductivity_above,
    )
    return float(flux) * DAY


def integrated(
    ground: float, pond: float, outlet_height: float, capacity: float
) -> tuple[float, float]:
    """Ground and pond after a day, each phase integrated to its end by a general solver."""
    wedge, full = SOIL.drainable_porosity * SOIL.shape_factor, SOIL.drainable_porosity * OPEN.depth
    base = SOIL.drainable_porosity * outlet_height
    at_surface = base + wedge * (OPEN.depth - outlet_height)
    time = 0.0

    def run(rate, start, target):
        def reached(_, y):
            return y[0] - target

        reached.terminal = True
        return solve_ivp(
            lambda _, y: [-min(capacity, rate(y[0]))],
            (time, 1.0),
            [start],
            rtol=1e-11,
            atol=1e-14,
            events=reached,
            max_step=0.01,
        )

    if pond > 0.0 and ground >= full - 1e-12:
        done = run(lambda y: kirkham(max(y, 0.0), outlet_height), pond, 0.0)
        pond, time = max(0.0, done.y[0, -1]), done.t[-1]
    if time < 1.0 and ground > at_surface:
        done = run(lambda _: hooghoudt(OPEN.depth, outlet_height), ground, at_surface)
        ground, time = done.y[0, -1], done.t[-1]
    if time < 1.0:
        done = run(
            lambda y: hooghoudt(outlet_height + (y - base) / wedge, outlet_height), ground, -1.0
        )
        ground = done.y[0, -1]
    return ground, pond


@pytest.mark.oracle("scipy solve_ivp, phase by phase", of=(drain_in_phases, drain_freely))
@pytest.mark.parametrize("capacity", [math.inf, 0.030, 0.012, 0.004])
@pytest.mark.parametrize("outlet_height", [0.0, 0.3, 0.8])
@pytest.mark.parametrize(("share", "pond"), [(0.3, 0.0), (0.8, 0.0), (0.95, 0.0), (1.0, 0.012)])
def test_a_day_of_drains_follows_its_equations(capacity, outlet_height, share, pond):
    drains = kernel_drains(SOIL, OPEN)
    outlet = outlet_at(outlet_height, capacity, drains)
    ground = share * SOIL.drainable_porosity * OPEN.depth
    day = drained(ground, pond, outlet, drains)
    left, ponded = integrated(ground, pond, outlet_height, capacity)
    if ground <= drains.porosity * outlet_height:
        assert day.flow == 0.0
        assert day.flags == (HELD if outlet_height > 0.0 and ground > 0.0 else 0)
    else:
        assert day.ground == pytest.approx(left, rel=SUB_STEPPED)
        assert day.pond == pytest.approx(ponded, rel=SUB_STEPPED, abs=1e-12)
        assert day.flow == pytest.approx(ground + pond - left - ponded, rel=SUB_STEPPED)


@pytest.mark.law(of=(drain_in_phases, drain_freely))
@given(
    share=st.floats(0.01, 1.0),
    pond=st.floats(0.0, 0.02),
    low=st.floats(0.0, 1.2),
    rise=st.floats(0.0, 0.5),
    capacity=st.floats(1e-4, 0.05),
)
def test_a_higher_outlet_or_a_smaller_pipe_never_drains_more(share, pond, low, rise, capacity):
    drains = kernel_drains(SOIL, OPEN)
    ground = share * SOIL.drainable_porosity * OPEN.depth
    pond = pond if share == 1.0 else 0.0
    here = drained(ground, pond, outlet_at(low, capacity, drains), drains)
    higher = drained(ground, pond, outlet_at(low + rise, capacity, drains), drains)
    narrower = drained(ground, pond, outlet_at(low, 0.5 * capacity, drains), drains)
    assert higher.flow <= here.flow + 1e-12
    assert narrower.flow <= here.flow + 1e-12
    assert here.flow <= capacity * (1.0 + 1e-12)
    assert here.flow + here.ground + here.pond == pytest.approx(ground + pond, abs=1e-16)


@pytest.mark.law(of=(table_height,))
def test_table_is_level_at_the_outlet_and_reaches_the_ground():
    drains = kernel_drains(SOIL, OPEN)
    outlet = outlet_at(0.4, math.inf, drains)
    assert table_height(drains.porosity * 0.4, outlet, drains) == pytest.approx(0.4)
    assert table_height(drains.porosity * OPEN.depth, outlet, drains) == OPEN.depth
    below = table_height(-0.01, outlet, drains)
    assert below == pytest.approx(-0.01 / SOIL.drainable_porosity)


@pytest.mark.law(of=(water_height_after_hooghoudt, drain_freely))
@pytest.mark.parametrize("outlet_height", [0.0, 0.5])
def test_kernel_and_closed_form_fall_alike(outlet_height):
    drains = kernel_drains(SOIL, OPEN)
    outlet = outlet_at(outlet_height, math.inf, drains)
    height = 1.0
    ground = outlet.ground + drains.wedge * (height - outlet_height)
    left = drained(ground, 0.0, outlet, drains).ground - outlet.ground
    depth = float(
        equivalent_depth_moody(SOIL.barrier_below_drains, OPEN.spacing, radius=OPEN.radius)
    )
    closed = water_height_after_hooghoudt(
        height,
        DAY,
        outlet_height=outlet_height,
        spacing=OPEN.spacing,
        equivalent_depth=depth,
        conductivity_below=SOIL.conductivity_below,
        conductivity_above=SOIL.conductivity_above,
        drainable_porosity=SOIL.drainable_porosity,
        shape_factor=SOIL.shape_factor,
    )
    assert closed == pytest.approx(outlet_height + left / drains.wedge, rel=1e-12)


@pytest.mark.oracle("1000 sub-steps of Runge and Kutta", of=(water_height_after_hooghoudt,))
@pytest.mark.parametrize("outlet_height", [0.0, 0.4])
@pytest.mark.parametrize("equivalent_depth", [0.0, 0.7758])
@pytest.mark.parametrize("days", [0.5, 3.0, 15.0])
def test_closed_form_follows_its_equation(outlet_height, equivalent_depth, days):
    tiled = {**TILED, "equivalent_depth": equivalent_depth}

    def fall(height):
        return -drain_flux_hooghoudt(height, outlet_height=outlet_height, **tiled) / (0.05 * 0.85)

    height, step = 1.1, days * DAY / 1000
    for _ in range(1000):
        k1 = fall(height)
        k2 = fall(height + 0.5 * step * k1)
        k3 = fall(height + 0.5 * step * k2)
        k4 = fall(height + step * k3)
        height += step * (k1 + 2 * k2 + 2 * k3 + k4) / 6
    closed = water_height_after_hooghoudt(
        1.1,
        days * DAY,
        outlet_height=outlet_height,
        drainable_porosity=0.05,
        shape_factor=0.85,
        **tiled,
    )
    assert closed == pytest.approx(height, rel=SUB_STEPPED)


@pytest.mark.law(of=(water_height_after_hooghoudt, drawdown_time_van_schilfgaarde))
def test_van_schilfgaarde_is_the_closed_form_with_its_shape():
    soil = {"equivalent_depth": 0.7758, "drainable_porosity": 0.05}
    time = drawdown_time_van_schilfgaarde(1.0, 0.5, spacing=15.0, conductivity=0.5 / DAY, **soil)
    height = water_height_after_hooghoudt(
        1.0, time, shape_factor=SHAPE_VAN_SCHILFGAARDE, drainable_porosity=0.05, **TILED
    )
    assert height == pytest.approx(0.5, rel=1e-12)


@pytest.mark.law(of=(water_height_after_hooghoudt, spacing_glover_dumm))
def test_glover_is_the_closed_form_of_a_low_table_with_its_shape():
    low, lower, time = 2e-6, 1e-6, 3 * DAY
    spacing = spacing_glover_dumm(
        low,
        lower,
        time,
        equivalent_depth=0.7758,
        conductivity=0.5 / DAY,
        drainable_porosity=0.05,
        first_shape=1.0,
    )
    height = water_height_after_hooghoudt(
        low,
        time,
        shape_factor=SHAPE_GLOVER,
        drainable_porosity=0.05,
        **{**TILED, "spacing": spacing},
    )
    assert height == pytest.approx(lower, rel=1e-5)


@pytest.mark.by_hand(of=(spacing_glover_dumm,))
@pytest.mark.parametrize(("shape", "expected"), [(1.16, "17.30"), (1.27, "16.44")])
def test_spacing_for_half_a_metre_in_two_days(shape, expected):
    spacing = spacing_glover_dumm(
        1.0,
        0.5,
        2 * DAY,
        equivalent_depth=0.7758,
        conductivity=0.5 / DAY,
        drainable_porosity=0.05,
        first_shape=shape,
    )
    by_hand = math.pi * math.sqrt(0.5 * (0.7758 + 0.5) * 2 / (0.05 * math.log(shape / 0.5)))
    assert spacing == pytest.approx(by_hand)
    assert printed(expected) == spacing


@pytest.mark.by_hand(of=(drawdown_time_van_schilfgaarde,))
def test_same_fall_at_15_m_takes_a_day_and_a_half():
    time = drawdown_time_van_schilfgaarde(
        1.0,
        0.5,
        spacing=15.0,
        equivalent_depth=0.7758,
        conductivity=0.5 / DAY,
        drainable_porosity=0.05,
    )
    ratio = 1.0 * (2 * 0.7758 + 0.5) / (0.5 * (2 * 0.7758 + 1.0))
    assert time / DAY == pytest.approx(0.05 * 225 * math.log(ratio) / (9 * 0.5 * 0.7758))
    assert printed("1.531") == time / DAY
    # and two days at 17.145 m, since time grows with the square of the spacing
    assert 15.0 * math.sqrt(2.0 / (time / DAY)) == pytest.approx(17.145, abs=0.001)


@pytest.mark.works(
    of=(water_height_after_hooghoudt, drawdown_time_van_schilfgaarde, spacing_glover_dumm)
)
def test_what_has_no_meaning_is_refused():
    with pytest.raises(OutOfDomain, match="time is -1 s"):
        water_height_after_hooghoudt(1.0, -1.0, drainable_porosity=0.05, shape_factor=0.85, **TILED)
    with pytest.raises(NoSolution, match="height_last is 2 m"):
        drawdown_time_van_schilfgaarde(
            1.0,
            2.0,
            spacing=15.0,
            equivalent_depth=0.8,
            conductivity=1e-5,
            drainable_porosity=0.05,
        )
    with pytest.raises(NoSolution, match="height_last is 1 m"):
        spacing_glover_dumm(
            1.0, 1.0, DAY, equivalent_depth=0.8, conductivity=1e-5, drainable_porosity=0.05
        )


def boussinesq(days: int, outlet_height: float, start: float) -> tuple[np.ndarray, np.ndarray]:
    """Stored water [m] and table midway [m] of a drying field at each midnight, by finite volumes.

    f dh/dt = d/dx (K (d + h) dh/dx) over half a spacing, the table held at the outlet level at the
    drain and level midway; the ground below the drains counts with its equivalent depth, as in
    Hooghoudt. It starts as the steady table of even rain, an ellipse.
    """
    conductivity, porosity, cells = SOIL.conductivity_above * DAY, SOIL.drainable_porosity, 120
    depth = float(
        equivalent_depth_moody(SOIL.barrier_below_drains, OPEN.spacing, radius=OPEN.radius)
    )
    half = OPEN.spacing / 2
    step = half / cells
    centre = (np.arange(cells) + 0.5) * step
    low, high = depth + outlet_height, depth + start
    first = np.sqrt(low**2 + (high**2 - low**2) * (1 - ((half - centre) / half) ** 2)) - depth

    def rate(_, h):
        inner = conductivity * (depth + 0.5 * (h[1:] + h[:-1])) * np.diff(h) / step
        fall = (h[0] - outlet_height) / (0.5 * step)
        at_drain = conductivity * (depth + 0.5 * (h[0] + outlet_height)) * fall
        return np.diff(np.concatenate([[at_drain], inner, [0.0]])) / (porosity * step)

    solved = solve_ivp(
        rate,
        (0, days),
        first,
        method="LSODA",
        t_eval=np.arange(days + 1),
        lband=1,
        uband=1,
        rtol=1e-8,
        atol=1e-10,
    )
    return porosity * step * solved.y.sum(axis=0) / half, solved.y[-1]


@pytest.mark.oracle("finite volumes of Boussinesq with scipy", of=(drain_freely, table_height))
@pytest.mark.parametrize("outlet_height", [0.0, 0.5])
def test_flow_of_a_drying_field_is_that_of_the_flow_equation(outlet_height):
    """From the same stored water; one number each for shape and arch is all that is allowed."""
    days = 14
    stored, midway = boussinesq(days, outlet_height, 1.0)
    exact = -np.diff(stored)
    drains = kernel_drains(SOIL, OPEN)
    outlet = outlet_at(outlet_height, math.inf, drains)
    ground, ours, tables = stored[0], [], []
    for _ in range(days):
        day = drained(ground, 0.0, outlet, drains)
        ground = day.ground
        ours.append(day.flow)
        tables.append(table_height(ground, outlet, drains))
    assert np.array(ours) == pytest.approx(exact, rel=FLOW_OF_A_DAY, abs=LITTLE_FLOW)
    assert sum(ours) == pytest.approx(exact.sum(), rel=FLOW_IN_ALL)
    assert np.array(tables) == pytest.approx(midway[1:], abs=TABLE)
