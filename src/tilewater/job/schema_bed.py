# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about what is built: the boards, the bed, its pipes."""

from typing import Annotated

from pydantic import Field

from tilewater.job.fields import Quantities, Quantity, kind_of_thing
from tilewater.job.pairs import Pair
from tilewater.job.schema_plan import offset, points_of
from tilewater.job.schema_site import elevation, length, station
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice

boards = kind_of_thing("size", low="0 in", high="20 ft", is_obvious=True)


class Boards(Table):
    """The boards one can buy, and the design setting."""

    heights: Annotated[
        tuple[float, ...] | Number,
        Quantities(
            "Heights of boards one can buy",
            kind="size",
            example="8 in, 6 in, 4 in",
            low="0.5 in",
            high="4 ft",
            how="ask the maker of the structure",
        ),
    ]
    seal_gap: Annotated[
        Number,
        Quantity(
            "Height that the seal adds under each board",
            kind="size",
            example="0 in",
            low="0 in",
            high="4 in",
            default="0 in",
            source="practice",
        ),
    ]
    inlet: Annotated[
        Number,
        boards("Height of the inlet boards, design setting", "36 in", help="Above the sill."),
    ]
    outlet: Annotated[
        Number,
        boards("Height of the outlet boards, design setting", "24 in", help="Above the sill."),
    ]


class Bed(Table):
    """The bed of woodchips."""

    size: Annotated[
        Word,
        Choice(
            "How the bed is sized",
            choices=("as given", "smallest that passes"),
            example="as given",
            help="The smallest keeps depth and side slope and looks for length and width.",
        ),
    ]
    length_bottom: Annotated[
        Number, length("Length of the bottom, along the flow", "96.5 ft", low="3 ft")
    ]
    width_bottom: Annotated[Number, length("Width of the bottom", "30 ft", low="3 ft")]
    side_slope: Annotated[
        Number,
        Quantity(
            "Side slope of the media, horizontal to vertical",
            kind="side_slope",
            example="1:1",
            low="0",
            high="10",
        ),
    ]
    media_depth: Annotated[
        Number, length("Depth of the media", "3.5 ft", low="0.5 ft", high="20 ft")
    ]
    floor_inlet: Annotated[Number, elevation("Floor of the bed at its inlet", "1180.70 ft")]
    floor_outlet: Annotated[Number, elevation("Floor of the bed at its outlet", "1180.70 ft")]
    cover_depth: Annotated[Number, length("Depth of soil over the media", "1.8 ft", high="20 ft")]
    crown: Annotated[
        Number,
        length(
            "Mean height of the crown over the bed",
            "0.25 ft",
            high="5 ft",
            default="0.25 ft",
            source="practice",
            help="Allows for settlement.",
        ),
    ]
    footprint_length: Annotated[
        Number,
        length(
            "Length of the ground that may be used, at the top of the cut",
            "190 ft",
            need="may",
            how="tape the strip with the owner, clear of rights of way",
        ),
    ]
    footprint_width: Annotated[
        Number,
        length(
            "Width of the ground that may be used, at the top of the cut",
            "62 ft",
            need="may",
            how="tape the strip with the owner, clear of rights of way",
        ),
    ]
    lining: Annotated[
        Word,
        Choice(
            "Lining of the bed",
            choices=("geotextile", "plastic"),
            example="geotextile",
            how="bore beside the bed: sand or a high water table decide it",
        ),
    ]
    outlet_invert: Annotated[
        Number, elevation("Invert of the bed's outlet pipe at the outlet structure", "1180.70 ft")
    ]
    return_: Annotated[
        Word,
        Choice(
            "Where the treated water goes",
            choices=("main", "own outlet"),
            example="own outlet",
            help="Back into the main below the diversion, or to the ditch by a pipe of its own.",
        ),
    ] = Field(alias="return")
    return_invert: Annotated[
        Number, elevation("Invert where the return ends", "1180.61 ft", how="shoot it")
    ]
    feed_gate: Annotated[
        Word,
        Choice(
            "What shuts off the feed of the bed",
            choices=("gate", "boards", "none"),
            example="gate",
            need="may",
            help="A gate on the feed or a second set of boards before it. Without it the bed "
            "cannot be emptied while the drains run.",
            how="decide it with the maker of the structure; where it is built, look into it",
        ),
    ]
    slope_above_media: Annotated[
        Number,
        Quantity(
            "Slope of the cut above the media, horizontal to vertical",
            kind="side_slope",
            example="1.5:1",
            low="0",
            high="10",
            need="may",
            how="follows from soil type and depth of cut",
        ),
    ]


class BedCell(Table):
    """A cell of a bed in several, side by side between the same two structures."""

    length_bottom: Annotated[
        Number | None,
        length(
            "Length of the bottom of the cell",
            "96.5 ft",
            low="3 ft",
            need="leave",
            help="That of the bed when it is not given.",
        ),
    ]
    width_bottom: Annotated[
        Number | None,
        length(
            "Width of the bottom of the cell",
            "15 ft",
            low="3 ft",
            need="leave",
            help="That of the bed when it is not given.",
        ),
    ]
    opens_at: Annotated[
        Number | None,
        elevation(
            "Crest of the boards that hold the cell shut until the water stands over them",
            "1183.9 ft",
            need="leave",
            help="Left out for a cell that is always open.",
        ),
    ]
    station: Annotated[
        Number | None,
        station(
            "Station of the lower end of the floor of the cell",
            "0+44.3",
            need="leave",
            help="Where the cell lies in plan; that of the bed when it is not given.",
        ),
    ]
    offset: Annotated[
        Number | None,
        offset(
            "Offset of the edge of the floor of the cell next to the main",
            "40 ft",
            need="leave",
            help="To the right looking up the main; negative to the left.",
        ),
    ]


class Pipe(Table):
    """A pipe that is laid for the practice."""

    use: Annotated[
        Word,
        Choice(
            "What the pipe does",
            choices=(
                "feed",
                "inlet header",
                "outlet header",
                "bed outlet",
                "return",
                "solid replacement",
                "bypass",
            ),
            example="feed",
            help="Feed: diversion to inlet header. Bed outlet: outlet header to outlet structure. "
            "Return: outlet structure to the main or the ditch.",
        ),
    ]
    diameter: Annotated[
        Number,
        Quantity("Inside diameter", kind="size", example="8 in", low="1 in", high="96 in"),
    ]
    length: Annotated[Number, length("Length", "20 ft", low="0.1 ft", high="20000 ft")]
    kind: Annotated[
        Word, Choice("Wall of the pipe", choices=("solid", "perforated"), example="solid")
    ]
    n: Annotated[
        Number | None,
        Quantity(
            "Roughness of the pipe, Manning's n",
            kind="number",
            example="0.012",
            low="0.007",
            high="0.04",
            need="leave",
            help="That of dual-wall plastic for a solid pipe and of corrugated plastic for a "
            "perforated one when it is not given.",
        ),
    ]
    points: Annotated[
        tuple[Pair, ...] | None,
        points_of(
            "Points of the pipe in plan, in the order of the water: station, offset",
            "1+40.3: 0.65 ft, 1+40.3: 21 ft",
            "To the right looking up the main; negative to the left.",
        ),
    ]
    invert_upper: Annotated[
        Number | None,
        elevation("Invert at its upper end", "1181.20 ft", need="leave"),
    ]
    invert_lower: Annotated[
        Number | None,
        elevation("Invert at its lower end", "1180.70 ft", need="leave"),
    ]
