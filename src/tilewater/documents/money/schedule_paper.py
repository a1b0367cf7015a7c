# SPDX-License-Identifier: Apache-2.0
"""The schedule that goes out to bidders: items with blank prices, alternates, dates, payment."""

from collections.abc import Iterator

from tilewater.chain.bid import BidWork
from tilewater.chain.bid_items import ScheduleItem
from tilewater.documents.money.measured import measured_of
from tilewater.documents.pages.bid_words import quantity
from tilewater.documents.paper.blocks import (
    Banner,
    Block,
    Cell,
    Column,
    Form,
    Heading,
    Items,
    Paragraph,
    Run,
    Seal,
    Table,
)
from tilewater.documents.paper.blocks import Words as Said
from tilewater.documents.words import Words

RULES = (
    "Write a unit price for every item. Amount is quantity times unit price; where the two differ, "
    "the unit price governs.",
    "Quantities are those of the drawings. Payment is for the quantity in place, measured as the "
    "section on measure and payment says.",
    "Write 0.00 where an item is in the price of another. Add no item and leave none out; ask the "
    "engineer before the bids are due.",
    "Alternates are priced beside the base. The owner may take any, all or none.",
    "The owner may reject any bid and all bids.",
)
SAFETY = (
    "No digging before the locate ticket is answered. Trenches, confined spaces, open water and "
    "gas from the media fall under local codes and the competent person on site."
)
SIGNED = ("Bidder", "Signature", "Date", "Addenda received")


def schedule_blocks(work: BidWork, words: Words) -> Iterator[Block]:
    """Pages of the schedule.

    Parameters
    ----------
    work : BidWork
    words : Words

    Returns
    -------
    iterator of Block
    """
    yield Banner("Bid schedule", (work.title, *_about(work)), "", SAFETY)
    if dates := tuple(_dates(work)):
        yield Table((Column(""), Column("", wide=True)), dates, small=True)
    yield Heading("Base", 1)
    yield _blank_form(work, work.items, "Total of the base")
    for alternate in work.alternates:
        yield Heading(f"Alternate {alternate.name}", 2)
        yield Paragraph(_alternate_words(work, alternate.name))
        if work.added[alternate.name]:
            yield _blank_form(work, work.added[alternate.name], "Items added")
    yield Heading("How to bid", 1)
    yield Items(RULES)
    yield Seal(
        "I have read the drawings and the specification, and bid the prices above.",
        "Room for the bidder's stamp",
        SIGNED,
    )

    yield Heading("Measure and payment", 1, new_page=True)
    yield Paragraph(
        "Common practice, no source; the engineer who issues it answers for it.", "note"
    )
    yield payment_table(work, words)


def _about(work: BidWork) -> Iterator[str]:
    people = [
        f"{label}: {value}"
        for label, key in (("owner", "people.owner"), ("engineer", "job.prepared_by"))
        if (value := work.text(f"inputs.{key}"))
    ]
    places = (work.text(f"inputs.job.{key}") for key in ("outlet", "county", "state"))
    for line in (", ".join(place for place in places if place), "; ".join(people)):
        if line:
            yield line[0].upper() + line[1:]


def _dates(work: BidWork) -> Iterator[tuple[Cell, ...]]:
    for label, key in (
        ("Bids are due", "due"),
        ("Opened at", "place"),
        ("A bid is good for", "good_for"),
        ("Work on site from", "work_from"),
        ("Work done by", "work_to"),
    ):
        if text := work.text(f"inputs.bid.{key}"):
            yield label, f"{float(text):g} days" if key == "good_for" else text


def _blank_form(work: BidWork, items: tuple[ScheduleItem, ...], total: str) -> Form:
    """Items with room for prices and amounts, and for their total."""
    rows: list[tuple[Said, ...]] = [
        (f"{place}", item.title, f"{quantity(work.trace, item)} {item.unit}", "", "")
        for place, item in enumerate(items, start=1)
    ]
    rows.append(("", Run(total, "bold"), "", "", ""))
    return Form(
        (
            Column("no.", share=0.35),
            Column("item", share=4.0),
            Column("quantity", share=1.1),
            Column("unit price, USD", share=1.4),
            Column("amount, USD", share=1.5),
        ),
        tuple(rows),
        row_mm=7.0,
    )


def _alternate_words(work: BidWork, name: str) -> str:
    alternate = next(each for each in work.alternates if each.name == name)
    titles = {item.item: item.title for item in work.items}
    out = ", ".join(titles[item].lower() for item in alternate.left_out)
    words = f"{alternate.title}."
    if out:
        words += f" Left out of the base, at its unit price: {out}."
    return words


def payment_table(work: BidWork, words: Words) -> Table:
    """How each item is measured, with its dimensions, and how it is paid.

    Parameters
    ----------
    work : BidWork
    words : Words

    Returns
    -------
    Table
    """
    added = tuple(item for each in work.added.values() for item in each)
    rows: list[tuple[Cell, ...]] = []
    for item in (*work.items, *added):
        told = measured_of(work.trace, item, words)
        rows.append((item.title, told.measured, told.paid))
    return Table(
        (
            Column("item", wide=True, share=0.8),
            Column("how it is measured", wide=True),
            Column("how it is paid", wide=True),
        ),
        tuple(rows),
        small=True,
    )
