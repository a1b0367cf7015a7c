# SPDX-License-Identifier: Apache-2.0
"""One field over the days, from weather to drain flow: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernels share. Read `field` for what it means; the parts of a day are in `_field_ground`,
`_field_delay` and `_field_drain`.

Depths are of water over the field, in m; a day is the unit of time. The water table is kept as the
water `ground` that lies above the drains in the pores that drain, negative where the table has
fallen below them; `transit` is on its way from the roots to the table. A day takes what plants and
the deep ground draw from what the field held in the morning, then its rain and melt, lets down what
arrives at the table, and lets the drains run for 24 hours.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tilewater.hydrology._field_delay import let_down
from tilewater.hydrology._field_drain import (
    Drains,
    drain_beside_inlets,
    drain_freely,
    drain_in_phases,
    outlet_at,
    table_height,
)
from tilewater.hydrology._field_ground import (
    FROZEN,
    SATURATED,
    Soil,
    keep_cold,
    take_water,
    wet_ground,
)

Array = NDArray[np.float64]
Flags = NDArray[np.int16]


class State(NamedTuple):
    """What a field holds at midnight: m of water, and the frost index in degC days."""

    snow: float
    frost: float
    pond: float
    depletion: float
    ground: float
    transit: float


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
    depletion, ground, transit = state.depletion, state.ground, state.transit
    for day in range(first, last):
        if weather.outlet[day] != outlet.height:
            outlet = outlet_at(weather.outlet[day], capacity, drains)
        melt, temperature = weather.melt[day], weather.temperature[day]
        cold = keep_cold(snow, frost, weather.snowfall[day], melt, temperature, soil)
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
        frozen = cold.flags & FROZEN != 0
        held = taken.ground + transit
        wetted = wet_ground(water, taken.depletion, held, frozen, soil, drains)
        transit, pond, inlets = transit + wetted.passed, wetted.pond, wetted.inlet_flow
        is_full = wetted.flags & SATURATED != 0
        passed = let_down(transit, taken.ground, weather.root_depth[day], is_full, soil, drains)
        transit, ground = passed.transit, passed.ground
        if inlets > 0.0:
            drained = drain_beside_inlets(ground, pond, is_full, inlets, outlet, drains)
        elif ground > outlet.ground_free:
            drained = drain_in_phases(ground, pond, is_full, outlet, drains)
        else:
            drained = drain_freely(ground, pond, outlet, drains)
        pond, depletion, ground = drained.pond, wetted.depletion, drained.ground
        daily.drain_flow[day] = drained.flow
        daily.inlet_flow[day] = inlets
        daily.runoff[day] = wetted.runoff
        daily.evapotranspiration[day] = taken.from_pond + taken.from_table + taken.from_roots
        daily.deep_seepage[day] = taken.deep_seepage
        daily.side_seepage[day] = taken.side_seepage
        daily.snow[day] = snow
        daily.pond[day] = pond
        daily.soil_water[day] = ground - depletion + transit
        daily.table_depth[day] = drains.depth - table_height(ground, outlet, drains)
        daily.flags[day] = cold.flags + taken.flags + wetted.flags + passed.flags + drained.flags
    return State(snow, frost, pond, depletion, ground, transit)
