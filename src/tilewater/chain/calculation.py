# SPDX-License-Identifier: Apache-2.0
"""The calculation of a design as an engineer checks it: chapters, methods, numbered steps.

All of it is read from the trace. Every step stands in it once: an input, a value that the program
fixes, a computed number under the method that computed it, or a rule. Each has a mark, so that a
number can be followed from where it is used to where it was made. A method that was used for many
spots or seasons stands once, with its steps below it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import JUDGED, Step, Trace
from tilewater.chain.calculation_methods import MethodText, method_text

INPUT = "inputs."
CHAPTERS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("D", "Drain flow", ("drain_flow", "water")),
    ("M", "Main", ("main", "old_main", "submain", "areas", "pump")),
    ("G", "Geometry of the bed", ("bed", "footprint", "right_of_way")),
    ("V", "Ditch levels", ("ditch", "ditch_over_bypass")),
    ("H", "Hydraulics of the bed", ("pipes", "system", "capacity", "seasons", "sizing")),
    (
        "B",
        "Boards and elevations",
        ("boards", "board_step", "structure", "elevations", "bypass", "field_storm"),
    ),
    ("F", "Field", ("field", "water.spot", "property_line", "pool_reach_m", "highest_crest_m")),
    ("U", "Groundwater and uplift", ("uplift", "flotation")),
    ("E", "Emptying and start-up", ("drain_down", "emptying", "start_up", "feed_gate")),
    ("T", "Frost", ("frost",)),
    ("N", "Nitrate by days and years", ("days", "removal", "probability")),
    ("L", "Life", ("life",)),
    ("Q", "Quantities", ("quantities",)),
    ("C", "Cost", ("cost",)),
    ("P", "Plan and stakes", ("plan", "cross")),
    ("S", "Standard", ("criteria", "rules")),
)
"""Letter of the marks, title, and groups of keys of each chapter; the longest group counts."""
OTHER = ("X", "Other steps")
RULE = "R"
GIVEN = "i"
FIXED = "k"


@dataclass(frozen=True)
class Entry:
    """One step with its mark, and what was put in: parameter, step, mark of that step."""

    mark: str
    step: Step
    inputs: tuple[tuple[str, Step, str], ...] = ()


@dataclass(frozen=True)
class Method:
    """A function with what its docstring says, and the steps that it computed."""

    text: MethodText
    entries: tuple[Entry, ...]


@dataclass(frozen=True)
class Chapter:
    """Methods that belong together."""

    title: str
    methods: tuple[Method, ...]


@dataclass(frozen=True)
class Ruling:
    """A rule as judged: its value and limit with their marks, its reserve, its status."""

    mark: str
    requirement: Requirement
    value: Step
    value_mark: str
    limit: Step
    limit_mark: str
    slack: Step
    scale: Step
    status: Step


@dataclass(frozen=True)
class Calculation:
    """Every step of a trace, each once.

    Attributes
    ----------
    inputs : tuple of Entry
        What was given, in the order of the job file.
    fixed : tuple of Entry
        What the program fixes, each with its source.
    chapters : tuple of Chapter
    rulings : tuple of Ruling
    judging : tuple of MethodText
        How a rule is judged and its reserve counted.
    marks : mapping of key to mark
    """

    inputs: tuple[Entry, ...]
    fixed: tuple[Entry, ...]
    chapters: tuple[Chapter, ...]
    rulings: tuple[Ruling, ...]
    judging: tuple[MethodText, ...]
    marks: Mapping[str, str]

    @property
    def methods(self) -> tuple[MethodText, ...]:
        """Every method that was used."""
        return (*(m.text for chapter in self.chapters for m in chapter.methods), *self.judging)


def calculation(trace: Trace) -> Calculation:
    """The calculation behind a design.

    Parameters
    ----------
    trace : Trace
        Its steps. [-]

    Returns
    -------
    Calculation
        Every step once, numbered. [-]
    """
    marks: dict[str, str] = {}
    judged = _judged_keys(trace)
    ordered = _by_method(trace, judged)
    given: list[Step] = []
    fixed: list[Step] = []
    for step in trace:
        if step.function or step.key in judged:
            continue
        group, letter = (given, GIVEN) if step.key.startswith(INPUT) else (fixed, FIXED)
        group.append(step)
        marks[step.key] = f"{letter}{len(group)}"
    for letter, _, methods in ordered:
        steps = [step for of_method in methods.values() for step in of_method]
        marks |= {step.key: f"{letter}{place}" for place, step in enumerate(steps, 1)}
    for place, rule in enumerate(trace.requirements, 1):
        marks |= {f"{rule.key}{end}": f"{RULE}{place}" for end in JUDGED}
    return Calculation(
        inputs=tuple(Entry(marks[step.key], step) for step in given),
        fixed=tuple(Entry(marks[step.key], step) for step in fixed),
        chapters=tuple(
            Chapter(
                title,
                tuple(
                    Method(method_text(function), _entries(trace, marks, steps))
                    for function, steps in methods.items()
                ),
            )
            for _, title, methods in ordered
        ),
        rulings=tuple(_ruling(trace, marks, rule) for rule in trace.requirements),
        judging=_judging(trace),
        marks=marks,
    )


def chapter_of(key: str) -> tuple[str, str]:
    """Letter and title of the chapter that a key belongs to."""
    fitting = [
        (len(group), letter, title)
        for letter, title, groups in CHAPTERS
        for group in groups
        if key == group or key.startswith(f"{group}.")
    ]
    return max(fitting)[1:] if fitting else OTHER


def _judged_keys(trace: Trace) -> frozenset[str]:
    return frozenset(f"{rule.key}{end}" for rule in trace.requirements for end in JUDGED)


def _by_method(
    trace: Trace, judged: frozenset[str]
) -> list[tuple[str, str, dict[str, list[Step]]]]:
    """Computed steps by chapter and function; both in order, empty chapters left out."""
    found: dict[str, dict[str, list[Step]]] = {}
    for step in trace:
        if step.function and step.key not in judged:
            letter, _ = chapter_of(step.key)
            found.setdefault(letter, {}).setdefault(step.function, []).append(step)
    chapters = (*((letter, title) for letter, title, _ in CHAPTERS), OTHER)
    return [(letter, title, found[letter]) for letter, title in chapters if letter in found]


def _entries(trace: Trace, marks: Mapping[str, str], steps: Iterable[Step]) -> tuple[Entry, ...]:
    return tuple(
        Entry(
            marks[step.key],
            step,
            tuple((name, trace.steps[key], marks[key]) for name, key in step.inputs),
        )
        for step in steps
    )


def _ruling(trace: Trace, marks: Mapping[str, str], rule: Requirement) -> Ruling:
    steps = trace.steps
    return Ruling(
        mark=marks[f"{rule.key}.status"],
        requirement=rule,
        value=steps[rule.value],
        value_mark=marks[rule.value],
        limit=steps[rule.limit],
        limit_mark=marks[rule.limit],
        slack=steps[f"{rule.key}.slack"],
        scale=steps[f"{rule.key}.scale"],
        status=steps[f"{rule.key}.status"],
    )


def _judging(trace: Trace) -> tuple[MethodText, ...]:
    functions = dict.fromkeys(
        trace.steps[f"{rule.key}{end}"].function
        for rule in trace.requirements
        for end in (".status", ".slack")
    )
    return tuple(method_text(function) for function in functions)
