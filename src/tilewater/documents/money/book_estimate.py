# SPDX-License-Identifier: Apache-2.0
"""Sheets of the estimate and of the bid schedule, with live amounts."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from tilewater.chain.bid import BidWork
from tilewater.chain.bid_items import ScheduleItem
from tilewater.documents.money.book import Book, Sheet
from tilewater.documents.money.live import (
    NOT_KNOWN,
    Live,
    Plain,
    rounded,
    sum_if_whole,
    sum_of_cells,
    sum_of_terms,
    where_all_numbers,
)
from tilewater.documents.money.measured import measured_of
from tilewater.documents.words import Words

ESTIMATE, SCHEDULE = "Estimate", "Bid schedule"
BASE = "base"
NO_PRICE = "no price"


@dataclass(frozen=True)
class EstimateCells:
    """Cells of the estimate that other sheets lean on.

    Attributes
    ----------
    price, amount : dict of str to Live
        By item of the base.
    added : dict of str to Live
        Amounts by `alternate/item`.
    subtotal, share : Live
    alternates : dict of str to Live
        Base with each alternate.
    """

    price: dict[str, Live]
    amount: dict[str, Live]
    added: dict[str, Live]
    subtotal: Live
    share: Live
    alternates: dict[str, Live]


def amount_of(quantity: Live, price: Live) -> Live:
    """Quantity times unit price to the cent, where both are there."""
    return where_all_numbers((quantity, price), rounded(quantity * price), "")


def add_estimate_sheet(
    book: Book, work: BidWork, words: Words, quantities: Mapping[str, Live], *, paper: int
) -> EstimateCells:
    """Write the sheet of the estimate.

    Parameters
    ----------
    book : Book
    work : BidWork
    words : Words
    quantities : mapping of str to Live
        Cells of the bid quantities.
    paper : int
        Code of the paper. [-]

    Returns
    -------
    EstimateCells
    """
    sheet = book.sheet(ESTIMATE, (22, 40, 10, 6, 11, 13, 12, 30, 48), paper=paper, lying=True)
    sheet.line(f"{work.title}: engineer's estimate, not for bidders", "title")
    sheet.note("Unit prices are typed, from the price book; amounts are worked to the cent.")
    sheet.skip()
    sheet.heads(
        "item",
        "what it is",
        "quantity",
        "unit",
        "unit price, USD",
        "amount, USD",
        "price of",
        "source of the price",
        "how it is measured",
        right=(2, 4, 5),
        repeat=True,
    )
    price: dict[str, Live] = {}
    amount: dict[str, Live] = {}
    for item in work.items:
        price[item.item], amount[item.item] = _item_row(
            sheet, work, words, item, quantities[item.item]
        )
    subtotal, share = _sums(sheet, work, list(amount.values()))
    added, totals = _alternates(sheet, work, words, quantities, amount, subtotal)
    return EstimateCells(price, amount, added, subtotal, share, totals)


def _item_row(
    sheet: Sheet, work: BidWork, words: Words, item: ScheduleItem, quantity: Live
) -> tuple[Live, Live]:
    """One item with its price and amount."""
    book = work.book.get(item.price_item)
    known = work.trace.known(item.price)
    sheet.words(0, item.item)
    sheet.words(1, item.title)
    here = sheet.put(2, quantity, "bid")
    sheet.words(3, item.unit)
    price = sheet.put(4, float(work.trace.value(item.price)) if known else None, "money")
    amount = sheet.put(5, amount_of(here, price), "money")
    sheet.words(6, NO_PRICE if book is None else book.date)
    sheet.words(7, "" if book is None else book.source)
    sheet.words(8, measured_of(work.trace, item, words).measured)
    sheet.row += 1
    return price, amount


def _labelled(sheet: Sheet, label: str, value: Live | Plain, style: str = "sum") -> Live:
    sheet.words(1, label, "bold")
    cell = sheet.put(5, value, style)
    sheet.row += 1
    return cell


def _sums(sheet: Sheet, work: BidWork, amounts: Sequence[Live]) -> tuple[Live, Live]:
    _labelled(sheet, "Items that have a price", sum_of_cells(amounts))
    subtotal = _labelled(sheet, "Estimate before contingency", sum_if_whole(amounts))
    given = "inputs.estimate.contingency"
    known = float(work.trace.value(given)) if work.trace.known(given) else NOT_KNOWN
    share = _labelled(sheet, "Contingency, share (typed)", known, "percent")
    contingency = _labelled(
        sheet,
        "Contingency, set aside and no cost until spent",
        where_all_numbers((subtotal, share), rounded(subtotal * share)),
    )
    _labelled(
        sheet,
        "Estimate with contingency",
        where_all_numbers((subtotal, contingency), subtotal + contingency),
    )
    return subtotal, share


def _alternates(
    sheet: Sheet,
    work: BidWork,
    words: Words,
    quantities: Mapping[str, Live],
    amount: Mapping[str, Live],
    subtotal: Live,
) -> tuple[dict[str, Live], dict[str, Live]]:
    added: dict[str, Live] = {}
    totals: dict[str, Live] = {}
    for alternate in work.alternates:
        sheet.skip()
        sheet.words(0, alternate.name, "part")
        sheet.words(1, alternate.title, "part")
        sheet.row += 1
        terms: list[Live] = []
        for item in work.added[alternate.name]:
            key = f"{alternate.name}/{item.item}"
            _, added[key] = _item_row(sheet, work, words, item, quantities[key])
            terms.append(added[key])
        out = [amount[item] for item in alternate.left_out]
        cells = change_cells(
            lambda label, value: _labelled(sheet, label, value), terms, out, subtotal
        )
        totals[alternate.name] = cells
    return added, totals


def change_cells(
    put: Callable[[str, Live], Live], added: Sequence[Live], out: Sequence[Live], base: Live
) -> Live:
    """Put what an alternate changes and what the base comes to with it.

    Parameters
    ----------
    put : callable
        Puts a label and a value, and gives the cell.
    added, out : sequence of Live
        Amounts that are added and left out.
    base : Live
        Total of the base.

    Returns
    -------
    Live
        Cell of the base with the alternate.
    """
    moved = sum_of_terms(list(added)) - sum_of_terms(list(out))
    change = put("Change of the base", where_all_numbers([*added, *out], moved))
    return put("Base with it", where_all_numbers((base, change), base + change))


def add_schedule_sheet(
    book: Book,
    work: BidWork,
    quantities: Mapping[str, Live] | None,
    *,
    paper: int,
) -> None:
    """Write the schedule with blank prices, and amounts that follow once they are typed.

    Parameters
    ----------
    book : Book
    work : BidWork
    quantities : mapping of str to Live or None
        Cells of the bid quantities; None where the sheet stands alone, for bidders.
    paper : int
        Code of the paper. [-]
    """
    sheet = book.sheet(SCHEDULE, (11, 21, 42, 9, 7, 13, 14), paper=paper, lying=False)
    sheet.line(f"{work.title}: bid schedule", "title")
    sheet.note(
        "Type a unit price for every item; amounts follow. The unit price governs. Write 0.00 "
        "where an item is in the price of another.",
    )
    for label, key in (("Bids are due", "due"), ("Opened at", "place")):
        if text := work.text(f"inputs.bid.{key}"):
            sheet.words(1, label, "note")
            sheet.words(2, text)
            sheet.row += 1
    sheet.skip()
    sheet.heads(
        "part",
        "item",
        "description",
        "quantity",
        "unit",
        "unit price, USD",
        "amount, USD",
        right=(3, 5, 6),
        repeat=True,
    )
    _blank_rows(sheet, work, BASE, work.items, quantities, "total", "Total of the base")
    for alternate in work.alternates:
        added = work.added[alternate.name]
        if added:
            label = f"Items added by alternate {alternate.name}"
            _blank_rows(sheet, work, alternate.name, added, quantities, "", label)


def _blank_rows(
    sheet: Sheet,
    work: BidWork,
    part: str,
    items: tuple[ScheduleItem, ...],
    quantities: Mapping[str, Live] | None,
    code: str,
    total: str,
) -> None:
    amounts = []
    for item in items:
        sheet.words(0, part)
        sheet.words(1, item.item)
        sheet.words(2, item.title)
        key = item.item if part == BASE else f"{part}/{item.item}"
        if quantities is not None:
            quantity = sheet.put(3, quantities[key], "bid")
        else:
            known = work.trace.known(item.quantity)
            value = work.trace.value(item.quantity) if known else Decimal(0)
            quantity = sheet.put(3, float(value) if known else None, "bid")
        sheet.words(4, item.unit)
        price = sheet.put(5, None, "box")
        amounts.append(sheet.put(6, amount_of(quantity, price), "box"))
        sheet.row += 1
    sheet.words(1, code, "bold")
    sheet.words(2, total, "bold")
    # blank until every item has its price
    run = sum_if_whole(amounts)
    sheet.put(6, Live(run.text.replace('"not known"', '""'), ""), "sum")
    sheet.skip(2)
