# SPDX-License-Identifier: Apache-2.0
"""The band of levels under a long section: each line node by node, with the falls between."""

from itertools import pairwise

from tilewater.chain.scene import Level, LongSection, WaterLine
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import SMALL, Part
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.water import layer_of_line
from tilewater.documents.scales import Figures

ROW = 4.0
HEAD = 8.4
SAMPLE = 12.0
TINY = 2.1
COLUMNS = (
    ("tailwater", "where the", "return ends"),
    ("outlet_crest", "outlet", "crest"),
    ("outlet_box", "outlet", "structure"),
    ("outlet_header", "outlet", "header"),
    ("outlet_end", "chips,", "outlet end"),
    ("inlet_end", "chips,", "inlet end"),
    ("inlet_header", "inlet", "header"),
    ("diversion", "", "diversion"),
    ("inlet_crest", "bypass", "crest"),
)
"""Nodes from the ditch up, as the section is drawn, and their heads."""
BETWEEN = ("", "over", "pipe", "header", "chips", "header", "feed", "over")
"""What takes the head between two neighbouring columns."""
NUMBER = 10.0
"""Room of a number. [mm]"""
CLOSE, APART, FAR = 13.0, 18.2, 34.0
"""From column to column: at least, with the falls between, and at most. [mm]"""
WORDS = 72.0
"""Room of the words of a row where it is to be had. [mm]"""


def _pitch(width: float) -> float:
    """From column to column in a band of a width; falls are left out where it is narrow. [mm]"""
    pitch = (width - SAMPLE - WORDS - NUMBER) / (len(COLUMNS) - 1)
    least = APART if width > SAMPLE + APART * len(COLUMNS) else CLOSE
    return min(max(pitch, least), FAR)


def band_height(lines: tuple[WaterLine, ...]) -> float:
    """Room of a band with these lines. [mm]"""
    return HEAD + ROW * max(1, len(lines)) + 1.0


def write_band(
    plot: Plot,
    figures: Figures,
    scene: LongSection,
    rows: tuple[tuple[WaterLine, str, str], ...],
    box: tuple[float, float, float],
) -> None:
    """Write the band between two sides of the paper from a height down.

    Parameters
    ----------
    plot : Plot
    figures : Figures
    scene : LongSection
    rows : tuple of (line, words, layer)
        Lines with what they are called, and how they are drawn, "" where they are not.
    box : tuple of float
        Left, right and top. [mm]
    """
    left, right, top = box
    pitch = _pitch(right - left)
    places = [right - pitch * (len(COLUMNS) - 1 - index) for index in range(len(COLUMNS))]
    base = top - HEAD + 1.6
    is_wide = pitch >= APART
    title = f"levels, {figures.unit}"
    full = f"{title}, and the falls between"
    if is_wide and text_width(full, SMALL) < places[0] - NUMBER - left:
        title = full
    plot.write((left, base), title, layer="label-muted")
    _write_heads(plot, places, base, is_wide)
    plot.rule(((left, top - HEAD), (right, top - HEAD)), "grid")
    y = top - HEAD - ROW + 1.0
    if not rows:
        plot.write((left, y), "not known", layer="label-muted")
    indent = SAMPLE if any(layer for _, _, layer in rows) else 0.0
    said = fitted([words for _, words, _ in rows], places[0] - NUMBER - left - indent)
    for (line, _, layer), words in zip(rows, said, strict=True):
        if layer:
            plot.rule(((left, y + 0.8), (left + SAMPLE - 2.0, y + 0.8)), layer)
        plot.write((left + indent, y), words)
        _write_numbers(plot, figures, scene, line, places, y, is_wide)
        y -= ROW


def fitted(words: list[str], room: float) -> list[str]:
    """Words of all rows, or what stands before their colons where one of them is too long."""
    if all(text_width(each, SMALL) <= room for each in words):
        return words
    return [each.partition(":")[0] for each in words]


def named(lines: tuple[WaterLine, ...]) -> tuple[tuple[WaterLine, str, str], ...]:
    """Rows of lines that are drawn, each on the layer of its place."""
    return tuple((line, line.words, layer_of_line(i)) for i, line in enumerate(lines))


def _write_heads(plot: Plot, places: list[float], base: float, is_wide: bool) -> None:
    style = {"layer": "label-muted", "across": "right", "size_mm": TINY}
    for (_, above, below), x in zip(COLUMNS, places, strict=True):
        plot.write((x, base), below, **style)
        if above:
            plot.write((x, base + 2.8), above, **style)
    for words, (x, after) in zip(BETWEEN, pairwise(places), strict=True):
        if words and is_wide:
            at = (x + after - NUMBER) / 2 + 0.2
            plot.write((at, base), words, layer="label-water", across="middle", size_mm=TINY)


def _write_numbers(
    plot: Plot,
    figures: Figures,
    scene: LongSection,
    line: WaterLine,
    places: list[float],
    y: float,
    is_wide: bool,
) -> None:
    levels = [level_at(scene, line, node) for node, _, _ in COLUMNS]
    for level, x in zip(levels, places, strict=True):
        if level is not None:
            number = (Part(figures.elevation(level.elevation), level.key),)
            plot.write((x, y), number, across="right")
    for (below, above), words, (x, after) in zip(
        pairwise(levels), BETWEEN, pairwise(places), strict=True
    ):
        if below is None or above is None or not words or not is_wide:
            continue
        # the diversion stands over its crest, which is written behind it
        upper, lower = (below, above) if above is levels[-1] else (above, below)
        fall = figures.fall(upper.elevation - lower.elevation)
        part = (Part(fall, f"{upper.key} - {lower.key}", "light"),)
        at = (x + after - NUMBER) / 2 + 0.2
        plot.write((at, y), part, layer="label-water", across="middle", size_mm=TINY)


def level_at(scene: LongSection, line: WaterLine, node: str) -> Level | None:
    """Level of a line at a column of the band."""
    if node == "tailwater":
        return line.tailwater
    if node.endswith("_crest"):
        structure = scene.inlet if node == "inlet_crest" else scene.outlet
        setting = structure.setting(line.setting)
        return None if setting is None else setting.crest
    return line.level(node)
