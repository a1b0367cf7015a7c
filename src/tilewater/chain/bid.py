# SPDX-License-Identifier: Apache-2.0
"""A design as it is bid: its items, alternates, sources of money and bids, with their steps."""

from dataclasses import dataclass, field
from datetime import date

from tilewater.basis.trace import Trace
from tilewater.chain.bid_funding import Order, Source
from tilewater.chain.bid_items import BookPrice, ScheduleItem
from tilewater.chain.bid_looks import Crossing, Unbalanced
from tilewater.chain.bid_tab import Tab
from tilewater.economics.alternates import Alternate


@dataclass(frozen=True)
class BidWork:
    """All that a bid holds, for whoever shows it.

    Attributes
    ----------
    title : str
        Of the job.
    day : date
        The day that the bid is looked at.
    trace : Trace
        Of the design, with the steps of the bid.
    book : dict of str to BookPrice
    items : tuple of ScheduleItem
        The base, in the order of the work.
    alternates : tuple of Alternate
    added : dict of str to tuple of ScheduleItem
        Items that each alternate adds.
    taken : tuple of str
        Alternates that the owner takes.
    tab : Tab or None
        The bids side by side; None where none has come.
    low : str
        The lowest bid; "" where there is none.
    unbalanced : tuple of Unbalanced
    crossings : tuple of Crossing
    trial : tuple of str
        Bids in their order when more chips are needed.
    sources : tuple of Source
    orders : tuple of Order
        Orders of the sources, their own first.
    """

    title: str
    day: date
    trace: Trace = field(repr=False)
    book: dict[str, BookPrice] = field(repr=False)
    items: tuple[ScheduleItem, ...]
    alternates: tuple[Alternate, ...]
    added: dict[str, tuple[ScheduleItem, ...]]
    taken: tuple[str, ...]
    tab: Tab | None = None
    low: str = ""
    unbalanced: tuple[Unbalanced, ...] = ()
    crossings: tuple[Crossing, ...] = ()
    trial: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()
    orders: tuple[Order, ...] = ()

    def text(self, key: str) -> str:
        """A text that the job states; "" where it does not."""
        return str(self.trace.value(key)) if self.trace.known(key) else ""

    @property
    def cost_is(self) -> str:
        """What the sources of money are worked with."""
        if self.tab is not None and self.low:
            return f"the lowest bid, {self.tab.bid(self.low).title}, corrected"
        return "the engineer's estimate before contingency"
