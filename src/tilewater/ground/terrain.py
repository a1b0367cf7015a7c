# SPDX-License-Identifier: Apache-2.0
"""A grid of ground heights: height at a place, contours, how it stands to shots of the ground.

A terrain model says how the land lies between shots. No elevation of a design is taken from it.
"""

from dataclasses import dataclass
from math import floor
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain

FEWEST = 5
"""Shots on the grid from which its difference is told."""
MOST_LINES = 40
"""Contours that a map still holds."""
UNIT_APART = 0.02
"""How near a ratio of heights comes to that of foot and metre, to tell that units differ."""
METRES_PER_FOOT = 0.3048


@dataclass(frozen=True)
class Terrain:
    """Heights of the ground at the corners of square cells.

    Attributes
    ----------
    north, east : float
        Of the first height, that in the south-west. [m]
    cell : float
        From one height to the next. [m]
    heights : ndarray
        Rows from south to north, columns from west to east; nan where there is none. [m]
    """

    north: float
    east: float
    cell: float
    heights: NDArray[np.float64]


@dataclass(frozen=True)
class AgainstShots:
    """How a terrain stands to shots of the ground.

    Attributes
    ----------
    count : int
        Shots that lie on it.
    median, spread : float
        Terrain less shot in the middle, and the half width around it that holds half the
        shots. [m]
    """

    count: int
    median: float
    spread: float


def terrain_height(terrain: Terrain, north: float, east: float) -> float:
    """Height of the ground at a place, between the four heights around it.

    Parameters
    ----------
    terrain : Terrain
    north, east : float
        In the grid of the terrain. [m]

    Returns
    -------
    float
        Height; nan beyond the grid or beside a height that is missing. [m]

    Notes
    -----
    z = (1-u)(1-v) z00 + u (1-v) z01 + (1-u) v z10 + u v z11    (derived)

    References
    ----------
    derived, two straight lines after each other
    """
    across, up = (east - terrain.east) / terrain.cell, (north - terrain.north) / terrain.cell
    rows, columns = terrain.heights.shape
    if not (0.0 <= across <= columns - 1 and 0.0 <= up <= rows - 1):
        return float("nan")
    column, row = min(floor(across), columns - 2), min(floor(up), rows - 2)
    u, v = across - column, up - row
    z = terrain.heights[row : row + 2, column : column + 2]
    return float(
        (1 - v) * ((1 - u) * z[0, 0] + u * z[0, 1]) + v * ((1 - u) * z[1, 0] + u * z[1, 1])
    )


def terrain_contours(
    terrain: Terrain, interval: float
) -> tuple[tuple[float, tuple[tuple[float, float], ...]], ...]:
    """Lines of equal height.

    Parameters
    ----------
    terrain : Terrain
    interval : float
        Between two lines, above zero. [m]

    Returns
    -------
    tuple of (height, points)
        Each line by its height and its points, east and north. [m]

    Raises
    ------
    OutOfDomain
        If the interval is not above zero.

    Notes
    -----
    z(x, y) = k interval, k whole    (derived)

    References
    ----------
    derived, a level line
    """
    if interval <= 0.0:
        raise OutOfDomain(f"interval is {interval} m. It must be above 0. Give one such as 0.3 m.")
    import contourpy

    rows, columns = terrain.heights.shape
    east = terrain.east + terrain.cell * np.arange(columns)
    north = terrain.north + terrain.cell * np.arange(rows)
    masked = np.ma.masked_invalid(terrain.heights)
    generator: Any = contourpy.contour_generator(east, north, masked)
    first, last = (int(np.floor(edge / interval)) for edge in (masked.min(), masked.max()))
    lines = []
    for k in range(first + 1, last + 1):
        for line in generator.lines(k * interval):
            lines.append((k * interval, tuple((float(x), float(y)) for x, y in line)))
    return tuple(lines)


def contour_interval(terrain: Terrain, choices: tuple[float, ...]) -> float:
    """The closest interval of contours that a map still holds.

    Parameters
    ----------
    terrain : Terrain
    choices : tuple of float
        Intervals in the habit of the trade, the closest first. [m]

    Returns
    -------
    float
        The first that gives few enough lines, else the widest. [m]

    Notes
    -----
    (highest - lowest) / interval <= 40    (practice)

    References
    ----------
    practice, contours apart enough to be read
    """
    known = terrain.heights[np.isfinite(terrain.heights)]
    relief = float(known.max() - known.min()) if known.size else 0.0
    return next((each for each in choices if relief / each <= MOST_LINES), choices[-1])


def terrain_against_shots(
    terrain: Terrain,
    north: NDArray[np.float64],
    east: NDArray[np.float64],
    height: NDArray[np.float64],
) -> AgainstShots | None:
    """How a terrain stands to shots of the ground.

    Parameters
    ----------
    terrain : Terrain
    north, east, height : ndarray
        The shots. [m]

    Returns
    -------
    AgainstShots or None
        None where fewer than five shots lie on it.

    Notes
    -----
    difference = terrain - shot; spread = median |difference - median difference|    (derived)

    References
    ----------
    derived, median and median deviation, which one wild shot does not move
    """
    at = np.array([terrain_height(terrain, n, e) for n, e in zip(north, east, strict=True)])
    apart = (at - height)[np.isfinite(at)]
    if apart.size < FEWEST:
        return None
    middle = float(np.median(apart))
    return AgainstShots(int(apart.size), middle, float(np.median(np.abs(apart - middle))))


def looks_like_other_unit(terrain_typical: float, shots_typical: float) -> str:
    """The unit that heights of a terrain seem to have, where they were taken in another.

    Parameters
    ----------
    terrain_typical, shots_typical : float
        A typical height of each, as both were taken. [m]

    Returns
    -------
    str
        "m" or "ft" where the ratio is that of foot and metre; else empty.

    Notes
    -----
    shot / terrain = 3.2808 or 0.3048    (derived)

    References
    ----------
    derived, metres in a foot
    """
    if terrain_typical <= 0.0 or shots_typical <= 0.0:
        return ""
    ratio = terrain_typical / shots_typical
    for unit, expected in (("m", METRES_PER_FOOT), ("ft", 1.0 / METRES_PER_FOOT)):
        if abs(ratio / expected - 1.0) <= UNIT_APART:
            return unit
    return ""
