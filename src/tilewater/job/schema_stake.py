# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about setting out: columns for the rover, hubs, who may move the works."""

from typing import Annotated

from tilewater.job.fields import Quantity
from tilewater.job.schema_site import elevation, length
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, FileName, Text, Texts

COLUMNS = ("point", "north", "east", "height", "note", "station", "offset")
SEPARATORS = ("comma", "tab", "semicolon", "space")


class Stake(Table):
    """How stakes are set, and how their points go to the rover."""

    columns: Annotated[
        tuple[str, ...] | None,
        Texts(
            "Columns of the file for the rover, in their order",
            example="point, north, east, height, note",
            need="leave",
            help="Of point, north, east, height, note, station, offset.",
        ),
    ]
    heads: Annotated[
        tuple[str, ...] | None,
        Texts(
            "What the rover calls these columns",
            example="Pt, Northing, Easting, Elev, Code",
            need="leave",
            help="A first line with these names; no first line when it is not given.",
        ),
    ]
    separator: Annotated[
        Word,
        Choice("Between the columns", choices=SEPARATORS, default="comma", source="practice"),
    ]
    hub_away: Annotated[
        Number,
        length(
            "Hubs beyond the top of the cut",
            "10 ft",
            high="100 ft",
            default="10 ft",
            source="practice",
        ),
    ]
    every: Annotated[
        Number,
        length("Stakes along a line", "50 ft", high="500 ft", default="50 ft", source="practice"),
    ]
    technician_may_move: Annotated[
        Number,
        length(
            "Move of the works that the technician may approve",
            "2 ft",
            high="100 ft",
            default="2 ft",
            source="practice",
            help="The engineer approves what is more.",
        ),
    ]
    locate_margin: Annotated[
        Number,
        length(
            "Ground around the works that a locate request asks about",
            "25 ft",
            high="500 ft",
            default="25 ft",
            source="practice",
            help="Local rules may ask for more.",
        ),
    ]
    combined_factor: Annotated[
        Number | None,
        Quantity(
            "Combined factor of the grid: grid distance over ground distance",
            kind="number",
            example="0.99988",
            low="0.99",
            high="1.01",
            need="leave",
            bare=True,
            how="ask the surveyor, or the data sheet of a nearby control point",
            help="A tape measures grid distance over it; 1 when it is not given.",
        ),
    ]


class Traverse(Table):
    """A closed traverse: where it begins and ends, and how well it must close."""

    file: Annotated[
        Word | None,
        FileName(
            "File of the courses of a traverse",
            example="traverse.csv",
            need="leave",
            help="Columns leg, azimuth [deg], length [ft], in the order they were run.",
        ),
    ]
    start: Annotated[
        Word | None,
        Text(
            "Benchmark where the traverse begins",
            example="bm-1",
            need="leave",
            help="It needs a place in the grid; 0, 0 where none is given.",
        ),
    ]
    end: Annotated[
        Word | None,
        Text(
            "Benchmark where the traverse ends",
            example="bm-2",
            need="leave",
            help="Where it began when it is not given.",
        ),
    ]
    least_precision: Annotated[
        Number,
        Quantity(
            "Least precision of a traverse: 5000 for one part in 5,000",
            kind="number",
            example="5000",
            low="1",
            high="1000000",
            default="5000",
            source="practice",
            bare=True,
        ),
    ]


class Leg(Table):
    """A course of a traverse as it was measured; it ends at the point of its name."""

    azimuth: Annotated[
        Number,
        Quantity(
            "Azimuth of the course",
            kind="angle",
            example="74.25 deg",
            low="-360 deg",
            high="360 deg",
            how="turn it from the course before",
            help="Clockwise from north of the grid.",
        ),
    ]
    length: Annotated[
        Number,
        length("Length of the course on the ground", "140.00 ft", high="10000 ft"),
    ]


class Hub(Table):
    """A hub as it was driven; its name is that of the stake list."""

    height: Annotated[
        Number, elevation("Top of the hub", "1186.12 ft", how="shoot the top of the hub")
    ]
