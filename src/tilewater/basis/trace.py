# SPDX-License-Identifier: Apache-2.0
"""How a number came to be: every step of a computation, by key.

The chain computes through a `Trace`: each step names its function and the keys of its inputs, so a
number can be followed to its equation, to the line that a person typed, and to its source. A
step that leans on something unknown is itself unknown and names the causes. An overrule
by the engineer takes the place of a computed value in everything that follows; the computed value
stays beside it. An assumption takes the place of an unknown input and marks all that rests on it.

Keys are dotted paths with the unit last (`bed.length_m`); what a person typed is under `inputs.`.
"""

import inspect
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

import numpy as np

from tilewater.basis.errors import TilewaterError, UnknownName
from tilewater.basis.findings import Finding
from tilewater.basis.memory import Call, Memory
from tilewater.basis.requirement import Requirement, Status, slack_of, status_of
from tilewater.basis.unknown import Unknown, is_unknown

Value = Any
"""A number, a text, a truth, a tuple of those, an array, a frozen record or an `Unknown`."""


JUDGED = (".status", ".slack", ".operator", ".scale")
"""Ends of keys that follow from values and limits; the engineer overrules those, not these."""


_NOTHING: frozenset[str] = frozenset()


def argument_name(name: str) -> str:
    """A name of the job, such as `low-1`, as an argument of a function: `low_1`."""
    return name.replace("-", "_").replace(".", "_")


@dataclass(frozen=True)
class Origin:
    """Where an input came from.

    Attributes
    ----------
    file : str
        File of the job folder, or "" for a default of the program.
    line : int or None
        Line in that file.
    text : str
        The value as it was typed.
    source : str
        Key of `basis/sources.toml` for a default, or "".
    note : str
        What the engineer should know about it.
    """

    file: str = ""
    line: int | None = None
    text: str = ""
    source: str = ""
    note: str = ""

    def __str__(self) -> str:
        if not self.file:
            return f"default of the program ({self.source})" if self.source else "default"
        return self.file if self.line is None else f"{self.file} line {self.line}"


@dataclass(frozen=True)
class Given:
    """One input: a value in coherent SI (or the unit said) with its origin."""

    key: str
    value: Value
    unit: str
    title: str
    origin: Origin = Origin()


@dataclass(frozen=True)
class Overrule:
    """A computed value that the engineer replaced, with name, date and reason."""

    key: str
    value: Value
    by: str
    date: str
    reason: str
    origin: Origin = Origin()


@dataclass(frozen=True)
class Assumption:
    """A value put in the place of an unknown input, with name, date and reason."""

    key: str
    value: Value
    by: str
    date: str
    reason: str
    origin: Origin = Origin()


@dataclass(frozen=True)
class Step:
    """One recorded number.

    Attributes
    ----------
    key, title : str
    value : Value
        What the later steps use.
    unit : str
        Unit of the value, coherent SI unless the key says otherwise.
    function : str
        Dotted name of the function that computed it; "" for an input.
    inputs : tuple of (parameter, key)
    origin : Origin or None
        Where an input came from; None for a computed value.
    overrule : Overrule or None
        Set where the engineer replaced the computed value.
    computed : Value
        The value before an overrule or an assumption.
    rests_on : frozenset of str
        Keys of the assumptions that this value rests on.
    """

    key: str
    title: str
    value: Value
    unit: str
    function: str = ""
    inputs: tuple[tuple[str, str], ...] = ()
    origin: Origin | None = None
    overrule: Overrule | None = None
    computed: Value = None
    rests_on: frozenset[str] = frozenset()


@dataclass
class Trace:
    """The steps of one computation, in order, and what the engineer must know about them."""

    steps: dict[str, Step] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    requirements: list[Requirement] = field(default_factory=list)
    _overrules: dict[str, Overrule] = field(default_factory=dict)
    _memory: Memory | None = field(default=None, repr=False, compare=False)
    _groups: dict[str, dict[str, None]] = field(default_factory=dict, repr=False, compare=False)
    _ungrouped: list[str] = field(default_factory=list, repr=False, compare=False)

    @classmethod
    def start(
        cls,
        givens: Iterable[Given],
        overrules: Iterable[Overrule] = (),
        assumptions: Iterable[Assumption] = (),
        memory: Memory | None = None,
    ) -> "Trace":
        """Open a trace with the inputs of a job, and what is remembered of an earlier one."""
        trace = cls(_overrules={overrule.key: overrule for overrule in overrules}, _memory=memory)
        assumed = {assumption.key: assumption for assumption in assumptions}
        for given in givens:
            trace.give(given, assumed.get(given.key))
        return trace

    def give(self, given: Given, assumption: Assumption | None = None) -> None:
        """Record an input; an assumption takes the place of an unknown one only."""
        step = Step(
            key=given.key,
            title=given.title,
            value=given.value,
            unit=given.unit,
            origin=given.origin,
            computed=given.value,
        )
        if assumption is not None and is_unknown(given.value):
            step = replace(step, value=assumption.value, rests_on=frozenset({given.key}))
        if isinstance(step.value, Unknown) and not step.value.causes:
            step = replace(step, value=replace(step.value, causes=(given.key,)))
        self.put(step)

    def forget(self) -> None:
        """Let go of what is remembered of an earlier computation; this one is done."""
        self._memory = None

    def put(self, step: Step) -> None:
        """Record a step that was made elsewhere."""
        if step.key not in self.steps:
            self._ungrouped.append(step.key)
        self.steps[step.key] = step

    def compute(
        self, key: str, function: Callable[..., Value], *, unit: str, title: str, **inputs: str
    ) -> Value:
        """Call `function` with the values behind the given keys and record the step.

        An unknown input makes an unknown result. What the function cannot compute becomes unknown
        with the reason, and a finding. Where a sister function `<name>_range` stands beside it, its
        findings are collected, so that a published range is never left in silence.

        Returns
        -------
        Value
            The value that later steps use: the computed one, or the engineer's overrule.
        """
        arguments = {name: self.value(source) for name, source in inputs.items()}
        unknown = [value for value in arguments.values() if is_unknown(value)]
        value = self._unknown(unknown) if unknown else self._called(title, key, function, arguments)
        return self._record(key, function, value, unit, title, inputs)

    def _record(
        self,
        key: str,
        function: Callable[..., Value],
        value: Value,
        unit: str,
        title: str,
        inputs: Mapping[str, str],
    ) -> Value:
        overrule = None if key.endswith(JUDGED) else self._overrules.get(key)
        taken = value if overrule is None else overrule.value
        rests_on = [on for source in inputs.values() if (on := self.steps[source].rests_on)]
        self.put(
            Step(
                key=key,
                title=title,
                value=taken,
                unit=unit,
                function=f"{function.__module__}.{function.__qualname__}",
                inputs=tuple(inputs.items()),
                overrule=overrule,
                computed=value,
                rests_on=frozenset().union(*rests_on) if rests_on else _NOTHING,
            )
        )
        return taken

    def require(self, requirement: Requirement) -> Status:
        """Judge a requirement, record its status and slack, and keep it for what binds."""
        key = requirement.key
        operator = self.constant(
            f"{key}.operator", requirement.operator, "Comparison", source=requirement.source
        )
        inputs = {"value": requirement.value, "limit": requirement.limit, "operator": operator}
        value, limit = self.value(requirement.value), self.value(requirement.limit)
        self._record(
            f"{key}.status",
            status_of,
            status_of(value, limit, requirement.operator),
            "",
            f"{requirement.title}: status",
            inputs,
        )
        self.compute(
            f"{key}.slack",
            slack_of,
            unit="-",
            title=f"{requirement.title}: reserve",
            operator=operator,
            scale=self.constant(
                f"{key}.scale",
                requirement.scale,
                "Scale of the reserve",
                unit=requirement.unit,
                source="derived",
            ),
            value=requirement.value,
            limit=requirement.limit,
        )
        self.requirements.append(requirement)
        status: Status = self.value(f"{key}.status")
        return status

    def value(self, key: str) -> Value:
        """Value behind a key."""
        try:
            return self.steps[key].value
        except KeyError:
            raise UnknownName(
                f"No value called '{key}' has been computed. Compute it before it is used."
            ) from None

    def known(self, *keys: str) -> bool:
        """Whether all these keys exist and none of them is unknown."""
        return all(k in self.steps and not is_unknown(self.steps[k].value) for k in keys)

    def names(self, prefix: str) -> tuple[str, ...]:
        """Names of the members of a group: `names("inputs.spot")` -> ("low-1", "low-2")."""
        for key in self._ungrouped:
            at = key.find(".")
            while at >= 0:
                end = key.find(".", at + 1)
                name = key[at + 1 : end] if end >= 0 else key[at + 1 :]
                self._groups.setdefault(key[:at], {})[name] = None
                at = end
        self._ungrouped.clear()
        return tuple(self._groups.get(prefix, ()))

    def __contains__(self, key: str) -> bool:
        return key in self.steps

    def __iter__(self) -> Iterator[Step]:
        return iter(self.steps.values())

    def unused_overrules(self) -> tuple[Overrule, ...]:
        """Overrules that took no place: of no computed value, or of a status, which follows."""
        used = {step.key for step in self if step.overrule is not None}
        return tuple(o for o in self._overrules.values() if o.key not in used)

    def constant(self, key: str, value: Value, title: str, *, unit: str = "", source: str) -> str:
        """Record a value fixed by the program, with its source, and return its key."""
        self.give(Given(key, value, unit, title, Origin(source=source)))
        return key

    def _unknown(self, unknown: Iterable[Unknown]) -> Unknown:
        causes = tuple(dict.fromkeys(cause for u in unknown for cause in u.causes))
        titles = ", ".join(self.steps[c].title.lower() if c in self.steps else c for c in causes)
        measures = tuple(dict.fromkeys(u.measure for u in unknown if u.measure))
        return Unknown(f"not known: {titles}", "; ".join(measures), causes)

    def _called(
        self, title: str, key: str, function: Callable[..., Value], arguments: Mapping[str, Value]
    ) -> Value:
        """What the function gives, taken from the memory where the same was asked before."""
        memory = self._memory
        if memory is None:
            return self._call(title, key, function, arguments)
        call = memory.recall(key, function, title, arguments)
        if call is None:
            told = len(self.findings)
            twin = memory.quick.get(function, function)
            value = self._call(title, key, function, arguments, by=twin)
            call = Call(function, title, arguments, value, tuple(self.findings[told:]))
        else:
            self.findings.extend(call.findings)
        memory.calls[key] = call
        return call.value

    def _call(
        self,
        title: str,
        key: str,
        function: Callable[..., Value],
        arguments: Mapping[str, Value],
        *,
        by: Callable[..., Value] | None = None,
    ) -> Value:
        try:
            value = (by or function)(**arguments)
        except TilewaterError as error:
            message = str(error)
            self.findings.append(Finding("cannot-compute", "fails", title, message))
            return Unknown(message, causes=(key,))
        self.findings.extend(_range_findings(function, arguments))
        return value.item() if isinstance(value, np.generic) else value


@cache
def _range_sister(
    function: Callable[..., Value],
) -> tuple[Callable[..., tuple[Finding, ...]], frozenset[str]] | None:
    module = sys.modules.get(function.__module__)
    sister = getattr(module, f"{function.__name__}_range", None)
    return None if sister is None else (sister, frozenset(inspect.signature(sister).parameters))


def _range_findings(
    function: Callable[..., Value], arguments: Mapping[str, Value]
) -> tuple[Finding, ...]:
    sister = _range_sister(function)
    if sister is None:
        return ()
    check, parameters = sister
    return check(**{name: value for name, value in arguments.items() if name in parameters})
