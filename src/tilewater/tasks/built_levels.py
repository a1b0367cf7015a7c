# SPDX-License-Identifier: Apache-2.0
"""A job with its structures as they stand: sills, floors and rims as shot in place of those drawn.

What is measured, moved and reported after the work is finished goes by what was built. The job file
stays as it was typed; sizes of the bed and pipes stay those of the design, see `tilewater inspect`.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.chain.built_elements import Level
from tilewater.chain.built_judged import part_key
from tilewater.chain.built_rerun import add_instead, instead_key
from tilewater.chain.built_shots import is_as_found
from tilewater.tasks.built_survey import survey_of
from tilewater.tasks.checking import Checked
from tilewater.tasks.inspection import Inspection

OF_STRUCTURES = "inputs.structure."
TOLD = 0.005 * 0.3048
"""A level that differs by less is shown with the same digits. [m]"""
SUBJECTS = {
    "sill": "sill of the {} boards",
    "floor": "floor of the {} structure",
    "rim": "rim of the {} structure",
}


def as_it_stands(job: Checked) -> Checked:
    """A job with the levels of its structures as they were shot.

    A level that was not shot, or of which noise alone could make what was shot, stays that of the
    design.

    Parameters
    ----------
    job : Checked
        A job as read; one that was given out by this function is given back.

    Returns
    -------
    Checked
        Its `stands` names each level that differs; it stands among the notes too.

    Raises
    ------
    BadInputFile
        With every fault of the file of finished work.
    """
    if job.stands is not None or not isinstance(job.value("inputs.as_built.shots"), str):
        return job
    # No step of it reads the day.
    trace = Inspection(job, date.min).design.trace
    survey = survey_of(job, trace)
    if survey is None:
        return job
    levels = tuple(level for level in survey.levels if _is_taken(trace, level))
    add_instead(trace, levels, ())
    values = {key: float(trace.value(instead_key(key))) for level in levels for key in level.inputs}
    givens = tuple(
        replace(given, value=values[given.key], origin=survey.origin)
        if given.key in values
        else given
        for given in job.inputs.givens
    )
    stands = tuple(_told(trace, levels))
    return replace(
        job,
        inputs=replace(job.inputs, givens=givens),
        notes=(*job.notes, *stands),
        stands=stands,
    )


def _is_taken(trace: Trace, level: Level) -> bool:
    """Whether a level of a structure was shot, and is known better than its noise."""
    here = part_key(level)
    if not any(key.startswith(OF_STRUCTURES) for key in level.inputs):
        return False
    if not trace.known(f"{here}_m"):
        return False
    if is_as_found(trace):
        return True
    return trace.known(f"{here}.status") and trace.value(f"{here}.status") != "not known"


def _told(trace: Trace, levels: tuple[Level, ...]) -> Iterator[Finding]:
    for level in levels:
        built = float(trace.value(f"{part_key(level)}_m"))
        drawn = float(trace.value(level.design)) if trace.known(level.design) else None
        if drawn is not None and abs(built - drawn) < TOLD:
            continue
        subject = SUBJECTS[level.what].format(level.element.removesuffix(" structure"))
        beside = "the design has none" if drawn is None else f"design {feet(drawn)}"
        message = f"The {subject} is taken as built, {feet(built)} ({beside})."
        yield Finding("level-as-built", "note", subject, message, value=built, unit="m")
