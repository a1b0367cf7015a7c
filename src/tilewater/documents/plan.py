# SPDX-License-Identifier: Apache-2.0
"""The plan of a designed bed as a drawing, in the job's own grid, north up.

Coordinates of the drawing are east and north in metres, so its DXF lies where the site lies. While
the grid of the main is not known it is drawn by station and offset, and says so. Nothing is
computed here: the drawing shows the record of `tilewater.chain.scene_plan`.
"""

from dataclasses import replace
from itertools import chain

from tilewater.basis.units import System
from tilewater.chain.scene_plan_records import Measured, PlanScene, Point
from tilewater.documents.drawing.frame import MM, Frame, Sides, fitted_frame, paper_frame
from tilewater.documents.drawing.furniture import north_arrow
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import SMALL, Drawing, Mark
from tilewater.documents.plan_labels import (
    on_the_main,
    write_dimensions,
    write_labels,
    write_main_labels,
)
from tilewater.documents.plan_shapes import (
    Window,
    draw_bed,
    draw_marks,
    draw_pipes,
    draw_site,
    draw_spots,
    grid_step,
    rounds,
)
from tilewater.documents.plan_shots import write_shot_heights
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.room import write_head
from tilewater.documents.scales import Figures, foot_of

__all__ = ["main_plan_drawing", "plan_drawing"]

TITLE, WORKS_TITLE, MAIN_TITLE = "Plan", "Plan of the works", "Plan of the main"
GROUND_TITLE = "Ground as found"
LEAST = 90.0
"""Height of the smallest plan. [mm]"""
HAIR = 0.01
"""Room for the rounding of arithmetic. [mm]"""
FREE = Sides(left=26.0, bottom=26.0, right=22.0, top=34.0)
"""Room between the site and the edge of the paper. [mm]"""
EDGE = Sides(left=6.0, bottom=6.0, right=2.0, top=12.0)
"""Room between the frame of the plan and the edge of the paper. [mm]"""
NEAR_SITE = 30.0
"""Marks and shots this close to what is designed belong to the plan. [m]"""


def plan_drawing(
    scene: PlanScene,
    units: System = "us",
    *,
    width_mm: float = 380.0,
    height_mm: float = 250.0,
    works_only: bool = False,
    shot_heights: bool = False,
) -> Drawing:
    """Draw the plan of a bed with what is on its site.

    Parameters
    ----------
    scene : PlanScene
        From `tilewater.chain.scene_plan.plan_scene`.
    units : "us" or "si"
        Units of the reader.
    width_mm, height_mm : float
        Room on paper; the drawing takes the width and no more height than it needs. [mm]
    works_only : bool
        Whether only structures, bed and their pipes are shown, as large as they can be.
    shot_heights : bool
        Whether each shot has its height beside it, where that has room.

    Returns
    -------
    Drawing
        East and north are its x and y, or station and offset downward; words only where nothing
        has a place. [m]

    Raises
    ------
    OutOfDomain
        If it has too little room.
    """
    figures = _figures(scene, units)
    box = _works(scene) if works_only else _box(scene)
    if box is None:
        return _nothing(scene, figures, width_mm)
    title = WORKS_TITLE if works_only else GROUND_TITLE if shot_heights else TITLE
    plot, window = _framed(box, figures, width_mm, height_mm)
    given, scene = scene, _shown_whole(scene, window)
    write_head(plot, figures, f"{title}: {_note(scene, units)}")
    _write_grid(plot, figures, scene, window)
    draw_site(plot, window, scene)
    draw_bed(plot, scene)
    draw_pipes(plot, window, scene)
    draw_marks(plot, window, scene)
    _draw_north(plot, scene)
    write_dimensions(plot, figures, scene)
    without = write_labels(plot, figures, scene, window)
    if shot_heights:
        without += write_shot_heights(plot, figures, scene, window)
    if not works_only:
        without += _past_the_frame(given, scene)
    return _finished(plot, figures, scene, title, without)


def main_plan_drawing(
    scene: PlanScene, units: System = "us", *, width_mm: float = 380.0, height_mm: float = 250.0
) -> Drawing:
    """Draw the plan of the whole main, with the bed, low spots, junctions and property line.

    Parameters
    ----------
    scene, units, width_mm, height_mm
        As of `plan_drawing`.

    Returns
    -------
    Drawing
        East and north are its x and y, or station and offset downward. [m]

    Raises
    ------
    OutOfDomain
        If it has too little room.
    """
    figures = _figures(scene, units)
    points = [p for _, line in scene.main for p in line] + [mark.at for mark in scene.marks]
    points += [p for outline in scene.outlines for p in outline.corners]
    if len(points) < 2:
        return _nothing(scene, figures, width_mm)
    plot, window = _framed(_around(points), figures, width_mm, height_mm)
    write_head(plot, figures, f"{MAIN_TITLE}: {_note(scene, units)}")
    _write_grid(plot, figures, scene, window)
    draw_site(plot, window, scene)
    draw_bed(plot, scene)
    draw_pipes(plot, window, scene)
    draw_spots(plot, window, on_the_main(scene))
    _draw_north(plot, scene)
    without = write_main_labels(plot, figures, scene, window)
    return _finished(plot, figures, scene, MAIN_TITLE, without)


def _figures(scene: PlanScene, units: System) -> Figures:
    foot = foot_of(scene.foot)
    return Figures(units, foot)


def _framed(
    box: tuple[Point, Point], figures: Figures, width_mm: float, height_mm: float
) -> tuple[Plot, Window]:
    """Paper no higher than the ground needs, and the window of ground that is shown on it."""
    units = figures.units
    frame = fitted_frame(*box, width_mm=width_mm, height_mm=height_mm, units=units, free=FREE)
    high = FREE.top + FREE.bottom + HAIR + (box[1][1] - box[0][1]) * MM / frame.scale_y
    high = max(high, LEAST)
    frame = fitted_frame(*box, width_mm=width_mm, height_mm=high, units=units, free=FREE)
    low = frame.ground((EDGE.left, EDGE.bottom))
    return Plot(frame, 0.0), Window(low, frame.ground((width_mm - EDGE.right, high - EDGE.top)))


def _nothing(scene: PlanScene, figures: Figures, width_mm: float) -> Drawing:
    plot = Plot(paper_frame(width_mm, 20.0), 0.0)
    plot.write((0.0, 14.0), TITLE, weight="semibold")
    plot.write((0.0, 8.0), "not known: see what is not drawn", layer="label-muted")
    return plot.drawing(TITLE, figures, _about(scene))


def _about(scene: PlanScene) -> str:
    return "; ".join(f"not drawn: {each.what}" for each in scene.missing)


def _finished(
    plot: Plot, figures: Figures, scene: PlanScene, title: str, without: tuple[str, ...]
) -> Drawing:
    """The drawing, with words on what found no room."""
    about = _about(scene)
    if without:
        words = f"No room for: {'; '.join(without)}"
        shown = words
        if text_width(shown, SMALL) > plot.frame.width_mm:
            shown = f"No room for {len(without)} labels; they stand in the set on larger paper."
        plot.write((0.0, plot.frame.height_mm - 8.6), shown, layer="label-muted")
        about = "; ".join(part for part in (about, words.lower()) if part)
    return plot.drawing(title, figures, about)


def _note(scene: PlanScene, units: System) -> str:
    if not scene.is_grid:
        return "by station and offset: where the main lies in the grid is not known"
    foot = "US survey foot" if scene.foot == "us survey foot" else scene.foot
    unit = foot if units == "us" else "in metres"
    return ", ".join(words for words in (scene.grid or "grid of the job", unit) if words)


def _box(scene: PlanScene) -> tuple[Point, Point] | None:
    """Corners of what is designed, with the bank beside it and the marks near it."""
    built = [p for outline in scene.outlines for p in outline.corners]
    built += [p for pipe in scene.pipes for p in pipe.line]
    built += [p for line in scene.lines if line.kind == "distribution line" for p in line.line]
    if len(built) < 2:
        built += [at for _, at in scene.stations[:2]]
    if len(built) < 2:
        return None
    low, high = _around(built)
    near = Window(
        (low[0] - NEAR_SITE, low[1] - NEAR_SITE), (high[0] + NEAR_SITE, high[1] + NEAR_SITE)
    )
    marks = [mark.at for mark in scene.marks if mark.kind in ("bore hole", "benchmark")]
    ditch = [p for line in scene.lines if "bank" in line.kind for p in line.line]
    rest = chain(marks, ditch, scene.right_of_way)
    return _around([*built, *(point for point in rest if near.holds(point))])


def _works(scene: PlanScene) -> tuple[Point, Point] | None:
    """Corners of what is dug and set: structures, bed and the pipes that are laid to them."""
    parts = [each for each in scene.outlines if each.part in ("structure", "cut")]
    points = [p for outline in parts for p in outline.corners]
    points += [p for pipe in scene.pipes for p in pipe.line]
    return _around(points) if len(points) > 1 else None


def _shown_whole(scene: PlanScene, window: Window) -> PlanScene:
    """A scene with those distances alone of which both ends are shown."""

    def is_shown(each: Measured) -> bool:
        return window.holds(each.start) and window.holds(each.end)

    away = scene.right_of_way_width
    return replace(
        scene,
        distances=tuple(filter(is_shown, scene.distances)),
        right_of_way_width=away if away is not None and is_shown(away) else None,
    )


def _past_the_frame(given: PlanScene, shown: PlanScene) -> tuple[str, ...]:
    """Distances that would run past the frame, by what they are."""
    kept = {each.key for each in shown.distances}
    gone = [each.words for each in given.distances if each.key not in kept]
    if given.right_of_way_width is not None and shown.right_of_way_width is None:
        gone.append(given.right_of_way_width.words)
    return tuple(dict.fromkeys(gone))


def _around(points: list[Point]) -> tuple[Point, Point]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _write_grid(plot: Plot, figures: Figures, scene: PlanScene, window: Window) -> None:
    """Write crosses and, at the frame, the coordinates of each row and column."""
    unit = figures.metre_per_unit
    step = grid_step(plot.frame, unit)
    (x0, y0), (x1, y1) = window.low, window.high
    plot.shape(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), "grid", closed=True, name="frame")
    xs, ys = list(rounds(x0, x1, step)), list(rounds(y0, y1, step))
    for x in xs:
        for y in ys:
            plot.entities.append(Mark((x, y), "point", "grid"))
    for x in xs:
        words = _coordinate("E", x, unit) if scene.is_grid else figures.station(x)
        at = plot.frame.paper((x, y0))
        if _fits(at[0], words, plot.frame.width_mm):
            plot.write((at[0], at[1] - 1.2), words, layer="label-muted", across="middle", up="top")
    for y in ys:
        words = _coordinate("N", y, unit) if scene.is_grid else figures.fall(-y)
        at = plot.frame.paper((x0, y))
        if _fits(at[1], words, plot.frame.height_mm - EDGE.top):
            plot.write(
                (at[0] - 1.2, at[1]), words, layer="label-muted", across="middle", angle_deg=90.0
            )


def _coordinate(letter: str, value: float, unit: float) -> str:
    return f"{letter} {value / unit:,.0f}"


def _fits(at: float, words: str, room: float) -> bool:
    half = text_width(words, SMALL) / 2
    return half + EDGE.left < at < room - half


def _draw_north(plot: Plot, scene: PlanScene) -> None:
    if scene.is_grid:
        at = _north_place(plot.frame)
        plot.entities += north_arrow(plot.frame.ground(at))
        plot.write((at[0], at[1] + 8.4), "N", across="middle", weight="semibold")


def _north_place(frame: Frame) -> Point:
    return EDGE.left + 10.0, frame.height_mm - EDGE.top - 17.0
