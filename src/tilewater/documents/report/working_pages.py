# SPDX-License-Identifier: Apache-2.0
"""Pages of the calculation: each method once, with every step that it worked."""

from collections.abc import Iterator

from tilewater.basis.trace import Step
from tilewater.basis.unknown import Unknown
from tilewater.chain.calculation import Entry, Method, Ruling
from tilewater.chain.calculation_methods import MethodText
from tilewater.documents.paper.blocks import (
    Block,
    Cell,
    Column,
    Formula,
    Heading,
    Paragraph,
    Run,
    Table,
    Words,
    number,
)
from tilewater.documents.report.reading import SHAPES, Reading

FEW = 3
"""Inputs that stand in columns of their own; more of them stand in a line under the step."""
LONG = 30
"""Letters of a value that still stands in a column."""


def working_pages(reading: Reading) -> tuple[Block, ...]:
    """Chapter after chapter, then the rules."""
    blocks: list[Block] = [
        Heading("Calculation", 1, new_page=True),
        Paragraph(
            "Every number of the design, each once, under the method that gave it. A number in "
            "brackets is what was put in: i an input, k a value that the program fixes, a letter a "
            "step of that chapter. Values are carried at full precision and printed rounded."
        ),
    ]
    for place, chapter in enumerate(reading.calculation.chapters):
        blocks.append(Heading(chapter.title, 2, new_page=place > 0))
        for method in chapter.methods:
            blocks += _method(reading, method)
    blocks += _rules(reading)
    return tuple(blocks)


def _method(reading: Reading, method: Method) -> Iterator[Block]:
    yield _formula(method.text)
    if _in_columns(reading, method.entries):
        yield _columns(reading, method.entries)
    else:
        yield _lines(reading, method.entries)


def _formula(text: MethodText) -> Formula:
    is_equation = any("=" in line for line, _ in text.equations)
    lines = tuple(f"{line}    ({source})" if source else line for line, source in text.equations)
    return Formula(
        title=text.summary.rstrip("."),
        lines=lines if is_equation else (),
        prose="" if is_equation else " ".join(lines),
        letters=text.parameters if text.equations else (),
        notes=tuple(_notes(text)),
    )


def _notes(text: MethodText) -> Iterator[Words]:
    told = [
        f"{source.key}{f', {source.place}' if source.place else ''} ({_brief(source.honesty)})"
        for source in text.sources
    ]
    checks = ", ".join(text.checked_by)
    parts = ["; ".join(told)]
    if checks:
        parts.append(f"checked by: {checks}")
    yield " · ".join(part for part in parts if part)


def _brief(honesty: str) -> str:
    return honesty.partition(",")[0]


def _in_columns(reading: Reading, entries: tuple[Entry, ...]) -> bool:
    names = {tuple(name for name, _, _ in entry.inputs) for entry in entries}
    if len(names) != 1 or not 0 < len(next(iter(names))) <= FEW:
        return False
    return all(len(reading.said(entry.step)) <= LONG for entry in entries)


def _columns(reading: Reading, entries: tuple[Entry, ...]) -> Table:
    names = [name for name, _, _ in entries[0].inputs]
    return Table(
        (
            Column("no."),
            Column("step", wide=True),
            *(Column(Run(name, "code"), "point") for name in names),
            Column("gives", "point"),
        ),
        tuple(
            (
                _mark(entry),
                entry.step.title,
                *(_put_in(reading, step, mark) for _, step, mark in entry.inputs),
                _result(reading, entry.step),
            )
            for entry in entries
        ),
        small=True,
    )


def _lines(reading: Reading, entries: tuple[Entry, ...]) -> Table:
    """What was put in stands under the step; a long result too."""
    rows: list[tuple[Cell, ...]] = []
    for entry in entries:
        said = reading.said(entry.step)
        is_long = len(said) > LONG and not isinstance(entry.step.value, Unknown)
        what: list[str | Run] = [entry.step.title]
        if entry.inputs:
            told = (f"{name}{_short(reading, s)} [{mark}]" for name, s, mark in entry.inputs)
            what.append(Run(f"\nwith {', '.join(told)}", "small"))
        if is_long:
            what.append(Run(f"\n{said}", "small"))
        rows.append(
            (_mark(entry), tuple(what), "below" if is_long else _result(reading, entry.step))
        )
    return Table(
        (Column("no."), Column("step", wide=True), Column("gives", "point")),
        tuple(rows),
        small=True,
    )


def _mark(entry: Entry) -> Run:
    return Run(entry.mark, "muted", at=entry.mark)


def _short(reading: Reading, step: Step) -> str:
    """A value that was put in; one that is long stands where it was made."""
    said = reading.said(step)
    return "" if len(said) > LONG else f" = {said}"


def _put_in(reading: Reading, step: Step, mark: str) -> Cell:
    said, place = reading.said(step), Run(f"[{mark}]", "small")
    return place if len(said) > LONG else number(said, place)


def _result(reading: Reading, step: Step) -> Cell:
    text = reading.said(step)
    if isinstance(step.value, Unknown):
        return Run("? not known", "bold")
    if step.overrule is not None:
        computed = reading.words.of_key(step.key, step.computed, step.unit)
        return (Run(f"{text} overruled", "bold"), Run(f"; computed {computed}", "small"))
    if step.rests_on:
        return number(text, Run("assumed", "small"), "bold")
    return number(text, None, "bold")


def _rules(reading: Reading) -> Iterator[Block]:
    if not reading.calculation.rulings:
        return
    yield Heading("Rules judged", 2, new_page=True)
    for text in reading.calculation.judging:
        yield _formula(text)
    yield Table(
        (
            Column("no."),
            Column("rule", wide=True),
            Column("value", "point"),
            Column(""),
            Column("limit", "point"),
            Column("scale", "point"),
            Column("reserve", "point"),
            Column(""),
        ),
        tuple(_ruling(reading, ruling) for ruling in reading.calculation.rulings),
        small=True,
    )


def _ruling(reading: Reading, ruling: Ruling) -> tuple[Cell, ...]:
    rule = ruling.requirement
    slack = reading.said(ruling.slack)
    return (
        Run(ruling.mark, "muted", at=ruling.mark),
        Run(rule.title, "binds" if reading.binds(rule.key) else ""),
        number(reading.said(ruling.value), Run(f"[{ruling.value_mark}]", "small")),
        "at least" if rule.operator == ">=" else "at most",
        number(reading.said(ruling.limit), Run(f"[{ruling.limit_mark}]", "small")),
        number(reading.said(ruling.scale)),
        number(slack),
        Run(
            SHAPES.get(str(ruling.status.value), str(ruling.status.value)),
            "binds" if reading.binds(rule.key) else "",
        ),
    )
