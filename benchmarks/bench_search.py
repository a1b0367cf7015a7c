# SPDX-License-Identifier: Apache-2.0
"""What a search costs beside the days it routes, and how it grows.

Beds of a bundled example, each with a table of its own over thirty years: floors of whole feet
about its own, all else as it is; and buffers of another, strip, boards and depth about its own. The
kernel alone routes the same beds, made ready before. Memory
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
from tilewater.chain.bed import BED
from tilewater.chain.buffer import BUFFER
from tilewater.chain.design import design_practice
from tilewater.chain.search import PLANNERS, never_stops
from tilewater.chain.search_ask import Asking
from tilewater.chain.search_axes import Axis, Candidate, Routing, SearchPlan
from tilewater.chain.search_walk import Tried, Walk
from tilewater.tasks.checking import job_inputs

FIGURE = Path(__file__).resolve().parent / "search.svg"
FEET = {
    "bed.length_bottom_m": range(80, 128),
    "bed.width_bottom_m": range(26, 37),
    "buffer.width_m": range(30, 56),
    "quantities.line_depth_m": range(1, 6),
    "boards.inlet-design.height_m": range(5, 6),
    "buffer.laid_length_m": range(1045, 1060),
}
"""Sizes near those of the examples, of which most pass. [ft]"""
FOR = {"bed": BED, "buffer": BUFFER}
BEDS, BUFFERS = 256, 64
SIZES = (16, 32, 64, 128, 256, 512)
ROUNDS = 3
WALK = 2000
"""Beds of the walk whose memory is measured."""


@cache
def designed(practice: str = "bed") -> Trace:
    """A bundled example."""
    farm = FARM if practice == "bed" else FARM.parent / "merridew-farm"
    return design_practice(job_inputs(farm)[0], FOR[practice]).trace


@cache
def near(practice: str = "bed") -> SearchPlan:
    """Sizes about those of the example, and nothing else."""
    plan = PLANNERS[practice](designed(practice))
    axes = tuple(_near(axis) for axis in plan.axes if axis.key in FEET)
    if practice == "bed":
        axes = tuple(axis for axis in axes if axis.key.startswith("bed"))
    return replace(plan, axes=axes, rewired=())


def _near(axis: Axis) -> Axis:
    feet = FEET[axis.key]
    return replace(
        axis, levels=tuple(v for v in axis.levels if int(v.value / 0.3048 + 0.5) in feet)
    )


@cache
def passing(practice: str = "bed") -> tuple[Candidate, ...]:
    """Candidates that meet the days, large and small by turns."""
    every = list(product(*(range(len(axis.levels)) for axis in near(practice).axes)))
    mixed = every[::5] + every[1::5] + every[2::5] + every[3::5] + every[4::5]
    asking = fresh(len(mixed), 2, practice)
    return tuple(t.candidate for t in asking.ask(mixed) if t.removed is not None)


def fresh(count: int, threads: int, practice: str) -> Asking:
    """A search that has asked nothing."""
    return Asking(
        designed(practice), near(practice), budget=count, threads=threads, goes_on=never_stops
    )


def ask(count: int, threads: int, practice: str = "bed") -> Sequence[Tried]:
    """A fresh search of so many."""
    return fresh(count, threads, practice).ask(passing(practice)[:count])


def ready(count: int, practice: str = "bed") -> list[Routing]:
    """The same, made ready to be routed."""
    asking, plan = fresh(count, 1, practice), near(practice)
    made = []
    for candidate in passing(practice)[:count]:
        values = asking.replay.before(candidate)
        about = plan.about_middle(asking.replay.value(values, plan.middle))
        made.append(plan.ready(values, about if asking.after_days else about[:1]))
    return made


def route(count: int, practice: str = "bed") -> float:
    """Route what is made ready; seconds of the kernel alone."""
    made = ready(count, practice)
    (taken,) = best_times(partial(_go, made), rounds=1)
    return taken


def _go(made: Sequence[Routing]) -> None:
    for each in made:
        each()


def memory() -> tuple[float, float]:
    """Bytes that a search keeps for a bed it asked, and that a bed takes while it is routed."""
    plan = PLANNERS["bed"](designed())
    tracemalloc.start()
    asking = Asking(designed(), plan, budget=WALK, threads=1, goes_on=never_stops)
    walk = Walk([len(axis.levels) for axis in plan.axes], asking.ask)
    walk.go()
    kept, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    one = ready(1)[0].__self__  # type: ignore[attr-defined]
    parts = (one.rows, one.beds, one.sums, one.series.setting, *one.table[3:])
    return kept / len(walk.tried), float(sum(part.nbytes for part in parts))


def measure() -> Iterator[Ratio]:
    """Yield what a search takes over the kernel, in one thread and two, and how it grows."""
    if not has_compiler():
        return
    ask(2, 1)
    yield _over_kernel("bed", BEDS)
    yield _over_kernel("buffer", BUFFERS)
    one, two, half = best_times(
        partial(ask, BEDS, 1), partial(ask, BEDS, 2), partial(ask, BEDS // 2, 1), rounds=ROUNDS
    )
    kept, while_routed = memory()
    print(
        f"search: {kept:.0f} bytes kept for each bed asked, {while_routed / 1e6:.2f} MB while "
        "it is routed"
    )
    yield Ratio(f"a search of {BEDS} beds, one thread", "two threads", one / two)
    yield Ratio(f"a search of {BEDS} beds", f"{BEDS // 2} beds", one / half)


def _over_kernel(practice: str, count: int) -> Ratio:
    """What a search takes over its kernel, both in one thread and in one run."""
    count = min(count, len(passing(practice)))
    kernel = min(route(count, practice) for _ in range(ROUNDS))
    (whole,) = best_times(partial(ask, count, 1, practice), rounds=ROUNDS)
    print(
        f"search: {1e3 * whole / count:.2f} ms a {practice} of thirty years in one thread, "
        f"{1e3 * kernel / count:.2f} of it in the kernel"
    )
    return Ratio(f"a search of {count} {practice}s, one thread", "the kernel alone", whole / kernel)


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
