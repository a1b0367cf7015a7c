# SPDX-License-Identifier: Apache-2.0
"""Levels above pipes and flows over boards, against integration and quadrature by scipy."""

import random
from dataclasses import astuple
from itertools import pairwise

import pytest

from tests.oracles.boards_and_bed import Boards
from tests.oracles.pipe_profile import Pipe
from tests.oracles.random_parts import random_boards, random_pipe
from tilewater.hydraulics._board_set import BoardSet, board_flow, board_level_upstream
from tilewater.hydraulics._pipe_run import PipeRun, level_upstream

SEED = 20261
# The program walks a pipe in a limited number of steps; a survey does not know the invert better.
STEPS = 0.002
STEPS_SHARE = 0.005
ROUNDING = 1e-9
# Half a tenth of a millimetre, where the profile changes its kind between two flows.
KINKS = 5e-5


def level_missed(pipe: Pipe, flow: float, lower: float) -> float:
    """How far the program's level lies outside what its steps may miss."""
    expected = pipe.upper(flow, lower)
    rise = expected - pipe.still(lower)
    found = level_upstream(flow, lower, PipeRun(*astuple(pipe)))
    return abs(found - expected) - STEPS - STEPS_SHARE * max(rise, 0.0)


@pytest.mark.oracle("scipy, initial value problem", of=(level_upstream,))
def test_level_above_pipes_drawn_at_random() -> None:
    rng = random.Random(SEED)

    assert max(level_missed(*random_pipe(rng)) for _ in range(200)) < 0.0


@pytest.mark.slow
@pytest.mark.oracle("scipy, initial value problem", of=(level_upstream,))
def test_level_above_many_pipes_drawn_at_random() -> None:
    rng = random.Random(SEED + 1)

    assert max(level_missed(*random_pipe(rng)) for _ in range(3000)) < 0.0


@pytest.mark.oracle("scipy, initial value problem", of=(level_upstream,))
def test_level_above_a_pipe_that_is_full_down_to_its_free_end() -> None:
    """Critical depth is so near the crown that the pipe runs under pressure from there up."""
    pipe = Pipe(10.3, 10.0, 0.3, 60.0, 0.012, 0.5)

    assert level_missed(pipe, 0.77, 9.0) < 0.0


@pytest.mark.oracle("scipy, initial value problem", of=(level_upstream,))
def test_level_above_a_still_pipe_is_its_highest_point() -> None:
    rng = random.Random(SEED + 2)
    for _ in range(50):
        pipe, _, lower = random_pipe(rng)

        assert pipe.still(lower) == level_upstream(0.0, lower, PipeRun(*astuple(pipe)))


@pytest.mark.law(of=(level_upstream,))
def test_more_flow_or_a_higher_pool_never_lowers_the_level_above() -> None:
    rng = random.Random(SEED + 3)
    for _ in range(40):
        pipe, flow, lower = random_pipe(rng)
        run = PipeRun(*astuple(pipe))
        by_flow = [level_upstream(0.02 * k * flow, lower, run) for k in range(150)]
        by_pool = [level_upstream(flow, lower + 0.01 * k * run.diameter, run) for k in range(150)]

        for levels in (by_flow, by_pool):
            assert max(low - high for low, high in pairwise(levels)) < KINKS


def as_set(boards: Boards) -> BoardSet:
    return BoardSet(*astuple(boards))


@pytest.mark.oracle("scipy, quadrature", of=(board_flow, BoardSet))
def test_flow_over_boards_drawn_at_random() -> None:
    rng = random.Random(SEED + 4)
    for _ in range(300):
        boards, upper, lower = random_boards(rng)

        flow = board_flow(upper, lower, as_set(boards))

        assert boards.flow(upper, lower) == pytest.approx(flow, rel=ROUNDING, abs=ROUNDING)


@pytest.mark.oracle("scipy, bracketed root", of=(board_level_upstream, BoardSet))
def test_level_above_boards_drawn_at_random() -> None:
    rng = random.Random(SEED + 5)
    for _ in range(300):
        boards, upper, lower = random_boards(rng)
        flow = boards.flow(upper, lower)

        level = board_level_upstream(flow, lower, as_set(boards))

        assert boards.upper(flow, lower) == pytest.approx(level, abs=ROUNDING)
