# SPDX-License-Identifier: Apache-2.0
"""Functions that the steps of the plan call: outlines, lines and corners by station and offset."""

from math import pi

from tilewater.ground.baseline import Baseline, baseline_of_legs, station_offset_of_grid
from tilewater.ground.outlines import closed, parallel_line, rectangle_beside

Outline = tuple[tuple[float, float], ...]

BASELINE = "plan.baseline"
POINTS = "plan.points"
OUTLINES = "plan.outlines"
LINES = "plan.lines"
PIPES = "plan.pipes"
DISTANCES = "plan.distances"
RIGHT_OF_WAY = "plan.right_of_way"

CORNERS = ("lower-near", "lower-far", "upper-far", "upper-near")
"""Corners of an outline: lower is the end towards the outlet of the main, near is beside it."""


def bend_at(station: float, azimuth_deg: float) -> tuple[float, float]:
    """A bend of the baseline.

    Parameters
    ----------
    station : float
        Station of the bend. [m]
    azimuth_deg : float
        Azimuth above it, clockwise from north. [deg]

    Returns
    -------
    tuple of float
        Station, and azimuth in radians. [-]
    """
    return station, azimuth_deg * pi / 180.0


def baseline_through(
    north: float, east: float, azimuth: float, station: float, **bends: tuple[float, float]
) -> Baseline:
    """The baseline through its known point.

    Parameters
    ----------
    north, east : float
        Of the known point. [m]
    azimuth : float
        Up the main from there, clockwise from north. [rad]
    station : float
        Of the known point. [m]
    **bends : tuple of float
        Station and azimuth of each bend. [-]

    Returns
    -------
    Baseline
        Its legs.

    Raises
    ------
    OutOfDomain
        If a bend does not lie above the known point.

    Notes
    -----
    N = N0 + s cos a,  E = E0 + s sin a from bend to bend    (derived)

    References
    ----------
    derived, plane coordinates of a traverse
    """
    rising = tuple(sorted(bends.values()))
    return baseline_of_legs(north, east, azimuth, station=station, bends=rising)


def outline_beside(
    station: float,
    offset: float,
    length: float,
    width: float,
    turn_deg: float = 0.0,
    margin: float = 0.0,
) -> Outline:
    """Outline of a rectangle beside the main, moved out by a margin on all sides.

    Parameters
    ----------
    station, offset : float
        Of its corner at the lower end beside the main. [m]
    length, width : float
        Along the main and away from it. [m]
    turn_deg : float
        Turned about that corner, clockwise seen from above. [deg]
    margin : float
        Moved out. [m]

    Returns
    -------
    tuple of (station, offset)
        Lower near, lower far, upper far, upper near. [m]

    Notes
    -----
    s = s0 + x cos t - y sin t,  o = o0 + x sin t + y cos t    (derived)

    References
    ----------
    derived, turned plane coordinates
    """
    turn = turn_deg * pi / 180.0
    return rectangle_beside(station, offset, length, width, turn=turn, margin=margin)


def box_around(station: float, offset: float, length: float, width: float) -> Outline:
    """Outline of a box around its middle.

    Parameters
    ----------
    station, offset : float
        Of its middle. [m]
    length, width : float
        Along the main and across it. [m]

    Returns
    -------
    tuple of (station, offset)
        Corners. [m]

    Notes
    -----
    s0 +- l/2,  o0 +- w/2    (derived)

    References
    ----------
    derived, halves
    """
    low, high = station - length / 2, station + length / 2
    left, right = offset - width / 2, offset + width / 2
    return (low, left), (low, right), (high, right), (high, left)


def station_of_corner(outline: Outline, corner: str) -> float:
    """Station of a corner.

    Parameters
    ----------
    outline : tuple of (station, offset)
        Its four corners. [m]
    corner : str
        Which of them. [-]

    Returns
    -------
    float
        Station. [m]

    Notes
    -----
    s = s_k of the corner k    (derived)

    References
    ----------
    derived, a point of a list
    """
    return outline[CORNERS.index(corner)][0]


def offset_of_corner(outline: Outline, corner: str) -> float:
    """Offset of a corner.

    Parameters
    ----------
    outline : tuple of (station, offset)
        Its four corners. [m]
    corner : str
        Which of them. [-]

    Returns
    -------
    float
        Offset. [m]

    Notes
    -----
    o = o_k of the corner k    (derived)

    References
    ----------
    derived, a point of a list
    """
    return outline[CORNERS.index(corner)][1]


def station_of_end(line: Outline, end: str) -> float:
    """Station of an end of a line.

    Parameters
    ----------
    line : tuple of (station, offset)
        In the order of the water. [m]
    end : str
        "upper" or "lower". [-]

    Returns
    -------
    float
        Station. [m]

    Notes
    -----
    s = s_1 at the upper end, s_n at the lower    (derived)

    References
    ----------
    derived, a point of a list
    """
    return line[0 if end == "upper" else -1][0]


def offset_of_end(line: Outline, end: str) -> float:
    """Offset of an end of a line.

    Parameters
    ----------
    line : tuple of (station, offset)
        In the order of the water. [m]
    end : str
        "upper" or "lower". [-]

    Returns
    -------
    float
        Offset. [m]

    Notes
    -----
    o = o_1 at the upper end, o_n at the lower    (derived)

    References
    ----------
    derived, a point of a list
    """
    return line[0 if end == "upper" else -1][1]


def line_as_typed(points: Outline) -> Outline:
    """A line by the points that were typed.

    Parameters
    ----------
    points : tuple of (station, offset)
        As typed. [m]

    Returns
    -------
    tuple of (station, offset)
        The same. [m]
    """
    return tuple(points)


def line_of_shots(baseline: Baseline, north: tuple[float, ...], east: tuple[float, ...]) -> Outline:
    """A line through shots of the survey, by station and offset.

    Parameters
    ----------
    baseline : Baseline
        The main in the grid. [-]
    north, east : tuple of float
        Of the shots, in their order. [m]

    Returns
    -------
    tuple of (station, offset)
        Its points. [m]

    Notes
    -----
    s = dN cos a + dE sin a,  o = dE cos a - dN sin a    (derived)

    References
    ----------
    derived, turned plane coordinates
    """
    return tuple(station_offset_of_grid(baseline, n, e) for n, e in zip(north, east, strict=True))


def clear_of_main(outline: Outline) -> float:
    """How far an outline stays from the middle of the main; 0 where it lies across it.

    Parameters
    ----------
    outline : tuple of (station, offset)
        Its corners. [m]

    Returns
    -------
    float
        Distance. [m]

    Notes
    -----
    d = min |o| where all offsets have one sign, else 0    (derived)

    References
    ----------
    derived, offsets as distances
    """
    offsets = [offset for _, offset in outline]
    if min(offsets) <= 0.0 <= max(offsets):
        return 0.0
    return min(abs(offset) for offset in offsets)


def right_of_way_line(bank: Outline, width: float, bed: Outline) -> Outline:
    """Edge of the right of way: the bank top moved towards the bed.

    Parameters
    ----------
    bank : tuple of (station, offset)
        Bank top. [m]
    width : float
        Of the right of way, from the bank top. [m]
    bed : tuple of (station, offset)
        Outline that says on which side the land lies. [m]

    Returns
    -------
    tuple of (station, offset)
        Points of the edge. [m]

    Notes
    -----
    p + 2 d (n1 + n2) / |n1 + n2|^2, n1 and n2 the normals before and behind    (derived)

    References
    ----------
    derived, where two parallels meet
    """
    corners = closed(bed)[:-1]
    middle = (
        sum(station for station, _ in corners) / len(corners),
        sum(offset for _, offset in corners) / len(corners),
    )
    return parallel_line(bank, width, middle)


def first_of(line: Outline) -> tuple[float, float]:
    """First point of a line.

    Parameters
    ----------
    line : tuple of (station, offset)
        The line. [m]

    Returns
    -------
    tuple of float
        Its first point. [m]
    """
    return line[0]
