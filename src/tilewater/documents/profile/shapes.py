# SPDX-License-Identifier: Apache-2.0
"""The practice along the way of its water: ground, pit, chips, pipes and boxes. Shapes only."""

from tilewater.chain.scene import LongSection, MediaPart, PipePart, StructurePart, WaterLine
from tilewater.documents.drawing.frame import Point
from tilewater.documents.drawing.model import Circle
from tilewater.documents.profile.extent import ground_of
from tilewater.documents.profile.plot import Plot

BREAK_AT = 0.36
"""Where the main past the bed is drawn broken, as a share of its way."""


def draw_earth(plot: Plot, scene: LongSection, right: float) -> None:
    """Fill the soil and draw its surface; where the bank is not known the soil breaks off."""
    ground, base = ground_of(scene), plot.base
    if not ground:
        return
    outline = list(reversed(scene.ditch.outline))
    known = [*outline[:-1], *ground] if outline else ground
    end = (right, known[-1][1])
    plot.fill([*known, end, (right, base), (known[0][0], base)], "soil")
    if not outline:
        _break_off(plot, known[0], base)
    plot.shape(known, "ground", name="ground")
    plot.shape((known[-1], end), "ground-unknown")


def _break_off(plot: Plot, top: Point, base: float) -> None:
    """Draw the zigzag of soil that goes on where nothing is known of it."""
    (x, high), low = plot.frame.paper(top), plot.frame.paper((top[0], base))[1]
    middle = (high + low) / 2
    points = ((x, low), (x, middle - 2), (x - 1.2, middle - 0.7), (x + 1.2, middle + 0.7))
    plot.rule((*points, (x, middle + 2), (x, high)))


def draw_chips(plot: Plot, media: MediaPart, line: WaterLine | None) -> None:
    """Draw the chips, wet under the surface of a line, in their pit under their cover."""
    _draw_pit(plot, media)
    plot.fill(media.outline, "chips")
    if line is not None and line.surface:
        wet = _wet_of(media, line)
        plot.fill(wet, "wet-chips", name=f"wet-{line.name}")
        plot.fill(wet, "drowned-chips")
    plot.shape(media.outline, "chips-edge", closed=True, name="chips")


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


def _draw_pit(plot: Plot, media: MediaPart) -> None:
    """Draw the sides of the pit, what fills it over the chips, and the crown."""
    if media.ground is None or media.cut_margin is None:
        return
    z, margin = media.ground.elevation, media.cut_margin
    left, right = media.low - margin, media.high + margin
    toes = (media.low, media.floor_low.elevation), (media.high, media.floor_high.elevation)
    crown: tuple[Point, ...] = ()
    if media.crown:
        top = z + media.crown
        crown = ((right - margin, top), (left + margin, top))
    plot.fill(((left, z), *toes, (right, z), *crown), "cover")
    plot.shape(((left, z), toes[0]), "excavation", name="cut")
    plot.shape((toes[1], (right, z)), "excavation", name="cut")
    if crown:
        plot.shape(((right, z), *crown, (left, z)), "ground-finished", name="crown")


def draw_pipes(plot: Plot, scene: LongSection, line: WaterLine | None) -> None:
    """Draw return, bed outlet and feed, and the headers cut across."""
    for pipe in (scene.outflow, scene.drain, scene.feed):
        if pipe is not None:
            _draw_pipe(plot, pipe, line)
    for header in scene.headers:
        radius = header.diameter / 2
        centre = header.at, header.floor.elevation + radius
        plot.entities.append(Circle(centre, radius, "pipe-hidden", "paper", header.name))


def _draw_pipe(plot: Plot, pipe: PipePart, line: WaterLine | None) -> None:
    """Draw a pipe between invert and crown, filled where the line stands over its crown."""
    bore, low, high = pipe.diameter, pipe.invert_low.elevation, pipe.invert_high.elevation
    bottom = (pipe.low, low), (pipe.high, high)
    top = (pipe.high, high + bore), (pipe.low, low + bore)
    node = "inlet_header" if pipe.name == "feed" else "outlet_box"
    level = None if line is None else line.level(node)
    is_full = level is not None and pipe.name != "return" and level.elevation >= high + bore
    plot.fill((*bottom, *top), "water" if is_full else "paper")
    plot.shape((*bottom, *top), "pipe-cut", closed=True, name=pipe.name)


def draw_bypass(plot: Plot, scene: LongSection) -> None:
    """Draw the main past the bed, broken, since its way has another length."""
    bypass = scene.bypass
    if bypass is None:
        return
    left, right = bypass.low, scene.inlet.low
    for rise in (0.0, bypass.diameter):
        ends = (
            (left, bypass.invert_low.elevation + rise),
            (right, bypass.invert_high.elevation + rise),
        )
        plot.shape(ends, "hidden", name="" if rise else "bypass")
    low, high = bypass.invert_low.elevation, bypass.invert_high.elevation
    z = low + BREAK_AT * (high - low) + bypass.diameter / 2
    x, y = plot.frame.paper((left + BREAK_AT * (right - left), z))
    half = plot.frame.paper((0.0, z + bypass.diameter / 2))[1] - y + 1.2
    for step in (-0.7, 0.7):
        zigzag = ((step, -half), (step - 0.7, -0.6), (step + 0.7, 0.6), (step, half))
        plot.rule(((x + dx, y + dy) for dx, dy in zigzag))


def draw_old_main(plot: Plot, scene: LongSection, right: float) -> None:
    """Draw the main as it comes in from the field."""
    main = scene.main
    above = () if main is None else main.segments
    behind = next((s for s in above if main and s.low <= main.diversion < s.high), None)
    if main is None or behind is None:
        return
    fall = behind.invert_high.elevation - behind.invert_low.elevation
    grade = fall / (behind.high - behind.low)
    start, near = main.invert_diversion.elevation, scene.inlet.high
    far = start + grade * (right - near)
    bore = behind.diameter
    plot.fill(((near, start), (right, far), (right, far + bore), (near, start + bore)), "water")
    for rise in (0.0, bore):
        plot.shape(((near, start + rise), (right, far + rise)), "pipe")


BOARD_MM = 0.9
"""Thickness of boards that are cut through. [mm on paper]"""


def draw_box(plot: Plot, box: StructurePart, setting: str, level: float | None) -> None:
    """Draw a structure with its water and its boards.

    The feed leaves the diversion before its boards, so there they are seen from upstream, over the
    whole box; the outlet boards are cut through.
    """
    if box.floor is None or box.rim is None:
        return
    floor, rim = box.floor.elevation, box.rim.elevation
    is_cut = box.name == "outlet"
    plot.fill(corners_of(box.low, floor, box.high, rim), "paper")
    if level is not None and level > floor:
        left = box.middle if is_cut else box.low
        plot.fill(corners_of(left, floor, box.high, level), "water")
    boards = box.setting(setting)
    if boards is not None and box.sill is not None:
        half = BOARD_MM / 2 * plot.frame.scale_x / 1000.0
        ends = (box.middle - half, box.middle + half) if is_cut else (box.low, box.high)
        _draw_boards(plot, box, ends, box.sill.elevation, boards.crest.elevation)
        if not is_cut:
            z = box.sill.elevation
            for board in boards.stack[:-1]:
                z += board
                plot.shape(((box.low, z), (box.high, z)), "structure")
    corners = corners_of(box.low, floor, box.high, rim)
    plot.shape(corners, "structure-cut", closed=True, name=f"{box.name}-structure")


def _draw_boards(
    plot: Plot, box: StructurePart, ends: tuple[float, float], sill: float, crest: float
) -> None:
    corners = corners_of(ends[0], sill, ends[1], crest)
    plot.fill(corners, "structure")
    plot.shape(corners, "structure", closed=True, name=f"{box.name}-boards")


def corners_of(left: float, low: float, right: float, high: float) -> tuple[Point, ...]:
    """Corners of a rectangle."""
    return (left, low), (right, low), (right, high), (left, high)
