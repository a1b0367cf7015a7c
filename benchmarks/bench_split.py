# SPDX-License-Identifier: Apache-2.0
"""What a table of how inflows divide costs, compiled and plain, and what reading it saves."""

from collections.abc import Iterator
from functools import partial
from unittest.mock import patch

import numpy as np

from benchmarks.bench_design import inputs
from benchmarks.ratio import Ratio, best_times
from tilewater.basis.compiled import compiled
from tilewater.chain.design import design_bed
from tilewater.hydraulics.media import forchheimer_inertia_ward
from tilewater.practices.bed import split
from tilewater.practices.bed._split import Array, SplitTable
from tilewater.practices.bed._system import Machine, split_flow
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.split import read_split_series, split_table
from tilewater.practices.bed.system import machine_of

ROUNDS = 5
DAYS = 10_957
KNOTS = np.geomspace(0.012, 0.12, 8)


def works() -> list[Machine]:
    """The example's works with media of eight conductivities."""
    trace = design_bed(inputs()).trace
    return [
        machine_of(
            trace.value("system.path-design"),
            trace.value("bed.shape"),
            Media(float(k), float(forchheimer_inertia_ward(float(k), ward_coefficient=0.55))),
            bypass=trace.value("system.bypass.pipe"),
            bypass_boards=trace.value("structure.inlet.set-design"),
        )
        for k in KNOTS
    ]


def fill(machines: list[Machine]) -> SplitTable:
    """A whole table for one setting of the boards."""
    return split_table([machines], highest_stage=361.4, most=0.046)


def fill_plain(machines: list[Machine]) -> SplitTable:
    """The same by the readable twin."""
    with patch.object(split, "compiled", lambda function: function):
        return fill(machines)


def solve_series(inflow: Array, stage: Array, machine: Machine) -> None:
    """Thirty years of days, each solved by itself."""
    solve = compiled(split_flow)
    for day in range(inflow.size):
        solve(inflow[day], stage[day], stage[day], machine)


def measure() -> Iterator[Ratio]:
    """Yield the cost of a table compiled against plain, and of a day read against a day solved."""
    machines = works()
    table = fill(machines)
    draw = np.random.default_rng(1)
    inflow, stage = draw.uniform(0, 0.02, DAYS), draw.uniform(359.5, 360.5, DAYS)
    conductivity = np.full(DAYS, 0.04)
    setting = np.zeros(DAYS, dtype=np.int64)
    read = partial(
        read_split_series,
        table,
        inflow,
        conductivity=conductivity,
        stage=stage,
        setting=setting,
    )
    read()
    filled, plain, by_table, solved = best_times(
        partial(fill, machines),
        partial(fill_plain, machines),
        read,
        partial(solve_series, inflow, stage, machines[4]),
        rounds=ROUNDS,
    )
    cells = (table.under.size + table.over.size) / 3
    yield Ratio("a split table, compiled", "the same by its readable twin", filled / plain)
    yield Ratio("a split table, compiled", "30 years solved day by day", filled / solved)
    yield Ratio("30 years read from a table", "the same solved day by day", by_table / solved)
    yield Ratio("a knot of a split table", "a day solved", filled / cells / (solved / DAYS))
