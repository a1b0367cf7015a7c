# SPDX-License-Identifier: Apache-2.0
"""Words of a certificate for the engineer: drafted, never sealed; what was and was not checked."""

from collections.abc import Iterator

from tilewater.chain.built_conforms import (
    CONFORMS,
    DOES_NOT,
    NOT_KNOWN,
    NOT_SHOT,
    WITH_EFFECT,
    level_status,
)
from tilewater.chain.built_elements import CHECKED
from tilewater.documents.pages.built_page import Built
from tilewater.documents.paper.blocks import Block, Heading, Items, Paragraph, Seal
from tilewater.documents.words import Words

STATEMENT = (
    "Draft for the engineer in responsible charge, who checks it, changes it where it is not so, "
    "and signs and seals it or does not. The program certifies nothing."
)
ROOM = "Room for the seal"
LINES = ("Engineer, licence number and state", "Signature", "Date")
NEVER = (
    "What is under ground and was not shot before it was covered: lining, seams, fabric, header "
    "holes, collars, compaction.",
    "Chips, beyond what the sieve sheets and the tickets say.",
    "Boundaries, utilities, consents and the safety of the work.",
    "How the practice performs; that takes water, time and measurement.",
)


def certificate(built: Built, about: tuple[str, ...], words: Words) -> Iterator[Block]:
    """The certificate of completion, drafted."""
    yield Heading("Certificate of completion, draft", 1, new_page=True)
    yield Paragraph(STATEMENT, "note")
    yield Paragraph(_opening(built, about))
    held = _named(built, CONFORMS)
    if held:
        yield Paragraph(f"Within the tolerances stated, as far as it was shot: {held}.")
    effect = [part for part in built.parts if part.word == WITH_EFFECT]
    if effect:
        yield Paragraph("Outside a tolerance, and accepted with the effect stated:")
        yield Items(tuple(f"{part.element}: {part.why}" for part in effect))
    refused = [part for part in built.parts if part.word == DOES_NOT]
    if refused:
        yield Paragraph("Not in conformity. This draft is not to be signed until it is:")
        yield Items(tuple(f"{part.element}: {part.why}" for part in refused))
    for one in built.effect.newly_short:
        yield Paragraph(f"Falls short as built, and held as designed: {one.title}.")
    if any(each.is_changed for each in built.sets):
        yield Paragraph(
            "The distances down from the rim have changed. The card inside the lid is replaced by "
            "that of this document before boards are set."
        )
    checked = tuple(_checked(built))
    if checked:
        yield Paragraph("Checked for this draft:")
        yield Items(checked)
    else:
        yield Paragraph("Nothing was checked for this draft. It is not to be signed.")
    yield Paragraph("Not checked:")
    yield Items(tuple(_not_checked(built)))
    yield Seal("Completed as stated above.", ROOM, LINES)


def _opening(built: Built, about: tuple[str, ...]) -> str:
    how = f" ({'; '.join(about)})" if about else ""
    return (
        f"The finished work was held against the design by the survey named here{how}. In all: "
        f"{built.in_all}."
    )


def _named(built: Built, word: str) -> str:
    return ", ".join(part.element for part in built.parts if part.word == word)


def _checked(built: Built) -> Iterator[str]:
    levels: dict[str, list[str]] = {}
    for level in built.levels:
        if level.what != CHECKED and level_status(built.trace, level):
            levels.setdefault(level.element, []).append(level.what)
    for element, shot in levels.items():
        yield f"{element}, against its tolerance: {', '.join(dict.fromkeys(shot))}"
    pipes = [laid.run.name for laid in built.laid if laid.shots]
    if pipes:
        yield f"inverts and grade of: {', '.join(pipes)}"
    if built.is_rerun:
        yield "the design, run again with the levels and lengths as built"
    if built.pictures:
        there = sum(each.is_there for each in built.pictures)
        yield f"pictures named: {len(built.pictures)}, of which {there} are in the job folder"


def _not_checked(built: Built) -> Iterator[str]:
    unknown = [part for part in built.parts if part.word == NOT_KNOWN]
    for part in unknown:
        yield f"{part.element}: {part.why}"
    for element, missing in _not_shot(built).items():
        yield f"{element}, not shot: {', '.join(missing)}"
    if not built.is_rerun:
        yield "the design with the work as built: no shot stands in for a value of it"
    if built.unmatched:
        points = ", ".join(m.shot.point for m in built.unmatched)
        yield f"shots that are of nothing known: {points}"
    if not built.by_days:
        yield "rules that rest on daily flow"
    yield from NEVER


def _not_shot(built: Built) -> dict[str, list[str]]:
    """Designed levels of parts of which others were shot, and not these."""
    told = {part.element for part in built.parts if part.why == NOT_SHOT}
    found: dict[str, list[str]] = {}
    for level in built.levels:
        if level.what == CHECKED or level.element in told or not level.design:
            continue
        if not level_status(built.trace, level):
            found.setdefault(level.element, []).append(level.what)
    return found
