# SPDX-License-Identifier: Apache-2.0
"""Finished work against its design, and the design run again with it, as a part of a look."""

from collections.abc import Iterator, Mapping

from tilewater.basis.findings import Finding
from tilewater.chain.built_conforms import DOES_NOT, NOT_KNOWN
from tilewater.chain.built_shots import is_as_found
from tilewater.documents.pages.built_page import Built, built_page
from tilewater.tasks.built_look import Looked, look_at_built, pictures_of
from tilewater.tasks.built_record import built_record
from tilewater.tasks.built_survey import CAUTION, BuiltSurvey, survey_findings
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
        short=built.in_all in (DOES_NOT, NOT_KNOWN) or bool(built.effect.newly_short),
    )


def _notes(inspection: Inspection, survey: BuiltSurvey) -> tuple[Finding, ...]:
    missing = [each for each in pictures_of(inspection) if not each.is_there]
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
