# SPDX-License-Identifier: Apache-2.0
"""What a whole design costs, against importing what it needs; what the size search adds."""

import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from benchmarks.ratio import Ratio, best_times
from tilewater.chain.design import design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.job.reading import read_job

FARM = Path(__file__).resolve().parent.parent / "examples" / "corbel-farm"
IMPORT = "import tilewater.chain.design, tilewater.job.reading"
ROUNDS = 7


def import_package() -> None:
    """Import the chain and the reader in a fresh interpreter."""
    subprocess.run([sys.executable, "-c", IMPORT], check=True)


def inputs() -> JobInputs:
    """The bundled example as the chain takes it."""
    job = read_job(FARM)
    return JobInputs(job.name, job.givens, job.overrules, job.assumptions)


def read_and_design() -> None:
    """Read the bundled example and design it."""
    design_bed(inputs())


def measure() -> Iterator[Ratio]:
    """Yield the cost of a design and of the search for the smallest bed."""
    given = inputs()
    searched = given.changed({"inputs.bed.size": "smallest that passes"})
    imported, read, designed, found = best_times(
        import_package,
        read_and_design,
        partial(design_bed, given),
        partial(design_bed, searched),
        rounds=ROUNDS,
    )
    yield Ratio("reading and designing the example", "a Python importing for it", read / imported)
    yield Ratio("designing the example", "a Python importing for it", designed / imported)
    yield Ratio("a design with the smallest bed", "a design of a given size", found / designed)
