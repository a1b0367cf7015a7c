# SPDX-License-Identifier: Apache-2.0
"""The grade of laid pipes, as a part of a look at the works."""

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.built_grade import LaidRun, shot_key, status_of_run
from tilewater.chain.built_shots import Matched
from tilewater.chain.plain import Record
from tilewater.documents.pages.grade_page import grade_page
from tilewater.tasks.built_survey import CAUTION, BuiltSurvey, survey_findings, survey_of
from tilewater.tasks.inspection import Inspection, Part

TITLE = "Grade of pipes"
KEY = "grade"


def grade_part(inspection: Inspection) -> Part | None:
    """The grade of every pipe that was shot; None where the job names no shots of finished work."""
    if inspection.job.value("inputs.as_built.shots") is None:
        return None
    survey = survey_of(inspection.job, inspection.design.trace)
    if survey is None:
        return None
    words = [status_of_run(survey.trace, laid) for laid in survey.laid if laid.shots]
    return Part(
        key=KEY,
        title=TITLE,
        trace=survey.trace,
        record=grade_record(survey),
        page=lambda words: tuple(grade_page(survey.trace, survey.laid, survey.unmatched, words)),
        notes=(CAUTION, *survey_findings(survey), *_told(survey)),
        short="short" in words or (not words and _is_unjudged(inspection, survey)),
    )


def _is_unjudged(inspection: Inspection, survey: BuiltSurvey) -> bool:
    """Whether pipes were asked for, or no shot at all is of the works, and none can be judged."""
    return inspection.only == KEY or len(survey.unmatched) == len(survey.found)


def _told(survey: BuiltSurvey) -> tuple[Finding, ...]:
    """Water that will stand, and reaches that are too flat, in words."""
    trace = survey.trace
    found = []
    for laid in survey.laid:
        key = f"{laid.key}.standing.status"
        if key in trace and trace.value(key) == "short":
            deep, at = (
                float(trace.value(f"{laid.key}.{end}")) for end in ("standing_m", "standing_at_m")
            )
            found.append(
                Finding(
                    "pipe-back-fall",
                    "fails",
                    laid.run.name,
                    f"Water will stand {feet(deep)} deep in it, {feet(at, '.0f')} from its lower "
                    "end: it falls back there by more than the noise of the shots. Relay that "
                    "reach.",
                    value=deep,
                    unit="m",
                )
            )
        key = f"{laid.key}.local.status"
        if key in trace and trace.value(key) == "short":
            reach = trace.value(f"{laid.key}.flattest")
            found.append(
                Finding(
                    "pipe-too-flat",
                    "fails",
                    laid.run.name,
                    f"From {feet(reach.low, '.0f')} to {feet(reach.high, '.0f')} above its lower "
                    f"end its grade is {100 * reach.grade:.2f} percent, less than the least. Relay "
                    "that reach, or show that it carries its water.",
                    value=reach.grade,
                    operator=">=",
                    unit="-",
                )
            )
    return tuple(found)


def grade_record(survey: BuiltSurvey) -> Record:
    """Pipes as other programs read them, in SI."""
    trace = survey.trace
    return {
        "file": survey.read.file,
        "shots": len(survey.found),
        "unmatched": [unmatched_record(m) for m in survey.unmatched],
        "pipes": {laid.run.slug: _run_record(trace, laid) for laid in survey.laid},
    }


def unmatched_record(m: Matched) -> Record:
    """A shot that is of nothing."""
    return {
        "point": m.shot.point,
        "line": m.shot.line,
        "note": m.shot.note,
        "level_m": m.shot.height,
        "why": m.match.why,
    }


def number(trace: Trace, key: str) -> float | None:
    """A number of the trace; None where it is not known or not there."""
    if key not in trace or is_unknown(trace.value(key)):
        return None
    return float(trace.value(key))


def _run_record(trace: Trace, laid: LaidRun) -> Record:
    ends = ("noise_m", "over_m", "local_slope", "standing_m", "standing_at_m", "range_m")
    return {
        "status": status_of_run(trace, laid),
        "design_slope": number(trace, f"{laid.key}.design.slope"),
        **{end: number(trace, f"{laid.key}.{end}") for end in ends},
        "shots": [_shot_record(trace, laid, m) for m in laid.shots],
    }


def _shot_record(trace: Trace, laid: LaidRun, m: Matched) -> Record:
    own = shot_key(laid, m)
    status = f"{own}.status"
    return {
        "point": m.shot.point,
        "line": m.shot.line,
        "code": m.match.code,
        **{
            end: number(trace, f"{own}.{end}")
            for end in ("along_m", "invert_m", "design_invert_m", "off_m")
        },
        "status": str(trace.value(status)) if trace.known(status) else "not known",
    }
