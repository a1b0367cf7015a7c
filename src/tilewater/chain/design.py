# SPDX-License-Identifier: Apache-2.0
"""The whole chain: from the inputs of a job to a judged design of a practice.

A straight list of steps, all rerun on one edit. It reads and writes no file.
"""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.memory import Memory
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.chain.advice import add_advice
from tilewater.chain.bed import BED
from tilewater.chain.cautions import caution_findings
from tilewater.chain.days_rules import add_probabilities
from tilewater.chain.decides import add_decides
from tilewater.chain.inputs import JobInputs
from tilewater.chain.main_findings import judge_exposed, tell_of_main
from tilewater.chain.money import add_money
from tilewater.chain.plan import add_plan
from tilewater.chain.practice import Practice
from tilewater.chain.pumping import add_pumping
from tilewater.chain.right_tile import judge_tile
from tilewater.chain.side_effects import add_side_effects
from tilewater.chain.standard import add_standard, judge_rows
from tilewater.chain.surcharge import surcharge_findings
from tilewater.chain.verdict import Binding, OpenItem, binding_of, open_items, verdict_of
from tilewater.chain.water_side import add_water_side
from tilewater.criteria.standards import CriterionRow
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


def design_practice(
    job: JobInputs, practice: Practice, *, by_days: bool = True, memory: Memory | None = None
) -> Design:
    """Compute a practice from the inputs of a job and judge it.

    Parameters
    ----------
    job : JobInputs
        Inputs of the job. [-]
    practice : Practice
        What is designed. [-]
    by_days : bool
        Whether known days are routed through it; a runner-up is judged without. [-]
    memory : Memory or None
        What is remembered of an earlier design of this practice; it changes no number. [-]

    Returns
    -------
    Design
    """
    trace = Trace.start(practice.givens_of(job), job.overrules, job.assumptions, memory)
    give_practice_rules(trace)
    rows = add_standard(trace, job, practice)
    add_water_side(trace, practice)
    practice.add(trace)
    if by_days:
        practice.add_days(trace)
    practice.add_removal(trace)
    practice.tell_days(trace)
    judge_rows(trace, rows, practice)
    add_probabilities(trace, rows, practice)
    practice.judge_site(trace)
    add_money(trace)
    add_decides(trace)
    add_advice(trace, rows, practice)
    add_side_effects(trace)
    add_plan(trace)
    practice.add_section(trace)
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
    trace.forget()
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
