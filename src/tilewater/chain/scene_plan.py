# SPDX-License-Identifier: Apache-2.0
"""The plain geometric record that a plan is drawn from; nothing is drawn here.

Points are east and north of the job's grid. While nobody knows where the main lies in the grid they
are station and offset, the offset downward, so that up the main is to the right.
"""

from math import pi

from tilewater.basis.trace import Trace
from tilewater.basis.unknown import is_unknown
from tilewater.chain.plan_distances import DISTRIBUTION, cuts, lines_of_kind
from tilewater.chain.plan_parts import BASELINE, DISTANCES, LINES, OUTLINES, PIPES, RIGHT_OF_WAY
from tilewater.chain.scene_plan_records import (
    Line,
    Measured,
    PlanLine,
    PlanMark,
    PlanOutline,
    PlanPipe,
    PlanScene,
    PlanShot,
    Point,
)
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import Level
from tilewater.ground.baseline import Baseline, grid_of_station_offset
from tilewater.ground.outlines import closed, nearest_on_line, parallel_line, shortest_between


class _Ground:
    """From station and offset to the points of the plan."""

    def __init__(self, trace: Trace) -> None:
        known = trace.known(BASELINE)
        self.baseline: Baseline | None = trace.value(BASELINE) if known else None

    def at(self, station: float, offset: float) -> Point:
        if self.baseline is None:
            return station, -offset
        north, east = grid_of_station_offset(self.baseline, station, offset)
        return east, north

    def line(self, points: Line) -> Line:
        return tuple(self.at(*point) for point in points)


def plan_scene(trace: Trace) -> PlanScene:
    """Where the parts of a design lie, and what is on the site.

    Parameters
    ----------
    trace : Trace
        Trace of a design. [-]

    Returns
    -------
    PlanScene
        Points, lines, distances, each with its key, and what is missing, in SI.
    """
    reading, ground = SceneReading(trace), _Ground(trace)
    if ground.baseline is None:
        reading.miss(
            "the grid, north and the shots", "where the main lies in the grid is not given"
        )
    if "bed.side_slope" in trace and not cuts(trace):
        reading.miss("the bed", *_why_no_bed(reading))
    if "buffer.flow_m3_s" in trace and not any(lines_of_kind(trace, DISTRIBUTION)):
        why = f'no [line.NAME] of the kind "{DISTRIBUTION}" is given'
        reading.miss("the line of the buffer", why)
    edge = trace.value(f"{RIGHT_OF_WAY}.line") if trace.known(f"{RIGHT_OF_WAY}.line") else ()
    return PlanScene(
        title=_text(trace, "inputs.job.title"),
        grid=_text(trace, "inputs.site.grid"),
        foot=_text(trace, "inputs.site.foot"),
        datum=_text(trace, "inputs.site.vertical_datum"),
        is_grid=ground.baseline is not None,
        azimuth=_azimuth(ground),
        main=_main(reading, ground),
        stations=_stations(reading, ground),
        outlines=_outlines(reading, ground),
        pipes=_pipes(reading, ground),
        lines=_lines(reading, ground),
        marks=_marks(reading, ground),
        shots=_shots(trace, ground),
        distances=_distances(trace, ground),
        floor=reading.level("bed.floor_mean_m"),
        top=reading.level("bed.media_top_m"),
        right_of_way=ground.line(edge),
        right_of_way_width=_width_of_right_of_way(trace, ground, edge),
        missing=reading.missing,
    )


def _text(trace: Trace, key: str) -> str:
    return str(trace.value(key)) if trace.known(key) else ""


def _why_no_bed(reading: SceneReading) -> tuple[str, ...]:
    place = "inputs.place.bed"
    missing = [n for n in ("station", "offset") if not reading.trace.known(f"{place}.{n}_m")]
    if missing:
        return tuple(f"{name} of its floor is not given under [place.bed]" for name in missing)
    return reading.why("quantities.cut_margin_m")


def _azimuth(ground: _Ground) -> float | None:
    return None if ground.baseline is None else ground.baseline.legs[0].azimuth % (2 * pi)


def _main(reading: SceneReading, ground: _Ground) -> tuple[tuple[str, Line], ...]:
    """The main by its segments, each as it was found; of one piece where it has none."""
    trace, given = reading.trace, "inputs.main"
    spans: list[tuple[str, float, float]] = []
    for name in trace.names("inputs.segment"):
        here = f"inputs.segment.{name}"
        ends = (f"{here}.from_m", f"{here}.to_m")
        if trace.known(*ends):
            low, high = (float(trace.value(key)) for key in ends)
            up = f"{here}.found_up"
            found = _text(trace, up if up in trace else f"{here}.found")
            spans.append((found, low, high))
    if not spans:
        top = f"{given}.upstream_station_m"
        key = top if trace.known(top) else f"{given}.station_diversion_m"
        whole = reading.numbers((f"{given}.station_outlet_m", key), "the main")
        if whole is None:
            return ()
        spans = [("", whole[0], whole[1])]
    return tuple((found, _along(ground, low, high)) for found, low, high in sorted(spans, key=_low))


def _low(span: tuple[str, float, float]) -> float:
    return span[1]


def _along(ground: _Ground, low: float, high: float) -> Line:
    """The main between two stations, with the bends between them."""
    legs = () if ground.baseline is None else ground.baseline.legs[1:]
    bends = [leg.station for leg in legs if low < leg.station < high]
    return tuple(ground.at(station, 0.0) for station in (low, *bends, high))


def _stations(reading: SceneReading, ground: _Ground) -> tuple[tuple[float, Point], ...]:
    found = []
    for name in ("station_outlet", "station_diversion", "upstream_station"):
        station = reading.number(f"inputs.main.{name}_m")
        if station is not None:
            found.append((station, ground.at(station, 0.0)))
    return tuple(found)


def _outlines(reading: SceneReading, ground: _Ground) -> tuple[PlanOutline, ...]:
    trace, found = reading.trace, []
    for name in trace.names(OUTLINES):
        key = f"{OUTLINES}.{name}"
        if trace.known(key):
            of, _, part = name.rpartition("-")
            found.append(PlanOutline(of or name, part or name, ground.line(trace.value(key)), key))
        else:
            reading.miss(name.replace("-", " "), *reading.why(key))
    for name in ("inlet", "outlet"):
        if f"boards.{name}-design.crest_m" not in trace:
            continue
        if f"{OUTLINES}.{name}-structure" not in trace:
            reading.miss(f"the {name} structure", f"its place is not given under [place.{name}]")
    return tuple(found)


def _pipes(reading: SceneReading, ground: _Ground) -> tuple[PlanPipe, ...]:
    trace, found = reading.trace, []
    for name in trace.names("inputs.pipe"):
        here, given = f"{PIPES}.{name}", f"inputs.pipe.{name}"
        if f"{here}.line" not in trace:
            reading.miss(f"pipe {name}", "its points are not given")
            continue
        if not trace.known(f"{here}.line"):
            reading.miss(f"pipe {name}", *reading.why(f"{here}.line"))
            continue
        found.append(
            PlanPipe(
                name,
                _text(trace, f"{given}.use"),
                _text(trace, f"{given}.kind") == "solid",
                ground.line(trace.value(f"{here}.line")),
                reading.number(f"{given}.diameter_m"),
                f"{given}.diameter_m",
                float(trace.value(f"{here}.length_m")),
                f"{here}.length_m",
            )
        )
    return tuple(found)


def _lines(reading: SceneReading, ground: _Ground) -> tuple[PlanLine, ...]:
    trace, found = reading.trace, []
    for name in trace.names("inputs.line"):
        key, given = f"{LINES}.{name}", f"inputs.line.{name}"
        kind = _text(trace, f"{given}.kind")
        if not trace.known(key):
            why = (
                reading.why(key)
                if key in trace
                else ("neither its shots nor its points are known",)
            )
            reading.miss(f"{kind} {name}", *why)
            continue
        line = ground.line(trace.value(key))
        found.append(PlanLine(name, kind, _text(trace, f"{given}.found"), line))
        if kind == "toe of bank":
            found += _far_side(reading, ground, name, trace.value(key))
    return tuple(found)


def _far_side(reading: SceneReading, ground: _Ground, name: str, toe: Line) -> list[PlanLine]:
    """Toe and top of the far bank by the section of the ditch, where they were not surveyed."""
    trace, section = reading.trace, "inputs.ditch.section"
    surveyed = {_text(trace, f"inputs.line.{n}.kind") for n in trace.names("inputs.line")}
    width = reading.number(f"{section}.bottom_width_m")
    if width is None:
        return []
    bed = next(iter(cuts(trace)), None)
    land = trace.value(bed)[0] if bed else (1e4, 0.0)
    away = (2 * toe[0][0] - land[0], 2 * toe[0][1] - land[1])
    found = []
    if "far toe of bank" not in surveyed:
        line = ground.line(parallel_line(toe, width, away))
        found.append(PlanLine(f"{name}-far", "far toe of bank", "by the section", line))
    far = f"{section}.side_slope_right"
    slope = reading.number(far if trace.known(far) else f"{section}.side_slope")
    levels = ("inputs.ditch.bank_top_m", "inputs.ditch.bottom_m")
    if slope is None or not trace.known(*levels) or "far bank top" in surveyed:
        return found
    rise = float(trace.value(levels[0])) - float(trace.value(levels[1]))
    line = ground.line(parallel_line(toe, width + slope * rise, away))
    return [*found, PlanLine(f"{name}-far-top", "far bank top", "by the section", line)]


def _marks(reading: SceneReading, ground: _Ground) -> tuple[PlanMark, ...]:
    trace, found = reading.trace, []
    for hole in trace.names("inputs.boring"):
        level = reading.level(f"inputs.boring.{hole}.ground_m")
        found += _mark(reading, ground, hole, "bore hole", f"boring-{hole}", level)
    for name in trace.names("inputs.benchmark"):
        level = reading.level(f"inputs.benchmark.{name}.elevation_m")
        words = name.replace("-", " ").upper() if name.startswith("bm") else name
        found += _mark(reading, ground, words, "benchmark", f"benchmark-{name}", level)
    for name in trace.names("inputs.spot"):
        here = f"inputs.spot.{name}"
        station = reading.number(f"{here}.station_m")
        if station is not None:
            level, kind = reading.level(f"{here}.ground_m"), _text(trace, f"{here}.kind")
            found.append(PlanMark(name, kind, ground.at(station, 0.0), level))
    line = reading.number("inputs.main.property_line_station_m")
    if line is not None:
        at = ground.at(line, 0.0)
        found.append(PlanMark("property line", "property line", at, None))
    return tuple(found)


def _mark(
    reading: SceneReading, ground: _Ground, words: str, kind: str, name: str, level: Level | None
) -> list[PlanMark]:
    here = f"plan.points.{name}"
    station, offset = (reading.number(f"{here}.{side}_m") for side in ("station", "offset"))
    if station is None or offset is None:
        reading.miss(f"{kind} {words}", "its place is not known")
        return []
    return [PlanMark(words, kind, ground.at(station, offset), level)]


def _shots(trace: Trace, ground: _Ground) -> tuple[PlanShot, ...]:
    here = "inputs.shots"
    if ground.baseline is None or f"{here}.point" not in trace:
        return ()
    columns = ("point", "east_m", "north_m", "height_m", "note", "is_used")
    rows = zip(*(trace.value(f"{here}.{name}") for name in columns), strict=True)
    return tuple(PlanShot(p, (e, n), h, note, used) for p, e, n, h, note, used in rows)


def _distances(trace: Trace, ground: _Ground) -> tuple[Measured, ...]:
    """From the cut to the main, the bank, the right of way and the property line."""
    found = []
    for name in trace.names(DISTANCES):
        key = f"{DISTANCES}.{name}"
        ends = _ends_of(trace, name)
        if not trace.known(key) or ends is None:
            continue
        value = trace.value(key)
        if is_unknown(value) or float(value) <= 0.0:
            continue
        start, end = (ground.at(*point) for point in ends)
        found.append(Measured(trace.steps[key].title, start, end, float(value), key))
    return tuple(found)


def _ends_of(trace: Trace, name: str) -> tuple[Point, Point] | None:
    """Where a distance is measured, from the other thing to the cut or line of a buffer.

    By station and offset.
    """
    if name.endswith("_line_m"):
        taken = dict(trace.steps[f"{DISTANCES}.{name}"].inputs)
        line, bank = (trace.value(taken[which]) for which in ("first", "second"))
        on_line, on_bank = shortest_between(line, bank)
        return on_bank, on_line
    other, _, bed = name.removesuffix("_cut_m").partition("_to_")
    cut = f"{OUTLINES}.{bed.replace('_', '-')}-cut"
    if not trace.known(cut):
        return None
    corners = trace.value(cut)
    if other == "main":
        station, offset = min(corners, key=lambda corner: abs(corner[1]))
        return (station, 0.0), (station, offset)
    taken = dict(trace.steps[f"{DISTANCES}.{name}"].inputs)
    key = f"{RIGHT_OF_WAY}.line" if other == "right_of_way" else taken.get("second", "")
    if not trace.known(key):
        return None
    line = trace.value(key)
    on_cut, on_line = shortest_between(closed(corners), line)
    if other == "right_of_way":  # at the other corner of the same side, where there is one
        far = [c for c in corners if c != on_cut]
        on_cut = min(far, key=lambda c: _apart(c, nearest_on_line(c, line)))
        on_line = nearest_on_line(on_cut, line)
    return on_line, on_cut


def _apart(a: Point, b: Point) -> float:
    return float(((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5)


def _width_of_right_of_way(trace: Trace, ground: _Ground, edge: Line) -> Measured | None:
    """The width of the right of way, measured at the end of the bank away from the bed's."""
    key = "inputs.ditch.right_of_way_m"
    if not edge or not trace.known(key):
        return None
    bank = trace.value(dict(trace.steps[f"{RIGHT_OF_WAY}.line"].inputs)["bank"])
    beside = [
        ends[0]
        for name in trace.names(DISTANCES)
        if name.startswith("bank") and (ends := _ends_of(trace, name)) is not None
    ]
    busy = beside[0] if beside else (0.0, 0.0)
    index = max((0, len(bank) - 1), key=lambda i: _apart(bank[i], busy))
    start, end = ground.at(*bank[index]), ground.at(*edge[index])
    return Measured("Right of way", start, end, float(trace.value(key)), key)
