# SPDX-License-Identifier: Apache-2.0
"""A day of snow, frost, plants and rain on one field: the bare arithmetic.

Plain numbers, no checks, positional arguments: part of the kernel `_field`. Depths are in m of
water over the field, a day is the unit of time.
"""

import math
from typing import NamedTuple

from tilewater.hydrology._field_drain import Drains

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


class Cold(NamedTuple):
    """Snow and frost after a day's fall and melt."""

    snow: float
    melt: float
    frost: float
    frozen: bool


class Taken(NamedTuple):
    """What plants and the deep ground took of a day."""

    from_pond: float
    from_table: float
    from_roots: float
    stress_factor: float
    upward_limited: bool
    deep_seepage: float
    side_seepage: float
    pond: float
    depletion: float
    ground: float


class Wetted(NamedTuple):
    """Where the water that came to the surface went."""

    water: float
    infiltration: float
    to_roots: float
    to_table: float
    inlet_flow: float
    runoff: float
    limited: bool
    saturated: bool
    pond: float
    depletion: float
    ground: float


def keep_cold(
    snow: float, frost: float, snowfall: float, melt_most: float, temperature: float, soil: Soil
) -> Cold:
    """Snow by degree days, and the frost index that snow shields."""
    snow = snow + snowfall
    melt = min(snow, melt_most)
    snow = snow - melt
    if frost > 0.0 or temperature < 0.0:
        felt = temperature
        if snow > 0.0:
            felt = temperature * math.exp(-soil.snow_cover * snow)
        frost = soil.frost_kept * frost - felt
        if frost < LEAST_FROST:
            frost = 0.0
    return Cold(snow, melt, frost, frost > soil.frost_limit)


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
    from_pond, from_table, from_roots, stress_factor = 0.0, 0.0, 0.0, 1.0
    upward_limited = False
    if demand > 0.0:
        from_pond = min(pond, demand)
        missing = demand - from_pond
        from_table = missing
        rise = drains.depth - root_depth - ground * drains.porosity_inverse
        if rise > 0.0:
            resisted = rise * rise * rise
            if missing * resisted > soil.upward:
                from_table = soil.upward / resisted
                upward_limited = True
        from_table = min(from_table, ground - soil.lowest)
        if depletion > stress_from:
            stress_factor = max(0.0, (available - depletion) / (available - stress_from))
        from_roots = stress_factor * (missing - from_table)
        pond = pond - from_pond
        ground = ground - from_table
        depletion = depletion + from_roots
    height = drains.barrier + ground * drains.porosity_inverse
    deep_seepage = soil.leak * height
    side_seepage = soil.side_leak * max(0.0, height * height - soil.ditch)
    ground = ground - deep_seepage - side_seepage
    return Taken(
        from_pond,
        from_table,
        from_roots,
        stress_factor,
        upward_limited,
        deep_seepage,
        side_seepage,
        pond,
        depletion,
        ground,
    )


def wet_ground(
    water: float, depletion: float, ground: float, frozen: bool, soil: Soil, drains: Drains
) -> Wetted:
    """What of the water at the surface goes into the ground, stands, or runs off."""
    most = soil.infiltration
    if frozen:
        most = min(most, soil.frozen_share * water)
    room = depletion + (soil.full - ground)
    infiltration = min(water, min(most, room))
    to_roots = min(infiltration, depletion)
    to_table = infiltration - to_roots
    standing = water - infiltration
    inlet_flow = min(standing, drains.inlets)
    standing = standing - inlet_flow
    runoff = max(0.0, standing - soil.surface_storage)
    return Wetted(
        water,
        infiltration,
        to_roots,
        to_table,
        inlet_flow,
        runoff,
        most < water and most < room,
        room <= water and room <= most,
        standing - runoff,
        depletion - to_roots,
        ground + to_table,
    )
