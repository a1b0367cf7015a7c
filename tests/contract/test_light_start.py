# SPDX-License-Identifier: Apache-2.0
"""The quick verbs stay quick: they load no library for the web, maps, drawing, clusters or days."""

import subprocess
import sys
from pathlib import Path
from shutil import copytree, ignore_patterns

import pytest

from tests.jobs import farm_text_without
from tools.package import ROOT

HEAVY = {
    "web": {"fastapi", "jinja2", "starlette", "uvicorn"},
    "maps": {"pyogrio", "pyproj", "rasterio", "shapely"},
    "drawing": {"ezdxf", "matplotlib", "openpyxl", "typst", "xlsxwriter"},
    "clusters": {"dask", "distributed", "sqlalchemy"},
    "days": {"numba", "scipy"},
    "tables": {"polars"},
}
SAY_WHAT_IS_LOADED = """
import sys
import typer
typer.get_app_dir = lambda name: KEPT  # kernels that other tests have compiled
from tilewater.cli.main import run
try:
    run()
finally:
    print("loaded:", *{name.partition(".")[0] for name in sys.modules}, file=sys.stderr)
"""
FEW_DRAWS = "from tilewater.chain import days; days.DRAWS = 16"
EXAMPLE = ROOT / "examples" / "corbel-farm"

pytestmark = pytest.mark.works


def loaded_by(*words: str | Path, before: str = "") -> set[str]:
    """Return the top-level modules that the program has loaded when it is done."""
    kept = f"KEPT = {str(ROOT / '.pytest_cache')!r}"
    says = "\n".join((kept, before, SAY_WHAT_IS_LOADED))
    done = subprocess.run(
        [sys.executable, "-c", says, *map(str, words)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
    )
    (line,) = (line for line in done.stderr.splitlines() if line.startswith("loaded: "))
    return set(line.removeprefix("loaded: ").split())


def test_one_design_without_papers_loads_no_heavy_library(tmp_path: Path) -> None:
    heavy = set().union(*HEAVY.values())
    job = tmp_path / "job"
    copytree(EXAMPLE, job, ignore=ignore_patterns("results"))
    (job / "job.toml").write_text(farm_text_without("weather"), encoding="utf-8")
    assert not heavy & loaded_by("design", job, "--no-papers")


def test_a_design_by_days_loads_no_more_than_the_days_need(tmp_path: Path) -> None:
    heavy = set().union(*HEAVY.values()) - HEAVY["days"]
    line = ("design", EXAMPLE, "--no-papers", "--out", tmp_path)
    assert not heavy & loaded_by(*line, before=FEW_DRAWS)


def test_a_number_of_the_water_is_explained_without_what_writes_its_series() -> None:
    heavy = set().union(*HEAVY.values()) - HEAVY["days"]
    assert not heavy & loaded_by("water", EXAMPLE, "--explain", "water.mean_annual_depth_m")


@pytest.mark.parametrize("words", [("--version",), ("check", EXAMPLE)], ids=["version", "check"])
def test_quick_verb_loads_no_heavy_library(words: tuple[str | Path, ...]) -> None:
    heavy = set().union(*HEAVY.values())
    assert not heavy & loaded_by(*words)
