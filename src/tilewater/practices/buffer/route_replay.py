# SPDX-License-Identifier: Apache-2.0
"""One day through a buffer worked again by the readable twin, with every equation and its numbers.

The water of the day comes from all days before it, its nitrate from the days after it on which it
leaves; how long it stays is taken from the run of all days.
"""

from collections.abc import Iterator

import numpy as np

from tilewater.basis.domain import refuse
from tilewater.practices.bed._route import (
    LEAST_FLOW,
    LIMITED_BELOW,
    DaySeries,
    RoutedDay,
    inflow_at,
    nitrate_left,
)
from tilewater.practices.bed._split import Array
from tilewater.practices.bed.route import RoutedRun
from tilewater.practices.bed.route_replay import RouteReplay, RouteStep
from tilewater.practices.buffer import _route
from tilewater.practices.buffer._buffer_years import BufferYears
from tilewater.practices.buffer._route import WaterDay
from tilewater.practices.buffer.route import replay_water

DAY = 86400.0


def replay_buffer(
    series: DaySeries, buffer: BufferYears, boards: Array, run: RoutedRun, place: int
) -> RouteReplay:
    """Work one day through a buffer again, step by step.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    buffer : BufferYears
        Soil and kinetics. [-]
    boards : array of shape (settings, 20)
        Boards of each setting. [-]
    run : RoutedRun
        All days, for how long the water of the day stays. [-]
    place : int
        Number of the day, from 0. [-]

    Returns
    -------
    RouteReplay

    Raises
    ------
    OutOfDomain
        If the series has no such day.

    References
    ----------
    derived, the kernel's own source
    """
    days = series.inflow.size
    if not 0 <= place < days:
        raise refuse(
            "place", place, "", f"The series has days 0 to {days - 1}", "Choose one of them"
        )
    water = replay_water(series, buffer, boards, place)
    age = float(run.retention_days[place])
    routed = _routed(series, buffer, water, age, place)
    steps = (
        *_brought(series, buffer, place),
        *_divided(series, buffer, water, place),
        *(_nitrate(series, buffer, routed, place) if routed.bed_flow > LEAST_FLOW else ()),
        RouteStep(
            "outcome",
            "removed",
            "Nitrate nitrogen taken out of what came in on the day",
            "M = Q (C_in - C_out) 86400 s",
            "",
            routed.removed / 1000.0,
            "kg",
        ),
    )
    return RouteReplay(place, steps, routed)


def _routed(
    series: DaySeries, buffer: BufferYears, water: WaterDay, age: float, place: int
) -> RoutedDay:
    """The day as the run has it, its water by the twin."""
    head_stream = max(0.0, float(series.stage[place]) - buffer.barrier)
    wet = _route.soil_under_water(water.head, head_stream, buffer.area)
    enters = float(series.nitrate[place]) * buffer.nitrate_factor
    left, removed = enters, 0.0
    if water.line_flow > LEAST_FLOW:
        reacts = _reacts(series, buffer, place, age)
        left = nitrate_left(
            enters, reacts, buffer.rate_mg_per_l_day, buffer.half_saturation_mg_per_l, 4
        )
        removed = water.line_flow * DAY * (enters - left)
    limited = left < LIMITED_BELOW <= enters and water.line_flow > LEAST_FLOW
    back = float(series.stage[place]) > buffer.barrier + water.head
    return RoutedDay(
        water.line_flow,
        water.bypass_flow,
        water.level,
        wet,
        age,
        left,
        removed,
        limited,
        back,
    )


def _reacts(series: DaySeries, buffer: BufferYears, place: int, age: float) -> float:
    """Days at the reference temperature, oxygen used up, that the water of a day has. [days]"""
    warm = [_route.warmth(float(t), buffer) for t in series.temperature]
    until = np.concatenate(([0.0], np.cumsum(warm)))
    days = series.inflow.size

    def at(time: float) -> float:
        beyond = max(0.0, time - days)
        inside = float(np.interp(min(time, days), np.arange(days + 1), until))
        return inside + beyond * float(until[-1]) / days

    start = place + 0.5
    return max(0.0, at(start + age) - at(start) - buffer.oxic_days)


def _brought(series: DaySeries, buffer: BufferYears, day: int) -> Iterator[RouteStep]:
    inflow = inflow_at(day, series, buffer.flow_factor)
    for name, title, value, unit in (
        ("inflow", "Drain flow at the diversion", inflow, "m3/s"),
        ("temperature", "Temperature of the drain water", series.temperature[day], "degC"),
        ("stage", "Water in the ditch", series.stage[day], "m"),
        ("nitrate_in", "Nitrate of the drain water", series.nitrate[day], "mg/L"),
        ("setting", "Setting of the boards", series.setting[day], "-"),
    ):
        yield RouteStep("brought", name, title, "", "", float(value), unit)


def _divided(
    series: DaySeries, buffer: BufferYears, water: WaterDay, day: int
) -> Iterator[RouteStep]:
    ratio = float(series.viscosity_ratio[day]) / buffer.viscosity_ratio
    conductance = buffer.conductance * ratio
    head_stream = max(0.0, float(series.stage[day]) - buffer.barrier)
    line = water.line_flow
    yield RouteStep(
        "divided",
        "line_flow",
        "Flow into the line: all of it, or what the level at the boards drives",
        "z = barrier + max(h + a Q, line) + b Q^2, z = level over the boards at Q_in - Q",
        f"h = {water.head:.4g}, a = {buffer.loss_linear / ratio:.4g}, "
        f"b = {buffer.loss_square:.4g}, Q = {line:.4g}",
        line,
        "m3/s",
    )
    yield RouteStep("divided", "bypass", "Flow over the bypass boards", "Q_in - Q", "",
                    water.bypass_flow, "m3/s")  # fmt: skip
    yield RouteStep("divided", "level", "Water where the main comes in", "", "", water.level, "m")
    yield RouteStep(
        "divided",
        "table",
        "Water table at the line at the end of the day",
        "n S(h) + c (h^2 - h2^2) 86400 s = n S(h before) + Q 86400 s",
        f"c = {conductance:.4g}, h2 = {head_stream:.4g}, h = {water.head:.4g}",
        buffer.barrier + water.head,
        "m",
    )
    yield RouteStep(
        "divided",
        "out_flow",
        "Flow from the soil to the ditch",
        "c (h^2 - h2^2)",
        f"{conductance:.4g} ({water.head:.4g}^2 - {head_stream:.4g}^2)",
        water.out_flow,
        "m3/s",
    )


def _nitrate(
    series: DaySeries, buffer: BufferYears, routed: RoutedDay, day: int
) -> Iterator[RouteStep]:
    reacts = _reacts(series, buffer, day, routed.retention_days)
    enters = float(series.nitrate[day]) * buffer.nitrate_factor
    yield RouteStep(
        "nitrate",
        "age",
        "Time until the water of the day leaves: as much must follow as the pores held",
        "from the run of all days",
        "",
        routed.retention_days,
        "days",
    )
    yield RouteStep(
        "nitrate",
        "reacts",
        "Of it, days at the reference temperature after oxygen is used up",
        "sum of q10^((T - T_ref)/10) - oxic days",
        f"oxic days = {buffer.oxic_days:.4g}",
        reacts,
        "days",
    )
    yield RouteStep(
        "nitrate",
        "nitrate_out",
        "Nitrate of that water when it leaves",
        "C_out by the law of removal over these days",
        f"C_in = {enters:.4g}, rate = {buffer.rate_mg_per_l_day:.4g} mg/L/day"
        + (" at 10 mg/L, first order" if np.isinf(buffer.half_saturation_mg_per_l) else ""),
        routed.outlet_nitrate,
        "mg/L",
    )
