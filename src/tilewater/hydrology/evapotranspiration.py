# SPDX-License-Identifier: Apache-2.0
"""Evapotranspiration of the reference grass, by the form that a weather record allows.

The Penman-Monteith form of FAO-56 where the record holds radiation or sunshine and humidity, else
Hargreaves-Samani from the extremes of temperature. What a crop takes is in `crops`; what the field
can give is in `field`.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from tilewater.basis.domain import Number, require_not_negative
from tilewater.basis.findings import Finding
from tilewater.hydrology.air import (
    air_pressure_fao56,
    day_temperature,
    psychrometric_constant_fao56,
    vapour_actual_humidity_extremes,
    vapour_actual_humidity_mean,
    vapour_saturation_daily,
    vapour_saturation_tetens,
    vapour_slope_fao56,
    wind_at_two_metres_fao56,
)
from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.radiation import (
    clear_sky_radiation_fao56,
    daylight_hours_fao56,
    extraterrestrial_radiation_fao56,
    longwave_radiation_fao56,
    net_radiation_fao56,
    solar_radiation_angstrom,
    temperature_span,
)

Form = Literal["Penman-Monteith FAO-56", "Hargreaves-Samani"]

MM_PER_MJ = 0.408
"""Water that a unit of radiation evaporates. [mm m2/MJ]"""
USUAL_WIND = 2.0
"""Wind at two metres where none was measured (allen1998). [m/s]"""
LARGEST_MM_PER_DAY = 15.0
"""More than a day in a humid region evaporates; our judgement. [mm/day]"""


@dataclass(frozen=True)
class EvapotranspirationForm:
    """Which form a record allows, and what it leans on.

    Attributes
    ----------
    form : str
        "Penman-Monteith FAO-56" or "Hargreaves-Samani".
    radiation, humidity, wind : str
        Element of the record that is used, "assumed" for the usual wind, "" for none.
    findings : tuple of Finding
        What the engineer must know of the choice.
    """

    form: Form
    radiation: str
    humidity: str
    wind: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True, eq=False)
class ReferenceEvapotranspiration:
    """Reference evapotranspiration of a record.

    Attributes
    ----------
    depth : array
        Of each day. [m]
    chosen : EvapotranspirationForm
    findings : tuple of Finding
        Those of the choice, and days outside what is usual.
    """

    depth: Series
    chosen: EvapotranspirationForm
    findings: tuple[Finding, ...]


def reference_et_penman_monteith_fao56(
    *,
    net_radiation_mj_m2_day: Number,
    soil_heat_mj_m2_day: Number,
    temperature: Number,
    wind_2m: Number,
    vapour_saturation_kpa: Number,
    vapour_actual_kpa: Number,
    pressure_kpa: Number,
) -> Number:
    """Evapotranspiration of the reference grass by Penman-Monteith.

    Parameters
    ----------
    net_radiation_mj_m2_day : float or array
        Radiation that stays with the ground and its cover. [MJ/m2/day]
    soil_heat_mj_m2_day : float or array
        Heat that goes into the soil; 0 for a single day. [MJ/m2/day]
    temperature : float or array
        Mean temperature of the air. [degC]
    wind_2m : float or array
        Wind at two metres. [m/s]
    vapour_saturation_kpa : float or array
        Mean saturation vapour pressure. [kPa]
    vapour_actual_kpa : float or array
        Actual vapour pressure. [kPa]
    pressure_kpa : float or array
        Pressure of the air. [kPa]

    Returns
    -------
    float or array
        Evapotranspiration, negative on a cold dull day. [mm/day]

    Raises
    ------
    OutOfDomain
        If wind or a vapour pressure is negative, or the pressure of the air not above zero.

    Notes
    -----
    ET = (0.408 D (Rn - G) + 900 g u2 (es - ea) / (T + 273)) / (D + g (1 + 0.34 u2))    (allen1998)

    References
    ----------
    allen1998, eq. 6
    """
    require_not_negative("wind_2m", wind_2m, "m/s", "Give the speed")
    for name, pressure in (
        ("vapour_saturation_kpa", vapour_saturation_kpa),
        ("vapour_actual_kpa", vapour_actual_kpa),
    ):
        require_not_negative(name, pressure, "kPa", "Give it in kPa")
    slope = vapour_slope_fao56(temperature)
    psychrometric = psychrometric_constant_fao56(pressure_kpa)
    by_sun = MM_PER_MJ * slope * (net_radiation_mj_m2_day - soil_heat_mj_m2_day)
    dryness = vapour_saturation_kpa - vapour_actual_kpa
    by_air = psychrometric * 900.0 / (temperature + 273.0) * wind_2m * dryness
    return (by_sun + by_air) / (slope + psychrometric * (1.0 + 0.34 * wind_2m))


def reference_et_hargreaves_samani(
    *, temperature_max: Number, temperature_min: Number, extraterrestrial_mj_m2_day: Number
) -> Number:
    """Evapotranspiration of the reference grass by Hargreaves and Samani.

    Parameters
    ----------
    temperature_max : float or array
        Highest temperature of the day. [degC]
    temperature_min : float or array
        Lowest temperature of the day. [degC]
    extraterrestrial_mj_m2_day : float or array
        Radiation outside the air. [MJ/m2/day]

    Returns
    -------
    float or array
        Evapotranspiration, negative below a mean of -17.8 degC. [mm/day]

    Raises
    ------
    OutOfDomain
        If the lowest temperature lies above the highest or the radiation is negative.

    Notes
    -----
    ET = 0.0023 (T + 17.8) sqrt(Tmax - Tmin) 0.408 Ra    (hargreaves1985)

    In humid places about 8 percent more than Penman-Monteith over the year (scirp36456).

    References
    ----------
    hargreaves1985, as in allen1998, eq. 52
    scirp36456, bias at humid sites
    """
    span = temperature_span(temperature_max, temperature_min)
    require_not_negative(
        "extraterrestrial_mj_m2_day",
        extraterrestrial_mj_m2_day,
        "MJ/m2/day",
        "Give it in MJ/m2/day",
    )
    warmth = day_temperature(temperature_max, temperature_min) + 17.8
    root: Number = np.sqrt(span)[()]
    return 0.0023 * warmth * root * MM_PER_MJ * extraterrestrial_mj_m2_day


def evapotranspiration_form(weather: DailyWeather) -> EvapotranspirationForm:
    """Form of reference evapotranspiration that a record allows.

    Parameters
    ----------
    weather : DailyWeather
        The record. [-]

    Returns
    -------
    EvapotranspirationForm
        Penman-Monteith where the record holds radiation or sunshine and humidity of some kind,
        else Hargreaves-Samani. [-]
    """
    radiation = _first_given(weather, ("solar_mj_m2_day", "sunshine_hours"))
    humidity = _humidity_given(weather)
    if not radiation or not humidity:
        lacking = " and ".join(
            word for word, there in (("radiation", radiation), ("humidity", humidity)) if not there
        )
        message = (
            f"The record has no {lacking}, so reference evapotranspiration is Hargreaves-Samani "
            f"from the extremes of temperature. In humid places that is about 8 percent more than "
            f"Penman-Monteith. Give {lacking} to use Penman-Monteith."
        )
        note = Finding(
            "et-from-temperature-only",
            "note",
            "reference evapotranspiration",
            message,
            source="scirp36456",
        )
        return EvapotranspirationForm("Hargreaves-Samani", "", "", "", (note,))
    if weather.wind is not None:
        return EvapotranspirationForm("Penman-Monteith FAO-56", radiation, humidity, "wind", ())
    message = (
        "The record has no wind. Reference evapotranspiration takes 2 m/s, the usual mean. "
        "Give the wind where it was measured."
    )
    note = Finding(
        "et-wind-assumed",
        "note",
        "wind",
        message,
        USUAL_WIND,
        unit="m/s",
        source="allen1998",
    )
    form: Form = "Penman-Monteith FAO-56"
    return EvapotranspirationForm(form, radiation, humidity, "assumed", (note,))


def reference_evapotranspiration(weather: DailyWeather) -> ReferenceEvapotranspiration:
    """Reference evapotranspiration of each day, by the form that the record allows.

    Days on which the form comes out negative take none.

    Parameters
    ----------
    weather : DailyWeather
        The record. [-]

    Returns
    -------
    ReferenceEvapotranspiration
        Depths, the form and what the engineer must know. [-]

    Raises
    ------
    OutOfDomain
        If an element has a value without meaning.
    """
    chosen = evapotranspiration_form(weather)
    outside_air = np.asarray(
        extraterrestrial_radiation_fao56(weather.day_of_year, latitude=weather.latitude)
    )
    if chosen.form == "Hargreaves-Samani":
        mm_per_day = reference_et_hargreaves_samani(
            temperature_max=weather.temperature_max,
            temperature_min=weather.temperature_min,
            extraterrestrial_mj_m2_day=outside_air,
        )
    else:
        mm_per_day = _penman_monteith(weather, chosen, outside_air)
    series = np.maximum(0.0, mm_per_day)
    findings = (*chosen.findings, *_large(series), *_long_sunshine(weather, chosen))
    return ReferenceEvapotranspiration(series / 1000.0, chosen, findings)


def _large(mm_per_day: Series) -> tuple[Finding, ...]:
    """Finding where a day evaporates more than a humid region knows."""
    largest = float(mm_per_day.max())
    if largest <= LARGEST_MM_PER_DAY:
        return ()
    message = (
        f"Reference evapotranspiration reaches {largest:.1f} mm in a day. Humid regions stay under "
        f"{LARGEST_MM_PER_DAY:g}. Check the units of the weather record."
    )
    return (
        Finding(
            "et-large",
            "caution",
            "reference evapotranspiration",
            message,
            largest,
            "<=",
            LARGEST_MM_PER_DAY,
            "mm/day",
            "practice",
        ),
    )


def _long_sunshine(weather: DailyWeather, chosen: EvapotranspirationForm) -> tuple[Finding, ...]:
    """Finding where the sun is recorded to shine longer than the day, which then counts."""
    if chosen.radiation != "sunshine_hours":
        return ()
    daylight = daylight_hours_fao56(weather.day_of_year, latitude=weather.latitude)
    longer = _given(weather.sunshine_hours) - daylight
    days = int(np.count_nonzero(longer > 0.0))
    if not days:
        return ()
    message = (
        f"On {days} days the recorded sunshine is longer than the day, by up to "
        f"{float(longer.max()):.1f} h. The length of the day was used. Check latitude and record."
    )
    return (Finding("et-sunshine-long", "caution", "sunshine", message, source="allen1998"),)


def _penman_monteith(
    weather: DailyWeather, chosen: EvapotranspirationForm, outside_air: Series
) -> Number:
    high, low = weather.temperature_max, weather.temperature_min
    vapour = _vapour_actual(weather, chosen.humidity)
    if chosen.radiation == "solar_mj_m2_day":
        solar = _given(weather.solar_mj_m2_day)
    else:
        daylight = daylight_hours_fao56(weather.day_of_year, latitude=weather.latitude)
        solar = np.asarray(
            solar_radiation_angstrom(
                np.minimum(_given(weather.sunshine_hours), daylight),
                daylight,
                extraterrestrial_mj_m2_day=outside_air,
            )
        )
    clear = clear_sky_radiation_fao56(outside_air, elevation=weather.elevation)
    back = longwave_radiation_fao56(
        high, low, vapour_actual_kpa=vapour, solar_mj_m2_day=solar, clear_sky_mj_m2_day=clear
    )
    wind: Number = USUAL_WIND
    if weather.wind is not None:
        wind = weather.wind
        if weather.wind_height != 2.0:
            wind = wind_at_two_metres_fao56(wind, weather.wind_height)
    return reference_et_penman_monteith_fao56(
        net_radiation_mj_m2_day=net_radiation_fao56(solar, back),
        soil_heat_mj_m2_day=0.0,
        temperature=day_temperature(high, low),
        wind_2m=wind,
        vapour_saturation_kpa=vapour_saturation_daily(high, low),
        vapour_actual_kpa=vapour,
        pressure_kpa=air_pressure_fao56(weather.elevation),
    )


def _vapour_actual(weather: DailyWeather, humidity: str) -> Number:
    high, low = weather.temperature_max, weather.temperature_min
    if humidity == "vapour_actual_kpa":
        return _given(weather.vapour_actual_kpa)
    if humidity == "dew_point":
        return vapour_saturation_tetens(_given(weather.dew_point))
    if humidity == "humidity_max and humidity_min":
        return vapour_actual_humidity_extremes(
            high,
            low,
            humidity_max=_given(weather.humidity_max),
            humidity_min=_given(weather.humidity_min),
        )
    return vapour_actual_humidity_mean(high, low, humidity_mean=_given(weather.humidity_mean))


def _humidity_given(weather: DailyWeather) -> str:
    if both := _first_given(weather, ("vapour_actual_kpa", "dew_point")):
        return both
    if weather.humidity_max is not None and weather.humidity_min is not None:
        return "humidity_max and humidity_min"
    return _first_given(weather, ("humidity_mean",))


def _first_given(weather: DailyWeather, names: tuple[str, ...]) -> str:
    return next((name for name in names if getattr(weather, name) is not None), "")


def _given(series: Series | None) -> Series:
    assert series is not None  # the choice of the form has looked
    return series
