# SPDX-License-Identifier: Apache-2.0
"""Pressure, humidity and wind of the air over a field, as evaporation needs them.

Pressures are in kPa, as the equations are printed. What the sun brings is in `radiation`.
"""

import numpy as np

from tilewater.basis.domain import (
    Number,
    require_finite,
    require_not_negative,
    require_positive,
    require_share,
)

PSYCHROMETRIC = 0.665e-3
"""Psychrometric constant over pressure. [1/degC]"""


def air_pressure_fao56(elevation: Number) -> Number:
    """Mean pressure of the air at an elevation.

    Parameters
    ----------
    elevation : float or array
        Elevation above the sea. [m]

    Returns
    -------
    float or array
        Pressure. [kPa]

    Raises
    ------
    OutOfDomain
        If the elevation is no number.

    Notes
    -----
    P = 101.3 ((293 - 0.0065 z) / 293)^5.26    (allen1998, eq. 7)

    References
    ----------
    allen1998, eq. 7
    """
    require_finite("elevation", elevation, "m", "Give the elevation above the sea")
    return 101.3 * ((293.0 - 0.0065 * elevation) / 293.0) ** 5.26


def vapour_saturation_tetens(temperature: Number) -> Number:
    """Vapour pressure of saturated air.

    Parameters
    ----------
    temperature : float or array
        Temperature of the air; that of the dew point gives the actual pressure. [degC]

    Returns
    -------
    float or array
        Pressure. [kPa]

    Raises
    ------
    OutOfDomain
        If the temperature is no number.

    Notes
    -----
    e = 0.6108 exp(17.27 T / (T + 237.3))    (allen1998, eq. 11)

    Over water, also below freezing.

    References
    ----------
    allen1998, eq. 11
    """
    require_finite("temperature", temperature, "degC", "Leave the day out or fill it first")
    return 0.6108 * np.exp(17.27 * temperature / (temperature + 237.3))[()]


def vapour_saturation_daily(temperature_max: Number, temperature_min: Number) -> Number:
    """Mean saturation vapour pressure of a day.

    Parameters
    ----------
    temperature_max : float or array
        Highest temperature of the day. [degC]
    temperature_min : float or array
        Lowest temperature of the day. [degC]

    Returns
    -------
    float or array
        Pressure. [kPa]

    Raises
    ------
    OutOfDomain
        If a temperature is no number.

    Notes
    -----
    es = (e(Tmax) + e(Tmin)) / 2    (allen1998, eq. 12)

    References
    ----------
    allen1998, eq. 12
    """
    return 0.5 * (
        vapour_saturation_tetens(temperature_max) + vapour_saturation_tetens(temperature_min)
    )


def vapour_slope_fao56(temperature: Number) -> Number:
    """Slope of the saturation vapour pressure over temperature.

    Parameters
    ----------
    temperature : float or array
        Mean temperature of the air. [degC]

    Returns
    -------
    float or array
        Slope. [kPa/degC]

    Raises
    ------
    OutOfDomain
        If the temperature is no number.

    Notes
    -----
    D = 4098 e(T) / (T + 237.3)^2    (allen1998, eq. 13)

    References
    ----------
    allen1998, eq. 13
    """
    return 4098.0 * vapour_saturation_tetens(temperature) / (temperature + 237.3) ** 2


def psychrometric_constant_fao56(pressure_kpa: Number) -> Number:
    """Psychrometric constant of the air.

    Parameters
    ----------
    pressure_kpa : float or array
        Pressure of the air. [kPa]

    Returns
    -------
    float or array
        Constant. [kPa/degC]

    Raises
    ------
    OutOfDomain
        If the pressure is not above zero.

    Notes
    -----
    g = 0.000665 P    (allen1998, eq. 8)

    References
    ----------
    allen1998, eq. 8
    """
    require_positive("pressure_kpa", pressure_kpa, "kPa", "Give it in kPa, about 101 at the sea")
    return PSYCHROMETRIC * pressure_kpa


def vapour_actual_humidity_extremes(
    temperature_max: Number, temperature_min: Number, *, humidity_max: Number, humidity_min: Number
) -> Number:
    """Actual vapour pressure from the highest and lowest relative humidity of a day.

    Parameters
    ----------
    temperature_max : float or array
        Highest temperature of the day. [degC]
    temperature_min : float or array
        Lowest temperature of the day. [degC]
    humidity_max : float or array
        Highest relative humidity, as a share. [-]
    humidity_min : float or array
        Lowest relative humidity, as a share. [-]

    Returns
    -------
    float or array
        Pressure. [kPa]

    Raises
    ------
    OutOfDomain
        If a humidity is no share or a temperature no number.

    Notes
    -----
    ea = (e(Tmin) RHmax + e(Tmax) RHmin) / 2    (allen1998, eq. 17)

    References
    ----------
    allen1998, eq. 17
    """
    require_share("humidity_max", humidity_max, "Give 82 percent as 0.82")
    require_share("humidity_min", humidity_min, "Give 54 percent as 0.54")
    at_night = vapour_saturation_tetens(temperature_min) * humidity_max
    return 0.5 * (at_night + vapour_saturation_tetens(temperature_max) * humidity_min)


def vapour_actual_humidity_mean(
    temperature_max: Number, temperature_min: Number, *, humidity_mean: Number
) -> Number:
    """Actual vapour pressure from the mean relative humidity of a day.

    Parameters
    ----------
    temperature_max : float or array
        Highest temperature of the day. [degC]
    temperature_min : float or array
        Lowest temperature of the day. [degC]
    humidity_mean : float or array
        Mean relative humidity, as a share. [-]

    Returns
    -------
    float or array
        Pressure. [kPa]

    Raises
    ------
    OutOfDomain
        If the humidity is no share or a temperature no number.

    Notes
    -----
    ea = RHmean (e(Tmax) + e(Tmin)) / 2    (allen1998, eq. 19)

    References
    ----------
    allen1998, eq. 19
    """
    require_share("humidity_mean", humidity_mean, "Give 70 percent as 0.70")
    return humidity_mean * vapour_saturation_daily(temperature_max, temperature_min)


def vapour_actual_psychrometer(
    temperature_wet: Number, temperature_dry: Number, *, pressure_kpa: Number
) -> Number:
    """Actual vapour pressure from a ventilated psychrometer.

    Parameters
    ----------
    temperature_wet : float or array
        Temperature of the wet bulb. [degC]
    temperature_dry : float or array
        Temperature of the dry bulb. [degC]
    pressure_kpa : float or array
        Pressure of the air. [kPa]

    Returns
    -------
    float or array
        Pressure. [kPa]

    Raises
    ------
    OutOfDomain
        If the wet bulb is the warmer, or the pressure not above zero.

    Notes
    -----
    ea = e(Twet) - 0.000662 P (Tdry - Twet)    (allen1998, eq. 15)

    References
    ----------
    allen1998, eq. 15
    """
    require_positive("pressure_kpa", pressure_kpa, "kPa", "Give it in kPa, about 101 at the sea")
    fall = np.subtract(temperature_dry, temperature_wet)[()]
    require_not_negative("temperature_dry - temperature_wet", fall, "degC", "Exchange the two")
    return vapour_saturation_tetens(temperature_wet) - 0.000662 * pressure_kpa * fall


def wind_at_two_metres_fao56(wind: Number, height: Number) -> Number:
    """Wind at two metres over grass, from wind at another height.

    Parameters
    ----------
    wind : float or array
        Wind at the instrument. [m/s]
    height : float or array
        Height of the instrument above the ground. [m]

    Returns
    -------
    float or array
        Wind. [m/s]

    Raises
    ------
    OutOfDomain
        If the wind is negative, or the instrument in the grass.

    Notes
    -----
    u2 = u 4.87 / ln(67.8 z - 5.42)    (allen1998, eq. 47)

    References
    ----------
    allen1998, eq. 47
    """
    require_not_negative("wind", wind, "m/s", "Give the speed")
    above = np.subtract(height, (1.0 + 5.42) / 67.8)[()]
    require_positive("height - 0.095 m", above, "m", "Give the height of the instrument")
    return wind * 4.87 / np.log(67.8 * np.asarray(height) - 5.42)[()]


def day_temperature(temperature_max: Number, temperature_min: Number) -> Number:
    """Mean temperature of a day, as its extremes give it.

    Parameters
    ----------
    temperature_max : float or array
        Highest temperature of the day. [degC]
    temperature_min : float or array
        Lowest temperature of the day. [degC]

    Returns
    -------
    float or array
        Temperature. [degC]

    Raises
    ------
    OutOfDomain
        If the lowest lies above the highest.

    Notes
    -----
    T = (Tmax + Tmin) / 2    (allen1998, eq. 9)

    References
    ----------
    allen1998, eq. 9
    """
    span = np.subtract(temperature_max, temperature_min)[()]
    require_not_negative(
        "temperature_max - temperature_min", span, "degC", "Exchange the two or drop the day"
    )
    return 0.5 * np.add(temperature_max, temperature_min)[()]
