# SPDX-License-Identifier: Apache-2.0
"""Filling of a table only where the days of a record read it: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernel shares. Read `touched` for what it is for. A day reads four capacities and two knots at each
of four corners; what stands there as not a number is filled before. Days without flow read nothing.
"""

import math

from tilewater.basis.compiled import in_line
from tilewater.basis.roots import search_between, search_on
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.practices.bed._route import (
    LEAST_FLOW,
    DaySeries,
    bed_of_row,
    first_state,
    inflow_at,
    next_state,
    route_draws,
    shown_conductivity,
)
from tilewater.practices.bed._split import (
    Array,
    FlatTable,
    Place,
    SplitTable,
    Whole,
    between,
    fill_capacity,
    fill_over,
    fill_under,
    flat,
    place_before,
    share_past,
)
from tilewater.practices.bed._system import Cell, Machine, bed_flow_at_level, bed_level, wet_media

AGE_TOLERANCE = 1e-4
"""Closeness of an age; that of `life`. [years]"""


def pipe_in_row(row: Array, at: int) -> PipeRun:
    """A pipe out of six numbers."""
    return PipeRun(row[at], row[at + 1], row[at + 2], row[at + 3], row[at + 4], row[at + 5])


def boards_in_row(row: Array, at: int) -> BoardSet:
    """A set of boards out of ten numbers."""
    return BoardSet(
        row[at],
        row[at + 1],
        row[at + 2],
        row[at + 3],
        row[at + 4],
        row[at + 5],
        row[at + 6],
        row[at + 7],
        row[at + 8],
        row[at + 9],
    )


def works_in_row(row: Array, conductivity: float, inertia: float) -> Machine:
    """The works of a setting out of the numbers of `touched.row_of`, with some media."""
    return Machine(
        (
            Cell(
                row[0],
                row[1],
                row[2],
                row[3],
                row[4],
                conductivity,
                inertia,
                boards_in_row(row, 9),
                row[5],
                pipe_in_row(row, 39),
                row[6],
                row[7],
                pipe_in_row(row, 45),
            ),
        ),
        boards_in_row(row, 19),
        boards_in_row(row, 29),
        pipe_in_row(row, 51),
        pipe_in_row(row, 57),
        row[8] > 0.5,
        pipe_in_row(row, 63),
    )


@in_line
def lacks_capacity(setting: int, i: int, j: int, table: SplitTable) -> bool:
    """Whether a capacity at one of four corners is not filled."""
    corners = table.capacity[setting, i, j] + table.capacity[setting, i, j + 1]
    corners += table.capacity[setting, i + 1, j] + table.capacity[setting, i + 1, j + 1]
    return math.isnan(corners)


@in_line
def lacks_knot(values: Array, setting: int, i: int, j: int, knot: int) -> bool:
    """Whether one of two knots at four corners is not filled."""
    read = 0.0
    for row in range(i, i + 2):
        for column in range(j, j + 2):
            read += values[setting, row, column, knot, 2]
            read += values[setting, row, column, knot + 1, 2]
    return math.isnan(read)


@in_line
def knot_read(
    flow: float, setting: int, i: int, j: int, shown: float, stage: float, table: FlatTable
) -> tuple[bool, int]:
    """Whether a flow is over capacity, and the first of the two knots that it reads."""
    first = setting * table.stages
    place = Place(
        i,
        j,
        share_past(table.conductivity, i, shown),
        share_past(table.stage, first + j, stage),
    )
    corner = (setting * table.media + i) * table.stages + j
    capacity = between(table.capacity, corner, place, 1, table.stages)
    knots, share, is_over = table.under_knots, 0.0, flow > capacity
    if is_over:
        knots = table.over_knots
        share = (flow - capacity) / (table.most - capacity)
    elif capacity > 0.0:
        share = flow / capacity
    return is_over, min(knots - 2, int((knots - 1) * math.sqrt(share)))


def fill_capacities(
    setting: int, i: int, j: int, rows: Array, media: Array, table: SplitTable
) -> None:
    """Fill the capacities at four corners that are not filled."""
    for row in range(i, i + 2):
        works = works_in_row(rows[setting], media[row, 0], media[row, 1])
        for column in range(j, j + 2):
            if math.isnan(table.capacity[setting, row, column]):
                fill_capacity(setting, row, column, works, table)


def fill_knots(
    is_over: bool,
    setting: int,
    i: int,
    j: int,
    knot: int,
    rows: Array,
    media: Array,
    table: SplitTable,
) -> None:
    """Fill two knots at four corners; the first over capacity needs the last under it."""
    last = table.under.shape[3] - 1
    for row in range(i, i + 2):
        works = works_in_row(rows[setting], media[row, 0], media[row, 1])
        for column in range(j, j + 2):
            for each in range(knot, knot + 2):
                if not is_over:
                    if math.isnan(table.under[setting, row, column, each, 2]):
                        fill_under(setting, row, column, each, works, table)
                elif math.isnan(table.over[setting, row, column, each, 2]):
                    if each == 0 and math.isnan(table.under[setting, row, column, last, 2]):
                        fill_under(setting, row, column, last, works, table)
                    fill_over(setting, row, column, each, works, table)


def fill_touched(
    rows: Array, media: Array, series: DaySeries, beds: Array, table: SplitTable
) -> None:
    """Fill what the days read, for all draws.

    A row of `rows` is the works of a setting, one of `media` conductivity and inertia.
    """
    laid = flat(table)
    for draw in range(beds.shape[0]):
        bed = bed_of_row(beds, draw)
        state = first_state(bed)
        for day in range(series.inflow.size):
            inflow = inflow_at(day, series, bed.flow_factor)
            if inflow > LEAST_FLOW:
                setting, stage = series.setting[day], series.stage[day]
                flow = min(inflow, laid.most)
                inertia = bed.inertia_scale / math.sqrt(state.conductivity_20)
                shown = shown_conductivity(
                    state.conductivity_20 * series.viscosity_ratio[day], inertia, bed.gradient
                )
                i = place_before(laid.conductivity, 0, laid.media, shown)
                j = place_before(laid.stage, setting * laid.stages, laid.stages, stage)
                if lacks_capacity(setting, i, j, table):
                    fill_capacities(setting, i, j, rows, media, table)
                is_over, knot = knot_read(flow, setting, i, j, shown, stage, laid)
                values = table.over if is_over else table.under
                if lacks_knot(values, setting, i, j, knot):
                    fill_knots(is_over, setting, i, j, knot, rows, media, table)
            state = next_state(state, bed)


def route_touched(
    rows: Array,
    media: Array,
    series: DaySeries,
    year: Whole,
    beds: Array,
    table: SplitTable,
    out: Array,
) -> None:
    """Fill what the days read and add up the years of all draws, as `route_draws` does."""
    fill_touched(rows, media, series, beds, table)
    route_draws(series, year, beds, table, 0, beds.shape[0], out)


def flow_of_row(
    level: float, tailwater: float, row: Array, conductivity: float, inertia: float
) -> float:
    """Flow of either sign through a bed out of a row, the diversion held at a level."""
    return bed_flow_at_level(level, tailwater, works_in_row(row, conductivity, inertia))


def wet_of_row(
    flow: float, tailwater: float, row: Array, conductivity: float, inertia: float
) -> float:
    """Media under water for a flow of either sign through a bed out of a row."""
    works = works_in_row(row, conductivity, inertia)
    return wet_media(flow, bed_level(flow, tailwater, works), tailwater, works)


def head_to_spare(
    age: float,
    level: float,
    tailwater: float,
    flow: float,
    row: Array,
    conductivity: float,
    inertia: float,
    decline: float,
) -> float:
    """Level at the diversion less that which a flow asks for through media of an age."""
    left = math.exp(-decline * age)
    works = works_in_row(row, conductivity * left, inertia / math.sqrt(left))
    return level - bed_level(flow, tailwater, works)


def age_of_row(
    level: float,
    tailwater: float,
    flow: float,
    row: Array,
    conductivity: float,
    inertia: float,
    decline: float,
    longest: float,
) -> float:
    """Age at which media that were new no longer take a flow, 0 to `longest`."""
    at_new = head_to_spare(0.0, level, tailwater, flow, row, conductivity, inertia, decline)
    if at_new <= 0.0:
        return 0.0
    at_longest = head_to_spare(longest, level, tailwater, flow, row, conductivity, inertia, decline)
    if at_longest >= 0.0:
        return longest
    search = search_between(0.0, longest, at_new, at_longest, AGE_TOLERANCE)
    while search.goes_on:
        spare = head_to_spare(search.x, level, tailwater, flow, row, conductivity, inertia, decline)
        search = search_on(search, spare)
    return search.x
