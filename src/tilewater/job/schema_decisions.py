# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about judgement and money: criteria, confirmations, overruled values."""

from typing import Annotated

from tilewater.job.fields import Quantity, kind_of_thing
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Choices, Day, FileName, Text, Typed, Year

factor = kind_of_thing("number", low="0.5", high="3")
share = kind_of_thing("ratio", low="0 %", high="100 %")
By = Text("By whom", example="R. Lindqvist")
On = Day("Date", example="2026-03-02")
Reason = Text("Reason", example="soil pit of 2026-02-20")


class Practice(Table):
    """What is to be built."""

    kind: Annotated[
        Word | tuple[str, ...],
        Choices(
            "Kind of practice",
            choices=("bed", "buffer", "raised", "choose"),
            listed=("bed", "buffer"),
            default="bed",
            source="practice",
            help="A woodchip bed, a saturated buffer, the outlet raised in season, or whichever "
            "of those that the job describes does most; a list is a row in the order of the water.",
        ),
    ]


class Criteria(Table):
    """Which standard is checked, and by which of its options."""

    standard: Annotated[
        Word,
        Text("Number of the practice standard", example="605", default="605", source="practice"),
    ]
    edition: Annotated[
        Word, Text("Edition of the standard", example="2020", default="2020", source="practice")
    ]
    state: Annotated[
        Word,
        Text(
            "State whose edition is checked",
            example="Iowa",
            need="may",
            how="ask the state office which edition is in force",
        ),
    ]
    flow_option: Annotated[
        Word,
        Choice(
            "Flow that the practice must treat",
            choices=(
                "share of peak",
                "ten year 24 hour",
                "share of annual flow",
                "monitored share of peak",
            ),
            default="share of peak",
            source="practice",
            help="The other options are printed beside it.",
        ),
    ]
    peak_for_share: Annotated[
        Word,
        Choice(
            "Peak that the share is taken of",
            choices=("smaller of main and coefficient", "main full", "coefficient", "measured"),
            default="smaller of main and coefficient",
            source="practice",
        ),
    ]


class Confirm(Table):
    """A remembered limit that someone has looked up: the row then counts as read."""

    row: Annotated[Word, Text("Row of the criteria", example="retention")]
    by: Annotated[Word, By]
    date: Annotated[Word, On]
    edition: Annotated[Word, Text("Edition that was read", example="September 2020")]
    limit: Annotated[
        Number | None,
        Quantity("Limit as read", kind="number", bare=True, example="3", need="leave"),
    ]


class OverruleTable(Table):
    """A computed value that the engineer replaces."""

    key: Annotated[
        Word, Text("Key of the computed value", example="capacity.criterion.conductivity_20_m_s")
    ]
    value: Annotated[Word | float, Typed("Value in its place, with unit", example="3.5 cm/s")]
    by: Annotated[Word, By]
    date: Annotated[Word, On]
    reason: Annotated[Word, Reason]


class AssumeTable(Table):
    """A value put in the place of an unknown input; all that rests on it is marked."""

    key: Annotated[Word, Text("Key of the unknown input", example="drainage.conductivity")]
    value: Annotated[Word | float, Typed("Value assumed, with unit", example="9 um/s")]
    by: Annotated[Word, By]
    date: Annotated[Word, On]
    reason: Annotated[Word, Reason]


class Estimate(Table):
    """What the estimate of cost is made with."""

    prices: Annotated[
        Word,
        FileName("File of unit prices", example="prices.csv", how="the price list of your office"),
    ]
    price_year: Annotated[Number, Year("Year of the prices", example="2026")]
    contingency: Annotated[Number, share("Contingency", "10 %", default="10 %", source="practice")]
    order_allowance: Annotated[
        Number,
        share("Chips ordered above neat", "15 %", default="15 %", source="practice"),
    ]
    swell: Annotated[
        Number, factor("Loose volume per bank volume", "1.25", default="1.25", source="practice")
    ]
    shrink: Annotated[
        Number,
        factor(
            "Bank volume needed per compacted volume", "1.10", default="1.10", source="practice"
        ),
    ]
    lap: Annotated[
        Number,
        Quantity(
            "Lap of liner and fabric",
            kind="length",
            example="2 ft",
            low="0 ft",
            high="20 ft",
            default="2 ft",
            source="practice",
        ),
    ]
    fabric_allowance: Annotated[
        Number, share("Fabric ordered above neat", "10 %", default="10 %", source="practice")
    ]


class Money(Table):
    """What the yearly cost is made with."""

    rate: Annotated[
        Number,
        Quantity(
            "Real interest rate, per year", kind="ratio", example="4 %", low="0 %", high="30 %"
        ),
    ]
    years: Annotated[Number, Quantity("Period", kind="years", example="20", low="1", high="100")]
    media_years: Annotated[
        Number,
        Quantity("Years until the chips are replaced", kind="years", example="10", low="1"),
    ]
    recharge_share: Annotated[
        Number,
        Quantity(
            "Cost of new chips, share of first cost",
            kind="ratio",
            example="55 %",
            low="0 %",
            high="200 %",
            default="55 %",
            source="practice",
        ),
    ]
    upkeep_usd_per_year: Annotated[
        Number, Quantity("Upkeep, USD per year", kind="yearly_cost", example="150", low="0")
    ]
    most_usd_per_kg: Annotated[
        Number | None,
        Quantity(
            "Most that a kilogram of nitrate-N removed may cost, USD",
            kind="number",
            example="30",
            low="0",
            need="leave",
            bare=True,
            help="Beyond it the practice is left; without it, it is left only where it does not "
            "fit.",
        ),
    ]
