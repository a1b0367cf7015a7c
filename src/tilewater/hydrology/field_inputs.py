# SPDX-License-Identifier: Apache-2.0
"""What the field kernel is given: series of the weather and the calendar, constants of the ground.

Everything that depends on weather and calendar alone is worked out here once, so that the days
themselves stay short.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from tilewater.basis.domain import require_not_negative, require_share
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.drains import drain_flux_kirkham_ponded, equivalent_depth_moody
from tilewater.hydrology import _field as kernel
from tilewater.hydrology._field_drain import Drains
from tilewater.hydrology._field_ground import Soil
from tilewater.hydrology.crops import CropDays
from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil, SideSeepage
from tilewater.hydrology.snow_frost import snow_share_linear, snowmelt_degree_day
from tilewater.hydrology.soil_water import available_water, upward_flux_factor_gardner

DAY = 86400.0
RISE_POWER = 3.0
"""Gardner's exponent of the soil between table and roots, in the kernel."""


@dataclass(frozen=True, eq=False)
class KernelInputs:
    """Series and constants as the kernel takes them, in m and days."""

    weather: kernel.Weather
    soil: Soil
    drains: Drains


def kernel_inputs(
    weather: DailyWeather,
    reference_depth: Series,
    asked: CropDays,
    *,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    side: SideSeepage | None,
    outlet: Series,
) -> KernelInputs:
    """Series and constants for the kernel.

    Roots reach no deeper than the drains.

    Parameters
    ----------
    weather : DailyWeather
        The record. [-]
    reference_depth : array
        Reference evapotranspiration of each day. [m]
    asked : CropDays
        What the crops ask. [-]
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains. [-]
    cold : FieldCold
        Snow and frost. [-]
    side : SideSeepage or None
        A ditch beside the field. [-]
    outlet : array
        Water held in the drains above them. [m]

    Returns
    -------
    KernelInputs
        In m and days. [-]

    Raises
    ------
    OutOfDomain
        If the ground would leak faster than it can empty.
    """
    rain, snowfall, melt = _fallen(weather, cold)
    available = available_water(
        soil.water_capacity, np.minimum(asked.full_root_depth, drains.depth)
    )
    series = kernel.Weather(
        rain=rain,
        snowfall=snowfall,
        melt=melt,
        temperature=_series(weather.temperature, weather),
        demand=_series(reference_depth * asked.coefficient, weather),
        root_depth=_series(np.minimum(asked.root_depth, drains.depth), weather),
        available=_series(available, weather),
        stress_from=_series(available * asked.depletion_share, weather),
        outlet=outlet,
    )
    return KernelInputs(series, kernel_soil(soil, drains, cold, side), kernel_drains(soil, drains))


def outlet_series(
    outlet_height: float | Series, pool_share: float, weather: DailyWeather
) -> Series:
    """Water held in the drains above them on each day, weighted by the pool's reach.

    Parameters
    ----------
    outlet_height : float or array
        Water that the outlet holds above the drains, within the pool reach. [m]
    pool_share : float
        Share of the laterals that the pool reaches. [-]
    weather : DailyWeather
        The record. [-]

    Returns
    -------
    array
        Heights. [m]

    Raises
    ------
    OutOfDomain
        If a height is negative, the share no share, or the series not one of days.

    Notes
    -----
    E = p E_pool    (derived)

    References
    ----------
    derived, the mean over laterals within the pool and free ones
    """
    require_share("pool_share", pool_share, "Give the share of laterals within the pool reach")
    require_not_negative("outlet_height", outlet_height, "m", "Use 0 for an outlet below the drain")
    heights = np.asarray(outlet_height, dtype=np.float64) * pool_share
    if heights.ndim and heights.size != weather.days:
        raise OutOfDomain(
            f"outlet_height has {heights.size} days and the weather {weather.days}. Give one "
            f"height, or one a day."
        )
    return _series(heights, weather)


def empty_daily(days: int) -> kernel.Daily:
    """Arrays for the kernel to write into.

    Parameters
    ----------
    days : int
        Number of days. [days]

    Returns
    -------
    Daily
        Not yet filled. [-]
    """
    return kernel.Daily(
        drain_flow=np.empty(days),
        inlet_flow=np.empty(days),
        runoff=np.empty(days),
        evapotranspiration=np.empty(days),
        deep_seepage=np.empty(days),
        side_seepage=np.empty(days),
        snow=np.empty(days),
        pond=np.empty(days),
        soil_water=np.empty(days),
        table_depth=np.empty(days),
        flags=np.empty(days, dtype=np.int16),
    )


def kernel_soil(
    soil: FieldSoil, drains: FieldDrains, cold: FieldCold, side: SideSeepage | None
) -> Soil:
    """Constants of the ground for the kernel.

    Parameters
    ----------
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains. [-]
    cold : FieldCold
        Snow and frost. [-]
    side : SideSeepage or None
        A ditch beside the field. [-]

    Returns
    -------
    Soil
        In m and days. [-]

    Raises
    ------
    OutOfDomain
        If the ground would leak faster than it can empty.
    """
    leak = soil.deep_seepage * DAY / soil.barrier_below_drains
    side_leak, ditch = 0.0, 0.0
    if side is not None:
        conductivity = _mean_conductivity(soil, drains)
        side_leak = conductivity * DAY / (2.0 * side.distance * side.field_width)
        ditch = side.ditch_height**2
    delay_square, delay_fifth = _delay_terms(soil)
    highest = soil.barrier_below_drains + drains.depth
    if leak + side_leak * highest >= soil.drainable_porosity:
        raise OutOfDomain(
            f"deep_seepage is {soil.deep_seepage:g} m/s. With what seeps to the side it would "
            f"empty the ground within a day. Check its unit and the distance to the ditch."
        )
    return Soil(
        infiltration=soil.infiltration * DAY,
        frozen_share=cold.frozen_share,
        surface_storage=soil.surface_storage,
        full=soil.drainable_porosity * drains.depth,
        lowest=-soil.drainable_porosity * soil.barrier_below_drains,
        upward=soil.upward_flux_at_one_metre * DAY,
        leak=leak,
        side_leak=side_leak,
        ditch=ditch,
        frost_kept=cold.frost_kept,
        snow_cover=0.4 * cold.frost_cover_per_cm * 100.0 / cold.snow_density,
        frost_limit=cold.frost_limit,
        loss=soil.loss_at_one_metre if soil.upward_flux_at_one_metre > 0.0 else 0.0,
        delay_square=delay_square,
        delay_fifth=delay_fifth,
    )


def _delay_terms(soil: FieldSoil) -> tuple[float, float]:
    """Terms of `percolation_time_gardner` as days per square and fifth power of the way."""
    if soil.upward_flux_at_one_metre == 0.0:
        return 0.0, 0.0
    coefficient = soil.upward_flux_at_one_metre / float(upward_flux_factor_gardner(RISE_POWER))
    of_square = soil.loss_at_one_metre / (2.0 * soil.conductivity_above)
    return of_square / DAY, soil.loss_at_one_metre / (20.0 * coefficient) / DAY


def kernel_drains(soil: FieldSoil, drains: FieldDrains) -> Drains:
    """Constants of the drains for the kernel: Hooghoudt by Moody's depth, Kirkham for one soil.

    Parameters
    ----------
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains. [-]

    Returns
    -------
    Drains
        In m and days. [-]
    """
    equivalent = min(
        soil.barrier_below_drains,
        float(
            equivalent_depth_moody(soil.barrier_below_drains, drains.spacing, radius=drains.radius)
        ),
    )
    ponded = drain_flux_kirkham_ponded(
        0.0,
        drain_depth=drains.depth,
        barrier_depth=drains.depth + soil.barrier_below_drains,
        spacing=drains.spacing,
        radius=drains.radius,
        conductivity=_mean_conductivity(soil, drains),
    )
    wedge = soil.drainable_porosity * soil.shape_factor
    return Drains(
        depth=drains.depth,
        porosity=soil.drainable_porosity,
        porosity_inverse=1.0 / soil.drainable_porosity,
        wedge=wedge,
        wedge_inverse=1.0 / wedge,
        arch_inverse=1.0 / (soil.drainable_porosity * soil.arch_factor),
        square=4.0 * soil.conductivity_above * DAY / drains.spacing**2,
        linear=8.0 * soil.conductivity_below * DAY * equivalent / drains.spacing**2,
        pond_rate=float(ponded) * DAY / (drains.depth - drains.radius),
        radius=drains.radius,
        laterals=drains.laterals_capacity * DAY,
        inlets=min(drains.inlet_capacity, drains.main_capacity) * DAY,
        main=drains.main_capacity * DAY,
    )


def _mean_conductivity(soil: FieldSoil, drains: FieldDrains) -> float:
    """Conductivity along the layers from ground to barrier, by their thickness."""
    above = soil.conductivity_above * drains.depth
    below = soil.conductivity_below * soil.barrier_below_drains
    return (above + below) / (drains.depth + soil.barrier_below_drains)


@lru_cache(maxsize=8)
def _fallen(weather: DailyWeather, cold: FieldCold) -> tuple[Series, Series, Series]:
    """Rain, snow and the most that can melt, remembered for fields under the same weather."""
    temperature = weather.temperature
    lying = snow_share_linear(temperature, snow_below=cold.snow_below, rain_above=cold.rain_above)
    melt = snowmelt_degree_day(
        temperature, melt_mm_per_degc_day=cold.melt_mm_per_degc_day, melt_base=cold.melt_base
    )
    caught = weather.precipitation
    rain = _series(caught * (1.0 - lying), weather)
    snowfall = _series(caught * lying * cold.snow_undercatch, weather)
    return rain, snowfall, _series(melt, weather)


def _series(values: float | Series, weather: DailyWeather) -> Series:
    """A series of its own for the kernel, one value a day, not to be written to."""
    series = np.array(np.broadcast_to(values, (weather.days,)), dtype=np.float64)
    series.flags.writeable = False
    return series
