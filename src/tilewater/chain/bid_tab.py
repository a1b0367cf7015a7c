# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: bids side by side, corrected by their unit prices.

The order of the bids is arithmetic. Whether a bidder is responsible and a bid responsive is for the
owner to say; a bid that he sets aside stays in the table and out of the order.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from tilewater.basis.trace import Given, Origin, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain.bid_alternates import ALTERNATES, add_change
from tilewater.chain.bid_items import ScheduleItem
from tilewater.economics.alternates import Alternate
from tilewater.economics.bids import Bid, BidLine, amount_written_off, mean_price, share_beside
from tilewater.economics.estimate import extension_to_the_cent, sum_to_the_cent

BIDS = "bids"
MEAN = "bid.mean_of_bids"
COMPARED = "bid.compared_usd"
"""Estimate of what is compared: the base with the alternates that the owner takes."""


@dataclass(frozen=True)
class Tab:
    """The bids of a job, side by side in the trace.

    Attributes
    ----------
    bids : tuple of Bid
        In the order of the job file.
    items : tuple of ScheduleItem
        The base.
    added : mapping of str to tuple of ScheduleItem
        Items that each alternate adds.
    alternates : tuple of Alternate
    taken : tuple of str
        Alternates that the owner takes.
    """

    bids: tuple[Bid, ...]
    items: tuple[ScheduleItem, ...]
    added: Mapping[str, tuple[ScheduleItem, ...]]
    alternates: tuple[Alternate, ...]
    taken: tuple[str, ...] = ()

    def bid(self, name: str) -> Bid:
        """A bid by its name."""
        return next(bid for bid in self.bids if bid.name == name)

    def is_whole(self, trace: Trace, name: str) -> bool:
        """Whether a bid prices every item that is compared."""
        return trace.known(compared_key(name))

    def ranked(self, trace: Trace, alternate: str | None = None) -> tuple[str, ...]:
        """Bids that are whole and not set aside, the lowest first.

        Without an alternate, by what is compared; with one, by the base with it alone.
        """

        def key(name: str) -> str:
            if alternate is None:
                return compared_key(name)
            return f"{BIDS}.{name}.alternates.{alternate}.total_usd"

        able = [bid.name for bid in self.bids if not bid.set_aside and trace.known(key(bid.name))]
        return tuple(sorted(able, key=lambda name: Decimal(trace.value(key(name)))))

    def lowest(self, trace: Trace, alternate: str | None = None) -> str:
        """The lowest bid; "" where there is none, or two are the same to the cent."""
        ranked = self.ranked(trace, alternate)
        if not ranked:
            return ""
        if alternate is None:
            totals = [trace.value(compared_key(name)) for name in ranked[:2]]
        else:
            here = "alternates." + alternate
            totals = [trace.value(f"{BIDS}.{name}.{here}.total_usd") for name in ranked[:2]]
        return "" if len(totals) == 2 and totals[0] == totals[1] else ranked[0]


def price_key(name: str, item: str) -> str:
    """Key of a bidder's unit price."""
    return f"{BIDS}.{name}.items.{item}.price_usd"


def amount_key(name: str, item: str) -> str:
    """Key of a bidder's amount, from the unit price and the quantity of the schedule."""
    return f"{BIDS}.{name}.items.{item}.amount_usd"


def compared_key(name: str) -> str:
    """Key of what is compared of a bid: the base with the alternates that are taken."""
    return f"{BIDS}.{name}.compared_usd"


def add_tab(trace: Trace, tab: Tab) -> None:
    """Record every bid with its corrections and its place beside the estimate.

    Parameters
    ----------
    trace : Trace
        With the items of the bid and its alternates.
    tab : Tab
        The bids as read.
    """
    _add_compared(trace, tab)
    for bid in tab.bids:
        _add_bid(trace, tab, bid)
        _add_alternates(trace, tab, bid)
        _add_taken(
            trace,
            compared_key(bid.name),
            f"Bid of {bid.title}, as it is compared",
            f"{BIDS}.{bid.name}.total_usd",
            [f"{BIDS}.{bid.name}.alternates.{name}.change_usd" for name in tab.taken],
        )
        if trace.known(COMPARED, compared_key(bid.name)) and trace.value(COMPARED):
            trace.compute(
                f"{BIDS}.{bid.name}.beside_estimate",
                share_beside,
                unit="-",
                title=f"Bid of {bid.title} beside the estimate before contingency",
                value=compared_key(bid.name),
                reference=COMPARED,
            )
    for item in tab.items:
        _add_mean(trace, tab, item)


def _add_compared(trace: Trace, tab: Tab) -> None:
    changes = [f"{ALTERNATES}.{name}.change_usd" for name in tab.taken]
    _add_taken(trace, COMPARED, "Estimate of what is compared", "bid.subtotal_usd", changes)


def _add_taken(trace: Trace, key: str, title: str, base: str, changes: list[str]) -> None:
    parts = {f"alternate_{n}": change for n, change in enumerate(changes, start=1)}
    trace.compute(key, sum_to_the_cent, unit="USD", title=title, base=base, **parts)


def _add_bid(trace: Trace, tab: Tab, bid: Bid) -> None:
    for item in tab.items:
        _add_line(trace, bid, item, bid.lines.get(item.item), f"{BIDS}.{bid.name}.items")
    amounts = {argument_name(i.item): amount_key(bid.name, i.item) for i in tab.items}
    total = f"{BIDS}.{bid.name}.total_usd"
    trace.compute(
        total, sum_to_the_cent, unit="USD", title=f"Bid of {bid.title}, corrected", **amounts
    )
    if bid.total is None:
        return
    written = f"{BIDS}.{bid.name}.written_total_usd"
    origin = Origin(bid.file)
    trace.give(Given(written, bid.total, "USD", f"Bid of {bid.title}, as written", origin))
    trace.compute(
        f"{BIDS}.{bid.name}.total_error_usd",
        amount_written_off,
        unit="USD",
        title=f"Total as written of {bid.title}, less the corrected one",
        written=written,
        corrected=total,
    )


def _add_line(trace: Trace, bid: Bid, item: ScheduleItem, line: BidLine | None, where: str) -> None:
    """Price as written, amount as it follows, and how far the written amount is off."""
    here = f"{where}.{item.item}"
    price: Decimal | Unknown
    if line is None or line.price is None:
        why = f"{bid.title} wrote no unit price for {item.item}"
        price, origin = Unknown(why, "the owner says what becomes of the bid"), Origin(bid.file)
    else:
        price, origin = line.price, Origin(bid.file, line.line, f"{line.price}")
    title = f"Unit price of {bid.title}, {item.unit}: {item.title}"
    trace.give(Given(f"{here}.price_usd", price, "USD", title, origin))
    trace.compute(
        f"{here}.amount_usd",
        extension_to_the_cent,
        unit="USD",
        title=f"{bid.title}: {item.title}",
        quantity=item.quantity,
        unit_price=f"{here}.price_usd",
    )
    if line is None or line.amount is None or not trace.known(f"{here}.amount_usd"):
        return
    title = f"Amount as written of {bid.title}: {item.title}"
    trace.give(Given(f"{here}.written_usd", line.amount, "USD", title, Origin(bid.file, line.line)))
    trace.compute(
        f"{here}.error_usd",
        amount_written_off,
        unit="USD",
        title=f"{bid.title}: amount as written, less the corrected one: {item.title}",
        written=f"{here}.written_usd",
        corrected=f"{here}.amount_usd",
    )


def _add_alternates(trace: Trace, tab: Tab, bid: Bid) -> None:
    """The base of a bid with each alternate."""
    for alternate in tab.alternates:
        here = f"{BIDS}.{bid.name}.alternates.{alternate.name}"
        lines = bid.alternates.get(alternate.name, {})
        for item in tab.added[alternate.name]:
            _add_line(trace, bid, item, lines.get(item.item), f"{here}.items")
        add_change(
            trace,
            here,
            alternate,
            {item.item: amount_key(bid.name, item.item) for item in tab.items},
            {i.item: f"{here}.items.{i.item}.amount_usd" for i in tab.added[alternate.name]},
            f"{BIDS}.{bid.name}.total_usd",
        )


def _add_mean(trace: Trace, tab: Tab, item: ScheduleItem) -> None:
    """Mean of the unit prices of those that priced an item."""
    keys = {argument_name(bid.name): price_key(bid.name, item.item) for bid in tab.bids}
    known = {name: key for name, key in keys.items() if trace.known(key)}
    if known:
        trace.compute(
            f"{MEAN}.{item.item}.price_usd",
            mean_price,
            unit="USD",
            title=f"Mean unit price of the bids, {item.unit}: {item.title}",
            **known,
        )


def errors_of(trace: Trace, tab: Tab) -> Iterator[tuple[Bid, ScheduleItem | None, str]]:
    """Amounts and totals that do not follow from their unit prices: bid, item or total, key."""
    for bid in tab.bids:
        here = f"{BIDS}.{bid.name}"
        for item in tab.items:
            key = f"{here}.items.{item.item}.error_usd"
            if trace.known(key) and key in trace and trace.value(key):
                yield bid, item, key
        if trace.known(key := f"{here}.total_error_usd") and trace.value(key):
            yield bid, None, key
