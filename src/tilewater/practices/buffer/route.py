# SPDX-License-Identifier: Apache-2.0
"""Years of drain flow through a saturated buffer, day by day: water, time in the soil, nitrate.

Takes the same `DaySeries` as the bed and gives the same `RoutedRun`, so that practices in a row
are composition. The soil fills and drains: what it can hold is carried from day to day. What
entered on a day leaves once as much water has followed as the pores held, which in a dry summer may
be months. Nitrate that is removed counts on the day on which its water came in.
"""

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from tilewater.basis.compiled import compiled
from tilewater.basis.domain import refuse, require_not_negative, require_positive
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics.media_conductivity import conductivity_at_temperature
from tilewater.practices.bed._route import DaySeries
from tilewater.practices.bed._split import Array, Whole
from tilewater.practices.bed.route import BLOCK, RoutedRun, day_series, run_of
from tilewater.practices.buffer import _route
from tilewater.practices.buffer._buffer_years import BufferYears
from tilewater.practices.buffer._route import WaterDay

__all__ = [
    "BufferDraw",
    "BufferYears",
    "DaySeries",
    "RoutedRun",
    "WaterDay",
    "board_table",
    "buffer_years",
    "day_series",
    "flow_after_buffer",
    "replay_water",
    "route_buffer_by_year",
    "route_buffer_days",
]

ONE_ORDER_AT = 10.0
"""Nitrate at which a first-order rate is handed on as a rate per volume of water. [mg/L]"""


@dataclass(frozen=True)
class BufferDraw:
    """Soil and kinetics of a buffer, as one would state them.

    Attributes
    ----------
    length, width : float
        Line that feeds, and distance from it to the ditch. [m]
    barrier : float
        Top of the restrictive layer. [m]
    conductivity : float
        Lateral, at the temperature of the field tests. [m/s]
    porosity, drainable : float
        Effective for solutes; what fills and drains with the water table. [-]
    loss_linear : float
        Head that the line loses per flow. [s/m2]
    loss_square : float
        Head that the line loses per flow squared. [s2/m5]
    tested_at : float
        Temperature of the ground water in the field tests. [degC]
    rate_per_day : float
        First-order rate at `reference`; 0 to use the rate by volume. [1/day]
    rate_g_per_m3_day : float
        Zero-order rate per volume of soil at `reference`, where there is no first-order one.
        [g/m3/day]
    q10 : float
        Factor of the rate per 10 degC. [-]
    reference : float
        Temperature of the rate. [degC]
    oxic_days : float
        Days at that temperature until oxygen is low enough. [days]
    nitrate_factor, flow_factor : float
        What nitrate and drain flow of the days are multiplied with. [-]
    line_invert : float
        Invert of the line; lower water in the structure does not reach it. [m]
    """

    length: float
    width: float
    barrier: float
    conductivity: float
    porosity: float
    drainable: float
    loss_linear: float = 0.0
    loss_square: float = 0.0
    tested_at: float = 10.0
    rate_per_day: float = 0.0
    rate_g_per_m3_day: float = 0.0
    q10: float = 1.97
    reference: float = 15.0
    oxic_days: float = 0.0
    nitrate_factor: float = 1.0
    flow_factor: float = 1.0
    line_invert: float = -math.inf


def buffer_years(draw: BufferDraw) -> BufferYears:
    """A draw as the kernel takes it.

    Parameters
    ----------
    draw : BufferDraw
        Soil and kinetics. [-]

    Returns
    -------
    BufferYears

    Raises
    ------
    OutOfDomain
        If a length, conductivity, porosity or Q10 is not above 0, or both rates are given.

    Notes
    -----
    Q = (L K / (2 W)) (h1^2 - h2^2)    (dupuit1863)

    A rate per volume of soil is divided by the porosity; a first-order one is handed on as its
    removal at 10 mg/L.

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    for name in ("length", "width", "conductivity", "porosity", "q10"):
        require_positive(name, getattr(draw, name), "", "Check the buffer")
    for name in ("drainable", "rate_per_day", "rate_g_per_m3_day", "oxic_days"):
        require_not_negative(name, getattr(draw, name), "", "Check the buffer")
    if draw.rate_per_day > 0 and draw.rate_g_per_m3_day > 0:
        raise refuse(
            "rate_per_day", draw.rate_per_day, "1/day", "One law is used", "Leave one rate at 0"
        )
    first = draw.rate_per_day > 0
    return BufferYears(
        draw.length * draw.conductivity / (2.0 * draw.width),
        draw.length * draw.width,
        float(draw.barrier),
        float(draw.loss_linear),
        float(draw.loss_square),
        float(conductivity_at_temperature(1.0, draw.tested_at)),
        float(draw.drainable),
        float(draw.porosity),
        ONE_ORDER_AT * draw.rate_per_day if first else draw.rate_g_per_m3_day / draw.porosity,
        math.log(draw.q10),
        float(draw.reference),
        float(draw.oxic_days),
        math.inf if first else 0.0,
        float(draw.nitrate_factor),
        max(0.0, float(draw.line_invert - draw.barrier)),
        float(draw.flow_factor),
    )


def board_table(*settings: tuple[BoardSet, BoardSet | None]) -> Array:
    """Boards of every setting as the kernel takes them.

    Parameters
    ----------
    *settings : tuple of (BoardSet, BoardSet or None)
        Bypass boards and head boards of each setting, the design setting first; None where no
        head boards stand. [-]

    Returns
    -------
    array of shape (settings, 20)
        The numbers of both sets. [-]

    References
    ----------
    derived, records in a table
    """
    rows = [[*bypass, *(head if head is not None else [0.0] * 10)] for bypass, head in settings]
    return np.array(rows, dtype=np.float64)


def route_buffer_days(series: DaySeries, buffer: BufferYears, boards: Array) -> RoutedRun:
    """Every day of a series through a buffer.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    buffer : BufferYears
        Soil and kinetics. [-]
    boards : array of shape (settings, 20)
        Boards of each setting. [-]

    Returns
    -------
    RoutedRun
        `bed_flow` is what goes into the line, `wet_volume` the soil under water, and
        `retention_days` the age of the day's water when it leaves.

    Notes
    -----
    dS/dt = Q_in - (L K / 2 W)(h1^2 - h2^2), S = n_d (2/3) L W (h1^2 + h1 h2 + h2^2)/(h1 + h2)
    z = barrier + max(h1 + a Q_in, line) + b Q_in^2, no higher than the boards    (dupuit1863)

    The first day begins with the soil level with the ditch. What has not left by the end of the
    series is taken to leave at the mean flow.

    References
    ----------
    dupuit1863, level flow under a falling surface
    derived, water in the soil from day to day, and plug flow by what has left
    """
    days = series.inflow.size
    work, out = np.zeros((days + 1, 3)), np.zeros((days, 9))
    compiled(_route.route_series)(series, buffer, boards, work, out, True)
    return run_of(out)


def replay_water(series: DaySeries, buffer: BufferYears, boards: Array, day: int) -> WaterDay:
    """The water of one day by the readable twin, with the soil as full as it is then.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    buffer : BufferYears
        Soil and kinetics. [-]
    boards : array of shape (settings, 20)
        Boards of each setting. [-]
    day : int
        Number of the day, from 0. [-]

    Returns
    -------
    WaterDay

    References
    ----------
    derived, the kernel's own source
    """
    stored = _route.first_stored(series, buffer)
    for each in range(day + 1):
        water = _route.water_at(each, series, buffer, boards, stored)
        head_stream = max(0.0, float(series.stage[each]) - buffer.barrier)
        wet = _route.soil_under_water(water.head, head_stream, buffer.area)
        stored = buffer.drainable * wet
    return water


def route_buffer_by_year(
    series: DaySeries,
    year: Whole,
    buffers: Sequence[BufferYears],
    boards: Array,
    *,
    threads: int = 2,
) -> Array:
    """Sums by year of many draws of the soil and its kinetics.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    buffers : sequence of BufferYears
        The draws. [-]
    boards : array of shape (settings, 20)
        Boards of each setting. [-]
    threads : int
        Threads that share the draws; the sums do not depend on it. [-]

    Returns
    -------
    array of shape (draws, years, 6)
        Inflow and flow into the buffer in m3; load, load into the buffer and nitrate nitrogen
        taken out in kg; days limited by nitrate. [-]

    References
    ----------
    derived, sums of `route_buffer_days`
    """
    rows = np.array(buffers, dtype=np.float64)
    out = np.zeros((len(buffers), int(year.max()) + 1, 6))
    run = compiled(_route.route_draws)
    days = series.inflow.size
    ends = [*range(0, len(buffers), BLOCK), len(buffers)]

    def block(place: int) -> None:
        work, days_out = np.zeros((days + 1, 3)), np.zeros((days, 9))
        first, last = ends[place], ends[place + 1]
        run(series, year, rows, boards, first, last, work, days_out, out)

    if threads <= 1 or len(ends) <= 2:
        for place in range(len(ends) - 1):
            block(place)
    else:
        run(series, year, rows, boards, 0, 0, np.zeros((1, 3)), np.zeros((1, 9)), out)
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(block, range(len(ends) - 1)))
    out[:, :, 2:5] /= 1000.0
    return out


def flow_after_buffer(series: DaySeries, run: RoutedRun) -> DaySeries:
    """What passes a buffer over its bypass boards, as a series for what lies below.

    Parameters
    ----------
    series : DaySeries
        What came to the buffer. [-]
    run : RoutedRun
        The days through the buffer. [-]

    Returns
    -------
    DaySeries
        Bypass flow with its nitrate untouched; the rest leaves through the bank.

    References
    ----------
    derived, a balance of each day
    """
    return series._replace(inflow=np.ascontiguousarray(run.bypass_flow))
