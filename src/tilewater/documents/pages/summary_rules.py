# SPDX-License-Identifier: Apache-2.0
"""Blocks of a design about rules: the verdict, the standard, what is open and was tried."""

from collections.abc import Iterator

from tilewater.basis.trace import Assumption, Trace
from tilewater.chain.alternatives import Alternative
from tilewater.chain.days_rules import probability_key
from tilewater.chain.design import Design
from tilewater.chain.standard import JUDGED_BY
from tilewater.chain.verdict import NOT_KNOWN as UNJUDGED
from tilewater.criteria.standards import CriterionRow
from tilewater.documents.pages import summary_raised
from tilewater.documents.pages.numbers import keyed, number
from tilewater.documents.pages.said import Cell, Part, Said, Tone, block, dim, group, rows, status
from tilewater.documents.words import Words, step_value, together

HONESTY = {
    "read": "read",
    "memory": "memory",
    "practice": "practice",
}


PRICE = "inputs.price."
MANY = 12
"""Open items beyond which they follow the design instead of standing before it."""


def verdict(title: str, design: Design, words: Words) -> Part:
    """The verdict in words, what binds and where, and the numbers that matter most."""
    word = Said(design.verdict[0].upper() + design.verdict[1:], "strong")
    about = _about(design)
    if about:
        word.append(f"  {about}", "quiet")
    parts = (Said(title, "strong"), Said(), word, _binds(design, words), *_unlikely(design, words))
    return group(*parts, Said(), _five(design.trace, words))


def _unlikely(design: Design, words: Words) -> Iterator[Said]:
    """Rules that draws cannot settle and that fewer than half of them keep."""
    trace = design.trace
    for row in design.rows:
        key, rule = probability_key(row.code), f"criteria.{row.code}"
        if key not in trace or not design.requirement(rule).binding:
            continue
        kept = float(trace.value(key))
        if kept < EVEN and trace.value(f"{rule}.status") == "not known":
            share = words.say(kept, "ratio", style="two figures")
            title = f"{row.title[0].lower()}{row.title[1:]}"
            yield Said(f"Likelier short than kept: {title}; {share} of the draws keep it.")


EVEN = 0.5
"""Share of the draws below which a rule is likelier short than kept."""


def _about(design: Design) -> str:
    """What the verdict leaves open, in numbers."""
    trace = design.trace
    rules = [r for r in trace.requirements if r.binding]
    blind = sum(trace.value(f"{r.key}.status") == "not known" for r in rules)
    items = _counted(len(design.open_items), "open item")
    if design.verdict == UNJUDGED:
        return "; ".join(filter(None, ("the capacity cannot be judged yet", items)))
    not_known = _counted(blind, "rule")
    return ", ".join(filter(None, (not_known and f"{not_known} not known", items)))


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}{'' if count == 1 else 's'}" if count else ""


def _binds(design: Design, words: Words) -> Said:
    """The rule with the least in reserve, or the one that is missed by most."""
    binding = design.governs
    if binding is None:
        return Said("Nothing could be judged, so nothing binds.")
    requirement, trace = design.requirement(binding.key), design.trace
    value, limit = trace.steps[requirement.value], trace.steps[requirement.limit]
    is_short = trace.value(f"{binding.key}.status") == "short"
    apart = abs(float(trace.value(value.key)) - float(trace.value(limit.key)))
    left = words.of_key(value.key, apart, value.unit)
    title = requirement.title
    where = f" at the {binding.where}" if binding.where and binding.where not in title else ""
    asked = "at least" if requirement.operator == ">=" else "at most"
    return Said(
        f"{'Short' if is_short else 'Tightest'}: {title[0].lower()}{title[1:]}{where}: "
        f"{words.of_step(value)} where {asked} {words.of_step(limit)} is asked, "
        f"{left} {_beyond(requirement.operator) if is_short else 'to spare'}",
        "binds",
    )


def _beyond(operator: str) -> str:
    return "short" if operator == ">=" else "too much"


def _five(trace: Trace, words: Words) -> Part:
    if summary_raised.is_raised(trace):
        return summary_raised.first_numbers(trace, words)
    strong: Tone = "strong"
    share = number(trace, words, "capacity.criterion.share_of_peak", "ratio", tone=strong)
    time = number(trace, words, "capacity.criterion.retention_h", tone=strong)
    where = "in the bed"
    if "buffer.travel_time_days" in trace:
        time = number(trace, words, "buffer.travel_time_days", "days", tone=strong)
        where = "to the ditch"
    treated = words.say(
        step_value(trace, "removal.treated_volume_share.p50"), "ratio", style="two figures"
    )
    return rows(
        ("", "", "", ""),
        (
            [
                share,
                time,
                keyed(trace, treated, "removal.treated_volume_share", strong),
                keyed(trace, removed(trace, words), "removal.removed_kg", strong),
            ],
            [
                dim(text)
                for text in (
                    "of the peak through it",
                    where,
                    treated_words(trace),
                    "nitrate-N a year",
                )
            ],
        ),
        wide=(0, 1, 2, 3),
    )


def treated_words(trace: Trace) -> str:
    """What the treated share is a share of, and whether it is only a screening figure."""
    measured = step_value(trace, "drain_flow.basis") == "measured"
    by_days = "days.sums" in trace and trace.known("days.sums")
    return "of the year's water" if measured or by_days else "of the year's water, screening figure"


def removed(trace: Trace, words: Words) -> str:
    """Nitrate removed in a year as a range of two figures."""
    low, high = (step_value(trace, f"removal.removed_kg.{p}") for p in ("p10", "p90"))
    first = words.say(low, "mass", style="two figures", unit=False)
    last = words.say(high, "mass", style="two figures")
    return first if first == last else f"{first} to {last}"


def criteria(design: Design, words: Words) -> Part:
    """Rows of the standard that hold for this job; then the other ways of sizing, dim."""
    trace = design.trace
    binds = design.governs.key if design.governs else ""
    chosen = [r for r in design.rows if design.requirement(f"criteria.{r.code}").binding]
    others = [r for r in design.rows if r not in chosen]

    def line(row: CriterionRow) -> list[Cell]:
        key = f"criteria.{row.code}"
        sign = "at least" if row.operator == ">=" else "at most"
        limit = words.of_step(trace.steps[f"{key}.limit"])
        return [
            Said(row.title, "binds" if key == binds else ""),
            keyed(
                trace, words.of_key(row.value, step_value(trace, row.value), row.unit), row.value
            ),
            keyed(trace, f"{sign} {limit}", f"{key}.limit"),
            status(str(trace.value(f"{key}.status")), binds=key == binds),
            dim(_honesty(row)),
        ]

    heads = ("asked", "is", "limit", "", "text")
    standard = words.of_key("", trace.value(f"{JUDGED_BY}.standard"), "")
    edition = words.of_key("", trace.value(f"{JUDGED_BY}.edition"), "")
    body: list[Part] = [rows(heads, (line(row) for row in chosen), right=(1,), wide=(0, 4))]
    if others:
        body += [
            Said(),
            dim(_of_others(design)),
            rows(("",) * 5, (line(row) for row in others), right=(1,), wide=(0, 4)),
        ]
    if likely := _likely(design, words):
        body.append(Said(likely))
    by = [(row.title, row.confirmed) for row in design.rows if row.confirmed]
    body += [dim(f"confirmed: {title}, by {who}") for title, who in by]
    if any(row.text_status == "memory" and not row.confirmed for row in design.rows):
        body.append(dim("memory: the limit is remembered; check your state's edition"))
    return block("Criteria", f"{standard}, edition {edition}", *body)


def _of_others(design: Design) -> str:
    """What rows are that do not bind."""
    if design.practice.has_ways:
        return "other ways of sizing, not chosen"
    if design.practice.name == "raised":
        return "as is usual; it does not bind"
    return "each arm by itself; the better of them counts"


def _likely(design: Design, words: Words) -> str:
    """How many of the draws keep each criterion that they decide."""
    trace = design.trace
    said = []
    for row in design.rows:
        key = probability_key(row.code)
        if key in trace:
            share = words.say(trace.value(key), "ratio", style="two figures")
            said.append((row.name.replace("-", " "), f"{row.name.replace('-', ' ')} {share}"))
    if not said:
        return ""
    count = len(trace.value("days.draws"))
    drawn = "soil" if design.practice.name == "buffer" else "chips"
    return f"Of {count:,} draws of {drawn} and kinetics keep it: {together(*said)}."


def _honesty(row: CriterionRow) -> str:
    return "confirmed" if row.confirmed else HONESTY[row.text_status]


def open_items(design: Design) -> Part | None:
    """What is open: what it is, why, and what to do about it."""
    if not design.open_items:
        return None
    lines = []
    prices = [i.key for i in design.open_items if i.key.startswith(PRICE)]
    for item in (i for i in design.open_items if not i.key.startswith(PRICE)):
        text = keyed(design.trace, item.why, item.key)
        if item.measure:
            text.append(f". {item.measure[0].upper()}{item.measure[1:]}.", "quiet")
        lines.append(("?", text))
    if prices:
        names = ", ".join(key.removeprefix(PRICE).removesuffix(".usd") for key in prices)
        lines.append(
            ("?", Said.assemble(f"No price for {names}", (". Add to the price file.", "quiet")))
        )
    return block("Open items", "", rows(("", ""), lines, wide=(1,)))


def overrules(trace: Trace, words: Words, assumptions: tuple[Assumption, ...] = ()) -> Part | None:
    """Computed values that the engineer replaced, and inputs that were assumed."""
    lines: list[tuple[Cell, ...]] = []
    assumed = {assumption.key: assumption for assumption in assumptions}
    for step in trace:
        if step.overrule is not None:
            why = step.overrule
            computed = words.of_key(step.key, step.computed, step.unit)
            text = Said(f"{step.title}: {words.of_step(step)} in place of {computed}")
            text.append(f"  {why.by}, {why.date}: {why.reason}", "quiet")
            lines.append(("overruled", text))
        elif step.origin is not None and step.rests_on:
            text = Said(f"{step.title}: {words.of_step(step)}")
            if step.key in assumed:
                said = assumed[step.key]
                text.append(f"  {said.by}, {said.date}: {said.reason}", "quiet")
            lines.append(("assumed", text))
    for overrule in trace.unused_overrules():
        lines.append(("not used", Said(f"no number is called '{overrule.key}'")))
    return block("Judgement", "", rows(("", ""), lines, wide=(1,))) if lines else None


def alternatives(found: tuple[Alternative, ...], words: Words) -> Part | None:
    """The runners-up and what stopped them."""
    if not found:
        return None
    told = (one.in_units(words.system) for one in found)
    lines = ((one.what[0].upper() + one.what[1:], one.why_not) for one in told)
    note = "sizes go in whole feet" if words.system == "si" else ""
    return block("Tried besides", note, rows(("", ""), lines, wide=(0, 1)))
