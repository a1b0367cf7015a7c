# SPDX-License-Identifier: Apache-2.0
"""The long section along the way of the water, from the ditch up to the main, as one drawing."""

from collections.abc import Iterable
from dataclasses import dataclass

from tilewater.chain.scene import Level, LongSection, WaterLine
from tilewater.documents.drawing.frame import Frame
from tilewater.documents.drawing.model import Drawing, Part
from tilewater.documents.profile.band import band_height, named, write_band
from tilewater.documents.profile.binding import (
    binding_words,
    mark_in_section,
)
from tilewater.documents.profile.blocks import blocks_height, blocks_of, hang_blocks, in_room
from tilewater.documents.profile.extent import ends_of, heights_of
from tilewater.documents.profile.lengths import (
    CHAIN,
    write_bypass,
    write_heights,
    write_lengths,
    write_surface,
)
from tilewater.documents.profile.notes import unknown_drawing
from tilewater.documents.profile.plot import Plot, said
from tilewater.documents.profile.rails import LEAD, Tag, rail_height, rail_width, upright_rail
from tilewater.documents.profile.room import AXIS, HEAD, usual_scale, write_axis, write_head
from tilewater.documents.profile.shapes import (
    draw_box,
    draw_bypass,
    draw_chips,
    draw_earth,
    draw_old_main,
    draw_pipes,
)
from tilewater.documents.profile.water import (
    draw_ditch_water,
    draw_groundwater,
    draw_line,
    layer_of_line,
    shore_of,
)
from tilewater.documents.scales import Figures

TITLE = "Long section along the way of the water"


@dataclass(frozen=True)
class _Room:
    """What stands around the section. [mm]"""

    left: float
    right: float
    above: float
    below: float


def draw_way(scene: LongSection, figures: Figures, width_mm: float, height_mm: float) -> Drawing:
    """The long section in a room of paper, no higher than it must be."""
    heights = heights_of(scene)
    if heights is None:
        return unknown_drawing(TITLE, scene, figures, width_mm)
    (start, end), (low, high) = ends_of(scene), heights
    left, right = ditch_tags(scene, figures), diversion_tags(scene, figures)
    blocks = in_room(blocks_of(scene, figures), figures, width_mm)
    room = _Room(
        AXIS + rail_width(left) + LEAD,
        rail_width(right) + LEAD,
        HEAD + blocks_height(blocks),
        CHAIN + band_height(scene.lines),
    )
    scale_x = usual_scale(end - start, width_mm - room.left - room.right, figures.units, TITLE)
    body = height_mm - room.above - room.below
    scale_y = usual_scale(high - low, body, figures.units, TITLE)
    wide, tall = (end - start) * 1000.0 / scale_x, (high - low) * 1000.0 / scale_y
    tall = max(tall, rail_height(left), rail_height(right))
    spare = (width_mm - room.left - room.right - wide) / 2
    corner = (
        start - (room.left + spare) * scale_x / 1000.0,
        low - room.below * scale_y / 1000.0,
    )
    frame = Frame(corner, width_mm, room.below + tall + room.above, scale_x, scale_y)
    plot = Plot(frame, low)
    write_head(
        plot, figures, TITLE, "" if any(block.binds for block in blocks) else binding_words(scene)
    )
    write_axis(plot, figures, high, left=spare)
    draw_shapes(plot, scene, scene.lines, end)
    edges = room.left + spare, room.left + spare + wide
    between = room.below + 1.0, room.below + tall + 1.0
    upright_rail(plot, edges[0], left, "left", *between)
    upright_rail(plot, edges[1], right, "right", *between)
    hang_blocks(plot, figures, blocks, (0.0, width_mm), frame.height_mm - room.above + 3.0)
    _write_inside(plot, figures, scene)
    write_lengths(plot, figures, scene, (0.0, width_mm))
    write_band(plot, figures, scene, named(scene.lines), (0.0, width_mm, room.below - CHAIN))
    return plot.drawing(TITLE, figures, _about(scene))


def draw_shapes(plot: Plot, scene: LongSection, lines: tuple[WaterLine, ...], right: float) -> None:
    """Draw all that is seen in the section, with the lines, the first of them as wet chips."""
    first = lines[0] if lines else None
    draw_earth(plot, scene, right)
    stages = {which: scene.ditch.highest(which) for which in ("ordinary", "high")}
    levels = {w: None if found is None else found[1].elevation for w, found in stages.items()}
    draw_ditch_water(plot, scene, levels["ordinary"], levels["high"])
    if scene.media is not None:
        draw_chips(plot, scene.media, first)
    draw_bypass(plot, scene)
    draw_pipes(plot, scene, first)
    draw_old_main(plot, scene, right)
    draw_groundwater(plot, scene, right)
    for box, node in ((scene.inlet, "diversion"), (scene.outlet, "outlet_box")):
        level = None if first is None else first.level(node)
        draw_box(plot, box, "design", None if level is None else level.elevation)
    for index, line in reversed(list(enumerate(lines))):
        draw_line(plot, scene, line, layer_of_line(index))
    mark_in_section(plot, scene)


def _write_inside(plot: Plot, figures: Figures, scene: LongSection) -> None:
    if scene.lines:
        write_surface(plot, figures, scene, scene.lines[0])
    write_bypass(plot, figures, scene)
    write_heights(plot, figures, scene)


def ditch_tags(scene: LongSection, figures: Figures) -> tuple[Tag, ...]:
    """Labels of the ditch and of the pipes that end there."""
    ditch, found = scene.ditch, []
    edge = min((-2.0, *(x for x, _ in ditch.outline[1:-1])))
    if ditch.bank_top is not None:
        at = 0.0 if ditch.bank_at is None else ditch.bank_at
        found.append(_tag(figures, at, "bank top", ditch.bank_top))
    for which in ("high", "ordinary"):
        water = ditch.highest(which)
        if water is not None:
            season, level = water
            x = shore_of(scene, level.elevation)
            found.append(_tag(figures, x, f"{which}, {season}", level, "label-water"))
    if ditch.bottom is not None:
        found.append(_tag(figures, edge, "ditch bottom", ditch.bottom))
    if scene.outflow is not None:
        words = "return joins" if scene.joins_main else "return ends"
        found.append(_tag(figures, 0.0, words, scene.outflow.invert_low))
    if scene.bypass is not None and not scene.joins_main:
        found.append(_tag(figures, scene.bypass.low, "main ends", scene.bypass.invert_low))
    return tuple(found)


def diversion_tags(scene: LongSection, figures: Figures) -> tuple[Tag, ...]:
    """Labels of water, main and groundwater at the diversion; numbers come first."""
    x, found = scene.inlet.high, []
    found += water_tags(figures, scene.lines, "diversion", x)
    if scene.main is not None:
        found.append(_tag(figures, x, "main, invert", scene.main.invert_diversion, first=True))
    for words, level in scene.groundwater:
        words = f"groundwater, {words}"
        found.append(_tag(figures, ends_of(scene)[1], words, level, "label-water", first=True))
    return tuple(found)


def water_tags(figures: Figures, lines: Iterable[WaterLine], node: str, x: float) -> list[Tag]:
    """Labels of the lines at a node; lines that print the same stand in one label."""
    found: dict[str, tuple[list[str], Level]] = {}
    for line in lines:
        level = line.level(node)
        if level is not None:
            text = figures.elevation(level.elevation)
            found.setdefault(text, ([], level))[0].append(line.name)
    return [
        _tag(figures, x, ", ".join(names), level, "label-water", first=True)
        for names, level in found.values()
    ]


def _tag(
    figures: Figures,
    x: float,
    words: str,
    level: Level,
    layer: str = "label",
    *,
    first: bool = False,
) -> Tag:
    parts: tuple[Part, ...] = said(figures, words, level, number_first=first)
    return Tag((x, level.elevation), parts, layer)


def _about(scene: LongSection) -> str:
    return "; ".join(f"not drawn: {each.what}" for each in scene.missing)
