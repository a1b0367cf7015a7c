# SPDX-License-Identifier: Apache-2.0
"""Ochsner, T. Rain or Shine, section 13.4, sub-surface soil temperatures (open textbook)."""

import math

import pytest

from tests.digits import printed
from tilewater.nitrate.water_temperature import damping_depth, soil_temperature_wave

DAY = 86400.0
DIFFUSIVITY = 0.50e-6  # m2/s


@pytest.mark.published("rainorshine", "figure 13-6, damping depth of a day", of=(damping_depth,))
def test_damping_depth_of_a_daily_wave() -> None:
    assert printed("11.7") == 100.0 * damping_depth(DIFFUSIVITY, period=DAY)


@pytest.mark.published("rainorshine", "text below eq. 13-5", of=(damping_depth,))
def test_a_year_reaches_nineteen_times_deeper_than_a_day() -> None:
    year = damping_depth(DIFFUSIVITY, period=365.0 * DAY)

    assert printed("19.1") == year / damping_depth(DIFFUSIVITY, period=DAY)


@pytest.mark.published(
    "rainorshine", "figure 13-6, 7 degrees at the surface", of=(soil_temperature_wave,)
)
def test_amplitude_at_ten_centimetres() -> None:
    # Our wave lasts a year; the depth that damps it as 10 cm damp a day is 19.1 times as large.
    depth = 0.10 * math.sqrt(365.25)
    warmest = soil_temperature_wave(
        100.0 + 365.25 * depth / damping_depth(DIFFUSIVITY, period=365.25 * DAY) / (2 * math.pi),
        mean=0.0,
        amplitude=7.0,
        warmest_day=100.0,
        depth=depth,
        diffusivity=DIFFUSIVITY,
    )

    assert printed("3") == warmest
