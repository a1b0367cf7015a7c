# SPDX-License-Identifier: Apache-2.0
"""Marking what the days of a record read of a table, and filling what is marked: bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernels share. Read `touched_cells` for what it is for. The days are walked twice: first for the
capacities that they read, which rest on chips and ditch alone, then, these being filled, for the
knots.
"""

import math

import numpy as np
from numpy.typing import NDArray

from tilewater.practices.bed._route import (
    LEAST_FLOW,
    DaySeries,
    bed_of_row,
    first_state,
    inflow_at,
    next_state,
    shown_conductivity,
)
from tilewater.practices.bed._split import (
    Array,
    SplitTable,
    fill_capacity,
    fill_over,
    fill_under,
    flat,
    place_before,
)
from tilewater.practices.bed._system import Machine
from tilewater.practices.bed._touched import knot_read

Marks = NDArray[np.bool_]


def mark_corners(
    series: DaySeries, beds: Array, table: SplitTable, capacity: Marks, under: Marks, over: Marks
) -> None:
    """Mark the capacities that the days of all draws read, and the knots whose capacities stand."""
    laid, last = flat(table), table.under.shape[3] - 1
    for draw in range(beds.shape[0]):
        bed = bed_of_row(beds, draw)
        state = first_state(bed)
        for day in range(series.inflow.size):
            inflow = inflow_at(day, series, bed.flow_factor)
            if inflow > LEAST_FLOW:
                setting, stage = series.setting[day], series.stage[day]
                inertia = bed.inertia_scale / math.sqrt(state.conductivity_20)
                shown = shown_conductivity(
                    state.conductivity_20 * series.viscosity_ratio[day], inertia, bed.gradient
                )
                i = place_before(laid.conductivity, 0, laid.media, shown)
                j = place_before(laid.stage, setting * laid.stages, laid.stages, stage)
                stands = True
                for row in range(i, i + 2):
                    for column in range(j, j + 2):
                        capacity[setting, row, column] = True
                        if math.isnan(table.capacity[setting, row, column]):
                            stands = False
                if stands:
                    flow = min(inflow, laid.most)
                    is_over, knot = knot_read(flow, setting, i, j, shown, stage, laid)
                    for row in range(i, i + 2):
                        for column in range(j, j + 2):
                            for each in range(knot, knot + 2):
                                if not is_over:
                                    under[setting, row, column, each] = True
                                else:
                                    over[setting, row, column, each] = True
                                    if each == 0:  # it is the last under capacity
                                        under[setting, row, column, last] = True
            state = next_state(state, bed)


def fill_marked_capacities(
    setting: int, row: int, machine: Machine, table: SplitTable, capacity: Marks
) -> None:
    """Fill the marked capacities of one setting and one medium."""
    for column in range(capacity.shape[2]):
        if capacity[setting, row, column]:
            fill_capacity(setting, row, column, machine, table)


def fill_marked_knots(
    setting: int, row: int, machine: Machine, table: SplitTable, under: Marks, over: Marks
) -> None:
    """Fill the marked knots of one setting and one medium, once its capacities are filled."""
    for column in range(under.shape[2]):
        for knot in range(under.shape[3]):
            if under[setting, row, column, knot]:
                fill_under(setting, row, column, knot, machine, table)
        for knot in range(over.shape[3]):
            if over[setting, row, column, knot]:
                fill_over(setting, row, column, knot, machine, table)
