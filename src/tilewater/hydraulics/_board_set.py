# SPDX-License-Identifier: Apache-2.0
"""Flow over and through one set of stop boards between two pools: the bare arithmetic.

Plain numbers, plain loops, no checks, positional arguments: this is the source that the compiled
kernels share. Read `board_sets` for what it means, its units, its limits, and for how a crest of
any kind is turned into these numbers.

    Q = (c + c' h) (h + k)^m f(h2 / h) + leak

with h over the crest, f Villemonte's factor, and the leak through the joints of the wetted boards.
Above the top t of a notch, where c' is 0, the water that the notch no longer confines is taken off
and the board beside it put on, before the factor:

    Q_free = c (h + k)^m - c ((h - t + k)^m - k^m) + wings (h - t)^1.5
"""

import math
from typing import NamedTuple

from tilewater.basis.roots import search_between, search_on

G = 9.80665
VILLEMONTE = 0.385
HEAD_TOLERANCE = 1e-12
"""Closeness of a solved level, above the rounding of elevations up to 4000 m. [m]"""
HIGHEST = 1e3
"""Height above the crest at which the search for a level gives up. [m]"""


class BoardSet(NamedTuple):
    """One set of stop boards in its guides.

    Attributes
    ----------
    crest : float
        Lowest point that water goes over. [m]
    sill : float
        What the lowest board stands on. [m]
    coefficient : float
        Flow at one metre of head, free. [m3/s at 1 m]
    growth : float
        What each metre of head adds to the coefficient, up to `growth_ends`. [m3/s at 1 m, per m]
    growth_ends : float
        Head above which the coefficient stays as it is. [m]
    head_added : float
        Head that is added for viscosity and surface tension. [m]
    exponent : float
        Exponent of the head. [-]
    top : float
        Height of a notch's top above the crest; infinite where there is none. [m]
    wings : float
        Flow at one metre of head over the board beside a notch. [m3/s at 1 m]
    leak : float
        Area of the joints per height of wetted boards, times their coefficient. [m2/m]
    """

    crest: float
    sill: float
    coefficient: float
    growth: float
    growth_ends: float
    head_added: float
    exponent: float
    top: float
    wings: float
    leak: float


def submergence(upstream: float, downstream: float, exponent: float) -> float:
    """Villemonte's factor for heads over one crest, upstream the higher."""
    if downstream <= 0.0:
        return 1.0
    if downstream >= upstream:
        return 0.0
    return float((1.0 - (downstream / upstream) ** exponent) ** VILLEMONTE)


def free_flow(head: float, boards: BoardSet) -> float:
    """Flow over the boards into air."""
    if head <= 0.0:
        return 0.0
    added = min(boards.head_added, head)
    coefficient = boards.coefficient + boards.growth * min(head, boards.growth_ends)
    return float(coefficient * (head + added) ** boards.exponent)


def leakage(higher: float, lower: float, boards: BoardSet) -> float:
    """Flow through the joints of the boards.

    Each joint is an opening under the difference of the levels where the lower water covers it, and
    under its own depth where it does not.
    """
    top = min(higher, boards.crest)
    bottom = boards.sill
    if boards.leak <= 0.0 or top <= bottom or higher <= lower:
        return 0.0
    under = min(max(lower, bottom), top)
    fall = higher - max(lower, bottom)
    drowned = (under - bottom) * math.sqrt(higher - lower)
    free = (fall**1.5 - (higher - top) ** 1.5) / 1.5 if top > under else 0.0
    return boards.leak * math.sqrt(2.0 * G) * (drowned + free)


def over_flow(head: float, boards: BoardSet) -> float:
    """Flow over the boards into air, a notch that is full included."""
    if head <= boards.top:
        return free_flow(head, boards)
    above = head - boards.top
    added = boards.head_added
    missing = (above + added) ** boards.exponent - added**boards.exponent
    beside = boards.wings * above * math.sqrt(above)
    return float(free_flow(head, boards) - boards.coefficient * missing + beside)


def board_flow(upstream: float, downstream: float, boards: BoardSet) -> float:
    """Flow from one pool to the other; negative where the downstream level is the higher."""
    higher, lower = max(upstream, downstream), min(upstream, downstream)
    head, behind = higher - boards.crest, lower - boards.crest
    flow = leakage(higher, lower, boards)
    if head > 0.0:
        flow += over_flow(head, boards) * submergence(head, behind, boards.exponent)
    return flow if upstream >= downstream else -flow


def lowest_level(downstream: float, boards: BoardSet) -> float:
    """Upstream level from which any flow passes the boards."""
    return max(downstream, boards.sill if boards.leak > 0.0 else boards.crest)


def is_power_law(boards: BoardSet) -> bool:
    """Whether the flow over the boards is a power of the head and nothing else passes them."""
    return boards.growth == 0.0 and boards.head_added == 0.0 and boards.leak == 0.0


def board_level_upstream(flow: float, downstream: float, boards: BoardSet) -> float:
    """Level of the upper pool that sends `flow` over the boards into the lower pool."""
    low = lowest_level(downstream, boards)
    if flow <= 0.0:
        return low
    if low == boards.crest and is_power_law(boards):
        head = float((flow / boards.coefficient) ** (1.0 / boards.exponent))
        if head <= boards.top:
            return low + head
    step = 0.5
    while board_flow(low + step, downstream, boards) < flow:
        if step > HIGHEST:
            return low + step
        step *= 2.0
    at_low = board_flow(low, downstream, boards) - flow
    at_high = board_flow(low + step, downstream, boards) - flow
    search = search_between(low, low + step, at_low, at_high, HEAD_TOLERANCE)
    while search.goes_on:
        search = search_on(search, board_flow(search.x, downstream, boards) - flow)
    return search.x


def board_level_downstream(flow: float, upstream: float, boards: BoardSet) -> float:
    """Highest level of the lower pool that still lets `flow` pass from the upper one.

    Minus infinity where the boards do not pass that much even into air.
    """
    low = boards.sill if boards.leak > 0.0 else boards.crest
    if flow <= 0.0:
        return upstream
    at_low = board_flow(upstream, low, boards) - flow
    if at_low < 0.0:
        return -math.inf
    search = search_between(low, upstream, at_low, -flow, HEAD_TOLERANCE)
    while search.goes_on:
        search = search_on(search, board_flow(upstream, search.x, boards) - flow)
    return search.x
