# SPDX-License-Identifier: Apache-2.0
"""Words of the cross section: widths, levels beside it, and what each matter is."""

from dataclasses import dataclass

from tilewater.chain.scene_cross import CellCut, CrossSection, Length
from tilewater.chain.scene_records import Level
from tilewater.documents.cross_shapes import Profile
from tilewater.documents.drawing.model import SMALL, Dimension, MarkKind, Part
from tilewater.documents.drawing.placing import Label, place_labels
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.rails import spread_between
from tilewater.documents.scales import Figures

ROW = 6.0
"""From one row of dimensions to the next. [mm]"""
RAIL = 3.6
"""Height that one level takes beside the section. [mm]"""
LININGS = {"plastic": "plastic liner", "geotextile": "geotextile lining"}


@dataclass(frozen=True)
class Rung:
    """A level beside the section: its words, and the offset of what has it. [m]"""

    words: str
    level: Level | None
    at: float
    is_water: bool = False


def write_widths(plot: Plot, figures: Figures, scene: CrossSection, profile: Profile) -> None:
    """Write the widths: at the floor below; at the top of media and cut above; from the main."""
    bottom = plot.frame.moved((0.0, plot.base), 0.0, -6.0)[1]
    crown = profile.ground + 1.5 * profile.crown
    above = [plot.frame.moved((0.0, crown), 0.0, 10.0 + ROW * row)[1] for row in range(2)]
    for cell in scene.cells:
        _width(plot, figures, (cell.left, cell.right), profile.floor, bottom, cell.width)
        slope = profile.side_slope.value if profile.side_slope is not None else 0.0
        out = slope * (profile.top - profile.floor)
        ends = cell.left - out, cell.right + out
        _width(plot, figures, ends, profile.top, above[0], cell.chips_top)
        if profile.cut_slope is not None:
            ends = cell.left - profile.margin, cell.right + profile.margin
            _width(plot, figures, ends, profile.ground, above[1], cell.cut_top)
    if scene.main is None:
        return
    axis = scene.main.invert.elevation
    near = scene.cells[0].near
    _span(plot, figures, (0.0, axis), (near, profile.floor), bottom, scene.near_offset)
    if scene.clear is not None and profile.cut_slope is not None:
        side = 1.0 if near >= 0.0 else -1.0
        edge = near - side * profile.margin, profile.ground
        _span(plot, figures, (0.0, profile.ground), edge, above[1], scene.clear)


def _width(
    plot: Plot,
    figures: Figures,
    ends: tuple[float, float],
    level: float,
    line: float,
    length: Length | None,
) -> None:
    if length is not None:
        _span(plot, figures, (ends[0], level), (ends[1], level), line, length)


def _span(
    plot: Plot,
    figures: Figures,
    start: tuple[float, float],
    end: tuple[float, float],
    line: float,
    length: Length | None,
) -> None:
    if length is None:
        return
    plot.entities.append(
        Dimension(
            start, end, (start[0], line), figures.fall(abs(length.value)), "x", size_mm=SMALL,
            key=length.key,
        )
    )  # fmt: skip


def write_levels(
    plot: Plot,
    figures: Figures,
    scene: CrossSection,
    profile: Profile,
    ends: tuple[float, float],
) -> None:
    """Write what is built on the right of the section, and ground water on its left."""
    far = max(scene.cells, key=lambda cell: cell.right).right
    built = [
        Rung("ground", scene.ground, ends[1]),
        Rung("top of the media", scene.top, far),
        Rung("floor", scene.floor, far),
        *(Rung(f"water, {words}", level, far, is_water=True) for words, level in scene.water[:1]),
    ]
    in_ground = [
        Rung(f"groundwater, {words}", level, ends[0], is_water=True)
        for words, level in scene.groundwater
    ]
    if scene.main is not None:
        in_ground.append(Rung("main, invert", scene.main.invert, 0.0))
    _rail(plot, figures, built, ends[1], 1.0)
    _rail(plot, figures, in_ground, ends[0], -1.0)


def _rail(plot: Plot, figures: Figures, rungs: list[Rung], x: float, side: float) -> None:
    """Levels beside each other, each with a thin line to its height and to what has it."""
    known = sorted(
        (rung for rung in rungs if rung.level is not None),
        key=lambda rung: rung.level.elevation if rung.level is not None else 0.0,
    )
    levels = [rung.level for rung in known if rung.level is not None]
    edge = plot.frame.paper((x, 0.0))[0]
    heights = [plot.frame.paper((x, level.elevation))[1] for level in levels]
    low, high = min(heights, default=0.0) - 12.0, max(heights, default=0.0) + 14.0
    places = spread_between(heights, [RAIL] * len(heights), low, high)
    for rung, level, height, place in zip(known, levels, heights, places, strict=True):
        out = [edge + side * step for step in (2.0, 4.2, 5.2, 6.0)]
        plot.rule(((edge, height), (out[0], height), (out[1], place), (out[2], place)))
        if rung.at != x:
            plot.shape(((rung.at, level.elevation), (x, level.elevation)), "grid")
        number = Part(figures.elevation(level.elevation), level.key)
        name, gap = Part(rung.words, "", "light"), Part("  ", "", "light")
        plot.write(
            (out[3], place),
            (number, gap, name) if side > 0 else (name, gap, number),
            up="middle",
            across="left" if side > 0 else "right",
            layer="label-water" if rung.is_water else "label",
        )
        kind: MarkKind = "water" if rung.is_water else "level"
        plot.mark((x, level.elevation), kind, "water" if rung.is_water else "dimension")


def write_callouts(plot: Plot, figures: Figures, scene: CrossSection, profile: Profile) -> None:
    """Write what each matter is, with a leader to it."""
    labels = [*_main_label(figures, scene), *_cell_labels(figures, scene, profile)]
    placed = place_labels(labels, plot.frame, plot.entities)
    plot.entities += placed.all_placed()


def _main_label(figures: Figures, scene: CrossSection) -> list[Label]:
    if scene.main is None:
        return []
    top = scene.main.invert.elevation + scene.main.diameter.value
    size = Part(figures.size(scene.main.diameter.value), scene.main.diameter.key)
    return [
        Label((0.0, top), ((Part("main past the bed, "), size),), size_mm=SMALL, side="above",
              always_led=True)
    ]  # fmt: skip


def _cell_labels(figures: Figures, scene: CrossSection, profile: Profile) -> list[Label]:
    found: list[Label] = []
    for cell in scene.cells:
        name = f"cell {cell.name}, woodchips" if cell.name else "woodchips"
        middle = (cell.left + cell.right) / 2, (profile.floor + profile.top) / 2
        found.append(Label(middle, (name,), size_mm=SMALL, side="right"))
    return found + _sheet_labels(figures, scene, profile, scene.cells[-1])


def _sheet_labels(
    figures: Figures, scene: CrossSection, profile: Profile, cell: CellCut
) -> list[Label]:
    """What the liner, the fabric, the soil over it and the crown are."""
    wide = cell.right - cell.left
    laps = () if scene.lap is None else (
        Part(", laps "), Part(figures.length(scene.lap.value), scene.lap.key)
    )  # fmt: skip
    found = []
    if profile.crown > 0.0 and scene.crown is not None and profile.cut_slope is not None:
        share = 0.7
        up = 1.5 * profile.crown * 4.0 * share * (1.0 - share)
        at = cell.left + share * wide, profile.ground + up
        crown = Part(figures.length(scene.crown.value), scene.crown.key)
        words: tuple[Part, ...] = (
            Part("soil back in layers, compacted; crown "),
            crown,
            Part(" in the mean"),
        )
        found.append(Label(at, (words,), size_mm=SMALL, side="above left", always_led=True))
    if scene.lining:
        words = (Part(f"{LININGS[scene.lining]}, bottom and sides"), *laps)
        at = cell.left + 0.72 * wide, profile.floor
        found.append(Label(at, (words,), size_mm=SMALL, side="below right", always_led=True))
    at = cell.left + 0.62 * wide, profile.top
    words = (Part("fabric over the media, half a lap past each edge"),)
    found.append(Label(at, (words,), size_mm=SMALL, side="above right", always_led=True))
    return found
