# SPDX-License-Identifier: Apache-2.0
"""Design the practice of a job folder: the whole chain, its record, the runners-up."""

from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.findings import Finding
from tilewater.chain.alternatives import Alternative
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design
from tilewater.chain.plain import Record
from tilewater.chain.result import result_record
from tilewater.chain.since_issued import SinceIssued, since_issued_record
from tilewater.chain.verdict import SHORT
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.since_issue import issued_record, since_issued

TOLD_WITH_LINE = frozenset({"confirmation-of-no-row"})
"""What reading the job says of every case, with the line; the design need not say it again."""


@dataclass(frozen=True)
class Outcome:
    """What became of a job.

    Attributes
    ----------
    job : Checked
        The job as read.
    design : Design
        The judged design with its trace.
    record : dict
        The result as other programs read it.
    alternatives : tuple of Alternative
    since : SinceIssued or None
        What changed since the last issued copy; None where there is none to count from.
    """

    job: Checked
    design: Design
    record: Record
    alternatives: tuple[Alternative, ...]
    since: SinceIssued | None = None

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What the engineer must know: of the files read, then of the design."""
        told = {note.code for note in self.job.notes} & TOLD_WITH_LINE
        rest = (finding for finding in self.design.findings if finding.code not in told)
        return tuple(dict.fromkeys((*self.job.notes, *rest)))

    @property
    def fits(self) -> bool:
        """Whether no requirement falls short."""
        return self.design.verdict != SHORT


def design_job(folder: Path | str) -> Outcome:
    """Design the practice that a job folder asks for. Nothing is written.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.

    Returns
    -------
    Outcome
        Design, record and runners-up.

    Raises
    ------
    BadInputFile
        With every fault of its files.
    """
    job = check_job(folder)
    chosen = design_asked(job.inputs)
    design, alternatives = chosen.design, chosen.alternatives
    record = result_record(design, alternatives, version("tilewater"))
    since = since_issued(job, record)
    record["issued"] = issued_record(job.issued)
    record["changed_since_issued"] = since_issued_record(since)
    return Outcome(job, design, record, alternatives, since)
