# SPDX-License-Identifier: Apache-2.0
"""A year of board settings: made from what the job states, laid over the days of a record."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from tilewater.chain.operate_choices import Choice
from tilewater.chain.operate_dates import DAYS, Turn, day_number
from tilewater.chain.operate_search import Found, Schedule, usual_run_of, year_starts_of
from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.ditch_stage import day_of_year, is_in_season
from tilewater.nitrate.side_effects import days_in_a_year
from tilewater.practices.boards import HEIGHT_TOLERANCE

Array = NDArray[np.float64]
Whole = NDArray[np.int64]
Truths = NDArray[np.bool_]


def setting_of_days(schedule: Schedule, day: NDArray[np.datetime64]) -> Whole:
    """Which of the settings of a year stands on each day of a record.

    Parameters
    ----------
    schedule : Schedule
        Settings of a year. [-]
    day : array of datetime64
        Days of the record. [-]

    Returns
    -------
    array of int
        Place among the settings that the year uses, in their order. [-]

    Notes
    -----
    setting = that of the last day of change before it    (derived)

    References
    ----------
    derived, a calendar
    """
    used = np.array(sorted(set(schedule.choices)))
    return np.searchsorted(used, schedule.by_day()[day_of_year(day) - 1]).astype(np.int64)


def heights_by_day(schedule: Schedule, weather: DailyWeather, **heights: float) -> Array:
    """Water that the boards of a year hold over a lateral, day by day.

    Parameters
    ----------
    schedule : Schedule
        Settings of a year. [-]
    weather : DailyWeather
        Days of the record. [-]
    **heights : float
        By the settings that the year uses, in their order. [m]

    Returns
    -------
    array
        Heights. [m]

    Notes
    -----
    E(day) = E(setting of the day)    (derived)

    References
    ----------
    derived, a calendar
    """
    values = np.array(tuple(heights.values()))
    return values[setting_of_days(schedule, weather.dates)]


def usual_run(wet: Truths, counted: Truths, weather: DailyWeather) -> float:
    """Run of days too wet that half the years keep to, in crop season and field work.

    Parameters
    ----------
    wet, counted : array of bool
        Days too wet, and days that count. [-]
    weather : DailyWeather
        Days of the record. [-]

    Returns
    -------
    float
        Days in a row. [days]

    Notes
    -----
    least r with share of years with longest run <= r of at least 1/2    (derived)

    References
    ----------
    derived, order of the years
    """
    return float(usual_run_of(wet & counted, year_starts_of(weather.dates)))


def wet_days_a_year(wet: Truths, counted: Truths) -> float:
    """Days too wet in crop season and field work of a mean year.

    Parameters
    ----------
    wet, counted : array of bool
        Days too wet, and days that count. [-]

    Returns
    -------
    float
        Days. [days]

    Notes
    -----
    d = 365.25 x days / days of the record    (derived)

    References
    ----------
    derived, a count
    """
    return days_in_a_year(wet & counted)


def one_setting(choices: tuple[Choice, ...], heights: tuple[float, ...]) -> Schedule:
    """A year with one setting.

    Parameters
    ----------
    choices : tuple of Choice
        Settings that are asked. [-]
    heights : tuple of float
        Of the stacks of the one. [m]

    Returns
    -------
    Schedule

    References
    ----------
    derived, a look-up
    """
    return Schedule((), (_place_of(choices, heights),))


def by_seasons(
    choices: tuple[Choice, ...], otherwise: tuple[float, ...], **seasons: tuple[str, str, Any]
) -> Schedule:
    """A year with the boards of the seasons of the job.

    Parameters
    ----------
    choices : tuple of Choice
        Settings that are asked. [-]
    otherwise : tuple of float
        Heights on days that no season has. [m]
    **seasons : tuple of (str, str, tuple of float)
        First and last day of each season, and heights of its stacks. [m]

    Returns
    -------
    Schedule
        With a turn wherever the setting changes.

    References
    ----------
    derived, a calendar
    """
    table = np.full(DAYS, _place_of(choices, otherwise), dtype=np.int64)
    begins = {}
    for name, (first, last, heights) in seasons.items():
        table[is_in_season(first, last)] = _place_of(choices, heights)
        begins[day_number(first) - 1] = name.replace("_", "-")
    changes = np.flatnonzero(table != np.roll(table, 1))
    if not changes.size:
        return Schedule((), (int(table[0]),))
    turns = tuple(_season_turn(int(place), begins) for place in changes)
    return Schedule(turns, tuple(int(table[place]) for place in changes))


def _season_turn(place: int, begins: dict[int, str]) -> Turn:
    day = f"{np.datetime64('2024-01-01') + place}"[5:]
    name = begins.get(place, "")
    words = f"{name} begins" if name else "a season ends"
    return Turn(f"start-of-{name or day}", day, (name,) if name else (), words)


def season_of(first: str, last: str, heights: tuple[float, ...]) -> tuple[str, str, Any]:
    """Days of a season and its boards.

    Parameters
    ----------
    first, last : str
        Month and day. [-]
    heights : tuple of float
        Of its stacks. [m]

    Returns
    -------
    tuple of (str, str, tuple of float)

    References
    ----------
    derived, values put together
    """
    return first, last, heights


def found_schedule(found: tuple[Found, ...], settings: float) -> Schedule:
    """The best year with a number of settings.

    Parameters
    ----------
    found : tuple of Found
        Best years by the number of their settings. [-]
    settings : float
        How many. [-]

    Returns
    -------
    Schedule

    References
    ----------
    derived, a look-up
    """
    of = {max(1, len(each.schedule.turns)): each.schedule for each in found}
    return of[int(settings)]


def _place_of(choices: tuple[Choice, ...], heights: tuple[float, ...]) -> int:
    def is_same(choice: Choice) -> bool:
        pairs = zip(choice.heights, heights, strict=True)
        return all(abs(a - b) <= HEIGHT_TOLERANCE for (_, a), b in pairs)

    return next(place for place, choice in enumerate(choices) if is_same(choice))
