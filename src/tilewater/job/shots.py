# SPDX-License-Identifier: Apache-2.0
"""Shots of a rover, and what looks wrong among them.

Nothing is dropped or mended here; what looks wrong is reported. `points` reads the files.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from statistics import median

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.units import Foot

FEET: dict[Foot, str] = {"international foot": "ft", "us survey foot": "survey ft"}
FAR_M = 5000.0
"""A shot this far from the middle of the others is not of one outlet."""
MANY_TWICE = 50
"""Shots of one number from which its column is doubted."""


@dataclass(frozen=True)
class Shot:
    """One point of the file.

    Attributes
    ----------
    point : str
        Number or name of the point.
    north, east, height : float
        Coordinates in the grid and elevation. [m]
    note : str
        What the crew wrote.
    fix : str
        How the position was had, in the words of the file.
    line : int
        Line in the file.
    rms : str
        Scatter of the height in the words of the file, in the unit of the heights.
    """

    point: str
    north: float
    east: float
    height: float
    note: str
    fix: str
    line: int
    rms: str = ""


def set_aside(aside: tuple[Shot, ...]) -> Iterator[Finding]:
    """Report shots that are not used."""
    if aside:
        points = ", ".join(f"{shot.point} ({shot.fix})" for shot in aside)
        one = len(aside) == 1
        yield Finding(
            "shots-set-aside",
            "caution",
            "survey",
            f"{len(aside)} {'shot has' if one else 'shots have'} no fixed position and "
            f"{'is' if one else 'are'} not used: {points}. "
            f"Shoot {'it' if one else 'them'} again, or change drop_fix in [survey].",
            value=float(len(aside)),
        )


def duplicates(used: tuple[Shot, ...], foot: Foot) -> Iterator[Finding]:
    """Report point numbers used twice, with the distance between their shots."""
    groups: dict[str, list[Shot]] = {}
    for shot in used:
        groups.setdefault(shot.point, []).append(shot)
    for point, shots in groups.items():
        if len(shots) == 1:
            continue
        if len(shots) > MANY_TWICE:
            yield Finding(
                "point-number-twice",
                "caution",
                f"point {point}",
                f"Point {point} stands on {len(shots):,} lines, first on {shots[0].line}. The "
                "column of the numbers may be another. All are kept.",
                value=float(len(shots)),
                unit="-",
            )
            continue
        apart = max(
            math.dist((a.north, a.east), (b.north, b.east)) for a, b in combinations(shots, 2)
        )
        lines = " and ".join(str(shot.line) for shot in shots)
        yield Finding(
            "point-number-twice",
            "caution",
            f"point {point}",
            f"Point {point} stands on lines {lines}, {feet(apart)} apart. "
            "All are kept. Give each its own number.",
            value=apart,
            unit="m",
        )


def exchanged(
    used: tuple[Shot, ...], heads: tuple[str, str] | None, near: tuple[float, float] | None
) -> Iterator[Finding]:
    """Report north and east that look exchanged, or that nothing tells apart.

    `heads` are the headers of the two columns, where the file has some; `near` is a known point.
    """
    if not used:
        return
    north, east = median(s.north for s in used), median(s.east for s in used)
    if heads is not None and ("east" in heads[0].casefold() or "north" in heads[1].casefold()):
        yield _looks_exchanged(
            f"The column read as north is headed '{heads[0]}', the one read as east '{heads[1]}'."
        )
    elif near is not None:
        apart, turned = math.dist((north, east), near), math.dist((east, north), near)
        if turned < FAR_M < apart:
            yield _looks_exchanged(
                f"The points lie {apart / 1000:.0f} km from the known point as read, and "
                f"{turned / 1000:.1f} km with north and east exchanged."
            )
    elif heads is None:
        yield Finding(
            "north-east-not-compared",
            "note",
            "survey",
            "Nothing here tells north from east: the file has no header and no known point was "
            "given. Compare one point with the control sheet.",
        )


def _looks_exchanged(evidence: str) -> Finding:
    return Finding(
        "north-east-exchanged",
        "caution",
        "survey",
        f"{evidence} North and east look exchanged. Check north and east in [survey.columns].",
    )


def strays(used: tuple[Shot, ...]) -> Iterator[Finding]:
    """Report shots far from the others."""
    if not used:
        return
    middle = (median(s.north for s in used), median(s.east for s in used))
    for shot in used:
        apart = math.dist((shot.north, shot.east), middle)
        if apart > FAR_M:
            yield Finding(
                "shot-far-off",
                "caution",
                f"point {shot.point}",
                f"Point {shot.point} on line {shot.line} lies {apart / 1000:.0f} km from the "
                "middle of the others. Check its coordinates, or take it out of the file.",
                value=apart,
                operator="<=",
                limit=FAR_M,
                unit="m",
            )
