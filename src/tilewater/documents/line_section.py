# SPDX-License-Identifier: Apache-2.0
"""The section along the line of a buffer: box, branches, cover, caps, and the water in season.

Nothing is computed here: the drawing shows the record of
`tilewater.practices.buffer.line_scene`. The line is seen from the field, looking to the ditch.
"""

from dataclasses import dataclass

from tilewater.basis.units import Foot, System
from tilewater.documents.buffer_shapes import BEDDING, WATERS
from tilewater.documents.drawing.frame import MM, Sides, fitted_frame
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import SMALL, Dimension, Drawing, Part
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.rails import Tag, spread_between, upright_rail
from tilewater.documents.profile.room import write_head
from tilewater.documents.profile.shapes import corners_of
from tilewater.documents.scales import Figures
from tilewater.practices.buffer.line_scene import LineSection, LineWater

__all__ = ["TITLE", "line_section_drawing"]

TITLE = "Section along the line of the buffer"
FREE = Sides(left=43.5, bottom=31.0, right=51.5, top=15.0)
PAST = 0.01
"""Ground shown past the caps, as a share of the line."""
BELOW = 0.4
"""Ground shown under the restrictive layer. [m]"""
BOX_MM = 2.4
"""Least width at which a box is drawn. [mm]"""
CAP_MM = 1.6
"""Half of the height of an end cap on paper. [mm]"""
ROW = 3.8
FAN = 5.0
"""Room of the lines from the section to its stations. [mm]"""
LAYERS = {"solid": "pipe-cut", "perforated": "pipe", "solid past roots": "pipe-cut"}


@dataclass(frozen=True)
class Stop:
    """A place along the line: what begins or ends there, and how far it is from the structure."""

    x: float
    words: str


def line_section_drawing(
    section: LineSection,
    units: System = "us",
    *,
    foot: Foot = "international foot",
    width_mm: float = 300.0,
    height_mm: float = 140.0,
) -> Drawing:
    """Draw the section along the line of a buffer.

    Parameters
    ----------
    section : LineSection
        From `tilewater.practices.buffer.line_scene.line_section`.
    units : "us" or "si"
        Units of the reader.
    foot : str
        What a foot means in its elevations.
    width_mm, height_mm : float
        Room on paper. [mm]

    Returns
    -------
    Drawing
        Distances from the structure are its x, elevations its y; words only where too little is
        known. [m]

    Raises
    ------
    OutOfDomain
        If it has too little room.
    """
    figures = Figures(units, foot)
    about = "; ".join(
        f"not drawn: {key.rpartition('.')[2].removesuffix('_m').replace('_', ' ')}"
        for key in section.missing
    )
    if not section.reaches or section.invert is None or section.ground is None:
        frame = fitted_frame((0, 0), (1, 1), width_mm=width_mm, height_mm=20.0, units=units)
        plot = Plot(frame, 0.0)
        plot.write((0.0, 14.0), TITLE, weight="semibold")
        plot.write((0.0, 8.0), "not known: see what is not drawn", layer="label-muted")
        return plot.drawing(TITLE, figures, about)
    left, right = _shown(section)
    low, high = _heights(section)
    frame = fitted_frame(
        (left, low),
        (right, high),
        width_mm=width_mm,
        height_mm=height_mm,
        units=units,
        free=FREE,
        exaggerated=True,
    )
    plot = Plot(frame, low)
    write_head(plot, figures, TITLE)
    _draw_ground(plot, section, (left, right))
    for number, water in enumerate(_in_order(section)):
        _draw_water(plot, section, water, number)
    _draw_line(plot, section)
    _draw_box(plot, section)
    _write_cover(plot, figures, section)
    _write_rails(plot, figures, section, (left, right))
    _write_stops(plot, figures, section)
    return plot.drawing(TITLE, figures, about)


def _shown(section: LineSection) -> tuple[float, float]:
    low, high = section.ends
    more = PAST * (high - low)
    return low - more, high + more


def _heights(section: LineSection) -> tuple[float, float]:
    marks = (section.rim, section.floor, section.ground, section.invert, section.barrier)
    levels = [mark.elevation for mark in marks if mark is not None]
    levels += [water.structure.elevation for water in section.waters]
    return min(levels) - BELOW, max(levels)


def _in_order(section: LineSection) -> tuple[LineWater, ...]:
    """The season that the share is judged by first, then the others."""
    return tuple(sorted(section.waters, key=lambda water: not water.is_criterion))


def _draw_ground(plot: Plot, section: LineSection, ends: tuple[float, float]) -> None:
    """Draw the soil, its lowest ground as all that is known of it, trench and layer below."""
    assert section.ground is not None
    assert section.invert is not None
    left, right = ends
    z = section.ground.elevation
    plot.fill(corners_of(left, plot.base, right, z), "soil", name="soil")
    low, high = section.ends
    trench = corners_of(low, section.invert.elevation - BEDDING, high, z)
    plot.fill(trench, "cover", name="backfill")
    plot.shape(trench[:2], "excavation", name="trench")
    plot.shape(((left, z), (right, z)), "ground-unknown", name="ground")
    if section.barrier is not None:
        layer = section.barrier.elevation
        plot.shape(((left, layer), (right, layer)), "soil-line", name="restrictive layer")


def _draw_line(plot: Plot, section: LineSection) -> None:
    """Draw the pipe by its pieces, holes as dashes, and the caps at its ends."""
    assert section.invert is not None
    low = section.invert.elevation
    high = low + (section.diameter or 0.0)
    for reach in section.reaches:
        corners = corners_of(reach.start, low, reach.end, high)
        plot.fill(corners, "structure" if reach.kind != "perforated" else "paper")
        for z in (low, high):
            layer = LAYERS[reach.kind] if reach.kind != "perforated" else "pipe-hidden"
            plot.shape(((reach.start, z), (reach.end, z)), layer, name=reach.kind)
    half = CAP_MM * plot.frame.scale_y / MM
    middle = (low + high) / 2
    for x in section.ends:
        if x:
            plot.shape(((x, middle - half), (x, middle + half)), "structure-cut", name="end cap")


def _draw_box(plot: Plot, section: LineSection) -> None:
    if section.rim is None or section.floor is None or section.box_length is None:
        return
    half = max(section.box_length, BOX_MM * plot.frame.scale_x / MM) / 2
    floor, rim = section.floor.elevation, section.rim.elevation
    box = corners_of(-half, floor, half, rim)
    plot.fill(box, "paper")
    waters = _in_order(section)
    if waters:
        level = waters[0].structure.elevation
        plot.fill(corners_of(-half, floor, half, level), "water", name="water at the boards")
        plot.shape(((-half, level), (half, level)), "water-first", name="crest")
    plot.shape(box, "structure-cut", closed=True, name="structure")
    if section.head_boards is not None:
        z = section.head_boards.elevation
        plot.shape(((-half, z), (half, z)), "structure", name="head boards")


def _draw_water(plot: Plot, section: LineSection, water: LineWater, number: int) -> None:
    """Draw the head in the pipe, from the boards to where it ends, and the water in the soil."""
    layer = WATERS[min(number, len(WATERS) - 1)]
    start = water.structure.elevation
    for x, z in water.far:
        if number == 0:
            plot.shape(((0.0, start), (x, z)), "grade-line", name=f"head {water.season}")
        soil = water.soil.elevation
        first = min((r.start for r in section.reaches if r.kind == "perforated" and r.end == x),
                    key=abs, default=0.0)  # fmt: skip
        plot.shape(((first, soil), (x, soil)), layer, name=f"water in the soil {water.season}")


def _write_cover(plot: Plot, figures: Figures, section: LineSection) -> None:
    """Write the soil over the line in the middle of its longest piece."""
    if section.cover is None or section.ground is None:
        return
    reach = max(section.reaches, key=lambda reach: abs(reach.end - reach.start))
    x, top = (reach.start + reach.end) / 2, section.ground.elevation
    words = f"{figures.fall(section.cover.elevation)} over the line"
    foot = top - section.cover.elevation
    plot.entities.append(
        Dimension((x, foot), (x, top), (x, top), words, "y", size_mm=SMALL, key=section.cover.key)
    )


def _tag(figures: Figures, at: tuple[float, float], words: str, key: str, layer: str) -> Tag:
    parts = (Part(f"{words}  ", "", "light"), Part(figures.elevation(at[1]), key))
    return Tag(at, parts, layer)


def _write_rails(
    plot: Plot, figures: Figures, section: LineSection, ends: tuple[float, float]
) -> None:
    built = [
        _tag(figures, (x, mark.elevation), words, mark.key, "label")
        for words, mark, x in (
            ("rim of the box", section.rim, 0.0),
            ("ground over the line, lowest", section.ground, ends[0]),
            ("line, invert, level", section.invert, section.ends[0]),
            ("floor of the box", section.floor, 0.0),
            ("restrictive layer", section.barrier, ends[0]),
            ("head boards", section.head_boards, 0.0),
        )
        if mark is not None
    ]
    water: dict[tuple[str, str], tuple[list[str], float, str]] = {}
    for each in section.waters:
        for words, mark in (("at the boards", each.structure), ("in the soil", each.soil)):
            said = words, figures.elevation(mark.elevation)
            water.setdefault(said, ([], mark.elevation, mark.key))[0].append(each.season)
    held = [
        Tag(
            (ends[1] if words == "at the boards" else section.ends[1], z),
            (Part(said, key), Part(f"  {words}, {', '.join(names)}", "", "light")),
            "label-water",
        )
        for (words, said), (names, z, key) in water.items()
    ]
    low, high = FREE.bottom - 4.0, plot.frame.height_mm - FREE.top + 4.0
    for tags, x, side in ((built, ends[0], "left"), (held, ends[1], "right")):
        upright_rail(plot, plot.frame.paper((x, 0.0))[0], tags, side, low, high)


def _stops(section: LineSection) -> list[Stop]:
    found = {0.0: "box"}
    for reach in section.reaches:
        begins = {"perforated": "holes begin", "solid past roots": "solid again"}
        if reach.kind in begins:
            found.setdefault(reach.start, begins[reach.kind])
    for x in section.ends:
        if x:
            found[x] = "end cap"
    return [Stop(x, found[x]) for x in sorted(found)]


def _write_stops(plot: Plot, figures: Figures, section: LineSection) -> None:
    """Write under the section what begins and ends where, then the lengths of a branch."""
    base = plot.frame.paper((0.0, plot.base))[1]
    top, stops = base - FAN, _stops(section)
    words = [(stop.words, figures.about(abs(stop.x)) if stop.x else "0") for stop in stops]
    rooms = [max(text_width(word, SMALL) for word in pair) + 3.0 for pair in words]
    places = [plot.frame.paper((stop.x, 0.0))[0] for stop in stops]
    middles = spread_between(places, rooms, 26.0, plot.frame.width_mm)
    plot.write((0.0, top - 2 * ROW), "from the box", layer="label-muted")
    for pair, place, middle in zip(words, places, middles, strict=True):
        plot.rule(((place, base), (place, base - 1.2), (middle, top - 0.4)))
        for row, word in enumerate(pair):
            weight = "regular" if row else "semibold"
            plot.write((middle, top - (row + 1) * ROW), word, across="middle", weight=weight)
    for row, told in enumerate(_told(figures, section)):
        plot.write((0.0, top - (3.4 + row) * ROW), told, layer="label-muted")


def _told(figures: Figures, section: LineSection) -> list[str]:
    """What the pieces are in words, and what is not known of their places."""
    size = "" if section.diameter is None else f", {figures.size(section.diameter)}"
    level = "" if section.fall is None else f", level to {figures.size(section.fall)}"
    lengths = {
        kind: [abs(r.end - r.start) for r in section.reaches if r.kind == kind] for kind in LAYERS
    }
    parts = [
        f"{kind} {' + '.join(figures.fall(long) for long in each)} {figures.unit}"
        for kind, each in lengths.items()
        if each
    ]
    told = [f"Line{size}{level}: {'; '.join(parts)}."]
    if lengths["solid past roots"]:
        told.append(
            "Where along the line the roots reach is not given: the pieces past them are drawn at "
            "the far ends."
        )
    if section.dry:
        told.append(f"Nothing enters the line in {', '.join(section.dry)}.")
    if section.branches > 2:
        told.append(f"{section.branches - 2} more branches are not drawn.")
    return told
