# SPDX-License-Identifier: Apache-2.0
"""The whole set in its order: cover, what was found, the works, schedules, notes, as built."""

from collections.abc import Callable, Iterator

from tilewater.documents.sheets.as_built import as_built_sheet
from tilewater.documents.sheets.cover import COVER, cover_sheet, quantity_sheets
from tilewater.documents.sheets.detailed import detail_sheets
from tilewater.documents.sheets.drawn import (
    existing_sheet,
    plan_sheet,
    profile_sheets,
    section_sheet,
    setting_out_sheet,
)
from tilewater.documents.sheets.main_sheets import main_sheets
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.notes import notes_sheet, operation_sheet
from tilewater.documents.sheets.record import SheetPage, SheetSet
from tilewater.documents.sheets.schedules import schedule_sheet

ORDER: tuple[Callable[[SheetMaterial], Iterator[SheetPage]], ...] = (
    quantity_sheets,
    existing_sheet,
    plan_sheet,
    setting_out_sheet,
    profile_sheets,
    main_sheets,
    section_sheet,
    detail_sheets,
    schedule_sheet,
    notes_sheet,
    operation_sheet,
    as_built_sheet,
)
"""Sheets behind the cover."""


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
    sheets = tuple(sheet for make in ORDER for sheet in make(material))
    titles = (COVER, *(sheet.title for sheet in sheets))
    whole = (cover_sheet(material, titles), *sheets)
    title = f"{material.title}: {material.strip.status}"
    return SheetSet(title, material.paper, material.strip, whole)
