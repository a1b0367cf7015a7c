# SPDX-License-Identifier: Apache-2.0
"""Dates and times of a file as its clock showed them.

Every different date and every different time of day is read once, however many rows have it. Which
of two numbers is the month is told by a day past the twelfth, or asked: it is never guessed.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.units import join_or

Floats = NDArray[np.float64]

DAY = 86400
PIVOT = 70
"""Two digits of a year below it are of this century."""
EPOCH = date(1970, 1, 1).toordinal()
MANY = 20
"""Rows at fault, after which the rest says nothing new."""
ORDERS = {
    "year-month-day": (0, 1, 2),
    "month-day-year": (2, 0, 1),
    "day-month-year": (2, 1, 0),
}
"""Where year, month and day stand among the numbers of a date."""
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DATE = re.compile(r"(\d{1,4})[-/. ]+(\d{1,2}|[A-Za-z]{3,9})\.?[-/. ,]+(\d{1,4})")
_TIME = re.compile(
    r"(\d{1,2}):(\d\d)(?::(\d\d(?:[.,]\d+)?))?\s*(?:([AaPp])\.?[Mm]\.?)?"
    r"\s*(?:(Z|UTC|GMT)|([-+]\d\d):?(\d\d))?"
)


@dataclass(frozen=True)
class Clock:
    """Times of the rows, in their order.

    Attributes
    ----------
    local_s : array
        As the clock showed them, in seconds from 1970-01-01 of that clock. [s]
    ahead_s : array or None
        How far it is ahead of universal time where the file says so row by row. [s]
    order : str
        Order of its dates.
    told : tuple of str
    """

    local_s: Floats
    ahead_s: Floats | None
    order: str
    told: tuple[str, ...]


@dataclass(frozen=True)
class Place:
    """What messages say of where times stand: the file, its lines, the table of the job file."""

    file: str
    lines: Sequence[int]
    table: str


def read_clock(
    cells: Sequence[str],
    place: Place,
    *,
    dates: Sequence[str] | None = None,
    order: str | None = None,
) -> Clock:
    """Times of the rows of a file.

    Parameters
    ----------
    cells : sequence of str
        Times, with their dates unless `dates` holds those.
    place : Place
        What messages say of where they stand.
    dates : sequence of str or None
        Dates that stand in a column of their own.
    order : str or None
        One of `ORDERS`; None where it is to be told from the file.

    Returns
    -------
    Clock
        Times of every row.

    Raises
    ------
    BadInputFile
        If a cell is no time, or month and day cannot be told apart.
    """
    days, times = _columns(cells) if dates is None else (list(dates), list(cells))
    if dates is None and all(not time for time in times):
        times = ["0:00"] * len(days)
    of_time = {text: _time(text) for text in set(times)}
    _refuse(times, of_time, place, "is not a time of day. Write it like 13:45, or 1:45 PM.")
    numbers = {text: _numbers(text) for text in set(days)}
    _refuse(days, numbers, place, "is not a date. Write it like 2028-03-12.")
    of_day, chosen, told = _days(days, numbers, place, order)
    read = [of_time[text] for text in times]
    local = np.array([of_day[text] for text in days], float) * DAY
    local += np.array([0.0 if each is None else each[0] for each in read])
    ahead = [None if each is None else each[1] for each in read]
    if any(each is None for each in ahead):
        return Clock(local, None, chosen, told)
    return Clock(local, np.array(ahead, float), chosen, told)


def is_date(cell: str) -> bool:
    """Whether a cell is a date, alone or with a time."""
    day, _ = _parted(cell)
    return _numbers(day) is not None


def is_time_alone(cell: str) -> bool:
    """Whether a cell is a time of day without a date."""
    day, time = _parted(cell)
    return not day and _time(time) is not None


def _columns(cells: Sequence[str]) -> tuple[list[str], list[str]]:
    """Dates and times of cells; quickly where all of them have one mark between the two."""
    for mark in (" ", "T"):
        ends = [cell.find(mark) for cell in cells]
        if min(ends) > 0:
            times = [cell[end + 1 :] for cell, end in zip(cells, ends, strict=True)]
            if all(_TIME.fullmatch(time) for time in set(times)):
                return [cell[:end] for cell, end in zip(cells, ends, strict=True)], times
    pairs = [_parted(cell) for cell in cells]
    return [day for day, _ in pairs], [time for _, time in pairs]


def _parted(cell: str) -> tuple[str, str]:
    """Date and time of a cell; a blank where it has only one of them."""
    colon = cell.find(":")
    if colon < 0:
        return cell.strip(), ""
    at = max(cell.rfind(" ", 0, colon), cell.rfind("T", 0, colon))
    return cell[: max(at, 0)].rstrip(" ,"), cell[at + 1 :].strip()


def _time(text: str) -> tuple[float, float | None] | None:
    """Seconds of the day, and how far ahead of universal time where that stands behind."""
    match = _TIME.fullmatch(text)
    if match is None:
        return None
    hour, minute = int(match[1]), int(match[2])
    second = float((match[3] or "0").replace(",", "."))
    half = (match[4] or "").casefold()
    if half and not 1 <= hour <= 12:
        return None
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    total = hour * 3600 + minute * 60 + second
    if minute > 59 or second >= 60 or total > DAY:
        return None
    if match[5]:
        return total, 0.0
    if match[6] is None:
        return total, None
    hours = int(match[6])
    minutes = int(match[7]) * (-1 if match[6].startswith("-") else 1)
    return total, hours * 3600.0 + minutes * 60.0


def _numbers(text: str) -> tuple[str, str, str] | None:
    match = _DATE.fullmatch(text)
    return None if match is None else (match[1], match[2], match[3])


def _refuse(cells: Sequence[str], read: Mapping[str, object], place: Place, why: str) -> None:
    wrong = [i for i, cell in enumerate(cells) if read[cell] is None]
    faults = [Fault(place.file, place.lines[i], "", f"'{cells[i]}' {why}") for i in wrong[:MANY]]
    if len(wrong) > MANY:
        more = f"{len(wrong) - MANY} more lines below it are so."
        faults.append(Fault(place.file, place.lines[wrong[MANY]], "", more))
    if faults:
        raise BadInputFile(*faults)


def _days(
    cells: Sequence[str],
    numbers: dict[str, tuple[str, str, str] | None],
    place: Place,
    order: str | None,
) -> tuple[dict[str, int], str, tuple[str, ...]]:
    """Days of the dates in the one order that fits all of them."""
    read = {name: _in_order(numbers, name) for name in ([order] if order else ORDERS)}
    whole = {name: days for name, days in read.items() if None not in days.values()}
    if not whole:
        raise BadInputFile(_no_order(cells, read, place))
    first = next(iter(whole))
    if any(days != whole[first] for days in whole.values()):
        raise BadInputFile(_asked(cells, whole, place))
    told = () if order or first == ORDERS_OF_ISO else (f"Its dates are {first}.",)
    return {text: day for text, day in whole[first].items() if day is not None}, first, told


ORDERS_OF_ISO = "year-month-day"


def _in_order(numbers: dict[str, tuple[str, str, str] | None], order: str) -> dict[str, int | None]:
    places = ORDERS[order]
    return {text: None if parts is None else _day(parts, places) for text, parts in numbers.items()}


def _day(parts: tuple[str, str, str], places: tuple[int, int, int]) -> int | None:
    """Days since 1970 of a date whose parts stand in that order; None where it is none."""
    year, month, day = (parts[place] for place in places)
    if len(year) not in (2, 4) or len(day) > 2 or (month.isalpha() and len(month) < 3):
        return None
    number = int(year) if year.isdigit() else 0
    if len(year) == 2:
        number += 2000 if number < PIVOT else 1900
    if month.isalpha():
        name = month[:3].casefold()
        if name not in _MONTHS:
            return None
        month = str(_MONTHS.index(name) + 1)
    try:
        return date(number, int(month), int(day)).toordinal() - EPOCH
    except ValueError:
        return None


def _no_order(cells: Sequence[str], read: dict[str, dict[str, int | None]], place: Place) -> Fault:
    """Where a file whose dates fit no order leaves the one that fits most of them."""
    best = min(read, key=lambda name: sum(day is None for day in read[name].values()))
    i = next(i for i, cell in enumerate(cells) if read[best][cell] is None)
    message = (
        f"'{cells[i]}' is no date in the order {best}, which the others have. "
        "Correct it, or write all dates year-month-day."
    )
    if len(read) == 1:
        message = (
            f"'{cells[i]}' is no date in the order {best}. That is what date_order of "
            f"[{place.table}] in job.toml says; correct one of them."
        )
    return Fault(place.file, place.lines[i], "", message)


def _asked(cells: Sequence[str], whole: dict[str, dict[str, int | None]], place: Place) -> Fault:
    """The question which order a file has, with the one that its rows rather speak for."""
    names = list(whole)
    i = next(i for i, cell in enumerate(cells) if len({whole[n][cell] for n in names}) > 1)
    meant = join_or(
        f"{date.fromordinal(EPOCH + (whole[n][cells[i]] or 0)).isoformat()} ({n})" for n in names
    )
    likely = min(names, key=lambda name: _longest_jump(cells, whole[name]))
    jumps = {name: _longest_jump(cells, whole[name]) for name in names}
    hint = f" Read {likely} its days follow each other." if jumps[likely] <= 1 else ""
    message = (
        f"'{cells[i]}' may be {meant}, and no date of the file tells which.{hint} "
        f'Write date_order = "{likely}", or the other, under [{place.table}] in job.toml.'
    )
    return Fault(place.file, place.lines[i], "", message)


def _longest_jump(cells: Iterable[str], days: dict[str, int | None]) -> int:
    steps = np.diff(np.array([days[cell] or 0 for cell in dict.fromkeys(cells)]))
    return int(np.abs(steps).max()) if steps.size else 0
