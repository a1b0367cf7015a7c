# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about who pays: sources of money, each with the document that rules it.

Programs and their rates change every year, so none is built in: the engineer types them with the
name and date of their document.
"""

from typing import Annotated

from tilewater.job.fields import Quantity, kind_of_thing
from tilewater.job.schema_decisions import share
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day, Text, Texts

PAYS = ("per unit", "percent", "flat")
PERCENT_OF = ("what others leave", "eligible cost")
CEILING_OF = ("eligible cost", "whole cost")
PAYS_TO = ("owner", "contractor")
money = kind_of_thing("money", low="0 USD", need="leave", bare=True)


class Funding(Table):
    """A source of money: what it pays, of what, at most how much, and from when."""

    source: Annotated[
        Word | None, Text("Who pays", example="county cost share, invented", need="leave")
    ]
    document: Annotated[
        Word | None,
        Text("Document that rules it", example="payment schedule 2027, invented", need="leave"),
    ]
    document_date: Annotated[
        Word | None, Day("Date of that document", example="2026-10-01", need="leave")
    ]
    order: Annotated[
        Number | None,
        Quantity("Its turn among the sources", kind="number", example="1", low="1", need="leave"),
    ]
    pays: Annotated[
        Word | None,
        Choice(
            "How it pays",
            choices=PAYS,
            need="leave",
            help="A rate for each unit of an item, a percent of cost, or a flat sum.",
        ),
    ]
    rate: Annotated[
        Number | None,
        money("Rate for a unit, or the flat sum", "34.00 USD"),
    ]
    item: Annotated[
        Word | None,
        Text("Item that is paid by the unit", example="woodchips", need="leave"),
    ]
    unit: Annotated[
        Word | None,
        Text("Unit of the rate, as the item is bid", example="CY", need="leave"),
    ]
    approved_quantity: Annotated[
        Number | None,
        Quantity(
            "Quantity approved, in that unit",
            kind="number",
            example="435",
            low="0",
            need="leave",
            bare=True,
            help="The lesser of it and the bid quantity is paid.",
        ),
    ]
    percent: Annotated[Number | None, share("Its percent", "75 %", need="leave")]
    percent_of: Annotated[
        Word | None,
        Choice(
            "What the percent is taken of",
            choices=PERCENT_OF,
            need="leave",
            help="What others leave, when it is not said.",
        ),
    ]
    cap: Annotated[Number | None, money("Most that it pays", "12000 USD")]
    combined_ceiling: Annotated[
        Number | None,
        share("Most that all public money together may be of the cost", "90 %", need="leave"),
    ]
    ceiling_of: Annotated[
        Word | None,
        Choice(
            "Cost that this ceiling is taken of",
            choices=CEILING_OF,
            need="leave",
            help="The cost that this source counts, when it is not said.",
        ),
    ]
    eligible: Annotated[
        tuple[str, ...] | None,
        Texts(
            "Items that are eligible",
            example="woodchips, excavation",
            need="leave",
            help="All, when none is named. A contingency never is: it is no cost.",
        ),
    ]
    not_eligible: Annotated[
        tuple[str, ...] | None,
        Texts("Items that are not eligible", example="seeding", need="leave"),
    ]
    approved_cost: Annotated[
        Number | None,
        money(
            "Cost that it approved",
            "42000 USD",
            help="The lesser of it and the actual eligible cost is counted.",
        ),
    ]
    pays_to: Annotated[
        Word | None,
        Choice(
            "To whom it pays",
            choices=PAYS_TO,
            need="leave",
            help="To the owner after the work, when it is not said.",
        ),
    ]
    pays_after: Annotated[
        Number | None,
        Quantity(
            "Days from the contractor's bill until it has paid",
            kind="days",
            example="60",
            low="0",
            need="leave",
        ),
    ]
    contract_signed: Annotated[
        Word | None,
        Day("Date on which its contract was signed", example="2027-02-01", need="leave"),
    ]
    no_construction_before: Annotated[
        Word | None,
        Day("No construction before", example="2027-02-01", need="leave"),
    ]
