# SPDX-License-Identifier: Apache-2.0
"""The calculation of a design as an engineer checks it: chapters, methods, numbered steps.

All of it is read from the trace. Every step stands in it once: an input, a value that the program
fixes, a computed number under the method that computed it, or a rule. Each has a mark, so that a
number can be followed from where it is used to where it was made; one that is only carried to
another place has the mark of its original. A method that was used for many spots or seasons stands
once, with its steps below it, and methods on the same inputs stand together.
"""

from collections.abc import Mapping, Set
from dataclasses import dataclass

from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import JUDGED, Step, Trace
from tilewater.chain.calculation_groups import Sisters, carried_from, sisters_of
from tilewater.chain.calculation_methods import MethodText, method_text

INPUT = "inputs."
CHAPTERS: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("D", "Drain flow", ("drain_flow", "water")),
    ("M", "Main", ("main", "old_main", "submain", "areas", "pump")),
    ("G", "Geometry of the bed", ("bed", "footprint", "right_of_way")),
    ("J", "Buffer: soil, line, bank", ("buffer", "widest_cut")),
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
    ("N", "Nitrate by days and years", ("days", "removal", "probability", "nitrate", "updated")),
    ("W", "What decides, what to measure next", ("decides", "advice", "compare")),
    ("A", "Side effects", ("side_effects",)),
    ("L", "Life", ("life",)),
    ("Q", "Quantities", ("quantities",)),
    ("C", "Cost", ("cost",)),
    ("P", "Plan and stakes", ("plan", "cross")),
    ("S", "Standard", ("criteria", "rules")),
)
"""Letter of the marks, title, and groups of keys of each chapter; the longest group counts."""
_CHAPTER_OF_GROUP = {
    group: (letter, title) for letter, title, groups in CHAPTERS for group in groups
}
OTHER = ("X", "Other steps")
RULE = "R"
GIVEN = "i"
FIXED = "k"


@dataclass(frozen=True)
class Entry:
    """One step with its mark, and what was put in: parameter, step, mark of that step.

    For what was only carried, the step is its original.
    """

    mark: str
    step: Step
    inputs: tuple[tuple[str, Step, str], ...] = ()


@dataclass(frozen=True)
class Group:
    """Methods on the same inputs, most often one alone.

    Attributes
    ----------
    methods : tuple of MethodText
        What their docstrings say.
    heads : tuple of str
        What each method gives; "" for one alone.
    rows : tuple of (str, tuple of Entry)
        Words of each row, and its step by each method. With the head they are the step's title.
    """

    methods: tuple[MethodText, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Entry, ...]], ...]

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Every step, row by row."""
        return tuple(entry for _, entries in self.rows for entry in entries)


@dataclass(frozen=True)
class Chapter:
    """Methods that belong together."""

    title: str
    groups: tuple[Group, ...]


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
    """Every step of a trace, each once, or the mark of what it was carried from.

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
    carried : mapping of key to key
        Each step that only hands on another, with its original.
    """

    inputs: tuple[Entry, ...]
    fixed: tuple[Entry, ...]
    chapters: tuple[Chapter, ...]
    rulings: tuple[Ruling, ...]
    judging: tuple[MethodText, ...]
    marks: Mapping[str, str]
    carried: Mapping[str, str]

    @property
    def methods(self) -> tuple[MethodText, ...]:
        """Every method that was used."""
        groups = (group for chapter in self.chapters for group in chapter.groups)
        return (*(method for group in groups for method in group.methods), *self.judging)


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
    carried = {s.key: origin for s in trace if (origin := carried_from(trace, s))}
    chapters = _by_chapter(trace, judged | set(carried))
    given: list[Step] = []
    fixed: list[Step] = []
    for step in trace:
        if step.function or step.key in judged:
            continue
        group, letter = (given, GIVEN) if step.key.startswith(INPUT) else (fixed, FIXED)
        group.append(step)
        marks[step.key] = f"{letter}{len(group)}"
    for letter, _, groups in chapters:
        steps = [step for group in groups for _, row in group.rows for step in row]
        marks |= {step.key: f"{letter}{place}" for place, step in enumerate(steps, 1)}
    for place, rule in enumerate(trace.requirements, 1):
        marks |= {f"{rule.key}{end}": f"{RULE}{place}" for end in JUDGED}
    marks |= {key: marks[origin] for key, origin in carried.items()}
    return Calculation(
        inputs=tuple(Entry(marks[step.key], step) for step in given),
        fixed=tuple(Entry(marks[step.key], step) for step in fixed),
        chapters=tuple(
            Chapter(title, tuple(_group(trace, marks, carried, group) for group in groups))
            for _, title, groups in chapters
        ),
        rulings=tuple(_ruling(trace, marks, rule) for rule in trace.requirements),
        judging=_judging(trace),
        marks=marks,
        carried=carried,
    )


def chapter_of(key: str) -> tuple[str, str]:
    """Letter and title of the chapter that a key belongs to."""
    begin = key
    while begin:
        if begin in _CHAPTER_OF_GROUP:
            return _CHAPTER_OF_GROUP[begin]
        begin = begin.rpartition(".")[0]
    return OTHER


def _judged_keys(trace: Trace) -> frozenset[str]:
    return frozenset(f"{rule.key}{end}" for rule in trace.requirements for end in JUDGED)


def _by_chapter(trace: Trace, elsewhere: Set[str]) -> list[tuple[str, str, tuple[Sisters, ...]]]:
    """Computed steps by chapter and function; both in order, empty chapters left out."""
    found: dict[str, dict[str, list[Step]]] = {}
    for step in trace:
        if step.function and step.key not in elsewhere:
            letter, _ = chapter_of(step.key)
            found.setdefault(letter, {}).setdefault(step.function, []).append(step)
    chapters = (*((letter, title) for letter, title, _ in CHAPTERS), OTHER)
    return [
        (letter, title, sisters_of(found[letter])) for letter, title in chapters if letter in found
    ]


def _group(
    trace: Trace, marks: Mapping[str, str], carried: Mapping[str, str], sisters: Sisters
) -> Group:
    def entry(step: Step) -> Entry:
        keys = ((name, carried.get(key, key)) for name, key in step.inputs)
        return Entry(
            marks[step.key], step, tuple((name, trace.steps[key], marks[key]) for name, key in keys)
        )

    return Group(
        tuple(method_text(function) for function in sisters.functions),
        sisters.heads,
        tuple((words, tuple(entry(step) for step in steps)) for words, steps in sisters.rows),
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
