# SPDX-License-Identifier: Apache-2.0
"""Reading and filling a table of how inflows divide: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernels share. Read `split` for what it means and how close it is.

Under its capacity the bed takes the whole inflow; over it the boards take the rest. The two are
tabulated apart, each against its own share of the way, so that the kink between them lies on a knot
whatever the media and the ditch:

    under:  u = (Q / Q_c)^(1/2)                  0 to 1
    over:   t = ((Q - Q_c) / (Q_m - Q_c))^(2/3)  0 to 1
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

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


class SplitTable(NamedTuple):
    """How inflows divide for one setting of the boards.

    Attributes
    ----------
    conductivity : array
        Conductivity that the media show at the gradient of the bed, rising. [m/s]
    stage : array
        Water in the ditch, rising. [m]
    most : float
        Largest inflow of the table. [m3/s]
    capacity : array
        Largest inflow that goes through the bed whole, by conductivity and stage. [m3/s]
    bed_over : array
        Flow through the bed by conductivity, stage and share of the way over capacity. [m3/s]
    level_under, level_over : array
        Water at the diversion. [m]
    wet_under, wet_over : array
        Media under water. [m3]
    """

    conductivity: Array
    stage: Array
    most: float
    capacity: Array
    bed_over: Array
    level_under: Array
    level_over: Array
    wet_under: Array
    wet_over: Array


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


def fill_one(row: int, machine: Machine, table: SplitTable) -> None:
    """Fill the part of a table that belongs to one conductivity."""
    under, over = table.level_under.shape[2] - 1, table.level_over.shape[2] - 1
    for column in range(table.stage.size):
        stage = table.stage[column]
        capacity = capacity_at_crest(stage, table.most, machine)
        table.capacity[row, column] = capacity
        for knot in range(under + 1):
            inflow = capacity * (knot / under) * (knot / under)
            tail = tail_level(inflow, stage, machine)
            level = min(bed_level(inflow, tail, machine), bypass_level(0.0, tail, machine))
            wet = wet_divided(inflow, level, inflow, stage, machine)
            table.level_under[row, column, knot] = level
            table.wet_under[row, column, knot] = wet
        for knot in range(over + 1):
            inflow = capacity + (table.most - capacity) * (knot / over) ** 1.5
            divided = split_flow(inflow, stage, stage, machine)
            bed_flow, level = divided.bed_flow, divided.level
            if knot == 0:
                bed_flow, level = capacity, table.level_under[row, column, under]
            wet = wet_divided(bed_flow, level, inflow, stage, machine)
            table.bed_over[row, column, knot] = bed_flow
            table.level_over[row, column, knot] = level
            table.wet_over[row, column, knot] = wet


def place_before(knots: Array, value: float) -> int:
    """Number of the last knot at or below a value, the last but one at most."""
    place = 0
    while place < knots.size - 2 and knots[place + 1] <= value:
        place += 1
    return place


def share_past(knots: Array, place: int, value: float) -> float:
    """Share of the way from a knot to the next, held between 0 and 1."""
    share = (value - knots[place]) / (knots[place + 1] - knots[place])
    return float(min(1.0, max(0.0, share)))


def read_between(
    values: Array, row: int, column: int, knot: int, a: float, b: float, c: float
) -> float:
    """Value between eight neighbours, `a`, `b`, `c` the shares of the way along each axis."""
    total = 0.0
    for i in range(2):
        for j in range(2):
            weight = (a if i else 1.0 - a) * (b if j else 1.0 - b)
            first = values[row + i, column + j, knot]
            second = values[row + i, column + j, knot + 1]
            total += weight * (first + c * (second - first))
    return total


def divide(inflow: float, conductivity: float, stage: float, table: SplitTable) -> Divided:
    """How an inflow divides, read from a table; inflows over the largest count as that."""
    row = place_before(table.conductivity, conductivity)
    a = share_past(table.conductivity, row, conductivity)
    column = place_before(table.stage, stage)
    b = share_past(table.stage, column, stage)
    held = table.capacity
    low = held[row, column] + b * (held[row, column + 1] - held[row, column])
    high = held[row + 1, column] + b * (held[row + 1, column + 1] - held[row + 1, column])
    capacity = low + a * (high - low)
    flow = min(inflow, table.most)
    if flow <= capacity:
        knots = table.level_under.shape[2] - 1
        way = knots * math.sqrt(flow / capacity) if capacity > 0.0 else 0.0
        knot = min(knots - 1, int(way))
        c = way - knot
        level = read_between(table.level_under, row, column, knot, a, b, c)
        wet = read_between(table.wet_under, row, column, knot, a, b, c)
        return Divided(flow, level, wet)
    knots = table.level_over.shape[2] - 1
    way = knots * ((flow - capacity) / (table.most - capacity)) ** (2.0 / 3.0)
    knot = min(knots - 1, int(way))
    c = way - knot
    bed_flow = min(flow, read_between(table.bed_over, row, column, knot, a, b, c))
    level = read_between(table.level_over, row, column, knot, a, b, c)
    wet = read_between(table.wet_over, row, column, knot, a, b, c)
    return Divided(bed_flow, level, wet)


def divide_series(
    inflow: Array, conductivity: Array, stage: Array, table: SplitTable, out: Array
) -> None:
    """Divide a series; `out` takes bed flow, level and wet volume as its columns."""
    for day in range(inflow.size):
        divided = divide(inflow[day], conductivity[day], stage[day], table)
        out[day, 0] = divided.bed_flow
        out[day, 1] = divided.level
        out[day, 2] = divided.wet_volume
