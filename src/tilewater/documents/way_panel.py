# SPDX-License-Identifier: Apache-2.0
"""The practice along the way of its water: ground, ditch, pipes, boxes, chips, standing water.

Shapes only, at the scale of a frame; the labels are written elsewhere.
"""

from dataclasses import dataclass
from itertools import pairwise

from tilewater.chain.scene import (
    LongSection,
    MediaPart,
    PipePart,
    StructurePart,
    WaterLine,
)
from tilewater.documents.sheet import (
    CHIPS,
    CHIPS_FILL,
    INK,
    MUTED,
    PAPER,
    SOIL,
    STRUCTURE,
    WATER,
    WATER_FILL,
    Frame,
    Point,
    Sheet,
)

BEFORE, BEHIND = 3.0, 3.0
"""Drawn in front of the return, and of the main behind the diversion. [m]"""
BELOW = 0.12
"""Drawn under the lowest part. [m]"""
DASHED = "5 3"


@dataclass(frozen=True)
class Style:
    """How a water line is drawn: told apart in grey by dashes and weight."""

    dash: str
    width: float


STYLES = (Style("", 2.2), Style("9 4", 1.3), Style("2 3", 1.4), Style("10 3 2 3", 1.3))


def style_of(index: int) -> Style:
    """Style of the lines in their order, the first the heaviest."""
    return STYLES[min(index, len(STYLES) - 1)]


def ends_of(scene: LongSection, behind: float = BEHIND) -> tuple[float, float]:
    """Where the panel begins and ends along the way. [m]"""
    return min((-BEFORE, *(x for x, _ in scene.ditch.outline))), scene.length + behind


def heights_of(scene: LongSection) -> tuple[float, float]:
    """Lowest and highest elevation to be drawn. [m]"""
    found = [z for _, z in ground_of(scene)]
    for box in (scene.inlet, scene.outlet):
        found += [each.elevation for each in (box.floor, box.sill, box.rim) if each is not None]
    for pipe in (scene.outflow, scene.drain, scene.feed):
        if pipe is not None:
            found += [pipe.invert_low.elevation, pipe.invert_high.elevation]
    if scene.media is not None:
        found += [z for _, z in scene.media.outline]
    if scene.ditch.bottom is not None:
        found.append(scene.ditch.bottom.elevation)
    found += [level.elevation for _, level in scene.groundwater]
    found += [level.elevation for line in scene.lines for _, level in line.nodes]
    return (min(found) - BELOW, max(found)) if found else (0.0, 1.0)


def ground_of(scene: LongSection) -> list[Point]:
    """Ground from the bank top up, between what was shot."""
    ditch, media, found = scene.ditch, scene.media, []
    if ditch.bank_at is not None and ditch.bank_top is not None:
        found.append((ditch.bank_at, ditch.bank_top.elevation))
    if scene.outlet.ground is not None:
        found.append((scene.outlet.middle, scene.outlet.ground.elevation))
    if media is not None and media.ground is not None:
        margin = media.cut_margin or 0.0
        found += [
            (media.low - margin, media.ground.elevation),
            (media.high + margin, media.ground.elevation),
        ]
    if scene.inlet.ground is not None:
        found.append((scene.inlet.middle, scene.inlet.ground.elevation))
    return sorted(found)


def draw_earth(sheet: Sheet, frame: Frame, scene: LongSection, right: float) -> None:
    """Fill the soil and draw its surface; where the bank is not known it fades away."""
    ground, base = ground_of(scene), frame.z0
    if not ground:
        return
    outline = list(reversed(scene.ditch.outline))
    known = [*outline[:-1], *ground] if outline else ground
    end = (right, known[-1][1])
    shape = [*known, end, (right, base), (known[0][0], base)]
    sheet.line([frame.at(*p) for p in shape], fill=SOIL, stroke="none")
    if not outline:
        x, z = ground[0]
        left = min(0.0, x)
        corners = ((left, base), (left, z), (x, z), (x, base))
        sheet.line([frame.at(*p) for p in corners], fill="url(#fade)", stroke="none")
    sheet.line([frame.at(*p) for p in known], width=1.6, name="ground")
    sheet.line([frame.at(*known[-1]), frame.at(*end)], width=1.2, dash=DASHED)


def draw_ditch_water(
    sheet: Sheet, frame: Frame, scene: LongSection, ordinary: float | None, high: float | None
) -> None:
    """Draw ordinary water solid and high water dashed, inside the ditch as far as it is known."""
    outline = scene.ditch.outline
    if ordinary is not None:
        shore = _between_banks(outline, ordinary)
        if outline and len(shore) > 2:
            sheet.line([frame.at(*p) for p in shore], fill=WATER_FILL, stroke="none")
        ends = (shore[0], shore[-1]) if shore else ((-BEFORE, ordinary), (0.0, ordinary))
        sheet.line([frame.at(*p) for p in ends], stroke=WATER, width=1.8, name="ditch-ordinary")
    if high is not None:
        shore = _between_banks(outline, high)
        ends = (shore[0], shore[-1]) if shore else ((-BEFORE, high), (0.0, high))
        sheet.line(
            [frame.at(*p) for p in ends], stroke=WATER, width=1.3, dash="6 4", name="ditch-high"
        )
    if not outline and scene.ditch.bottom is not None:
        z = scene.ditch.bottom.elevation
        ends = ((-BEFORE, z), (0.0, z))
        sheet.line([frame.at(*p) for p in ends], width=1.6, name="ditch-bottom")


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


def draw_chips(
    sheet: Sheet, frame: Frame, media: MediaPart, line: WaterLine | None, *, plain: bool = False
) -> None:
    """Draw the chips, wet under the surface of a line, and the cut above them."""
    outline = [frame.at(*p) for p in media.outline]
    for fill in (CHIPS_FILL,) if plain else (CHIPS_FILL, "url(#chips)"):
        sheet.line(outline, fill=fill, stroke="none")
    if line is not None and line.surface:
        wet = [frame.at(*p) for p in _wet_of(media, line)]
        sheet.line(wet, fill=WATER_FILL, stroke="none", opacity=0.8)
        sheet.line(wet, fill="url(#wet)", stroke="none")
    sheet.line(outline, fill="none", stroke=CHIPS, width=1.4, name="chips")
    draw_cut(sheet, frame, media)


def _wet_of(media: MediaPart, line: WaterLine) -> list[Point]:
    """The chips under the surface, level water beside the ends of the flow length."""
    (_, top), low, high, _ = media.outline
    slope = media.side_slope

    def shore(toe: Point, level: float, way: float) -> Point:
        z = min(max(level, toe[1]), top)
        return toe[0] + way * slope * (z - toe[1]), z

    first, last = line.surface[0], line.surface[-1]
    inside = [
        (x, min(z, top))
        for x, z in line.surface
        if shore(low, z, -1.0)[0] <= x <= shore(high, z, 1.0)[0]
    ]
    return [high, shore(high, first[1], 1.0), *inside, shore(low, last[1], -1.0), low]


def draw_cut(sheet: Sheet, frame: Frame, media: MediaPart) -> None:
    """Draw the sides of the cut and the crown over it."""
    if media.ground is None or media.cut_margin is None:
        return
    z, margin = media.ground.elevation, media.cut_margin
    for toe, floor, way in (
        (media.low, media.floor_low, -1.0),
        (media.high, media.floor_high, 1.0),
    ):
        side = [frame.at(toe, floor.elevation), frame.at(toe + way * margin, z)]
        sheet.line(side, dash=DASHED, width=0.9, name="cut")
    if media.crown:
        left, right, top = media.low - margin, media.high + margin, z + media.crown
        crown = ((left, z), (left + margin, top), (right - margin, top), (right, z))
        sheet.line([frame.at(*p) for p in crown], width=0.9, dash="2 2", name="crown")


def draw_pipe(sheet: Sheet, frame: Frame, pipe: PipePart, line: WaterLine | None) -> None:
    """Draw a pipe between invert and crown, filled where the line stands over its crown."""
    bore, low, high = pipe.diameter, pipe.invert_low.elevation, pipe.invert_high.elevation
    shape = (
        (pipe.low, low),
        (pipe.high, high),
        (pipe.high, high + bore),
        (pipe.low, low + bore),
    )
    level = None if line is None else line.level("outlet_box")
    is_full = level is not None and pipe.name != "return" and level.elevation >= high + bore
    sheet.line(
        [frame.at(*p) for p in shape],
        fill=WATER_FILL if is_full else PAPER,
        stroke=STRUCTURE,
        width=1.2,
        name=pipe.name,
    )


def draw_pipes(sheet: Sheet, frame: Frame, scene: LongSection, line: WaterLine | None) -> None:
    """Draw return, bed outlet and feed, and the headers cut across."""
    for pipe in (scene.outflow, scene.drain, scene.feed):
        if pipe is not None:
            draw_pipe(sheet, frame, pipe, line)
    for header in scene.headers:
        radius = header.diameter / 2
        sheet.oval(
            frame.at(header.at, header.floor.elevation + radius),
            radius * frame.across,
            radius * frame.up,
            name=header.name,
        )


def draw_bypass(sheet: Sheet, frame: Frame, scene: LongSection) -> Point | None:
    """Draw the main past the bed, broken, since its way has another length; where it is broken."""
    bypass = scene.bypass
    if bypass is None:
        return None
    left, right = bypass.low, scene.inlet.low
    middle = left + 0.36 * (right - left)
    for rise in (0.0, bypass.diameter):
        ends = (
            (left, bypass.invert_low.elevation + rise),
            (right, bypass.invert_high.elevation + rise),
        )
        name = "" if rise else "bypass"
        sheet.line([frame.at(*p) for p in ends], stroke=STRUCTURE, dash="7 4", width=0.9, name=name)
    share = (middle - left) / (right - left)
    z = bypass.invert_low.elevation
    z += share * (bypass.invert_high.elevation - z) + bypass.diameter / 2
    x, y = frame.at(middle, z)
    half = bypass.diameter / 2 * frame.up + 6
    for step in (-3.0, 3.0):
        zigzag = ((step, half), (step - 3, 3), (step + 3, -3), (step, -half))
        sheet.line([(x + dx, y + dy) for dx, dy in zigzag], stroke=STRUCTURE, width=0.9)
    return x, y


def draw_old_main(sheet: Sheet, frame: Frame, scene: LongSection, right: float) -> None:
    """Draw the main as it comes in from the field."""
    main = scene.main
    above = () if main is None else main.segments
    behind = next((s for s in above if main and s.low <= main.diversion < s.high), None)
    if main is None or behind is None:
        return
    fall = behind.invert_high.elevation - behind.invert_low.elevation
    grade = fall / (behind.high - behind.low)
    start = main.invert_diversion.elevation
    for rise in (0.0, behind.diameter):
        ends = (
            (scene.inlet.high, start + rise),
            (right, start + rise + grade * (right - scene.inlet.high)),
        )
        sheet.line([frame.at(*p) for p in ends], stroke=STRUCTURE, width=1.3)


def draw_box(
    sheet: Sheet, frame: Frame, box: StructurePart, setting: str, level: float | None
) -> None:
    """Draw a structure with its water and its boards.

    The feed leaves the diversion before its boards, so there they are seen from upstream, over the
    whole box; the outlet boards are cut through.
    """
    if box.floor is None or box.rim is None:
        return
    floor, rim = box.floor.elevation, box.rim.elevation
    sheet.box(frame.at(box.low, floor), frame.at(box.high, rim), fill=PAPER, stroke="none")
    across = box.name == "outlet"
    if level is not None:
        left = box.middle if across else box.low
        sheet.box(
            frame.at(left, floor),
            frame.at(box.high, max(level, floor)),
            fill=WATER_FILL,
            stroke="none",
        )
    boards = box.setting(setting)
    if boards is not None and box.sill is not None:
        _draw_boards(sheet, frame, box, box.sill.elevation, boards.crest.elevation, across)
        if not across:
            _draw_joints(sheet, frame, box, box.sill.elevation, boards.stack)
    sheet.box(
        frame.at(box.low, floor),
        frame.at(box.high, rim),
        width=1.6,
        name=f"{box.name}-structure",
    )


def _draw_boards(
    sheet: Sheet, frame: Frame, box: StructurePart, sill: float, crest: float, across: bool
) -> None:
    left, top = frame.at(box.low, crest)
    right, base = frame.at(box.high, sill)
    middle = frame.at(box.middle, 0.0)[0]
    if across:
        left, right = middle - 1.4, middle + 1.4
    name = f"{box.name}-boards"
    fill = STRUCTURE if across else SOIL
    sheet.box((left, base), (right, top), fill=fill, stroke=STRUCTURE, width=0.8, name=name)
    over = 0.0 if across else 3.0
    sheet.line(((left - over, top), (right + over, top)), width=2.0)


def _draw_joints(
    sheet: Sheet, frame: Frame, box: StructurePart, sill: float, stack: tuple[float, ...]
) -> None:
    z = sill
    for board in stack[:-1]:
        z += board
        sheet.line((frame.at(box.low, z), frame.at(box.high, z)), stroke=STRUCTURE, width=0.6)


def draw_water(
    sheet: Sheet, frame: Frame, scene: LongSection, line: WaterLine, style: Style
) -> None:
    """Draw where water stands, from the diversion through the chips to the outlet boards."""
    levels = {node: level.elevation for node, level in line.nodes}
    inlet, outlet = scene.inlet, scene.outlet
    points = [(inlet.high, levels["diversion"]), (inlet.low, levels["diversion"])]
    if line.surface:
        points.append((line.surface[0][0], levels["inlet_header"]))
        points += line.surface
        points.append((line.surface[-1][0], levels["outlet_header"]))
    points += [(outlet.high, levels["outlet_box"]), (outlet.middle, levels["outlet_box"])]
    sheet.line(
        [frame.at(*p) for p in points],
        stroke=WATER,
        width=style.width,
        dash=style.dash,
        name=f"water-{line.name}",
    )


def draw_groundwater(sheet: Sheet, frame: Frame, scene: LongSection, right: float) -> None:
    """Draw the groundwater that the design counts with, in the soil behind the diversion."""
    for words, level in scene.groundwater:
        ends = (
            frame.at(scene.inlet.high + 0.25, level.elevation),
            frame.at(right, level.elevation),
        )
        sheet.line(ends, stroke=MUTED, width=1.1, dash="10 3 2 3 2 3", name=f"groundwater-{words}")
        sheet.water_mark((ends[1][0] - 8, ends[1][1]), stroke=INK)
