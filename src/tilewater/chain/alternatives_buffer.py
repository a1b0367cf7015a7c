# SPDX-License-Identifier: Apache-2.0
"""Buffers one step beside a design, and what stopped each: only what the step changes is worked."""

from collections.abc import Iterator

from tilewater.basis.requirement import status_of
from tilewater.basis.told import feet, inches
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.search_axes import Axis, Level
from tilewater.chain.search_buffer import (
    WIDEST,
    boards_of,
    depth_of_line,
    length_of_line,
    width_of_strip,
)
from tilewater.chain.search_replay import Replay, Values
from tilewater.chain.search_sizes import is_si
from tilewater.practices.buffer.givens import LINE
from tilewater.practices.buffer.line_lengths import laid_length

SUMS, COST, FLOW = "days.sums", "cost.total_usd", "buffer.flow_m3_s"
NEEDED = (
    f"{LINE}.branches_m",
    f"{LINE}.length_available_m",
    f"{LINE}.solid_at_structure_m",
    f"{LINE}.width_m",
    f"{LINE}.ground_at_line_m",
    f"{LINE}.line_invert_m",
    f"{LINE}.barrier_m",
    "boards.inlet-design.height_m",
    "inputs.structure.inlet.rim_m",
    "inputs.structure.inlet.sill_m",
    FLOW,
    COST,
)
"""What must be known before a step beside it can be."""
STRIP = 5
"""Steps of a strip to the one beside it; one foot changes nothing."""


def buffers_beside(trace: Trace) -> Iterator[tuple[str, str]]:
    """What stands beside a designed buffer, and why it was not taken.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]

    Yields
    ------
    tuple of (str, str)
        What, and why not: a shorter line, boards a step lower and higher, a line a step less deep,
        a strip wider and narrower where that is open.
    """
    if not all(key in trace for key in NEEDED) or not trace.known(*NEEDED):
        return
    branches = tuple(float(each) for each in trace.value(f"{LINE}.branches_m"))
    own = float(trace.value("boards.inlet-design.height_m"))
    depth = float(trace.value(f"{LINE}.ground_at_line_m")) - float(
        trace.value(f"{LINE}.line_invert_m")
    )
    yield from _beside(trace, length_of_line(trace), laid_length(branches), "a line {}", (-1,))
    yield from _beside(trace, boards_of(trace), own, "boards stacked to {}", (-1, 1))
    yield from _beside(trace, depth_of_line(trace), depth, "a line {} deep", (-1,))
    if WIDEST in trace and trace.known(WIDEST):
        width = float(trace.value(f"{LINE}.width_m"))
        yield from _beside(trace, width_of_strip(trace), width, "a strip of {}", (STRIP, -STRIP))


def _beside(
    trace: Trace, axis: Axis, own: float, words: str, ways: tuple[int, ...]
) -> Iterator[tuple[str, str]]:
    """So many sizes up or down an axis from the own one."""
    smaller = [level for level in axis.levels if level.value < own * (1 - 1e-9)]
    larger = [level for level in axis.levels if level.value > own * (1 + 1e-9)]
    for way in ways:
        there = smaller[::-1] if way < 0 else larger
        if len(there) >= abs(way):
            level = there[abs(way) - 1]
            what = words.format(_size(trace, axis, level.value))
            yield f"{what} instead of {_size(trace, axis, own)}", _why_not(trace, axis, level)


def _size(trace: Trace, axis: Axis, value: float) -> str:
    if is_si(trace):
        return f"{value:,.2f} m"
    if axis.key.startswith("boards"):
        return inches(value, ".4g")
    return feet(value, ",.4g")


def _why_not(trace: Trace, axis: Axis, level: Level) -> str:
    judged = [r for r in trace.requirements if r.binding]
    ends = [key for r in judged for key in (r.value, r.limit)]
    alone = Axis(axis.key, axis.title, axis.unit, (level,))
    replay = Replay(trace, (alone,), sooner=(), later=(*ends, COST, FLOW), sums=SUMS)
    values = replay.before((0,))
    for each in judged:
        if replay.waits(each.value) or replay.waits(each.limit):
            continue
        value, limit = replay.value(values, each.value), replay.value(values, each.limit)
        is_short = status_of(value, limit, each.operator) == "short"
        if is_short and trace.value(f"{each.key}.status") != "short":
            return f"falls short: {each.title}"
    return _told(trace, replay, values)


def _told(trace: Trace, replay: Replay, values: Values) -> str:
    """What it would change where nothing stops it."""
    told = ["stands as this one does"]
    cost, flow = (replay.value(values, key) for key in (COST, FLOW))
    if isinstance(cost, Unknown) or isinstance(flow, Unknown):
        return told[0]
    more, own = float(cost) - float(trace.value(COST)), float(trace.value(FLOW))
    if round(more):
        told.append(f"costs ${abs(more):,.0f} {'more' if more > 0 else 'less'}")
    if own > 0.0:
        change = 100.0 * (float(flow) / own - 1.0)
        told.append(f"takes {abs(change):.2g} percent {'more' if change > 0 else 'less'} water")
    head, *changes = told
    return f"{head}, {' and '.join(changes)}" if changes else head
