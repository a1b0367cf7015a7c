# SPDX-License-Identifier: Apache-2.0
"""Daily reference evapotranspiration of the station Fallon, 1 July 2015.

Printed in the tests of the library RefET for the standardised equation, which differs a little from
that of FAO-56 in its constants and in the clear sky.
"""

import math

import pytest

from tilewater.hydrology.air import (
    air_pressure_fao56,
    day_temperature,
    vapour_saturation_daily,
    wind_at_two_metres_fao56,
)
from tilewater.hydrology.evapotranspiration import reference_et_penman_monteith_fao56
from tilewater.hydrology.radiation import (
    clear_sky_radiation_fao56,
    extraterrestrial_radiation_fao56,
    longwave_radiation_fao56,
    net_radiation_fao56,
)

LANGLEY = 0.041868
"""MJ/m2"""
VARIANTS = 0.01
"""How far apart the standardised form and FAO-56 may lie."""


@pytest.mark.published(
    "refet-fallon", "grass, detailed clear sky", of=(reference_et_penman_monteith_fao56,)
)
def test_hot_day_in_nevada():
    high, low = (102.80 - 32.0) / 1.8, (66.65 - 32.0) / 1.8
    outside = extraterrestrial_radiation_fao56(182.0, latitude=math.radians(39.4575))
    solar = 674.07 * LANGLEY
    back = longwave_radiation_fao56(
        high,
        low,
        vapour_actual_kpa=1.2206674,
        solar_mj_m2_day=solar,
        clear_sky_mj_m2_day=clear_sky_radiation_fao56(outside, elevation=1208.5),
    )
    et = reference_et_penman_monteith_fao56(
        net_radiation_mj_m2_day=net_radiation_fao56(solar, back),
        soil_heat_mj_m2_day=0.0,
        temperature=day_temperature(high, low),
        wind_2m=1.97611,
        vapour_saturation_kpa=vapour_saturation_daily(high, low),
        vapour_actual_kpa=1.2206674,
        pressure_kpa=air_pressure_fao56(1208.5),
    )
    assert et == pytest.approx(7.94223, rel=VARIANTS)
    assert wind_at_two_metres_fao56(1.97611, 2.0) == pytest.approx(1.97611, rel=0.001)
