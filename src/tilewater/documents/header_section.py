# SPDX-License-Identifier: Apache-2.0
"""The section through a header of a bed: the pipe on the floor, from side to side.

Nothing is computed here: the drawing shows the record of `tilewater.chain.scene_header`, at one
scale across and up.
"""

from tilewater.basis.units import System
from tilewater.chain.scene_header import HeaderSection
from tilewater.documents.cross_labels import write_levels, write_widths
from tilewater.documents.cross_shapes import Profile, draw_cell, draw_soil
from tilewater.documents.drawing.frame import MM, Sides, fitted_frame
from tilewater.documents.drawing.model import SMALL, Dimension, Drawing, Part
from tilewater.documents.drawing.placing import Label, place_labels
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.room import write_head
from tilewater.documents.profile.shapes import corners_of
from tilewater.documents.scales import Figures, foot_of

__all__ = ["header_section_drawing"]

BESIDE = 0.5
"""Ground shown beside the cut. [m]"""
BELOW = 0.5
"""Ground shown below the floor. [m]"""
HAIR = 0.01
"""Room for the rounding of arithmetic. [mm]"""
FREE = Sides(left=14.0, bottom=19.0, right=44.0, top=31.0)


def header_section_drawing(
    section: HeaderSection,
    units: System = "us",
    *,
    width_mm: float = 239.0,
    height_mm: float = 110.0,
) -> Drawing:
    """Draw the bed cut along a header.

    Parameters
    ----------
    section : HeaderSection
        From `tilewater.chain.scene_header.header_sections`.
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
    bed = section.bed
    foot = foot_of(bed.foot)
    figures, profile = Figures(units, foot), Profile.of(bed)
    title = f"Section through the {' and the '.join(section.names)}"
    if profile is None:
        frame = fitted_frame((0, 0), (1, 1), width_mm=width_mm, height_mm=20.0, units=units)
        plot = Plot(frame, 0.0)
        plot.write((0.0, 14.0), title, weight="semibold")
        plot.write((0.0, 8.0), "not known: see what is not drawn", layer="label-muted")
        return plot.drawing(title, figures)
    cell = bed.cells[0]
    ends = cell.left - profile.margin - BESIDE, cell.right + profile.margin + BESIDE
    low, high = profile.floor - BELOW, profile.ground + 1.5 * profile.crown
    box = (ends[0], low), (ends[1], high)
    frame = fitted_frame(*box, width_mm=width_mm, height_mm=height_mm, units=units, free=FREE)
    needed = FREE.top + FREE.bottom + HAIR + (high - low) * MM / frame.scale_y
    frame = fitted_frame(*box, width_mm=width_mm, height_mm=needed, units=units, free=FREE)
    plot = Plot(frame, low)
    write_head(plot, figures, title)
    draw_soil(plot, bed, profile, ends)
    draw_cell(plot, bed, profile, cell)
    _draw_header(plot, figures, section, profile)
    write_widths(plot, figures, bed, profile)
    write_levels(plot, figures, bed, profile, ends)
    _write_header(plot, figures, section, profile)
    return plot.drawing(title, figures)


def _pipe(section: HeaderSection) -> tuple[float, float]:
    """Ends of the header, in the middle of the floor."""
    cell = section.bed.cells[0]
    middle, half = (cell.left + cell.right) / 2, section.length.value / 2
    return middle - half, middle + half


def _draw_header(plot: Plot, figures: Figures, section: HeaderSection, profile: Profile) -> None:
    left, right = _pipe(section)
    top = profile.floor + section.diameter.value
    pipe = corners_of(left, profile.floor, right, top)
    plot.fill(pipe, "paper")
    layer = "pipe-cut" if section.wall == "solid" else "pipe-hidden"
    for z in (profile.floor, top):
        plot.shape(((left, z), (right, z)), layer, name="header")
    for x in (left, right):
        plot.shape(((x, profile.floor), (x, top)), "pipe-cut", name="end of the header")
    line = plot.frame.moved((left, plot.base), 0.0, -13.0)[1]
    plot.entities.append(
        Dimension((left, profile.floor), (right, profile.floor), (left, line),
                  figures.fall(section.length.value), "x", size_mm=SMALL, key=section.length.key)
    )  # fmt: skip


def _write_header(plot: Plot, figures: Figures, section: HeaderSection, profile: Profile) -> None:
    """Write what the pipe is, with a leader to it, and what lies over it."""
    left, right = _pipe(section)
    wall = f", {section.wall}" if section.wall else ""
    size = Part(figures.size(section.diameter.value), section.diameter.key)
    words = (Part("header, "), size, Part(f"{wall}, on the floor"))
    at = left + 0.3 * (right - left), profile.floor + section.diameter.value
    chips = (left + right) / 2, (profile.floor + section.diameter.value + profile.top) / 2
    labels = [
        Label(at, (words,), size_mm=SMALL, side="below left", always_led=True),
        Label(chips, ("woodchips",), size_mm=SMALL, side="right"),
    ]
    plot.entities += place_labels(labels, plot.frame, plot.entities).all_placed()
