# SPDX-License-Identifier: Apache-2.0
"""The workbook of a bid, with live formulas, and the sheet of it that goes out to bidders."""

from collections.abc import Mapping

from tilewater.chain.bid import BidWork
from tilewater.chain.bid_items import ScheduleItem
from tilewater.documents.money.book import A3, A4, LEDGER, LETTER, Book
from tilewater.documents.money.book_bids import BidCells, add_bids_sheet
from tilewater.documents.money.book_estimate import (
    EstimateCells,
    add_estimate_sheet,
    add_schedule_sheet,
)
from tilewater.documents.money.book_funding import add_funding_sheet
from tilewater.documents.money.book_quantities import add_quantities_sheet
from tilewater.documents.money.live import Live
from tilewater.documents.words import Words

ABOUT = "About"
LINES = (
    "Quantities: dimensions are typed, solids are worked from them, and items as they are bid.",
    "Estimate: unit prices of the office's price book, amounts to the cent, contingency apart.",
    "Bid schedule: blank unit prices; amounts and totals follow once they are typed.",
    "Bids: prices as the bidders wrote them, amounts corrected by the unit price.",
    "Funding: every order of the sources of money, with overruns; shares add up to the cost.",
    "Change any typed value and the rest follows. What is changed here does not change the job: "
    "type it into job.toml, and make the workbook again.",
    "Keep the estimate from bidders: they get bid-schedule.xlsx, which holds the schedule alone.",
    "The order of bids is arithmetic. The owner judges who is responsible and what is responsive.",
)


def workbook(work: BidWork, words: Words, version: str) -> bytes:
    """The workbook of a bid.

    Parameters
    ----------
    work : BidWork
    words : Words
        Units of dimensions.
    version : str
        Of the program.

    Returns
    -------
    bytes
        The file, as XLSX.
    """
    is_us = words.system == "us"
    upright, lying = (LETTER, LEDGER) if is_us else (A4, A3)
    book = Book(f"{work.title}: bid")
    _about(book, work, words, version, upright)
    quantities = add_quantities_sheet(book, work, system=words.system, paper=upright)
    estimate = add_estimate_sheet(book, work, words, quantities, paper=lying)
    add_schedule_sheet(book, work, quantities, paper=upright)
    bids: dict[str, BidCells] = {}
    if work.tab is not None:
        bids = add_bids_sheet(book, work, work.tab, quantities, estimate, paper=lying)
    if work.orders:
        amounts = _contract(work, estimate, bids)
        counted = {item.item: quantities[item.item] for item in work.items}
        for name in work.taken:
            for item in work.added[name]:
                counted[item.item] = quantities[f"{name}/{item.item}"]
        add_funding_sheet(book, work, amounts, counted, paper=lying)
    return book.content()


def schedule_workbook(work: BidWork, words: Words) -> bytes:
    """The sheet that goes out to bidders, alone.

    Parameters
    ----------
    work : BidWork
    words : Words

    Returns
    -------
    bytes
        The file, as XLSX.
    """
    book = Book(f"{work.title}: bid schedule")
    add_schedule_sheet(book, work, None, paper=LETTER if words.system == "us" else A4)
    return book.content()


def _about(book: Book, work: BidWork, words: Words, version: str, paper: int) -> None:
    sheet = book.sheet(ABOUT, (90,), paper=paper, lying=False)
    sheet.line(f"{work.title}: bid", "title")
    units = "feet, US customary" if words.system == "us" else "metres, SI"
    day = work.day.isoformat()
    sheet.line(f"{day}, Tilewater {version}. Dimensions in {units}; money in US dollars.", "note")
    sheet.skip()
    for line in LINES:
        sheet.line(line)


def _contract(
    work: BidWork, estimate: EstimateCells, bids: Mapping[str, BidCells]
) -> dict[str, Live]:
    """Cells of what each item costs: in the lowest bid where there is one, else the estimate."""
    mine = bids.get(work.low)
    amount = estimate.amount if mine is None else mine.amount
    added = estimate.added if mine is None else mine.added
    out = {item for each in work.alternates if each.name in work.taken for item in each.left_out}
    kept: list[ScheduleItem] = [item for item in work.items if item.item not in out]
    cells = {item.item: amount[item.item] for item in kept}
    for name in work.taken:
        cells |= {item.item: added[f"{name}/{item.item}"] for item in work.added[name]}
    return cells
