# SPDX-License-Identifier: Apache-2.0
"""The signer's two pages: the answer, ten numbers with their basis, what is open, the signature."""

from collections.abc import Iterator

from tilewater.basis.findings import Finding
from tilewater.chain.design import Design
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Cell,
    Column,
    Heading,
    Items,
    NewPage,
    Paragraph,
    Run,
    Seal,
    Table,
    Words,
)
from tilewater.documents.report.governing import governing_numbers
from tilewater.documents.report.reading import Reading, sentence
from tilewater.documents.report.since import since_last

STATEMENT = (
    "I have checked the numbers above and what they rest on, and take the design as mine. "
    "Tilewater assists an engineer; it does not seal a design."
)
LINES = ("Name and licence", "Signature", "Date")
SHOWN = 7
"""Open items, changes or cautions told on these pages; the rest stand further back."""


def signer_pages(reading: Reading) -> tuple[Block, ...]:
    """Two pages that tell what is signed."""
    return (
        _banner(reading),
        Heading("Ten numbers that the design rests on", 2),
        governing_numbers(reading),
        Paragraph(
            "In brackets: where the number is worked, in the calculation at the end. "
            + _conventions(reading),
            "note",
        ),
        NewPage(),
        Heading("Open items", 2),
        *_open_items(reading.material.design),
        Heading("Judgement of the engineer", 2),
        *_judgement(reading),
        Heading("Changed since the last issued copy", 2),
        *since_last(reading),
        Heading("Cautions", 2),
        *_cautions(reading.material.findings),
        Seal(STATEMENT, LINES),
    )


def _banner(reading: Reading) -> Banner:
    design = reading.material.design
    return Banner(
        title=reading.material.title,
        about=tuple(line for line in _about(reading) if line),
        answer=sentence(design.verdict),
        detail=_counted(reading),
        binds=binding_words(reading),
    )


def _about(reading: Reading) -> Iterator[str]:
    """Outlet, place, people, the standard that it is held to."""
    told = reading.text
    yield ", ".join(
        filter(
            None, (told("inputs.job.outlet"), told("inputs.job.county"), told("inputs.job.state"))
        )
    )
    owner, by, day = told("inputs.people.owner"), told("inputs.job.prepared_by"), "inputs.job.date"
    yield " · ".join(
        filter(
            None,
            (
                f"owner {owner}" if owner else "owner not known",
                f"prepared by {by}" if by else "",
                told(day),
            ),
        )
    )
    standard, edition = (told(f"inputs.criteria.{part}") for part in ("standard", "edition"))
    judged = f"practice standard {standard}, edition {edition}" if standard and edition else ""
    yield " · ".join(filter(None, ("Woodchip bed on a tile main", judged)))


def _counted(reading: Reading) -> str:
    design, trace = reading.material.design, reading.trace
    rules = [r for r in trace.requirements if r.binding]
    words = {"holds": "hold", "short": "fall short", "not known": "cannot be judged"}
    found = {word: sum(trace.value(f"{r.key}.status") == word for r in rules) for word in words}
    told = ", ".join(f"{count} {words[word]}" for word, count in found.items() if count)
    items = len(design.open_items)
    more = f"; {items} open item{'' if items == 1 else 's'}" if items else ""
    return f"Of {len(rules)} rules {told}{more}." if rules else ""


def binding_words(reading: Reading) -> str:
    """What binds, with its value, its limit and what is left."""
    design, trace, words = reading.material.design, reading.trace, reading.words
    binding = design.governs
    if binding is None:
        return "Nothing could be judged, so nothing binds."
    rule = design.requirement(binding.key)
    value, limit = trace.steps[rule.value], trace.steps[rule.limit]
    is_short = trace.value(f"{rule.key}.status") == "short"
    apart = words.of_key(value.key, abs(float(value.value) - float(limit.value)), value.unit)
    where = f" at the {rule.where}" if rule.where and rule.where not in rule.title else ""
    asked = "at least" if rule.operator == ">=" else "at most"
    beyond = "short" if rule.operator == ">=" else "too much"
    stands = "Falls short" if is_short else "Binds"
    return (
        f"{stands}: {rule.title[0].lower()}{rule.title[1:]}{where}. "
        f"It is {words.of_step(value)} where {asked} {words.of_step(limit)} is asked, "
        f"{apart} {beyond if is_short else 'to spare'}."
    )


def _conventions(reading: Reading) -> str:
    datum, foot = reading.text("inputs.site.vertical_datum"), reading.text("inputs.site.foot")
    levels = f"Elevations above {datum}" if datum else "The datum of the elevations is not known"
    feet = f", {foot}" if reading.words.system == "us" and foot else ""
    return f"{levels}{feet}."


def _open_items(design: Design) -> Iterator[Block]:
    if not design.open_items:
        yield Paragraph("None.")
        return
    yield Items(
        tuple(
            (f"{sentence(item.why)} ", Run(sentence(item.measure), "muted"))
            for item in design.open_items[:SHOWN]
        )
    )
    more = len(design.open_items) - SHOWN
    if more > 0:
        yield Paragraph(f"And {more} more; all of them stand under What is not known.", "note")


def _judgement(reading: Reading) -> Iterator[Block]:
    """Overrules, assumptions and confirmed limits: who, when, why."""
    rows: list[tuple[Cell, ...]] = []
    words, job = reading.words, reading.material.design.job
    for step in reading.trace:
        if step.overrule is not None:
            why, computed = step.overrule, words.of_key(step.key, step.computed, step.unit)
            what: Words = (f"{step.title} ", *reading.marks(step.key))
            rows.append(
                (
                    "overruled",
                    what,
                    f"{words.of_step(step)} in place of {computed}",
                    f"{why.by}, {why.date}: {why.reason}",
                )
            )
    for assumption in job.assumptions:
        if assumption.key in reading.trace:
            step = reading.trace.steps[assumption.key]
            rests = sum(assumption.key in one.rests_on for one in reading.trace) - 1
            who = f"{assumption.by}, {assumption.date}: {assumption.reason}"
            on_it = f" {rests} numbers rest on it." if rests > 0 else ""
            rows.append(
                (
                    "assumed",
                    (step.title, *reading.marks(step.key)),
                    words.of_step(step),
                    who + on_it,
                )
            )
    for row in reading.material.design.rows:
        if row.confirmed:
            rows.append(("confirmed", row.title, "", row.confirmed))
    if not rows:
        yield Paragraph("No computed value was overruled, nothing was assumed, no limit confirmed.")
        return
    yield Table(
        (
            Column(""),
            Column("what", wide=True, share=1.2),
            Column("value", wide=True, share=0.9),
            Column("by, date, reason", wide=True, share=1.6),
        ),
        tuple(rows[:SHOWN]),
        small=True,
    )
    if len(rows) > SHOWN:
        yield Paragraph(f"And {len(rows) - SHOWN} more; all stand under Judgement.", "note")


def _cautions(findings: tuple[Finding, ...]) -> Iterator[Block]:
    """What was found, by its subject; the words stand under Findings."""
    told: dict[str, list[str]] = {}
    for finding in findings:
        if finding.severity in ("fails", "caution"):
            told.setdefault(finding.severity, []).append(finding.subject)
    if not told:
        yield Paragraph("None.")
    for severity, label in (("fails", "Could not be computed"), ("caution", "Cautions")):
        if severity in told:
            subjects = list(dict.fromkeys(told[severity]))
            more = f"; and {len(subjects) - 2 * SHOWN} more" if len(subjects) > 2 * SHOWN else ""
            said = "; ".join(subjects[: 2 * SHOWN])
            yield Paragraph((Run(f"{label}: ", "bold"), f"{said}{more}. In full under Findings."))
