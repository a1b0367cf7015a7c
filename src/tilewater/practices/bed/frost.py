# SPDX-License-Identifier: Apache-2.0
"""Boards that are frozen in, and how much soil lies over what may freeze.

Days are days of every year, `12-01`. A winter goes over the turn of the year.
"""

from datetime import date
from typing import NamedTuple

LEAP_YEAR = 2024
"""Days are laid out over a year that has the 29th of February."""
YEAR_DAYS = 366


class SeasonBoards(NamedTuple):
    """When a season begins, and its stacks as they are built.

    Attributes
    ----------
    name : str
    starts : str
        First day.
    inlet, outlet : tuple of float
        Boards from the sill up. [m]
    """

    name: str
    starts: str
    inlet: tuple[float, ...]
    outlet: tuple[float, ...]


def day_of_year(day: str) -> int:
    """Number of a day of every year, with the 29th of February.

    Parameters
    ----------
    day : str
        Month and day, `03-20`. [-]

    Returns
    -------
    int
        1 for the first of January. [-]

    Notes
    -----
    n = days since the last of December    (derived)

    References
    ----------
    derived, calendar
    """
    return date.fromisoformat(f"{LEAP_YEAR}-{day}").timetuple().tm_yday


def days_after(first: str, day: str) -> int:
    """Days from one day of every year on to the next time another comes.

    Parameters
    ----------
    first, day : str
        Days, `12-01`. [-]

    Returns
    -------
    int
        0 for the same day, 365 at most. [-]

    Notes
    -----
    n = (day - first) mod 366    (derived)

    References
    ----------
    derived, calendar
    """
    return (day_of_year(day) - day_of_year(first)) % YEAR_DAYS


def is_frozen(day: str, frozen_from: str, frozen_to: str) -> bool:
    """Whether boards may be frozen in on a day.

    Parameters
    ----------
    day : str
        The day, `12-01`. [-]
    frozen_from, frozen_to : str
        First and last day on which boards may be frozen in. [-]

    Returns
    -------
    bool
        True on both of these days and between them. [-]

    Notes
    -----
    0 <= day - from <= to - from, over the turn of the year    (derived)

    References
    ----------
    derived, calendar
    """
    return days_after(frozen_from, day) <= days_after(frozen_from, frozen_to)


def season_before_frost(frozen_from: str, **starts: str) -> str:
    """Season whose boards stand when the frost comes, and until it goes.

    Parameters
    ----------
    frozen_from : str
        First day on which boards may be frozen in. [-]
    **starts : str
        First day of each season, by its name. [-]

    Returns
    -------
    str
        Name of the season that has begun last, on that day or before it. [-]

    Notes
    -----
    season = argmin (frozen_from - start), over the turn of the year    (practice)

    References
    ----------
    practice, frozen boards stay where they are
    """
    last = min(starts, key=lambda name: days_after(starts[name], frozen_from))
    return last.replace("_", "-")


def moves_in_frost(
    seasons: tuple[SeasonBoards, ...], frozen_from: str, frozen_to: str
) -> tuple[SeasonBoards, ...]:
    """Seasons that ask for other boards on a day on which boards may be frozen in.

    Parameters
    ----------
    seasons : tuple of SeasonBoards
        Every season of the year. [-]
    frozen_from, frozen_to : str
        First and last day on which boards may be frozen in. [-]

    Returns
    -------
    tuple of SeasonBoards
        Those whose boards differ from the season before them and that begin while it is frozen,
        in the order of the year. [-]

    Notes
    -----
    A season that begins on the first frozen day counts    (practice)

    References
    ----------
    practice, boards frozen in cannot be moved
    """
    in_order = sorted(seasons, key=lambda season: day_of_year(season.starts))
    before = in_order[-1:] + in_order[:-1]
    return tuple(
        season
        for season, last in zip(in_order, before, strict=True)
        if (season.inlet, season.outlet) != (last.inlet, last.outlet)
        and is_frozen(season.starts, frozen_from, frozen_to)
    )


def soil_over_pipe(ground: float, invert: float, diameter: float) -> float:
    """Soil, or soil and chips, over the crown of a pipe.

    Parameters
    ----------
    ground : float
        Ground above the pipe. [m]
    invert : float
        Invert of the pipe. [m]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Depth; the wall of the pipe is left out. [m]

    Notes
    -----
    cover = ground - (invert + D)    (derived)

    References
    ----------
    derived, a difference
    """
    return ground - invert - diameter


def frost_in_media(frost_depth: float, cover: float) -> float:
    """How far the design frost would reach into the media, were they moist soil.

    Parameters
    ----------
    frost_depth : float
        Design frost depth. [m]
    cover : float
        Soil over the media. [m]

    Returns
    -------
    float
        Depth; 0 where the frost ends in the cover. [m]

    Notes
    -----
    d = max(0, z - cover)    (derived)

    References
    ----------
    derived, a difference
    """
    return max(0.0, frost_depth - cover)
