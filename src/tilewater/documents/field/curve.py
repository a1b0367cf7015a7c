# SPDX-License-Identifier: Apache-2.0
"""The curve of a gradation: share passing over the logarithm of the size, drawn for grey paper.

Curves are told apart by their mark and their line, never by colour alone. What the job asks for
stands as brackets at its sizes.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log10

from tilewater.documents.sheet import INCH, INK, MUTED, PAPER, Point, Sheet

WIDTH, HEIGHT = 6.7 * INCH, 3.7 * INCH
LEFT, RIGHT, TOP, BASE = 40.0, 452.0, 22.0, 312.0
TABLE, COLUMN, LINE = 468.0, 36.0, 13.6
SMALL = 9.5
DASHES = ("", "7 3", "2 3", "9 3 2 3")
LETTERS = "ABCD"
MARKS = ("round", "square", "triangle", "cross")
MOST = len(DASHES)
"""Curves on one drawing, at most."""


@dataclass(frozen=True)
class Curve:
    """One gradation: its name, sizes in mm from the largest down, share passing each."""

    name: str
    sizes_mm: tuple[float, ...]
    passing: tuple[float, ...]


@dataclass(frozen=True)
class Bracket:
    """A limit at a size: the share passing must lie below or above it."""

    size_mm: float
    share: float
    is_most: bool
    words: str


def draw_gradation(curves: Sequence[Curve], brackets: Sequence[Bracket], title: str) -> str:
    """Draw curves with the limits of the job.

    Parameters
    ----------
    curves : sequence of Curve
        At most `MOST`.
    brackets : sequence of Bracket
    title : str

    Returns
    -------
    str
        An SVG file.
    """
    sheet = Sheet(WIDTH)
    sizes = [size for curve in curves for size in curve.sizes_mm]
    low, high = min(sizes) / 1.3, max(sizes) * 1.3
    at = _Scale(low, high)
    _axes(sheet, at, low, high, sorted(set(sizes)))
    for bracket in brackets:
        _bracket(sheet, at, bracket)
    bottom = TOP + 12 + 16 * len(curves[:MOST])
    sheet.box((LEFT + 6, TOP + 6), (LEFT + 176, bottom), fill=PAPER, stroke=INK, width=0.4)
    for place, curve in enumerate(curves[:MOST]):
        points = [
            at(size, share) for size, share in zip(curve.sizes_mm, curve.passing, strict=True)
        ]
        sheet.line(points, width=1.3, dash=DASHES[place])
        for point in points:
            _mark(sheet, point, MARKS[place])
        _key(sheet, place, f"{LETTERS[place]}  {curve.name}")
    _numbers(sheet, curves[:MOST])
    return sheet.svg(title, "Share of the mass that passes, over the size of the sieve.", HEIGHT)


class _Scale:
    """Where a size and a share fall on the sheet."""

    def __init__(self, low: float, high: float) -> None:
        self._low, self._span = log10(low), log10(high) - log10(low)

    def __call__(self, size: float, share: float) -> Point:
        across = (log10(size) - self._low) / self._span
        return LEFT + across * (RIGHT - LEFT), BASE - share * (BASE - TOP)


def _axes(sheet: Sheet, at: _Scale, low: float, high: float, sizes: list[float]) -> None:
    for tenth in range(0, 11):
        (left, y), right = at(low, tenth / 10), RIGHT
        sheet.line(((left, y), (right, y)), stroke=MUTED, width=0.25, opacity=0.6)
        if tenth % 2 == 0:
            sheet.text((LEFT - 6, y + 3), f"{tenth * 10}", size=SMALL, anchor="end")
    told = -100.0
    for size in sizes:
        x, _ = at(size, 0.0)
        sheet.line(((x, TOP), (x, BASE)), stroke=MUTED, width=0.25, opacity=0.6)
        if x - told > 26.0:
            sheet.text((x, BASE + 14), f"{size:.3g}", size=SMALL, anchor="middle")
            told = x
    sheet.box((LEFT, TOP), (RIGHT, BASE), width=0.8)
    sheet.text(((LEFT + RIGHT) / 2, BASE + 31), "size of the sieve, mm", anchor="middle")
    sheet.text((LEFT - 26, TOP - 9), "% passing")


def _bracket(sheet: Sheet, at: _Scale, bracket: Bracket) -> None:
    """A bar at the limit with a foot on the side that is let pass."""
    x, y = at(bracket.size_mm, bracket.share)
    way = 9.0 if bracket.is_most else -9.0
    sheet.line(((x - 11, y), (x + 11, y)), width=2.2)
    sheet.line(((x - 11, y), (x - 11, y + way)), width=1.0)
    sheet.line(((x + 11, y), (x + 11, y + way)), width=1.0)
    if bracket.is_most:
        sheet.line(((x - 11, y), (x - 22, y - 44)), width=0.5)
        y -= 50
    sheet.text((x - 15, y + 3), bracket.words, size=SMALL, anchor="end", clear=PAPER)


def _numbers(sheet: Sheet, curves: Sequence[Curve]) -> None:
    """The same curves as numbers beside the drawing."""
    y = TOP + 12
    sheet.text((TABLE + 34, y), "mm", size=SMALL, anchor="end", colour=MUTED)
    for place, letter in enumerate(LETTERS[: len(curves)]):
        x = TABLE + 34 + COLUMN * (place + 1)
        sheet.text((x, y), f"{letter} %", size=SMALL, anchor="end", colour=MUTED)
    sheet.line(((TABLE, y + 4), (TABLE + 34 + COLUMN * len(curves), y + 4)), width=0.6)
    for size in sorted({size for curve in curves for size in curve.sizes_mm}, reverse=True):
        y += LINE
        sheet.text((TABLE + 34, y + 3), f"{size:.3g}", size=SMALL, anchor="end")
        for place, curve in enumerate(curves):
            held = dict(zip(curve.sizes_mm, curve.passing, strict=True)).get(size)
            told = "" if held is None else f"{100 * held:.1f}"
            x = TABLE + 34 + COLUMN * (place + 1)
            sheet.text((x, y + 3), told, size=SMALL, anchor="end")


def _key(sheet: Sheet, place: int, name: str) -> None:
    y = TOP + 22 + 16 * place
    sheet.line(((LEFT + 12, y - 3), (LEFT + 48, y - 3)), width=1.3, dash=DASHES[place])
    _mark(sheet, (LEFT + 30, y - 3), MARKS[place])
    sheet.text((LEFT + 56, y), name, size=SMALL)


def _mark(sheet: Sheet, at: Point, mark: str) -> None:
    x, y = at
    size = 3.4
    if mark == "round":
        eight = [(0.0, 1.0), (0.7, 0.7), (1.0, 0.0), (0.7, -0.7)]
        eight += [(-a, -b) for a, b in eight]
        sheet.line([(x + size * a, y + size * b) for a, b in eight], width=1.1, fill=INK)
    elif mark == "square":
        sheet.box((x - size, y - size), (x + size, y + size), fill=PAPER, stroke=INK, width=1.1)
    elif mark == "triangle":
        points = [(x, y - size - 1), (x + size + 1, y + size), (x - size - 1, y + size)]
        sheet.line(points, width=1.1, fill=PAPER)
    else:
        sheet.line(((x - size, y - size), (x + size, y + size)), width=1.4)
        sheet.line(((x - size, y + size), (x + size, y - size)), width=1.4)
