# SPDX-License-Identifier: Apache-2.0
"""Tracer tests of a job: read the curves, work them out on the design, give the part to show."""

from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain
from tilewater.chain.tracer import NUMBERS, CurveRead, add_tracer
from tilewater.documents.pages.said import Part as Said
from tilewater.documents.words import Words
from tilewater.job.reading import Job
from tilewater.job.tracer_file import TracerCurve, faults_of_tracer_file
from tilewater.monitoring.tracer_checks import is_final
from tilewater.tasks.checking import Checked
from tilewater.tasks.inspection import Inspection, Part
from tilewater.tasks.outside_inputs import OutsideFiles

KEY, TITLE = "tracer", "Tracer test"
YEAR_DAYS = 365.25
PAPER = "tracer-{}.pdf"


@dataclass(frozen=True)
class Traced:
    """The tracer tests of a job, worked out on its design.

    Attributes
    ----------
    names : tuple of str
    trace : Trace
        That of the design with the steps of the tests.
    notes : tuple of Finding
    """

    names: tuple[str, ...]
    trace: Trace
    notes: tuple[Finding, ...]


def tracer_names(job: Checked) -> tuple[str, ...]:
    """Names of the tracer tests of a job."""
    return job.trace.names("inputs.tracer")


def trace_tests(job: Checked, trace: Trace) -> Traced:
    """Work the tracer tests of a job out onto the trace of its design.

    Parameters
    ----------
    job : Checked
    trace : Trace
        Of the finished design; the steps are added to it.

    Returns
    -------
    Traced

    Raises
    ------
    BadInputFile
        With every fault of the curves.
    """
    faults: list[Fault] = []
    told = len(trace.findings)
    for name in tracer_names(job):
        curve, error = faults_of_tracer_file(job.folder / str(_input(job, name, "file")))
        if error is not None:
            faults.extend(error.faults)
        elif curve is not None:
            add_tracer(trace, name, _as_read(curve), _age_of(job, name))
    if faults:
        raise BadInputFile(*faults)
    return Traced(tracer_names(job), trace, tuple(trace.findings[told:]))


def tracing_part(inspection: Inspection) -> Part | None:
    """The tracer tests of a job as a part of a page; None where it has none.

    Raises
    ------
    BadInputFile
        With every fault of the curves.
    """
    if not tracer_names(inspection.job):
        return None
    traced = trace_tests(inspection.job, inspection.design.trace)

    def page(words: Words) -> tuple[Said, ...]:
        from tilewater.documents.pages.tracer_page import tracer_page

        return tuple(tracer_page(traced.trace, traced.names, words))

    def paper(name: str) -> bytes:
        from tilewater.documents.tracing.paper import tracer_pdf

        return tracer_pdf(inspection.job.title, traced.trace, name, inspection.words)

    return Part(
        key=KEY,
        title=TITLE,
        trace=traced.trace,
        record=tracing_record(traced),
        page=page,
        notes=traced.notes,
        files={PAPER.format(name): partial(paper, name) for name in traced.names},
    )


def tracing_record(traced: Traced) -> Record:
    """The tests as other programs read them, by name; with the tail extrapolated beside."""
    trace = traced.trace
    tests: Record = {}
    for name in traced.names:
        here = f"tracer.{name}"
        test: Record = {
            f"{attribute}{ending}": plain(trace, f"{here}.{attribute}{ending}")
            for attribute, ending, _, _ in NUMBERS
        }
        for key in ("mean_flow_m3_s", "wet_volume_m3", "pore_volume_m3", "porosity_shown"):
            test[key] = plain(trace, f"{here}.{key}")
        test["is_final"] = trace.known(f"{here}.summary") and is_final(
            trace.value(f"{here}.summary")
        )
        test["with_tail"] = (
            {
                f"{attribute}{ending}": plain(trace, f"{here}.with_tail.{attribute}{ending}")
                for attribute, ending, _, _ in NUMBERS
            }
            if f"{here}.with_tail.summary" in trace
            else None
        )
        tests[name] = test
    return tests


def tracer_files(job: Job) -> OutsideFiles:
    """What `check` says of the curves: the files read, or what is wrong with them."""
    found = OutsideFiles()
    for name, table in job.file.tracer.items():
        if not isinstance(table.file, str):
            continue
        curve, error = faults_of_tracer_file(Path(job.folder) / table.file)
        if error is not None:
            found.faults.extend(error.faults)
        elif curve is not None:
            found.read.append(f"{table.file}: tracer test {name}, {curve.time_s.size} samples")
    return found


def _as_read(curve: TracerCurve) -> CurveRead:
    return CurveRead(curve.file, curve.time_s, curve.concentration_kg_per_m3, curve.flow_m3_s)


def _input(job: Checked, name: str, field: str) -> object:
    return job.value(f"inputs.tracer.{name}.{field}")


def _age_of(job: Checked, name: str) -> float | None:
    """Age of the chips in a test; None where nothing tells it. [years]"""
    stated = _input(job, name, "media_age")
    if isinstance(stated, float):
        return stated
    filled, day = job.value("inputs.renew.filled"), _input(job, name, "date")
    if not isinstance(filled, str) or not isinstance(day, str):
        return None
    days = (date.fromisoformat(day) - date.fromisoformat(filled)).days
    return max(days / YEAR_DAYS, 0.0)
