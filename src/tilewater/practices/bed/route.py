# SPDX-License-Identifier: Apache-2.0
"""Years of drain flow through a bed, day by day: water, time in the chips, nitrate taken out.

Each day is steady: its inflow divides as the table of the setting says, and nitrate leaves the bed
as that day's time and temperature let it. What the bed holds from one day to the next is not
carried over. The chips age by the day: conductivity and removal decline, the flush of new chips
fades. The days are computed by the kernel `_route`; one day is replayed by its readable twin.
"""

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from tilewater.basis.compiled import compiled
from tilewater.basis.domain import refuse
from tilewater.hydraulics.media_conductivity import (
    conductivity_at_temperature,
    forchheimer_inertia_ward,
)
from tilewater.practices.bed import _route
from tilewater.practices.bed._route import BedYears, DaySeries, RoutedDay
from tilewater.practices.bed._split import Array, SplitTable, Whole, flat

__all__ = [
    "BedDraw",
    "BedYears",
    "DaySeries",
    "RoutedDay",
    "RoutedRun",
    "bed_years",
    "day_series",
    "replay_day",
    "route_by_year",
    "route_days",
]

YEAR_DAYS = 365.25
BLOCK = 16
"""Draws that one thread takes at a time."""


@dataclass(frozen=True)
class BedDraw:
    """Media and kinetics of a bed over its years, as one would state them.

    Attributes
    ----------
    conductivity_new : float
        At 20 degC. [m/s]
    conductivity_aged : float
        At 20 degC after `aged_years`. [m/s]
    aged_years : float
        Age of the second conductivity. [years]
    ward_coefficient : float
        Of the inertia. [-]
    porosity : float
        Effective for solutes. [-]
    dead_share : float
        Share of the pores that takes no part. [-]
    rate_g_per_m3_day : float
        Removal per volume of media past the flush, at `reference`. [g/m3/day]
    q10 : float
        Factor of the rate per 10 degC. [-]
    reference : float
        Temperature of the rate. [degC]
    flush : float
        What new media have over that, as a share. [-]
    flush_years : float
        Time in which the flush falls to 37 percent. [years]
    rate_decline_per_year : float
        Share of the rate lost in a year. [1/year]
    half_saturation_mg_per_l : float
        0 for zero order, infinite for first order (the rate then holds at 10 mg/L). [mg/L]
    tanks : int
        Tanks in series of the law with a half saturation. [-]
    renewed_years : float
        Years after which the chips are new again. [years]
    nitrate_factor, flow_factor : float
        What nitrate and drain flow of the days are multiplied with. [-]
    """

    conductivity_new: float
    conductivity_aged: float
    aged_years: float
    ward_coefficient: float
    porosity: float
    rate_g_per_m3_day: float
    q10: float
    reference: float = 15.0
    dead_share: float = 0.0
    flush: float = 0.0
    flush_years: float = 0.5
    rate_decline_per_year: float = 0.0
    half_saturation_mg_per_l: float = 0.0
    tanks: int = 1
    renewed_years: float = 10.0
    nitrate_factor: float = 1.0
    flow_factor: float = 1.0


@dataclass(frozen=True)
class RoutedRun:
    """Every day of a series through a bed.

    Attributes
    ----------
    bed_flow, bypass_flow : array of shape (days,)
        Into the bed and over the boards. [m3/s]
    level : array of shape (days,)
        Water at the diversion. [m]
    wet_volume : array of shape (days,)
        Media under water. [m3]
    retention_days : array of shape (days,)
        Time in the live pores; 0 without flow. [days]
    outlet_nitrate_mg_per_l : array of shape (days,)
        Nitrate out of the bed, as N. [mg/L]
    removed_kg : array of shape (days,)
        Nitrate nitrogen taken out. [kg]
    limited, runs_back : array of bool of shape (days,)
        Days limited by nitrate; days on which ditch water comes back over the outlet boards.
    """

    bed_flow: Array
    bypass_flow: Array
    level: Array
    wet_volume: Array
    retention_days: Array
    outlet_nitrate_mg_per_l: Array
    removed_kg: Array
    limited: np.ndarray
    runs_back: np.ndarray


def run_of(out: Array) -> RoutedRun:
    """The days as a kernel of routing leaves them.

    Parameters
    ----------
    out : array of shape (days, 9)
        Nine numbers of each day, in the order of the run; what is removed is in g. [-]

    Returns
    -------
    RoutedRun
    """
    return RoutedRun(
        out[:, 0],
        out[:, 1],
        out[:, 2],
        out[:, 3],
        out[:, 4],
        out[:, 5],
        out[:, 6] / 1000.0,
        out[:, 7] > 0.5,
        out[:, 8] > 0.5,
    )


def bed_years(draw: BedDraw, *, gradient: float) -> BedYears:
    """A draw as the kernel takes it, by the day.

    Parameters
    ----------
    draw : BedDraw
        Media and kinetics. [-]
    gradient : float
        Gradient at which the tables tell media apart. [m/m]

    Returns
    -------
    BedYears

    Raises
    ------
    OutOfDomain
        If a conductivity, porosity, Q10 or age is not above 0.

    Notes
    -----
    K = K_0 f^days,  f = (K_1 / K_0)^(1 / days_1)    (derived)

    References
    ----------
    derived, exponential decline between two stated conductivities
    """
    for name in ("conductivity_new", "conductivity_aged", "aged_years", "porosity", "q10"):
        if getattr(draw, name) <= 0:
            raise refuse(name, getattr(draw, name), "", "It lies above 0", "Check the media")
    inertia = float(
        forchheimer_inertia_ward(draw.conductivity_new, ward_coefficient=draw.ward_coefficient)
    )
    decline = math.log(draw.conductivity_aged / draw.conductivity_new) / draw.aged_years
    return BedYears(
        float(draw.conductivity_new),
        math.exp(decline / YEAR_DAYS),
        inertia * math.sqrt(draw.conductivity_new),
        float(gradient),
        float(draw.porosity),
        float(draw.dead_share),
        float(draw.rate_g_per_m3_day),
        math.log(draw.q10),
        float(draw.reference),
        float(draw.flush),
        math.exp(-1.0 / (draw.flush_years * YEAR_DAYS)),
        (1.0 - draw.rate_decline_per_year) ** (1.0 / YEAR_DAYS),
        float(draw.half_saturation_mg_per_l),
        int(draw.tanks),
        round(draw.renewed_years * YEAR_DAYS),
        float(draw.nitrate_factor),
        float(draw.flow_factor),
    )


def day_series(
    *,
    inflow: Array,
    nitrate_mg_per_l: Array,
    temperature: Array,
    stage: Array,
    setting: Whole,
) -> DaySeries:
    """What the days bring, checked and made ready for the kernel.

    Parameters
    ----------
    inflow : array of shape (days,)
        Drain flow at the diversion. [m3/s]
    nitrate_mg_per_l : array of shape (days,)
        As N. [mg/L]
    temperature : array of shape (days,)
        Of the drain water. [degC]
    stage : array of shape (days,)
        Water in the ditch. [m]
    setting : array of int of shape (days,)
        Number of the setting of the boards in the table. [-]

    Returns
    -------
    DaySeries

    Raises
    ------
    OutOfDomain
        If a day is missing, a flow or nitrate negative, or the series differ in length.

    References
    ----------
    derived, conductivity over that at 20 degC by `conductivity_at_temperature`
    """
    given = {
        "inflow": inflow,
        "nitrate_mg_per_l": nitrate_mg_per_l,
        "temperature": temperature,
        "stage": stage,
    }
    for name, values in given.items():
        if values.shape != inflow.shape or setting.shape != inflow.shape:
            raise refuse(
                name, float(values.size), "days", "All series have as many days", "Check the series"
            )
        if not np.all(np.isfinite(values)):
            day = int(np.flatnonzero(~np.isfinite(values))[0])
            raise refuse(
                name,
                float(day),
                "",
                "No day may be missing; this is the first",
                "Fill it by a rule",
            )
    for name in ("inflow", "nitrate_mg_per_l"):
        if np.any(given[name] < 0):
            raise refuse(
                name, float(given[name].min()), "", "It is not negative", "Check the series"
            )
    whole, place = np.unique(np.round(temperature, 2), return_inverse=True)
    ratio = np.asarray(conductivity_at_temperature(1.0, whole))[place]
    return DaySeries(
        np.ascontiguousarray(inflow, dtype=np.float64),
        np.ascontiguousarray(nitrate_mg_per_l, dtype=np.float64),
        np.ascontiguousarray(temperature, dtype=np.float64),
        np.ascontiguousarray(ratio, dtype=np.float64),
        np.ascontiguousarray(stage, dtype=np.float64),
        np.ascontiguousarray(setting, dtype=np.int64),
        float(inflow.max()),
    )


def route_days(series: DaySeries, bed: BedYears, table: SplitTable) -> RoutedRun:
    """Every day of a series through a bed.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    bed : BedYears
        Media and kinetics, new on the first day. [-]
    table : SplitTable
        How inflows divide in each setting. [-]

    Returns
    -------
    RoutedRun

    Notes
    -----
    t = phi (1 - dead) V / Q;  C_out by zero order, first order, or tanks with a half saturation
    M = Q (C_in - C_out)    (schipper2010)

    References
    ----------
    schipper2010, removal per volume of media and day
    derived, each day steady
    """
    out = np.zeros((series.inflow.size, 9))
    compiled(_route.route_series)(series, bed, table, out)
    return run_of(out)


def replay_day(series: DaySeries, bed: BedYears, table: SplitTable, day: int) -> RoutedDay:
    """One day by the readable twin, with the chips as old as they are then.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    bed : BedYears
        Media and kinetics. [-]
    table : SplitTable
        How inflows divide. [-]
    day : int
        Number of the day, from 0. [-]

    Returns
    -------
    RoutedDay

    References
    ----------
    derived, the kernel's own source
    """
    state = _route.first_state(bed)
    for _ in range(day):
        state = _route.next_state(state, bed)
    return _route.route_at(day, series, bed, state, flat(table))


def route_by_year(
    series: DaySeries,
    year: Whole,
    beds: Sequence[BedYears],
    table: SplitTable,
    *,
    threads: int = 2,
) -> Array:
    """Sums by year of many draws of the media and kinetics.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    beds : sequence of BedYears
        The draws. [-]
    table : SplitTable
        How inflows divide. [-]
    threads : int
        Threads that share the draws; the sums do not depend on it. [-]

    Returns
    -------
    array of shape (draws, years, 6)
        Inflow and flow through the bed in m3; load, load through the bed and nitrate nitrogen
        taken out in kg; days limited by nitrate. [-]

    References
    ----------
    derived, sums of `route_days`
    """
    rows = np.array(beds, dtype=np.float64)
    out = np.zeros((len(beds), int(year.max()) + 1, 6))
    run = compiled(_route.route_draws)
    ends = [*range(0, len(beds), BLOCK), len(beds)]

    def block(place: int) -> None:
        run(series, year, rows, table, ends[place], ends[place + 1], out)

    if threads <= 1 or len(ends) <= 2:
        for place in range(len(ends) - 1):
            block(place)
    else:
        run(series, year, rows, table, 0, 0, out)  # compiles once, before the threads share it
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(block, range(len(ends) - 1)))
    out[:, :, 2:5] /= 1000.0
    return out
