# SPDX-License-Identifier: Apache-2.0
"""A long drawing cut into strips that join at match lines, each as wide as a sheet.

The drawing is made once at its larger scale; lines and areas are cut where the strip ends, and the
cut runs where it goes through the fewest words, which stay whole on the strip that they begin on.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.measured import box_of, overlapping
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import (
    SMALL,
    Area,
    Circle,
    Dimension,
    Drawing,
    Entity,
    Leader,
    Line,
    Mark,
    Polyline,
    Text,
)
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.room import write_head
from tilewater.documents.scales import Figures

SEEK = 8.0
"""How far from even a cut is tried. [mm]"""
MARGIN = 9.0
"""Room at a match line for its words. [mm]"""
HEAD = 9.0
"""Height of the head of a strip. [mm]"""


def strips(
    drawing: Drawing, count: int, place: str = "", *, most_mm: float = 0.0
) -> tuple[Drawing, ...]:
    """A drawing in so many strips.

    Parameters
    ----------
    drawing : Drawing
    count : int
        One gives the drawing itself.
    place : str
        What a match line is named by, before its place along the drawing.
    most_mm : float
        How wide a strip may be; where it may be wider than it must, cuts are sought further. [mm]

    Returns
    -------
    tuple of Drawing
        From left to right, at the scale and in the ground of the whole.
    """
    if count == 1:
        return (drawing,)
    frame = drawing.frame
    cuts = [0.0]
    spare = (most_mm - 2 * MARGIN - frame.width_mm / count) / (1 if count == 2 else 2)
    seek = max(SEEK, spare)
    cuts += [_cut_at(drawing, frame.width_mm * n / count, seek) for n in range(1, count)]
    cuts.append(frame.width_mm)
    names = [place or "match line"] * count
    return tuple(_strip(drawing, cuts[n], cuts[n + 1], n, count, names[n]) for n in range(count))


def _clear_of(made: Sequence[Entity], frame: Frame, edges: tuple[float, float]) -> Iterator[Text]:
    """The words of a strip; those that run over a match line stand on white."""
    low, high = edges[0], frame.width_mm - edges[1]
    for each in made:
        if isinstance(each, Text):
            xs = [x for x, _ in box_of(each, frame).corners]
            crosses = any(min(xs) < at < max(xs) for at in (low, high))
            yield replace(each, clear=True) if crosses else each


def _over(made: Sequence[Entity], frame: Frame, right: float) -> float:
    """How far words that begin on a strip run past where it ends. [mm]"""
    ends = (
        max(x for x, _ in box_of(each, frame).corners) for each in made if isinstance(each, Text)
    )
    return max(0.0, max(ends, default=right) - right)


def _is_head(entity: Entity, frame: Frame) -> bool:
    """Whether an entity is of the title, the scale or the bar over a drawing."""
    points: Sequence[Point] = ()
    if isinstance(entity, Text):
        points = [entity.at]
    elif isinstance(entity, Polyline | Area):
        points = entity.points
    over = frame.height_mm - HEAD + 1.0
    return bool(points) and all(frame.paper(point)[1] > over for point in points)


def _cut_at(drawing: Drawing, wanted: float, seek: float) -> float:
    """The place near the wanted one at which a cut goes through the fewest words. [mm]"""
    spans = [
        (min(x for x, _ in box.corners), max(x for x, _ in box.corners))
        for entity in drawing.entities
        if isinstance(entity, Text)
        for box in (box_of(entity, drawing.frame),)
    ]
    tries = [wanted + side * step for step in range(int(seek)) for side in (1.0, -1.0)]
    return min(tries, key=lambda x: sum(low - 2.0 < x < high + 2.0 for low, high in spans))


def _strip(
    drawing: Drawing, left: float, right: float, number: int, count: int, name: str
) -> Drawing:
    whole = drawing.frame
    ends = whole.ground((left, 0.0))[0], whole.ground((right, 0.0))[0]
    kept = (each for each in drawing.entities if not _is_head(each, whole))
    made = [cut for each in kept for cut in _cut(each, ends, whole)]
    before = MARGIN if number else 0.0
    after = MARGIN + _over(made, whole, right) if number < count - 1 else 0.0
    low = whole.ground((left - before, 0.0))
    width = right - left + before + after
    frame = Frame(low, width, whole.height_mm, whole.scale_x, whole.scale_y)
    plot = Plot(frame, low[1], made)
    write_head(
        plot,
        Figures(drawing.units, drawing.foot),
        f"{drawing.title}, part {number + 1} of {count}",
    )
    for at, joins in ((before, number - 1), (width - after, number + 1)):
        if 0 <= joins < count:
            ground = [frame.ground((at, y)) for y in (1.0, whole.height_mm - HEAD)]
            made.append(Polyline(tuple(ground), "boundary", name="match line"))
            words = f"{name}: joins part {joins + 1}"
            beside = at - 3.0 if joins < number else width - MARGIN + 5.0
            made.append(
                Text(
                    frame.ground((beside, whole.height_mm / 2)),
                    words,
                    size_mm=SMALL,
                    across="middle",
                    angle_deg=90.0,
                )
            )
    made = [*(e for e in made if not isinstance(e, Text)), *_clear_of(made, frame, (before, after))]
    title = f"{drawing.title}, part {number + 1}"
    return headed(replace(drawing, title=title, frame=frame, entities=tuple(made)))


def headed(drawing: Drawing) -> Drawing:
    """A drawing whose scale stands below its title where it has no room beside it."""
    frame, kept, told = drawing.frame, [], ""
    for each in drawing.entities:
        if isinstance(each, Text) and each.plain.startswith("Scale "):
            right = max(x for x, _ in box_of(each, frame).corners)
            if right > frame.width_mm:
                told = each.plain
                continue
        kept.append(each)
    if not told:
        return drawing
    rows = [told] if text_width(told, SMALL) < frame.width_mm else told.split(": ")
    for number, words in enumerate(rows):
        kept.append(_head(kept, frame, (0.0, frame.height_mm - 7.0 - 4.0 * number), words))
    return replace(drawing, entities=tuple(kept))


def _head(made: Sequence[Entity], frame: Frame, at: Point, words: str) -> Text:
    """The title of a strip, lower where words stand already."""
    boxes = [box_of(each, frame) for each in made if isinstance(each, Text)]
    for down in (0.0, 4.0, 8.0):
        place = frame.ground((at[0], at[1] - down))
        text = Text(place, words, size_mm=SMALL, weight="semibold")
        if not overlapping([box_of(text, frame)], boxes).any():
            break
    return text


def _cut(entity: Entity, ends: tuple[float, float], frame: Frame) -> Iterator[Entity]:
    """What of an entity lies between two places of the ground."""
    low, high = ends
    if isinstance(entity, Text):
        left = min(x for x, _ in box_of(entity, frame).corners)
        if low <= frame.ground((left, 0.0))[0] < high:
            yield entity
    elif isinstance(entity, Mark):
        if low <= entity.at[0] <= high:
            yield entity
    elif isinstance(entity, Line):
        for piece in _pieces((entity.start, entity.end), low, high):
            yield Polyline(piece, entity.layer, name=entity.name)
    elif isinstance(entity, Polyline):
        points = (*entity.points, entity.points[0]) if entity.closed else entity.points
        if all(low <= x <= high for x, _ in points):
            yield entity
        else:
            for piece in _pieces(points, low, high):
                yield Polyline(piece, entity.layer, name=entity.name)
    elif isinstance(entity, Area):
        inside = _clipped(_clipped(entity.points, low, 1.0), high, -1.0)
        if len(inside) > 2:
            yield replace(entity, points=inside, holes=())
    elif isinstance(entity, Leader):
        if all(low <= x <= high for x, _ in entity.points):
            yield entity
    elif isinstance(entity, Dimension):
        if all(low <= x <= high for x, _ in (entity.start, entity.end)):
            yield entity
    elif isinstance(entity, Circle):
        if low <= entity.centre[0] - entity.radius and entity.centre[0] + entity.radius <= high:
            yield entity
    elif low <= entity.centre[0] <= high:
        yield entity


def _pieces(points: Sequence[Point], low: float, high: float) -> Iterator[tuple[Point, ...]]:
    """A line through points, cut to what lies between two places."""
    run: list[Point] = []
    for a, b in pairwise(points):
        span = _span(a, b, low, high)
        if span is None:
            if len(run) > 1:
                yield tuple(run)
            run = []
            continue
        start, end = span
        if not run or run[-1] != start:
            if len(run) > 1:
                yield tuple(run)
            run = [start]
        run.append(end)
    if len(run) > 1:
        yield tuple(run)


def _span(a: Point, b: Point, low: float, high: float) -> tuple[Point, Point] | None:
    if max(a[0], b[0]) < low or min(a[0], b[0]) > high:
        return None
    if a[0] == b[0]:
        return a, b
    return _held(a, b, low, high), _held(b, a, low, high)


def _held(a: Point, b: Point, low: float, high: float) -> Point:
    """A point, or where the line from it to the other comes in."""
    x = min(max(a[0], low), high)
    return a if x == a[0] else (x, a[1] + (x - a[0]) / (b[0] - a[0]) * (b[1] - a[1]))


def _clipped(points: Sequence[Point], at: float, side: float) -> tuple[Point, ...]:
    """An area without what lies on the other side of a place."""
    made: list[Point] = []
    for a, b in zip(points, (*points[1:], *points[:1]), strict=True):
        a_in, b_in = side * (a[0] - at) >= 0.0, side * (b[0] - at) >= 0.0
        if a_in:
            made.append(a)
        if a_in != b_in:
            made.append((at, a[1] + (at - a[0]) / (b[0] - a[0]) * (b[1] - a[1])))
    return tuple(made)
