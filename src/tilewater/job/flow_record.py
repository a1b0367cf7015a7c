# SPDX-License-Identifier: Apache-2.0
"""A measured record of daily drain flow.

The record comes back with every day from its first to its last; a day that was not measured is
not a number there, is counted and reported, and is never filled. What the record says by itself is
computed in `hydrology.flow_record`, from the measured days alone.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import UnitMismatch
from tilewater.basis.findings import Finding
from tilewater.basis.unit_table import UNITS
from tilewater.basis.units import parse_quantity, to_si
from tilewater.job.rows import Row, Sheet, plain_number, read_sheet

MISSING = ("", "na", "nan", "n/a", "-", "missing")
MM_PER_DAY = to_si(1.0, "mm/day")
GAPS_SHOWN = 3
TRACE_MM_PER_DAY = 1e-4
"""Numerical dust of a data logger; no gauge tells it from no flow."""
FLAT_DAYS = 5
"""The largest flow on so many days is a full pipe or a drowned weir rather than chance."""
FEW_VALUES = 60
"""A column with more different values does not name a plot."""
RECORDS_SHOWN = 60
"""Records of one file that are listed to choose from."""
MANY = 20
"""Days that differ, after which the rest says nothing new."""


@dataclass(frozen=True)
class Gap:
    """Days in a row without a value."""

    first: date
    last: date

    @property
    def days(self) -> int:
        """Number of days."""
        return (self.last - self.first).days + 1

    def __str__(self) -> str:
        if self.days == 1:
            return f"{self.first}"
        return f"{self.first} to {self.last} ({self.days} days)"


@dataclass(frozen=True)
class FlowRecord:
    """Daily drain flow as a depth over the drained area.

    Attributes
    ----------
    file : str
    day : array of datetime64[D]
        Every day from the first to the last.
    flow_mm_per_day : array
        Flow; not a number on a day that was not measured. [mm/day]
    gaps : tuple of Gap
    findings : tuple of Finding
    """

    file: str
    day: NDArray[np.datetime64]
    flow_mm_per_day: NDArray[np.float64]
    gaps: tuple[Gap, ...]
    findings: tuple[Finding, ...]

    @property
    def is_measured(self) -> NDArray[np.bool_]:
        """Which of the days were measured."""
        return ~np.isnan(self.flow_mm_per_day)

    @property
    def measured_m_per_s(self) -> NDArray[np.float64]:
        """Flow of the measured days alone, in m/s."""
        return self.flow_mm_per_day[self.is_measured] * MM_PER_DAY


def read_flow_record(
    path: Path,
    *,
    only: Mapping[str, str] | None = None,
    column: str = "flow",
    unit: str | None = None,
    area: float | None = None,
) -> FlowRecord:
    """Daily drain flow of a file.

    Parameters
    ----------
    path : Path
        The file, with a column `date`.
    only : mapping or None
        Rows to take, by column: `{"siteid": "DPAC", "plotid": "SE"}`.
    column : str
        Column of the flow.
    unit : str or None
        Unit of the flow; None where it stands behind the name of the column, `flow [mm/day]`.
    area : float or None
        Drained area, needed for a record in cfs or gpm. [m2]

    Returns
    -------
    FlowRecord
        Every day, with gaps left open.

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    only = {name.casefold(): value for name, value in (only or {}).items()}
    column = column.casefold()
    sheet = read_sheet(path, ("date", column, *only))
    factor = _factor(sheet, column, unit, area)
    rows = _chosen(sheet, only)
    sheet.close()
    values = _by_day(sheet, rows, column, factor)
    sheet.close()
    if all(np.isnan(value) for value in values.values()):
        sheet.fault(None, column, "no day of the record has a value. Check the column of the flow.")
        sheet.close()
    first, last = min(values), max(values)
    day = np.arange(np.datetime64(first, "D"), np.datetime64(last, "D") + 1)
    flow = np.full(day.size, np.nan)
    for when, value in values.items():
        flow[(when - first).days] = value
    gaps = tuple(gaps_of(day, flow))
    traces = (flow != 0) & (np.abs(flow) < TRACE_MM_PER_DAY)
    flow[traces] = 0.0
    findings = (
        *_trace_findings(int(traces.sum())),
        *_repeated(rows),
        *_gap_findings(gaps, day.size),
        *_flat(flow),
    )
    return FlowRecord(path.name, day, flow, gaps, findings)


def _factor(sheet: Sheet, column: str, unit: str | None, area: float | None) -> float:
    """Millimetres a day in one unit of the file; 1 with a fault where it cannot be told."""
    stated = unit if unit is not None else sheet.units[column]
    if not stated:
        message = (
            f"the column '{column}' has no unit. Write it behind the name, like {column} [mm/day]."
        )
        sheet.fault(sheet.line, column, message)
        return 1.0
    try:
        return parse_quantity(f"1 {stated}", "depth_rate") / MM_PER_DAY
    except UnitMismatch:
        pass
    try:
        flow = parse_quantity(f"1 {stated}", "flow")
    except UnitMismatch:
        known = ", ".join(u.name for u in UNITS if u.dimension in ("velocity", "flow"))
        message = f"'{stated}' is neither a depth per day nor a flow. Known: {known}."
        sheet.fault(sheet.line, column, message)
        return 1.0
    if area is None:
        message = (
            f"a flow in {stated} needs the drained area to become a depth. "
            "State the area, or give the record in mm/day."
        )
        sheet.fault(sheet.line, column, message)
        return 1.0
    return flow / area / MM_PER_DAY


def _chosen(sheet: Sheet, only: Mapping[str, str]) -> tuple[Row, ...]:
    rows = tuple(
        row for row in sheet.rows if all(row[name] == value for name, value in only.items())
    )
    if not rows:
        asked = ", ".join(f"{name} {value}" for name, value in only.items())
        there = "; ".join(f"{name}: {_some(sheet.rows, name)}" for name in only)
        sheet.fault(None, "", f"no row has {asked}. The file holds {there}.")
    return rows


def _some(rows: tuple[Row, ...], column: str) -> str:
    return ", ".join(sorted({row[column] for row in rows}))


def _by_day(sheet: Sheet, rows: tuple[Row, ...], column: str, factor: float) -> dict[date, float]:
    values: dict[date, float] = {}
    lines: dict[date, Row] = {}
    undated: list[Row] = []
    for row in rows:
        day, value = _date(row), _value(sheet, row, column, factor)
        if day is None:
            undated.append(row)
        if day is None or value is None:
            continue
        other = lines.setdefault(day, row)
        if row[column] != other[column]:
            several = _several(rows, column, (row, other))
            sheet.fault(
                row.line,
                "date",
                f"{day} has {row[column] or 'no value'} here and {other[column] or 'no value'} on "
                f"line {other.line}. {several or 'Keep one.'}",
            )
            if several:
                break
            if len(sheet.faults) == MANY:
                sheet.fault(row.line, "date", "more days differ; the rest is not listed.")
                break
        values[day] = value
    _tell_undated(sheet, undated)
    return values


def _date(row: Row) -> date | None:
    try:
        return date.fromisoformat(row["date"])
    except ValueError:
        return None


def _tell_undated(sheet: Sheet, rows: list[Row]) -> None:
    """One fault for all rows whose date cannot be read: they are mostly of one form."""
    if rows:
        more = f", nor are {len(rows) - 1} more below it" if len(rows) > 1 else ""
        message = (
            f"date '{rows[0]['date']}' is not a date{more}. Write year-month-day, like 2026-05-14."
        )
        sheet.fault(rows[0].line, "date", message)


def _several(rows: tuple[Row, ...], column: str, differing: tuple[Row, Row]) -> str:
    """Which records a file holds and how to choose one, where two rows are not of the same."""
    values = {
        name: {row[name] for row in rows}
        for name in rows[0].cells
        if name not in ("date", "year", column)
    }
    telling = [
        name
        for name, there in values.items()
        if 1 < len(there) <= FEW_VALUES and _names_a_record(name, there)
    ]
    row, other = differing
    if all(row[name] == other[name] for name in telling):
        return ""
    records = sorted({tuple(f"{name}={row[name]}" for name in telling) for row in rows})
    shown = "; ".join(", ".join(record) for record in records[:RECORDS_SHOWN])
    more = f"; and {len(records) - RECORDS_SHOWN} more" if len(records) > RECORDS_SHOWN else ""
    choice = ", ".join(f'"{part}"' for part in records[0])
    return (
        f"The file holds several records: {shown}{more}. "
        f"Choose one under [drainage] in job.toml, like record_only = [{choice}]."
    )


def _names_a_record(column: str, values: set[str]) -> bool:
    """Whether a column says whose record a row is; numbers do only under such a name."""
    numbered = column.endswith("id") or column in ("plot", "site")
    return numbered or any(plain_number(value) is None for value in values)


def _value(sheet: Sheet, row: Row, column: str, factor: float) -> float | None:
    text = row[column]
    if text.casefold() in MISSING:
        return float("nan")
    value = sheet.number(row, column)
    if value is not None and value * factor <= -TRACE_MM_PER_DAY:
        message = (
            f"{column} {text} is negative. Drain flow is zero or more. Correct it, or write NA."
        )
        sheet.fault(row.line, column, message)
        return None
    return None if value is None else value * factor


def gaps_of(day: NDArray[np.datetime64], flow: NDArray[np.float64]) -> Iterator[Gap]:
    """Runs of days whose value is not a number."""
    missing = np.flatnonzero(np.isnan(flow))
    if missing.size:
        for run in np.split(missing, np.flatnonzero(np.diff(missing) > 1) + 1):
            yield Gap(day[run[0]].astype(object), day[run[-1]].astype(object))


def _gap_findings(gaps: tuple[Gap, ...], days: int) -> Iterator[Finding]:
    if not gaps:
        return
    missing = sum(gap.days for gap in gaps)
    longest = sorted(gaps, key=lambda gap: -gap.days)[:GAPS_SHOWN]
    shown = "; ".join(str(gap) for gap in longest)
    yield Finding(
        "flow-record-gaps",
        "caution",
        "drain flow record",
        f"{missing} of {days} days have no value, in {len(gaps)} "
        f"{'gap' if len(gaps) == 1 else 'gaps'}, the longest {shown}. They are left open; sums "
        "and shares rest on the measured days.",
        value=missing / days,
        unit="-",
    )


def _trace_findings(count: int) -> Iterator[Finding]:
    if count:
        yield Finding(
            "flow-record-traces",
            "note",
            "drain flow record",
            f"{count} {'day has' if count == 1 else 'days have'} less than "
            f"{TRACE_MM_PER_DAY:g} mm/day, above or below zero. No gauge tells that from no flow; "
            "each counts as zero.",
            value=float(count),
        )


def _repeated(rows: tuple[Row, ...]) -> Iterator[Finding]:
    seen: dict[str, Row] = {}
    twice = [row for row in rows if seen.setdefault(row["date"], row) is not row]
    if twice:
        yield Finding(
            "flow-record-day-twice",
            "note",
            "drain flow record",
            f"{len(twice)} {'day stands' if len(twice) == 1 else 'days stand'} twice with the same "
            f"value, the first is {twice[0]['date']} on line {twice[0].line}. Each counts once.",
        )


def _flat(flow: NDArray[np.float64]) -> Iterator[Finding]:
    largest = float(np.nanmax(flow))
    times = int((flow == largest).sum())
    if largest > 0 and times >= FLAT_DAYS:
        yield Finding(
            "flow-record-flat-top",
            "caution",
            "drain flow record",
            f"The largest flow, {largest:.2f} mm/day, stands on {times} days. That is a full pipe, "
            "a drowned weir or the end of the gauge; the true peaks are higher.",
            value=float(times),
            operator="<",
            limit=float(FLAT_DAYS),
        )
