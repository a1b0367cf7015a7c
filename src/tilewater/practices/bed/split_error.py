# SPDX-License-Identifier: Apache-2.0
"""How far a table of how inflows divide lies from the balance itself, off its knots."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tilewater.basis.compiled import compiled
from tilewater.practices.bed import _split
from tilewater.practices.bed._split import SplitTable
from tilewater.practices.bed._system import Machine, split_flow
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.split import apparent_conductivity, bed_gradient, read_split

BOUND = 0.01
"""What a table may be wrong by: share of the bed's capacity in the table's best media. [-]"""
BOUND_DROWNED = 0.05
"""The same where the ditch stands above the bypass crest, and hardly anything goes through. [-]"""


@dataclass(frozen=True)
class TableError:
    """How far a table lies from the balance it was made of, off its knots.

    Attributes
    ----------
    bed_flow : float
        Largest difference, as a share of the largest capacity in the table. [-]
    level : float
        Largest difference of the level at the diversion. [m]
    wet_volume : float
        Largest difference, as a share of the largest wet volume. [-]
    points : int
        Points compared. [-]
    """

    bed_flow: float
    level: float
    wet_volume: float
    points: int


def split_table_error(
    table: SplitTable,
    machines: Sequence[Machine],
    *,
    points: int,
    seed: int,
    setting: int = 0,
    drowned: bool = False,
) -> TableError:
    """How far a table lies from the balance itself, at points off its knots.

    Parameters
    ----------
    table : SplitTable
        The table. [-]
    machines : sequence of Machine
        Works with media to compare with, in one setting; they need not be those of the table. [-]
    setting : int
        Number of that setting in the table. [-]
    points : int
        Inflows and stages drawn for each of the machines. [-]
    seed : int
        Seed of the draw. [-]
    drowned : bool
        Whether the ditch stands above the bypass crest at these points, or below it. [-]

    Returns
    -------
    TableError

    References
    ----------
    derived, tabulated balance
    """
    draw = np.random.default_rng(seed)
    gradient = bed_gradient(machines[0])
    solve, wet_of = compiled(split_flow), compiled(_split.wet_divided)
    capacity, wet = float(table.capacity[setting].max()), float(table.over[setting, ..., 2].max())
    crest = machines[0].bypass_boards.crest
    knots = table.stage[setting]
    low, high = (crest, knots[-1]) if drowned else (knots[0], crest)
    worst = np.zeros(3)
    for machine in machines:
        cell = machine.cells[0]
        shown = apparent_conductivity(Media(cell.conductivity, cell.inertia), gradient)
        for _ in range(points):
            inflow = float(table.most * draw.uniform() ** 3)
            stage = float(draw.uniform(low, high))
            there = solve(inflow, stage, stage, machine)
            read = read_split(table, inflow, conductivity=shown, stage=stage, setting=setting)
            held = wet_of(there.bed_flow, there.level, inflow, stage, machine)
            apart = (
                abs(read.bed_flow - there.bed_flow) / capacity,
                abs(read.level - there.level),
                abs(read.wet_volume - held) / wet,
            )
            worst = np.maximum(worst, apart)
    return TableError(float(worst[0]), float(worst[1]), float(worst[2]), points * len(machines))
