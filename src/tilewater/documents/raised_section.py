# SPDX-License-Identifier: Apache-2.0
"""The section through a structure with boards on a main, the water of each season standing in it.

Nothing is computed here: the drawing shows the record of `tilewater.chain.scene_raised`. The ditch
lies to the left, the field to the right; for the field behind the boards see
`tilewater.documents.profile.reach`.
"""

from functools import partial

from tilewater.basis.units import System
from tilewater.chain.scene_raised import RaisedScene
from tilewater.chain.scene_records import Setting
from tilewater.documents.buffer_shapes import WATERS
from tilewater.documents.drawing.frame import MM, Sides, fitted_frame
from tilewater.documents.drawing.model import Across, Drawing, Part
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.rails import Tag, upright_rail
from tilewater.documents.profile.room import write_head
from tilewater.documents.profile.shapes import corners_of
from tilewater.documents.scales import Figures, foot_of

__all__ = ["TITLE", "structure_drawing"]

TITLE = "Structure with its boards"
DESIGN = "design"
BESIDE = 0.75
"""Ground shown beside the box. [m]"""
BELOW = 0.3
"""Ground shown below the floor. [m]"""
BOARD_MM = 1.2
"""Thickness of the boards on paper. [mm]"""
HAIR = 0.01
"""Room for the rounding of arithmetic. [mm]"""
SIDES: tuple[Across, Across] = ("left", "right")
FREE = Sides(left=44.0, bottom=11.0, right=62.0, top=13.0)


def structure_drawing(
    scene: RaisedScene, units: System = "us", *, width_mm: float = 250.0, height_mm: float = 120.0
) -> Drawing:
    """Draw the structure on the main at one scale across and up.

    Parameters
    ----------
    scene : RaisedScene
        From `tilewater.chain.scene_raised.raised_scene`.
    units : "us" or "si"
        Units of the reader.
    width_mm, height_mm : float
        Room on paper; the drawing takes the width and no more height than it needs. [mm]

    Returns
    -------
    Drawing
        Distances from the lower face of the box are its x, elevations its y; words only where the
        structure is not known. [m]

    Raises
    ------
    OutOfDomain
        If it has too little room.
    """
    figures, box = _figures(scene, units), scene.structure
    about = "; ".join(f"not drawn: {each.what}" for each in scene.missing)
    if box.floor is None or box.rim is None or box.sill is None:
        frame = fitted_frame((0, 0), (1, 1), width_mm=width_mm, height_mm=20.0, units=units)
        plot = Plot(frame, 0.0)
        plot.write((0.0, 14.0), TITLE, weight="semibold")
        plot.write((0.0, 8.0), "not known: see what is not drawn", layer="label-muted")
        return plot.drawing(TITLE, figures, about)
    levels = [box.floor.elevation, box.sill.elevation]
    if scene.invert is not None:
        levels.append(scene.invert.elevation)
    low, high = min(levels) - BELOW, box.rim.elevation
    corners = (box.low - BESIDE, low), (box.high + BESIDE, high)
    fitted = partial(fitted_frame, *corners, width_mm=width_mm, units=units, free=FREE)
    frame = fitted(height_mm=height_mm)
    frame = fitted(height_mm=FREE.top + FREE.bottom + HAIR + (high - low) * MM / frame.scale_y)
    plot = Plot(frame, low)
    write_head(plot, figures, TITLE)
    _draw(plot, scene)
    _write_rails(plot, figures, scene)
    return plot.drawing(TITLE, figures, about)


def _figures(scene: RaisedScene, units: System) -> Figures:
    foot = foot_of(scene.foot)
    return Figures(units, foot)


def _draw(plot: Plot, scene: RaisedScene) -> None:
    """Draw ground, main, box, boards and water, the water of the design setting as an area."""
    box = scene.structure
    assert box.floor is not None
    assert box.rim is not None
    assert box.sill is not None
    left, right = box.low - BESIDE, box.high + BESIDE
    ground = box.ground.elevation if box.ground is not None else box.rim.elevation
    plot.fill(corners_of(left, plot.base, right, ground), "soil", name="soil")
    if box.ground is not None:
        for ends in ((left, box.low), (box.high, right)):
            plot.shape([(x, ground) for x in ends], "ground", name="ground")
    plot.fill(corners_of(box.low, box.floor.elevation, box.high, box.rim.elevation), "paper")
    crest, middle = box.setting(DESIGN), (box.low + box.high) / 2
    if crest is not None:
        water = corners_of(middle, box.floor.elevation, box.high, crest.crest.elevation)
        plot.fill(water, "water", name="water before the boards")
    _draw_main(plot, scene)
    if crest is not None:
        _draw_boards(plot, crest, middle, box.sill.elevation)
    walls = corners_of(box.low, box.floor.elevation, box.high, box.rim.elevation)
    plot.shape(walls, "structure-cut", closed=True, name="structure")
    for number, setting in enumerate(_by_crest(box.settings)):
        level = setting.crest.elevation
        plot.shape(((middle, level), (box.high, level)), _layer(number), name=setting.name)
    if scene.storm is not None:
        level = scene.storm.elevation
        plot.shape(((middle, level), (box.high, level)), "grade-line", name="storm")


def _by_crest(settings: tuple[Setting, ...]) -> list[Setting]:
    """Seasons from the highest crest down, the first of those that are alike."""
    found: dict[float, Setting] = {}
    for setting in settings:
        if setting.name != DESIGN:
            found.setdefault(setting.crest.elevation, setting)
    return [found[level] for level in sorted(found, reverse=True)]


def _layer(number: int) -> str:
    return WATERS[min(number, len(WATERS) - 1)]


def _draw_main(plot: Plot, scene: RaisedScene) -> None:
    """Draw the main into the box from the field, full, and out of it on the other side."""
    if scene.invert is None or scene.diameter is None:
        return
    box, low = scene.structure, scene.invert.elevation
    high = low + scene.diameter
    for ends, matter in (
        ((box.high, box.high + BESIDE), "water"),
        ((box.low - BESIDE, box.low), "paper"),
    ):
        plot.fill(corners_of(ends[0], low, ends[1], high), matter)
        for z in (low, high):
            plot.shape([(x, z) for x in ends], "pipe-cut", name="main")


def _draw_boards(plot: Plot, setting: Setting, middle: float, sill: float) -> None:
    half = BOARD_MM / 2 * plot.frame.scale_x / MM
    z = sill
    for board in setting.stack:
        corners = corners_of(middle - half, z, middle + half, z + board)
        plot.fill(corners, "structure")
        plot.shape(corners, "structure", closed=True, name="board")
        z += board


def _write_rails(plot: Plot, figures: Figures, scene: RaisedScene) -> None:
    """Write what is built on the left, and the boards of each season on the right."""
    box = scene.structure
    built = [
        Tag(
            (x, level.elevation),
            (Part(f"{words}  ", "", "light"), Part(figures.elevation(level.elevation), level.key)),
        )
        for words, level, x in (
            ("rim", box.rim, box.low),
            ("ground", box.ground, box.low - BESIDE),
            ("sill of the boards", box.sill, (box.low + box.high) / 2),
            ("main, invert", scene.invert, box.low - BESIDE),
            ("floor", box.floor, box.low),
        )
        if level is not None
    ]
    water = [_season_tag(figures, box.settings, each, box.high) for each in _by_crest(box.settings)]
    if scene.storm is not None:
        words = (
            Part(figures.elevation(scene.storm.elevation), scene.storm.key),
            Part("  largest flow, highest boards", "", "light"),
        )
        water.append(Tag((box.high, scene.storm.elevation), words, "label-water"))
    low, high = 1.0, plot.frame.height_mm - FREE.top + 2.0
    edges = (plot.frame.paper((x, 0.0))[0] for x in (box.low - BESIDE, box.high + BESIDE))
    for tags, edge, side in zip((built, water), edges, ("left", "right"), strict=True):
        upright_rail(plot, edge, tags, side, low, high)
    _write_foot(plot, figures, scene)


def _write_foot(plot: Plot, figures: Figures, scene: RaisedScene) -> None:
    """Write under the section which way the ditch and the field lie, and the solid pipe."""
    box, base = scene.structure, plot.frame.paper((0.0, plot.base))[1]
    ends = [plot.frame.paper((x, 0.0))[0] for x in (box.low - BESIDE, box.high + BESIDE)]
    for x, words, across in zip(ends, ("to the ditch", "from the field"), SIDES, strict=True):
        plot.write((x, base - 4.0), words, layer="label-muted", across=across)
    if scene.solid_pipe is not None:
        words = f"{figures.length(scene.solid_pipe)} of solid pipe on each side of the box"
        plot.write((sum(ends) / 2, base - 8.0), words, across="middle")


def _season_tag(figures: Figures, settings: tuple[Setting, ...], first: Setting, x: float) -> Tag:
    """Crest of the seasons whose boards are alike, and how high they stand."""
    alike = [each for each in settings if each.crest.elevation == first.crest.elevation]
    names = ", ".join(each.name for each in alike if each.name != DESIGN)
    high = sum(first.stack)
    boards = f"boards {figures.size(high)}" if high > 0.0 else "no boards"
    return Tag(
        (x, first.crest.elevation),
        (
            Part(figures.elevation(first.crest.elevation), first.crest.key),
            Part(f"  {names}, {boards}", "", "light"),
        ),
        "label-water",
    )
