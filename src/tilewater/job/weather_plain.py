# SPDX-License-Identifier: Apache-2.0
"""Daily weather of a comma-separated file whose first row names the columns with their units.

`date,rain [in],tmax [degF],tmin [degF]`, and what else was measured. A file from elsewhere may call
its columns otherwise; the job file then says which is which.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from tilewater.basis.errors import UnitMismatch
from tilewater.basis.units import parse_quantity
from tilewater.job.flow_record import MISSING
from tilewater.job.rows import Row, Sheet, plain_number, read_sheet
from tilewater.job.weather_readings import Column, Measure, Readings, Span

PLAIN = "plain"
DATE = "date"
TRACES = ("t", "trace")
TRACED = ("precipitation", "snowfall", "snow_depth")
"""Elements that may be there as a trace."""


@dataclass(frozen=True)
class PlainColumn:
    """A column of a plain file: its element, the kinds of its unit and one unit to show."""

    element: str
    kinds: tuple[tuple[str, float], ...]
    example: str


_DEPTH = (("depth", 1.0), ("depth_rate", 86400.0))
_TEMPERATURE = (("temperature", 1.0),)
COLUMNS: Mapping[str, PlainColumn] = {
    "rain": PlainColumn("precipitation", _DEPTH, "in"),
    "tmax": PlainColumn("temperature_max", _TEMPERATURE, "degF"),
    "tmin": PlainColumn("temperature_min", _TEMPERATURE, "degF"),
    "snowfall": PlainColumn("snowfall", _DEPTH, "in"),
    "snow depth": PlainColumn("snow_depth", (("depth", 1.0),), "in"),
    "humidity": PlainColumn("humidity_mean", (("ratio", 1.0),), "%"),
    "humidity max": PlainColumn("humidity_max", (("ratio", 1.0),), "%"),
    "humidity min": PlainColumn("humidity_min", (("ratio", 1.0),), "%"),
    "dew point": PlainColumn("dew_point", _TEMPERATURE, "degF"),
    "vapour pressure": PlainColumn("vapour_actual_kpa", (("pressure", 0.001),), "kPa"),
    "wind": PlainColumn("wind", (("velocity", 1.0),), "mph"),
    "radiation": PlainColumn("solar_mj_m2_day", (("radiation", 1.0),), "MJ/m2/day"),
    "sunshine": PlainColumn("sunshine_hours", (("time", 1.0 / 3600.0),), "h"),
}
"""Columns by the name that they have in a file of ours."""


def read_plain(path: Path, readings: Readings, columns: Mapping[str, str], span: Span) -> None:
    """Read a plain file into the readings.

    Parameters
    ----------
    path : Path
        The file.
    readings : Readings
        Takes what is read, and the faults.
    columns : mapping of str to str
        Headings of the file that are not ours, by our names: `{"rain": "PREC"}`.
    span : Span
        Days taken.

    Raises
    ------
    BadInputFile
        If the file has no rows or lacks a column.
    """
    heading = {name: columns.get(name, name).casefold() for name in (DATE, *COLUMNS)}
    asked = [heading[name] for name in columns]
    sheet = read_sheet(path, (*dict.fromkeys((heading[DATE], *asked)),))
    readings.units_advice = "Correct the unit behind the name of the column, or the values."
    days = _days(sheet, readings, heading[DATE])
    inside = span.ordinals
    rows = [
        (day, row)
        for day, row in zip(days, sheet.rows, strict=True)
        if day is not None and day in inside
    ]
    for name, column in COLUMNS.items():
        if heading[name] in sheet.units:
            _column(sheet, readings, heading[name], column, rows)
    readings.faults.extend(sheet.faults)


def _days(sheet: Sheet, readings: Readings, heading: str) -> list[int | None]:
    """Ordinal of each row; one fault for all rows whose date cannot be read."""
    days: list[int | None] = []
    undated: list[Row] = []
    for row in sheet.rows:
        try:
            days.append(date.fromisoformat(row[heading]).toordinal())
        except ValueError:
            days.append(None)
            undated.append(row)
    if undated:
        more = f", nor are {len(undated) - 1} more below it" if len(undated) > 1 else ""
        message = (
            f"date '{undated[0][heading]}' is not a date{more}. Write year-month-day, like "
            "2026-05-14."
        )
        readings.fault(undated[0].line, heading, message)
    return days


def _column(
    sheet: Sheet,
    readings: Readings,
    heading: str,
    column: PlainColumn,
    rows: list[tuple[int, Row]],
) -> None:
    """Take one column, with a trace as zero."""
    measure = _measure(sheet, readings, heading, column)
    if measure is None:
        return
    kept = readings.columns[column.element] = Column(column.element, heading, measure)
    numbers = {cell: plain_number(cell) for cell in {row[heading] for _, row in rows}}
    for day, row in rows:
        cell = row[heading]
        value = numbers[cell]
        if value is not None:
            kept.add(day, value, row.line)
        elif cell.casefold() in TRACES and column.element in TRACED:
            readings.traces[heading] += 1
            kept.add(day, 0.0, row.line)
        elif cell.casefold() not in (*MISSING, "m"):
            message = (
                f"{heading} '{cell}' is not a number. Write digits, T for a trace of rain or snow, "
                "or leave it blank where nothing was measured."
            )
            readings.fault(row.line, heading, message)


def _measure(sheet: Sheet, readings: Readings, heading: str, column: PlainColumn) -> Measure | None:
    """Unit of a column; None with a fault where it cannot be told."""
    unit = sheet.units[heading]
    if not unit:
        message = (
            f"the column '{heading}' has no unit. Write it behind the name, like "
            f"{heading} [{column.example}]."
        )
        readings.fault(sheet.line, heading, message)
        return None
    wrong: UnitMismatch | None = None
    for kind, factor in column.kinds:
        try:
            one = parse_quantity(f"1 {unit}", kind) * factor
            zero = parse_quantity(f"0 {unit}", kind) * factor
            return Measure(unit, one - zero, zero)
        except UnitMismatch as mismatch:
            wrong = wrong or mismatch
    readings.fault(sheet.line, heading, f"{heading}: {wrong}")
    return None
