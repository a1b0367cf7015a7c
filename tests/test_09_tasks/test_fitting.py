# SPDX-License-Identifier: Apache-2.0
"""The soil of a job fitted to its record: shown, written only when told to, refused where it fails.

The record of these jobs is made by the model with another soil, and errors.
"""

import json
import tomllib
from dataclasses import replace
from pathlib import Path
from shutil import copytree, ignore_patterns

import numpy as np
import pytest
from typer.testing import CliRunner

from tilewater.basis.errors import BadInputFile, OutOfDomain
from tilewater.chain.field_fit import fit_field, free_values
from tilewater.cli.fit_page import fit_page
from tilewater.cli.main import app, water
from tilewater.hydrology.field import simulate_field
from tilewater.hydrology.field_bounds import bounds_of
from tilewater.hydrology.field_calibration import FREE
from tilewater.job.reading import read_job
from tilewater.job.writing import ChangedOnDisk
from tilewater.tasks.fitting import fit_job, keep_fit
from tilewater.tasks.watering import water_job
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"
FIRST, LAST = "2008", "2013"
MM_PER_DAY = 1000.0 * 86400.0


def job_of(folder: Path, flow: str = "", field: str = "") -> Path:
    """Corbel Farm under the weather of a few years, with a record and a table of the soil."""
    job = folder / "job"
    copytree(FARM, job, ignore=ignore_patterns("results"))
    lines = (job / "weather.csv").read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if not line[:1].isdigit() or FIRST <= line[:4] <= LAST]
    (job / "weather.csv").write_text("\n".join(kept) + "\n", encoding="utf-8")
    text = (job / "job.toml").read_text(encoding="utf-8")
    if flow:
        (job / "flow.csv").write_text(flow + "\n", encoding="utf-8")
        text = text.replace("flow_days = 200", 'flow_days = 200\nrecord = "flow.csv"')
    (job / "job.toml").write_text(text + field, encoding="utf-8")
    return job


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Flow from a soil that holds less water, with errors, as a file."""
    trace = water_job(job_of(tmp_path_factory.mktemp("record"))).side.trace
    weather = trace.value("water.weather")
    flow = simulate_field(
        weather,
        soil=replace(trace.value("water.soil"), water_capacity=0.12, deep_seepage=0.0),
        drains=trace.value("water.drains"),
        rotation=trace.value("water.rotation"),
    ).drain_flow
    flow = MM_PER_DAY * flow * np.random.default_rng(1).lognormal(0.0, 0.2, flow.size)
    rows = zip(weather.dates, flow, strict=True)
    return "date,flow [mm/day]\n" + "\n".join(f"{day},{depth:.3f}" for day, depth in rows)


def door(*words: str):
    return CliRunner().invoke(app, ["water", *words])


@pytest.mark.works(of=(fit_job, fit_page, keep_fit))
def test_a_fit_is_shown_and_kept_only_when_told_to(tmp_path: Path, record: str):
    job = job_of(tmp_path, record)
    before = (job / "job.toml").read_text(encoding="utf-8")
    shown = door(str(job), "--fit")
    assert shown.exit_code == 0, shown.output
    assert "comes nearer to the other half both ways" in " ".join(shown.output.split())
    assert "Nothing was written." in shown.output
    assert (job / "job.toml").read_text(encoding="utf-8") == before
    assert not (job / "results").exists()
    assert max(map(len, shown.stdout.splitlines())) <= 80
    assert "…" not in shown.stdout
    kept = door(str(job), "--fit", "--keep")
    assert kept.exit_code == 0, kept.output
    assert "Nothing was written." not in kept.output
    assert kept.output.count("Written: ") == len(FREE)
    after = (job / "job.toml").read_text(encoding="utf-8")
    assert [line for line in before.splitlines() if line not in after.splitlines()] == []
    assert len(tomllib.loads(after)["field"]) == len(FREE)


@pytest.mark.law(of=(fit_job, keep_fit))
def test_what_is_kept_is_what_was_run(tmp_path: Path, record: str):
    job = job_of(tmp_path, record)
    fitted = fit_job(job)
    assert not water_job(job).side.trace.known("inputs.field.water_capacity")
    keep_fit(fitted)
    trace = water_job(job).side.trace
    assert trace.value("water.soil") == fitted.field.fit.soil
    for slug, value in fitted.field.fit.values.items():
        assert bounds_of(slug).low <= value <= bounds_of(slug).high
    assert free_values(trace) == ()
    with pytest.raises(BadInputFile, match="all stated"):
        fit_job(job)


@pytest.mark.works(of=(fit_job, free_values))
def test_what_the_job_states_is_left_alone(tmp_path: Path, record: str):
    job = job_of(tmp_path, record, '\n[field]\nwater_capacity = 0.12\ninfiltration = "50 mm/day"\n')
    fitted = fit_job(job)
    assert set(fitted.field.fit.values) == set(FREE) - {"water-capacity", "infiltration"}
    assert fitted.field.fit.soil.water_capacity == 0.12
    answer = door(str(job), "--fit", "--json")
    assert answer.exit_code == 0
    told = json.loads(answer.stdout)
    assert told == json.loads(json.dumps(fitted.record))
    assert told["fit"]["after"]["objective"] <= told["fit"]["before"]["objective"]


@pytest.mark.works(of=(keep_fit,))
def test_a_fit_that_does_not_hold_on_other_years_is_not_kept(tmp_path: Path, record: str):
    job = job_of(tmp_path, record)
    fitted = fit_job(job)
    trial = fitted.field.trials[0]
    worse = replace(trial, after=replace(trial.after, kling_gupta=-1.0))
    field = replace(fitted.field, trials=(worse, fitted.field.trials[1]))
    before = (job / "job.toml").read_text(encoding="utf-8")
    with pytest.raises(BadInputFile, match="nothing was written"):
        keep_fit(replace(fitted, field=field))
    (job / "job.toml").write_text(before + "\n# a note\n", encoding="utf-8")
    with pytest.raises(ChangedOnDisk):
        keep_fit(fitted)
    assert read_job(job).text == before + "\n# a note\n"


@pytest.mark.works(of=(fit_field, fit_job))
def test_what_is_missing_for_a_fit_is_said(tmp_path: Path, record: str):
    with pytest.raises(BadInputFile, match="no drain flow was measured"):
        fit_job(job_of(tmp_path / "a"))
    short = "\n".join(record.splitlines()[:300])
    with pytest.raises(OutOfDomain, match="has 1 calendar years"):
        fit_job(job_of(tmp_path / "b", short))
    past = "date,flow [mm/day]\n1990-05-01,1.0\n1990-05-02,2.0"
    with pytest.raises(BadInputFile, match="no day of the weather is a day of the drain flow"):
        fit_job(job_of(tmp_path / "c", past))
    dry = job_of(tmp_path / "d", record)
    text = (dry / "job.toml").read_text(encoding="utf-8")
    assert 'file = "weather.csv"' in text
    without = text.replace('[weather]\nfile = "weather.csv"', '[weather]\n# file = "weather.csv"')
    (dry / "job.toml").write_text(without, encoding="utf-8")
    with pytest.raises(BadInputFile, match="not known day by day"):
        fit_job(dry)


@pytest.mark.works(of=(water,))
def test_keep_alone_is_refused(tmp_path: Path):
    answer = door(str(job_of(tmp_path)), "--keep")
    assert answer.exit_code == 2
    assert "--keep goes with --fit" in answer.output
