# SPDX-License-Identifier: Apache-2.0
"""What was measured at the built example, held against the water it was made from; and faults."""

import shutil
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.basis.told import in_units
from tilewater.job.logger_file import Readings
from tilewater.job.logger_values import ColumnUnit
from tilewater.job.times import zone_of
from tilewater.monitoring.series import EDITED, FROZEN, OUT_OF_WATER, SUSPECT, Series
from tilewater.tasks.checking import check_job
from tilewater.tasks.later_files import check_every_file
from tilewater.tasks.measured import Measurements
from tilewater.tasks.measured_checks import HandCheck
from tilewater.tasks.measured_other import (
    gaps_of_series,
    outside_sense,
    rain_of,
    shift_notes,
)
from tilewater.tasks.measured_stage import StageAsk, stage_of
from tilewater.tasks.measuring_inputs import measurements
from tools import corbel_loggers as truth
from tools.package import ROOT

FARM = ROOT / "examples/corbel-built"
FOOT = 0.3048
NOISE = 5 * 0.002 * FOOT
"""Five times the noise that the file of the inlet was made with."""
DRAWN_STRAIGHT = 0.006 * FOOT
"""What straight lines between readings by hand, to 0.01 ft, leave of the drift."""
QUARTER = 900.0
FIRST = truth.FIRST.timestamp()
WINTER = datetime(2028, 1, 10, tzinfo=UTC).timestamp()
SUMMER = datetime(2028, 6, 10, tzinfo=UTC).timestamp()


@pytest.fixture(scope="module")
def built() -> Measurements:
    return measurements(check_job(FARM))


def codes(notes: object) -> set[str]:
    return {note.code for note in notes}  # type: ignore[attr-defined]


@pytest.mark.oracle("the water that the files were made from", of=(measurements, stage_of))
def test_the_water_of_the_inlet_comes_back_from_a_file_that_drifts(built: Measurements):
    inlet = built.loggers["inlet"]
    pool, _ = truth.water_of(truth.drain_flow((inlet.series.time_s - FIRST) / 3600))
    off = inlet.series.value - pool
    kept = ~inlet.series.flagged(SUSPECT)
    assert np.array_equal(
        inlet.series.time_s, FIRST + QUARTER * np.arange(inlet.series.time_s.size)
    )
    assert np.abs(off[kept]).max() < NOISE + DRAWN_STRAIGHT
    assert inlet.series.flagged(EDITED).all()
    assert (~kept).sum() == 1
    assert inlet.is_elevation
    assert [each.check for each in inlet.corrections] == [
        "inlet-march-2",
        "inlet-march-15",
        "inlet-march-28",
    ]


@pytest.mark.oracle("the water that the files were made from", of=(measurements, stage_of))
def test_the_water_of_the_outlet_comes_back_from_absolute_pressure(built: Measurements):
    outlet = built.loggers["outlet"]
    _, below = truth.water_of(truth.drain_flow((outlet.series.time_s - FIRST) / 3600))
    read = ~np.isnan(outlet.series.value)
    # 0.004 kPa of noise and 0.05 hPa of rounded air are 5 mm at the most, straight air 1 mm
    assert np.abs(outlet.series.value - below)[read].max() < 0.006
    assert (~read).sum() == 3  # the barometer was read out first
    assert len(outlet.gaps) == 1
    start, end = outlet.gaps[0]
    assert (end - start) / 3600 == 11.25


@pytest.mark.works(of=(measurements,))
def test_samples_come_by_place_with_their_pair_and_blank(built: Measurements):
    inlet, outlet = built.samples["inlet"], built.samples["outlet"]
    assert set(built.samples) == {"inlet", "outlet", "blank"}
    assert inlet.time_s.size == outlet.time_s.size + 1
    pair = int(np.flatnonzero(inlet.duplicate_of >= 0)[0])
    assert abs(inlet.time_s[pair] - inlet.time_s[inlet.duplicate_of[pair]]) == 120.0
    assert outlet.censored.sum() == 2
    assert np.isnan(outlet.nitrate_mg_per_l[outlet.censored]).all()
    assert (outlet.detection_mg_per_l[outlet.censored] == 0.2).all()
    assert built.samples["blank"].censored.all()


@pytest.mark.works(of=(measurements,))
def test_rain_is_read_by_days_of_the_site(built: Measurements):
    (rain,) = built.of("rain", "field")
    assert rain.series.time_s[0] == datetime(2028, 1, 1, 6, tzinfo=UTC).timestamp()
    first = rain.series.value[:366].sum() / 0.0254
    assert 30 < first < 45


@pytest.mark.works(of=(measurements,))
def test_a_job_without_loggers_has_no_measurements():
    found = measurements(check_job(ROOT / "examples/corbel-farm"))
    assert (dict(found.loggers), dict(found.samples), found.notes, found.read) == ({}, {}, (), ())


def changed(folder: Path, *changes: tuple[str, str]) -> Path:
    """A copy of the built farm with its job file changed."""
    farm = folder / "farm"
    shutil.copytree(FARM, farm, ignore=shutil.ignore_patterns("results", "issued"))
    text = (farm / "job.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    (farm / "job.toml").write_text(text, encoding="utf-8")
    return farm


@pytest.mark.works(of=(check_every_file, measurements))
def test_check_tells_every_fault_of_every_file_at_once(tmp_path: Path):
    farm = changed(
        tmp_path,
        ('barometer = "air"', 'barometer = "wind"'),
        ('logger = "inlet"\ntime = "2028-03-15', 'logger = "inlett"\ntime = "2028-03-15'),
        ('holding = "14 day"', 'holding = "14 day"\nspecies = "nitrate as ion"'),
    )
    lab = farm / "loggers/lab.csv"
    lab.write_text(lab.read_text().replace("13.7", "l3.7"))
    rain = farm / "loggers/rain.csv"
    rain.write_text(rain.read_text().replace("2028-02-03", "2028-02-33"))
    (farm / "borings.csv").write_text("nothing\n")
    with pytest.raises(BadInputFile) as error:
        check_every_file(farm)
    told = [str(fault) for fault in error.value.faults]
    line = next(
        i
        for i, each in enumerate((farm / "job.toml").read_text().splitlines(), 1)
        if each == 'logger = "inlett"'
    )
    assert told[0].startswith("borings.csv: it holds no row below the names of the columns.")
    assert [each for each in told if "rain.csv" in each] == [
        "rain.csv line 35: '2028-02-33' is no date in the order year-month-day, which the others "
        "have. Correct it, or write all dates year-month-day."
    ]
    assert (
        f"job.toml line {line}: zero_check.inlet-march-15: there is no logger 'inlett'. Write one "
        "of [logger.NAME]. Did you mean inlet?"
    ) in told
    assert any("there is no logger of the air pressure called 'wind'." in each for each in told)
    assert ("lab.csv line 2: 'l3.7' is no result. Write it like 12.6, <0.05 or ND.") in told
    assert check_job(FARM).files  # what a design rests on is read without them


@pytest.mark.works(of=(check_every_file,))
def test_what_was_read_stands_with_the_files_of_the_design():
    found = check_every_file(FARM)
    assert "inlet.csv: 2684 readings of stage (inlet)" in found.files
    assert "logger-clock-told" in codes(found.notes)


def readings(value: np.ndarray, start: float = SUMMER, **more: object) -> Readings:
    time_s = start + QUARTER * np.arange(value.size)
    facts: dict[str, object] = {
        "name": "inlet",
        "file": "inlet.csv",
        "time_s": time_s,
        "value": value,
        "temperature": None,
        "doubtful": np.zeros(value.size, bool),
        "unit": ColumnUnit("m", 1.0),
        "zone": zone_of("-6 h"),
        "notes": (),
    }
    return Readings(**(facts | more))  # type: ignore[arg-type]


def moving(size: int) -> np.ndarray:
    return 0.5 + 0.2 * np.sin(np.arange(size) / 40) + 0.001 * (np.arange(size) % 3)


@pytest.mark.works(of=(stage_of,))
def test_marks_are_set_for_dry_flat_frozen_and_spiked_readings():
    depth = moving(600)
    depth[50] += 0.5
    depth[300:310] = 0.0
    flat = np.minimum(depth, 0.65)
    stage = stage_of(readings(flat), StageAsk("stage"), None)
    assert stage.series.flagged(SUSPECT)[50] or flat[50] == 0.65
    assert stage.series.flagged(OUT_OF_WATER)[300:310].all()
    assert stage.series.flagged(OUT_OF_WATER)[flat == 0.65].any()
    assert {"logger-dry", "logger-flat-top"} <= codes(stage.notes)
    assert not stage.is_elevation
    cold = readings(moving(600), WINTER, temperature=np.full(600, -0.2))
    assert stage_of(cold, StageAsk("stage"), None).series.flagged(FROZEN).all()
    smooth = stage_of(readings(moving(600)), StageAsk("stage"), None)
    assert codes(smooth.notes) == set()


@pytest.mark.works(of=(stage_of,))
def test_the_end_of_a_sensor_that_is_stated_is_marked():
    stage = stage_of(readings(moving(600)), StageAsk("stage", highest=0.65), None)
    assert stage.series.flagged(OUT_OF_WATER).sum() == int((moving(600) >= 0.645).sum())


@pytest.mark.works(of=(stage_of,))
def test_elevations_that_are_called_a_stage_are_told():
    stage = stage_of(readings(moving(100) + 359.5), StageAsk("stage"), None)
    (note,) = stage.notes
    assert note.message.startswith("1182 ft of water stand over inlet in the middle")
    level = stage_of(readings(moving(100) + 359.5), StageAsk("level"), None)
    assert (level.notes, level.is_elevation) == ((), True)


@pytest.mark.by_hand(of=(stage_of,))
def test_one_check_moves_all_and_its_elevation_sets_the_zero():
    check = HandCheck("spring", SUMMER + 10 * QUARTER, 360.0)
    depth = moving(100)
    stage = stage_of(readings(depth), StageAsk("stage", checks=(check,)), None)
    assert stage.is_elevation
    assert stage.series.value == pytest.approx(depth + (360.0 - depth[10]))
    assert "logger-zero-by-hand" in codes(stage.notes)
    left = stage_of(readings(depth), StageAsk("stage", checks=(check,), correct="nothing"), None)
    assert left.series.value == pytest.approx(depth)
    assert not left.series.flagged(EDITED).any()


@pytest.mark.by_hand(of=(stage_of,))
def test_offset_alone_is_the_mean_of_the_checks():
    depth = moving(100)
    checks = tuple(
        HandCheck(f"c{i}", SUMMER + i * QUARTER, depth[i] + added)
        for i, added in ((0, 0.01), (50, 0.02), (99, 0.06))
    )
    stage = stage_of(readings(depth), StageAsk("stage", checks=checks, correct="offset"), None)
    assert stage.series.value - depth == pytest.approx(np.full(100, 0.03))
    drift = stage_of(readings(depth), StageAsk("stage", checks=checks), None)
    assert (drift.series.value - depth)[[0, 25, 99]] == pytest.approx([0.01, 0.015, 0.06])
    assert [note.severity for note in drift.notes] == ["caution"]


@pytest.mark.works(of=(stage_of,))
def test_absolute_pressure_without_the_air_is_at_fault(tmp_path: Path):
    farm = changed(tmp_path, ('measures = "air pressure"', 'measures = "temperature"'))
    air = farm / "loggers/air.csv"
    air.write_text(air.read_text().replace("Air pressure [hPa]", "Temperature [degC]"))
    job = farm / "job.toml"
    job.write_text(job.read_text().replace('barometer = "air"\n', ""))
    with pytest.raises(BadInputFile) as error:
        measurements(check_job(farm))
    assert "logger.outlet: it reads absolute pressure, and no logger of the air" in str(error.value)


@pytest.mark.works(of=(stage_of,))
def test_a_check_of_another_datum_is_at_fault(tmp_path: Path):
    farm = changed(tmp_path, ('read = "1184.27 ft"', 'read = "3.27 ft"'))
    with pytest.raises(
        BadInputFile, match=r"zero_check.inlet-march-15 is 1180.97 ft off its reading"
    ):
        measurements(check_job(farm))


@pytest.mark.by_hand(of=(rain_of,))
def test_a_gauge_that_counts_on_is_differenced():
    total = np.array([0.0, 0.0, 1.0, 3.0, 3.0, 7.0, 7.0]) / 1000
    rain, notes = rain_of(readings(total), None)
    assert rain * 1000 == pytest.approx([0, 0, 1, 2, 0, 4, 0])
    assert "counts its rain on" in notes[0].message
    stated, _ = rain_of(readings(np.append(total, 0.002)), "running total")
    assert stated[-1] == 0.002
    plain, _ = rain_of(readings(total), "rain since the row before")
    assert plain is not rain
    assert plain.tolist() == total.tolist()


@pytest.mark.works(of=(gaps_of_series,))
def test_gaps_are_where_readings_are_far_apart():
    time_s = np.array([0.0, 900, 1800, 5400, 6300])
    series = Series("inlet", time_s, np.array([1.0, 1, 1, 1, 1]))
    assert gaps_of_series(series) == ((1800.0, 5400.0),)
    tips = Series("rain", np.array([0.0, 70, 100, 5000, 5013]), np.full(5, 0.0002))
    assert gaps_of_series(tips) == ()


@pytest.mark.works(of=(outside_sense,))
def test_readings_of_another_unit_are_doubted():
    cold = readings(np.array([4.0, 68.0, 5.0]), unit=ColumnUnit("degC", 1.0))
    outside, notes = outside_sense(cold, "temperature")
    assert outside.tolist() == [False, True, False]
    assert notes[0].message == (
        "1 readings of inlet are outside what temperature can be, -40 to 60 degC; the largest is "
        "68 degC. They are marked as doubted. Look whether degC is the unit of the column."
    )
    assert outside_sense(readings(np.array([4.0])), "temperature")[1] == []


@pytest.mark.works(of=(shift_notes,))
def test_two_loggers_an_hour_apart_are_told_and_others_not():
    noise = np.random.default_rng(7)
    time_s = QUARTER * np.arange(3000)
    water = np.convolve(noise.gamma(0.05, 1.0, 3100), np.exp(-np.arange(101) / 20), "valid")
    first = Series("inlet", time_s, water[:3000])
    late = Series("outlet", time_s + timedelta(hours=1).total_seconds(), water[:3000])
    (note,) = shift_notes({"inlet": first, "outlet": late})
    assert note.message.startswith("The water at outlet moves 60 min after that at inlet.")
    together = Series("outlet", time_s, water[:3000] * 0.5)
    assert list(shift_notes({"inlet": first, "outlet": together})) == []


@pytest.mark.by_hand(of=(measurements, stage_of))
def test_a_level_in_another_unit_than_its_heading_says_is_told(tmp_path, built):
    farm = changed(tmp_path)
    file = farm / "loggers" / "inlet.csv"
    text = file.read_text(encoding="utf-8")
    assert "Level (ft)" in text
    file.write_text(text.replace("Level (ft)", "Level (in)"), encoding="utf-8")
    notes = {note.code: note for note in measurements(check_job(farm)).notes}
    told = in_units(notes["logger-moved-otherwise"].message, "us")
    assert notes["logger-moved-otherwise"].value == pytest.approx(12.0, rel=0.02)  # in to a foot
    assert "moved 1.23 ft by hand" in told.replace("file: 1.23 ft", "moved 1.23 ft")
    assert "[logger.inlet]" in told
    checked = in_units(notes["logger-checked"].message, "us")
    assert all(f"inlet-march-{day} +" in checked for day in (2, 15, 28))
    assert "logger-moved-otherwise" not in {note.code for note in built.notes}
