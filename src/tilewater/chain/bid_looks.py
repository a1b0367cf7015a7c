# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what to look at in bids: unbalanced prices, and what a quantity would turn.

An unbalanced price is pointed out beside the estimate and the mean of the bids, no more: the limits
are common practice without a source, and the owner decides what to make of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from tilewater.basis.trace import Trace
from tilewater.chain.bid_items import ScheduleItem
from tilewater.chain.bid_tab import BIDS, MEAN, Tab, amount_key, compared_key, price_key
from tilewater.economics.bids import (
    Bid,
    crossing_change,
    lead_of,
    ratio_of_prices,
    share_of_quantity,
    total_at,
)
from tilewater.economics.estimate import share_to_the_cent
from tilewater.economics.price_items import MEASURED

EARLY = ("mobilization", "potholing", "erosion-control", "temporary-tile-flow")
"""Items that are paid before most of the work is done."""
CHIPS = "woodchips"
CROSSING = "bid.crossing"
LOOKS = (
    ("unbalanced_above", 2.0, "Unit price over the estimate's at which it is pointed out"),
    ("least_share", 0.01, "Share of a bid below which an item is not looked into"),
    ("quantity_change", 0.10, "Change of one quantity that the order of bids is tried with"),
)
"""How far a bid is looked into, where the job does not say."""
FURTHEST = 1.0
"""Change of a quantity beyond which a crossing is not told."""


@dataclass(frozen=True)
class Unbalanced:
    """A unit price that stands out.

    Attributes
    ----------
    bid : Bid
    item : ScheduleItem
    is_above : bool
        Above the estimate; else below it.
    is_early : bool
        Whether the item is paid before most of the work is done.
    """

    bid: Bid
    item: ScheduleItem
    is_above: bool
    is_early: bool

    @property
    def is_front_loaded(self) -> bool:
        """Whether money is asked for before the work."""
        return self.is_above and self.is_early


@dataclass(frozen=True)
class Crossing:
    """A change of one quantity at which another bid is as low as the lowest.

    Attributes
    ----------
    item : ScheduleItem
    other : Bid
    change : str
        Key of the change, in bid units.
    share : str
        Key of the same as a share of the quantity.
    """

    item: ScheduleItem
    other: Bid
    change: str
    share: str


def add_limits(trace: Trace) -> None:
    """Record how far a bid is looked into: as the job says, else by common practice."""
    for name, value, title in LOOKS:
        given = f"inputs.bid.{name}"
        if given not in trace:
            trace.constant(given, value, title, unit="-", source="practice")


def add_ratios(trace: Trace, tab: Tab) -> None:
    """Record each unit price beside the estimate's and beside the mean of the bids."""
    for bid in tab.bids:
        for item in tab.items:
            price = price_key(bid.name, item.item)
            beside = {"estimate": item.price, "mean": f"{MEAN}.{item.item}.price_usd"}
            for word, reference in beside.items():
                if not trace.known(price, reference) or not trace.value(reference):
                    continue
                trace.compute(
                    f"{BIDS}.{bid.name}.items.{item.item}.ratio_to_{word}",
                    ratio_of_prices,
                    unit="-",
                    title=f"{bid.title} over the {word}: {item.title}",
                    price=price,
                    reference=reference,
                )


def unbalanced_of(trace: Trace, tab: Tab) -> Iterator[Unbalanced]:
    """Unit prices that stand out from the estimate, of items that matter."""
    limit = Decimal(str(trace.value("inputs.bid.unbalanced_above")))
    least = Decimal(str(trace.value("inputs.bid.least_share")))
    for bid in tab.bids:
        total = f"{BIDS}.{bid.name}.total_usd"
        for item in tab.items:
            key = f"{BIDS}.{bid.name}.items.{item.item}.ratio_to_estimate"
            if key not in trace or not trace.known(total, amount_key(bid.name, item.item)):
                continue
            ratio = Decimal(trace.value(key))
            apart = abs(trace.value(amount_key(bid.name, item.item)) - trace.value(item.amount))
            is_out = ratio >= limit or ratio * limit <= 1
            if is_out and apart >= least * trace.value(total):
                yield Unbalanced(bid, item, ratio > 1, item.item in EARLY)


def add_crossings(trace: Trace, tab: Tab, low: str) -> tuple[Crossing, ...]:
    """Record at which quantity of an item another bid is as low as the lowest.

    Parameters
    ----------
    trace : Trace
        With the bids.
    tab : Tab
    low : str
        Name of the lowest bid.

    Returns
    -------
    tuple of Crossing
        Those within the quantity doubled or done away with, the smallest change first.
    """
    left_out = {item for each in tab.alternates if each.name in tab.taken for item in each.left_out}
    found = []
    for name in tab.ranked(trace):
        if name == low:
            continue
        lead = f"{CROSSING}.{name}.lead_usd"
        trace.compute(
            lead,
            lead_of,
            unit="USD",
            title=f"Lead of the lowest bid before {tab.bid(name).title}",
            low=compared_key(low),
            other=compared_key(name),
        )
        for item in tab.items:
            ours, theirs = price_key(low, item.item), price_key(name, item.item)
            if item.unit not in MEASURED or item.item in left_out:
                continue  # a lump sum or a piece is as many as are drawn
            if not trace.known(ours, theirs, item.quantity):
                continue
            if trace.value(ours) == trace.value(theirs) or not trace.value(item.quantity):
                continue
            crossing = _add_crossing(trace, tab, item, (low, name), lead)
            if abs(trace.value(crossing.share)) <= FURTHEST:
                found.append(crossing)
    return tuple(sorted(found, key=lambda each: abs(trace.value(each.share))))


def _add_crossing(
    trace: Trace, tab: Tab, item: ScheduleItem, pair: tuple[str, str], lead: str
) -> Crossing:
    low, name = pair
    here, other = f"{CROSSING}.{name}.{item.item}", tab.bid(name)
    trace.compute(
        f"{here}.change",
        crossing_change,
        unit=item.unit,
        title=f"Change at which {other.title} is as low: {item.title}",
        lead=lead,
        price_low=price_key(low, item.item),
        price_other=price_key(name, item.item),
    )
    trace.compute(
        f"{here}.share",
        share_of_quantity,
        unit="-",
        title=f"The same beside the bid quantity: {item.title}",
        change=f"{here}.change",
        quantity=item.quantity,
    )
    return Crossing(item, other, f"{here}.change", f"{here}.share")


def add_trial(trace: Trace, tab: Tab, item: str = CHIPS) -> tuple[str, ...]:
    """Record every total when one quantity comes out larger; names with the lowest first.

    Parameters
    ----------
    trace : Trace
        With the bids.
    tab : Tab
    item : str
        Item whose quantity is changed.

    Returns
    -------
    tuple of str
        Bids by their totals then; none where the bid has no such item.
    """
    bid_item = next((each for each in tab.items if each.item == item), None)
    if bid_item is None or not trace.known(bid_item.quantity):
        return ()
    change = f"bid.trial.{item}.change"
    trace.compute(
        change,
        share_to_the_cent,
        unit=bid_item.unit,
        title=f"Change that is tried: {bid_item.title}",
        amount=bid_item.quantity,
        share="inputs.bid.quantity_change",
    )
    totals = {}
    for name in tab.ranked(trace):
        key = f"bid.trial.{item}.{name}_usd"
        trace.compute(
            key,
            total_at,
            unit="USD",
            title=f"{tab.bid(name).title} with that change: {bid_item.title}",
            total=compared_key(name),
            price=price_key(name, item),
            change=change,
        )
        totals[name] = trace.value(key)
    return tuple(sorted(totals, key=totals.__getitem__))


def change_beside(trace: Trace, name: str) -> float | None:
    """How far a bid lies above the estimate.

    Parameters
    ----------
    trace : Trace
        With the bids.
    name : str
        Of the bid.

    Returns
    -------
    float or None
        Share of the estimate; None where that is not known. [-]
    """
    key = f"{BIDS}.{name}.beside_estimate"
    return float(trace.value(key)) if key in trace and trace.known(key) else None
