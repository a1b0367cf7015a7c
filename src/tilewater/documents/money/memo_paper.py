# SPDX-License-Identifier: Apache-2.0
"""A memo of award, drafted for a signature: what the arithmetic says and what the owner judges."""

from collections.abc import Iterator

from tilewater.chain.bid import BidWork
from tilewater.chain.bid_funding import CASES, FUNDING
from tilewater.chain.bid_looks import change_beside
from tilewater.chain.bid_tab import compared_key
from tilewater.documents.money.tab_paper import (
    BY_ARITHMETIC,
    corrections,
    looks,
    lowest_words,
    totals_table,
)
from tilewater.documents.pages.bid_words import dollars, percent, turn_words
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Heading,
    Items,
    Paragraph,
    Seal,
)

STATEMENT = (
    "Drafted for signature by the owner. It awards nothing before it is signed. The owner judges "
    "who is responsible and which bid is responsive, and may reject all bids."
)
SIGNED = ("Award to, amount, alternates", "Owner", "Date")


def memo_blocks(work: BidWork) -> Iterator[Block]:
    """Pages of the memo.

    Parameters
    ----------
    work : BidWork
        With bids.

    Returns
    -------
    iterator of Block
    """
    tab = work.tab
    if tab is None:
        return
    opened = work.text("inputs.bid.opened")
    yield Banner(
        "Award memo",
        (work.title, f"Bids opened {opened}" if opened else "Day of opening not given"),
        lowest_words(work, tab),
        BY_ARITHMETIC,
    )
    yield Heading("What came", 1)
    yield totals_table(work, tab)
    yield Paragraph(_beside(work))
    taken = ", ".join(work.taken) or "none"
    yield Paragraph(f"Alternates taken in this comparison: {taken}.")
    if told := (*corrections(work, tab), *looks(work, tab, nearest=1)):
        yield Heading("To weigh before it is signed", 1)
        yield Items(told)
    yield Heading("Money", 1)
    yield Items(tuple(_money(work)))
    yield Seal(STATEMENT, "Room for a stamp", SIGNED)


def _beside(work: BidWork) -> str:
    if not work.low:
        return "No bid is lowest by arithmetic; see the tabulation."
    beside = change_beside(work.trace, work.low)
    total = dollars(work.trace, compared_key(work.low))
    if beside is None:
        return f"The lowest bid is {total}; the estimate is not known in full."
    side = "below" if beside < 0 else "above"
    return (
        f"The lowest bid, {total}, is {percent(abs(beside))} {side} the engineer's estimate of "
        f"{dollars(work.trace, 'bid.compared_usd')} before contingency."
    )


def _money(work: BidWork) -> Iterator[str]:
    if not work.orders:
        yield "The job names no source of money; the owner pays all of it."
        return
    case = CASES[0][0]
    for order in work.orders[:2]:
        owner = dollars(work.trace, order.owner(case))
        yield f"{turn_words(work, order)}: the owner pays {owner}."
    bill = dollars(work.trace, f"{FUNDING}.cash.bill_usd")
    yield f"Until the sources have paid, the owner needs {bill}."
    for source in work.sources:
        signed = work.text(f"{source.given}.contract_signed")
        earliest = max(signed, work.text(f"{source.given}.no_construction_before"))
        when = f"on {signed}" if signed else "not yet"
        until = earliest if signed else "it is signed"
        yield f"{source.title}: contract signed {when}; no construction before {until}."
