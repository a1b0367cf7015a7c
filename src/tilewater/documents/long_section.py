# SPDX-License-Identifier: Apache-2.0
"""The long section of a designed bed, to scale, with the water standing in it, as SVG.

One sheet of 11 by 17 inches: the practice along the way of its water, its levels node by node,
each season small beside it, and the main up the field below. It grows longer where there are many
seasons. Nothing is computed here.
"""

from typing import cast

from tilewater.basis.units import Foot, System
from tilewater.chain.scene import LongSection
from tilewater.documents.levels_table import write_levels
from tilewater.documents.main_panel import draw_main
from tilewater.documents.notes import write_legend, write_missing, write_remarks, write_title
from tilewater.documents.scales import Figures, Scale, exaggeration, fitting_scale, round_step
from tilewater.documents.season_panels import draw_seasons
from tilewater.documents.sheet import INCH, MUTED, Frame, Sheet
from tilewater.documents.way_labels import (
    write_axis,
    write_bed,
    write_bypass,
    write_ditch,
    write_diversion,
    write_falls,
    write_lengths,
    write_outlet,
    write_structure,
)
from tilewater.documents.way_panel import (
    draw_box,
    draw_bypass,
    draw_chips,
    draw_ditch_water,
    draw_earth,
    draw_groundwater,
    draw_old_main,
    draw_pipes,
    draw_water,
    ends_of,
    heights_of,
    style_of,
)

WIDTH, HEIGHT = 17 * INCH, 11 * INCH
LEFT, RIGHT = 30.0, 1290.0
"""Sides of the wide column. [px]"""
BESIDE, EDGE = 1312.0, 1602.0
"""Sides of the narrow column. [px]"""
BEFORE, BEHIND = 160.0, 165.0
"""Room for labels on either side of the section. [px]"""
TALLEST = 432.0
TOP = 88.0


def draw_long_section(scene: LongSection, *, units: System = "us") -> str:
    """Draw the long section of a designed bed.

    Parameters
    ----------
    scene : LongSection
        From `tilewater.chain.scene.long_section_scene`.
    units : "us" or "si"
        Units of the reader.

    Returns
    -------
    str
        An SVG file that names no outside address. Its groups `data-panel` say how metres fall on
        the sheet, each elevation carries its key as `data-key`.
    """
    sheet = compose(scene, units)
    title = f"Long section: {scene.title}"
    about = "; ".join(f"not drawn: {each.what}" for each in scene.missing)
    return sheet.svg(title, about, max(HEIGHT, sheet.low))


def compose(scene: LongSection, units: System) -> Sheet:
    """The sheet with all on it, before it becomes text."""
    foot = "us survey foot" if scene.foot == "us survey foot" else "international foot"
    figures = Figures(units, cast(Foot, foot))
    sheet = Sheet(WIDTH)
    write_title(sheet, scene, figures, LEFT, EDGE)
    y = _draw_way(sheet, figures, scene)
    y = write_levels(sheet, figures, scene, (LEFT, RIGHT, y + 26))
    y = draw_main(sheet, figures, scene, (LEFT, RIGHT, y + 16))
    beside = draw_seasons(sheet, figures, scene, (BESIDE, EDGE, TOP))
    beside = write_legend(sheet, BESIDE, beside + 20)
    beside = write_missing(sheet, scene, BESIDE, EDGE, beside + 14)
    y = write_remarks(sheet, _remarks(scene), LEFT, RIGHT, y + 4)
    sheet.low = max(y, beside) + 16
    return sheet


def _draw_way(sheet: Sheet, figures: Figures, scene: LongSection) -> float:
    start, end = ends_of(scene)
    low, high = heights_of(scene)
    room = RIGHT - LEFT - BEFORE - BEHIND
    across = fitting_scale(end - start, room, figures.units)
    up = fitting_scale(high - low, TALLEST, figures.units)
    base = TOP + 44 + (high - low) * up.pixels
    frame = Frame(start, low, LEFT + BEFORE, base, across.pixels, up.pixels)
    _write_scales(sheet, figures, across, up)
    sheet.open_panel("way", frame)
    write_axis(sheet, frame, figures, (start, end), high)
    _draw_shapes(sheet, frame, scene, end)
    _write_labels(sheet, frame, figures, scene, end)
    write_lengths(sheet, frame, figures, scene, base + 10)
    bottom = base + 26
    if scene.lines:
        write_falls(sheet, frame, figures, scene, (RIGHT, bottom + 6))
        bottom += 22
    sheet.close_panel()
    return bottom


def _draw_shapes(sheet: Sheet, frame: Frame, scene: LongSection, end: float) -> None:
    first = scene.lines[0] if scene.lines else None
    draw_earth(sheet, frame, scene, end)
    stages = {which: scene.ditch.highest(which) for which in ("ordinary", "high")}
    levels = {w: None if found is None else found[1].elevation for w, found in stages.items()}
    draw_ditch_water(sheet, frame, scene, levels["ordinary"], levels["high"])
    if scene.media is not None:
        draw_chips(sheet, frame, scene.media, first)
    draw_pipes(sheet, frame, scene, first)
    draw_old_main(sheet, frame, scene, end)
    draw_bypass(sheet, frame, scene)
    draw_groundwater(sheet, frame, scene, end)
    for box, node in ((scene.inlet, "diversion"), (scene.outlet, "outlet_box")):
        level = None if first is None else first.level(node)
        draw_box(sheet, frame, box, "design", None if level is None else level.elevation)
    for index, line in reversed(list(enumerate(scene.lines))):
        draw_water(sheet, frame, scene, line, style_of(index))


def _write_labels(
    sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection, end: float
) -> None:
    for box in (scene.inlet, scene.outlet):
        write_structure(sheet, frame, figures, box)
    write_diversion(sheet, frame, figures, scene, frame.at(end, 0.0)[0] + 8)
    write_outlet(sheet, frame, figures, scene)
    write_ditch(sheet, frame, figures, scene)
    write_bed(sheet, frame, figures, scene)
    write_bypass(sheet, frame, figures, scene)


def _write_scales(sheet: Sheet, figures: Figures, across: Scale, up: Scale) -> None:
    """Write the scales, with a bar along and one upright."""
    title = sheet.text((LEFT, TOP), "Long section along the way of the water", size=13, bold=True)
    words = f"{across.words} along, {up.words} up, vertical {exaggeration(across, up)}"
    sheet.text((title.x1 + 10, TOP), words, colour=MUTED)
    unit = figures.metre_per_unit
    step = round_step(130.0 / across.pixels / unit, 1.0)
    long = step * unit * across.pixels
    right, y = RIGHT - 60.0, TOP
    sheet.line(((right - long, y), (right, y)), width=2.4, name="bar-along")
    for share in (0.0, 0.5, 1.0):
        x = right - long + share * long
        sheet.line(((x, y - 4), (x, y + 4)), width=1.0)
        sheet.text((x, y - 7), f"{share * step:g}", anchor="middle", size=9.5, colour=MUTED)
    sheet.text((right + 8, y - 7), figures.unit, size=9.5, colour=MUTED)
    rise = round_step(44.0 / up.pixels / unit, 1.0)
    tall = rise * unit * up.pixels
    x = RIGHT - 18.0
    sheet.line(((x, y), (x, y + tall)), width=2.4, name="bar-up")
    for share in (0.0, 1.0):
        sheet.line(((x - 4, y + share * tall), (x + 4, y + share * tall)), width=1.0)
    sheet.text(
        (x - 6, y + tall / 2 + 3), f"{rise:g} {figures.unit}", anchor="end", size=9.5, colour=MUTED
    )


def _remarks(scene: LongSection) -> list[str]:
    found = [
        "Distances run along the way of the water from the end of the return; the feed is drawn "
        "straight on, wherever it turns. The feed leaves the diversion before its boards, which "
        "are seen from upstream."
    ]
    media = scene.media
    if media is not None and media.cell:
        found.append(
            f"Of the cells side by side the first is drawn, {media.cell}; the others have the same "
            "floor, depth and levels in the boxes."
        )
    if media is not None:
        above = [
            line.name
            for line in (*scene.lines, *scene.seasons)
            if (level := line.level("inlet_end")) is not None
            and level.elevation > media.top.elevation + 0.003
        ]
        if above:
            names = ", ".join(dict.fromkeys(above))
            found.append(
                f"Where a line stands over the chips ({names}) it is the pressure under the cover, "
                "not a free surface."
            )
    return found
