# SPDX-License-Identifier: Apache-2.0
"""Writes the shapes of a living section as SVG, in pixels; how they look is said once, here."""

from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape, quoteattr

from tilewater.documents.drawing.metrics import FAMILY
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
from tilewater.documents.living.panel import Panel, Point

WATER_WORDS = "#1f5f7c"
"""Ink of words about water: the water's own, dark enough to be read on wet soil."""
STYLE = f"""
.living{{font-family:'{FAMILY}',sans-serif;font-variant-numeric:tabular-nums;fill:none;
stroke-linejoin:round}}
.living text{{fill:{INK};paint-order:stroke;stroke:{PAPER};stroke-width:3px;stroke-opacity:.75;
stroke-linejoin:round}}
.living .s{{font-weight:600}}.living .m{{fill:{MUTED}}}.living .w{{fill:{WATER_WORDS}}}
.living .b{{fill:{BINDS}}}.living .b.s{{font-weight:600}}
.living a{{text-decoration:none}}.living a:hover text,.living a:hover{{text-decoration:underline}}
.l-soil{{fill:{SOIL}}}.l-ground{{stroke:{INK};stroke-width:1.8}}
.l-between{{stroke:{INK};stroke-width:1.2;stroke-dasharray:9 3}}
.l-cut{{stroke:{MUTED};stroke-width:.8}}.l-crown{{stroke:{INK};stroke-width:1;stroke-dasharray:4 3}}
.l-chips{{fill:{CHIPS_FILL}}}.l-edge{{stroke:{CHIPS};stroke-width:1.4}}
.l-wet{{fill:{WATER_FILL}}}.l-wash{{fill:{WATER_FILL};fill-opacity:.75}}
.l-pool{{fill:{WATER_FILL}}}.l-surface{{stroke:{WATER};stroke-width:2.4}}
.l-second{{stroke:{WATER};stroke-width:1.5;stroke-dasharray:7 4}}
.l-grade{{stroke:{WATER};stroke-width:1.4;stroke-dasharray:2 3}}
.l-level{{stroke:{WATER};stroke-width:1.6}}
.l-high{{stroke:{WATER};stroke-width:1.1;stroke-dasharray:3 4}}
.l-pipe{{fill:{PAPER};stroke:{STRUCTURE};stroke-width:1.6}}
.l-full{{fill:{WATER_FILL};stroke:{STRUCTURE};stroke-width:1.6}}
.l-outline{{stroke:{STRUCTURE};stroke-width:1.6}}
.l-beside{{stroke:{STRUCTURE};stroke-width:1.1;stroke-dasharray:6 4}}
.l-box{{stroke:{STRUCTURE};stroke-width:2}}.l-inside{{fill:#fff}}
.l-board{{fill:{STRUCTURE}}}.l-layer{{stroke:{MUTED};stroke-width:1;stroke-dasharray:1 3}}
.l-clear{{stroke:{INK};stroke-width:1.2}}.l-limit{{stroke:{INK};stroke-width:1.2}}
.l-binds{{stroke:{BINDS};stroke-width:2.4}}.l-binds-fine{{stroke:{BINDS};stroke-width:1.6}}
.l-axis{{stroke:{INK};stroke-width:.9}}.l-lead{{stroke:{MUTED};stroke-width:.8}}
.handle{{cursor:grab;touch-action:none}}.handle.is-held{{cursor:grabbing}}
.handle .reach{{fill:transparent}}.handle .ring{{fill:#fff;stroke:{INK};stroke-width:1.6}}
.handle .way{{stroke:{INK};stroke-width:1.4}}
.handle:hover .ring,.handle:focus .ring{{stroke-width:2.6}}.handle:focus{{outline:none}}
.handle:focus-visible .focus{{stroke:{WATER};stroke-width:3}}
.handle .paper{{fill:{PAPER};stroke:{INK};stroke-width:.8}}.handle .says text{{stroke:none}}
.handle .says{{visibility:hidden}}
.handle.is-held .says,.handle:focus-visible .says{{visibility:visible}}
.handle.is-looked .ring{{stroke:{WATER};stroke-dasharray:3 2}}
"""

PATTERNS = (
    '<pattern id="p-chips" width="15" height="11" patternUnits="userSpaceOnUse" '
    'patternTransform="rotate(18)"><path d="M1 3h6.5M8.5 8.5h5" '
    f'stroke="{CHIPS}" stroke-width="1.3"/></pattern>'
    '<pattern id="p-soil" width="17" height="13" patternUnits="userSpaceOnUse">'
    f'<path d="M2 3h.9M10.500 9.500h.9" stroke="{MUTED}" stroke-width=".9" '
    'stroke-opacity=".55"/></pattern>'
    '<pattern id="p-wet" width="22" height="8" patternUnits="userSpaceOnUse">'
    f'<path d="M2 2h7M13 6h7" stroke="{WATER}" stroke-width=".7" stroke-opacity=".5"/></pattern>'
)
TELLING = frozenset({"l-surface", "l-second", "l-ground", "l-binds", "l-grade"})
"""Looks of lines that say something: water, ground, what binds."""
PATTERN_OF = {"l-chips": "p-chips", "l-soil": "p-soil", "l-wash": "p-wet"}


def number(value: float) -> str:
    """A pixel to the hundredth, without idle zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_of(points: Iterable[Point], *, closed: bool = False) -> str:
    """The path through points. [px]"""
    joined = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{joined}{'Z' if closed else ''}"


class Canvas:
    """Shapes in the order in which they are laid.

    Attributes
    ----------
    parts : list of str
        The shapes.
    lines : list of tuple
        Lines that words should not stand on. [px]
    """

    def __init__(self) -> None:
        self.parts: list[str] = []
        self.lines: list[tuple[Point, ...]] = []

    def line(
        self,
        panel: Panel,
        points: Sequence[Point],
        look: str,
        *,
        name: str = "",
        closed: bool = False,
    ) -> None:
        """Draw a line through points of the ground."""
        if len(points) > 1:
            self.stroke([panel.at(point) for point in points], look, name=name, closed=closed)

    def stroke(
        self, points: Iterable[Point], look: str, *, name: str = "", closed: bool = False
    ) -> None:
        """Draw a line through points of the page."""
        points = tuple(points)
        if look in TELLING:
            self.lines.append(points)
        d = path_of(points, closed=closed)
        self.parts.append(f'<path class="{look}" d="{d}"{_named(name)}/>')

    def fill(self, panel: Panel, points: Sequence[Point], look: str, *, name: str = "") -> None:
        """Fill an area of the ground, with its pattern where its matter has one."""
        d = path_of((panel.at(point) for point in points), closed=True)
        self.parts.append(f'<path class="{look}" d="{d}"{_named(name)}/>')
        if look in PATTERN_OF:
            self.pattern(d, PATTERN_OF[look])

    def pattern(self, d: str, pattern: str) -> None:
        """Lay a pattern over a path."""
        self.parts.append(f'<path d="{d}" style="fill:url(#{pattern})"/>')

    def rect(
        self, left: float, top: float, right: float, bottom: float, look: str, *, name: str = ""
    ) -> None:
        """Draw a rectangle of the page."""
        self.parts.append(
            f'<rect class="{look}" x="{number(left)}" y="{number(top)}" '
            f'width="{number(right - left)}" height="{number(bottom - top)}"{_named(name)}/>'
        )

    def circle(self, x: float, y: float, radius: float, look: str, *, name: str = "") -> None:
        """Draw a circle of the page."""
        self.parts.append(
            f'<circle class="{look}" cx="{number(x)}" cy="{number(y)}" '
            f'r="{number(radius)}"{_named(name)}/>'
        )

    def oval(
        self, x: float, y: float, across: float, up: float, look: str, *, name: str = ""
    ) -> None:
        """Draw an oval of the page by its half widths."""
        self.parts.append(
            f'<ellipse class="{look}" cx="{number(x)}" cy="{number(y)}" '
            f'rx="{number(across)}" ry="{number(up)}"{_named(name)}/>'
        )

    def text(
        self, x: float, y: float, inside: str, *, look: str = "", anchor: str = "start", size: float
    ) -> None:
        """Write one line whose inside is markup already."""
        look = f' class="{look}"' if look else ""
        self.parts.append(
            f'<text x="{number(x)}" y="{number(y)}" text-anchor="{anchor}" '
            f'font-size="{number(size)}"{look}>{inside}</text>'
        )


def _named(name: str) -> str:
    return f" data-part={quoteattr(name)}" if name else ""


def linked(words: str, key: str, link: str) -> str:
    """Words as markup; a number leads to where it comes from."""
    said = escape(words)
    if not key:
        return said
    if not link:
        return f"<tspan data-key={quoteattr(key)}>{said}</tspan>"
    return f'<a href={quoteattr(link + key)} data-key={quoteattr(key)} tabindex="-1">{said}</a>'
