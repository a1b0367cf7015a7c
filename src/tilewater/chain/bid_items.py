# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the items of a bid, each with its quantity, price and amount to the cent.

They follow a design and change nothing of it. Pipes of one size and kind are one item; every
quantity leads to the quantities of the design that it is summed of, and so to their geometry. An
item that the price book lacks stays in the list without a price.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fnmatch import fnmatchcase

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Origin, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain.money import NOT_BID, OF_LINE, price_item
from tilewater.economics.estimate import (
    bid_quantity,
    cost_of_built_beds,
    exact,
    extension_to_the_cent,
    share_to_the_cent,
    sum_of,
    sum_to_the_cent,
)
from tilewater.economics.price_items import allowed_units, unit_size

ITEMS = "bid.items"
MEDIA = "bed.media_volume_m3"
MERGED = ("pipe-", "anchor-")
"""Quantities that are bid together where they have one price, by how their names begin."""
SI_UNITS = ("M3", "M2", "M", "HA", "KG")
IN_ORDER = (
    "mobilization",
    "potholing",
    "erosion-control",
    "temporary-tile-flow",
    "dewatering",
    "topsoil",
    "excavation",
    "trench",
    "lining*",
    "woodchips",
    "cover-fabric",
    "inlet-structure",
    "outlet-structure",
    "feed-gate",
    "anchor*",
    "lid-lock",
    "solid-pipe-*",
    "perforated-pipe-*",
    "*-pipe-*",
    "*line",
    "envelope",
    "gravel",
    "anti-seep-collar",
    "rigid-outlet",
    "outlet-rock",
    "backfill",
    "spoil",
    "corner-post",
    "line-marker",
    "seeding",
)
"""Items in the order of the work."""
NEVER_FORGOTTEN = {
    "solid pipe": ("solid-pipe-*",),
    "anti-seep collars": ("anti-seep-collar",),
    "keeping the tile flowing": ("temporary-tile-flow",),
    "dewatering": ("dewatering",),
    "topsoil": ("topsoil",),
    "erosion control": ("erosion-control",),
    "anchor of a structure": ("anchor*",),
    "rigid outlet with guard": ("rigid-outlet",),
    "posts or markers": ("corner-post", "line-marker"),
    "lid lock": ("lid-lock",),
    "seeding": ("seeding",),
}
"""What every practice needs, and the items that count it."""


@dataclass(frozen=True)
class BookPrice:
    """A price of the office's book as it was typed.

    Attributes
    ----------
    unit : str
        Bid unit.
    price : Decimal
        Price of one such unit.
    date, source : str
    origin : Origin
    """

    unit: str
    price: Decimal
    date: str
    source: str
    origin: Origin


@dataclass(frozen=True)
class ScheduleItem:
    """One item of the bid schedule.

    Attributes
    ----------
    item, title, unit : str
        Name, words and bid unit.
    counted : tuple of str
        Quantities of the design that it is the sum of; none for an item of the engineer's own.
    price_item : str
        What the price book calls it.
    measured : str
        The engineer's own words on how it is measured and paid.
    here : str
        Where its steps stand in the trace.
    """

    item: str
    title: str
    unit: str
    counted: tuple[str, ...] = ()
    price_item: str = ""
    measured: str = ""
    here: str = ""

    @property
    def quantity(self) -> str:
        """Key of its quantity in the bid unit."""
        return f"{self.here}.quantity"

    @property
    def price(self) -> str:
        """Key of its unit price in the estimate."""
        return f"{self.here}.price_usd"

    @property
    def amount(self) -> str:
        """Key of its amount in the estimate."""
        return f"{self.here}.amount_usd"


def add_schedule(
    trace: Trace, book: Mapping[str, BookPrice], system: str = "us"
) -> tuple[ScheduleItem, ...]:
    """Record every item of the bid with its price and amount, and the sums.

    Parameters
    ----------
    trace : Trace
        Of a finished design.
    book : mapping of str to BookPrice
        Prices of the office by item.
    system : "us" or "si"
        Units of an item that the book does not price.

    Returns
    -------
    tuple of ScheduleItem
        In the order of the work.
    """
    items = sorted((*_counted(trace, book, system), *_own(trace, book)), key=_place)
    for item in items:
        _add_quantity(trace, item)
        add_price(trace, item, book)
    _add_sums(trace, items)
    if trace.known(MEDIA):
        trace.compute(
            "bid.built_beds_usd",
            cost_of_built_beds,
            unit="USD",
            title="Built beds of one state with as much media, in dollars of their years",
            media_volume=MEDIA,
        )
    _tell(trace, items)
    return tuple(items)


def _place(item: ScheduleItem) -> int:
    places = (n for n, like in enumerate(IN_ORDER) if fnmatchcase(item.item, like))
    return next(places, len(IN_ORDER))


def _counted(trace: Trace, book: Mapping[str, BookPrice], system: str) -> Iterator[ScheduleItem]:
    """Items that the design counts, those of one size and kind together."""
    groups: dict[str, list[str]] = {}
    for name in trace.names("quantities"):
        if f"quantities.{name}.quantity" in trace and name not in NOT_BID:
            groups.setdefault(_bid_as(trace, name), []).append(name)
    for item, names in groups.items():
        priced = price_item(trace, names[0]) or item
        yield ScheduleItem(
            item,
            _title(trace, item, names),
            book[priced].unit if priced in book else usual_unit(priced, system),
            tuple(names),
            priced,
            here=f"{ITEMS}.{item}",
        )


def _bid_as(trace: Trace, name: str) -> str:
    """Item that a quantity is bid under."""
    if name.startswith(MERGED) or name in OF_LINE or name == "lining":
        return (price_item(trace, name) or name).replace(".", "-")
    return name


def _title(trace: Trace, item: str, names: list[str]) -> str:
    if not names[0].startswith(MERGED):
        return trace.steps[f"quantities.{names[0]}.quantity"].title
    parts = (name.partition("-")[2].replace("-", " ") for name in names)
    words = item.replace("-", " ")
    return f"{words[0].upper()}{words[1:]}: {', '.join(parts)}"


def usual_unit(item: str, system: str) -> str:
    """Bid unit of an item where the price book says none."""
    allowed = allowed_units(item) or ("EA",)
    if system == "si":
        return next((unit for unit in allowed if unit in SI_UNITS), allowed[0])
    return allowed[0]


def _own(trace: Trace, book: Mapping[str, BookPrice]) -> Iterator[ScheduleItem]:
    """Items of the engineer's own."""
    for name in trace.names("inputs.bid_item"):
        given = f"inputs.bid_item.{name}"

        def text(key: str, given: str = given) -> str:
            known = trace.known(f"{given}.{key}")
            return str(trace.value(f"{given}.{key}")) if known else ""

        unit = text("unit").upper() or (book[name].unit if name in book else "EA")
        title = text("title") or name.replace("-", " ")
        yield ScheduleItem(name, title, unit, (), name, text("measured"), here=f"{ITEMS}.{name}")


def _add_quantity(trace: Trace, item: ScheduleItem) -> None:
    """The quantity of an item in its bid unit, with the digits that are printed."""
    source = f"inputs.bid_item.{item.item}.quantity"
    if item.counted:
        source = f"quantities.{item.counted[0]}.quantity"
    elif source not in trace:
        trace.give(Given(source, Unknown("not given", "state the quantity"), "", "Its quantity"))
    if len(item.counted) > 1:
        parts = {argument_name(name): f"quantities.{name}.quantity" for name in item.counted}
        unit = trace.steps[source].unit
        source = f"{item.here}.measured"
        trace.compute(source, sum_of, unit=unit, title=f"{item.title}, measured", **parts)
    trace.compute(
        item.quantity,
        bid_quantity,
        unit=item.unit,
        title=f"{item.title}, as bid",
        quantity=source,
        unit_size=_size_of(trace, item.unit if item.counted else "EA"),
    )


def _size_of(trace: Trace, unit: str) -> str:
    """Key of the size of a bid unit."""
    return trace.constant(
        f"bid.units.{unit.casefold()}", unit_size(unit), f"One {unit}, in SI", source="derived"
    )


def add_price(trace: Trace, item: ScheduleItem, book: Mapping[str, BookPrice]) -> None:
    """The price of an item in the book, and its amount."""
    title = f"Unit price, {item.unit}: {item.title}"
    priced = book.get(item.price_item)
    value: Decimal | Unknown
    if priced is None:
        why = f"no price for {item.price_item} in the price book"
        value, origin = Unknown(why, "add the item to the price book"), Origin()
    elif priced.unit != item.unit:
        why = f"{item.price_item} is priced per {priced.unit} and bid per {item.unit}"
        value, origin = Unknown(why, f"price it per {item.unit}"), priced.origin
    else:
        value, origin = exact(priced.price), priced.origin
    trace.give(Given(item.price, value, "USD", title, origin))
    trace.compute(
        item.amount,
        extension_to_the_cent,
        unit="USD",
        title=f"Estimate: {item.title}",
        quantity=item.quantity,
        unit_price=item.price,
    )


def _add_sums(trace: Trace, items: list[ScheduleItem]) -> None:
    compute = trace.compute
    amounts = {argument_name(item.item): item.amount for item in items}
    known = {name: key for name, key in amounts.items() if trace.known(key)}
    compute("bid.priced_usd", sum_to_the_cent, unit="USD", title="Items that have a price", **known)
    compute(
        "bid.subtotal_usd",
        sum_to_the_cent,
        unit="USD",
        title="Engineer's estimate before contingency",
        **amounts,
    )
    compute(
        "bid.contingency_usd",
        share_to_the_cent,
        unit="USD",
        title="Contingency, set aside and no cost until it is spent",
        amount="bid.subtotal_usd",
        share="inputs.estimate.contingency",
    )
    compute(
        "bid.total_usd",
        sum_to_the_cent,
        unit="USD",
        title="Engineer's estimate with contingency",
        subtotal="bid.subtotal_usd",
        contingency="bid.contingency_usd",
    )


def without_price(trace: Trace, items: tuple[ScheduleItem, ...]) -> tuple[ScheduleItem, ...]:
    """Items whose amount is not known."""
    return tuple(item for item in items if not trace.known(item.amount))


def _price_book(trace: Trace) -> str:
    """The price book with its file."""
    key = "inputs.estimate.prices"
    if key in trace and trace.known(key):
        return f"the price book, {trace.value(key)}"
    return "a price book; name its file as prices in [estimate]"


def _tell(trace: Trace, items: list[ScheduleItem]) -> None:
    """What is without a price, and what nothing counts."""
    open_items = without_price(trace, tuple(items))
    if open_items:
        named = ", ".join(item.item for item in open_items)
        message = (
            f"No price or quantity for {named}. They stay in the list; the estimate is not known "
            f"until each has its price in {_price_book(trace)}."
        )
        trace.findings.append(Finding("bid-no-price", "caution", "Estimate", message))
    names = [item.item for item in items]
    wanting = [
        words
        for words, likes in NEVER_FORGOTTEN.items()
        if not any(fnmatchcase(name, like) for name in names for like in likes)
    ]
    if wanting:
        message = (
            f"No item of this bid counts: {', '.join(wanting)}. Say in which item each is paid, "
            "or add it under [bid_item.NAME] in job.toml."
        )
        trace.findings.append(
            Finding("bid-item-not-counted", "note", "Bid items", message, source="practice")
        )
