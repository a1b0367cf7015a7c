# SPDX-License-Identifier: Apache-2.0
"""The band under the main: what is known at each station, in columns hung on their places."""

from dataclasses import dataclass, field
from math import inf

from tilewater.chain.scene import Level, LongSection, MainPart, SpotPart
from tilewater.documents.drawing.metrics import CAP, text_width
from tilewater.documents.drawing.model import SMALL, Part
from tilewater.documents.profile.plot import Plot
from tilewater.documents.profile.rails import spread_between
from tilewater.documents.scales import Figures

LEFT = 22.0
"""Room of the heads of the rows. [mm]"""
ROW = 3.8
FAN = 5.0
"""Room of the lines from the section to the columns. [mm]"""
APART = 3.0
INTO_HEADS = 6.0
"""How far the first column may reach over the heads of the rows. [mm]"""
ROWS = ("ground", "storm line", "lateral", "invert")
TOGETHER = 1.0
"""Stations nearer than this are one. [m]"""


@dataclass(frozen=True)
class Stop:
    """A station of the main: its name, and the levels that are known there by row."""

    name: str
    station: float
    levels: dict[str, Level] = field(default_factory=dict)
    is_spot: bool = False
    binds: bool = False


def stops_of(scene: LongSection, figures: Figures, main: MainPart, room: float) -> tuple[Stop, ...]:
    """Stations worth a column, from the outlet up; where they are too many, the wettest spots."""
    found = _fixed_stops(main)
    taken = sum(_room(figures, stop) for stop in found)
    for spot in sorted(main.spots, key=lambda spot: _wetness(scene, spot)):
        stop = _of_spot(scene, spot)
        taken += _room(figures, stop)
        if taken <= room:
            found.append(stop)
    return tuple(sorted(found, key=lambda stop: stop.station))


def _fixed_stops(main: MainPart) -> list[Stop]:
    at_diversion = {"invert": main.invert_diversion}
    if main.ground_at_diversion is not None:
        at_diversion["ground"] = main.ground_at_diversion
    found = [
        Stop("outlet", main.outlet, {"invert": main.invert_outlet}),
        Stop("diversion", main.diversion, at_diversion),
    ]
    for words, station in (
        ("pool ends", main.pool_end),
        ("main ends", main.upper_end),
        ("property line", main.property_line),
    ):
        if station is not None:
            found.append(Stop(words, station, _shot_at(main, station)))
    for part in main.segments:
        if part.invert_high.key and all(abs(part.high - s.station) > TOGETHER for s in found):
            found.append(Stop("joint", part.high, {"invert": part.invert_high}))
    return found


def _shot_at(main: MainPart, station: float) -> dict[str, Level]:
    for part in main.segments:
        if part.invert_high.key and abs(part.high - station) <= TOGETHER:
            return {"invert": part.invert_high}
    return {}


def _wetness(scene: LongSection, spot: SpotPart) -> tuple[bool, float]:
    """What binds comes first, then the least clear soil over the storm line."""
    water = spot.storm or spot.drain
    clear = inf if water is None else spot.ground.elevation - water.elevation
    return spot.name != scene.binds_at, clear


def _of_spot(scene: LongSection, spot: SpotPart) -> Stop:
    named = (("ground", spot.ground), ("storm line", spot.storm), ("lateral", spot.drain))
    levels = {row: level for row, level in named if level is not None}
    return Stop(spot.name, spot.station, levels, True, scene.binds_at == spot.name)


def _room(figures: Figures, stop: Stop) -> float:
    name = text_width(stop.name, SMALL, "semibold")
    rows = [figures.station(stop.station)]
    rows += [figures.elevation(level.elevation) for level in stop.levels.values()]
    return max(name, *(text_width(row, SMALL) for row in rows)) + APART


def _left_out(main: MainPart, stops: tuple[Stop, ...]) -> int:
    return len(main.spots) - sum(stop.is_spot for stop in stops)


def stops_height(main: MainPart, stops: tuple[Stop, ...]) -> float:
    """Room of the band. [mm]"""
    return FAN + ROW * (2 + len(ROWS) + bool(_left_out(main, stops))) + 1.0


def write_stops(
    plot: Plot, figures: Figures, main: MainPart, stops: tuple[Stop, ...], width_mm: float
) -> None:
    """Write the band from the base of the section down, with a line from each place."""
    base = plot.frame.paper((0.0, plot.base))[1]
    top = base - FAN
    for index, words in enumerate(("station", *ROWS)):
        plot.write((0.0, _line(top, index + 1)), words, layer="label-muted")
    places = [plot.frame.paper((stop.station, 0.0))[0] for stop in stops]
    rooms = [_room(figures, stop) for stop in stops]
    middles = spread_between(places, rooms, LEFT - INTO_HEADS, width_mm)
    plot.rule(((LEFT, base), (width_mm, base)), "grid")
    for stop, place, middle in zip(stops, places, middles, strict=True):
        plot.rule(((place, base), (place, base - 1.2), (middle, top + 0.4)))
        _write_column(plot, figures, stop, middle, top)
    if left_out := _left_out(main, stops):
        words = f"{left_out} more spots are drawn; these have the least clear soil"
        plot.write((LEFT, _line(top, 2 + len(ROWS))), words, layer="label-muted")


def _line(top: float, index: int) -> float:
    """Height of the base of a row. [mm]"""
    return top - ROW * (index + 0.5) - CAP * SMALL / 2


def _write_column(plot: Plot, figures: Figures, stop: Stop, middle: float, top: float) -> None:
    layer = "binds-label" if stop.binds else "label"
    name = {"layer": layer, "across": "middle", "weight": "semibold"}
    plot.write((middle, _line(top, 0)), stop.name, **name)
    station = figures.station(stop.station)
    plot.write((middle, _line(top, 1)), station, layer=layer, across="middle")
    for index, row in enumerate(ROWS):
        if row in stop.levels:
            level = stop.levels[row]
            number = (Part(figures.elevation(level.elevation), level.key),)
            colour = "label-water" if row == "storm line" else "label"
            plot.write((middle, _line(top, index + 2)), number, layer=colour, across="middle")
