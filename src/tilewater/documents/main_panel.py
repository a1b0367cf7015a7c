# SPDX-License-Identifier: Apache-2.0
"""The main by its own stations: past the bed to the ditch, and up the field with its low spots."""

from collections.abc import Sequence

from tilewater.chain.scene import Level, LongSection, MainPart, SpotPart
from tilewater.documents.rails import Tag, level_rail, spread, upright_rail
from tilewater.documents.scales import Figures, exaggeration, fitting_scale, round_step
from tilewater.documents.sheet import (
    BINDS,
    INK,
    MUTED,
    SOIL,
    STRUCTURE,
    WATER,
    WATER_FILL,
    Frame,
    Sheet,
    text_width,
)
from tilewater.documents.way_labels import said

TALLEST = 190.0
BELOW = 0.2
AXIS = 64.0


def draw_main(
    sheet: Sheet, figures: Figures, scene: LongSection, box: tuple[float, float, float]
) -> float:
    """Draw the main between two sides from a height down; where the panel ends."""
    left, right, y = box
    main = scene.main
    title = sheet.text((left, y), "Up the main", size=13, bold=True)
    if main is None:
        sheet.text((title.x1 + 10, y), "not known: see what is not drawn", colour=MUTED)
        return y + 16
    start, end = _ends(main)
    low, high = _heights(main)
    across = fitting_scale(end - start, right - left - AXIS - 20, figures.units)
    up = fitting_scale(high - low, TALLEST, figures.units)
    words = (
        f"by stations of the main; {across.words} along, {up.words} up, "
        f"vertical {exaggeration(across, up)}"
    )
    sheet.text((title.x1 + 10, y), words, colour=MUTED)
    base = y + 42 + (high - low) * up.pixels
    frame = Frame(start, low, left + AXIS - 24, base, across.pixels, up.pixels)
    sheet.open_panel("main", frame)
    _draw_axis(sheet, frame, figures, (start, end), high)
    _draw_earth(sheet, frame, main)
    _draw_pool(sheet, frame, figures, main)
    _draw_storm(sheet, frame, main)
    _write_spots(sheet, frame, figures, scene, main)
    _draw_pipe(sheet, frame, figures, main)
    _write_stations(sheet, frame, figures, main, base)
    sheet.close_panel()
    return base + 34


def _ends(main: MainPart) -> tuple[float, float]:
    far = [main.diversion, *(segment.high for segment in main.segments)]
    far += [spot.station for spot in main.spots]
    far += [x for x in (main.pool_end, main.property_line) if x is not None]
    return main.outlet, max(far) * 1.01


def _heights(main: MainPart) -> tuple[float, float]:
    found = [spot.ground.elevation for spot in main.spots]
    for part in main.segments:
        found += [part.invert_low.elevation, part.invert_high.elevation + part.diameter]
    if main.ground_at_diversion is not None:
        found.append(main.ground_at_diversion.elevation)
    return min(found) - BELOW, max(found)


def _draw_axis(
    sheet: Sheet, frame: Frame, figures: Figures, ends: tuple[float, float], high: float
) -> None:
    unit = figures.metre_per_unit
    step = round_step((high - frame.z0) / unit, 6.0) * unit
    number = int(frame.z0 / step) + 1
    while number * step <= high:
        x, y = frame.at(ends[0], number * step)
        sheet.line(((x - 5, y), (x, y)), width=0.8)
        text = f"{number * step / unit:.10g}"
        sheet.text((x - 8, y + 3.5), text, colour=MUTED, anchor="end", size=10)
        number += 1
    sheet.line((frame.at(ends[0], frame.z0), frame.at(ends[1], frame.z0)), width=0.8)


def _draw_earth(sheet: Sheet, frame: Frame, main: MainPart) -> None:
    """Ground between what was shot: straight, dashed, since nothing is known between."""
    shot = [(spot.station, spot.ground.elevation) for spot in main.spots]
    if main.ground_at_diversion is not None:
        shot.append((main.diversion, main.ground_at_diversion.elevation))
    shot.sort()
    if len(shot) < 2:
        return
    low = frame.z0
    shape = [*shot, (shot[-1][0], low), (shot[0][0], low)]
    sheet.line([frame.at(*p) for p in shape], fill=SOIL, stroke="none")
    sheet.line([frame.at(*p) for p in shot], width=1.2, dash="6 3", name="ground-between-shots")


def _draw_pool(sheet: Sheet, frame: Frame, figures: Figures, main: MainPart) -> None:
    if main.crest is None or main.pool_end is None:
        return
    z = main.crest.elevation
    ends = ((main.diversion, z), (main.pool_end, z))
    bends = [
        (part.low, part.invert_low.elevation)
        for part in reversed(main.segments)
        if main.diversion < part.low < main.pool_end
    ]
    shape = [*ends, *bends, (main.diversion, main.invert_diversion.elevation)]
    sheet.line([frame.at(*p) for p in shape], fill=WATER_FILL, stroke="none")
    sheet.line([frame.at(*p) for p in ends], stroke=WATER, width=1.8, name="pool")


def _draw_pipe(sheet: Sheet, frame: Frame, figures: Figures, main: MainPart) -> None:
    for part in main.segments:
        for rise in (0.0, part.diameter):
            ends = (
                (part.low, part.invert_low.elevation + rise),
                (part.high, part.invert_high.elevation + rise),
            )
            name = "" if rise else "main"
            sheet.line([frame.at(*p) for p in ends], stroke=STRUCTURE, width=1.4, name=name)
    for station, level in _shot(main):
        x, y = frame.at(station, level.elevation)
        parts = said(figures, "invert", level)
        if sheet.has_room((x, y + 13), "".join(p for p, _ in parts), anchor="middle"):
            sheet.text((x, y + 13), parts, anchor="middle")


def _shot(main: MainPart) -> list[tuple[float, Level]]:
    """Stations and inverts where segments meet, above the diversion; the rest is drawn above."""
    ends = [(part.high, part.invert_high) for part in main.segments]
    return [(x, level) for x, level in ends if level.key and x > main.diversion + 1.0]


def _draw_storm(sheet: Sheet, frame: Frame, main: MainPart) -> None:
    points = [(spot.station, spot.storm.elevation) for spot in main.spots if spot.storm is not None]
    if main.storm_at_diversion is not None:
        points.insert(0, (main.diversion, main.storm_at_diversion))
    if len(points) > 1:
        style = {"stroke": WATER, "width": 1.3, "dash": "9 4"}
        sheet.line([frame.at(*p) for p in points], name="storm", **style)  # type: ignore[arg-type]


def _write_spots(
    sheet: Sheet, frame: Frame, figures: Figures, scene: LongSection, main: MainPart
) -> None:
    names = [f"{spot.name} {figures.station(spot.station)}" for spot in main.spots]
    rooms = [max(text_width(name, 10.5, bold=True), GROUND) + 10 for name in names]
    middles = spread([frame.at(spot.station, 0.0)[0] for spot in main.spots], rooms)
    for spot, name, x in zip(main.spots, names, middles, strict=True):
        _draw_spot(sheet, frame, spot)
        at, y = frame.at(spot.station, spot.ground.elevation)
        if abs(x - at) > 1.0:
            sheet.line(((x, y - 5), (at, y)), stroke=MUTED, width=0.5)
        colour = BINDS if scene.binds_at == spot.name else INK
        sheet.text((x, y - 20), name, bold=True, colour=colour, anchor="middle")
        sheet.text((x, y - 7), said(figures, "ground", spot.ground), anchor="middle")
    for near in _neighbours(frame, main.spots):
        _write_water(sheet, frame, figures, near)


GROUND = 80.0
"""Width of the ground's label. [px]"""
NEAR = 90.0
"""Spots nearer than this share the labels to their right. [px]"""


def _neighbours(frame: Frame, spots: Sequence[SpotPart]) -> list[list[SpotPart]]:
    """Spots in groups that stand too near for labels of their own."""
    groups: list[list[SpotPart]] = []
    for spot in spots:
        if groups and (spot.station - groups[-1][-1].station) * frame.across < NEAR:
            groups[-1].append(spot)
        else:
            groups.append([spot])
    return groups


def _draw_spot(sheet: Sheet, frame: Frame, spot: SpotPart) -> None:
    top = frame.at(spot.station, spot.ground.elevation)
    foot = top if spot.drain is None else frame.at(spot.station, spot.drain.elevation)
    sheet.line((top, foot), width=0.9, name=f"spot-{spot.name}")
    if spot.drain is not None:
        sheet.line(((foot[0] - 6, foot[1]), (foot[0] + 6, foot[1])), width=2.0, stroke=STRUCTURE)


def _write_water(sheet: Sheet, frame: Frame, figures: Figures, near: list[SpotPart]) -> None:
    tags = []
    for spot in near:
        name = f"{spot.name} " if len(near) > 1 else ""
        for words, level, colour, shift in (
            ("storm", spot.storm, WATER, -11.0),
            ("lateral", spot.drain, INK, 0.0),
        ):
            if level is not None:
                at = frame.at(spot.station, level.elevation)
                tags.append(Tag(at, said(figures, name + words, level), colour, shift=shift))
    upright_rail(sheet, frame.at(near[-1].station, 0.0)[0] + 10, tags, side="right")


def _write_stations(
    sheet: Sheet, frame: Frame, figures: Figures, main: MainPart, base: float
) -> None:
    tags = []
    named: list[tuple[str, float | None]] = [
        ("outlet", main.outlet),
        ("diversion", main.diversion),
        ("pool ends", main.pool_end),
        ("main ends", main.upper_end),
        ("property line", main.property_line),
    ]
    for words, station in named:
        if station is None:
            continue
        x, y = frame.at(station, frame.z0)
        tags.append(Tag((x, y), ((f"{words} {figures.station(station)}", ""),)))
    for spot in main.spots:
        x, y = frame.at(spot.station, frame.z0)
        sheet.line(((x, y), (x, y + 4)), width=0.8)
    level_rail(sheet, base + 20, tags)
    if main.ground_at_diversion is not None:
        top = frame.at(main.diversion, main.ground_at_diversion.elevation)
        foot = frame.at(main.diversion, main.invert_diversion.elevation)
        sheet.line((top, foot), width=2.0)
    if main.property_line is not None:
        x, y = frame.at(main.property_line, frame.z0)
        sheet.line(((x, y), (x, y - 110)), dash="10 3 2 3", width=1.0, name="property-line")
    if main.crest is not None and main.pool_end is not None:
        middle = (main.diversion + main.pool_end) / 2
        half = (main.invert_diversion.elevation + main.crest.elevation) / 2
        x, y = frame.at(middle, half)
        sheet.line(((x, y + 17), frame.at(middle, main.crest.elevation)), stroke=MUTED, width=0.5)
        reach = f"{(main.pool_end - main.diversion) / figures.metre_per_unit:,.0f} {figures.unit}"
        parts = (*said(figures, "pool at the crest", main.crest), (f", {reach} long", ""))
        sheet.text((x, min(y + 28, base - 6)), parts, colour=WATER, anchor="middle", clear=SOIL)
