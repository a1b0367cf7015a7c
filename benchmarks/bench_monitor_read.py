# SPDX-License-Identifier: Apache-2.0
"""A year of four loggers at a quarter of an hour: read, put into universal time, and marked.

The yardstick is what the csv module of Python needs to part the same lines, nothing done with them.
"""

import csv
import tempfile
from collections.abc import Iterator
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path

import numpy as np

from benchmarks.ratio import Ratio, best_times
from tilewater.basis.trace import Given
from tilewater.tasks.measuring_inputs import read_measurements
from tilewater.tasks.outside_inputs import TypedInputs

START = datetime(2028, 1, 1)
ROWS = 366 * 96
NAMES = ("inlet", "outlet", "bypass", "ditch")
ROUNDS = 5
LOGGER = {
    "measures": "stage",
    "unit": "ft",
    "time_zone": "-6 h",
    "zero_m": 359.6,
}


def write_year(folder: Path) -> None:
    """Write a file for each logger, with lines about the instrument above its rows."""
    noise = np.random.default_rng(3)
    times = [f"{START + i * timedelta(minutes=15):%m/%d/%Y %I:%M:%S %p}" for i in range(ROWS)]
    for name in NAMES:
        depth = 1.6 + 0.4 * np.sin(np.arange(ROWS) / 500) + noise.normal(0, 0.01, ROWS)
        rows = [f"{t},{d:.3f},{11.5}" for t, d in zip(times, depth.tolist(), strict=True)]
        head = [f"Recorder of the {name}", "Serial 7", "Time,Level (ft),Battery (V)"]
        (folder / f"{name}.csv").write_text("\n".join([*head, *rows]) + "\n", encoding="utf-8")


def inputs() -> TypedInputs:
    """Inputs of a job that names the four files."""
    given = {
        f"inputs.logger.{name}.{key}": value
        for name in NAMES
        for key, value in {**LOGGER, "file": f"{name}.csv", "place": name}.items()
    }
    return TypedInputs({key: Given(key, value, "", key) for key, value in given.items()})


def part_lines(folder: Path) -> None:
    """Part the lines of all files and keep the cells, as the plainest reader would."""
    for name in NAMES:
        with (folder / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            list(csv.reader(file))


def measure() -> Iterator[Ratio]:
    """Yield the cost of reading a year."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        write_year(folder)
        bare, whole = best_times(
            partial(part_lines, folder),
            partial(read_measurements, inputs(), folder),
            rounds=ROUNDS,
        )
    yield Ratio("a year of four loggers read", "the csv module parting its lines", whole / bare)
