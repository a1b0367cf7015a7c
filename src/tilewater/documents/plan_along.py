# SPDX-License-Identifier: Apache-2.0
"""Words along the lines of a plan: on the line, or beside it, where fewest lines run through."""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin

import numpy as np

from tilewater.chain.scene_plan_records import Line, Point
from tilewater.documents.drawing.measured import (
    Box,
    Segment,
    box_of,
    overlapping,
    segments_of,
    struck,
    text_boxes,
    within,
)
from tilewater.documents.drawing.metrics import width_of
from tilewater.documents.drawing.model import SMALL, Part, Text
from tilewater.documents.plan_shapes import Window
from tilewater.documents.profile.plot import Plot
from tilewater.documents.scales import Figures

SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)
"""Where along a piece of a line its words are tried."""


def write_along(
    plot: Plot,
    window: Window,
    words: str | tuple[Part, ...],
    line: Line,
    signs: Iterable[Box],
    *,
    away: float = 0.0,
    layer: str = "label-muted",
) -> bool:
    """Write words on a line, or beside it, where fewest lines run through; whether they had room.

    A longer piece of the line goes before a shorter one, and its middle before its ends.
    """
    pieces = [(a, b) for piece in window.pieces(line) for a, b in pairwise(piece)]
    pieces.sort(key=lambda piece: -_long(*piece))
    tried = [text for piece in pieces for text in _tried(plot, words, piece, away, layer)]
    boxes = [box_of(text, plot.frame) for text in tried]
    taken = (*text_boxes(plot.drawing("", Figures("us"))), *signs)
    touched = np.logical_or.reduce(overlapping(boxes, taken), axis=1)
    runs = np.add.reduce(struck(boxes, _lines(plot)), axis=1)
    free = [
        index
        for index, box in enumerate(boxes)
        if not touched[index] and within(box.corners, plot.frame) and not (away and runs[index])
    ]
    if not free:
        return False
    plot.entities.append(tried[min(free, key=lambda index: int(runs[index]))])
    return True


def _tried(
    plot: Plot,
    words: str | tuple[Part, ...],
    piece: tuple[Point, Point],
    away: float,
    layer: str,
) -> Iterator[Text]:
    """Texts along a piece of a line, or to either side of it; none where it is too short."""
    a, b = piece
    wide = width_of(Text((0.0, 0.0), words, size_mm=SMALL))
    if _long(plot.frame.paper(a), plot.frame.paper(b)) < wide:
        return
    angle = degrees(atan2(b[1] - a[1], b[0] - a[0]))
    angle = angle - 180.0 if angle > 90.0 else angle + 180.0 if angle <= -90.0 else angle
    nx, ny = -sin(radians(angle)) * away, cos(radians(angle)) * away
    for share in SHARES:
        at = a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])
        for side in (1.0, -1.0) if away else (1.0,):
            moved = plot.frame.moved(at, nx * side, ny * side)
            yield Text(moved, words, layer, SMALL, "middle", "middle", angle, clear=True)


def _lines(plot: Plot) -> list[Segment]:
    return [each for entity in plot.entities for each in segments_of(entity, plot.frame)]


def _long(a: Point, b: Point) -> float:
    return hypot(b[0] - a[0], b[1] - a[1])


def sign_box(plot: Plot, at: Point, half: float) -> Box:
    """Room of a sign about a point."""
    x, y = plot.frame.paper(at)
    low, high = (x - half, y - half), (x + half, y + half)
    return Box("", (low, (high[0], low[1]), high, (low[0], high[1])))
