# SPDX-License-Identifier: Apache-2.0
"""Small long sections, one for each season with its own boards and ditch, and a table of all."""

from tilewater.chain.scene import LongSection, Stage, WaterLine
from tilewater.documents.drawing.frame import Frame, paper_frame
from tilewater.documents.drawing.furniture import scale_words
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import BODY, Drawing
from tilewater.documents.profile.band import band_height, write_band
from tilewater.documents.profile.extent import ends_of, heights_of
from tilewater.documents.profile.notes import unknown_drawing
from tilewater.documents.profile.plot import Plot, said
from tilewater.documents.profile.rails import LEAD, Tag, rail_height, rail_width, upright_rail
from tilewater.documents.profile.room import usual_scale
from tilewater.documents.profile.shapes import draw_box, draw_chips, draw_earth, draw_pipes
from tilewater.documents.profile.water import draw_ditch_water, draw_line, shore_of
from tilewater.documents.scales import Figures

BEHIND = 1.0
ABOVE, BELOW = 11.0, 1.0
"""Room of the head, and under the section. [mm]"""
MOST = 14.0
"""How many times heights are drawn at most."""


def draw_season(
    scene: LongSection, figures: Figures, line: WaterLine, width_mm: float, height_mm: float
) -> Drawing:
    """The small section of one line of a season in a room of paper."""
    start, end = ends_of(scene, BEHIND)
    low, high = heights_of(scene) or (0.0, 1.0)
    stage = next((each for each in scene.ditch.stages if each.season == line.name), None)
    left, right = _left_tags(scene, figures, line, stage), _right_tags(scene, figures, line)
    sides = rail_width(left) + LEAD, rail_width(right) + LEAD
    title = f"Season {line.name}: {line.words}"
    room = width_mm - sum(sides)
    scale_x = usual_scale(end - start, room, figures.units, title)
    body, least = height_mm - ABOVE - BELOW, scale_x / MOST
    scale_y = usual_scale(high - low, body, figures.units, title, least=least)
    tall = max((high - low) * 1000.0 / scale_y, rail_height(left), rail_height(right))
    spare = (room - (end - start) * 1000.0 / scale_x) / 2
    corner = (
        start - (sides[0] + spare) * scale_x / 1000.0,
        low - BELOW * scale_y / 1000.0,
    )
    plot = Plot(Frame(corner, width_mm, BELOW + tall + ABOVE, scale_x, scale_y), low)
    _write_head(plot, figures, scene, line)
    _draw_shapes(plot, scene, line, stage, end)
    edge = plot.frame.paper((start, 0.0))[0], plot.frame.paper((end, 0.0))[0]
    heights = BELOW, BELOW + tall
    upright_rail(plot, edge[0], left, "left", *heights)
    upright_rail(plot, edge[1], right, "right", *heights)
    return plot.drawing(title, figures)


def _write_head(plot: Plot, figures: Figures, scene: LongSection, line: WaterLine) -> None:
    y = plot.frame.height_mm - 3.4
    plot.write((0.0, y), line.name, size_mm=BODY, weight="semibold")
    heights = [
        figures.size(sum(boards.stack))
        for box in (scene.inlet, scene.outlet)
        if (boards := box.setting(line.setting)) is not None
    ]
    words = f"{line.words}; boards {' and '.join(heights)}"
    if line.flow is not None:
        words += f"; bed {figures.flow(line.flow)}"
    x = text_width(line.name, BODY, "semibold") + 2.4
    plot.write((x, y), words, weight="light")
    plot.write(
        (0.0, y - 3.8), scale_words(plot.frame, figures.units), layer="label-muted", size_mm=2.1
    )


def _draw_shapes(
    plot: Plot, scene: LongSection, line: WaterLine, stage: Stage | None, right: float
) -> None:
    draw_earth(plot, scene, right)
    ordinary = None if stage is None or stage.ordinary is None else stage.ordinary.elevation
    high = None if stage is None or stage.high is None else stage.high.elevation
    draw_ditch_water(plot, scene, ordinary, high)
    if scene.media is not None:
        draw_chips(plot, scene.media, line)
    draw_pipes(plot, scene, line)
    for box, node in ((scene.inlet, "diversion"), (scene.outlet, "outlet_box")):
        level = line.level(node)
        draw_box(plot, box, line.setting, None if level is None else level.elevation)
    draw_line(plot, scene, line, "water-first")


def _left_tags(
    scene: LongSection, figures: Figures, line: WaterLine, stage: Stage | None
) -> tuple[Tag, ...]:
    found = []
    boards, water = scene.outlet.setting(line.setting), line.level("outlet_box")
    if boards is not None:
        at = scene.outlet.low, boards.crest.elevation
        found.append(Tag(at, said(figures, "outlet crest", boards.crest)))
    if water is not None:
        at = scene.outlet.low, water.elevation
        found.append(Tag(at, said(figures, "outlet water", water), "label-water"))
    named = () if stage is None else (("high", stage.high), ("ordinary", stage.ordinary))
    for words, level in named:
        if level is not None:
            at = shore_of(scene, level.elevation), level.elevation
            found.append(Tag(at, said(figures, words, level), "label-water"))
    return tuple(found)


def _right_tags(scene: LongSection, figures: Figures, line: WaterLine) -> tuple[Tag, ...]:
    found = []
    inlet = scene.inlet.setting(line.setting)
    for x, words, level, layer in (
        (scene.inlet.high, "water", line.level("diversion"), "label-water"),
        (scene.inlet.high, "crest", None if inlet is None else inlet.crest, "label"),
    ):
        if level is not None:
            parts = said(figures, words, level, number_first=True)
            found.append(Tag((x, level.elevation), parts, layer))
    return tuple(found)


def draw_season_levels(scene: LongSection, figures: Figures, width_mm: float) -> Drawing:
    """The table of all seasons, node by node."""
    title = "Levels by season"
    if not scene.seasons:
        return unknown_drawing(title, scene, figures, width_mm)
    frame = paper_frame(width_mm, band_height(scene.seasons))
    plot = Plot(frame, 0.0)
    rows = tuple((line, f"{line.name}: {line.words}, aged chips", "") for line in scene.seasons)
    write_band(plot, figures, scene, rows, (0.0, width_mm, frame.height_mm))
    return plot.drawing(title, figures)
