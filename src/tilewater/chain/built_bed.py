# SPDX-License-Identifier: Apache-2.0
"""Steps on the bed as built: its floor, its size, its chips and the soil over them."""

from collections.abc import Sequence
from math import inf

from tilewater.basis.trace import Trace
from tilewater.chain.built_elements import BED, TOLERANCE, Level
from tilewater.chain.built_judged import add_judged, add_mean, add_status, part_key
from tilewater.chain.built_parts import (
    cover_with_crown,
    depth_between,
    floor_at,
    noise_between,
    pair_of,
)
from tilewater.chain.built_shots import Matched, is_as_found, keyed, of_part
from tilewater.ground.as_built import (
    LEAST_CORNERS,
    deviation,
    floor_slope,
    length_of_corners,
    spread_of_levels,
    width_of_corners,
    worst_of,
)
from tilewater.ground.tolerances import (
    largest_noise,
)
from tilewater.practices.rules import same

TAPE_NOISE = 0.03 * 0.3048
"""Usual scatter of a length from a tape or from corners, one standard deviation; practice. [m]"""
FLOOR_CODES = frozenset({"floor", "corner"})
LOW_END = "plan.points.bed-floor-lower-near.station_m"


def add_bed(trace: Trace, found: Sequence[Matched]) -> tuple[Level, ...]:
    """Record the bed as built; gives what of it can be shot."""
    shots = of_part(found, BED, FLOOR_CODES)
    floor = _add_floor(trace, shots)
    levels = [floor]
    if shots:
        _add_statistics(trace, floor, shots)
        if worst := _add_worst(trace, shots):
            levels.append(worst)
    levels += _add_size(trace, of_part(found, BED, ("corner",)))
    levels += _add_depths(trace, found)
    return tuple(levels)


def _within(name: str) -> str:
    return f"{TOLERANCE}.{name}_m"


def _known(trace: Trace, key: str) -> str:
    return key if key in trace else ""


def _add_floor(trace: Trace, shots: Sequence[Matched]) -> Level:
    floor = Level(
        BED,
        "floor",
        FLOOR_CODES,
        _known(trace, "bed.floor_mean_m"),
        _within("floor"),
        _within("floor"),
        ("inputs.bed.floor_inlet_m", "inputs.bed.floor_outlet_m"),
    )
    add_mean(trace, floor, shots)
    return floor


def _add_statistics(trace: Trace, floor: Level, shots: Sequence[Matched]) -> None:
    """Scatter and slope of the floor."""
    here = part_key(floor)
    trace.compute(
        f"{here}.spread_m",
        spread_of_levels,
        unit="m",
        title="Standard deviation of the floor",
        **keyed(shots, "level_m"),
    )
    placed = [m for m in shots if trace.known(f"{m.key}.station_m")]
    if len({trace.value(f"{m.key}.station_m") for m in placed}) < 2:
        return
    for m in placed:
        trace.compute(
            f"{m.key}.along_level",
            pair_of,
            unit="m",
            title=f"Station and level of shot {m.shot.point}",
            along=f"{m.key}.station_m",
            level=f"{m.key}.level_m",
        )
    trace.compute(
        f"{here}.slope",
        floor_slope,
        unit="-",
        title="Slope of the floor up the main",
        **keyed(placed, "along_level"),
    )


def _add_worst(trace: Trace, shots: Sequence[Matched]) -> Level | None:
    """The shot of the floor that lies furthest off; None where there is no design to lie off."""
    ends = ("bed.floor_outlet_m", "bed.floor_inlet_m", "bed.length_bottom_m", LOW_END)
    stations = [f"{m.key}.station_m" for m in shots]
    if is_as_found(trace) or not trace.known(*ends, *stations):
        return None
    for m in shots:
        trace.compute(
            f"{m.key}.design_level_m",
            floor_at,
            unit="m",
            title=f"Designed floor at shot {m.shot.point}",
            station=f"{m.key}.station_m",
            low_station=LOW_END,
            run="bed.length_bottom_m",
            floor_outlet="bed.floor_outlet_m",
            floor_inlet="bed.floor_inlet_m",
        )
        trace.compute(
            f"{m.key}.off_m",
            deviation,
            unit="m",
            title=f"Built less designed: shot {m.shot.point}",
            built=f"{m.key}.level_m",
            design=f"{m.key}.design_level_m",
        )
    worst = Level(BED, "floor, worst shot", FLOOR_CODES, "", _within("floor"), _within("floor"))
    here = part_key(worst)
    trace.compute(
        f"{here}.off_m",
        worst_of,
        unit="m",
        title="Shot of the floor that lies furthest off",
        **keyed(shots, "off_m"),
    )
    trace.compute(
        f"{here}.noise_m",
        largest_noise,
        unit="m",
        title="Noise of the least certain shot of the floor",
        **keyed(shots, "noise_m"),
    )
    add_status(trace, worst, len(shots))
    return worst


def _add_size(trace: Trace, corners: Sequence[Matched]) -> tuple[Level, ...]:
    """Length and width: taped, else from four corners."""
    levels = (
        Level(
            BED,
            "length",
            frozenset({"corner"}),
            _known(trace, "bed.length_bottom_m"),
            _within("length"),
            _within("length"),
            ("inputs.bed.length_bottom_m",),
        ),
        Level(
            BED,
            "width",
            frozenset({"corner"}),
            _known(trace, "bed.width_bottom_m"),
            _within("width_less"),
            _within("width_more"),
            ("inputs.bed.width_bottom_m",),
        ),
    )
    placed = _placed_corners(trace, corners)
    for level, function in zip(levels, (length_of_corners, width_of_corners), strict=True):
        key, taped = f"{part_key(level)}_m", f"inputs.as_built.{level.what}_m"
        title = f"{level.what.capitalize()} of the floor as built"
        if trace.known(taped):
            trace.compute(key, same, unit="m", title=title, value=taped)
        elif len(placed) == LEAST_CORNERS:
            trace.compute(key, function, unit="m", title=title, **keyed(placed, "place"))
        else:
            continue
        trace.constant(
            f"{part_key(level)}.noise_m",
            TAPE_NOISE,
            "Usual noise of a tape, or of corners",
            unit="m",
            source="practice",
        )
        add_judged(trace, level)
    return levels


def _placed_corners(trace: Trace, corners: Sequence[Matched]) -> list[Matched]:
    """Corners with a place: station and offset, or north and east."""
    made = []
    for m in corners:
        for sides in (("station", "offset"), ("north", "east")):
            keys = [f"{m.key}.{side}_m" for side in sides]
            if trace.known(*keys):
                trace.compute(
                    f"{m.key}.place",
                    pair_of,
                    unit="m",
                    title=f"Place of shot {m.shot.point}",
                    along=keys[0],
                    level=keys[1],
                )
                made.append(m)
                break
    return made


def _add_depths(trace: Trace, found: Sequence[Matched]) -> tuple[Level, ...]:
    """Depth of the chips, and of the soil over them with its crown."""
    floor = Level(BED, "floor", FLOOR_CODES, "", "", "")
    tops = {
        name: Level(BED, name, frozenset({code}), "", "", "")
        for name, code in (("chips level", "chips"), ("finished ground", "ground"))
    }
    for level in tops.values():
        shots = of_part(found, BED, level.codes)
        if shots:
            add_mean(trace, level, shots)
    if trace.known("inputs.bed.cover_depth_m", "inputs.bed.crown_m"):
        trace.compute(
            "built.design.cover_m",
            cover_with_crown,
            unit="m",
            title="Designed soil over the chips, with its crown",
            cover_depth="inputs.bed.cover_depth_m",
            crown="inputs.bed.crown_m",
        )
    trace.constant(
        "built.no_limit_m",
        inf,
        "No limit upward: more soil is no fault",
        unit="m",
        source="practice",
    )
    depth = Level(
        BED,
        "chips, deep",
        frozenset({"chips"}),
        _known(trace, "bed.media_depth_m"),
        _within("chips"),
        _within("chips"),
        ("inputs.bed.media_depth_m",),
    )
    cover = Level(
        BED,
        "cover with crown",
        frozenset({"ground"}),
        _known(trace, "built.design.cover_m"),
        _within("cover_less"),
        "built.no_limit_m",
        ("inputs.bed.cover_depth_m",),
    )
    _add_between(trace, depth, tops["chips level"], floor)
    _add_between(trace, cover, tops["finished ground"], tops["chips level"])
    return depth, cover


def _add_between(trace: Trace, level: Level, upper: Level, lower: Level) -> None:
    """The depth between two mean levels, where both were shot."""
    here, high, low = part_key(level), part_key(upper), part_key(lower)
    if not trace.known(f"{high}_m", f"{low}_m"):
        return
    for end, function in (("_m", depth_between), (".noise_m", noise_between)):
        words = "As built" if end == "_m" else "Noise"
        trace.compute(
            f"{here}{end}",
            function,
            unit="m",
            title=f"{words}: {level.what}",
            upper=f"{high}{end}",
            lower=f"{low}{end}",
        )
    add_judged(trace, level)
