# SPDX-License-Identifier: Apache-2.0
"""Boards over sills as built: the crest of the same stack, the rim over it, and a nearer stack."""

from collections.abc import Iterable
from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.chain.built_elements import structure_name
from tilewater.chain.built_judged import PARTS, slug_of
from tilewater.chain.built_parts import depth_between
from tilewater.practices.boards import board_stack, crest_elevation, stack_height

STACKS = "built.stack"
TOLD = 0.05 * 0.0254
"""Change of a reading from which a lid card is made anew: half of a tenth of an inch. [m]"""
Stack = tuple[float, ...]


@dataclass(frozen=True)
class Reading:
    """Boards of a set: their stack, its crest, and the rim over it. [m]"""

    stack: Stack
    crest: float
    rim_down: float | None


@dataclass(frozen=True)
class BoardSet:
    """A board set in a season, as designed and as built; as designed may not be known.

    Attributes
    ----------
    name : str
        As in keys: `inlet-spring`.
    before, after : Reading or None
    """

    name: str
    before: Reading | None
    after: Reading | None

    @property
    def is_changed(self) -> bool:
        """Whether its line on the lid card changes."""
        if self.before is None or self.after is None:
            return self.before is not self.after
        if self.before.rim_down is None or self.after.rim_down is None:
            return self.before.rim_down is not self.after.rim_down
        return (
            self.before.stack != self.after.stack
            or abs(self.before.rim_down - self.after.rim_down) >= TOLD
        )


@dataclass(frozen=True)
class NearStack:
    """A stack on a sill as built that comes nearest the designed crest without passing it. [m]"""

    structure: str
    designed: float
    stack: Stack
    crest: float


def board_sets(before: Trace, after: Trace, names: Iterable[str]) -> tuple[BoardSet, ...]:
    """Board sets before and after.

    Parameters
    ----------
    before, after : Trace
        As designed and as built. [-]
    names : iterable of str
        Sets with their season. [-]

    Returns
    -------
    tuple of BoardSet
        In their order. [-]
    """
    return tuple(BoardSet(name, _reading(before, name), _reading(after, name)) for name in names)


def _reading(trace: Trace, name: str) -> Reading | None:
    own = f"boards.{name}"
    if not trace.known(f"{own}.crest_m", f"{own}.stack_m"):
        return None
    down = f"{own}.rim_down_m"
    return Reading(
        tuple(float(each) for each in trace.value(f"{own}.stack_m")),
        float(trace.value(f"{own}.crest_m")),
        float(trace.value(down)) if trace.known(down) else None,
    )


def add_stacks(trace: Trace) -> tuple[NearStack, ...]:
    """Record, for a sill outside its tolerance, a stack that comes nearest the designed crest.

    Parameters
    ----------
    trace : Trace
        Of the design, levels as built added. [-]

    Returns
    -------
    tuple of NearStack
        One for each such structure. [-]
    """
    found = []
    for name in trace.names("inputs.structure"):
        part = f"{PARTS}.{slug_of(structure_name(name))}.sill"
        crest, heights = f"boards.{name}-design.crest_m", "inputs.boards.heights_m"
        if not trace.known(f"{part}_m", f"{part}.status", crest, heights):
            continue
        if trace.value(f"{part}.status") == "holds":
            continue
        here = f"{STACKS}.{name}"
        trace.compute(
            f"{here}.target_m",
            depth_between,
            unit="m",
            title=f"Designed crest over the sill as built: {name}",
            upper=crest,
            lower=f"{part}_m",
        )
        trace.compute(
            f"{here}.boards_m",
            board_stack,
            unit="m",
            title=f"Boards that come nearest the designed crest: {name}",
            target=f"{here}.target_m",
            board_heights=heights,
            seal_gap="inputs.boards.seal_gap_m",
        )
        trace.compute(
            f"{here}.height_m",
            stack_height,
            unit="m",
            title=f"Height of these boards: {name}",
            stack=f"{here}.boards_m",
            seal_gap="inputs.boards.seal_gap_m",
        )
        trace.compute(
            f"{here}.crest_m",
            crest_elevation,
            unit="m",
            title=f"Crest of these boards: {name}",
            sill=f"{part}_m",
            height=f"{here}.height_m",
        )
        if trace.known(f"{here}.crest_m"):
            found.append(
                NearStack(
                    name,
                    float(trace.value(crest)),
                    tuple(float(each) for each in trace.value(f"{here}.boards_m")),
                    float(trace.value(f"{here}.crest_m")),
                )
            )
    return tuple(found)
