# SPDX-License-Identifier: Apache-2.0
"""Steady flows and levels of a diversion box, its bypass and its beds, solved slow and sure.

A path is what the water passes between the diversion and its lower pool, in order. Each part gives
the level above it for a flow and the level below it; levels are followed up a path from its lower
pool, and flows are found by bracketing. Because the flow is steady, a junction carries what comes
in, however it is shared. Nothing is taken from the program.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Protocol

from scipy.optimize import brentq

CLOSENESS = 1e-13
"""Of a level in m, of a flow in m3/s."""
ROOM = 1e-6
"""What a bracket is widened by, so that rounding at its end cannot spoil it. [m]"""


class Part(Protocol):
    """What water passes on its way from one pool to the next."""

    def upper(self, flow: float, lower: float) -> float: ...
    def still(self, lower: float) -> float: ...
    def turned(self) -> "Part": ...


def bracketed(function: Callable[[float], float], low: float, high: float) -> float:
    """The root between two ends, as close as rounding lets it be found."""
    return float(brentq(function, low, high, xtol=CLOSENESS, rtol=1e-14))


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
        return bracketed(lambda flow: self.levels(flow, lower)[0] - level, 0.0, high)


def share_of_second(
    flow: float, first: Path, second: Path, below_first: float, below_second: float
) -> float:
    """What the second of two paths from one pool takes, none running backward."""
    if first.levels(flow, below_first)[0] <= second.still(below_second):
        return 0.0
    if second.levels(flow, below_second)[0] <= first.still(below_first):
        return flow
    return bracketed(
        lambda part: (
            second.levels(part, below_second)[0] - first.levels(flow - part, below_first)[0]
        ),
        0.0,
        flow,
    )


@dataclass(frozen=True)
class Parallel:
    """Ways side by side between the same two pools, each taking what it can."""

    ways: Sequence[Path]

    def flows(self, level: float, lower: float) -> list[float]:
        return [way.flow(level, lower) for way in self.ways]

    def upper(self, flow: float, lower: float) -> float:
        if flow <= 0.0:
            return self.still(lower)
        if len(self.ways) == 2:
            first, second = self.ways
            share = share_of_second(flow, first, second, lower, lower)
            return min(
                way.levels(part, lower)[0]
                for way, part in ((first, flow - share), (second, share))
                if part > 0.0
            )
        highest = min(way.levels(flow, lower)[0] for way in self.ways) + ROOM
        return bracketed(
            lambda level: sum(self.flows(level, lower)) - flow, self.still(lower), highest
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
    share = share_of_second(inflow, *paths, *pools)
    flows = [inflow - share, share]
    levels = [path.levels(*way)[0] for path, *way in zip(paths, flows, pools, strict=True)]
    level = min(levels) if inflow == 0.0 else levels[0 if flows[0] > share else 1]
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
    level = bracketed(lambda level: sum(flows_at(level)) - inflow, low, high)
    return level, flows_at(level)
