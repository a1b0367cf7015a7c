# SPDX-License-Identifier: Apache-2.0
"""Diversion, bed, pipes, boards and ditch in one balance, against an independent solution of all.

Each system is drawn at random; the limiting cases are the same draws with one thing changed.
"""

import math
import random
from collections.abc import Callable
from dataclasses import astuple, replace

import pytest

from tests.oracles.boards_and_bed import Boards, Gate
from tests.oracles.pipe_profile import Pipe
from tests.oracles.random_machines import MAIN_FLOOR, Cell, Drawn, random_machine
from tests.oracles.whole_system import Solution, solve
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.practices.bed import _system
from tilewater.practices.bed._system import (
    bed_flow_at_level,
    bed_level,
    cell_levels,
    outlet_box_level,
    split_flow,
    wet_media,
)
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.system import (
    NO_BOARDS,
    OPEN_GATE,
    BedPath,
    bed_flow_at_diversion,
    diversion_level_for_bed,
    levels_along_bed,
    split_in_balance,
    wet_media_volume,
)

SEED = 20262
# The program walks a pipe in a limited number of steps, and boxes are read to the millimetre.
LEVEL = 0.003
SHARE = 0.005
"""Of the inflow."""
STILL = 1e-9
"""Flow that no one would find. [m3/s]"""


def run(pipe: Pipe) -> PipeRun:
    return PipeRun(*astuple(pipe))


def gate_of(cell: Cell) -> float:
    return cell.gate.area * cell.gate.discharge_coefficient if cell.gate else OPEN_GATE


def as_cell(cell: Cell) -> _system.Cell:
    media = cell.media
    return _system.Cell(
        media.floor,
        media.length,
        media.width,
        media.side_slope,
        media.depth,
        media.conductivity,
        media.inertia,
        BoardSet(*astuple(cell.boards)) if cell.boards else NO_BOARDS,
        gate_of(cell),
        run(cell.feed),
        cell.header_in.loss,
        cell.header_out.loss,
        run(cell.drain),
    )


def as_machine(drawn: Drawn) -> _system.Machine:
    """The same system in the program's own words."""
    return _system.Machine(
        tuple(as_cell(cell) for cell in drawn.cells),
        BoardSet(*astuple(drawn.bypass_boards)),
        BoardSet(*astuple(drawn.outlet_boards)),
        run(drawn.bypass),
        run(drawn.outflow),
        drawn.lower is not None,
        run(drawn.lower or drawn.bypass),
    )


def as_path(drawn: Drawn) -> tuple[BedPath, BedShape, Media]:
    """The first cell alone, as the public functions take it."""
    cell = drawn.cells[0]
    bed = cell.media
    path = BedPath(
        bed.floor,
        run(cell.feed),
        run(cell.drain),
        run(drawn.outflow),
        cell.header_in.loss,
        cell.header_out.loss,
        BoardSet(*astuple(drawn.outlet_boards)),
        gate_of(cell),
    )
    shape = BedShape(bed.length, bed.width, side_slope=bed.side_slope, media_depth=bed.depth)
    return path, shape, Media(bed.conductivity, bed.inertia)


def agree(drawn: Drawn) -> Solution:
    """Hold the program to the independent solution, and return that."""
    expected = solve(drawn.inflow, drawn.machine())
    found = split_flow(drawn.inflow, drawn.stage, drawn.stage_bed, as_machine(drawn))
    close = SHARE * drawn.inflow + STILL

    assert expected.beds[0] == pytest.approx(found.bed_flow, abs=close), drawn
    assert expected.bypass == pytest.approx(found.bypass_flow, abs=close), drawn
    assert expected.level == pytest.approx(found.level, abs=LEVEL), drawn
    return expected


def draws(seed: int, count: int, cells: int = 1) -> list[Drawn]:
    rng = random.Random(SEED + seed)
    return [random_machine(rng, cells) for _ in range(count)]


def changed(drawn: Drawn, **changes: object) -> Drawn:
    """The same system with something of its first and only cell changed."""
    return replace(drawn, cells=(replace(drawn.cells[0], **changes),))  # type: ignore[arg-type]


def with_ditch(drawn: Drawn, above_crest: float) -> Drawn:
    stage = drawn.bypass_boards.crest + above_crest
    return replace(drawn, stage=stage, stage_bed=stage)


def narrow(drawn: Drawn, share: float) -> Drawn:
    """All pipes so narrow that they govern."""

    def less(pipe: Pipe) -> Pipe:
        return replace(pipe, diameter=share * pipe.diameter)

    cell = drawn.cells[0]
    return replace(
        changed(drawn, feed=less(cell.feed), drain=less(cell.drain)),
        bypass=less(drawn.bypass),
        outflow=less(drawn.outflow),
        lower=less(drawn.lower) if drawn.lower else None,
    )


def with_high_pipes(drawn: Drawn, stage: float) -> Drawn:
    """Pipes that run part-full in a ditch which stands at the boards."""

    def raised(pipe: Pipe) -> Pipe:
        low = stage - 0.6 * pipe.diameter
        return replace(pipe, invert_down=low, invert_up=low + 0.001 * pipe.length)

    high = {"bypass": raised(drawn.bypass), "outflow": raised(drawn.outflow)}
    return replace(drawn, stage=stage, stage_bed=stage, lower=None, **high)


def shallow(drawn: Drawn) -> Drawn:
    return changed(drawn, media=replace(drawn.cells[0].media, depth=0.3))


def throttled(drawn: Drawn) -> Drawn:
    feed = replace(drawn.cells[0].feed, diameter=0.06)
    return changed(drawn, feed=feed, gate=Gate(0.0006, 0.6))


def boards_out(drawn: Drawn) -> Drawn:
    return replace(drawn, bypass_boards=replace(drawn.bypass_boards, crest=MAIN_FLOOR))


def outlet_out(drawn: Drawn) -> Drawn:
    boards = drawn.outlet_boards
    return replace(drawn, outlet_boards=replace(boards, crest=boards.sill))


def with_own_boards(drawn: Drawn) -> Drawn:
    floor = drawn.cells[0].media.floor
    return changed(drawn, boards=Boards(0.3 * floor + 0.7 * drawn.bypass_boards.crest, floor, 0.8))


LIMITS: dict[str, Callable[[Drawn], Drawn]] = {
    "boards of the diversion out": boards_out,
    "boards of the outlet out": outlet_out,
    "ditch just below the crest": lambda drawn: with_ditch(drawn, -0.02),
    "ditch at the crest": lambda drawn: with_ditch(drawn, 0.0),
    "ditch over the crest": lambda drawn: with_ditch(drawn, 0.3),
    "part-full pipes at the boards": lambda drawn: with_high_pipes(
        drawn, drawn.bypass_boards.crest - 0.1
    ),
    "narrow pipes": lambda drawn: narrow(drawn, 0.5),
    "feed and gate that throttle": throttled,
    "media drowned": shallow,
    "boards at the cell": with_own_boards,
    "storm": lambda drawn: replace(drawn, inflow=8.0 * drawn.inflow + 0.1),
    "trickle": lambda drawn: replace(drawn, inflow=2e-6),
}


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow, split_in_balance))
def test_systems_drawn_at_random() -> None:
    found = [agree(drawn) for drawn in draws(0, 50)]

    assert any(one.beds[0] > 0.0 and one.bypass > 0.0 for one in found)
    assert any(one.beds[0] == 0.0 for one in found)
    assert any(one.bypass == 0.0 for one in found)


@pytest.mark.slow
@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow, split_in_balance))
def test_many_systems_drawn_at_random() -> None:
    found = [agree(drawn) for drawn in draws(1, 800)]

    assert 800 == len(found)


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow,))
@pytest.mark.parametrize("limit", LIMITS)
def test_limiting_cases(limit: str) -> None:
    for drawn in draws(2, 3):
        case = LIMITS[limit](drawn)

        found = agree(case)

        assert case.inflow == pytest.approx(found.bypass + found.beds[0], abs=STILL)


@pytest.mark.slow
@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow,))
@pytest.mark.parametrize("limit", LIMITS)
def test_limiting_cases_of_many_systems(limit: str) -> None:
    found = [agree(LIMITS[limit](drawn)) for drawn in draws(3, 80)]

    assert 80 == len(found)


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow,))
def test_closed_gate_sends_all_water_over_the_boards() -> None:
    for drawn in draws(4, 5):
        found = agree(changed(drawn, gate=Gate(0.0, 0.6)))

        assert 0.0 == found.beds[0]
        assert drawn.inflow == found.bypass


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow,))
def test_without_inflow_the_water_stands_at_the_lowest_way_out() -> None:
    for drawn in draws(5, 20):
        found = agree(replace(drawn, inflow=0.0))

        assert 0.0 == found.beds[0] == found.bypass


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow,))
def test_bed_and_bypass_meet_before_the_ditch() -> None:
    joined = [drawn for drawn in draws(6, 25) if drawn.lower is not None]

    for drawn in joined:
        found = agree(drawn)

        assert found.junction >= drawn.stage
    assert len(joined) > 4


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow, bed_level))
def test_two_unequal_cells_between_the_same_boxes() -> None:
    found = [agree(drawn) for drawn in draws(7, 2, cells=2)]

    assert any(one.beds[0] > 0.0 for one in found)


@pytest.mark.slow
@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow, bed_level))
def test_many_systems_of_two_cells() -> None:
    found = [agree(drawn) for drawn in draws(8, 60, cells=2)]

    assert 60 == len(found)


@pytest.mark.slow
@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow, bed_level))
def test_systems_of_three_cells() -> None:
    found = [agree(drawn) for drawn in draws(9, 3, cells=3)]

    assert 3 == len(found)


def backing_up(seed: int, count: int) -> list[Drawn]:
    """Systems whose bed ends in higher water than the diversion's, all its pipes drowned."""
    found = []
    for drawn in draws(seed, count):
        low = drawn.bypass_boards.crest - 0.9
        cell = drawn.cells[0]
        drowned = {
            name: replace(pipe, invert_up=low, invert_down=low - 0.01)
            for name, pipe in (("feed", cell.feed), ("drain", cell.drain))
        }
        high = changed(drawn, **drowned)
        outflow = replace(drawn.outflow, invert_up=low, invert_down=low)
        crest = drawn.bypass_boards.crest
        tails = {"stage": crest - 1.5, "stage_bed": crest + 0.4, "lower": None}
        found.append(replace(high, outflow=outflow, **tails))
    return found


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow, bed_flow_at_level))
def test_water_comes_back_through_the_bed() -> None:
    for drawn in backing_up(10, 3):
        found = agree(replace(drawn, inflow=0.1 * drawn.inflow))

        assert found.beds[0] < 0.0


@pytest.mark.slow
@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow, bed_flow_at_level))
def test_water_comes_back_through_many_beds() -> None:
    found = [agree(drawn) for drawn in backing_up(11, 20)]

    assert sum(one.beds[0] < 0.0 for one in found) > 10


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow,))
def test_water_does_not_come_back_over_a_pipe_that_lies_higher() -> None:
    """The drain's upper end stands above the water at either end of it."""
    drawn = backing_up(12, 1)[0]
    crest, drain = drawn.bypass_boards.crest, drawn.cells[0].drain
    high = changed(drawn, drain=replace(drain, invert_up=crest + 0.5))

    assert 0.0 == agree(high).beds[0]


@pytest.mark.oracle("scipy, whole system by bracketing", of=(split_flow,))
def test_water_comes_back_over_the_boards_to_a_bed_that_ends_lower() -> None:
    """The main's ditch stands over the boards; the bed has a lower ditch of its own."""
    drawn = replace(draws(13, 1)[0], lower=None, inflow=0.0005)
    crest = drawn.bypass_boards.crest
    low = replace(drawn, stage=crest + 0.2, stage_bed=crest - 1.5)

    assert agree(low).bypass < 0.0


@pytest.mark.oracle(
    "scipy, whole system by bracketing",
    of=(split_in_balance, bed_flow_at_diversion, diversion_level_for_bed),
)
def test_public_functions_give_the_same() -> None:
    for drawn in draws(14, 12):
        path, shape, media = as_path(drawn)
        lower = run(drawn.lower) if drawn.lower else None
        boards = BoardSet(*astuple(drawn.bypass_boards))
        expected = solve(drawn.inflow, drawn.machine())
        bed, tail = expected.beds[0], expected.junction

        split = split_in_balance(
            drawn.inflow, drawn.stage, path, shape, media, run(drawn.bypass), boards, lower
        )

        close = SHARE * drawn.inflow
        assert bed == pytest.approx(split.bed_flow, abs=close)
        assert expected.level == pytest.approx(split.level, abs=LEVEL)
        at_level = bed_flow_at_diversion(expected.level, tail, path, shape, media)
        assert bed == pytest.approx(at_level, abs=close)
        if bed > 0.0:
            level = diversion_level_for_bed(bed, tail, path, shape, media)
            assert expected.level == pytest.approx(level, abs=LEVEL)


@pytest.mark.oracle(
    "scipy, whole system by bracketing",
    of=(levels_along_bed, wet_media_volume, cell_levels, outlet_box_level, wet_media),
)
def test_levels_along_the_bed_and_the_media_they_wet() -> None:
    """Where the header's water stands below the floor, the bed ends at its floor."""
    for drawn in draws(15, 10):
        path, shape, media = as_path(drawn)
        bed = replace(drawn.cells[0].media)
        tail = solve(drawn.inflow, drawn.machine()).junction
        parts = drawn.machine().beds[0]
        expected = parts.levels(0.003, tail)
        if drawn.cells[0].gate is None:
            expected.insert(0, expected[0])

        found = levels_along_bed(0.003, tail, path, shape, media)

        heads = [found.diversion, found.behind_gate, found.inlet_header, found.inlet_end]
        ends = [found.outlet_end, found.outlet_header, found.outlet_box]
        expected[4] = max(expected[4], bed.floor)
        assert expected[:7] == pytest.approx([*heads, *ends], abs=LEVEL)
        volume = wet_media_volume(0.003, tail, path, shape, media)
        assert bed.wet_volume(0.003, expected[4]) == pytest.approx(volume, rel=SHARE)
        assert not math.isclose(0.0, volume)
