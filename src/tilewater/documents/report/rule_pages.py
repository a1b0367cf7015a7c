# SPDX-License-Identifier: Apache-2.0
"""Pages of rules: the standard's rows, then every rule as it was judged."""

from collections.abc import Iterator

from tilewater.chain.calculation import Ruling
from tilewater.criteria.standards import CriterionRow
from tilewater.documents.paper.blocks import (
    Block,
    Cell,
    Column,
    Heading,
    Paragraph,
    Run,
    Table,
    number,
)
from tilewater.documents.report.governing import BRIEF, honest
from tilewater.documents.report.reading import SHAPES, TWO, Reading
from tilewater.documents.report.working_pages import formula
from tilewater.documents.words import NOT_KNOWN

COLUMNS = (
    Column("asked", wide=True, share=1.6),
    Column("is", "point"),
    Column("limit", "point"),
    Column(""),
    Column("text of the limit", wide=True, share=1.0),
)


def rule_pages(reading: Reading) -> tuple[Block, ...]:
    """Criteria of the standard, other ways of sizing, every rule judged."""
    design = reading.material.design
    chosen = [r for r in design.rows if design.requirement(f"criteria.{r.code}").binding]
    others = [r for r in design.rows if r not in chosen]
    standard, edition = (reading.say(f"inputs.criteria.{k}") for k in ("standard", "edition"))
    blocks: list[Block] = [
        Heading("Rules", 1, new_page=True),
        Heading("Practice standard", 2),
        Paragraph(f"Standard {standard}, edition {edition}. {_remembered(design.rows)}".strip()),
        Table(COLUMNS, tuple(_criterion(reading, row) for row in chosen)),
    ]
    if others:
        blocks += [
            Heading("Other ways of sizing, not chosen", 2),
            Table(COLUMNS, tuple(_criterion(reading, row) for row in others)),
        ]
    return (*blocks, *_judged(reading))


def _remembered(rows: tuple[CriterionRow, ...]) -> str:
    if any(row.text_status == "memory" and not row.confirmed for row in rows):
        return "A remembered limit is no text of the standard: check your state's edition."
    return ""


def _criterion(reading: Reading, row: CriterionRow) -> tuple[Cell, ...]:
    key = f"criteria.{row.code}"
    sign = "at least" if row.operator == ">=" else "at most"
    limit = reading.words.of_step(reading.trace.steps[f"{key}.limit"])
    value = _value(reading, row, limit)
    clause = f", clause {row.clause}" if row.clause else ""
    honesty = honest(row.text_status, bool(row.confirmed))
    if row.confirmed:
        honesty = f"confirmed by {row.confirmed}"
    return (
        Run(f"{row.title}{clause}", "binds" if reading.binds(key) else ""),
        number(value, reading.mark(row.value)),
        (f"{sign} {limit}", *reading.marks(f"{key}.limit")),
        reading.status(key),
        honesty,
    )


def _value(reading: Reading, row: CriterionRow, limit: str) -> str:
    """What a row judges; years to two figures, unless those would hide on which side they lie."""
    plain = reading.words.of_key(row.value, reading.value(row.value), row.unit)
    if row.unit != "years":
        return plain
    two = reading.say(row.value, "years", style=TWO)
    return plain if two == limit else two


def _judged(reading: Reading) -> Iterator[Block]:
    """Every rule with its reserve; the tightest of them binds."""
    rulings = reading.calculation.rulings
    if not rulings:
        return
    yield Heading("Every rule judged", 2)
    yield formula(reading.calculation.judging, {})
    yield Table(
        (
            Column("no."),
            Column("rule", wide=True),
            Column("is", "point"),
            Column("limit", "point"),
            Column("reserve, in its scale", "point"),
            Column(""),
            Column("limit is"),
        ),
        tuple(_ruling(reading, ruling) for ruling in rulings),
        small=True,
    )
    yield Paragraph(
        "≥ at least, ≤ at most. Practice: common practice, no source. Remembered: check it "
        "against the text. Told: shown, but the verdict does not hang on it.",
        "note",
    )


def _ruling(reading: Reading, ruling: Ruling) -> tuple[Cell, ...]:
    rule = ruling.requirement
    style = "binds" if reading.binds(rule.key) else ""
    status = str(ruling.status.value)
    sign = "≥" if rule.operator == ">=" else "≤"
    limit = number(f"{reading.said(ruling.limit)}", Run(f"[{ruling.limit_mark}]", "small"))
    return (
        Run(ruling.mark, "muted", at=ruling.mark),
        Run(rule.title, "binds" if style else ""),
        number(reading.said(ruling.value), Run(f"[{ruling.value_mark}] {sign}", "small")),
        limit,
        _reserve(reading, ruling),
        Run(SHAPES.get(status, status), "binds" if style else ""),
        BRIEF[rule.text_status] + ("" if rule.binding else ", told"),
    )


def _reserve(reading: Reading, ruling: Ruling) -> Cell:
    said = reading.said(ruling.slack)
    if said == NOT_KNOWN:
        return said
    return number(said, Run(f"× {reading.said(ruling.scale)}", "small"))
