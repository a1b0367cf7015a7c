# SPDX-License-Identifier: Apache-2.0
"""Revision clouds: what changed since the last issue, ringed where it stands on a drawing.

A cloud is a closed line of arcs around the parts that a changed input belongs to, with the number
of the revision in a triangle beside it. What changed without a place on a drawing is listed only.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import atan2, ceil, cos, hypot, pi, sin

from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.measured import box_of, text_boxes
from tilewater.documents.drawing.model import (
    SMALL,
    Area,
    Circle,
    Dimension,
    Drawing,
    Polyline,
    Text,
)

AWAY = 3.0
"""From the parts to the cloud. [mm]"""
SCALLOP = 5.0
"""Length of an arc of the cloud. [mm]"""
ARC = 6
"""Pieces of an arc."""
TRIANGLE = 5.2
"""Side of the triangle with the number. [mm]"""
Box = tuple[float, float, float, float]
LAYER = "revision"


@dataclass(frozen=True)
class Marks:
    """What is marked: the number of the revision, and keys of inputs that changed."""

    number: str = ""
    keys: tuple[str, ...] = ()


def marked(drawing: Drawing, marks: Marks) -> Drawing:
    """A drawing with its changed parts in clouds; itself where nothing on it changed."""
    if not marks.keys:
        return drawing
    boxes = list(_merged(list(_changed(drawing, marks.keys))))
    if not boxes:
        return drawing
    made = [part for box in boxes for part in _cloud(drawing, box, marks.number)]
    return replace(drawing, entities=(*drawing.entities, *made))


def _changed(drawing: Drawing, keys: tuple[str, ...]) -> Iterator[Box]:
    """Boxes on paper of what a changed key belongs to."""
    frame = drawing.frame
    for entity in drawing.entities:
        if isinstance(entity, Text):
            if any(_is_of(part.key, keys) for part in entity.parts):
                yield _around(box_of(entity, frame).corners)
        elif isinstance(entity, Dimension):
            if _is_of(entity.key, keys):
                yield _around([frame.paper(p) for p in (entity.start, entity.end, entity.through)])
        elif isinstance(entity, Polyline | Area | Circle) and _is_named(entity.name, keys):
            points = entity.points if not isinstance(entity, Circle) else (entity.centre,)
            yield _around([frame.paper(point) for point in points])


def _is_of(key: str, keys: tuple[str, ...]) -> bool:
    """Whether a number is that of a changed input, or of the same part of the design."""
    return bool(key) and any(key.removeprefix("inputs.").startswith(each) for each in keys)


def _is_named(name: str, keys: tuple[str, ...]) -> bool:
    """Whether a shape shows a pipe, structure or outline of which an input changed."""
    bare = {key.split(".")[1] for key in keys if key.count(".") >= 2}
    outlines = tuple(f"{key.split('.')[0]} " for key in keys if "_bottom" in key)
    if outlines and name.startswith(outlines):
        return True
    plain = name.removeprefix("pipe-").removeprefix("pipe ").removesuffix(" structure")
    return bool(name) and plain in bare


def _around(points: "list[Point] | tuple[Point, ...]") -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs) - AWAY, min(ys) - AWAY, max(xs) + AWAY, max(ys) + AWAY


def _merged(boxes: list[Box]) -> Iterator[Box]:
    """Boxes that meet, as one."""
    while boxes:
        box = boxes.pop()
        again = True
        while again:
            again = False
            for other in boxes:
                if (
                    box[0] < other[2]
                    and other[0] < box[2]
                    and box[1] < other[3]
                    and (other[1] < box[3])
                ):
                    boxes.remove(other)
                    low, high = map(min, box[:2], other[:2]), map(max, box[2:], other[2:])
                    box = (*low, *high)  # type: ignore[assignment]
                    again = True
                    break
        yield box


def _cloud(drawing: Drawing, box: Box, number: str) -> Iterator[Polyline | Text]:
    frame = drawing.frame
    edge = AWAY
    left, low = max(box[0], edge), max(box[1], edge)
    right, high = min(box[2], frame.width_mm - edge), min(box[3], frame.height_mm - edge)
    corners = ((left, low), (right, low), (right, high), (left, high))
    points = [point for i in range(4) for point in _side(corners[i], corners[(i + 1) % 4])]
    yield Polyline(tuple(map(frame.ground, points)), LAYER, True, "revision cloud")
    place = _free_place(drawing, (left, low, right, high))
    if place is None or not number:
        return
    x, y = place
    half, tall = TRIANGLE / 2, TRIANGLE * 0.87
    triangle = ((x - half, y), (x + half, y), (x, y + tall))
    yield Polyline(tuple(map(frame.ground, triangle)), LAYER, True, "revision")
    at = frame.ground((x, y + tall * 0.12))
    yield Text(at, number, LAYER, SMALL, "middle", "base", weight="semibold")


def _side(start: Point, end: Point) -> Iterator[Point]:
    """Arcs that bulge outward along a side that is walked counter-clockwise."""
    long = hypot(end[0] - start[0], end[1] - start[1])
    count = max(1, ceil(long / SCALLOP))
    along = atan2(end[1] - start[1], end[0] - start[0])
    radius = long / count / 2
    for number in range(count):
        share = (number + 0.5) / count
        middle = (
            start[0] + share * (end[0] - start[0]),
            start[1] + share * (end[1] - start[1]),
        )
        for step in range(ARC):
            turn = along + pi + pi * step / ARC
            yield middle[0] + radius * cos(turn), middle[1] + radius * sin(turn)


def _free_place(drawing: Drawing, box: Box) -> Point | None:
    """A place at the cloud for its triangle where no words stand."""
    frame: Frame = drawing.frame
    taken = [_around(each.corners) for each in text_boxes(drawing)]
    left, low, right, high = box
    step = TRIANGLE + SCALLOP / 2
    tries = [
        (x, y) for y in (high + SCALLOP / 2, low - step) for x in (right, left, (left + right) / 2)
    ]
    tries += [(x, (low + high) / 2) for x in (right + step, left - step)]
    for x, y in tries:
        here = (x - TRIANGLE / 2, y, x + TRIANGLE / 2, y + TRIANGLE)
        inside = 0.0 <= here[0] and 0.0 <= here[1] and here[2] <= frame.width_mm
        inside = inside and here[3] <= frame.height_mm
        clear = all(
            here[2] < b[0] + AWAY
            or b[2] - AWAY < here[0]
            or here[3] < b[1] + AWAY
            or b[3] - AWAY < here[1]
            for b in taken
        )
        if inside and clear:
            return x, y
    return None
