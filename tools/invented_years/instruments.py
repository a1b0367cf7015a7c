# SPDX-License-Identifier: Apache-2.0
"""What loggers and people with a tape made of it: drift, noise, gaps, ice, tops cut flat."""

from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from tools.invented_years.bed import FOOT, SILL_INLET, SILL_OUTLET
from tools.invented_years.site import Site, standard
from tools.invented_years.weather import HOURS, Floats, Random, wandering

DAY_S = 86400.0
NOISE_M, HAND_M = 0.0015, 0.003
DRIFT_M_PER_YEAR = 0.008
RANGE_M = 1.03
"""Of the sensor at the inlet; higher water reads as this."""
ICE_C = -9.0
VISIT_DAYS = 42


@dataclass(frozen=True)
class Stage:
    """A logger in a structure.

    Attributes
    ----------
    place : str
    time_s : array
        Universal. [s]
    over_sensor_m : array
        NaN where it failed. [m]
    sensor_m : float
        Elevation that it was levelled to. [m]
    checks : tuple of (time, elevation)
        Water read by hand. [s, m]
    frozen : array
        Where ice held it, which the logger does not know.
    """

    place: str
    time_s: Floats
    over_sensor_m: Floats
    sensor_m: float
    checks: tuple[tuple[float, float], ...]
    frozen: NDArray[np.bool_]


@dataclass(frozen=True)
class Instruments:
    """Both stages, and the temperature of the outlet. [degC]"""

    inlet: Stage
    outlet: Stage
    water_c: Floats
    air_kpa: Floats


def invent_instruments(site: Site, *, faults: bool = True) -> Instruments:
    """Readings of a site; without faults only noise is left."""
    random = np.random.default_rng((site.seed, 7))
    visits = _visits(random, site)
    icy = _ice(site) if faults else np.zeros(site.time_s.size, bool)
    inlet = _stage(
        random, site, "inlet", site.divided.level_inlet, SILL_INLET - 0.05, visits, icy, faults
    )
    outlet = _stage(
        random, site, "outlet", site.divided.level_outlet, SILL_OUTLET - 0.04, visits, icy, faults
    )
    air = 97.6 + np.repeat(
        wandering(random, site.time_s.size // (4 * HOURS) + 1, 0.8, 0.75), 4 * HOURS
    )
    warm = site.water_c + random.normal(0.0, 0.05, site.time_s.size)
    warm = np.where(icy, random.uniform(-0.5, -0.1, warm.size), warm)  # the sensor stands in ice
    return Instruments(inlet, outlet, warm, air[: site.time_s.size])


def _stage(
    random: Random,
    site: Site,
    place: str,
    level: Floats,
    sensor: float,
    visits: Floats,
    icy: NDArray[np.bool_],
    faults: bool,
) -> Stage:
    time = site.time_s
    read = level - sensor + random.normal(0.0, NOISE_M, time.size)
    checks = tuple(
        (float(at), float(np.interp(at, time, level) + random.normal(0.0, HAND_M))) for at in visits
    )
    if faults:
        read = read + _drift(random, time)
        read = np.where(icy, _in_ice(random, time, read, icy), read)
        if place == "inlet":
            read = np.minimum(read, RANGE_M)
        for start, days in _gaps(random, time):
            read[(time >= start) & (time < start + days * DAY_S)] = np.nan
    return Stage(place, time, read, sensor, checks, icy)


def _visits(random: Random, site: Site) -> Floats:
    """Days of visits: about every six weeks, a working day between nine and three."""
    found, at = [], float(site.time_s[0]) + 3.0 * DAY_S
    while at < site.time_s[-1]:
        day = standard(at).replace(hour=9, minute=0, second=0)
        while day.weekday() > 4:
            day += timedelta(days=1)
        shift = (day - standard(at)).total_seconds() + float(random.integers(0, 24)) * 900.0
        if at + shift < site.time_s[-1]:
            found.append(at + shift)
        at += (VISIT_DAYS + float(random.integers(-9, 10))) * DAY_S
    return np.array(found)


def _drift(random: Random, time: Floats) -> Floats:
    """An offset from the first day, and a creep that wanders without heed of any check."""
    days = int((time[-1] - time[0]) // DAY_S) + 2
    creep = np.cumsum(random.normal(0.0, DRIFT_M_PER_YEAR / np.sqrt(365.0), days))
    trend = random.normal(0.0, DRIFT_M_PER_YEAR) * np.arange(days) / 365.0
    offset = random.normal(0.0, 0.004)
    return offset + np.interp(time, time[0] + DAY_S * np.arange(days), creep + trend)


def _ice(site: Site) -> NDArray[np.bool_]:
    air = site.weather.air_c
    mean = np.convolve(air, np.ones(72) / 72.0, mode="same")
    return np.repeat(mean < ICE_C, site.time_s.size // air.size)


def _in_ice(random: Random, time: Floats, read: Floats, icy: NDArray[np.bool_]) -> Floats:
    """Under ice the reading jumps, creeps and loses its noise."""
    out, begins = read.copy(), np.flatnonzero(np.diff(icy.astype(int), prepend=0) == 1)
    for begin in begins:
        end = begin + int(np.argmin(icy[begin:])) if not icy[begin:].all() else icy.size
        jump, creep = random.uniform(0.01, 0.12), random.uniform(-0.02, 0.02)
        run = (time[begin:end] - time[begin]) / DAY_S
        out[begin:end] = np.round(read[begin] + jump + creep * run, 3)
    return out


def _gaps(random: Random, time: Floats) -> list[tuple[float, float]]:
    years = max(1, round((time[-1] - time[0]) / DAY_S / 365.0))
    count = int(random.poisson(1.2 * years))
    span = float(time[-1] - time[0])
    return [
        (float(time[0] + span * random.uniform()), float(random.gamma(1.2, 3.0)))
        for _ in range(count)
    ]


def feet(metres: Floats) -> Floats:
    """Metres as feet."""
    return metres / FOOT
