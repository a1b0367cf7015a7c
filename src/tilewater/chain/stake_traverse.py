# SPDX-License-Identifier: Apache-2.0
"""Steps of a closed traverse: its courses in the grid, its misclosure, its points adjusted.

They follow the stakes of a design and change nothing of it. A course is measured on the ground and
comes into the grid by the combined factor; its end is the point of its name.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, isfinite, radians

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.plain import Record
from tilewater.chain.plan_parts import POINTS
from tilewater.chain.stake import FACTOR
from tilewater.ground.traverse import (
    Course,
    Place,
    adjusted_by_compass_rule,
    traverse_misclosure,
    traverse_precision,
)

TRAVERSE, LEGS = "traverse", "inputs.leg"
ENDS = ("start", "end")


@dataclass(frozen=True)
class ClosedTraverse:
    """A traverse that was closed. [m]

    Attributes
    ----------
    names : tuple of str
        Of its points: the beginning, then the end of each course.
    points : tuple of (north, east)
        Adjusted.
    length : float
        Of all courses in the grid.
    north_error, east_error : float
        How far its end lies north and east of where it should.
    precision : float
        Length over misclosure; infinite where it closes exactly. [-]
    least : float
        Precision that is asked for. [-]
    start, end : str
        Benchmarks where it begins and ends; "" for none.
    """

    names: tuple[str, ...]
    points: tuple[Place, ...]
    length: float
    north_error: float
    east_error: float
    precision: float
    least: float
    start: str
    end: str

    @property
    def misclosure(self) -> float:
        """How far its end lies from where it should. [m]"""
        return hypot(self.north_error, self.east_error)

    @property
    def closes(self) -> bool:
        """Whether it closes as well as is asked."""
        return self.precision >= self.least


def grid_courses(factor: float, **sides: float) -> tuple[Course, ...]:
    """Courses of a traverse in the grid.

    Parameters
    ----------
    factor : float
        Combined factor of the grid: grid distance over ground distance. [-]
    **sides : float
        Azimuth and length on the ground of each course in turn. [deg], [m]

    Returns
    -------
    tuple of Course
        Courses in their order. [-]

    Notes
    -----
    L = k l    (derived)

    References
    ----------
    derived, ground distance into the grid
    """
    values = tuple(sides.values())
    return tuple(
        Course(radians(azimuth), factor * length)
        for azimuth, length in zip(values[::2], values[1::2], strict=True)
    )


def place_of(north: float, east: float) -> Place:
    """A point of the grid.

    Parameters
    ----------
    north, east : float
        Of the point. [m]

    Returns
    -------
    tuple of (north, east)
        The point. [m]
    """
    return north, east


def way_between(start: Place, end: Place) -> Place:
    """How far one point lies from another.

    Parameters
    ----------
    start, end : tuple of (north, east)
        Both points. [m]

    Returns
    -------
    tuple of (north, east)
        How far the second lies north and east of the first. [m]

    Notes
    -----
    dN = N2 - N1,  dE = E2 - E1    (derived)

    References
    ----------
    derived, differences of coordinates
    """
    return end[0] - start[0], end[1] - start[1]


def add_traverse(trace: Trace) -> None:
    """Record the courses of a traverse, its misclosure and its adjusted points."""
    legs = [name for name in trace.names(LEGS) if trace.known(*_sides(name))]
    if not legs:
        return
    sides = {argument_name(key): key for name in legs for key in _sides(name)}
    courses = f"{TRAVERSE}.courses"
    factor = FACTOR
    if FACTOR not in trace:
        factor = trace.constant(
            FACTOR, 1.0, "Combined factor of the grid: none given", unit="-", source="derived"
        )
    trace.compute(
        courses, grid_courses, unit="-", title="Courses of the traverse", factor=factor, **sides
    )
    start = _add_point(trace, "start")
    end = _add_point(trace, "end") if _named(trace, "end") else start
    ends_at = f"{TRAVERSE}.ends_at_m"
    trace.compute(
        ends_at,
        way_between,
        unit="m",
        title="From the beginning of the traverse to where it should end: north, east",
        start=start,
        end=end,
    )
    inputs = {"courses": courses, "ends_at": ends_at}
    trace.compute(
        f"{TRAVERSE}.misclosure_m",
        traverse_misclosure,
        unit="m",
        title="Misclosure of the traverse: north, east",
        **inputs,
    )
    trace.compute(
        f"{TRAVERSE}.precision",
        traverse_precision,
        unit="-",
        title="Precision of the traverse: length over misclosure",
        **inputs,
    )
    trace.compute(
        f"{TRAVERSE}.points_m",
        adjusted_by_compass_rule,
        unit="m",
        title="Adjusted points of the traverse: north, east",
        courses=courses,
        start=start,
        ends_at=ends_at,
    )


def _sides(name: str) -> tuple[str, str]:
    return f"{LEGS}.{name}.azimuth_deg", f"{LEGS}.{name}.length_m"


def _named(trace: Trace, which: str) -> str:
    """Name of the benchmark where it begins or ends; "" where none is given."""
    key = f"inputs.{TRAVERSE}.{which}"
    return str(trace.value(key)) if trace.known(key) else ""


def _keys_of(name: str) -> tuple[str, str]:
    here = f"{POINTS}.benchmark-{name}"
    return f"{here}.north_m", f"{here}.east_m"


def _add_point(trace: Trace, which: str) -> str:
    """The point where it begins or ends; 0, 0 where that has no place in the grid."""
    key, name = f"{TRAVERSE}.{which}_m", _named(trace, which)
    if name and trace.known(*_keys_of(name)):
        north, east = _keys_of(name)
        words = "begins" if which == "start" else "ends"
        title = f"Where the traverse {words}: benchmark {name}"
        trace.compute(key, place_of, unit="m", title=title, north=north, east=east)
        return key
    title = "Where the traverse begins: taken as north 0, east 0"
    return trace.constant(key, (0.0, 0.0), title, unit="m", source="derived")


def closed_traverse(trace: Trace) -> ClosedTraverse | None:
    """The traverse of a trace; None where there is none.

    Parameters
    ----------
    trace : Trace
        With the steps of `add_traverse`. [-]

    Returns
    -------
    ClosedTraverse or None
        Its points and how well it closes. [-]
    """
    if not trace.known(f"{TRAVERSE}.points_m"):
        return None
    legs = tuple(name for name in trace.names(LEGS) if trace.known(*_sides(name)))
    start, end = (_named(trace, which) for which in ENDS)
    north, east = trace.value(f"{TRAVERSE}.misclosure_m")
    return ClosedTraverse(
        names=(start or "start", *legs),
        points=tuple(trace.value(f"{TRAVERSE}.points_m")),
        length=sum(course.length for course in trace.value(f"{TRAVERSE}.courses")),
        north_error=float(north),
        east_error=float(east),
        precision=float(trace.value(f"{TRAVERSE}.precision")),
        least=float(trace.value(f"inputs.{TRAVERSE}.least_precision")),
        start=start,
        end=end,
    )


def traverse_findings(trace: Trace, done: ClosedTraverse | None) -> Iterator[Finding]:
    """What the engineer must know of a traverse."""
    for which in ENDS:
        name = _named(trace, which)
        if name and not trace.known(*_keys_of(name)):
            yield Finding(
                f"traverse-{which}",
                "caution",
                TRAVERSE,
                f"The traverse is to {which} at '{name}', which is no benchmark with a place in "
                "the grid. Name one of [benchmark] that was shot, or leave it out.",
            )
    if done is None:
        return
    if len(done.points) < MOST_OPEN and not done.end:
        yield Finding(
            "traverse-open",
            "caution",
            TRAVERSE,
            f"The traverse has {len(done.points) - 1} courses and no other end: a loop of fewer "
            "than three closes nothing. List every course, or name the benchmark where it ends.",
        )
    if not done.closes:
        yield Finding(
            "traverse-misclosure",
            "caution",
            TRAVERSE,
            f"The traverse closes to 1 in {done.precision:,.0f}; 1 in {done.least:,.0f} is asked. "
            "Look for the course that is wrong before its points are used.",
            value=done.precision,
            unit="-",
            source="practice",
        )


MOST_OPEN = 4
"""Points of a loop that has at least three courses."""


def traverse_record(done: ClosedTraverse | None) -> Record | None:
    """A traverse as other programs read it, in SI."""
    if done is None:
        return None
    return {
        "start": done.start or None,
        "end": done.end or None,
        "length_m": done.length,
        "north_error_m": done.north_error,
        "east_error_m": done.east_error,
        "misclosure_m": done.misclosure,
        "precision": done.precision if isfinite(done.precision) else None,
        "least_precision": done.least,
        "closes": done.closes,
        "points": [
            {"name": name, "north_m": north, "east_m": east}
            for name, (north, east) in zip(done.names, done.points, strict=True)
        ],
    }
