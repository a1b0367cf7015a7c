# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about the place: people, ground, survey, seasons."""

from typing import Annotated

from pydantic import Field

from tilewater.job.fields import Quantity, kind_of_thing
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day, FileName, MonthDay, Text, Texts

elevation = kind_of_thing("elevation", low="-300 ft", high="15000 ft", is_obvious=True)
station = kind_of_thing("station", low="-1000 ft", high="100000 ft", is_obvious=True)
length = kind_of_thing("length", low="0 ft", high="1000 ft", is_obvious=True)

Foot = Choice(
    "Foot of the grid and of its elevations",
    choices=("international foot", "us survey foot"),
    example="us survey foot",
    help="They differ by 2 parts in a million: 10 ft at a northing of 5 million ft.",
    how="read it in the projection file of the rover, or ask who set the base",
)


class About(Table):
    """What the job is called and who prepares it."""

    title: Annotated[Word, Text("Title of the job", example="Corbel Farm, outlet 1")]
    outlet: Annotated[Word | None, Text("Name of the outlet", example="outlet 1", need="leave")]
    county: Annotated[Word | None, Text("County", example="Fennick County", need="leave")]
    state: Annotated[
        Word | None,
        Text("State", example="Iowa", help="Says which edition may apply.", need="leave"),
    ]
    prepared_by: Annotated[Word | None, Text("Prepared by", example="R. Lindqvist", need="leave")]
    date: Annotated[Word | None, Day("Date of the job", example="2026-03-02", need="leave")]
    units: Annotated[
        Word,
        Choice(
            "Units of reports and drawings",
            choices=("us", "si"),
            default="us",
            source="practice",
            help="Values in this file may be in any unit.",
        ),
    ]


class People(Table):
    """Who owns, farms and has a say; each that is unknown stays an open item on every report."""

    owner: Annotated[
        Word, Text("Owner of the land", example="J. Corbel", how="ask at the first call")
    ]
    tenant: Annotated[
        Word, Text("Who farms it", example="same as owner", how="ask at the first call")
    ]
    neighbour_upstream: Annotated[
        Word,
        Text(
            "Neighbour whose water comes through the main",
            example="none, the main ends in this field",
            how="follow the main on the tile map to its upper end and ask",
        ),
    ]
    drainage_district: Annotated[
        Word,
        Text(
            "Drainage district with a say over outlet or ditch",
            example="none",
            how="ask the county drainage clerk",
        ),
    ]
    easements: Annotated[
        Word,
        Text(
            "Easements and program contracts on the ground",
            example="right of way 25 ft from the bank top",
            how="ask the owner and the county recorder",
        ),
    ]


class Site(Table):
    """Datum, grid and ground where the practice would lie."""

    vertical_datum: Annotated[
        Word, Text("Vertical datum", example="NAVD88", how="read it from the benchmark sheet")
    ]
    foot: Annotated[Word, Foot]
    grid: Annotated[
        Word | None, Text("Coordinate grid", example="state plane, north zone", need="leave")
    ]
    soil_type: Annotated[
        Word,
        Choice(
            "Soil type for slopes of an excavation",
            choices=("stable rock", "A", "B", "C"),
            example="B",
            how="a competent person classifies it from a bore hole or a test pit",
        ),
    ]
    ground_at_bed: Annotated[
        Number, elevation("Ground where the bed would lie", "1186.0 ft", how="shoot the ground")
    ]
    utilities: Annotated[
        Word,
        Text(
            "Utility locate: number and date of the ticket",
            example="ticket 261400231 of 2026-05-20",
            how="call the one-call center before anyone digs; ask the owner for private lines",
        ),
    ]
    widest_cut: Annotated[
        Number | None,
        length(
            "Widest cut that may be made in the ground of the practice",
            "3 ft",
            need="leave",
            help="Where an easement, a contract or the district allows narrow trenches only.",
            how="read the easement with the owner",
        ),
    ]
    benchmark: Annotated[
        Word | None,
        Text("Benchmark", example="bolt in the culvert headwall, 1188.42 ft", need="leave"),
    ]


class SurveyColumns(Table):
    """Which column of the file of shots holds what: its heading, or its number counted from 1."""

    point: Annotated[Word | None, Text("Point name", example="P", need="leave")]
    north: Annotated[Word | None, Text("Northing", example="N", need="leave")]
    east: Annotated[Word | None, Text("Easting", example="E", need="leave")]
    height: Annotated[Word | None, Text("Elevation", example="Z", need="leave")]
    note: Annotated[Word | None, Text("Note or code", example="D", need="leave")]
    fix: Annotated[Word | None, Text("Quality of the fix", example="fix", need="leave")]


class Survey(Table):
    """Shots of the rover."""

    shots: Annotated[Word | None, FileName("File of shots", example="survey.csv", need="leave")]
    drop_fix: Annotated[
        tuple[str, ...] | None,
        Texts("Fixes that are dropped", example="float, single", need="leave"),
    ]
    columns: SurveyColumns = Field(default_factory=lambda: SurveyColumns.model_validate({}))


class Borings(Table):
    """Bore holes."""

    file: Annotated[
        Word | None, FileName("File of bore holes", example="borings.csv", need="leave")
    ]


class Season(Table):
    """A part of the year with its own ditch levels and its own boards."""

    from_: Annotated[Word, MonthDay("First day of the season", example="03-20")] = Field(
        alias="from"
    )
    to: Annotated[Word, MonthDay("Last day of the season", example="06-15")]
    ditch_stage: Annotated[
        Number | None,
        elevation(
            "Ordinary water level of the ditch",
            "1179.6 ft",
            need="leave",
            help="Needed where the ditch is known by a season table.",
            how="read the stage on a staff or a logger through one spring",
        ),
    ]
    ditch_high: Annotated[
        Number | None,
        elevation(
            "High water level of the ditch, storm or 2-year",
            "1182.1 ft",
            need="leave",
            help="Needed where the ditch is known by a season table.",
            how="high water marks, a logger, or the design of the ditch",
        ),
    ]
    ditch_band: Annotated[
        Number | None,
        length(
            "How far both levels may be off, up or down",
            "0.3 ft",
            high="10 ft",
            need="leave",
            help="Stands in the place of a band that is computed.",
        ),
    ]
    water_temperature: Annotated[
        Number,
        Quantity(
            "Temperature of the drain water",
            kind="temperature",
            example="8 degC",
            low="-1 degC",
            high="35 degC",
            need="may",
            how="a logger in the main, or a thermometer at each visit",
        ),
    ]
    groundwater: Annotated[
        Number,
        elevation(
            "Water table outside the bed",
            "1182.2 ft",
            need="may",
            how="a tube well beside the bed, read through the season",
        ),
    ]
    drain_flow: Annotated[
        Number | None,
        Quantity(
            "Mean flow of the drains on days with flow, in this season",
            kind="flow",
            example="0.2 cfs",
            low="0 cfs",
            high="500 cfs",
            need="leave",
            help="For the start-up of a new bed, and for a ditch known by a rule; the "
            "mean of the year when it is not given.",
        ),
    ]
    inlet_boards: Annotated[
        Number | None,
        Quantity(
            "Height of the inlet boards in this season",
            kind="size",
            example="36 in",
            low="0 in",
            high="20 ft",
            need="leave",
            help="Above the sill; the design setting when it is not given.",
        ),
    ]
    outlet_boards: Annotated[
        Number | None,
        Quantity(
            "Height of the outlet boards in this season",
            kind="size",
            example="24 in",
            low="0 in",
            high="20 ft",
            need="leave",
            help="Above the sill; the design setting when it is not given.",
        ),
    ]
    raised_boards: Annotated[
        Number | None,
        Quantity(
            "Height of the boards of an outlet that is only raised, in this season",
            kind="size",
            example="24 in",
            low="0 in",
            high="20 ft",
            need="leave",
            help="Above the sill of the inlet structure; its inlet boards when it is not given. 0 "
            "where they are pulled for field work.",
        ),
    ]
    head_boards: Annotated[
        Number | None,
        Quantity(
            "Height of the head boards of a buffer in this season",
            kind="size",
            example="0 in",
            low="0 in",
            high="20 ft",
            need="leave",
            help="Above the sill; the design setting when it is not given.",
        ),
    ]
