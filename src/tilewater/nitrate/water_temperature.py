# SPDX-License-Identifier: Apache-2.0
"""Temperature of drain water day by day, from that of the air, through the soil over the drains.

Heat is led into the ground by conduction alone, in uniform soil without an end below. The yearly
wave of the air arrives later and smaller; so does every warm or cold spell. What water itself
carries down is left out: in the days of snowmelt real drain water is colder than told here.
"""

import math

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import (
    Number,
    refuse,
    require_finite,
    require_not_negative,
    require_positive,
)
from tilewater.basis.findings import Finding

Series = NDArray[np.float64]

DAY = 86400.0
YEAR_DAYS = 365.25
SOIL_DIFFUSIVITY = 0.5e-6
"""Of moist loam (rainorshine, worked figure); 0.4e-6 to 0.8e-6 is usual (practice). [m2/s]"""
GROUND_WARMER = 1.0
"""Mean of the ground's surface above that of the air (practice, 0 to 2). [K]"""
GROUND_SHARE = 0.9
"""Swing of the ground's surface over that of the air, for snow and shade (practice). [-]"""
FREEZING = 0.0
"""Drain water is liquid; colder soil holds its water back. [degC]"""


def damping_depth(diffusivity: Number, *, period: Number) -> Number:
    """Depth at which a wave of temperature has fallen to 37 percent.

    Parameters
    ----------
    diffusivity : float or array
        Of the soil, for heat. [m2/s]
    period : float or array
        Of the wave. [s]

    Returns
    -------
    float or array
        Depth below the surface. [m]

    Raises
    ------
    OutOfDomain
        If a value is not above zero.

    Notes
    -----
    d = sqrt(a P / pi)    (rainorshine, eq. 13-5)

    References
    ----------
    rainorshine, sec. 13.4
    """
    require_positive("diffusivity", diffusivity, "m2/s", "Use 0.5e-6 for moist loam")
    require_positive("period", period, "s", "Use 31557600 for a year")
    return np.sqrt(np.multiply(diffusivity, period) / math.pi)[()]


def soil_temperature_wave(
    day_of_year: Number,
    *,
    mean: float,
    amplitude: float,
    warmest_day: float,
    depth: Number,
    diffusivity: float = SOIL_DIFFUSIVITY,
) -> Number:
    """Temperature of the soil at a depth under a surface that follows a yearly wave.

    For a job that knows no weather; at depth 0 it is the wave itself.

    Parameters
    ----------
    day_of_year : float or array
        Day of the year, from 1. [-]
    mean : float
        Of the surface over the year. [degC]
    amplitude : float
        How far the surface rises above its mean. [K]
    warmest_day : float
        Day of the year on which the surface is warmest. [-]
    depth : float or array
        Below the surface. [m]
    diffusivity : float
        Of the soil, for heat. [m2/s]

    Returns
    -------
    float or array
        Temperature of the soil. [degC]

    Raises
    ------
    OutOfDomain
        If a depth or the amplitude is negative, or the diffusivity not above zero.

    Notes
    -----
    T = Tm + A exp(-z / d) cos(w (t - t0) - z / d)    (rainorshine, eq. 13-4)

    References
    ----------
    rainorshine, sec. 13.4
    """
    require_not_negative("amplitude", amplitude, "K", "Give half of highest less lowest")
    require_not_negative("depth", depth, "m", "Depth counts down")
    shallow = np.divide(depth, damping_depth(diffusivity, period=YEAR_DAYS * DAY))
    angle = 2.0 * math.pi * np.subtract(day_of_year, warmest_day) / YEAR_DAYS
    return (mean + amplitude * np.exp(-shallow) * np.cos(angle - shallow))[()]


def drain_water_temperature(
    air_temperature: Series,
    *,
    depth: float,
    diffusivity: float = SOIL_DIFFUSIVITY,
    ground_warmer: float = GROUND_WARMER,
    ground_share: float = GROUND_SHARE,
) -> Series:
    """Temperature of the drain water on each day of a record of air temperature.

    It is that of the soil at the depth of the drains, and never below freezing.

    Parameters
    ----------
    air_temperature : array of shape (days,)
        Mean of each day, no day missing, at least a year. [degC]
    depth : float
        Of the drains. [m]
    diffusivity : float
        Of the soil, for heat. [m2/s]
    ground_warmer : float
        Mean of the ground's surface above that of the air. [K]
    ground_share : float
        Swing of the ground's surface over that of the air. [-]

    Returns
    -------
    array of shape (days,)
        Temperature of the drain water. [degC]

    Raises
    ------
    OutOfDomain
        If the record is shorter than a year or a day is missing, the depth or share negative, or
        the diffusivity not above zero.

    Notes
    -----
    surface = Tm + warmer + share (air - Tm)    (practice)
    T = yearly wave of the surface, damped and late at z, + sum of w(k) (surface - wave)(day - k)
    w(k) = G(k + 1/2) - G(k - 1/2),  G(t) = erfc(z / (2 sqrt(a t)))    (carslaw1959)

    G is how far the soil at z has followed a step of the surface after t, so the sum is the exact
    solution for a surface that keeps its departure from the wave for a day at a time. Departures
    before the record count as none. Below 0 degC the value is 0: `drain_water_temperature_range`
    tells on how many days.

    Checked beside what Iowa beds are remembered to show: 2 to 5 degC in March, 7 to 10 in May, 14
    to 17 in August.

    References
    ----------
    carslaw1959, half space, step at the surface
    rainorshine, sec. 13.4
    practice, surface over air
    """
    air = np.asarray(air_temperature, dtype=np.float64)
    if air.size < YEAR_DAYS - 1.0:
        raise refuse(
            "air_temperature", float(air.size), "days", "It spans at least a year", "Give more days"
        )
    require_finite("air_temperature", air, "degC", "Fill missing days by a named rule")
    require_not_negative("depth", depth, "m", "Depth counts down")
    require_not_negative("ground_share", ground_share, "", "Use 0.9 if in doubt")
    angle = 2.0 * math.pi * np.arange(air.size) / YEAR_DAYS
    waves = np.stack([np.ones(air.size), np.cos(angle), np.sin(angle)])
    mean, in_phase, out_of_phase = np.linalg.solve(waves @ waves.T, waves @ air)
    departure = air - (mean + in_phase * waves[1] + out_of_phase * waves[2])
    late = depth / float(damping_depth(diffusivity, period=YEAR_DAYS * DAY))
    wave = in_phase * np.cos(angle - late) + out_of_phase * np.sin(angle - late)
    spells = _convolved(departure, _weights(air.size, depth, diffusivity))
    soil = mean + ground_warmer + ground_share * (math.exp(-late) * wave + spells)
    water: Series = np.maximum(soil, FREEZING)
    return water


def drain_water_temperature_range(temperature: Series) -> tuple[Finding, ...]:
    """Findings where the soil at the drains would freeze.

    Parameters
    ----------
    temperature : array of shape (days,)
        What `drain_water_temperature` returned. [degC]

    Returns
    -------
    tuple of Finding
        Empty when every day lies above freezing.
    """
    days = int(np.count_nonzero(np.asarray(temperature) <= FREEZING))
    if not days:
        return ()
    message = (
        f"On {days} of {np.size(temperature)} days the soil at the drains would be colder than "
        f"0 degC; their water is taken as 0 degC. Check the depth of the drains and the unit of "
        f"the air temperature."
    )
    return (
        Finding(
            "drain-water-at-freezing",
            "note",
            "temperature of the drain water",
            message,
            FREEZING,
            ">",
            FREEZING,
            "degC",
            "practice",
        ),
    )


def _weights(days: int, depth: float, diffusivity: float) -> Series:
    """How much of each day's departure is felt at the depth in the middle of a later day."""
    if depth == 0.0:
        now: Series = np.eye(1, days)[0]
        return now
    reach = depth / (2.0 * math.sqrt(diffusivity * DAY))
    ages = (np.arange(days) + 0.5).tolist()
    followed = np.array([math.erfc(reach / math.sqrt(age)) for age in ages])
    weights: Series = np.diff(followed, prepend=0.0)
    return weights


def _convolved(series: Series, weights: Series) -> Series:
    """Weighted sum of each day and the days before it."""
    size = 1 << (2 * series.size - 1).bit_length()
    product = np.fft.rfft(series, size) * np.fft.rfft(weights, size)
    summed: Series = np.fft.irfft(product, size)[: series.size]
    return summed
