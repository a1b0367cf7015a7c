# SPDX-License-Identifier: Apache-2.0
"""What a day of the field kernel costs, against the same arithmetic in plain C.

The C copy is built with the flags of `FLAGS` by the compiler that is there. Thirty years of one
field, series as separate arrays of doubles; both write eleven series a day. Without a C compiler or
without numba nothing is measured.
"""

import ctypes
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.ratio import Ratio, best_times
from tests.oracles.humid_weather import humid_weather
from tilewater.basis.compiled import compiled, has_compiler
from tilewater.hydrology import _field as kernel
from tilewater.hydrology.field import FieldRun, simulate_field
from tilewater.hydrology.field_inputs import empty_daily
from tilewater.hydrology.field_parts import FieldDrains

SOURCE = Path(__file__).resolve().parent / "c" / "field.c"
FLAGS = ("-O3", "-march=native", "-ffp-contract=off")
YEARS = 30
ROUNDS = 200
DAY = 86400.0
AGREES = 1e-12
"""How closely kernel and C must agree before their times are compared. [m]"""


def c_function(folder: Path) -> Callable[..., None]:
    """The kernel in C, built in a folder."""
    library = folder / "field.so"
    line = ["cc", *FLAGS, "-shared", "-fPIC", str(SOURCE), "-lm", "-o", str(library)]
    subprocess.run(line, check=True)
    function: Callable[..., None] = ctypes.CDLL(str(library)).run_field
    return function


def as_struct(record: Any) -> ctypes.Structure:
    """A named tuple of numbers and arrays as C takes it; the arrays are shared, not copied."""
    is_array = [isinstance(value, np.ndarray) for value in record]
    kinds = [ctypes.c_void_p if array else ctypes.c_double for array in is_array]
    fields = list(zip(record._fields, kinds, strict=True))
    struct = type("Record", (ctypes.Structure,), {"_fields_": fields})
    values = [
        value.ctypes.data if array else value for value, array in zip(record, is_array, strict=True)
    ]
    made: ctypes.Structure = struct(*values)
    return made


def run_of_thirty_years() -> FieldRun:
    """A field with raised outlet in winter, inlets and a small main, so that every branch runs."""
    weather = humid_weather(YEARS)
    in_season = (weather.day_of_year > 120) & (weather.day_of_year < 300)
    return simulate_field(
        weather,
        drains=FieldDrains(inlet_capacity=0.002 / DAY, main_capacity=0.010 / DAY),
        outlet_height=np.where(in_season, 0.0, 0.5),
    )


def acts(
    run: FieldRun, folder: Path
) -> tuple[Callable[[], object], Callable[[], object], kernel.Daily, kernel.Daily]:
    """Both ways to run the days, and what they write into."""
    given = run.inputs
    ours, theirs = empty_daily(run.weather.days), empty_daily(run.weather.days)
    run_days, in_c = compiled(kernel.run_field), c_function(folder)
    days = run.weather.days
    records = [as_struct(each) for each in (given.weather, given.soil, given.drains, theirs)]
    weather, soil, drains, daily = map(ctypes.byref, records)

    def kernel_act() -> object:
        return run_days(given.weather, 0, days, run.start, given.soil, given.drains, ours)

    def c_act() -> object:
        state = as_struct(run.start)
        first, last = ctypes.c_long(0), ctypes.c_long(days)
        return in_c(weather, first, last, ctypes.byref(state), soil, drains, daily)

    return kernel_act, c_act, ours, theirs


def largest_difference(ours: kernel.Daily, theirs: kernel.Daily) -> float:
    """Largest difference of any series on any day."""
    return max(
        float(np.abs(getattr(ours, name) - getattr(theirs, name).astype(np.float64)).max())
        for name in kernel.Daily._fields
    )


def measure() -> Iterator[Ratio]:
    """Yield the speed of the kernel as a share of that of C."""
    if not has_compiler() or shutil.which("cc") is None:
        return
    run = run_of_thirty_years()
    with tempfile.TemporaryDirectory() as folder:
        kernel_act, c_act, ours, theirs = acts(run, Path(folder))
        kernel_act()
        c_act()
        difference = largest_difference(ours, theirs)
        if not difference <= AGREES:
            raise RuntimeError(f"Kernel and C differ by {difference:g}. Bring them together first.")
        in_kernel, in_c = best_times(kernel_act, c_act, rounds=ROUNDS)
    print(
        f"field: {1e9 * in_kernel / run.weather.days:.1f} ns a day in the kernel, "
        f"{1e9 * in_c / run.weather.days:.1f} in C, apart by {difference:g}"
    )
    yield Ratio("speed of the field kernel", f"C with {' '.join(FLAGS)}", in_c / in_kernel)
