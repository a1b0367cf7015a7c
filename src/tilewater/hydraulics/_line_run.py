# SPDX-License-Identifier: Apache-2.0
"""Flow into a branch of a distribution line, followed along its pipe: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
twin shares. Read `distribution_line` for what it means, its units and its limits.
"""

from typing import NamedTuple

from tilewater.basis.roots import search_between, search_on
from tilewater.hydraulics._exit_flow import exit_flow
from tilewater.hydraulics._pipe_run import friction_slope

STEPS = 40
"""Steps along a branch."""
END_DEPTH = 0.05
"""Depth that counts as the end of the water, as a share of the diameter."""
CLOSENESS = 1e-10
"""Closeness of the head at the far end, as a share of that in the structure; so of a length."""


class LineRun(NamedTuple):
    """A branch between its structure and the stream.

    Attributes
    ----------
    head_structure, head_stream : float
        Above the restrictive layer. [m]
    invert : float
        Of the pipe above the restrictive layer. [m]
    diameter : float
        Inside. [m]
    n : float
        Manning roughness. [s/m^(1/3)]
    slope : float
        Flow per length per difference of the squares of the heads, K / (2 W). [1/s]
    resistance : float
        Head that a flow per length loses at the pipe. [s/m]
    """

    head_structure: float
    head_stream: float
    invert: float
    diameter: float
    n: float
    slope: float
    resistance: float


def friction_at(head: float, flow: float, run: LineRun) -> float:
    """Fall of the head along the pipe."""
    if flow <= 0.0:
        return 0.0
    return friction_slope(head - run.invert, flow, run.diameter, run.n)


def given_at(head: float, run: LineRun) -> float:
    """Flow per length into the soil. [m2/s]"""
    return exit_flow(head, run.head_stream, run.slope, run.resistance)


def followed(far_head: float, length: float, run: LineRun) -> tuple[float, float]:
    """Head and flow at the near end of a length, from the far end where no flow is left.

    Steps are short near the far end, where the depth changes most. Over the head of the structure
    it is not followed; what is left of the way is then added to the head, so that a search still
    knows how far off it is.
    """
    highest = run.head_structure
    head, flow, way = far_head, 0.0, 0.0
    for number in range(1, STEPS + 1):
        step = length * (number / STEPS) ** 2 - way
        a, b = friction_at(head, flow, run), given_at(head, run)
        head2, flow2 = min(head + 0.5 * step * a, highest), flow + 0.5 * step * b
        a2, b2 = friction_at(head2, flow2, run), given_at(head2, run)
        head3, flow3 = min(head + 0.5 * step * a2, highest), flow + 0.5 * step * b2
        a3, b3 = friction_at(head3, flow3, run), given_at(head3, run)
        head4, flow4 = min(head + step * a3, highest), flow + step * b3
        a4, b4 = friction_at(head4, flow4, run), given_at(head4, run)
        head += step * (a + 2.0 * a2 + 2.0 * a3 + a4) / 6.0
        flow += step * (b + 2.0 * b2 + 2.0 * b3 + b4) / 6.0
        way += step
        if head > highest:
            return head + 1.0 - way / length, flow
    return head, flow


def surplus(far_head: float, length: float, run: LineRun) -> float:
    """Head at the near end over that of the structure."""
    head, _ = followed(far_head, length, run)
    return head - run.head_structure


def lowest_head(run: LineRun) -> float:
    """Head at which the water in the pipe ends."""
    return max(run.invert + END_DEPTH * run.diameter, run.head_stream)


def branch_run(branch: float, run: LineRun) -> tuple[float, float, float]:
    """Flow into a branch [m3/s], head where its water ends [m], length that water reaches [m]."""
    lowest, highest = lowest_head(run), run.head_structure
    if highest <= lowest:
        return 0.0, highest, 0.0
    at_low = surplus(lowest, branch, run)
    if at_low < 0.0:
        at_high = surplus(highest, branch, run)
        search = search_between(lowest, highest, at_low, at_high, CLOSENESS * highest)
        while search.goes_on:
            search = search_on(search, surplus(search.x, branch, run))
        _, flow = followed(search.x, branch, run)
        return flow, search.x, branch
    search = search_between(0.0, branch, lowest - highest, at_low, CLOSENESS * branch)
    while search.goes_on:
        search = search_on(search, surplus(lowest, search.x, run))
    _, flow = followed(lowest, search.x, run)
    return flow, lowest, search.x
