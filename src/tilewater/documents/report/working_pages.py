# SPDX-License-Identifier: Apache-2.0
"""Pages of the calculation: each method once, with every step that it worked.

What all steps of a method have in common stands beside its letters, what differs in columns, so
that a page shows the numbers that were put in and not their names again and again.
"""

from collections.abc import Iterator
from dataclasses import is_dataclass

from tilewater.basis.trace import Step
from tilewater.basis.unknown import Unknown
from tilewater.chain.calculation import Entry, Group
from tilewater.chain.calculation_groups import common_beginning
from tilewater.chain.calculation_methods import MethodText
from tilewater.documents.paper.blocks import (
    Block,
    Cell,
    Column,
    Formula,
    Heading,
    Letter,
    Paragraph,
    Run,
    Table,
    Worked,
    number,
)
from tilewater.documents.report.reading import Reading

FEW = 4
"""Inputs that differ from step to step and still stand in columns of their own."""
LONG = 30
"""Letters of a result that still stands in a column."""
LONG_INPUT = 18
"""Letters of what was put in; a longer one stands where it was made, and only its mark here."""
LONGEST = 400
"""Letters of a record that is still told; of a longer one only its members are named."""
LEAST_SHARED = 12
"""Letters that the words of all rows begin with, from which on they stand in the head alone."""
SELF_SAID = ("practice", "derived")
"""Keys of sources that say by themselves how far they were seen."""


def working_pages(reading: Reading) -> tuple[Block, ...]:
    """Chapter after chapter."""
    blocks: list[Block] = [
        Heading("Calculation", 1, new_page=True),
        Paragraph(
            "Every number of the design, each once, under the method that gave it. Behind the "
            "letters of an equation stands what was put in; where it differs from step to step it "
            "stands in the rows. A number in brackets leads back: i an input, k a value that the "
            "program fixes, another letter a step of that chapter. What is only carried to another "
            "place keeps the number of its original. Equations are in metres, seconds and "
            "kilograms unless they say so; values are carried at full precision and printed "
            "rounded."
        ),
    ]
    for chapter in reading.calculation.chapters:
        blocks.append(Heading(chapter.title, 2))
        for group in chapter.groups:
            blocks += _group(reading, group)
    return tuple(blocks)


def _group(reading: Reading, group: Group) -> Iterator[Block]:
    shared = _shared(group)
    held = {name: _put_in_words(reading, *what) for name, what in shared.items()}
    yield formula(group.methods, held)
    differing = _differing(group, shared)
    if len(group.methods) > 1 or _in_columns(reading, group, differing):
        yield _columns(reading, group, differing if _fits(group, differing) else ())
    else:
        for words, (entry,) in group.rows:
            yield _worked(reading, words, entry, shared)


def _shared(group: Group) -> dict[str, tuple[Step, str]]:
    """Inputs that every step takes from the same place, by name."""
    first, *rest = ({name: (s, mark) for name, s, mark in e.inputs} for e in group.entries)
    return {
        name: what
        for name, what in first.items()
        if all(name in other and other[name][1] == what[1] for other in rest)
    }


def _differing(group: Group, shared: dict[str, tuple[Step, str]]) -> tuple[str, ...]:
    names = (name for entry in group.entries for name, _, _ in entry.inputs)
    return tuple(dict.fromkeys(name for name in names if name not in shared))


def formula(texts: tuple[MethodText, ...], shared: dict[str, str]) -> Formula:
    """A method, or several on the same inputs; beside their letters what all steps share."""
    every = dict.fromkeys(line for text in texts for line in text.equations)
    is_equation = any("=" in line for line, _ in every)
    lines = tuple(
        _without_ticks(line) + (f"    ({source})" if source else "") for line, source in every
    )
    parameters = tuple(dict.fromkeys(p for text in texts for p in text.parameters))
    return Formula(
        title="; ".join(text.summary.rstrip(".") for text in texts),
        lines=lines if is_equation else (),
        prose="" if is_equation else "; ".join(lines),
        letters=tuple(_letters(parameters, shared)) if every or shared else (),
        notes=" · ".join(dict.fromkeys(note for text in texts for note in _notes(text))),
    )


def _letters(parameters: tuple[tuple[str, str], ...], shared: dict[str, str]) -> Iterator[Letter]:
    told = set()
    for names, meaning in parameters:
        parts = names.split(", ")
        told.update(parts)
        if len(parts) == 1 and names in shared:
            yield Letter(names, _without_unit(meaning), shared[names])
        else:
            yield Letter(names, _meaning(meaning))
            yield from (Letter(name, "", shared[name]) for name in parts if name in shared)
    yield from (Letter(name, "", value) for name, value in shared.items() if name not in told)


def _without_ticks(text: str) -> str:
    return text.replace("`", "")


def _meaning(meaning: str) -> str:
    words, bracket, unit = _without_ticks(meaning).rpartition(" [")
    return f"{words.rstrip('.')} [{unit}" if bracket and unit != "-]" else words or unit


def _without_unit(meaning: str) -> str:
    """What a letter means, its unit left out, since the value behind it brings its own."""
    words, bracket, rest = _without_ticks(meaning).rpartition(" [")
    return words.rstrip(".") if bracket else rest.rstrip(".")


def _notes(text: MethodText) -> Iterator[str]:
    told = [
        f"{source.key}{f', {source.place}' if source.place else ''}"
        + ("" if source.key in SELF_SAID else f" ({_brief(source.honesty)})")
        for source in text.sources
    ]
    if told:
        yield _without_ticks("; ".join(told))
    if text.checked_by:
        yield f"checked by: {', '.join(text.checked_by)}"


def _brief(honesty: str) -> str:
    return honesty.partition(",")[0]


def _fits(group: Group, differing: tuple[str, ...]) -> bool:
    """Whether the inputs that differ are few, and the same in every row."""
    names = {tuple(name for name, _, _ in entry.inputs) for entry in group.entries}
    return len(names) == 1 and len(differing) <= FEW


def _in_columns(reading: Reading, group: Group, differing: tuple[str, ...]) -> bool:
    if len(group.entries) < 2 or not _fits(group, differing):
        return False
    return all(_is_put_together(e) or len(reading.said(e.step)) <= LONG for e in group.entries)


def _is_put_together(entry: Entry) -> bool:
    """Whether a step is a record of its inputs alone, so that it gives no number to print."""
    if entry.step.function.rpartition(".")[2][:1].isupper():
        return True
    put_in = [step.value for _, step, _ in entry.inputs]
    return is_dataclass(entry.step.value) and all(
        any(member is one for one in put_in) for member in vars(entry.step.value).values()
    )


def _columns(reading: Reading, group: Group, differing: tuple[str, ...]) -> Table:
    is_one = len(group.methods) == 1
    is_record = all(map(_is_put_together, group.entries))
    gives = [] if is_record else [Column(head or "gives", "point") for head in group.heads]
    begin = _common_beginning([words for words, _ in group.rows])
    return Table(
        (
            *((Column("no."),) if is_one else ()),
            Column(f"{begin}…" if begin else "step", wide=True),
            *(Column(Run(name, "code"), "point") for name in differing),
            *gives,
        ),
        tuple(
            (
                *((_mark(entries[0]),) if is_one else ()),
                _row_words(reading, words.removeprefix(begin), entries[0], differing),
                *_put_in(reading, entries[0], differing),
                *(_result(reading, entry, marked=not is_one) for entry in entries[: len(gives)]),
            )
            for words, entries in group.rows
        ),
        small=True,
    )


def _common_beginning(rows: list[str]) -> str:
    """Whole words that all rows begin with; "" where that is little."""
    if len(set(rows)) == 1:
        return ""
    begin = common_beginning(rows)
    begin = begin[: begin.rfind(" ") + 1]
    return begin if len(begin) >= LEAST_SHARED else ""


def _row_words(reading: Reading, words: str, entry: Entry, shown: tuple[str, ...]) -> Cell:
    """Words of a row; below them what was put in, where no column shows it."""
    if shown or len(entry.inputs) <= 1:
        return words
    told = ", ".join(
        f"{name} = {_put_in_words(reading, step, mark)}" for name, step, mark in entry.inputs
    )
    return words, Run(f"\nwith {told}", "small")


def _put_in(reading: Reading, entry: Entry, names: tuple[str, ...]) -> Iterator[Cell]:
    found = {name: (step, mark) for name, step, mark in entry.inputs}
    for name in names:
        step, mark = found[name]
        said, place = reading.said(step), Run(f"[{mark}]", "small")
        yield place if len(said) > LONG_INPUT else number(said, place)


def _put_in_words(reading: Reading, step: Step, mark: str) -> str:
    """A value that was put in, with its mark; one that is long stands where it was made."""
    said = reading.said(step)
    return f"[{mark}]" if len(said) > LONG else f"{said} [{mark}]"


def _worked(
    reading: Reading, words: str, entry: Entry, shared: dict[str, tuple[Step, str]]
) -> Worked:
    """One step in lines: what no letter has told yet, and a long result, stand below it."""
    said = reading.said(entry.step)
    told = ", ".join(
        f"{name} = {_put_in_words(reading, step, mark)}"
        for name, step, mark in entry.inputs
        if name not in shared
    )
    below = [f"with {told}"] if told else []
    if _is_put_together(entry):
        return Worked(_mark(entry), words, "", "\n".join(below))
    if len(said) > LONG and not isinstance(entry.step.value, Unknown):
        return Worked(_mark(entry), words, "", "\n".join((*below, _told(entry.step, said))))
    value = _value(reading, entry.step)
    return Worked(_mark(entry), words, value, "\n".join(below))


def _told(step: Step, said: str) -> str:
    """A long result; of a long record the names of its members, each a step where it is used."""
    if len(said) <= LONGEST:
        return said
    if isinstance(step.value, tuple) and is_dataclass(step.value[0]):
        return f"{len(step.value)} records of {', '.join(vars(step.value[0]))}"
    return f"a record of {', '.join(vars(step.value))}" if is_dataclass(step.value) else said


def _mark(entry: Entry) -> Run:
    return Run(entry.mark, "muted", at=entry.mark)


def _result(reading: Reading, entry: Entry, *, marked: bool) -> Cell:
    """What a step gives, for a column that lines up."""
    step = entry.step
    text = reading.said(step)
    here = Run(entry.mark, "small", at=entry.mark) if marked else None
    if step.overrule is not None or isinstance(step.value, Unknown):
        told = _value(reading, step)
        return (*told, " ", here) if here else told
    if step.rests_on:
        here = Run("assumed" + (f" {entry.mark}" if marked else ""), "small", at=entry.mark)
    return number(text, here, "bold")


def _value(reading: Reading, step: Step) -> tuple[str | Run, ...]:
    text = reading.said(step)
    if isinstance(step.value, Unknown):
        return (Run("? not known", "bold"),)
    if step.overrule is not None:
        computed = reading.words.of_key(step.key, step.computed, step.unit)
        return Run(f"{text} overruled", "bold"), Run(f"; computed {computed}", "small")
    if step.rests_on:
        return Run(text, "bold"), Run(" assumed", "small")
    return (Run(text, "bold"),)
