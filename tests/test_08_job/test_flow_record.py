# SPDX-License-Identifier: Apache-2.0
"""Daily drain flow: gaps stay open, two values for one day are a fault, records are chosen."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.flow_record import FlowRecord, read_flow_record

MM_DAY = 0.001 / 86400


def write(tmp_path: Path, *rows: str, head: str = "date,flow [mm/day]") -> Path:
    path = tmp_path / "flow.csv"
    path.write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    return path


def faults_of(path: Path, **more: Any) -> str:
    with pytest.raises(BadInputFile) as raised:
        read_flow_record(path, **more)
    return str(raised.value)


def messages(record: FlowRecord) -> list[str]:
    return [finding.message for finding in record.findings]


@pytest.mark.works(of=read_flow_record)
def test_missing_days_stay_open_and_are_reported(tmp_path: Path) -> None:
    path = write(tmp_path, "2026-04-01,1.5", "2026-04-03,NA", "2026-04-06,2.5", "2026-04-07,0")
    record = read_flow_record(path)
    assert [str(day) for day in record.day[:2]] == ["2026-04-01", "2026-04-02"]
    assert np.array_equal(
        record.flow_mm_per_day,
        [1.5, np.nan, np.nan, np.nan, np.nan, 2.5, 0.0],
        equal_nan=True,
    )
    assert record.measured_m_per_s == pytest.approx([1.5 * MM_DAY, 2.5 * MM_DAY, 0.0])
    assert [str(gap) for gap in record.gaps] == ["2026-04-02 to 2026-04-05 (4 days)"]
    assert messages(record) == [
        "4 of 7 days have no value, in 1 gap, the longest 2026-04-02 to 2026-04-05 (4 days). "
        "They are left open; sums and shares rest on the measured days."
    ]


@pytest.mark.works(of=read_flow_record)
def test_order_of_the_rows_does_not_matter(tmp_path: Path) -> None:
    rows = ["2026-04-01,1", "2026-04-02,2", "2026-04-03,3"]
    record = read_flow_record(write(tmp_path, *rows[::-1]))
    assert list(record.flow_mm_per_day) == [1, 2, 3]
    assert record.is_measured.all()
    assert record.findings == ()


@pytest.mark.by_hand(of=read_flow_record)
def test_flows_become_depths_over_the_drained_area(tmp_path: Path) -> None:
    cfs = write(tmp_path, "2026-04-01,0.930", head="date,flow [cfs]")
    area = 62 * 43560 * 0.3048**2
    depth = 0.930 * 0.3048**3 * 86400 / area * 1000
    assert read_flow_record(cfs, area=area).flow_mm_per_day == pytest.approx([depth])
    inches = write(tmp_path, "2026-04-01,0.375", head="date,flow [in/day]")
    assert read_flow_record(inches).flow_mm_per_day == pytest.approx([0.375 * 25.4])


@pytest.mark.works(of=read_flow_record)
def test_unit_must_be_stated_and_known(tmp_path: Path) -> None:
    bare = write(tmp_path, "2026-04-01,1", head="date,flow")
    assert faults_of(bare) == (
        "flow.csv line 1: the column 'flow' has no unit. "
        "Write it behind the name, like flow [mm/day]."
    )
    assert read_flow_record(bare, unit="mm/day").flow_mm_per_day == pytest.approx([1.0])
    assert faults_of(bare, unit="gpm") == (
        "flow.csv line 1: a flow in gpm needs the drained area to become a depth. "
        "State the area, or give the record in mm/day."
    )
    assert faults_of(bare, unit="psi").startswith(
        "flow.csv line 1: 'psi' is neither a depth per day nor a flow. Known: cfs, gpm,"
    )


@pytest.mark.works(of=read_flow_record)
def test_every_fault_is_named_at_once(tmp_path: Path) -> None:
    path = write(
        tmp_path, "2026-04-01,1", "2026-04-01,2", "4/2/2026,1", "2026-04-03,-0.5", "2026-04-04,low"
    )
    assert faults_of(path) == (
        "flow.csv line 3: 2026-04-01 has 2 here and 1 on line 2. Keep one.\n"
        "flow.csv line 4: date '4/2/2026' is not a date. Write year-month-day, like 2026-05-14.\n"
        "flow.csv line 5: flow -0.5 is negative. Drain flow is zero or more. "
        "Correct it, or write NA.\n"
        "flow.csv line 6: flow 'low' is not a number. Write digits, with a point for decimals."
    )


@pytest.mark.works(of=read_flow_record)
def test_dates_of_another_form_are_one_fault(tmp_path: Path) -> None:
    path = write(tmp_path, *(f"4/{day}/2026,1" for day in range(1, 31)))
    assert faults_of(path) == (
        "flow.csv line 2: date '4/1/2026' is not a date, nor are 29 more below it. "
        "Write year-month-day, like 2026-05-14."
    )


@pytest.mark.works(of=read_flow_record)
def test_only_rows_of_different_records_ask_for_a_choice(tmp_path: Path) -> None:
    head = "plotid,date,flow [mm/day]"
    one = write(tmp_path, "1,2026-04-01,1", "1,2026-04-01,2", "2,2026-04-02,2", head=head)
    assert faults_of(one) == "flow.csv line 3: 2026-04-01 has 2 here and 1 on line 2. Keep one."
    two = write(tmp_path, "1,2026-04-01,1", "2,2026-04-01,2", head=head)
    assert "The file holds several records: plotid=1; plotid=2. " in faults_of(two)


@pytest.mark.works(of=read_flow_record)
def test_record_without_any_value_is_refused(tmp_path: Path) -> None:
    assert faults_of(write(tmp_path, "2026-04-01,NA")) == (
        "flow.csv: no day of the record has a value. Check the column of the flow."
    )


@pytest.mark.works(of=read_flow_record)
def test_day_that_stands_twice_with_one_value_counts_once(tmp_path: Path) -> None:
    record = read_flow_record(write(tmp_path, "2026-04-01,1", "2026-04-01,1", "2026-04-02,2"))
    assert list(record.flow_mm_per_day) == [1, 2]
    assert messages(record) == [
        "1 day stands twice with the same value, the first is 2026-04-01 on line 3. "
        "Each counts once."
    ]


@pytest.mark.works(of=read_flow_record)
def test_dust_counts_as_no_flow(tmp_path: Path) -> None:
    record = read_flow_record(
        write(tmp_path, "2026-04-01,-7e-8", "2026-04-02,4.9e-324", "2026-04-03,1")
    )
    assert list(record.flow_mm_per_day) == [0, 0, 1]
    assert messages(record) == [
        "2 days have less than 0.0001 mm/day, above or below zero. No gauge tells that from no "
        "flow; each counts as zero."
    ]


@pytest.mark.works(of=read_flow_record)
def test_flat_top_is_reported(tmp_path: Path) -> None:
    rows = [f"2026-04-{day:02d},{min(day, 4)}" for day in range(1, 9)]
    assert messages(read_flow_record(write(tmp_path, *rows))) == [
        "The largest flow, 4.00 mm/day, stands on 5 days. That is a full pipe, a drowned weir or "
        "the end of the gauge; the true peaks are higher."
    ]


@pytest.mark.works(of=read_flow_record)
def test_one_record_of_several_must_be_chosen(tmp_path: Path) -> None:
    path = write(tmp_path, "north,2026-04-01,1", "south,2026-04-01,2", head="plot,date,q [mm/day]")
    assert faults_of(path, column="q") == (
        "flow.csv line 3: 2026-04-01 has 2 here and 1 on line 2. "
        "The file holds several records: plot=north; plot=south. "
        'Choose one under [drainage] in job.toml, like record_only = ["plot=north"].'
    )
    south = read_flow_record(path, column="q", only={"plot": "south"})
    assert list(south.flow_mm_per_day) == [2]
    assert faults_of(path, column="q", only={"plot": "east"}) == (
        "flow.csv: no row has plot east. The file holds plot: north, south."
    )


@pytest.mark.works(of=read_flow_record)
def test_measured_fields_can_be_read(field_data: Path) -> None:
    file = field_data / "drain-flow" / "daily_drain_flow.csv"
    record = read_flow_record(file, only={"siteid": "DPAC", "plotid": "SE"}, unit="mm/day")
    assert record.is_measured.sum() == 4092
    assert record.day.size == 4383
    assert record.gaps[0].days == 166
    flat = read_flow_record(file, only={"siteid": "SERF_IA", "plotid": "S5"}, unit="mm/day")
    assert "The largest flow, 18.97 mm/day, stands on 8 days." in messages(flat)[-1]
    (one,) = faults_of(file, unit="mm/day").splitlines()
    assert "siteid=DPAC, plotid=SE" in one
