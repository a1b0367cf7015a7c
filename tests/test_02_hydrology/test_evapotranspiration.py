# SPDX-License-Identifier: Apache-2.0
"""Reference evapotranspiration: which form a record allows, and two libraries beside it."""

import dataclasses
import datetime
import math

import numpy as np
import pandas as pd
import pyet
import pytest
import refet

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.air import vapour_saturation_tetens
from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.evapotranspiration import (
    evapotranspiration_form,
    reference_et_hargreaves_samani,
    reference_et_penman_monteith_fao56,
    reference_evapotranspiration,
)
from tilewater.hydrology.radiation import (
    daylight_hours_fao56,
    extraterrestrial_radiation_fao56,
)

YEAR = 365
LATITUDE, ELEVATION = math.radians(42.0), 330.0
SAME_EQUATIONS = 1e-8
"""pyet has the same constants. [of the value, and mm/day]"""
STANDARDISED = 0.002
"""refet has other constants for the heat of radiation and water. [of the value, and mm/day]"""


def year_of_weather() -> DailyWeather:
    """A year with all that a weather station measures, invented."""
    rng = np.random.default_rng(4)
    days = np.arange(YEAR)
    mean = 10.0 - 14.0 * np.cos(2 * np.pi * (days - 15) / 365) + rng.normal(0, 3, YEAR)
    half = rng.uniform(3, 8, YEAR)
    outside = extraterrestrial_radiation_fao56(days + 1.0, latitude=LATITUDE)
    return DailyWeather(
        datetime.date(2001, 1, 1),
        LATITUDE,
        np.zeros(YEAR),
        mean + half,
        mean - half,
        elevation=ELEVATION,
        solar_mj_m2_day=outside * rng.uniform(0.25, 0.75, YEAR),
        vapour_actual_kpa=np.asarray(vapour_saturation_tetens(mean - half)),
        wind=rng.uniform(0.5, 6, YEAR),
    )


WEATHER = year_of_weather()


def frame(values: np.ndarray) -> pd.Series:
    return pd.Series(values, index=pd.date_range("2001-01-01", periods=YEAR))


@pytest.mark.oracle("pyet 1.5.0", of=(reference_et_penman_monteith_fao56,))
def test_a_year_of_penman_monteith_equals_pyet():
    ours = 1000 * reference_evapotranspiration(WEATHER).depth
    theirs = pyet.pm_fao56(
        frame(WEATHER.temperature),
        frame(WEATHER.wind),
        rs=frame(WEATHER.solar_mj_m2_day),
        tmax=frame(WEATHER.temperature_max),
        tmin=frame(WEATHER.temperature_min),
        ea=frame(WEATHER.vapour_actual_kpa),
        elevation=ELEVATION,
        lat=LATITUDE,
    )
    assert ours == pytest.approx(theirs.to_numpy(), rel=SAME_EQUATIONS, abs=SAME_EQUATIONS)


@pytest.mark.oracle("pyet 1.5.0", of=(reference_et_hargreaves_samani,))
def test_a_year_of_hargreaves_samani_equals_pyet():
    bare = dataclasses.replace(WEATHER, solar_mj_m2_day=None)
    ours = 1000 * reference_evapotranspiration(bare).depth
    theirs = pyet.hargreaves(
        frame(WEATHER.temperature),
        frame(WEATHER.temperature_max),
        frame(WEATHER.temperature_min),
        lat=LATITUDE,
    )
    # it divides by a latent heat that follows the temperature, the printed form by 1/0.408
    heat = 0.408 * (2.501 - 0.002361 * WEATHER.temperature)
    assert ours == pytest.approx(heat * theirs.to_numpy(), rel=SAME_EQUATIONS, abs=SAME_EQUATIONS)


@pytest.mark.oracle("refet 0.5.0", of=(reference_et_penman_monteith_fao56,))
def test_a_year_of_penman_monteith_is_near_the_standardised_form():
    ours = 1000 * reference_evapotranspiration(WEATHER).depth
    theirs = refet.Daily(
        tmin=WEATHER.temperature_min,
        tmax=WEATHER.temperature_max,
        ea=WEATHER.vapour_actual_kpa,
        rs=WEATHER.solar_mj_m2_day,
        uz=WEATHER.wind,
        zw=2.0,
        elev=ELEVATION,
        lat=math.degrees(LATITUDE),
        doy=WEATHER.day_of_year,
        method="asce",
        rso_type="simple",
    ).eto()
    assert ours == pytest.approx(theirs, rel=STANDARDISED, abs=STANDARDISED)


@pytest.mark.by_hand(of=(extraterrestrial_radiation_fao56, reference_et_hargreaves_samani))
def test_hargreaves_samani_at_42_north_in_july():
    outside = extraterrestrial_radiation_fao56(196.0, latitude=LATITUDE)
    assert printed("40.744") == outside
    et = reference_et_hargreaves_samani(
        temperature_max=29.0, temperature_min=17.0, extraterrestrial_mj_m2_day=outside
    )
    assert et == pytest.approx(0.0023 * (23.0 + 17.8) * math.sqrt(12.0) * 0.408 * outside)
    assert printed("5.40") == et


@pytest.mark.law(of=(extraterrestrial_radiation_fao56, daylight_hours_fao56))
def test_sun_does_not_rise_at_the_pole_in_winter():
    pole = math.radians(85.0)
    assert extraterrestrial_radiation_fao56(355.0, latitude=pole) == pytest.approx(0.0, abs=1e-12)
    assert daylight_hours_fao56(355.0, latitude=pole) == 0.0
    assert daylight_hours_fao56(172.0, latitude=pole) == pytest.approx(24.0)


@pytest.mark.works(of=(evapotranspiration_form,))
@pytest.mark.parametrize(
    ("changes", "form", "radiation", "humidity", "wind"),
    [
        ({}, "Penman-Monteith FAO-56", "solar_mj_m2_day", "vapour_actual_kpa", "wind"),
        (
            {"wind": None},
            "Penman-Monteith FAO-56",
            "solar_mj_m2_day",
            "vapour_actual_kpa",
            "assumed",
        ),
        (
            {"solar_mj_m2_day": None, "sunshine_hours": np.full(YEAR, 5.0)},
            "Penman-Monteith FAO-56",
            "sunshine_hours",
            "vapour_actual_kpa",
            "wind",
        ),
        (
            {
                "vapour_actual_kpa": None,
                "humidity_max": np.full(YEAR, 0.9),
                "humidity_min": np.full(YEAR, 0.5),
            },
            "Penman-Monteith FAO-56",
            "solar_mj_m2_day",
            "humidity_max and humidity_min",
            "wind",
        ),
        (
            {"vapour_actual_kpa": None, "humidity_mean": np.full(YEAR, 0.7)},
            "Penman-Monteith FAO-56",
            "solar_mj_m2_day",
            "humidity_mean",
            "wind",
        ),
        (
            {"vapour_actual_kpa": None, "dew_point": WEATHER.temperature_min},
            "Penman-Monteith FAO-56",
            "solar_mj_m2_day",
            "dew_point",
            "wind",
        ),
        ({"vapour_actual_kpa": None}, "Hargreaves-Samani", "", "", ""),
        ({"solar_mj_m2_day": None}, "Hargreaves-Samani", "", "", ""),
    ],
)
def test_form_follows_what_the_record_holds(changes, form, radiation, humidity, wind):
    weather = dataclasses.replace(WEATHER, **changes)
    chosen = evapotranspiration_form(weather)
    assert (form, radiation, humidity, wind) == (
        chosen.form,
        chosen.radiation,
        chosen.humidity,
        chosen.wind,
    )
    assert reference_evapotranspiration(weather).depth.sum() > 0.3


@pytest.mark.works(of=(evapotranspiration_form,))
def test_what_a_record_lacks_is_said():
    bare = dataclasses.replace(WEATHER, solar_mj_m2_day=None, vapour_actual_kpa=None)
    (note,) = evapotranspiration_form(bare).findings
    assert note.message == (
        "The record has no radiation and humidity, so reference evapotranspiration is "
        "Hargreaves-Samani from the extremes of temperature. In humid places that is about 8 "
        "percent more than Penman-Monteith. Give radiation and humidity to use Penman-Monteith."
    )
    (note,) = evapotranspiration_form(dataclasses.replace(WEATHER, wind=None)).findings
    assert note.message == (
        "The record has no wind. Reference evapotranspiration takes 2 m/s, the usual mean. "
        "Give the wind where it was measured."
    )


@pytest.mark.works(of=(reference_evapotranspiration,))
def test_days_that_cannot_be_are_pointed_out():
    short = dataclasses.replace(WEATHER, solar_mj_m2_day=None, sunshine_hours=np.full(YEAR, 10.0))
    codes = [finding.code for finding in reference_evapotranspiration(short).findings]
    assert codes == ["et-sunshine-long"]
    hot = dataclasses.replace(WEATHER, vapour_actual_kpa=np.zeros(YEAR), wind=np.full(YEAR, 15.0))
    codes = [finding.code for finding in reference_evapotranspiration(hot).findings]
    assert codes == ["et-large"]


@pytest.mark.works(of=(DailyWeather,))
def test_a_missing_day_is_refused_by_its_date():
    rain = np.zeros(YEAR)
    rain[10] = np.nan
    with pytest.raises(OutOfDomain) as refused:
        dataclasses.replace(WEATHER, precipitation=rain)
    assert str(refused.value) == (
        "precipitation is missing on 1 days, first on 2001-01-11. Every day needs a value. "
        "Fill the gaps by a named rule first."
    )


@pytest.mark.works(of=(DailyWeather,))
def test_a_record_in_another_unit_is_refused():
    with pytest.raises(OutOfDomain) as refused:
        dataclasses.replace(WEATHER, precipitation=np.full(YEAR, 12.0))
    assert str(refused.value) == (
        "precipitation is 12 m on 2001-01-01. It lies between 0 and 1.5 m. "
        "Check the unit of the record."
    )
    with pytest.raises(OutOfDomain, match="temperature_max is 82 degC on 2001-01-01"):
        dataclasses.replace(WEATHER, temperature_max=np.full(YEAR, 82.0))


@pytest.mark.works(of=(DailyWeather,))
def test_exchanged_extremes_and_short_series_are_refused():
    with pytest.raises(OutOfDomain, match="The lowest cannot lie above the highest"):
        dataclasses.replace(WEATHER, temperature_min=WEATHER.temperature_max + 1.0)
    with pytest.raises(OutOfDomain, match="wind has 3 days and precipitation 365"):
        dataclasses.replace(WEATHER, wind=np.ones(3))
    with pytest.raises(OutOfDomain, match="It runs from 2001-01-01 to 2001-12-31"):
        WEATHER.number_of(datetime.date(2002, 1, 1))
