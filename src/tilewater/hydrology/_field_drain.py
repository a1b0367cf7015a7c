# SPDX-License-Identifier: Apache-2.0
"""A day of flow to parallel drains, in closed form: the bare arithmetic.

Plain numbers, no checks, positional arguments: part of the kernel `_field`. A day is the unit of
time. With E the water in the drains and u the height above it of the steady table that gives the
same flux,

    q = A (u^2 + 2 E u) + B u,  A = 4 Ka / L^2,  B = 8 Kb d / L^2      Hooghoudt, ellipse
    f C du/dt = -q   gives   u(t) = u e / (1 + u g)
    e = exp(-(2 A E + B) t / (f C)),  g = A (1 - e) / (2 A E + B)

C is chosen so that flux and stored water go together as in a falling table; the falling table
itself is more arched than u, see `table_height`. A day may begin ponded (Kirkham), go on at the
flux of a table at the ground while the pores beside the drains empty, or at the capacity of the
drains, before it falls freely; each phase is exact.
"""

import math
from typing import NamedTuple

PONDED = 256
LIMITED = 512
RAISED = 1024
HELD = 2048

LEAST_HEIGHT = 1e-6
"""Table above the water in the drains below which nothing flows. [m]"""


class Drains(NamedTuple):
    """What the kernel needs of the drains and of the soil they lie in.

    Attributes
    ----------
    depth : float
        From the ground to the drains. [m]
    porosity : float
        Drainable porosity f. [-]
    porosity_inverse : float
        Its inverse. [-]
    wedge : float
        Water that a fall of u by one metre gives, f C. [-]
    wedge_inverse : float
        Its inverse. [-]
    arch_inverse : float
        Height of the table midway per water above the drains. [-]
    square, linear : float
        A and B of the flux. [1/m/day, 1/day]
    pond_rate : float
        Flux under a pond per metre of head. [1/day]
    radius : float
        Effective radius. [m]
    laterals : float
        Most that the laterals carry. [m/day]
    inlets : float
        Most that surface inlets let into the main. [m/day]
    main : float
        Most that the main carries. [m/day]
    """

    depth: float
    porosity: float
    porosity_inverse: float
    wedge: float
    wedge_inverse: float
    arch_inverse: float
    square: float
    linear: float
    pond_rate: float
    radius: float
    laterals: float
    inlets: float
    main: float


class Outlet(NamedTuple):
    """What follows from the water held in the drains, and from what they may carry.

    Attributes
    ----------
    height : float
        Water in the drains above them, E. [m]
    capacity : float
        Most that the drains may give. [m/day]
    ground : float
        Water in the drainable pores where the table is level with it. [m]
    slope : float
        2 A E + B. [1/day]
    kept : float
        e of a whole day. [-]
    gain : float
        g of a whole day. [1/m]
    highest : float
        u with the steady table at the ground midway. [m]
    flux_highest : float
        Flux there. [m/day]
    free : float
        u from which the capacity or the ground limits the flow. [m]
    ground_free : float
        Water in the drainable pores there; with more, a day goes in phases. [m]
    """

    height: float
    capacity: float
    ground: float
    slope: float
    kept: float
    gain: float
    highest: float
    flux_highest: float
    free: float
    ground_free: float


class Drained(NamedTuple):
    """What the drains took in a day, and what share of it they spent in which phase."""

    flow: float
    ground: float
    pond: float
    at_pond: float
    at_surface: float
    at_capacity: float
    flags: int


def flux_at(u: float, outlet_height: float, drains: Drains) -> float:
    """Hooghoudt's flux with the table midway `u` above the water in the drains."""
    return u * (drains.square * (u + 2.0 * outlet_height) + drains.linear)


def height_of_flux(flux: float, slope: float, drains: Drains) -> float:
    """The u that gives a flux; beyond all heights where nothing conducts."""
    bottom = slope + math.sqrt(slope * slope + 4.0 * drains.square * flux)
    return 2.0 * flux / bottom if bottom > 0.0 else math.inf


def gain_in(time: float, slope: float, drains: Drains) -> float:
    """The g of some time."""
    if slope > 0.0:
        fallen = -math.expm1(-slope * time * drains.wedge_inverse)
        return drains.square * fallen / slope
    return drains.square * time * drains.wedge_inverse


def outlet_at(height: float, capacity: float, drains: Drains) -> Outlet:
    """What follows from an outlet level and a capacity."""
    slope = 2.0 * drains.square * height + drains.linear
    highest = max(0.0, drains.depth - height)
    free = highest
    if capacity < math.inf:
        free = min(free, height_of_flux(capacity, slope, drains))
    return Outlet(
        height,
        capacity,
        drains.porosity * height,
        slope,
        math.exp(-slope * drains.wedge_inverse),
        gain_in(1.0, slope, drains),
        highest,
        flux_at(highest, height, drains),
        free,
        drains.porosity * height + drains.wedge * max(free, LEAST_HEIGHT),
    )


def kirkham_phase(pond: float, time: float, outlet: Outlet, drains: Drains) -> tuple[float, float]:
    """Water drained from a pond over full pores, and the time that it takes, within `time`."""
    head = drains.depth - max(drains.radius, outlet.height)
    if head <= 0.0 or outlet.capacity <= 0.0:
        return 0.0, time
    left, spent = pond, 0.0
    if drains.pond_rate * (left + head) > outlet.capacity:
        down_to = max(0.0, outlet.capacity / drains.pond_rate - head)
        spent = min(time, (left - down_to) / outlet.capacity)
        left = max(down_to, left - outlet.capacity * spent)
    if left > 0.0 and spent < time:
        empties = math.log1p(left / head) / drains.pond_rate
        if empties <= time - spent:
            return pond, spent + empties
        fallen = -math.expm1(-drains.pond_rate * (time - spent))
        return pond - left + (left + head) * fallen, time
    return pond - left, spent


def time_to_fall(u: float, target: float, flux: float, time: float, drains: Drains) -> float:
    """Time that a steady flux takes to bring the table down to a target, within `time`."""
    if u <= target or flux <= 0.0:
        return time if u > target else 0.0
    return min(time, (u - target) * drains.wedge / flux)


def drain_in_phases(
    ground: float, pond: float, is_full: bool, outlet: Outlet, drains: Drains
) -> Drained:
    """A day that does not begin with a freely falling table."""
    left, from_pond, at_pond = 1.0, 0.0, 0.0
    if is_full and pond > 0.0:
        from_pond, at_pond = kirkham_phase(pond, left, outlet, drains)
        left = left - at_pond
    u = (ground - outlet.ground) * drains.wedge_inverse
    flux = min(outlet.capacity, outlet.flux_highest)
    at_surface = time_to_fall(u, outlet.highest, flux, left, drains)
    u = u - at_surface * flux * drains.wedge_inverse
    left = left - at_surface
    at_capacity = 0.0
    if left > 0.0 and u > outlet.free:
        at_capacity = time_to_fall(u, outlet.free, outlet.capacity, left, drains)
        u = u - at_capacity * outlet.capacity * drains.wedge_inverse
        left = left - at_capacity
    if left > 0.0:
        kept = math.exp(-outlet.slope * left * drains.wedge_inverse)
        u = u * kept / (1.0 + u * gain_in(left, outlet.slope, drains))
    end = min(ground, outlet.ground + drains.wedge * u)
    flow = from_pond + (ground - end)
    flags = RAISED if outlet.height > 0.0 and flow > 0.0 else 0
    if from_pond > 0.0:
        flags += PONDED
    at_limit = at_pond + at_surface > 0.0 and outlet.capacity < outlet.flux_highest
    if at_limit or at_capacity > 0.0:
        flags += LIMITED
    if outlet.flux_highest <= 0.0:
        flags += HELD
    return Drained(flow, end, pond - from_pond, at_pond, at_surface, at_capacity, flags)


def drain_freely(ground: float, pond: float, outlet: Outlet, drains: Drains) -> Drained:
    """A day of free fall, or of none: a raised outlet holds water but gives none back."""
    flow, flags = 0.0, 0
    u = (ground - outlet.ground) * drains.wedge_inverse
    if u > LEAST_HEIGHT:
        end = outlet.ground + drains.wedge * (u * outlet.kept / (1.0 + u * outlet.gain))
        flow = ground - end
        ground = end
        if outlet.height > 0.0:
            flags = RAISED
    elif outlet.height > 0.0 and ground > LEAST_HEIGHT * drains.wedge:
        flags = HELD
    return Drained(flow, ground, pond, 0.0, 0.0, 0.0, flags)


def drain_beside_inlets(
    ground: float, pond: float, is_full: bool, inlet_flow: float, outlet: Outlet, drains: Drains
) -> Drained:
    """A day on which inlets take part of what the main carries."""
    room = min(drains.laterals, drains.main - inlet_flow)
    today = outlet_at(outlet.height, room, drains)
    if ground > today.ground_free:
        return drain_in_phases(ground, pond, is_full, today, drains)
    return drain_freely(ground, pond, today, drains)


def table_height(ground: float, outlet: Outlet, drains: Drains) -> float:
    """Table midway above the drains: arched above the water in them, level below it."""
    if ground > outlet.ground:
        rise = (ground - outlet.ground) * drains.arch_inverse
        return outlet.height + min(rise, outlet.highest)
    return ground * drains.porosity_inverse
