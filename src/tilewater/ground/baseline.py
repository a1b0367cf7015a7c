# SPDX-License-Identifier: Apache-2.0
"""Grid coordinates of stations and offsets along a main, and back.

A baseline runs up the main in straight legs, each with its azimuth. Stations are counted along it,
offsets square to it, positive to the right of a person looking up the line. The grid is a plane:
no scale factor and no convergence is applied, as a site of some thousand feet needs none.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, isfinite, sin

from tilewater.basis.errors import OutOfDomain

Place = tuple[float, float]
"""North and east in the grid, or station and offset along a baseline. [m]"""


@dataclass(frozen=True)
class Leg:
    """A straight piece of a baseline: where it begins and where it points.

    Attributes
    ----------
    station, north, east : float
        Of its beginning. [m]
    azimuth : float
        Clockwise from grid north. [rad]
    """

    station: float
    north: float
    east: float
    azimuth: float


@dataclass(frozen=True)
class Baseline:
    """A line of stations; its first leg also runs back, its last one on, without an end."""

    legs: tuple[Leg, ...]

    def leg_at(self, station: float) -> Leg:
        """The leg on which a station lies; a bend belongs to the leg above it."""
        return next((leg for leg in reversed(self.legs) if leg.station <= station), self.legs[0])


def baseline_of_legs(
    north: float,
    east: float,
    azimuth: float,
    *,
    station: float = 0.0,
    bends: Sequence[tuple[float, float]] = (),
) -> Baseline:
    """Baseline through a known point.

    Parameters
    ----------
    north, east : float
        Grid coordinates of the known point. [m]
    azimuth : float
        Of the leg through it, up the line, clockwise from grid north. [rad]
    station : float
        Station of the known point. [m]
    bends : sequence of (station, azimuth)
        Where the line turns [m], and the azimuth from there on [rad]; rising, above the known
        point. [-]

    Returns
    -------
    Baseline
        Its legs.

    Raises
    ------
    OutOfDomain
        If a value is not finite, or a bend does not lie above the one before it.

    Notes
    -----
    N = N0 + s cos a,  E = E0 + s sin a from bend to bend    (derived)

    References
    ----------
    derived, plane coordinates of a traverse
    """
    for name, value, unit in (
        ("north", north, "m"),
        ("east", east, "m"),
        ("azimuth", azimuth, "rad"),
        ("station", station, "m"),
    ):
        if not isfinite(value):
            raise OutOfDomain(f"{name} is {value} {unit}. It is a number. Read it again.")
    legs = [Leg(station, north, east, azimuth)]
    for at, turned in bends:
        last = legs[-1]
        if not at > last.station:
            raise OutOfDomain(
                f"bend is {at:g} m. It lies above {last.station:g} m. List bends up the line."
            )
        run = at - last.station
        legs.append(
            Leg(
                at,
                last.north + run * cos(last.azimuth),
                last.east + run * sin(last.azimuth),
                turned,
            )
        )
    return Baseline(tuple(legs))


def grid_of_station_offset(baseline: Baseline, station: float, offset: float) -> Place:
    """Grid coordinates of a station and offset.

    Parameters
    ----------
    baseline : Baseline
        The line of stations. [-]
    station : float
        Way along the line. [m]
    offset : float
        Square to the line, positive to the right looking up it. [m]

    Returns
    -------
    (float, float)
        North and east. [m]

    Notes
    -----
    N = N0 + s cos a - o sin a,  E = E0 + s sin a + o cos a    (derived)

    A bend belongs to the leg above it, so an offset there is square to that leg.

    References
    ----------
    derived, turned plane coordinates
    """
    leg = baseline.leg_at(station)
    run, c, s = station - leg.station, cos(leg.azimuth), sin(leg.azimuth)
    return leg.north + run * c - offset * s, leg.east + run * s + offset * c


def station_offset_of_grid(baseline: Baseline, north: float, east: float) -> Place:
    """Station and offset of a point of the grid: where the line comes nearest to it.

    Parameters
    ----------
    baseline : Baseline
        The line of stations. [-]
    north, east : float
        Grid coordinates. [m]

    Returns
    -------
    (float, float)
        Station and offset, positive to the right looking up the line. [m]

    Notes
    -----
    s = dN cos a + dE sin a,  o = dE cos a - dN sin a    (derived)

    Outside a bend no square reaches the line: a point there has the station of the bend and its
    straight distance as offset, and does not come back to the same place.

    References
    ----------
    derived, turned plane coordinates
    """
    found = []
    legs = baseline.legs
    for index, leg in enumerate(legs):
        dn, de = north - leg.north, east - leg.east
        c, s = cos(leg.azimuth), sin(leg.azimuth)
        along, offset = dn * c + de * s, de * c - dn * s
        if index > 0 and along < 0.0:
            side = 1.0 if offset > 0.0 else -1.0
            found.append((hypot(dn, de), leg.station, side * hypot(dn, de)))
        elif index + 1 == len(legs) or leg.station + along < legs[index + 1].station:
            found.append((abs(offset), leg.station + along, offset))
    _, station, right = min(found, key=lambda each: each[0])
    return station, right


def north_at(baseline: Baseline, station: float, offset: float) -> float:
    """North of a station and offset.

    Parameters
    ----------
    baseline : Baseline
        The line of stations. [-]
    station : float
        Way along the line. [m]
    offset : float
        Square to the line, positive to the right looking up it. [m]

    Returns
    -------
    float
        North. [m]

    Notes
    -----
    N = N0 + s cos a - o sin a    (derived)

    References
    ----------
    derived, turned plane coordinates
    """
    return grid_of_station_offset(baseline, station, offset)[0]


def east_at(baseline: Baseline, station: float, offset: float) -> float:
    """East of a station and offset.

    Parameters
    ----------
    baseline : Baseline
        The line of stations. [-]
    station : float
        Way along the line. [m]
    offset : float
        Square to the line, positive to the right looking up it. [m]

    Returns
    -------
    float
        East. [m]

    Notes
    -----
    E = E0 + s sin a + o cos a    (derived)

    References
    ----------
    derived, turned plane coordinates
    """
    return grid_of_station_offset(baseline, station, offset)[1]


def station_at(baseline: Baseline, north: float, east: float) -> float:
    """Station of a point of the grid.

    Parameters
    ----------
    baseline : Baseline
        The line of stations. [-]
    north, east : float
        Grid coordinates. [m]

    Returns
    -------
    float
        Way along the line. [m]

    Notes
    -----
    s = dN cos a + dE sin a    (derived)

    References
    ----------
    derived, turned plane coordinates
    """
    return station_offset_of_grid(baseline, north, east)[0]


def offset_at(baseline: Baseline, north: float, east: float) -> float:
    """Offset of a point of the grid.

    Parameters
    ----------
    baseline : Baseline
        The line of stations. [-]
    north, east : float
        Grid coordinates. [m]

    Returns
    -------
    float
        Square to the line, positive to the right looking up it. [m]

    Notes
    -----
    o = dE cos a - dN sin a    (derived)

    References
    ----------
    derived, turned plane coordinates
    """
    return station_offset_of_grid(baseline, north, east)[1]


def line_length(line: Sequence[Place]) -> float:
    """Length of a line through points.

    Parameters
    ----------
    line : sequence of (float, float)
        Its points, in their order. [m]

    Returns
    -------
    float
        Length. [m]

    Notes
    -----
    L = sum of hypot(dx, dy)    (derived)

    References
    ----------
    derived, plane distance
    """
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line))
