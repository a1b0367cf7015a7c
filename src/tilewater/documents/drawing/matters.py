# SPDX-License-Identifier: Apache-2.0
"""How matter is filled: a ground tone and families of strokes, told apart without colour.

A family is parallel rows of strokes, all measured on paper, so that one table makes the patterns
of the SVG and the hatches of the DXF.
"""

from dataclasses import dataclass

from tilewater.basis.errors import UnknownName
from tilewater.basis.units import did_you_mean
from tilewater.documents.inks import (
    CHIPS,
    CHIPS_FILL,
    INK,
    MUTED,
    PAPER,
    SOIL,
    STRUCTURE,
    WATER_FILL,
)
from tilewater.documents.inks import WATER as WATER_INK


@dataclass(frozen=True)
class Strokes:
    """Rows of equal strokes; every second row moves on by half a stroke and gap.

    Attributes
    ----------
    angle_deg : float
        Direction of the rows, counter-clockwise from the right. [deg]
    spacing_mm : float
        From row to row. [mm]
    stroke_mm : float
        Length of a stroke; 0 is a dot. [mm]
    gap_mm : float
        From stroke to stroke; 0 is a line without end. [mm]
    width_mm : float
        Line weight. [mm]
    start_mm : tuple of float
        Where the first stroke starts, right and up. [mm]
    """

    angle_deg: float
    spacing_mm: float
    stroke_mm: float
    gap_mm: float = 0.0
    width_mm: float = 0.18
    start_mm: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True)
class Matter:
    """What an area is made of: its layer, ground tone ("" for none), stroke ink and strokes."""

    name: str
    layer: str
    ground: str
    ink: str = INK
    strokes: tuple[Strokes, ...] = ()


_TABLE = (
    Matter("paper", "fill-plain", PAPER),
    Matter("ink", "fill-plain", INK),
    Matter("soil", "fill-soil", SOIL, MUTED, (Strokes(20.0, 2.6, 0.0, 5.2, 0.3),)),
    Matter(
        "cover",
        "fill-cover",
        SOIL,
        MUTED,
        (
            Strokes(90.0, 2.2, 1.3, 2.7, 0.15),
            Strokes(20.0, 3.0, 0.0, 6.0, 0.3, (1.1, 1.4)),
        ),
    ),
    Matter(
        "chips",
        "fill-chips",
        CHIPS_FILL,
        CHIPS,
        (Strokes(-18.0, 1.5, 1.7, 2.3, 0.28), Strokes(38.0, 3.1, 1.2, 4.2, 0.28)),
    ),
    Matter("water", "fill-water", WATER_FILL, WATER_INK, (Strokes(0.0, 1.3, 1.9, 1.5, 0.15),)),
    Matter("wet-chips", "fill-water", WATER_FILL, WATER_INK, (Strokes(0.0, 1.8, 2.4, 1.6, 0.18),)),
    Matter("drowned-chips", "fill-chips", "", CHIPS, (Strokes(-18.0, 3.6, 1.7, 4.3, 0.22),)),
    Matter(
        "structure", "fill-structure", "#d5d9db", STRUCTURE, (Strokes(45.0, 0.9, 1.0, 0.0, 0.2),)
    ),
)

MATTERS: dict[str, Matter] = {matter.name: matter for matter in _TABLE}


def matter_of(name: str) -> Matter:
    """The matter of a name.

    Raises
    ------
    UnknownName
        If no matter is called so.
    """
    if name not in MATTERS:
        known = ", ".join(MATTERS)
        raise UnknownName(
            f"No matter called '{name}'. Known: {known}.{did_you_mean(name, MATTERS)}"
        )
    return MATTERS[name]
