# SPDX-License-Identifier: Apache-2.0
"""A drained field day by day: from weather to drain flow.

Each day takes what plants and the deep ground draw from what the field held in the morning, then
its rain and melt, and lets the drains run for the 24 hours that follow. So a day of the answer is
the 24 hours after its rain, whatever the hour at which the gauge was read.

    snow      by degree days, with what the gauge missed; frost by an index that snow shields
    surface   saturated ground, a limit of infiltration, frost; hollows, inlets, then runoff
    plants    reference evapotranspiration times the crop's coefficient, none under snow; first from
              standing water, then from the water table as far as it can rise, then from the root
              zone, which gives less the emptier it is
    delay     what passes the roots is on its way in the unsaturated soil below them, the longer the
              deeper the table and the less it is
    drains    Hooghoudt under a table that keeps its shape, in closed form; Kirkham while water
              stands on full ground; never more than laterals and main carry, what is over stays.
              Inlets go before laterals. A raised outlet holds water and gives none back.
    below     to the deep ground by the height of the table, and to a ditch beside the field

Not in it: flow through cracks and worm holes past the root zone, lateral flow between parts of the
field, melt water held in snow, evaporation of snow. The days are computed by the kernel `_field`.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.compiled import compiled
from tilewater.basis.findings import Finding
from tilewater.hydrology import _field as kernel
from tilewater.hydrology import _field_delay as delay
from tilewater.hydrology import _field_drain as drain
from tilewater.hydrology import _field_ground as ground
from tilewater.hydrology.crops import Crop, CropDays, crop_days, crop_named
from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.evapotranspiration import (
    ReferenceEvapotranspiration,
    reference_evapotranspiration,
)
from tilewater.hydrology.field_inputs import KernelInputs, empty_daily, kernel_inputs, outlet_series
from tilewater.hydrology.field_parts import (
    FieldCold,
    FieldDrains,
    FieldSoil,
    SideSeepage,
    field_parts_range,
)

DAY = 86400.0
SPIN_UP_DAYS = 365
"""The first days of a record run twice, the first time to find what the field holds."""

GONE = (
    "drain_flow",
    "inlet_flow",
    "runoff",
    "evapotranspiration",
    "deep_seepage",
    "side_seepage",
)

FLAGS = {
    "snow": ground.SNOW,
    "frozen": ground.FROZEN,
    "stressed": ground.STRESSED,
    "upward limited": ground.UPWARD_LIMITED,
    "infiltration limited": ground.INFILTRATION_LIMITED,
    "saturated": ground.SATURATED,
    "runoff": ground.RUNOFF,
    "inlets": ground.INLETS_RAN,
    "ponded": drain.PONDED,
    "limited": drain.LIMITED,
    "raised outlet": drain.RAISED,
    "held by outlet": drain.HELD,
    "delayed": delay.DELAYED,
}
"""Branches of a day and their bits: "ponded" is flow by Kirkham, "limited" by laterals or main,
"raised outlet" flow over a raised outlet, "held by outlet" no flow because of it, "delayed" that
water was on its way from the roots to the table at the end of the day."""


@dataclass(frozen=True)
class WaterBalance:
    """Where the water of a record went, as depths over the field. [m]

    Attributes
    ----------
    precipitation : float
        As the gauge caught it.
    snow_added : float
        Snow that the gauge missed.
    drain_flow, inlet_flow, runoff, evapotranspiration, deep_seepage, side_seepage : float
    storage_change : float
        Of snow, standing water and water in the ground.
    error : float
        What is left over; rounding only.
    """

    precipitation: float
    snow_added: float
    drain_flow: float
    inlet_flow: float
    runoff: float
    evapotranspiration: float
    deep_seepage: float
    side_seepage: float
    storage_change: float
    error: float


@dataclass(frozen=True, eq=False)
class FieldRun:
    """A field over the days of a record; depths are of water over the field and day. [m]

    Attributes
    ----------
    weather : DailyWeather
    drain_depth : array
        From the laterals.
    inlet_depth : array
        From surface inlets.
    runoff, evapotranspiration, deep_seepage, side_seepage : array
    snow, pond : array
        Water in the snow, and standing on the ground, at the end of the day.
    soil_water : array
        Water in the ground at the end of the day, with what is on its way to the table, over that
        of a field whose roots are full and whose table is level with the drains.
    table_depth : array
        From the ground to the water table midway between drains, at the end of the day.
    flags : array
        Branches that the day took, as a sum of the bits of `FLAGS`.
    balance : WaterBalance
    start : State
        What the field held before the first day.
    inputs : KernelInputs
        What the kernel was given.
    findings : tuple of Finding
    """

    weather: DailyWeather
    drain_depth: Series
    inlet_depth: Series
    runoff: Series
    evapotranspiration: Series
    deep_seepage: Series
    side_seepage: Series
    snow: Series
    pond: Series
    soil_water: Series
    table_depth: Series
    flags: NDArray[np.int16]
    balance: WaterBalance
    start: kernel.State
    inputs: KernelInputs
    findings: tuple[Finding, ...]

    @property
    def drain_flow(self) -> Series:
        """Mean flow of each day in the main, laterals and inlets, over the field. [m/s]"""
        flow: Series = (self.drain_depth + self.inlet_depth) / DAY
        return flow

    def days_of(self, branch: str) -> int:
        """Number of days that took a branch of `FLAGS`. [days]"""
        return int(np.count_nonzero(self.flags & FLAGS[branch]))


def simulate_field(
    weather: DailyWeather,
    *,
    soil: FieldSoil | None = None,
    drains: FieldDrains | None = None,
    cold: FieldCold | None = None,
    rotation: tuple[Crop, ...] = (),
    first_year: int | None = None,
    outlet_height: float | Series = 0.0,
    pool_share: float = 1.0,
    side: SideSeepage | None = None,
    is_compiled: bool = True,
) -> FieldRun:
    """Run a field over the days of a weather record.

    Parameters
    ----------
    weather : DailyWeather
        Days without gaps. [-]
    soil : FieldSoil, optional
        The soil; left out, that of the defaults. [-]
    drains : FieldDrains, optional
        The drains; left out, those of the defaults. [-]
    cold : FieldCold, optional
        Snow and frost; left out, those of the defaults. [-]
    rotation : tuple of Crop
        One crop a calendar year, in turn; left out, corn and soybean. [-]
    first_year : int, optional
        A calendar year with the first crop; left out, the first of the record. [years]
    outlet_height : float or array
        Water that the outlet holds above the drains, within the pool reach. [m]
    pool_share : float
        Share of the laterals that the pool reaches; weights the height. [-]
    side : SideSeepage, optional
        A ditch beside the field; left out, nothing seeps to the side. [-]
    is_compiled : bool
        Whether to use the compiled twin of the kernel, where it can be compiled. [-]

    Returns
    -------
    FieldRun
        Daily series, the water balance and what the engineer must know. [-]

    Raises
    ------
    OutOfDomain
        If a value has no meaning, or the ground would leak faster than it can empty.
    """
    soil, drains, cold = soil or FieldSoil(), drains or FieldDrains(), cold or FieldCold()
    crops = rotation or (crop_named("corn"), crop_named("soybean"))
    year = weather.first_day.year if first_year is None else first_year
    inputs = kernel_inputs(
        weather,
        _reference(weather).depth,
        _asked(weather, crops, year),
        soil=soil,
        drains=drains,
        cold=cold,
        side=side,
        outlet=outlet_series(outlet_height, pool_share, weather),
    )
    return _run(weather, inputs, simulate_field_range(weather, soil, drains, cold), is_compiled)


def simulate_field_range(
    weather: DailyWeather, soil: FieldSoil, drains: FieldDrains, cold: FieldCold
) -> tuple[Finding, ...]:
    """Findings of a run of a field, which needs no run to be known.

    Parameters
    ----------
    weather : DailyWeather
        Days without gaps. [-]
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains. [-]
    cold : FieldCold
        Snow and frost. [-]

    Returns
    -------
    tuple of Finding
        What lies outside its usual range, and how plants were computed. [-]
    """
    return (*field_parts_range(soil, drains, cold), *_reference(weather).findings)


@lru_cache(maxsize=8)
def _reference(weather: DailyWeather) -> ReferenceEvapotranspiration:
    """Reference evapotranspiration, remembered for fields under the same weather."""
    return reference_evapotranspiration(weather)


@lru_cache(maxsize=8)
def _asked(weather: DailyWeather, crops: tuple[Crop, ...], year: int) -> CropDays:
    """What the crops ask, remembered for fields under the same weather and rotation."""
    return crop_days(weather.dates, crops, first_year=year)


def _run(
    weather: DailyWeather, inputs: KernelInputs, findings: tuple[Finding, ...], is_compiled: bool
) -> FieldRun:
    run_days = compiled(kernel.run_field) if is_compiled else kernel.run_field
    given = (inputs.soil, inputs.drains)
    daily = empty_daily(weather.days)
    level = kernel.State(0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    start = run_days(inputs.weather, 0, min(SPIN_UP_DAYS, weather.days), level, *given, daily)
    start = kernel.State(*(float(value) for value in start))
    run_days(inputs.weather, 0, weather.days, start, *given, daily)
    for series in daily:
        series.flags.writeable = False
    return FieldRun(
        weather=weather,
        drain_depth=daily.drain_flow,
        inlet_depth=daily.inlet_flow,
        runoff=daily.runoff,
        evapotranspiration=daily.evapotranspiration,
        deep_seepage=daily.deep_seepage,
        side_seepage=daily.side_seepage,
        snow=daily.snow,
        pond=daily.pond,
        soil_water=daily.soil_water,
        table_depth=daily.table_depth,
        flags=daily.flags,
        balance=_balance(weather, inputs.weather, start, daily),
        start=start,
        inputs=inputs,
        findings=findings,
    )


def _balance(
    weather: DailyWeather, given: kernel.Weather, start: kernel.State, daily: kernel.Daily
) -> WaterBalance:
    caught = float(weather.precipitation.sum())
    fallen = float(given.rain.sum() + given.snowfall.sum())
    held = float(daily.snow[-1] + daily.pond[-1] + daily.soil_water[-1])
    gone = {name: float(getattr(daily, name).sum()) for name in GONE}
    began = start.snow + start.pond + (start.ground - start.depletion + start.transit)
    change = held - began
    error = fallen - sum(gone.values()) - change
    return WaterBalance(
        precipitation=caught,
        snow_added=fallen - caught,
        storage_change=change,
        error=error,
        **gone,
    )


def flag_names(flags: int) -> tuple[str, ...]:
    """Names of the branches that a day took.

    Parameters
    ----------
    flags : int
        Sum of bits. [-]

    Returns
    -------
    tuple of str
        Names of `FLAGS`. [-]
    """
    return tuple(name for name, bit in FLAGS.items() if int(flags) & bit)
