# SPDX-License-Identifier: Apache-2.0
"""Hold points: where work stops until someone has looked and signed.

They stand in the order of the work. One that was signed while an earlier one is still open, or
before it, is told as such: it is never taken as skipped in silence.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.practices.rules import same

State = Literal["signed", "out of turn", "refused", "open"]
HOLDS, GIVEN = "holds", "inputs.hold"
UPLIFT = "uplift"


@dataclass(frozen=True)
class Point:
    """A hold point: its name in the job file, what is looked at, for which practices."""

    name: str
    title: str
    look: str
    of: tuple[str, ...] = ("bed", "buffer", "raised")


BED = ("bed",)
POINTS = (
    Point("locate", "Locate ticket seen", "ticket number, its last day, marks on the ground"),
    Point(
        "protection",
        "Excavation protected",
        "by the competent person: slope or shore, way out, spoil back, air; again after rain",
    ),
    Point(
        "floor", "Floor accepted", "firm, at grade, no standing water, no smear on the walls", BED
    ),
    Point("trench", "Trench of the line accepted", "grade, level line, no sand seam", ("buffer",)),
    Point(
        "liner", "Lining accepted", "laps, holes patched, not bridging, anchored at the top", BED
    ),
    Point(
        UPLIFT,
        "Uplift: ground water below the floor",
        "held below the floor until chips and cover are placed; shoot it in a pit beside the hole",
        BED,
    ),
    Point("chips", "Chips accepted", "each truck: sieve, soil, leaves, nails, treated wood", BED),
    Point("fabric", "Fabric accepted", "over all the chips, laps whole, nothing drives on it", BED),
    Point(
        "structures",
        "Structures set",
        "sill and rim shot, plumb, the right way round, collars on, backfill in lifts",
    ),
    Point("boards", "Boards set", "counted, seals whole, rim-down measured and on the lid card"),
    Point("final", "Final look", "pipes clear, outlet guarded, ground shaped, seeded, posts set"),
)
"""Hold points in the order of the work; common practice."""


@dataclass(frozen=True)
class Held:
    """A hold point as it stands.

    Attributes
    ----------
    point : Point
    state : "signed", "out of turn", "refused" or "open"
    by, at, reading, photo, note : str
        As written; "" where it is not.
    why : str
        Why it is out of turn, or what is missing.
    """

    point: Point
    state: State
    by: str
    at: str
    reading: str
    photo: str
    note: str
    why: str

    @property
    def is_signed(self) -> bool:
        """Whether somebody has accepted it, in turn or not."""
        return self.state in ("signed", "out of turn")


def points_of(practice: str, lining: str) -> tuple[Point, ...]:
    """Hold points of a practice in the order of the work.

    Parameters
    ----------
    practice : str
        "bed", "buffer" or "raised". [-]
    lining : str
        "plastic", "geotextile" or "none"; only a tight one floats. [-]

    Returns
    -------
    tuple of Point
        Those that belong to it. [-]
    """
    return tuple(
        point
        for point in POINTS
        if practice in point.of
        and not (point.name == "liner" and lining == "none")
        and not (point.name == UPLIFT and lining != "plastic")
    )


def add_holds(trace: Trace, day: str = "") -> None:
    """Record whether the ground water that was read lies below the floor of the bed.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    day : str
        As `2027-10-06`; what was read on a later day is left out. "" for all. [-]
    """
    read, at = f"{GIVEN}.{UPLIFT}.groundwater_m", f"{GIVEN}.{UPLIFT}.at"
    floor = "bed.floor_outlet_m"
    if read not in trace or floor not in trace:
        return
    if day and _said(trace, at)[:10] > day:
        return
    trace.compute(
        f"{HOLDS}.groundwater_m",
        same,
        unit="m",
        title="Ground water read while the lining lies bare",
        value=read,
    )
    trace.compute(
        f"{HOLDS}.lowest_floor_m", same, unit="m", title="Lowest floor of the bed", value=floor
    )
    trace.require(
        Requirement(
            f"{HOLDS}.below_floor",
            "Ground water below the floor until chips and cover are placed",
            f"{HOLDS}.groundwater_m",
            "<=",
            f"{HOLDS}.lowest_floor_m",
            "m",
            0.1524,
        )
    )


def held_points(trace: Trace, points: tuple[Point, ...], day: str) -> tuple[Held, ...]:
    """Every hold point as it stands on a day.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    points : tuple of Point
        In the order of the work. [-]
    day : str
        As `2027-10-06`; what was signed later is open. [-]

    Returns
    -------
    tuple of Held
        In the same order. [-]
    """
    found: list[Held] = []
    for point in points:
        entry = {key: _said(trace, f"{GIVEN}.{point.name}.{key}") for key in ENTRY}
        if entry["at"][:10] > day:
            entry = dict.fromkeys(ENTRY, "")
        found.append(_held(point, entry, found))
    return tuple(found)


ENTRY = ("by", "at", "result", "reading", "photo", "note")


def _said(trace: Trace, key: str) -> str:
    return str(trace.value(key)) if trace.known(key) else ""


def _held(point: Point, entry: dict[str, str], before: list[Held]) -> Held:
    at, by = entry["at"], entry["by"]
    state: State = "open"
    why = ""
    if at and entry["result"] == "refused":
        state, why = "refused", "refused: mend it, then sign it again"
    elif at and by:
        state, why = _turn(at, before)
    elif at:
        why = "no name stands under it"
    elif by:
        why = "no day stands beside the name"
    return Held(point, state, by, at, entry["reading"], entry["photo"], entry["note"], why)


def _turn(at: str, before: list[Held]) -> tuple[State, str]:
    """Whether a hold point was signed in its turn."""
    unsigned = [each.point.title.casefold() for each in before if not each.is_signed]
    if unsigned:
        return "out of turn", f"signed while open: {', '.join(unsigned)}"
    later = [
        each.point.title.casefold()
        for each in before
        if each.at[:10] > at[:10] or (len(each.at) == len(at) and each.at > at)
    ]
    if later:
        return "out of turn", f"signed before: {', '.join(later)}"
    return "signed", ""


def next_point(held: tuple[Held, ...]) -> Held | None:
    """The first hold point that nobody has accepted; None where all are.

    Parameters
    ----------
    held : tuple of Held
        In the order of the work. [-]

    Returns
    -------
    Held or None
        Work stops there. [-]
    """
    return next((each for each in held if not each.is_signed), None)


def hold_findings(trace: Trace, held: tuple[Held, ...]) -> Iterator[Finding]:
    """What must be known of the hold points.

    Parameters
    ----------
    trace : Trace
        Of the design, with `add_holds`. [-]
    held : tuple of Held
        As they stand. [-]

    Yields
    ------
    Finding
        Out of turn, refused, strange names, water above the floor. [-]
    """
    for each in held:
        if each.state == "out of turn":
            message = f"{each.why}. Look at those now and sign them, or say who let it pass."
            yield Finding("hold-out-of-turn", "fails", each.point.title, message, source="practice")
        elif each.state == "refused":
            yield Finding("hold-refused", "fails", each.point.title, each.why, source="practice")
        elif each.why:
            yield Finding("hold-not-whole", "caution", each.point.title, each.why)
    known = {each.point.name for each in held}
    for name in trace.names(GIVEN):
        if name not in known:
            message = (
                f"No hold point of this practice is called '{name}'. The names are "
                f"{', '.join(each.point.name for each in held)}."
            )
            yield Finding("hold-no-such", "caution", f"hold.{name}", message)
    below = f"{HOLDS}.below_floor.status"
    if below in trace and trace.value(below) == "short":
        message = (
            "Ground water was read above the floor of the bed. A bare lining floats: pump it down "
            "and hold it there until chips and cover are placed. Nobody stands on a lining that "
            "lifts."
        )
        yield Finding("hold-uplift", "fails", "Uplift", message, source="practice")
