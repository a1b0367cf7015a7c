# SPDX-License-Identifier: Apache-2.0
"""What a search may change: axes of sizes that exist, and what a practice supplies for it.

A candidate is one level of each axis; a level is a set of inputs of the job. No input belongs to
two axes.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tilewater.basis.trace import Trace, Value
from tilewater.practices.bed._split import Array

Candidate = tuple[int, ...]
"""Number of the level of each axis."""


Routing = Callable[[], Array]
"""What gives the sums by year of a practice that is ready to be routed."""


@dataclass(frozen=True)
class Level:
    """One size that exists.

    Attributes
    ----------
    value : float
        The size, in the unit of its axis.
    inputs : mapping of key to value
        Inputs of the job that it stands for.
    beside : mapping of key to value
        Values that follow from it and are no inputs of their own, such as the price of that size.
    """

    value: float
    inputs: Mapping[str, Value]
    beside: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True)
class Axis:
    """Something that may be larger or smaller.

    Attributes
    ----------
    key : str
        Key that its value is known by.
    title, unit : str
        What it is, and the unit of its levels.
    levels : tuple of Level
        From the smallest; each sets the same keys.
    """

    key: str
    title: str
    unit: str
    levels: tuple[Level, ...]

    @property
    def keys(self) -> frozenset[str]:
        """Keys that it sets."""
        first = self.levels[0]
        return frozenset({*first.inputs, *first.beside})


@dataclass(frozen=True)
class Rewired:
    """A step that takes one of its inputs from elsewhere while a search changes sizes."""

    step: str
    parameter: str
    source: str


@dataclass(frozen=True)
class SearchPlan:
    """What a practice offers to a search.

    Attributes
    ----------
    axes : tuple of Axis
        What may change.
    fixed : tuple of str
        What stays as the job has it, and why, in words.
    needs : tuple of str
        Keys that routing takes.
    sums : str
        Key of the sums by year, which routing gives.
    draws, drawn : str
        Keys of the draws and of the values that they are made of, whose step takes a `count`.
    removed : str
        Key of what is taken out in a mean year, by draw. [kg]
    middle : str
        Key of the middle of every range.
    about_middle : callable
        The draws of a search from the middle: itself first, then the low and the high rate.
    noun, ends, matter : str
        What a candidate is called, at which ends of the ranges it meets the days, and what the
        draws are of, in words.
    removed_as_designed : callable
        What a whole design takes out in a mean year at the middle of every range. [kg]
    ready : callable
        From what routing needs and a tuple of draws, what gives the sums by year when it is called.
        The preparing is done before; the call holds no lock of the interpreter for long.
    rewired : tuple of Rewired
        Steps that take a price from the level.
    quick : mapping of callable to callable
        Compiled twins of functions of the design that every candidate asks.
    """

    axes: tuple[Axis, ...]
    fixed: tuple[str, ...]
    needs: tuple[str, ...]
    sums: str
    draws: str
    drawn: str
    removed: str
    middle: str
    about_middle: Callable[[Value], tuple[Value, ...]]
    noun: str
    ends: str
    matter: str
    removed_as_designed: Callable[[Trace], float]
    ready: Callable[[Mapping[str, Value], tuple[Value, ...]], Routing]
    rewired: tuple[Rewired, ...] = ()
    quick: Mapping[Callable[..., Value], Callable[..., Value]] = field(default_factory=dict)

    @property
    def size(self) -> int:
        """Number of all candidates."""
        product = 1
        for axis in self.axes:
            product *= len(axis.levels)
        return product

    def inputs_of(self, candidate: Candidate) -> dict[str, Value]:
        """Inputs of the job that a candidate changes."""
        changed: dict[str, Value] = {}
        for axis, place in zip(self.axes, candidate, strict=True):
            changed |= axis.levels[place].inputs
        return changed

    def values_of(self, candidate: Candidate) -> tuple[float, ...]:
        """Size of each axis."""
        return tuple(a.levels[i].value for a, i in zip(self.axes, candidate, strict=True))


Planner = Callable[[Trace], SearchPlan]
