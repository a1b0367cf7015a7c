# SPDX-License-Identifier: Apache-2.0
"""What a day of the route kernel costs, against the same arithmetic in plain C; draws, threads.

The C copy is built with the flags of `bench_field`. Thirty years through one bed, summed by year:
the bundled example, dry on three days of four, and a series with flow on every day, of every ditch
and inflow. Series and tables are arrays of doubles, settings and years of whole numbers. Draws
share the table of one bed; beds have one each, of `TABLES` that stand apart in memory. Without a C
compiler or without numba nothing is measured.
"""

import ctypes
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from copy import deepcopy
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from benchmarks import bench_field
from benchmarks.bench_design import FARM
from benchmarks.bench_field import AGREES, FLAGS
from benchmarks.ratio import Ratio, best_times
from tilewater.basis.compiled import compiled, has_compiler
from tilewater.chain.design import design_bed
from tilewater.practices.bed import _route
from tilewater.practices.bed._split import Array, SplitTable, Whole, flat
from tilewater.practices.bed.route import BedYears, DaySeries, route_by_year
from tilewater.tasks.checking import job_inputs

SOURCE = Path(__file__).resolve().parent / "c" / "route.c"
IN_C = f"C with {' '.join(FLAGS)}"
ROUNDS = 200
LONG_ROUNDS = 5
BEDS = 1000
TABLES = 50
"""More than fit into the processor's own memory, as those of a thousand beds would."""


class Routing(NamedTuple):
    """Days, beds and their table."""

    series: DaySeries
    year: Whole
    beds: Sequence[BedYears]
    table: SplitTable


def example() -> Routing:
    """The bundled example with its 1,024 draws."""
    trace = design_bed(job_inputs(FARM)[0]).trace
    return Routing(
        trace.value("days.series"),
        trace.value("days.year"),
        trace.value("days.draws"),
        trace.value("days.table"),
    )


def wet(routing: Routing) -> Routing:
    """The same with flow on every day, from drops to over the table, and every ditch."""
    draw, days = np.random.default_rng(1), routing.year.size
    table = routing.table
    flow = table.most * 1.2 * draw.uniform(0.0, 1.0, days) ** 3
    return routing._replace(
        series=DaySeries(
            flow,
            draw.uniform(2.0, 25.0, days),
            draw.uniform(1.0, 18.0, days),
            draw.uniform(0.6, 1.0, days),
            draw.uniform(table.stage[0, 0], table.stage[0, -4], days),
            draw.integers(0, table.stage.shape[0], days),
            float(flow.max()),
        )
    )


def as_struct(record: Any) -> ctypes.Structure:
    """A named tuple of numbers and arrays as C takes it; the arrays are shared, not copied."""
    kinds = {np.ndarray: ctypes.c_void_p, int: ctypes.c_int64, float: ctypes.c_double}
    fields = [(name, kinds[type(value)]) for name, value in record._asdict().items()]
    struct = type("Record", (ctypes.Structure,), {"_fields_": fields})
    made: ctypes.Structure = struct(
        *(each.ctypes.data if isinstance(each, np.ndarray) else each for each in record)
    )
    return made


def c_function(folder: Path) -> Callable[..., object]:
    """The kernel in C, built in a folder."""
    library = folder / "route.so"
    line = ["cc", *FLAGS, "-shared", "-fPIC", str(SOURCE), "-lm", "-o", str(library)]
    subprocess.run(line, check=True)
    function: Callable[..., object] = ctypes.CDLL(str(library)).route_years
    return function


def acts(
    routing: Routing, in_c: Callable[..., object]
) -> tuple[Callable[[], object], Callable[[], object], Array, Array]:
    """Both ways through the first bed, and the sums that they add to."""
    series, year, bed, table = routing.series, routing.year, routing.beds[0], routing.table
    ours, theirs = (np.zeros((int(year.max()) + 1, 6)) for _ in range(2))
    run = compiled(_route.route_years)
    kept = [as_struct(each) for each in (series, bed, flat(table))]
    days, years = ctypes.c_int64(year.size), ctypes.c_void_p(year.ctypes.data)
    a_series, a_bed, a_table = map(ctypes.byref, kept)
    sums = ctypes.c_void_p(theirs.ctypes.data)

    def kernel_act() -> object:
        return run(series, year, bed, table, ours)

    def c_act() -> object:
        return in_c(a_series, years, days, a_bed, a_table, sums)

    return kernel_act, c_act, ours, theirs


def compare(name: str, routing: Routing, in_c: Callable[..., object]) -> Ratio:
    """Speed of the kernel as a share of that of C, once both agree."""
    kernel_act, c_act, ours, theirs = acts(routing, in_c)
    kernel_act()
    c_act()
    difference = float((np.abs(ours - theirs) / np.maximum(1.0, np.abs(theirs))).max())
    if not difference <= AGREES:
        raise RuntimeError(f"Kernel and C differ by {difference:g}. Bring them together first.")
    in_kernel, in_c_copy = best_times(kernel_act, c_act, rounds=ROUNDS)
    print(
        f"route, {name}: {1e6 * in_kernel:.0f} us for {routing.year.size} days in the kernel, "
        f"{1e6 * in_c_copy:.0f} in C, apart by {difference:g}"
    )
    return Ratio(f"speed of the route kernel, {name}", IN_C, in_c_copy / in_kernel)


def field_and_route(routing: Routing, in_c: Callable[..., object], folder: Path) -> Ratio:
    """Thirty years of a field and a bed, the kernels' own time."""
    in_field = bench_field.acts(bench_field.run_of_thirty_years(), folder)
    in_bed = acts(routing, in_c)
    for act in (*in_field[:2], *in_bed[:2]):
        act()
    field, field_in_c, route, route_in_c = best_times(*in_field[:2], *in_bed[:2], rounds=ROUNDS)
    print(f"30 years: {1e3 * field:.2f} ms of field, {1e3 * route:.2f} ms of bed")
    return Ratio("speed of both kernels", IN_C, (field_in_c + route_in_c) / (field + route))


def each_day(series: DaySeries, act: Callable[[Array], Array]) -> DaySeries:
    """A series with something done to all that it holds of each day."""
    made = (act(v) if isinstance(v, np.ndarray) else v for v in series)  # type: ignore[arg-type]
    return DaySeries._make(made)


def draws(routing: Routing) -> Iterator[Ratio]:
    """Wall time of many draws, in one thread and two, and how it grows."""
    series, year, beds, table = routing
    rows = np.array(beds, dtype=np.float64)
    out = np.zeros((len(beds), int(year.max()) + 1, 6))
    twice = each_day(series, lambda values: np.concatenate((values, values)))
    kernel = partial(compiled(_route.route_draws), series, year, rows, table, 0, len(beds), out)
    kernel()
    bare, one, two, few, longer = best_times(
        kernel,
        partial(route_by_year, series, year, beds, table, threads=1),
        partial(route_by_year, series, year, beds, table, threads=2),
        partial(route_by_year, series, year, beds[: len(beds) // 8], table, threads=1),
        partial(route_by_year, twice, np.concatenate((year, year)), beds, table, threads=1),
        rounds=LONG_ROUNDS,
    )
    yield Ratio(f"{len(beds)} draws, one thread", "the kernel alone", one / bare)
    yield Ratio(f"{len(beds)} draws, one thread", "two threads", one / two)
    yield Ratio(f"{len(beds)} draws", f"{len(beds) // 8} draws", one / few)
    yield Ratio("60 years of the draws", "30 years", longer / one)


def many_beds(routing: Routing) -> Iterator[Ratio]:
    """Wall time of many beds with a table each, in one thread and two, and how it grows."""
    series, year, beds, table = routing
    tables = [deepcopy(table) for _ in range(TABLES)]
    sums = np.zeros((int(year.max()) + 1, 6))
    run = compiled(_route.route_years)

    def bed(place: int) -> Array:
        chosen = beds[place : place + 1]
        return route_by_year(series, year, chosen, tables[place % TABLES], threads=1)

    def kernel(count: int) -> None:
        for place in range(count):
            run(series, year, beds[place], tables[place % TABLES], sums)

    def by_turns(count: int) -> None:
        for place in range(count):
            bed(place)

    def in_two_threads(count: int) -> None:
        with ThreadPoolExecutor(2) as pool:
            list(pool.map(bed, range(count)))

    bare, one, two, few = best_times(
        partial(kernel, BEDS),
        partial(by_turns, BEDS),
        partial(in_two_threads, BEDS),
        partial(by_turns, BEDS // 10),
        rounds=LONG_ROUNDS,
    )
    yield Ratio(f"{BEDS} beds with a table each, one thread", "the kernel alone", one / bare)
    yield Ratio(f"{BEDS} beds with a table each, one thread", "two threads", one / two)
    yield Ratio(f"{BEDS} beds with a table each", f"{BEDS // 10} beds", one / few)


def measure() -> Iterator[Ratio]:
    """Yield the speed of the kernel as a share of that of C, and what many draws and beds cost."""
    if not has_compiler() or shutil.which("cc") is None:
        return
    routing = example()
    with tempfile.TemporaryDirectory() as folder:
        in_c = c_function(Path(folder))
        yield compare("the example", routing, in_c)
        yield compare("flow every day", wet(routing), in_c)
        yield field_and_route(routing, in_c, Path(folder))
    yield from draws(routing)
    yield from many_beds(routing)
