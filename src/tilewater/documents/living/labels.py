# SPDX-License-Identifier: Apache-2.0
"""Labels of a living section: each takes the first of its places where it touches no other.

What matters most is placed first. A label stands on no line that says something while it has
another place. One that may be left out is left out where there is no room; one that may not moves
up or down until it has room, with a fine line to what it is about.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Literal

from tilewater.documents.drawing.crossings import Shapes, as_boxes, as_lines, share_room
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import Weight
from tilewater.documents.living.canvas import Canvas, linked

Anchor = Literal["start", "middle", "end"]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom. [px]"""

ASCENT, DESCENT, LEADING = 0.74, 0.24, 1.2
"""Of a line of text. [em]"""
APART = 3.0
"""Kept between labels. [px]"""
STEP, NEAR, FARTHEST = 5.0, 3, 40
"""How a label looks for room: by how much, how often without and with a line to it. [px]"""


@dataclass(frozen=True)
class Run:
    """Words of one look; those that are a number carry its key."""

    words: str
    key: str = ""
    look: str = ""


@dataclass(frozen=True)
class Spot:
    """A place that a label may take: where its first line starts, ends or is centred. [px]"""

    x: float
    y: float
    anchor: Anchor = "start"


@dataclass(frozen=True)
class Label:
    """Words about something.

    Attributes
    ----------
    lines : tuple of tuple of Run
    spots : tuple of Spot
        Places, the best first; the y of a place is the base of the first line.
    needed : bool
        Whether it may not be left out.
    lead : tuple of float or None
        What a fine line leads to, where it had to move away. [px]
    rank : int
        Lower is placed first.
    short : tuple of tuple of Run
        Fewer words, for where the lines have no room.
    on_staff : bool
        Whether it hangs on a staff that rises from what it leads to.
    """

    lines: tuple[tuple[Run, ...], ...]
    spots: tuple[Spot, ...]
    needed: bool = False
    lead: tuple[float, float] | None = None
    rank: int = 1
    short: tuple[tuple[Run, ...], ...] = ()
    on_staff: bool = False


@dataclass
class Labels:
    """Labels of one drawing, and the room that is taken.

    Attributes
    ----------
    size : float
        Of the type. [px]
    left, top, right, bottom : float
        The page, which no label leaves. [px]
    """

    size: float
    left: float
    top: float
    right: float
    bottom: float
    asked: list[Label] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)
    dropped: list[Label] = field(default_factory=list)

    def say(self, *labels: Label) -> None:
        """Ask for labels."""
        self.asked += labels

    def keep(self, left: float, top: float, right: float, bottom: float) -> None:
        """Keep room free of labels. [px]"""
        self.taken.append((left, top, right, bottom))

    def write(self, canvas: Canvas, link: str) -> None:
        """Place and write all that was asked for."""
        drawn = as_lines(piece for line in canvas.lines for piece in pairwise(line))
        for label in sorted(self.asked, key=lambda each: (each.rank, not each.needed)):
            if not self._place(label, drawn, canvas, link):
                self.dropped.append(label)

    def _place(self, label: Label, drawn: Shapes, canvas: Canvas, link: str) -> bool:
        for kept_off in (drawn, drawn[:0]):
            for lines in filter(None, (label.lines, label.short)):
                for spot in (*label.spots, *self._beside(label.spots)):
                    box = self._box(lines, spot)
                    if self._is_free(box) and _is_clear_of(kept_off, box):
                        self._raise_staff(label, box, canvas)
                        self._write(lines, spot, box, canvas, link)
                        return True
        if not label.needed:
            return False
        for lines in filter(None, (label.short, label.lines)):
            for spot in self._around(label.spots):
                box = self._box(lines, spot)
                if self._is_free(box):
                    self._lead(label, box, canvas)
                    self._write(lines, spot, box, canvas, link)
                    return True
        return False

    def _beside(self, spots: Sequence[Spot]) -> Iterator[Spot]:
        """Places a little up and down, which need no line to what they are about."""
        for count in range(1, NEAR + 1):
            for way in (1.0, -1.0):
                for spot in spots:
                    yield Spot(spot.x, spot.y + way * count * STEP, spot.anchor)

    def _around(self, spots: Sequence[Spot]) -> Iterator[Spot]:
        """Places farther and farther up and down, and beside the first."""
        for count in range(1, FARTHEST):
            for way in (-1.0, 1.0):
                for spot in spots:
                    for aside in (0.0, -60.0, 60.0):
                        yield Spot(spot.x + aside, spot.y + way * count * STEP, spot.anchor)

    def _box(self, lines: tuple[tuple[Run, ...], ...], spot: Spot) -> Box:
        wide = max(self.width(line) for line in lines)
        left = spot.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[spot.anchor] * wide
        high = self.size * (LEADING * (len(lines) - 1) + DESCENT)
        return left, spot.y - ASCENT * self.size, left + wide, spot.y + high

    def width(self, line: tuple[Run, ...]) -> float:
        """Room of a line. [px]"""
        return sum(text_width(run.words, self.size, _weight(run)) for run in line)

    def _is_free(self, box: Box) -> bool:
        left, top, right, bottom = box
        if left < self.left or top < self.top or right > self.right or bottom > self.bottom:
            return False
        return not any(
            left - APART < there[2]
            and there[0] < right + APART
            and top < there[3] + APART
            and there[1] < bottom + APART
            for there in self.taken
        )

    def _write(
        self, lines: tuple[tuple[Run, ...], ...], spot: Spot, box: Box, canvas: Canvas, link: str
    ) -> None:
        self.taken.append(box)
        for row, line in enumerate(lines):
            y = spot.y + row * LEADING * self.size
            canvas.text(spot.x, y, _inside(line, link), anchor=spot.anchor, size=self.size)

    def _raise_staff(self, label: Label, box: Box, canvas: Canvas) -> None:
        if not label.on_staff or label.lead is None:
            return
        x, y = label.lead
        canvas.stroke(((x, y), (x, box[1] + 1.0)), "l-lead")
        self.keep(x - 1.0, box[1], x + 1.0, y)

    def _lead(self, label: Label, box: Box, canvas: Canvas) -> None:
        if label.lead is None:
            return
        x, y = label.lead
        near_x = min(max(x, box[0]), box[2])
        near_y = box[1] if y < box[1] else box[3]
        canvas.stroke(((x, y), (near_x, near_y)), "l-lead")


def _is_clear_of(lines: Shapes, box: Box) -> bool:
    left, top, right, bottom = box
    corners = (left, top), (right, top), (right, bottom), (left, bottom)
    return not share_room(lines, as_boxes((corners,))).any()


def _weight(run: Run) -> Weight:
    return "semibold" if "s" in run.look.split() else "regular"


def _inside(line: tuple[Run, ...], link: str) -> str:
    pieces = []
    for run in line:
        inside = linked(run.words, run.key, link)
        pieces.append(f'<tspan class="{run.look}">{inside}</tspan>' if run.look else inside)
    return "".join(pieces)
