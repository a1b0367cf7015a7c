# SPDX-License-Identifier: Apache-2.0
"""A design worked again for other sizes: only what the sizes change, by the design's own functions.

The trace of a design says which function made each number of which. For a candidate the steps that
lie between the changed inputs and the numbers that are asked are called again, in their order; all
others stand. Steps are kept by the axes that they rest on, so that candidates which differ only in
what does not change a step share it. What waits for the routed days comes in a second part.

What the chain decides outside its functions (which steps there are at all) stays as it was. A
winner is therefore designed again by the whole chain.
"""

import importlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from tilewater.basis.errors import TilewaterError
from tilewater.basis.trace import Step, Trace, Value
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.search_axes import Axis, Candidate, Rewired

Values = dict[str, Value]


@dataclass(frozen=True)
class Again:
    """A step that is worked again: its function, its inputs in order, and which of them change."""

    key: str
    function: Callable[..., Value]
    inputs: Mapping[str, Value]
    changing: tuple[tuple[str, str], ...]

    def work(self, values: Values) -> Value:
        """Its value for the values before it; not known where one of those is not."""
        arguments = dict(self.inputs)
        for name, key in self.changing:
            value = values[key]
            if isinstance(value, Unknown):
                return value
            arguments[name] = value
        try:
            value = self.function(**arguments)
        except TilewaterError as error:
            return Unknown(str(error), causes=(self.key,))
        return value.item() if isinstance(value, np.generic) else value


@dataclass(frozen=True)
class Group:
    """Steps that rest on the same axes.

    Attributes
    ----------
    rests : frozenset of int
        The axes.
    ordered : tuple of int
        The same in order.
    keys : tuple of str
        Keys that the level of one axis sets.
    steps : tuple of Again
        In the order of the design.
    known : dict
        What they made, by the levels of their axes.
    """

    rests: frozenset[int]
    ordered: tuple[int, ...]
    keys: tuple[str, ...]
    steps: tuple[Again, ...]
    known: dict[Candidate, Values] = field(default_factory=dict)

    @property
    def makes(self) -> frozenset[str]:
        """Keys of all that it makes."""
        return frozenset({*self.keys, *(step.key for step in self.steps)})


class Replay:
    """The part of a design that other sizes change.

    Parameters
    ----------
    trace : Trace
        The design.
    axes : sequence of Axis
        What may change.
    sooner : sequence of iterables of str
        Keys that are asked first, in the waves in which they are asked.
    later : iterable of str
        Keys that are asked of what is left then.
    sums : str
        Key that comes from routing; it and what rests on it wait for that.
    rewired : iterable of Rewired
        Steps that take an input from elsewhere.
    instead : mapping of key to value
        Values that stand for those of the design in the steps that are worked again.
    quick : mapping of callable to callable
        Compiled twins of functions.
    """

    def __init__(
        self,
        trace: Trace,
        axes: tuple[Axis, ...],
        *,
        sooner: Sequence[Iterable[str]],
        later: Iterable[str],
        sums: str,
        rewired: Iterable[Rewired] = (),
        instead: Mapping[str, Value] | None = None,
        quick: Mapping[Callable[..., Value], Callable[..., Value]] | None = None,
    ) -> None:
        self.trace, self.axes, self.sums = trace, axes, sums
        self._instead, self._quick = dict(instead or {}), dict(quick or {})
        self._wires = {(each.step, each.parameter): each.source for each in rewired}
        self._owner = {key: place for place, axis in enumerate(axes) for key in axis.keys}
        self._rests: dict[str, frozenset[int]] = {}
        self._late: set[str] = {sums}
        self._find_what_changes()
        needed: set[str] = set()
        self.sooner: list[Group] = []
        for wave in sooner:
            found = self._needed(key for key in wave if key not in self._late)
            self.sooner += self._grouped(found - needed)
            needed |= found
        rest = self._needed(later)
        self.later = self._grouped(rest - needed)
        needed |= rest
        self._after = [self._again(step) for step in trace if step.key in needed & self._late]

    def changes(self, key: str) -> bool:
        """Whether a value may differ between candidates."""
        return bool(self._rests.get(key)) or key in self._late

    def rests_on(self, key: str) -> frozenset[int]:
        """Axes that a value rests on."""
        return self._rests.get(key, frozenset())

    def waits(self, key: str) -> bool:
        """Whether a value rests on the routed days."""
        return key in self._late

    def work(self, group: "Group", candidate: Candidate, values: Values) -> None:
        """Add what a group makes of a candidate to the values of the groups before it."""
        if len(group.rests) == len(self.axes):
            self._worked(group, candidate, values)
            return
        place = tuple(candidate[axis] for axis in group.ordered)
        if place in group.known:
            values |= group.known[place]
        else:
            group.known[place] = self._worked(group, candidate, values)

    def before(self, candidate: Candidate) -> Values:
        """Everything asked that does not wait for the days."""
        values: Values = {}
        for group in (*self.sooner, *self.later):
            self.work(group, candidate, values)
        return values

    def as_designed(self) -> Values:
        """The same for the design itself, whose sizes need not be levels of the axes."""
        values = {key: self._designed(key) for key in self._owner}
        for group in (*self.sooner, *self.later):
            for step in group.steps:
                values[step.key] = step.work(values)
        return values

    def after(self, values: Values, sums: Value) -> Values:
        """The same with all that rests on the routed days."""
        values = values | {self.sums: sums}
        for again in self._after:
            if again.key != self.sums:
                values[again.key] = again.work(values)
        return values

    def value(self, values: Values, key: str) -> Value:
        """Value of a candidate behind a key, that of the design where nothing changes it."""
        return values[key] if key in values else self.trace.value(key)

    def _designed(self, key: str) -> Value:
        if key in self.trace:
            return self.trace.value(key)
        step, name = next(wire for wire, source in self._wires.items() if source == key)
        return self.trace.value(dict(self.trace.steps[step].inputs)[name])

    def _find_what_changes(self) -> None:
        for key, place in self._owner.items():
            self._rests[key] = frozenset({place})
        for step in self.trace:
            if step.key in self._owner or step.key == self.sums:
                continue
            sources = [source for _, source in self._inputs(step)]
            rests = [on for source in sources if (on := self._rests.get(source))]
            is_late = not self._late.isdisjoint(sources)
            if not rests and not is_late:
                continue
            if not step.function or step.overrule is not None or self._stays_unknown(sources):
                continue
            self._rests[step.key] = frozenset().union(*rests)
            if is_late:
                self._late.add(step.key)

    def _inputs(self, step: Step) -> tuple[tuple[str, str], ...]:
        return tuple(
            (name, self._wires.get((step.key, name), source)) for name, source in step.inputs
        )

    def _stays_unknown(self, sources: list[str]) -> bool:
        """Whether something is not known here whatever the sizes are."""
        return any(
            not self.changes(key) and key not in self._instead and is_unknown(self.trace.value(key))
            for key in sources
        )

    def _needed(self, targets: Iterable[str]) -> set[str]:
        needed: set[str] = set()
        waiting = [key for key in targets if self.changes(key)]
        while waiting:
            key = waiting.pop()
            if key in needed:
                continue
            needed.add(key)
            if key not in self._owner and key != self.sums:
                sources = (source for _, source in self._inputs(self.trace.steps[key]))
                waiting += [source for source in sources if self.changes(source)]
        return needed

    def _grouped(self, needed: set[str]) -> list["Group"]:
        """Steps that do not wait, by the axes they rest on, those on few axes first."""
        keys: dict[frozenset[int], list[str]] = {}
        steps: dict[frozenset[int], list[Again]] = {}
        for key in self._owner:
            if key in needed:
                keys.setdefault(self._rests[key], []).append(key)
        for step in self.trace:
            if step.key in needed and step.key not in self._late and step.key not in self._owner:
                steps.setdefault(self._rests[step.key], []).append(self._again(step))
        groups = [
            Group(
                rests, tuple(sorted(rests)), tuple(keys.get(rests, ())), tuple(steps.get(rests, ()))
            )
            for rests in {**keys, **steps}
        ]
        return sorted(groups, key=lambda group: (len(group.rests), group.ordered))

    def _again(self, step: Step) -> Again:
        inputs = self._inputs(step)
        standing = {n: None if self.changes(s) else self._standing(s) for n, s in inputs}
        changing = tuple((name, source) for name, source in inputs if self.changes(source))
        function = function_of(step)
        return Again(step.key, self._quick.get(function, function), standing, changing)

    def _standing(self, key: str) -> Value:
        return self._instead[key] if key in self._instead else self.trace.value(key)

    def _worked(self, group: "Group", candidate: Candidate, values: Values) -> Values:
        """What a group makes, which is added to the values too."""
        made = Values()
        for key in group.keys:
            axis = self._owner[key]
            level = self.axes[axis].levels[candidate[axis]]
            made[key] = values[key] = level.inputs.get(key, level.beside.get(key))
        for step in group.steps:
            made[step.key] = values[step.key] = step.work(values)
        return made


def function_of(step: Step) -> Callable[..., Any]:
    """The function that made a number, by its dotted name."""
    module, _, name = step.function.rpartition(".")
    found: Callable[..., Any] = getattr(importlib.import_module(module), name)
    return found
