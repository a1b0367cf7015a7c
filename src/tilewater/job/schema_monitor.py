# SPDX-License-Identifier: Apache-2.0
"""Tables of the job file about a practice that runs: loggers, readings by hand, the laboratory.

None of them bears on a design. Every value may be left out, so that a job without them stays as it
is; what a file then lacks is asked for when it is read.
"""

from typing import Annotated

from pydantic import Field

from tilewater.job.fields import Quantity
from tilewater.job.schema_site import elevation, length
from tilewater.job.tables import Number, Table, Word
from tilewater.job.times import Moment, TimeZone
from tilewater.job.words import Choice, Day, FileName, Text

PLACES = ("inlet", "outlet", "bypass", "ditch", "field")
MEASURES = ("stage", "level", "temperature", "rain", "conductivity", "flow", "air pressure")
DATE_ORDERS = ("year-month-day", "month-day-year", "day-month-year")
SPECIES = ("nitrate as N", "nitrate as ion", "nitrate and nitrite as N")


def _column(title: str, example: str, help_: str = "") -> Text:
    words = "Its heading or its number, counted from 1; found by itself where only one can be it."
    return Text(title, example=example, need="leave", help=f"{words} {help_}".strip())


def _zone(help_: str) -> TimeZone:
    return TimeZone("Time zone of the times", example="-6 h", need="leave", help=help_)


class Logger(Table):
    """A logger in the water, in a rain gauge or in the air, and how its file is read."""

    file: Annotated[
        Word,
        FileName(
            "File as it came from the logger",
            example="inlet-2028.csv",
            help="Text of any separator, with lines about the instrument above the readings.",
        ),
    ]
    measures: Annotated[
        Word,
        Choice(
            "What it measures",
            choices=MEASURES,
            example="stage",
            help="Stage is water above the sensor, as a length or as a pressure; level is an "
            "elevation already. A file of several quantities is named by one logger for each.",
        ),
    ]
    place: Annotated[
        Word,
        Choice(
            "Where it is",
            choices=PLACES,
            example="inlet",
            help="Inlet and outlet are the two structures, bypass its set of boards or notch.",
        ),
    ]
    time_column: Annotated[
        Word | None, _column("Column of the times", "Time", "Of day alone where it has no date.")
    ]
    date_column: Annotated[
        Word | None, _column("Column of the dates, where times stand in their own", "Date")
    ]
    value_column: Annotated[Word | None, _column("Column of what it measures", "Level")]
    temperature_column: Annotated[
        Word | None,
        _column("Column of the temperature of the water beside a stage", "Temperature"),
    ]
    unit: Annotated[
        Word | None,
        Text(
            "Unit of the column",
            example="kPa",
            need="leave",
            help="That of the heading when it is left out.",
        ),
    ]
    date_order: Annotated[
        Word | None,
        Choice(
            "Order in its dates",
            choices=DATE_ORDERS,
            example="month-day-year",
            need="leave",
            help="Needed where no day of the file tells month from day.",
        ),
    ]
    decimals: Annotated[
        Word | None,
        Choice(
            "Mark before its decimals",
            choices=("point", "comma"),
            example="comma",
            need="leave",
            help="Told from the file where it can be.",
        ),
    ]
    time_zone: Annotated[
        Word | None, _zone("That of [monitor] when it is left out, else that of the heading.")
    ]
    clock: Annotated[
        Word | None,
        Choice(
            "What its clock does in summer",
            choices=("switches", "stays"),
            example="stays",
            need="leave",
            help="Stays is standard time all year. Told from the file where the clocks were moved "
            "while it read; what is written here governs.",
        ),
    ]
    clock_ahead: Annotated[
        Number | None,
        Quantity(
            "How far its clock was ahead of the true time",
            kind="time",
            example="4 min",
            low="-26 h",
            high="26 h",
            need="leave",
            how="compare it with a good clock when it is read out",
        ),
    ]
    pressure: Annotated[
        Word | None,
        Choice(
            "Pressure that it reads",
            choices=("absolute", "gauge"),
            example="absolute",
            need="leave",
            help="Absolute holds that of the air, which a second logger takes off.",
        ),
    ]
    barometer: Annotated[
        Word | None,
        Text(
            "Name of the logger of the air pressure",
            example="air",
            need="leave",
            help="The only one there is when it is left out.",
        ),
    ]
    zero: Annotated[
        Number | None,
        elevation(
            "Elevation of the sensor",
            "1179.62 ft",
            need="leave",
            how="level to it when it is hung, or read the water by hand and let the check say",
        ),
    ]
    highest: Annotated[
        Number | None,
        length(
            "Most water that the sensor can read",
            "13 ft",
            need="leave",
            help="Readings at it are marked: the water stood higher.",
        ),
    ]
    correct: Annotated[
        Word | None,
        Choice(
            "What the checks by hand correct",
            choices=("offset and drift", "offset", "nothing"),
            example="offset and drift",
            need="leave",
            help="Offset and drift when it is left out: the difference runs straight from check to "
            "check. Offset is the mean of them all.",
        ),
    ]
    counts: Annotated[
        Word | None,
        Choice(
            "What a row of a rain gauge holds",
            choices=("rain since the row before", "running total"),
            example="running total",
            need="leave",
            help="Told from the file when it is left out.",
        ),
    ]


class ZeroCheck(Table):
    """The water read by hand beside a logger."""

    logger: Annotated[Word, Text("Name of the logger", example="inlet")]
    time: Annotated[
        Word,
        Moment(
            "When it was read",
            example="2028-03-04 10:15",
            help="By the clock on site: the time zone of [monitor], else that of the logger.",
        ),
    ]
    read: Annotated[
        Number,
        elevation(
            "What was read by hand",
            "1181.24 ft",
            how="staff, tape from a known rim, or level",
            help="The elevation of the water; water above the sensor where the logger has no zero.",
        ),
    ]
    by: Annotated[Word | None, Text("By whom", example="R. Lindqvist", need="leave")]


class LabPlaces(Table):
    """What the laboratory calls the places of its samples."""

    inlet: Annotated[Word | None, Text("Inlet", example="CF-IN", need="leave")]
    outlet: Annotated[Word | None, Text("Outlet", example="CF-OUT", need="leave")]
    bypass: Annotated[Word | None, Text("Bypass", example="CF-BYP", need="leave")]
    ditch: Annotated[Word | None, Text("Ditch", example="CF-DITCH", need="leave")]
    field: Annotated[Word | None, Text("Field", example="CF-TILE", need="leave")]
    blank: Annotated[
        Word | None,
        Text("Blank", example="CF-BLANK", need="leave", help="Clean water, carried along."),
    ]


class LabColumns(Table):
    """Headings of the file of the laboratory where they are not ours."""

    sample: Annotated[Word | None, _column("Number of the sample", "Lab ID")]
    place: Annotated[Word | None, _column("Where it was taken", "Client sample")]
    date: Annotated[Word | None, _column("When it was taken", "Collected")]
    time: Annotated[Word | None, _column("Time of day, where it stands alone", "Collected at")]
    result: Annotated[Word | None, _column("Result", "Result")]
    unit: Annotated[Word | None, _column("Unit", "Units")]
    analyte: Annotated[Word | None, _column("What was looked for", "Parameter")]
    species: Annotated[
        Word | None, _column("Whether it is counted as N or as the ion", "Counted as")
    ]
    detection: Annotated[Word | None, _column("Limit of detection", "MDL")]
    qualifier: Annotated[Word | None, _column("Mark beside the result", "Flag")]
    condition: Annotated[
        Word | None, _column("Whether it was detected, where that has its own", "Condition")
    ]
    analysed: Annotated[Word | None, _column("When it was analysed", "Analyzed")]
    start: Annotated[Word | None, _column("Start of a composite", "From")]
    end: Annotated[Word | None, _column("End of a composite", "To")]
    remark: Annotated[Word | None, _column("Remark", "Comment")]


class Lab(Table):
    """Nitrate as the laboratory reports it, over the years that the practice runs."""

    file: Annotated[
        Word | None,
        FileName(
            "File of the laboratory",
            example="lab.csv",
            need="leave",
            help="Text of any separator, one row for each result. A PDF is not read: ask for the "
            "results as CSV.",
        ),
    ]
    species: Annotated[
        Word | None,
        Choice(
            "What its nitrate counts",
            choices=SPECIES,
            example="nitrate as N",
            need="leave",
            help="Needed where no heading, unit or name in the file says so: as the ion it is "
            "4.43 times as much.",
        ),
    ]
    unit: Annotated[
        Word | None,
        Choice(
            "Unit of the results",
            choices=("mg/L", "ug/L", "umol/L"),
            example="mg/L",
            need="leave",
            help="That of the file when it is left out.",
        ),
    ]
    detection: Annotated[
        Number | None,
        Quantity(
            "Limit of detection, as N, where the file has none",
            kind="concentration",
            example="0.05 mg/L",
            low="0 mg/L",
            high="10 mg/L",
            need="leave",
        ),
    ]
    date_order: Annotated[
        Word | None,
        Choice(
            "Order in its dates",
            choices=DATE_ORDERS,
            example="month-day-year",
            need="leave",
            help="Needed where no day of the file tells month from day.",
        ),
    ]
    time_zone: Annotated[Word | None, _zone("That of [monitor] when it is left out.")]
    holding: Annotated[
        Number | None,
        Quantity(
            "Time in which a sample is to be analysed",
            kind="time",
            example="48 h",
            low="1 h",
            high="60 day",
            need="leave",
            help="Commonly 48 h for cooled water and 28 days where acid was added, from memory: "
            "see what the method of the laboratory says. No sample is held against it when it is "
            "left out.",
        ),
    ]
    columns: LabColumns = Field(default_factory=lambda: LabColumns.model_validate({}))
    places: LabPlaces = Field(default_factory=lambda: LabPlaces.model_validate({}))


class Monitor(Table):
    """The span of years that is reported on, and what holds for all its files."""

    from_: Annotated[
        Word | None, Day("First day of the report", example="2028-01-01", need="leave")
    ] = Field(default=None, alias="from")
    to: Annotated[Word | None, Day("Last day of the report", example="2030-12-31", need="leave")]
    time_zone: Annotated[
        Word | None,
        TimeZone(
            "Time zone of the site",
            example="America/Chicago",
            need="leave",
            help="Days are cut by it; files take it where they have none of their own.",
        ),
    ]
    licence: Annotated[
        Word | None,
        Text(
            "Licence under which the data may be used",
            example="CC BY 4.0",
            need="leave",
            help="Printed in the package of data; ask the owner first.",
        ),
    ]
