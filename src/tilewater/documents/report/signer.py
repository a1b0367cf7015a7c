# SPDX-License-Identifier: Apache-2.0
"""The signer's two pages: the answer, ten numbers with their basis, what is open, the signature."""

import re
from collections.abc import Iterator

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import Requirement
from tilewater.chain.design import Design
from tilewater.chain.standard import JUDGED_BY
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
    number,
)
from tilewater.documents.report.governing import BRIEF, governing_numbers, kept_by_draws
from tilewater.documents.report.reading import Reading, sentence
from tilewater.documents.report.since import since_last
from tilewater.documents.words import Words as Wording

STATEMENT = (
    "I have checked the numbers above and what they rest on, and take the design as mine. "
    "Tilewater assists an engineer; it does not seal a design."
)
ROOM = "Left empty for the seal of the engineer who signs"
LINES = ("Name and licence", "Signature", "Date")
SHOWN = 7
"""Open items, changes or cautions told on these pages; the rest stand further back."""
LONGEST = 170
"""Letters of a caution that are told here."""
NEAR = 5
"""Rules with the least reserve that are told after the one that binds."""


def signer_pages(reading: Reading) -> tuple[Block, ...]:
    """Two pages that tell what is signed."""
    return (
        _banner(reading),
        Heading("Ten numbers that the design rests on", 2),
        governing_numbers(reading),
        Paragraph(
            "In brackets: where the number is worked, in the calculation. " + _conventions(reading),
            "note",
        ),
        *_near(reading),
        NewPage(),
        Heading("Open items", 2),
        *_open_items(reading.material.design),
        Heading("Judgement of the engineer", 2),
        *_judgement(reading),
        Heading("Changed since the last issued copy", 2),
        *since_last(reading),
        Heading("Cautions", 2),
        *_cautions(reading.material.findings),
        Seal(STATEMENT, ROOM, LINES),
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
    standard, edition = (told(f"{JUDGED_BY}.{part}") for part in ("standard", "edition"))
    what = reading.material.design.practice.words
    judged = f"practice standard {standard}, edition {edition}" if standard and edition else ""
    yield " · ".join(filter(None, (f"{what[0].upper()}{what[1:]} on a tile main", judged)))


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
    left = abs(float(value.value) - float(limit.value))
    apart = _apart(words.of_key(value.key, left, value.unit))
    where = f" at the {rule.where}" if rule.where and rule.where not in rule.title else ""
    asked = "at least" if rule.operator == ">=" else "at most"
    beyond = "short" if rule.operator == ">=" else "too much"
    stands = "Falls short" if is_short else "Binds"
    return (
        f"{stands}: {rule.title[0].lower()}{rule.title[1:]}{where}. "
        f"It is {words.of_step(value)} where {asked} {words.of_step(limit)} is asked, "
        f"{apart} {beyond if is_short else 'to spare'}{kept_by_draws(reading, rule.value)}."
    )


def _apart(said: str) -> str:
    """A difference; one of two shares is in points, not in a percent of either."""
    return said.replace(" %", " points")


def _near(reading: Reading) -> Iterator[Block]:
    """Rules that come next after the one that binds, for who asks what else is thin."""
    trace, words, binding = reading.trace, reading.words, reading.material.design.governs
    rules = [
        rule
        for rule in trace.requirements
        if rule.binding
        and not rule.exact
        and reading.known(f"{rule.key}.slack")
        and (binding is None or rule.key != binding.key)
    ]
    rules.sort(key=lambda rule: float(reading.value(f"{rule.key}.slack")))
    if not rules:
        return
    yield Heading("Least in reserve besides", 2)
    yield Table(
        (
            Column("rule", wide=True, share=2.4),
            Column("is", "point"),
            Column("limit", "point"),
            Column("left", "point"),
            Column(""),
            Column("limit is"),
        ),
        tuple(_thin(reading, words, rule) for rule in rules[:NEAR]),
        small=True,
    )


def _thin(reading: Reading, words: Wording, rule: Requirement) -> tuple[Cell, ...]:
    value, limit = reading.trace.steps[rule.value], reading.trace.steps[rule.limit]
    left = float(value.value) - float(limit.value)
    if rule.operator == "<=":
        left = -left
    return (
        rule.title,
        reading.cell(rule.value),
        reading.cell(rule.limit),
        number(_apart(words.of_key(value.key, left, value.unit))),
        reading.status(rule.key),
        BRIEF[rule.text_status],
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
    """What was found: the first of it in a sentence each, the rest by its subject."""
    told = False
    for severity, label in (("fails", "Could not be computed"), ("caution", "Cautions")):
        found = [finding for finding in findings if finding.severity == severity]
        if not found:
            continue
        told = True
        yield Items(
            tuple(
                (Run(f"{f.subject}: ", "bold"), _first_sentence(f.message)) for f in found[:SHOWN]
            )
        )
        rest = list(dict.fromkeys(finding.subject for finding in found[SHOWN:]))
        if rest:
            more = f"; and {len(rest) - SHOWN} more" if len(rest) > SHOWN else ""
            said = "; ".join(rest[:SHOWN])
            yield Paragraph(f"{label} too: {said}{more}. All stand under Findings.", "note")
    if not told:
        yield Paragraph("None.")


def _first_sentence(message: str) -> str:
    """Up to the first full stop that a capital letter follows."""
    match = re.match(r".+?[.!?](?=\s+[A-Z]|$)", message, re.DOTALL)
    said = match[0] if match else message
    return said if len(said) <= LONGEST else f"{said[:LONGEST].rsplit(' ', 1)[0]} …"
