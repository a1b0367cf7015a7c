# SPDX-License-Identifier: Apache-2.0
"""The whole set in its order: cover, what was found, the works, schedules, notes, as built."""

from collections.abc import Callable, Iterator

from tilewater.documents.sheets.as_built import as_built_sheet
from tilewater.documents.sheets.cover import cover_sheet
from tilewater.documents.sheets.drawn import (
    existing_sheet,
    plan_sheet,
    profile_sheets,
    section_sheet,
    setting_out_sheet,
)
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.notes import notes_sheet, operation_sheet
from tilewater.documents.sheets.record import SheetPage, SheetSet
from tilewater.documents.sheets.schedules import schedule_sheet

COVER = "Cover"
ONE: tuple[Callable[[SheetMaterial], SheetPage | None], ...] = (
    existing_sheet,
    plan_sheet,
    setting_out_sheet,
)
LAST: tuple[Callable[[SheetMaterial], SheetPage | None], ...] = (
    section_sheet,
    schedule_sheet,
    notes_sheet,
    operation_sheet,
    as_built_sheet,
)


def sheet_set(material: SheetMaterial) -> SheetSet:
    """The set of a design.

    Parameters
    ----------
    material : SheetMaterial

    Returns
    -------
    SheetSet
        Sheets that the design has something for, the cover first.
    """
    sheets = tuple(_sheets(material))
    titles = (COVER, *(sheet.title for sheet in sheets))
    whole = (cover_sheet(material, titles), *sheets)
    title = f"{material.title}: {material.strip.status}"
    return SheetSet(title, material.paper, material.strip, whole)


def _sheets(material: SheetMaterial) -> Iterator[SheetPage]:
    for make in ONE:
        if (sheet := make(material)) is not None:
            yield sheet
    yield from profile_sheets(material)
    for make in LAST:
        if (sheet := make(material)) is not None:
            yield sheet
