# SPDX-License-Identifier: Apache-2.0
"""The screening of a job: what could lie at its outlet, what cannot and why, what is not known.

It asks the site, with whatever is known of it, before anything is designed; a job in which most is
"unknown" ends in "not known" and a list of what to measure. It designs nothing and satisfies no
rule. A bed that the job draws is shown beside it.
"""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.inputs import JobInputs
from tilewater.chain.screen_answers import CANNOT, COULD, Answer, answer_of
from tilewater.chain.screen_drawn import Drawn, add_drawn
from tilewater.chain.screen_next import (
    AGAIN,
    ELSE,
    Advice,
    Measurement,
    advice,
    measurements,
)
from tilewater.chain.screen_rows import judge_questions, limit_of_standard
from tilewater.chain.screen_steps import add_site, give_limits
from tilewater.chain.screen_strip import add_strip
from tilewater.chain.water_side import add_water_side
from tilewater.criteria.standards import CriterionRow, confirm_rows, read_standard
from tilewater.practices.rules import give_practice_rules


@dataclass(frozen=True)
class Screen:
    """A screened job.

    Attributes
    ----------
    job : JobInputs
        What it was computed from.
    trace : Trace
        Every step.
    answers : tuple of Answer
        One for each practice: bed, buffer, raised outlet.
    drawn : Drawn or None
        The bed that the job draws; None where it draws none.
    measure : tuple of Measurement
        What to measure next, best first.
    helps, again : tuple of Advice
        What else could help, and when to look again.
    findings : tuple of Finding
    """

    job: JobInputs
    trace: Trace
    answers: tuple[Answer, ...]
    drawn: Drawn | None
    measure: tuple[Measurement, ...]
    helps: tuple[Advice, ...]
    again: tuple[Advice, ...]
    findings: tuple[Finding, ...]

    def answer(self, practice: str) -> Answer:
        """The answer for a practice."""
        return next(each for each in self.answers if each.practice == practice)

    @property
    def nothing(self) -> bool:
        """Whether nothing could lie here."""
        return all(each.answer == CANNOT for each in self.answers)


def screen_job(job: JobInputs) -> Screen:
    """Screen the inputs of a job.

    Parameters
    ----------
    job : JobInputs
        Inputs of the job; any of them may be unknown. [-]

    Returns
    -------
    Screen
    """
    trace = Trace.start(job.givens, job.overrules, job.assumptions)
    give_practice_rules(trace)
    give_limits(trace)
    add_water_side(trace)
    add_site(trace)
    standard = confirm_rows(read_standard("604", "2020").rows, job.confirmations)
    add_strip(trace, limit_of_standard(trace, _share_row(standard)))
    drawn = add_drawn(trace, job)
    rows = judge_questions(trace, standard)
    answers = tuple(answer_of(practice, rows) for practice in COULD)
    return Screen(
        job=job,
        trace=trace,
        answers=answers,
        drawn=drawn,
        measure=measurements(trace, answers),
        helps=advice(answers, ELSE),
        again=advice(answers, AGAIN),
        findings=tuple(dict.fromkeys(trace.findings)),
    )


def _share_row(standard: tuple[CriterionRow, ...]) -> CriterionRow:
    return next(row for row in standard if row.name == "share-of-capacity")
