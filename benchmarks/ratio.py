# SPDX-License-Identifier: Apache-2.0
"""One result of a benchmark and the way to get it."""

import time
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class Ratio:
    """A time over another time of the same run.

    Attributes
    ----------
    measured, against : str
        What was timed, and what it is compared with.
    value : float
        The first over the second.
    """

    measured: str
    against: str
    value: float


def best_times(*acts: Callable[[], object], rounds: int) -> list[float]:
    """Return the least time of each act in seconds.

    The acts take turns, so that a busy moment of the machine falls on all of them; the least time
    is the one with the least of it.
    """
    best = [float("inf")] * len(acts)
    for _ in range(rounds):
        for place, act in enumerate(acts):
            start = time.perf_counter()
            act()
            best[place] = min(best[place], time.perf_counter() - start)
    return best
