# SPDX-License-Identifier: Apache-2.0
"""Pages of inputs: each value as it counts, as it was typed, and where it came from."""

import re
from collections.abc import Iterator
from itertools import groupby

from tilewater.basis.trace import Origin, Step
from tilewater.basis.unknown import Unknown
from tilewater.chain.calculation import Entry
from tilewater.documents.paper.blocks import Block, Cell, Column, Heading, Paragraph, Run, Table
from tilewater.documents.report.reading import Reading

COLUMNS = (
    Column("no."),
    Column("what", wide=True, share=1.5),
    Column("value", wide=True, share=0.9),
    Column("from", wide=True, share=1.4),
)
MANY = 12
"""Values of a list from which on it stands in a table of its own."""
_TYPED = re.compile(r"(?P<number>-?\d[\d.]*) ?(?P<unit>\S*)")


def input_pages(reading: Reading) -> tuple[Block, ...]:
    """Everything that was given, table by table, then what the program fixes."""
    return (
        Heading("Inputs", 1, new_page=True),
        Paragraph(
            "Each input with its number, by which the calculation calls it, its value, and where "
            "it came from: the line of a file, with what was typed where that is not what stands "
            "here, or a usual value of the program with its source."
        ),
        *_files(reading),
        Heading("Values", 2),
        Table((Column("table"), *COLUMNS), tuple(_rows(reading)), small=True),
        *_lists(reading),
        Heading("Fixed by the program", 2),
        Table(COLUMNS, tuple(_line(reading, e) for e in reading.calculation.fixed), small=True),
    )


def _rows(reading: Reading) -> Iterator[tuple[Cell, ...]]:
    """Inputs, the first of each table of the job file beside its name."""
    for table, entries in groupby(reading.calculation.inputs, key=lambda e: _table(e.step)):
        for place, entry in enumerate(entries):
            yield Run("" if place else table, "bold"), *_line(reading, entry)


def _lists(reading: Reading) -> Iterator[Block]:
    """Long lists of one table and one length, side by side."""
    long = [entry for entry in reading.calculation.inputs if _is_list(entry.step)]
    for table, group in groupby(long, key=lambda e: (_table(e.step), len(e.step.value))):
        entries = tuple(group)
        yield Heading(f"{table[0]}, as read", 3)
        yield Table(
            tuple(
                Column(
                    (entry.step.title, " ", Run(f"[{entry.mark}]", "small")),
                    "left" if isinstance(entry.step.value[0], str | bool) else "right",
                    wide=isinstance(entry.step.value[0], str) and place > 0,
                )
                for place, entry in enumerate(entries)
            ),
            tuple(
                tuple(
                    reading.words.of_key(e.step.key, e.step.value[row], e.step.unit)
                    for e in entries
                )
                for row in range(table[1])
            ),
            small=True,
        )


def _is_list(step: Step) -> bool:
    return isinstance(step.value, tuple) and len(step.value) > MANY


def _files(reading: Reading) -> tuple[Block, ...]:
    if not reading.material.files:
        return ()
    rows = tuple(
        (name, what) for name, _, what in (f.partition(": ") for f in reading.material.files)
    )
    return (
        Heading("Files read", 2),
        Table((Column("file"), Column("what it holds", wide=True)), rows),
    )


def _table(step: Step) -> str:
    """Table of the job file that an input stands in."""
    return step.key.removeprefix("inputs.").split(".", 1)[0].replace("_", " ").capitalize()


def _line(reading: Reading, entry: Entry) -> tuple[Cell, ...]:
    step = entry.step
    shown = f"{len(step.value)} values, below" if _is_list(step) else reading.words.of_step(step)
    value: Cell = shown
    if isinstance(step.value, Unknown):
        value = Run("? not known", "bold")
    elif step.rests_on:
        value = (shown, " ", Run("assumed", "bold"))
    return Run(entry.mark, "muted", at=entry.mark), step.title, value, _origin(step.origin, shown)


def _origin(origin: Origin | None, shown: str) -> Cell:
    """Where a value came from, and what was typed where it is not shown so already."""
    if origin is None:
        return ""
    parts: list[str | Run] = [str(origin)]
    if origin.text and not _says_the_same(origin.text, shown):
        parts.append(Run(f' "{origin.text}"', "muted"))
    if origin.note:
        parts.append(Run(f" {origin.note}", "muted"))
    return tuple(parts)


def _says_the_same(typed: str, shown: str) -> bool:
    """Whether two texts are the same words, or the same number of the same unit."""
    if typed == shown:
        return True
    one = _TYPED.fullmatch(typed)
    other = _TYPED.fullmatch(shown.lstrip("$").replace(",", "").partition(" lump")[0])
    if one is None or other is None:
        return False
    try:
        return float(one["number"]) == float(other["number"]) and one["unit"] == other["unit"]
    except ValueError:
        return False
