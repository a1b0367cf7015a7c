# SPDX-License-Identifier: Apache-2.0
"""Numbers of a bid in words: money to the cent, quantities with the digits that are bid."""

from decimal import Decimal

from tilewater.basis.trace import Trace
from tilewater.basis.units import format_quantity
from tilewater.basis.unknown import is_unknown
from tilewater.chain.bid import BidWork
from tilewater.chain.bid_funding import CASES, Order
from tilewater.chain.bid_items import ScheduleItem
from tilewater.documents.words import NOT_KNOWN, step_value

NO_PRICE = "no price"
CASE_WORDS = {"as-planned": "as it stands", "over-10": "10 % over", "over-25": "25 % over"}


def dollars(trace: Trace, key: str, *, if_not_known: str = NOT_KNOWN) -> str:
    """Money behind a key, to the cent."""
    value = step_value(trace, key)
    if is_unknown(value):
        return if_not_known
    return format_quantity(float(value), "cents", system="us", style="plain")


def quantity(trace: Trace, item: ScheduleItem) -> str:
    """Bid quantity of an item without its unit, as it is multiplied."""
    value = step_value(trace, item.quantity)
    return NOT_KNOWN if is_unknown(value) else digits(value)


def digits(value: Decimal) -> str:
    """A bid quantity with the digits that it is bid with."""
    plain = Decimal(value)
    return f"{plain:,.0f}" if plain == plain.to_integral_value() else f"{plain:,f}"


def percent(value: float, *, signed: bool = False) -> str:
    """A share in percent to one place."""
    return f"{100.0 * value:{'+' if signed else ''}.1f} %"


def built_beds_words(work: BidWork) -> str:
    """The sanity line: what beds of that size cost where they were built; "" for no bed."""
    key = "bid.built_beds_usd"
    if key not in work.trace or not work.trace.known(key):
        return ""
    cost = format_quantity(work.trace.value(key), "money", style="two figures")
    return (
        f"Eight built beds of one state cost $108 per m3 of chips, {cost} for this one, in dollars "
        "of their years (1.3 times that in 2023); the spread among them was more than half. A "
        "sanity line, no estimate (maxwell-cost, read)."
    )


def turn_words(work: BidWork, order: Order) -> str:
    """An order of the sources in words."""
    titles = {source.name: source.title for source in work.sources}
    return ", then ".join(titles[name] for name in order.sources)


def case_words(case: str) -> str:
    """A case of the cost in words."""
    return CASE_WORDS[case]


def cases() -> tuple[str, ...]:
    """Names of the cases of the cost."""
    return tuple(name for name, _ in CASES)
