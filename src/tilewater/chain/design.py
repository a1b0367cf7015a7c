# SPDX-License-Identifier: Apache-2.0
"""The whole chain: from the inputs of a job to a judged design of a practice.

A straight list of steps, all rerun on one edit. It reads and writes no file.
"""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.bed import BED
from tilewater.chain.cautions import caution_findings
from tilewater.chain.cross import add_cross
from tilewater.chain.days_rules import add_probabilities
from tilewater.chain.inputs import JobInputs
from tilewater.chain.main_findings import judge_exposed, tell_of_main
from tilewater.chain.money import add_money
from tilewater.chain.plan import add_plan
from tilewater.chain.practice import Practice
from tilewater.chain.pumping import add_pumping
from tilewater.chain.right_tile import judge_tile
from tilewater.chain.surcharge import surcharge_findings
from tilewater.chain.verdict import Binding, OpenItem, binding_of, open_items, verdict_of
from tilewater.chain.water_peaks import add_share_of_ten_year_peak
from tilewater.chain.water_side import add_water_side
from tilewater.criteria.standards import CriterionRow, confirm_rows, judge_row, read_standard
from tilewater.practices.rules import give_practice_rules


@dataclass(frozen=True)
class Design:
    """A judged design.

    Attributes
    ----------
    job : JobInputs
        What it was computed from.
    practice : Practice
        What was designed.
    trace : Trace
        Every step.
    verdict : str
        "fits", "fits with open items", "does not fit", or "not known" where nothing could be
        judged.
    governs : Binding or None
        What binds; None where nothing could be judged.
    open_items : tuple of OpenItem
        What is not known or not confirmed.
    rows : tuple of CriterionRow
        Rows of the standard, confirmed limits put in.
    findings : tuple of Finding
    """

    job: JobInputs
    practice: Practice
    trace: Trace
    verdict: str
    governs: Binding | None
    open_items: tuple[OpenItem, ...]
    rows: tuple[CriterionRow, ...]
    findings: tuple[Finding, ...]

    def requirement(self, key: str) -> Requirement:
        """The requirement with a key."""
        return next(r for r in self.trace.requirements if r.key == key)


def design_bed(job: JobInputs, *, by_days: bool = True) -> Design:
    """Compute a bed from the inputs of a job and judge it; see `design_practice`."""
    return design_practice(job, BED, by_days=by_days)


def design_practice(job: JobInputs, practice: Practice, *, by_days: bool = True) -> Design:
    """Compute a practice from the inputs of a job and judge it.

    Parameters
    ----------
    job : JobInputs
        Inputs of the job. [-]
    practice : Practice
        What is designed. [-]
    by_days : bool
        Whether known days are routed through it; a runner-up is judged without. [-]

    Returns
    -------
    Design
    """
    trace = Trace.start(job.givens, job.overrules, job.assumptions)
    give_practice_rules(trace)
    rows = _standard_rows(trace, job, practice)
    add_water_side(trace)
    practice.add(trace)
    if by_days:
        practice.add_days(trace)
    practice.add_removal(trace)
    practice.tell_days(trace)
    _judge_rows(trace, rows)
    add_probabilities(trace, rows)
    practice.judge_site(trace)
    add_money(trace)
    add_plan(trace)
    add_cross(trace)
    surcharge_findings(trace)
    judge_exposed(trace)
    tell_of_main(trace)
    judge_tile(trace)
    add_pumping(trace)
    caution_findings(trace)
    for overrule in trace.unused_overrules():
        trace.findings.append(
            Finding(
                "overrule-of-nothing",
                "caution",
                overrule.key,
                f"{overrule.by} overrules '{overrule.key}', and no value by that key is computed. "
                "Use the key of a value of the --json result; a status follows from its value.",
            )
        )
    items = open_items(trace, rows)
    return Design(
        job=job,
        practice=practice,
        trace=trace,
        verdict=verdict_of(trace, items),
        governs=binding_of(trace),
        open_items=items,
        rows=rows,
        findings=tuple(dict.fromkeys(trace.findings)),
    )


def _standard_rows(trace: Trace, job: JobInputs, practice: Practice) -> tuple[CriterionRow, ...]:
    rows = confirm_rows(read_standard(*_named_standard(trace, practice)).rows, job.confirmations)
    _tell_stray_confirmations(trace, job, rows)
    option = trace.value("inputs.criteria.flow_option")
    judged = "capacity.criterion.share_of_peak"
    share = next((r for r in rows if r.alternative == option and r.value == judged), None)
    fallback = next(r for r in rows if r.code.endswith("-share-of-peak"))
    for key, row, unit in (
        ("sizing.share_limit", share or fallback, "-"),
        ("sizing.retention_limit_h", next(r for r in rows if r.code.endswith("-retention")), "h"),
        ("sizing.reduction_limit", next(r for r in rows if r.code.endswith("-reduction")), "-"),
    ):
        trace.constant(key, row.limit, f"Limit: {row.title.lower()}", unit=unit, source=row.source)
    return rows


def _named_standard(trace: Trace, practice: Practice) -> tuple[str, str]:
    """Number and edition to judge by; what the job leaves open is stood in for, and said."""
    named = {}
    for part, stand_in in (("standard", practice.standard), ("edition", practice.edition)):
        value = trace.value(f"inputs.criteria.{part}")
        named[part] = stand_in if is_unknown(value) else str(value)
        if is_unknown(value):
            trace.findings.append(
                Finding(
                    f"{part}-not-named",
                    "caution",
                    "Standard",
                    f"The job does not name the {part}; the {practice.name} is judged by {part} "
                    f"{stand_in} until it does. Name the one your office holds you to.",
                    source="practice",
                )
            )
    return named["standard"], named["edition"]


def _tell_stray_confirmations(trace: Trace, job: JobInputs, rows: tuple[CriterionRow, ...]) -> None:
    names = {name for row in rows for name in (row.name, row.code)}
    for word in job.confirmations:
        if word.row not in names:
            trace.findings.append(
                Finding(
                    "confirmation-of-no-row",
                    "caution",
                    word.row,
                    f"{word.by} confirms a limit of '{word.row}', which is no row of the standard. "
                    f"Its rows: {', '.join(row.name for row in rows)}.",
                )
            )


def _judge_rows(trace: Trace, rows: tuple[CriterionRow, ...]) -> None:
    add_share_of_ten_year_peak(trace)
    option = trace.value("inputs.criteria.flow_option")
    for row in rows:
        chosen = not row.alternative or is_unknown(option) or row.alternative == option
        judge_row(trace, row, binding=chosen)
