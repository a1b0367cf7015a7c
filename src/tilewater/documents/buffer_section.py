# SPDX-License-Identifier: Apache-2.0
"""The section across a buffer as a drawing: line, strip and bank down to the ditch.

Nothing is computed here: the drawing shows the record of `tilewater.practices.buffer.scene`.
Distances run from the line toward the water's edge; the field lies to the left.
"""

from tilewater.basis.units import Foot, System
from tilewater.documents.buffer_shapes import Ground, draw_ground, draw_line, draw_water
from tilewater.documents.drawing.frame import Sides, fitted_frame
from tilewater.documents.drawing.model import SMALL, Dimension, Drawing, Part
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.rails import Tag, upright_rail
from tilewater.documents.profile.room import write_head
from tilewater.documents.scales import Figures
from tilewater.practices.buffer.scene import BufferSection, Mark, SeasonWater

__all__ = ["TITLE", "buffer_section_drawing", "trench_drawing"]

TITLE = "Section across the buffer"
FREE = Sides(left=46.0, bottom=12.0, right=48.0, top=16.0)
RAIL = 3.6
"""Height that one label takes beside the section. [mm]"""
LEAST = 46.0
"""Height of the section itself at which its parts can be told apart. [mm]"""


def buffer_section_drawing(
    section: BufferSection,
    units: System = "us",
    *,
    foot: Foot = "international foot",
    width_mm: float = 380.0,
    height_mm: float = 130.0,
) -> Drawing:
    """Draw the section across a buffer, from the field over its line to the ditch.

    Parameters
    ----------
    section : BufferSection
        From `tilewater.practices.buffer.scene.buffer_section`.
    units : "us" or "si"
        Units of the reader.
    foot : str
        What a foot means in its elevations.
    width_mm, height_mm : float
        Room on paper; the drawing takes the width and no more height than it needs. [mm]

    Returns
    -------
    Drawing
        Distances from the line are its x, elevations its y; words only where too little is known.
        [m]

    Raises
    ------
    OutOfDomain
        If it has too little room.
    """
    figures = Figures(units, foot)
    ground = Ground.of(section)
    if ground is None:
        frame = fitted_frame((0, 0), (1, 1), width_mm=width_mm, height_mm=20.0, units=units)
        plot = Plot(frame, 0.0)
        plot.write((0.0, 14.0), TITLE, weight="semibold")
        plot.write((0.0, 8.0), "not known: see what is not drawn", layer="label-muted")
        return plot.drawing(TITLE, figures, _about(section))
    labels = max(len(_left(section, figures, ground)), len(_right(section, figures, ground)))
    needed = max(LEAST, RAIL * labels) + FREE.top + FREE.bottom
    box = (ground.left, ground.low), (ground.right, ground.high)
    frame = fitted_frame(
        *box,
        width_mm=width_mm,
        height_mm=min(height_mm, needed),
        units=units,
        free=FREE,
        exaggerated=True,
    )
    plot = Plot(frame, ground.low)
    write_head(plot, figures, f"{TITLE}, field on the left")
    draw_ground(plot, section, ground)
    for number, water in enumerate(_in_order(section)):
        draw_water(plot, section, ground, water, number)
    draw_line(plot, section, ground)
    _write_width(plot, figures, section)
    _write_rails(plot, figures, section, ground)
    return plot.drawing(TITLE, figures, _about(section))


def _about(section: BufferSection) -> str:
    names = (key.rpartition(".")[2].removesuffix("_m").replace("_", " ") for key in section.missing)
    return "; ".join(f"not drawn: {name}" for name in names)


def _in_order(section: BufferSection) -> tuple[SeasonWater, ...]:
    """The season that the share is judged by first, then the others."""
    first = section.criterion_season
    return tuple(sorted(section.waters, key=lambda water: water.season != first))


def _tag(figures: Figures, at: tuple[float, float], words: str, mark: Mark, layer: str) -> Tag:
    parts = (Part(f"{words}  ", "", "light"), Part(figures.elevation(mark.elevation), mark.key))
    return Tag(at, parts, layer)


def _left(section: BufferSection, figures: Figures, ground: Ground) -> list[Tag]:
    """What lies in the field and at the line."""
    tags = []
    for words, mark, x in (
        ("ground at the field edge", section.ground_at_field_edge, ground.left),
        ("ground over the line", section.ground_at_line, 0.0),
        ("line, invert", section.line_invert, 0.0),
        ("restrictive layer", section.barrier, ground.left),
    ):
        if mark is not None:
            tags.append(_tag(figures, (x, mark.elevation), words, mark, "label"))
    held: dict[float, list[SeasonWater]] = {}
    for water in section.waters:
        held.setdefault(water.structure.elevation, []).append(water)
    for level, waters in held.items():
        names = ", ".join(water.season for water in waters)
        words = "bypass crest" if len(held) == 1 else f"crest, {names}"
        at = (ground.left, level)
        tags.append(_tag(figures, at, words, waters[0].structure, "label-water"))
    return tags


def _right(section: BufferSection, figures: Figures, ground: Ground) -> list[Tag]:
    """What lies at the bank and in the ditch."""
    tags = []
    for words, mark in (("bank top", section.bank_top), ("ditch bottom", section.ditch_bottom)):
        if mark is not None:
            at = (ground.bank_at(mark.elevation), mark.elevation)
            tags.append(_tag(figures, at, words, mark, "label"))
    levels: dict[float, list[SeasonWater]] = {}
    for water in section.waters:
        levels.setdefault(water.ditch.elevation, []).append(water)
        if water.seep is not None and water.seep.elevation > water.ditch.elevation:
            at = (ground.bank_at(water.seep.elevation), water.seep.elevation)
            words = f"seeps up to, {water.season}"
            tags.append(_tag(figures, at, words, water.seep, "label-water"))
    for level, waters in levels.items():
        names = ", ".join(water.season for water in waters)
        at = (ground.right, level)
        tags.append(_tag(figures, at, f"ditch, {names}", waters[0].ditch, "label-water"))
    return tags


def _write_rails(plot: Plot, figures: Figures, section: BufferSection, ground: Ground) -> None:
    low, high = 1.0, plot.frame.height_mm - FREE.top + 4.0
    for tags, x, side in (
        (_left(section, figures, ground), ground.left, "left"),
        (_right(section, figures, ground), ground.right, "right"),
    ):
        edge = plot.frame.paper((x, 0.0))[0]
        upright_rail(plot, edge, tags, side, low, high)


def _write_width(plot: Plot, figures: Figures, section: BufferSection) -> None:
    if section.width is None:
        return
    y = plot.frame.ground((0.0, plot.frame.paper((0.0, plot.base))[1] - 6.0))[1]
    start, end = (0.0, plot.base), (section.width, plot.base)
    words = f"{figures.length(section.width)} from line to water"
    plot.entities.append(
        Dimension(start, end, (0.0, y), words, "x", size_mm=SMALL, key="inputs.buffer.width_m")
    )


def trench_drawing(
    section: BufferSection,
    units: System = "us",
    *,
    foot: Foot = "international foot",
    width_mm: float = 95.0,
    height_mm: float = 90.0,
) -> Drawing | None:
    """Draw the trench of the line at one scale across and up; None where it is not known.

    Parameters
    ----------
    section : BufferSection
        From `tilewater.practices.buffer.scene.buffer_section`.
    units : "us" or "si"
        Units of the reader.
    foot : str
        What a foot means in its elevations.
    width_mm, height_mm : float
        Room on paper. [mm]

    Returns
    -------
    Drawing or None
    """
    line, ground, wide = section.line_invert, section.ground_at_line, section.trench_width
    if line is None or ground is None or wide is None or section.line_diameter is None:
        return None
    figures = Figures(units, foot)
    low, high = line.elevation - 0.25, ground.elevation + 0.15
    left, right = -wide, wide
    frame = fitted_frame(
        (left, low),
        (right, high),
        width_mm=width_mm,
        height_mm=height_mm,
        units=units,
        free=Sides(left=6.0, bottom=10.0, right=42.0, top=12.0),
    )
    plot = Plot(frame, low)
    write_head(plot, figures, "Trench of the line")
    shaped = Ground.flat(left, right, low, ground.elevation)
    draw_ground(plot, section, shaped)
    draw_line(plot, section, shaped)
    y = frame.ground((0.0, frame.paper((0.0, low))[1] - 5.0))[1]
    plot.entities.append(
        Dimension(
            (-wide / 2, line.elevation),
            (wide / 2, line.elevation),
            (0.0, y),
            figures.fall(wide),
            "x",
            size_mm=SMALL,
            key="inputs.buffer.trench_width_m",
        )
    )
    size = Part(figures.size(section.line_diameter), "inputs.buffer.pipe_diameter_m")
    tags = [
        _tag(figures, (wide / 2, ground.elevation), "ground", ground, "label"),
        Tag(
            (0.0, line.elevation + section.line_diameter),
            (Part("line, "), size, Part(f", {section.envelope}" if section.envelope else "")),
        ),
        _tag(figures, (0.0, line.elevation), "invert", line, "label"),
    ]
    edge = frame.paper((right, 0.0))[0]
    upright_rail(plot, edge, tags, "right", 1.0, frame.height_mm - 10.0)
    return plot.drawing("Trench of the line", figures)
