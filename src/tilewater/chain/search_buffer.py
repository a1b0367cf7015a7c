# SPDX-License-Identifier: Apache-2.0
"""What a search may change of a saturated buffer, in sizes that exist.

Line in steps of ten feet and all that the strip has room for, strip in whole feet as wide as the
job says that it could be, bypass boards in stacks that the job's boards can make, line as deep as
its trench may be dug without shoring, pipe of the sizes that the price file has. What goes with a
size goes along: branches keep their shares of the line, and boards of a season that stand as the
design setting move with it and no others stand higher.
"""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from tilewater.basis.trace import Trace, Value
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
from tilewater.practices.bed.sizing import STEP
from tilewater.practices.buffer.givens import LINE
from tilewater.practices.buffer.line import flow_at_heads, flow_at_heads_compiled
from tilewater.practices.buffer.line_lengths import laid_length, longest_line
from tilewater.practices.buffer.quantities import BEDDING
from tilewater.practices.buffer.route import route_buffer_by_year

LINE_STEP, LINE_STEP_SI = 10 * STEP, 3.0
"""Step of the length of a line in either system. [m]"""
DEPTH_STEP, DEPTH_STEP_SI = STEP / 4, 0.1
"""Step of its depth. [m]"""
NARROWEST, SHALLOWEST = 20 * STEP, 1.5 * STEP
"""Least strip and depth that are tried. [m]"""
DEEPEST_TRENCH = 5 * STEP
"""Trench beyond which the walls are shored, which no price of a buffer counts. [m]"""
WIDEST = f"{LINE}.width_available_m"
SERIES, BOARDS = "days.series", "days.boards"
OF_LINE = {"perforated-line": "perforated", "solid-line": "solid"}
RATE = "buffer-rate"


def plan_of_buffer(trace: Trace) -> SearchPlan:
    """What may change of a designed buffer, and how it is routed.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]

    Returns
    -------
    SearchPlan

    Raises
    ------
    OutOfDomain
        If its days are not known.

    References
    ----------
    derived, sizes that exist
    """
    require_days(trace)
    pipe, wires = _pipe(trace)
    found = [
        length_of_line(trace),
        width_of_strip(trace),
        boards_of(trace),
        depth_of_line(trace),
        pipe,
    ]
    axes = tuple(axis for axis in found if len(axis.levels) > 1)
    fixed = [f"{axis.title}: {_why_fixed(axis)}" for axis in found if len(axis.levels) < 2]
    fixed += [
        "Structure, head boards and ground over the line: as the job has them",
        "Solid pipe at the structure and past trees: as the job has it, though the line is shorter",
        "Trench of the line: no deeper than may be dug without shoring",
    ]
    return SearchPlan(
        axes=axes,
        fixed=tuple(fixed),
        needs=(BOARDS, SERIES, YEAR),
        sums="days.sums",
        draws="days.draws",
        drawn="days.drawn",
        removed="days.all.long_run_removed_kg",
        middle="days.middle",
        about_middle=_about_middle(trace),
        noun="buffer",
        matter="soil and kinetics",
        ends="at the middle of every range, and at the low and the high rate where a rule rests on "
        "the days",
        removed_as_designed=removed_in_mean_year,
        ready=_router(trace),
        rewired=tuple(wires),
        quick={flow_at_heads: flow_at_heads_compiled},
    )


def _why_fixed(axis: Axis) -> str:
    if axis.key == "buffer.width_m":
        return "the job does not say how wide it could be (buffer.width_available)"
    return "no other size exists"


def _about_middle(trace: Trace) -> Callable[[Value], tuple[Value, ...]]:
    """The middle of every range, and the same with both ends of the removal rate."""
    rate = trace.value("days.ranges")[RATE]

    def about(buffer: Value) -> tuple[Value, ...]:
        ends = (end / rate.mid * buffer.rate_mg_per_l_day for end in (rate.low, rate.high))
        return buffer, *(buffer._replace(rate_mg_per_l_day=end) for end in ends)

    return about


def _router(trace: Trace) -> Any:
    """What makes ready the routing of a candidate; what stands is taken from the trace."""

    def ready(values: Mapping[str, Value], buffers: tuple[Value, ...]) -> Routing:
        series, year, boards = (
            values[key] if key in values else trace.value(key) for key in (SERIES, YEAR, BOARDS)
        )
        return partial(route_buffer_by_year, series, year, buffers, boards, threads=1)

    return ready


def boards_of(trace: Trace) -> Axis:
    """Stacks of the bypass boards."""
    return boards_axis(trace, "inlet")


def length_of_line(trace: Trace) -> Axis:
    """Lengths of the line as laid, up to all that the strip has room for."""
    key = f"{LINE}.branches_m"
    branches = tuple(float(each) for each in trace.value(key))
    own = laid_length(branches)
    room = longest_line(
        branches,
        float(trace.value(f"{LINE}.length_available_m")),
        float(trace.value(f"{LINE}.solid_at_structure_m")),
    )
    trees = f"{LINE}.tree_length_m"
    solid = float(trace.value(trees)) if trees in trace and trace.known(trees) else 0.0
    step = LINE_STEP_SI if is_si(trace) else LINE_STEP
    sizes = [size for size in steps_of(step, room, step) if solid < size < room - 0.5 * step]
    levels = []
    for size in (*sizes, room):
        levels.append(Level(size, {key: tuple(each * size / own for each in branches)}))
    return Axis("buffer.laid_length_m", "Length of the line", "m", tuple(levels))


def width_of_strip(trace: Trace) -> Axis:
    """Widths of the strip, where the job says how wide it could be."""
    key = f"{LINE}.width_m"
    own = float(trace.value(key))
    sizes = [own]
    if WIDEST in trace and trace.known(WIDEST):
        sizes = steps_of(NARROWEST, float(trace.value(WIDEST)), floor_step(trace)) or [own]
    levels = tuple(Level(size, {key: size}) for size in sizes)
    return Axis("buffer.width_m", "Width of the strip", "m", levels)


def depth_of_line(trace: Trace) -> Axis:
    """Depths of the line under the ground, no lower than the sill of its structure."""
    key, ground = f"{LINE}.line_invert_m", float(trace.value(f"{LINE}.ground_at_line_m"))
    own = ground - float(trace.value(key))
    lowest = max(
        float(trace.value("inputs.structure.inlet.sill_m")), float(trace.value(f"{LINE}.barrier_m"))
    )
    room = min(ground - lowest, max(own, DEEPEST_TRENCH - BEDDING))
    step = DEPTH_STEP_SI if is_si(trace) else DEPTH_STEP
    levels = tuple(Level(d, {key: ground - d}) for d in steps_of(SHALLOWEST, room, step))
    return Axis("quantities.line_depth_m", "Depth of the line", "m", levels)


def _pipe(trace: Trace) -> tuple[Axis, list[Rewired]]:
    """Sizes of the line that are priced, perforated and solid; its own where only one price is."""
    key = f"{LINE}.pipe_diameter_m"
    sorts = [item for item in OF_LINE if price_item(trace, item) != item]
    priced = [set(priced_sizes(trace, OF_LINE[item])) for item in sorts]
    sizes = sorted(set.intersection(*priced)) if len(sorts) == len(OF_LINE) else []
    levels = [
        Level(
            size := round(inches * INCH, 9),
            {key: size},
            {
                f"search.price.{item}": trace.value(
                    f"inputs.price.{OF_LINE[item]}-pipe-{inches:.4g}-in.usd"
                )
                for item in sorts
            },
        )
        for inches in sizes
    ]
    wires = [
        Rewired(f"cost.items.{item}.usd", "unit_price", f"search.price.{item}")
        for item in (sorts if len(levels) > 1 else ())
    ]
    return Axis("buffer.pipe_diameter_m", "Diameter of the line", "m", tuple(levels)), wires
