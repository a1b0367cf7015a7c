# SPDX-License-Identifier: Apache-2.0
"""Levels of finished work for the set of sheets; a set as built is refused where none was shot."""

from typing import TYPE_CHECKING

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.told import in_units
from tilewater.basis.trace import Trace
from tilewater.basis.units import System
from tilewater.chain.built_shots import is_as_found
from tilewater.tasks.built_survey import survey_findings, survey_of
from tilewater.tasks.checking import Checked

if TYPE_CHECKING:
    from tilewater.documents.sheets.built_levels import BuiltLevels

NO_SHOTS = (
    "No part of the finished works was shot, so there are no levels as built. Name the shots "
    "under [as_built], or use another status."
)
AS_FOUND = (
    "The practice was found as others built it, so no design is at hand to hold it against. Use "
    "another status; tilewater inspect shows what was found."
)
TOLD = ("as-built-of-nothing", "as-built-check-off", "as-built-no-check")
"""What of a survey is told beside its levels."""


def built_levels(job: Checked, design: Trace, units: System) -> "BuiltLevels":
    """Shots of finished work against a design, which is left as it is.

    Parameters
    ----------
    job : Checked
        The job as read.
    design : Trace
        Of its design.
    units : "us" or "si"
        Units of the reader.

    Returns
    -------
    BuiltLevels

    Raises
    ------
    BadInputFile
        If no part of the works was shot, or there is no design to hold it against.
    """
    from tilewater.documents.sheets.built_levels import BuiltLevels

    trace = copied(design)
    if is_as_found(trace):
        raise BadInputFile(Fault("sheets", None, "status", AS_FOUND))
    survey = survey_of(job, trace)
    if survey is None:
        raise BadInputFile(Fault("sheets", None, "status", NO_SHOTS))
    day = job.value("inputs.as_built.taken_on")
    found = BuiltLevels(
        trace,
        survey.levels,
        survey.laid,
        day if isinstance(day, str) else "",
        tuple(in_units(f.message, units) for f in survey_findings(survey) if f.code in TOLD),
    )
    if found.is_empty:
        raise BadInputFile(Fault("sheets", None, "status", NO_SHOTS))
    return found


def copied(trace: Trace) -> Trace:
    """The steps of a trace on one of their own, so that more are added to the copy only."""
    copy = Trace()
    for step in trace:
        copy.put(step)
    return copy
