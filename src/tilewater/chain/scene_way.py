# SPDX-License-Identifier: Apache-2.0
"""The parts of a bed along the way of the water, from the ditch up to the diversion.

Pipes are laid end to end as long as they are; a part of unknown length is left out and a gap
stands in its place, so that the rest can be drawn to scale.
"""

from dataclasses import dataclass

from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import (
    Bypass,
    DitchPart,
    HeaderPart,
    Level,
    MediaPart,
    PipePart,
    Setting,
    Stage,
    StructurePart,
)

GAP = 6.0
"""Room left for a part of unknown length. [m]"""
CLEAR = 0.05
"""Height that a bank or a cut must have to be drawn. [m]"""
DESIGN = "design"


@dataclass(frozen=True)
class Way:
    """The parts in their order."""

    outflow: PipePart | None
    outlet: StructurePart
    drain: PipePart | None
    media: MediaPart | None
    feed: PipePart | None
    inlet: StructurePart


def read_way(reading: SceneReading) -> Way:
    """Lay the parts out along the way of the water, the end of the return at 0."""
    outflow, here = _pipe(reading, "outflow", "the return", 0.0)
    outlet, here = read_structure(reading, "outlet", here)
    drain, here = _pipe(reading, "drain", "the pipe from the bed", here)
    media, here = _media(reading, here)
    feed, here = _pipe(reading, "feed", "the feed", here)
    inlet, _ = read_structure(reading, "inlet", here)
    return Way(outflow, outlet, drain, media, feed, inlet)


def _pipe(
    reading: SceneReading, name: str, words: str, start: float
) -> tuple[PipePart | None, float]:
    here = f"system.{name}"
    if f"{here}.pipe" not in reading.trace:
        return None, start
    length = reading.number(f"{here}.length_m", words)
    end = start + (GAP if length is None else length)
    low = reading.level(reading.taken_by(f"{here}.pipe", "invert_down"), words)
    high = reading.level(reading.taken_by(f"{here}.pipe", "invert_up"), words)
    diameter = reading.number(f"{here}.diameter_m", words)
    if length is None or low is None or high is None or diameter is None:
        return None, end
    return PipePart(words.removeprefix("the "), start, end, low, high, diameter, length), end


def read_structure(reading: SceneReading, name: str, start: float) -> tuple[StructurePart, float]:
    """A structure that begins at a distance along the way, and where it ends.

    Parameters
    ----------
    reading : SceneReading
        The trace that is read. [-]
    name : str
        "inlet" or "outlet". [-]
    start : float
        Where it begins. [m]

    Returns
    -------
    tuple of StructurePart and float
        The structure, and the distance at which it ends. [m]
    """
    given, words = f"inputs.structure.{name}", f"the {name} structure"
    length = reading.number(f"{given}.box_length_m", f"the length of {words}")
    end = start + (GAP / 10 if length is None else length)
    trace, settings = reading.trace, []
    for setting in (DESIGN, *trace.names("inputs.season")):
        here = f"boards.{name}-{setting}"
        what = f"the boards of {words}" if setting == DESIGN else ""
        crest = reading.level(f"{here}.crest_m", what)
        if crest is not None:
            settings.append(Setting(setting, crest, tuple(trace.value(f"{here}.stack_m"))))
    part = StructurePart(
        name,
        start,
        end,
        floor=reading.level(f"{given}.floor_m", f"the floor of {words}"),
        sill=reading.level(f"{given}.sill_m", f"the sill of {words}"),
        rim=reading.level(f"{given}.rim_m", f"the rim of {words}"),
        ground=reading.level(f"{given}.ground_m", f"the ground at {words}"),
        settings=tuple(settings),
    )
    return part, end


def _media(reading: SceneReading, start: float) -> tuple[MediaPart | None, float]:
    words, cells = "the bed", reading.trace.names("inputs.cell")
    cell = cells[0] if cells else ""
    floor = f"bed.cells.{cell}.length_bottom_m" if cell else "bed.length_bottom_m"
    length = reading.number(floor, words)
    end = start + (2 * GAP if length is None else length)
    low = reading.level("inputs.bed.floor_outlet_m", words)
    high = reading.level("inputs.bed.floor_inlet_m", words)
    top = reading.level("bed.media_top_m", words)
    shape = reading.numbers(("bed.side_slope", "bed.media_depth_m"), words)
    if length is None or low is None or high is None or top is None or shape is None:
        return None, end
    slope, depth = shape
    part = MediaPart(
        start,
        end,
        flow_low=start - slope * depth / 2,
        flow_high=end + slope * depth / 2,
        floor_low=low,
        floor_high=high,
        top=top,
        side_slope=slope,
        ground=reading.level("inputs.site.ground_at_bed_m", "the ground over the bed"),
        cut_margin=reading.number("quantities.cut_margin_m", "the sides of the cut"),
        crown=reading.number("inputs.bed.crown_m", "the crown"),
        cell=cell,
    )
    return part, end


def read_headers(reading: SceneReading, media: MediaPart | None) -> tuple[HeaderPart, ...]:
    """The two headers, on the floor at its toes."""
    if media is None:
        return ()
    found = []
    for name, at, floor in (
        ("inlet header", media.high, media.floor_high),
        ("outlet header", media.low, media.floor_low),
    ):
        key = f"system.header_{name.partition(' ')[0]}.diameter_m"
        diameter = reading.number(key, f"the {name}")
        if diameter is not None:
            found.append(HeaderPart(name, at, floor, diameter))
    return tuple(found)


def read_bypass(reading: SceneReading, joins_main: bool) -> Bypass | None:
    """The main past the bed; its lower end falls where the return ends."""
    here, words = "system.bypass", "the main past the bed"
    if f"{here}.pipe" not in reading.trace:
        return None
    if not reading.trace.steps[f"{here}.pipe"].inputs:
        reading.miss(words, *reading.why(f"{here}.pipe"))
        return None
    low = reading.level(reading.taken_by(f"{here}.pipe", "invert_down"), words)
    high = reading.level(reading.taken_by(f"{here}.pipe", "invert_up"), words)
    length = "beside_m" if joins_main else "whole_m"
    size = reading.numbers((f"{here}.diameter_m", f"{here}.{length}"), words)
    if low is None or high is None or size is None:
        return None
    return Bypass(low, high, 0.0, *size)


def read_ditch(reading: SceneReading, media: MediaPart | None, joins_main: bool) -> DitchPart:
    """The ditch: levels by season, and the bank as far as its place and slope are known."""
    bottom = reading.level("inputs.ditch.bottom_m", "the bottom of the ditch")
    bank_top = reading.level("inputs.ditch.bank_top_m", "the bank top")
    bank_at = _bank_at(reading, media, joins_main)
    outline: tuple[tuple[float, float], ...] = ()
    if bottom is not None and bank_top is not None and bank_at is not None:
        outline = outline_of_ditch(reading, bottom, bank_top, bank_at)
    stages = tuple(_stage(reading, season) for season in reading.trace.names("inputs.season"))
    if not stages:
        reading.miss("water of the ditch", "no season is listed")
    return DitchPart(bottom, bank_top, bank_at, outline, stages)


def _bank_at(reading: SceneReading, media: MediaPart | None, joins_main: bool) -> float | None:
    what = "the bank of the ditch"
    if joins_main:
        lower = reading.number("system.lower.length_m", "the main below the return")
        if lower is not None:
            reading.miss(what, "the distance from the bank to where the main ends")
        return None
    away = reading.number("inputs.ditch.edge_distance_m", what)
    if media is None or media.cut_margin is None or away is None:
        if media is None or media.cut_margin is None:
            reading.miss(what, "the edge of the cut that it is measured from")
        return None
    at = media.low - media.cut_margin - away
    if at < 0.0:
        reading.miss(what, "its distance and the length of the return do not agree")
        return None
    return at


def outline_of_ditch(
    reading: SceneReading, bottom: Level, bank_top: Level, bank_at: float
) -> tuple[tuple[float, float], ...]:
    """Near bank top, across the bottom, to the height of the far bank.

    Parameters
    ----------
    reading : SceneReading
        Told what is missing. [-]
    bottom, bank_top : Level
        Of the ditch. [m]
    bank_at : float
        Distance of the near bank top along the way. [m]

    Returns
    -------
    tuple of (distance, elevation)
        Empty where its slope or its width is not known. [m]
    """
    section = "inputs.ditch.section"
    trace = reading.trace
    points = f"{section}.points"
    if trace.known(points) and trace.value(points):
        across = sorted((float(x), float(z)) for x, z in trace.value(points))
        first = across[0][0]
        return tuple((bank_at - (x - first), z) for x, z in across)
    height = bank_top.elevation - bottom.elevation
    width = reading.number(f"{section}.bottom_width_m")
    near = reading.number(f"{section}.side_slope")
    if width is None or near is None or height < CLEAR:
        reading.miss("the bank of the ditch", "its side slope or the width of its bottom")
        return ()
    far = reading.number(f"{section}.side_slope_right")
    toe = bank_at - near * height
    return (
        (bank_at, bank_top.elevation),
        (toe, bottom.elevation),
        (toe - width, bottom.elevation),
        (toe - width - (near if far is None else far) * height, bank_top.elevation),
    )


def _stage(reading: SceneReading, season: str) -> Stage:
    here = f"ditch.{season}"
    given = f"inputs.season.{season}"
    ordinary = reading.level(f"{here}.stage_m", f"ordinary water of the ditch, {season}")
    key = f"{here}.high_m" if f"{here}.high_m" in reading.trace else f"{given}.ditch_high_m"
    high = reading.level(key, f"high water of the ditch, {season}")
    return Stage(season, ordinary, high, reading.number(f"{here}.band_m"))
