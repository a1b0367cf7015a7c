# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the last years of a practice: what is seen of it, what is agreed."""

from typing import Annotated

from tilewater.job.fields import Quantities, Quantity, kind_of_thing
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day

share = kind_of_thing("ratio", low="0 %", high="100 %")
money = kind_of_thing("money", low="0 USD", high="5000000 USD", need="leave")


class Renew(Table):
    """Renewal of the chips: when they were placed, what a contract says, what signs count."""

    filled: Annotated[
        Word | None, Day("Day the chips were placed", example="2027-10-01", need="leave")
    ]
    contract_end: Annotated[
        Word | None,
        Day("Last day of the contract with those who paid", example="2037-12-31", need="leave"),
    ]
    repays_aid: Annotated[
        Word | None,
        Choice(
            "Whether aid is paid back if the practice is given up before that day",
            choices=("yes", "no"),
            example="yes",
            need="leave",
            how="read the contract, or ask those who paid",
        ),
    ]
    removed_per_year: Annotated[
        Number | None,
        Quantity(
            "Nitrogen removed in a year, as measured",
            kind="mass",
            example="130 lb",
            low="0.1 lb",
            high="100000 lb",
            need="leave",
            help="Left out, the range of the design holds.",
        ),
    ]
    settlement: Annotated[
        Number | None,
        Quantity(
            "How far the cover has settled",
            kind="length",
            example="0.2 ft",
            low="0 ft",
            high="10 ft",
            need="leave",
            how="shoot the crown and hold it against the as-built",
        ),
    ]
    bed_percent_first: Annotated[
        Number | None,
        share("Removal in the bed in its second year", "38 %", need="leave"),
    ]
    bed_percent_now: Annotated[
        Number | None,
        share(
            "The same now, at like time in the bed and temperature",
            "29 %",
            need="leave",
        ),
    ]
    treated_shares: Annotated[
        tuple[float, ...] | Word | None,
        Quantities(
            "Treated share of the water of the last normal years, one after the other",
            kind="ratio",
            example="52 %, 47 %",
            low="0 %",
            high="100 %",
            need="leave",
        ),
    ]
    tracer_effective: Annotated[
        Number | None,
        Quantity(
            "Effective volume ratio of the last tracer test",
            kind="number",
            example="0.7",
            low="0.01",
            high="1.5",
            need="leave",
            bare=True,
            help="Left out, the last test under [tracer.NAME] is taken.",
        ),
    ]
    observation_error: Annotated[
        Number,
        Quantity(
            "Error of a conductivity read off head and flow, as a share",
            kind="ratio",
            example="25 %",
            low="1 %",
            high="200 %",
            default="25 %",
            source="practice",
            help="One standard deviation: flow over boards 10 to 15 percent, heads of a few "
            "hundredths of a foot the rest.",
        ),
    ]
    third_cost_share: Annotated[
        Number,
        share(
            "Cost of new chips in the inlet third, as a share of a full renewal",
            "45 %",
            default="45 %",
            source="practice",
        ),
    ]
    convert_cost: Annotated[
        Number | None, money("Cost of turning it into a raised outlet", "2500 USD")
    ]
    convert_removed_per_year: Annotated[
        Number | None,
        Quantity(
            "Nitrogen kept back in a year by a raised outlet here",
            kind="mass",
            example="60 lb",
            low="0 lb",
            high="100000 lb",
            need="leave",
        ),
    ]
    abandon_cost: Annotated[
        Number | None, money("Cost of giving it up and restoring the through-pipe", "6000 USD")
    ]


class Signs(Table):
    """Signs that chips are due; the limits are common practice, and the office's to change."""

    needed: Annotated[
        Number,
        Quantity(
            "Signs that must stand before renewal is advised",
            kind="number",
            example="2",
            low="1",
            high="5",
            default="2",
            source="practice",
            bare=True,
        ),
    ]
    index_below: Annotated[
        Number,
        share(
            "Flow over head loss, below this share of the first year's",
            "50 %",
            default="50 %",
            source="practice",
        ),
    ]
    treated_below: Annotated[
        Number,
        share("Treated share of a normal year below", "60 %", default="60 %", source="practice"),
    ]
    treated_years: Annotated[
        Number,
        Quantity(
            "Normal years in a row that it must lie below",
            kind="number",
            example="2",
            low="1",
            high="10",
            default="2",
            source="practice",
            bare=True,
        ),
    ]
    bed_percent_below: Annotated[
        Number,
        share(
            "Removal in the bed, below this share of its second year's",
            "50 %",
            default="50 %",
            source="practice",
        ),
    ]
    settlement_above: Annotated[
        Number,
        Quantity(
            "Settlement above",
            kind="length",
            example="0.5 ft",
            low="0.01 ft",
            high="10 ft",
            default="0.5 ft",
            source="practice",
        ),
    ]
    tracer_below: Annotated[
        Number,
        Quantity(
            "Effective volume ratio of a tracer test below",
            kind="number",
            example="0.5",
            low="0.01",
            high="1.5",
            default="0.5",
            source="practice",
            bare=True,
        ),
    ]


class Observed(Table):
    """A reading of the bed at work, with the boards of its season: the head that passes a flow."""

    date: Annotated[Word, Day("Day of the reading", example="2029-04-18")]
    head_loss: Annotated[
        Number,
        Quantity(
            "Water in the inlet structure above that in the outlet structure",
            kind="length",
            example="0.85 ft",
            low="0.005 ft",
            high="30 ft",
            how="read both staffs within the hour, with a steady flow",
        ),
    ]
    flow: Annotated[
        Number,
        Quantity(
            "Flow through the bed",
            kind="flow",
            example="0.12 cfs",
            low="0.0001 cfs",
            high="50 cfs",
            how="head over the outlet boards, or a bucket",
        ),
    ]
    water_temperature: Annotated[
        Number,
        Quantity(
            "Temperature of the water",
            kind="temperature",
            example="9 degC",
            low="-1 degC",
            high="35 degC",
            default="10 degC",
            source="practice",
            how="a thermometer in the outlet structure",
        ),
    ]
