# SPDX-License-Identifier: Apache-2.0
"""Small long sections under each other, one for each season with its own boards and ditch."""

from tilewater.chain.scene import LongSection, Stage, WaterLine
from tilewater.documents.rails import Tag, upright_rail
from tilewater.documents.scales import Figures, exaggeration, fitting_scale
from tilewater.documents.sheet import MUTED, SOIL, WATER, Frame, Sheet
from tilewater.documents.way_panel import (
    Style,
    draw_box,
    draw_chips,
    draw_ditch_water,
    draw_earth,
    draw_pipes,
    draw_water,
    ends_of,
    heights_of,
)

BEHIND = 1.0
SIDE = 50.0
"""Room for the figures on either side. [px]"""
TALLEST = 112.0
SEASON = Style("", 1.8)


def draw_seasons(
    sheet: Sheet, figures: Figures, scene: LongSection, box: tuple[float, float, float]
) -> float:
    """Draw a panel for each season between two sides from a height down; where they end."""
    left, right, y = box
    sheet.text((left, y), "By season", size=13, bold=True)
    start, end = ends_of(scene, BEHIND)
    low, high = heights_of(scene)
    across = fitting_scale(end - start, right - left - 2 * SIDE, figures.units)
    up = fitting_scale(high - low, TALLEST, figures.units)
    sheet.text((left + 70, y), "main full, aged chips, boards and ditch of", colour=MUTED)
    sheet.text((left, y + 14), f"the season; vertical {exaggeration(across, up)}", colour=MUTED)
    sheet.text(
        (right, y + 14),
        f"{across.words} along, {up.words} up",
        colour=MUTED,
        anchor="end",
        size=9.5,
    )
    y += 22
    if not scene.seasons:
        sheet.text((left, y + 10), "not known: see what is not drawn", colour=MUTED)
        return y + 14
    stages = {stage.season: stage for stage in scene.ditch.stages}
    for line in scene.seasons:
        base = y + 34 + (high - low) * up.pixels
        shift = (right - left - 2 * SIDE - (end - start) * across.pixels) / 2
        frame = Frame(start, low, left + SIDE + shift, base, across.pixels, up.pixels)
        _write_title(sheet, figures, scene, line, left, y + 14)
        _draw_season(sheet, frame, figures, scene, line, stages.get(line.name), end)
        y = base + 10
    return y


def _write_title(
    sheet: Sheet, figures: Figures, scene: LongSection, line: WaterLine, left: float, y: float
) -> None:
    title = sheet.text((left, y), line.name, size=12, bold=True)
    heights = [
        figures.size(sum(boards.stack))
        for box in (scene.inlet, scene.outlet)
        if (boards := box.setting(line.setting)) is not None
    ]
    words = f"boards {' and '.join(heights)}"
    if line.words != "main full":
        words = f"{line.words}, {words}"
    if line.flow is not None:
        words += f", bed {figures.flow(line.flow)}"
    sheet.text((title.x1 + 8, y), words, colour=MUTED)


def _draw_season(
    sheet: Sheet,
    frame: Frame,
    figures: Figures,
    scene: LongSection,
    line: WaterLine,
    stage: Stage | None,
    right: float,
) -> None:
    sheet.open_panel(f"season-{line.name}", frame)
    draw_earth(sheet, frame, scene, right)
    ordinary = None if stage is None else stage.ordinary
    high = None if stage is None else stage.high
    draw_ditch_water(
        sheet,
        frame,
        scene,
        None if ordinary is None else ordinary.elevation,
        None if high is None else high.elevation,
    )
    if scene.media is not None:
        draw_chips(sheet, frame, scene.media, line, plain=True)
    draw_pipes(sheet, frame, scene, line)
    for structure, node in ((scene.inlet, "diversion"), (scene.outlet, "outlet_box")):
        level = line.level(node)
        draw_box(sheet, frame, structure, line.setting, None if level is None else level.elevation)
    draw_water(sheet, frame, scene, line, SEASON)
    _write_season(sheet, frame, figures, scene, line, stage)
    sheet.close_panel()


def _write_season(
    sheet: Sheet,
    frame: Frame,
    figures: Figures,
    scene: LongSection,
    line: WaterLine,
    stage: Stage | None,
) -> None:
    inlet = scene.inlet.setting(line.setting)
    tags = []
    named = [line.level("diversion"), None if inlet is None else inlet.crest]
    for level, colour in zip(named, (WATER, "#1e2a2f"), strict=True):
        if level is not None:
            at = frame.at(scene.inlet.high, level.elevation)
            tags.append(Tag(at, ((figures.elevation(level.elevation), level.key),), colour))
    upright_rail(sheet, frame.at(scene.length, 0.0)[0] + 14, tags, side="right")
    ditch = []
    for level in () if stage is None else (stage.high, stage.ordinary):
        if level is not None:
            at = frame.at(frame.x0, level.elevation)
            ditch.append(Tag(at, ((figures.elevation(level.elevation), level.key),), WATER))
    upright_rail(sheet, frame.at(frame.x0, 0.0)[0] - 5, ditch, side="left", low=frame.base)
    box = line.level("outlet_box")
    if box is not None:
        at = frame.at(scene.outlet.high, box.elevation)
        place = (frame.at(scene.outlet.high, 0.0)[0] + 10, frame.base - 4)
        sheet.line(((place[0] + 4, place[1] - 9), at), stroke=MUTED, width=0.5)
        number = ((figures.elevation(box.elevation), box.key),)
        sheet.text(place, number, colour=WATER, clear=SOIL)
