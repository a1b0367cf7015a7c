# SPDX-License-Identifier: Apache-2.0
"""A day of snow, frost, plants and rain on one field: the bare arithmetic.

Plain numbers, no checks, positional arguments: part of the kernel `_field`. Depths are in m of
water over the field, a day is the unit of time.
"""

import math
from typing import NamedTuple

from tilewater.hydrology._field_drain import Drains

SNOW = 1
FROZEN = 2
STRESSED = 4
UPWARD_LIMITED = 8
INFILTRATION_LIMITED = 16
SATURATED = 32
RUNOFF = 64
INLETS_RAN = 128

LEAST_FROST = 1e-6
"""Frost index below which there is none, so that it does not fade away for ever. [degC-day]"""


class Soil(NamedTuple):
    """What the kernel needs of the ground between surface and barrier.

    Attributes
    ----------
    infiltration : float
        Most water that the ground takes in a day. [m]
    frozen_share : float
        Share of the water that frozen ground takes. [-]
    surface_storage : float
        Water that hollows hold before any runs off. [m]
    full : float
        Water in the drainable pores, above the drains, when they are full. [m]
    lowest : float
        The same when the table is at the barrier, below zero. [m]
    upward : float
        Steady flux that reaches one metre above the table. [m/day]
    leak : float
        Flux to the deep ground per height of the table above the barrier. [1/day]
    side_leak : float
        Flux to a ditch per square of a height above the barrier. [1/m/day]
    ditch : float
        Square of the ditch's height above the barrier. [m2]
    frost_kept : float
        Share of the frost index that a day keeps. [-]
    snow_cover : float
        Exponent per water in the snow by which it shields the ground. [1/m]
    frost_limit : float
        Frost index from which the ground takes little water. [degC days]
    loss : float
        Water that a metre of suction takes from full soil, over its volume; 0 for no delay. [1/m]
    delay_square, delay_fifth : float
        Delay below the roots per square and fifth power of the way. [days/m2, days/m5]
    """

    infiltration: float
    frozen_share: float
    surface_storage: float
    full: float
    lowest: float
    upward: float
    leak: float
    side_leak: float
    ditch: float
    frost_kept: float
    snow_cover: float
    frost_limit: float
    loss: float
    delay_square: float
    delay_fifth: float


class Cold(NamedTuple):
    """Snow and frost after a day's fall and melt."""

    snow: float
    melt: float
    frost: float
    flags: int


class Taken(NamedTuple):
    """What plants and the deep ground took of a day."""

    from_pond: float
    from_table: float
    from_roots: float
    stress_factor: float
    deep_seepage: float
    side_seepage: float
    pond: float
    depletion: float
    ground: float
    flags: int


class Wetted(NamedTuple):
    """Where the water that came to the surface went."""

    infiltration: float
    to_roots: float
    inlet_flow: float
    runoff: float
    pond: float
    depletion: float
    passed: float
    flags: int


class Spilled(NamedTuple):
    """Where the water went that did not all go into the ground."""

    infiltration: float
    inlet_flow: float
    runoff: float
    pond: float
    flags: int


def keep_cold(
    snow: float, frost: float, snowfall: float, melt_most: float, temperature: float, soil: Soil
) -> Cold:
    """Snow by degree days, and the frost index that snow shields."""
    melt, flags = 0.0, 0
    snow = snow + snowfall
    if snow > 0.0:
        melt = min(snow, melt_most)
        snow = snow - melt
    if frost > 0.0 or temperature < 0.0:
        felt = temperature
        if snow > 0.0:
            felt = temperature * math.exp(-soil.snow_cover * snow)
        frost = soil.frost_kept * frost - felt
        if frost < LEAST_FROST:
            frost = 0.0
    if snow > 0.0:
        flags += SNOW
    if frost > soil.frost_limit:
        flags += FROZEN
    return Cold(snow, melt, frost, flags)


def take_water(
    demand: float,
    root_depth: float,
    available: float,
    stress_from: float,
    pond: float,
    depletion: float,
    ground: float,
    soil: Soil,
    drains: Drains,
) -> Taken:
    """What is drawn from pond, table and roots in turn, and what seeps away below."""
    from_pond, from_table, from_roots, stress_factor, flags = 0.0, 0.0, 0.0, 1.0, 0
    if demand > 0.0:
        missing = demand
        if pond > 0.0:
            from_pond = min(pond, demand)
            missing = demand - from_pond
            pond = pond - from_pond
        from_table = missing
        rise = drains.depth - root_depth - ground * drains.porosity_inverse
        if rise > 0.0:
            resisted = rise * rise * rise
            if missing * resisted > soil.upward:
                from_table = soil.upward / resisted
        if from_table > ground - soil.lowest:
            from_table = ground - soil.lowest
        if from_table < missing:
            flags += UPWARD_LIMITED
            if depletion > stress_from:
                flags += STRESSED
                stress_factor = max(0.0, (available - depletion) / (available - stress_from))
            from_roots = stress_factor * (missing - from_table)
            depletion = depletion + from_roots
        ground = ground - from_table
    height = (ground - soil.lowest) * drains.porosity_inverse
    deep_seepage, side_seepage = soil.leak * height, 0.0
    ground = ground - deep_seepage
    if soil.side_leak > 0.0 and height * height > soil.ditch:
        side_seepage = soil.side_leak * (height * height - soil.ditch)
        ground = ground - side_seepage
    return Taken(
        from_pond,
        from_table,
        from_roots,
        stress_factor,
        deep_seepage,
        side_seepage,
        pond,
        depletion,
        ground,
        flags,
    )


def spill(water: float, most: float, room: float, soil: Soil, drains: Drains) -> Spilled:
    """Water that stands: inlets take it, hollows hold it, the rest runs off."""
    flags = SATURATED if room <= most else INFILTRATION_LIMITED
    infiltration = min(most, room)
    standing = water - infiltration
    inlet_flow = min(standing, drains.inlets)
    standing = standing - inlet_flow
    runoff = max(0.0, standing - soil.surface_storage)
    if inlet_flow > 0.0:
        flags += INLETS_RAN
    if runoff > 0.0:
        flags += RUNOFF
    return Spilled(infiltration, inlet_flow, runoff, standing - runoff, flags)


def wet_ground(
    water: float, depletion: float, held: float, frozen: bool, soil: Soil, drains: Drains
) -> Wetted:
    """What of the water at the surface goes into the ground, stands, or runs off.

    The drainable pores hold `held`, above the drains or on its way to the table.
    """
    infiltration, inlet_flow, runoff, pond, flags = water, 0.0, 0.0, 0.0, 0
    if water <= 0.0:
        return Wetted(0.0, 0.0, 0.0, 0.0, 0.0, depletion, 0.0, 0)
    most = soil.infiltration
    if frozen:
        most = min(most, soil.frozen_share * water)
    room = depletion + (soil.full - held)
    if water > most or water >= room:
        spilled = spill(water, most, room, soil, drains)
        infiltration, inlet_flow = spilled.infiltration, spilled.inlet_flow
        runoff, pond, flags = spilled.runoff, spilled.pond, spilled.flags
    to_roots = min(infiltration, depletion)
    return Wetted(
        infiltration,
        to_roots,
        inlet_flow,
        runoff,
        pond,
        depletion - to_roots,
        infiltration - to_roots,
        flags,
    )
