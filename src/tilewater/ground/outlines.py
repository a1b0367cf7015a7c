# SPDX-License-Identifier: Apache-2.0
"""Outlines in plan: rectangles beside a baseline, parallel lines, distances between them.

Points are (station, offset), so that an outline needs no grid; nothing here knows a bend of the
baseline, and what is laid across one is laid as if the leg ran on.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, hypot, sin

from tilewater.basis.errors import OutOfDomain

Place = tuple[float, float]
Line = Sequence[Place]


def rectangle_beside(
    station: float,
    offset: float,
    length: float,
    width: float,
    *,
    turn: float = 0.0,
    margin: float = 0.0,
) -> tuple[Place, Place, Place, Place]:
    """Corners of a rectangle beside a baseline.

    Parameters
    ----------
    station, offset : float
        Corner at the lower end on the edge nearest the line; a negative offset lies to the left
        looking up the line, and the rectangle then reaches further left. [m]
    length, width : float
        Along the line and away from it. [m]
    turn : float
        Turned about that corner, clockwise seen from above. [rad]
    margin : float
        Moved out on all four sides. [m]

    Returns
    -------
    tuple of (station, offset)
        Lower near, lower far, upper far, upper near. [m]

    Raises
    ------
    OutOfDomain
        If a side, with the margin, is not positive.

    Notes
    -----
    s = s0 + x cos t - y sin t,  o = o0 + x sin t + y cos t    (derived)

    References
    ----------
    derived, turned plane coordinates
    """
    for name, side in (("length", length), ("width", width)):
        if not side + 2 * margin > 0.0:
            raise OutOfDomain(
                f"{name} is {side:g} m with a margin of {margin:g} m. It is more than 0 with both "
                "margins. Correct one of them."
            )
    side = -1.0 if offset < 0.0 else 1.0
    low, near = -margin, -margin * side
    high, far = length + margin, (width + margin) * side
    c, s = cos(turn), sin(turn)

    def turned(x: float, y: float) -> Place:
        return station + x * c - y * s, offset + x * s + y * c

    return turned(low, near), turned(low, far), turned(high, far), turned(high, near)


def nearest_on_line(point: Place, line: Line) -> Place:
    """The point of a line that lies nearest to a point.

    Parameters
    ----------
    point : (float, float)
        Where one stands. [m]
    line : sequence of (float, float)
        Points of the line, in their order. [m]

    Returns
    -------
    (float, float)
        On the line. [m]

    Notes
    -----
    q = a + t (b - a),  t = ((p - a) . (b - a)) / |b - a|^2, held to 0 ... 1    (derived)

    References
    ----------
    derived, foot of a perpendicular
    """
    feet = (_foot(point, a, b) for a, b in pairwise(line))
    return min(feet, key=lambda foot: hypot(foot[0] - point[0], foot[1] - point[1]))


def shortest_between(first: Line, second: Line) -> tuple[Place, Place]:
    """Where two lines that do not cross come nearest to each other.

    Parameters
    ----------
    first, second : sequence of (float, float)
        Points of each, in their order. [m]

    Returns
    -------
    tuple of (float, float)
        On the first, on the second; of several that are as near the first. [m]

    Notes
    -----
    min |p - q| is reached at a corner of one of two lines that do not cross    (derived)

    References
    ----------
    derived, plane distance
    """
    pairs = [(p, nearest_on_line(p, second)) for p in first]
    pairs += [(nearest_on_line(q, first), q) for q in second]
    return min(pairs, key=lambda pair: hypot(pair[0][0] - pair[1][0], pair[0][1] - pair[1][1]))


def distance_between(first: Line, second: Line) -> float:
    """Shortest distance between two lines; 0 where they cross.

    Parameters
    ----------
    first, second : sequence of (float, float)
        Points of each, in their order. [m]

    Returns
    -------
    float
        Distance. [m]

    Notes
    -----
    d = min |p - q|    (derived)

    References
    ----------
    derived, plane distance
    """
    if any(_crossing(a, b, c, d) for a, b in pairwise(first) for c, d in pairwise(second)):
        return 0.0
    p, q = shortest_between(first, second)
    return hypot(p[0] - q[0], p[1] - q[1])


def closed(outline: Iterable[Place]) -> tuple[Place, ...]:
    """An outline as a line that ends where it begins.

    Parameters
    ----------
    outline : iterable of (float, float)
        Its corners. [m]

    Returns
    -------
    tuple of (float, float)
        The same, the first corner once more at the end. [m]

    References
    ----------
    derived, an order of points
    """
    corners = tuple(outline)
    return (*corners, corners[0])


def parallel_line(line: Line, distance: float, towards: Place) -> tuple[Place, ...]:
    """Line beside a line, on the side of a point; corners are carried out to where the two meet.

    Parameters
    ----------
    line : sequence of (float, float)
        Points of the line, in their order. [m]
    distance : float
        Between the two. [m]
    towards : (float, float)
        Point on the side that is meant. [m]

    Returns
    -------
    tuple of (float, float)
        As many points as the line has. [m]

    Notes
    -----
    p + 2 d (n1 + n2) / |n1 + n2|^2, n1 and n2 the normals before and behind    (derived)

    References
    ----------
    derived, where two parallels meet
    """
    sign = 1.0 if side_of(towards, line) > 0.0 else -1.0
    normals = []
    for (ax, ay), (bx, by) in pairwise(line):
        run = hypot(bx - ax, by - ay)
        normals.append((-(by - ay) / run, (bx - ax) / run))
    found = []
    for index, (x, y) in enumerate(line):
        before = normals[max(index - 1, 0)]
        after = normals[min(index, len(normals) - 1)]
        nx, ny = before[0] + after[0], before[1] + after[1]
        reach = sign * distance * 2.0 / (nx * nx + ny * ny)
        found.append((x + nx * reach, y + ny * reach))
    return tuple(found)


def side_of(point: Place, line: Line) -> float:
    """Distance of a point from a line, with its side: positive to the left of its direction.

    The end pieces of the line run on beyond its ends.

    Parameters
    ----------
    point : (float, float)
        Where one stands. [m]
    line : sequence of (float, float)
        Points of the line, in their order. [m]

    Returns
    -------
    float
        Signed distance, the second axis lying left of the first. [m]

    Notes
    -----
    d = ((b - a) x (p - a)) / |b - a| on the nearest piece    (derived)

    References
    ----------
    derived, cross product
    """
    pieces = list(pairwise(line))
    last = len(pieces) - 1

    def apart(index: int) -> float:
        foot = _foot(point, *pieces[index], before=index == 0, beyond=index == last)
        return hypot(foot[0] - point[0], foot[1] - point[1])

    a, b = pieces[min(range(len(pieces)), key=apart)]
    cross = (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])
    return cross / hypot(b[0] - a[0], b[1] - a[1])


def length_beside(run: Line, line: Line, of: Place) -> float:
    """How much of a run lies on the side of a line on which a point is.

    Parameters
    ----------
    run, line : sequence of (float, float)
        Points of each, in their order; the end pieces of the line run on beyond its ends. [m]
    of : (float, float)
        A point of the side. [m]

    Returns
    -------
    float
        Length of the run on that side. [m]

    Notes
    -----
    L = sum of the pieces between the crossings that lie on the side    (derived)

    References
    ----------
    derived, plane distance
    """
    positive = side_of(of, line) > 0.0
    total = 0.0
    for a, b in pairwise(run):
        shares = [0.0, *sorted(_crossings(a, b, line)), 1.0]
        long = hypot(b[0] - a[0], b[1] - a[1])
        for low, high in pairwise(shares):
            middle = (low + high) / 2
            at = (a[0] + middle * (b[0] - a[0]), a[1] + middle * (b[1] - a[1]))
            if (side_of(at, line) > 0.0) == positive:
                total += (high - low) * long
    return total


def _crossings(a: Place, b: Place, line: Line) -> list[float]:
    """Shares of the way from a to b at which it crosses the line."""
    pieces = list(pairwise(line))
    found = []
    for index, (c, d) in enumerate(pieces):
        shares = _shares(a, b, c, d)
        if shares is None:
            continue
        along, on_line = shares
        begun = index == 0 or on_line >= 0.0
        ended = index == len(pieces) - 1 or on_line < 1.0
        if 0.0 < along < 1.0 and begun and ended:
            found.append(along)
    return found


def _crossing(a: Place, b: Place, c: Place, d: Place) -> bool:
    shares = _shares(a, b, c, d)
    return shares is not None and all(0.0 <= share <= 1.0 for share in shares)


def _shares(a: Place, b: Place, c: Place, d: Place) -> tuple[float, float] | None:
    """Where the lines a-b and c-d meet, as shares of either; None where they are parallel."""
    ux, uy, vx, vy = b[0] - a[0], b[1] - a[1], d[0] - c[0], d[1] - c[1]
    cross = ux * vy - uy * vx
    if cross == 0.0:
        return None
    wx, wy = c[0] - a[0], c[1] - a[1]
    return (wx * vy - wy * vx) / cross, (wx * uy - wy * ux) / cross


def _foot(point: Place, a: Place, b: Place, *, before: bool = False, beyond: bool = False) -> Place:
    ux, uy = b[0] - a[0], b[1] - a[1]
    share = ((point[0] - a[0]) * ux + (point[1] - a[1]) * uy) / (ux * ux + uy * uy)
    share = max(share, 0.0) if not before else share
    share = min(share, 1.0) if not beyond else share
    return a[0] + share * ux, a[1] + share * uy
