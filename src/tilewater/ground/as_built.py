# SPDX-License-Identifier: Apache-2.0
"""Finished work from its shots: inverts from the outside of a pipe, means, size of a bed.

`tolerances` holds it against the design, `matching` finds what a shot is of, `grade_check` looks
along a pipe.
"""

from collections.abc import Iterable
from math import atan2, hypot
from statistics import fmean, stdev

from tilewater.basis.errors import OutOfDomain

Place = tuple[float, float]

LEAST_CORNERS = 4


def invert_of_pipe_top(level: float, *, diameter: float, wall: float) -> float:
    """Invert of a pipe from a shot on its outside top.

    Parameters
    ----------
    level : float
        Elevation of the outside top. [m]
    diameter : float
        Inside diameter. [m]
    wall : float
        Thickness of the wall, corrugation included. [m]

    Returns
    -------
    float
        Elevation of the inside bottom. [m]

    Notes
    -----
    z = z_top - t - D    (derived)

    References
    ----------
    derived, a ring
    """
    return level - wall - diameter


def invert_of_pipe_bottom(level: float, *, wall: float) -> float:
    """Invert of a pipe from the level of its outside bottom, or of the bedding it lies on.

    Parameters
    ----------
    level : float
        Elevation of the outside bottom. [m]
    wall : float
        Thickness of the wall, corrugation included. [m]

    Returns
    -------
    float
        Elevation of the inside bottom. [m]

    Notes
    -----
    z = z_bottom + t    (derived)

    References
    ----------
    derived, a ring
    """
    return level + wall


def deviation(built: float, design: float) -> float:
    """How far finished work lies above or beyond its design.

    Parameters
    ----------
    built : float
        As shot or taped. [m]
    design : float
        As designed. [m]

    Returns
    -------
    float
        Positive where it is higher or more. [m]

    Notes
    -----
    d = z_built - z_design    (derived)

    References
    ----------
    derived, a difference
    """
    return built - design


def mean_level(**levels: float) -> float:
    """Mean of levels that were shot.

    Parameters
    ----------
    **levels : float
        Elevations. [m]

    Returns
    -------
    float
        Mean. [m]

    Notes
    -----
    z = sum z_i / n    (derived)

    References
    ----------
    derived, an arithmetic mean
    """
    return fmean(levels.values())


def spread_of_levels(**levels: float) -> float:
    """Standard deviation of levels about their mean.

    Parameters
    ----------
    **levels : float
        Elevations. [m]

    Returns
    -------
    float
        Standard deviation; 0 for one level. [m]

    Notes
    -----
    s = sqrt(sum (z_i - z)^2 / (n - 1))    (derived)

    References
    ----------
    derived, the standard deviation of a sample
    """
    values = tuple(levels.values())
    return stdev(values) if len(values) > 1 else 0.0


def worst_of(**deviations: float) -> float:
    """The deviation that is furthest from nothing, with its sign.

    Parameters
    ----------
    **deviations : float
        Deviations of single shots. [m]

    Returns
    -------
    float
        The largest by size. [m]

    Notes
    -----
    d = d_i of the largest |d_i|    (derived)

    References
    ----------
    derived, the largest of them
    """
    return max(deviations.values(), key=abs)


def floor_slope(**shots: Place) -> float:
    """Slope of a floor along the bed, by least squares through its shots.

    Parameters
    ----------
    **shots : tuple of (along, level)
        Distance up the bed and elevation of each shot. [m]

    Returns
    -------
    float
        Rise over run; positive where the floor rises up the main. [-]

    Raises
    ------
    OutOfDomain
        If all shots lie at one distance.

    Notes
    -----
    S = sum (x - x_m)(z - z_m) / sum (x - x_m)^2    (derived)

    References
    ----------
    derived, a straight line of least squares
    """
    along = [x for x, _ in shots.values()]
    middle, level = fmean(along), fmean(z for _, z in shots.values())
    square = sum((x - middle) ** 2 for x in along)
    if square == 0.0:
        raise OutOfDomain(
            "along is the same for all shots. A slope needs shots at two distances at least. "
            "Shoot the floor at both of its ends."
        )
    return sum((x - middle) * (z - level) for x, z in shots.values()) / square


def length_of_corners(**corners: Place) -> float:
    """Length of a rectangle from its corners: the mean of its two longer sides.

    Parameters
    ----------
    **corners : tuple of float
        Four places, in any order. [m]

    Returns
    -------
    float
        Length. [m]

    Raises
    ------
    OutOfDomain
        If there are not four corners.

    Notes
    -----
    L = max((a + c) / 2, (b + d) / 2) of the sides walked around    (derived)

    References
    ----------
    derived, sides of a rectangle
    """
    return max(_sides(corners.values()))


def width_of_corners(**corners: Place) -> float:
    """Width of a rectangle from its corners: the mean of its two shorter sides.

    Parameters
    ----------
    **corners : tuple of float
        Four places, in any order. [m]

    Returns
    -------
    float
        Width. [m]

    Raises
    ------
    OutOfDomain
        If there are not four corners.

    Notes
    -----
    W = min((a + c) / 2, (b + d) / 2) of the sides walked around    (derived)

    References
    ----------
    derived, sides of a rectangle
    """
    return min(_sides(corners.values()))


def _sides(corners: Iterable[Place]) -> tuple[float, float]:
    """Means of the opposite sides of four corners, walked around their middle."""
    places = list(corners)
    if len(places) != LEAST_CORNERS:
        raise OutOfDomain(
            f"corners is {len(places)} -. A rectangle has {LEAST_CORNERS}. "
            "Shoot each corner of the floor once, or tape its sides."
        )
    north, east = fmean(p[0] for p in places), fmean(p[1] for p in places)
    around = sorted(places, key=lambda p: atan2(p[1] - east, p[0] - north))
    a, b, c, d = (
        hypot(q[0] - p[0], q[1] - p[1])
        for p, q in zip(around, (*around[1:], around[0]), strict=True)
    )
    return (a + c) / 2, (b + d) / 2
