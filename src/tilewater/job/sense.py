# SPDX-License-Identifier: Apache-2.0
"""Values of the job file that make no sense together, though each may stand by itself.

Every one is a finding: the job can be computed, but hardly as it was meant.
"""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from typing import Any

from tilewater.basis.errors import UnknownName
from tilewater.basis.findings import Finding
from tilewater.basis.told import cfs, feet
from tilewater.basis.units import did_you_mean
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.criteria.standards import read_standard
from tilewater.job.givens import Document
from tilewater.job.schema import JobFile

LEAP_YEAR = 2024
"""Seasons are laid out over a year that has the 29th of February."""


def findings_of_sense(file: JobFile, document: Document) -> tuple[Finding, ...]:
    """What the engineer must know of values that do not go together."""
    return (
        *_water_above_ground(file, document),
        *_seasons(file, document),
        *_ditch_levels(file, document),
        *_plan_lines(file, document),
        *_confirmed_rows(file, document),
    )


def _finding(
    document: Document, code: str, path: tuple[str, ...], message: str, **more: Any
) -> Finding:
    fault = document.fault(path, message)
    return Finding(code, "caution", fault.where, str(fault), **more)


def _water_above_ground(file: JobFile, document: Document) -> Iterator[Finding]:
    height, depth = file.drainage.design_water_height, file.drainage.lateral_depth
    if isinstance(height, Unknown) or isinstance(depth, Unknown) or height <= depth:
        return
    yield _finding(
        document,
        "water-height-above-ground",
        ("drainage", "design_water_height"),
        f"design_water_height, {feet(height)} above the laterals, is above "
        f"the ground: the laterals are {feet(depth)} deep. "
        "Write the height midway above the laterals, lateral_depth or less.",
        value=height,
        operator="<=",
        limit=depth,
        unit="m",
    )


def _ditch_levels(file: JobFile, document: Document) -> Iterator[Finding]:
    """Levels of the ditch under its bottom, and high ones below ordinary ones."""
    for name, season in file.season.items():
        path = ("season", name)
        yield from _under_bottom(file, document, (*path, "ditch_stage"), season.ditch_stage)
        yield from _under_bottom(file, document, (*path, "ditch_high"), season.ditch_high)
        ordinary, high = season.ditch_stage, season.ditch_high
        if isinstance(ordinary, float) and isinstance(high, float) and high < ordinary:
            yield _finding(
                document,
                "ditch-high-below-ordinary",
                (*path, "ditch_high"),
                f"ditch_high of {name}, {feet(high)}, is below ditch_stage, "
                f"{feet(ordinary)}. Check which is which.",
                value=high,
                operator=">=",
                limit=ordinary,
                unit="m",
            )
    for flow, level in file.ditch.rule if isinstance(file.ditch.rule, tuple) else ():
        what = f"the level at {cfs(flow, '.3g')}"
        yield from _under_bottom(file, document, ("ditch", "rule"), level, what)
    for name, mark in file.mark.items():
        yield from _under_bottom(file, document, ("mark", name, "elevation"), mark.elevation)


def _plan_lines(file: JobFile, document: Document) -> Iterator[Finding]:
    """Lines of the plan that are placed twice or not at all."""
    for name, line in file.line.items():
        ways = [way for way in ("shots", "points") if getattr(line, way) is not None]
        if len(ways) == 1:
            continue
        both = "by shots and by points; the points are used. Take out one of them."
        none = "neither by shots nor by points, and is not drawn. Give one of them."
        yield _finding(
            document,
            "line-placed-twice" if ways else "line-not-placed",
            ("line", name),
            f"line.{name} is given {both if ways else none}",
        )


def _under_bottom(
    file: JobFile, document: Document, path: tuple[str, ...], level: Any, what: str = ""
) -> Iterator[Finding]:
    bottom = file.ditch.bottom
    if isinstance(level, float) and isinstance(bottom, float) and level < bottom:
        words = f"{'.'.join(path)}: {what}" if what else ".".join(path)
        yield _finding(
            document,
            "ditch-level-under-bottom",
            path,
            f"{words}, {feet(level)}, is below the bottom of the ditch, "
            f"{feet(bottom)}. Check both, and that both count from one datum.",
            value=level,
            operator=">=",
            limit=bottom,
            unit="m",
        )


def _seasons(file: JobFile, document: Document) -> Iterator[Finding]:
    """Days of the year that no season has, and days that two have."""
    of_day: dict[date, list[str]] = {day: [] for day in _days("01-01", "12-31")}
    for name, season in file.season.items():
        if is_unknown(season.from_) or is_unknown(season.to):
            return
        for day in _days(str(season.from_), str(season.to)):
            of_day[day].append(name)
    if not file.season:
        return
    for names, run in _runs(of_day):
        dates = run[0] if run[0] == run[1] else f"{run[0]} to {run[1]}"
        if not names:
            yield _finding(
                document,
                "season-gap",
                ("season", next(iter(file.season))),
                f"no season has the days {dates}. Let each season begin the day after the one "
                "before it ends.",
            )
        elif len(names) > 1:
            yield _finding(
                document,
                "season-overlap",
                ("season", names[-1]),
                f"the seasons {' and '.join(names)} both have the days {dates}. "
                "Let each season begin the day after the one before it ends.",
            )


def _days(first: str, last: str) -> Iterator[date]:
    """Days from one to another, over the turn of the year where the last comes first."""
    day = date.fromisoformat(f"{LEAP_YEAR}-{first}")
    end = date.fromisoformat(f"{LEAP_YEAR}-{last}")
    while True:
        yield day
        if day == end:
            return
        day = (day + timedelta(days=1)).replace(year=LEAP_YEAR)


def _runs(
    of_day: Mapping[date, list[str]],
) -> Iterator[tuple[list[str], tuple[str, str]]]:
    """Days in a row with the same seasons, the turn of the year no end of a row."""
    runs: list[tuple[list[str], tuple[str, str]]] = []
    for day, names in of_day.items():
        text = day.isoformat()[5:]
        if runs and runs[-1][0] == names:
            runs[-1] = (names, (runs[-1][1][0], text))
        else:
            runs.append((names, (text, text)))
    if len(runs) > 1 and runs[0][0] == runs[-1][0]:
        first, last = runs.pop(0), runs.pop()
        runs.append((first[0], (last[1][0], first[1][1])))
    yield from runs


def _confirmed_rows(file: JobFile, document: Document) -> Iterator[Finding]:
    """Confirmations of rows that the standard of the job does not have."""
    criteria = file.criteria
    if is_unknown(criteria.standard) or is_unknown(criteria.edition):
        return
    try:
        rows = read_standard(str(criteria.standard), str(criteria.edition)).rows
    except UnknownName:
        return  # the design says which standards there are
    names = [row.name for row in rows]
    for name, entry in file.confirm.items():
        row = entry.row
        if is_unknown(row) or any(str(row) in (known.name, known.code) for known in rows):
            continue
        yield _finding(
            document,
            "confirmation-of-no-row",
            ("confirm", name, "row"),
            f"confirm.{name} is not applied: the standard has no row '{row}'. "
            f"The rows are {', '.join(names)}.{did_you_mean(str(row), names)}",
        )
