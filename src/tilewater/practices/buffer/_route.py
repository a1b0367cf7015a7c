# SPDX-License-Identifier: Apache-2.0
"""Days of drain flow through a saturated buffer: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernel shares. Read `route` for what it means, its units and its limits.

A day fills or drains the soil by what comes in less what leaves to the ditch; the line takes no
more than the head at the bypass boards drives through it. What entered on a day leaves once as much
water has followed it as the pores held.
"""

import math
from typing import NamedTuple

from tilewater.basis.compiled import in_line
from tilewater.basis.roots import search_between, search_on
from tilewater.hydraulics._board_set import BoardSet, board_flow, board_level_upstream, lowest_level
from tilewater.practices.bed._route import (
    DAY,
    LEAST_FLOW,
    LIMITED_BELOW,
    DaySeries,
    inflow_at,
    nitrate_left,
)
from tilewater.practices.bed._split import Array, Whole
from tilewater.practices.buffer._buffer_years import BufferYears

HEAD_STEPS = 40
"""Most Newton steps to the head at the end of a day; eight are usual."""
HEAD_CLOSENESS = 1e-9
"""Closeness of that head. [m]"""
FINEST = 1e-10
"""Closeness of that head where the boards share the inflow with the line. [m]"""
NO_BOARDS = 0.0
"""Coefficient of a set of boards that is not there."""


class WaterDay(NamedTuple):
    """What a day did with the water.

    Attributes
    ----------
    line_flow, bypass_flow : float
        Into the line and over the bypass boards. [m3/s]
    level : float
        Water before the boards, where the main comes in. [m]
    head : float
        In the soil at the line, above the restrictive layer, at the end of the day. [m]
    out_flow : float
        From the soil to the ditch; negative where the ditch comes in. [m3/s]
    """

    line_flow: float
    bypass_flow: float
    level: float
    head: float
    out_flow: float


def soil_under_water(head: float, head_stream: float, area: float) -> float:
    """Soil under the falling water table between line and ditch. [m3]"""
    both = head + head_stream
    if both <= 0.0:
        return 0.0
    return area * (2.0 / 3.0) * (head * head + head * head_stream + head_stream**2) / both


def head_after(
    into: float, stored: float, head_stream: float, conductance: float, buffer: BufferYears
) -> float:
    """Head at the end of a day with a flow into the soil that held some water. [m]

    The flow to the ditch is that of the end of the day, so that no day can empty the soil twice.
    """
    if buffer.drainable <= 0.0:
        return math.sqrt(max(0.0, head_stream * head_stream + into / conductance))
    holds = buffer.drainable * buffer.area
    leaves = conductance * DAY
    wanted = stored + into * DAY
    low, high = 0.0, max(head_stream, 1.5 * wanted / holds)
    head = min(high, max(2.0 * stored / holds - head_stream, 0.1))
    for _ in range(HEAD_STEPS):
        both = head + head_stream
        squares = head * head + head * head_stream + head_stream * head_stream
        volume, grows = 0.0, 2.0 / 3.0
        if both > 0.0:
            volume = (2.0 / 3.0) * squares / both
            grows *= (head * head + 2.0 * head * head_stream) / (both * both)
        over = holds * volume + leaves * (head * head - head_stream * head_stream) - wanted
        if over > 0.0:
            high = head
        else:
            low = head
        slope = holds * grows + 2.0 * leaves * head
        new = head - over / slope if slope > 0.0 else 0.5 * (low + high)
        if not low <= new <= high:
            new = 0.5 * (low + high)
        if abs(new - head) <= HEAD_CLOSENESS:
            return new
        head = new
    return head


def board_row(setting: int, first: int, boards: Array) -> BoardSet:
    """A set of boards out of the columns of a setting."""
    return BoardSet(
        boards[setting, first],
        boards[setting, first + 1],
        boards[setting, first + 2],
        boards[setting, first + 3],
        boards[setting, first + 4],
        boards[setting, first + 5],
        boards[setting, first + 6],
        boards[setting, first + 7],
        boards[setting, first + 8],
        boards[setting, first + 9],
    )


def level_for(into: float, head: float, loss_linear: float, buffer: BufferYears) -> float:
    """Level in the structure that sends a flow into the line, with a head in the soil. [m]

    In the pipe stands the head of the soil and what the water loses in spreading, and no less than
    the invert; friction along the pipe is on top of it.
    """
    in_pipe = max(head + loss_linear * into, buffer.line_head)
    return buffer.barrier + in_pipe + buffer.loss_square * into * into


def flow_into(
    head: float, stored: float, head_stream: float, conductance: float, buffer: BufferYears
) -> float:
    """Flow into the soil that leaves a head after a day, `head_after` the other way. [m3/s]"""
    gained = buffer.drainable * soil_under_water(head, head_stream, buffer.area) - stored
    return gained / DAY + conductance * (head * head - head_stream * head_stream)


def passed_over(
    head: float,
    inflow: float,
    stored: float,
    stage: float,
    conductance: float,
    loss_linear: float,
    buffer: BufferYears,
    bypass: BoardSet,
) -> float:
    """What the boards pass at the level of a head, over what that head leaves to them. [m3/s]"""
    head_stream = max(0.0, stage - buffer.barrier)
    into = flow_into(head, stored, head_stream, conductance, buffer)
    level = level_for(into, head, loss_linear, buffer)
    return board_flow(level, stage, bypass) - (inflow - into)


def line_and_head(
    inflow: float,
    stored: float,
    stage: float,
    conductance: float,
    loss_linear: float,
    buffer: BufferYears,
    bypass: BoardSet,
) -> tuple[float, float]:
    """Flow into the line, all or what the boards leave to it [m3/s], and head after the day. [m]

    Sought is the head and not the flow, since the flow that leaves a head is an explicit one.
    """
    head_stream = max(0.0, stage - buffer.barrier)
    at_none = head_after(0.0, stored, head_stream, conductance, buffer)
    if inflow <= LEAST_FLOW:
        return 0.0, at_none
    at_all = head_after(inflow, stored, head_stream, conductance, buffer)
    if level_for(inflow, at_all, loss_linear, buffer) <= lowest_level(stage, bypass):
        return inflow, at_all
    low = passed_over(at_none, inflow, stored, stage, conductance, loss_linear, buffer, bypass)
    if low >= 0.0:
        return 0.0, at_none
    high = passed_over(at_all, inflow, stored, stage, conductance, loss_linear, buffer, bypass)
    search = search_between(at_none, at_all, low, high, FINEST)
    while search.goes_on:
        search = search_on(
            search,
            passed_over(search.x, inflow, stored, stage, conductance, loss_linear, buffer, bypass),
        )
    into = flow_into(search.x, stored, head_stream, conductance, buffer)
    return min(max(into, 0.0), inflow), search.x


@in_line
def soil_at(
    day: int, series: DaySeries, buffer: BufferYears, boards: Array, stored: float
) -> WaterDay:
    """The water of one day, its level that before the bypass boards; `stored` is what the soil can
    drain, at its beginning. [m3]
    """
    inflow = max(0.0, inflow_at(day, series, buffer.flow_factor))
    stage = series.stage[day]
    ratio = series.viscosity_ratio[day] / buffer.viscosity_ratio
    conductance, loss_linear = buffer.conductance * ratio, buffer.loss_linear / ratio
    head_stream = max(0.0, stage - buffer.barrier)
    bypass = board_row(series.setting[day], 0, boards)
    into, head = line_and_head(inflow, stored, stage, conductance, loss_linear, buffer, bypass)
    if into <= 0.0 < inflow:
        level = board_level_upstream(inflow, stage, bypass)
    else:
        level = level_for(into, head, loss_linear, buffer)
    out_flow = conductance * (head * head - head_stream * head_stream)
    return WaterDay(into, inflow - into, level, head, out_flow)


def level_before(inflow: float, level: float, setting: int, boards: Array) -> float:
    """Level where the main comes in, head boards in the way where there are any. [m]"""
    if boards[setting, 12] > NO_BOARDS:
        return board_level_upstream(inflow, level, board_row(setting, 10, boards))
    return level


def water_at(
    day: int, series: DaySeries, buffer: BufferYears, boards: Array, stored: float
) -> WaterDay:
    """The water of one day, its level where the main comes in; `stored` as in `soil_at`."""
    water = soil_at(day, series, buffer, boards, stored)
    inflow = max(0.0, inflow_at(day, series, buffer.flow_factor))
    level = level_before(inflow, water.level, series.setting[day], boards)
    return WaterDay(water.line_flow, water.bypass_flow, level, water.head, water.out_flow)


def first_stored(series: DaySeries, buffer: BufferYears) -> float:
    """Soil that stands level with the ditch of the first day. [m3]"""
    head_stream = max(0.0, series.stage[0] - buffer.barrier)
    return buffer.drainable * soil_under_water(head_stream, head_stream, buffer.area)


def warmth(temperature: float, buffer: BufferYears) -> float:
    """Rate at a temperature over that at the reference."""
    return math.exp(buffer.log_q10 * 0.1 * (temperature - buffer.reference))


def time_until(target: float, first: int, days: int, work: Array) -> int:
    """First day by whose end as much water has left as the target; the number of days if none."""
    last = first
    while last < days and work[last + 1, 0] < target:
        last += 1
    return last


def route_series(
    series: DaySeries,
    buffer: BufferYears,
    boards: Array,
    work: Array,
    out: Array,
    is_told: bool,
) -> None:
    """Every day of a series; the columns of `out` are those of `RoutedDay` of a bed.

    Where days are not told but only summed, the level is left as it is before the bypass boards:
    finding it over drowned head boards takes longer than all the rest.

    `work` has one row more than there are days and takes what left, the sum of the warmth, and
    the pore water at the end of each day.
    """
    days = series.inflow.size
    stored = first_stored(series, buffer)
    work[0, 0], work[0, 1] = 0.0, 0.0
    for day in range(days):
        water = soil_at(day, series, buffer, boards, stored)
        head_stream = max(0.0, series.stage[day] - buffer.barrier)
        wet = soil_under_water(water.head, head_stream, buffer.area)
        stored = buffer.drainable * wet
        work[day + 1, 0] = work[day, 0] + max(0.0, water.out_flow) * DAY
        work[day + 1, 1] = work[day, 1] + warmth(series.temperature[day], buffer)
        work[day + 1, 2] = buffer.porosity * wet
        out[day, 0] = water.line_flow
        out[day, 1] = water.bypass_flow
        out[day, 2] = water.level
        if is_told:
            inflow = max(0.0, inflow_at(day, series, buffer.flow_factor))
            out[day, 2] = level_before(inflow, water.level, series.setting[day], boards)
        out[day, 3] = wet
        out[day, 8] = 1.0 if series.stage[day] > buffer.barrier + water.head else 0.0
    leave_by_turn(series, buffer, work, out)


def leave_by_turn(series: DaySeries, buffer: BufferYears, work: Array, out: Array) -> None:
    """Age and nitrate of what entered on each day when it leaves; nothing overtakes."""
    days = series.inflow.size
    mean_out, mean_warm = work[days, 0] / days, work[days, 1] / days
    last, before = 0, 0.0
    for day in range(days):
        nitrate = series.nitrate[day] * buffer.nitrate_factor
        out[day, 4], out[day, 5], out[day, 6], out[day, 7] = 0.0, nitrate, 0.0, 0.0
        if out[day, 0] <= LEAST_FLOW:
            continue
        middle = 0.5 * (work[day, 0] + work[day + 1, 0])
        target = max(before, middle + work[day + 1, 2])
        before = target
        last = time_until(target, max(last, day), days, work)
        if last < days:
            left_before = work[last, 0]
            share = (target - left_before) / max(1e-12, work[last + 1, 0] - left_before)
            age = max(0.5, last + share - day - 0.5)
            warm = work[last, 1] + share * (work[last + 1, 1] - work[last, 1])
        else:
            more = (target - work[days, 0]) / max(1e-12, mean_out)
            age = days + more - day - 0.5
            warm = work[days, 1] + more * mean_warm
        warm -= 0.5 * (work[day, 1] + work[day + 1, 1])
        reacts = max(0.0, warm - buffer.oxic_days)
        left = nitrate_left(
            nitrate, reacts, buffer.rate_mg_per_l_day, buffer.half_saturation_mg_per_l, 4
        )
        out[day, 4] = age
        out[day, 5] = left
        out[day, 6] = out[day, 0] * DAY * (nitrate - left)
        if left < LIMITED_BELOW and nitrate >= LIMITED_BELOW:
            out[day, 7] = 1.0


def route_draws(
    series: DaySeries,
    year: Whole,
    buffers: Array,
    boards: Array,
    first: int,
    last: int,
    work: Array,
    days_out: Array,
    out: Array,
) -> None:
    """Sums by year of the draws from `first` up to `last`; a row of `buffers` is `BufferYears`.

    `out` takes inflow, into the buffer, load, load into it, removed, days limited: volumes in m3,
    loads in g. What is removed counts on the day on which its water came in.
    """
    for draw in range(first, last):
        buffer = BufferYears(
            buffers[draw, 0],
            buffers[draw, 1],
            buffers[draw, 2],
            buffers[draw, 3],
            buffers[draw, 4],
            buffers[draw, 5],
            buffers[draw, 6],
            buffers[draw, 7],
            buffers[draw, 8],
            buffers[draw, 9],
            buffers[draw, 10],
            buffers[draw, 11],
            buffers[draw, 12],
            buffers[draw, 13],
            buffers[draw, 14],
            buffers[draw, 15],
        )
        route_series(series, buffer, boards, work, days_out, False)
        for day in range(series.inflow.size):
            place = year[day]
            load = series.nitrate[day] * buffer.nitrate_factor
            water = max(0.0, inflow_at(day, series, buffer.flow_factor)) * DAY
            out[draw, place, 0] += water
            out[draw, place, 1] += days_out[day, 0] * DAY
            out[draw, place, 2] += water * load
            out[draw, place, 3] += days_out[day, 0] * DAY * load
            out[draw, place, 4] += days_out[day, 6]
            out[draw, place, 5] += days_out[day, 7]
