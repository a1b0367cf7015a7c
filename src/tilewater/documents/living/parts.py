# SPDX-License-Identifier: Apache-2.0
"""Parts that every practice shows: structures with their boards, pipes, the ditch."""

from collections.abc import Sequence
from itertools import pairwise

from tilewater.chain.scene_records import DitchPart, Level, Setting, StructurePart
from tilewater.documents.living.labels import Label, Run, Spot
from tilewater.documents.living.panel import Panel, Point
from tilewater.documents.living.stage import Stage

BOARD_PX = 7.0
"""Thickness of boards that are cut through. [px]"""
SEAM_PX = 1.0
"""White between boards. [px]"""
INSIDE_PX = 85.0
"""Width of a ditch in which its water can be named. [px]"""
OFF = 4.0
"""From an invert or a wall to the bar that marks what binds. [px]"""
DESIGN = "design"


def draw_box(
    stage: Stage,
    panel: Panel,
    box: StructurePart,
    *,
    title: str,
    level: float | None,
    below: float | None = None,
    boards_at: float = 0.5,
) -> None:
    """Draw a structure with the water before its boards, its boards, and what they are.

    Parameters
    ----------
    stage : Stage
    panel : Panel
    box : StructurePart
    title : str
        What it is called before the height of its boards.
    level, below : float or None
        Water before the boards, toward the field, and behind them. [m]
    boards_at : float
        Where the boards stand, as a share of the box from the ditch. [-]
    """
    if box.floor is None or box.rim is None:
        return
    canvas = stage.canvas
    left, right = panel.x(box.low), panel.x(box.high)
    top, bottom = panel.y(box.rim.elevation), panel.y(box.floor.elevation)
    middle = left + boards_at * (right - left)
    canvas.rect(left, top, right, bottom, "l-inside")
    for water, start, end in ((level, middle, right), (below, left, middle)):
        if water is not None and water > box.floor.elevation:
            y = panel.y(min(water, box.rim.elevation))
            canvas.rect(start, y, end, bottom, "l-pool", name=f"{box.name}-water")
            canvas.stroke(((start, y), (end, y)), "l-level")
    boards = box.setting(stage.setting) or box.setting(DESIGN)
    if boards is not None and box.sill is not None:
        draw_boards(stage, panel, box.name, boards, box.sill.elevation, middle)
    binds = stage.binds.is_at(f"{box.name} structure", "structure")
    canvas.rect(left, top, right, bottom, "l-box", name=f"{box.name}-structure")
    if binds:
        crest = f"elevations.{box.name}_crest"
        if boards is not None and stage.binds.key.startswith(crest):
            y = panel.y(boards.crest.elevation)
            bar = ((left - OFF, y), (right + OFF, y))
        else:
            bar = ((left - OFF, top), (left - OFF, bottom))
        canvas.stroke(bar, "l-binds", name="binds")
    _say_box(stage, panel, box, boards, title, top)
    stage.labels.keep(left, top, right, bottom)


def draw_boards(
    stage: Stage, panel: Panel, name: str, boards: Setting, sill: float, x: float
) -> None:
    """Draw each board of a stack, from the sill up, as high as it is."""
    z = sill
    for number, height in enumerate(boards.stack):
        upper = min(z + height, boards.crest.elevation)
        y, foot = panel.y(upper), panel.y(z)
        seam = min(SEAM_PX, 0.3 * (foot - y))
        stage.canvas.rect(
            x - BOARD_PX / 2, y + (seam if number + 1 < len(boards.stack) else 0.0),
            x + BOARD_PX / 2, foot, "l-board", name=f"{name}-board",
        )  # fmt: skip
        z += height


def _say_box(
    stage: Stage,
    panel: Panel,
    box: StructurePart,
    boards: Setting | None,
    title: str,
    top: float,
) -> None:
    """Write how high the boards are over the structure, then crest and how far down they stand."""
    key = f"boards.{box.name}-{stage.setting}"
    if f"{key}.height_m" not in stage.trace:
        key = f"boards.{box.name}-{DESIGN}"
    head: tuple[Run, ...] = (Run(title, "", "s"),)
    lines: tuple[tuple[Run, ...], ...] = (head,)
    if boards is not None:
        head = (Run(f"{title} ", "", "s"), stage.run(f"{key}.height_m", "size", "s"))
        crest = stage.level(boards.crest, "m")
        down = stage.run(f"{key}.rim_down_m", "size", "m")
        lines = (head, (Run("crest ", "", "m"), crest, Run(" · down ", "", "m"), down))
    size = stage.labels.size
    middle = (panel.x(box.low) + panel.x(box.high)) / 2
    y = top - 7.0 - size * 1.2 * (len(lines) - 1)
    short = top - 7.0
    stage.labels.say(
        Label(
            lines,
            (
                Spot(middle, y, "middle"),
                Spot(panel.x(box.high), y, "end"),
                Spot(panel.x(box.low), y, "start"),
                Spot(middle, short, "middle"),
            ),
            needed=True,
            lead=(middle, top),
            rank=0,
            short=(head,),
        )
    )


def draw_pipe(
    stage: Stage,
    panel: Panel,
    low: Point,
    high: Point,
    bore: float,
    *,
    level: float | None,
    name: str,
) -> None:
    """Draw a pipe between its invert and its crown, and the water that stands in it."""
    corners = (low, high, (high[0], high[1] + bore), (low[0], low[1] + bore))
    is_full = level is not None and level >= max(low[1], high[1]) + bore
    stage.canvas.line(panel, corners, "l-full" if is_full else "l-pipe", name=name, closed=True)
    if level is None or is_full or level <= max(low[1], high[1]):
        return
    wet = (low, high, (high[0], level), (low[0], min(level, low[1] + bore)))
    stage.canvas.line(panel, wet, "l-pool", name=f"{name}-water", closed=True)
    stage.canvas.line(panel, corners, "l-outline", closed=True)


def draw_beside(
    stage: Stage, panel: Panel, low: Point, high: Point, bore: float, name: str
) -> None:
    """Draw the middle of a pipe that lies beside the section, dashed."""
    ends = (low[0], low[1] + bore / 2), (high[0], high[1] + bore / 2)
    stage.canvas.line(panel, ends, "l-beside", name=name)


def mark_line(stage: Stage, panel: Panel, points: Sequence[Point]) -> None:
    """Draw the bar of what binds under a line of the ground."""
    moved = [(panel.x(x), panel.y(z) + OFF) for x, z in points]
    stage.canvas.stroke(moved, "l-binds", name="binds")


def say_binds(stage: Stage, x: float, y: float, *, anchor: str = "middle") -> None:
    """Write how what binds stands to its limit, at its place."""
    if not stage.binds.says:
        return
    line = (Run(f"binds: {stage.binds.says}", stage.binds.value_key, "b s"),)
    places = tuple(
        Spot(x + dx, y + dy, a)  # type: ignore[arg-type]
        for dy in (0.0, 14.0, -14.0, 28.0)
        for dx, a in ((0.0, anchor), (6.0, "start"), (-6.0, "end"))
    )
    stage.labels.say(Label((line,), places, needed=True, lead=(x, y - 4.0), rank=0))


def between_banks(outline: Sequence[Point], level: float) -> list[Point]:
    """The section of a ditch under a level, from shore to shore."""
    wet: list[Point] = []
    if outline and level >= outline[0][1]:
        wet += [(outline[0][0], level), outline[0]]
    for (xa, za), (xb, zb) in pairwise(outline):
        if (za - level) * (zb - level) < 0:
            crossing = (xa + (za - level) / (za - zb) * (xb - xa), level)
            wet += [crossing, (xb, zb)] if zb < level else [crossing]
        elif zb <= level and za <= level:
            wet.append((xb, zb))
    if outline and level >= outline[-1][1]:
        wet.append((outline[-1][0], level))
    return wet


def draw_ditch(
    stage: Stage,
    panel: Panel,
    outline: Sequence[Point],
    ditch: DitchPart,
    shown: Level | None = None,
    *,
    when: str = "looked at",
    is_fed: bool = False,
) -> None:
    """Draw the water of a ditch, the highest ordinary one if no other, and its high water.

    Where a water table comes down to it the words stand under its surface.
    """
    season, ordinary = ditch.highest("ordinary") or ("", None)
    found = ditch.highest("high")
    level = shown or ordinary
    if level is not None:
        _ordinary_water(stage, panel, outline, level, when if shown else season, is_fed=is_fed)
    if found is not None:
        season, high = found
        shore = between_banks(outline, high.elevation)
        ends = (shore[0], shore[-1]) if len(shore) > 1 else _open_ends(panel, high.elevation)
        stage.canvas.line(panel, ends, "l-high", name="ditch-high")
        _say_water(
            stage, panel, ends, (Run("high ", "", "w"), stage.level(high, "w")), rank=2, down=4.0
        )
        stage.show("l-high", f"high water of the ditch, {season}", *_of(stage, high))
    if stage.binds.is_at("ditch") and level is not None:
        shore = between_banks(outline, level.elevation)
        ends = (shore[0], shore[-1]) if len(shore) > 1 else _open_ends(panel, level.elevation)
        y = panel.y(level.elevation)
        stage.canvas.stroke([(panel.x(x), y + 2.0) for x, _ in ends], "l-binds", name="binds")
        say_binds(stage, panel.x(max(x for x, _ in ends)) + 8.0, y + 16.0, anchor="start")


def _ordinary_water(
    stage: Stage,
    panel: Panel,
    outline: Sequence[Point],
    level: Level,
    when: str,
    *,
    is_fed: bool,
) -> None:
    z = level.elevation
    shore = between_banks(outline, z)
    if len(shore) > 2:
        stage.canvas.fill(panel, shore, "l-wash", name="ditch-pool")
    ends = (shore[0], shore[-1]) if len(shore) > 1 else _open_ends(panel, z)
    stage.canvas.line(panel, ends, "l-level", name="ditch-water")
    words = (Run("ditch ", "", "w"), stage.level(level, "w"))
    _say_water(stage, panel, ends, words, rank=1, down=17.0 if is_fed else 4.0)
    stage.show("l-level", f"water of the ditch, {when}", *_of(stage, level))


def _of(stage: Stage, level: Level) -> tuple[str, str]:
    return stage.figures.elevation(level.elevation), level.key


def _open_ends(panel: Panel, z: float) -> tuple[Point, Point]:
    """A short stretch at the left where the ditch has no shape yet."""
    start = panel.knots[0][0]
    return (start, z), (start + 40.0 * (panel.knots[1][0] - start) / max(
        1.0, panel.knots[1][1] - panel.left), z)  # fmt: skip


def _say_water(
    stage: Stage,
    panel: Panel,
    ends: Sequence[Point],
    line: tuple[Run, ...],
    *,
    rank: int,
    down: float,
) -> None:
    xs = [panel.x(x) for x, _ in ends]
    y = panel.y(ends[0][1])
    left, right = max(panel.left, min(xs)), max(xs)
    inside = (Spot(left + 30.0, y - 5.0),) if right - left > INSIDE_PX else ()
    stage.labels.say(
        Label(
            (line,),
            (
                *inside,
                Spot(right + 6.0, y + down),
                Spot(left + 2.0, y - 4.0),
                Spot(right + 6.0, y - 4.0),
                Spot(right + 5.0, y + 14.0),
                Spot(left + 2.0, y + 14.0),
            ),
            needed=not stage.is_narrow,
            lead=(right, y),
            rank=rank,
        )
    )
