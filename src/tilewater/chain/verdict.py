# SPDX-License-Identifier: Apache-2.0
"""The verdict on a design, what binds, and what is open."""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.criteria.standards import CriterionRow

FITS = "fits"
OPEN = "fits with open items"
SHORT = "does not fit"
NOT_KNOWN = "not known"
"""Verdict of a job of which nothing that binds could be judged."""


UNDER_THE_DITCH = ("elevations.floor_water", "elevations.bypass_over_ditch")
"""Beginnings of the rules that hold a floor or a crest above the ordinary water of the ditch."""


@dataclass(frozen=True)
class Binding:
    """What binds: the requirement, its slack, and the words."""

    key: str
    slack: float
    text: str
    where: str


@dataclass(frozen=True)
class OpenItem:
    """Something not known or not confirmed: which key, why, what to measure or do."""

    key: str
    why: str
    measure: str


def open_items(trace: Trace, rows: tuple[CriterionRow, ...]) -> tuple[OpenItem, ...]:
    """Everything that keeps a design from simply fitting.

    Inputs that are not known, rows that cannot be judged for another reason, inputs that were
    assumed, and remembered limits that nobody has confirmed.
    """
    items: list[OpenItem] = []
    for step in trace:
        if step.key.startswith("inputs.") and isinstance(step.value, Unknown):
            items.append(OpenItem(step.key, f"{step.title}: {step.value.why}", step.value.measure))
        elif step.origin is not None and step.rests_on:
            items.append(OpenItem(step.key, f"{step.title} is assumed", "find it out"))
    seen = {item.key for item in items}
    for requirement in trace.requirements:
        value = trace.value(requirement.value)
        if requirement.binding and isinstance(value, Unknown) and not set(value.causes) & seen:
            items.append(
                OpenItem(requirement.key, f"{requirement.title}: {value.why}", value.measure)
            )
    binding = {r.key for r in trace.requirements if r.binding}
    for row in rows:
        if row.text_status == "memory" and f"criteria.{row.code}" in binding:
            items.append(
                OpenItem(
                    f"criteria.{row.code}",
                    f"{row.title}: the limit is remembered",
                    "check your state's edition and confirm it in the job",
                )
            )
    for finding in trace.findings:
        if finding.severity == "fails" or _asks_for_judgement(trace, finding):
            items.append(OpenItem(finding.code, f"{finding.subject}: {finding.message}", ""))
    return tuple(dict.fromkeys(items))


BANK_RANGE, BANK_STUDY = "bank-range", "inputs.buffer.bank_study"


def _asks_for_judgement(trace: Trace, finding: Finding) -> bool:
    """Whether a bank may be unstable by its range, and nobody has judged it."""
    if finding.code != BANK_RANGE or finding.severity != "caution":
        return False
    return BANK_STUDY in trace and trace.value(BANK_STUDY) == "none"


def verdict_of(trace: Trace, items: tuple[OpenItem, ...]) -> str:
    """Verdict: short rows rule, then what is open; not known where nothing could be judged."""
    statuses = [trace.value(f"{r.key}.status") for r in trace.requirements if r.binding]
    if "short" in statuses:
        return SHORT
    if "holds" not in statuses:
        return NOT_KNOWN
    return OPEN if items or "not known" in statuses else FITS


def capacity_is_known(trace: Trace, rows: tuple[CriterionRow, ...]) -> bool:
    """Whether the way of sizing that the job chose could be judged."""
    binding = {r.key for r in trace.requirements if r.binding}
    ways = [f"criteria.{row.code}" for row in rows if row.alternative or row.name == "flow"]
    return any(trace.value(f"{key}.status") != "not known" for key in ways if key in binding)


def binding_of(trace: Trace) -> Binding | None:
    """What governs: of what is short the first reason, else the least reserve."""
    short = short_in_order(trace)
    if short:
        return _binding(trace, short[0], is_short=True)
    judged = [
        r for r in trace.requirements if r.binding and not r.exact and trace.known(f"{r.key}.slack")
    ]
    if not judged:
        return None
    return _binding(trace, min(judged, key=lambda r: _slack(trace, r)), is_short=False)


def short_in_order(trace: Trace) -> tuple[Requirement, ...]:
    """What falls short: what lies under the ordinary water of the ditch first, then the worst.

    No size, board or price helps a floor or a crest that the ditch stands over.
    """
    short = (
        r for r in trace.requirements if r.binding and trace.value(f"{r.key}.status") == "short"
    )
    return tuple(
        sorted(short, key=lambda r: (not r.key.startswith(UNDER_THE_DITCH), _slack(trace, r)))
    )


def reasons(trace: Trace) -> tuple[Requirement, ...]:
    """What falls short, in the same order; of a rule that every season has, the worst season."""
    seasons = trace.names("inputs.season")

    def rule(key: str) -> str:
        head, _, last = key.rpartition("-")
        return head if last in seasons else key

    found: dict[str, Requirement] = {}
    for requirement in short_in_order(trace):
        found.setdefault(rule(requirement.key), requirement)
    return tuple(found.values())


def _slack(trace: Trace, requirement: Requirement) -> float:
    return float(trace.value(f"{requirement.key}.slack"))


def _binding(trace: Trace, requirement: Requirement, *, is_short: bool) -> Binding:
    words = _words(requirement, is_short)
    return Binding(requirement.key, _slack(trace, requirement), words, requirement.where)


def _words(requirement: Requirement, is_short: bool) -> str:
    return f"{requirement.title} {'falls short' if is_short else 'has the least in reserve'}"
