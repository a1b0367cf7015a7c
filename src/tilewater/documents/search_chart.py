# SPDX-License-Identifier: Apache-2.0
"""A page of cost against nitrate: the front of a search, the engineer's own, what binds where.

One sheet of 11 by 8.5 inches. What binds is told by the shape of a mark, never by colour alone.
Nothing is computed here.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from tilewater.basis.units import System, from_si, unit_label
from tilewater.documents.scales import round_step
from tilewater.documents.sheet import (
    BINDS,
    INCH,
    INK,
    MUTED,
    PAPER,
    STRUCTURE,
    WATER,
    Frame,
    Point,
    Sheet,
)

WIDTH, HEIGHT = 11 * INCH, 8.5 * INCH
LEFT, RIGHT, TOP, BASE = 92.0, 1000.0, 112.0, 628.0
SMALL = 9.5
MARK = 4.0
CLOUD = 800
"""Others that pass, at most as many as this are drawn."""
REMARK = (
    "Each mark: a {noun} that falls short of nothing its size decides and that none beats in both. "
    "Dots: other {noun}s that pass. Mean year, middle of every range. Neither axis begins at "
    "nothing."
)


@dataclass(frozen=True)
class Spot:
    """A bed or buffer on the page: estimate in USD, nitrate in kg, and what binds it in words."""

    cost: float
    removed: float
    binds: str = ""
    words: str = ""


@dataclass(frozen=True)
class SearchScene:
    """What the page shows.

    Attributes
    ----------
    title, note : str
        The job, and what was asked.
    front : tuple of Spot
        From the cheapest.
    others : tuple of Spot
        Others that pass.
    own : Spot or None
        The engineer's own; None where its days gave no sum.
    named : tuple of Spot
        Choices with their names.
    noun : str
        What each of them is.
    """

    title: str
    note: str
    front: tuple[Spot, ...]
    others: tuple[Spot, ...]
    own: Spot | None
    named: tuple[Spot, ...]
    noun: str = "bed"

    @property
    def none(self) -> str:
        """What is said where nothing passes."""
        return f"No {self.noun} was found that falls short of nothing."


def draw_search_chart(scene: SearchScene, *, units: System = "us") -> str:
    """Draw cost against nitrate.

    Parameters
    ----------
    scene : SearchScene
        What is shown.
    units : "us" or "si"
        Units of the reader.

    Returns
    -------
    str
        An SVG file that names no outside address.
    """
    sheet = Sheet(WIDTH)
    sheet.text((LEFT, 44), scene.title, size=18, bold=True)
    sheet.text((LEFT, 64), scene.note, colour=MUTED)
    shown = [*scene.front, *scene.others, *scene.named, *([scene.own] if scene.own else [])]
    if not shown:
        sheet.text((LEFT, TOP + 40), scene.none, size=12)
        return sheet.svg(f"Cost and nitrate: {scene.title}", f"No {scene.noun} passes.", HEIGHT)
    frame = _axes(sheet, shown, units)
    sheet.open_panel("front", frame)
    step = max(1, -(-len(scene.others) // CLOUD))
    for spot in scene.others[::step]:
        x, y = _at(frame, spot, units)
        sheet.box((x - 0.6, y - 0.6), (x + 0.6, y + 0.6), stroke=MUTED, width=0.5, opacity=0.6)
    points = [_at(frame, spot, units) for spot in scene.front]
    if points:
        sheet.line(_stairs(points), stroke=WATER, width=1.1, name="front")
    else:
        sheet.text((LEFT + 16, TOP + 24), scene.none, size=12)
    kinds = list(dict.fromkeys(spot.binds for spot in scene.front))
    for spot, at in zip(scene.front, points, strict=True):
        _mark(sheet, at, kinds.index(spot.binds))
    _own(sheet, frame, scene, units)
    _names(sheet, frame, scene, units)
    sheet.close_panel()
    _legend(sheet, kinds)
    sheet.text((LEFT, HEIGHT - 24), REMARK.format(noun=scene.noun), size=SMALL, colour=MUTED)
    about = f"{len(scene.front)} {scene.noun}s on the front, from {scene.note}"
    return sheet.svg(f"Cost and nitrate: {scene.title}", about, HEIGHT)


def _mass(value: float, units: System) -> float:
    return from_si(value, unit_label("mass", units))


def _at(frame: Frame, spot: Spot, units: System) -> Point:
    return frame.at(spot.cost, _mass(spot.removed, units))


def _axes(sheet: Sheet, shown: Sequence[Spot], units: System) -> Frame:
    """Both axes with round steps; they begin where the spots begin, and say so by their numbers."""
    costs = [spot.cost for spot in shown]
    amounts = [_mass(spot.removed, units) for spot in shown]
    across, up = (_span(values) for values in (costs, amounts))
    frame = Frame(
        across[0],
        up[0],
        LEFT,
        BASE,
        (RIGHT - LEFT) / (across[-1] - across[0]),
        (BASE - TOP) / (up[-1] - up[0]),
    )
    for value in up:
        _, y = frame.at(across[0], value)
        sheet.line(((LEFT, y), (RIGHT, y)), stroke=MUTED, width=0.4, opacity=0.5)
        sheet.text((LEFT - 8, y + 3.5), f"{value:,.10g}", anchor="end", size=SMALL, colour=MUTED)
    for value in across:
        x, _ = frame.at(value, up[0])
        sheet.line(((x, BASE), (x, BASE + 5)), width=0.8)
        sheet.text((x, BASE + 18), f"${value:,.10g}", anchor="middle", size=SMALL, colour=MUTED)
    sheet.line(((LEFT, TOP), (LEFT, BASE), (RIGHT, BASE)), width=1.0)
    unit = unit_label("mass", units)
    sheet.text((LEFT, TOP - 16), f"Nitrate-N taken out in a mean year, {unit}", size=SMALL)
    sheet.text((RIGHT, BASE + 36), "Estimate, USD", anchor="end", size=SMALL)
    return frame


def _span(values: Sequence[float]) -> list[float]:
    """Round marks that hold all values between the first and the last."""
    low, high = min(values), max(values)
    step = round_step(max(high - low, 0.02 * abs(high), 1e-6), 6.0)
    first = step * (low // step)
    marks = [first]
    while marks[-1] < high or len(marks) < 2:
        marks.append(round(first + len(marks) * step, 9))
    return marks


def _stairs(points: Sequence[Point]) -> list[Point]:
    """What a sum of money buys at most: level to the next mark, then up to it."""
    line = [points[0]]
    for (_, before), at in pairwise(points):
        line += [(at[0], before), at]
    return line


def _mark(sheet: Sheet, at: Point, kind: int) -> None:
    """A mark for what binds: square, diamond, triangle, cross, then the same again open."""
    x, y = at
    fill = STRUCTURE if kind < 4 else PAPER
    style = {"stroke": STRUCTURE, "width": 1.0, "name": "bed"}
    shapes: tuple[list[Point], ...] = (
        [(x - MARK, y - MARK), (x + MARK, y - MARK), (x + MARK, y + MARK), (x - MARK, y + MARK)],
        [(x, y - 1.4 * MARK), (x + 1.4 * MARK, y), (x, y + 1.4 * MARK), (x - 1.4 * MARK, y)],
        [(x, y - 1.3 * MARK), (x + 1.3 * MARK, y + MARK), (x - 1.3 * MARK, y + MARK)],
        [(x, y + 1.3 * MARK), (x + 1.3 * MARK, y - MARK), (x - 1.3 * MARK, y - MARK)],
    )
    sheet.line(shapes[kind % 4], fill=fill, **style)  # type: ignore[arg-type]


def _own(sheet: Sheet, frame: Frame, scene: SearchScene, units: System) -> None:
    """The engineer's own: a cross in a ring, whatever binds it."""
    if scene.own is None:
        return
    x, y = _at(frame, scene.own, units)
    sheet.oval((x, y), 7.0, 7.0, name="own bed")
    sheet.line(((x - 10, y), (x + 10, y)), stroke=INK, width=1.4, name="own bed")
    sheet.line(((x, y - 10), (x, y + 10)), stroke=INK, width=1.4, name="own bed")
    sheet.text((x + 12, y + 16), f"your own {scene.noun}", size=11, bold=True, clear=PAPER)


def _names(sheet: Sheet, frame: Frame, scene: SearchScene, units: System) -> None:
    """Names of the choices beside their marks; two of one mark on one line."""
    together: dict[tuple[float, float], list[Spot]] = {}
    for spot in scene.named:
        together.setdefault((spot.cost, spot.removed), []).append(spot)
    for spots in together.values():
        x, y = _at(frame, spots[0], units)
        sheet.oval((x, y), 9.0, 9.0, name="choice")
        _mark(sheet, (x, y), _kind(scene, spots[0]))
        words = ", ".join(spot.words for spot in spots)
        for dx, dy, anchor in _ROOMS:
            if sheet.has_room((x + dx, y + dy), words, size=11, anchor=anchor):
                break
        sheet.text((x + dx, y + dy), words, size=11, anchor=anchor, colour=BINDS, clear=PAPER)


_ROOMS = (
    (-14.0, -10.0, "end"),
    (14.0, 16.0, "start"),
    (-14.0, -26.0, "end"),
    (14.0, 32.0, "start"),
    (14.0, 48.0, "start"),
)


def _kind(scene: SearchScene, spot: Spot) -> int:
    kinds = list(dict.fromkeys(each.binds for each in scene.front))
    return kinds.index(spot.binds) if spot.binds in kinds else 0


def _legend(sheet: Sheet, kinds: Sequence[str]) -> None:
    """What binds, by the shape of the mark."""
    if not kinds:
        return
    y = BASE + 60.0
    sheet.text((LEFT, y), "What has the least in reserve", size=11, bold=True)
    for place, words in enumerate(kinds):
        x, row = LEFT + 460.0 * (place % 2), y + 20.0 + 18.0 * (place // 2)
        _mark(sheet, (x + 6, row - 4), place)
        sheet.text((x + 20, row), words or "nothing that was judged", size=SMALL)
