# SPDX-License-Identifier: Apache-2.0
"""Where a number of a job comes from, and where it is changed: its inputs' boxes, an overrule."""

from collections.abc import Mapping
from dataclasses import dataclass
from http import HTTPStatus
from typing import Any, TypeGuard

from fastapi import HTTPException

from tilewater.basis.errors import TilewaterError, UnknownName
from tilewater.basis.trace import JUDGED, Step, Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.explain import keys_of
from tilewater.desk.boxes import Entry, Filled
from tilewater.desk.forms import NEW, at, entry_of, question_of
from tilewater.desk.question_blocks import question_of_key
from tilewater.documents.pages.day_page import rests_on_route, run_behind
from tilewater.documents.pages.explain_page import CHECKS, explain_page
from tilewater.documents.pages.said import Block, Part
from tilewater.documents.words import Words
from tilewater.job.schema import JobFile, asks, trace_key


def explained(trace: Trace, key: str, words: Words) -> list[Part]:
    """Where a number of a trace comes from, as parts of a page of its own.

    Raises
    ------
    HTTPException
        If the trace has no such number.
    """
    try:
        return list(explain_page(trace, key, words))
    except UnknownName as error:
        raise HTTPException(HTTPStatus.NOT_FOUND, str(error)) from None


@dataclass(frozen=True)
class Typed:
    """An input that is typed in the job file: its box, what it is, what it says, its line."""

    path: str
    slug: str
    title: str
    value: str
    line: int | None


@dataclass(frozen=True)
class Judgement:
    """A form that puts a value in the place of a number, or takes it back.

    Attributes
    ----------
    table : str
        `overrule` of a computed number, `assume` of an input that is not known.
    name : str
        Name of its entry in the file, there or to be.
    key : str
        Of the number, as the entry says it.
    entry : Entry or None
        Boxes to fill in; None where it is there already.
    """

    table: str
    name: str
    key: str
    entry: Entry | None


@dataclass(frozen=True)
class NumberShown:
    """A number, or the numbers of a group, as a page.

    Attributes
    ----------
    key, title, slug : str
        Its key, what it is, the question it stands behind.
    parts, checks : tuple of Part
        What it is and where it comes from; the tests that check it.
    typed : tuple of Typed
        The boxes from which it comes, nearest first.
    judgement : Judgement or None
    has_days : bool
        Whether a day of it can be worked again.
    """

    key: str
    title: str
    slug: str
    parts: tuple[Part, ...]
    checks: tuple[Part, ...] = ()
    typed: tuple[Typed, ...] = ()
    judgement: Judgement | None = None
    has_days: bool = False

    @property
    def box_paths(self) -> frozenset[str]:
        """Paths of the boxes of its judgement."""
        entry = self.judgement.entry if self.judgement else None
        return frozenset(box.path for box in entry.boxes) if entry else frozenset()


def number_shown(trace: Trace, key: str, words: Words, filled: Filled) -> NumberShown:
    """A key of the result, of the job file or of a group.

    Raises
    ------
    UnknownName
        If no number has that key.
    """
    keys = keys_of(trace, key)
    parts = tuple(explain_page(trace, key, words))
    if len(keys) > 1:
        return NumberShown(key, key, question_of_key(keys[0]), parts)
    step = trace.steps[keys[0]]
    return NumberShown(
        key=step.key,
        title=step.title,
        slug=question_of_key(step.key),
        parts=tuple(part for part in parts if not _are_checks(part)),
        checks=tuple(each for part in parts if _are_checks(part) for each in part.body),
        typed=_typed(trace, step, words, filled.data),
        judgement=_judgement(step, filled),
        has_days=_has_days(trace, step.key),
    )


def _are_checks(part: Part) -> TypeGuard[Block]:
    return isinstance(part, Block) and part.title == CHECKS


def _typed(trace: Trace, step: Step, words: Words, data: Mapping[str, Any]) -> tuple[Typed, ...]:
    """The boxes of a number: its own, else those of what it is computed from, nearest first."""
    boxes = {trace_key(path, ask): ".".join(path) for path, _, ask in asks(JobFile, data)}
    found: list[Typed] = []
    seen, pending = {step.key}, [step.key]
    while pending:
        here = trace.steps[pending.pop(0)]
        if here.key in boxes:
            path = boxes[here.key]
            line = here.origin.line if here.origin is not None and here.origin.text else None
            value = words.of_step(here)
            found.append(Typed(path, question_of(path), here.title, value, line))
        fresh = [source for _, source in here.inputs if source not in seen]
        seen.update(fresh)
        pending += fresh
    return tuple(found)


def _judgement(step: Step, filled: Filled) -> Judgement | None:
    """How a number is overruled or assumed; None where neither can be."""
    if step.function:
        table, key = "overrule", step.key
        if step.key.endswith(JUDGED):
            return None
    elif step.key.startswith("inputs.") and question_of(step.key):
        table, key = "assume", step.key
        if not is_unknown(step.value) and not step.rests_on:
            return None
    else:
        return None
    there = at(filled.data, table)
    for name, entry in there.items() if isinstance(there, Mapping) else ():
        if isinstance(entry, Mapping) and str(entry.get("key")) in _spellings(key):
            return Judgement(table, name, key, None)
    name = free_name(key, there if isinstance(there, Mapping) else {})
    entry = entry_of(table, filled)
    told = (f"{NEW}{table}", f"{NEW}{table}.key")  # both follow from the number
    boxes = tuple(box for box in entry.boxes if box.path not in told)
    return Judgement(table, name, key, Entry(entry.path, name, boxes))


def _spellings(key: str) -> tuple[str, ...]:
    """A key as the trace has it, and as the file may have it, without the ending of its unit."""
    bare = key.removeprefix("inputs.")
    return (key, bare, *(bare[: -len(end)] for end in _ENDS if bare.endswith(end)))


_ENDS = tuple(f"_{unit}" for unit in ("m3_s", "m_s", "m2", "m3", "m", "s", "c", "kg", "usd", "deg"))


def free_name(key: str, there: Mapping[str, Any]) -> str:
    """A name for the entry of a key that no other has."""
    name = key.removeprefix("inputs.").replace(".", "-").replace("_", "-").casefold().strip("-")
    number, free = 2, name
    while free in there:
        free, number = f"{name}-{number}", number + 1
    return free


def _has_days(trace: Trace, key: str) -> bool:
    if rests_on_route(trace, key):
        return True
    try:
        run_behind(trace, key)
    except TilewaterError:
        return False
    return True
