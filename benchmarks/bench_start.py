# SPDX-License-Identifier: Apache-2.0
"""What it costs to start the program, against what Python and numpy cost by themselves."""

import subprocess
import sys
from collections.abc import Iterator
from functools import partial

from benchmarks.ratio import Ratio, best_times

VERSION = "from tilewater.cli.main import run; run()"
ROUNDS = 15


def python(code: str, *arguments: str) -> None:
    """Run a line of code in a fresh interpreter."""
    line = [sys.executable, "-c", code, *arguments]
    subprocess.run(line, check=True, stdout=subprocess.DEVNULL)


def measure() -> Iterator[Ratio]:
    """Yield the cost of the quickest verb."""
    bare, with_numpy, version = best_times(
        partial(python, "pass"),
        partial(python, "import numpy"),
        partial(python, VERSION, "--version"),
        rounds=ROUNDS,
    )
    yield Ratio("tilewater --version", "a bare Python", version / bare)
    yield Ratio("tilewater --version", "Python importing numpy", version / with_numpy)
