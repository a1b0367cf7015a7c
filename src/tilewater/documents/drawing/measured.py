# SPDX-License-Identifier: Apache-2.0
"""Where texts stand on paper: what collides, leaves its frame or has a line through it.

A text takes the box of its letters, turned with it. Boxes that only touch do not collide.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from tilewater.documents.drawing.crossings import TOUCH, as_boxes, as_lines, share_room
from tilewater.documents.drawing.dimensions import laid_out, words_of
from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.marks import shapes_of
from tilewater.documents.drawing.metrics import ASCENT, CAP, DESCENT, width_of
from tilewater.documents.drawing.model import (
    Arc,
    Area,
    Circle,
    Dimension,
    Drawing,
    Entity,
    Leader,
    Line,
    Mark,
    Placed,
    Polyline,
    Sheet,
    Text,
    sheet_of,
)

_TURN = 15.0
"""Step in which an arc is walked. [deg]"""
Segment = tuple[Point, Point]


@dataclass(frozen=True)
class Box:
    """The four corners of a text on paper, counter-clockwise from its lower left. [mm]"""

    words: str
    corners: tuple[Point, Point, Point, Point]
    clear: bool = False


def box_of(text: Text, frame: Frame) -> Box:
    """The box of a text on the paper of its frame."""
    wide, size = width_of(text), text.size_mm
    left = {"left": 0.0, "middle": -wide / 2, "right": -wide}[text.across]
    base = {"base": 0.0, "middle": -CAP / 2, "top": -CAP}[text.up] * size
    low, high = base - DESCENT * size, base + ASCENT * size
    c, s = cos(radians(text.angle_deg)), sin(radians(text.angle_deg))
    x0, y0 = frame.paper(text.at)
    p, q, r, t = (
        (x0 + c * x - s * y, y0 + s * x + c * y)
        for x, y in ((left, low), (left + wide, low), (left + wide, high), (left, high))
    )
    return Box(text.plain, (p, q, r, t), text.clear)


def text_boxes(drawing: Drawing) -> tuple[Box, ...]:
    """The boxes of all texts of a drawing, those of its dimensions among them."""
    return tuple(_boxes(drawing.entities, drawing.frame))


def overlapping(boxes: Iterable[Box], others: Iterable[Box]) -> NDArray[np.bool_]:
    """Whether each box, a row, shares room with each other, a column."""
    return share_room(*(as_boxes(box.corners for box in each) for each in (boxes, others)))


def struck(boxes: Iterable[Box], lines: Iterable[Segment]) -> NDArray[np.bool_]:
    """Whether through each box, a row, each line, a column, runs."""
    return share_room(as_boxes(box.corners for box in boxes), as_lines(lines))


def collisions(drawn: Drawing | Sheet) -> tuple[tuple[str, str], ...]:
    """Pairs of texts that share room."""
    sheet = drawn if isinstance(drawn, Sheet) else sheet_of(drawn)
    boxes = [box for placed in sheet for box in _on_sheet(placed)]
    pairs = zip(*np.nonzero(np.triu(overlapping(boxes, boxes), k=1)), strict=True)
    return tuple((boxes[a].words, boxes[b].words) for a, b in pairs)


def outside_frame(drawn: Drawing | Sheet) -> tuple[str, ...]:
    """Texts by their words, and shapes by kind and layer, that leave the frame of their drawing.

    On a sheet, also drawings by their title whose frame leaves the sheet.
    """
    if isinstance(drawn, Drawing):
        return tuple(_outside(drawn))
    off = tuple(
        placed.drawing.title
        for placed in drawn
        if min(placed.left_mm, placed.bottom_mm) < -TOUCH
        or placed.left_mm + placed.drawing.frame.width_mm > drawn.width_mm + TOUCH
        or placed.bottom_mm + placed.drawing.frame.height_mm > drawn.height_mm + TOUCH
    )
    return off + tuple(each for placed in drawn for each in _outside(placed.drawing))


def struck_texts(drawing: Drawing) -> tuple[tuple[str, str], ...]:
    """Texts that a line runs through, with the layer of the line; those kept clear are left out."""
    boxes = [box for box in text_boxes(drawing) if not box.clear]
    found: list[tuple[str, str]] = []
    for entity in drawing.entities:
        through = struck(boxes, segments_of(entity, drawing.frame))
        found += [
            (boxes[index].words, entity.layer) for index in np.flatnonzero(through.sum(axis=1))
        ]
    return tuple(found)


def segments_of(entity: Entity, frame: Frame) -> tuple[Segment, ...]:
    """The strokes of an entity on paper, edges of areas and texts left out. [mm]"""
    if isinstance(entity, Area | Text):
        return ()
    if isinstance(entity, Dimension):
        placed = laid_out(entity, frame)
        return placed.strokes + placed.ticks
    if isinstance(entity, Mark):
        shapes = shapes_of(entity.kind, frame.paper(entity.at), entity.angle_deg)
        return tuple(
            each for shape in shapes for each in _legs((*shape.points, shape.points[0]), True)
        )
    closed = isinstance(entity, Polyline) and entity.closed
    return tuple(_legs([frame.paper(point) for point in _points(entity)], not closed))


def _legs(points: list[Point] | tuple[Point, ...], is_open: bool) -> Iterator[Segment]:
    yield from pairwise(points)
    if not is_open:
        yield points[-1], points[0]


def _points(entity: Entity) -> tuple[Point, ...]:
    """Points of the ground that an entity reaches."""
    match entity:
        case Line():
            return entity.start, entity.end
        case Polyline() | Leader():
            return entity.points
        case Area():
            return entity.points
        case Circle():
            return _around(entity.centre, entity.radius, 0.0, 360.0)
        case Arc():
            turn = (entity.to_deg - entity.from_deg) % 360.0
            return _around(entity.centre, entity.radius, entity.from_deg, turn)
        case _:
            return ()


def _around(centre: Point, radius: float, start: float, turn: float) -> tuple[Point, ...]:
    steps = max(1, round(turn / _TURN))
    angles = (radians(start + turn * step / steps) for step in range(steps + 1))
    return tuple((centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in angles)


def _boxes(entities: Iterable[Entity], frame: Frame) -> Iterator[Box]:
    for entity in entities:
        if isinstance(entity, Text):
            yield box_of(entity, frame)
        elif isinstance(entity, Dimension):
            yield box_of(words_of(entity, frame), frame)


def _on_sheet(placed: Placed) -> Iterator[Box]:
    for box in text_boxes(placed.drawing):
        a, b, c, d = ((x + placed.left_mm, y + placed.bottom_mm) for x, y in box.corners)
        yield Box(box.words, (a, b, c, d), box.clear)


def _outside(drawing: Drawing) -> Iterator[str]:
    frame = drawing.frame
    for box in text_boxes(drawing):
        if not within(box.corners, frame):
            yield box.words
    for entity in drawing.entities:
        ends = [point for segment in segments_of(entity, frame) for point in segment]
        if isinstance(entity, Area):
            ends = [frame.paper(point) for point in entity.points]
        if not within(ends, frame):
            yield f"{type(entity).__name__} on {entity.layer}"


def within(points: Iterable[Point], frame: Frame) -> bool:
    """Whether points of the paper are inside the frame. [mm]"""
    return all(
        -TOUCH <= x <= frame.width_mm + TOUCH and -TOUCH <= y <= frame.height_mm + TOUCH
        for x, y in points
    )
