# SPDX-License-Identifier: Apache-2.0
"""A closed traverse: how far it fails to close, and its courses with the error shared out."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, inf, sin

from tilewater.basis.errors import OutOfDomain

Place = tuple[float, float]
"""North and east. [m]"""


@dataclass(frozen=True)
class Course:
    """One course of a traverse.

    Attributes
    ----------
    azimuth : float
        Clockwise from north. [rad]
    length : float
        Measured. [m]
    """

    azimuth: float
    length: float

    @property
    def latitude(self) -> float:
        """How far it goes north. [m]"""
        return self.length * cos(self.azimuth)

    @property
    def departure(self) -> float:
        """How far it goes east. [m]"""
        return self.length * sin(self.azimuth)


def traverse_misclosure(courses: Sequence[Course], *, ends_at: Place = (0.0, 0.0)) -> Place:
    """How far a traverse ends from where it should.

    Parameters
    ----------
    courses : sequence of Course
        In their order. [-]
    ends_at : tuple of (north, east)
        How far its end lies from its beginning in truth; nothing for a loop. [m]

    Returns
    -------
    tuple of (north, east)
        Misclosure. [m]

    Raises
    ------
    OutOfDomain
        If there is no course.

    Notes
    -----
    e_N = sum of L cos a - N,  e_E = sum of L sin a - E    (derived)

    References
    ----------
    derived, sums of latitudes and departures
    """
    if not courses:
        raise OutOfDomain("courses are none. A traverse has at least one. List its courses.")
    return (
        sum(course.latitude for course in courses) - ends_at[0],
        sum(course.departure for course in courses) - ends_at[1],
    )


def traverse_precision(courses: Sequence[Course], *, ends_at: Place = (0.0, 0.0)) -> float:
    """Length of a traverse over its misclosure: 5,000 for one part in five thousand.

    Parameters
    ----------
    courses : sequence of Course
        In their order. [-]
    ends_at : tuple of (north, east)
        As for `traverse_misclosure`. [m]

    Returns
    -------
    float
        Precision; infinite where it ends_at exactly. [-]

    Raises
    ------
    OutOfDomain
        If there is no course.

    Notes
    -----
    P = sum of L / hypot(e_N, e_E)    (derived)

    References
    ----------
    derived, a ratio of lengths
    """
    error = hypot(*traverse_misclosure(courses, ends_at=ends_at))
    whole = sum(course.length for course in courses)
    return whole / error if error > 0.0 else inf


def adjusted_by_compass_rule(
    courses: Sequence[Course], start: Place, *, ends_at: Place = (0.0, 0.0)
) -> tuple[Place, ...]:
    """Points of a traverse, its misclosure shared out by the length of each course.

    Parameters
    ----------
    courses : sequence of Course
        In their order. [-]
    start : tuple of (north, east)
        Where it begins. [m]
    ends_at : tuple of (north, east)
        As for `traverse_misclosure`. [m]

    Returns
    -------
    tuple of (north, east)
        The beginning and the end of every course. [m]

    Raises
    ------
    OutOfDomain
        If there is no course, or all have no length.

    Notes
    -----
    dN_i = L_i cos a_i - e_N L_i / sum of L    (compass-rule)

    References
    ----------
    compass-rule, corrections by length of course
    """
    whole = sum(course.length for course in courses)
    north_error, east_error = traverse_misclosure(courses, ends_at=ends_at)
    if not whole > 0.0:
        raise OutOfDomain(f"length is {whole:g} m. It is more than 0. Measure the courses again.")
    points = [start]
    for course in courses:
        share = course.length / whole
        north, east = points[-1]
        points.append(
            (
                north + course.latitude - share * north_error,
                east + course.departure - share * east_error,
            )
        )
    return tuple(points)
