# SPDX-License-Identifier: Apache-2.0
"""The table of levels under the long section: each line and season, node by node, with falls."""

from itertools import pairwise

from tilewater.chain.scene import Level, LongSection, WaterLine
from tilewater.documents.scales import Figures
from tilewater.documents.sheet import MUTED, WATER, Sheet
from tilewater.documents.way_labels import fall_part
from tilewater.documents.way_panel import style_of

ROW = 15.0
SAMPLE = 34.0
COLUMNS = (
    ("inlet_crest", "bypass", "crest"),
    ("diversion", "", "diversion"),
    ("inlet_header", "inlet", "header"),
    ("inlet_end", "chips,", "inlet end"),
    ("outlet_end", "chips,", "outlet end"),
    ("outlet_header", "outlet", "header"),
    ("outlet_box", "outlet", "structure"),
    ("outlet_crest", "outlet", "crest"),
    ("tailwater", "where the", "return ends"),
)
BETWEEN = ("over", "feed", "header", "chips", "header", "pipe", "over", "")
"""What takes the head between two neighbouring columns."""


WIDTH, GAP = 62.0, 40.0
"""Width of a column, and of the room for the fall between two. [px]"""


def write_levels(
    sheet: Sheet, figures: Figures, scene: LongSection, box: tuple[float, float, float]
) -> float:
    """Write the table between two sides from a height down; where it ends."""
    left, right, y = box
    step = WIDTH + GAP
    places = [right - step * (len(COLUMNS) - 1 - index) for index in range(len(COLUMNS))]
    title = sheet.text((left, y), "Levels along the way", size=13, bold=True)
    sheet.text((title.x1 + 8, y), f"{figures.unit}, with the falls between", colour=MUTED)
    _write_heads(sheet, places, y)
    y += 19
    sheet.line(((left, y - 11), (right, y - 11)), width=0.5, stroke=MUTED)
    for index, line in enumerate(scene.lines):
        drawn = style_of(index)
        ends = ((left, y - 3.5), (left + SAMPLE - 6, y - 3.5))
        sheet.line(ends, stroke=WATER, width=drawn.width, dash=drawn.dash)
        sheet.text((left + SAMPLE, y), line.words)
        _write_numbers(sheet, figures, scene, line, places, y)
        y += ROW
    for line in scene.seasons:
        sheet.text((left + SAMPLE, y), f"{line.name}: {line.words}, aged chips")
        _write_numbers(sheet, figures, scene, line, places, y)
        y += ROW
    if not scene.lines and not scene.seasons:
        sheet.text((left, y), "not known: see what is not drawn", colour=MUTED)
        y += ROW
    return y


def _write_heads(sheet: Sheet, places: list[float], y: float) -> None:
    for (_, above, below), x in zip(COLUMNS, places, strict=True):
        sheet.text((x, y - 6), above, size=9.5, colour=MUTED, anchor="end")
        sheet.text((x, y + 5), below, size=9.5, colour=MUTED, anchor="end")
    for words, x in zip(BETWEEN, places, strict=False):
        sheet.text((x + GAP / 2 - 2, y + 5), words, size=8.5, colour=MUTED, anchor="middle")


def _write_numbers(
    sheet: Sheet,
    figures: Figures,
    scene: LongSection,
    line: WaterLine,
    places: list[float],
    y: float,
) -> None:
    levels = [_level(scene, line, node) for node, _, _ in COLUMNS]
    for level, x in zip(levels, places, strict=True):
        if level is not None:
            number = ((figures.elevation(level.elevation), level.key),)
            sheet.text((x, y), number, anchor="end")
    for (first, second), words, x in zip(pairwise(levels), BETWEEN, places, strict=False):
        if first is None or second is None or not words:
            continue
        # the diversion stands over its crest, which is written before it
        upper, lower = (second, first) if first is levels[0] else (first, second)
        number = (fall_part(figures, upper, lower),)
        sheet.text((x + GAP / 2 - 2, y), number, size=9.5, colour=MUTED, anchor="middle")


def _level(scene: LongSection, line: WaterLine, node: str) -> Level | None:
    if node == "tailwater":
        return line.tailwater
    if node.endswith("_crest"):
        structure = scene.inlet if node == "inlet_crest" else scene.outlet
        setting = structure.setting(line.setting)
        return None if setting is None else setting.crest
    return line.level(node)
