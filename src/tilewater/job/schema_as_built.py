# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about finished work: shots of it, codes, tolerances, photos."""

from typing import Annotated

from pydantic import Field

from tilewater.job.fields import Quantity
from tilewater.job.schema_site import SurveyColumns, length, station
from tilewater.job.tables import Number, Table, Word
from tilewater.job.words import Choice, Day, FileName, Text, Texts

INSTRUMENTS = ("rover", "level", "laser")
FOUND = ("as built", "as found")


class AsBuiltColumns(SurveyColumns):
    """Which column of the file of finished work holds what: its heading, or its number from 1."""

    station: Annotated[
        Word | None,
        Text(
            "Station along the main, in feet, in place of the northing",
            example="Sta",
            need="leave",
            help="For a book of a level or a laser; the outlet of the main is 0.",
        ),
    ]
    offset: Annotated[
        Word | None,
        Text(
            "Offset from the main, in feet, in place of the easting",
            example="Off",
            need="leave",
            help="To the right looking up the main is positive.",
        ),
    ]
    rms: Annotated[
        Word | None,
        Text(
            "Scatter of the height as the instrument states it, in the unit of the heights",
            example="VRMS",
            need="leave",
        ),
    ]


def _words(title: str, example: str) -> Texts:
    return Texts(title, example=example, need="leave")


class AsBuiltCodes(Table):
    """What the crew writes for each thing; the program's own words hold too."""

    invert: Annotated[tuple[str, ...] | None, _words("Inside bottom of a pipe", "INV, PI")]
    flowline: Annotated[tuple[str, ...] | None, _words("Flowline at an open end", "FL")]
    pipe_top: Annotated[tuple[str, ...] | None, _words("Outside top of a pipe", "TOP")]
    pipe_bottom: Annotated[tuple[str, ...] | None, _words("Outside bottom of a pipe", "BED")]
    sill: Annotated[tuple[str, ...] | None, _words("What the lowest board stands on", "SILL")]
    box_floor: Annotated[tuple[str, ...] | None, _words("Floor of a structure, inside", "BOX")]
    rim: Annotated[tuple[str, ...] | None, _words("Rim of a structure", "RIM")]
    crest: Annotated[tuple[str, ...] | None, _words("Top of the top board", "BRD")]
    floor: Annotated[tuple[str, ...] | None, _words("Floor of the bed", "FLR")]
    corner: Annotated[tuple[str, ...] | None, _words("Corner of the floor of the bed", "COR")]
    chips: Annotated[tuple[str, ...] | None, _words("Top of the chips", "CHIP")]
    ground: Annotated[tuple[str, ...] | None, _words("Finished ground", "GND")]
    benchmark: Annotated[tuple[str, ...] | None, _words("Check on a benchmark", "CHK")]


def _within(title: str, default: str, more: str = "") -> Quantity:
    return length(title, default, high="10 ft", default=default, source="practice", help=more)


class AsBuiltTolerance(Table):
    """How far finished work may lie off the design; common practice, to be set by the engineer."""

    pipe_invert: Annotated[Number, _within("Invert of a pipe, up or down", "0.05 ft")]
    structure: Annotated[Number, _within("Floor or sill of a structure, up or down", "0.05 ft")]
    rim: Annotated[Number, _within("Rim of a structure, up or down", "0.05 ft")]
    crest: Annotated[Number, _within("Top of the boards, up or down", "0.02 ft")]
    floor: Annotated[Number, _within("Floor of the bed, up or down", "0.10 ft")]
    chips: Annotated[Number, _within("Depth of the chips, up or down", "0.10 ft")]
    length: Annotated[Number, _within("Length of the bed, up or down", "1.0 ft")]
    width_more: Annotated[Number, _within("Width of the bed, more than designed", "1.0 ft")]
    width_less: Annotated[Number, _within("Width of the bed, less than designed", "0 ft")]
    cover_less: Annotated[Number, _within("Soil over the chips, less than designed", "0.1 ft")]
    line_level: Annotated[
        Number, _within("Highest over lowest invert of a level line", "0.10 ft", "Over its length.")
    ]
    grade_over: Annotated[
        Number,
        length(
            "Length over which a local grade is taken at least",
            "50 ft",
            high="1000 ft",
            default="50 ft",
            source="practice",
        ),
    ]
    grade_least: Annotated[
        Number,
        Quantity(
            "Least local grade of a pipe that falls",
            kind="slope",
            example="0.10 %",
            low="0 %",
            high="20 %",
            default="0.10 %",
            source="practice",
        ),
    ]


class AsBuilt(Table):
    """Finished work as it was shot; also a practice that others built, found without a design."""

    shots: Annotated[
        Word | None,
        FileName("File of shots of finished work", example="survey/as-built.csv", need="leave"),
    ]
    found: Annotated[
        Word,
        Choice(
            "Whether these shots are held against a design",
            choices=FOUND,
            default="as built",
            source="practice",
            help="As found: others built it and no design is at hand; the shots are the inputs.",
        ),
    ]
    instrument: Annotated[
        Word,
        Choice(
            "Instrument of the shots",
            choices=INSTRUMENTS,
            default="rover",
            source="practice",
            help="Its usual scatter is taken where neither noise nor a column rms is given.",
        ),
    ]
    noise: Annotated[
        Number | None,
        length(
            "Scatter of a height, one standard deviation",
            "0.01 ft",
            high="1 ft",
            need="leave",
            help="The column rms of a shot goes before it.",
            how="shoot one point ten times over the day",
        ),
    ]
    taken_on: Annotated[Word | None, Day("Day of the shots", example="2027-10-06", need="leave")]
    taken_by: Annotated[Word | None, Text("Who shot", example="J. Marsh", need="leave")]
    drop_fix: Annotated[
        tuple[str, ...] | None,
        Texts("Fixes that are dropped", example="float, single", need="leave"),
    ]
    reach: Annotated[
        Number,
        length(
            "How far a shot may lie from what it is of",
            "3 ft",
            high="100 ft",
            default="3 ft",
            source="practice",
        ),
    ]
    length: Annotated[
        Number | None,
        length(
            "Length of the floor of the bed, taped",
            "96.6 ft",
            need="leave",
            help="Goes before what shots of its corners give.",
        ),
    ]
    width: Annotated[
        Number | None,
        length(
            "Width of the floor of the bed, taped",
            "30.2 ft",
            need="leave",
            help="Goes before what shots of its corners give.",
        ),
    ]
    columns: AsBuiltColumns = Field(default_factory=lambda: AsBuiltColumns.model_validate({}))
    codes: AsBuiltCodes = Field(default_factory=lambda: AsBuiltCodes.model_validate({}))
    tolerance: AsBuiltTolerance = Field(default_factory=lambda: AsBuiltTolerance.model_validate({}))


class BuiltPipe(Table):
    """A pipe as it was laid; its name is that of the pipe or line of the design."""

    wall: Annotated[
        Number,
        Quantity(
            "Thickness of its wall, corrugation included",
            kind="size",
            example="0.4 in",
            low="0 in",
            high="12 in",
            how="half of outside less inside diameter, taped at a cut end",
            help="Turns a shot on its outside into its invert.",
        ),
    ]


class Photo(Table):
    """A picture of the work: liner, fabric, pipes, chips before they are covered."""

    file: Annotated[Word, Text("File of the picture", example="photos/liner-1.jpg")]
    what: Annotated[Word, Text("What it shows", example="liner, upper end, before the chips")]
    when: Annotated[Word | None, Day("Day it was taken", example="2027-09-24", need="leave")]
    station: Annotated[Number | None, station("Station of it", "0+90", need="leave")]
