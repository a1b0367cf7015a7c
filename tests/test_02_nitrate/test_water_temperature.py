# SPDX-License-Identifier: Apache-2.0
"""Temperature of drain water: the yearly wave, real days, and the heat equation beside them.

z depth, a diffusivity, d damping depth; air of the tests is a wave with spells that last.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import solve_banded

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.nitrate.water_temperature import (
    DAY,
    GROUND_SHARE,
    GROUND_WARMER,
    YEAR_DAYS,
    damping_depth,
    drain_water_temperature,
    drain_water_temperature_range,
    soil_temperature_wave,
)

YEAR = YEAR_DAYS * DAY
STEPS_A_DAY = 8
HEAT_EQUATION_K = 0.02
"""Error of the numerical solution, with 5 cm cells and steps of 3 hours."""


def air_of(years: int, *, mean: float = 9.0, swing: float = 15.0, seed: int = 4) -> np.ndarray:
    """A wave with spells that keep four fifths from day to day."""
    days = np.arange(round(years * YEAR_DAYS))
    noise = np.random.default_rng(seed).normal(size=days.size)
    spell = np.zeros(days.size)
    for day in range(1, days.size):
        spell[day] = 0.8 * spell[day - 1] + 2.5 * noise[day]
    return mean - swing * np.cos(2 * math.pi * (days - 20) / YEAR_DAYS) + spell


@pytest.mark.by_hand(of=(damping_depth, soil_temperature_wave))
@pytest.mark.parametrize(
    ("a", "z", "left", "lag"),
    [
        (0.5e-6, 1.1, ".61", "29"),
        (0.5e-6, 0.9, ".67", "23"),
        (0.5e-6, 1.5, ".51", "39"),
        (0.4e-6, 1.1, ".58", "32"),
        (0.8e-6, 1.1, ".68", "23"),
    ],
)
def test_wave_of_the_year_at_the_depth_of_drains(a: float, z: float, left: str, lag: str) -> None:
    d = math.sqrt(a * YEAR / math.pi)
    assert d == pytest.approx(damping_depth(a, period=YEAR), rel=1e-12)
    days = np.arange(0.0, 365.25, 0.01)
    soil = soil_temperature_wave(
        days, mean=0.0, amplitude=1.0, warmest_day=200.0, depth=z, diffusivity=a
    )

    assert printed(left) == soil.max()
    assert math.exp(-z / d) == pytest.approx(soil.max(), abs=1e-6)
    assert printed(lag) == days[soil.argmax()] - 200.0


@pytest.mark.by_hand(of=(soil_temperature_wave,))
@pytest.mark.parametrize(("day", "water"), [(91, "4.6"), (135, "9.1"), (181, "14.3")])
def test_wave_of_the_water_itself_at_depth_zero(day: int, water: str) -> None:
    coldest = 51
    shown = soil_temperature_wave(
        day, mean=10.0, amplitude=7.0, warmest_day=coldest + YEAR_DAYS / 2, depth=0.0
    )

    by_hand = 10 - 7 * math.cos(2 * math.pi * (day - coldest) / 365.25)
    assert by_hand == pytest.approx(shown, rel=1e-12)
    assert printed(water) == shown


@pytest.mark.oracle("scipy 1.17, heat equation in 5 cm cells", of=(drain_water_temperature,))
@pytest.mark.parametrize("z", [0.6, 1.1, 1.5])
def test_days_are_those_of_the_heat_equation(z: float) -> None:
    air, a, cell, cells = air_of(3), 0.5e-6, 0.05, 500
    ours = drain_water_temperature(air, depth=z, diffusivity=a, ground_warmer=0, ground_share=1)

    angle = 2 * math.pi * np.arange(air.size) / YEAR_DAYS
    basis = np.stack([np.ones(air.size), np.cos(angle), np.sin(angle)])
    (mean, c, s), *_ = np.linalg.lstsq(basis.T, air, rcond=None)
    departure = air - basis.T @ np.array([mean, c, s])

    def wave(day: float, depth: np.ndarray | float) -> np.ndarray:
        late = depth / math.sqrt(a * YEAR / math.pi)
        angle = 2 * math.pi * day / YEAR_DAYS - late
        return mean + np.exp(-late) * (c * np.cos(angle) + s * np.sin(angle))

    # Crank-Nicolson, half a cell inside the surface; the day of a mean begins half a day before.
    depth = cell * np.arange(1, cells + 1)
    step = DAY / STEPS_A_DAY
    r = 0.5 * a * step / cell**2
    bands = np.array([np.full(cells, -r), np.full(cells, 1 + 2 * r), np.full(cells, -r)])
    soil, at_noon = wave(-0.5, depth), []
    for day in range(air.size):
        for part in range(STEPS_A_DAY):
            now, then = day - 0.5 + part / STEPS_A_DAY, day - 0.5 + (part + 1) / STEPS_A_DAY
            top = wave(now, 0.0) + wave(then, 0.0) + 2 * departure[day]
            known = (1 - 2 * r) * soil
            known[1:] += r * soil[:-1]
            known[:-1] += r * soil[1:]
            known[0] += r * top
            known[-1] += 2 * r * mean
            soil = solve_banded((1, 1), bands, known)
            if part == STEPS_A_DAY // 2 - 1:
                at_noon.append(soil[round(z / cell) - 1])

    liquid = np.maximum(0.0, at_noon)
    assert np.abs(ours - liquid).max() < HEAT_EQUATION_K
    assert np.abs(departure).max() > 5.0  # the spells are there to be felt


@pytest.mark.law(of=(drain_water_temperature,))
@given(depth=st.floats(0.0, 2.5), mean=st.floats(12.0, 20.0))
def test_mean_of_the_ground_is_kept(depth: float, mean: float) -> None:
    days = np.arange(4 * 365.25)
    air = mean + 8.0 * np.sin(2 * math.pi * days / YEAR_DAYS)

    water = drain_water_temperature(air, depth=depth)

    assert mean + GROUND_WARMER == pytest.approx(water.mean(), abs=1e-9)


@pytest.mark.law(of=(drain_water_temperature,))
def test_deeper_drains_bring_steadier_and_later_water() -> None:
    days, depths = np.arange(6 * 365), (0.3, 0.8, 1.4, 2.0)
    air = 20.0 - 15.0 * np.cos(2 * math.pi * days / YEAR_DAYS)

    swings = [np.ptp(drain_water_temperature(air_of(6, mean=20.0), depth=z)) for z in depths]
    peaks = [int(drain_water_temperature(air, depth=z)[730:1095].argmax()) for z in depths]
    assert swings == sorted(swings, reverse=True)
    assert peaks == sorted(peaks)
    assert peaks[-1] > peaks[0] + 20


@pytest.mark.law(of=(drain_water_temperature,))
def test_drains_at_the_surface_feel_the_ground_of_the_day() -> None:
    air = air_of(2, mean=40.0)
    waves = np.stack(
        [f(2 * math.pi * np.arange(air.size) / YEAR_DAYS) for f in (np.ones_like, np.cos, np.sin)]
    )
    mean = np.linalg.lstsq(waves.T, air, rcond=None)[0][0]

    ground = mean + GROUND_WARMER + GROUND_SHARE * (air - mean)
    assert ground == pytest.approx(drain_water_temperature(air, depth=0.0), abs=1e-9)


@pytest.mark.law(of=(drain_water_temperature,))
def test_a_warm_spell_is_felt_afterwards_and_never_before() -> None:
    air = air_of(5, mean=25.0)
    waves = np.stack(
        [f(2 * math.pi * np.arange(air.size) / YEAR_DAYS) for f in (np.ones_like, np.cos, np.sin)]
    )
    spell = np.zeros(air.size)
    spell[900:910] = 10.0
    # What the fit of the wave would take of the spell is left to it, so that only the spell moves.
    spell -= waves.T @ np.linalg.lstsq(waves.T, spell, rcond=None)[0]
    felt = drain_water_temperature(air + spell, depth=1.0) - drain_water_temperature(air, depth=1.0)

    peak = int(felt.argmax())
    assert 905 < peak < 940
    assert 0.3 < felt[peak] < 3.0
    assert np.abs(felt[:900]).max() < 0.25 * felt[peak]


@pytest.mark.works(of=(drain_water_temperature, drain_water_temperature_range))
def test_frozen_ground_is_told() -> None:
    cold = drain_water_temperature(air_of(2, mean=-4.0), depth=0.5)

    (finding,) = drain_water_temperature_range(cold)

    frozen = int((cold == 0.0).sum())
    assert frozen > 100
    assert finding.message == (
        f"On {frozen} of {cold.size} days the soil at the drains would be colder than 0 degC; "
        "their water is taken as 0 degC. Check the depth of the drains and the unit of the air "
        "temperature."
    )
    assert drain_water_temperature_range(cold[cold > 0.0]) == ()


@pytest.mark.works(of=(drain_water_temperature,))
def test_records_that_cannot_be_used_are_refused() -> None:
    with pytest.raises(OutOfDomain, match=r"air_temperature is 200 days. It spans at least a year"):
        drain_water_temperature(np.zeros(200), depth=1.1)
    air = air_of(2)
    air[40] = math.nan
    with pytest.raises(OutOfDomain, match=r"air_temperature is nan degC"):
        drain_water_temperature(air, depth=1.1)
    with pytest.raises(OutOfDomain, match=r"depth is -1 m"):
        drain_water_temperature(air_of(2), depth=-1.0)
