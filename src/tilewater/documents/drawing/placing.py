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
from math import isnan
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.drawing.crossings import (
    TOUCH,
    Shapes,
    as_boxes,
    as_lines,
    cross,
    pairs_share_room,
    share_room,
)
from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.measured import segments_of, text_boxes
from tilewater.documents.drawing.metrics import ASCENT, CAP, DESCENT, width_of
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
LEVEL = 0.3
"""How far off level or upright a direction may be for words to stand at their middle. [-]"""
LEADING = 1.22
"""From line to line. [em]"""
APART = 0.35
"""Room kept around texts. [mm]"""
TIP = 1.1
"""Room between a leader and its words, and the first of it that may touch lines. [mm]"""
WHITE = 1.0
"""Room between words and a line in which it reads as one of their strokes. [mm]"""
_STRUCK, _CLOSE, _OVER, _LED, _TURN = 14.0, 4.0, 2.0, 3.0, 0.012
"""What a place costs in millimetres of leader: a line through the words, a line close by them, a
line that the leader goes over, a leader at all, a degree off the wanted side."""
ACROSS: tuple[Across, ...] = ("left", "middle", "right")
CORNERS = np.array(((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)))
"""Outward from a box at its corners."""
NO_BOXES, NO_LINES = as_boxes(()), as_lines(())


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


@dataclass(frozen=True, eq=False)
class _Places:
    """Possible places of a label on paper, one a row. [mm]

    Attributes
    ----------
    label : Label
    costs : array
    starts : array
        Where its rows of words start, end or have their middle, at the top of the first.
    across : array
        Which of the three, as a number of `ACROSS`.
    rows : array
        The box of each row of words: place, row, corner, across and up.
    leaders : array
        No numbers for a place without leader.
    """

    label: Label
    costs: NDArray[np.float64]
    starts: NDArray[np.float64]
    across: NDArray[np.int_]
    rows: NDArray[np.float64]
    leaders: Shapes

    def __getitem__(self, index: NDArray[np.bool_ | np.int_]) -> "_Places":
        """Some of the places."""
        return _Places(
            self.label,
            self.costs[index],
            self.starts[index],
            self.across[index],
            self.rows[index],
            self.leaders[index],
        )

    def boxes(self, room: float = 0.0) -> Shapes:
        """The boxes of all rows of all places, with room around them."""
        return (self.rows + room * CORNERS).reshape(-1, 4, 2)

    def count(self, told: NDArray[np.bool_]) -> NDArray[np.int_]:
        """How often something is so of the boxes of each place, told of each box in a row."""
        places, rows = self.rows.shape[:2]
        return np.asarray(told.reshape(places, rows * told.shape[1]).sum(axis=1))


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
    lines = (each for entity in drawn for each in segments_of(entity, frame))
    boxes = (box.corners for box in text_boxes(Drawing("", frame, drawn)))
    ground = _Ground(frame, as_boxes(boxes), as_lines(lines))
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
    made = (each for index in sorted(found) for each in _drawn(found[index], frame))
    return Placement(tuple(made), tuple(labels[index] for index in sorted(left)))


@dataclass(frozen=True, eq=False)
class _Ground:
    """What the labels find drawn, on paper."""

    frame: Frame
    boxes: Shapes
    lines: Shapes


def _choice(label: Label, ground: _Ground) -> _Places:
    """Places of a label that what is drawn leaves free, the cheapest first."""
    places = _places(label, ground.frame)
    size = ground.frame.width_mm, ground.frame.height_mm
    inside = (places.rows >= -TOUCH) & (places.rows <= np.add(size, TOUCH))
    places = places[np.flatnonzero(inside.all(axis=(1, 2, 3)))]
    places = places[~_own_leader_strikes(places)]
    places = places[_are_free(places, ground.boxes, NO_LINES)]
    costs = places.costs + _costs_of_lines(places, ground.lines)
    return replace(places, costs=costs)[np.argsort(costs, kind="stable")]


def _try_order(
    order: Sequence[int], places: Sequence[_Places]
) -> tuple[dict[int, _Places], list[int]]:
    """The place of each label in the order given, and the numbers of those without."""
    found: dict[int, _Places] = {}
    left: list[int] = []
    boxes, leaders = NO_BOXES, NO_LINES
    for index in order:
        free = np.flatnonzero(_are_free(places[index], boxes, leaders))
        if free.size == 0:
            left.append(index)
            continue
        found[index] = place = places[index][free[:1]]
        boxes = np.concatenate([boxes, place.boxes()])
        leaders = np.concatenate([leaders, place.leaders])
    return found, left


def _places(label: Label, frame: Frame) -> _Places:
    """All places that a label tries, with its near corner or side at a distance from its point."""
    tried = np.array(list(_tried(label)))
    turns, away, costs, led = tried.T
    ways = np.stack([np.cos(np.radians(turns)), np.sin(np.radians(turns))], axis=1)
    about = np.array(frame.paper(label.about))
    near = about + away[:, None] * ways
    across = np.where(np.abs(ways[:, 0]) < LEVEL, 1, np.where(ways[:, 0] > 0.0, 0, 2))
    step, wide = LEADING * label.size_mm, _widths(label)
    high = CAP * label.size_mm + (len(wide) - 1) * step
    up = np.where(np.abs(ways[:, 1]) < LEVEL, high / 2, np.where(ways[:, 1] > 0.0, high, 0.0))
    starts = near + np.stack([np.zeros_like(up), up], axis=1)
    left = starts[:, :1] - across[:, None] / 2 * wide
    base = starts[:, 1:] - step * np.arange(len(wide)) - CAP * label.size_mm
    low, top = base - DESCENT * label.size_mm, base + ASCENT * label.size_mm
    corners = ((left, low), (left + wide, low), (left + wide, top), (left, top))
    rows = np.stack([np.stack(corner, axis=-1) for corner in corners], axis=2)
    tips = about + (away - TIP)[:, None] * ways
    leaders = np.stack([np.broadcast_to(about, tips.shape), tips], axis=1)
    leaders = np.where(led[:, None, None] > 0.0, leaders, np.nan)
    return _Places(label, costs, starts, across, rows, leaders)


def _tried(label: Label) -> Iterator[tuple[float, float, float, bool]]:
    """Direction and distance from the point, cost, and whether there is a leader."""
    wanted = SIDES[label.side]
    if not label.always_led:
        for side in SIDES.values():
            yield side, NEAR, _TURN * _off(side, wanted), False
    if label.leader or label.always_led:
        for ring in RINGS:
            for turn in TURNS:
                yield turn, ring, _LED + ring + _TURN * _off(turn, wanted), True


def _widths(label: Label) -> NDArray[np.float64]:
    """Width of each row of words. [mm]"""
    rows = (_text(label, words, label.about, "left") for words in label.lines)
    return np.array([width_of(text) for text in rows])


def _off(one: float, other: float) -> float:
    return abs((one - other + 180.0) % 360.0 - 180.0)


def _text(label: Label, words: str | tuple[Part, ...], at: Point, across: Across) -> Text:
    return Text(
        at, words, label.layer, label.size_mm, across, "top", weight=label.weight, clear=True
    )


def _drawn(place: _Places, frame: Frame) -> Iterator[Text | Leader]:
    """The leader and the rows of words of one place."""
    label = place.label
    (x0, y0), (x1, y1) = place.leaders[0].tolist()
    if not isnan(x0):
        yield Leader((frame.ground((x0, y0)), frame.ground((x1, y1))))
    x, top = place.starts[0].tolist()
    for row, words in enumerate(label.lines):
        at = frame.ground((x, top - row * LEADING * label.size_mm))
        yield _text(label, words, at, ACROSS[place.across[0]])


def _are_free(places: _Places, boxes: Shapes, leaders: Shapes) -> NDArray[np.bool_]:
    """Which places touch none of the boxes and leaders with their words or their own leader."""
    own = places.boxes(APART)
    taken = np.hstack([share_room(own, boxes), share_room(own, leaders)])
    crossed = np.hstack([share_room(places.leaders, boxes), cross(places.leaders, leaders)])
    return np.asarray((places.count(taken) == 0) & ~crossed.any(axis=1))


def _own_leader_strikes(places: _Places) -> NDArray[np.bool_]:
    """Which places have a leader through their own words."""
    leaders = np.repeat(places.leaders, places.rows.shape[1], axis=0)
    return places.count(pairs_share_room(places.boxes(), leaders)[:, None]) > 0


def _costs_of_lines(places: _Places, lines: Shapes) -> NDArray[np.float64]:
    """What lines through the words, close by and under the leader of each place cost. [mm]"""
    struck = places.count(share_room(places.boxes(), lines))
    close = places.count(share_room(places.boxes(WHITE), lines)) - struck
    over = cross(_past_starts(places.leaders), lines).sum(axis=1)
    return np.asarray(_STRUCK * struck + _CLOSE * close + _OVER * over)


def _past_starts(leaders: Shapes) -> Shapes:
    """Leaders without their first bit, which stands on the line that they are about."""
    start, end = leaders[:, 0], leaders[:, 1]
    long = np.maximum(np.linalg.norm(end - start, axis=1), TIP)
    return np.stack([start + (TIP / long)[:, None] * (end - start), end], axis=1)
