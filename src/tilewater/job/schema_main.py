# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the main as surveyed: its segments, submains, the pump."""

from typing import Annotated

from pydantic import Field

from tilewater.job.fields import Quantity
from tilewater.job.schema_site import elevation, length, station
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Text

FOUND = ("dug", "probed", "traced", "from a map", "remembered")
MATERIALS = ("concrete", "clay", "corrugated plastic", "smooth plastic")
SOILS = (
    "sand and sandy loam",
    "silt and silt loam",
    "silty clay loam",
    "clay and clay loam",
    "coarse sand or gravel",
)


class Segment(Table):
    """A stretch of the main with one size and grade; each begins where the one below it ends."""

    from_: Annotated[
        Number, station("Station of the lower end", "1+40", how="tape it from the outlet")
    ] = Field(alias="from")
    to: Annotated[
        Number, station("Station of the upper end", "9+30", how="tape it from the outlet")
    ]
    invert_down: Annotated[
        Number, elevation("Invert at the lower end", "1181.20 ft", how="expose it and shoot it")
    ]
    invert_up: Annotated[
        Number, elevation("Invert at the upper end", "1182.62 ft", how="expose it and shoot it")
    ]
    diameter: Annotated[
        Number,
        Quantity(
            "Inside diameter of the segment",
            kind="size",
            example="10 in",
            low="2 in",
            high="96 in",
            how="measure an exposed pipe",
        ),
    ]
    material: Annotated[
        Word,
        Choice(
            "Material of the segment",
            choices=MATERIALS,
            example="concrete",
            how="look at an exposed pipe",
        ),
    ]
    n: Annotated[
        Number | None,
        Quantity(
            "Roughness of the segment, Manning's n",
            kind="number",
            example="0.013",
            low="0.007",
            high="0.04",
            need="leave",
            help="Follows from the material when it is not given.",
        ),
    ]
    area: Annotated[
        Number | None,
        Quantity(
            "Area drained through the segment",
            kind="area",
            example="30 acre",
            low="0.1 acre",
            high="20000 acre",
            need="leave",
            help="Where only a part of the area drains through it, as at the upper end of a main. "
            "Without it all the water of the diversion is taken to pass.",
        ),
    ]
    losses: Annotated[
        Number | None,
        Quantity(
            "Losses at its upper end, in velocity heads",
            kind="number",
            example="0.5",
            low="0",
            high="10",
            need="leave",
            help="For a sharp change of size, a junction box or a bend; none when it is not given.",
        ),
    ]
    found: Annotated[
        Word,
        Choice(
            "How the lower end was found",
            choices=FOUND,
            example="dug",
            help="An invert counts as surveyed when the pipe was dug up there.",
            how="dig it up where it matters",
        ),
    ]
    found_up: Annotated[
        Word | None,
        Choice(
            "How the upper end was found",
            choices=FOUND,
            example="probed",
            need="leave",
            help="As the lower end when it is not given.",
        ),
    ]
    joints: Annotated[
        Word | None,
        Choice(
            "Joints",
            choices=("good", "open", "offset"),
            example="good",
            need="leave",
            how="look at an exposed pipe, or send a camera up the main",
        ),
    ]
    roots: Annotated[
        Word | None,
        Choice(
            "Roots in the pipe",
            choices=("none", "some", "blocking"),
            example="none",
            need="leave",
            how="send a camera up the main",
        ),
    ]
    camera: Annotated[
        Word | None,
        Text(
            "Camera log: date and what it showed",
            example="2026-10-02: offset joint at 3+10, no roots",
            need="leave",
        ),
    ]
    soil: Annotated[
        Word | None,
        Choice(
            "Soil around the segment, for the greatest velocity",
            choices=SOILS,
            example="silty clay loam",
            need="leave",
        ),
    ]


class Submain(Table):
    """Another main or submain of the site; its area is a part of the drained area."""

    joins: Annotated[
        Word,
        Choice(
            "Where its water goes",
            choices=("above the diversion", "below the diversion", "same outlet, own main"),
            example="below the diversion",
            help="What joins below or has its own main is not seen by the practice.",
            how="trace it, or put dye in its upper end",
        ),
    ]
    area: Annotated[
        Number,
        Quantity(
            "Area that it drains",
            kind="area",
            example="12 acre",
            low="0.1 acre",
            high="20000 acre",
            help="A part of drainage.area.",
            how="planimeter the tile map; check it with the owner",
        ),
    ]
    diameter: Annotated[
        Number | None,
        Quantity(
            "Inside diameter of the submain",
            kind="size",
            example="6 in",
            low="2 in",
            high="96 in",
            need="leave",
        ),
    ]
    slope: Annotated[
        Number | None,
        Quantity(
            "Slope of the submain",
            kind="slope",
            example="0.2 %",
            low="0.005 %",
            high="20 %",
            need="leave",
        ),
    ]
    material: Annotated[
        Word | None,
        Choice("Material of the submain", choices=MATERIALS, example="clay", need="leave"),
    ]


class Pump(Table):
    """The pump that lifts the drain water to the practice, where there is one."""

    capacity: Annotated[
        Number | None,
        Quantity(
            "Flow that the pump lifts to the practice",
            kind="flow",
            example="450 gpm",
            low="0.1 gpm",
            need="leave",
            help="Also a limit of the drain flow, as drainage.pump_capacity.",
            how="time the sump between two marks with the inflow plugged",
        ),
    ]
    float_on: Annotated[
        Number | None,
        elevation("Water level in the sump at which the pump starts", "1176.5 ft", need="leave"),
    ]
    float_off: Annotated[
        Number | None,
        elevation("Water level in the sump at which the pump stops", "1174.5 ft", need="leave"),
    ]
    sump_area: Annotated[
        Number | None,
        Quantity(
            "Plan area of the sump",
            kind="plan_area",
            example="28 ft2",
            low="0.5 ft2",
            high="100000 ft2",
            need="leave",
            help="The open water between the two floats; what the pipes hold is not counted.",
        ),
    ]
    lift: Annotated[
        Number | None,
        length(
            "Lift from the sump to the practice",
            "8 ft",
            high="100 ft",
            need="leave",
            how="shoot it",
        ),
    ]
