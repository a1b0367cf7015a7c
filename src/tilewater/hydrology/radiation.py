# SPDX-License-Identifier: Apache-2.0
"""What the sun brings to a field and what the field sends back, day by day.

Radiation is in MJ/m2 a day, as the equations are printed; latitude in radians, north positive.
Days are counted from 1 January, which is 1.
"""

import math

import numpy as np

from tilewater.basis.domain import Number, refuse, require_not_negative, require_positive

SOLAR_CONSTANT = 0.0820
"""Radiation of the sun outside the air. [MJ/m2/min]"""
STEFAN_BOLTZMANN = 4.903e-9
"""[MJ/K4/m2/day]"""
KELVIN = 273.16
"""Zero of the Celsius scale as printed in allen1998; 273.15 by definition."""
ALBEDO_GRASS = 0.23
INLAND = 0.16
"""Coefficient of the temperature span away from the coast. [1/degC^0.5]"""


def extraterrestrial_radiation_fao56(day_of_year: Number, *, latitude: Number) -> Number:
    """Radiation of a day outside the air.

    Parameters
    ----------
    day_of_year : float or array
        Day counted from 1 January, which is 1. [-]
    latitude : float or array
        Latitude, north positive. [rad]

    Returns
    -------
    float or array
        Radiation. [MJ/m2/day]

    Raises
    ------
    OutOfDomain
        If the day is not of a year or the latitude not between the poles.

    Notes
    -----
    Ra = (1440 / pi) Gsc dr (w sin f sin d + cos f cos d sin w)    (allen1998, eq. 21)

    References
    ----------
    allen1998, eqs. 21 to 25
    """
    declination, sunset = _sun(day_of_year, latitude)
    distance = 1.0 + 0.033 * np.cos(2.0 * math.pi / 365.0 * np.asarray(day_of_year))
    height = np.sin(latitude) * np.sin(declination)
    reach = np.cos(latitude) * np.cos(declination)
    angle = sunset * height + reach * np.sin(sunset)
    radiation: Number = (24.0 * 60.0 / math.pi * SOLAR_CONSTANT * distance * angle)[()]
    return radiation


def daylight_hours_fao56(day_of_year: Number, *, latitude: Number) -> Number:
    """Hours of possible sunshine of a day.

    Parameters
    ----------
    day_of_year : float or array
        Day counted from 1 January, which is 1. [-]
    latitude : float or array
        Latitude, north positive. [rad]

    Returns
    -------
    float or array
        Daylight. [h]

    Raises
    ------
    OutOfDomain
        If the day is not of a year or the latitude not between the poles.

    Notes
    -----
    N = 24 w / pi    (allen1998, eq. 34)

    References
    ----------
    allen1998, eq. 34
    """
    return 24.0 / math.pi * _sun(day_of_year, latitude)[1]


def solar_radiation_angstrom(
    sunshine_hours: Number, daylight_hours: Number, *, extraterrestrial_mj_m2_day: Number
) -> Number:
    """Radiation of the sun at the ground, from hours of sunshine.

    Parameters
    ----------
    sunshine_hours : float or array
        Hours of bright sunshine. [h]
    daylight_hours : float or array
        Hours of possible sunshine. [h]
    extraterrestrial_mj_m2_day : float or array
        Radiation outside the air. [MJ/m2/day]

    Returns
    -------
    float or array
        Radiation. [MJ/m2/day]

    Raises
    ------
    OutOfDomain
        If a value is negative or the sun shines longer than the day.

    Notes
    -----
    Rs = (0.25 + 0.50 n / N) Ra    (allen1998, eq. 35)

    References
    ----------
    allen1998, eq. 35
    """
    require_not_negative("sunshine_hours", sunshine_hours, "h", "Give the hours of the day")
    require_not_negative(
        "daylight_hours - sunshine_hours",
        np.subtract(daylight_hours, sunshine_hours)[()],
        "h",
        "Check that both are of one day",
    )
    _require_outside(extraterrestrial_mj_m2_day)
    share = np.divide(sunshine_hours, np.maximum(daylight_hours, 1e-9))
    return ((0.25 + 0.50 * share) * extraterrestrial_mj_m2_day)[()]


def solar_radiation_hargreaves(
    temperature_max: Number,
    temperature_min: Number,
    *,
    extraterrestrial_mj_m2_day: Number,
    coefficient: Number = INLAND,
) -> Number:
    """Radiation of the sun at the ground, from the span of temperature.

    Parameters
    ----------
    temperature_max : float or array
        Highest temperature of the day. [degC]
    temperature_min : float or array
        Lowest temperature of the day. [degC]
    extraterrestrial_mj_m2_day : float or array
        Radiation outside the air. [MJ/m2/day]
    coefficient : float or array
        0.16 inland, 0.19 at the coast. [-]

    Returns
    -------
    float or array
        Radiation. [MJ/m2/day]

    Raises
    ------
    OutOfDomain
        If the lowest temperature lies above the highest or the radiation is negative.

    Notes
    -----
    Rs = k sqrt(Tmax - Tmin) Ra    (allen1998, eq. 50)

    References
    ----------
    allen1998, eq. 50
    """
    span = temperature_span(temperature_max, temperature_min)
    _require_outside(extraterrestrial_mj_m2_day)
    return coefficient * np.sqrt(span)[()] * extraterrestrial_mj_m2_day


def clear_sky_radiation_fao56(
    extraterrestrial_mj_m2_day: Number, *, elevation: Number = 0.0
) -> Number:
    """Radiation of the sun at the ground under a clear sky.

    Parameters
    ----------
    extraterrestrial_mj_m2_day : float or array
        Radiation outside the air. [MJ/m2/day]
    elevation : float or array
        Elevation above the sea. [m]

    Returns
    -------
    float or array
        Radiation. [MJ/m2/day]

    Raises
    ------
    OutOfDomain
        If the radiation is negative.

    Notes
    -----
    Rso = (0.75 + 0.00002 z) Ra    (allen1998, eq. 37)

    References
    ----------
    allen1998, eq. 37
    """
    _require_outside(extraterrestrial_mj_m2_day)
    return (0.75 + 2e-5 * elevation) * extraterrestrial_mj_m2_day


def longwave_radiation_fao56(
    temperature_max: Number,
    temperature_min: Number,
    *,
    vapour_actual_kpa: Number,
    solar_mj_m2_day: Number,
    clear_sky_mj_m2_day: Number,
) -> Number:
    """Radiation that the ground sends back to the sky, net.

    Parameters
    ----------
    temperature_max : float or array
        Highest temperature of the day. [degC]
    temperature_min : float or array
        Lowest temperature of the day. [degC]
    vapour_actual_kpa : float or array
        Actual vapour pressure. [kPa]
    solar_mj_m2_day : float or array
        Radiation of the sun at the ground. [MJ/m2/day]
    clear_sky_mj_m2_day : float or array
        The same under a clear sky. [MJ/m2/day]

    Returns
    -------
    float or array
        Radiation. [MJ/m2/day]

    Raises
    ------
    OutOfDomain
        If a pressure or radiation is negative.

    Notes
    -----
    Rnl = s (Tmax^4 + Tmin^4) / 2 (0.34 - 0.14 sqrt(ea)) (1.35 Rs/Rso - 0.35)    (allen1998, eq. 39)

    with temperatures in K, and no more sun than from a clear sky, as printed there.

    References
    ----------
    allen1998, eq. 39
    """
    require_not_negative("vapour_actual_kpa", vapour_actual_kpa, "kPa", "Give it in kPa")
    require_not_negative("solar_mj_m2_day", solar_mj_m2_day, "MJ/m2/day", "Give it in MJ/m2/day")
    require_positive(
        "clear_sky_mj_m2_day", clear_sky_mj_m2_day, "MJ/m2/day", "Give a day on which the sun rises"
    )
    high, low = np.add(temperature_max, KELVIN), np.add(temperature_min, KELVIN)
    clear = np.minimum(1.0, np.divide(solar_mj_m2_day, clear_sky_mj_m2_day))
    sky = (0.34 - 0.14 * np.sqrt(vapour_actual_kpa)) * (1.35 * clear - 0.35)
    radiation: Number = (STEFAN_BOLTZMANN * 0.5 * (high**4 + low**4) * sky)[()]
    return radiation


def net_radiation_fao56(
    solar_mj_m2_day: Number, longwave_mj_m2_day: Number, *, albedo: Number = ALBEDO_GRASS
) -> Number:
    """Radiation that stays with the ground and its cover.

    Parameters
    ----------
    solar_mj_m2_day : float or array
        Radiation of the sun at the ground. [MJ/m2/day]
    longwave_mj_m2_day : float or array
        Radiation that goes back to the sky, net. [MJ/m2/day]
    albedo : float or array
        Share of the sun's radiation that is thrown back. [-]

    Returns
    -------
    float or array
        Radiation, negative on a winter day. [MJ/m2/day]

    Raises
    ------
    OutOfDomain
        If the radiation of the sun is negative.

    Notes
    -----
    Rn = (1 - a) Rs - Rnl    (allen1998, eqs. 38 and 40)

    References
    ----------
    allen1998, eqs. 38 and 40
    """
    require_not_negative("solar_mj_m2_day", solar_mj_m2_day, "MJ/m2/day", "Give it in MJ/m2/day")
    return (1.0 - albedo) * solar_mj_m2_day - longwave_mj_m2_day


def temperature_span(temperature_max: Number, temperature_min: Number) -> Number:
    """Span of temperature of a day.

    Parameters
    ----------
    temperature_max : float or array
        Highest temperature of the day. [degC]
    temperature_min : float or array
        Lowest temperature of the day. [degC]

    Returns
    -------
    float or array
        Span. [degC]

    Raises
    ------
    OutOfDomain
        If the lowest lies above the highest.

    Notes
    -----
    dT = Tmax - Tmin    (derived)

    References
    ----------
    derived, difference of the extremes
    """
    span: Number = np.subtract(temperature_max, temperature_min)[()]
    require_not_negative(
        "temperature_max - temperature_min", span, "degC", "Exchange the two or drop the day"
    )
    return span


def _sun(day_of_year: Number, latitude: Number) -> tuple[Number, Number]:
    """Declination of the sun and hour angle of sunset, also where it does not rise or set."""
    days = np.asarray(day_of_year)
    if not np.all((days >= 1) & (days <= 366)):
        raise refuse("day_of_year", day_of_year, "", "A year has days 1 to 366", "Count from 1")
    if not np.all(np.abs(latitude) <= math.pi / 2.0):
        raise refuse("latitude", latitude, "rad", "It lies between the poles", "Give it in radians")
    declination = 0.409 * np.sin(2.0 * math.pi / 365.0 * days - 1.39)
    sunset: Number = np.arccos(np.clip(-np.tan(latitude) * np.tan(declination), -1.0, 1.0))
    tilt: Number = declination
    return tilt, sunset


def _require_outside(extraterrestrial_mj_m2_day: Number) -> None:
    require_not_negative(
        "extraterrestrial_mj_m2_day",
        extraterrestrial_mj_m2_day,
        "MJ/m2/day",
        "Give it in MJ/m2/day",
    )
