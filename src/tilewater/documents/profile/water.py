# SPDX-License-Identifier: Apache-2.0
"""Where water stands in a long section: in the ditch, along the bed, in the soil. Lines only."""

from itertools import pairwise

from tilewater.chain.scene import LongSection, WaterLine
from tilewater.documents.drawing.frame import Point
from tilewater.documents.profile.extent import BEFORE, ends_of
from tilewater.documents.profile.plot import Plot

LINES = ("water-first", "water-second", "water-third", "water-fourth")
"""Layers of the lines in their order: told apart in grey by dashes and weight."""


def layer_of_line(index: int) -> str:
    """Layer of the lines in their order, the first the heaviest."""
    return LINES[min(index, len(LINES) - 1)]


def draw_ditch_water(
    plot: Plot, scene: LongSection, ordinary: float | None, high: float | None
) -> None:
    """Draw ordinary water solid and high water dashed, inside the ditch as far as it is known."""
    outline = scene.ditch.outline
    if ordinary is not None:
        shore = _between_banks(outline, ordinary)
        if len(shore) > 2:
            plot.fill(shore, "water")
        ends = (shore[0], shore[-1]) if shore else ((-BEFORE, ordinary), (0.0, ordinary))
        plot.shape(ends, "water", name="ditch-ordinary")
        plot.mark(_middle(ends), "water", "water")
    if high is not None:
        shore = _between_banks(outline, high)
        ends = (shore[0], shore[-1]) if shore else ((-BEFORE, high), (0.0, high))
        plot.shape(ends, "grade-line", name="ditch-high")
    if not outline and scene.ditch.bottom is not None:
        z = scene.ditch.bottom.elevation
        plot.shape(((-BEFORE, z), (0.0, z)), "ditch", name="ditch-bottom")


def _middle(ends: tuple[Point, Point]) -> Point:
    return (ends[0][0] + ends[1][0]) / 2, ends[0][1]


def _between_banks(outline: tuple[Point, ...], level: float) -> list[Point]:
    """The section of the ditch under a level, from shore to shore; over a bank it is cut off."""
    if not outline:
        return []
    (first, bank), (last, far) = outline[0], outline[-1]
    wet: list[Point] = [(first, level), (first, bank)] if level >= bank else []
    for (xa, za), (xb, zb) in pairwise(outline):
        if (za - level) * (zb - level) < 0:
            share = (za - level) / (za - zb)
            crossing = (xa + share * (xb - xa), level)
            wet += [crossing, (xb, zb)] if zb < level else [crossing]
        elif zb <= level and za <= level:
            wet.append((xb, zb))
    return [*wet, (last, level)] if level >= far else wet


def shore_of(scene: LongSection, level: float) -> float:
    """The far shore of the ditch at a level, or the left end of the section. [m]"""
    for (xa, za), (xb, zb) in pairwise(reversed(scene.ditch.outline)):
        if (za - level) * (zb - level) < 0:
            return xa + (za - level) / (za - zb) * (xb - xa)
    return ends_of(scene)[0]


def draw_line(plot: Plot, scene: LongSection, line: WaterLine, layer: str) -> None:
    """Draw where water stands, from the diversion through the chips to the outlet boards."""
    levels = {node: level.elevation for node, level in line.nodes}
    inlet, outlet = scene.inlet, scene.outlet
    points = [(inlet.high, levels["diversion"]), (inlet.low, levels["diversion"])]
    if line.surface:
        points.append((line.surface[0][0], levels["inlet_header"]))
        points += line.surface
        points.append((line.surface[-1][0], levels["outlet_header"]))
    points += [(outlet.high, levels["outlet_box"]), (outlet.middle, levels["outlet_box"])]
    plot.shape(points, layer, name=f"water-{line.name}")


def draw_groundwater(plot: Plot, scene: LongSection, right: float) -> None:
    """Draw the groundwater that the design counts with, in the soil behind the diversion."""
    for words, level in scene.groundwater:
        ends = (scene.inlet.high, level.elevation), (right, level.elevation)
        plot.shape(ends, "groundwater", name=f"groundwater-{words}")
        plot.mark(_middle(ends), "water", "groundwater")
