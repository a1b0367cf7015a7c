# SPDX-License-Identifier: Apache-2.0
"""The sheet of bids: what bidders wrote, what follows from it, what a quantity would turn."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from tilewater.chain.bid import BidWork
from tilewater.chain.bid_looks import CHIPS
from tilewater.chain.bid_tab import BIDS, Tab, price_key
from tilewater.documents.money.book import Book, Sheet
from tilewater.documents.money.book_estimate import EstimateCells, amount_of
from tilewater.documents.money.live import (
    Live,
    rounded,
    sum_if_whole,
    sum_of_terms,
    where_all_numbers,
    where_number,
)

NAME = "Bids"
FIRST, EACH = 4, 4
"""Column of the first bidder, and columns of each: price, written, corrected, over estimate."""


@dataclass
class BidCells:
    """Cells of a bidder that other sheets lean on."""

    price: dict[str, Live] = field(default_factory=dict)
    amount: dict[str, Live] = field(default_factory=dict)
    added: dict[str, Live] = field(default_factory=dict)
    total: Live = field(default_factory=lambda: Live("0", ""))
    compared: Live = field(default_factory=lambda: Live("0", ""))


def add_bids_sheet(
    book: Book,
    work: BidWork,
    tab: Tab,
    quantities: Mapping[str, Live],
    estimate: EstimateCells,
    *,
    paper: int,
) -> dict[str, BidCells]:
    """Write the sheet of bids.

    Parameters
    ----------
    book : Book
    work : BidWork
    tab : Tab
    quantities : mapping of str to Live
        Cells of the bid quantities.
    estimate : EstimateCells
    paper : int
        Code of the paper. [-]

    Returns
    -------
    dict of str to BidCells
        By bidder.
    """
    widths = (40, 10, 6, 12, *(12, 13, 13, 9) * len(tab.bids))
    sheet = book.sheet(NAME, widths, paper=paper, lying=True)
    sheet.line(f"{work.title}: bids side by side", "title")
    sheet.note(
        "Prices and written amounts are typed as the bidders wrote them. The unit price governs.",
    )
    sheet.skip()
    for place, bid in enumerate(tab.bids):
        sheet.words(_column(place), bid.title, "bold")
    sheet.row += 1
    heads = ["item", "quantity", "unit", "estimate, USD a unit"]
    for _ in tab.bids:
        heads += ["unit price, USD", "amount written, USD", "corrected, USD", "over estimate"]
    sheet.heads(*heads, right=(1, *range(3, len(heads))), repeat=True)
    cells = {bid.name: BidCells() for bid in tab.bids}
    for item in tab.items:
        sheet.words(0, item.title)
        quantity = sheet.put(1, quantities[item.item], "bid")
        sheet.words(2, item.unit)
        reference = sheet.put(3, where_number(ref := estimate.price[item.item], ref), "money")
        for place, bid in enumerate(tab.bids):
            _line(sheet, work, cells[bid.name], bid.name, item.item, quantity, reference, place)
        sheet.row += 1
    _totals(sheet, work, tab, cells, estimate)
    for alternate in tab.alternates:
        _alternate(sheet, work, tab, cells, quantities, alternate.name)
    _compared(sheet, work, tab, cells, estimate)
    _trial(sheet, work, tab, cells, quantities)
    return cells


def _column(place: int) -> int:
    return FIRST + EACH * place


def _line(
    sheet: Sheet,
    work: BidWork,
    cells: BidCells,
    name: str,
    item: str,
    quantity: Live,
    reference: Live,
    place: int,
) -> None:
    """What one bidder wrote of one item."""
    column, here = _column(place), f"{BIDS}.{name}.items.{item}"
    price = sheet.put(column, _value(work, price_key(name, item)), "money")
    sheet.put(column + 1, _value(work, f"{here}.written_usd"), "money")
    amount = sheet.put(column + 2, amount_of(quantity, price), "money")
    is_whole = price.is_number and reference.is_number and reference.number
    over = Live(
        f'IF(AND(ISNUMBER({price.text}),N({reference.text})>0),{price.text}/{reference.text},"")',
        price.number / reference.number if is_whole else "",
    )
    sheet.put(column + 3, over, "times")
    cells.price[item], cells.amount[item] = price, amount


def _value(work: BidWork, key: str) -> float | None:
    known = key in work.trace and work.trace.known(key)
    return float(work.trace.value(key)) if known else None


def _totals(
    sheet: Sheet, work: BidWork, tab: Tab, cells: Mapping[str, BidCells], estimate: EstimateCells
) -> None:
    sheet.words(0, "Total of the base", "bold")
    sheet.put(3, where_number(estimate.subtotal, estimate.subtotal, "not known"), "sum")
    for place, bid in enumerate(tab.bids):
        column = _column(place)
        written = sheet.put(column + 1, _value(work, f"{BIDS}.{bid.name}.written_total_usd"), "sum")
        amounts = [cells[bid.name].amount[item.item] for item in tab.items]
        cells[bid.name].total = sheet.put(column + 2, sum_if_whole(amounts), "sum")
        total = cells[bid.name].total
        both = written.is_number and total.is_number
        off = Live(
            f"IF(AND(ISNUMBER({written.text}),ISNUMBER({total.text})),"
            f'ROUND({written.text}-{total.text},2),"")',
            round(written.number - total.number, 2) if both else "",
        )
        sheet.row += 1
        sheet.words(column + 1, "written less corrected", "note")
        sheet.put(column + 2, off, "money")
        sheet.row -= 1
    sheet.skip(3)


def _alternate(
    sheet: Sheet,
    work: BidWork,
    tab: Tab,
    cells: Mapping[str, BidCells],
    quantities: Mapping[str, Live],
    name: str,
) -> None:
    """Items that an alternate adds, and the base of every bidder with it."""
    alternate = next(each for each in tab.alternates if each.name == name)
    sheet.words(0, f"Alternate {name}: {alternate.title}", "part")
    sheet.row += 1
    for item in tab.added[name]:
        key = f"{name}/{item.item}"
        sheet.words(0, item.title)
        quantity = sheet.put(1, quantities[key], "bid")
        sheet.words(2, item.unit)
        for place, bid in enumerate(tab.bids):
            here = f"{BIDS}.{bid.name}.alternates.{name}.items.{item.item}"
            price = sheet.put(_column(place), _value(work, f"{here}.price_usd"), "money")
            cells[bid.name].added[key] = sheet.put(
                _column(place) + 2, amount_of(quantity, price), "money"
            )
        sheet.row += 1
    sheet.words(0, f"Base with alternate {name}", "bold")
    for place, bid in enumerate(tab.bids):
        mine = cells[bid.name]
        added = [mine.added[f"{name}/{item.item}"] for item in tab.added[name]]
        out = [mine.amount[item] for item in alternate.left_out]
        sheet.put(_column(place) + 2, _with(mine.total, added, out), "sum")
    sheet.skip(2)


def _with(total: Live, added: list[Live], out: list[Live]) -> Live:
    """A total with items added and left out, where all are known."""
    change = sum_of_terms(added) - sum_of_terms(out)
    return where_all_numbers([total, *added, *out], rounded(total + change))


def _compared(
    sheet: Sheet, work: BidWork, tab: Tab, cells: Mapping[str, BidCells], estimate: EstimateCells
) -> None:
    """The base with the alternates that are taken, beside the estimate; which is lowest."""
    taken = ", ".join(tab.taken) or "none taken"
    sheet.words(0, f"Compared: the base with alternates ({taken})", "bold")
    able = []
    chosen = [each for each in tab.alternates if each.name in tab.taken]
    reference = _with(
        estimate.subtotal,
        [estimate.added[f"{e.name}/{i.item}"] for e in chosen for i in tab.added[e.name]],
        [estimate.amount[item] for each in chosen for item in each.left_out],
    )
    estimated = sheet.put(3, reference, "sum")
    for place, bid in enumerate(tab.bids):
        mine = cells[bid.name]
        added = [mine.added[f"{e.name}/{i.item}"] for e in chosen for i in tab.added[e.name]]
        out = [mine.amount[item] for each in chosen for item in each.left_out]
        mine.compared = sheet.put(_column(place) + 2, _with(mine.total, added, out), "sum")
        if not bid.set_aside:
            able.append(mine.compared)
    sheet.row += 1
    sheet.words(0, "Beside the estimate before contingency")
    for place, bid in enumerate(tab.bids):
        total = cells[bid.name].compared
        both = total.is_number and estimated.is_number and estimated.number
        beside = Live(
            f"IF(AND(ISNUMBER({total.text}),N({estimated.text})>0),"
            f'{total.text}/{estimated.text}-1,"")',
            total.number / estimated.number - 1 if both else "",
        )
        sheet.put(_column(place) + 2, beside, "percent")
    sheet.row += 1
    sheet.words(0, "By arithmetic; the owner judges who is responsible and what is responsive")
    numbers = [cell.number for cell in able if cell.is_number]
    for place, bid in enumerate(tab.bids):
        total = cells[bid.name].compared
        if bid.set_aside:
            sheet.words(_column(place) + 2, "set aside by the owner")
            continue
        run = ",".join(cell.text for cell in able)
        is_low = total.is_number and total.number == min(numbers, default=0.0)
        formula = f'IF(ISNUMBER({total.text}),IF({total.text}=MIN({run}),"lowest",""),"not whole")'
        word = ("lowest" if is_low else "") if total.is_number else "not whole"
        sheet.put(_column(place) + 2, Live(formula, word), "verdict")
    sheet.skip(2)


def _trial(
    sheet: Sheet,
    work: BidWork,
    tab: Tab,
    cells: Mapping[str, BidCells],
    quantities: Mapping[str, Live],
) -> None:
    """Every total when more chips are needed; the change is typed."""
    if CHIPS not in quantities or not any(cell.compared.is_number for cell in cells.values()):
        return
    sheet.words(0, f"Change of {CHIPS} that is tried (typed)")
    change = sheet.put(3, float(work.trace.value("inputs.bid.quantity_change")), "percent")
    sheet.row += 1
    sheet.words(0, "Compared totals with it", "bold")
    for place, bid in enumerate(tab.bids):
        mine = cells[bid.name]
        price, total = mine.price[CHIPS], mine.compared
        both = price.is_number and total.is_number
        then = total + price * quantities[CHIPS] * change
        formula = f'IF(AND(ISNUMBER({price.text}),ISNUMBER({total.text})),ROUND({then.text},2),"")'
        sheet.put(_column(place) + 2, Live(formula, round(then.number, 2) if both else ""), "sum")
    sheet.row += 1
