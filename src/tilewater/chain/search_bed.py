# SPDX-License-Identifier: Apache-2.0
"""What a search may change of a woodchip bed, in sizes that exist.

Floor in whole feet, media by three inches, side slopes of the trade, crests of stacks that the
job's boards can make, pipes of the sizes that the price file has. What goes with a size goes along:
boards of a season that stand as the design setting move with it and no others stand higher, headers
keep their distance to the sides, the soil over the media fills up to the ground.
"""

from collections.abc import Callable, Mapping
from math import floor
from typing import Any

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Trace, Value
from tilewater.basis.unknown import is_unknown
from tilewater.chain.money import price_item
from tilewater.chain.search_axes import Axis, Level, Rewired, Routing, SearchPlan
from tilewater.practices.bed.cells import cell_names
from tilewater.practices.bed.earthwork import CUT_SLOPES
from tilewater.practices.bed.sizing import LARGEST, STEP
from tilewater.practices.bed.system import bed_flow_at_diversion
from tilewater.practices.bed.touched import bed_flow_compiled, ready_to_route
from tilewater.practices.boards import HEIGHT_TOLERANCE

INCH = STEP / 12
STEP_SI, DEPTH_STEP, DEPTH_STEP_SI = 0.25, STEP / 4, 0.1
"""Steps of a floor in a job in SI units, and of the depth of media in either. [m]"""
SHORTEST, NARROWEST, SHALLOWEST = 10 * STEP, 4 * STEP, 1.5 * STEP
"""Least floor and media that are tried. [m]"""
SLOPES = (0.5, 0.75, 1.0, 1.5, 2.0)
"""Side slopes that are dug, horizontal to vertical."""
ALONG = ("feed", "bed outlet", "return")
HEADERS = ("inlet header", "outlet header")
TABLE, SERIES, YEAR = "days.table", "days.series", "days.year"
PARTS = (
    "shape",
    "bypass",
    "conductivity_new",
    "conductivity_aged",
    "ward_coefficient",
    "highest_stage",
    "most",
    "lower",
)
"""What a table takes beside the works of the settings."""


def plan_of_bed(trace: Trace) -> SearchPlan:
    """What may change of a designed bed, and how it is routed.

    Raises
    ------
    OutOfDomain
        If the bed is in cells, or its size or days are not known.
    """
    _require(trace)
    found = [
        _length(trace),
        _width(trace),
        _depth(trace),
        _slope(trace),
        _boards(trace, "inlet"),
        _boards(trace, "outlet"),
    ]
    rewired: list[Rewired] = []
    for name, uses in (("pipes", ALONG), ("headers", HEADERS)):
        axis, wires = _pipes(trace, name, uses)
        found.append(axis)
        rewired += wires
    axes = tuple(axis for axis in found if len(axis.levels) > 1)
    fixed = [f"{axis.title}: no other size exists" for axis in found if len(axis.levels) < 2]
    fixed += [
        "Floor, inverts and structures: where the job has them",
        "Lengths of solid pipe: as the job has them, though the bed ends elsewhere",
    ]
    works = dict(trace.steps[TABLE].inputs)
    return SearchPlan(
        axes=axes,
        fixed=tuple(fixed),
        needs=(*works.values(), SERIES, YEAR),
        sums="days.sums",
        draws="days.draws",
        drawn="days.drawn",
        removed="days.all.long_run_removed_kg",
        middle="days.middle",
        about_middle=_about_middle(trace),
        removed_as_designed=removed_in_mean_year,
        ready=_router(trace, works),
        rewired=tuple(rewired),
        quick={bed_flow_at_diversion: bed_flow_compiled},
    )


def removed_in_mean_year(trace: Trace) -> float:
    """Nitrate nitrogen of a mean whole year that the days of a design take out.

    Parameters
    ----------
    trace : Trace
        Of a design with its days. [-]

    Returns
    -------
    float
        At the middle of every range. [kg]

    Notes
    -----
    M = sum over the days of whole years / number of whole years    (derived)

    References
    ----------
    derived, a mean
    """
    whole = trace.value("days.whole_years")
    is_counted = whole[trace.value(YEAR)]
    return float(trace.value("days.run").removed_kg[is_counted].sum() / whole.sum())


def _about_middle(trace: Trace) -> Callable[[Value], tuple[Value, ...]]:
    """The middle of every range, and the same with the low and the high published rate."""
    low, middle, high = (
        float(trace.value(f"inputs.media.rate_{word}_g_per_m3_day"))
        for word in ("low", "mid", "high")
    )

    def about(bed: Value) -> tuple[Value, ...]:
        rate = bed.rate_g_per_m3_day
        return bed, *(bed._replace(rate_g_per_m3_day=rate * r / middle) for r in (low, high))

    return about


def _router(trace: Trace, works: Mapping[str, str]) -> Any:
    """What makes ready the routing of a candidate; what stands is taken from the trace."""

    def ready(values: Mapping[str, Value], beds: tuple[Value, ...]) -> Routing:
        def value(key: str) -> Any:
            return values[key] if key in values else trace.value(key)

        parts = {name: value(works[name]) for name in PARTS if name in works}
        settings = {name: value(key) for name, key in works.items() if name not in PARTS}
        return ready_to_route(value(SERIES), value(YEAR), beds, settings=settings, **parts).go

    return ready


def _require(trace: Trace) -> None:
    if cell_names(trace):
        raise OutOfDomain(
            "The bed is in cells. A search changes a bed of one piece. "
            "Take the cells out of a copy of the job and search that."
        )
    if "days.sums" not in trace or not trace.known("days.sums"):
        raise OutOfDomain(
            "No days have been routed through the bed. A search asks every bed over the days of a "
            "record. Give the weather or a flow record, and what else the design says is missing."
        )


def _steps(first: float, last: float, step: float) -> list[float]:
    """Whole multiples of a step from the first to the last."""
    low, high = floor(first / step + 1e-9), floor(last / step + 1e-9)
    return [round(n * step, 9) for n in range(max(1, low), min(high, LARGEST) + 1)]


def _floor_step(trace: Trace) -> float:
    return STEP_SI if trace.value("inputs.job.units") == "si" else STEP


def _room(trace: Trace, side: str) -> float:
    """Ground that may be used, or twice the floor as designed where that is not known."""
    given = f"inputs.bed.footprint_{side}_m"
    if given in trace and trace.known(given):
        return float(trace.value(given))
    return 2.0 * float(trace.value(f"bed.{side}_bottom_m"))


def _length(trace: Trace) -> Axis:
    sizes = _steps(SHORTEST, _room(trace, "length"), _floor_step(trace))
    key = "inputs.bed.length_bottom_m"
    levels = tuple(Level(size, {key: size}) for size in sizes)
    return Axis("bed.length_bottom_m", "Length of the floor", "m", levels)


def _width(trace: Trace) -> Axis:
    """Widths of the floor; headers lie across it."""
    own = float(trace.value("bed.width_bottom_m"))
    headers = [
        (f"inputs.pipe.{name}.length_m", float(trace.value(f"inputs.pipe.{name}.length_m")) - own)
        for name in _pipe_names(trace, HEADERS)
        if trace.known(f"inputs.pipe.{name}.length_m")
    ]
    levels = []
    for size in _steps(NARROWEST, _room(trace, "width"), _floor_step(trace)):
        across = {key: max(0.5 * size, size + beyond) for key, beyond in headers}
        levels.append(Level(size, {"inputs.bed.width_bottom_m": size} | across))
    return Axis("bed.width_bottom_m", "Width of the floor", "m", tuple(levels))


def _depth(trace: Trace) -> Axis:
    """Depths of the media; the soil over it goes up to the ground."""
    own = float(trace.value("inputs.bed.media_depth_m"))
    ground, bottom = "inputs.site.ground_at_bed_m", float(trace.value("bed.floor_mean_m"))
    room = float(trace.value(ground)) - bottom if trace.known(ground) else 2.0 * own
    step = DEPTH_STEP_SI if trace.value("inputs.job.units") == "si" else DEPTH_STEP
    cover = "inputs.bed.cover_depth_m"
    is_covered = cover in trace and trace.known(cover)
    levels = []
    for size in _steps(SHALLOWEST, room, step):
        inputs = {"inputs.bed.media_depth_m": size}
        if is_covered:
            inputs[cover] = max(0.0, float(trace.value(cover)) + own - size)
        levels.append(Level(size, inputs))
    return Axis("bed.media_depth_m", "Depth of the media", "m", tuple(levels))


def _slope(trace: Trace) -> Axis:
    """Side slopes no steeper than the soil stands, and the job's own."""
    key = "inputs.bed.side_slope"
    soil = trace.value("inputs.site.soil_type")
    steepest = float(trace.value(key)) if is_unknown(soil) else CUT_SLOPES[str(soil)]
    slopes = sorted({float(trace.value(key)), *(s for s in SLOPES if s >= steepest)})
    levels = tuple(Level(slope, {key: slope}) for slope in slopes)
    return Axis("bed.side_slope", "Side slope of the media", "-", levels)


def _boards(trace: Trace, structure: str) -> Axis:
    """Heights that the boards can be stacked to; the seasons that stand alike go along."""
    design = f"inputs.boards.{structure}_m"
    own = float(trace.value(design))
    given = f"inputs.structure.{structure}"
    room = float(trace.value(f"{given}.rim_m")) - float(trace.value(f"{given}.sill_m"))
    seasons = {
        key: float(trace.value(key))
        for season in trace.names("inputs.season")
        if (key := f"inputs.season.{season}.{structure}_boards_m") in trace and trace.known(key)
    }
    levels = []
    for height in stackable(trace, room):
        follow = {
            key: height if abs(stands - own) < HEIGHT_TOLERANCE else min(stands, height)
            for key, stands in seasons.items()
        }
        levels.append(Level(height, {design: height} | follow))
    title = f"Height of the {structure} boards"
    return Axis(f"boards.{structure}-design.height_m", title, "m", tuple(levels))


def stackable(trace: Trace, room: float) -> list[float]:
    """Heights up to a limit that the job's boards can be stacked to.

    Parameters
    ----------
    trace : Trace
        With the boards of the job. [-]
    room : float
        Highest stack. [m]

    Returns
    -------
    list of float
        Heights from the lowest. [m]

    Notes
    -----
    H = sum of boards and their seals    (derived)

    References
    ----------
    derived, sums of what can be bought
    """
    gap = float(trace.value("inputs.boards.seal_gap_m"))
    boards = {
        round((float(height) + gap) / HEIGHT_TOLERANCE)
        for height in trace.value("inputs.boards.heights_m")
    }
    reached, most = {0}, round(room / HEIGHT_TOLERANCE)
    new = {0}
    while new:
        new = {low + board for low in new for board in boards if low + board <= most} - reached
        reached |= new
    return [height * HEIGHT_TOLERANCE for height in sorted(reached) if height > 0]


def _pipe_names(trace: Trace, uses: tuple[str, ...]) -> list[str]:
    return [
        name
        for name in trace.names("inputs.pipe")
        if trace.value(f"inputs.pipe.{name}.use") in uses
    ]


def _pipes(trace: Trace, name: str, uses: tuple[str, ...]) -> tuple[Axis, list[Rewired]]:
    """One size for all pipes of some uses, of those that are priced for each of their kinds."""
    pipes = [
        pipe
        for pipe in _pipe_names(trace, uses)
        if trace.known(f"inputs.pipe.{pipe}.kind", f"inputs.pipe.{pipe}.diameter_m")
        and price_item(trace, f"pipe-{pipe}") != f"pipe-{pipe}"
    ]
    kinds = {pipe: str(trace.value(f"inputs.pipe.{pipe}.kind")) for pipe in pipes}
    priced = [_priced(trace, kind) for kind in kinds.values()]
    sizes = sorted(set(priced[0]).intersection(*priced[1:])) if priced else []
    levels = []
    for inches in sizes:
        inputs = {f"inputs.pipe.{pipe}.diameter_m": round(inches * INCH, 9) for pipe in pipes}
        beside = {
            f"search.price.{pipe}": trace.value(f"inputs.price.{kind}-pipe-{inches:.4g}-in.usd")
            for pipe, kind in kinds.items()
        }
        levels.append(Level(round(inches * INCH, 9), inputs, beside))
    title = "Headers, inside diameter" if name == "headers" else "Feed, drain and return, diameter"
    wires = [
        Rewired(f"cost.items.pipe-{pipe}.usd", "unit_price", f"search.price.{pipe}")
        for pipe in (pipes if len(levels) > 1 else ())
    ]
    return Axis(f"{name}.diameter_m", title, "m", tuple(levels)), wires


def _priced(trace: Trace, kind: str) -> list[float]:
    """Inside diameters of a kind of pipe that the prices have. [in]"""
    start, end = f"{kind}-pipe-", "-in"
    return [
        float(item.removeprefix(start).removesuffix(end))
        for item in trace.names("inputs.price")
        if item.startswith(start) and item.endswith(end)
    ]
