# SPDX-License-Identifier: Apache-2.0
"""A sheet of ink on paper, written as SVG: shapes, lines, and labels that know their room.

Lengths on the sheet are CSS pixels, 96 to the inch, so that a sheet printed at its own size is to
scale. Matter is told apart by pattern and line, never by colour alone. A number carries the key by
which it is explained.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape, quoteattr

from tilewater.documents.inks import (
    BINDS,
    CHIPS,
    CHIPS_FILL,
    INK,
    MUTED,
    PAPER,
    SOIL,
    STRUCTURE,
    WATER,
    WATER_FILL,
)

__all__ = [
    "BINDS",
    "CHIPS",
    "CHIPS_FILL",
    "INCH",
    "INK",
    "MUTED",
    "PAPER",
    "SOIL",
    "STRUCTURE",
    "WATER",
    "WATER_FILL",
    "Frame",
    "Label",
    "Part",
    "Point",
    "Sheet",
    "text_width",
]

INCH = 96.0
"""Pixels of an inch on paper."""
FONT = "'Source Sans 3', 'Segoe UI', Helvetica, Arial, sans-serif"

Point = tuple[float, float]
Part = tuple[str, str]
"""A piece of a label and the key that it is the value of, "" for words."""

_NARROW, _WIDE = frozenset(" .,:;'|!iljtfrI()[]/-"), frozenset("mwMW%@—")
_WIDTHS = ((_NARROW, 0.34), (_WIDE, 0.92))


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Room that a text takes, on the wide side of the usual fonts."""
    return sum(_letter(letter) for letter in text) * size * (1.07 if bold else 1.0)


def _letter(letter: str) -> float:
    for letters, width in _WIDTHS:
        if letter in letters:
            return width
    return 0.70 if letter.isupper() else 0.565


@dataclass(frozen=True)
class Label:
    """One line of text and the box around it, in pixels."""

    text: str
    x0: float
    y0: float
    x1: float
    y1: float

    def collides(self, other: "Label") -> bool:
        """Whether the boxes share room."""
        return (
            self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1
        )


@dataclass(frozen=True)
class Frame:
    """Where metres fall on the sheet: a point in metres, its place, pixels per metre."""

    x0: float
    z0: float
    left: float
    base: float
    across: float
    up: float

    def at(self, x: float, z: float) -> Point:
        """Pixels of a point in metres."""
        return self.left + (x - self.x0) * self.across, self.base - (z - self.z0) * self.up


@dataclass
class Sheet:
    """A drawing in the making; `labels` holds every text with its room."""

    width: float
    parts: list[str] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    low: float = 0.0

    def line(
        self,
        points: Iterable[Point],
        *,
        stroke: str = INK,
        width: float = 1.2,
        dash: str = "",
        fill: str = "",
        name: str = "",
        opacity: float = 1.0,
    ) -> None:
        """Draw a line through points; with `fill`, a closed shape. `name` says what it is."""
        path = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points) + ("Z" if fill else "")
        style = f'fill="{fill or "none"}" stroke="{stroke}" stroke-width="{width:g}"'
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        called = f" data-part={quoteattr(name)}" if name else ""
        faint = f' opacity="{opacity:g}"' if opacity < 1.0 else ""
        self.parts.append(f'<path d="{path}" {style}{dashed}{called}{faint}/>')

    def box(self, a: Point, b: Point, *, name: str = "", **style: str | float) -> None:
        """Draw a rectangle between two corners."""
        (xa, ya), (xb, yb) = a, b
        corners = (a, (xb, ya), b, (xa, yb))
        self.line(corners, name=name, **{"fill": "none", **style})  # type: ignore[arg-type]

    def oval(self, at: Point, across: float, up: float, *, name: str = "") -> None:
        """Draw a pipe cut across: an oval, since the scales differ."""
        x, y = at
        called = f" data-part={quoteattr(name)}" if name else ""
        self.parts.append(
            f'<ellipse cx="{x:.2f}" cy="{y:.2f}" rx="{across:.2f}" ry="{up:.2f}" fill="{PAPER}" '
            f'stroke="{STRUCTURE}" stroke-width="1.2" stroke-dasharray="2.5 1.5"{called}/>'
        )

    def water_mark(self, at: Point, *, stroke: str = WATER) -> None:
        """Draw the sign of a free water surface: a triangle that stands on it."""
        x, y = at
        self.line(((x, y), (x - 4, y - 7), (x + 4, y - 7)), stroke=stroke, width=1, fill=PAPER)

    def text(
        self,
        at: Point,
        parts: str | Sequence[Part],
        *,
        size: float = 10.5,
        colour: str = INK,
        anchor: str = "start",
        bold: bool = False,
        clear: str = "",
    ) -> Label:
        """Write one line; `clear` is the ground laid under it where lines run near."""
        x, y = at
        pieces = ((parts, ""),) if isinstance(parts, str) else tuple(parts)
        words = "".join(piece for piece, _ in pieces)
        wide = text_width(words, size, bold=bold)
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        label = Label(words, left, y - 0.76 * size, left + wide, y + 0.22 * size)
        self.labels.append(label)
        halo = f' stroke="{clear}" stroke-width="3" paint-order="stroke"' if clear else ""
        weight = ' font-weight="600"' if bold else ""
        inside = "".join(_piece(piece, key) for piece, key in pieces)
        self.parts.append(
            f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size:g}" fill="{colour}" '
            f'text-anchor="{anchor}"{weight}{halo}>{inside}</text>'
        )
        return label

    def has_room(self, at: Point, text: str, *, size: float = 10.5, anchor: str = "start") -> bool:
        """Whether a text would touch no other."""
        left = at[0] - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * text_width(text, size)
        right = left + text_width(text, size)
        return self.is_clear((left, at[1] - 0.76 * size), (right, at[1] + 0.22 * size))

    def is_clear(self, a: Point, b: Point) -> bool:
        """Whether no text stands between two corners."""
        (xa, ya), (xb, yb) = a, b
        box = Label("", min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb))
        return not any(box.collides(other) for other in self.labels)

    def open_panel(self, name: str, frame: Frame) -> None:
        """Open a group that says how its metres fall on the sheet."""
        self.parts.append(
            f'<g data-panel={quoteattr(name)} data-x0="{frame.x0:.6f}" data-z0="{frame.z0:.6f}" '
            f'data-left="{frame.left:.4f}" data-base="{frame.base:.4f}" '
            f'data-across="{frame.across:.6f}" data-up="{frame.up:.6f}">'
        )

    def close_panel(self) -> None:
        """Close the group."""
        self.parts.append("</g>")

    def svg(self, title: str, description: str, height: float) -> str:
        """The drawing as the text of an SVG file, at its size in inches."""
        size = f'width="{self.width / INCH:g}in" height="{height / INCH:g}in"'
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" {size} '
            f'viewBox="0 0 {self.width:g} {height:g}" font-family="{FONT}" '
            f'font-variant-numeric="tabular-nums" stroke-linejoin="round" role="img" '
            f"aria-label={quoteattr(title)}>"
        )
        paper = f'<rect width="{self.width:g}" height="{height:g}" fill="{PAPER}"/>'
        about = f"<title>{escape(title)}</title><desc>{escape(description)}</desc>"
        return "\n".join((head, about, PATTERNS, paper, *self.parts, "</svg>\n"))


def _piece(text: str, key: str) -> str:
    return f"<tspan data-key={quoteattr(key)}>{escape(text)}</tspan>" if key else escape(text)


PATTERNS = (
    '<defs><pattern id="chips" width="14" height="10" patternUnits="userSpaceOnUse" '
    f'patternTransform="rotate(18)"><path d="M1 3h6M8 8h5" stroke="{CHIPS}" '
    'stroke-width="1"/></pattern><pattern id="wet" width="12" height="6" '
    f'patternUnits="userSpaceOnUse"><path d="M0 2h7M8 5h4" stroke="{WATER}" stroke-width="0.6" '
    'opacity="0.7"/></pattern><linearGradient id="fade"><stop offset="0" '
    f'stop-color="{PAPER}"/><stop offset="1" stop-color="{SOIL}"/></linearGradient></defs>'
)
