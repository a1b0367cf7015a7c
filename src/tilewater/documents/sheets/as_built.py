# SPDX-License-Identifier: Apache-2.0
"""The sheet for what was built: designed levels and lengths beside empty columns."""

from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import (
    GAP,
    Blank,
    Box,
    Columns,
    SheetPage,
    Title,
    body_of,
)

ROWS_OF_A_COLUMN = 22
"""Rows with room to write in that one column of an 11 by 17 sheet holds."""


def as_built_sheet(material: SheetMaterial) -> SheetPage:
    """Designed levels with empty columns, and who measured."""
    width, height = body_of(material.paper)
    half = (width - GAP) / 2
    say = material.words.say
    levels = [
        (point.name.replace("-", " "), point.what, say(point.height, "elevation", unit=False))
        for point in material.stakes.points
        if point.height is not None and point.what != "benchmark"
    ]
    levels += _structure_levels(material)
    lengths = _lengths(material)
    rows = tuple((*level, "", "") for level in levels[:ROWS_OF_A_COLUMN])
    rest = tuple((*level, "", "") for level in levels[ROWS_OF_A_COLUMN:])
    right: list[Title | Columns | Blank] = []
    if rest:
        right += [Columns(HEADS, rest, right=(2,), wide=(0,), tall=True)]
    right += [
        Title("Lengths and quantities"),
        Columns(("what", "designed", "built"), lengths, right=(1,), wide=(0,), tall=True),
        Blank("measured by, date"),
        Blank("engineer, date"),
    ]
    left = (
        Title("Levels", "as built; shot with the instrument that the grade asks for"),
        Columns(HEADS, rows, right=(2,), wide=(0,), tall=True),
    )
    return SheetPage(
        "As built",
        (
            Box(0.0, 0.0, half, height, left),
            Box(half + GAP, 0.0, half, height, tuple(right)),
        ),
    )


HEADS = ("point", "what", "designed", "built", "difference")


def _structure_levels(material: SheetMaterial) -> list[tuple[str, str, str]]:
    return [
        (f"{name} structure", what, material.say(key, "elevation", unit=False))
        for name in material.trace.names("inputs.structure")
        for what in ("sill", "rim")
        if (key := f"inputs.structure.{name}.{what}_m") in material.trace
    ]


def _lengths(material: SheetMaterial) -> tuple[tuple[str, str, str], ...]:
    found = (
        ("Floor, long", "bed.length_bottom_m"),
        ("Floor, wide", "bed.width_bottom_m"),
        ("Chips, deep", "bed.media_depth_m"),
        ("Line, long", "quantities.perforated-line.quantity"),
        ("Cover over the chips", "cover.depth_m"),
    )
    return tuple(
        (title, material.say(key, "length"), "") for title, key in found if key in material.trace
    )
