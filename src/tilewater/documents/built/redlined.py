# SPDX-License-Identifier: Apache-2.0
"""A drawing of the design with what was built in red: designed words struck through, built beside.

What changed is told by two drawings of one sort: of the design, and of the design with the work as
built. Words of one number that differ are red-lined. Struck words and heavy ones read in grey too.
"""

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tilewater.documents.drawing.dimensions import words_of
from tilewater.documents.drawing.frame import Point
from tilewater.documents.drawing.measured import box_of, overlapping, text_boxes, within
from tilewater.documents.drawing.metrics import CAP, text_width, width_of
from tilewater.documents.drawing.model import Across, Dimension, Drawing, Polyline, Text, Up

LAYER = "red-line"
BUILT = re.compile(
    r"^(inputs\.(structure|bed|main|pipe|buffer|boards)\.|boards\.|bed\.|buffer\."
    r"|elevations\.[\w-]*crest|cross\.(bed|cover|main)|plan\.|quantities\.cut)"
)
"""Keys of what is built and shot; water levels and what is reckoned from them are not red-lined."""
WITHOUT_KEY = " down"
"""What tells words on boards that have no key: how far their crest lies down from the rim."""
GAP = 0.8
"""From struck words to those in their place. [mm]"""
CLOSE = 3
"""How many of the places that are tried lie close by."""
ROW = 5.0
"""Room between words that still stand on one line. [mm]"""
PAD = 0.15
"""How far a stroke runs beyond the words it strikes. [mm]"""


@dataclass(frozen=True)
class RedLined:
    """A drawing with red lines, and what they say: key, designed, built."""

    drawing: Drawing
    changes: tuple[tuple[str, str, str], ...]


def red_lined(designed: Drawing, built: Drawing) -> RedLined:
    """The drawing of a design with the words of the drawing as built in red beside it.

    Parameters
    ----------
    designed, built : Drawing
        Of one sort, with the same frame or another.

    Returns
    -------
    RedLined
        Without a change where both say the same.
    """
    now = _words_by_key(built)
    then = _words_by_key(designed)
    seen: dict[str, int] = defaultdict(int)
    made, told = designed, dict[str, tuple[str, str]]()
    for text in tuple(_texts(designed)):
        struck, pieces = [], []
        for key, start, words in _pieces(text):
            number = seen[key]
            seen[key] += 1 if key else 0
            new = _new(key, number, words, then, now)
            pieces.append(new or words)
            if new:
                struck.append((key, start, words, new))
        if struck:
            again = all(key in told for key, *_ in struck)
            whole = struck[0][3] if len(struck) == 1 else "".join(pieces)
            made = _marked(made, text, [each[1:3] for each in struck], whole, again=again)
            told |= {key: (words, new) for key, _, words, new in struck if key not in told}
    for text, whole in _unkeyed(designed, built):
        made = _marked(made, text, [(0.0, text.plain)], whole, again=False)
    return RedLined(made, tuple((key, *pair) for key, pair in told.items()))


def _new(
    key: str, number: int, words: str, then: dict[str, list[str]], now: dict[str, list[str]]
) -> str:
    """What stands in place of words of a number; "" where they still hold."""
    if not BUILT.match(key) or len(now.get(key, ())) != len(then[key]):
        return ""
    built = now[key][number]
    return "" if built == words else built


def _unkeyed(designed: Drawing, built: Drawing) -> Iterator[tuple[Text, str]]:
    """Words on boards that stand as one, `boards 36 in, 33.6 in down`, where they differ."""
    pair = [[t for t in _texts(each) if WITHOUT_KEY in t.plain] for each in (designed, built)]
    if len(pair[0]) == len(pair[1]):
        for then, now in zip(*pair, strict=True):
            if then.plain != now.plain:
                yield then, now.plain


def _texts(drawing: Drawing) -> Iterator[Text]:
    for entity in drawing.entities:
        if isinstance(entity, Text):
            yield entity
        elif isinstance(entity, Dimension):
            yield words_of(entity, drawing.frame)


def _words_by_key(drawing: Drawing) -> dict[str, list[str]]:
    """What a drawing says of each number."""
    found: dict[str, list[str]] = defaultdict(list)
    for text in _texts(drawing):
        for key, _, words in _pieces(text):
            if key:
                found[key].append(words)
    return found


def _pieces(text: Text) -> Iterator[tuple[str, float, str]]:
    """Key, start along the text and words of each piece. [mm]"""
    along = 0.0
    for part in text.parts:
        wide = text_width(part.words, text.size_mm, part.weight or text.weight)
        yield part.key, along, part.words
        along += wide


def _marked(
    drawing: Drawing,
    text: Text,
    struck: Sequence[tuple[float, str]],
    built: str,
    *,
    again: bool,
) -> Drawing:
    """Pieces of a text struck through, with what was built beside it.

    What was told of these numbers already is told again only where it has room close by.
    """
    frame = drawing.frame
    low, right, _, left = box_of(text, frame).corners
    wide = width_of(text) or 1.0
    along = ((right[0] - low[0]) / wide, (right[1] - low[1]) / wide)
    middle = ((low[0] + left[0]) / 2, (low[1] + left[1]) / 2)

    def at(distance: float) -> Point:
        return frame.ground((middle[0] + along[0] * distance, middle[1] + along[1] * distance))

    strokes = []
    for start, words in struck:
        piece = text_width(words.rstrip(), text.size_mm, text.weight)
        ends = (at(start - PAD), at(start + piece + PAD))
        strokes.append(Polyline(ends, LAYER, name="struck"))
    new = _placed(drawing, text, built, again=again)
    return replace(drawing, entities=(*drawing.entities, *strokes, *new))


def _placed(drawing: Drawing, text: Text, built: str, *, again: bool) -> tuple[Text, ...]:
    """The words as built where they run into no other words; above them where nothing is free."""
    frame = drawing.frame
    taken = text_boxes(drawing)
    size = text.size_mm
    made = [
        Text(frame.ground(at), built, LAYER, size, across, up, weight="semibold", clear=True)
        for at, across, up in _places(text, drawing)
    ]
    for each in made[:CLOSE] if again else made:
        box = box_of(each, frame)
        if within(box.corners, frame) and not overlapping((box,), taken).any():
            return (each,)
    return () if again else (made[CLOSE],)


def _places(text: Text, drawing: Drawing) -> Iterator[tuple[Point, Across, Up]]:
    """Places on paper in the order in which they are tried."""
    corners = box_of(text, drawing.frame).corners
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    left, right, low, high = min(xs), max(xs), min(ys), max(ys)
    middle = (low + high) / 2 - CAP * text.size_mm / 2
    centre = (left + right) / 2
    yield (right + GAP, middle), "left", "base"
    yield (left - GAP, middle), "right", "base"
    yield (_end_of_row(text, drawing) + GAP, middle), "left", "base"
    for step in (0.0, 1.0, 2.0, 3.0):
        away = GAP + step * text.size_mm
        yield (centre, high + away), "middle", "base"
        yield (centre, low - away), "middle", "top"
        yield (right + away, high + away), "left", "base"
        yield (left - away, high + away), "right", "base"


def _end_of_row(text: Text, drawing: Drawing) -> float:
    """Where the words end that follow a text on its line. [mm]"""
    own = box_of(text, drawing.frame).corners
    low, high = min(y for _, y in own), max(y for _, y in own)
    end = max(x for x, _ in own)
    rows = []
    for box in text_boxes(drawing):
        xs, ys = [x for x, _ in box.corners], [y for _, y in box.corners]
        if low <= (min(ys) + max(ys)) / 2 <= high:
            rows.append((min(xs), max(xs)))
    for left, right in sorted(rows):
        if left <= end + ROW and right > end:
            end = right
    return end
