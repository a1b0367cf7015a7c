# SPDX-License-Identifier: Apache-2.0
"""Where labels stand: near what they are about, with a leader where they must go farther.

Each label tries places in rings around its point, nearest first, and takes the first that costs
least: no text may touch another, leave the frame or be struck by a leader, and lines are kept from
running through words where that is possible. A label without a place is tried again before all
others; what still has none is reported, never laid over another. The same labels give the same
drawing.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import cos, hypot, radians, sin
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.measured import (
    Bounds,
    Box,
    Segment,
    bounds_of,
    box_of,
    segments_of,
    text_boxes,
    within,
)
from tilewater.documents.drawing.metrics import CAP
from tilewater.documents.drawing.model import (
    BODY,
    Across,
    Drawing,
    Entity,
    Leader,
    Part,
    Text,
    Weight,
)

Side = Literal[
    "right", "above right", "above", "above left", "left", "below left", "below", "below right"
]
SIDES: dict[Side, float] = {
    "right": 0.0,
    "above right": 45.0,
    "above": 90.0,
    "above left": 135.0,
    "left": 180.0,
    "below left": 225.0,
    "below": 270.0,
    "below right": 315.0,
}
"""Directions from the point to the label. [deg]"""
NEAR = 1.6
"""From a point to a label without leader. [mm]"""
RINGS = (5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 38.0, 48.0, 60.0)
"""Lengths of leaders that are tried. [mm]"""
TURNS = tuple(range(0, 360, 15))
LEADING = 1.22
"""From line to line. [em]"""
APART = 0.35
"""Room kept around texts. [mm]"""
TIP = 1.1
"""Room between a leader and its words, and the first of it that may touch lines. [mm]"""
_STRUCK, _OVER, _LED, _TURN = 14.0, 2.0, 3.0, 0.012
"""What a place costs in millimetres of leader: a line through the words, a line that the leader
goes over, a leader at all, a degree off the wanted side."""


@dataclass(frozen=True)
class Label:
    """Words about a point.

    Attributes
    ----------
    about : tuple of float
        The point. [m]
    lines : tuple
        Lines of words, each as the words of a `Text`.
    side : str
        Where it stands best.
    leader : bool
        Whether it may stand away from its point, with a leader.
    always_led : bool
        Whether it has a leader in any case.
    """

    about: Point
    lines: tuple[str | tuple[Part, ...], ...]
    layer: str = "label"
    size_mm: float = BODY
    side: Side = "above right"
    leader: bool = True
    always_led: bool = False
    weight: Weight = "regular"

    @property
    def plain(self) -> str:
        """Its words in one line."""
        return " / ".join(Text(self.about, words).plain for words in self.lines)


@dataclass(frozen=True)
class Placement:
    """Labels with their places: entities to add to the drawing, and labels that found no room."""

    entities: tuple[Text | Leader, ...]
    unplaced: tuple[Label, ...]

    def all_placed(self) -> tuple[Text | Leader, ...]:
        """The entities, where every label has a place.

        Raises
        ------
        OutOfDomain
            If a label found no room.
        """
        if self.unplaced:
            names = ", ".join(f"'{label.plain}'" for label in self.unplaced)
            raise OutOfDomain(
                f"The drawing has no room for {len(self.unplaced)} of its labels: {names}. "
                "No text may lie on another. Give a larger sheet or fewer labels."
            )
        return self.entities


@dataclass(frozen=True)
class _Place:
    """One possible place of a label."""

    cost: float
    texts: tuple[Text, ...]
    boxes: tuple[Box, ...]
    leader: Segment | None


def place_labels(
    labels: Sequence[Label], frame: Frame, around: Iterable[Entity] = (), *, rounds: int = 6
) -> Placement:
    """Find a place for each label of a drawing.

    Parameters
    ----------
    labels : sequence of Label
        The first has the first choice.
    frame : Frame
    around : iterable of Entity
        What is drawn already: its texts are never touched, its lines where possible.
    rounds : int
        How often labels without room are given the first choice.

    Returns
    -------
    Placement
    """
    drawn = tuple(around)
    lines = tuple(each for entity in drawn for each in segments_of(entity, frame))
    ground = _Ground(frame, text_boxes(Drawing("", frame, drawn)), lines)
    places = [_choice(label, ground) for label in labels]
    order = list(range(len(labels)))
    found, left = _try_order(order, places)
    for _ in range(rounds):
        if not left:
            break
        first = [index for index in order if index in left]
        order = first + [index for index in order if index not in left]
        again, without = _try_order(order, places)
        if len(without) <= len(left):
            found, left = again, without
    made: list[Text | Leader] = []
    for index in sorted(found):
        place = found[index]
        if place.leader is not None:
            start, end = place.leader
            made.append(Leader((frame.ground(start), frame.ground(end))))
        made.extend(place.texts)
    return Placement(tuple(made), tuple(labels[index] for index in sorted(left)))


@dataclass(frozen=True)
class _Ground:
    """What the labels find drawn, on paper."""

    frame: Frame
    boxes: tuple[Box, ...]
    lines: tuple[Segment, ...]

    @cached_property
    def reach(self) -> NDArray[np.float64]:
        """Left, bottom, right and top of each line. [mm]"""
        ends = np.array(self.lines, dtype=np.float64).reshape(-1, 2, 2)
        return np.hstack([ends.min(axis=1), ends.max(axis=1)])

    def near(self, bounds: Bounds) -> list[Segment]:
        """Lines that may run through what has these bounds."""
        left, bottom, right, top = self.reach.T
        x0, y0, x1, y1 = bounds
        meets = (left <= x1) & (right >= x0) & (bottom <= y1) & (top >= y0)
        return [self.lines[index] for index in np.flatnonzero(meets)]


def _choice(label: Label, ground: _Ground) -> list[_Place]:
    """Places of a label that what is drawn leaves free, the cheapest first."""
    free = (
        replace(place, cost=place.cost + _cost_of_lines(place, ground))
        for place in _places(label, ground.frame)
        if all(within(box.corners, ground.frame) for box in place.boxes)
        and _is_free(place, ground.boxes, ())
    )
    return sorted(free, key=lambda place: place.cost)


def _try_order(
    order: Sequence[int], places: Sequence[Sequence[_Place]]
) -> tuple[dict[int, _Place], list[int]]:
    """Places of labels in the order given, and the numbers of those without."""
    found: dict[int, _Place] = {}
    left: list[int] = []
    boxes, leaders = list[Box](), list[Segment]()
    for index in order:
        place = next((each for each in places[index] if _is_free(each, boxes, leaders)), None)
        if place is None:
            left.append(index)
            continue
        found[index] = place
        boxes.extend(place.boxes)
        if place.leader is not None:
            leaders.append(place.leader)
    return found, left


def _places(label: Label, frame: Frame) -> Iterator[_Place]:
    wanted = SIDES[label.side]
    if not label.always_led:
        for side in SIDES.values():
            yield _place(label, frame, side, NEAR, _TURN * _off(side, wanted), led=False)
    if label.leader or label.always_led:
        for ring in RINGS:
            for turn in TURNS:
                cost = _LED + ring + _TURN * _off(turn, wanted)
                yield _place(label, frame, turn, ring, cost, led=True)


def _off(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)


def _place(
    label: Label, frame: Frame, turn: float, away: float, cost: float, *, led: bool
) -> _Place:
    """The label with its near corner or side at a distance from its point."""
    c, s = cos(radians(turn)), sin(radians(turn))
    x0, y0 = frame.paper(label.about)
    x, y = x0 + away * c, y0 + away * s
    across: Across = "middle" if abs(c) < 0.3 else ("left" if c > 0 else "right")
    step, rows = LEADING * label.size_mm, len(label.lines)
    high = CAP * label.size_mm + (rows - 1) * step
    top = y + (high / 2 if abs(s) < 0.3 else (high if s > 0 else 0.0))
    texts = tuple(
        Text(
            frame.ground((x, top - row * step)),
            words,
            label.layer,
            label.size_mm,
            across,
            "top",
            weight=label.weight,
            clear=True,
        )
        for row, words in enumerate(label.lines)
    )
    boxes = tuple(box_of(text, frame) for text in texts)
    tip = x0 + (away - TIP) * c, y0 + (away - TIP) * s
    return _Place(cost, texts, boxes, ((x0, y0), tip) if led else None)


def _is_free(place: _Place, boxes: Sequence[Box], leaders: Sequence[Segment]) -> bool:
    for own in (box.grown(APART) for box in place.boxes):
        if any(own.overlaps(box) for box in boxes) or any(map(own.struck_by, leaders)):
            return False
    led = place.leader
    return led is None or not (
        any(box.struck_by(led) for box in (*boxes, *place.boxes))
        or any(cross(led, other) for other in leaders)
    )


def _cost_of_lines(place: _Place, ground: _Ground) -> float:
    cost = 0.0
    for box in place.boxes:
        cost += _STRUCK * sum(map(box.struck_by, ground.near(box.bounds)))
    if place.leader is not None:
        led = _past_start(place.leader)
        cost += _OVER * sum(cross(led, line) for line in ground.near(bounds_of(led)))
    return cost


def _past_start(led: Segment) -> Segment:
    """A leader without its first bit, which stands on the line that it is about."""
    (xa, ya), (xb, yb) = led
    part = min(1.0, TIP / max(hypot(xb - xa, yb - ya), TIP))
    return (xa + part * (xb - xa), ya + part * (yb - ya)), (xb, yb)


def cross(one: Segment, other: Segment) -> bool:
    """Whether two lines on paper cross or touch."""
    (a, b), (c, d) = one, other
    turns = _turn(a, b, c), _turn(a, b, d), _turn(c, d, a), _turn(c, d, b)
    if max(min(a[0], b[0]), min(c[0], d[0])) > min(max(a[0], b[0]), max(c[0], d[0])):
        return False
    if max(min(a[1], b[1]), min(c[1], d[1])) > min(max(a[1], b[1]), max(c[1], d[1])):
        return False
    return turns[0] * turns[1] <= 0.0 and turns[2] * turns[3] <= 0.0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
