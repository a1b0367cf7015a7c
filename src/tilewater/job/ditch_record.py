# SPDX-License-Identifier: Apache-2.0
"""A measured series of the water level in the ditch, one reading a day or more.

Readings become elevations, the zero of the staff or logger added, and come back day by day: the
mean and the highest of each day. A day without a reading is not a number, is counted and reported,
and is never filled. What cannot be a level of this ditch is a fault with its line: most often the
zero of the gauge is missing, or the unit is another.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from statistics import median

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import UnitMismatch
from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.units import Foot, from_si, parse_quantity, to_si
from tilewater.job.flow_record import GAPS_SHOWN, MANY, MISSING, Gap, gaps_of
from tilewater.job.rows import Row, Sheet, plain_number, read_sheet

COLUMN = "stage"
DRY = to_si(0.5, "ft")
"""So far below the bottom a logger in a dry ditch, or a hole in its bed, may read."""
OVER_BANK = to_si(3.0, "ft")
"""So far above the bank top a flood may stand; more is hardly a reading."""
SMALL_UNITS = ("in", "mm", "cm")
"""Units in which nobody states an elevation."""


@dataclass(frozen=True)
class Place:
    """What is known of the ditch, to tell readings that cannot be of it; None where unknown.

    Attributes
    ----------
    bottom, bank_top : float or None
        Elevations. [m]
    """

    bottom: float | None = None
    bank_top: float | None = None


@dataclass(frozen=True)
class StageRecord:
    """Water level of the ditch, day by day.

    Attributes
    ----------
    file : str
    day : array of datetime64[D]
        Every day from the first to the last.
    stage, highest : array
        Mean and highest reading of each day; not a number on a day without one. [m]
    readings : int
    gaps : tuple of Gap
    findings : tuple of Finding
    """

    file: str
    day: NDArray[np.datetime64]
    stage: NDArray[np.float64]
    highest: NDArray[np.float64]
    readings: int
    gaps: tuple[Gap, ...]
    findings: tuple[Finding, ...]

    @property
    def is_measured(self) -> NDArray[np.bool_]:
        """Which of the days have a reading."""
        return ~np.isnan(self.stage)


@dataclass(frozen=True)
class _Reading:
    row: Row
    day: date
    level: float


def read_stage_record(
    path: Path,
    *,
    gauge_zero: float | None = None,
    place: Place | None = None,
    foot: Foot = "international foot",
) -> StageRecord:
    """Water level of the ditch of a file.

    Parameters
    ----------
    path : Path
        The file, with the columns `date`, written year-month-day with or without a time, and
        `stage [ft]`.
    gauge_zero : float or None
        Elevation of the zero of the readings; None where they are elevations. [m]
    place : Place or None
        Bottom and bank top of the ditch.
    foot : "international foot" or "us survey foot"
        What `ft` means in an elevation.

    Returns
    -------
    StageRecord
        Every day, with gaps left open.

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    sheet = read_sheet(path, ("date", COLUMN))
    place = Place() if place is None else place
    factor = _factor(sheet, gauge_zero, foot)
    sheet.close()
    readings = _readings(sheet, factor, 0.0 if gauge_zero is None else gauge_zero, foot)
    sheet.close()
    if not readings:
        sheet.fault(None, COLUMN, "no row has a value. Check the column of the stage.")
        sheet.close()
    if not _tell_other_zero(sheet, readings, place, gauge_zero):
        _tell_impossible(sheet, readings, place)
    sheet.close()
    day, stage, highest = _by_day(readings)
    gaps = tuple(gaps_of(day, stage))
    findings = (*_gap_findings(gaps, day.size), *_level_findings(readings, place))
    return StageRecord(path.name, day, stage, highest, len(readings), gaps, findings)


def _factor(sheet: Sheet, gauge_zero: float | None, foot: Foot) -> float:
    """Metres in one unit of the column; 1 with a fault where it cannot be told."""
    unit = sheet.units[COLUMN]
    if not unit:
        message = f"the column '{COLUMN}' has no unit. Write it behind the name, like stage [ft]."
        sheet.fault(sheet.line, COLUMN, message)
        return 1.0
    try:
        factor = parse_quantity(f"1 {unit}", "elevation", foot=foot)
    except UnitMismatch as wrong:
        sheet.fault(sheet.line, COLUMN, f"{COLUMN}: {wrong}")
        return 1.0
    if gauge_zero is None and any(factor == to_si(1.0, small) for small in SMALL_UNITS):
        message = (
            f"a stage in {_spoken(unit)} counts from the zero of a staff or logger, not from the "
            "datum. State the elevation of that zero as gauge_zero under [ditch] in job.toml."
        )
        sheet.fault(sheet.line, COLUMN, message)
    return factor


def _readings(sheet: Sheet, factor: float, zero: float, foot: Foot) -> list[_Reading]:
    found: list[_Reading] = []
    seen: dict[tuple[str, str], Row] = {}
    undated: list[Row] = []
    for row in sheet.rows:
        when = _date(row)
        if when is None:
            undated.append(row)
            continue
        other = seen.setdefault((row["date"], row["time"]), row)
        if other is not row:
            if row[COLUMN] != other[COLUMN] and len(sheet.faults) < MANY:
                sheet.fault(
                    row.line,
                    "date",
                    f"{row['date']} has {row[COLUMN] or 'no value'} here and "
                    f"{other[COLUMN] or 'no value'} on line {other.line}. Keep one, or write the "
                    "time of each.",
                )
            continue
        if row[COLUMN].casefold() in MISSING:
            continue
        number = plain_number(row[COLUMN])
        level = (
            sheet.quantity(row, COLUMN, "elevation", foot=foot)
            if number is None
            else number * factor
        )
        if level is not None:
            found.append(_Reading(row, when, level + zero))
    _tell_undated(sheet, undated)
    return found


def _date(row: Row) -> date | None:
    try:
        return datetime.fromisoformat(row["date"]).date()
    except ValueError:
        return None


def _tell_undated(sheet: Sheet, rows: list[Row]) -> None:
    """One fault for all rows whose date cannot be read: they are mostly of one form."""
    if rows:
        more = f", nor are {len(rows) - 1} more below it" if len(rows) > 1 else ""
        message = (
            f"date '{rows[0]['date']}' is not a date{more}. Write year-month-day, like "
            "2026-05-14, or with the time, like 2026-05-14 13:30."
        )
        sheet.fault(rows[0].line, "date", message)


def _tell_other_zero(
    sheet: Sheet, readings: list[_Reading], place: Place, gauge_zero: float | None
) -> bool:
    """One fault where the readings as a whole are not of this ditch; whether there was one."""
    if place.bottom is None or place.bank_top is None:
        return False
    middle = median(reading.level for reading in readings)
    if place.bottom - DRY <= middle <= place.bank_top + OVER_BANK:
        return False
    first = readings[0].row
    where = "below the bottom" if middle < place.bottom else "above the bank top"
    end = place.bottom if middle < place.bottom else place.bank_top
    advice = (
        "The readings count from another zero. State the elevation of that zero as gauge_zero "
        "under [ditch] in job.toml."
        if gauge_zero is None
        else f"Check gauge_zero under [ditch], {_ft(gauge_zero)}, and the unit of the column."
    )
    sheet.fault(
        first.line,
        COLUMN,
        f"{COLUMN} {first[COLUMN]} {sheet.units[COLUMN]} and the rest, {_ft(middle)} in the "
        f"middle, lie {_ft(abs(middle - end))} {where} of the ditch at {_ft(end)}. "
        f"{advice}{_other_unit(readings, place, sheet.units[COLUMN], gauge_zero)}",
    )
    return True


def _other_unit(readings: list[_Reading], place: Place, unit: str, gauge_zero: float | None) -> str:
    """What unit would bring the readings into the ditch, as a sentence; or nothing."""
    if gauge_zero is None or place.bottom is None or place.bank_top is None:
        return ""
    middle = median(reading.level for reading in readings) - gauge_zero
    for other in ("in", "ft", "cm", "m"):
        level = gauge_zero + from_si(middle, unit) * to_si(1.0, other)
        if other != unit and place.bottom <= level <= place.bank_top:
            unit_meant = _spoken(other)
            return f" Read in {unit_meant} the middle would be {_ft(level)}: is it stage [{other}]?"
    return ""


def _tell_impossible(sheet: Sheet, readings: list[_Reading], place: Place) -> None:
    """A fault for each reading far under the bottom of the ditch."""
    if place.bottom is None:
        return
    for reading in readings:
        under = place.bottom - reading.level
        if under <= DRY:
            continue
        row = reading.row
        sheet.fault(
            row.line,
            COLUMN,
            f"{COLUMN} {row[COLUMN]} {sheet.units[COLUMN]} is {_ft(under)} below the bottom of the "
            f"ditch at {_ft(place.bottom)}. Water cannot stand there. Correct it, or write NA.",
        )
        if len(sheet.faults) == MANY:
            sheet.fault(row.line, COLUMN, "more readings are below it; the rest is not listed.")
            return


def _by_day(
    readings: list[_Reading],
) -> tuple[NDArray[np.datetime64], NDArray[np.float64], NDArray[np.float64]]:
    first = min(reading.day for reading in readings)
    last = max(reading.day for reading in readings)
    day = np.arange(np.datetime64(first, "D"), np.datetime64(last, "D") + 1)
    place = np.array([(reading.day - first).days for reading in readings])
    level = np.array([reading.level for reading in readings])
    count = np.bincount(place, minlength=day.size)
    total = np.bincount(place, weights=level - level[0], minlength=day.size)
    stage = np.full(day.size, np.nan)
    stage[count > 0] = total[count > 0] / count[count > 0] + level[0]
    highest = np.full(day.size, -np.inf)
    np.maximum.at(highest, place, level)
    highest[count == 0] = np.nan
    return day, stage, highest


def _gap_findings(gaps: tuple[Gap, ...], days: int) -> Iterator[Finding]:
    if not gaps:
        return
    missing = sum(gap.days for gap in gaps)
    longest = sorted(gaps, key=lambda gap: -gap.days)[:GAPS_SHOWN]
    shown = "; ".join(str(gap) for gap in longest)
    yield Finding(
        "ditch-series-gaps",
        "caution",
        "ditch series",
        f"{missing} of {days} days have no reading of the ditch, in {len(gaps)} "
        f"{'gap' if len(gaps) == 1 else 'gaps'}, the longest {shown}. They are left open. A logger "
        "that stops in a flood leaves out the levels that matter most.",
        value=missing / days,
        unit="-",
    )


def _level_findings(readings: list[_Reading], place: Place) -> Iterator[Finding]:
    lowest = min(readings, key=lambda reading: reading.level)
    if place.bottom is not None and lowest.level < place.bottom:
        count = sum(reading.level < place.bottom for reading in readings)
        yield Finding(
            "ditch-series-under-bottom",
            "note",
            "ditch series",
            f"{count} {'reading is' if count == 1 else 'readings are'} up to "
            f"{_ft(place.bottom - lowest.level)} under the bottom of the ditch, the lowest on line "
            f"{lowest.row.line}. The ditch was dry, the logger stands in a hole, or its zero has "
            "moved. Check the zero at the next visit.",
            value=lowest.level,
            operator=">=",
            limit=place.bottom,
            unit="m",
        )
    top = max(readings, key=lambda reading: reading.level)
    if place.bank_top is not None and top.level > place.bank_top:
        yield Finding(
            "ditch-series-over-bank",
            "caution",
            "ditch series",
            f"The highest reading, {feet(top.level)} on line {top.row.line}, is "
            f"{feet(top.level - place.bank_top)} above the bank top. A flood over the banks, or a "
            "wrong reading; look at the days around it.",
            value=top.level,
            operator="<=",
            limit=place.bank_top,
            unit="m",
        )


def _spoken(unit: str) -> str:
    return "inches" if unit == "in" else unit


def _ft(metres: float) -> str:
    return f"{from_si(metres, 'ft'):.2f} ft"
