# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the structures with stop boards, and what was measured on them."""

from typing import Annotated

from tilewater.job.fields import Quantities, Quantity
from tilewater.job.schema_site import elevation, length
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day, Text

shot = "shoot it once the structure stands; until then the drawing of the maker"


class Structure(Table):
    """A structure with stop boards."""

    sill: Annotated[
        Number,
        elevation(
            "Sill: what the lowest board stands on",
            "1181.20 ft",
            help="Board heights count from here, not from the pipe invert.",
            how=shot,
        ),
    ]
    rim: Annotated[Number, elevation("Rim of the structure", "1187.00 ft", how=shot)]
    ground: Annotated[Number, elevation("Ground at the structure", "1186.2 ft", how="shoot it")]
    floor: Annotated[Number, elevation("Floor of the box, inside", "1180.70 ft", how=shot)]
    crest_width: Annotated[
        Number,
        length(
            "Width of the water over the boards",
            "1.17 ft",
            low="0.2 ft",
            high="20 ft",
            how="measure between the board guides",
        ),
    ]
    box_length: Annotated[
        Number,
        length(
            "Length of the box, outside", "2.0 ft", low="0.5 ft", high="40 ft", how="measure it"
        ),
    ]
    box_width: Annotated[
        Number,
        length("Width of the box, outside", "1.3 ft", low="0.5 ft", high="40 ft", how="measure it"),
    ]
    box_weight: Annotated[
        Number,
        Quantity(
            "Weight of the empty box",
            kind="mass",
            example="180 lb",
            low="1 lb",
            high="100 ton",
            how="ask the maker",
        ),
    ]
    board_thickness: Annotated[
        Number | None,
        Quantity(
            "Thickness of a board",
            kind="size",
            example="1.5 in",
            low="0.1 in",
            high="6 in",
            need="leave",
        ),
    ]
    crest_kind: Annotated[
        Word,
        Choice(
            "Crest of the top board",
            choices=("sharp", "broad", "v notch", "calibrated"),
            default="sharp",
            source="practice",
            help="Broad needs board_thickness, a V-notch its angle and depth, calibrated a "
            "[rating.NAME] of this structure. A rating is used whatever stands here.",
            how="look at the top board: a low head lies on a thick square one",
        ),
    ]
    notch_angle: Annotated[
        Number | None,
        Quantity(
            "Full angle of the V-notch",
            kind="angle",
            example="45 deg",
            low="10 deg",
            high="150 deg",
            need="leave",
            how="hold a template to it, or tape width and depth",
        ),
    ]
    notch_depth: Annotated[
        Number | None,
        Quantity(
            "Top of the notched board above the point of its notch",
            kind="size",
            example="6 in",
            low="0.5 in",
            high="3 ft",
            need="leave",
            help="Also for a rating of a notched board: its crest is the point.",
            how="tape it",
        ),
    ]
    joint_leak: Annotated[
        Number | None,
        Quantity(
            "Flow through the joints of the boards, caught below them",
            kind="flow",
            example="3 gpm",
            low="0 gpm",
            high="1 cfs",
            need="leave",
            how="fill to just under the crest, catch what comes through in a bucket",
        ),
    ]
    joint_leak_depth: Annotated[
        Number | None,
        Quantity(
            "Water above the sill while the leak was caught",
            kind="size",
            example="30 in",
            low="1 in",
            high="20 ft",
            need="leave",
            help="Taken as the height of the boards of the design setting when it is not given.",
        ),
    ]


class Structures(Table):
    """The two structures of a bed: the diversion on the main, and the outlet of the bed."""

    inlet: Structure
    outlet: Structure


class Rating(Table):
    """What was measured on one set of boards of this site, or the law fitted to it."""

    structure: Annotated[
        Word, Choice("Structure that was measured", choices=("inlet", "outlet"), example="inlet")
    ]
    set: Annotated[
        Word,
        Choice(
            "Set of boards in it",
            choices=("bypass", "outlet", "feed"),
            example="bypass",
            help="Two sets of one structure differ by 6 to 56 percent; each has its own rating.",
        ),
    ]
    heads: Annotated[
        tuple[float, ...] | Number | None,
        Quantities(
            "Measured heads over the crest, or over the point of the notch",
            kind="size",
            example="1 in, 2 in, 4 in, 6 in",
            low="0.01 in",
            high="10 ft",
            need="leave",
            how="staff three to four heads upstream, zero at the crest",
        ),
    ]
    flows: Annotated[
        tuple[float, ...] | Number | None,
        Quantities(
            "Flows measured with them, in the same order",
            kind="flow",
            example="1.5 gpm, 7 gpm, 37 gpm, 95 gpm",
            low="0.001 gpm",
            high="1000 cfs",
            need="leave",
            how="bucket and watch, or a meter in the pipe below",
        ),
    ]
    zero: Annotated[
        Word,
        Choice(
            "Zero of the staff that the heads were read from",
            choices=("at the crest", "fitted"),
            default="at the crest",
            source="practice",
            help="Fitted only where it was not set to the crest; it takes four points or more.",
        ),
    ]
    coefficient: Annotated[
        Number | None,
        Quantity(
            "Flow at one unit of head, of a law that was fitted elsewhere",
            kind="number",
            example="1.48",
            low="0",
            high="1e9",
            need="leave",
            help="In the units named below; in the place of heads and flows.",
        ),
    ]
    exponent: Annotated[
        Number | None,
        Quantity(
            "Power of the head in that law",
            kind="number",
            example="2.32",
            low="0.5",
            high="4",
            need="leave",
        ),
    ]
    head_unit: Annotated[
        Word | None,
        Choice("Unit of its head", choices=("in", "ft", "cm", "m"), example="in", need="leave"),
    ]
    flow_unit: Annotated[
        Word | None,
        Choice(
            "Unit of its flow", choices=("gpm", "cfs", "L/s", "m3/s"), example="gpm", need="leave"
        ),
    ]
    fitted_from: Annotated[
        Number | None,
        Quantity(
            "Lowest head of that law",
            kind="size",
            example="1 in",
            low="0 in",
            high="10 ft",
            need="leave",
        ),
    ]
    fitted_to: Annotated[
        Number | None,
        Quantity(
            "Highest head of that law",
            kind="size",
            example="6 in",
            low="0 in",
            high="10 ft",
            need="leave",
        ),
    ]
    standard_error: Annotated[
        Number | None,
        Quantity(
            "Scatter of the flows about that law",
            kind="ratio",
            example="6 %",
            low="0 %",
            high="100 %",
            need="leave",
        ),
    ]
    by: Annotated[Word, Text("By whom it was measured", example="R. Lindqvist")]
    date: Annotated[Word, Day("When it was measured", example="2026-04-12")]
