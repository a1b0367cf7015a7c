# SPDX-License-Identifier: Apache-2.0
"""Daily weather of the archive GHCN-Daily with a column for each element: the access form.

A comma-separated row a station and day; beside the column of an element one with its flags,
"measured,quality,source". The archive itself gives out whole numbers, most of them tenths; an
order through the web service may come in metric or US units instead, and only whoever ordered it
knows.
"""

from collections.abc import Sequence

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.rows import cells_of
from tilewater.job.weather_archive import (
    MISSING,
    UNITS_ORDERED,
    Archive,
    chosen_station,
    ordinal_of,
)
from tilewater.job.weather_readings import Readings, Span

ACCESS = "GHCN-Daily access"
UNITS = ("tenths", "metric", "standard")

NO_ELEVATION = -900.0
"""Elevations below it stand for one that is not known. [m]"""
ORDERED = (
    'A file that was ordered in other units needs units = "metric" or units = "standard" under '
    "[weather]."
)


def looks_access(head: Sequence[str]) -> bool:
    """Whether the first row is that of the access form."""
    names = {name.strip() for name in head}
    return {"STATION", "DATE"} <= names and bool(names & {"PRCP", "TMAX", "TMIN", "MDPR"})


def refuse_other_summary(file: str, head: Sequence[str]) -> None:
    """Refuse the daily summary of hourly reports, whose column PRCP is in inches."""
    names = {name.strip() for name in head}
    if "FRSHTT" in names and "TEMP" in names:
        message = (
            "it is a daily summary of hourly reports: columns TEMP and FRSHTT, inches and degF, "
            "99.99 where rain is missing and 0.00 where none was reported. Its rain cannot be told "
            "from missing rain. Get GHCN-Daily of the same station."
        )
        raise BadInputFile(Fault(file, 1, "", message))


def read_access(
    readings: Readings, text: str, station: str | None, span: Span, units: str = "tenths"
) -> None:
    """Read rows of a station and day into the readings.

    Parameters
    ----------
    readings : Readings
        Takes what is read, and the faults.
    text : str
        The file.
    station : str or None
        Station taken; needed where the file holds several.
    span : Span
        Days taken.
    units : str
        "tenths" as the archive keeps them, or "metric" or "standard" as ordered.
    """
    archive = Archive(readings, UNITS_ORDERED[units], span)
    readings.units_advice = ORDERED
    (_, head), *rows = cells_of(text)
    place = {name: number for number, name in enumerate(head)}
    wanted = [
        (code, place[code], place.get(f"{code}_ATTRIBUTES"))
        for code in place
        if archive.wants(code)
    ]
    rows = [(line, [*row, *[""] * (len(head) - len(row))]) for line, row in rows]
    chosen = chosen_station(readings, {row[place["STATION"]] for _, row in rows}, station)
    rows = [(line, row) for line, row in rows if row[place["STATION"]] == chosen]
    if rows:
        _place(readings, place, rows[0][1])
    for line, row in rows:
        day = ordinal_of(row[place["DATE"]])
        if day is None:
            message = f"'{row[place['DATE']]}' is not a day, like 2026-05-14."
            readings.fault(line, "DATE", message)
            continue
        for code, at, flags_at in wanted:
            if not row[at]:
                continue
            value = _value(readings, code, row[at], line, units)
            if value is None:
                return
            if value != MISSING:
                flags = [] if flags_at is None else row[flags_at].split(",")
                archive.take(code, day, value, (*map(str.strip, flags), "", "")[:2], line)
    archive.close()


def _value(readings: Readings, code: str, cell: str, line: int, units: str) -> float | None:
    """A value; None with a fault, after which the rest of the file tells nothing new."""
    try:
        value = float(cell)
    except ValueError:
        value = float("nan")
    if value - value != 0:
        message = f"{code} '{cell}' is not a number. Correct it, or leave it blank."
        readings.fault(line, code, message)
        return None
    if units == "tenths" and value != int(value):
        message = (
            f"{code} {cell} is not a whole number, and the archive gives out tenths of mm and of "
            f"degC in whole numbers. {ORDERED}"
        )
        readings.fault(line, code, message)
        return None
    return value


def _place(readings: Readings, place: dict[str, int], row: Sequence[str]) -> None:
    """Latitude and elevation of the station, where the file states them."""
    for name, attribute in (("LATITUDE", "latitude_deg"), ("ELEVATION", "elevation")):
        try:
            value = float(row[place[name]])
        except (KeyError, ValueError):
            continue
        if value > NO_ELEVATION:
            setattr(readings, attribute, value)
