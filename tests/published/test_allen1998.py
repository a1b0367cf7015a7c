# SPDX-License-Identifier: Apache-2.0
"""Allen, R. G., Pereira, L. S., Raes, D., and Smith, M. (1998). Crop evapotranspiration.

FAO Irrigation and Drainage Paper 56. Worked examples as the tests of the library PyETo quote them,
but for two values from memory, which say so. Tables as three public libraries transcribe them.
"""

import math

import numpy as np
import pytest

from tests.digits import printed
from tilewater.hydrology.air import (
    air_pressure_fao56,
    psychrometric_constant_fao56,
    vapour_actual_humidity_extremes,
    vapour_actual_psychrometer,
    vapour_saturation_daily,
    vapour_saturation_tetens,
    vapour_slope_fao56,
    wind_at_two_metres_fao56,
)
from tilewater.hydrology.crops import crop_coefficient_fao56, crop_named
from tilewater.hydrology.evapotranspiration import (
    reference_et_hargreaves_samani,
    reference_et_penman_monteith_fao56,
)
from tilewater.hydrology.radiation import (
    clear_sky_radiation_fao56,
    daylight_hours_fao56,
    extraterrestrial_radiation_fao56,
    longwave_radiation_fao56,
    net_radiation_fao56,
    solar_radiation_angstrom,
    solar_radiation_hargreaves,
)

BOOK = "allen1998"
EXAMPLE_17 = 0.05
"""The book rounds on the way and prints 5.72, as the library's test allows. [mm/day]"""
EXAMPLE_4 = 0.006
"""The book rounds es before it subtracts. [kPa]"""


@pytest.mark.published(BOOK, "example 2", of=(air_pressure_fao56, psychrometric_constant_fao56))
def test_pressure_at_1800_m():
    assert printed("81.8") == air_pressure_fao56(1800.0)
    assert printed("0.054") == psychrometric_constant_fao56(81.8)


@pytest.mark.published(BOOK, "example 3", of=(vapour_saturation_daily,))
def test_mean_saturation_of_a_day():
    assert printed("2.39") == vapour_saturation_daily(24.5, 15.0)


@pytest.mark.published(BOOK, "example 4", of=(vapour_actual_psychrometer,))
def test_vapour_from_wet_and_dry_bulb():
    vapour = vapour_actual_psychrometer(19.5, 25.6, pressure_kpa=87.9)
    assert vapour == pytest.approx(1.91, abs=EXAMPLE_4)


@pytest.mark.published(BOOK, "example 5", of=(vapour_actual_humidity_extremes,))
def test_vapour_from_extremes_of_humidity():
    # es of 25 and 18 degC are 3.168 and 2.064 kPa
    vapour = vapour_actual_humidity_extremes(25.0, 18.0, humidity_max=0.82, humidity_min=0.54)
    assert printed("1.70") == vapour


@pytest.mark.published(BOOK, "example 8", of=(extraterrestrial_radiation_fao56,))
def test_radiation_outside_the_air_at_20_south():
    latitude = math.radians(-20.0)
    assert printed("32.2") == extraterrestrial_radiation_fao56(246.0, latitude=latitude)


@pytest.mark.published(BOOK, "example 9", of=(daylight_hours_fao56,))
def test_daylight_at_20_south():
    assert printed("11.7") == daylight_hours_fao56(246.0, latitude=math.radians(-20.0))


@pytest.mark.published(BOOK, "example 10", of=(solar_radiation_angstrom,))
def test_radiation_from_sunshine():
    solar = solar_radiation_angstrom(7.1, 10.9, extraterrestrial_mj_m2_day=25.1)
    assert printed("14.45") == solar


@pytest.mark.published(BOOK, "example 11", of=(longwave_radiation_fao56,))
def test_radiation_back_to_the_sky():
    back = longwave_radiation_fao56(
        25.1, 19.1, vapour_actual_kpa=2.1, solar_mj_m2_day=14.5, clear_sky_mj_m2_day=18.8
    )
    assert printed("3.5") == back


@pytest.mark.published(BOOK, "example 14", of=(wind_at_two_metres_fao56,))
def test_wind_from_ten_metres_to_two():
    assert printed("2.4") == wind_at_two_metres_fao56(3.2, 10.0)


@pytest.mark.published(BOOK, "example 15", of=(solar_radiation_hargreaves,))
def test_radiation_from_the_span_of_temperature():
    solar = solar_radiation_hargreaves(26.6, 14.8, extraterrestrial_mj_m2_day=40.6)
    assert printed("22.3") == solar


@pytest.mark.published(BOOK, "example 20", of=(vapour_saturation_tetens,))
def test_vapour_from_the_lowest_temperature():
    assert printed("1.68") == vapour_saturation_tetens(14.8)


@pytest.mark.published(BOOK, "example 17, slope", of=(vapour_slope_fao56,))
def test_slope_at_30_degrees():
    assert printed("0.246") == vapour_slope_fao56(30.2)


@pytest.mark.published(BOOK, "example 17", of=(reference_et_penman_monteith_fao56,))
def test_monthly_evapotranspiration_of_bangkok():
    et = reference_et_penman_monteith_fao56(
        net_radiation_mj_m2_day=14.33,
        soil_heat_mj_m2_day=0.14,
        temperature=30.2,
        wind_2m=2.0,
        vapour_saturation_kpa=4.42,
        vapour_actual_kpa=2.85,
        pressure_kpa=0.0674 / 0.665e-3,
    )
    assert et == pytest.approx(5.72, abs=EXAMPLE_17)


@pytest.mark.published(BOOK, "example 18", of=(reference_et_penman_monteith_fao56,))
def test_daily_evapotranspiration_of_uccle():
    et = reference_et_penman_monteith_fao56(
        net_radiation_mj_m2_day=13.28,
        soil_heat_mj_m2_day=0.0,
        temperature=16.9,
        wind_2m=2.078,
        vapour_saturation_kpa=1.997,
        vapour_actual_kpa=1.409,
        pressure_kpa=0.0666 / 0.665e-3,
    )
    assert printed("3.9") == et


@pytest.mark.published(
    BOOK,
    "example 18, whole chain: clear sky and the answer",
    of=(clear_sky_radiation_fao56, net_radiation_fao56, reference_et_penman_monteith_fao56),
)
def test_whole_chain_of_uccle():
    latitude, high, low, day = math.radians(50.8), 21.5, 12.3, 187.0
    outside = extraterrestrial_radiation_fao56(day, latitude=latitude)
    clear = clear_sky_radiation_fao56(outside, elevation=100.0)
    assert printed("30.90") == clear
    hours = daylight_hours_fao56(day, latitude=latitude)
    solar = solar_radiation_angstrom(9.25, hours, extraterrestrial_mj_m2_day=outside)
    vapour = vapour_actual_humidity_extremes(high, low, humidity_max=0.84, humidity_min=0.63)
    back = longwave_radiation_fao56(
        high, low, vapour_actual_kpa=vapour, solar_mj_m2_day=solar, clear_sky_mj_m2_day=clear
    )
    net = net_radiation_fao56(solar, back)
    assert printed("13.28") == net
    et = reference_et_penman_monteith_fao56(
        net_radiation_mj_m2_day=net,
        soil_heat_mj_m2_day=0.0,
        temperature=16.9,
        wind_2m=wind_at_two_metres_fao56(2.78, 10.0),
        vapour_saturation_kpa=vapour_saturation_daily(high, low),
        vapour_actual_kpa=vapour,
        pressure_kpa=air_pressure_fao56(100.0),
    )
    assert printed("3.9") == et


@pytest.mark.published(BOOK, "example 20, answer from memory", of=(reference_et_hargreaves_samani,))
def test_evapotranspiration_of_lyon_from_temperature():
    et = reference_et_hargreaves_samani(
        temperature_max=26.6, temperature_min=14.8, extraterrestrial_mj_m2_day=40.6
    )
    assert printed("5.0") == et


@pytest.mark.published(BOOK, "tables 11, 12 and 22", of=(crop_named, crop_coefficient_fao56))
def test_rows_of_corn_and_soybean():
    corn, soybean = crop_named("corn"), crop_named("soybean")
    assert (0.30, 1.20, 0.35) == (
        corn.coefficient_initial,
        corn.coefficient_mid,
        corn.coefficient_end,
    )
    assert (30, 40, 50, 30) == corn.stage_days
    assert (20, 35, 60, 25) == soybean.stage_days
    assert 140 == soybean.season_days
    assert (0.55, 0.50) == (corn.depletion_share, soybean.depletion_share)
    planted = 121.0  # 1 May
    days = np.array([0.0, 30.0, 50.0, 70.0, 120.0, 135.0, 150.0])
    expected = [0.30, 0.30, 0.75, 1.20, 1.20, 0.775, 0.35]
    assert crop_coefficient_fao56(corn, planted + days) == pytest.approx(expected)
