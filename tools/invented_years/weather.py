# SPDX-License-Identifier: Apache-2.0
"""Rain in storms that come in spells, air and drain water with a season and a memory."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Random = np.random.Generator

HOURS = 24
YEAR_DAYS = 365.25
SPELL_MEMORY, SPELL_SPREAD = 0.82, 0.8
STORMS_PER_DAY = 0.30
"""In the middle of the year's course."""
MEAN_STORM_MM, MEAN_STORM_HOURS = 7.6, 6.0


@dataclass(frozen=True)
class Weather:
    """Hours of rain [mm], air and drain water [degC]."""

    rain_mm: Floats
    air_c: Floats
    water_c: Floats


def wandering(random: Random, count: int, memory: float, spread: float) -> Floats:
    """A series that forgets itself slowly, of a given spread about zero."""
    kicks = random.normal(0.0, spread * np.sqrt(1.0 - memory**2), count)
    value, out = float(random.normal(0.0, spread)), np.empty(count)
    for place, kick in enumerate(kicks):
        value = memory * value + kick
        out[place] = value
    return out


def invent_weather(random: Random, days: int, first_day_of_year: int = 0) -> Weather:
    """Weather of some days, hour by hour."""
    day = np.arange(days) + first_day_of_year
    season = np.cos(2.0 * np.pi * (day - 170.0) / YEAR_DAYS)  # largest in late June
    spell = np.exp(wandering(random, days, SPELL_MEMORY, SPELL_SPREAD) - 0.5 * SPELL_SPREAD**2)
    rain = np.zeros(days * HOURS)
    storms = random.poisson(STORMS_PER_DAY * (1.0 + 0.45 * season) * spell)
    for which in np.flatnonzero(storms):
        for _ in range(int(storms[which])):
            start = int(which) * HOURS + int(random.integers(HOURS))
            _rain_down(random, rain, start, float(season[which]))
    hour = np.arange(days * HOURS)
    daily = 8.8 + 15.5 * np.cos(2.0 * np.pi * (day - 200.0) / YEAR_DAYS)
    daily = daily + wandering(random, days, 0.75, 4.5)
    air = np.repeat(daily, HOURS) + 4.5 * np.cos(2.0 * np.pi * (hour % HOURS - 15) / HOURS)
    mean, swing = 9.8 + random.normal(0.0, 0.5), 6.3 + random.normal(0.0, 0.6)
    water = mean + swing * np.cos(2.0 * np.pi * (day - 232.0) / YEAR_DAYS)
    water = water + wandering(random, days, 0.95, 0.6)
    return Weather(rain, air, np.repeat(np.maximum(water, 0.4), HOURS))


def _rain_down(random: Random, rain: Floats, start: int, season: float) -> None:
    """Put one storm into the hours; summer storms are shorter and harder."""
    hours = 1 + int(random.gamma(2.0, MEAN_STORM_HOURS * (1.0 - 0.5 * season) / 2.0))
    depth = float(random.gamma(0.75, MEAN_STORM_MM * (1.0 + 0.3 * season) / 0.75))
    shares = random.dirichlet(np.full(hours, 0.9))
    stop = min(start + hours, rain.size)
    rain[start:stop] += depth * shares[: stop - start]
