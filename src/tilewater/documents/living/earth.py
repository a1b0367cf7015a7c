# SPDX-License-Identifier: Apache-2.0
"""Ground of a living section: soil, its surface, and the axes beside and under it."""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, floor

from tilewater.documents.living.labels import Label, Run, Spot
from tilewater.documents.living.panel import Panel, Point
from tilewater.documents.living.stage import Stage
from tilewater.documents.scales import round_step

TICK = 5.0


def draw_soil(
    stage: Stage, panel: Panel, surface: Sequence[Point], *, look: str = "l-ground"
) -> None:
    """Fill the soil under a surface down to the foot of the panel, and draw the surface."""
    if len(surface) < 2:
        return
    base = panel.low
    around = (*surface, (surface[-1][0], base), (surface[0][0], base))
    stage.canvas.fill(panel, around, "l-soil", name="soil")
    stage.canvas.line(panel, surface, look, name="ground")


def elevation_at(surface: Sequence[Point], x: float) -> float:
    """Elevation of a surface at a distance, level beyond its ends. [m]"""
    for (xa, za), (xb, zb) in pairwise(surface):
        if xa <= x <= xb and xb > xa:
            return za + (x - xa) / (xb - xa) * (zb - za)
    return surface[0][1] if x < surface[0][0] else surface[-1][1]


def draw_elevations(stage: Stage, panel: Panel, x: float) -> None:
    """Draw the axis of elevations beside a panel."""
    unit = stage.figures.metre_per_unit
    step = round_step((panel.high - panel.low) / unit, 5.0) * unit
    stage.canvas.stroke(((x, panel.top), (x, panel.base)), "l-axis")
    first, last = ceil(panel.low / step - 1e-9), floor(panel.high / step + 1e-9)
    digits = max(0, -floor(round(step / unit * 1e6) / 1e6)) if step < unit else 0
    for count in range(first, last + 1):
        y = panel.y(count * step)
        stage.canvas.stroke(((x - TICK, y), (x, y)), "l-axis")
        said = f"{count * step / unit:.{max(digits, 1 if step < unit else 0)}f}"
        size = stage.labels.size - 1.0
        stage.canvas.text(x - TICK - 3.0, y + 4.0, said, look="m", anchor="end", size=size)
        stage.labels.keep(0.0, y - size / 2 - 1.0, x, y + size / 2 + 1.0)


def draw_stations(stage: Stage, panel: Panel, parts: float) -> None:
    """Draw the axis of stations under a panel."""
    unit = stage.figures.metre_per_unit
    start, end = panel.knots[0][0], panel.knots[-1][0]
    base, size = panel.base, stage.labels.size - 1.0
    stage.canvas.stroke(((panel.left, base), (panel.right, base)), "l-axis")
    step = round_step((end - start) / unit, parts) * unit
    for count in range(max(0, ceil(start / step - 1e-9)), floor(end / step + 1e-9) + 1):
        station = count * step
        x = panel.x(station)
        stage.canvas.stroke(((x, base), (x, base + TICK)), "l-axis")
        said = stage.figures.station(station).removesuffix(" m")
        stage.labels.say(
            Label(((Run(said, "", "m"),),), (Spot(x, base + TICK + size, "middle"),), rank=3)
        )
