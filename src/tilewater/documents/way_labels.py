# SPDX-License-Identifier: Apache-2.0
"""What is written on the long section: elevations beside their lines, lengths and falls below."""

from collections.abc import Iterable
from itertools import pairwise

from tilewater.chain.scene import Level, LongSection, StructurePart, WaterLine
from tilewater.documents.rails import ROW, SIZE, Tag, level_rail, upright_rail
from tilewater.documents.scales import Figures, round_step
from tilewater.documents.sheet import (
    CHIPS_FILL,
    MUTED,
    SOIL,
    WATER,
    Frame,
    Part,
    Point,
    Sheet,
    text_width,
)

FALLS = (
    ("feed", "diversion", "inlet_header"),
    ("header", "inlet_header", "inlet_end"),
    ("chips", "inlet_end", "outlet_end"),
    ("header", "outlet_end", "outlet_header"),
    ("pipe", "outlet_header", "outlet_box"),
)
"""What takes head between the nodes, from the diversion down."""


def said(figures: Figures, words: str, level: Level) -> tuple[Part, ...]:
    """Words and an elevation with its key."""
    return ((f"{words} ", ""), (figures.elevation(level.elevation), level.key))


def write_axis(
    sheet: Sheet, frame: Frame, figures: Figures, ends: tuple[float, float], top: float
) -> None:
    """Write round elevations up the left side and distances along the base."""
    unit = figures.metre_per_unit
    step = round_step((top - frame.z0) / unit, 8.0) * unit
    left = frame.at(ends[0], frame.z0)
    number = int(frame.z0 / step) + 1
    while number * step <= top:
        z = number * step
        y = frame.at(0.0, z)[1]
        sheet.line(((AXIS, y), (AXIS + 5, y)), width=0.8)
        sheet.line(((left[0], y), frame.at(ends[1], z)), width=0.5, stroke=SOIL)
        sheet.text((AXIS - 3, y + 3.5), f"{z / unit:.10g}", colour=MUTED, anchor="end", size=10)
        number += 1
    sheet.line((frame.at(ends[0], frame.z0), frame.at(ends[1], frame.z0)), width=0.8)


AXIS = 52.0
"""Where the elevations of the axis stand. [px]"""


def write_structure(sheet: Sheet, frame: Frame, figures: Figures, box: StructurePart) -> None:
    """Write the name of a structure over its rim, with its boards."""
    if box.rim is None:
        return
    x, y = frame.at(box.middle, box.rim.elevation)
    name = "diversion" if box.name == "inlet" else "outlet structure"
    boards = box.setting("design")
    sheet.text((x, y - 20), name, size=12, bold=True, anchor="middle")
    parts = list(said(figures, "rim", box.rim))
    if boards is not None:
        height = sum(boards.stack)
        down = box.rim.elevation - boards.crest.elevation
        words = f"; boards {figures.size(height)}, crest {figures.size(down)} down"
        parts.append((words, ""))
    sheet.text((x, y - 6), parts, anchor="middle")


def write_diversion(
    sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection, x: float
) -> None:
    """Write rim, water, crest, sill and groundwater on the right of the diversion."""
    box = scene.inlet
    tags = []
    boards = box.setting("design")
    named: list[tuple[str, Level | None]] = [("ground", box.ground)]
    named.append(("bypass crest", None if boards is None else boards.crest))
    named.append(("sill", box.sill))
    if box.floor is not None and box.sill is not None and box.floor.elevation < box.sill.elevation:
        named.append(("floor of the box", box.floor))
    if scene.main is not None:
        named.append(("main, invert", scene.main.invert_diversion))
    for words, level in named:
        if level is not None:
            at = frame.at(box.high, level.elevation)
            tags.append(Tag(at, said(figures, words, level)))
    tags += water_tags(frame, figures, scene.lines, "diversion", box.high)
    for words, level in scene.groundwater:
        at = (x - 6, frame.at(0.0, level.elevation)[1])
        tags.append(Tag(at, said(figures, f"groundwater, {words}", level), MUTED))
    upright_rail(sheet, x, tags, side="right", low=frame.base - 4)


def water_tags(
    frame: Frame, figures: Figures, lines: Iterable[WaterLine], node: str, x: float
) -> list[Tag]:
    """Labels of the lines at a node; lines that print the same stand in one label."""
    found: dict[str, tuple[list[str], Level]] = {}
    for line in lines:
        level = line.level(node)
        if level is not None:
            text = figures.elevation(level.elevation)
            found.setdefault(text, ([], level))[0].append(line.name)
    return [
        Tag(frame.at(x, level.elevation), said(figures, ", ".join(names), level), WATER)
        for names, level in found.values()
    ]


WIDE = 390.0
"""Length of a bed on the sheet that has room for all lines at both ends. [px]"""


def write_bed(sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection) -> None:
    """Write the levels at the ends of the chips, their floor and top, cover and depth."""
    media = scene.media
    if media is None:
        return
    middle = (media.low + media.high) / 2
    is_wide = (media.high - media.low) * frame.across > WIDE
    for node, x, way, side in (
        ("inlet_end", media.flow_high, -34.0, "left"),
        ("outlet_end", media.flow_low, 34.0, "right"),
    ):
        # a short bed has room for the first line only, water over the rims leaves none; the table
        # below has them all
        tags = water_tags(frame, figures, scene.lines[: None if is_wide else 1], node, x)
        highest = min([frame.at(x, media.top.elevation)[1], *(tag.at[1] for tag in tags)])
        place, low = frame.at(x, 0.0)[0] + way, highest - (10 if is_wide else 24)
        anchor = "end" if side == "left" else "start"
        upward = sorted(tags, key=lambda tag: -tag.at[1])
        if all(
            sheet.has_room((place, low - ROW * row), tag.text, anchor=anchor)
            for row, tag in enumerate(upward)
        ):
            upright_rail(sheet, place, tags, side=side, clear=SOIL, low=low)
    x, y = frame.at(middle, media.top.elevation)
    top = said(figures, "top of the chips", media.top)
    sheet.text((x, y - 5), top, anchor="middle", clear=SOIL)
    floors = [("floor of the bed", media.floor_low, middle)]
    if figures.elevation(media.floor_low.elevation) != figures.elevation(
        media.floor_high.elevation
    ):
        length = media.high - media.low
        floors = [
            ("floor at the outlet", media.floor_low, media.low + length / 4),
            ("floor at the inlet", media.floor_high, media.high - length / 4),
        ]
    for words, level, at in floors:
        x, y = frame.at(at, level.elevation)
        sheet.text((x, y + 13), said(figures, words, level), anchor="middle", clear=SOIL)
    _write_heights(sheet, frame, figures, scene)


PLACES = (0.82, 0.74, 0.66, 0.58, 0.42, 0.34, 0.26)
"""Where along the bed a dimension may stand, the first that is free."""


def _write_heights(sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection) -> None:
    media = scene.media
    if media is None:
        return
    base = (media.floor_low.elevation + media.floor_high.elevation) / 2
    spans = [("chips", base, media.top.elevation, CHIPS_FILL)]
    if media.ground is not None:
        z = media.ground.elevation
        spans.append(("cover", media.top.elevation, z, SOIL))
        x, y = frame.at((media.low + media.high) / 2, z)
        crown = ""
        if media.crown:
            y -= media.crown * frame.up
            crown = f", crown {figures.length(media.crown)} over it"
        parts = (*said(figures, "ground", media.ground), (crown, ""))
        sheet.text((x, y - 6), parts, anchor="middle")
    for words, low, high, ground in spans:
        text = f"{words} {figures.length(high - low)}"
        y = frame.at(0.0, (low + high) / 2)[1] + 4
        places = [frame.at(media.low + s * (media.high - media.low), 0.0)[0] for s in PLACES]
        ends = frame.at(0.0, low)[1], frame.at(0.0, high)[1]
        for x in places:
            is_clear = sheet.is_clear((x - 3, ends[0]), (x + 3, ends[1]))
            if is_clear and sheet.has_room((x + 6, y), text):
                measure(sheet, (x, ends[0]), (x, ends[1]))
                sheet.text((x + 6, y), text, clear=ground)
                break


def measure(sheet: Sheet, a: Point, b: Point) -> None:
    """Draw a dimension line with ticks across its ends."""
    sheet.line((a, b), width=0.6)
    for x, y in (a, b):
        sheet.line(((x - 3, y + 3), (x + 3, y - 3)), width=1.0)


def write_outlet(sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection) -> None:
    """Write crest and sill before the outlet structure, and the water behind its boards."""
    box = scene.outlet
    boards = box.setting("design")
    tags = []
    named = (("crest", None if boards is None else boards.crest, 0.0), ("sill", box.sill, 14.0))
    for words, level, shift in named:
        if level is not None:
            at = frame.at(box.low if shift else box.middle, level.elevation)
            tags.append(Tag(at, said(figures, words, level), shift=shift))
    x = frame.at(box.low, 0.0)[0] - 12
    upright_rail(sheet, x, tags, side="left", low=frame.base - 8)
    water = water_tags(frame, figures, scene.lines, "outlet_box", box.high)
    under = max((tag.at[1] for tag in water), default=0.0) + 13
    x = frame.at(box.high, 0.0)[0] + 10
    upright_rail(sheet, x, water, side="right", clear=SOIL, high=under)


def write_ditch(sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection) -> None:
    """Write the levels of the ditch and the ends of the pipes on the left."""
    ditch, tags = scene.ditch, []
    x = frame.at(ends_left(scene), 0.0)[0] - 6
    edge = min((-2.0, *(x for x, _ in ditch.outline[1:-1])))
    for which, words in (("ordinary", "ordinary"), ("high", "high")):
        found = ditch.highest(which)
        if found is not None:
            season, level = found
            at = frame.at(_shore(scene, level.elevation), level.elevation)
            parts = said(figures, f"{words}, {season}", level)
            if text_width("".join(piece for piece, _ in parts), SIZE) > x - AXIS - 6:
                parts = said(figures, words, level)  # its season stands in the season's panel
            tags.append(Tag(at, parts, WATER))
    if ditch.bottom is not None:
        at = frame.at(edge, ditch.bottom.elevation)
        tags.append(Tag(at, said(figures, "ditch bottom", ditch.bottom)))
    end = "return joins" if scene.joins_main else "return ends"
    if scene.outflow is not None:
        level = scene.outflow.invert_low
        tags.append(Tag(frame.at(0.0, level.elevation), said(figures, end, level)))
    if scene.bypass is not None and not scene.joins_main:
        level = scene.bypass.invert_low
        at = frame.at(scene.bypass.low, level.elevation)
        tags.append(Tag(at, said(figures, "main ends", level)))
    upright_rail(sheet, x, tags, side="left", low=frame.base - 4)
    if ditch.bank_top is not None and ditch.bank_at is not None:
        x, y = frame.at(ditch.bank_at, ditch.bank_top.elevation)
        sheet.text((x - 2, y - 7), said(figures, "bank top", ditch.bank_top), anchor="middle")


def _shore(scene: LongSection, level: float) -> float:
    """The far shore of the ditch at a level, or the left end of the panel."""
    outline = scene.ditch.outline
    for (xa, za), (xb, zb) in pairwise(reversed(outline)):
        if (za - level) * (zb - level) < 0:
            return xa + (za - level) / (za - zb) * (xb - xa)
    return ends_left(scene)


def ends_left(scene: LongSection) -> float:
    """Left end of the panel along the way. [m]"""
    return min((-3.0, *(x for x, _ in scene.ditch.outline)))


def write_bypass(sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection) -> None:
    """Write what the main past the bed is, on it where there is room."""
    bypass = scene.bypass
    if bypass is None:
        return
    low, high = bypass.invert_low.elevation, bypass.invert_high.elevation
    size, length = figures.size(bypass.diameter), figures.length(bypass.length)
    words = f"main past the bed, {size}, {length}, beside it"
    for share in (0.41, 0.38, 0.3, 0.2, 0.1):
        z = low + share * (high - low) + bypass.diameter / 2
        x, y = frame.at(bypass.low + share * (scene.inlet.low - bypass.low), z)
        if sheet.has_room((x, y + 4), words):
            sheet.text((x, y + 4), words, clear=PALE)
            return


PALE = "#dbe7e8"
"""Wet chips, as the ground of a label."""


def write_lengths(
    sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection, y: float
) -> None:
    """Write the length of each part under it, as a chain."""
    parts = [
        (f"{pipe.name} {figures.size(pipe.diameter)},", pipe.low, pipe.high)
        for pipe in (scene.outflow, scene.drain, scene.feed)
        if pipe is not None
    ]
    if scene.media is not None:
        parts.append(("floor of the bed", scene.media.low, scene.media.high))
    tags = []
    for name, low, high in parts:
        a, b = (frame.at(low, 0.0)[0], y), (frame.at(high, 0.0)[0], y)
        measure(sheet, a, b)
        words = f"{name} {figures.length(high - low)}"
        tags.append(Tag(((a[0] + b[0]) / 2, y + 1), ((words, ""),)))
    level_rail(sheet, y + 15, tags)


def write_falls(
    sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection, corner: Point
) -> None:
    """Write what takes head between the nodes of the first line, under where it is taken."""
    (right, y), line = corner, scene.lines[0]
    media = scene.media
    if media is None:
        return
    places = {
        "feed": (scene.inlet.low + media.flow_high) / 2,
        "chips": (media.low + media.high) / 2,
        "pipe": (scene.outlet.high + media.low) / 2,
    }
    falls = []
    for words, upper, lower in FALLS:
        at = places.get(words, media.flow_high if upper == "inlet_header" else media.flow_low)
        falls.append((words, line.level(upper), line.level(lower), at))
    boards = scene.outlet.setting(line.setting)
    crest = None if boards is None else boards.crest
    falls.append(("over boards", line.level("outlet_box"), crest, scene.outlet.middle))
    tags = [
        Tag((frame.at(at, 0.0)[0], y), ((f"{words} ", ""), fall_part(figures, above, below)), WATER)
        for words, above, below, at in falls
        if above is not None and below is not None
    ]
    level_rail(sheet, y + 15, tags, white=14.0)
    words = f"falls of the {line.name} line, {figures.unit}"
    sheet.text((right, y + 15), words, colour=MUTED, anchor="end")


def fall_part(figures: Figures, above: Level, below: Level) -> Part:
    """What water falls between two levels, with the keys that it is the difference of."""
    return figures.fall(above.elevation - below.elevation), f"{above.key} - {below.key}"
