# SPDX-License-Identifier: Apache-2.0
"""The water of a job folder: its record, its series as tables, its page, what is left out."""

import csv
import sys
from functools import cache
from pathlib import Path
from shutil import copytree, ignore_patterns

import numpy as np
import pytest

from tests.jobs import farm_text_without
from tilewater.basis.errors import BadInputFile
from tilewater.tasks.watering import Watered, water_job, write_water
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"
RECORD = "date,flow [mm/day]\n" + "\n".join(
    f"{np.datetime64('2003-01-01') + day},{1.5 if day % 5 == 0 else 0}" for day in range(800)
)


@cache
def farm() -> Watered:
    return water_job(FARM)


def read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def copied(folder: Path) -> Path:
    job = folder / "job"
    copytree(FARM, job, ignore=ignore_patterns("results"))
    return job


@pytest.mark.works(of=(water_job,))
def test_the_record_is_that_of_the_water_side():
    record = farm().record
    assert record["job"] == "corbel-farm"
    assert record["water"]["basis"] == record["drain_flow"]["basis"] == "simulated"
    assert record["drain_flow"]["candidates_m3_s"]["main_full"] > 0
    assert record["unknown"] == []
    assert farm().fits


@pytest.mark.works(of=(write_water,))
def test_the_series_is_a_table_with_units_in_its_heads(tmp_path: Path):
    write_water(farm(), tmp_path, "us")
    rows = read(tmp_path / "drain-flow.csv")
    assert len(rows) == 10958
    assert (rows[0]["date"], rows[-1]["date"]) == ("1996-01-01", "2025-12-31")
    flow = np.array([float(row["flow [m3/s]"]) for row in rows])
    assert flow == pytest.approx(farm().side.trace.value("water.flow_m3_s"), rel=1e-5)
    rain = sum(float(row["rain and snow [mm]"]) for row in rows) / 1000
    assert rain == pytest.approx(farm().side.trace.value("water.totals").precipitation, rel=1e-5)


@pytest.mark.works(of=(write_water,))
def test_what_was_written_is_said(tmp_path: Path):
    said = write_water(farm(), tmp_path / "new", "us")
    names = {path.name for path in (tmp_path / "new").iterdir()}
    assert names == {f"drain-flow.{kind}" for kind in ("csv", "parquet", "svg", "pdf")}
    assert f"Drawn: {tmp_path / 'new' / 'drain-flow.pdf'}" in said


@pytest.mark.works(of=(write_water,))
def test_parquet_holds_the_columns_and_days_of_the_table(tmp_path: Path):
    polars = pytest.importorskip("polars")
    write_water(farm(), tmp_path, "us")
    found = polars.read_parquet(tmp_path / "drain-flow.parquet")
    rows = read(tmp_path / "drain-flow.csv")
    assert found.columns == list(rows[0])
    assert [str(day) for day in found["date"]] == [row["date"] for row in rows]
    flow = np.array([float(row["flow [m3/s]"]) for row in rows])
    assert found["flow [m3/s]"].to_numpy() == pytest.approx(flow, rel=1e-5)


@pytest.mark.works(of=(write_water,))
def test_what_cannot_be_loaded_leaves_the_table_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setitem(sys.modules, "polars", None)
    said = write_water(farm(), tmp_path, "us")
    assert not (tmp_path / "drain-flow.parquet").exists()
    assert (tmp_path / "drain-flow.csv").is_file()
    (line,) = (line for line in said if "Parquet" in line)
    assert "The table drain-flow.csv holds the same days. To have both: pip install" in line


@pytest.mark.works(of=(write_water,))
def test_a_measured_record_is_written_and_the_simulated_days_beside_it(tmp_path: Path):
    job = copied(tmp_path)
    (job / "flow.csv").write_text(RECORD, encoding="utf-8")
    text = (job / "job.toml").read_text(encoding="utf-8")
    text = text.replace("[drainage]\n", '[drainage]\nrecord = "flow.csv"\n')
    (job / "job.toml").write_text(text, encoding="utf-8")
    write_water(water_job(job), None, "si")
    assert len(read(job / "results" / "drain-flow.csv")) == 800
    assert len(read(job / "results" / "drain-flow-simulated.csv")) == 10958


@pytest.mark.works(of=(write_water, water_job))
def test_without_weather_nothing_is_written(tmp_path: Path):
    job = copied(tmp_path)
    (job / "job.toml").write_text(farm_text_without("weather"), encoding="utf-8")
    watered = water_job(job)
    assert write_water(watered, None, "us") == ()
    assert not (job / "results").exists()
    (only,) = (item for item in watered.record["unknown"] if item["key"] == "water.basis")
    assert only["measure"] == "name a file under [weather], or record under [drainage]"


@pytest.mark.works(of=(write_water,))
def test_a_folder_that_is_a_file_is_the_input_at_fault(tmp_path: Path):
    (tmp_path / "taken").write_text("", encoding="utf-8")
    with pytest.raises(BadInputFile, match="Name a folder with --out"):
        write_water(farm(), tmp_path / "taken", "us")


@pytest.mark.practice(of=(water_job,))
def test_a_limit_of_the_job_on_wet_days_can_fall_short(tmp_path: Path):
    job = copied(tmp_path)
    text = (job / "job.toml").read_text(encoding="utf-8")
    text = text.replace('midway = "1.0 ft"\n', 'midway = "1.0 ft"\nwet_days = 1\n')
    (job / "job.toml").write_text(text, encoding="utf-8")
    assert not water_job(job).fits
