# SPDX-License-Identifier: Apache-2.0
"""One day of drain flow through a bed, and years of them: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernel shares. Read `route` for what it means, its units and its limits. Days without flow are
passed over quickly; what is the same for every draw (setting, stage, temperature) comes as series.
"""

import math
from typing import NamedTuple

from tilewater.basis.compiled import in_line
from tilewater.practices.bed._split import Array, FlatTable, SplitTable, Whole, divide, flat

DAY = 86400.0
"""Seconds of a day."""
LEAST_FLOW = 1e-9
"""Inflow that counts as none. [m3/s]"""
SAME_LEVEL = 0.001
"""Levels as near as this are one: a bed that the ditch fills stands as high as the ditch. [m]"""
LIMITED_BELOW = 0.5
"""Nitrate at the outlet below which a day counts as limited by nitrate. [mg/L]"""


class BedYears(NamedTuple):
    """What one draw of the media and kinetics is.

    Attributes
    ----------
    conductivity_new : float
        At 20 degC. [m/s]
    decline_per_day : float
        Share of the conductivity that a day leaves. [-]
    inertia_scale : float
        Inertia of the media times the root of its conductivity at 20 degC. [s^1.5/m^1.5]
    gradient : float
        Gradient at which the tables tell media apart. [-]
    porosity : float
        Effective for solutes. [-]
    dead_share : float
        Share of the pores that takes no part. [-]
    rate_g_per_m3_day : float
        Removal per volume of media at the reference temperature, aged media. [g/m3/day]
    log_q10 : float
        Natural logarithm of Q10. [-]
    reference : float
        Temperature of the rate. [degC]
    flush : float
        What the rate of new media has over that of aged ones, as a share. [-]
    flush_left_per_day : float
        Share of the flush that a day leaves. [-]
    rate_decline_per_day : float
        Share of the rate that a day leaves. [-]
    half_saturation_mg_per_l : float
        0 for zero order; infinite for first order, with the rate at 10 mg/L. [mg/L]
    tanks : int
        Tanks in series, for the law with a half saturation.
    renew_days : int
        Days after which the media are new again.
    nitrate_factor : float
        What the nitrate of the days is multiplied with. [-]
    flow_factor : float
        What the drain flow of the days is multiplied with. [-]
    """

    conductivity_new: float
    decline_per_day: float
    inertia_scale: float
    gradient: float
    porosity: float
    dead_share: float
    rate_g_per_m3_day: float
    log_q10: float
    reference: float
    flush: float
    flush_left_per_day: float
    rate_decline_per_day: float
    half_saturation_mg_per_l: float
    tanks: int
    renew_days: int
    nitrate_factor: float
    flow_factor: float


class DaySeries(NamedTuple):
    """What the days bring, one value a day.

    Attributes
    ----------
    inflow : array
        Drain flow at the diversion. [m3/s]
    nitrate : array
        As N. [mg/L]
    temperature : array
        Of the drain water. [degC]
    viscosity_ratio : array
        Conductivity at that temperature over that at 20 degC. [-]
    stage : array
        Water in the ditch. [m]
    setting : array of int
        Which table of the settings holds.
    most : float
        Largest inflow that a draw may bring: that of all days, since laterals and main bring no
        more. [m3/s]
    """

    inflow: Array
    nitrate: Array
    temperature: Array
    viscosity_ratio: Array
    stage: Array
    setting: Whole
    most: float


class BedState(NamedTuple):
    """Media between two days, and how many days old they are."""

    conductivity_20: float
    rate: float
    flush: float
    days: int


class RoutedDay(NamedTuple):
    """What a day did.

    Attributes
    ----------
    bed_flow, bypass_flow : float
        Into the bed and over the boards. [m3/s]
    level : float
        Water at the diversion. [m]
    wet_volume : float
        Media under water. [m3]
    retention_days : float
        Time of the water in the live pores; 0 without flow. [days]
    outlet_nitrate : float
        Nitrate out of the bed. [mg/L]
    removed : float
        Nitrate nitrogen that the bed takes out. [g/day]
    limited : bool
        Whether nitrate, not the media, set what was removed.
    runs_back : bool
        Whether the ditch stood over the crest of the outlet with no drain flow to hold it, so that
        its water came back into the bed.
    """

    bed_flow: float
    bypass_flow: float
    level: float
    wet_volume: float
    retention_days: float
    outlet_nitrate: float
    removed: float
    limited: bool
    runs_back: bool


def shown_conductivity(conductivity: float, inertia: float, gradient: float) -> float:
    """Conductivity that media show at a gradient."""
    over = conductivity * conductivity * inertia * gradient
    return 2.0 * conductivity / (1.0 + math.sqrt(1.0 + 4.0 * over))


def nitrate_left(
    inlet: float, days: float, rate: float, half_saturation: float, tanks: int
) -> float:
    """Nitrate after some days in the pores; `rate` per volume of pore water."""
    if half_saturation <= 0.0:
        return max(0.0, inlet - rate * days)
    if math.isinf(half_saturation):
        return inlet * math.exp(-0.1 * rate * days)
    left, step = inlet, rate * days / tanks
    for _ in range(tanks):
        b = half_saturation - left + step
        left = 0.5 * (math.sqrt(b * b + 4.0 * half_saturation * left) - b)
    return left


@in_line
def inflow_at(day: int, series: DaySeries, factor: float) -> float:
    """Drain flow of a day in a draw."""
    inflow: float = series.inflow[day]
    return min(inflow * factor, max(series.most, inflow))


def first_state(bed: BedYears) -> BedState:
    """New media."""
    return BedState(bed.conductivity_new, bed.rate_g_per_m3_day, bed.flush, 0)


def next_state(state: BedState, bed: BedYears) -> BedState:
    """The media a day older, or renewed."""
    if state.days + 1 >= bed.renew_days:
        return first_state(bed)
    return BedState(
        state.conductivity_20 * bed.decline_per_day,
        state.rate * bed.rate_decline_per_day,
        state.flush * bed.flush_left_per_day,
        state.days + 1,
    )


@in_line
def route_at(
    day: int, series: DaySeries, bed: BedYears, state: BedState, table: FlatTable
) -> RoutedDay:
    """One day of a series through the bed."""
    inflow, stage = inflow_at(day, series, bed.flow_factor), series.stage[day]
    nitrate = series.nitrate[day] * bed.nitrate_factor
    inertia = bed.inertia_scale / math.sqrt(state.conductivity_20)
    shown = shown_conductivity(
        state.conductivity_20 * series.viscosity_ratio[day], inertia, bed.gradient
    )
    divided = divide(inflow, shown, stage, series.setting[day], table)
    runs_back = inflow <= LEAST_FLOW and stage > divided.level - SAME_LEVEL
    if divided.bed_flow <= LEAST_FLOW:
        return RoutedDay(
            0.0,
            max(0.0, inflow),
            divided.level,
            divided.wet_volume,
            0.0,
            nitrate,
            0.0,
            False,
            runs_back,
        )
    live = bed.porosity * (1.0 - bed.dead_share)
    days = live * divided.wet_volume / (divided.bed_flow * DAY)
    warm = math.exp(bed.log_q10 * 0.1 * (series.temperature[day] - bed.reference))
    rate = state.rate * (1.0 + state.flush) * warm / live
    left = nitrate_left(nitrate, days, rate, bed.half_saturation_mg_per_l, bed.tanks)
    return RoutedDay(
        divided.bed_flow,
        inflow - divided.bed_flow,
        divided.level,
        divided.wet_volume,
        days,
        left,
        divided.bed_flow * DAY * (nitrate - left),
        left < LIMITED_BELOW and nitrate >= LIMITED_BELOW,
        runs_back,
    )


def route_series(series: DaySeries, bed: BedYears, table: SplitTable, out: Array) -> None:
    """Every day of a series; `out` takes the fields of `RoutedDay` as its columns."""
    laid, state = flat(table), first_state(bed)
    for day in range(series.inflow.size):
        routed = route_at(day, series, bed, state, laid)
        out[day, 0] = routed.bed_flow
        out[day, 1] = routed.bypass_flow
        out[day, 2] = routed.level
        out[day, 3] = routed.wet_volume
        out[day, 4] = routed.retention_days
        out[day, 5] = routed.outlet_nitrate
        out[day, 6] = routed.removed
        out[day, 7] = 1.0 if routed.limited else 0.0
        out[day, 8] = 1.0 if routed.runs_back else 0.0
        state = next_state(state, bed)


def route_years(
    series: DaySeries, year: Whole, bed: BedYears, table: SplitTable, out: Array
) -> None:
    """Sums by year; `out` takes inflow, through the bed, load, load treated, removed, limited.

    Volumes in m3, loads in g, days limited by nitrate.
    """
    laid, state = flat(table), first_state(bed)
    for day in range(series.inflow.size):
        inflow = inflow_at(day, series, bed.flow_factor)
        if inflow > LEAST_FLOW:
            routed = route_at(day, series, bed, state, laid)
            place, water = year[day], routed.bed_flow * DAY
            out[place, 0] += inflow * DAY
            out[place, 1] += water
            load = series.nitrate[day] * bed.nitrate_factor
            out[place, 2] += inflow * DAY * load
            out[place, 3] += water * load
            out[place, 4] += routed.removed
            if routed.limited:
                out[place, 5] += 1.0
        state = next_state(state, bed)


def bed_of_row(beds: Array, draw: int) -> BedYears:
    """One draw out of an array whose rows are draws."""
    return BedYears(
        beds[draw, 0],
        beds[draw, 1],
        beds[draw, 2],
        beds[draw, 3],
        beds[draw, 4],
        beds[draw, 5],
        beds[draw, 6],
        beds[draw, 7],
        beds[draw, 8],
        beds[draw, 9],
        beds[draw, 10],
        beds[draw, 11],
        beds[draw, 12],
        int(beds[draw, 13]),
        int(beds[draw, 14]),
        beds[draw, 15],
        beds[draw, 16],
    )


def route_draws(
    series: DaySeries,
    year: Whole,
    beds: Array,
    table: SplitTable,
    first: int,
    last: int,
    out: Array,
) -> None:
    """Sums by year of the draws from `first` up to `last`; a row of `beds` is a `BedYears`."""
    for draw in range(first, last):
        route_years(series, year, bed_of_row(beds, draw), table, out[draw])
