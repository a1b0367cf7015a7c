# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: where things lie in plan, by station and offset and in the grid.

Nothing that judges the practice rests on these steps; they place what was designed. What the job
gives no place is left out.
"""

from collections.abc import Callable

from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain.plan_distances import add_distances, add_line_of_buffer, add_right_of_way
from tilewater.chain.plan_findings import tell_of_plan
from tilewater.chain.plan_parts import (
    BASELINE,
    CORNERS,
    LINES,
    OUTLINES,
    PIPES,
    POINTS,
    baseline_through,
    bend_at,
    box_around,
    line_as_typed,
    line_of_shots,
    offset_of_corner,
    offset_of_end,
    outline_beside,
    station_of_corner,
    station_of_end,
)
from tilewater.ground.baseline import east_at, line_length, north_at, offset_at, station_at
from tilewater.practices.bed.earthwork import spread
from tilewater.practices.boards import radians_of
from tilewater.practices.rules import same


def add_plan(trace: Trace) -> None:
    """Record the baseline, the outlines and lines, their points in the grid, their distances."""
    _add_baseline(trace)
    _add_beds(trace)
    _add_structures(trace)
    _add_pipes(trace)
    _add_lines(trace)
    _add_marks(trace)
    add_distances(trace)
    add_right_of_way(trace)
    add_line_of_buffer(trace)
    tell_of_plan(trace)


def _add_baseline(trace: Trace) -> None:
    given = "inputs.baseline"
    if not all(f"{given}.{name}" in trace for name in ("north_m", "east_m", "azimuth_deg")):
        why = Unknown(
            "where the main lies in the grid is not given",
            "shoot the main at two places and give north, east and azimuth under [baseline]",
            (BASELINE,),
        )
        trace.give(Given(BASELINE, why, "", "Baseline: the main in the grid"))
        return
    trace.compute(
        "plan.azimuth_rad",
        radians_of,
        unit="rad",
        title="Azimuth of the baseline",
        angle_deg=f"{given}.azimuth_deg",
    )
    bends = {}
    for name in trace.names("inputs.bend"):
        bends[argument_name(name)] = f"plan.bends.{name}"
        trace.compute(
            f"plan.bends.{name}",
            bend_at,
            unit="",
            title=f"Bend of the main, {name}",
            station=f"inputs.bend.{name}.station_m",
            azimuth_deg=f"inputs.bend.{name}.azimuth_deg",
        )
    trace.compute(
        BASELINE,
        baseline_through,
        unit="",
        title="Baseline: the main in the grid",
        north=f"{given}.north_m",
        east=f"{given}.east_m",
        azimuth="plan.azimuth_rad",
        station=f"{given}.station_m",
        **bends,
    )


def _add_beds(trace: Trace) -> None:
    if "bed.side_slope" not in trace:
        return
    trace.compute(
        "plan.chips_margin_m",
        spread,
        unit="m",
        title="Top of the media outside the floor, on each side",
        depth="inputs.bed.media_depth_m",
        slope="inputs.bed.side_slope",
    )
    cells = trace.names("inputs.cell")
    for cell in cells:
        given = f"inputs.cell.{cell}"
        _add_bed(trace, f"cell-{cell}", given, f"bed.cells.{cell}", f"cell {cell}")
    if not cells:
        _add_bed(trace, "bed", "inputs.place.bed", "bed", "the bed")
    place = "inputs.place.footprint"
    if f"{place}.station_m" in trace and f"{place}.offset_m" in trace:
        sides = {side: f"inputs.bed.footprint_{side}_m" for side in ("length", "width")}
        _add_outline(trace, "footprint", place, sides, "ground that may be used")


def _add_bed(trace: Trace, name: str, place: str, bed: str, words: str) -> None:
    if f"{place}.offset_m" not in trace:
        return
    sides = {side: f"{bed}.{side}_bottom_m" for side in ("length", "width")}
    for part, margin, what in (
        ("floor", "", "floor"),
        ("chips", "plan.chips_margin_m", "top of the media"),
        ("cut", "quantities.cut_margin_m", "top of the cut"),
    ):
        more = {"margin": margin} if margin else {}
        _add_outline(trace, f"{name}-{part}", place, sides | more, f"{what} of {words}")


def _add_outline(trace: Trace, name: str, place: str, sides: dict[str, str], words: str) -> None:
    """An outline beside the main, and its four corners."""
    station = f"{place}.station_m"
    bed = "inputs.place.bed"
    if station not in trace:
        station = f"{bed}.station_m"
    if station not in trace:
        return
    turn = {"turn_deg": f"{bed}.turn_deg"} if f"{bed}.turn_deg" in trace else {}
    if name == "footprint":
        turn = {}
    key = f"{OUTLINES}.{name}"
    trace.compute(
        key,
        outline_beside,
        unit="m",
        title=f"Outline: {words}",
        station=station,
        offset=f"{place}.offset_m",
        **sides,
        **turn,
    )
    _add_corners(trace, name, key, words)


def _add_corners(trace: Trace, name: str, outline: str, words: str) -> None:
    for corner in CORNERS:
        word = trace.constant(
            f"plan.corners.{corner}",
            corner,
            f"Corner: {corner.replace('-', ' ')}",
            source="derived",
        )
        _add_point(
            trace,
            f"{name}-{corner}",
            f"{words}, {corner.replace('-', ' ')}",
            (station_of_corner, offset_of_corner),
            {"outline": outline, "corner": word},
        )


def _add_point(
    trace: Trace,
    name: str,
    words: str,
    functions: tuple[Callable[..., float], Callable[..., float]],
    inputs: dict[str, str],
    offset_inputs: dict[str, str] | None = None,
) -> None:
    """A point by station and offset, and in the grid."""
    here = f"{POINTS}.{name}"
    station, offset = functions
    trace.compute(f"{here}.station_m", station, unit="m", title=f"Station: {words}", **inputs)
    trace.compute(
        f"{here}.offset_m",
        offset,
        unit="m",
        title=f"Offset: {words}",
        **(inputs if offset_inputs is None else offset_inputs),
    )
    place = {"station": f"{here}.station_m", "offset": f"{here}.offset_m"}
    for side, function in (("north", north_at), ("east", east_at)):
        trace.compute(
            f"{here}.{side}_m",
            function,
            unit="m",
            title=f"{side.capitalize()}: {words}",
            baseline=BASELINE,
            **place,
        )


def _add_structures(trace: Trace) -> None:
    for name in ("inlet", "outlet"):
        place = f"inputs.place.{name}"
        station, offset = f"{place}.station_m", f"{place}.offset_m"
        if name == "inlet" and station not in trace:
            station = "inputs.main.station_diversion_m"
        if name == "inlet" and offset not in trace:
            offset = trace.constant(
                "plan.on_the_main_m", 0.0, "Offset of what stands on the main", unit="m",
                source="derived",
            )  # fmt: skip
        if station not in trace or offset not in trace:
            continue
        words = f"middle of the {name} structure"
        _add_point(
            trace, f"{name}-structure", words, (same, same), {"value": station}, {"value": offset}
        )
        trace.compute(
            f"{OUTLINES}.{name}-structure",
            box_around,
            unit="m",
            title=f"Outline: box of the {name} structure",
            station=f"{POINTS}.{name}-structure.station_m",
            offset=f"{POINTS}.{name}-structure.offset_m",
            length=f"inputs.structure.{name}.box_length_m",
            width=f"inputs.structure.{name}.box_width_m",
        )


def _add_pipes(trace: Trace) -> None:
    for name in trace.names("inputs.pipe"):
        given = f"inputs.pipe.{name}.points"
        if given not in trace:
            continue
        here = f"{PIPES}.{name}"
        trace.compute(f"{here}.line", line_as_typed, unit="m", title=f"Pipe {name}", points=given)
        trace.compute(
            f"{here}.length_m",
            line_length,
            unit="m",
            title=f"Length of pipe {name} in plan",
            line=f"{here}.line",
        )
        for end in ("upper", "lower"):
            word = trace.constant(f"plan.ends.{end}", end, f"End: {end}", source="derived")
            _add_point(
                trace,
                f"pipe-{name}-{end}",
                f"{end} end of pipe {name}",
                (station_of_end, offset_of_end),
                {"line": f"{here}.line", "end": word},
            )


def _add_lines(trace: Trace) -> None:
    for name in trace.names("inputs.line"):
        given, key = f"inputs.line.{name}", f"{LINES}.{name}"
        title = f"Line {name}: {trace.value(f'{given}.kind')}"
        shots = f"inputs.shot_places.line.{name}"
        if f"{given}.points" in trace:
            trace.compute(key, line_as_typed, unit="m", title=title, points=f"{given}.points")
        elif f"{shots}.north_m" in trace:
            trace.compute(
                key,
                line_of_shots,
                unit="m",
                title=title,
                baseline=BASELINE,
                north=f"{shots}.north_m",
                east=f"{shots}.east_m",
            )


def _add_marks(trace: Trace) -> None:
    """Bore holes, benchmarks and spots in the grid."""
    for hole in trace.names("inputs.boring"):
        here = f"inputs.boring.{hole}"
        if f"{here}.station_m" in trace and f"{here}.offset_m" in trace:
            _add_typed(trace, f"boring-{hole}", f"bore hole {hole}", here)
    for name in trace.names("inputs.benchmark"):
        here, shot = f"inputs.benchmark.{name}", f"inputs.shot_places.benchmark.{name}"
        if f"{here}.station_m" in trace and f"{here}.offset_m" in trace:
            _add_typed(trace, f"benchmark-{name}", f"benchmark {name}", here)
        elif f"{shot}.north_m" in trace:
            _add_shot(trace, f"benchmark-{name}", f"benchmark {name}", shot)


def _add_typed(trace: Trace, name: str, words: str, here: str) -> None:
    station, offset = {"value": f"{here}.station_m"}, {"value": f"{here}.offset_m"}
    _add_point(trace, name, words, (same, same), station, offset)


def _add_shot(trace: Trace, name: str, words: str, shot: str) -> None:
    """A point that one shot was taken on; its coordinates are those of the shot."""
    here = f"{POINTS}.{name}"
    for side in ("north", "east"):
        trace.compute(
            f"{here}.{side}_m",
            only_of,
            unit="m",
            title=f"{side.capitalize()}: {words}",
            values=f"{shot}.{side}_m",
        )
    place = {"north": f"{here}.north_m", "east": f"{here}.east_m"}
    for side, function in (("station", station_at), ("offset", offset_at)):
        trace.compute(
            f"{here}.{side}_m",
            function,
            unit="m",
            title=f"{side.capitalize()}: {words}",
            baseline=BASELINE,
            **place,
        )


def only_of(values: tuple[float, ...]) -> float:
    """The one value of a list of one.

    Parameters
    ----------
    values : tuple of float
        The list. [m]

    Returns
    -------
    float
        Its value. [m]

    Notes
    -----
    x = x_1    (derived)

    References
    ----------
    derived, the value itself
    """
    (value,) = values
    return value
