# SPDX-License-Identifier: Apache-2.0
"""What the daily model of a field is made of, from single values of a job.

The model itself is `hydrology.field`. A field that is run twice with the same values is run once
and remembered, since one edit of a job computes the whole chain again. The few runs of one job use
the readable twin of the kernel: thirty years take it less time than loading the compiler, and it
gives the same numbers. A job that is held open and asked again and again uses the compiled one.
"""

import datetime
import math
from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.hydrology.crops import Crop, crop_named
from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.ditch_stage import Days
from tilewater.hydrology.field import FieldRun, simulate_field, simulate_field_range
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil


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
    return _run(weather, soil, drains, cold, rotation, _frozen(outlet_height), first_year)


def field_run_compiled(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    outlet_height: float | Series,
    first_year: float | None = None,
) -> FieldRun:
    """The field day by day, from its weather to its drain flow, compiled.

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
        As `field_run`. [-]

    Raises
    ------
    OutOfDomain
        If the ground would leak faster than it can empty.

    Notes
    -----
    the run of `field_run`    (derived)

    References
    ----------
    derived, the same days
    """
    height = _frozen(outlet_height)
    return _run(weather, soil, drains, cold, rotation, height, first_year, is_compiled=True)


def field_run_range(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    outlet_height: float | Series,
    first_year: float | None = None,
) -> tuple[Finding, ...]:
    """Findings of a run of the field.

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
    tuple of Finding
        What lies outside its usual range, and how plants were computed. [-]
    """
    return simulate_field_range(weather, soil, drains, cold)


def spot_run(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    outlet_height: float | Series,
    first_year: float | None = None,
) -> FieldRun:
    """The field day by day, as if all of it lay like one spot.

    Parameters
    ----------
    weather : DailyWeather
        Days without gaps. [-]
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains, as deep as at the spot. [-]
    cold : FieldCold
        Snow and frost. [-]
    rotation : tuple of Crop
        One crop a calendar year, in turn. [-]
    outlet_height : float or array
        Water that the outlet holds above the lateral at the spot. [m]
    first_year : float or None
        A calendar year with the first crop; None for the first of the record. [years]

    Returns
    -------
    FieldRun
        Daily series. [-]

    Raises
    ------
    OutOfDomain
        If the ground would leak faster than it can empty.

    Notes
    -----
    q = (8 Kb d m + 4 Ka m (m + 2 E)) / L^2, with the store of the table falling by q    (derived)

    References
    ----------
    derived, a daily water balance with Hooghoudt's drains in closed form
    """
    return _run(weather, soil, drains, cold, rotation, _frozen(outlet_height), first_year)


def spot_run_compiled(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    outlet_height: float | Series,
    first_year: float | None = None,
) -> FieldRun:
    """The field day by day, as if all of it lay like one spot, compiled.

    Parameters
    ----------
    weather : DailyWeather
        Days without gaps. [-]
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains, as deep as at the spot. [-]
    cold : FieldCold
        Snow and frost. [-]
    rotation : tuple of Crop
        One crop a calendar year, in turn. [-]
    outlet_height : float or array
        Water that the outlet holds above the lateral at the spot. [m]
    first_year : float or None
        A calendar year with the first crop; None for the first of the record. [years]

    Returns
    -------
    FieldRun
        As `spot_run`. [-]

    Raises
    ------
    OutOfDomain
        If the ground would leak faster than it can empty.

    Notes
    -----
    the run of `spot_run`    (derived)

    References
    ----------
    derived, the same days
    """
    height = _frozen(outlet_height)
    return _run(weather, soil, drains, cold, rotation, height, first_year, is_compiled=True)


def _frozen(height: float | Series) -> float | bytes:
    """A height by which a run is remembered; a series of one value is that value."""
    if isinstance(height, float):
        return height
    first = float(height[0])
    return first if bool(np.all(height == first)) else height.tobytes()


@lru_cache(maxsize=32)
def _run(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    height: float | bytes,
    first_year: float | None,
    *,
    is_compiled: bool = False,
) -> FieldRun:
    return simulate_field(
        weather,
        soil=soil,
        drains=drains,
        cold=cold,
        rotation=rotation,
        first_year=None if first_year is None else int(first_year),
        outlet_height=height if isinstance(height, float) else np.frombuffer(height),
        is_compiled=is_compiled,
    )
