# SPDX-License-Identifier: Apache-2.0
"""Pages of inputs: each value as it counts, as it was typed, and where it came from."""

from itertools import groupby

from tilewater.basis.trace import Origin, Step
from tilewater.basis.unknown import Unknown
from tilewater.chain.calculation import Entry
from tilewater.documents.paper.blocks import Block, Cell, Column, Heading, Paragraph, Run, Table
from tilewater.documents.report.reading import Reading

COLUMNS = (
    Column("no."),
    Column("what", wide=True, share=1.5),
    Column("value", wide=True, share=1.0),
    Column("from", wide=True, share=1.3),
)


def input_pages(reading: Reading) -> tuple[Block, ...]:
    """Everything that was given, table by table, then what the program fixes."""
    blocks: list[Block] = [
        Heading("Inputs", 1, new_page=True),
        Paragraph(
            "Each input with its number, by which the calculation calls it, its value, and where "
            "it came from: the line of a file as it was typed, or a usual value of the program "
            "with its source."
        ),
        *_files(reading),
        Heading("Values", 2),
    ]
    for table, entries in groupby(reading.calculation.inputs, key=lambda e: _table(e.step)):
        blocks += [
            Heading(table, 3),
            Table(COLUMNS, tuple(_line(reading, entry) for entry in entries), small=True),
        ]
    blocks += [
        Heading("Fixed by the program", 2),
        Table(COLUMNS, tuple(_line(reading, e) for e in reading.calculation.fixed), small=True),
    ]
    return tuple(blocks)


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
    value: Cell = reading.words.of_step(step)
    if isinstance(step.value, Unknown):
        value = Run("? not known", "bold")
    elif step.rests_on:
        value = (reading.words.of_step(step), " ", Run("assumed", "bold"))
    return Run(entry.mark, "muted", at=entry.mark), step.title, value, _origin(step.origin)


def _origin(origin: Origin | None) -> Cell:
    if origin is None:
        return ""
    parts: list[str | Run] = [str(origin)]
    if origin.text:
        parts.append(Run(f' "{origin.text}"', "muted"))
    if origin.note:
        parts.append(Run(f" {origin.note}", "muted"))
    return tuple(parts)
