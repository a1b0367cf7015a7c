# SPDX-License-Identifier: Apache-2.0
"""Daily series of drain flow: their days, depths, flows and the air above them."""

import datetime

import numpy as np
from numpy.typing import NDArray

from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.ditch_stage import Days
from tilewater.hydrology.field import FieldRun

Ordinals = NDArray[np.int64]

EPOCH = datetime.date(1970, 1, 1).toordinal()
"""Proleptic ordinal of the day from which numpy counts."""


def days_of_weather(weather: DailyWeather) -> Ordinals:
    """Days of the weather, counted from 1 January of the year 1, which is 1.

    Parameters
    ----------
    weather : DailyWeather
        The record. [-]

    Returns
    -------
    array of int
        Days, each one more than the last. [-]

    Notes
    -----
    n = days since 1970-01-01 + 719163    (derived)

    References
    ----------
    derived, the calendar without a break
    """
    return weather.first_day.toordinal() + np.arange(weather.days, dtype=np.int64)


def days_of_record(day: Days) -> Ordinals:
    """Recorded days, counted from 1 January of the year 1, which is 1.

    Parameters
    ----------
    day : array of datetime64
        Days with a value. [-]

    Returns
    -------
    array of int
        Days. [-]

    Notes
    -----
    n = days since 1970-01-01 + 719163    (derived)

    References
    ----------
    derived, the calendar without a break
    """
    return day.astype("datetime64[D]").astype(np.int64) + EPOCH


def depth_of_run(run: FieldRun) -> Series:
    """Drain flow of each day over the drained area, from a run of the field.

    Parameters
    ----------
    run : FieldRun
        The field day by day. [-]

    Returns
    -------
    array
        Flow of laterals and inlets. [m/s]

    Notes
    -----
    q = q_laterals + q_inlets    (derived)

    References
    ----------
    derived, what the main carries
    """
    return run.drain_flow


def flow_of_run(run: FieldRun, area: float) -> Series:
    """Mean flow of each day at the diversion, from a run of the field.

    Parameters
    ----------
    run : FieldRun
        The field day by day. [-]
    area : float
        Area whose water reaches the diversion. [m2]

    Returns
    -------
    array
        Flow of each day. [m3/s]

    Notes
    -----
    Q = q A    (derived)

    References
    ----------
    derived, a depth over an area
    """
    flow: Series = run.drain_flow * area
    return flow


def air_on_days(day: Ordinals, weather: DailyWeather) -> Series:
    """Mean air temperature on the days of a series of flows.

    Parameters
    ----------
    day : array of int
        Days, counted from the year 1. [-]
    weather : DailyWeather
        The record. [-]

    Returns
    -------
    array
        Mean of the extremes of each day; not a number on days without weather. [degC]

    Notes
    -----
    T = (Tmax + Tmin) / 2    (allen1998, eq. 9)

    References
    ----------
    allen1998, eq. 9
    """
    number = day - weather.first_day.toordinal()
    inside = (number >= 0) & (number < weather.days)
    mean = weather.temperature[np.where(inside, number, 0)]
    return np.where(inside, mean, np.nan)
