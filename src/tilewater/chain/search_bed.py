# SPDX-License-Identifier: Apache-2.0
"""What a search may change of a woodchip bed, in sizes that exist.

Floor in whole feet, media by three inches, side slopes of the trade, crests of stacks that the
job's boards can make, pipes of the sizes that the price file has. What goes with a size goes along:
boards of a season that stand as the design setting move with it and no others stand higher, headers
keep their distance to the sides, the soil over the media fills up to the ground.
"""

from collections.abc import Callable, Mapping
from typing import Any

from tilewater.basis.trace import Trace, Value
from tilewater.basis.unknown import is_unknown
from tilewater.chain.money import price_item
from tilewater.chain.search_axes import Axis, Level, Rewired, Routing, SearchPlan
from tilewater.chain.search_sizes import (
    INCH,
    YEAR,
    boards_axis,
    floor_step,
    is_si,
    priced_sizes,
    removed_in_mean_year,
    require_days,
    steps_of,
)
from tilewater.practices.bed.cells import cell_names
from tilewater.practices.bed.earthwork import CUT_SLOPES
from tilewater.practices.bed.life import permeability_years
from tilewater.practices.bed.sizing import STEP
from tilewater.practices.bed.system import bed_flow_at_diversion, wet_media_volume
from tilewater.practices.bed.touched import (
    bed_flow_compiled,
    permeability_years_compiled,
    ready_to_route,
    wet_volume_compiled,
)

DEPTH_STEP, DEPTH_STEP_SI = STEP / 4, 0.1
"""Step of the depth of media in either system. [m]"""
SHORTEST, NARROWEST, SHALLOWEST = 10 * STEP, 4 * STEP, 1.5 * STEP
"""Least floor and media that are tried. [m]"""
SLOPES = (0.5, 0.75, 1.0, 1.5, 2.0)
"""Side slopes that are dug, horizontal to vertical."""
ALONG = ("feed", "bed outlet", "return")
HEADERS = ("inlet header", "outlet header")
TABLE, SERIES = "days.table", "days.series"
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
        If its size or days are not known.

    Notes
    -----
    Of a bed in cells the number of cells stays: a cell has a place, a feed and boards of its own,
    and the job says them of those that it has. Their widths change each by itself, and their
    lengths together.
    """
    require_days(trace)
    cells = cell_names(trace)
    found = [
        *floor_of_bed(trace),
        _depth(trace),
        _slope(trace),
        boards_axis(trace, "inlet"),
        boards_axis(trace, "outlet"),
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
    if cells:
        fixed.append("Cells, their headers and the boards that open them: as the job has them")
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
        noun="bed",
        matter="chips and kinetics",
        ends="at the middle of every range and at the low and the high rate",
        ready=_router(trace, works),
        rewired=tuple(rewired),
        quick={
            bed_flow_at_diversion: bed_flow_compiled,
            permeability_years: permeability_years_compiled,
            wet_media_volume: wet_volume_compiled,
        },
    )


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


def _room(trace: Trace, side: str) -> float:
    """Ground that may be used, or twice the floor as designed where that is not known."""
    given = f"inputs.bed.footprint_{side}_m"
    if given in trace and trace.known(given):
        return float(trace.value(given))
    return 2.0 * float(trace.value(f"bed.{side}_bottom_m"))


def floor_of_bed(trace: Trace) -> list[Axis]:
    """Lengths and widths of the floor, of a bed in cells of each cell.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]

    Returns
    -------
    list of Axis
        The length first. [-]

    References
    ----------
    practice, floors are staked in whole feet
    """
    cells = cell_names(trace)
    return [_length(trace, cells), *_widths(trace, cells)]


def _length(trace: Trace, cells: tuple[str, ...]) -> Axis:
    """Lengths of the floor; a cell with a length of its own keeps its difference."""
    key = "inputs.bed.length_bottom_m"
    own = float(trace.value("bed.length_bottom_m"))
    apart = {
        given: float(trace.value(given)) - own
        for cell in cells
        if (given := f"inputs.cell.{cell}.length_bottom_m") in trace and trace.known(given)
    }
    levels = []
    for size in steps_of(SHORTEST, _room(trace, "length"), floor_step(trace)):
        along = {given: max(SHORTEST, size + more) for given, more in apart.items()}
        levels.append(Level(size, {key: size} | along))
    return Axis("bed.length_bottom_m", "Length of the floor", "m", tuple(levels))


def _widths(trace: Trace, cells: tuple[str, ...]) -> list[Axis]:
    """Widths of the floor of each cell; one for all those that have none of their own."""
    own = [c for c in cells if f"inputs.cell.{c}.width_bottom_m" in trace]
    axes = [_width_of_cell(trace, cell) for cell in own]
    return axes if cells and len(own) == len(cells) else [_width(trace, cells), *axes]


def _width_of_cell(trace: Trace, cell: str) -> Axis:
    key = f"inputs.cell.{cell}.width_bottom_m"
    sizes = steps_of(NARROWEST, _room(trace, "width"), floor_step(trace))
    levels = tuple(Level(size, {key: size}) for size in sizes)
    return Axis(f"bed.cells.{cell}.width_bottom_m", f"Width of cell {cell}", "m", levels)


def _width(trace: Trace, cells: tuple[str, ...]) -> Axis:
    """Widths of the floor; headers lie across it, those of cells as the job has them."""
    own = float(trace.value("bed.width_bottom_m"))
    headers = [
        (f"inputs.pipe.{name}.length_m", float(trace.value(f"inputs.pipe.{name}.length_m")) - own)
        for name in (() if cells else _pipe_names(trace, HEADERS))
        if trace.known(f"inputs.pipe.{name}.length_m")
    ]
    levels = []
    for size in steps_of(NARROWEST, _room(trace, "width"), floor_step(trace)):
        across = {key: max(0.5 * size, size + beyond) for key, beyond in headers}
        levels.append(Level(size, {"inputs.bed.width_bottom_m": size} | across))
    return Axis("bed.width_bottom_m", "Width of the floor", "m", tuple(levels))


def _depth(trace: Trace) -> Axis:
    """Depths of the media; the soil over it goes up to the ground."""
    own = float(trace.value("inputs.bed.media_depth_m"))
    ground, bottom = "inputs.site.ground_at_bed_m", float(trace.value("bed.floor_mean_m"))
    room = float(trace.value(ground)) - bottom if trace.known(ground) else 2.0 * own
    step = DEPTH_STEP_SI if is_si(trace) else DEPTH_STEP
    cover = "inputs.bed.cover_depth_m"
    is_covered = cover in trace and trace.known(cover)
    levels = []
    for size in steps_of(SHALLOWEST, room, step):
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
    priced = [priced_sizes(trace, kind) for kind in kinds.values()]
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
