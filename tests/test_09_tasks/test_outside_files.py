# SPDX-License-Identifier: Apache-2.0
"""What data files add to a job, and that the faults of all of them come at once."""

import shutil
from pathlib import Path

import numpy as np
import pytest

from tests.digits import printed
from tilewater.basis.errors import BadInputFile
from tilewater.basis.unknown import is_unknown
from tilewater.tasks.checking import Checked, check_job, job_inputs
from tilewater.tasks.outside_files import faults_beside, read_outside_files
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"
CUBIC_YARD = 0.9144**3


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    folder = tmp_path / "corbel-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results"))
    return folder


def edit(folder: Path, old: str, new: str) -> None:
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def spoil(folder: Path) -> None:
    for name, old, new in (("prices.csv", "36.00", "cheap"), ("nitrate.csv", "12.6", "much")):
        file = folder / name
        file.write_text(file.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")


def given(job: Checked, key: str) -> object:
    (only,) = (g for g in job.inputs.givens if g.key == key)
    return only


@pytest.mark.by_hand(of=(check_job,))
def test_price_becomes_an_input_per_cubic_metre_with_its_line(farm: Path) -> None:
    price = given(check_job(farm), "inputs.price.woodchips.usd")
    assert printed("47.086") == price.value == pytest.approx(36.00 / CUBIC_YARD)  # type: ignore[attr-defined]
    line = (farm / "prices.csv").read_text(encoding="utf-8").splitlines()
    assert line[price.origin.line - 1].startswith("woodchips,CY,36.00")  # type: ignore[attr-defined]


@pytest.mark.works(of=(check_job,))
def test_flow_record_gives_recorded_days_and_tells_the_missing_share(farm: Path) -> None:
    (farm / "flow.csv").write_text(
        "date,flow [mm/day]\n2025-04-01,2.0\n2025-04-02,\n2025-04-03,1.0\n2025-04-04,0\n",
        encoding="utf-8",
    )
    edit(farm, "flow_days = 200", 'flow_days = 200\nrecord = "flow.csv"')
    job = check_job(farm)
    series = job.value("inputs.record.daily_depth_m_s")
    assert np.allclose(series, np.array([2.0, 1.0, 0.0]) / 1000 / 86400)
    (note,) = (n for n in job.notes if n.code == "flow-record-missing-days")
    assert note.value == 0.25
    assert note.message.startswith("25.0% of 4 days have no value.")


@pytest.mark.works(of=(check_job,))
def test_samples_stand_in_for_a_nitrate_that_is_not_known(farm: Path) -> None:
    assert check_job(farm).value("inputs.nitrate.mean_mg_per_l") == 14.2
    edit(farm, 'mean = "14.2 mg/L"', 'mean = "unknown"')
    nitrate = given(check_job(farm), "inputs.nitrate.mean_mg_per_l")
    assert 13 < nitrate.value < 16  # type: ignore[attr-defined]
    assert nitrate.origin.file == "nitrate.csv"  # type: ignore[attr-defined]


@pytest.mark.works(of=(check_job,))
def test_samples_of_unclear_places_stand_in_for_nothing(farm: Path) -> None:
    edit(farm, 'mean = "14.2 mg/L"', 'mean = "unknown"')
    file = farm / "nitrate.csv"
    file.write_text(file.read_text(encoding="utf-8").replace(",main,", ",pit,"), encoding="utf-8")
    job = check_job(farm)
    assert is_unknown(job.value("inputs.nitrate.mean_mg_per_l"))
    assert "samples-place-unclear" in {note.code for note in job.notes}


@pytest.mark.works(of=(check_job, read_outside_files))
def test_faults_of_all_files_come_at_once(farm: Path) -> None:
    spoil(farm)
    with pytest.raises(BadInputFile) as caught:
        check_job(farm)
    assert {"prices.csv", "nitrate.csv"} == {fault.file for fault in caught.value.faults}


@pytest.mark.works(of=(check_job, faults_beside))
def test_faults_of_files_come_with_those_of_the_job_file(farm: Path) -> None:
    spoil(farm)
    edit(farm, '"62 acre"', '"62"')
    (farm / "borings.csv").unlink()
    with pytest.raises(BadInputFile) as caught:
        check_job(farm)
    faults = [fault.file for fault in caught.value.faults]
    assert ["job.toml", "job.toml", "nitrate.csv", "prices.csv"] == sorted(faults)


@pytest.mark.works(of=(check_job,))
def test_what_is_not_known_is_listed(farm: Path) -> None:
    assert {g.key for g in check_job(farm).unknown} == {
        "inputs.people.easements",
        "inputs.site.utilities",
    }


@pytest.mark.works(of=(job_inputs,))
def test_confirmation_reaches_the_chain(farm: Path) -> None:
    edit(
        farm,
        "[estimate]",
        '[confirm.retention]\nrow = "605-retention"\nby = "R. Lindqvist"\ndate = "2026-11-18"\n'
        'edition = "2020"\n\n[estimate]',
    )
    inputs, _ = job_inputs(farm)
    (confirmed,) = inputs.confirmations
    assert (confirmed.row, confirmed.by) == ("605-retention", "R. Lindqvist")


@pytest.mark.works(of=(check_job,))
def test_record_of_one_plot_is_chosen_in_the_job_file(farm: Path) -> None:
    (farm / "flow.csv").write_text(
        "plot,date,flow [mm/day]\nA,2025-04-01,2.0\nB,2025-04-01,3.0\nA,2025-04-02,1.0\n",
        encoding="utf-8",
    )
    edit(farm, "flow_days = 200", 'flow_days = 200\nrecord = "flow.csv"')
    with pytest.raises(BadInputFile) as caught:
        check_job(farm)
    assert str(caught.value) == (
        "flow.csv line 3: 2025-04-01 has 3.0 here and 2.0 on line 2. "
        "The file holds several records: plot=A; plot=B. "
        'Choose one under [drainage] in job.toml, like record_only = ["plot=A"].'
    )
    edit(farm, 'record = "flow.csv"', 'record = "flow.csv"\nrecord_only = ["plot=A"]')
    job = check_job(farm)
    series = job.value("inputs.record.daily_depth_m_s")
    assert np.allclose(series, np.array([2.0, 1.0]) / 1000 / 86400)
    assert [note.message for note in job.notes if note.subject == "flow.csv"] == [
        "mean_annual_depth and flow_days of [drainage] are not used: the measured record stands in "
        "the place. Take out the record to use what is typed."
    ]
    edit(farm, '"plot=A"', '"plot A"')
    with pytest.raises(BadInputFile) as caught:
        check_job(farm)
    assert str(caught.value) == (
        "job.toml: drainage.record_only: 'plot A' does not say column and value. "
        'Write them with an equals sign, like "plotid=2".'
    )


@pytest.mark.works(of=(check_job,))
def test_heights_of_another_place_are_told(farm: Path) -> None:
    assert "survey-heights-far" not in {note.code for note in check_job(farm).notes}
    edit(farm, 'north = "north_ft"', 'north = "height_ft"')
    edit(farm, 'height = "height_ft"', 'height = "north_ft"')
    (note,) = (n for n in check_job(farm).notes if n.code == "survey-heights-far")
    assert note.message == (
        "The heights, 3813117.15 ft in the middle, are 3811931 ft or more from every elevation in "
        "job.toml; 300 ft is the most on one site. Columns may be swapped, or the datum another. "
        "Correct [survey.columns]."
    )


@pytest.mark.works(of=(check_job,))
def test_ditch_levels_of_a_file_come_with_their_days_and_its_faults_with_the_others(
    farm: Path,
) -> None:
    stage = farm / "stage.csv"
    stage.write_text("date,stage [ft]\n2025-04-01,2.1\n2025-04-02,\n2025-04-03,2.6\n", "utf-8")
    edit(
        farm,
        'stage = "season table"',
        'stage = "series"\nseries = "stage.csv"\ngauge_zero = "1177.5 ft"',
    )
    job = check_job(farm)
    assert job.value("inputs.ditch_series.stage_m") == pytest.approx(
        np.array([1179.6, 1180.1]) * 0.3048
    )
    assert [str(d) for d in job.value("inputs.ditch_series.day")] == ["2025-04-01", "2025-04-03"]  # type: ignore[attr-defined]
    assert "ditch-series-gaps" in {note.code for note in job.notes}
    assert "stage.csv: 2 days of ditch levels" in job.files
    edit(farm, 'gauge_zero = "1177.5 ft"\n', "")
    spoil(farm)
    with pytest.raises(BadInputFile) as raised:
        check_job(farm)
    assert {fault.file for fault in raised.value.faults} == {
        "prices.csv",
        "nitrate.csv",
        "stage.csv",
    }
