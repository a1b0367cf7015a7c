# SPDX-License-Identifier: Apache-2.0
"""Lengths and heights of the parts of a section."""

from tilewater.chain.scene import LongSection, WaterLine
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import SMALL, Dimension, Part
from tilewater.documents.profile.plot import Plot, width_of_parts
from tilewater.documents.profile.rails import spread_between
from tilewater.documents.scales import Figures

CHAIN = 8.0
"""Room of the lengths under a section. [mm]"""
_SHARE = 0.6
"""Of the bed that words on the main past it may take."""
_PLACES = (0.86, 0.76, 0.66, 0.56, 0.44, 0.3, 0.2)
"""Where along the bed a dimension may stand, the first that is free."""


def write_lengths(
    plot: Plot, figures: Figures, scene: LongSection, ends: tuple[float, float]
) -> None:
    """Write the length of each part under it, as a chain between two sides of the paper."""
    parts = [
        (f"{pipe.name} {figures.size(pipe.diameter)}", pipe.low, pipe.high)
        for pipe in (scene.outflow, scene.drain, scene.feed)
        if pipe is not None
    ]
    if scene.media is not None:
        parts.append(("floor of the bed", scene.media.low, scene.media.high))
    parts.sort(key=lambda part: part[1])
    base = plot.frame.paper((0.0, plot.base))[1]
    y = base - 2.4
    spans, words = [], []
    for name, low, high in parts:
        a, b = (plot.frame.paper((x, 0.0))[0] for x in (low, high))
        spans.append((a, b))
        length = Part(figures.length(high - low))
        words.append((Part(f"{name}  ", "", "light"), length))
    rooms = [width_of_parts(each) + 3.0 for each in words]
    middles = spread_between([(a + b) / 2 for a, b in spans], rooms, *ends)
    for (a, b), each, middle in zip(spans, words, middles, strict=True):
        plot.rule(((a, y), (b, y)))
        for x in (a, b):
            plot.rule(((x - 0.8, y - 0.8), (x + 0.8, y + 0.8)))
        if abs(middle - (a + b) / 2) > 1.0:
            plot.rule((((a + b) / 2, y), (middle, y - 2.0)))
        plot.write((middle, y - 4.2), each, across="middle")


def write_heights(plot: Plot, figures: Figures, scene: LongSection) -> None:
    """Write depth of the chips and of the cover as dimensions inside the bed, where they fit."""
    media = scene.media
    if media is None:
        return
    floor = (media.floor_low.elevation + media.floor_high.elevation) / 2
    spans = [(floor, media.top.elevation)]
    if media.ground is not None:
        spans.append((media.top.elevation, media.ground.elevation))
    for low, high in spans:
        words = figures.length(high - low)
        tall = abs(plot.frame.paper((0, high))[1] - plot.frame.paper((0, low))[1])
        if tall < width_of_parts((Part(words),)) + 2.0:
            continue
        for share in _PLACES:
            x = media.low + share * (media.high - media.low)
            left, bottom = plot.frame.paper((x, low))
            box = (left - SMALL - 1.0, bottom, left + 1.0, bottom + tall)
            if plot.is_clear(box):
                plot.entities.append(
                    Dimension((x, low), (x, high), (x, low), words, "y", "dimension", SMALL)
                )
                break


def write_surface(plot: Plot, figures: Figures, scene: LongSection, line: WaterLine) -> None:
    """Write the levels of a line at both ends of the chips under its surface, where they fit."""
    media = scene.media
    if media is None or not line.surface:
        return
    for node, x, across, step in (
        ("outlet_end", media.flow_low, "left", 2.0),
        ("inlet_end", media.flow_high, "right", -2.0),
    ):
        level = line.level(node)
        if level is None or level.elevation > media.top.elevation:
            continue
        at = plot.frame.paper((x, level.elevation))
        number = (Part(figures.elevation(level.elevation), level.key),)
        style = {"layer": "label-water", "across": across, "clear": True}
        plot.try_to_write((at[0] + step, at[1] - 3.6), number, **style)


def write_bypass(plot: Plot, figures: Figures, scene: LongSection) -> None:
    """Write what the main past the bed is, on it where there is room."""
    bypass = scene.bypass
    if bypass is None:
        return
    low, high = bypass.invert_low.elevation, bypass.invert_high.elevation
    words = f"main past the bed, {figures.size(bypass.diameter)}"
    full = f"{words}, {figures.length(bypass.length)}, beside it"
    media = scene.media
    if media is None or text_width(full, SMALL) < _long(plot, media.low, media.high) * _SHARE:
        words = full
    for share in (0.60, 0.56, 0.65, 0.5, 0.7, 0.3, 0.2):
        z = low + share * (high - low) + bypass.diameter / 2
        x, y = plot.frame.paper((bypass.low + share * (scene.inlet.low - bypass.low), z))
        if plot.try_to_write((x, y), words, across="middle", up="middle", clear=True):
            return


def _long(plot: Plot, low: float, high: float) -> float:
    """Length on paper between two distances of the way. [mm]"""
    return plot.frame.paper((high, 0.0))[0] - plot.frame.paper((low, 0.0))[0]
