# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about running the boards: the owner's dates, and the log of changes."""

from typing import Annotated

from tilewater.job.fields import Quantity
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, FileName, MonthDay, Text

FIELD_WORK = ("within the limit", "free drainage")
"""What the boards are held to in field work: the owner's wet days, or no water over a lateral."""


def _day(title: str, example: str, note: str = "") -> MonthDay:
    return MonthDay(title, example=example, need="leave", help=note)


class Operate(Table):
    """The owner's dates of a usual year, and how often boards may be moved."""

    planting: Annotated[Word | None, _day("First day of planting", "05-01")]
    planting_ends: Annotated[
        Word | None,
        _day("Last day of planting", "05-15", "Two weeks after the first when it is not given."),
    ]
    harvest: Annotated[Word | None, _day("First day of harvest", "09-25")]
    harvest_ends: Annotated[
        Word | None,
        _day("Last day of harvest", "10-31", "Four weeks after the first when it is not given."),
    ]
    manure: Annotated[Word | None, _day("First day on which manure is spread", "11-05")]
    manure_ends: Annotated[
        Word | None,
        _day("Last day of it", "11-12", "A week after the first when it is not given."),
    ]
    days_ahead: Annotated[
        Number | None,
        Quantity(
            "Days before field work on which the boards are moved for it",
            kind="days",
            example="14",
            low="0",
            high="60",
            need="leave",
            help="14 when it is not given: common practice, no source.",
        ),
    ]
    field_work: Annotated[
        Word | None,
        Choice(
            "What the boards are held to in field work",
            choices=FIELD_WORK,
            example="free drainage",
            need="leave",
            help="Within the limit of wet days when it is not given; free drainage lets no water "
            "stand over a lateral of a spot.",
        ),
    ]
    settings: Annotated[
        Number | None,
        Quantity(
            "Most board settings in a year",
            kind="number",
            example="3",
            low="1",
            high="5",
            need="leave",
            bare=True,
            help="3 when it is not given.",
        ),
    ]
    used_up_days: Annotated[
        Number | None,
        Quantity(
            "Days of a year on which nitrate may be used up in a bed",
            kind="days",
            example="10",
            low="0",
            high="366",
            need="leave",
            help="10 when it is not given: judgement. Where no nitrate is left sulfide can form.",
        ),
    ]
    call: Annotated[
        Word | None,
        Text(
            "Who is called about the boards",
            example="R. Lindqvist, 555-0142",
            need="leave",
            help="Whoever prepared the design when it is not given.",
        ),
    ]


class BoardLog(Table):
    """Where changes of the boards are written down."""

    file: Annotated[
        Word | None,
        FileName(
            "File of the changes of the boards",
            example="boards-log.csv",
            need="leave",
            help="Columns time, set, stack or rim_down, who, note; the desk adds rows to it.",
        ),
    ]
