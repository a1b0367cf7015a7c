# SPDX-License-Identifier: Apache-2.0
"""Weather of a job becomes inputs; a day without a value is a fault until a rule is named."""

import math
import re
import shutil
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.basis.unknown import is_unknown
from tilewater.hydrology.weather import daily_weather
from tilewater.job.weather import WeatherChoice, read_weather
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.outside_files import read_outside_files
from tilewater.tasks.weather_inputs import weather_inputs
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"
HEAD = "date,rain [in],tmax [degF],tmin [degF],wind [mph]"


def write(tmp_path: Path, *rows: str, head: str = HEAD) -> Path:
    path = tmp_path / "weather.csv"
    path.write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    return path


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    """Corbel Farm with an empty table of weather and no file for it."""
    folder = tmp_path / "corbel-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results"))
    file = folder / "job.toml"
    text = re.sub(r"\[weather\].*?\n\n", "", file.read_text(encoding="utf-8"), flags=re.DOTALL)
    file.write_text(text + '\n[weather]\nfile = "weather.csv"\n', encoding="utf-8")
    return folder


def with_weather(folder: Path, *rows: str, more: str = "", head: str = HEAD) -> Path:
    write(folder, *rows, head=head)
    file = folder / "job.toml"
    file.write_text(file.read_text(encoding="utf-8") + more, encoding="utf-8")
    return folder


def faults_of(folder: Path) -> list[str]:
    with pytest.raises(BadInputFile) as raised:
        check_job(folder)
    return [str(fault) for fault in raised.value.faults]


def codes(job: Checked) -> dict[str, str]:
    return {note.code: note.message for note in job.notes if note.code.startswith("weather")}


@pytest.mark.by_hand(of=(weather_inputs, read_outside_files))
def test_weather_comes_as_arrays_with_its_place(farm: Path) -> None:
    rows = ("2026-05-01,0.5,68,41,10", "2026-05-02,0,50,32,5")
    job = check_job(with_weather(farm, *rows, more='latitude = "42.6 deg"\nwind_height = "10 m"\n'))
    assert np.allclose(np.asarray(job.value("inputs.weather.precipitation_m")), [0.0127, 0])
    assert np.allclose(np.asarray(job.value("inputs.weather.temperature_max_c")), [20, 10])
    assert np.allclose(np.asarray(job.value("inputs.weather.temperature_min_c")), [5, 0])
    assert np.allclose(np.asarray(job.value("inputs.weather.wind_m_s")), [4.4704, 2.2352])
    assert [str(day) for day in np.asarray(job.value("inputs.weather.day"))] == [
        "2026-05-01",
        "2026-05-02",
    ]
    assert job.value("inputs.weather.latitude_deg") == 42.6
    (height,) = (g for g in job.inputs.givens if g.key == "inputs.weather.elevation_m")
    assert height.value == pytest.approx(1186 * 0.3048)
    assert height.origin.text == "1186.0 ft"
    assert height.origin.note == "not given; taken as ground where the bed would lie"
    assert job.value("inputs.weather.filled_share") == 0.0
    assert "weather.csv: 2 days of weather, 2026-05-01 to 2026-05-02, with wind" in job.files


@pytest.mark.works(of=(weather_inputs,))
def test_a_latitude_that_nobody_states_is_an_open_item(farm: Path) -> None:
    job = check_job(with_weather(farm, "2026-05-01,0.5,68,41,10"))
    latitude = job.value("inputs.weather.latitude_deg")
    assert is_unknown(latitude)
    assert "inputs.weather.latitude_deg" in {given.key for given in job.unknown}
    assert "inputs.weather.wind_m_s" not in {given.key for given in job.inputs.givens}
    assert codes(job)["weather-wind-height-not-given"] == (
        "Wind is recorded and not used, since it grows with the height of its gauge. State "
        "wind_height under [weather]; 10 m is usual at an airport, 2 or 3 m in a field."
    )


@pytest.mark.works(of=(weather_inputs,))
def test_a_gap_without_a_rule_is_a_fault_that_says_what_to_do(farm: Path) -> None:
    with_weather(farm, "2026-05-01,0.5,68,41,", "2026-05-03,NA,50,32,")
    assert faults_of(farm) == [
        "weather.csv: rain has no value on 2 of 3 days (66.67%), in 1 gap 2026-05-02 to 2026-05-03 "
        "(2 days). Every day needs one. Write it into the file, shorten the record by from and to, "
        'or name a rule under [weather]: fill = "zero rain", "mean of the day of year" or '
        '"nearest days".',
        "weather.csv: tmax has no value on 1 of 3 days (33.33%), each by itself, the first "
        "2026-05-02. Every day needs one. Write it into the file, shorten the record by from and "
        'to, or name a rule under [weather]: fill_rest = "mean of the day of year" or '
        '"nearest days".',
        "weather.csv: tmin has no value on 1 of 3 days (33.33%), each by itself, the first "
        "2026-05-02. Every day needs one. Write it into the file, shorten the record by from and "
        'to, or name a rule under [weather]: fill_rest = "mean of the day of year" or '
        '"nearest days".',
    ]


@pytest.mark.works(of=(weather_inputs,))
def test_a_named_rule_fills_and_the_share_is_told(farm: Path) -> None:
    with_weather(
        farm,
        "2026-05-01,0.5,68,41,",
        "2026-05-03,0.1,50,32,",
        more='fill = "zero rain"\nfill_rest = "nearest days"\n',
    )
    job = check_job(farm)
    assert np.allclose(np.asarray(job.value("inputs.weather.precipitation_m"))[1], 0)
    assert np.allclose(np.asarray(job.value("inputs.weather.temperature_max_c"))[1], 15)
    assert job.value("inputs.weather.filled_share") == pytest.approx(1 / 3)
    told = [note.message for note in job.notes if note.code == "weather-filled"]
    assert told[0] == (
        'rain is filled by "zero rain" on 1 of 3 days (33.33%), each by itself, the first '
        "2026-05-02. The rain of those days is lost to the balance."
    )
    (rain,) = (g for g in job.inputs.givens if g.key == "inputs.weather.precipitation_m")
    assert (rain.origin.file, rain.origin.note) == ("weather.csv", "1 days filled")


@pytest.mark.works(of=(weather_inputs,))
def test_a_rule_that_cannot_fill_is_a_fault(farm: Path) -> None:
    with_weather(
        farm, "2026-05-01,0.5,68,41,", "2026-05-09,0.1,50,32,", more='fill = "nearest days"\n'
    )
    (fault,) = faults_of(farm)
    assert fault.startswith(
        "weather.csv: rain has no value from 2026-05-02 to 2026-05-08, 7 days. The nearest days "
        "stand for 5 days in a row at most."
    )


@pytest.mark.works(of=(weather_inputs,))
def test_the_day_that_a_calendar_lacks_is_explained(tmp_path: Path) -> None:
    head = "year,yday,prcp (mm/day),tmax (deg c),tmin (deg c)"
    days = [f"2024,{day},5.00,15.00,5.00" for day in range(360, 366)]
    path = write(tmp_path, *days, "2025,1,0.00,16.00,6.00", head=head)
    with pytest.raises(BadInputFile, match="has no 31 December in leap years") as raised:
        weather_inputs(path, WeatherChoice())
    assert len(raised.value.faults) == 3
    filled = weather_inputs(path, WeatherChoice(), fill="nearest days")
    by_key = {given.key: given.value for given in filled.givens}
    assert np.allclose(np.asarray(by_key["inputs.weather.precipitation_m"])[-2], 0.0025)


@pytest.mark.works(of=(read_outside_files,))
def test_every_answer_of_the_table_reaches_the_reader(farm: Path) -> None:
    with_weather(
        farm,
        "2026-05-01,9,68,41",
        "2026-05-02,0.5,68,41",
        "2026-05-03,9,68,41",
        head="DAY,PREC [in],TX [degF],TN [degF]",
        more='kind = "plain"\nfrom = "2026-05-02"\nto = "2026-05-02"\nlatitude = "42.6 deg"\n'
        'elevation = "1100 ft"\nundercatch = 1.3\n\n'
        '[weather.columns]\ndate = "DAY"\nrain = "PREC"\ntmax = "TX"\ntmin = "TN"\n',
    )
    job = check_job(farm)
    assert np.allclose(np.asarray(job.value("inputs.weather.precipitation_m")), [0.0127])
    assert job.value("inputs.weather.elevation_m") == pytest.approx(1100 * 0.3048)
    assert job.value("inputs.weather.undercatch") == 1.3


@pytest.mark.works(of=(check_job,))
def test_a_rule_that_is_not_known_is_refused_with_the_choices(farm: Path) -> None:
    with_weather(farm, "2026-05-01,0.5,68,41,", more='fill = "average"\n')
    (fault,) = faults_of(farm)
    assert fault.endswith(
        "'average' is not one of the choices. Write none, zero rain, mean of the day of year or "
        "nearest days."
    )


@pytest.mark.works(of=(read_weather, weather_inputs, daily_weather))
def test_the_example_has_thirty_years() -> None:
    given = weather_inputs(FARM / "weather.csv", WeatherChoice(latitude_deg=42.6))
    assert {finding.code for finding in given.findings} == {"weather-traces"}
    choice = WeatherChoice(latitude_deg=42.6, elevation=360.0)
    record = daily_weather(read_weather(FARM / "weather.csv", choice).weather)
    assert record.days == 10_958
    assert record.latitude == pytest.approx(math.radians(42.6))


def reads_the_same(one: Any, other: Any) -> bool:
    return all(
        np.allclose(one.series(name), other.series(name))
        for name in ("precipitation", "temperature_max", "temperature_min")
    )


@pytest.mark.law(of=(read_weather,))
def test_one_week_reads_the_same_from_every_form(tmp_path: Path) -> None:
    """Made by hand after the descriptions of the forms: the same days, each in its own units."""
    rain, high, low = [0, 127, 0, 53, 8, 0, 201], [56, 72, 81, 90, 34, 12, 5], [-28, -11, 0, 8]
    low += [-40, -61, -75]
    station = "USX00000001"
    week = [f"2026-03-0{day}" for day in range(1, 8)]
    forms = {
        "plain.csv": ["date,rain [mm],tmax [degC],tmin [degC]"]
        + [
            f"{day},{r / 10},{h / 10},{n / 10}"
            for day, r, h, n in zip(week, rain, high, low, strict=True)
        ],
        "access.csv": ["STATION,DATE,PRCP,PRCP_ATTRIBUTES,TMAX,TMIN"]
        + [
            f'{station},{day},{r},",,7",{h},{n}'
            for day, r, h, n in zip(week, rain, high, low, strict=True)
        ],
        "rows.csv": [
            f"{station},{day.replace('-', '')},{code},{value},,,7,"
            for code, values in (("PRCP", rain), ("TMAX", high), ("TMIN", low))
            for day, value in zip(week, values, strict=True)
        ],
        "pixel.csv": ["year,yday,tmin (deg c),tmax (deg c),prcp (mm/day)"]
        + [
            f"2026,{60 + number},{n / 10},{h / 10},{r / 10}"
            for number, (r, h, n) in enumerate(zip(rain, high, low, strict=True))
        ],
        "fixed.dly": [
            f"{station}202603{code}" + "".join(f"{v:5d}  7" for v in values) + "-9999   " * 24
            for code, values in (("PRCP", rain), ("TMAX", high), ("TMIN", low))
        ],
    }
    read = []
    for name, lines in forms.items():
        (tmp_path / name).write_text("\n".join(lines) + "\n", encoding="utf-8")
        read.append(read_weather(tmp_path / name))
    assert len({file.kind for file in read}) == len(forms)
    assert all(reads_the_same(file.weather, read[0].weather) for file in read)
    assert all(file.weather.day[0] == np.datetime64("2026-03-01") for file in read)
