# SPDX-License-Identifier: Apache-2.0
"""Last pages before the calculation: what is not known, what was found, what else was tried."""

from collections.abc import Iterator

from tilewater.basis.findings import Finding
from tilewater.chain.explain import HONESTY, sources
from tilewater.documents.paper.blocks import Block, Cell, Column, Heading, Paragraph, Run, Table
from tilewater.documents.report.decides_pages import what_to_measure
from tilewater.documents.report.reading import Reading, sentence

ORDER = (
    ("fails", "Could not be computed"),
    ("caution", "Cautions"),
    ("note", "Notes"),
)
ALWAYS = ("practice", "derived")


def known_pages(reading: Reading) -> tuple[Block, ...]:
    """What is not known and how to know it; findings; runners-up."""
    return (
        Heading("What is not known", 1, new_page=True),
        *_unknown(reading),
        *what_to_measure(reading),
        Heading("Tried besides", 2),
        *_alternatives(reading),
        Heading("Findings", 1),
        *_findings(reading.material.findings),
    )


def _unknown(reading: Reading) -> Iterator[Block]:
    items = reading.material.design.open_items
    if not items:
        yield Paragraph("Nothing: every question of the job is answered and every limit confirmed.")
        return
    yield Table(
        (Column("what", wide=True, share=1.3), Column("how to know it", wide=True)),
        tuple((sentence(item.why), sentence(item.measure)) for item in items),
    )


def _alternatives(reading: Reading) -> Iterator[Block]:
    found = reading.material.alternatives
    if not found:
        yield Paragraph("Nothing else was tried: the size is not known or is not to be changed.")
        return
    yield Table(
        (Column("what", wide=True), Column("why not", wide=True, share=1.4)),
        tuple((sentence(one.what), sentence(one.why_not)) for one in found),
    )


def _findings(findings: tuple[Finding, ...]) -> Iterator[Block]:
    if not findings:
        yield Paragraph("None.")
    for severity, label in ORDER:
        rows: tuple[tuple[Cell, ...], ...] = tuple(
            (Run(finding.subject, "bold"), finding.message, _source(finding))
            for finding in findings
            if finding.severity == severity
        )
        if rows:
            yield Heading(label, 2)
            yield Table(
                (
                    Column("about", wide=True, share=0.7),
                    Column("what", wide=True, share=2.4),
                    Column("source", wide=True, share=0.6),
                ),
                rows,
                small=True,
            )


def _source(finding: Finding) -> Run:
    return Run(finding.source or "", "muted")


def source_pages(reading: Reading) -> tuple[Block, ...]:
    """Every source that the design leans on, each with how it was seen."""
    used = sorted(_used(reading))
    known = sources()
    rows = tuple(
        (Run(key, "code", at=f"source-{key}"), _reference(known[key]), _honesty(known[key]))
        for key in used
        if key in known
    )
    return (
        Heading("Sources", 1),
        Paragraph(
            "Read: seen in the text. From memory: known to the makers of the program and not "
            "checked against the text; check your edition. Common practice has no source."
        ),
        Table(
            (
                Column("key"),
                Column("source", wide=True, share=2.2),
                Column("how it was seen"),
            ),
            rows,
            small=True,
        ),
    )


def _used(reading: Reading) -> set[str]:
    calculation = reading.calculation
    keys = {source.key for method in calculation.methods for source in method.sources}
    keys |= {
        entry.step.origin.source
        for entry in (*calculation.inputs, *calculation.fixed)
        if entry.step.origin is not None and entry.step.origin.source
    }
    keys |= {rule.source for rule in reading.trace.requirements}
    keys |= {finding.source for finding in reading.material.findings if finding.source}
    return keys | set(ALWAYS)


def _reference(entry: dict[str, object]) -> str:
    parts = (entry.get(k) for k in ("author", "year", "title", "publisher", "report"))
    return ". ".join(str(part) for part in parts if part)


def _honesty(entry: dict[str, object]) -> str:
    """How far a source was seen, in the words that the head of the page explains."""
    return HONESTY[str(entry["seen"])].partition(",")[0]
