# SPDX-License-Identifier: Apache-2.0
"""The invented years that reports are tried on: of another make, with faults, truth beside them."""

import ast
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from tools.invented_years.folder import write_folder
from tools.invented_years.instruments import RANGE_M, Instruments, invent_instruments
from tools.invented_years.laboratory import DETECTION, Bottle, invent_bottles
from tools.invented_years.site import STEP_S, Site, invent_site, standard
from tools.package import ROOT

pytestmark = pytest.mark.works
FOLDER = ROOT / "tools" / "invented_years"


@cache
def site() -> Site:
    return invent_site(11)


@cache
def readings() -> Instruments:
    return invent_instruments(site())


@cache
def bottles() -> tuple[Bottle, ...]:
    return invent_bottles(site())


def test_nothing_of_the_program_is_used() -> None:
    imported: set[str] = set()
    for file in FOLDER.glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                imported |= {name.name for name in node.names}
            elif isinstance(node, ast.ImportFrom):
                imported.add(str(node.module))
    assert {name for name in imported if name.startswith("tilewater")} == set()
    assert {name.partition(".")[0] for name in imported} <= {
        "numpy", "tools", "dataclasses", "datetime", "pathlib", "shutil", "zoneinfo",
    }  # fmt: skip


def test_a_seed_makes_one_site_and_another_seed_another() -> None:
    again, other = invent_site(11), invent_site(4)
    assert [year.removed_kg for year in again.years] == [y.removed_kg for y in site().years]
    assert [year.removed_kg for year in other.years] != [y.removed_kg for y in site().years]


def test_water_and_nitrate_are_those_of_the_quarter_hours() -> None:
    divided, years = site().divided, site().years
    everything = float((divided.bed + divided.bypass).sum()) * STEP_S
    assert sum(y.treated_m3 + y.bypass_m3 for y in years) == pytest.approx(everything, rel=1e-4)
    for year in years:
        assert 0.0 < year.bed_out_kg < year.bed_in_kg
        assert 0.0 < year.site_percent < 100.0
    assert np.all(divided.bed >= 0.0)
    assert np.all(divided.bypass >= 0.0)


def test_the_same_flow_has_another_nitrate_while_it_rises() -> None:
    flow = (site().divided.bed + site().divided.bypass)[::4]
    nitrate, change = site().nitrate_in[::4], np.diff(flow, prepend=flow[0])
    high = flow > np.quantile(flow[flow > 0.0], 0.7)
    rising, falling = nitrate[high & (change > 1e-5)], nitrate[high & (change < -1e-5)]
    assert abs(rising.mean() - falling.mean()) > 0.2


def test_board_changes_are_dated_and_move_the_water() -> None:
    changes = site().changes
    assert len(changes) == 16
    summer = next(each for each in changes if each.why == "low flow")
    before, after = (
        float(np.interp(summer.time_s + shift, site().time_s, site().divided.level_outlet))
        for shift in (-900.0, 900.0)
    )
    assert before - after == pytest.approx(14.0 * 0.0254, abs=0.03)


def test_loggers_have_gaps_flat_tops_and_ice() -> None:
    inlet = readings().inlet
    assert np.isnan(inlet.over_sensor_m).any()
    assert np.nanmax(inlet.over_sensor_m) <= RANGE_M
    assert inlet.frozen.any()
    clean = invent_instruments(site(), faults=False).inlet
    truth = site().divided.level_inlet - clean.sensor_m
    assert np.abs(clean.over_sensor_m - truth).max() < 0.01


def test_bottles_are_filled_on_working_days_and_some_twice() -> None:
    times = [standard(one.time_s) for one in bottles()]
    assert {when.weekday() for when in times} <= {0, 1, 2, 3, 4}
    assert {when.hour for when in times} <= set(range(8, 16))
    assert any(one.double_of for one in bottles())
    assert any(one.is_below for one in bottles())
    assert DETECTION == 0.2


def test_a_folder_holds_the_clock_that_is_moved_and_tables_below_the_farm(tmp_path: Path) -> None:
    base = ROOT / "examples" / "corbel-farm"
    folder = write_folder(
        tmp_path / "years", base, site(), readings(), bottles(), highest_m=RANGE_M
    )
    job = (folder / "job.toml").read_text(encoding="utf-8")
    assert job.startswith((base / "job.toml").read_text(encoding="utf-8"))
    assert "[zero_check.outlet-1]" in job
    autumn = [
        line.split(",")[1]
        for line in (folder / "outlet.csv").read_text(encoding="utf-8").splitlines()
        if line.startswith("11/05/2028")
    ]
    spring = [
        line.split(",")[1]
        for line in (folder / "outlet.csv").read_text(encoding="utf-8").splitlines()
        if line.startswith("03/12/2028")
    ]
    assert len(autumn) in (0, 100)  # 25 hours of quarters, unless the logger failed that day
    assert "02:30" not in spring
    lab = (folder / "lab.csv").read_text(encoding="utf-8")
    assert f"<{DETECTION:g}" in lab
    assert "duplicate of CF-" in lab
