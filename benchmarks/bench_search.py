# SPDX-License-Identifier: Apache-2.0
"""What a search costs beside the days it routes, and how it grows.

Beds of the bundled example, each with a table of its own over thirty years: floors of whole feet
about its own, all else as it is. The kernel alone routes the same beds, made ready before. Memory
is what a search keeps for each bed that it asked, and what one bed takes while it is routed. By
itself: python -m benchmarks.bench_search
"""

import os
import tracemalloc
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache, partial
from itertools import product
from pathlib import Path

from benchmarks.bench_design import FARM
from benchmarks.growth import Growth, figure, note_of, timed
from benchmarks.ratio import Ratio, best_times
from tilewater.basis.compiled import has_compiler, keep_compiled_in
from tilewater.basis.trace import Trace
from tilewater.chain.design import design_bed
from tilewater.chain.search import never_stops
from tilewater.chain.search_ask import Asking
from tilewater.chain.search_axes import Axis, Candidate, SearchPlan
from tilewater.chain.search_bed import plan_of_bed
from tilewater.chain.search_walk import Tried, Walk
from tilewater.practices.bed.touched import ToRoute
from tilewater.tasks.checking import job_inputs

FIGURE = Path(__file__).resolve().parent / "search.svg"
FEET = {"bed.length_bottom_m": range(80, 128), "bed.width_bottom_m": range(26, 37)}
"""Floors that pass with the boards of the example. [ft]"""
BEDS = 256
SIZES = (16, 32, 64, 128, 256, 512)
ROUNDS = 3
WALK = 2000
"""Beds of the walk whose memory is measured."""


@cache
def designed() -> Trace:
    """The bundled example."""
    return design_bed(job_inputs(FARM)[0]).trace


def near(plan: SearchPlan) -> SearchPlan:
    """Floors about that of the example, and nothing else."""
    axes = tuple(_near(axis) for axis in plan.axes if axis.key in FEET)
    return replace(plan, axes=axes, rewired=())


def _near(axis: Axis) -> Axis:
    feet = FEET[axis.key]
    return replace(axis, levels=tuple(v for v in axis.levels if round(v.value / 0.3048) in feet))


def beds() -> list[Candidate]:
    """Candidates that pass, short and long by turns."""
    sizes = [len(axis.levels) for axis in near(plan_of_bed(designed())).axes]
    every = list(product(*map(range, sizes)))
    return every[::5] + every[1::5] + every[2::5] + every[3::5] + every[4::5]


def ask(count: int, threads: int) -> Sequence[Tried]:
    """A fresh search of so many beds."""
    plan = near(plan_of_bed(designed()))
    asking = Asking(designed(), plan, budget=count, threads=threads, goes_on=never_stops)
    return asking.ask(beds()[:count])


def ready(count: int) -> list[ToRoute]:
    """The same beds, made ready to be routed."""
    plan = near(plan_of_bed(designed()))
    asking = Asking(designed(), plan, budget=count, threads=1, goes_on=never_stops)
    made = []
    for candidate in beds()[:count]:
        values = asking.replay.before(candidate)
        draws = plan.about_middle(asking.replay.value(values, plan.middle))
        routing = plan.ready(values, draws)
        made.append(routing.__self__)  # type: ignore[attr-defined]
    return made


def route(count: int) -> float:
    """Route beds that are made ready, a table each; seconds of the kernel alone."""
    made = ready(count)
    (taken,) = best_times(partial(_go, made), rounds=1)
    return taken


def _go(made: Sequence[ToRoute]) -> None:
    for each in made:
        each.go()


def memory() -> tuple[float, float]:
    """Bytes that a search keeps for a bed it asked, and that a bed takes while it is routed."""
    plan = plan_of_bed(designed())
    tracemalloc.start()
    asking = Asking(designed(), plan, budget=WALK, threads=1, goes_on=never_stops)
    walk = Walk([len(axis.levels) for axis in plan.axes], asking.ask)
    walk.go()
    kept, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    (one,) = ready(1)
    parts = (one.rows, one.beds, one.sums, one.series.setting, *one.table[3:])
    return kept / len(walk.tried), float(sum(part.nbytes for part in parts))


def measure() -> Iterator[Ratio]:
    """Yield what a search takes over the kernel, in one thread and two, and how it grows."""
    if not has_compiler():
        return
    ask(2, 1)
    kernel = min(route(BEDS) for _ in range(ROUNDS))
    one, two, half = best_times(
        partial(ask, BEDS, 1), partial(ask, BEDS, 2), partial(ask, BEDS // 2, 1), rounds=ROUNDS
    )
    kept, while_routed = memory()
    print(
        f"search: {1e3 * one / BEDS:.2f} ms a bed of thirty years in one thread, "
        f"{1e3 * kernel / BEDS:.2f} of it in the kernel; {kept:.0f} bytes kept for each bed asked, "
        f"{while_routed / 1e6:.2f} MB while it is routed"
    )
    yield Ratio(f"a search of {BEDS} beds, one thread", "the kernel alone", one / kernel)
    yield Ratio(f"a search of {BEDS} beds, one thread", "two threads", one / two)
    yield Ratio(f"a search of {BEDS} beds", f"{BEDS // 2} beds", one / half)


def growth() -> Growth:
    """Beds of a search, doubled again and again."""
    return timed("Beds of a search", "thirty years of days, a table each", SIZES, ask)


def draw() -> Growth:
    """Measure, draw the figure, and return what it shows."""
    note = note_of(os.getloadavg()[0] if hasattr(os, "getloadavg") else 0.0)
    found = growth()
    about = f"{note} {found.title}: {found.sizes[-1]} from {found.sizes[0]}."
    svg = figure((found,), note).svg("How a search grows", about, 420.0)
    FIGURE.write_text(svg, encoding="utf-8", newline="\n")
    return found


if __name__ == "__main__":
    keep_compiled_in(str(FIGURE.parent / "__pycache__"))
    for ratio in measure():
        print(f"{ratio.measured} over {ratio.against}: {ratio.value:.2f}")
    times = draw()
    print(", ".join(f"{s}: {t:.2f}" for s, t in zip(times.sizes, times.one, strict=True)))
    print(f"Drawn: {FIGURE}")
