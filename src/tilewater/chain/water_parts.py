# SPDX-License-Identifier: Apache-2.0
"""What the daily model of a field is made of, from single values of a job.

The model itself is `hydrology.field`. A field that is run twice with the same values is run once
and remembered, since one edit of a job computes the whole chain again.
"""

import datetime
import math
from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.crops import Crop, crop_named
from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.ditch_shares import table_on_days
from tilewater.hydrology.ditch_stage import Days
from tilewater.hydrology.field import FieldRun, simulate_field
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil

Ordinals = NDArray[np.int64]

EPOCH = datetime.date(1970, 1, 1).toordinal()
"""Proleptic ordinal of the day from which numpy counts."""


def daily_weather(day: Days, latitude_deg: float, elevation: float, **series: Any) -> DailyWeather:
    """Daily weather of the field as the model takes it.

    Parameters
    ----------
    day : array of datetime64
        Every day from the first to the last. [-]
    latitude_deg : float
        Latitude, north positive. [deg]
    elevation : float
        Of the station above the sea. [m]
    **series : array or float
        Elements of the weather by their names, and the height of the wind gauge. [-]

    Returns
    -------
    DailyWeather
        Days without gaps. [-]

    Raises
    ------
    OutOfDomain
        If a value has no meaning.

    Notes
    -----
    weather(day), as recorded and filled    (derived)

    References
    ----------
    derived, elements put side by side
    """
    first: datetime.date = day[0].item()
    elements = tuple(
        (name, value if isinstance(value, float) else value.tobytes())
        for name, value in series.items()
    )
    return _weather(first, math.radians(latitude_deg), elevation, elements)


@lru_cache(maxsize=4)
def _weather(
    first: datetime.date,
    latitude: float,
    elevation: float,
    elements: tuple[tuple[str, float | bytes], ...],
) -> DailyWeather:
    given: dict[str, Any] = {
        name: value if isinstance(value, float) else np.frombuffer(value)
        for name, value in elements
    }
    return DailyWeather(first_day=first, latitude=latitude, elevation=elevation, **given)


def rotation_of(crops: tuple[str, ...], root_limit: float = math.inf) -> tuple[Crop, ...]:
    """Crops of the field, one a calendar year in turn.

    Parameters
    ----------
    crops : tuple of str
        Names, in their order. [-]
    root_limit : float
        Depth below which no root goes. [m]

    Returns
    -------
    tuple of Crop
        Crops with their stages, coefficients and roots. [-]

    Raises
    ------
    UnknownName
        If there is no such crop.

    Notes
    -----
    Z = min(Zmax, Zlimit)    (derived)

    References
    ----------
    derived, roots that stop at a layer
    """
    found = (crop_named(name) for name in crops)
    return tuple(replace(crop, root_depth=min(crop.root_depth, root_limit)) for crop in found)


def lateral_at_spot(station: float, drain: float) -> tuple[float, float]:
    """Place of a lateral along the main, and its elevation.

    Parameters
    ----------
    station : float
        Station of the spot. [m]
    drain : float
        Elevation of the lateral there. [m]

    Returns
    -------
    tuple of float
        Station and elevation. [m]

    Notes
    -----
    (station, drain)    (derived)

    References
    ----------
    derived, two values of a survey side by side
    """
    return station, drain


def pool_height(
    crest: float, start: float, end: float, slope: float, **laterals: tuple[float, float]
) -> float:
    """Water held in the laterals of the field above them, as a mean over all of them.

    Parameters
    ----------
    crest : float
        Elevation of the standing water at the structure. [m]
    start : float
        Station of the structure. [m]
    end : float
        Station of the upper end of the main. [m]
    slope : float
        Grade of the main. [-]
    **laterals : tuple of float
        Station and elevation of the laterals that are known. [m]

    Returns
    -------
    float
        Mean height; 0 where no lateral lies below the crest. [m]

    Raises
    ------
    OutOfDomain
        If the upper end is not above the structure, or no lateral is known.

    Notes
    -----
    E = 1/L integral of max(0, crest - z(x)) dx    (derived)

    Laterals lie evenly along the main. Their elevation is straight between those that are known and
    follows the grade of the main beyond them. The pool is level.

    References
    ----------
    derived, the share of laterals within the pool times the mean height over them
    """
    over = crest - _laterals_along(start, end, slope, laterals)
    return float(np.maximum(over, 0.0).mean())


def pool_share(
    crest: float, start: float, end: float, slope: float, **laterals: tuple[float, float]
) -> float:
    """Share of the laterals of the field that standing water reaches.

    Parameters
    ----------
    crest : float
        Elevation of the standing water at the structure. [m]
    start : float
        Station of the structure. [m]
    end : float
        Station of the upper end of the main. [m]
    slope : float
        Grade of the main. [-]
    **laterals : tuple of float
        Station and elevation of the laterals that are known. [m]

    Returns
    -------
    float
        Share of the length of main above the structure. [-]

    Raises
    ------
    OutOfDomain
        If the upper end is not above the structure, or no lateral is known.

    Notes
    -----
    p = length with z(x) < crest / L    (derived)

    References
    ----------
    derived, laterals that lie evenly along the main
    """
    over = crest - _laterals_along(start, end, slope, laterals)
    return float((over > 0.0).mean())


PLACES = 2000
"""Places along the main at which laterals are looked at; the mean is good to 0.1 percent."""


def _laterals_along(
    start: float, end: float, slope: float, laterals: dict[str, tuple[float, float]]
) -> Series:
    """Elevation of the laterals at places spread evenly along the main above the structure."""
    if not end > start:
        raise OutOfDomain(
            f"The upper end of the main lies at {end:.4g} m and the structure at {start:.4g} m. "
            "Laterals join above the structure. Check both stations."
        )
    if not laterals:
        raise OutOfDomain(
            "There is no place with the elevation of a lateral. At least one is needed. "
            "Shoot a spot of the field."
        )
    by_station: dict[float, float] = {}
    for station, drain in laterals.values():
        by_station[station] = min(drain, by_station.get(station, math.inf))
    stations = np.array(sorted(by_station))
    drains = np.array([by_station[station] for station in stations])
    x = start + (np.arange(PLACES) + 0.5) / PLACES * (end - start)
    between = np.interp(x, stations, drains)
    beyond = np.minimum(x - stations[0], 0.0) + np.maximum(x - stations[-1], 0.0)
    elevations: Series = between + slope * beyond
    return elevations


def outlet_by_day(weather: DailyWeather, table: Series, otherwise: float) -> Series:
    """Water held in the drains above them on each day of the weather.

    Parameters
    ----------
    weather : DailyWeather
        The record. [-]
    table : array of 366
        Height on each day of the year; not a number on days that no season has. [m]
    otherwise : float
        Height on the days of no season. [m]

    Returns
    -------
    array
        Heights. [m]

    Notes
    -----
    E(day) = E(season of the day)    (derived)

    References
    ----------
    derived, a table of the days
    """
    heights = table_on_days(weather.dates, table)
    return np.where(np.isnan(heights), otherwise, heights)


def field_run(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    outlet_height: float | Series,
    first_year: float | None = None,
) -> FieldRun:
    """The field day by day, from its weather to its drain flow.

    Parameters
    ----------
    weather : DailyWeather
        Days without gaps. [-]
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains and what they may carry. [-]
    cold : FieldCold
        Snow and frost. [-]
    rotation : tuple of Crop
        One crop a calendar year, in turn. [-]
    outlet_height : float or array
        Water that the outlet holds above the drains, as a mean over the laterals. [m]
    first_year : float or None
        A calendar year with the first crop; None for the first of the record. [years]

    Returns
    -------
    FieldRun
        Daily series and the water balance. [-]

    Raises
    ------
    OutOfDomain
        If the ground would leak faster than it can empty.

    Notes
    -----
    q = (8 Kb d m + 4 Ka m (m + 2 E)) / L^2, with the store of the table falling by q    (derived)

    One day is explained by --day beside --explain.

    References
    ----------
    derived, a daily water balance with Hooghoudt's drains in closed form
    """
    height = outlet_height if isinstance(outlet_height, float) else outlet_height.tobytes()
    return _run(weather, soil, drains, cold, rotation, height, first_year)


def field_run_range(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    outlet_height: float | Series,
    first_year: float | None = None,
) -> tuple[Any, ...]:
    """What the engineer must know of a run of the field."""
    run = field_run(weather, soil, drains, cold, rotation, outlet_height, first_year)
    return run.findings


@lru_cache(maxsize=32)
def _run(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    height: float | bytes,
    first_year: float | None,
) -> FieldRun:
    return simulate_field(
        weather,
        soil=soil,
        drains=drains,
        cold=cold,
        rotation=rotation,
        first_year=None if first_year is None else int(first_year),
        outlet_height=height if isinstance(height, float) else np.frombuffer(height),
    )


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
