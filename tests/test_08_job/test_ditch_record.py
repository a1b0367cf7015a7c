# SPDX-License-Identifier: Apache-2.0
"""Ditch levels of a file: gaps stay open, the zero of the gauge is added, wrong units are seen."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.ditch_record import Place, StageRecord, read_stage_record

FOOT = 0.3048
ZERO = 1177.35 * FOOT
DITCH = Place(1178.9 * FOOT, 1185.75 * FOOT)


def write(tmp_path: Path, *rows: str, head: str = "date,stage [ft]") -> Path:
    path = tmp_path / "stage.csv"
    path.write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    return path


def faults_of(path: Path, **more: Any) -> str:
    with pytest.raises(BadInputFile) as raised:
        read_stage_record(path, **more)
    return str(raised.value)


def messages(record: StageRecord) -> dict[str, str]:
    return {finding.code: finding.message for finding in record.findings}


@pytest.mark.works(of=(read_stage_record,))
def test_missing_days_stay_open_and_are_reported(tmp_path: Path) -> None:
    path = write(tmp_path, "2026-04-01,2.1", "2026-04-03,NA", "2026-04-05,3.4")
    record = read_stage_record(path, gauge_zero=ZERO, place=DITCH)
    assert [str(day) for day in record.day] == [f"2026-04-0{i}" for i in range(1, 6)]
    nan = np.nan
    assert record.stage / FOOT == pytest.approx([1179.45, nan, nan, nan, 1180.75], nan_ok=True)
    assert record.readings == 2
    assert messages(record) == {
        "ditch-series-gaps": "3 of 5 days have no reading of the ditch, in 1 gap, the longest "
        "2026-04-02 to 2026-04-04 (3 days). They are left open. A logger that stops in a flood "
        "leaves out the levels that matter most."
    }


@pytest.mark.by_hand(of=(read_stage_record,))
def test_readings_within_a_day_give_its_mean_and_its_highest(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "2026-04-01 00:15,360.0",
        "2026-04-01T12:15,360.3",
        "2026-04-01 18:15,360.9",
        "2026-04-02 00:15,360.1",
        head="date,stage [m]",
    )
    record = read_stage_record(path)
    assert record.stage == pytest.approx([(360.0 + 360.3 + 360.9) / 3, 360.1])
    assert record.highest == pytest.approx([360.9, 360.1])


@pytest.mark.law(of=(read_stage_record,))
def test_order_of_the_rows_and_unit_of_the_column_do_not_matter(tmp_path: Path) -> None:
    rows = ["2026-04-01,24", "2026-04-02,30", "2026-04-03,27"]
    inches = read_stage_record(
        write(tmp_path, *rows[::-1], head="date,stage [in]"), gauge_zero=ZERO, place=DITCH
    )
    feet = read_stage_record(
        write(tmp_path, "2026-04-01,2", "2026-04-02,2.5", "2026-04-03,2.25"), gauge_zero=ZERO
    )
    assert inches.stage == pytest.approx(feet.stage)
    assert inches.findings == ()


@pytest.mark.works(of=(read_stage_record,))
def test_inches_without_the_zero_of_the_gauge_are_refused(tmp_path: Path) -> None:
    path = write(tmp_path, "2026-04-01,24", head="date,stage [in]")
    assert faults_of(path) == (
        "stage.csv line 1: a stage in inches counts from the zero of a staff or logger, not from "
        "the datum. State the elevation of that zero as gauge_zero under [ditch] in job.toml."
    )


@pytest.mark.works(of=(read_stage_record,))
def test_a_unit_must_be_stated_and_be_a_length(tmp_path: Path) -> None:
    assert faults_of(write(tmp_path, "2026-04-01,2", head="date,stage")) == (
        "stage.csv line 1: the column 'stage' has no unit. Write it behind the name, like "
        "stage [ft]."
    )
    cfs = write(tmp_path, "2026-04-01,2", head="date,stage [cfs]")
    assert faults_of(cfs).startswith("stage.csv line 1: stage: '1 cfs' is a flow;")


@pytest.mark.works(of=(read_stage_record,))
def test_readings_of_another_zero_are_noticed_by_their_size(tmp_path: Path) -> None:
    path = write(tmp_path, "2026-04-01,2.1", "2026-04-02,2.3", "2026-04-03,2.2")
    assert faults_of(path, place=DITCH) == (
        "stage.csv line 2: stage 2.1 ft and the rest, 2.20 ft in the middle, lie 1176.70 ft below "
        "the bottom of the ditch at 1178.90 ft. The readings count from another zero. State the "
        "elevation of that zero as gauge_zero under [ditch] in job.toml."
    )


@pytest.mark.works(of=(read_stage_record,))
def test_inches_under_the_name_of_feet_are_noticed(tmp_path: Path) -> None:
    path = write(tmp_path, "2026-04-01,24", "2026-04-02,30", "2026-04-03,27")
    assert faults_of(path, place=DITCH, gauge_zero=ZERO) == (
        "stage.csv line 2: stage 24 ft and the rest, 1204.35 ft in the middle, lie 18.60 ft above "
        "the bank top of the ditch at 1185.75 ft. Check gauge_zero under [ditch], 1177.35 ft, and "
        "the unit of the column. Read in inches the middle would be 1179.60 ft: is it stage [in]?"
    )


@pytest.mark.works(of=(read_stage_record,))
def test_a_level_far_under_the_bottom_is_a_fault_and_a_little_a_note(tmp_path: Path) -> None:
    rows = ("2026-04-01,1179.6", "2026-04-02,1177.2", "2026-04-03,1179.7")
    assert faults_of(write(tmp_path, *rows), place=DITCH) == (
        "stage.csv line 3: stage 1177.2 ft is 1.70 ft below the bottom of the ditch at 1178.90 ft. "
        "Water cannot stand there. Correct it, or write NA."
    )
    rows = ("2026-04-01,1179.6", "2026-04-02,1178.7", "2026-04-03,1186.0")
    found = messages(read_stage_record(write(tmp_path, *rows), place=DITCH))
    assert found == {
        "ditch-series-under-bottom": "1 reading is up to 0.20 ft under the bottom of the ditch, "
        "the lowest on line 3. The ditch was dry, the logger stands in a hole, or its zero has "
        "moved. Check the zero at the next visit.",
        "ditch-series-over-bank": "The highest reading, 1186.00 ft on line 4, is 0.25 ft above "
        "the bank top. A flood over the banks, or a wrong reading; look at the days around it.",
    }


@pytest.mark.works(of=(read_stage_record,))
def test_every_fault_of_the_rows_is_named_at_once(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "2026-04-01,1179.6",
        "2026-04-01,1179.9",
        "4/2/2026,1179.5",
        "2026-04-03,low",
        "2026-04-04,1179.5",
        "2026-04-04,1179.5",
    )
    assert faults_of(path) == (
        "stage.csv line 3: 2026-04-01 has 1179.9 here and 1179.6 on line 2. Keep one, or write "
        "the time of each.\n"
        "stage.csv line 4: date '4/2/2026' is not a date. Write year-month-day, like 2026-05-14, "
        "or with the time, like 2026-05-14 13:30.\n"
        "stage.csv line 5: stage: 'low' is not a number with a unit. Write it like 60 ft or 18.3 m."
    )
    assert faults_of(write(tmp_path, "2026-04-01,NA")) == (
        "stage.csv: no row has a value. Check the column of the stage."
    )


@pytest.mark.works(of=(read_stage_record,))
def test_the_foot_of_the_grid_is_kept(tmp_path: Path) -> None:
    path = write(tmp_path, "2026-04-01,1180.00")
    survey = read_stage_record(path, foot="us survey foot")
    assert survey.stage == pytest.approx([1180 * 1200 / 3937], rel=1e-14)
