# SPDX-License-Identifier: Apache-2.0
"""How much water the boards hold over the laterals of the field.

Laterals lie evenly along the main above the structure, at the elevations that are known; the pool
is level and ends where a lateral lies above the crest.
"""

import math

import numpy as np

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.ditch_shares import table_on_days


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
