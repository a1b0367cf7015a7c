# SPDX-License-Identifier: Apache-2.0
"""Pages of rules: the standard's rows, then every other rule of the design."""

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
from tilewater.documents.report.governing import honest
from tilewater.documents.report.reading import Reading

SHOWN_ELSEWHERE = ("elevations.", "field.", "criteria.", "uplift.", "emptying.", "frost.")
COLUMNS = (
    Column("asked", wide=True, share=1.6),
    Column("is", "point"),
    Column("limit", "point"),
    Column(""),
    Column("text of the limit", wide=True, share=1.0),
)


def rule_pages(reading: Reading) -> tuple[Block, ...]:
    """Criteria of the standard, other ways of sizing, rules of the site."""
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
    rest = tuple(
        (
            Run(
                rule.title, "binds" if reading.binds(rule.key) else "" if rule.binding else "muted"
            ),
            reading.cell(rule.value),
            number(
                reading.words.of_step(reading.trace.steps[rule.limit]), reading.mark(rule.limit)
            ),
            reading.status(rule.key),
            honest(rule.text_status, confirmed=False) + ("" if rule.binding else "; told only"),
        )
        for rule in reading.trace.requirements
        if not rule.key.startswith(SHOWN_ELSEWHERE)
    )
    if rest:
        blocks += [Heading("Site and practice", 2), Table(COLUMNS, rest, small=True)]
    return tuple(blocks)


def _remembered(rows: tuple[CriterionRow, ...]) -> str:
    if any(row.text_status == "memory" and not row.confirmed for row in rows):
        return "A remembered limit is no text of the standard: check your state's edition."
    return ""


def _criterion(reading: Reading, row: CriterionRow) -> tuple[Cell, ...]:
    key = f"criteria.{row.code}"
    sign = "at least" if row.operator == ">=" else "at most"
    limit = reading.words.of_step(reading.trace.steps[f"{key}.limit"])
    value = reading.words.of_key(row.value, reading.value(row.value), row.unit)
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
