# SPDX-License-Identifier: Apache-2.0
"""Kernels compiled by a process of its own while the desk answers by their readable twins.

On a fresh machine compiling takes half a minute. A thread would share the interpreter's lock with
the pages; a process leaves them alone. It fills the folder of compiled kernels, from which the desk
loads them as they come, and ends with the desk whatever becomes of it. By itself:
python -m tilewater.desk.warming FOLDER
"""

import os
import subprocess
import sys
import tempfile
from contextlib import suppress
from datetime import date
from pathlib import Path
from threading import Event, Thread
from typing import Self

import numpy as np

from tilewater.basis.compiled import has_compiler, keep_compiled_in, kept_in
from tilewater.basis.readiness import READY
from tilewater.chain.water_parts import field_run_compiled, spot_run_compiled
from tilewater.hydraulics.distribution_line import LinePipe
from tilewater.hydraulics.line_exit import LineSoil
from tilewater.hydrology.crops import crop_named
from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil
from tilewater.job.template import copy_example
from tilewater.practices.buffer.line import flow_at_heads_compiled
from tilewater.tasks.held import HeldJob

EXAMPLES = ("corbel-farm", "merridew-farm")
"""A bed and a buffer, whose days use every kernel of a desk."""
QUICK = "quick"
"""What the process says once the kernels of quick twins are compiled."""
WHOLE = "whole"
"""File in the folder of compiled kernels that says that none lacks."""
NICENESS = 10
LATER_S = 2.0
"""After the start kernels are loaded, so that the first page comes first. [s]"""
LINE = LinePipe(invert=0.5, diameter=0.1, n=0.015, branches=(60.0,))
LINE_SOIL = LineSoil(width=10.0, conductivity=1e-5, exit_resistance=10.0)
"""A line of no particular buffer: kernels are the same for all."""


class Warming:
    """Makes kernels ready in the background, from entering to leaving."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[str] | None = None
        self._stopped = Event()
        self._thread = Thread(target=self._run, daemon=True, name="kernels")

    def __enter__(self) -> Self:
        if has_compiler():
            READY.compiles(is_near=_lie_on_disk())
            self._thread.start()
        return self

    def __exit__(self, *error: object) -> None:
        self.stop()

    def stop(self) -> None:
        """Compile no more; what is not compiled yet is compiled where it is used."""
        self._stopped.set()
        if self._process is not None:
            self._process.terminate()
        READY.all_is_ready()

    def _run(self) -> None:
        try:
            if kept_in() and not _lie_on_disk():
                self._compile_beside()
            else:
                self._stopped.wait(LATER_S)
            if not self._stopped.is_set() and not READY.quick.is_set():
                run_quick_twins()
        finally:
            READY.all_is_ready()

    def _compile_beside(self) -> None:
        """Let a process fill the folder; where none can be started kernels are compiled here."""
        folder = str(Path(kept_in()).parent)
        command = [sys.executable, "-m", "tilewater.desk.warming", folder]
        pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "stderr": subprocess.DEVNULL}
        with suppress(OSError), subprocess.Popen(command, text=True, **pipes) as process:  # type: ignore[call-overload]
            self._process = process
            if self._stopped.is_set():
                process.terminate()
            for line in process.stdout:
                if line.strip() == QUICK:
                    run_quick_twins()
                    READY.quick.set()


def _lie_on_disk() -> bool:
    """Whether every kernel of the desk was compiled before."""
    return bool(kept_in()) and Path(kept_in(), WHOLE).exists()


def run_quick_twins() -> None:
    """Run the quick twins of first answers once, which loads or compiles their kernels."""
    days = np.zeros(3)
    weather = DailyWeather(date(2001, 6, 1), 0.7, days, days + 20.0, days + 10.0)
    parts = (FieldSoil(), FieldDrains(), FieldCold(), (crop_named("corn"),))
    for height in (0.0, np.array([0.0, 0.1, 0.2])):
        field_run_compiled(weather, *parts, height)
        spot_run_compiled(weather, *parts, height)
    flow_at_heads_compiled(1.0, 0.5, LINE, LINE_SOIL)


def compile_whole(folder: str) -> None:
    """Compile every kernel of a desk into a folder; say when those of quick twins are there."""
    keep_compiled_in(folder)
    run_quick_twins()
    sys.stdout.write(f"{QUICK}\n")
    sys.stdout.flush()
    with tempfile.TemporaryDirectory() as jobs:
        for example in EXAMPLES:
            job = Path(jobs, example)
            copy_example(example, job)
            HeldJob(job).refined()
    Path(kept_in(), WHOLE).touch()


def _end_with_desk() -> None:
    """End this process as soon as the desk that started it is gone, however it went."""
    sys.stdin.read()
    os._exit(1)


if __name__ == "__main__":
    Thread(target=_end_with_desk, daemon=True).start()
    if hasattr(os, "nice"):
        os.nice(NICENESS)
    compile_whole(sys.argv[1])
