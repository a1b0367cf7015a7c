# SPDX-License-Identifier: Apache-2.0
"""The stake list: points with their grades, hubs with their cuts, tape checks, a shift."""

from collections.abc import Iterator
from math import isfinite

from tilewater.chain.stake_record import StakeList, StakePoint, Tape
from tilewater.chain.stake_shift import ENGINEER, Shifted
from tilewater.chain.stake_traverse import ClosedTraverse
from tilewater.documents.pages.said import Cell, Part, Said, block, dim, rows
from tilewater.documents.words import Words

SAME = 1e-6
"""Distances nearer to each other are told as one. [m]"""


def stake_page(
    title: str,
    stakes: StakeList,
    moved: Shifted | None,
    words: Words,
    traverse: ClosedTraverse | None = None,
) -> Iterator[Part]:
    """Blocks of the page in their order."""
    yield Said(title, "strong").append("  stake list", "quiet")
    if moved is not None:
        yield _shift(moved, words)
    if stakes.points:
        yield _points(stakes.points, words)
    if stakes.hubs:
        yield _hubs(stakes.hubs, words)
    if stakes.tapes:
        yield _tapes(stakes.tapes, words)
    if traverse is not None:
        yield _traverse(traverse, words)
    if stakes.locate_grid:
        yield _locate(stakes, words)


def _traverse(done: ClosedTraverse, words: Words) -> Part:
    """How a traverse closes, and its adjusted points."""
    ratio = f"1 in {done.precision:,.0f}" if isfinite(done.precision) else "exactly"
    told = Said.assemble(
        (f"closes to {ratio}", "strong" if done.closes else "binds"),
        f", {words.say(done.misclosure, 'length')} in {words.say(done.length, 'length')}; "
        f"1 in {done.least:,.0f} is asked",
    )
    errors = Said(
        f"its end lies {words.say(done.north_error, 'length')} north and "
        f"{words.say(done.east_error, 'length')} east of where it should",
        "quiet",
    )
    lines = [
        (name, _grid(north, words), _grid(east, words))
        for name, (north, east) in zip(done.names, done.points, strict=True)
    ]
    table = rows(("point", "north", "east"), lines, right=(1, 2), wide=(0,))
    ends = f"from {done.start or '0, 0'} to {done.end or done.start or 'where it began'}"
    return block("Traverse", f"{ends}, adjusted by length of course", told, errors, table)


def _shift(moved: Shifted, words: Words) -> Part:
    shift = moved.shift
    up = words.say(shift.station, "length")
    right = words.say(shift.offset, "length")
    who = Said(
        f"The {moved.may_approve} may approve it: {moved.why}.",
        "binds" if moved.may_approve == ENGINEER else "strong",
    )
    lines = [
        (name, words.say(a, "elevation"), words.say(b, "elevation")) for name, a, b in moved.levels
    ]
    table = rows(("level", "designed", "moved"), lines, right=(1, 2), wide=(0,))
    return block("Works moved", f"{up} up the main, {right} to the right looking up", who, table)


def _name(point: StakePoint, words: Words) -> Said:
    """Name of a stake; below it what it is and where along the main."""
    side = "left" if point.offset < 0.0 else "right"
    away = words.say(abs(point.offset), "length", unit=False)
    along = f"{words.say(point.station, 'station')}, {away} {side}"
    return Said.assemble(point.name, (f"\n{point.what}, {along}", "quiet"))


def _grid(metres: float, words: Words) -> str:
    """A coordinate as it is keyed in: no commas, no unit."""
    return words.say(metres, "coordinate", unit=False).replace(",", "")


def _points(points: tuple[StakePoint, ...], words: Words) -> Part:
    lines: list[list[Cell]] = [
        [
            _name(p, words),
            _grid(p.north, words),
            _grid(p.east, words),
            words.say(p.height, "elevation", unit=False),
        ]
        for p in points
    ]
    heads = ("point", "north", "east", "grade")
    return block("Points", _unit(words), rows(heads, lines, right=(1, 2, 3), wide=(0,)))


def _hubs(hubs: tuple[StakePoint, ...], words: Words) -> Part:
    lines: list[list[Cell]] = [
        [
            _name(hub, words),
            _grid(hub.north, words),
            _grid(hub.east, words),
            words.say(hub.height, "elevation", unit=False),
            _cut(hub, words),
        ]
        for hub in hubs
    ]
    heads = ("hub", "north", "east", "grade", "cut")
    note = "beyond the dig; cut from the top of a hub, once it is shot, down to grade"
    return block("Hubs", note, rows(heads, lines, right=(1, 2, 3, 4), wide=(0,)))


def _cut(hub: StakePoint, words: Words) -> Cell:
    if hub.cut is None:
        return dim("shoot it")
    said = words.say(abs(hub.cut), "length", unit=False)
    return Said(f"{'C' if hub.cut >= 0.0 else 'F'} {said}", "strong")


def _tapes(tapes: tuple[Tape, ...], words: Words) -> Part:
    """Sides and diagonals of each outline; equal ones are told once."""
    lines: list[list[Cell]] = []
    for outline in dict.fromkeys(tape.outline for tape in tapes):
        told: list[float] = []
        for tape in (t for t in tapes if t.outline == outline):
            if any(abs(tape.distance - length) < SAME for length in told):
                continue
            told.append(tape.distance)
        lines.append(
            [outline.replace("-", " "), ", ".join(words.say(length, "length") for length in told)]
        )
    note = "sides, then the diagonal; both diagonals of a square outline are the same"
    return block("Tape checks", note, rows(("outline", "on the ground"), lines, wide=(1,)))


def _locate(stakes: StakeList, words: Words) -> Part:
    (low, left), _, (high, right), _ = stakes.locate_grid
    text = (
        f"{words.say(low, 'station')} to {words.say(high, 'station')}, "
        f"{words.say(left, 'length')} to {words.say(right, 'length')} from the main"
    )
    where = (
        "as KML and GeoJSON beside this list"
        if stakes.locate
        else "give latitude and longitude under [baseline] to have it as KML and GeoJSON"
    )
    return block("Locate request", where, text)


def _unit(words: Words) -> str:
    unit = words.say(0.0, "length").rpartition(" ")[2]
    return f"{unit}, offsets to the right looking up the main"
