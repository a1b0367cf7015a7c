# SPDX-License-Identifier: Apache-2.0
"""The sheet for what was built: designed levels and lengths, what was shot, or room to write."""

from collections.abc import Iterator

from tilewater.chain.stake_record import StakePoint
from tilewater.documents.sheets.built_levels import BuiltLevels, length_rows, level_rows
from tilewater.documents.sheets.flow import flowed
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import (
    Blank,
    Block,
    Columns,
    Lines,
    SheetPage,
    Title,
    body_of,
)


def as_built_sheet(material: SheetMaterial) -> Iterator[SheetPage]:
    """Designed levels with what was shot, or with empty columns, and who measured."""
    if material.built is not None:
        yield from flowed(AS_BUILT, _shot(material, material.built), body_of(material.paper))
        return
    say = material.words.say
    levels = [
        (_named(point), say(point.height, "elevation", unit=False))
        for point in material.stakes.points
        if point.height is not None and point.what != "benchmark"
    ]
    levels += _structure_levels(material)
    lengths = _lengths(material)
    blocks: list[Block] = [
        Title("Levels", "as built; shot with the instrument that the grade asks for"),
        Columns(
            HEADS, tuple((*level, "", "") for level in levels), right=(1,), wide=(0,), tall=True
        ),
        Title("Lengths and quantities"),
        Columns(("what", "designed", "built"), lengths, right=(1,), tall=True),
        Title("Found and changed", "with station and offset; who approved it"),
        Columns(("what", "where", "approved by"), (("", "", ""),) * 4, wide=(0,), tall=True),
        *map(Blank, BLANKS),
    ]
    yield from flowed(AS_BUILT, blocks, body_of(material.paper))


def _shot(material: SheetMaterial, built: BuiltLevels) -> list[Block]:
    """What was shot of the finished work against its design."""
    words = material.words
    day = f"surveyed {built.surveyed}" if built.surveyed else "day of the survey not stated"
    right = (1, 2, 3)
    levels = tuple(level_rows(built, words))
    blocks: list[Block] = [
        Title("Levels", f"{day}; mean of the shots; difference is built less designed"),
        Columns(HEADS, levels, right=right, wide=(0,)),
    ]
    if lengths := tuple(length_rows(built, words)):
        blocks += [
            Title("Lengths", day),
            Columns(("length of", *HEADS[1:]), lengths, right=right, wide=(0,)),
        ]
    if built.told:
        blocks += [Title("What must be known of the shots"), Lines(built.told)]
    return [
        *blocks,
        Title("Found and changed", "with station and offset; who approved it"),
        Columns(("what", "where", "approved by"), (("", "", ""),) * 4, wide=(0,), tall=True),
        *map(Blank, BLANKS[1:]),
    ]


AS_BUILT = "As built"
BLANKS = (
    "benchmark used, elevation, instrument",
    "chip tickets: number, volume, moisture; gradation tested by",
    "measured by, date",
    "engineer, licence number, date",
)
HEADS = ("level of", "designed", "built", "difference")


def _named(point: StakePoint) -> str:
    """What is shot: the floor or invert, and where."""
    return f"{point.name.replace('-', ' ')}: {point.what}"


def _structure_levels(material: SheetMaterial) -> list[tuple[str, str]]:
    return [
        (f"{name} structure: {what}", material.say(key, "elevation", unit=False))
        for name in material.trace.names("inputs.structure")
        for what in ("sill", "rim")
        if (key := f"inputs.structure.{name}.{what}_m") in material.trace
    ]


def _lengths(material: SheetMaterial) -> tuple[tuple[str, str, str], ...]:
    found = [
        ("floor, long", "bed.length_bottom_m"),
        ("floor, wide", "bed.width_bottom_m"),
        ("chips, deep", "bed.media_depth_m"),
        ("soil over the chips", "inputs.bed.cover_depth_m"),
        ("line that lets water out", "buffer.line_length_m"),
        ("soil over the line", "buffer.cover_m"),
    ]
    for pipe in material.trace.names("inputs.pipe"):
        found.append((f"pipe {pipe.replace('-', ' ')}", f"inputs.pipe.{pipe}.length_m"))
    return tuple(
        (title, material.say(key, "length"), "") for title, key in found if key in material.trace
    )
