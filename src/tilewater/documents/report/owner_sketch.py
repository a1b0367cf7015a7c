# SPDX-License-Identifier: Apache-2.0
"""A simple drawing for the owner: how deep the water stands under each low spot."""

from dataclasses import dataclass
from xml.sax.saxutils import escape

from tilewater.documents.drawing.metrics import FAMILY
from tilewater.documents.inks import INK, MUTED, SOIL, STRUCTURE, WATER, WATER_FILL
from tilewater.documents.paper.blocks import Figure
from tilewater.documents.report.reading import Reading

MOST = 4
"""Spots that stand side by side."""
WIDTH, HEIGHT = 164.0, 62.0
TOP, BOTTOM = 12.0, 56.0
"""Ground and foot of the columns. [mm]"""
LEFT, COLUMN = 4.0, 26.0
SIZE = 3.0
WAVE = 2.2
"""White between two rows of waves. [mm]"""


@dataclass(frozen=True)
class _Spot:
    """A spot with the depths of water and tile under its ground. [m]"""

    name: str
    standing: float
    midway: float
    tile: float


def water_under_field(reading: Reading) -> Figure | None:
    """The spots side by side, ground on one level; None where no depth is known."""
    spots = [_spot(reading, name) for name in reading.trace.names("field")]
    known = sorted((s for s in spots if s is not None), key=lambda s: s.midway)[:MOST]
    if not known:
        return None
    deepest = max(max(s.tile, s.standing) for s in known) * 1.12
    room = (WIDTH - LEFT) / MOST
    parts = [
        part
        for place, spot in enumerate(known)
        for part in _column(reading, spot, LEFT + place * room, (BOTTOM - TOP) / deepest)
    ]
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}mm" height="{HEIGHT}mm" '
        f'viewBox="0 0 {WIDTH} {HEIGHT}" font-family="{FAMILY}">{"".join(parts)}</svg>'
    )
    length = reading.words
    told = "; ".join(
        f"{s.name}: standing water {length.say(s.standing, 'length')} down, in a storm "
        f"{length.say(s.midway, 'length')} midway between the tiles"
        for s in known
    )
    return Figure(
        svg,
        WIDTH,
        HEIGHT,
        "How far below the ground the water stands with the boards in. Blue: standing water. "
        "Dashed: midway between two tiles when the main just runs full. Ring: the tile.",
        f"Soil columns with the water under them. {told}.",
    )


def _spot(reading: Reading, name: str) -> _Spot | None:
    here = f"field.{name}"
    keys = (f"{here}.standing_m", f"{here}.midway_m", "inputs.drainage.lateral_depth_m")
    if not reading.known(*keys):
        return None
    standing, midway, tile = (float(reading.value(key)) for key in keys)
    return _Spot(name, standing, midway, tile)


def _column(reading: Reading, spot: _Spot, x: float, scale: float) -> list[str]:
    def down(depth: float) -> float:
        return TOP + max(depth, 0.0) * scale

    def said(depth: float) -> str:
        return reading.words.say(depth, "length")

    right = x + COLUMN
    water, storm, tile = down(spot.standing), down(spot.midway), down(spot.tile)
    apart = SIZE * 1.25
    low = max(water, storm + apart)
    return [
        _text(x, TOP - 4.5, spot.name, weight=600),
        _rect(x, TOP, COLUMN, BOTTOM - TOP, SOIL),
        _rect(x, water, COLUMN, BOTTOM - water, WATER_FILL),
        *_waves(x, water),
        _line(x, TOP, right, TOP, INK, 0.5),
        _line(x, water, right, water, WATER, 0.5),
        _line(x, storm, right, storm, WATER, 0.35, dash="1.6 1.1"),
        f'<circle cx="{x + COLUMN / 2:.2f}" cy="{tile:.2f}" r="1.3" fill="#ffffff" '
        f'stroke="{STRUCTURE}" stroke-width="0.35"/>',
        _text(right + 1.2, storm + 1.0, said(spot.midway), colour=MUTED),
        _text(right + 1.2, low + 1.0, said(spot.standing)),
    ]


def _waves(x: float, top: float) -> list[str]:
    """Short strokes, so that water is told from soil in grey too."""
    rows = range(1, int((BOTTOM - top) / WAVE) + 1)
    heights = (top + (row - 0.4) * WAVE for row in rows)
    return [_line(x + 1, y, x + COLUMN, y, WATER, 0.15, dash="2.4 2.4") for y in heights]


def _rect(x: float, y: float, width: float, height: float, fill: str) -> str:
    return (
        f'<rect x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}" fill="{fill}"/>'
    )


def _line(
    x1: float, y1: float, x2: float, y2: float, colour: str, width: float, dash: str = ""
) -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<line x1="{x1:.2f}" y1="{y1:.2f}" x2="{x2:.2f}" y2="{y2:.2f}" stroke="{colour}" '
        f'stroke-width="{width}"{dashes}/>'
    )


def _text(x: float, y: float, words: str, *, weight: int = 400, colour: str = INK) -> str:
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{SIZE}" font-weight="{weight}" '
        f'fill="{colour}">{escape(words)}</text>'
    )
