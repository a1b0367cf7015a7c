# SPDX-License-Identifier: Apache-2.0
"""The engineer's estimate on paper: price, date and source of each item, alternates, who pays."""

from collections.abc import Callable, Iterator
from functools import partial

from tilewater.chain.bid import BidWork
from tilewater.chain.bid_alternates import ALTERNATES
from tilewater.chain.bid_funding import CASES, FUNDING, Order
from tilewater.chain.bid_items import without_price
from tilewater.documents.money.schedule_paper import payment_table
from tilewater.documents.pages.bid_words import (
    NO_PRICE,
    built_beds_words,
    case_words,
    dollars,
    quantity,
    turn_words,
)
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Cell,
    Column,
    Heading,
    Paragraph,
    Run,
    Style,
    Table,
    number,
)
from tilewater.documents.words import Words, step_value

MANY_ORDERS = 6
"""Orders of the sources that are told in full."""
SUMS = (
    ("bid.subtotal_usd", "Sum"),
    ("bid.contingency_usd", "Contingency, set aside, no cost until it is spent"),
    ("bid.total_usd", "Estimate"),
)


def estimate_blocks(work: BidWork, words: Words) -> Iterator[Block]:
    """Pages of the estimate.

    Parameters
    ----------
    work : BidWork
    words : Words

    Returns
    -------
    iterator of Block
    """
    missing = without_price(work.trace, work.items)
    yield Banner(
        "Engineer's estimate",
        (work.title,),
        dollars(work.trace, "bid.total_usd"),
        "Quantities are those of the drawings, with the digits that they are bid with; prices are "
        "those of the office's price book. Every amount is quantity times unit price to the cent.",
    )
    if missing:
        named = ", ".join(item.title.lower() for item in missing)
        yield Paragraph(f"Without a price, and so not in any sum: {named}.")
    yield Heading("Estimate", 1)
    yield _items(work)
    for told in _sources_of_prices(work):
        yield Paragraph(told, "note")
    if beside := built_beds_words(work):
        yield Paragraph(beside, "note")
    if work.alternates:
        yield Heading("Alternates", 1)
        yield _alternates(work)
    if work.orders:
        yield Heading("Who pays", 1, new_page=True)
        yield from funding_blocks(work)
    yield Heading("How the items are measured and paid", 1, new_page=True)
    yield payment_table(work, words)


def _items(work: BidWork) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for item in work.items:
        price = work.book.get(item.price_item)
        rows.append(
            (
                item.title,
                number(quantity(work.trace, item)),
                item.unit,
                number(dollars(work.trace, item.price, if_not_known=NO_PRICE)),
                number(dollars(work.trace, item.amount, if_not_known="")),
                "" if price is None else price.date,
            )
        )
    count = len(rows)
    for key, label in SUMS:
        style: Style = "bold" if key == "bid.total_usd" else ""
        amount = number(dollars(work.trace, key), style=style)
        rows.append((Run(label, "bold"), "", "", "", amount, ""))
    return Table(
        (
            Column("item", wide=True),
            Column("quantity", "point"),
            Column("unit"),
            Column("price", "point"),
            Column("amount", "point"),
            Column("price of"),
        ),
        tuple(rows),
        ruled=(count,),
        small=True,
    )


def _sources_of_prices(work: BidWork) -> Iterator[str]:
    """Each source of prices with its date, once."""
    used: dict[str, int] = {}
    for item in work.items:
        if (price := work.book.get(item.price_item)) is not None:
            said = f"Prices of {price.date}: {price.source}"
            used[said] = used.get(said, 0) + 1
    for said, count in used.items():
        yield f"{said} ({count} item{'' if count == 1 else 's'})."


def _alternates(work: BidWork) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for each in work.alternates:
        here = f"{ALTERNATES}.{each.name}"
        rows.append(
            (
                each.title,
                number(dollars(work.trace, f"{here}.left_out_usd")),
                number(dollars(work.trace, f"{here}.added_usd")),
                number(dollars(work.trace, f"{here}.change_usd")),
                number(dollars(work.trace, f"{here}.total_usd")),
            )
        )
    return Table(
        (
            Column("alternate", wide=True),
            Column("left out", "point"),
            Column("added", "point"),
            Column("change", "point"),
            Column("base with it", "point"),
        ),
        tuple(rows),
        small=True,
    )


def funding_blocks(work: BidWork) -> Iterator[Block]:
    """Who pays in each order, what the owner needs until then, and the documents behind it.

    Parameters
    ----------
    work : BidWork

    Returns
    -------
    iterator of Block
    """
    yield Paragraph(
        f"Worked with {work.cost_is}. A source counts the lesser of actual and approved cost; the "
        "order in which sources pay is theirs to say. Shares add up to the cost to the cent."
    )
    told = work.orders if len(work.orders) <= MANY_ORDERS else work.orders[:1]
    rows: list[tuple[Cell, ...]] = [
        ("Cost", *_by_case(work, lambda case: f"{FUNDING}.{case}.cost_usd"))
    ]
    ruled: list[int] = []
    for order in told:
        ruled.append(len(rows))
        rows.append((Run(turn_words(work, order), "bold"), "", "", ""))
        rows += _order_rows(work, order)
    if len(told) < len(work.orders):
        ruled.append(len(rows))
        rows.append((Run("Owner, in every order", "bold"), "", "", ""))
        rows += [(turn_words(work, each), *_by_case(work, each.owner)) for each in work.orders]
    heads = (Column("", wide=True), *(Column(case_words(case), "point") for case, _ in CASES))
    yield Table(heads, tuple(rows), ruled=tuple(ruled), small=True)
    yield Heading("Owner's cash until it is paid back", 2)
    yield Table((Column("", wide=True), Column("", "point")), tuple(_cash(work)), small=True)
    yield Heading("What the sources go by", 2)
    yield _documents(work)


def _by_case(work: BidWork, key: Callable[[str], str]) -> tuple[Cell, ...]:
    return tuple(number(dollars(work.trace, key(case))) for case, _ in CASES)


def _order_rows(work: BidWork, order: Order) -> Iterator[tuple[Cell, ...]]:
    titles = {source.name: source.title for source in work.sources}
    for name in order.sources:
        yield titles[name], *_by_case(work, partial(_paid, order, name))
    yield "Owner", *_by_case(work, order.owner)


def _paid(order: Order, name: str, case: str) -> str:
    return order.paid(case, name)


def _cash(work: BidWork) -> Iterator[tuple[Cell, ...]]:
    titles = {source.name: source for source in work.sources}
    for key in work.trace.names(f"{FUNDING}.cash"):
        name = key.removesuffix("_usd")
        if name == "bill":
            label = "When the contractor's bill is due"
        else:
            days = step_value(work.trace, f"{titles[name].given}.pays_after")
            when = f"{float(days):g} days" if isinstance(days, float) else "day not said"
            label = f"Once {titles[name].title} has paid ({when})"
        yield label, number(dollars(work.trace, f"{FUNDING}.cash.{key}"))


def _documents(work: BidWork) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for source in work.sources:
        document = work.text(f"{source.given}.document") or "no document named"
        dated = work.text(f"{source.given}.document_date") or "no date"
        signed = work.text(f"{source.given}.contract_signed") or "not signed"
        earliest = max(signed, work.text(f"{source.given}.no_construction_before"))
        if signed == "not signed":
            earliest = "its contract is signed"
        rows.append((source.title, f"{document}, {dated}", signed, earliest))
    return Table(
        (
            Column("source", wide=True),
            Column("document and its date", wide=True),
            Column("contract"),
            Column("no construction before"),
        ),
        tuple(rows),
        small=True,
    )
