# SPDX-License-Identifier: Apache-2.0
"""Setting out: hubs beside the work, cuts at hubs, tape checks between stakes.

Grid coordinates are a plane. A tape lies on the ground: where the grid's combined factor is
given, ground distance is grid distance over that factor.
"""

from math import hypot

from tilewater.basis.errors import OutOfDomain

Place = tuple[float, float]


def cut_at_hub(hub: float, grade: float) -> float:
    """Cut from the top of a hub down to grade; a fill is negative.

    Parameters
    ----------
    hub : float
        Elevation shot on top of the hub. [m]
    grade : float
        Elevation of the floor, invert or sill that is dug to. [m]

    Returns
    -------
    float
        Cut. [m]

    Notes
    -----
    C = z_hub - z_grade    (derived)

    References
    ----------
    derived, a difference of levels
    """
    return hub - grade


def hub_beyond(corner: Place, other: Place, away: float) -> Place:
    """A hub beyond a corner, on the line of the side that runs to it from another corner.

    Parameters
    ----------
    corner, other : tuple of (station, offset)
        The corner, and the other end of its side. [m]
    away : float
        Distance of the hub from the corner. [m]

    Returns
    -------
    tuple of (station, offset)
        Where the hub stands. [m]

    Raises
    ------
    OutOfDomain
        If both corners are the same place.

    Notes
    -----
    h = c + d (c - o) / |c - o|    (derived)

    A string between the hubs of both ends lies over the side, and neither hub is dug away.

    References
    ----------
    derived, a line drawn on
    """
    run, side = corner[0] - other[0], corner[1] - other[1]
    length = hypot(run, side)
    if length == 0.0:
        raise OutOfDomain("length is 0 m. The corners of a side lie apart. Correct the outline.")
    return corner[0] + away * run / length, corner[1] + away * side / length


def ground_distance(
    north: float, east: float, other_north: float, other_east: float, *, factor: float = 1.0
) -> float:
    """Distance that a level tape measures between two points of the grid.

    Parameters
    ----------
    north, east, other_north, other_east : float
        Grid coordinates of both points. [m]
    factor : float
        Combined factor of the grid: grid distance over ground distance. [-]

    Returns
    -------
    float
        Distance on the ground. [m]

    Raises
    ------
    OutOfDomain
        If the factor is not positive.

    Notes
    -----
    D = hypot(dN, dE) / k    (derived)

    References
    ----------
    derived, plane distance
    """
    if not factor > 0.0:
        raise OutOfDomain(f"factor is {factor:g}. It is more than 0. Ask the surveyor for it.")
    return hypot(other_north - north, other_east - east) / factor


def shift_of_wrong_foot(coordinate: float) -> float:
    """How far a coordinate moves when one kind of foot is taken for the other.

    Parameters
    ----------
    coordinate : float
        North or east. [m]

    Returns
    -------
    float
        Shift. [m]

    Notes
    -----
    d = x (1200/3937 / 0.3048 - 1), two parts in a million    (derived)

    References
    ----------
    derived, the definitions of both feet
    """
    return abs(coordinate) * ((1200.0 / 3937.0) / 0.3048 - 1.0)
