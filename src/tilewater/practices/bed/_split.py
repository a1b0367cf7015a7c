# SPDX-License-Identifier: Apache-2.0
"""Reading and filling a table of how inflows divide: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernels share. Read `split` for what it means and how close it is.

Under its capacity the bed takes the whole inflow; over it the boards take the rest. The two are
tabulated apart, each against its own share of the way, so that the kink between them lies on a knot
whatever the media and the ditch:

    under:  u = (Q / Q_c)^(1/2)                  0 to 1
    over:   t = ((Q - Q_c) / (Q_m - Q_c))^(1/2)  0 to 1
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.compiled import in_line
from tilewater.basis.roots import search_between, search_on
from tilewater.hydraulics._pipe_run import level_upstream
from tilewater.practices.bed._system import (
    FIRST_TRY,
    FLOW_TOLERANCE,
    Machine,
    bed_level,
    bypass_level,
    split_flow,
    wet_media,
)

Array = NDArray[np.float64]
Whole = NDArray[np.int64]


class SplitTable(NamedTuple):
    """How inflows divide, by setting of the boards, conductivity, ditch and inflow.

    Attributes
    ----------
    conductivity : array of shape (media,)
        Conductivity that the media show at the gradient of the bed, rising. [m/s]
    stage : array of shape (settings, stages)
        Water in the ditch, rising. [m]
    most : float
        Largest inflow of the table. [m3/s]
    capacity : array of shape (settings, media, stages)
        Largest inflow that goes through the bed whole. [m3/s]
    under, over : array of shape (settings, media, stages, knots, 3)
        Flow through the bed, water at the diversion and media under water, by share of the way
        under and over capacity. [m3/s, m, m3]
    """

    conductivity: Array
    stage: Array
    most: float
    capacity: Array
    under: Array
    over: Array


class Place(NamedTuple):
    """Where a medium and a ditch lie in a table: the knots below them and the shares past these."""

    medium: int
    stage: int
    past_medium: float
    past_stage: float


class FlatTable(NamedTuple):
    """A table with every part laid flat, the numbers of its knots, and its largest inflow.

    Five places in an array would cost a compiled day more than all its arithmetic.
    """

    conductivity: Array
    stage: Array
    capacity: Array
    under: Array
    over: Array
    media: int
    stages: int
    under_knots: int
    over_knots: int
    most: float


class Divided(NamedTuple):
    """An inflow divided. [m3/s, m, m3]"""

    bed_flow: float
    level: float
    wet_volume: float


def tail_level(inflow: float, stage: float, machine: Machine) -> float:
    """Water below bed and bypass: the ditch, or the junction where both meet."""
    if machine.joined:
        return level_upstream(inflow, stage, machine.lower)
    return stage


def wet_divided(
    bed_flow: float, level: float, inflow: float, stage: float, machine: Machine
) -> float:
    """Media under water for an inflow that is divided."""
    return wet_media(bed_flow, level, tail_level(inflow, stage, machine), machine)


def lowest_disagreement(inflow: float, stage: float, machine: Machine) -> float:
    """Level that the bed asks for with the whole inflow, less the level where the boards begin."""
    tail = tail_level(inflow, stage, machine)
    return bed_level(inflow, tail, machine) - bypass_level(0.0, tail, machine)


def capacity_at_crest(stage: float, most: float, machine: Machine) -> float:
    """Largest inflow, up to `most`, that goes through the bed whole."""
    at_low = lowest_disagreement(0.0, stage, machine)
    if at_low >= 0.0:
        return 0.0
    high = min(FIRST_TRY, most)
    at_high = lowest_disagreement(high, stage, machine)
    while at_high < 0.0:
        if high >= most:
            return most
        high = min(2.0 * high, most)
        at_high = lowest_disagreement(high, stage, machine)
    search = search_between(0.0, high, at_low, at_high, FLOW_TOLERANCE)
    while search.goes_on:
        search = search_on(search, lowest_disagreement(search.x, stage, machine))
    return search.x


def fill_capacity(setting: int, row: int, column: int, machine: Machine, table: SplitTable) -> None:
    """Fill the capacity of one medium and one ditch."""
    stage = table.stage[setting, column]
    table.capacity[setting, row, column] = capacity_at_crest(stage, table.most, machine)


def fill_under(
    setting: int, row: int, column: int, knot: int, machine: Machine, table: SplitTable
) -> None:
    """Fill one knot under capacity, once the capacity is filled."""
    stage, capacity = table.stage[setting, column], table.capacity[setting, row, column]
    last = table.under.shape[3] - 1
    inflow = capacity * (knot / last) * (knot / last)
    tail = tail_level(inflow, stage, machine)
    level = min(bed_level(inflow, tail, machine), bypass_level(0.0, tail, machine))
    table.under[setting, row, column, knot, 0] = inflow
    table.under[setting, row, column, knot, 1] = level
    wet = wet_divided(inflow, level, inflow, stage, machine)
    table.under[setting, row, column, knot, 2] = wet


def fill_over(
    setting: int, row: int, column: int, knot: int, machine: Machine, table: SplitTable
) -> None:
    """Fill one knot over capacity; the first is the last under it, which must be filled."""
    stage, capacity = table.stage[setting, column], table.capacity[setting, row, column]
    last = table.over.shape[3] - 1
    inflow = capacity + (table.most - capacity) * (knot / last) * (knot / last)
    bed_flow, level = capacity, table.under[setting, row, column, table.under.shape[3] - 1, 1]
    if knot > 0:
        divided = split_flow(inflow, stage, stage, machine)
        bed_flow, level = divided.bed_flow, divided.level
    table.over[setting, row, column, knot, 0] = bed_flow
    table.over[setting, row, column, knot, 1] = level
    wet = wet_divided(bed_flow, level, inflow, stage, machine)
    table.over[setting, row, column, knot, 2] = wet


def fill_one(setting: int, row: int, machine: Machine, table: SplitTable) -> None:
    """Fill the part of a table that belongs to one setting and one conductivity."""
    for column in range(table.stage.shape[1]):
        fill_capacity(setting, row, column, machine, table)
        for knot in range(table.under.shape[3]):
            fill_under(setting, row, column, knot, machine, table)
        for knot in range(table.over.shape[3]):
            fill_over(setting, row, column, knot, machine, table)


def place_before(knots: Array, first: int, count: int, value: float) -> int:
    """Number of the last of some knots at or below a value, the last but one at most."""
    place = 0
    while place < count - 2 and knots[first + place + 1] <= value:
        place += 1
    return place


def share_past(knots: Array, place: int, value: float) -> float:
    """Share of the way from a knot to the next, held between 0 and 1."""
    low = knots[place]
    share = (value - low) / (knots[place + 1] - low)
    return float(min(1.0, max(0.0, share)))


def between(values: Array, here: int, place: Place, next_stage: int, next_medium: int) -> float:
    """Value between four neighbours that lie flat, the first of them at `here`."""
    low, there = values[here], here + next_medium
    low += place.past_stage * (values[here + next_stage] - low)
    high = values[there]
    high += place.past_stage * (values[there + next_stage] - high)
    return float(low + place.past_medium * (high - low))


@in_line
def divide(
    inflow: float,
    conductivity: float,
    stage: float,
    setting: int,
    table: FlatTable,
) -> Divided:
    """How an inflow divides, read from a table; inflows over the largest count as that."""
    first = setting * table.stages
    i = place_before(table.conductivity, 0, table.media, conductivity)
    j = place_before(table.stage, first, table.stages, stage)
    place = Place(
        i,
        j,
        share_past(table.conductivity, i, conductivity),
        share_past(table.stage, first + j, stage),
    )
    corner = (setting * table.media + i) * table.stages + j
    capacity = between(table.capacity, corner, place, 1, table.stages)
    flow = min(inflow, table.most)
    values, knots, share = table.under, table.under_knots, 0.0
    if flow > capacity:
        values, knots = table.over, table.over_knots
        share = (flow - capacity) / (table.most - capacity)
    elif capacity > 0.0:
        share = flow / capacity
    way = (knots - 1) * math.sqrt(share)
    knot = min(knots - 2, int(way))
    c, here = way - knot, 3 * (corner * knots + knot)
    next_stage, next_medium = 3 * knots, 3 * knots * table.stages
    level = between(values, here + 1, place, next_stage, next_medium)
    level += c * (between(values, here + 4, place, next_stage, next_medium) - level)
    wet = between(values, here + 2, place, next_stage, next_medium)
    wet += c * (between(values, here + 5, place, next_stage, next_medium) - wet)
    if flow > capacity:
        low = between(values, here, place, next_stage, next_medium)
        low += c * (between(values, here + 3, place, next_stage, next_medium) - low)
        flow = min(flow, low)
    return Divided(flow, level, wet)


def flat(table: SplitTable) -> FlatTable:
    """A table laid flat; nothing is copied."""
    return FlatTable(
        table.conductivity,
        table.stage.reshape(-1),
        table.capacity.reshape(-1),
        table.under.reshape(-1),
        table.over.reshape(-1),
        table.conductivity.size,
        table.stage.shape[1],
        table.under.shape[3],
        table.over.shape[3],
        table.most,
    )


def divide_by(
    inflow: float, conductivity: float, stage: float, setting: int, table: SplitTable
) -> Divided:
    """How one inflow divides, read from a table."""
    return divide(inflow, conductivity, stage, setting, flat(table))


def divide_series(
    inflow: Array, conductivity: Array, stage: Array, setting: Whole, table: SplitTable, out: Array
) -> None:
    """Divide a series; `out` takes bed flow, level and wet volume as its columns."""
    laid = flat(table)
    for day in range(inflow.size):
        divided = divide(inflow[day], conductivity[day], stage[day], setting[day], laid)
        out[day, 0] = divided.bed_flow
        out[day, 1] = divided.level
        out[day, 2] = divided.wet_volume
