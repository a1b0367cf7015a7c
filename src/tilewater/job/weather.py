# SPDX-License-Identifier: Apache-2.0
"""A weather file of the job folder, whatever its form, as a record of every day.

The form is recognised by what the first lines hold. A day without a value stays without one here;
a rule that fills it is applied where the job names one. The forms themselves are read by
`weather_ghcn`, `weather_access`, `weather_daymet` and `weather_plain`.
"""

import csv
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.hydrology.weather import ELEMENTS, NEEDED, Weather
from tilewater.hydrology.weather_gaps import TRADE
from tilewater.job.rows import file_text
from tilewater.job.weather_access import ACCESS, looks_access, read_access, refuse_other_summary
from tilewater.job.weather_daymet import DAYMET, looks_daymet, read_daymet
from tilewater.job.weather_ghcn import (
    BY_STATION,
    FIXED_WIDTH,
    looks_by_station,
    looks_fixed_width,
    read_by_station,
    read_fixed_width,
)
from tilewater.job.weather_plain import PLAIN, read_plain
from tilewater.job.weather_readings import Column, Readings, Span
from tilewater.job.weather_sense import tell_wrong_units

KINDS = (PLAIN, FIXED_WIDTH, BY_STATION, ACCESS, DAYMET)
HEAD_LINES = 20
"""Lines within which the names of the columns stand."""
NO_DATA = ("<!doctype", "<html", "<?xml", "internal server error", "{")
"""How an answer begins that is a message of a server and no data."""
MOST_YEARS = 200
"""Years of a file; more come of a mistyped year."""
FAR_LATITUDE = 0.5
"""Some 35 miles: weather of so far away is that of another place. [deg]"""


@dataclass(frozen=True)
class WeatherChoice:
    """What the job file says of a weather file.

    Attributes
    ----------
    kind : str or None
        Form of the file; None to recognise it.
    units : str
        "tenths", "metric" or "standard", for the access form.
    station : str or None
    columns : mapping of str to str
        Headings of a plain file, by our names.
    first, last : datetime.date
        Days taken.
    latitude_deg, elevation, wind_height : float or None
        Place of the station; those of the file where None. [deg], [m]
    """

    kind: str | None = None
    units: str = "tenths"
    station: str | None = None
    columns: Mapping[str, str] = field(default_factory=dict)
    first: date = date.min
    last: date = date.max
    latitude_deg: float | None = None
    elevation: float | None = None
    wind_height: float | None = None


@dataclass(frozen=True)
class WeatherFile:
    """A weather file as read.

    Attributes
    ----------
    file, kind, station : str
    weather : Weather
        Every day from the first to the last, days without a value left open.
    stated_latitude_deg, stated_elevation : float or None
        As the file states them. [deg], [m]
    findings : tuple of Finding
    """

    file: str
    kind: str
    station: str
    weather: Weather
    stated_latitude_deg: float | None
    stated_elevation: float | None
    findings: tuple[Finding, ...]


def read_weather(path: Path, choice: WeatherChoice | None = None) -> WeatherFile:
    """Daily weather of a file.

    Parameters
    ----------
    path : Path
        The file.
    choice : WeatherChoice or None
        What the job file says of it.

    Returns
    -------
    WeatherFile
        Every day, with gaps left open.

    Raises
    ------
    BadInputFile
        With every fault of the file at once.
    """
    choice = WeatherChoice() if choice is None else choice
    text = file_text(path)
    kind = choice.kind or kind_of_weather(path.name, text)
    readings = Readings(path.name, kind)
    _read(readings, path, text, choice)
    readings.close()
    _require_elements(readings)
    tell_wrong_units(readings)
    twice = [_without_doubles(readings, column) for column in readings.columns.values()]
    readings.close()
    _tell_turned(readings)
    readings.close()
    weather = _record(readings, choice)
    findings = (*readings.findings(), *_doubles(sum(twice)), *_other_place(readings, choice))
    return WeatherFile(
        path.name,
        kind,
        readings.station,
        weather,
        readings.latitude_deg,
        readings.elevation,
        findings,
    )


def kind_of_weather(name: str, text: str) -> str:
    """Form of a weather file, by its first lines.

    Parameters
    ----------
    name : str
        Name of the file, for messages.
    text : str
        The file.

    Returns
    -------
    str
        One of `KINDS`.

    Raises
    ------
    BadInputFile
        If it holds no data, or is of a form that is not read.
    """
    lines = [line for line in text.splitlines()[:HEAD_LINES] if line.strip()]
    if not lines:
        raise BadInputFile(Fault(name, None, "", "it is empty. Get the file anew."))
    start = lines[0].strip()
    if start.casefold().startswith(NO_DATA):
        message = "it is the message of a server and holds no weather. Get the file anew."
        raise BadInputFile(Fault(name, 1, "", message))
    if looks_fixed_width(lines[0]):
        return FIXED_WIDTH
    if looks_by_station(start):
        return BY_STATION
    rows = list(csv.reader(lines, skipinitialspace=True))
    if any(looks_daymet(row) for row in rows):
        return DAYMET
    refuse_other_summary(name, rows[0])
    return ACCESS if looks_access(rows[0]) else PLAIN


def _read(readings: Readings, path: Path, text: str, choice: WeatherChoice) -> None:
    span = Span(choice.first, choice.last)
    if readings.kind == PLAIN:
        read_plain(path, readings, choice.columns, span)
    elif readings.kind != (seen := kind_of_weather(path.name, text)):
        message = (
            f"it is not of the kind '{readings.kind}' but '{seen}'. Leave kind out under "
            "[weather], or name another file."
        )
        readings.fault(None, "kind", message)
    elif readings.kind == FIXED_WIDTH:
        read_fixed_width(readings, text, choice.station, span)
    elif readings.kind == BY_STATION:
        read_by_station(readings, text, choice.station, span)
    elif readings.kind == ACCESS:
        read_access(readings, text, choice.station, span, choice.units)
    else:
        read_daymet(readings, text, span)


def _require_elements(readings: Readings) -> None:
    held = {name for name, column in readings.columns.items() if column.values}
    absent = [TRADE[name] for name in NEEDED if name not in held]
    if absent:
        there = ", ".join(column.label for column in readings.columns.values() if column.values)
        readings.fault(
            None,
            "",
            f"it has no {' and no '.join(absent)} in the days that are taken"
            f"{f'; it has {there}' if there else ''}. Rain, tmax and tmin are needed. Check from "
            "and to, the station and the columns under [weather].",
        )
    readings.close()


def _without_doubles(readings: Readings, column: Column) -> int:
    """Keep one of each day that stands twice with the same value; how many there were."""
    first: dict[int, int] = {}
    twice = 0
    for number, day in enumerate(column.days):
        other = first.setdefault(day, number)
        if other == number:
            continue
        twice += 1
        if column.values[other] != column.values[number]:
            readings.fault(
                column.lines[number],
                column.label,
                f"{column.label} of {date.fromordinal(day)} is {column.values[number]:g} here and "
                f"{column.values[other]:g} on line {column.lines[other]}. Keep one.",
            )
    if twice:
        kept = sorted(first.values())
        column.days = [column.days[number] for number in kept]
        column.values = [column.values[number] for number in kept]
        column.lines = [column.lines[number] for number in kept]
    return twice


def _doubles(count: int) -> Iterator[Finding]:
    if count:
        yield Finding(
            "weather-day-twice",
            "note",
            "weather",
            f"{count} {'reading stands' if count == 1 else 'readings stand'} twice with the same "
            "value. Each counts once.",
            value=float(count),
        )


def _tell_turned(readings: Readings) -> None:
    """A fault for each day whose lowest temperature is above its highest."""
    highest, lowest = (readings.columns[name] for name in NEEDED[1:])
    high = {day: highest.measure(value) for day, value in _by_day(highest)}
    for (day, value), line in zip(_by_day(lowest), lowest.lines, strict=True):
        if lowest.measure(value) > high.get(day, math.inf):
            number = highest.days.index(day)
            readings.fault(
                line,
                lowest.label,
                f"{lowest.label} {value:g} on {date.fromordinal(day)} is above {highest.label} "
                f"{highest.values[number]:g} {highest.measure.name}. The lowest cannot lie above "
                "the highest. Correct the day, or blank both.",
            )


def _by_day(column: Column) -> Iterator[tuple[int, float]]:
    return zip(column.days, column.values, strict=True)


def _record(readings: Readings, choice: WeatherChoice) -> Weather:
    needed = [readings.columns[name] for name in NEEDED]
    first = min(min(column.days) for column in needed)
    last = max(max(column.days) for column in needed)
    if last - first > MOST_YEARS * 366:
        early, late = date.fromordinal(first), date.fromordinal(last)
        message = f"it runs from {early} to {late}. Correct the year that is mistyped."
        readings.fault(None, "", message)
        readings.close()
    series = {
        name: _series(readings.columns[name], first, last - first + 1)
        for name in ELEMENTS
        if name in readings.columns and readings.columns[name].values
    }
    degrees = _first(choice.latitude_deg, readings.latitude_deg)
    return Weather(
        first_day=date.fromordinal(first),
        latitude=None if degrees is None else math.radians(degrees),
        elevation=_first(choice.elevation, readings.elevation),
        wind_height=choice.wind_height,
        **series,
    )


def _series(column: Column, first: int, days: int) -> NDArray[np.float64]:
    series = np.full(days, np.nan)
    place = np.array(column.days) - first
    value = np.array(column.values) * column.measure.factor + column.measure.zero
    inside = (place >= 0) & (place < days)
    series[place[inside]] = value[inside]
    return series


def _first(typed: float | None, stated: float | None) -> float | None:
    return stated if typed is None else typed


def _other_place(readings: Readings, choice: WeatherChoice) -> Iterator[Finding]:
    typed, stated = choice.latitude_deg, readings.latitude_deg
    if typed is not None and stated is not None and abs(typed - stated) > FAR_LATITUDE:
        yield Finding(
            "weather-other-place",
            "caution",
            "weather",
            f"latitude under [weather], {typed:g} deg, is not that of the file, {stated:g} deg. "
            "What is typed is used. Check that the file is of the right station.",
            value=abs(typed - stated),
            operator="<=",
            limit=FAR_LATITUDE,
            unit="deg",
        )
