# SPDX-License-Identifier: Apache-2.0
"""Pipes and boards drawn at random, with flows that bring out every way in which they run."""

import random

from tests.oracles.boards_and_bed import Boards
from tests.oracles.pipe_profile import Pipe

DIAMETERS = (0.1, 0.15, 0.2, 0.3, 0.45, 0.6)
LENGTHS = (2.0, 6.0, 20.0, 80.0, 300.0)
SLOPES = (-0.002, 0.0, 1e-4, 5e-4, 1e-3, 3e-3, 1e-2, 4e-2)


def random_pipe(rng: random.Random) -> tuple[Pipe, float, float]:
    """A pipe, with a flow and a lower level that make it run part-full, full or both."""
    diameter, length = rng.choice(DIAMETERS), rng.choice(LENGTHS)
    slope = rng.choice(SLOPES) * rng.uniform(0.5, 1.5)
    entrance = rng.choice((0.0, 0.2, 0.5, 0.9))
    pipe = Pipe(10.0 + slope * length, 10.0, diameter, length, rng.uniform(0.009, 0.02), entrance)
    flow = pipe.conveyance_full * max(abs(slope), 5e-4) ** 0.5 * 10 ** rng.uniform(-2.0, 0.5)
    lower = 10.0 + diameter * rng.choice((-0.5, rng.uniform(0.0, 1.0), rng.uniform(1.0, 3.0)))
    return pipe, flow, lower


def random_boards(rng: random.Random) -> tuple[Boards, float, float]:
    """Boards of any kind, with a level above and one below them."""
    sill = rng.uniform(9.0, 9.9)
    is_notch = rng.random() < 0.5
    boards = Boards(
        crest=sill + rng.choice((0.0, rng.uniform(0.05, 1.0))),
        sill=sill,
        coefficient=rng.uniform(0.1, 3.0),
        growth=0.0 if is_notch else rng.choice((0.0, rng.uniform(0.0, 0.5))),
        growth_ends=rng.uniform(0.05, 0.5),
        head_added=rng.choice((0.0, rng.uniform(0.0, 0.003))),
        exponent=2.5 if is_notch else 1.5,
        top=rng.uniform(0.05, 0.3) if is_notch else float("inf"),
        wings=rng.uniform(0.5, 2.0) if is_notch else 0.0,
        leak=rng.choice((0.0, rng.uniform(0.0, 0.004))),
    )
    upper = sill + rng.uniform(-0.05, 1.8)
    return boards, upper, upper - rng.choice((0.01, rng.uniform(0.0, 0.3), 2.0))
