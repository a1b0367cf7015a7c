# SPDX-License-Identifier: Apache-2.0
"""Shots of a rover on an invented site: true places with the scatter of a good day.

The scatter is drawn from a fixed seed. What goes wrong in the field is put in on purpose by the
site: a shot without a fixed position has an error of its own, a point number is used twice.
"""

import random
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

SCATTER_PLAN = 0.02
SCATTER_HEIGHT = 0.03
FLOAT_ERROR = (1.7, -2.4, 0.9)
FIRST = 101

ToGrid = Callable[[float, float], tuple[float, float]]


@dataclass(frozen=True)
class Target:
    """What the pole stood on: station, offset, true height, note; a number only where it errs."""

    x: float
    y: float
    height: float
    note: str
    floated: bool = False
    number: int | None = None


@dataclass(frozen=True)
class Reading:
    """What the rover wrote, in feet of the grid."""

    point: int
    north: float
    east: float
    height: float
    floated: bool
    note: str


def readings(targets: Iterable[Target], grid: ToGrid, seed: int) -> Iterator[Reading]:
    """Yield a reading of each target in the order of the day."""
    scatter = random.Random(seed)
    for number, target in enumerate(targets, FIRST):
        north, east = grid(target.x, target.y)
        dn, de, dh = FLOAT_ERROR if target.floated else (0.0, 0.0, 0.0)
        north += dn + scatter.gauss(0.0, SCATTER_PLAN)
        east += de + scatter.gauss(0.0, SCATTER_PLAN)
        height = target.height + dh + scatter.gauss(0.0, SCATTER_HEIGHT)
        point = number if target.number is None else target.number
        yield Reading(point, north, east, height, target.floated, target.note)
