# SPDX-License-Identifier: Apache-2.0
"""The whole set in its order: cover, what was found, the works, schedules, notes, as built."""

from collections.abc import Callable, Iterator
from dataclasses import replace

from tilewater.documents.sheets.as_built import AS_BUILT, as_built_sheet
from tilewater.documents.sheets.cover import COVER, cover_sheet, quantity_sheets
from tilewater.documents.sheets.detailed import detail_sheets, with_details
from tilewater.documents.sheets.drawn import (
    existing_sheet,
    plan_sheet,
    profile_sheets,
    section_sheet,
    setting_out_sheets,
)
from tilewater.documents.sheets.main_sheets import main_sheets
from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.notes import notes_sheet, operation_sheet
from tilewater.documents.sheets.record import SheetPage, SheetSet

Make = Callable[[SheetMaterial], Iterator[SheetPage]]
ORDER: tuple[tuple[Make, bool], ...] = (
    (quantity_sheets, False),
    (existing_sheet, False),
    (plan_sheet, False),
    (setting_out_sheets, True),
    (profile_sheets, False),
    (main_sheets, False),
    (section_sheet, True),
)
"""Sheets behind the cover and before the details; whether details may fill them."""
LAST: tuple[Make, ...] = (notes_sheet, operation_sheet, as_built_sheet)
"""Sheets behind the details."""


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
    used: set[str] = set()
    sheets: list[SheetPage] = []
    for make, may_fill in ORDER:
        made = tuple(make(material))
        sheets += with_details(material, made, used) if may_fill else made
    sheets += detail_sheets(material, used)
    sheets += [sheet for make in LAST for sheet in make(material)]
    titles = (COVER, *(sheet.title for sheet in sheets))
    if material.built is not None:
        number = next(n for n, title in enumerate(titles, start=1) if title.startswith(AS_BUILT))
        words = material.strip.status_words.format(sheet=f"sheet {number}")
        material = replace(material, strip=replace(material.strip, status_words=words))
    whole = (cover_sheet(material, titles), *sheets)
    title = f"{material.title}: {material.strip.status}"
    return SheetSet(title, material.paper, material.strip, whole)
