# SPDX-License-Identifier: Apache-2.0
"""Which boards on which days: the settings of a year that take out most and keep the limits.

Every setting is led through all days of the record once. A year with several settings is then put
together from those days, each from the setting that stands on it, so that thousands of years are
asked without routing one of them anew. What is chosen is routed whole afterwards, by
`operate_rows`. For a bed, whose days are taken as steady, both are the same; soil of a buffer or a
field remembers the days before a change, which the whole run then shows.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import NoSolution
from tilewater.chain.operate_dates import DAYS, Turn, day_number
from tilewater.hydrology.ditch_stage import day_of_year

Array = NDArray[np.float64]
Truths = NDArray[np.bool_]
Whole = NDArray[np.int64]

YEAR_DAYS = 365.25
KEPT = 400
"""Best years of each way to part it that are held to the wet days."""


@dataclass(frozen=True)
class Schedule:
    """Settings of a year.

    Attributes
    ----------
    turns : tuple of Turn
        Days on which the boards are moved, in the order of the year; empty for one setting.
    choices : tuple of int
        Setting from each of these days on; one alone where there is none.
    """

    turns: tuple[Turn, ...]
    choices: tuple[int, ...]

    def by_day(self) -> Whole:
        """Setting of each day of a year with the 29th of February."""
        table = np.full(DAYS, self.choices[-1], dtype=np.int64)
        for turn, choice in zip(self.turns, self.choices, strict=bool(self.turns)):
            table[day_number(turn.day) - 1 :] = choice
        return table


@dataclass(frozen=True)
class Asked:
    """What a search goes by.

    Attributes
    ----------
    turns : tuple of Turn
        Days on which boards may be moved.
    day : array of datetime64
        Days of the record.
    removed_kg : array of shape (settings, days)
        Nitrate nitrogen taken out, or kept back, by the day.
    used_up : array of bool of shape (settings, days)
        Days on which nitrate is used up.
    wet_day : array of datetime64
        Days of the weather.
    wet : mapping of str to array of bool of shape (settings, days of the weather)
        Days too wet, by spot.
    counted : array of bool of shape (days of the weather,)
        Days on which wet days count: crop season and field work.
    wet_limits : mapping of str to float
        Days in a row, by spot. [days]
    used_limit : float
        Days of a year on which nitrate may be used up. [days]
    crest : array of shape (settings,)
        Water that each setting holds over the field. [m]
    is_free : array of bool of shape (settings,)
        Settings that field work allows.
    work : array of bool of shape (366,)
        Days of field work and ahead of it.
    """

    turns: tuple[Turn, ...]
    day: NDArray[np.datetime64]
    removed_kg: Array
    used_up: Truths
    wet_day: NDArray[np.datetime64]
    wet: Mapping[str, Truths]
    counted: Truths
    wet_limits: Mapping[str, float]
    used_limit: float
    crest: Array
    is_free: Truths
    work: Truths


@dataclass(frozen=True)
class Found:
    """The best year with a number of settings.

    Attributes
    ----------
    schedule : Schedule
    removed_kg : float
        In a mean year, put together from the days of its settings. [kg]
    used_up_days : float
        Days of a year on which nitrate is used up. [days]
    """

    schedule: Schedule
    removed_kg: float
    used_up_days: float


def usual_run_of(counted: Truths, year_starts: Whole) -> Array:
    """Run of days that half the years keep to, of several series at once.

    Parameters
    ----------
    counted : array of bool of shape (..., days)
        Days that count. [-]
    year_starts : array of int
        Place of the first day of each year. [-]

    Returns
    -------
    array
        Days in a row; the longest run of at least half the years is no longer. [days]

    Notes
    -----
    least r with share of years with longest run <= r of at least 1/2    (derived)

    References
    ----------
    derived, order of the years
    """
    place = np.arange(counted.shape[-1])
    broken = np.where(counted, -1, place)
    broken[..., year_starts] = np.maximum(broken[..., year_starts], year_starts - 1)
    runs = place - np.maximum.accumulate(broken, axis=-1)
    longest = np.maximum.reduceat(runs, year_starts, axis=-1)
    ordered = np.sort(longest, axis=-1)
    return np.asarray(ordered[..., (ordered.shape[-1] - 1) // 2], dtype=np.float64)


def year_starts_of(day: NDArray[np.datetime64]) -> Whole:
    """Places of the days on which a calendar year of the record begins.

    Parameters
    ----------
    day : array of datetime64
        Days of the record. [-]

    Returns
    -------
    array of int
        The first day is one of them. [-]

    References
    ----------
    derived, a calendar
    """
    years = day.astype("datetime64[Y]").astype(np.int64)
    return np.concatenate(([0], np.flatnonzero(np.diff(years)) + 1))


def best_schedules(asked: Asked, settings: float) -> tuple[Found, ...]:
    """The best year with one setting, with two, and so on.

    Parameters
    ----------
    asked : Asked
        Days, settings and limits. [-]
    settings : float
        Most settings of a year. [-]

    Returns
    -------
    tuple of Found
        By the number of settings up to the most; a number that brings nothing more is left out.

    Raises
    ------
    NoSolution
        If not even one setting all year keeps the limits.

    Notes
    -----
    max sum over days of M(setting of the day), with
    usual run of wet days <= max(limit, boards out) at every spot,
    days with nitrate used up <= limit, else the fewest    (derived)

    References
    ----------
    derived, every way to part the year among the days to move boards on
    """
    search = _Search(asked)
    found: list[Found] = []
    for count in range(1, int(settings) + 1):
        each = search.best(count)
        if each is not None and (not found or _is_better(each, found[-1], asked.used_limit)):
            found.append(each)
    if not found:
        raise NoSolution(
            "No setting of the boards keeps the limits of the field, not even boards out. "
            "Check the limits of wet days and what field work asks."
        )
    return tuple(found)


@dataclass
class _Window:
    """Settings that a part of the year allows, the best of them."""

    choices: Whole
    removed_kg: Array
    used_up: Array


@dataclass
class _Search:
    asked: Asked
    _windows: dict[tuple[int, int], _Window] = field(default_factory=dict)

    def __post_init__(self) -> None:
        asked = self.asked
        self._of_year = day_of_year(asked.day) - 1
        self._years = asked.day.size / YEAR_DAYS
        self._wet_of_year = day_of_year(asked.wet_day) - 1
        self._starts = year_starts_of(asked.wet_day)
        self._removed = _by_day_of_year(asked.removed_kg, self._of_year) / self._years
        self._used = _by_day_of_year(asked.used_up, self._of_year) / self._years
        self._numbers = [day_number(turn.day) - 1 for turn in asked.turns]

    def best(self, count: int) -> Found | None:
        """The best year with a number of settings; None where none keeps the limits."""
        tried = []
        for turns in self._partings(count):
            tried += self._kept_of(turns)
        tried.sort(key=lambda each: (each[0], -each[1]))
        for _, removed, used, turns, choices in tried:
            schedule = Schedule(tuple(self.asked.turns[i] for i in turns), choices)
            if not self.wet_spots(schedule):
                return Found(schedule, removed, used)
        return None

    def _partings(self, count: int) -> Iterator[tuple[int, ...]]:
        if count == 1:
            yield ()
        else:
            yield from combinations(range(len(self.asked.turns)), count)

    def _kept_of(
        self, turns: tuple[int, ...]
    ) -> list[tuple[float, float, float, tuple[int, ...], tuple[int, ...]]]:
        """Best settings for one way to part the year."""
        pairs = list(zip(turns, (*turns[1:], *turns[:1]), strict=True)) or [(-1, -1)]
        windows = [self._window(*pair) for pair in pairs]
        removed = _sums([window.removed_kg for window in windows])
        used = _sums([window.used_up for window in windows])
        if not removed.size:
            return []
        over = np.ceil(np.maximum(0.0, used - self.asked.used_limit) - 1e-9)
        over[_with_same_neighbours(windows)] = np.inf  # that is a year with fewer settings
        order = np.lexsort((-removed.ravel(), over.ravel()))[:KEPT]
        places = np.unravel_index(order, removed.shape)
        found = []
        for number, flat in enumerate(order):
            if np.isinf(over.ravel()[flat]):
                break
            choices = tuple(
                int(window.choices[place[number]])
                for window, place in zip(windows, places, strict=True)
            )
            told = float(removed.ravel()[flat]), float(used.ravel()[flat])
            found.append((float(over.ravel()[flat]), *told, turns, choices))
        return found

    def _window(self, first: int, last: int) -> _Window:
        """Settings from one turn up to another that may be best in a year, by turn."""
        if (first, last) not in self._windows:
            self._windows[first, last] = self._window_made(self._days(first, last))
        return self._windows[first, last]

    def _days(self, first: int, last: int) -> Truths:
        if first < 0:
            return np.ones(DAYS, dtype=bool)
        begin, end, number = self._numbers[first], self._numbers[last], np.arange(DAYS)
        if begin < end:
            return (number >= begin) & (number < end)
        return (number >= begin) | (number < end)

    def _window_made(self, days: Truths) -> _Window:
        asked = self.asked
        allowed = np.ones(asked.crest.size, dtype=bool)
        if np.any(days & asked.work):
            allowed &= asked.is_free
        counted = asked.counted & days[self._wet_of_year]
        for spot, wet in asked.wet.items():
            allowed &= usual_run_of(wet & counted, self._starts) <= asked.wet_limits[spot]
        choices = np.flatnonzero(allowed)
        removed = self._removed[choices][:, days].sum(axis=1)
        used = self._used[choices][:, days].sum(axis=1)
        kept = _not_beaten(np.column_stack((-removed, used, asked.crest[choices])))
        return _Window(choices[kept], removed[kept], used[kept])

    def wet_spots(self, schedule: Schedule) -> tuple[str, ...]:
        """Spots that a year makes too wet too long, its settings put side by side."""
        by_day = schedule.by_day()[self._wet_of_year]
        place = np.arange(by_day.size)
        return tuple(
            spot
            for spot, wet in self.asked.wet.items()
            if float(usual_run_of(wet[by_day, place] & self.asked.counted, self._starts))
            > self.asked.wet_limits[spot]
        )


def keeps_limits(schedule: Schedule, asked: Asked) -> tuple[str, ...]:
    """What a year of settings does not keep.

    Parameters
    ----------
    schedule : Schedule
        Settings of a year. [-]
    asked : Asked
        Days, settings and limits. [-]

    Returns
    -------
    tuple of str
        Spots that are too wet too long, `field work`, `nitrate`; empty where all is kept. [-]

    Notes
    -----
    usual run <= limit at every spot, crest <= free crest in field work, days used up <= limit
    (derived)

    References
    ----------
    derived, the limits that a search keeps
    """
    search = _Search(asked)
    short = search.wet_spots(schedule)
    by_day = schedule.by_day()
    if not np.all(asked.is_free[by_day[asked.work]]):
        short = (*short, "field work")
    of_year = day_of_year(asked.day) - 1
    used = asked.used_up[by_day[of_year], np.arange(of_year.size)]
    if YEAR_DAYS * float(used.mean()) > asked.used_limit:
        short = (*short, "nitrate")
    return short


def _is_better(more: Found, fewer: Found, used_limit: float) -> bool:
    """Whether a year takes out more than one with fewer settings, or keeps what that does not."""
    over, before = (max(0.0, each.used_up_days - used_limit) for each in (more, fewer))
    return over < before - 0.5 or more.removed_kg > fewer.removed_kg


def _with_same_neighbours(windows: Sequence["_Window"]) -> Truths:
    """Combinations in which a setting follows itself."""
    shape = tuple(window.choices.size for window in windows)
    same = np.zeros(shape, dtype=bool)
    if len(windows) < 2:
        return same
    grids = np.meshgrid(*(window.choices for window in windows), indexing="ij", sparse=True)
    for one, other in zip(grids, (*grids[1:], grids[0]), strict=True):
        same |= one == other
    return same


def _by_day_of_year(values: Array | Truths, of_year: Whole) -> Array:
    """Sums over the years by the day of the year, for every setting."""
    return np.array([np.bincount(of_year, weights=row, minlength=DAYS) for row in values])


def _sums(parts: Sequence[Array]) -> Array:
    """Sums over every combination of the settings of the parts of a year."""
    return np.asarray(reduce(np.add.outer, parts))


def _not_beaten(costs: Array) -> Whole:
    """Rows that no other row is at least as good as in everything and better in something."""
    kept = [
        i
        for i, row in enumerate(costs)
        if not np.any(np.all(costs <= row, axis=1) & np.any(costs < row, axis=1))
    ]
    return np.array(kept, dtype=np.int64)
