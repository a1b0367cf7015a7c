# SPDX-License-Identifier: Apache-2.0
"""What must hold for any bed between a main and a ditch, whatever the numbers.

A flow is solved to 1e-10 m3/s, one part in ten million of 1 L/s. A level at a flow is solved to a
hair, and each part is held to that: a hair less level sends less than the flow through it, a hair
more sends more.
"""

import math
import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tilewater.basis.compiled import compiled
from tilewater.hydraulics._board_set import BoardSet, board_flow, lowest_level
from tilewater.hydraulics._pipe_run import PipeRun, level_backwards, level_upstream
from tilewater.hydraulics.media import bed_flow_forchheimer, bed_wet_volume
from tilewater.hydraulics.pipes import pipe_head_loss_full_manning
from tilewater.practices.bed._system import (
    Cell,
    CellLevels,
    Machine,
    Split,
    bed_flow_at_level,
    bed_level,
    bypass_level,
    cell_flow,
    cell_levels,
    outlet_box_level,
    split_flow,
    wet_media,
)
from tilewater.practices.bed.works import NO_BOARDS, OPEN_GATE

G = 9.80665
HAIR = 1e-11  # m, ten times the tolerance of a level over boards and of a depth in the media
NEAR = 3e-10  # m3/s, between two flows that are each solved to 1e-10
STILL = 1e-6  # m, what so little flow is over boards that hardly any water passes
SHALLOW = 1e-4  # of a volume between depths known to 1e-12 m, where the fall is 1e-8 m
JOINED, APART = True, False
FAR_BELOW = -5.0


def pipe_from(rng: random.Random, lower: float, diameters: tuple[float, ...]) -> PipeRun:
    length = rng.choice((0.0, 3.0, 8.0, 30.0))
    rise = rng.choice((0.0, 0.001, 0.004, 0.01)) * length
    n, entrance = rng.uniform(0.009, 0.017), rng.choice((0.2, 0.5, 0.9))
    return PipeRun(lower + rise, lower, rng.choice(diameters), length, n, entrance)


def boards_at(rng: random.Random, crest: float, sill: float) -> BoardSet:
    leak = rng.choice((0.0, 0.0, 5e-4))
    coefficient = 1.84 * rng.uniform(0.25, 1.0)
    return BoardSet(crest, sill, coefficient, 0.0, 0.0, 0.0, 1.5, math.inf, 0.0, leak)


def cell_on(rng: random.Random, floor: float, boards: BoardSet = NO_BOARDS) -> Cell:
    sizes = (0.1, 0.15, 0.2)
    conductivity = 10 ** rng.uniform(-2.3, -0.8)
    return Cell(
        floor,
        rng.uniform(10.0, 40.0),
        rng.uniform(2.0, 12.0),
        rng.choice((0.0, 1.0, 1.5)),
        rng.uniform(0.6, 1.3),
        conductivity,
        rng.choice((0.0, 175.0 / math.sqrt(conductivity))),
        boards,
        rng.choice((OPEN_GATE, OPEN_GATE, rng.uniform(0.003, 0.03))),
        pipe_from(rng, floor + rng.uniform(0.0, 0.2), sizes),
        rng.choice((0.0, 100.0, 600.0)),
        rng.choice((0.0, 100.0, 600.0)),
        pipe_from(rng, floor - rng.uniform(0.0, 0.1), sizes),
    )


def drawn_machine(seed: int, joined: bool = APART, cells: int = 1) -> Machine:
    """A bed as large as those that are built, its floor within a foot of 100 m."""
    rng = random.Random(seed)
    floor = 100.0 + rng.uniform(-0.3, 0.3)
    bypass_crest = floor + rng.uniform(0.8, 1.5)
    sizes = (0.15, 0.2, 0.25)
    own = [NO_BOARDS, *(boards_at(rng, floor + rng.uniform(0.3, 1.2), floor) for _ in range(4))]
    end = floor - rng.uniform(0.2, 0.6)
    return Machine(
        tuple(cell_on(rng, floor, own[k]) for k in range(cells)),
        boards_at(rng, bypass_crest, floor - 0.1),
        boards_at(rng, floor + rng.uniform(0.1, 0.7), floor - 0.1),
        pipe_from(rng, end, sizes),
        pipe_from(rng, end, sizes),
        joined,
        pipe_from(rng, end - 0.05, (0.2, 0.25, 0.3)),
    )


seeds = st.integers(0, 10**6)
flows = st.floats(1e-5, 0.08)
heights = st.floats(-1.5, 2.5)  # of the ditch over the floor
ways = st.sampled_from([JOINED, APART])


def floor_of(machine: Machine) -> float:
    return machine.cells[0].floor


def tail_of(inflow: float, stage: float, machine: Machine) -> float:
    return level_upstream(inflow, stage, machine.lower) if machine.joined else stage


def split(inflow: float, stage: float, machine: Machine) -> Split:
    return split_flow(inflow, stage, stage, machine)


def is_met(value: float, low: float, high: float, rounding: float = 1e-14) -> bool:
    return low - rounding <= value <= high + rounding


def assert_boards_pass(flow: float, upper: float, lower: float, boards: BoardSet) -> None:
    if upper <= lowest_level(lower, boards) + HAIR:
        assert flow <= board_flow(upper + HAIR, lower, boards)
        return
    less, more = (board_flow(upper + hair, lower, boards) for hair in (-HAIR, HAIR))
    assert is_met(flow, less, more)


def assert_pipe_passes(flow: float, upper: float, lower: float, pipe: PipeRun) -> bool:
    """Whether the pipe is full, so that its loss is known from another formula."""
    loss = float(
        pipe_head_loss_full_manning(
            flow, pipe.diameter, length=pipe.length, n=pipe.n, entrance_coefficient=pipe.entrance
        )
    )
    assert upper >= max(lower, pipe.invert_up) - HAIR
    drowned = min(lower - pipe.invert_down, lower - pipe.invert_up) > pipe.diameter
    if drowned:
        assert upper - lower == pytest.approx(loss, abs=HAIR)
    return drowned


def assert_cell_passes(flow: float, levels: CellLevels, cell: Cell) -> None:
    if cell.boards.coefficient > 0.0:
        assert_boards_pass(flow, levels.diversion, levels.behind_boards, cell.boards)
    else:
        assert levels.diversion == levels.behind_boards
    lost = levels.behind_boards - levels.behind_gate
    assert lost == pytest.approx((flow / cell.gate) ** 2 / (2 * G), abs=HAIR)
    assert_pipe_passes(flow, levels.behind_gate, levels.inlet_header, cell.feed)
    header = levels.inlet_header - levels.inlet_end
    assert header == pytest.approx(cell.header_in * flow**2, abs=HAIR)
    up, down = levels.inlet_end - cell.floor, levels.outlet_end - cell.floor
    less, more = (float(media_flow(up + hair, down, cell)) for hair in (-HAIR, HAIR))
    assert is_met(flow, less, more, rounding=1e-11 * flow)
    assert_pipe_passes(flow, levels.outlet_header, levels.outlet_box, cell.drain)


def media_flow(up: float, down: float, cell: Cell) -> float:
    return float(
        bed_flow_forchheimer(
            max(up, down),
            down,
            length=cell.length,
            width=cell.width,
            side_slope=cell.side_slope,
            conductivity=cell.conductivity,
            inertia=cell.inertia,
            media_depth=cell.media_depth,
        )
    )


@pytest.mark.law(of=(split_flow,))
@given(seed=seeds, inflow=st.one_of(st.just(0.0), flows), height=heights, joined=ways)
def test_no_water_is_lost_and_none_runs_back_from_one_ditch(seed, inflow, height, joined):
    machine = drawn_machine(seed, joined)
    found = split(inflow, floor_of(machine) + height, machine)
    assert abs(found.bed_flow + found.bypass_flow - inflow) <= math.ulp(inflow)
    assert min(found.bed_flow, found.bypass_flow) >= 0.0
    assert found.level >= floor_of(machine) + height


@pytest.mark.law(of=(split_flow, cell_levels, outlet_box_level))
@settings(max_examples=300)
@given(seed=seeds, inflow=flows, height=heights, joined=ways)
def test_every_part_sends_the_solved_flow_from_the_level_above_it_to_that_below(
    seed, inflow, height, joined
):
    machine = drawn_machine(seed, joined)
    found = split(inflow, floor_of(machine) + height, machine)
    tail = tail_of(inflow, floor_of(machine) + height, machine)
    below = level_upstream(found.bypass_flow, tail, machine.bypass)
    assert_pipe_passes(found.bypass_flow, below, tail, machine.bypass)
    assert_boards_pass(found.bypass_flow, found.level, below, machine.bypass_boards)
    flow, cell = found.bed_flow, machine.cells[0]
    if flow == 0.0:
        assert found.level <= bed_level(NEAR, tail, machine)
        return
    below = level_upstream(flow, tail, machine.outflow)
    assert_pipe_passes(flow, below, tail, machine.outflow)
    levels = cell_levels(flow, outlet_box_level(flow, tail, machine), cell)
    assert_boards_pass(flow, levels.outlet_box, below, machine.outlet_boards)
    assert_cell_passes(flow, levels, cell)
    # with a little less through the bed, its level would lie under that of the bypass; and so round
    over = found.bypass_flow
    less, more = (bed_level(max(0.0, flow + q), tail, machine) for q in (-NEAR, NEAR))
    if over == 0.0:
        assert less <= found.level <= more
        assert found.level <= bypass_level(0.0, tail, machine)
        return
    assert less <= bypass_level(over + NEAR, tail, machine)
    assert more >= bypass_level(max(0.0, over - NEAR), tail, machine)


@pytest.mark.law(of=(split_flow, cell_flow))
@settings(max_examples=8)
@given(seed=seeds, inflow=st.floats(1e-3, 0.05), height=heights)
def test_cells_side_by_side_take_what_each_lets_through_between_the_same_two_levels(
    seed, inflow, height
):
    machine = drawn_machine(seed, APART, cells=2)
    found = split(inflow, floor_of(machine) + height, machine)
    assert found.bed_flow + found.bypass_flow == pytest.approx(inflow, abs=1e-16)
    if found.bed_flow == 0.0:
        return
    box = outlet_box_level(found.bed_flow, floor_of(machine) + height, machine)
    taken = [cell_flow(found.level, box, cell) for cell in machine.cells]
    for flow, cell in zip(taken, machine.cells, strict=True):
        levels = cell_levels(flow, box, cell)
        if flow > 0.0:
            assert_cell_passes(flow, levels, cell)
            assert levels.diversion == pytest.approx(found.level, abs=1e-7)
    steepest = max(1.0, *(slope_of(found.level, box, cell) for cell in machine.cells))
    assert sum(taken) == pytest.approx(found.bed_flow, abs=STILL * steepest)


def slope_of(level: float, box: float, cell: Cell) -> float:
    """Flow that a millimetre more would add, per metre."""
    return (cell_flow(level + 1e-3, box, cell) - cell_flow(level, box, cell)) / 1e-3


def sweep(machine: Machine, stage: float, inflows: list[float]) -> list[Split]:
    return [split(inflow, stage, machine) for inflow in inflows]


def falls(found: list[Split]) -> list[tuple[Split, Split]]:
    """Pairs of which the second has less in the bed, less over the bypass, or a lower level."""
    return [
        (one, two)
        for one, two in pairwise(found)
        if two.bed_flow < one.bed_flow - NEAR
        or two.bypass_flow < one.bypass_flow - NEAR
        or two.level < one.level - STILL
    ]


@pytest.mark.law(of=(split_flow,))
@settings(max_examples=12)
@given(seed=seeds, height=heights)
def test_nothing_falls_as_the_inflow_grows(seed, height):
    """Bed and bypass each never fall, so neither rises faster than the inflow: no jump."""
    machine = drawn_machine(seed)
    inflows = [0.0, *(10 ** (-5 + 4 * k / 100) for k in range(101))]
    assert [] == falls(sweep(machine, floor_of(machine) + height, inflows))


@pytest.mark.law(of=(split_flow, bed_flow_at_level))
@settings(max_examples=20)
@given(seed=seeds, height=st.sampled_from([FAR_BELOW, 0.3]), at=st.sampled_from(["crest", "media"]))
def test_nothing_jumps_where_the_bypass_begins_or_the_water_leaves_the_media(seed, height, at):
    machine = drawn_machine(seed)
    floor, cell = floor_of(machine), machine.cells[0]
    level = machine.bypass_boards.crest if at == "crest" else floor + cell.media_depth
    there = bed_flow_at_level(level, floor + height, machine)
    if there == 0.0:
        return
    for step in (1e-6, 1e-5):
        inflows = [there * (1 + k * step) for k in range(-20, 21)]
        found = sweep(machine, floor + height, inflows)
        assert [] == falls(found)
    least, most = (split(there + q, floor + height, machine) for q in (-1e-9, 1e-9))
    assert most.level - least.level < 1e-4  # 2e-9 m3/s in the tightest media, or over a crest
    if at == "crest" and machine.bypass_boards.leak == 0.0:
        assert found[0].bypass_flow == 0.0
        assert found[-1].bypass_flow > 0.0


@pytest.mark.law(of=(split_flow,))
@settings(max_examples=12)
@given(seed=seeds, height=heights)
def test_below_a_junction_the_level_and_the_bypass_never_fall_as_the_inflow_grows(seed, height):
    """The bed's share may fall, but only where the water at the junction reaches its boards."""
    machine = drawn_machine(seed, JOINED)
    stage = floor_of(machine) + height
    inflows = [0.0, *(10 ** (-5 + 4 * k / 100) for k in range(101))]
    found = sweep(machine, stage, inflows)
    for inflow, one, two in zip(inflows[1:], found, found[1:], strict=False):
        assert two.bypass_flow >= one.bypass_flow - NEAR
        assert two.level >= one.level - STILL
        if two.bed_flow < one.bed_flow - NEAR:
            tail = tail_of(inflow, stage, machine)
            below = level_upstream(two.bed_flow, tail, machine.outflow)
            assert below > lowest_level(-math.inf, machine.outlet_boards)


@pytest.mark.law(of=(split_flow,))
@settings(max_examples=12)
@given(seed=seeds, inflow=st.one_of(st.just(0.0), flows), joined=ways)
def test_the_level_never_falls_as_the_ditch_rises(seed, inflow, joined):
    machine = drawn_machine(seed, joined)
    crests = machine.outlet_boards.crest, machine.bypass_boards.crest
    coarse = [floor_of(machine) - 1.0 + 0.05 * k for k in range(80)]
    fine = [crest + 1e-4 * k for crest in crests for k in range(-12, 13)]
    for stages in (coarse, fine[:25], fine[25:]):
        found = [split(inflow, stage, machine) for stage in stages]
        for one, two in pairwise(found):
            assert two.level >= one.level - STILL
    for crest in crests:
        least, most = (split(inflow, crest + z, machine).level for z in (-1e-7, 1e-7))
        assert most - least < 1e-5


@pytest.mark.law(of=(split_flow,))
@settings(max_examples=12)
@given(seed=seeds, inflow=st.one_of(st.just(0.0), flows), height=st.floats(-1.5, 0.5))
def test_a_higher_ditch_at_the_bed_s_own_outlet_sends_less_through_until_it_sends_it_back(
    seed, inflow, height
):
    machine = drawn_machine(seed)
    stage = floor_of(machine) + height
    closed = machine._replace(cells=(machine.cells[0]._replace(gate=0.0),))
    highest = max(machine.bypass_boards.crest, split(inflow, stage, closed).level) + 0.3
    found = [split_flow(inflow, stage, highest - 0.08 * k, machine) for k in range(30, -1, -1)]
    for one, two in pairwise(found):
        assert two.bed_flow <= one.bed_flow + NEAR
        assert two.level >= one.level - STILL
        assert abs(two.bed_flow + two.bypass_flow - inflow) <= math.ulp(two.bypass_flow)
    assert found[-1].bed_flow < 0.0


def turned(pipe: PipeRun) -> PipeRun:
    return pipe._replace(invert_up=pipe.invert_down, invert_down=pipe.invert_up)


@pytest.mark.law(of=(split_flow, cell_levels, outlet_box_level))
@settings(max_examples=100)
@given(seed=seeds, inflow=st.one_of(st.just(0.0), flows), more=st.floats(0.01, 1.0))
def test_every_part_sends_water_that_comes_back_down_the_other_way(seed, inflow, more):
    """The same parts, the pipes turned round, from the ditch at the bed to the diversion."""
    machine = drawn_machine(seed)
    cell, stage = machine.cells[0], floor_of(machine) + FAR_BELOW
    closed = machine._replace(cells=(cell._replace(gate=0.0),))
    stage_bed = max(machine.bypass_boards.crest, split(inflow, stage, closed).level) + more
    found = split_flow(inflow, stage, stage_bed, machine)
    back = -found.bed_flow
    box = outlet_box_level(-back, stage_bed, machine)
    levels = cell_levels(-back, box, cell)
    assert back > NEAR
    behind = level_backwards(back, stage_bed, machine.outflow)
    assert_boards_pass(back, behind, box, machine.outlet_boards)
    for upper, lower, pipe in (
        (stage_bed, behind, machine.outflow),
        (levels.outlet_box, levels.outlet_header, cell.drain),
        (levels.inlet_header, levels.behind_gate, cell.feed),
    ):
        assert level_upstream(back, lower, turned(pipe)) == pytest.approx(upper, abs=1e-9)
    lost = levels.outlet_header - levels.outlet_end
    assert lost == pytest.approx(cell.header_out * back**2, abs=HAIR)
    up, down = levels.outlet_end - cell.floor, levels.inlet_end - cell.floor
    less, most = (media_flow(up + hair, down, cell) for hair in (-HAIR, HAIR))
    assert is_met(back, less, most, rounding=1e-11 * back)
    below = level_upstream(found.bypass_flow, stage, machine.bypass)
    assert_boards_pass(found.bypass_flow, found.level, below, machine.bypass_boards)
    most, less = (bed_level(found.bed_flow + q, stage_bed, machine) for q in (NEAR, -NEAR))
    assert less <= bypass_level(found.bypass_flow + NEAR, stage, machine)
    assert most >= bypass_level(found.bypass_flow - NEAR, stage, machine)


@pytest.mark.law(of=(split_flow,))
@settings(max_examples=20)
@given(seed=seeds, inflow=flows, height=heights, joined=ways)
def test_the_bed_takes_less_as_its_media_clog_and_the_water_stands_higher(
    seed, inflow, height, joined
):
    machine = drawn_machine(seed, joined)
    stage, cell = floor_of(machine) + height, machine.cells[0]
    found = [
        split(inflow, stage, machine._replace(cells=(cell._replace(conductivity=k),)))
        for k in (cell.conductivity * 0.8**step for step in range(30))
    ]
    for one, two in pairwise(found):
        assert two.bed_flow <= one.bed_flow + NEAR
        assert two.level >= one.level - STILL


@pytest.mark.law(of=(bed_flow_at_level, bed_level))
@settings(max_examples=30)
@given(seed=seeds, height=heights)
def test_flow_through_the_bed_rises_with_the_level_held_above_it_from_back_to_forth(seed, height):
    machine = drawn_machine(seed)
    floor = floor_of(machine)
    tail = floor + height
    levels = [floor - 0.3 + 0.1 * k for k in range(25)]
    found = [bed_flow_at_level(level, tail, machine) for level in levels]
    for (level, one), two in zip(zip(levels, found, strict=True), found[1:], strict=False):
        assert two >= one - NEAR
        assert one * (level - tail) >= 0.0  # water runs down
        if one > 0.0:
            less, more = (bed_level(max(0.0, one + q), tail, machine) for q in (-NEAR, NEAR))
            assert is_met(level, less, more, HAIR)


@pytest.mark.law(of=(wet_media, bed_wet_volume))
@settings(max_examples=60)
@given(seed=seeds, inflow=flows, height=heights)
def test_wet_media_are_those_under_the_surface_and_no_more_than_all(seed, inflow, height):
    machine = drawn_machine(seed)
    tail, cell = floor_of(machine) + height, machine.cells[0]
    found = split(inflow, tail, machine)
    wet = wet_media(found.bed_flow, found.level, tail, machine)
    all_media = cell.length * cell.media_depth * (cell.width + cell.side_slope * cell.media_depth)
    assert 0.0 <= wet <= all_media * (1 + SHALLOW)
    if found.bed_flow > 1e-6:
        box = outlet_box_level(found.bed_flow, tail, machine)
        levels = cell_levels(found.bed_flow, box, cell)
        between = bed_wet_volume(
            levels.inlet_end - cell.floor,
            levels.outlet_end - cell.floor,
            length=cell.length,
            width=cell.width,
            side_slope=cell.side_slope,
            conductivity=cell.conductivity,
            inertia=cell.inertia,
            media_depth=cell.media_depth,
        )
        assert wet == pytest.approx(float(between), rel=1e-5)


@pytest.mark.law(of=(split_flow, compiled))
def test_the_compiled_twin_gives_the_same_numbers_to_the_last_bit():
    pytest.importorskip("numba")
    twin = compiled(split_flow)
    rng = random.Random(605)
    for _ in range(300):
        machine = drawn_machine(rng.randrange(10**6), rng.choice((JOINED, APART)))
        inflow = rng.choice((0.0, 10 ** rng.uniform(-5, -1)))
        stage = floor_of(machine) + rng.uniform(-1.5, 2.0)
        stage_bed = stage + rng.choice((0.0, 0.0, -0.7, 0.7))
        assert split_flow(inflow, stage, stage_bed, machine) == twin(
            inflow, stage, stage_bed, machine
        )


@pytest.mark.slow
@pytest.mark.law(of=(split_flow, compiled))
def test_the_compiled_twin_of_two_cells_gives_the_same_numbers_to_the_last_bit():
    pytest.importorskip("numba")
    twin = compiled(split_flow)
    rng = random.Random(604)
    for _ in range(40):
        machine = drawn_machine(rng.randrange(10**6), rng.choice((JOINED, APART)), cells=2)
        inflow, stage = 10 ** rng.uniform(-5, -1), floor_of(machine) + rng.uniform(-1.5, 2.0)
        assert split(inflow, stage, machine) == twin(inflow, stage, stage, machine)
