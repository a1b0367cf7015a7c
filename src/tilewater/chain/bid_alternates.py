# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: alternates of a bid beside its base, in the estimate and in a bid."""

from collections.abc import Callable, Mapping
from decimal import Decimal

from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.chain.bid_items import BookPrice, ScheduleItem, add_price, usual_unit
from tilewater.economics.alternates import (
    Added,
    Alternate,
    alternate_change,
    total_with_alternate,
)
from tilewater.economics.estimate import sum_to_the_cent
from tilewater.practices.rules import same

ALTERNATES = "bid.alternates"


def add_alternates(
    trace: Trace,
    items: tuple[ScheduleItem, ...],
    alternates: tuple[Alternate, ...],
    book: Mapping[str, BookPrice],
    system: str = "us",
) -> dict[str, tuple[ScheduleItem, ...]]:
    """Record what each alternate adds, leaves out and comes to.

    Parameters
    ----------
    trace : Trace
        With the items of the base.
    items : tuple of ScheduleItem
        The base.
    alternates : tuple of Alternate
    book : mapping of str to BookPrice
    system : "us" or "si"

    Returns
    -------
    dict of str to tuple of ScheduleItem
        Items that each alternate adds.
    """
    base = {item.item: item for item in items}
    added: dict[str, tuple[ScheduleItem, ...]] = {}
    for alternate in alternates:
        here = f"{ALTERNATES}.{alternate.name}"
        added[alternate.name] = tuple(
            _add_item(trace, here, one, base, book, system) for one in alternate.added
        )
        for item in added[alternate.name]:
            add_price(trace, item, book)
        add_change(
            trace,
            here,
            alternate,
            {item.item: item.amount for item in items},
            {item.item: item.amount for item in added[alternate.name]},
            "bid.subtotal_usd",
        )
    return added


def _add_item(
    trace: Trace,
    here: str,
    added: Added,
    base: Mapping[str, ScheduleItem],
    book: Mapping[str, BookPrice],
    system: str,
) -> ScheduleItem:
    """An item that an alternate adds, with its quantity."""
    like = base.get(added.like)
    usual = book[added.item].unit if added.item in book else usual_unit(added.item, system)
    unit = like.unit if like is not None else added.unit or usual
    title = added.item.replace("-", " ")
    item = ScheduleItem(
        added.item,
        title[0].upper() + title[1:],
        unit,
        () if like is None else like.counted,
        added.item,
        here=f"{here}.items.{added.item}",
    )
    if like is not None:
        trace.compute(
            item.quantity,
            same,
            unit=unit,
            title=f"{item.title}, as much as {like.title.lower()}",
            value=like.quantity,
        )
    else:
        trace.give(
            Given(item.quantity, added.quantity or Decimal(0), unit, f"{item.title}, as bid")
        )
    return item


def add_change(
    trace: Trace,
    here: str,
    alternate: Alternate,
    base: Mapping[str, str],
    added: Mapping[str, str],
    total: str,
) -> None:
    """Record what an alternate changes, from keys of the amounts of its items.

    Parameters
    ----------
    trace : Trace
    here : str
        Where the steps of the alternate stand.
    alternate : Alternate
    base, added : mapping of str to str
        Keys of amounts by item.
    total : str
        Key of the total of the base.
    """

    def summed(name: str, title: str, amounts: Mapping[str, str]) -> str:
        key = f"{here}.{name}_usd"
        parts = {argument_name(item): amount for item, amount in amounts.items()}
        trace.compute(key, sum_to_the_cent, unit="USD", title=title, **parts)
        return key

    out = {item: base[item] for item in alternate.left_out}
    steps: tuple[tuple[str, Callable[..., Decimal], str, dict[str, str]], ...] = (
        (
            "change",
            alternate_change,
            f"Alternate {alternate.name}: change of the base",
            {
                "added": summed("added", f"Alternate {alternate.name}: items added", added),
                "left_out": summed("left_out", f"Alternate {alternate.name}: items left out", out),
            },
        ),
        (
            "total",
            total_with_alternate,
            f"Base with alternate {alternate.name}",
            {"base": total, "change": f"{here}.change_usd"},
        ),
    )
    for name, function, title, inputs in steps:
        trace.compute(f"{here}.{name}_usd", function, unit="USD", title=title, **inputs)
