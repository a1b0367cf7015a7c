# SPDX-License-Identifier: Apache-2.0
"""Finished work of a job: its shots against the design, and the design run again with them."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tilewater.basis.memory import Memory
from tilewater.chain.built_conforms import conformances, in_all, outside
from tilewater.chain.built_lid import BoardSet, add_stacks, board_sets
from tilewater.chain.built_paid import add_paid, quantity_keys
from tilewater.chain.built_rerun import NUMBERS, add_instead, add_rerun, rerun
from tilewater.chain.built_shots import is_as_found
from tilewater.chain.design import Design, design_practice
from tilewater.documents.pages.built_page import Built, Picture
from tilewater.tasks.built_survey import BuiltSurvey, survey_of
from tilewater.tasks.inspection import Inspection


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
        pictures=tuple(pictures_of(inspection)),
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


def pictures_of(inspection: Inspection) -> Iterator[Picture]:
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
