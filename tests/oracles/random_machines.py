# SPDX-License-Identifier: Apache-2.0
"""Whole systems drawn at random, about as large as those that are built."""

import math
import random
from dataclasses import dataclass

from tests.oracles.boards_and_bed import Boards, Gate, Header, Media
from tests.oracles.pipe_profile import G, Pipe
from tests.oracles.whole_system import Machine, Parallel, Part, Path

VISCOSITY = 1.3e-6
MAIN_FLOOR = 10.0
"""Floor of the diversion box. [m]"""


@dataclass(frozen=True)
class Cell:
    """One cell, from the diversion box to the outlet box."""

    feed: Pipe
    header_in: Header
    media: Media
    header_out: Header
    drain: Pipe
    gate: Gate | None = None
    boards: Boards | None = None

    def way(self) -> Path:
        parts: list[Part] = [self.boards] if self.boards else []
        parts += [self.gate] if self.gate else []
        return Path([*parts, self.feed, self.header_in, self.media, self.header_out, self.drain])


@dataclass(frozen=True)
class Drawn:
    """A system with the water that comes to it and stands below it."""

    inflow: float
    stage: float
    stage_bed: float
    cells: tuple[Cell, ...]
    bypass_boards: Boards
    bypass: Pipe
    outlet_boards: Boards
    outflow: Pipe
    lower: Pipe | None

    def machine(self) -> Machine:
        joined = self.lower is not None
        ways = [cell.way() for cell in self.cells]
        cells = Parallel(ways) if len(ways) > 1 else None
        parts = [cells] if cells else ways[0].parts
        bed = Path([*parts, self.outlet_boards, self.outflow], None if joined else self.stage_bed)
        over = Path([self.bypass_boards, self.bypass], None if joined else self.stage)
        return Machine(over, [bed], self.stage, [self.lower] if self.lower else [])


def pipe_down_to(rng: random.Random, level: float, diameters: tuple[float, ...]) -> Pipe:
    """A pipe whose lower invert is at a level, mostly with some fall."""
    length = rng.choice((3.0, 10.0, 40.0, 120.0))
    slope = rng.choice((0.0, 5e-4, 1e-3, 3e-3, 1e-2)) * rng.uniform(0.5, 1.5)
    entrance = rng.choice((0.2, 0.5, 0.9))
    diameter, n = rng.choice(diameters), rng.uniform(0.009, 0.017)
    return Pipe(level + slope * length, level, diameter, length, n, entrance)


def random_media(rng: random.Random, floor: float) -> Media:
    conductivity = math.exp(rng.uniform(math.log(0.005), math.log(0.15)))
    inertia = 0.55 / math.sqrt(G * conductivity * VISCOSITY)
    return Media(
        floor,
        rng.uniform(3.0, 12.0),
        rng.choice((0.0, 0.5, 1.0)),
        rng.uniform(10.0, 45.0),
        rng.uniform(0.7, 1.5),
        conductivity,
        rng.choice((0.0, 1.0)) * inertia,
    )


def random_cell(rng: random.Random, floor: float) -> Cell:
    feed = pipe_down_to(rng, floor + rng.uniform(0.0, 0.3), (0.1, 0.15, 0.2, 0.3))
    gate = Gate(rng.uniform(0.002, 0.05), 0.6) if rng.random() < 0.5 else None
    return Cell(
        feed,
        Header(rng.choice((0.0, 50.0, 500.0))),
        random_media(rng, floor),
        Header(rng.choice((0.0, 50.0, 500.0))),
        pipe_down_to(rng, floor - rng.uniform(0.0, 0.1), (0.1, 0.15, 0.2, 0.3)),
        gate,
    )


def random_crest(rng: random.Random, sill: float, low: float, high: float) -> Boards:
    """Boards as wide as they are made, some with joints that leak."""
    width = rng.uniform(0.3, 1.2)
    return Boards(
        crest=max(sill, rng.uniform(low, high)),
        sill=sill,
        coefficient=1.8 * width,
        growth=rng.choice((0.0, 0.1 * width)),
        growth_ends=0.4,
        head_added=rng.choice((0.0, 0.001)),
        leak=rng.choice((0.0, 0.0, 5e-4)),
    )


def random_machine(rng: random.Random, cells: int = 1) -> Drawn:
    """A system with one or more equal or unequal cells, with or without a junction."""
    crest = MAIN_FLOOR + rng.uniform(0.5, 1.3)
    floor = crest - rng.uniform(0.8, 1.4)
    outlet = random_crest(rng, floor - 0.1, floor - 0.05, crest - 0.1)
    joined = rng.random() < 0.4
    end = floor - rng.uniform(0.1, 0.8)
    lower = pipe_down_to(rng, end - 0.05, (0.2, 0.3, 0.45)) if joined else None
    bottom = lower.invert_up if lower else end
    stage = end + rng.choice((-0.5, rng.uniform(0.0, 0.4), rng.uniform(0.0, 1.6)))
    return Drawn(
        inflow=math.exp(rng.uniform(math.log(0.0005), math.log(0.06))),
        stage=stage,
        stage_bed=stage,
        cells=tuple(random_cell(rng, floor + 0.1 * k) for k in range(cells)),
        bypass_boards=random_crest(rng, MAIN_FLOOR, crest, crest + 1e-9),
        bypass=pipe_down_to(rng, bottom, (0.2, 0.3, 0.45)),
        outlet_boards=outlet,
        outflow=pipe_down_to(rng, bottom, (0.15, 0.2, 0.3)),
        lower=lower,
    )
