# SPDX-License-Identifier: Apache-2.0
"""The table of the job file about the weather: its file, its place, how its gaps are filled."""

from typing import Annotated

from pydantic import Field

from tilewater.hydrology.weather_gaps import RULES
from tilewater.job.fields import Quantity
from tilewater.job.schema_site import elevation, length
from tilewater.job.tables import Number, Table, Word
from tilewater.job.weather import KINDS
from tilewater.job.weather_access import UNITS
from tilewater.job.words import Choice, Day, FileName, Text


def _heading(title: str, example: str) -> Text:
    return Text(title, example=example, need="leave")


class WeatherColumns(Table):
    """Headings of a plain weather file where they are not ours."""

    date: Annotated[Word | None, _heading("Day", "DAY")]
    rain: Annotated[Word | None, _heading("Rain and melted snow", "PREC")]
    tmax: Annotated[Word | None, _heading("Highest temperature", "TX")]
    tmin: Annotated[Word | None, _heading("Lowest temperature", "TN")]
    snowfall: Annotated[Word | None, _heading("Fresh snow of the day", "SNOW")]
    snow_depth: Annotated[Word | None, _heading("Snow on the ground", "DEPTH")]
    humidity: Annotated[Word | None, _heading("Mean relative humidity", "RH")]
    humidity_max: Annotated[Word | None, _heading("Highest relative humidity", "RHX")]
    humidity_min: Annotated[Word | None, _heading("Lowest relative humidity", "RHN")]
    dew_point: Annotated[Word | None, _heading("Mean dew point", "DEW")]
    vapour_pressure: Annotated[Word | None, _heading("Mean vapour pressure", "VP")]
    wind: Annotated[Word | None, _heading("Mean wind", "WIND")]
    radiation: Annotated[Word | None, _heading("Radiation of the sun", "RAD")]
    sunshine: Annotated[Word | None, _heading("Bright sunshine", "SUN")]


class WeatherTable(Table):
    """Daily weather of the place, for the years of drain flow that are computed from it."""

    file: Annotated[
        Word | None,
        FileName(
            "File of daily weather",
            example="weather.csv",
            need="leave",
            help="GHCN-Daily in any of its three forms, a pixel of Daymet, or a plain file whose "
            "first row names the columns: date, written year-month-day, rain, tmax and tmin with "
            "their units in brackets, such as rain [in], and what else is recorded: snowfall, "
            "snow depth, humidity, humidity max, humidity min, dew point, vapour pressure, wind, "
            "radiation, sunshine. T is a trace; a day without a value is left blank or NA.",
        ),
    ]
    kind: Annotated[
        Word | None,
        Choice(
            "Form of the file",
            choices=KINDS,
            example=KINDS[0],
            need="leave",
            help="Recognised when it is left out.",
        ),
    ]
    units: Annotated[
        Word | None,
        Choice(
            "Units of a file of the access form",
            choices=UNITS,
            example="standard",
            need="leave",
            help="Tenths of mm and of degC when it is left out, as the archive keeps them. Metric "
            "is mm and degC, standard is inches and degF; only the order of the file says which.",
        ),
    ]
    station: Annotated[
        Word | None,
        Text(
            "Station whose weather is taken",
            example="USC00000000",
            need="leave",
            help="Needed where a file holds several.",
        ),
    ]
    from_: Annotated[
        Word | None, Day("First day taken of the file", example="1996-01-01", need="leave")
    ] = Field(default=None, alias="from")
    to: Annotated[
        Word | None, Day("Last day taken of the file", example="2025-12-31", need="leave")
    ]
    latitude: Annotated[
        Number | None,
        Quantity(
            "Latitude of the field, north positive",
            kind="angle",
            example="42.6 deg",
            low="-66 deg",
            high="66 deg",
            need="leave",
            help="That of the file when it is left out and the file has one.",
        ),
    ]
    elevation: Annotated[
        Number | None,
        elevation(
            "Elevation of the station",
            "1180 ft",
            need="leave",
            help="That of the file, else the ground at the bed, when it is left out.",
        ),
    ]
    wind_height: Annotated[
        Number | None,
        length(
            "Height of the wind gauge above the ground",
            "10 m",
            low="1 ft",
            high="100 ft",
            need="leave",
            help="Wind is not used when it is left out.",
        ),
    ]
    undercatch: Annotated[
        Number | None,
        Quantity(
            "Snow that falls over what the gauge catches of it",
            kind="number",
            example="1.2",
            low="1",
            high="2.5",
            need="leave",
            help="The default of the program when it is left out. 1 where the record is corrected "
            "or gridded already.",
        ),
    ]
    fill: Annotated[
        Word | None,
        Choice(
            "Rule that fills days without a value",
            choices=RULES,
            example="zero rain",
            need="leave",
            help="Nothing is filled when it is left out, and a day without rain or temperature is "
            "then a fault. How many days were filled is always told.",
        ),
    ]
    fill_rest: Annotated[
        Word | None,
        Choice(
            "Rule that fills what is not rain",
            choices=tuple(rule for rule in RULES if rule != "zero rain"),
            example="nearest days",
            need="leave",
            help="That of fill when it is left out.",
        ),
    ]
    columns: WeatherColumns = Field(default_factory=lambda: WeatherColumns.model_validate({}))
