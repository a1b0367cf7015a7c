# SPDX-License-Identifier: Apache-2.0
"""Diversion, feed, bed, outlet structure, return and ditch in one balance: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernels share. Read `system` for what it means, its units and its limits.

Every element gives the level of its upper pool for a flow and the level of its lower pool, rising
with both. So the level that a flow through the bed asks for at the diversion is one step after the
other, from the ditch up; and the share of the bed is where that level and the level that the rest
asks for over the bypass boards agree.
"""

from typing import NamedTuple

from tilewater.basis.roots import search_between, search_on
from tilewater.hydraulics._bed_section import depth_at_far_end, depth_at_inlet, wet_volume
from tilewater.hydraulics._board_set import (
    BoardSet,
    board_level_downstream,
    board_level_upstream,
    lowest_level,
)
from tilewater.hydraulics._pipe_run import (
    PipeRun,
    level_backwards,
    level_upstream,
    level_upstream_full,
)

G = 9.80665
NEVER = 1e6
"""A level that no water reaches: what cannot flow asks for it. [m]"""
FIRST_TRY = 0.001
"""First flow that is tried. [m3/s]"""
LEAST = 1e-9
"""Flow below which nothing is said to come back. [m3/s]"""
FLOW_TOLERANCE = 1e-10
"""Closeness of a solved flow. [m3/s]"""
LEVEL_TOLERANCE = 1e-10
"""Closeness of a solved level where several cells share it. [m]"""


class Cell(NamedTuple):
    """One cell of the bed between the diversion box and the outlet box.

    Attributes
    ----------
    floor : float
        Level floor. [m]
    length, width, side_slope, media_depth : float
        Flow length, bottom width, horizontal to vertical, depth of the media. [m, m, -, m]
    conductivity, inertia : float
        Of the media at its age and temperature. [m/s, s2/m2]
    boards : BoardSet
        The cell's own boards in the diversion box; a coefficient of 0 where there are none.
    gate : float
        Open area of the gate times its coefficient; infinite where there is none. [m2]
    feed : PipeRun
        From the diversion box to the inlet header.
    header_in, header_out : float
        Loss of the headers per flow squared. [s2/m5]
    drain : PipeRun
        From the outlet header to the outlet box.
    """

    floor: float
    length: float
    width: float
    side_slope: float
    media_depth: float
    conductivity: float
    inertia: float
    boards: BoardSet
    gate: float
    feed: PipeRun
    header_in: float
    header_out: float
    drain: PipeRun


class Machine(NamedTuple):
    """What stands between the main above the diversion and the ditch.

    Attributes
    ----------
    cells : tuple of Cell
        Side by side, between the same two boxes.
    bypass_boards, outlet_boards : BoardSet
        The two structures.
    bypass, outflow : PipeRun
        From below the bypass boards, and from below the outlet boards, to the ditch or to the
        junction where both meet.
    joined : bool
        Whether the two meet before the ditch.
    lower : PipeRun
        From the junction to the ditch.
    """

    cells: tuple[Cell, ...]
    bypass_boards: BoardSet
    outlet_boards: BoardSet
    bypass: PipeRun
    outflow: PipeRun
    joined: bool
    lower: PipeRun


class CellLevels(NamedTuple):
    """Water from the diversion box to the outlet box, cell by cell. [m]"""

    diversion: float
    behind_boards: float
    behind_gate: float
    inlet_header: float
    inlet_end: float
    outlet_end: float
    outlet_header: float
    outlet_box: float


class Split(NamedTuple):
    """How an inflow divides, and the level it makes at the diversion. [m3/s, m3/s, m]"""

    bed_flow: float
    bypass_flow: float
    level: float


def levels_forward(flow: float, outlet_box: float, cell: Cell) -> CellLevels:
    """Levels that send a flow through a cell into the outlet box; flow zero or above."""
    outlet_header = level_upstream(flow, outlet_box, cell.drain)
    outlet_end = max(outlet_header + cell.header_out * flow * flow, cell.floor)
    depth = depth_at_inlet(
        flow,
        outlet_end - cell.floor,
        cell.length,
        cell.width,
        cell.side_slope,
        cell.conductivity,
        cell.inertia,
        cell.media_depth,
    )
    inlet_end = cell.floor + depth
    inlet_header = inlet_end + cell.header_in * flow * flow
    behind_gate = level_upstream(flow, inlet_header, cell.feed)
    behind_boards = behind_gate
    if flow > 0.0:
        velocity = flow / cell.gate if cell.gate > 0.0 else NEVER
        behind_boards += velocity * velocity / (2.0 * G)
    diversion = behind_boards
    if cell.boards.coefficient > 0.0:
        diversion = board_level_upstream(flow, behind_boards, cell.boards)
    return CellLevels(
        diversion,
        behind_boards,
        behind_gate,
        inlet_header,
        inlet_end,
        outlet_end,
        outlet_header,
        outlet_box,
    )


def levels_backward(flow: float, outlet_box: float, cell: Cell) -> CellLevels:
    """Levels where a flow comes back from the outlet box through a cell; flow above zero.

    What the cell cannot carry ends at a level far below.
    """
    outlet_header = max(-NEVER, level_backwards(flow, outlet_box, cell.drain))
    outlet_end = outlet_header - cell.header_out * flow * flow
    inlet_end = -NEVER
    if outlet_end > cell.floor:
        inlet_end = cell.floor + depth_at_far_end(
            flow,
            outlet_end - cell.floor,
            cell.length,
            cell.width,
            cell.side_slope,
            cell.conductivity,
            cell.inertia,
            cell.media_depth,
        )
    inlet_header = max(-NEVER, inlet_end - cell.header_in * flow * flow)
    behind_gate = max(-NEVER, level_backwards(flow, inlet_header, cell.feed))
    velocity = flow / cell.gate if cell.gate > 0.0 else NEVER
    behind_boards = max(-NEVER, behind_gate - velocity * velocity / (2.0 * G))
    diversion = behind_boards
    if cell.boards.coefficient > 0.0:
        diversion = max(-NEVER, board_level_downstream(flow, behind_boards, cell.boards))
    return CellLevels(
        diversion,
        behind_boards,
        behind_gate,
        inlet_header,
        inlet_end,
        outlet_end,
        outlet_header,
        outlet_box,
    )


def cell_levels(flow: float, outlet_box: float, cell: Cell) -> CellLevels:
    """Levels along a cell for a flow of either sign."""
    if flow < 0.0:
        return levels_backward(-flow, outlet_box, cell)
    return levels_forward(flow, outlet_box, cell)


def below_boards(flow: float, tail: float, pipe: PipeRun, boards: BoardSet) -> float:
    """Level below a set of boards that a pipe drains, where it may matter to the boards.

    The level of the drowned pipe is never lower than the true one, and quicker to know; where even
    that leaves the boards free it stands for it.
    """
    drowned = level_upstream_full(flow, tail, pipe)
    if drowned <= lowest_level(-NEVER, boards):
        return drowned
    return level_upstream(flow, tail, pipe)


def outlet_box_level(flow: float, tail: float, machine: Machine) -> float:
    """Level in the outlet box that sends a flow of either sign over its boards and away."""
    boards = machine.outlet_boards
    if flow < 0.0:
        below = max(-NEVER, level_backwards(-flow, tail, machine.outflow))
        return max(-NEVER, board_level_downstream(-flow, below, boards))
    return board_level_upstream(flow, below_boards(flow, tail, machine.outflow, boards), boards)


def bypass_level(flow: float, tail: float, machine: Machine) -> float:
    """Level in the diversion box that sends a flow of either sign over the bypass boards."""
    boards = machine.bypass_boards
    if flow < 0.0:
        below = max(-NEVER, level_backwards(-flow, tail, machine.bypass))
        return max(-NEVER, board_level_downstream(-flow, below, boards))
    return board_level_upstream(flow, below_boards(flow, tail, machine.bypass, boards), boards)


def cell_flow(level: float, outlet_box: float, cell: Cell) -> float:
    """Flow of either sign through a cell between two levels."""
    nearest, farthest = 0.0, FIRST_TRY
    if level <= levels_forward(0.0, outlet_box, cell).diversion:
        nearest, farthest = -LEAST, -FIRST_TRY  # forward it cannot flow
    at_nearest = cell_levels(nearest, outlet_box, cell).diversion - level
    if nearest < 0.0 and (outlet_box <= level or at_nearest <= 0.0):
        return 0.0
    at_farthest = cell_levels(farthest, outlet_box, cell).diversion - level
    while at_farthest * at_nearest > 0.0:
        farthest *= 2.0
        at_farthest = cell_levels(farthest, outlet_box, cell).diversion - level
    search = search_between(nearest, farthest, at_nearest, at_farthest, FLOW_TOLERANCE)
    while search.goes_on:
        search = search_on(search, cell_levels(search.x, outlet_box, cell).diversion - level)
    return search.x


def cells_surplus(level: float, flow: float, outlet_box: float, machine: Machine) -> float:
    """What all cells take between two levels, less `flow`."""
    taken = 0.0
    for cell in machine.cells:
        taken += cell_flow(level, outlet_box, cell)
    return taken - flow


def bed_level(flow: float, tail: float, machine: Machine) -> float:
    """Level at the diversion that a flow of either sign through the bed asks for."""
    outlet_box = outlet_box_level(flow, tail, machine)
    if len(machine.cells) == 1:
        return cell_levels(flow, outlet_box, machine.cells[0]).diversion
    if outlet_box <= -NEVER:
        return -NEVER
    open_cells = 0
    for cell in machine.cells:
        open_cells += 1 if cell.gate > 0.0 else 0
    if open_cells == 0 and flow != 0.0:
        return NEVER if flow > 0.0 else -NEVER
    first, last, share = NEVER, -NEVER, flow / max(1, open_cells)
    for cell in machine.cells:
        still = cell_levels(0.0, outlet_box, cell).diversion
        first, last = min(first, still), max(last, still)
        if cell.gate > 0.0:
            even = cell_levels(share, outlet_box, cell).diversion
            first, last = min(first, even), max(last, even)
    if flow == 0.0:
        return first
    at_first = cells_surplus(first, flow, outlet_box, machine)
    at_last = cells_surplus(last, flow, outlet_box, machine)
    if at_first >= 0.0:
        return first
    search = search_between(first, last, at_first, max(0.0, at_last), LEVEL_TOLERANCE)
    while search.goes_on:
        search = search_on(search, cells_surplus(search.x, flow, outlet_box, machine))
    return search.x


def disagreement(
    bed_flow: float, inflow: float, tail: float, tail_bed: float, machine: Machine
) -> float:
    """Level that the bed asks for less that which the rest asks for over the bypass boards."""
    over = bypass_level(inflow - bed_flow, tail, machine)
    return bed_level(bed_flow, tail_bed, machine) - over


def split_flow(inflow: float, stage: float, stage_bed: float, machine: Machine) -> Split:
    """How an inflow divides between bed and bypass; inflow zero or above.

    `stage` is the ditch at the end of the main, `stage_bed` at the end of the bed's own outlet.
    """
    tail, tail_bed = stage, stage_bed
    if machine.joined:
        tail = level_upstream(inflow, stage, machine.lower)
        tail_bed = tail
    start, crest = bed_level(0.0, tail_bed, machine), bypass_level(0.0, tail, machine)
    alone = bed_level(inflow, tail_bed, machine)
    covered = alone <= crest and tail_bed <= crest
    if covered and tail <= max(alone, machine.bypass_boards.crest):
        return Split(inflow, 0.0, alone)
    level = bypass_level(inflow, tail, machine)
    if covered:
        low, high = inflow, inflow + FIRST_TRY  # the ditch comes back over the bypass boards
        while disagreement(high, inflow, tail, tail_bed, machine) < 0.0:
            high += high
    elif start < level:
        low, high = 0.0, inflow
    elif tail_bed > level and disagreement(-LEAST, inflow, tail, tail_bed, machine) > 0.0:
        low, high = -FIRST_TRY, -LEAST
        while disagreement(low, inflow, tail, tail_bed, machine) > 0.0:
            low *= 2.0
    else:
        return Split(0.0, inflow, level)
    at_low = disagreement(low, inflow, tail, tail_bed, machine)
    at_high = disagreement(high, inflow, tail, tail_bed, machine)
    search = search_between(low, high, at_low, at_high, FLOW_TOLERANCE)
    while search.goes_on:
        search = search_on(search, disagreement(search.x, inflow, tail, tail_bed, machine))
    bed_flow = search.x
    over = inflow - bed_flow
    if over < 0.0:  # what falls back over the boards lands in lower water
        return Split(bed_flow, over, bed_level(bed_flow, tail_bed, machine))
    return Split(bed_flow, over, bypass_level(over, tail, machine))


def bed_flow_at_level(level: float, tail: float, machine: Machine) -> float:
    """Flow of either sign through the bed with the diversion held at a level."""
    nearest, farthest = 0.0, FIRST_TRY
    at_nearest = bed_level(0.0, tail, machine) - level
    if at_nearest >= 0.0:
        nearest, farthest = -LEAST, -FIRST_TRY  # forward it cannot flow
        at_nearest = bed_level(nearest, tail, machine) - level
        if tail <= level or at_nearest <= 0.0:
            return 0.0
    at_farthest = bed_level(farthest, tail, machine) - level
    while at_farthest * at_nearest > 0.0:
        farthest *= 2.0
        at_farthest = bed_level(farthest, tail, machine) - level
    search = search_between(nearest, farthest, at_nearest, at_farthest, FLOW_TOLERANCE)
    while search.goes_on:
        search = search_on(search, bed_level(search.x, tail, machine) - level)
    return search.x


def wet_media(bed_flow: float, level: float, tail: float, machine: Machine) -> float:
    """Media under water in all cells for a flow through the bed and a level at the diversion."""
    outlet_box = outlet_box_level(bed_flow, tail, machine)
    wet = 0.0
    for cell in machine.cells:
        flow = bed_flow
        if len(machine.cells) > 1 and bed_flow != 0.0:
            flow = cell_flow(level, outlet_box, cell)
        levels = cell_levels(flow, outlet_box, cell)
        wet += wet_volume(
            max(0.0, levels.inlet_end - cell.floor),
            max(0.0, levels.outlet_end - cell.floor),
            flow,
            cell.length,
            cell.width,
            cell.side_slope,
            cell.conductivity,
            cell.inertia,
            cell.media_depth,
        )
    return wet
