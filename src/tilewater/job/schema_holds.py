# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file kept on site: hold points, and what the ground was like before."""

from typing import Annotated

from tilewater.job.moments import Moment
from tilewater.job.schema_site import elevation
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day, Text, Texts

ACCEPTED, REFUSED = "accepted", "refused"


class Hold(Table):
    """A hold point, signed by who looked at it."""

    by: Annotated[Word | None, Text("Signed by", example="M. Ostrow", need="leave")]
    at: Annotated[Word | None, Moment("Signed at", example="2027-09-24 10:30", need="leave")]
    result: Annotated[
        Word | None,
        Choice("Result", choices=(ACCEPTED, REFUSED), example=ACCEPTED, need="leave"),
    ]
    reading: Annotated[
        Word | None, Text("Reading", example="floor 1180.68 to 1180.72 ft", need="leave")
    ]
    groundwater: Annotated[
        Number | None,
        elevation(
            "Ground water in the hole or in a pit beside it",
            "1180.3 ft",
            need="leave",
            how="shoot the water in a pit beside the hole",
        ),
    ]
    photo: Annotated[Word | None, Text("Photo", example="IMG_0412.jpg", need="leave")]
    note: Annotated[Word | None, Text("Note", example="soft spot at 1+10 dug out", need="leave")]


class Before(Table):
    """The owner's record of the ground before anything is opened."""

    wet_spots: Annotated[
        tuple[str, ...] | None,
        Texts("Wet spots as they are", example="low at 2+90, four days in May 2026", need="leave"),
    ]
    yields: Annotated[
        tuple[str, ...] | None,
        Texts("Yields as they were", example="2025 corn 201 bu/acre", need="leave"),
    ]
    crops: Annotated[Word | None, Text("Crops and rotation", example="corn, soybean", need="leave")]
    photos: Annotated[
        tuple[str, ...] | None,
        Texts("Photos: file and what they show", example="before-01.jpg outlet", need="leave"),
    ]
    note: Annotated[
        Word | None,
        Text("What else stands or lies there", example="fence, yard light", need="leave"),
    ]
    signed_by: Annotated[Word | None, Text("Signed by", example="J. Corbel", need="leave")]
    signed_on: Annotated[Word | None, Day("Signed on", example="2027-08-28", need="leave")]
