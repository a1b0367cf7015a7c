# SPDX-License-Identifier: Apache-2.0
"""Steady flows and levels of a diversion box, its bypass and its beds, solved slow and sure.

A path is what the water passes between the diversion and its lower pool, in order. Each part gives
the level above it for a flow and the level below it; levels are followed up a path from its lower
pool, and flows are found by bracketing. Because the flow is steady, a junction carries what comes
in, however it is shared. Nothing is taken from the program.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Protocol

from scipy.optimize import brentq

FLOW_CLOSENESS = 1e-13
LEVEL_CLOSENESS = 1e-13


class Part(Protocol):
    """What water passes on its way from one pool to the next."""

    def upper(self, flow: float, lower: float) -> float: ...
    def still(self, lower: float) -> float: ...
    def turned(self) -> "Part": ...


@dataclass(frozen=True)
class Path:
    """Parts in the order in which water leaving the diversion meets them.

    `pool` is the level at the lower end; without one the path ends in the junction.
    """

    parts: Sequence[Part]
    pool: float | None = None

    def levels(self, flow: float, lower: float) -> list[float]:
        """Levels between the parts, the diversion's first, the lower pool's last."""
        found = [lower]
        for part in reversed(self.parts):
            found.insert(0, part.upper(flow, found[0]))
        return found

    def still(self, lower: float) -> float:
        """Level at the diversion at which water begins to leave by this path."""
        for part in reversed(self.parts):
            lower = part.still(lower)
        return lower

    def turned(self) -> "Path":
        return Path([part.turned() for part in reversed(self.parts)], self.pool)

    def flow(self, level: float, lower: float) -> float:
        """Flow out of the diversion, negative where water comes back."""
        if level > self.still(lower):
            return self._forward(level, lower)
        back = self.turned()
        if lower > back.still(level):
            return -back._forward(lower, level)
        return 0.0

    def _forward(self, level: float, lower: float) -> float:
        high = 1e-3
        while self.levels(high, lower)[0] < level:
            high *= 2.0
        return float(
            brentq(
                lambda flow: self.levels(flow, lower)[0] - level,
                0.0,
                high,
                xtol=FLOW_CLOSENESS,
                rtol=1e-12,
            )
        )


@dataclass(frozen=True)
class Parallel:
    """Ways side by side between the same two pools, each taking what it can."""

    ways: Sequence[Path]

    def flows(self, level: float, lower: float) -> list[float]:
        return [way.flow(level, lower) for way in self.ways]

    def upper(self, flow: float, lower: float) -> float:
        low, high = self.still(lower), math.inf
        if flow <= 0.0:
            return low
        for way in self.ways:
            high = min(high, way.levels(flow, lower)[0])
        if high == math.inf:
            return high
        return float(
            brentq(
                lambda level: sum(self.flows(level, lower)) - flow,
                low,
                high,
                xtol=LEVEL_CLOSENESS,
                rtol=1e-14,
            )
        )

    def still(self, lower: float) -> float:
        return min(way.still(lower) for way in self.ways)

    def turned(self) -> "Parallel":
        return Parallel([way.turned() for way in self.ways])


@dataclass(frozen=True)
class Machine:
    """The bypass, the beds, and what the junction's water goes through, if there is one."""

    bypass: Path
    beds: Sequence[Path] = ()
    ditch: float = 0.0
    from_junction: Sequence[Part] = field(default=())


@dataclass(frozen=True)
class Solution:
    """Levels and flows; levels of a path run from the diversion to its lower pool."""

    level: float
    bypass: float
    beds: tuple[float, ...]
    junction: float
    bypass_levels: tuple[float, ...]
    bed_levels: tuple[tuple[float, ...], ...]


def solve(inflow: float, machine: Machine) -> Solution:
    """Levels and flows for water that comes to the diversion from the main."""
    junction = Path(machine.from_junction).levels(inflow, machine.ditch)[0]
    paths = [machine.bypass, *machine.beds]
    pools = [junction if path.pool is None else path.pool for path in paths]
    level, flows = _one_or_two(inflow, paths, pools) or _any(inflow, paths, pools)
    levels = [
        tuple(path.levels(flow, pool)) if flow > 0.0 else ()
        for path, flow, pool in zip(paths, flows, pools, strict=True)
    ]
    return Solution(level, flows[0], tuple(flows[1:]), junction, levels[0], tuple(levels[1:]))


def _one_or_two(
    inflow: float, paths: list[Path], pools: list[float]
) -> tuple[float, list[float]] | None:
    """The share of one of two paths, where none runs backward."""
    if len(paths) != 2:
        return None
    (first, second), (below_first, below_second) = paths, pools
    if first.levels(inflow, below_first)[0] <= second.still(below_second):
        flows = [inflow, 0.0]
    elif second.levels(inflow, below_second)[0] <= first.still(below_first):
        flows = [0.0, inflow]
    else:
        share = brentq(
            lambda flow: (
                second.levels(flow, below_second)[0] - first.levels(inflow - flow, below_first)[0]
            ),
            0.0,
            inflow,
            xtol=FLOW_CLOSENESS,
            rtol=1e-12,
        )
        flows = [inflow - share, float(share)]
    flowing = max((0, 1), key=lambda k: flows[k])
    level = paths[flowing].levels(flows[flowing], pools[flowing])[0]
    for path, flow, pool in zip(paths, flows, pools, strict=True):
        if flow == 0.0 and pool > path.turned().still(level):
            return None
    return level, flows


def _any(inflow: float, paths: list[Path], pools: list[float]) -> tuple[float, list[float]]:
    """The level at which all paths together take what comes in."""

    def flows_at(level: float) -> list[float]:
        return [path.flow(level, pool) for path, pool in zip(paths, pools, strict=True)]

    low = min(path.still(pool) for path, pool in zip(paths, pools, strict=True))
    high = low + 0.1
    while sum(flows_at(low)) > inflow:
        low -= 0.1
    while sum(flows_at(high)) < inflow:
        high = low + 2.0 * (high - low)
    level = brentq(
        lambda level: sum(flows_at(level)) - inflow, low, high, xtol=LEVEL_CLOSENESS, rtol=1e-14
    )
    return float(level), flows_at(level)
