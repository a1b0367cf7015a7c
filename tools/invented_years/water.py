# SPDX-License-Identifier: Apache-2.0
"""Drain flow out of a bucket of soil and two linear stores, and the nitrate that it carries.

The fast store carries what lies loose in the topsoil and is washed out of it, so that the same
flow has more nitrate while it rises than while it falls.
"""

from dataclasses import dataclass

import numpy as np

from tools.invented_years.weather import HOURS, YEAR_DAYS, Floats, Random, Weather, wandering

AREA_M2 = 62 * 4046.8564224
MOST_M3_S = 0.0263
"""The main runs full."""
BUCKET_MM = 95.0
FAST_HOURS, SLOW_HOURS = 26.0, 17.0 * 24.0
FAST_SHARE = 0.42
MELT_MM_PER_DEGREE_HOUR = 0.11
PIPE_HOURS = 3.0


@dataclass(frozen=True)
class Drained:
    """Hours of drain flow [m3/s] and of its nitrate [mg/L]."""

    flow: Floats
    nitrate: Floats


def invent_water(random: Random, weather: Weather, first_day_of_year: int = 0) -> Drained:
    """Drain flow and nitrate of some weather, hour by hour."""
    hours = weather.rain_mm.size
    day = np.arange(hours) / HOURS + first_day_of_year
    fast, slow = _stores(random, weather, day)
    from_slow = (
        14.6 * np.exp(random.normal(0.0, 0.08))
        + 1.9 * np.cos(2.0 * np.pi * (day - 150.0) / YEAR_DAYS)
        + np.repeat(wandering(random, hours // HOURS, 0.97, 1.1), HOURS)
    )
    from_fast = _washed(random, fast, day)
    total = fast + slow
    with np.errstate(invalid="ignore", divide="ignore"):
        mixed = np.where(total > 0.0, (fast * from_fast + slow * from_slow) / total, np.nan)
    nitrate = _through_pipes(mixed, 1.0 / PIPE_HOURS)
    rough = wandering(random, hours, 0.93, 0.045)
    flow = total * AREA_M2 / 3.6e6  # mm/h over the area
    return Drained(np.minimum(flow, MOST_M3_S), np.maximum(nitrate * np.exp(rough), 0.05))


def _stores(random: Random, weather: Weather, day: Floats) -> tuple[Floats, Floats]:
    """Outflow of the fast and of the slow store. [mm/h]"""
    hours = weather.rain_mm.size
    wanted = np.maximum(0.0, 0.083 * (1.0 + np.cos(2.0 * np.pi * (day - 196.0) / YEAR_DAYS)))
    most = MOST_M3_S * 3.6e6 / AREA_M2
    soil, snow, fast, slow = BUCKET_MM * random.uniform(0.6, 0.9), 0.0, 0.0, 18.0
    out_fast, out_slow = np.zeros(hours), np.zeros(hours)
    rain, air = weather.rain_mm, weather.air_c
    for hour in range(hours):
        if air[hour] < -0.5:
            snow, water = snow + rain[hour], 0.0
        else:
            melt = min(snow, MELT_MM_PER_DEGREE_HOUR * max(air[hour], 0.0))
            snow, water = snow - melt, rain[hour] + melt
        dry = min(1.0, soil / (0.6 * BUCKET_MM))
        soil += water - wanted[hour] * dry
        # the slow store gives to thirsty soil from below
        lifted = min(slow, 0.35 * wanted[hour] * (1.0 - soil / BUCKET_MM)) if soil > 0 else 0.0
        soil, slow = soil + lifted, slow - lifted
        over = max(soil - BUCKET_MM, 0.0) + 0.0009 * max(soil - 0.75 * BUCKET_MM, 0.0)
        soil -= over
        fast += FAST_SHARE * over
        slow += (1.0 - FAST_SHARE) * over
        s = max(slow - 4.0, 0.0) / SLOW_HOURS
        f = min(fast / FAST_HOURS, max(most - s, 0.0))  # what the main cannot take waits
        fast, slow = fast - f, slow - s - 0.0006 * slow
        out_fast[hour], out_slow[hour] = (f, s) if f + s > 4e-4 else (0.0, 0.0)
    return out_fast, out_slow


def _washed(random: Random, fast: Floats, day: Floats) -> Floats:
    """Nitrate of the fast water: a pool that the seasons fill and the water empties. [mg/L]"""
    season = np.exp(-0.5 * ((day % YEAR_DAYS - 140.0) / 38.0) ** 2)  # after spreading
    fill = 0.0035 + 0.011 * season * np.exp(random.normal(0.0, 0.25))
    pool, out = 0.6, np.empty(fast.size)
    for hour in range(fast.size):
        pool += fill[hour] * (1.0 - pool) - 0.16 * fast[hour] * pool
        out[hour] = 4.5 + 21.0 * pool
    return out


def _through_pipes(mixed: Floats, share: float) -> Floats:
    """What comes out of long drains: late and smoothed; the last of it stays while none flows."""
    first = mixed[np.isfinite(mixed)]
    value, out = float(first[0]) if first.size else 10.0, np.empty(mixed.size)
    for hour, now in enumerate(mixed):
        if now == now:
            value += share * (now - value)
        out[hour] = value
    return out
