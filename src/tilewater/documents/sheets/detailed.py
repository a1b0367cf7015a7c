# SPDX-License-Identifier: Apache-2.0
"""Sheets of details: each drawn from the job's own sizes, or told as a typical one."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from tilewater.documents.sheets.material import SheetMaterial, is_sound
from tilewater.documents.sheets.measure import AFTER, foot_of, height_of
from tilewater.documents.sheets.record import (
    GAP,
    LEAST_PT,
    Box,
    Lines,
    Picture,
    SheetPage,
    Title,
    body_of,
)

TITLE = "Details"
ELSEWHERE = ("detail-trench",)
"""Details that stand with the sections."""
LEAST_ROOM = 60.0
"""Height at the foot of a sheet from which on details stand there. [mm]"""
CELL_WIDE, CELL_HIGH = 158.0, 120.0
"""Room of one detail, at least as wide and about as high. [mm]"""


def with_details(
    material: SheetMaterial, sheets: Sequence[SheetPage], used: set[str]
) -> tuple[SheetPage, ...]:
    """Sheets of tables and sections with details in the room that is left at their foot.

    Parameters
    ----------
    material : SheetMaterial
    sheets : sequence of SheetPage
    used : set of str
        Names of details that stand on a sheet; those placed here are added.
    """
    return tuple(_filled(material, sheet, used) for sheet in sheets)


def _filled(material: SheetMaterial, sheet: SheetPage, used: set[str]) -> SheetPage:
    width, height = body_of(material.paper)
    across, wide, high = _cells(width, height)
    placed: list[Box] = []
    for column in range(across) if across > 1 else ():
        left = column * (wide + GAP)
        over = [b for b in sheet.boxes if b.x_mm < left + wide and left < b.x_mm + b.width_mm]
        top = foot_of(over) + 2 * GAP
        one = _first_that_fits(material, used, (wide, height - top), high)
        if one is not None:
            used.add(one.name)
            placed.append(Box(left, top, wide, one.height_mm, (one,)))
    if not placed:
        return sheet
    kept = tuple(_above(box, placed) for box in sheet.boxes)
    return SheetPage(f"{sheet.title}, with details", (*kept, *placed))


def _above(box: Box, placed: Sequence[Box]) -> Box:
    """A box that ends where a detail below it begins."""
    below = [
        each.y_mm
        for each in placed
        if each.x_mm < box.x_mm + box.width_mm and box.x_mm < each.x_mm + each.width_mm
    ]
    room = min(below, default=box.y_mm + box.height_mm) - GAP - box.y_mm
    return replace(box, height_mm=min(box.height_mm, room)) if below else box


def _first_that_fits(
    material: SheetMaterial, used: set[str], room: tuple[float, float], cell: float
) -> Picture | None:
    """The first detail that loses nothing in a room that is lower than its cell."""
    wide, high = room
    for name in _names(material) if high >= LEAST_ROOM else ():
        if name in used:
            continue
        there, whole = (material.picture(name, wide, each) for each in (high, cell))
        if there is None or there.height_mm > high or not is_sound(there):
            continue
        if whole is None or _is_same(there, whole):
            return there
    return None


def _is_same(a: Picture, b: Picture) -> bool:
    """Whether a detail is as large and as high in one room as in the other."""
    return a.ratio <= b.ratio * (1.0 + 1e-6) and a.height_mm >= b.height_mm - 0.1


def _names(material: SheetMaterial) -> tuple[str, ...]:
    return tuple(n for n in material.draw if n.startswith("detail-") and n not in ELSEWHERE)


def _cells(width: float, height: float) -> tuple[int, float, float]:
    """How many details stand beside each other, and the room of each. [mm]"""
    across = max(1, int((width + GAP) / (CELL_WIDE + GAP)))
    down = max(1, round((height + GAP) / (CELL_HIGH + GAP)))
    return across, (width - (across - 1) * GAP) / across, (height - (down - 1) * GAP) / down


def detail_sheets(material: SheetMaterial, used: Collection[str] = ()) -> Iterator[SheetPage]:
    """All details that stand on no sheet yet, beside and below each other in equal rooms."""
    width, whole = body_of(material.paper)
    told, height = _without(material, width, whole)
    across, wide, high = _cells(width, height)
    down = max(1, round((height + GAP) / (high + GAP)))
    found: list[Picture] = []
    alone: list[Picture] = []
    for name in _names(material):
        if name in used:
            continue
        picture = material.picture(name, wide, high)
        if picture is not None and picture.height_mm <= high + 0.01:
            found.append(picture)
        elif (larger := material.picture(name, width, height)) is not None:
            alone.append(larger)
    sheets: list[tuple[Box, ...]] = []
    each = across * down
    for first in range(0, len(found), each):
        sheets.append(
            tuple(
                Box((n % across) * (wide + GAP), (n // across) * (high + GAP), wide, high, (one,))
                for n, one in enumerate(found[first : first + each])
            )
        )
    sheets += [(Box(0.0, 0.0, width, height, (one,)),) for one in alone]
    if told is not None:
        sheets[-1:] = [(*(sheets[-1] if sheets else ()), told)]
    for number, boxes in enumerate(sheets, start=1):
        yield SheetPage(TITLE if number == 1 else f"{TITLE}, {number}", boxes)


def _without(material: SheetMaterial, width: float, height: float) -> tuple[Box | None, float]:
    """What is not drawn, at the foot of a sheet, and the height that it leaves."""
    if not material.without:
        return None, height
    blocks = (Title("Not drawn: sizes are not given"), Lines(material.without))
    high = sum(height_of(block, width, LEAST_PT) for block in blocks) - AFTER + 0.1
    return Box(0.0, height - high, width, high, blocks), height - high - GAP
