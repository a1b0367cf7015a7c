# SPDX-License-Identifier: Apache-2.0
"""Steps that are told together: copies under the mark of their original, sisters in one table.

Sisters are methods that work on the same inputs row for row, such as the levels along one way of
the water. They are told in one table when their titles fall apart into what the method gives and
what the row is of, so that nothing of a title is lost.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from tilewater.basis.trace import Step, Trace
from tilewater.hydrology.drain_flow import largest_of, least_of
from tilewater.practices.bed.system_parts import total_of
from tilewater.practices.rules import same

ENDS = (", ", ": ", " ")
"""What may part a title into a head and the words of its row, the widest first."""
BETWEEN = " ,:"


def _dotted(function: object) -> str:
    return f"{getattr(function, '__module__', '')}.{getattr(function, '__qualname__', '')}"


COPIES = frozenset({_dotted(same)})
OF_ONE = frozenset(_dotted(function) for function in (least_of, largest_of, total_of))
"""Functions of several values, which hand a single one on as it is."""


@dataclass(frozen=True)
class Sisters:
    """Functions on the same inputs.

    Attributes
    ----------
    functions : tuple of str
    heads : tuple of str
        What each function gives; "" where one function stands alone.
    rows : tuple of (str, tuple of Step)
        Words of each row, and its step by each function.
    """

    functions: tuple[str, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Step, ...]], ...]


def carried_from(trace: Trace, step: Step) -> str:
    """Key of the step that this one only hands on; "" for one that is a number of its own.

    Parameters
    ----------
    trace : Trace
        The steps. [-]
    step : Step
        One of them. [-]

    Returns
    -------
    str
        The original, through every copy on the way. [-]
    """
    origin = ""
    while len(step.inputs) == 1 and step.overrule is None and _hands_on(step):
        origin = step.inputs[0][1]
        step = trace.steps[origin]
    return origin


def common_beginning(texts: Sequence[str]) -> str:
    """Letters that all texts begin with.

    Parameters
    ----------
    texts : sequence of str
        One text at least. [-]

    Returns
    -------
    str
        The longest beginning. [-]
    """
    first, last = min(texts), max(texts)
    count = next((n for n, letter in enumerate(first) if last[n] != letter), len(first))
    return first[:count]


def _hands_on(step: Step) -> bool:
    return step.function in COPIES or step.function in OF_ONE


def sisters_of(methods: Mapping[str, Sequence[Step]]) -> tuple[Sisters, ...]:
    """Functions of a chapter with their steps, those on the same inputs together.

    Parameters
    ----------
    methods : mapping of str to sequence of Step
        Steps by function, in order. [-]

    Returns
    -------
    tuple of Sisters
        In the order of the first of each. [-]
    """
    by_inputs: dict[object, list[str]] = {}
    for function, steps in methods.items():
        by_inputs.setdefault(_family(function, steps), []).append(function)
    found: list[Sisters] = []
    for functions in by_inputs.values():
        together = _told_together([methods[function] for function in functions])
        if len(functions) > 1 and together is not None:
            heads, rows = together
            found.append(Sisters(tuple(functions), heads, rows))
        else:
            found += (_alone(function, methods[function]) for function in functions)
    order = list(methods)
    return tuple(sorted(found, key=lambda one: order.index(one.functions[0])))


def _family(function: str, steps: Sequence[Step]) -> object:
    """What sisters have in common; a lone step has none, since a table of one row tells less."""
    if len(steps) < 2:
        return function
    return tuple(step.inputs for step in steps)


def _alone(function: str, steps: Sequence[Step]) -> Sisters:
    titles = [step.title for step in steps]
    parted = [step.key.split(".") for step in steps]
    return Sisters(
        (function,),
        ("",),
        tuple(
            (_told_apart(step.title, parts, titles, parted), (step,))
            for step, parts in zip(steps, parted, strict=True)
        ),
    )


def _told_apart(title: str, parts: list[str], titles: list[str], every: list[list[str]]) -> str:
    """A title; where another step has the same, with the part of the key that differs."""
    if titles.count(title) == 1:
        return title
    alike = [other for other, name in zip(every, titles, strict=True) if name == title]
    places = range(min(map(len, alike)))
    place = next((p for p in places if len({other[p] for other in alike}) > 1), None)
    return title if place is None else f"{title}, {parts[place].replace('_', ' ')}"


Rows = tuple[tuple[str, tuple[Step, ...]], ...]
Halves = tuple[tuple[str, ...], str]
Parted = Callable[[list[str]], Halves | None]


def _told_together(columns: Sequence[Sequence[Step]]) -> tuple[tuple[str, ...], Rows] | None:
    """Heads and rows of a table; None where a title does not fall apart into the two."""
    rows = list(zip(*columns, strict=True))
    titles = [[step.title for step in row] for row in rows]
    ways: list[Callable[[list[str]], Halves | None]] = [
        partial(_with_tail, end=end) for end in ENDS
    ]
    for parted in (*ways, _with_head):
        halves = [half for row in titles if (half := parted(row)) is not None]
        heads = {half[0] for half in halves}
        if len(halves) == len(rows) and len(heads) == 1:
            words = (half[1] for half in halves)
            return heads.pop(), tuple(zip(words, rows, strict=True))
    return None


def _with_tail(titles: list[str], end: str) -> Halves | None:
    """Titles that end alike: what each begins with, and the longest common end."""
    alike = common_beginning([title[::-1] for title in titles])[::-1]
    place = alike.find(end, 1 if len(alike) == len(min(titles, key=len)) else 0)
    if place < 0:
        return None
    tail = alike[place:]
    return _halves([title[: -len(tail)] for title in titles], tail)


def _with_head(titles: list[str]) -> Halves | None:
    """Titles that begin alike, the shortest with nothing more: what each ends with."""
    head = min(titles, key=len)
    if not all(title.startswith(head) for title in titles):
        return None
    return _halves([title[len(head) :].lstrip(BETWEEN) for title in titles], head)


def _halves(heads: list[str], words: str) -> Halves | None:
    return (tuple(heads), words.lstrip(BETWEEN)) if len(set(heads)) == len(heads) else None
