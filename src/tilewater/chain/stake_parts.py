# SPDX-License-Identifier: Apache-2.0
"""Functions that the steps of setting out call: places of stakes and hubs."""

from itertools import pairwise
from math import hypot

from tilewater.basis.errors import OutOfDomain
from tilewater.chain.plan_parts import CORNERS, Outline
from tilewater.ground.baseline import Baseline, grid_of_station_offset
from tilewater.ground.geographic import geographic_near
from tilewater.ground.stakes import hub_beyond

Place = tuple[float, float]
HAIR = 1e-6
"""Two stakes nearer than this are one. [m]"""


def hub_of_corner(outline: Outline, corner: str, other: str, away: float) -> Place:
    """A hub beyond a corner of an outline, on the line of one of its sides.

    Parameters
    ----------
    outline : tuple of (station, offset)
        Corners: lower near, lower far, upper far, upper near. [m]
    corner, other : str
        The corner, and the other end of its side. [-]
    away : float
        Distance of the hub from the corner. [m]

    Returns
    -------
    tuple of (station, offset)
        Where the hub stands. [m]

    Notes
    -----
    h = c + d (c - o) / |c - o|    (derived)

    References
    ----------
    derived, a line drawn on
    """
    corners = dict(zip(CORNERS, outline, strict=True))
    return hub_beyond(corners[corner], corners[other], away)


def hub_of_line_end(places: Outline, count: int, away: float) -> Place:
    """A hub beyond the first or last stake of a line, on the line drawn on.

    Parameters
    ----------
    places : tuple of (station, offset)
        Stakes of the line. [m]
    count : int
        Which end: 1, or the number of the last stake. [-]
    away : float
        Distance of the hub from the end. [m]

    Returns
    -------
    tuple of (station, offset)
        Where the hub stands. [m]

    Notes
    -----
    h = c + d (c - o) / |c - o|    (derived)

    References
    ----------
    derived, a line drawn on
    """
    end = int(count) - 1
    return hub_beyond(places[end], places[1 if end == 0 else end - 1], away)


def stands_beside(station: float, offset: float, away: float, side: float) -> Place:
    """A hub beside a structure, square to the main.

    Parameters
    ----------
    station, offset : float
        Of the middle of the structure. [m]
    away : float
        Distance of the hub from it. [m]
    side : float
        1 to the right looking up the main, -1 to the left. [-]

    Returns
    -------
    tuple of (station, offset)
        Where the hub stands. [m]

    Notes
    -----
    o = o0 + side d    (derived)

    References
    ----------
    derived, a square offset
    """
    return station, offset + side * away


def station_of_place(place: Place) -> float:
    """Station of a place.

    Parameters
    ----------
    place : tuple of (station, offset)
        The place. [m]

    Returns
    -------
    float
        Station. [m]

    Notes
    -----
    s = the first of the two    (derived)

    References
    ----------
    derived, the value itself
    """
    return place[0]


def offset_of_place(place: Place) -> float:
    """Offset of a place.

    Parameters
    ----------
    place : tuple of (station, offset)
        The place. [m]

    Returns
    -------
    float
        Offset. [m]

    Notes
    -----
    o = the second of the two    (derived)

    References
    ----------
    derived, the value itself
    """
    return place[1]


def places_along(line: Outline, every: float) -> tuple[Place, ...]:
    """Stakes along a line: at its beginning, each bend, its end, and so far apart between.

    Parameters
    ----------
    line : tuple of (station, offset)
        Points of the line. [m]
    every : float
        Greatest distance between two stakes. [m]

    Returns
    -------
    tuple of (station, offset)
        The stakes in their order. [m]

    Notes
    -----
    each leg from a to b: a + i d (b - a) / |b - a|, i = 0, 1, ... short of b    (derived)

    References
    ----------
    derived, equal steps along a line
    """
    found: list[Place] = []
    for (s, o), (to_s, to_o) in pairwise(line):
        length = hypot(to_s - s, to_o - o)
        if length < HAIR:
            continue
        gone = 0.0
        while gone < length - HAIR:
            share = gone / length
            found.append((s + share * (to_s - s), o + share * (to_o - o)))
            gone += every
    found.append(line[-1])
    return tuple(found)


def station_on_line(places: Outline, count: int) -> float:
    """Station of a stake of a line.

    Parameters
    ----------
    places : tuple of (station, offset)
        Its stakes. [m]
    count : int
        Which, from 1. [-]

    Returns
    -------
    float
        Station. [m]

    Notes
    -----
    s = s_i    (derived)

    References
    ----------
    derived, the value itself
    """
    return places[int(count) - 1][0]


def offset_on_line(places: Outline, count: int) -> float:
    """Offset of a stake of a line.

    Parameters
    ----------
    places : tuple of (station, offset)
        Its stakes. [m]
    count : int
        Which, from 1. [-]

    Returns
    -------
    float
        Offset. [m]

    Notes
    -----
    o = o_i    (derived)

    References
    ----------
    derived, the value itself
    """
    return places[int(count) - 1][1]


def rectangle_around(margin: float, **outlines: Outline) -> Outline:
    """The rectangle along the main around all that is dug, moved out by a margin.

    Parameters
    ----------
    margin : float
        Moved out on all sides. [m]
    **outlines : tuple of (station, offset)
        Outlines and lines of the works. [m]

    Returns
    -------
    tuple of (station, offset)
        Lower left, lower right, upper right, upper left, looking up the main. [m]

    Raises
    ------
    OutOfDomain
        If there is nothing to go around.

    Notes
    -----
    from the least to the greatest station and offset    (derived)

    References
    ----------
    derived, a bounding rectangle
    """
    points = [point for outline in outlines.values() for point in outline]
    if not points:
        raise OutOfDomain(
            "outlines are none. Something is dug. Give the bed, line or pipes a place."
        )
    stations, offsets = zip(*points, strict=True)
    low, high = min(stations) - margin, max(stations) + margin
    left, right = min(offsets) - margin, max(offsets) + margin
    return (low, left), (low, right), (high, right), (high, left)


def geographic_outline(
    outline: Outline,
    baseline: Baseline,
    latitude_deg: float,
    longitude_deg: float,
    convergence_deg: float = 0.0,
) -> Outline:
    """An outline in latitude and longitude, from those of the known point of the baseline.

    Parameters
    ----------
    outline : tuple of (station, offset)
        Its corners. [m]
    baseline : Baseline
        The line of stations; its first leg begins at the known point. [-]
    latitude_deg, longitude_deg : float
        Of the known point. [deg]
    convergence_deg : float
        Azimuth of grid north from true north. [deg]

    Returns
    -------
    tuple of (latitude, longitude)
        Its corners. [deg]

    Raises
    ------
    OutOfDomain
        If a corner lies too far from the known point.

    Notes
    -----
    dp = dN / M,  dl = dE / (N cos p)    (snyder1987)

    References
    ----------
    snyder1987, radii of curvature of the ellipsoid, from memory
    """
    known = baseline.legs[0]
    corners = (grid_of_station_offset(baseline, station, offset) for station, offset in outline)
    return tuple(
        geographic_near(
            north - known.north,
            east - known.east,
            latitude_deg=latitude_deg,
            longitude_deg=longitude_deg,
            convergence_deg=convergence_deg,
        )
        for north, east in corners
    )
