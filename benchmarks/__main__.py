# SPDX-License-Identifier: Apache-2.0
"""Run every benchmark, print the table and keep it: python3 dev.py bench"""

import importlib
import os
import platform
from pathlib import Path

from benchmarks import bench_search, growth
from benchmarks.ratio import Ratio
from tilewater.basis.compiled import has_compiler, keep_compiled_in

FOLDER = Path(__file__).resolve().parent
RESULTS = FOLDER / "results.md"


def measured() -> list[Ratio]:
    """Return the ratios of every benchmark of this folder."""
    names = sorted(file.stem for file in FOLDER.glob("bench_*.py"))
    modules = [importlib.import_module(f"benchmarks.{name}") for name in names]
    return [ratio for module in modules for ratio in module.measure()]


def table(ratios: list[Ratio]) -> str:
    """Return the ratios as a table, with what they were measured on."""
    on = f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores"
    rows = [f"| {each.measured} | {each.against} | {each.value:.2f} |" for each in ratios]
    return "\n".join(
        [
            "# Benchmarks",
            "",
            f"Times as ratios within one run. Measured on {on}.",
            "",
            "| measured | against | ratio |",
            "| --- | --- | --- |",
            *rows,
            "",
            "![How wall time grows with years of days, draws and beds](growth.svg)",
            "",
            "![How wall time grows with the beds of a search](search.svg)",
            "",
            "Drawn by `python -m benchmarks.growth` and `python -m benchmarks.bench_search`, and",
            "by the run of all benchmarks.",
            "",
        ]
    )


if __name__ == "__main__":
    keep_compiled_in(str(FOLDER / "__pycache__"))
    text = table(measured())
    print(text)
    RESULTS.write_text(text, encoding="utf-8")
    if has_compiler():
        growth.draw()
        bench_search.draw()
