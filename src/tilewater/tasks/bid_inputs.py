# SPDX-License-Identifier: Apache-2.0
"""What a bid is made with, read from the job folder: price book, alternates, sources, bids."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.units import did_you_mean, join_or
from tilewater.chain.bid_funding import GIVEN
from tilewater.chain.bid_items import BookPrice, ScheduleItem
from tilewater.economics.alternates import Added, Alternate
from tilewater.economics.bids import Bid
from tilewater.economics.estimate import exact
from tilewater.job.bids import Asked, Schedule, lines_of_bid, read_bid
from tilewater.job.prices import read_prices
from tilewater.job.reading import Job
from tilewater.job.schema import JOB_FILE
from tilewater.tasks.outside_inputs import OutsideFiles

_BID_FILE = re.compile(r"inputs\.bidder\.[^.]+\.file")
_AS_ANOTHER = re.compile(r"as\s+(?P<item>[\w-]+)", re.IGNORECASE)
_AMOUNT = re.compile(r"(?P<number>\d{1,9}(?:\.\d{1,6})?)\s*(?P<unit>[A-Za-z]+\d?)")
NEEDED = {
    "per unit": ("rate_usd", "item"),
    "percent": ("percent",),
    "flat": ("rate_usd",),
}
"""What a source must state, by how it pays."""


def price_book(folder: Path, trace: Trace) -> dict[str, BookPrice]:
    """Prices of the office by item; none where the job names no file."""
    if not trace.known("inputs.estimate.prices"):
        return {}
    file = read_prices(folder / str(trace.value("inputs.estimate.prices")))
    return {
        item: BookPrice(
            price.unit,
            exact(price.price_usd),
            price.date.isoformat(),
            price.source,
            price.origin,
        )
        for item, price in file.prices.items()
    }


def alternates_of(trace: Trace, items: tuple[ScheduleItem, ...]) -> tuple[Alternate, ...]:
    """Alternates of the job, each of its items known.

    Raises
    ------
    BadInputFile
        With every fault of the tables of alternates.
    """
    faults: list[Fault] = []
    names = tuple(item.item for item in items)
    found = tuple(
        _alternate(trace, name, names, faults) for name in trace.names("inputs.alternate")
    )
    for name in taken_of(trace):
        if name not in {each.name for each in found}:
            message = f"there is no alternate '{name}'. Add [alternate.{name}], or take it out."
            faults.append(Fault(JOB_FILE, None, "bid.take", message))
    out = [item for each in found if each.name in taken_of(trace) for item in each.left_out]
    for item in {item for item in out if out.count(item) > 1}:
        message = f"two alternates that are taken leave out {item}. Take one of them."
        faults.append(Fault(JOB_FILE, None, "bid.take", message))
    if faults:
        raise BadInputFile(*faults)
    return found


def taken_of(trace: Trace) -> tuple[str, ...]:
    """Alternates that the owner takes."""
    taken = trace.value("inputs.bid.take") if trace.known("inputs.bid.take") else ()
    return tuple(taken)


def _alternate(trace: Trace, name: str, names: tuple[str, ...], faults: list[Fault]) -> Alternate:
    given = f"inputs.alternate.{name}"

    def texts(key: str) -> tuple[str, ...]:
        here = f"{given}.{key}"
        return tuple(trace.value(here)) if trace.known(here) else ()

    def known(key: str, item: str) -> str:
        if item not in names:
            message = (
                f"'{item}' is no item of this bid. Use one of {', '.join(names)}."
                f"{did_you_mean(item, names)}"
            )
            faults.append(Fault(JOB_FILE, None, f"alternate.{name}.{key}", message))
        return item

    left_out = [known("leave_out", item) for item in texts("leave_out")]
    added = [_added(text, name, known, faults) for text in texts("add")]
    for text in texts("replace"):
        old, _, new = (part.strip() for part in text.partition(":"))
        if not new:
            message = f"'{text}' names one item. Write the old and the new one, like lining: other."
            faults.append(Fault(JOB_FILE, None, f"alternate.{name}.replace", message))
            continue
        left_out.append(known("replace", old))
        added.append(Added(new, like=old))
    title = trace.value(f"{given}.title") if trace.known(f"{given}.title") else name
    return Alternate(name, str(title), tuple(dict.fromkeys(left_out)), tuple(added))


def _added(text: str, name: str, known: object, faults: list[Fault]) -> Added:
    item, _, rest = (part.strip() for part in text.partition(":"))
    if (like := _AS_ANOTHER.fullmatch(rest)) is not None and callable(known):
        return Added(item, like=known("add", like["item"]))
    if (amount := _AMOUNT.fullmatch(rest)) is not None:
        return Added(item, Decimal(amount["number"]), amount["unit"].upper())
    message = (
        f"'{text}' does not say how much. Write an item with its quantity and bid unit, like "
        "gravel: 12 CY, or as another item, like chip-screening: as woodchips."
    )
    faults.append(Fault(JOB_FILE, None, f"alternate.{name}.add", message))
    return Added(item, Decimal(0))


def require_sources(trace: Trace, contract: Mapping[str, str]) -> None:
    """Hold every source of money to be whole.

    Parameters
    ----------
    trace : Trace
        With the inputs of the job.
    contract : mapping of str to str
        Bid unit of each item of the contract.

    Raises
    ------
    BadInputFile
        With everything that a source lacks or names wrong.
    """
    faults = [fault for name in trace.names(GIVEN) for fault in _wrong(trace, name, contract)]
    if faults:
        raise BadInputFile(*faults)


def _wrong(trace: Trace, name: str, contract: Mapping[str, str]) -> Iterator[Fault]:
    given = f"{GIVEN}.{name}"

    def fault(key: str, message: str) -> Fault:
        return Fault(JOB_FILE, None, f"funding.{name}.{key}", message)

    if not trace.known(f"{given}.pays"):
        yield fault("pays", f"it does not say how it pays. Write {join_or(NEEDED)}.")
        return
    pays = str(trace.value(f"{given}.pays"))
    for key in NEEDED[pays]:
        if f"{given}.{key}" not in trace:
            word = key.removesuffix("_usd")
            yield fault(word, f"it pays {pays} and gives no {word}. Write it.")
    for key in ("eligible", "not_eligible"):
        for item in trace.value(f"{given}.{key}") if trace.known(f"{given}.{key}") else ():
            if item not in contract:
                near = did_you_mean(item, tuple(contract))
                yield fault(key, f"'{item}' is no item of this bid.{near} Correct it.")
    if pays != "per unit" or not trace.known(f"{given}.item"):
        return
    item = str(trace.value(f"{given}.item"))
    if item not in contract:
        near = did_you_mean(item, tuple(contract))
        yield fault("item", f"'{item}' is no item of this bid.{near} Correct it.")
    elif trace.known(f"{given}.unit"):
        unit = str(trace.value(f"{given}.unit")).upper()
        if unit != contract[item]:
            yield fault(
                "unit",
                f"it pays per {unit}, and {item} is bid per {contract[item]}. State the rate per "
                f"{contract[item]}, or price the item per {unit}.",
            )


def schedule_of(
    trace: Trace,
    items: tuple[ScheduleItem, ...],
    added: Mapping[str, tuple[ScheduleItem, ...]],
) -> Schedule:
    """What bidders are asked for."""

    def asked(each: tuple[ScheduleItem, ...]) -> dict[str, Asked]:
        return {
            item.item: Asked(
                item.title,
                item.unit,
                exact(trace.value(item.quantity)) if trace.known(item.quantity) else None,
            )
            for item in each
        }

    return Schedule(asked(items), {name: asked(each) for name, each in added.items()})


def bids_of(
    folder: Path, trace: Trace, schedule: Schedule
) -> tuple[tuple[Bid, ...], tuple[Finding, ...]]:
    """Every bid that the job names, and where it departs from the schedule.

    Raises
    ------
    BadInputFile
        With every fault of every file.
    """
    bids: list[Bid] = []
    notes: list[Finding] = []
    faults: list[Fault] = []
    for name in trace.names("inputs.bidder"):
        given = f"inputs.bidder.{name}"

        def text(key: str, given: str = given) -> str:
            known = trace.known(f"{given}.{key}")
            return str(trace.value(f"{given}.{key}")) if known else ""

        title = text("name") or name.replace("-", " ")
        if not text("file"):
            message = "it names no file. Write file, or take the table out until the bid came."
            faults.append(Fault(JOB_FILE, None, f"bidder.{name}.file", message))
            continue
        try:
            bid, told = read_bid(
                folder / text("file"),
                schedule,
                name=name,
                title=title,
                set_aside=text("set_aside"),
            )
        except BadInputFile as error:
            faults += error.faults
            continue
        bids.append(bid)
        notes += told
    if faults:
        raise BadInputFile(*faults)
    return tuple(bids), tuple(notes)


def bid_files_of(job: Job) -> OutsideFiles:
    """Whether every file of a bid can be read, before there is a schedule to hold it against."""
    found = OutsideFiles()
    for given in job.givens:
        if _BID_FILE.fullmatch(given.key) is None or not isinstance(given.value, str):
            continue
        try:
            lines = lines_of_bid(job.folder / given.value)
        except BadInputFile as error:
            found.faults.extend(error.faults)
        else:
            found.read.append(f"{given.value}: a bid of {lines} lines")
    return found
