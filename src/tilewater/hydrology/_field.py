# SPDX-License-Identifier: Apache-2.0
"""One field over the days, from weather to drain flow: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernels share. Read `field` for what it means; the parts of a day are in `_field_ground` and
`_field_drain`.

Depths are of water over the field, in m; a day is the unit of time. The water table is kept as the
water `ground` that lies above the drains in the pores that drain, negative where the table has
fallen below them. A day takes what plants and the deep ground draw from what the field held in the
morning, then its rain and melt, and lets the drains run for 24 hours.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tilewater.hydrology._field_drain import (
    Drained,
    Drains,
    Outlet,
    drain_freely,
    drain_in_phases,
    outlet_at,
    table_height,
)
from tilewater.hydrology._field_ground import (
    Cold,
    Soil,
    Taken,
    Wetted,
    keep_cold,
    take_water,
    wet_ground,
)

Array = NDArray[np.float64]
Flags = NDArray[np.int16]

SNOW = 1
FROZEN = 2
STRESSED = 4
UPWARD_LIMITED = 8
INFILTRATION_LIMITED = 16
SATURATED = 32
RUNOFF = 64
INLETS_RAN = 128
PONDED = 256
LIMITED = 512
RAISED = 1024
HELD = 2048


class State(NamedTuple):
    """What a field holds at midnight: m of water, and the frost index in degC days."""

    snow: float
    frost: float
    pond: float
    depletion: float
    ground: float


class Weather(NamedTuple):
    """What each day brings: depths in m, temperature in degC.

    `melt` is the most that can melt, `demand` what the crop would take, `root_depth` how deep it
    draws, `available` what its roots can reach when full, `stress_from` the depletion from which
    it takes less, `outlet` the water held in the drains above them.
    """

    rain: Array
    snowfall: Array
    melt: Array
    temperature: Array
    demand: Array
    root_depth: Array
    available: Array
    stress_from: Array
    outlet: Array


class Daily(NamedTuple):
    """What each day gives, for the kernel to write into: depths in m, flags as sums of bits."""

    drain_flow: Array
    inlet_flow: Array
    runoff: Array
    evapotranspiration: Array
    deep_seepage: Array
    side_seepage: Array
    snow: Array
    pond: Array
    soil_water: Array
    table_depth: Array
    flags: Flags


class Day(NamedTuple):
    """All that happened on a day."""

    cold: Cold
    taken: Taken
    wetted: Wetted
    drained: Drained


def flags_of(cold: Cold, taken: Taken, wetted: Wetted, drained: Drained, outlet: Outlet) -> int:
    """Which branches a day took, as a sum of bits."""
    flags = 0
    if cold.snow > 0.0:
        flags += SNOW
    if cold.frozen:
        flags += FROZEN
    if taken.stress_factor < 1.0:
        flags += STRESSED
    if taken.upward_limited:
        flags += UPWARD_LIMITED
    if wetted.limited:
        flags += INFILTRATION_LIMITED
    if wetted.saturated:
        flags += SATURATED
    if wetted.runoff > 0.0:
        flags += RUNOFF
    if wetted.inlet_flow > 0.0:
        flags += INLETS_RAN
    if drained.at_pond > 0.0:
        flags += PONDED
    if drained.limited:
        flags += LIMITED
    if outlet.height > 0.0 and drained.flow > 0.0:
        flags += RAISED
    if drained.held:
        flags += HELD
    return flags


def run_field(
    weather: Weather,
    first: int,
    last: int,
    state: State,
    soil: Soil,
    drains: Drains,
    daily: Daily,
) -> State:
    """Run the days from `first` to before `last`, write what they give, return the last state."""
    capacity = min(drains.laterals, drains.main)
    outlet = outlet_at(0.0, capacity, drains)
    snow, frost, pond = state.snow, state.frost, state.pond
    depletion, ground = state.depletion, state.ground
    for day in range(first, last):
        if weather.outlet[day] != outlet.height:
            outlet = outlet_at(weather.outlet[day], capacity, drains)
        cold = keep_cold(
            snow,
            frost,
            weather.snowfall[day],
            weather.melt[day],
            weather.temperature[day],
            soil,
        )
        snow, frost = cold.snow, cold.frost
        taken = take_water(
            weather.demand[day] if snow == 0.0 else 0.0,
            weather.root_depth[day],
            weather.available[day],
            weather.stress_from[day],
            pond,
            depletion,
            ground,
            soil,
            drains,
        )
        water = weather.rain[day] + cold.melt + taken.pond
        wetted = wet_ground(water, taken.depletion, taken.ground, cold.frozen, soil, drains)
        today = outlet
        if wetted.inlet_flow > 0.0:
            room = min(drains.laterals, drains.main - wetted.inlet_flow)
            today = outlet_at(outlet.height, room, drains)
        ground, pond = wetted.ground, wetted.pond
        if ground > today.ground_free:
            drained = drain_in_phases(ground, pond, wetted.saturated, today, drains)
        else:
            drained = drain_freely(ground, pond, today, drains)
        pond, depletion, ground = drained.pond, wetted.depletion, drained.ground
        daily.drain_flow[day] = drained.flow
        daily.inlet_flow[day] = wetted.inlet_flow
        daily.runoff[day] = wetted.runoff
        daily.evapotranspiration[day] = taken.from_pond + taken.from_table + taken.from_roots
        daily.deep_seepage[day] = taken.deep_seepage
        daily.side_seepage[day] = taken.side_seepage
        daily.snow[day] = snow
        daily.pond[day] = pond
        daily.soil_water[day] = ground - depletion
        daily.table_depth[day] = drains.depth - table_height(ground, outlet, drains)
        daily.flags[day] = flags_of(cold, taken, wetted, drained, outlet)
    return State(snow, frost, pond, depletion, ground)
