# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the bid: its dates, own items, alternates and the bids that came."""

from typing import Annotated

from tilewater.job.fields import Quantity
from tilewater.job.schema_decisions import share
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Day, FileName, Text, Texts


class BidTable(Table):
    """The call for bids: dates, and how far a bid is looked into."""

    due: Annotated[
        Word | None, Day("Day on which bids are due", example="2027-02-18", need="leave")
    ]
    place: Annotated[
        Word | None,
        Text("Where and when they are opened", example="county office, 10:00", need="leave"),
    ]
    opened: Annotated[
        Word | None, Day("Day on which bids were opened", example="2027-02-18", need="leave")
    ]
    good_for: Annotated[
        Number | None,
        Quantity("Days that a bid is good for", kind="days", example="45", low="1", need="leave"),
    ]
    work_from: Annotated[
        Word | None, Day("First day of work on site", example="2027-09-20", need="leave")
    ]
    work_to: Annotated[
        Word | None, Day("Day by which the work is done", example="2027-10-08", need="leave")
    ]
    take: Annotated[
        tuple[str, ...] | None,
        Texts(
            "Alternates that the owner takes",
            example="geotextile",
            need="leave",
            help="Say it before the bids are opened; none, when none is named.",
        ),
    ]
    unbalanced_above: Annotated[
        Number | None,
        Quantity(
            "Unit price over the estimate's at which it is pointed out",
            kind="number",
            example="2",
            low="1",
            need="leave",
            bare=True,
            help="2, when it is not said: common practice, no source.",
        ),
    ]
    least_share: Annotated[
        Number | None,
        share(
            "Share of a bid below which an item is not looked into",
            "1 %",
            need="leave",
            help="1 %, when it is not said: common practice, no source.",
        ),
    ]
    quantity_change: Annotated[
        Number | None,
        share(
            "Change of one quantity that the order of bids is tried with",
            "10 %",
            need="leave",
            help="10 %, when it is not said: common practice, no source.",
        ),
    ]


class BidItem(Table):
    """An item of the bid that the design does not count."""

    title: Annotated[Word | None, Text("What it is", example="stone on the access", need="leave")]
    quantity: Annotated[
        Number | None,
        Quantity("Its quantity", kind="number", example="40", low="0", need="leave", bare=True),
    ]
    unit: Annotated[Word | None, Text("Its bid unit", example="TON", need="leave")]
    measured: Annotated[
        Word | None,
        Text("How it is measured and paid", example="by the ticket of the scale", need="leave"),
    ]


class AlternateTable(Table):
    """An alternate that is priced beside the base: items added, left out or replaced."""

    title: Annotated[
        Word | None, Text("What it is", example="geotextile in place of plastic", need="leave")
    ]
    add: Annotated[
        tuple[str, ...] | None,
        Texts(
            "Items added, each with quantity and bid unit, or as another item",
            example="chip-screening: as woodchips",
            need="leave",
            help='"gravel: 12 CY" states a quantity; "chip-screening: as woodchips" takes that of '
            "an item of the base.",
        ),
    ]
    leave_out: Annotated[
        tuple[str, ...] | None, Texts("Items left out", example="cover-fabric", need="leave")
    ]
    replace: Annotated[
        tuple[str, ...] | None,
        Texts(
            "Items replaced, the quantity being the same",
            example="lining-plastic: lining-geotextile",
            need="leave",
        ),
    ]


class Bidder(Table):
    """A bid that came in."""

    name: Annotated[
        Word | None, Text("Name of the bidder", example="Alder Dirtworks", need="leave")
    ]
    file: Annotated[
        Word | None,
        FileName("File of the bid", example="bids/alder.csv", need="leave", help="CSV or XLSX."),
    ]
    received: Annotated[
        Word | None, Day("Day on which it was received", example="2027-02-17", need="leave")
    ]
    set_aside: Annotated[
        Word | None,
        Text(
            "Why the owner sets it aside",
            example="no signature",
            need="leave",
            help="The owner's judgement, typed; the program judges nobody.",
        ),
    ]
