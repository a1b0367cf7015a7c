# SPDX-License-Identifier: Apache-2.0
"""Days of the year on which boards may be moved: from the owner's dates, or from the seasons.

Each day names the dates that it rests on, so that one date which moves takes with it only the days
that hang on it. While boards may be frozen in none is moved: a day in that time comes before it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.ditch_stage import is_in_season

Truths = NDArray[np.bool_]

YEAR = 2024
"""A year with the 29th of February, on which days of every year are counted."""
DAYS = 366
WORK = {"planting": 14, "harvest": 28, "manure": 7}
"""Field work by the owner's name for it, and the days that it takes where he does not say."""
DAYS_AHEAD = 14
"""Days before field work on which boards are moved for it (common practice, no source)."""


@dataclass(frozen=True)
class Turn:
    """A day of every year on which boards may be moved.

    Attributes
    ----------
    name : str
        As `ahead-of-planting`.
    day : str
        Month and day.
    rests_on : tuple of str
        Dates that it hangs on: `planting`, `days_ahead`, `frozen_from`, the name of a season.
    words : str
        What the day is, as one says it.
    """

    name: str
    day: str
    rests_on: tuple[str, ...]
    words: str


@dataclass(frozen=True)
class FieldWork:
    """Days on which the field has to carry machines, those ahead of it too.

    Attributes
    ----------
    name : str
        "planting", "harvest" or "manure".
    first, last : str
        From the day on which the boards are moved for it to its last day; month and day.
    """

    name: str
    first: str
    last: str


@dataclass(frozen=True)
class OwnerDates:
    """What the owner's year is made of.

    Attributes
    ----------
    turns : tuple of Turn
        In the order of the year.
    work : tuple of FieldWork
    basis : str
        "the owner's dates" or "the seasons of the job".
    """

    turns: tuple[Turn, ...]
    work: tuple[FieldWork, ...]
    basis: str


def day_after(day: str, days: int) -> str:
    """A day of the year some days later.

    Parameters
    ----------
    day : str
        Month and day, as `05-01`. [-]
    days : int
        Days later; earlier where negative. [days]

    Returns
    -------
    str
        Month and day, over the turn of the year where it falls so. [-]

    Notes
    -----
    counted in a year that has the 29th of February    (derived)

    References
    ----------
    derived, a calendar
    """
    moved = _date(day) + timedelta(days=days)
    number = (moved - date(YEAR, 1, 1)).days % DAYS
    return f"{date(YEAR, 1, 1) + timedelta(days=number):%m-%d}"


def day_number(day: str) -> int:
    """Number of a day within a year that has the 29th of February.

    Parameters
    ----------
    day : str
        Month and day, as `05-01`. [-]

    Returns
    -------
    int
        1 for the 1st of January, 366 for the 31st of December. [days]

    References
    ----------
    derived, a calendar
    """
    return (_date(day) - date(YEAR, 1, 1)).days + 1


def days_between(first: str, last: str) -> int:
    """Days from one day of the year to another, over the turn of the year where it has to be.

    Parameters
    ----------
    first, last : str
        Month and day. [-]

    Returns
    -------
    int
        0 for the same day. [days]

    References
    ----------
    derived, a calendar
    """
    return (day_number(last) - day_number(first)) % DAYS


def field_work(days_ahead: float, **dates: str) -> tuple[FieldWork, ...]:
    """Days on which the field has to carry machines, and those ahead of them.

    Parameters
    ----------
    days_ahead : float
        Days before field work on which boards are moved for it. [days]
    **dates : str
        Month and day of `planting`, `planting_ends`, `harvest`, ... as far as they are given. [-]

    Returns
    -------
    tuple of FieldWork

    Raises
    ------
    OutOfDomain
        If work ends before it begins, counted so that it would take more than 200 days.

    Notes
    -----
    from first - days ahead to last; last = first + 14, 28 or 7 days where it is not given
    (practice)

    References
    ----------
    practice, boards are lowered ahead of field work so that the soil carries
    """
    found = []
    for name, usual in WORK.items():
        if name not in dates:
            continue
        first = dates[name]
        last = dates.get(f"{name}_ends", day_after(first, usual))
        if days_between(first, last) > 200:
            raise OutOfDomain(
                f"{name}_ends is {last}. It cannot come before {name}, {first}. Check both dates."
            )
        found.append(FieldWork(name, day_after(first, -round(days_ahead)), last))
    return tuple(found)


def owner_dates(days_ahead: float, frozen_from: str, frozen_to: str, **dates: str) -> OwnerDates:
    """Days on which boards may be moved, from the owner's dates.

    Parameters
    ----------
    days_ahead : float
        Days before field work on which boards are moved for it. [days]
    frozen_from, frozen_to : str
        First and last day on which boards may be frozen in; month and day. [-]
    **dates : str
        Month and day of `planting`, `planting_ends`, `harvest`, ... as far as they are given. [-]

    Returns
    -------
    OwnerDates

    Raises
    ------
    OutOfDomain
        If work ends before it begins.

    Notes
    -----
    ahead of each work, the day after it, the last day before the frost, the first after it
    (practice)

    References
    ----------
    practice, boards are moved for field work and before they freeze in
    """
    work = field_work(days_ahead, **dates)
    turns = []
    for each in work:
        ahead = f"{round(days_ahead)} days before {each.name}"
        turns.append(Turn(f"ahead-of-{each.name}", each.first, (each.name, "days_ahead"), ahead))
        ends = (f"{each.name}_ends",) if f"{each.name}_ends" in dates else (each.name,)
        after = day_after(each.last, 1)
        turns.append(Turn(f"after-{each.name}", after, ends, f"after {each.name}"))
    turns += _frost_turns(frozen_from, frozen_to)
    return OwnerDates(_in_order(turns, frozen_from, frozen_to), work, "the owner's dates")


def season_dates(frozen_from: str, frozen_to: str, **seasons: str) -> OwnerDates:
    """Days on which boards may be moved, where only the seasons of the job are known.

    Parameters
    ----------
    frozen_from, frozen_to : str
        First and last day on which boards may be frozen in; month and day. [-]
    **seasons : str
        First day of each season; month and day. [-]

    Returns
    -------
    OwnerDates
        Without field work: nobody has said when it is.

    Notes
    -----
    the first day of each season    (derived)

    References
    ----------
    derived, the calendar of the job
    """
    turns = [
        Turn(f"start-of-{name}".replace("_", "-"), day, (name,), f"{name} begins")
        for name, day in seasons.items()
    ]
    return OwnerDates(_in_order(turns, frozen_from, frozen_to), (), "the seasons of the job")


def work_days(dates: OwnerDates) -> Truths:
    """Days of the year on which the field has to carry machines, those ahead of them too.

    Parameters
    ----------
    dates : OwnerDates
        The owner's year. [-]

    Returns
    -------
    array of bool of shape (366,)
        By the day of the year. [-]

    References
    ----------
    derived, a calendar
    """
    found = np.zeros(DAYS, dtype=bool)
    for work in dates.work:
        found |= is_in_season(work.first, work.last)
    return found


def moved_by(before: OwnerDates, after: OwnerDates) -> tuple[str, ...]:
    """Turns whose day is another after a date was moved.

    Parameters
    ----------
    before, after : OwnerDates
        Two years of the owner. [-]

    Returns
    -------
    tuple of str
        Names of the turns, those that came or went too. [-]

    References
    ----------
    derived, a comparison
    """
    days: tuple[Mapping[str, str], ...] = tuple(
        {turn.name: turn.day for turn in dates.turns} for dates in (before, after)
    )
    names = dict.fromkeys((*days[0], *days[1]))
    return tuple(name for name in names if days[0].get(name) != days[1].get(name))


def _frost_turns(frozen_from: str, frozen_to: str) -> list[Turn]:
    return [
        Turn("before-frost", day_after(frozen_from, -1), ("frozen_from",), "before the frost"),
        Turn("after-frost", day_after(frozen_to, 1), ("frozen_to",), "after the frost"),
    ]


def _in_order(turns: list[Turn], frozen_from: str, frozen_to: str) -> tuple[Turn, ...]:
    """Turns by the day, none of them in the frost; of two on one day the first stands."""
    before = day_after(frozen_from, -1)
    frozen = is_in_season(frozen_from, frozen_to)
    found: dict[str, Turn] = {}
    for turn in turns:
        here = turn
        if frozen[day_number(turn.day) - 1]:
            words = f"{turn.words}, moved to before the frost"
            here = Turn(turn.name, before, (*turn.rests_on, "frozen_from"), words)
        found.setdefault(here.day, here)
    return tuple(sorted(found.values(), key=lambda turn: turn.day))


def _date(day: str) -> date:
    try:
        return date.fromisoformat(f"{YEAR}-{day}")
    except ValueError:
        raise OutOfDomain(
            f"day is {day}. Write month and day, like 05-01. Check the date."
        ) from None
