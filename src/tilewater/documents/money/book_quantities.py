# SPDX-License-Identifier: Apache-2.0
"""The sheet of quantities: dimensions typed, solids worked, items as they are bid."""

from collections.abc import Mapping

from tilewater.basis.units import from_si
from tilewater.chain.bid import BidWork
from tilewater.chain.bid_items import ScheduleItem
from tilewater.documents.money.book import Book, Sheet
from tilewater.documents.money.geometry import LENGTHS, Geometry
from tilewater.documents.money.live import NOT_KNOWN, Live, as_bid
from tilewater.economics.price_items import unit_size

NAME = "Quantities"
WIDTHS = (56, 12, 9, 9, 38)
PRISMOID = (
    "Volumes of holes are prismoids: depth / 6 x (area below + 4 x area half way + area above)."
)


def add_quantities_sheet(book: Book, work: BidWork, *, system: str, paper: int) -> dict[str, Live]:
    """Write the sheet of quantities.

    Parameters
    ----------
    book : Book
    work : BidWork
    system : "us" or "si"
    paper : int
        Code of the paper. [-]

    Returns
    -------
    dict of str to Live
        Cell of the bid quantity of each item of the base, and of each alternate by
        `alternate/item`.
    """
    sheet = book.sheet(NAME, WIDTHS, paper=paper, lying=False)
    geometry = Geometry(work.trace, system)
    for item in work.items:
        for key in _measured(work, item):
            if not geometry.is_plain(key):
                geometry.take(key)
    sheet.line(f"{work.title}: quantities", "title")
    sheet.note(
        "Change a typed dimension, and every quantity, amount and share in this workbook follows. "
        f"{PRISMOID}",
    )
    sheet.skip()
    cells = _dimensions(sheet, geometry)
    sheet.skip()
    cells |= _solids(sheet, geometry, cells)
    sheet.skip()
    found = _items(sheet, work, geometry, cells)
    sheet.fit_on_one_page()
    return found


def _measured(work: BidWork, item: ScheduleItem) -> tuple[str, ...]:
    """Key of what an item measures, unrounded; none for an item of the engineer's own."""
    if not item.counted or not work.trace.known(item.quantity):
        return ()
    return (dict(work.trace.steps[item.quantity].inputs)["quantity"],)


def _dimensions(sheet: Sheet, geometry: Geometry) -> dict[str, Live]:
    cells: dict[str, Live] = {}
    sheet.heads("Dimensions and counts", "value", "unit", "is", "from", right=(1,))
    for key, (title, value, unit) in geometry.typed.items():
        sheet.words(0, title)
        cells[key] = sheet.put(1, value, "length" if unit in ("ft", "m") else "number")
        sheet.words(2, unit)
        sheet.words(3, "typed")
        sheet.words(4, _from(geometry, key), "note")
        sheet.row += 1
    return cells


def _from(geometry: Geometry, key: str) -> str:
    """Where a typed value comes from."""
    if key not in geometry.trace:
        return "common practice, no source"
    origin = geometry.trace.steps[key].origin
    if origin is None:
        return f"worked in the design: {key}"
    return str(origin)


def _solids(sheet: Sheet, geometry: Geometry, cells: Mapping[str, Live]) -> dict[str, Live]:
    found = dict(cells)
    sheet.heads("Worked from them", "value", "unit", "is", "key", right=(1,))
    for key in geometry.worked:
        if (source := geometry.only_repeats(key)) is not None:
            found[key] = found[source]
            continue
        step = geometry.trace.steps[key]
        sheet.words(0, step.title)
        found[key] = sheet.put(1, geometry.formula(key, found), "number")
        sheet.words(2, geometry.unit(step.unit))
        sheet.words(3, "worked")
        sheet.words(4, key, "note")
        sheet.row += 1
    return found


def _items(
    sheet: Sheet, work: BidWork, geometry: Geometry, cells: Mapping[str, Live]
) -> dict[str, Live]:
    found: dict[str, Live] = {}
    sheet.heads("Items as bid", "as bid", "bid unit", "is", "", right=(1,))
    for item in work.items:
        sheet.words(0, item.title)
        found[item.item] = _bid_cell(sheet, work, geometry, item, cells)
        sheet.words(2, item.unit)
        sheet.row += 1
    for name, added in work.added.items():
        for item in added:
            sheet.words(0, f"Alternate {name}: {item.title}")
            like = next((each for each in work.items if each.counted == item.counted), None)
            if item.counted and like is not None:
                found[f"{name}/{item.item}"] = sheet.put(1, found[like.item], "bid")
            else:
                found[f"{name}/{item.item}"] = _typed(sheet, work, item)
            sheet.words(2, item.unit)
            sheet.row += 1
    return found


def _typed(sheet: Sheet, work: BidWork, item: ScheduleItem) -> Live:
    known = work.trace.known(item.quantity)
    sheet.words(3, "typed")
    value = float(work.trace.value(item.quantity)) if known else NOT_KNOWN
    return sheet.put(1, value, "bid")


def _bid_cell(
    sheet: Sheet,
    work: BidWork,
    geometry: Geometry,
    item: ScheduleItem,
    cells: Mapping[str, Live],
) -> Live:
    """The bid quantity of an item: its measure over its bid unit, to the digits that are bid."""
    measured = _measured(work, item)
    if not measured or geometry.is_plain(measured[0]):
        return _typed(sheet, work, item)
    sheet.words(3, "worked")
    unit = work.trace.steps[measured[0]].unit
    size = unit_size(item.unit)
    if geometry.system == "us" and unit in LENGTHS:
        size = from_si(size, LENGTHS[unit])
    cell = cells[measured[0]]
    size = round(size, 9)
    return sheet.put(1, as_bid(cell if size == 1.0 else cell / size), "bid")
