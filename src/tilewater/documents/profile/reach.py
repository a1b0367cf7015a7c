# SPDX-License-Identifier: Apache-2.0
"""The main by its own stations as one drawing: past the bed and up the field to its low spots."""

from itertools import pairwise

from tilewater.chain.scene import LongSection, MainPart, Setting
from tilewater.documents.drawing.frame import Frame, Point
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import SMALL, Drawing, Part
from tilewater.documents.profile.binding import (
    binding_words,
    is_in_reach,
    mark_in_reach,
)
from tilewater.documents.profile.plot import Plot, width_of_parts
from tilewater.documents.profile.room import HEAD, usual_scale, write_axis, write_head
from tilewater.documents.profile.stops import LEFT, stops_height, stops_of, write_stops
from tilewater.documents.scales import Figures

TITLE = "Up the main"
BELOW = 0.2
"""Drawn under the lowest part. [m]"""
ABOVE = HEAD + 4.0
"""Room over the section. [mm]"""
PAST = 4.0
"""From the end of a pool to its words. [mm]"""
SEASONS = ("water-second", "water-third", "water-fourth")
"""Layers of the pools of seasons, the highest first."""


def draw_reach(
    scene: LongSection,
    figures: Figures,
    main: MainPart,
    width_mm: float,
    height_mm: float,
    *,
    by_season: bool = False,
) -> Drawing:
    """The main in a room of paper, no higher than it must be; pools of seasons where asked."""
    (start, end), (low, high) = _ends(main), _heights(main)
    stops = stops_of(scene, figures, main, width_mm - LEFT)
    below = stops_height(main, stops)
    scale_x = usual_scale(end - start, width_mm - LEFT - 2.0, figures.units, TITLE)
    scale_y = usual_scale(high - low, height_mm - below - ABOVE, figures.units, TITLE)
    tall = (high - low) * 1000.0 / scale_y
    corner = start - LEFT * scale_x / 1000.0, low - below * scale_y / 1000.0
    plot = Plot(Frame(corner, width_mm, below + tall + ABOVE, scale_x, scale_y), low)
    write_head(plot, figures, TITLE, binding_words(scene) if is_in_reach(scene) else "")
    write_axis(plot, figures, high, parts=6.0)
    _draw_earth(plot, main)
    _draw_pool(plot, main)
    if by_season:
        _draw_seasons(plot, scene, main)
    _draw_storm(plot, main)
    _draw_pipe(plot, main)
    _draw_spots(plot, scene, main)
    write_stops(plot, figures, main, stops, width_mm)
    _write_pool(plot, figures, main)
    if by_season:
        _write_seasons(plot, figures, scene, main)
    _write_segments(plot, figures, main)
    return plot.drawing(TITLE, figures)


def _ends(main: MainPart) -> tuple[float, float]:
    far = [main.diversion, *(segment.high for segment in main.segments)]
    far += [spot.station for spot in main.spots]
    far += [x for x in (main.pool_end, main.property_line) if x is not None]
    near = [main.outlet, *(spot.station for spot in main.spots)]
    return min(near), max(far)


def _heights(main: MainPart) -> tuple[float, float]:
    found = [spot.ground.elevation for spot in main.spots]
    for spot in main.spots:
        found += [level.elevation for level in (spot.drain, spot.storm) if level is not None]
    for part in main.segments:
        found += [part.invert_low.elevation, part.invert_high.elevation + part.diameter]
    for level in (main.ground_at_diversion, main.crest):
        if level is not None:
            found.append(level.elevation)
    if main.storm_at_diversion is not None:
        found.append(main.storm_at_diversion)
    return min(found) - BELOW, max(found)


def _draw_earth(plot: Plot, main: MainPart) -> None:
    """Ground between what was shot: straight, dashed, since nothing is known between."""
    shot = [(spot.station, spot.ground.elevation) for spot in main.spots]
    if main.ground_at_diversion is not None:
        shot.append((main.diversion, main.ground_at_diversion.elevation))
    shot.sort()
    if len(shot) < 2:
        return
    plot.fill([*shot, (shot[-1][0], plot.base), (shot[0][0], plot.base)], "soil")
    plot.shape(shot, "ground-unknown", name="ground-between-shots")


def _draw_pool(plot: Plot, main: MainPart) -> None:
    if main.crest is None or main.pool_end is None or main.pool_end <= main.diversion:
        return
    z = main.crest.elevation
    ends = ((main.diversion, z), (main.pool_end, z))
    bends = [
        (part.low, part.invert_low.elevation)
        for part in reversed(main.segments)
        if main.diversion < part.low < main.pool_end
    ]
    plot.fill([*ends, *bends, (main.diversion, main.invert_diversion.elevation)], "water")
    plot.shape(ends, "water-first", name="pool")


def lower_pools(scene: LongSection, main: MainPart) -> list[tuple[Setting, float]]:
    """Boards of seasons under those of the design, each with the station where its pool ends."""
    found: dict[float, tuple[Setting, float]] = {}
    for setting in scene.inlet.settings:
        z = setting.crest.elevation
        end = _end_of_pool(main, z)
        if main.crest is not None and z < main.crest.elevation and end is not None:
            found.setdefault(z, (setting, end))
    return [found[z] for z in sorted(found, reverse=True)]


def _end_of_pool(main: MainPart, level: float) -> float | None:
    """Where a level meets the invert of the main as drawn; None below the structure. [m]"""
    for part in main.segments:
        low, high = part.invert_low.elevation, part.invert_high.elevation
        if part.high > main.diversion and low < level <= high:
            end = part.low + (level - low) / (high - low) * (part.high - part.low)
            return end if end > main.diversion else None
    return None


def _draw_seasons(plot: Plot, scene: LongSection, main: MainPart) -> None:
    for number, (setting, end) in enumerate(lower_pools(scene, main), 1):
        z = setting.crest.elevation
        layer = SEASONS[min(number, len(SEASONS)) - 1]
        plot.shape(((main.diversion, z), (end, z)), layer, name=f"pool-{setting.name}")


def _write_seasons(plot: Plot, figures: Figures, scene: LongSection, main: MainPart) -> None:
    """Write each lower pool where it ends, past the pipe that it ends in."""
    for setting, end in lower_pools(scene, main):
        x, y = plot.frame.paper((end, setting.crest.elevation))
        words = (
            Part(f"{setting.name}  ", "", "light"),
            Part(figures.elevation(setting.crest.elevation), setting.crest.key),
        )
        for down in (1.6, 4.6, 7.6):
            at = x + PAST, y - down
            if plot.try_to_write(at, words, layer="label-water", up="top", clear=True):
                plot.rule(((x, y), (x + PAST - 0.6, y - down - 0.8)))
                break


def _draw_pipe(plot: Plot, main: MainPart) -> None:
    for part in main.segments:
        for rise in (0.0, part.diameter):
            ends = (
                (part.low, part.invert_low.elevation + rise),
                (part.high, part.invert_high.elevation + rise),
            )
            plot.shape(ends, "pipe", name="" if rise else "main")
    if main.ground_at_diversion is not None:
        foot = (main.diversion, main.invert_diversion.elevation)
        plot.shape(((main.diversion, main.ground_at_diversion.elevation), foot), "structure-cut")


def _draw_storm(plot: Plot, main: MainPart) -> None:
    points = [(spot.station, spot.storm.elevation) for spot in main.spots if spot.storm is not None]
    if main.storm_at_diversion is not None:
        points.insert(0, (main.diversion, main.storm_at_diversion))
    if len(points) > 1:
        plot.shape(points, "grade-line", name="storm")


def _draw_spots(plot: Plot, scene: LongSection, main: MainPart) -> None:
    for spot in main.spots:
        top = (spot.station, spot.ground.elevation)
        foot = top if spot.drain is None else (spot.station, spot.drain.elevation)
        layer = "binds" if scene.binds_at == spot.name else "survey"
        plot.shape((top, foot), layer, name=f"spot-{spot.name}")
        plot.mark(top, "dot", layer)
        if spot.drain is not None:
            plot.mark(foot, "ring", "drain")
    mark_in_reach(plot, scene)
    if main.property_line is not None:
        x = main.property_line
        plot.shape(((x, plot.base), (x, _heights(main)[1])), "boundary", name="property-line")


def _write_pool(plot: Plot, figures: Figures, main: MainPart) -> None:
    if main.crest is None or main.pool_end is None or main.pool_end <= main.diversion:
        return
    z = main.crest.elevation
    length = figures.about(main.pool_end - main.diversion)
    number = Part(figures.elevation(z), main.crest.key)
    short = (Part("pool  ", "", "light"), number)
    full = (Part("pool at the crest  ", "", "light"), number, Part(f"  {length} long", "", "light"))
    style = {"layer": "label-water", "across": "middle", "clear": True}
    for words in (full, short):
        for low, high in _gaps(main):
            ends = [plot.frame.paper((x, z)) for x in (low, high)]
            at = ((ends[0][0] + ends[1][0]) / 2, ends[0][1] + 1.2)
            has_room = width_of_parts(words) + 3.0 < ends[1][0] - ends[0][0]
            if has_room and plot.try_to_write(at, words, **style):
                return


def _gaps(main: MainPart) -> list[tuple[float, float]]:
    """Stretches of the pool between spots, the longest first. [m]"""
    assert main.pool_end is not None
    inside = [spot.station for spot in main.spots if main.diversion < spot.station < main.pool_end]
    bounds = sorted((main.diversion, main.pool_end, *inside))
    return sorted(pairwise(bounds), key=lambda gap: gap[0] - gap[1])


def _write_segments(plot: Plot, figures: Figures, main: MainPart) -> None:
    """Write size and grade of each stretch under it, where there is room."""
    for part in main.segments:
        rise = part.invert_high.elevation - part.invert_low.elevation
        words = f"{figures.size(part.diameter)}, {figures.grade(rise / (part.high - part.low))}"
        middle: Point = (
            (part.low + part.high) / 2,
            (part.invert_low.elevation + part.invert_high.elevation) / 2,
        )
        x, y = plot.frame.paper(middle)
        wide = plot.frame.paper((part.high, 0.0))[0] - plot.frame.paper((part.low, 0.0))[0]
        base = plot.frame.paper((0.0, plot.base))[1]
        if wide > text_width(words, SMALL) and y - 1.2 - SMALL > base:
            plot.try_to_write((x, y - 1.2), words, across="middle", up="top", weight="light")
