# SPDX-License-Identifier: Apache-2.0
"""A drawing in the making: shapes in ground metres, labels in millimetres of paper.

Labels know which room is taken. Nothing is drawn here that is not asked for.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from tilewater.chain.scene import Level
from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.measured import box_of
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import (
    SMALL,
    Area,
    Drawing,
    Entity,
    Mark,
    MarkKind,
    Part,
    Polyline,
    Text,
)
from tilewater.documents.scales import Figures

Points = Iterable[Point]
Box = tuple[float, float, float, float]
"""Left, bottom, right and top. [mm]"""
WHITE = 0.5
"""White that a label keeps around it where it looks for room. [mm]"""


@dataclass
class Plot:
    """Entities of one drawing, in the order in which they are laid.

    Attributes
    ----------
    frame : Frame
    base : float
        Elevation down to which soil is drawn; under it stands what is written. [m]
    entities : list of Entity
    """

    frame: Frame
    base: float
    entities: list[Entity] = field(default_factory=list)

    def shape(self, points: Points, layer: str, *, closed: bool = False, name: str = "") -> None:
        """Draw a line through points of the ground."""
        self.entities.append(Polyline(tuple(points), layer, closed, name))

    def fill(self, points: Points, matter: str, *, name: str = "") -> None:
        """Fill an area of the ground."""
        self.entities.append(Area(tuple(points), matter, (), name))

    def mark(self, at: Point, kind: MarkKind, layer: str) -> None:
        """Set a sign on a point of the ground."""
        self.entities.append(Mark(at, kind, layer))

    def rule(self, points: Points, layer: str = "dimension") -> None:
        """Draw a line through points of the paper."""
        self.shape((self.frame.ground(point) for point in points), layer)

    def patch(self, box: Box, matter: str) -> None:
        """Fill a rectangle of the paper."""
        corners = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
        self.fill((self.frame.ground(corner) for corner in corners), matter)

    def write(self, at: Point, words: str | tuple[Part, ...], **style: Any) -> Text:
        """Write one line at a point of the paper, small unless a size is given."""
        text = Text(self.frame.ground(at), words, **{"size_mm": SMALL, **style})
        self.entities.append(text)
        return text

    def try_to_write(self, at: Point, words: str | tuple[Part, ...], **style: Any) -> bool:
        """Write one line where it touches no other; whether it had room."""
        text = Text(self.frame.ground(at), words, **{"size_mm": SMALL, **style})
        if not self.is_clear(self.box_of(text)):
            return False
        self.entities.append(text)
        return True

    def box_of(self, text: Text) -> Box:
        """Room of a text."""
        corners = box_of(text, self.frame).corners
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        return min(xs), min(ys), max(xs), max(ys)

    def is_clear(self, box: Box) -> bool:
        """Whether a box of the paper, and white around it, is free of texts."""
        left, bottom, right, top = box
        texts = (each for each in self.entities if isinstance(each, Text))
        return not any(
            left - WHITE < there[2]
            and there[0] < right + WHITE
            and bottom - WHITE < there[3]
            and there[1] < top + WHITE
            for there in map(self.box_of, texts)
        )

    def drawing(self, title: str, figures: Figures, about: str = "") -> Drawing:
        """The drawing as it stands."""
        return Drawing(title, self.frame, tuple(self.entities), figures.units, figures.foot, about)


def said(
    figures: Figures, words: str, level: Level, *, number_first: bool = False
) -> tuple[Part, ...]:
    """Words and an elevation with its key; numbers line up where they stand at the same side."""
    number = Part(figures.elevation(level.elevation), level.key)
    if not words:
        return (number,)
    if number_first:
        return number, Part(f"  {words}", "", "light")
    return Part(f"{words}  ", "", "light"), number


def width_of_parts(parts: tuple[Part, ...], size_mm: float = SMALL) -> float:
    """Room that pieces of a text take beside each other. [mm]"""
    return sum(text_width(part.words, size_mm, part.weight or "regular") for part in parts)
