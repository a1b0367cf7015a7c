# SPDX-License-Identifier: Apache-2.0
"""A small pen for ink on paper: shapes, labels and dimensions written as SVG.

Every label is kept with the room that it takes, so that a test can say that no two collide.
"""

import math
from dataclasses import dataclass, field
from itertools import pairwise
from xml.sax.saxutils import escape

PAPER, INK, MUTED = "#fbfaf6", "#1e2a2f", "#7c8488"
WATER, WATER_FILL = "#2c7a9b", "#d3e8ef"
CHIPS, CHIPS_FILL = "#b98746", "#f0e2c8"
SOIL, STRUCTURE = "#e9e3d6", "#4e5a63"
FONT = "'Source Sans 3', 'Segoe UI', Helvetica, Arial, sans-serif"
GLYPH = 0.52  # mean width of a character over the type size, on the wide side
HEAD = 5.0
FAR = 24.0  # beyond it a label is joined to its point

Point = tuple[float, float]
Places = tuple[tuple[float, float, str], ...]


def around(*, aside: tuple[float, ...], rows: int = 8, step: float = 13.0) -> Places:
    """Return places for a label beside a point, right and left of it, the nearest first."""
    rises = [4.0 + step * row * way for row in range(rows) for way in (-1, 1)][1:]
    places = [
        (dx * way, dy, anchor)
        for dy in rises
        for dx in aside
        for way, anchor in ((1, "start"), (-1, "end"))
    ]
    return tuple(sorted(places, key=lambda place: math.hypot(place[0], 1.4 * (place[1] - 4.0))))


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


def label_at(
    at: Point, text: str, *, size: float = 11, anchor: str = "start", weight: int = 400
) -> Label:
    """Return the room that a line of text takes."""
    x, y = at
    wide = GLYPH * size * len(text) * (1.06 if weight > 400 else 1.0)
    left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    return Label(text, left, y - 0.78 * size, left + wide, y + 0.24 * size)


@dataclass(frozen=True)
class Frame:
    """Where feet fall on the paper: origin in feet, its place in pixels, pixels per foot."""

    x0: float
    z0: float
    left: float
    base: float
    across: float
    up: float

    def at(self, x: float, z: float) -> Point:
        """Pixels of a point in feet."""
        return self.left + (x - self.x0) * self.across, self.base - (z - self.z0) * self.up


@dataclass
class Canvas:
    """A drawing in the making."""

    width: float
    height: float
    parts: list[str] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    busy: list[Label] = field(default_factory=list)

    def line(
        self, *points: Point, stroke: str = INK, width: float = 1.2, dash: str = "", fill: str = ""
    ) -> None:
        """Draw a line through the points; with `fill`, a closed shape."""
        path = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + ("Z" if fill else "")
        style = f'fill="{fill or "none"}" stroke="{stroke}" stroke-width="{width:g}"'
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self.parts.append(f'<path d="{path}" {style}{dashed}/>')

    def box(self, a: Point, b: Point, **style: str | float) -> None:
        """Draw a rectangle between two corners."""
        (xa, ya), (xb, yb) = a, b
        self.line(a, (xb, ya), b, (xa, yb), **{"fill": "none", **style})  # type: ignore[arg-type]

    def dot(self, at: Point, radius: float, *, stroke: str = INK, fill: str = PAPER) -> None:
        """Draw a small circle."""
        x, y = at
        self.parts.append(
            f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}" fill="{fill}" stroke="{stroke}"/>'
        )

    def text(
        self,
        at: Point,
        text: str,
        *,
        size: float = 11,
        colour: str = INK,
        anchor: str = "start",
        weight: int = 400,
        clear: str = "",
    ) -> None:
        """Write one line; `clear` is the ground laid under it where lines would run through."""
        x, y = at
        self.labels.append(label_at(at, text, size=size, anchor=anchor, weight=weight))
        halo = f' stroke="{clear}" stroke-width="3" paint-order="stroke"' if clear else ""
        self.parts.append(
            f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" fill="{colour}" '
            f'text-anchor="{anchor}" font-weight="{weight}"{halo}>{escape(text)}</text>'
        )

    def keep_clear(self, *points: Point, room: float = 3.0) -> None:
        """Keep labels that look for a place away from a line through the points."""
        for a, b in pairwise(points):
            steps = max(1, round(math.dist(a, b) / (2 * room + 4)))
            for step in range(steps):
                x0, x1 = (a[0] + (b[0] - a[0]) * (step + i) / steps for i in (0, 1))
                y0, y1 = (a[1] + (b[1] - a[1]) * (step + i) / steps for i in (0, 1))
                self.busy.append(
                    Label(
                        "", min(x0, x1) - room, min(y0, y1) - room, max(x0, x1) + room,
                        max(y0, y1) + room,
                    )
                )  # fmt: skip

    def text_near(
        self,
        at: Point,
        text: str,
        *,
        places: tuple[tuple[float, float, str], ...],
        size: float = 11,
        **style: str,
    ) -> None:
        """Write one line at the first of the places beside a point that is free."""
        for dx, dy, anchor in places:
            spot = (at[0] + dx, at[1] + dy)
            room = label_at(spot, text, size=size, anchor=anchor)
            inside = room.x0 > 0 and room.x1 < self.width and room.y0 > 0 and room.y1 < self.height
            if inside and not any(room.collides(other) for other in (*self.labels, *self.busy)):
                if abs(dx) + abs(dy) > FAR:
                    self.line(at, (spot[0], spot[1] - 0.3 * size), width=0.6, stroke=MUTED)
                self.text(spot, text, size=size, anchor=anchor, **style)  # type: ignore[arg-type]
                return
        raise ValueError(f"No place is free for '{text}'.")

    def dimension(
        self,
        a: Point,
        b: Point,
        text: str,
        *,
        beside: float = -4,
        clear: str = PAPER,
    ) -> None:
        """Draw a dimension between two points with its figure beside the middle."""
        (xa, ya), (xb, yb) = a, b
        run = math.dist(a, b)
        ux, uy = (xb - xa) / run, (yb - ya) / run
        self.line(a, b, width=0.7)
        for (x, y), way in ((a, 1), (b, -1)):
            back = (x + way * ux * HEAD, y + way * uy * HEAD)
            for side in (-1.8, 1.8):
                self.line((x, y), (back[0] - uy * side, back[1] + ux * side), width=0.7)
        x, y = (xa + xb) / 2, (ya + yb) / 2
        if abs(ux) > abs(uy):
            self.text((x, y + beside), text, anchor="middle", clear=clear)
        else:
            anchor = "start" if beside > 0 else "end"
            self.text((x + beside, y + 4), text, anchor=anchor, clear=clear)

    def leader(
        self, at: Point, label: Point, text: str, *, anchor: str = "start", **style: str
    ) -> None:
        """Write a text beside the drawing with a thin line to what it names."""
        self.line(at, label, width=0.7, stroke=MUTED)
        x, y = label
        shift = {"start": 3.0, "end": -3.0, "middle": 0.0}[anchor]
        self.text((x + shift, y + 4), text, anchor=anchor, **style)  # type: ignore[arg-type]

    def svg(self, title: str) -> str:
        """Return the drawing as the text of an SVG file."""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width:g} {self.height:g}" '
            f'font-family="{FONT}" role="img" aria-label="{escape(title)}">'
        )
        patterns = (
            '<defs><pattern id="chips" width="14" height="10" patternUnits="userSpaceOnUse" '
            'patternTransform="rotate(18)">'
            f'<path d="M1 3h6M8 8h5" stroke="{CHIPS}" stroke-width="1.1"/></pattern></defs>'
        )
        paper = f'<rect width="{self.width:g}" height="{self.height:g}" fill="{PAPER}"/>'
        return "\n".join(
            (head, f"<title>{escape(title)}</title>", patterns, paper, *self.parts, "</svg>\n")
        )
