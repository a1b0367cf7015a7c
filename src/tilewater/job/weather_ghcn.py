# SPDX-License-Identifier: Apache-2.0
"""Daily weather of the archive GHCN-Daily: files of fixed width, and rows by station.

Fixed width (`.dly`): one line a station, month and element; a value of five characters and three
flags for each of 31 days. By station: a comma-separated row a station, day and element. What the
elements and flags mean is said in `weather_archive`; the form with a column for each element is
read by `weather_access`.
"""

import calendar
import re
from datetime import date

from tilewater.job.rows import cells_of
from tilewater.job.weather_archive import (
    AS_GIVEN_OUT,
    MISSING,
    UNITS_ORDERED,
    Archive,
    chosen_station,
    not_whole,
    ordinal_of,
)
from tilewater.job.weather_readings import Readings, Span

FIXED_WIDTH = "GHCN-Daily fixed width"
BY_STATION = "GHCN-Daily by station"

DAY_CELLS = 31
FIRST_VALUE, CELL, VALUE_WIDTH = 21, 8, 5
"""Where the first value begins, how far the next one is, and how wide it is, in characters."""

_FIXED = re.compile(r"[A-Z0-9_\-]{11}\d{4}\d{2}[A-Z0-9]{4}")
_ROW = re.compile(r'"?[A-Z0-9_\-]{11}"?,"?\d{8}"?,"?[A-Z0-9]{4}"?,')


def looks_fixed_width(line: str) -> bool:
    """Whether a line is one of the fixed-width form."""
    return bool(_FIXED.match(line)) and len(line) > FIRST_VALUE + CELL


def looks_by_station(line: str) -> bool:
    """Whether a line is a row of the by-station form."""
    return bool(_ROW.match(line)) or line.upper().startswith("ID,DATE,ELEMENT,")


def read_fixed_width(readings: Readings, text: str, station: str | None, span: Span) -> None:
    """Read a file of fixed width into the readings.

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
    """
    archive = Archive(readings, UNITS_ORDERED["tenths"], span)
    readings.units_advice = AS_GIVEN_OUT
    lines = [(number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    chosen = chosen_station(
        readings, {line[:11] for _, line in lines if _FIXED.match(line)}, station
    )
    for number, line in lines:
        if not _FIXED.match(line):
            message = (
                f"'{line[:21].strip()}' does not begin with station, year, month and element in "
                "21 characters. Get the file anew, or take the line out."
            )
            readings.fault(number, "", message)
        elif line[:11] == chosen and archive.wants(line[17:21]):
            _month(archive, number, line)
    archive.close()


def _month(archive: Archive, number: int, line: str) -> None:
    """Take the days of one line."""
    readings, code = archive.readings, line[17:21]
    year, month = int(line[11:15]), int(line[15:17])
    if not 1 <= month <= 12 or year < 1:
        readings.fault(number, code, f"'{line[11:17]}' is not a year and a month, like 202605.")
        return
    length = calendar.monthrange(year, month)[1]
    if len(line) < FIRST_VALUE + CELL * (length - 1) + VALUE_WIDTH:
        message = (
            f"the line ends after {len(line)} characters, within the {length} days of "
            f"{year}-{month:02}. A whole line has 269. Get the file anew, or take the line out."
        )
        readings.fault(number, code, message)
        return
    padded = line.ljust(FIRST_VALUE + CELL * DAY_CELLS)
    first = date(year, month, 1).toordinal()
    for day in range(DAY_CELLS):
        at = FIRST_VALUE + CELL * day
        cell = padded[at : at + VALUE_WIDTH]
        try:
            value = int(cell) if cell.strip() or day < length else MISSING
        except ValueError:
            message = (
                f"{code} '{cell.strip()}' of day {day + 1} is not a whole number. The columns have "
                f"shifted, or the line was edited. A value stands in {VALUE_WIDTH} characters, "
                "its three flags behind it."
            )
            readings.fault(number, code, message)
            return
        if value == MISSING:
            continue
        if day >= length:
            message = (
                f"{code} has a value on day {day + 1}, and {year}-{month:02} has {length} days. "
                "Write -9999 there."
            )
            readings.fault(number, code, message)
            return
        flags = padded[at + VALUE_WIDTH].strip(), padded[at + VALUE_WIDTH + 1].strip()
        archive.take(code, first + day, value, flags, number)


def read_by_station(readings: Readings, text: str, station: str | None, span: Span) -> None:
    """Read rows of station, day, element, value and flags into the readings.

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
    """
    archive = Archive(readings, UNITS_ORDERED["tenths"], span)
    readings.units_advice = AS_GIVEN_OUT
    rows = [(n, cells) for n, cells in cells_of(text) if cells[:1] != ["ID"]]
    chosen = chosen_station(readings, {cells[0] for _, cells in rows if len(cells) >= 4}, station)
    for number, cells in rows:
        if len(cells) < 4:
            message = (
                f"the row has {len(cells)} cells. Station, day, element and value are needed, "
                "then three flags. Get the file anew, or take the row out."
            )
            readings.fault(number, "", message)
            continue
        if cells[0] != chosen or not archive.wants(cells[2]):
            continue
        day = ordinal_of(cells[1])
        if day is None:
            message = f"'{cells[1]}' is not a day, like 20260514."
            readings.fault(number, cells[2], message)
            continue
        try:
            value = int(cells[3])
        except ValueError:
            readings.fault(number, cells[2], not_whole(cells[2], cells[3], AS_GIVEN_OUT))
            continue
        if value != MISSING:
            archive.take(cells[2], day, value, (*cells[4:6], "", "")[:2], number)
    archive.close()
