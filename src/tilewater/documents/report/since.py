# SPDX-License-Identifier: Apache-2.0
"""What changed since the last issued copy, for whoever signs again."""

from collections.abc import Iterator

from tilewater.basis.errors import UnknownName
from tilewater.basis.trace import Step
from tilewater.chain.changes import Change
from tilewater.chain.explain import keys_of
from tilewater.chain.since_issued import TypedChange
from tilewater.documents.paper.blocks import Block, Cell, Column, Paragraph, Run, Table
from tilewater.documents.report.reading import Reading

SHOWN = 10
"""Changes told here; all of them stand in the change record of the issued copy."""
NOTHING = "nothing"


def since_last(reading: Reading) -> Iterator[Block]:
    """What was typed anew, decisions, rules that turned, governing numbers that moved."""
    since = reading.material.since
    if since is None:
        yield Paragraph("First copy: nothing of this job has been issued before.")
        return
    yield Paragraph(
        f"Counted from the copy {since.copy}, {since.status}, {since.by}, {since.date}."
    )
    if since.is_same:
        yield Paragraph("Nothing changed.")
        return
    rows = list(_rows(reading))
    yield Table(
        (
            Column(""),
            Column("what", wide=True, share=1.6),
            Column("before", wide=True),
            Column("now", wide=True),
        ),
        tuple(rows[:SHOWN]),
        small=True,
    )
    if len(rows) > SHOWN:
        yield Paragraph(f"And {len(rows) - SHOWN} more in the record of changes.", "note")


def _rows(reading: Reading) -> Iterator[tuple[Cell, ...]]:
    since = reading.material.since
    if since is None:
        return
    for label, change in (
        ("verdict", since.results.verdict),
        ("binds", since.results.governs),
    ):
        if change.before != change.after:
            yield label, "", str(change.before or NOTHING), str(change.after or NOTHING)
    for turned in since.rules:
        yield "rule", _title(reading, turned), _said(turned.before), _said(turned.after)
    for decision in since.decisions:
        yield (
            "decision",
            _typed_title(decision),
            decision.before or "",
            decision.after or "taken out",
        )
    for typed in since.inputs:
        yield "input", _typed_title(typed), typed.before or "", typed.after or "taken out"
    for moved in since.governing:
        step = _step(reading, moved)
        if step is not None:
            before, after = (
                reading.words.of_key(step.key, value, step.unit)
                for value in (moved.before, moved.after)
            )
            yield "number", (step.title, *reading.marks(step.key)), before, after


def _said(word: object) -> str:
    return str(word or NOTHING)


def _typed_title(change: TypedChange) -> tuple[str | Run, ...]:
    where = change.file if change.line is None else f"{change.file} line {change.line}"
    return change.title, " ", Run(where, "small")


def _title(reading: Reading, change: Change) -> str:
    step = _step(reading, change)
    if step is None:
        return change.key.replace("_", " ").replace(".", ", ")
    return step.title.removesuffix(": status")


def _step(reading: Reading, change: Change) -> Step | None:
    """The step behind a change; None where there is none, or several."""
    try:
        keys = keys_of(reading.trace, change.key)
    except UnknownName:
        return None
    return reading.trace.steps[keys[0]] if len(keys) == 1 else None
