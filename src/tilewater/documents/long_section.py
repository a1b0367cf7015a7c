# SPDX-License-Identifier: Apache-2.0
"""The long section of a designed bed with the water standing in it, as drawings to scale.

Each drawing is made for the room that a page or a sheet gives it, at the largest usual scale that
fits; `draw_long_section` sets them together on one sheet of 11 by 17 inches, which grows longer
where there is more to say. Nothing is computed here.
"""

from tilewater.basis.units import System
from tilewater.chain.scene import LongSection
from tilewater.documents.drawing.model import Drawing, Placed, Sheet
from tilewater.documents.drawing.svg import to_svg
from tilewater.documents.profile.notes import (
    legend_drawing,
    missing_drawing,
    remarks_drawing,
    title_drawing,
    unknown_drawing,
)
from tilewater.documents.profile.reach import TITLE as REACH
from tilewater.documents.profile.reach import draw_reach
from tilewater.documents.profile.seasons import draw_season, draw_season_levels
from tilewater.documents.profile.way import draw_way
from tilewater.documents.scales import Figures, foot_of

WIDTH, HEIGHT = 431.8, 279.4
"""A sheet of 11 by 17 inches, lying. [mm]"""
MARGIN, GAP = 8.0, 5.0
WIDE = 300.0
"""Width of the wide column. [mm]"""
SEASON_HEIGHT = 46.0


def long_section_drawing(
    scene: LongSection, units: System = "us", *, width_mm: float = 250.0, height_mm: float = 150.0
) -> Drawing:
    """Draw the practice along the way of its water, with its levels.

    Parameters
    ----------
    scene : LongSection
        From `tilewater.chain.scene.long_section_scene`.
    units : "us" or "si"
        Units of the reader.
    width_mm, height_mm : float
        Room on paper; the drawing takes the width and no more height than it needs. [mm]

    Returns
    -------
    Drawing
        Distances from the end of the return are its x, elevations its y. [m]

    Raises
    ------
    OutOfDomain
        If it has too little room.
    """
    return draw_way(scene, _figures(scene, units), width_mm, height_mm)


def season_drawings(
    scene: LongSection, units: System = "us", *, width_mm: float = 120.0, height_mm: float = 70.0
) -> tuple[Drawing, ...]:
    """Draw a small section for each season, with its own boards and ditch.

    Parameters
    ----------
    scene, units, width_mm, height_mm
        As of `long_section_drawing`; the room is that of each drawing.

    Returns
    -------
    tuple of Drawing

    Raises
    ------
    OutOfDomain
        If they have too little room.
    """
    figures = _figures(scene, units)
    return tuple(draw_season(scene, figures, line, width_mm, height_mm) for line in scene.seasons)


def season_levels_drawing(
    scene: LongSection, units: System = "us", *, width_mm: float = 250.0
) -> Drawing:
    """Write the levels of all seasons node by node, as a table.

    Parameters
    ----------
    scene, units, width_mm
        As of `long_section_drawing`.

    Returns
    -------
    Drawing
    """
    return draw_season_levels(scene, _figures(scene, units), width_mm)


def main_reach_drawing(
    scene: LongSection,
    units: System = "us",
    *,
    width_mm: float = 250.0,
    height_mm: float = 90.0,
    by_season: bool = False,
) -> Drawing:
    """Draw the main by its stations, past the bed and up the field, with pool and low spots.

    Parameters
    ----------
    scene, units, width_mm, height_mm
        As of `long_section_drawing`.
    by_season : bool
        Whether the pools of seasons with lower boards are drawn too.

    Returns
    -------
    Drawing
        Stations of the main are its x, elevations its y; words only where the main is not known.

    Raises
    ------
    OutOfDomain
        If it has too little room.
    """
    figures = _figures(scene, units)
    if scene.main is None:
        return unknown_drawing(REACH, scene, figures, width_mm)
    return draw_reach(scene, figures, scene.main, width_mm, height_mm, by_season=by_season)


def long_section_sheet(scene: LongSection, units: System = "us") -> Sheet:
    """Set all drawings of the long section together on one sheet.

    Parameters
    ----------
    scene : LongSection
    units : "us" or "si"

    Returns
    -------
    Sheet
        Of 11 by 17 inches, or longer.
    """
    figures = _figures(scene, units)
    beside = WIDTH - 2 * MARGIN - WIDE - 2 * GAP
    left = [
        long_section_drawing(scene, units, width_mm=WIDE, height_mm=165.0),
        main_reach_drawing(scene, units, width_mm=WIDE, height_mm=74.0),
        season_levels_drawing(scene, units, width_mm=WIDE),
        remarks_drawing(scene, figures, WIDE),
    ]
    right = [
        *season_drawings(scene, units, width_mm=beside, height_mm=SEASON_HEIGHT),
        legend_drawing(figures, beside),
    ]
    if scene.missing:
        right.append(missing_drawing(scene, figures, beside))
    title = title_drawing(scene, figures, WIDTH - 2 * MARGIN)
    top = MARGIN + title.frame.height_mm + GAP
    height = max(HEIGHT, top + max(_height(left), _height(right)) + MARGIN - GAP)
    placed = [
        Placed(title, MARGIN, height - MARGIN - title.frame.height_mm),
        *_column(left, MARGIN, height - top),
        *_column(right, MARGIN + WIDE + 2 * GAP, height - top),
    ]
    about = "; ".join(f"not drawn: {each.what}" for each in scene.missing)
    return Sheet(f"Long section: {scene.title}", WIDTH, height, tuple(placed), about)


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
        An SVG file that names no outside address. Its groups `data-drawing` say how metres fall on
        the sheet, each elevation carries its key as `data-key`.
    """
    return to_svg(long_section_sheet(scene, units), hold_widths=True)


def _figures(scene: LongSection, units: System) -> Figures:
    foot = foot_of(scene.foot)
    return Figures(units, foot)


def _height(drawings: list[Drawing]) -> float:
    return sum(drawing.frame.height_mm + GAP for drawing in drawings)


def _column(drawings: list[Drawing], left: float, top: float) -> list[Placed]:
    placed, y = [], top
    for drawing in drawings:
        placed.append(Placed(drawing, left, y - drawing.frame.height_mm))
        y -= drawing.frame.height_mm + GAP
    return placed
