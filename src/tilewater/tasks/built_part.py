# SPDX-License-Identifier: Apache-2.0
"""Finished work against its design, and the design run again with it, as a part of a look."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from tilewater.basis.findings import Finding
from tilewater.basis.memory import Memory
from tilewater.chain.built_conforms import conformances, in_all, outside
from tilewater.chain.built_lid import BoardSet, add_stacks, board_sets
from tilewater.chain.built_paid import add_paid, quantity_keys
from tilewater.chain.built_rerun import NUMBERS, add_instead, add_rerun, rerun
from tilewater.chain.built_shots import is_as_found
from tilewater.chain.design import Design, design_practice
from tilewater.documents.pages.built_page import Built, Picture, built_page
from tilewater.tasks.built_record import built_record
from tilewater.tasks.built_survey import CAUTION, BuiltSurvey, survey_findings, survey_of
from tilewater.tasks.inspection import Inspection, Make, Part

TITLE, AS_FOUND = "As built", "As found"
KEY = "built"
CSV, PDF = "as-built.csv", "as-built.pdf"


def built_part(inspection: Inspection) -> Part | None:
    """Finished work against its design; None where the job names no shots of it."""
    looked = look_at_built(inspection)
    if looked is None:
        return None
    survey, built = looked.survey, looked.built
    return Part(
        key=KEY,
        title=AS_FOUND if is_as_found(survey.trace) else TITLE,
        trace=survey.trace,
        record=built_record(survey, built),
        page=lambda words: tuple(built_page(built, words)),
        notes=(*_notes(inspection, survey), *_told(built)),
        files=_files(inspection, looked),
        short=built.in_all == "does not conform" or bool(built.effect.newly_short),
    )


@dataclass(frozen=True)
class Looked:
    """Finished work with the survey that it was taken from."""

    survey: BuiltSurvey
    built: Built


def look_at_built(inspection: Inspection) -> Looked | None:
    """Shots against the design, and the design run again; None where the job names no shots."""
    if inspection.job.value("inputs.as_built.shots") is None:
        return None
    memory = Memory()
    before = _design(inspection, memory)
    trace = before.trace
    survey = survey_of(inspection.job, trace)
    if survey is None:
        return None
    instead = add_instead(trace, survey.levels, survey.laid)
    off = () if is_as_found(trace) else outside(trace, survey.levels, survey.laid)
    effect = rerun(
        before,
        trace,
        instead,
        off,
        survey.origin,
        by_days=inspection.by_days,
        memory=Memory(memory.calls),
    )
    sets = board_sets(before.trace, effect.after.trace, effect.sets)
    add_rerun(trace, effect, (*_told_keys(sets), *quantity_keys(effect.after.trace)))
    parts = conformances(trace, survey.levels, survey.laid, effect.by_element)
    lid = any(each.is_changed for each in sets)
    stacks = () if is_as_found(trace) else add_stacks(trace)
    built = Built(
        trace=trace,
        levels=survey.levels,
        laid=survey.laid,
        unmatched=survey.unmatched,
        parts=() if is_as_found(trace) else parts,
        in_all="as found" if is_as_found(trace) else in_all(parts, effect.newly_short, lid),
        effect=effect,
        sets=sets,
        stacks=stacks,
        pictures=tuple(_pictures(inspection)),
        paid=add_paid(trace, effect.after.trace, instead),
        by_days=inspection.by_days,
    )
    return Looked(survey, built)


def _design(inspection: Inspection, memory: Memory) -> Design:
    if not inspection.by_days:
        return inspection.design
    return design_practice(inspection.job.inputs, inspection.practice, memory=memory)


def _told_keys(sets: tuple[BoardSet, ...]) -> Iterator[str]:
    yield from (key for key, _ in NUMBERS)
    for each in sets:
        yield from (f"boards.{each.name}.{end}" for end in ("crest_m", "rim_down_m", "stack_m"))


def _pictures(inspection: Inspection) -> Iterator[Picture]:
    """The index of pictures; one that is not in the folder says so."""
    value = inspection.job.value
    trace = inspection.job.trace
    for name in trace.names("inputs.photo"):
        own = f"inputs.photo.{name}"
        file, what = (str(value(f"{own}.{part}")) for part in ("file", "what"))
        when, station = value(f"{own}.when"), value(f"{own}.station_m")
        yield Picture(
            name,
            file,
            what,
            when if isinstance(when, str) else "",
            station if isinstance(station, float) else None,
            _is_in(inspection.job.folder, file),
        )


def _is_in(folder: Path, name: str) -> bool:
    """Whether a file lies in the folder itself; names that lead out of it do not count."""
    try:
        path = (folder / name).resolve()
        return path.is_relative_to(folder.resolve()) and path.is_file()
    except (OSError, ValueError):
        return False


def _notes(inspection: Inspection, survey: BuiltSurvey) -> tuple[Finding, ...]:
    missing = [each for each in _pictures(inspection) if not each.is_there]
    told: list[Finding] = [CAUTION, *survey_findings(survey)]
    if missing:
        names = ", ".join(each.file for each in missing)
        told.append(
            Finding(
                "as-built-picture-missing",
                "note",
                "pictures",
                f"{len(missing)} of the pictures named are not in the job folder: {names}.",
            )
        )
    return tuple(told)


def _told(built: Built) -> Iterator[Finding]:
    """What the work as built changes, in words."""
    for one in built.effect.newly_short:
        yield Finding(
            "as-built-newly-short",
            "fails",
            "as built",
            f"Falls short as built, and did not as designed: {one.title}.",
            source=one.source,
        )
    if any(each.is_changed for each in built.sets) and built.in_all != "as found":
        yield Finding(
            "as-built-lid-card",
            "caution",
            "lid card",
            "The card inside the lid was made for the design. Replace it with the distances as "
            "built.",
            source="practice",
        )


def _files(inspection: Inspection, looked: Looked) -> Mapping[str, Make]:
    def pdf() -> bytes:
        from tilewater.tasks.built_papers import built_pdf

        return built_pdf(inspection, looked)

    def table() -> str:
        from tilewater.tasks.built_papers import built_csv

        return built_csv(looked, inspection.words)

    return {CSV: table, PDF: pdf}
