# SPDX-License-Identifier: Apache-2.0
"""What a drawing is made of: entities in ground metres on named layers, and the sheet they share.

Coordinates are metres of the drawing's own ground, x along or east, y up or north, as they are and
never exaggerated. Sizes of texts and marks are millimetres of paper. A number carries the key by
which it is explained; a shape may carry the name of the part that it shows.

    ===========================================================================
    Hold to it: an entity has no ink and no line weight of its own. Its layer,
    or its matter, says how it looks, in every output.
    ===========================================================================
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from tilewater.basis.units import Foot, System
from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.layers import layer_of
from tilewater.documents.drawing.matters import matter_of

Across = Literal["left", "middle", "right"]
Up = Literal["base", "middle", "top"]
Weight = Literal["light", "regular", "semibold"]
Along = Literal["x", "y", "line"]
MarkKind = Literal[
    "dot", "level", "water", "tick", "point", "benchmark", "boring", "arrow", "north", "ring"
]

SMALL, BODY, LARGE, TITLE = 2.5, 3.0, 3.8, 5.5
"""Sizes of type, the em on paper; capitals are two thirds as high. [mm]"""


@dataclass(frozen=True)
class Line:
    """A straight line. [m]"""

    start: Point
    end: Point
    layer: str
    name: str = ""


@dataclass(frozen=True)
class Polyline:
    """A line through points. [m]"""

    points: tuple[Point, ...]
    layer: str
    closed: bool = False
    name: str = ""


@dataclass(frozen=True)
class Area:
    """An area filled with a matter, without an edge of its own; holes are left out. [m]"""

    points: tuple[Point, ...]
    matter: str
    holes: tuple[tuple[Point, ...], ...] = ()
    name: str = ""

    @property
    def layer(self) -> str:
        """The layer of its matter."""
        return matter_of(self.matter).layer


@dataclass(frozen=True)
class Circle:
    """A circle on the ground, an oval on an exaggerated drawing; `matter` fills it. [m]"""

    centre: Point
    radius: float
    layer: str
    matter: str = ""
    name: str = ""


@dataclass(frozen=True)
class Arc:
    """A part of a circle, counter-clockwise from one direction to another. [m, deg]"""

    centre: Point
    radius: float
    from_deg: float
    to_deg: float
    layer: str
    name: str = ""


@dataclass(frozen=True)
class Part:
    """A piece of a text: the key that it is the value of, a weight of its own or the text's."""

    words: str
    key: str = ""
    weight: Weight | None = None


@dataclass(frozen=True)
class Text:
    """One line of text.

    Attributes
    ----------
    at : tuple of float
        Where its anchor stands. [m]
    words : str or tuple of Part
    size_mm : float
        The em on paper. [mm]
    across, up : str
        What of the text stands at `at`; `top` is the top of capitals, `middle` half their height.
    angle_deg : float
        Direction of writing on paper, counter-clockwise. [deg]
    key : str
        What it is the value of, where it is one piece.
    clear : bool
        Whether paper is laid under it where lines run near.
    """

    at: Point
    words: str | tuple[Part, ...]
    layer: str = "label"
    size_mm: float = BODY
    across: Across = "left"
    up: Up = "base"
    angle_deg: float = 0.0
    key: str = ""
    weight: Weight = "regular"
    clear: bool = False

    @property
    def parts(self) -> tuple[Part, ...]:
        """Its pieces, also where it is one."""
        return (Part(self.words, self.key),) if isinstance(self.words, str) else self.words

    @property
    def plain(self) -> str:
        """Its words without keys and weights."""
        return "".join(part.words for part in self.parts)


@dataclass(frozen=True)
class Dimension:
    """A measured distance with extension lines, a line with ticks, and its words above the line.

    Attributes
    ----------
    start, end : tuple of float
        The measured points. [m]
    through : tuple of float
        Any point of the dimension line. [m]
    words : str
        The distance as the reader wants it.
    along : "x", "y" or "line"
        Measured across, up, or from point to point.
    moved_mm : tuple of float
        The words moved from their place, along the line and away from it. [mm]
    """

    start: Point
    end: Point
    through: Point
    words: str
    along: Along = "line"
    layer: str = "dimension"
    size_mm: float = SMALL
    key: str = ""
    moved_mm: Point = (0.0, 0.0)


@dataclass(frozen=True)
class Leader:
    """A line from a text, its last point, to what the text is about, its first. [m]"""

    points: tuple[Point, ...]
    layer: str = "dimension"
    head: Literal["dot", "none"] = "dot"


@dataclass(frozen=True)
class Mark:
    """A sign of fixed size on paper that stands at a point; see `marks` for its shapes. [m, deg]"""

    at: Point
    kind: MarkKind
    layer: str = "dimension"
    angle_deg: float = 0.0
    name: str = ""


Entity = Line | Polyline | Area | Circle | Arc | Text | Dimension | Leader | Mark


@dataclass(frozen=True)
class Drawing:
    """One drawing: its entities in the order in which they are laid, later ones on top.

    Attributes
    ----------
    title : str
    frame : Frame
        Its paper and scales.
    entities : tuple of Entity
    units : "us" or "si"
        Units of the reader; the DXF is in them.
    foot : str
        What a foot is on this ground.
    about : str
        What is drawn and what could not be, for those who cannot see it.
    """

    title: str
    frame: Frame
    entities: tuple[Entity, ...]
    units: System = "us"
    foot: Foot = "international foot"
    about: str = ""

    def __post_init__(self) -> None:
        for entity in self.entities:
            layer_of(entity.layer)
            if isinstance(entity, Circle) and entity.matter:
                matter_of(entity.matter)

    def of_layer(self, layer: str) -> tuple[Entity, ...]:
        """Its entities on one layer."""
        return tuple(entity for entity in self.entities if entity.layer == layer)


@dataclass(frozen=True)
class Placed:
    """A drawing on a sheet: where its lower left corner stands. [mm]"""

    drawing: Drawing
    left_mm: float
    bottom_mm: float


@dataclass(frozen=True)
class Sheet:
    """Drawings together on one sheet of paper."""

    title: str
    width_mm: float
    height_mm: float
    placed: tuple[Placed, ...] = field(default=())
    about: str = ""

    def __iter__(self) -> Iterator[Placed]:
        return iter(self.placed)


def sheet_of(drawing: Drawing) -> Sheet:
    """A sheet as large as the frame of its one drawing."""
    frame = drawing.frame
    placed = (Placed(drawing, 0.0, 0.0),)
    return Sheet(drawing.title, frame.width_mm, frame.height_mm, placed, drawing.about)
