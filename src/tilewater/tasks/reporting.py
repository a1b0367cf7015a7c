# SPDX-License-Identifier: Apache-2.0
"""Put together what a report is made from."""

from importlib.metadata import version

from tilewater.basis.units import System
from tilewater.chain.since_issued import SinceIssued
from tilewater.documents.report import REVIEW_COPY, Drawn, ReportMaterial
from tilewater.tasks.designing import Outcome
from tilewater.tasks.reader import words_for


def report_material(
    outcome: Outcome,
    units: System | None = None,
    *,
    drawings: tuple[Drawn, ...] = (),
    since: SinceIssued | None = None,
    status: str = REVIEW_COPY,
) -> ReportMaterial:
    """What the reports of a design are made from.

    Parameters
    ----------
    outcome : Outcome
        The design.
    units : "us", "si" or None
        Units of the reader; None for those of the job.
    drawings : tuple of Drawn
        Drawings, at their true size on paper.
    since : SinceIssued or None
        What changed since the last issued copy; None for a first copy.
    status : str
        What kind of copy this is.

    Returns
    -------
    ReportMaterial
        For `report_pdf` and `owner_pdf`.
    """
    words = words_for(outcome.job, units)
    reader = words.system
    return ReportMaterial(
        title=outcome.job.title,
        design=outcome.design,
        record=outcome.record,
        findings=tuple(note.in_units(reader) for note in outcome.notes),
        alternatives=tuple(each.in_units(reader) for each in outcome.alternatives),
        version=version("tilewater"),
        units=reader,
        foot=words.foot,
        since=since,
        drawings=drawings,
        status=status,
        files=outcome.job.files,
    )
