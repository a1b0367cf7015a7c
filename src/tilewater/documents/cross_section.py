# SPDX-License-Identifier: Apache-2.0
"""The cross section of a bed as a drawing: one scale across and up, nothing exaggerated.

Nothing is computed here: the drawing shows the record of `tilewater.chain.scene_cross`.
"""

from math import atan2, degrees

from tilewater.basis.units import System, format_quantity
from tilewater.chain.scene_cross import CellCut, CrossSection, Length
from tilewater.documents.cross_labels import write_callouts, write_levels, write_widths
from tilewater.documents.cross_shapes import Profile, draw_cell, draw_soil
from tilewater.documents.drawing.frame import MM, Sides, fitted_frame
from tilewater.documents.drawing.model import SMALL, Circle, Dimension, Drawing, Mark, Part
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.room import write_head
from tilewater.documents.scales import Figures, foot_of

__all__ = ["cross_section_drawing"]

HAIR = 0.01
"""Room for the rounding of arithmetic. [mm]"""
BESIDE = 0.5
"""Ground shown beside the main and beside the cut. [m]"""
SLOPE_AWAY = 3.0
"""From a slope to its words. [mm]"""
APART = 3.0
"""Least room from one depth to the next. [mm]"""
BELOW = 0.75
"""Ground shown below the floor. [m]"""
FREE = Sides(left=45.0, bottom=13.0, right=41.5, top=34.0)


def cross_section_drawing(
    scene: CrossSection, units: System = "us", *, width_mm: float = 380.0, height_mm: float = 130.0
) -> Drawing:
    """Draw the cross section of a bed half way along it, looking up the main.

    Parameters
    ----------
    scene : CrossSection
        From `tilewater.chain.scene_cross.cross_section_scene`.
    units : "us" or "si"
        Units of the reader.
    width_mm, height_mm : float
        Room on paper; the drawing takes the width and no more height than it needs. [mm]

    Returns
    -------
    Drawing
        Offsets from the main are its x, elevations its y; words only where the bed is not known.
        [m]

    Raises
    ------
    OutOfDomain
        If it has too little room.
    """
    foot = foot_of(scene.foot)
    figures = Figures(units, foot)
    profile = Profile.of(scene)
    if profile is None:
        frame = fitted_frame((0, 0), (1, 1), width_mm=width_mm, height_mm=20.0, units=units)
        plot = Plot(frame, 0.0)
        plot.write((0.0, 14.0), "Cross section of the bed", weight="semibold")
        plot.write((0.0, 8.0), "not known: see what is not drawn", layer="label-muted")
        return plot.drawing("Cross section of the bed", figures, _about(scene))
    left, right = _ends(scene, profile)
    low = profile.floor - BELOW
    high = profile.ground + 1.5 * profile.crown
    box = (left, low), (right, high)
    frame = fitted_frame(*box, width_mm=width_mm, height_mm=height_mm, units=units, free=FREE)
    needed = FREE.top + FREE.bottom + HAIR + (high - low) * MM / frame.scale_y
    frame = fitted_frame(*box, width_mm=width_mm, height_mm=needed, units=units, free=FREE)
    plot = Plot(frame, low)
    title = "Cross section half way along the bed, looking up the main"
    if scene.station is not None:
        title += f", at {figures.station(scene.station.value)}"
    write_head(plot, figures, title)
    draw_soil(plot, scene, profile, (left, right))
    for cell in scene.cells:
        draw_cell(plot, scene, profile, cell)
    _draw_main(plot, scene)
    _write_slopes(plot, profile, scene.cells)
    _write_depths(plot, figures, scene, profile)
    write_widths(plot, figures, scene, profile)
    write_levels(plot, figures, scene, profile, (left, right))
    write_callouts(plot, figures, scene, profile)
    return plot.drawing("Cross section of the bed", figures, _about(scene))


def _about(scene: CrossSection) -> str:
    return "; ".join(f"not drawn: {each.what}" for each in scene.missing)


def _ends(scene: CrossSection, profile: Profile) -> tuple[float, float]:
    """Ground shown from left to right, the main in it."""
    xs = [x for cell in scene.cells for x in (cell.left, cell.right)]
    left, right = min(xs) - profile.margin, max(xs) + profile.margin
    if scene.main is not None:
        left, right = min(left, 0.0), max(right, 0.0)
    return left - BESIDE, right + BESIDE


def _draw_main(plot: Plot, scene: CrossSection) -> None:
    if scene.main is None:
        return
    radius = scene.main.diameter.value / 2
    centre = 0.0, scene.main.invert.elevation + radius
    plot.entities.append(Circle(centre, radius, "pipe-cut", "paper", name="main"))
    plot.entities.append(Mark(centre, "point", "pipe"))


def _write_slopes(plot: Plot, profile: Profile, cells: tuple[CellCut, ...]) -> None:
    """Write the slopes along them, of the media on the right side and of the cut on the left."""
    left, right = min(cell.left for cell in cells), max(cell.right for cell in cells)
    above = profile.ground - profile.top
    for words, slope, edge, side, rise in (
        ("media", profile.side_slope, right, 1.0, 0.55 * (profile.top - profile.floor)),
        ("cut", profile.cut_slope, left, -1.0, profile.ground - profile.floor - 0.5 * above),
    ):
        if slope is None or slope.value <= 0.0:
            continue
        run = (slope.value**2 + 1.0) ** 0.5
        at = edge + side * slope.value * rise, profile.floor + rise
        place = plot.frame.moved(at, side * SLOPE_AWAY / run, -SLOPE_AWAY * slope.value / run)
        ratio = Part(format_quantity(slope.value, "side_slope"), slope.key)
        plot.write(
            plot.frame.paper(place),
            (Part(f"{words} ", "", "light"), ratio),
            across="middle",
            up="middle",
            angle_deg=side * degrees(atan2(1.0, slope.value)),
            clear=True,
        )


def _write_depths(plot: Plot, figures: Figures, scene: CrossSection, profile: Profile) -> None:
    """Write depth of media, cover and cut as dimensions up the section."""
    cell = scene.cells[0]
    step = max(0.10 * (cell.right - cell.left), APART * plot.frame.scale_x / MM)
    spans: tuple[tuple[Length | None, float, float, float], ...] = (
        (scene.media_depth, profile.floor, profile.top, cell.left + 2.4 * step),
        (scene.cover, profile.top, profile.ground, cell.left + 3.4 * step),
        (scene.cut_depth, profile.floor, profile.ground, cell.left + 1.4 * step),
    )
    for length, low, high, x in spans:
        if length is None or not high > low or (high == profile.ground and scene.ground is None):
            continue
        words = figures.fall(length.value)
        plot.entities.append(
            Dimension((x, low), (x, high), (x, low), words, "y", size_mm=SMALL, key=length.key)
        )
