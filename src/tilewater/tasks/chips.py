# SPDX-License-Identifier: Apache-2.0
"""Chips on site: sieve tests judged against what the job asks, and their sheet to sign."""

from tilewater.chain.chips import add_chips
from tilewater.chain.chips_record import Load, chips_findings, chips_record, loads_of
from tilewater.documents.pages.chips_page import chips_page
from tilewater.documents.paper.blocks import Paper
from tilewater.job.tickets import refused_tickets
from tilewater.tasks.checking import Checked
from tilewater.tasks.inspection import Inspection, Part

SHEET = "chips-sheet.pdf"
PAPERS: dict[str, Paper] = {"us": "us-letter", "si": "a4"}


def chips_part(inspection: Inspection) -> Part | None:
    """The sieve tests of a job up to the day of a look; None where there is none.

    Parameters
    ----------
    inspection : Inspection
        The job and the day.

    Returns
    -------
    Part or None
    """
    trace = inspection.job.trace
    if not trace.names("inputs.sieve_test"):
        return None
    add_chips(trace, inspection.day.isoformat())
    loads = loads_of(trace)
    if not loads:
        return None

    def sheet() -> bytes:
        from tilewater.documents.field.chips_sheet import chips_pdf

        title, words = inspection.job.title, inspection.words
        return chips_pdf(title, trace, loads, words, PAPERS[inspection.system])

    return Part(
        key="chips",
        title="Chips",
        trace=trace,
        record=chips_record(trace, loads),
        page=lambda words: chips_page(trace, loads, words),
        notes=chips_findings(trace, loads),
        files={SHEET: sheet},
        short=any(not _is_settled(load, _sent_back(inspection.job)) for load in loads),
    )


def _sent_back(job: Checked) -> frozenset[str]:
    file = job.value("inputs.supply.file")
    return refused_tickets(job.folder / file) if isinstance(file, str) else frozenset()


def _is_settled(load: Load, sent_back: frozenset[str]) -> bool:
    """Whether nothing is left to do about a load: accepted, or rejected and sent back."""
    if load.verdict == "reject":
        return load.ticket in sent_back
    return load.verdict == "accept"
