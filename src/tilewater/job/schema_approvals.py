# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about leave to build: approvals, the locate ticket, ground disturbed."""

from typing import Annotated

from tilewater.job.fields import Quantity, kind_of_thing
from tilewater.job.moments import Days, Moment
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day, Text

NOT_KNOWN = "not known"
PRIVATE = (
    "yard_hydrant",
    "old_phone",
    "barn_drain",
    "rural_water",
    "fiber",
    "septic",
    "private_power",
    "other_tile",
)
"""Private lines that no public ticket marks; asked of the owner one by one."""

_plan_area = kind_of_thing("plan_area", low="0 ft2", high="100 acre", need="leave")


class Approval(Table):
    """An approval, a consent or a review: asked of whom, and what came of it."""

    what: Annotated[
        Word | None, Text("What is asked for", example="work in the right of way", need="leave")
    ]
    why: Annotated[
        Word | None,
        Text("Why it is asked for", example="outlet and two pipes lie in it", need="leave"),
    ]
    who: Annotated[
        Word | None, Text("Who gives it", example="board of Drainage District 14", need="leave")
    ]
    asked: Annotated[Word | None, Day("Asked on", example="2026-11-20", need="leave")]
    received: Annotated[Word | None, Day("Received on", example="2027-01-12", need="leave")]
    expires: Annotated[Word | None, Day("Expires on", example="2028-01-12", need="leave")]
    document: Annotated[
        Word | None, Text("Document", example="minutes of 2027-01-12, item 6", need="leave")
    ]
    not_needed: Annotated[
        Word | None,
        Text(
            "Why it is not needed, and who says so",
            example="no federal money in it, letter of 2026-12-01",
            need="leave",
        ),
    ]


def _private(title: str) -> Choice:
    return Choice(title, choices=("yes", "no", NOT_KNOWN), example="no", need="leave")


class Locate(Table):
    """The locate ticket, and the private lines that no ticket marks."""

    filed: Annotated[
        Word | None,
        Moment("Request filed at", example="2027-09-02 15:00", need="leave", needs_time=True),
    ]
    ticket: Annotated[Word | None, Text("Number of the ticket", example="272450118", need="leave")]
    answered: Annotated[
        Word | None,
        Choice(
            "Every owner of a line has answered or marked",
            choices=("yes", "no"),
            example="yes",
            need="leave",
            how="read the answers on the ticket",
        ),
    ]
    waiting: Annotated[
        Number | None,
        Quantity(
            "Waiting time of your state",
            kind="time",
            example="48 h",
            low="0 h",
            high="1000 h",
            need="leave",
            is_obvious=True,
            help="48 h without Saturdays, Sundays and legal holidays where nothing is said.",
        ),
    ]
    begins: Annotated[
        Word | None,
        Choice(
            "Waiting begins",
            choices=("when filed", "the next working day"),
            example="when filed",
            need="leave",
        ),
    ]
    valid_days: Annotated[
        Number | None,
        Quantity(
            "Days that a ticket is good in your state",
            kind="days",
            example="20",
            low="1",
            high="400",
            need="leave",
            bare=True,
            how="read it on the ticket",
        ),
    ]
    expires: Annotated[
        Word | None,
        Day("Last day of the ticket, as it prints it", example="2027-10-15", need="leave"),
    ]
    holidays: Annotated[
        tuple[str, ...] | None,
        Days(
            "Further legal holidays of the county",
            example="2027-09-03",
            need="leave",
            help="Those of country and state are known.",
        ),
    ]
    yard_hydrant: Annotated[Word | None, _private("A water line to a yard hydrant near the dig")]
    old_phone: Annotated[Word | None, _private("An old telephone cable")]
    barn_drain: Annotated[Word | None, _private("A drain of a barn or a feedlot")]
    rural_water: Annotated[Word | None, _private("A stub of rural water behind the meter")]
    fiber: Annotated[Word | None, _private("Fiber or cable between buildings")]
    septic: Annotated[Word | None, _private("A septic tank, its field or its drain")]
    private_power: Annotated[Word | None, _private("Power or gas of the farm behind the meter")]
    other_tile: Annotated[Word | None, _private("Other tile in the same ground")]
    private_marked: Annotated[
        Word | None,
        Choice(
            "Private lines that are there are marked on the ground",
            choices=("yes", "no"),
            example="yes",
            need="leave",
            how="walk them with the owner, or hire a private locator",
        ),
    ]


class Disturbed(Table):
    """Ground that is opened or covered beside the works themselves."""

    spoil: Annotated[Number | None, _plan_area("Ground under spoil that stays", "6000 ft2")]
    pad: Annotated[Number | None, _plan_area("Pad for chips and pipe", "4000 ft2")]
    access: Annotated[Number | None, _plan_area("Way in for trucks", "5000 ft2")]
    other: Annotated[Number | None, _plan_area("Other ground opened", "0 ft2")]
