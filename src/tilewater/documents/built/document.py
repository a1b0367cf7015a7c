# SPDX-License-Identifier: Apache-2.0
"""The document of finished work: conformity, table, payment, pictures, certificate, red lines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tilewater.chain.built_elements import CHECKED
from tilewater.documents.built.certificate import certificate
from tilewater.documents.pages.built_page import (
    Built,
    boards,
    built_page,
    down_words,
    paid_row,
    season_words,
)
from tilewater.documents.pages.grade_page import grade_page
from tilewater.documents.pages.said import Block as SaidBlock
from tilewater.documents.pages.said import Cell as SaidCell
from tilewater.documents.pages.said import Group, Part, Rows, Said
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Column,
    Document,
    Figure,
    Heading,
    Items,
    Lying,
    Paper,
    Paragraph,
    Table,
)
from tilewater.documents.words import Words

LEGEND = (
    "Red lines: words of the design that no longer hold are struck through; beside them, heavy and "
    "in red, what was built. Lines of the drawing are those of the design. Both read in grey."
)


@dataclass(frozen=True)
class RedSheet:
    """A drawing with red lines, as a file of its size on paper. [mm]"""

    title: str
    svg: str
    width_mm: float
    height_mm: float
    alt: str


@dataclass(frozen=True)
class BuiltMaterial:
    """What the document is made from.

    Attributes
    ----------
    title, foot : str
    about : tuple of str
        Who shot, when, with what.
    built : Built
    words : Words
    red : tuple of RedSheet
    paper : "us-letter" or "a4"
    """

    title: str
    foot: str
    about: tuple[str, ...]
    built: Built
    words: Words
    red: tuple[RedSheet, ...]
    paper: Paper


def built_document(material: BuiltMaterial) -> Document:
    """The document of finished work, drafted for the engineer to check and sign."""
    blocks = tuple(_blocks(material))
    title = material.title
    return Document(f"{title}: as built", title, "as built", material.foot, material.paper, blocks)


def _blocks(material: BuiltMaterial) -> Iterator[Block]:
    built, words = material.built, material.words
    answer = built.in_all[0].upper() + built.in_all[1:]
    yield Banner(
        "As found" if built.is_found else "As built",
        (material.title, *material.about),
        "" if built.is_found else f"{answer}.",
        "Drafted by the program from shots and the design. Not sealed.",
    )
    for part in built_page(built, words):
        if isinstance(part, SaidBlock) and part.title != "Final payment":
            yield from _of_said(part)
    yield Heading("Grade of pipes", 1)
    for part in grade_page(built.trace, built.laid, (), words):
        yield from _of_said(part)
    if built.paid and not built.is_found:
        yield from _payment(built, words)
    if not built.is_found:
        yield from certificate(built, material.about, words)
    if material.red:
        yield from _red(material)


def _of_said(part: Part) -> Iterator[Block]:
    """A part of a page as blocks of a document."""
    match part:
        case SaidBlock():
            yield Heading(part.title, 2)
            if part.note:
                yield Paragraph(f"{part.note[0].upper()}{part.note[1:]}.", "note")
            for each in part.body:
                yield from _of_said(each)
        case Group():
            for each in part.parts:
                yield from _of_said(each)
        case Rows():
            if part.lines and any(part.heads):
                yield _table(part)
            elif part.lines:
                yield Items(tuple(": ".join(map(_plain, line)) for line in part.lines))
        case Said():
            yield Paragraph(part.plain.strip())
        case str():
            yield Paragraph(part.strip())


def _table(part: Rows) -> Table:
    widest = part.wide
    columns = tuple(
        Column(
            head,
            "right" if place in part.right else "left",
            wide=place in widest,
        )
        for place, head in enumerate(part.heads)
    )
    rows = tuple(tuple(_plain(cell) for cell in line) for line in part.lines)
    return Table(columns, rows, small=True)


def _plain(cell: SaidCell) -> str:
    """Words of a cell on one line."""
    words = cell if isinstance(cell, str) else cell.plain
    return words.replace("\n", ": ")


def _payment(built: Built, words: Words) -> Iterator[Block]:
    yield Heading("Quantities of the final payment", 1)
    yield Paragraph(
        "Measured where shots give the geometry. Paid neat in place: work beyond the lines of the "
        "design is not paid unless it was ordered, work short of them is paid as measured. What no "
        "shot measures stays as designed until it is taped or counted.",
        "note",
    )
    heads = (
        Column("item", wide=True),
        Column(""),
        Column("designed", "right"),
        Column("measured", "right"),
        Column("neat in place", "right"),
    )
    lines = tuple(
        tuple(_plain(cell) for cell in paid_row(built, each, words)) for each in built.paid
    )
    yield Table(heads, lines, small=True)


def _red(material: BuiltMaterial) -> Iterator[Block]:
    first = True
    figures: list[Heading | Figure] = []
    for sheet in material.red:
        figures.append(Heading(f"Red lines: {sheet.title}", 1 if first else 2, new_page=not first))
        figures.append(Figure(sheet.svg, sheet.width_mm, sheet.height_mm, LEGEND, sheet.alt))
        first = False
    yield Lying(tuple(figures))


def table_rows(built: Built, words: Words) -> Iterator[Sequence[str]]:
    """Rows of the table as a file: levels, then shots of pipes, then the lid card."""
    yield ("what", "part", "point", "built", "designed", "off", "status", "unit")
    unit = words.say(0.0, "length").rpartition(" ")[2]
    yield from _level_rows(built, words, unit)
    yield from _pipe_rows(built, words, unit)
    inches = words.say(0.0, "size").rpartition(" ")[2]
    for each in built.sets:
        before, after = (
            down_words(None if r is None else r.rim_down, words) for r in (each.before, each.after)
        )
        is_shot = built.is_found or built.is_sill_shot(each)
        changed = "changed" if each.is_changed else "" if is_shot else "not shot"
        what = ("down from rim", season_words(each.name), boards(each.after, words))
        yield (*what, after if is_shot else "", before, "", changed, inches)
    for m in built.unmatched:
        level = words.say(m.shot.height, "elevation", unit=False)
        yield ("shot of nothing", m.match.why, m.shot.point, level, "", "", "", unit)


def _level_rows(built: Built, words: Words, unit: str) -> Iterator[Sequence[str]]:
    from tilewater.chain.built_conforms import level_status
    from tilewater.chain.built_judged import part_key
    from tilewater.documents.words import kind_of, step_value

    for level in built.levels:
        here = part_key(level)
        trace = built.trace
        if f"{here}_m" not in trace and f"{here}.off_m" not in trace:
            continue
        kind = kind_of(f"{here}_m", "m") or "length"

        def say(key: str, of: str) -> str:
            return words.say(step_value(trace, key), of, unit=False) if key in trace else ""  # noqa: B023

        what = "check on a benchmark" if level.what == CHECKED else level.what
        yield (
            what,
            level.element,
            "",
            say(f"{here}_m", kind),
            say(level.design, kind),
            say(f"{here}.off_m", "length"),
            level_status(trace, level),
            unit,
        )


def _pipe_rows(built: Built, words: Words, unit: str) -> Iterator[Sequence[str]]:
    from tilewater.chain.built_grade import shot_key
    from tilewater.documents.words import step_value

    trace = built.trace
    for laid in built.laid:
        for m in laid.shots:
            own = shot_key(laid, m)
            numbers = [
                words.say(step_value(trace, f"{own}.{end}"), kind, unit=False)
                for end, kind in (
                    ("invert_m", "elevation"),
                    ("design_invert_m", "elevation"),
                    ("off_m", "length"),
                )
            ]
            key = f"{own}.status"
            word = str(trace.value(key)) if trace.known(key) else "not known"
            yield ("invert", laid.run.name, m.shot.point, *numbers, word, unit)
