# SPDX-License-Identifier: Apache-2.0
"""Daily weather of one pixel of the gridded data set Daymet, as its CSV has it.

Some lines of words come first (place, tile, elevation, version), then the names of the columns with
their units in parentheses, in no fixed order. Days are counted from 1 January; every year has 365,
so that a leap year has its 29 February and lacks its 31 December. Sunshine is the mean over the
daylight, whose length stands beside it.
"""

import re
from collections.abc import Mapping, Sequence
from datetime import date

from tilewater.job.rows import cells_of, plain_number
from tilewater.job.weather_readings import DEGC, MM, Column, Measure, Readings, Span

DAYMET = "Daymet"
MISSING = -9999.0
YEAR_DAYS = 365

_HEAD = re.compile(r"(?P<name>\w+)\s*(?:\((?P<unit>[^)]*)\))?")
_LATITUDE = re.compile(r"Latitude:\s*(-?\d+(?:\.\d+)?)", re.IGNORECASE)
_ELEVATION = re.compile(r"Elevation:\s*(-?\d+(?:\.\d+)?)\s*(?:m\b|meter)", re.IGNORECASE)
_ELEMENTS: Mapping[str, tuple[str, str, Measure]] = {
    "prcp": ("precipitation", "mm/day", MM),
    "tmax": ("temperature_max", "deg c", DEGC),
    "tmin": ("temperature_min", "deg c", DEGC),
    "vp": ("vapour_actual_kpa", "pa", Measure("Pa", 0.001)),
}
"""Element, unit as the file writes it, and that unit, by the name of the column."""
_SUN, _DAYLIGHT = ("srad", "w/m^2"), ("dayl", "s")
_RADIATION = Measure("MJ/m2/day", 1.0)


def looks_daymet(cells: Sequence[str]) -> bool:
    """Whether a row names the columns of the data set."""
    names = [cell.strip().casefold() for cell in cells[:2]]
    return names == ["year", "yday"]


def read_daymet(readings: Readings, text: str, span: Span) -> None:
    """Read the rows of a pixel into the readings.

    Parameters
    ----------
    readings : Readings
        Takes what is read, and the faults.
    text : str
        The file.
    span : Span
        Days taken.
    """
    if (found := _LATITUDE.search(text)) is not None:
        readings.latitude_deg = float(found[1])
    if (found := _ELEVATION.search(text)) is not None:
        readings.elevation = float(found[1])
    readings.units_advice = "This data set is in mm, degC and W/m^2. Get the file anew."
    rows = list(cells_of(text))
    top = next(number for number, (_, cells) in enumerate(rows) if looks_daymet(cells))
    head_line, head = rows[top]
    place = _columns(readings, head_line, head)
    if readings.faults:
        return
    days = span.ordinals
    for line, cells in rows[top + 1 :]:
        day = _day(readings, line, cells, len(head))
        if day is not None and day in days:
            _row(readings, place, day, line, cells)


def _columns(readings: Readings, line: int, head: Sequence[str]) -> dict[str, int]:
    """Place of each column that is taken; its unit must be the one of the data set."""
    expected = {name: unit for name, (_, unit, _) in _ELEMENTS.items()}
    expected |= dict((_SUN, _DAYLIGHT))
    place: dict[str, int] = {}
    for number, cell in enumerate(head):
        match = _HEAD.fullmatch(cell.strip())
        name = match["name"].casefold() if match else ""
        if match is None or name not in expected:
            continue
        unit = (match["unit"] or "").strip().casefold()
        if unit != expected[name]:
            message = (
                f"the column '{name}' is in '{match['unit'] or ''}'. The data set has it in "
                f"{expected[name]}. Get the file anew, or write it as a plain file."
            )
            readings.fault(line, name, message)
        place[name] = number
        if name in _ELEMENTS:
            element, _, measure = _ELEMENTS[name]
            readings.columns[element] = Column(element, name, measure)
    if {"srad", "dayl"} <= set(place):
        readings.columns["solar_mj_m2_day"] = Column("solar_mj_m2_day", "srad", _RADIATION)
    return place


def _day(readings: Readings, line: int, cells: Sequence[str], wide: int) -> int | None:
    """Ordinal of a row's day; None with a fault where it has none."""
    if len(cells) != wide:
        message = f"the row has {len(cells)} cells for {wide} columns. The file was cut short."
        readings.fault(line, "", f"{message} Get it anew, or take the row out.")
        return None
    year, number = (plain_number(cell) for cell in cells[:2])
    if year is None or number is None or year != int(year) or number != int(number):
        message = f"'{cells[0]}, {cells[1]}' is not a year and a day of the year, like 2025, 134."
        readings.fault(line, "yday", message)
        return None
    if not 1 <= number <= YEAR_DAYS or not 1 <= year <= 9999:
        message = (
            f"day {number:g} of {year:g} is not in the calendar of this data set, which has 365 "
            "days in every year. Correct the row, or take it out."
        )
        readings.fault(line, "yday", message)
        return None
    return date(int(year), 1, 1).toordinal() + int(number) - 1


def _row(
    readings: Readings, place: Mapping[str, int], day: int, line: int, cells: Sequence[str]
) -> None:
    numbers: dict[str, float] = {}
    for name, at in place.items():
        value = plain_number(cells[at])
        if value is None:
            message = f"{name} '{cells[at]}' is not a number. Get the file anew."
            readings.fault(line, name, message)
        elif value != MISSING:
            numbers[name] = value
    for name, (element, _, _) in _ELEMENTS.items():
        if name in numbers:
            readings.columns[element].add(day, numbers[name], line)
    if "srad" in numbers and "dayl" in numbers:
        sun = numbers["srad"] * numbers["dayl"] / 1e6
        readings.columns["solar_mj_m2_day"].add(day, sun, line)
