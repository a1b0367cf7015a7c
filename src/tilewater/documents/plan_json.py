# SPDX-License-Identifier: Apache-2.0
"""The plan of a site as features with coordinates: what a map draws and another program reads.

Coordinates are east and north of the job's own grid, in the unit of the reader: metres, or the foot
of the grid. While nobody knows where the main lies in the grid they are station and offset
downward, and the record says so. Every word on the map is written here.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot
from typing import Any

from tilewater.basis.units import System
from tilewater.chain.scene_plan_records import (
    Line,
    Measured,
    PlanLine,
    PlanMark,
    PlanPipe,
    PlanScene,
    Point,
)
from tilewater.documents.plan_shapes import remaining_main
from tilewater.documents.scales import Figures, foot_of
from tilewater.ground.terrain import Terrain, contour_interval, terrain_contours

Feature = dict[str, Any]
TICK = {"us": 100.0, "si": 50.0}
"""Between two stations that are marked on the main. [ft, or m]"""
NEAR = 15.0
"""Marks this close to what is designed are in the first view. [m]"""
NOT_SURE = ("probed", "from a map", "guessed")
"""How a line was found that is drawn with dashes."""


def plan_record(scene: PlanScene, units: System) -> dict[str, Any]:
    """The plan as features.

    Parameters
    ----------
    scene : PlanScene
        From `tilewater.chain.scene_plan.plan_scene`.
    units : "us" or "si"
        Units of the reader.

    Returns
    -------
    dict
        A collection of features; beside them the grid, its unit, and the box of the first view.
    """
    figures = Figures(units, foot_of(scene.foot))
    unit = figures.metre_per_unit
    features = [_in_unit(feature, unit) for feature in _features(scene, figures)]
    return {
        "type": "FeatureCollection",
        "grid": {
            "name": scene.grid or "grid of the job",
            "is_grid": scene.is_grid,
            "unit": "m" if units == "si" else (scene.foot or "foot"),
            "unit_m": unit,
            "about": about_grid(scene, units),
        },
        "view": [value / unit for value in _view(scene)],
        "features": features,
    }


CONTOURS = {
    "us": tuple(step * 0.3048 for step in (0.2, 0.5, 1.0, 2.0, 5.0, 10.0)),
    "si": (0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0),
}
"""Intervals of contours in the habit of the trade. [m]"""
HEAVY = 5
"""Every so many contours one has its height written on it."""


def contour_record(terrain: Terrain, units: System, foot: str) -> dict[str, Any]:
    """Contours of a terrain as features.

    Parameters
    ----------
    terrain : Terrain
    units : "us" or "si"
        Units of the reader.
    foot : str
        Of the grid.

    Returns
    -------
    dict
        A collection of features, with the interval in words.
    """
    figures = Figures(units, foot_of(foot))
    unit = figures.metre_per_unit
    interval = contour_interval(terrain, CONTOURS[units])
    features = []
    for height, line in terrain_contours(terrain, interval):
        is_heavy = round(height / interval) % HEAVY == 0
        said = figures.elevation(height)
        kind = "contour-heavy" if is_heavy else "contour"
        label = said if is_heavy else ""
        features.append(_in_unit(_line(kind, line, f"ground {said}", label=label), unit))
    apart = figures.length(interval)
    return {"type": "FeatureCollection", "interval": apart, "features": features}


def about_grid(scene: PlanScene, units: System) -> str:
    """What the coordinates are, in words."""
    if not scene.is_grid:
        return (
            "Drawn by station and offset: where the main lies in the grid is not given. "
            "Shoot the main at two places and give north, east and azimuth under [baseline]."
        )
    foot = scene.foot.replace("us survey", "US survey") or "foot"
    unit = "metres" if units == "si" else f"{foot}, as the grid has it"
    return f"North up, {scene.grid or 'grid of the job'}, {unit}."


def _features(scene: PlanScene, figures: Figures) -> Iterator[Feature]:
    yield from _ground(scene)
    for found, line in remaining_main(scene):
        words = f"main, {found}" if found else "main"
        yield _line("main", line, words, is_sure=found not in NOT_SURE, found=found)
    for outline in scene.outlines:
        yield _area(outline.part, outline.corners, _outline_words(outline.name, outline.part),
                    of=outline.name, key=outline.key)  # fmt: skip
    for pipe in scene.pipes:
        yield _pipe(pipe, figures)
    for measured in _measured(scene):
        yield _distance(measured, figures)
    yield from _ticks(scene, figures)
    for shot in scene.shots:
        height = figures.elevation(shot.height)
        words = f"{shot.point}: {height}{f', {shot.note}' if shot.note else ''}"
        if not shot.is_used:
            words += ", without a fixed position, not used"
        kind = "shot" if shot.is_used else "shot-not-used"
        yield _point(kind, shot.at, words, label=height, number=shot.point)
    for mark in scene.marks:
        yield _mark(mark, figures)


def _ground(scene: PlanScene) -> Iterator[Feature]:
    by_kind = {line.kind: line.line for line in scene.lines}
    if "toe of bank" in by_kind and "far toe of bank" in by_kind:
        near, far = by_kind["toe of bank"], by_kind["far toe of bank"]
        yield _area("water", (*near, *reversed(far)), "ditch bottom")
    for line in scene.lines:
        yield _site_line(line)
    if scene.right_of_way:
        yield _line("right-of-way", scene.right_of_way, "edge of the right of way")


def _site_line(line: PlanLine) -> Feature:
    words = line.kind + (f", {line.found}" if line.found else "")
    is_sure = line.found not in NOT_SURE
    return _line(
        line.kind.replace(" ", "-"), line.line, words, is_sure=is_sure, of=f"line-{line.name}",
        found=line.found,
    )  # fmt: skip


def _outline_words(name: str, part: str) -> str:
    if part == "structure":
        return f"{name} structure"
    named = "" if name == "bed" else f" of {name.replace('-', ' ')}"
    words = {"floor": "floor", "chips": "chips", "cut": "top of the cut"}
    return "ground that may be used" if part == "footprint" else f"{words.get(part, part)}{named}"


def _pipe(pipe: PlanPipe, figures: Figures) -> Feature:
    size = figures.size(pipe.diameter) if pipe.diameter is not None else ""
    words = f"{pipe.use} {size}".strip()
    length = f"{figures.length(pipe.length)} {'solid' if pipe.is_solid else 'perforated'}"
    kind = "pipe" if pipe.is_solid else "pipe-perforated"
    return _line(
        kind,
        pipe.line,
        f"{words}, {length}",
        label=words,
        of=f"pipe-{pipe.name}",
        key=pipe.length_key,
    )


def _measured(scene: PlanScene) -> Iterator[Measured]:
    yield from scene.distances
    if scene.right_of_way_width is not None:
        yield scene.right_of_way_width


def _distance(measured: Measured, figures: Figures) -> Feature:
    said = figures.length(measured.value)
    line = (measured.start, measured.end)
    words = f"{measured.words}: {said}"
    return _line("distance", line, words, label=said, key=measured.key)


def _ticks(scene: PlanScene, figures: Figures) -> Iterator[Feature]:
    """Stations on the main: its ends, the diversion, and round ones between them."""
    told = dict(scene.stations)
    for station, at in scene.stations:
        yield _point("station", at, f"station {figures.station(station)}",
                     label=figures.station(station), across=_across(scene))  # fmt: skip
    if not told:
        return
    line = _joined([piece for _, piece in scene.main])
    step = TICK[figures.units] * figures.metre_per_unit
    start = min(told)
    number = int(start // step) + 1
    for station, at in _walk(line, start, number, step):
        if min(abs(station - other) for other in told) > step / 4:
            yield _point("tick", at, f"station {figures.station(station)}",
                         label=figures.station(station), across=_across(scene))  # fmt: skip


def _across(scene: PlanScene) -> float:
    """Way of a tick across the main: its azimuth and a quarter turn, clockwise. [rad]"""
    return (scene.azimuth or 0.0) if scene.is_grid else 1.5707963267948966


def _joined(pieces: Sequence[Line]) -> Line:
    points: list[Point] = []
    for piece in pieces:
        points += [point for point in piece if not points or point != points[-1]]
    return tuple(points)


def _walk(line: Line, start: float, number: int, step: float) -> Iterator[tuple[float, Point]]:
    run = start
    for a, b in pairwise(line):
        long = hypot(b[0] - a[0], b[1] - a[1])
        while number * step <= run + long:
            share = (number * step - run) / long if long else 0.0
            yield number * step, (a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1]))
            number += 1
        run += long


def _mark(mark: PlanMark, figures: Figures) -> Feature:
    height = "" if mark.level is None else figures.elevation(mark.level.elevation)
    words = ", ".join(word for word in (f"{mark.kind} {mark.name}", height) if word)
    label = " ".join(word for word in (mark.name, height) if word)
    return _point(mark.kind.replace(" ", "-"), mark.at, words, label=label, of=f"mark-{mark.name}")


def _line(kind: str, line: Line, words: str, *, is_sure: bool = True, **more: Any) -> Feature:
    return _feature("LineString", [list(p) for p in line], kind, words, is_sure=is_sure, **more)


def _area(kind: str, corners: Line, words: str, **more: Any) -> Feature:
    ring = [list(p) for p in (*corners, corners[0])]
    return _feature("Polygon", [ring], kind, words, **more)


def _point(kind: str, at: Point, words: str, **more: Any) -> Feature:
    return _feature("Point", list(at), kind, words, **more)


def _feature(shape: str, coordinates: Any, kind: str, words: str, **more: Any) -> Feature:
    properties = {"kind": kind, "words": words, "label": "", **more}
    geometry = {"type": shape, "coordinates": coordinates}
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def _in_unit(feature: Feature, unit: float) -> Feature:
    geometry = feature["geometry"]
    coordinates = _divided(geometry["coordinates"], unit)
    return feature | {"geometry": geometry | {"coordinates": coordinates}}


def _divided(coordinates: Any, unit: float) -> Any:
    if isinstance(coordinates, float | int):
        return coordinates / unit
    return [_divided(each, unit) for each in coordinates]


def _view(scene: PlanScene) -> tuple[float, float, float, float]:
    """Box around what is designed and what lies near it; around the main where nothing is. [m]"""
    built = [p for outline in scene.outlines for p in outline.corners]
    built += [p for pipe in scene.pipes for p in pipe.line]
    built += [p for line in scene.lines if line.kind == "distribution line" for p in line.line]
    built = built or [p for _, line in scene.main for p in line] or [(0.0, 0.0)]
    low, high = _corners(built)
    near = [
        p
        for p in (mark.at for mark in scene.marks)
        if low[0] - NEAR <= p[0] <= high[0] + NEAR and low[1] - NEAR <= p[1] <= high[1] + NEAR
    ]
    low, high = _corners([*built, *near])
    return *low, *high


def _corners(points: Sequence[Point]) -> tuple[Point, Point]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return (min(xs), min(ys)), (max(xs), max(ys))
