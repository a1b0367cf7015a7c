# SPDX-License-Identifier: Apache-2.0
"""Bid a design: quantities, estimate, who pays, the schedule that goes out, bids that come in."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.bid import BidWork
from tilewater.chain.bid_alternates import add_alternates
from tilewater.chain.bid_funding import Order, add_funding, sources_of
from tilewater.chain.bid_items import ScheduleItem, add_schedule
from tilewater.chain.bid_looks import (
    CHIPS,
    Crossing,
    Unbalanced,
    add_crossings,
    add_limits,
    add_ratios,
    add_trial,
    unbalanced_of,
)
from tilewater.chain.bid_tab import BIDS, Tab, add_tab, amount_key, errors_of
from tilewater.chain.design import Design
from tilewater.chain.plain import Record
from tilewater.chain.verdict import SHORT
from tilewater.economics.alternates import Alternate
from tilewater.job.bids import Schedule
from tilewater.tasks.bid_inputs import (
    alternates_of,
    bids_of,
    price_book,
    require_sources,
    schedule_of,
    taken_of,
)
from tilewater.tasks.bid_record import bid_record
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.inspection import Inspection
from tilewater.tasks.reader import units_for


@dataclass(frozen=True)
class Bidding:
    """A design as it is bid; nothing is written.

    Attributes
    ----------
    job : Checked
    design : Design
        Its trace holds the steps of the bid too.
    bid : BidWork
    schedule : Schedule
        What bidders are asked for.
    findings : tuple of Finding
        Of the bid.
    record : dict
    """

    job: Checked
    design: Design = field(repr=False)
    bid: BidWork
    schedule: Schedule
    findings: tuple[Finding, ...]
    record: Record = field(repr=False)

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What the engineer must know: of the files read, then of the bid."""
        return tuple(dict.fromkeys((*self.job.notes, *self.findings)))

    @property
    def fails(self) -> bool:
        """Whether the design falls short, or work is planned before the money allows it."""
        return any(finding.severity == "fails" for finding in self.findings)


def bid_job(folder: Path | str, day: date) -> Bidding:
    """Bid the design of a job folder.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    day : date
        The day that the bid is looked at.

    Returns
    -------
    Bidding

    Raises
    ------
    BadInputFile
        With every fault of its files.
    """
    job = check_job(folder)
    return bid_design(job, Inspection(job, day).design, day)


def bid_design(job: Checked, design: Design, day: date) -> Bidding:
    """Bid a design that is worked out.

    Parameters
    ----------
    job : Checked
    design : Design
        Steps are added to its trace.
    day : date
        The day that the bid is looked at.
    """
    trace = design.trace
    before = len(trace.findings)
    system = units_for(job)
    book = price_book(job.folder, trace)
    items = add_schedule(trace, book, system)
    alternates = alternates_of(trace, items)
    added = add_alternates(trace, items, alternates, book, system)
    taken = taken_of(trace)
    schedule = schedule_of(trace, items, added)
    bids, told = bids_of(job.folder, trace, schedule)
    tab = Tab(bids, items, added, alternates, taken) if bids else None
    low, looked = "", _Looked()
    if tab is not None:
        add_tab(trace, tab)
        low = tab.lowest(trace)
        looked = _look(trace, tab, low)
    contract = _contract(items, alternates, added, taken)
    require_sources(trace, {item.item: item.unit for item in contract})
    sources = sources_of(trace, tuple(item.item for item in contract))
    orders: tuple[Order, ...] = ()
    if sources:
        amounts = {item.item: _amount(item, tab, low, taken) for item in contract}
        quantities = {item.item: item.quantity for item in contract}
        orders = add_funding(trace, sources, amounts, quantities)
    work = BidWork(
        job.title,
        day,
        trace,
        book,
        items,
        alternates,
        added,
        taken,
        tab,
        low,
        looked.unbalanced,
        looked.crossings,
        looked.trial,
        sources,
        orders,
    )
    short = _of_design(design)
    findings = (*trace.findings[before:], *short, *told, *_of_money(work), *_of_bids(work))
    record = bid_record(work, job.inputs.name, findings, version("tilewater"))
    return Bidding(job, design, work, schedule, findings, record)


@dataclass(frozen=True)
class _Looked:
    unbalanced: tuple[Unbalanced, ...] = ()
    crossings: tuple[Crossing, ...] = ()
    trial: tuple[str, ...] = ()


def _look(trace: Trace, tab: Tab, low: str) -> _Looked:
    add_limits(trace)
    add_ratios(trace, tab)
    crossings = add_crossings(trace, tab, low) if low else ()
    return _Looked(tuple(unbalanced_of(trace, tab)), crossings, add_trial(trace, tab))


def _contract(
    items: tuple[ScheduleItem, ...],
    alternates: tuple[Alternate, ...],
    added: dict[str, tuple[ScheduleItem, ...]],
    taken: tuple[str, ...],
) -> tuple[ScheduleItem, ...]:
    """Items that are built: the base with the alternates that are taken."""
    out = {item for each in alternates if each.name in taken for item in each.left_out}
    more = (item for name in taken for item in added[name])
    return (*(item for item in items if item.item not in out), *more)


def _amount(item: ScheduleItem, tab: Tab | None, low: str, taken: tuple[str, ...]) -> str:
    """Key of what an item costs: in the lowest bid where there is one, else in the estimate."""
    if tab is None or not low:
        return item.amount
    if item in tab.items:
        return amount_key(low, item.item)
    name = next(name for name in taken if item in tab.added[name])
    return f"{BIDS}.{low}.alternates.{name}.items.{item.item}.amount_usd"


def _of_design(design: Design) -> Iterator[Finding]:
    """A design that falls short is no design to be built."""
    if design.verdict == SHORT:
        yield Finding(
            "bid-design-short",
            "fails",
            "Design",
            "The design does not fit, so these numbers are for comparison. Bid it once it does.",
        )


def _of_money(done: BidWork) -> Iterator[Finding]:
    """When money allows the work to begin, and what a source does not say."""
    start = done.text("inputs.bid.work_from")
    for source in done.sources:
        signed = done.text(f"{source.given}.contract_signed")
        earliest = max(signed, done.text(f"{source.given}.no_construction_before"))
        if not earliest:
            yield Finding(
                "no-funding-contract",
                "caution",
                source.title,
                "Its contract is not signed. No construction before it is: what is built or "
                "bought earlier is not paid for.",
                source="practice",
            )
        elif start and start < earliest:
            yield Finding(
                "work-before-funding",
                "fails",
                source.title,
                f"Work is to begin on {start}, and not before {earliest} by its contract. "
                "Begin later, or ask for a written consent to begin early.",
            )
        elif not signed and done.day.isoformat() >= earliest:
            yield Finding(
                "no-funding-contract",
                "caution",
                source.title,
                "No date of a signed contract is given. Ask for it before ground is broken.",
            )
        if not (
            done.text(f"{source.given}.document") and done.text(f"{source.given}.document_date")
        ):
            yield Finding(
                "funding-without-document",
                "caution",
                source.title,
                "Neither name nor date of its document is given in full. Programs change each "
                "year: write document and document_date.",
            )
    if len(done.sources) > 1:
        yield from _of_orders(done)


def _of_orders(done: BidWork) -> Iterator[Finding]:
    case = "as-planned"
    owners = {order: done.trace.value(order.owner(case)) for order in done.orders}
    if not done.trace.known(*(order.owner(case) for order in done.orders)):
        return
    if len(set(owners.values())) > 1:
        yield Finding(
            "funding-order-matters",
            "note",
            "Sources of money",
            "The owner's share depends on the order in which the sources pay: "
            f"${min(owners.values()):,.2f} to ${max(owners.values()):,.2f}. Their documents "
            "decide; ask both before either contract is signed.",
        )


def _of_bids(done: BidWork) -> Iterator[Finding]:
    if done.tab is None:
        return
    trace, tab = done.trace, done.tab
    if len(tab.bids) == 1:
        message = (
            "Only one bid came. It has nothing to be held against but the estimate; some sources "
            "of money ask for more bids, or for a reason in writing."
        )
        yield Finding("single-bid", "caution", "Bids", message, source="practice")
    ranked = tab.ranked(trace)
    if ranked and not done.low:
        message = "The two lowest bids are the same to the cent. The owner decides between them."
        yield Finding("bids-the-same", "caution", "Bids", message)
    for bid, item, key in errors_of(trace, tab):
        what = "the total" if item is None else f"the amount of {item.item}"
        off = trace.value(key)
        side = "above" if off > 0 else "below"
        message = (
            f"{what} of {bid.title} as written is ${abs(off):,.2f} {side} what follows from its "
            "unit prices. The unit price governs."
        )
        yield Finding("bid-extension-error", "caution", "Bids", message[0].upper() + message[1:])
    first = {name: tab.lowest(trace, name) for name in (each.name for each in tab.alternates)}
    base = _lowest_base(trace, tab)
    for name, lowest in first.items():
        if lowest and base and lowest != base:
            message = (
                f"With alternate {name} {tab.bid(lowest).title} is lowest, in the base "
                f"{tab.bid(base).title}. The owner chooses alternates before the lowest is named."
            )
            yield Finding("alternate-turns-order", "caution", "Bids", message, source="practice")
    if done.trial and done.low and done.trial[0] != done.low:
        share = float(trace.value("inputs.bid.quantity_change"))
        message = (
            f"With {100 * share:g} % more {CHIPS} {tab.bid(done.trial[0]).title} would be lowest "
            f"in place of {tab.bid(done.low).title}. Check that quantity again before the award."
        )
        yield Finding("quantity-turns-order", "caution", "Bids", message)


def _lowest_base(trace: Trace, tab: Tab) -> str:
    """The lowest bid in the base, whatever alternates are taken."""
    totals = {
        bid.name: trace.value(f"{BIDS}.{bid.name}.total_usd")
        for bid in tab.bids
        if not bid.set_aside and trace.known(f"{BIDS}.{bid.name}.total_usd")
    }
    return min(totals, key=totals.__getitem__) if totals else ""
