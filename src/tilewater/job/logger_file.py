# SPDX-License-Identifier: Apache-2.0
"""A file of a logger as readings in coherent SI at times in universal time.

What was made of the file is told with it. Where month and day, summer time, a unit, a column or
the kind of a comma cannot be told, the file is at fault until the job says: nothing is guessed.
Zero checks, the pressure of the air and marks come later, in `tasks.measuring_inputs`.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.unit_table import US_SURVEY_FOOT
from tilewater.basis.units import Foot, to_si
from tilewater.job.fields import Wrong
from tilewater.job.logger_clock import universal_times
from tilewater.job.logger_text import LoggerTable, read_table
from tilewater.job.logger_times import Clock, Place, is_date, is_time_alone, read_clock
from tilewater.job.logger_values import (
    ColumnUnit,
    column_by_name,
    column_of,
    numbers_of,
    unit_of,
)
from tilewater.job.times import Zone, zone_in_heading, zone_of

Floats = NDArray[np.float64]
Truths = NDArray[np.bool_]
T = TypeVar("T")

MANY = 10
"""Cells at fault that are listed."""
LOOKED_AT = 50
"""Rows by which columns of times are told."""


@dataclass(frozen=True)
class LoggerAsk:
    """What the job says of a logger; None where it says nothing.

    Attributes
    ----------
    name, measures : str
    time_column, date_column, value_column, temperature_column, unit : str or None
    date_order, decimals, time_zone, clock : str or None
    clock_ahead : float
        Seconds that its clock was ahead. [s]
    foot : str
        What a foot is in an elevation.
    """

    name: str
    measures: str
    time_column: str | None = None
    date_column: str | None = None
    value_column: str | None = None
    temperature_column: str | None = None
    unit: str | None = None
    date_order: str | None = None
    decimals: str | None = None
    time_zone: str | None = None
    clock: str | None = None
    clock_ahead: float = 0.0
    foot: Foot = "international foot"

    @property
    def table(self) -> str:
        """Its table of the job file."""
        return f"logger.{self.name}"


@dataclass(frozen=True)
class Readings:
    """Readings of a logger, ascending in time, blank cells left out.

    Attributes
    ----------
    name, file : str
    time_s : array
        Since 1970-01-01 in universal time. [s]
    value : array
        In coherent SI; Pa where the unit is a pressure.
    temperature : array or None
        Of the water, beside a stage. [degC]
    doubtful : array
        Readings whose time or value one cannot be sure of.
    unit : ColumnUnit
    zone : Zone
    notes : tuple of Finding
    """

    name: str
    file: str
    time_s: Floats
    value: Floats
    temperature: Floats | None
    doubtful: Truths
    unit: ColumnUnit
    zone: Zone
    notes: tuple[Finding, ...]


@dataclass
class _Reader:
    """A file that is read, and what is at fault in it."""

    ask: LoggerAsk
    table: LoggerTable
    faults: list[Fault] = field(default_factory=list)

    def tried(self, where: str, read: Callable[[], T]) -> T | None:
        """What a step gives; None with a fault where it cannot."""
        try:
            return read()
        except BadInputFile as error:
            self.faults.extend(error.faults)
        except Wrong as wrong:
            at = f"{self.ask.table}.{where}"
            message = f"{self.ask.table}: {wrong}"
            self.faults.append(Fault(self.table.file, self.table.head_line, at, message))
        return None


def read_logger(path: Path, ask: LoggerAsk, table: LoggerTable | None = None) -> Readings:
    """Readings of a file.

    Parameters
    ----------
    path : Path
        The file.
    ask : LoggerAsk
        What the job says of it.
    table : LoggerTable or None
        Its table where it is read already, for another quantity.

    Returns
    -------
    Readings
        In their order, and what was made of the file.

    Raises
    ------
    BadInputFile
        With every fault of the file.
    """
    reader = _Reader(ask, read_table(path) if table is None else table)
    at = reader.tried("time_column", lambda: _time_columns(reader.table, ask))
    clock = None if at is None else reader.tried("date_order", lambda: _clock(reader, *at))
    zone = reader.tried("time_zone", lambda: _zone(reader.table, ask, at, clock))
    column = None if at is None else reader.tried("value_column", lambda: _column(reader, at))
    unit = None if column is None else reader.tried("unit", lambda: _unit(reader, column))
    values = None if column is None else reader.tried("decimals", lambda: _values(reader, column))
    if at is None or clock is None or zone is None or unit is None or values is None:
        raise BadInputFile(*reader.faults)
    warm = _temperature(reader, (*at, column or 0))
    timed = reader.tried("clock", lambda: _universal(clock, zone, ask))
    if timed is None or reader.faults:
        raise BadInputFile(*reader.faults)
    time_s, doubtful, notes = timed
    told = [*_told(reader, clock, zone, column or 0), *notes]
    return _in_order(reader, (time_s, values, warm, doubtful), unit, zone, told)


def _time_columns(table: LoggerTable, ask: LoggerAsk) -> tuple[int, ...]:
    """Columns of the time: one, or those of date and time of day."""
    if ask.time_column is not None:
        at = column_by_name(table, ask.time_column)
        return (at,) if ask.date_column is None else (column_by_name(table, ask.date_column), at)
    dated = [i for i, column in enumerate(table.columns) if all(map(is_date, column[:LOOKED_AT]))]
    if ask.date_column is not None:
        dated = [column_by_name(table, ask.date_column)]
    if not dated:
        raise Wrong("none of its columns holds dates in every row. Name it as time_column.")
    day = dated[0]
    if any(":" in cell for cell in table.column(day)[:LOOKED_AT]):
        return (day,)
    alone = [
        i
        for i, column in enumerate(table.columns)
        if i != day and all(map(is_time_alone, column[:LOOKED_AT]))
    ]
    return (day, alone[0]) if alone else (day,)


def _clock(reader: _Reader, day: int, time: int | None = None) -> Clock:
    table, ask = reader.table, reader.ask
    place = Place(table.file, table.lines, ask.table)
    if time is None:
        return read_clock(table.column(day), place, order=ask.date_order)
    dates = table.column(day)
    return read_clock(table.column(time), place, dates=dates, order=ask.date_order)


def _zone(
    table: LoggerTable, ask: LoggerAsk, at: tuple[int, ...] | None, clock: Clock | None
) -> Zone:
    if ask.time_zone is not None:
        return zone_of(ask.time_zone)
    for column in at or ():
        if (zone := zone_in_heading(table.heads[column])) is not None:
            return zone
    if clock is not None and clock.ahead_s is not None:
        return zone_of("UTC")
    raise Wrong(
        "nothing says in which time zone its times are. Write time_zone under it or under "
        '[monitor], like "-6 h", which stays the same all year, or like "America/Chicago".'
    )


def _column(reader: _Reader, at: tuple[int, ...]) -> int:
    ask = reader.ask
    if ask.value_column is not None:
        return column_by_name(reader.table, ask.value_column)
    return column_of(reader.table, ask.measures, at)


def _unit(reader: _Reader, column: int) -> ColumnUnit:
    ask = reader.ask
    unit = unit_of(ask.measures, ask.unit, reader.table.heads[column])
    if ask.measures == "level" and ask.foot == "us survey foot" and unit.factor == to_si(1.0, "ft"):
        return ColumnUnit(unit.words, float(US_SURVEY_FOOT))
    return unit


def _values(reader: _Reader, column: int) -> Floats:
    table = reader.table
    cells = table.column(column)
    values, wrong = numbers_of(cells, table.lines, reader.ask.decimals, table.separator)
    head = table.heads[column]
    for line, cell in wrong[:MANY]:
        message = f"{head}: '{cell}' is not a number. Leave it blank where nothing was read."
        reader.faults.append(Fault(table.file, line, head, message))
    if len(wrong) > MANY:
        message = f"{len(wrong) - MANY} more cells of {head} are no numbers."
        reader.faults.append(Fault(table.file, wrong[MANY][0], head, message))
    if not wrong and np.isnan(values).all():
        message = f"no row of {head} has a value. Check which column is meant."
        reader.faults.append(Fault(table.file, table.head_line, head, message))
    return values


def _temperature(reader: _Reader, taken: tuple[int, ...]) -> Floats | None:
    """Temperature of the water in a column beside a stage; None where there is none."""
    ask, table = reader.ask, reader.table
    if ask.measures not in ("stage", "level"):
        return None
    if ask.temperature_column is None:
        try:
            column = column_of(table, "temperature", taken)
            unit = unit_of("temperature", None, table.heads[column])
        except Wrong:
            return None
    else:
        named = ask.temperature_column
        at = reader.tried("temperature_column", lambda: column_by_name(table, named))
        if at is None:
            return None
        column = at
        said = reader.tried(
            "temperature_column", lambda: unit_of("temperature", None, table.heads[column])
        )
        if said is None:
            return None
        unit = said
    read = reader.tried("temperature_column", lambda: _values(reader, column))
    return None if read is None else read * unit.factor + unit.zero


def _universal(
    clock: Clock, zone: Zone, ask: LoggerAsk
) -> tuple[Floats, Truths, tuple[Finding, ...]]:
    if clock.ahead_s is not None:
        time_s = clock.local_s - clock.ahead_s
        return time_s - ask.clock_ahead, np.zeros(time_s.size, bool), ()
    local = clock.local_s
    is_newest_first = local.size > 2 and np.sum(np.diff(local) < 0) > np.sum(np.diff(local) > 0)
    timed = universal_times(local[::-1] if is_newest_first else local, zone, ask.clock, ask.name)
    back = slice(None, None, -1 if is_newest_first else 1)
    return timed.time_s[back] - ask.clock_ahead, timed.doubtful[back], timed.notes


def _told(reader: _Reader, clock: Clock, zone: Zone, column: int) -> list[Finding]:
    """What was made of the file, as one note."""
    ask, table = reader.ask, reader.table
    words = [f"{table.file}, {len(table.lines)} rows:", *table.told, *clock.told]
    words.append(f"{ask.measures.capitalize()} is the column '{table.heads[column]}'.")
    if clock.ahead_s is not None:
        words.append("Its times say themselves how far they are from universal time.")
    elif ask.time_zone is None:
        words.append(f"The heading says that its clock is at {zone.words}.")
    if ask.clock_ahead:
        words.append(f"{abs(ask.clock_ahead) / 60:.3g} min are taken off its clock as stated.")
    notes = [Finding("logger-read", "note", ask.name, " ".join(words))]
    said = [zone_in_heading(head) for head in table.heads]
    other = next((each for each in said if each is not None), None)
    if ask.time_zone is not None and other is not None and not _agree(zone, other):
        notes.append(
            Finding(
                "logger-zone-against",
                "caution",
                ask.name,
                f"The job says {zone.words}, the heading {other.words}. The word of the job is "
                "kept. Correct one of them.",
            )
        )
    return notes


def _agree(zone: Zone, other: Zone) -> bool:
    """Whether a zone is at such a distance in winter or in summer."""
    return any(zone.offset_s(day) == other.offset_s(day) for day in (1.8309e9, 1.8467e9))


_Columns = tuple[Floats, Floats, Floats | None, Truths]


def _in_order(
    reader: _Reader, columns: _Columns, unit: ColumnUnit, zone: Zone, told: list[Finding]
) -> Readings:
    """Readings by time, each time once; blank cells out."""
    time_s, value, warm, doubtful = columns
    name = reader.ask.name
    read = ~np.isnan(value)
    blank = int((~read).sum())
    time_s, value, doubtful = time_s[read], value[read], doubtful[read].copy()
    warm = None if warm is None else warm[read]
    backward = int(np.sum(np.diff(time_s) < 0))
    newest_first = time_s.size > 2 and backward > (time_s.size - 1) / 2
    order = np.argsort(time_s, kind="stable")
    time_s, value, doubtful = time_s[order], value[order], doubtful[order]
    warm = None if warm is None else warm[order]
    same = np.concatenate(([False], np.diff(time_s) == 0.0))
    differing = same & np.concatenate(([False], np.diff(value) != 0.0))
    for i in np.flatnonzero(differing):
        doubtful[np.flatnonzero(~same[: i + 1])[-1]] = True
    kept = ~same
    told += _order_notes(name, blank, 0 if newest_first else backward, same, differing)
    if newest_first:
        told.append(_note("logger-newest-first", name, f"{name} has its newest reading first."))
    return Readings(
        name,
        reader.table.file,
        time_s[kept],
        value[kept] * unit.factor + unit.zero,
        None if warm is None else warm[kept],
        doubtful[kept],
        unit,
        zone,
        tuple(told),
    )


def _note(code: str, name: str, message: str) -> Finding:
    return Finding(code, "note", name, message)


def _order_notes(
    name: str, blank: int, backward: int, same: Truths, differing: Truths
) -> list[Finding]:
    found = []
    if blank:
        message = f"{blank} rows of {name} have no value and are left out."
        found.append(_note("logger-blank", name, message))
    if backward:
        message = f"{name} goes back in time {backward} times; its readings are put in order."
        found.append(_note("logger-order", name, message))
    twice = int(same.sum() - differing.sum())
    if twice:
        message = f"{twice} readings of {name} stand twice with one value; each counts once."
        found.append(_note("logger-twice", name, message))
    if differing.any():
        found.append(
            Finding(
                "logger-twice-differs",
                "caution",
                name,
                f"{int(differing.sum())} times of {name} have two values. The first in the file is "
                "kept and marked as doubted. Look whether two files were put together.",
            )
        )
    return found
