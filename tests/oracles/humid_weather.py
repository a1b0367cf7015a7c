# SPDX-License-Identifier: Apache-2.0
"""Invented daily weather of a humid inland place, for tests: the same for the same seed.

Monthly means are round figures like those of the northern Corn Belt, set before any field was run
on them. A day is wet by a chain of first order, its depth a gamma, its temperature the month's mean
plus a swing that half remembers the day before.
"""

import datetime
import math

import numpy as np

from tilewater.hydrology.daily_weather import DailyWeather

RAIN_MM = (22, 24, 50, 88, 108, 122, 108, 106, 82, 64, 48, 32)
WET_SHARE = (0.22, 0.22, 0.28, 0.34, 0.37, 0.35, 0.31, 0.29, 0.28, 0.27, 0.25, 0.24)
MEAN_DEGC = (-7.5, -5.0, 1.8, 9.2, 15.6, 20.8, 22.8, 21.5, 17.2, 10.4, 2.4, -5.0)
SWING_DEGC = (6.0, 6.0, 5.5, 5.0, 4.2, 3.4, 2.8, 2.8, 4.0, 4.6, 5.2, 5.8)
HALF_RANGE_DEGC = (5.0, 5.0, 5.2, 5.8, 6.0, 5.8, 5.6, 5.6, 6.0, 6.0, 5.2, 4.8)
REMEMBERED = 0.65
"""Correlation of a day's temperature with that of the day before."""
GAMMA = 0.65
"""Shape of the depths of wet days: many small, few large."""
PERSISTENCE = 0.15
"""How much likelier rain is after a wet day than after a dry one, spread around the share."""


def humid_weather(years: int = 30, *, seed: int = 1, wetness: float = 1.0) -> DailyWeather:
    """Weather of some years from 1 January 1991."""
    first = datetime.date(1991, 1, 1)
    days = (datetime.date(1991 + years, 1, 1) - first).days
    rng = np.random.default_rng(seed)
    dates = np.datetime64(first, "D") + np.arange(days)
    month = dates.astype("datetime64[M]").astype(int) % 12
    length = np.array([31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
    share = np.array(WET_SHARE)
    depth = np.array(RAIN_MM) / (length * share) * wetness
    chances, noise = rng.random(days), rng.normal(size=days)
    amounts = rng.gamma(GAMMA, 1.0 / GAMMA, size=days)
    rain, swing = np.zeros(days), np.zeros(days)
    wet, kept = False, math.sqrt(1.0 - REMEMBERED**2)
    for day in range(days):
        p = share[month[day]]
        wet = chances[day] < p + PERSISTENCE * ((1.0 - p) if wet else -p)
        rain[day] = amounts[day] * depth[month[day]] if wet else 0.0
        swing[day] = REMEMBERED * (swing[day - 1] if day else 0.0) + kept * noise[day]
    mean = np.array(MEAN_DEGC)[month] + swing * np.array(SWING_DEGC)[month]
    half = np.array(HALF_RANGE_DEGC)[month]
    return DailyWeather(
        first_day=first,
        latitude=math.radians(42.5),
        elevation=350.0,
        precipitation=rain / 1000.0,
        temperature_max=mean + half,
        temperature_min=mean - half,
    )
