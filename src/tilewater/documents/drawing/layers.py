# SPDX-License-Identifier: Apache-2.0
"""The one table of layers: what stands on a layer, its line weight, dashes and ink.

Cut edges 0.5 mm, visible edges 0.35, dimensions, leaders and text 0.18, hidden and grade lines
dashed 0.25. The same table writes the SVG and the layers of the DXF.
"""

from dataclasses import dataclass
from typing import Literal

from tilewater.basis.errors import UnknownName
from tilewater.basis.units import did_you_mean
from tilewater.documents.inks import (
    BINDS,
    CHIPS,
    INK,
    MUTED,
    RED,
    SOIL,
    STRUCTURE,
    WATER,
    WATER_FILL,
)

Dashes = Literal["solid", "dashed", "long-dashed", "dotted", "dash-dot"]

DASHES: dict[Dashes, tuple[float, ...]] = {
    "solid": (),
    "dashed": (2.4, 1.2),
    "long-dashed": (5.0, 1.4),
    "dotted": (0.5, 1.0),
    "dash-dot": (5.0, 1.2, 0.5, 1.2),
}
"""Ink and gap in turn. [mm on paper]"""

CUT, SEEN, DASHED, FINE = 0.50, 0.35, 0.25, 0.18
"""Line weights. [mm on paper]"""


@dataclass(frozen=True)
class Layer:
    """One layer.

    Attributes
    ----------
    name : str
    holds : str
        What stands on it.
    width_mm : float
        Line weight on paper. [mm]
    dashes : str
        Name in `DASHES`.
    ink : str
        Colour as `#rrggbb`.
    aci : int
        The nearest of the 255 numbered colours, for programs that know no other. Ink is 7, which
        turns black on white and white on black; the DXF gives it no other colour.
    """

    name: str
    holds: str
    width_mm: float
    dashes: Dashes
    ink: str
    aci: int


_TABLE = (
    Layer("ground", "ground as surveyed, where it is cut", CUT, "solid", INK, 7),
    Layer("ground-unknown", "ground where nothing was shot", SEEN, "long-dashed", INK, 7),
    Layer("ground-finished", "ground as it will be shaped", SEEN, "dashed", INK, 7),
    Layer("soil-line", "borders of soil layers", DASHED, "dotted", MUTED, 252),
    Layer("excavation", "edge of the pit", SEEN, "solid", MUTED, 252),
    Layer("chips-edge", "edge of the media", CUT, "solid", CHIPS, 43),
    Layer("liner", "liner or fabric around the media", SEEN, "long-dashed", INK, 7),
    Layer("structure-cut", "structures where they are cut", CUT, "solid", STRUCTURE, 251),
    Layer("structure", "structures and boards as seen", SEEN, "solid", STRUCTURE, 251),
    Layer("hidden", "what stands behind or below", DASHED, "dashed", STRUCTURE, 251),
    Layer("pipe-cut", "new pipe where it is cut", CUT, "solid", STRUCTURE, 251),
    Layer("pipe", "new pipe as seen", SEEN, "solid", STRUCTURE, 251),
    Layer("pipe-hidden", "new pipe below ground in plan", DASHED, "dashed", STRUCTURE, 251),
    Layer("drain", "drains that lie in the field", DASHED, "long-dashed", STRUCTURE, 251),
    Layer("ditch", "banks and bed of the ditch", SEEN, "solid", INK, 7),
    Layer("water", "free water surface", SEEN, "solid", WATER, 135),
    Layer("water-first", "water of the line that comes first", CUT, "solid", WATER, 135),
    Layer("water-second", "water of the second line", DASHED, "long-dashed", WATER, 135),
    Layer("water-third", "water of the third line", SEEN, "dotted", WATER, 135),
    Layer("water-fourth", "water of further lines", DASHED, "dash-dot", WATER, 135),
    Layer("grade-line", "hydraulic grade line", DASHED, "dashed", WATER, 135),
    Layer("groundwater", "water table", DASHED, "dash-dot", WATER, 135),
    Layer("flow", "way of the water", DASHED, "solid", WATER, 135),
    Layer("contour", "contour lines", FINE, "solid", MUTED, 252),
    Layer("contour-index", "every fifth contour line", DASHED, "solid", MUTED, 252),
    Layer("boundary", "lines of property", DASHED, "dash-dot", INK, 7),
    Layer("setback", "distances to keep, utilities", DASHED, "dotted", INK, 7),
    Layer("survey", "surveyed points, benchmarks, borings", FINE, "solid", INK, 7),
    Layer("dimension", "dimensions, leaders, marks and ticks", FINE, "solid", INK, 7),
    Layer("label", "texts", FINE, "solid", INK, 7),
    Layer("label-muted", "secondary texts", FINE, "solid", MUTED, 252),
    Layer("label-water", "texts about water", FINE, "solid", WATER, 135),
    Layer("grid", "grid and rules", FINE, "solid", MUTED, 252),
    Layer("frame", "frames and tables", SEEN, "solid", INK, 7),
    Layer("binds", "what binds now, and nothing else", CUT, "solid", BINDS, 232),
    Layer("binds-label", "the words on what binds", FINE, "solid", BINDS, 232),
    Layer("revision", "what changed since the last issue", SEEN, "solid", INK, 7),
    Layer("red-line", "what was built in place of what was designed", SEEN, "solid", RED, 22),
    Layer("fill-soil", "ground in section", FINE, "solid", SOIL, 254),
    Layer("fill-cover", "soil laid over the media", FINE, "solid", SOIL, 254),
    Layer("fill-chips", "media", FINE, "solid", CHIPS, 43),
    Layer("fill-water", "wetted area", FINE, "solid", WATER_FILL, 254),
    Layer("fill-structure", "concrete, boxes and walls", FINE, "solid", STRUCTURE, 251),
    Layer("fill-plain", "blank and inked areas", FINE, "solid", INK, 7),
)

LAYERS: dict[str, Layer] = {layer.name: layer for layer in _TABLE}


def layer_of(name: str) -> Layer:
    """The layer of a name.

    Raises
    ------
    UnknownName
        If no layer is called so.
    """
    if name not in LAYERS:
        known = ", ".join(LAYERS)
        raise UnknownName(f"No layer called '{name}'. Known: {known}.{did_you_mean(name, LAYERS)}")
    return LAYERS[name]
