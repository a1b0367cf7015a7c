# SPDX-License-Identifier: Apache-2.0
"""A bed and then a buffer on the same main, day by day.

What the bed lets out and what it lets by meet again in the main below it, and come to the boards of
the buffer as one water. The bed stores none from one day to the next, so that the flow of a day is
the same below it.
"""

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor

import numpy as np

from tilewater.practices.bed._route import DAY
from tilewater.practices.bed._split import Array, SplitTable, Whole
from tilewater.practices.bed.route import BedYears, DaySeries, RoutedRun, route_days
from tilewater.practices.buffer._buffer_years import BufferYears
from tilewater.practices.buffer.route import route_buffer_days

THREADS = 2
"""Threads that share the draws; the sums do not depend on it."""


def series_after_bed(series: DaySeries, run: RoutedRun, nitrate_factor: float) -> DaySeries:
    """What comes down the main below a bed.

    Parameters
    ----------
    series : DaySeries
        What came to the bed. [-]
    run : RoutedRun
        The days through the bed. [-]
    nitrate_factor : float
        What the nitrate of the days was multiplied with in that run. [-]

    Returns
    -------
    DaySeries
        The same flow with the nitrate of both waters.

    Notes
    -----
    C = (Q_bed C_out + Q_by n C_in) / Q    (derived)

    References
    ----------
    derived, two waters that meet
    """
    came = series.nitrate * nitrate_factor
    load = run.bed_flow * run.outlet_nitrate_mg_per_l + run.bypass_flow * came
    flow = run.bed_flow + run.bypass_flow
    nitrate = np.divide(load, flow, out=came.copy(), where=flow > 0.0)
    return series._replace(nitrate=np.ascontiguousarray(nitrate))


def route_row_by_year(
    series: DaySeries,
    year: Whole,
    beds: Sequence[BedYears],
    table: SplitTable,
    buffers: Sequence[BufferYears],
    boards: Array,
    count: float,
) -> Array:
    """Sums by year of draws of a bed and a buffer below it.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    beds : sequence of BedYears
        Draws of the bed; their nitrate counts for both. [-]
    table : SplitTable
        How inflows divide at the bed. [-]
    buffers : sequence of BufferYears
        Draws of the buffer, in the same order. [-]
    boards : array of shape (settings, 20)
        Boards of the buffer in each setting. [-]
    count : float
        Draws that are taken, from the first on. [-]

    Returns
    -------
    array of shape (draws, years, 6)
        Inflow and flow through at least one of both in m3; load, load through at least one and
        nitrate nitrogen taken out by both in kg; days limited by nitrate. [-]

    Notes
    -----
    M = M_bed(Q, C) + M_buffer(Q, C after the bed)    (derived)

    References
    ----------
    derived, one routing after the other
    """
    drawn = list(zip(beds, buffers, strict=False))[: int(count)]
    with ThreadPoolExecutor(THREADS) as pool:
        each = pool.map(lambda both: _sums_of(series, year, table, boards, *both), drawn)
        return np.array(list(each))


def _sums_of(
    series: DaySeries,
    year: Whole,
    table: SplitTable,
    boards: Array,
    bed: BedYears,
    buffer: BufferYears,
) -> Array:
    """Sums by year of one draw of both."""
    first = route_days(series, bed, table)
    below = series_after_bed(series, first, bed.nitrate_factor)
    second = route_buffer_days(below, buffer._replace(nitrate_factor=1.0), boards)
    came = first.bed_flow + first.bypass_flow
    past = np.divide(first.bypass_flow, came, out=np.zeros_like(came), where=came > 0.0)
    water, through = came * DAY, (came - past * second.bypass_flow) * DAY
    load = series.nitrate * bed.nitrate_factor / 1000.0
    daily = (
        water,
        through,
        water * load,
        through * load,
        first.removed_kg + second.removed_kg,
        (first.limited | second.limited).astype(np.float64),
    )
    years = int(year.max()) + 1
    return np.array([np.bincount(year, weights=v, minlength=years) for v in daily]).T
