# SPDX-License-Identifier: Apache-2.0
"""Which standard a design is judged by, its rows with confirmed limits, and their judging."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.inputs import JobInputs
from tilewater.chain.practice import Practice
from tilewater.chain.water_peaks import add_share_of_ten_year_peak
from tilewater.criteria.standards import (
    CriterionRow,
    confirm_rows,
    judge_row,
    numbers_of_standards,
    read_standard,
)

JUDGED_BY = "criteria.judged_by"


def add_standard(trace: Trace, job: JobInputs, practice: Practice) -> tuple[CriterionRow, ...]:
    """Rows of the standard of a practice; their limits for sizing are recorded."""
    number, edition = _named_standard(trace, practice)
    for part, value in (("standard", number), ("edition", edition)):
        trace.constant(f"{JUDGED_BY}.{part}", value, f"Judged by {part}", source="derived")
    rows = confirm_rows(read_standard(number, edition).rows, job.confirmations)
    _tell_stray_confirmations(trace, job, rows, number)
    _add_sizing_limits(trace, rows)
    return rows


def _add_sizing_limits(trace: Trace, rows: tuple[CriterionRow, ...]) -> None:
    """Limits that a size is sought for, of a standard that has them."""
    option = trace.value("inputs.criteria.flow_option")
    judged = "capacity.criterion.share_of_peak"
    share = next((r for r in rows if r.alternative == option and r.value == judged), None)
    for key, ending, chosen, unit in (
        ("sizing.share_limit", "-share-of-peak", share, "-"),
        ("sizing.retention_limit_h", "-retention", None, "h"),
        ("sizing.reduction_limit", "-reduction", None, "-"),
    ):
        row = chosen or next((r for r in rows if r.code.endswith(ending)), None)
        if row is not None:
            title = f"Limit: {row.title.lower()}"
            trace.constant(key, row.limit, title, unit=unit, source=row.source)


def _named_standard(trace: Trace, practice: Practice) -> tuple[str, str]:
    """Number and edition to judge by; what the job leaves open is stood in for, and said.

    A job that names the standard of another practice, or none, is judged by that of the practice.
    """
    named = {}
    for part, stand_in in (("standard", practice.standard), ("edition", practice.edition)):
        key = f"inputs.criteria.{part}"
        value = trace.value(key)
        named[part] = stand_in if is_unknown(value) else str(value)
        if is_unknown(value):
            trace.findings.append(
                Finding(
                    f"{part}-not-named",
                    "caution",
                    "Standard",
                    f"The job does not name the {part}; the {practice.words} is judged by {part} "
                    f"{stand_in} until it does. Name the one your office holds you to.",
                    source="practice",
                )
            )
    number, own = named["standard"], practice.standard
    if number == own or number not in OF_PRACTICE:
        return number, named["edition"]
    if _is_typed(trace, "inputs.criteria.standard"):
        trace.findings.append(
            Finding(
                "standard-of-other-practice",
                "note",
                "Standard",
                f"The job names standard {number}, which is that of the "
                f"{OF_PRACTICE[number]}; the {practice.words} is judged by {own}.",
                source="practice",
            )
        )
        return own, practice.edition
    edition = named["edition"] if _is_typed(trace, "inputs.criteria.edition") else practice.edition
    return own, edition


OF_PRACTICE = {"605": "woodchip bed", "604": "saturated buffer", "554": "raised outlet"}
"""What the standards are of that the program has."""


def _is_typed(trace: Trace, key: str) -> bool:
    origin = trace.steps[key].origin
    return origin is not None and bool(origin.file)


def _tell_stray_confirmations(
    trace: Trace, job: JobInputs, rows: tuple[CriterionRow, ...], number: str
) -> None:
    names = {name for row in rows for name in (row.name, row.code)}
    others = tuple(f"{other}-" for other in numbers_of_standards() if other != number)
    for word in job.confirmations:
        if word.row not in names and not word.row.startswith(others):
            trace.findings.append(
                Finding(
                    "confirmation-of-no-row",
                    "caution",
                    word.row,
                    f"{word.by} confirms a limit of '{word.row}', which is no row of the standard. "
                    f"Its rows: {', '.join(row.name for row in rows)}.",
                )
            )


def judge_rows(trace: Trace, rows: tuple[CriterionRow, ...], practice: Practice) -> None:
    """Judge every row; of alternative ways only the one that the job chose binds."""
    add_share_of_ten_year_peak(trace)
    option = trace.value("inputs.criteria.flow_option") if practice.has_ways else ""
    for row in rows:
        chosen = not row.alternative or is_unknown(option) or row.alternative == option
        judge_row(trace, row, binding=chosen, where=practice.name)
