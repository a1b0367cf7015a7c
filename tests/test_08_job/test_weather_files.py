# SPDX-License-Identifier: Apache-2.0
"""Weather files in every form that is read: units, flags, gaps, lines that are malformed.

All files here are made by hand after the public descriptions of the forms; no station is real.
"""

import datetime
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.weather import WeatherChoice, WeatherFile, kind_of_weather, read_weather
from tilewater.job.weather_access import read_access
from tilewater.job.weather_daymet import read_daymet
from tilewater.job.weather_ghcn import read_by_station, read_fixed_width
from tilewater.job.weather_plain import read_plain
from tilewater.job.weather_readings import Readings

STATION = "USX00000001"
NAN = float("nan")


def write(tmp_path: Path, *lines: str, name: str = "weather.csv") -> Path:
    path = tmp_path / name
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def faults_of(path: Path, **choice: Any) -> str:
    with pytest.raises(BadInputFile) as raised:
        read_weather(path, WeatherChoice(**choice))
    return str(raised.value)


def messages(file: WeatherFile) -> dict[str, str]:
    return {finding.code: finding.message for finding in file.findings}


def dly(element: str, days: dict[int, str], *, month: str = "202602", at: str = STATION) -> str:
    """A line of fixed width: a value and its three flags by day, missing on the others."""
    cells = "".join(days.get(day, "-9999   ") for day in range(1, 32))
    return f"{at}{month}{element}{cells}"


def cell(value: int, flags: str = "  7") -> str:
    return f"{value:5d}{flags}"


def same(value: int, days: int = 28) -> dict[int, str]:
    return {day: cell(value) for day in range(1, days + 1)}


# Fixed width


def fixed(tmp_path: Path, rain: dict[int, str], *more: str, month: str = "202602") -> Path:
    days = 29 if month == "202402" else 28
    return write(
        tmp_path,
        dly("TMAX", same(56, days), month=month),
        dly("TMIN", same(-28, days), month=month),
        dly("PRCP", {**same(0, days), **rain}, month=month),
        *more,
        name=f"{STATION}.dly",
    )


@pytest.mark.by_hand(of=(read_weather, read_fixed_width))
def test_fixed_width_is_in_tenths(tmp_path: Path) -> None:
    snow = dly("SNOW", {2: cell(51)})
    file = read_weather(fixed(tmp_path, {2: cell(123)}, snow, dly("SNWD", {2: cell(76)})))
    assert (file.kind, file.station) == ("GHCN-Daily fixed width", STATION)
    weather = file.weather
    assert weather.first_day == datetime.date(2026, 2, 1)
    assert weather.days == 28
    assert weather.precipitation[:3] == pytest.approx([0, 12.3 / 1000, 0])
    assert weather.temperature_max[0] == pytest.approx(5.6)
    assert weather.temperature_min[0] == pytest.approx(-2.8)
    assert weather.series("snowfall")[1] == pytest.approx(0.051)
    assert weather.series("snow_depth")[1] == pytest.approx(0.076)
    assert np.isnan(weather.series("snowfall")[0])


@pytest.mark.works(of=(read_fixed_width,))
def test_leap_day_of_fixed_width_is_read(tmp_path: Path) -> None:
    file = read_weather(fixed(tmp_path, {29: cell(40)}, month="202402"))
    assert file.weather.days == 29
    assert file.weather.precipitation[28] == pytest.approx(0.004)


@pytest.mark.works(of=(read_fixed_width, Readings))
def test_flags_drop_values_and_traces_count_as_zero(tmp_path: Path) -> None:
    rain = {3: cell(999, " X7"), 4: cell(0, "T 7"), 5: cell(0, "P 7"), 6: cell(80, " G7")}
    file = read_weather(fixed(tmp_path, rain))
    assert file.weather.precipitation[2:6] == pytest.approx([NAN, 0, 0, NAN], nan_ok=True)
    assert messages(file) == {
        "weather-flagged-dropped": "2 readings that failed a check of the archive are left out: "
        "PRCP 1 G (gap in the record), 1 X (out of bounds). Their days count as days without a "
        "value.",
        "weather-traces": "1 trace counts as 0: 1 of PRCP.",
        "weather-presumed-zero": "1 day without an entry is presumed 0 by the archive: 1 of PRCP. "
        "It is taken so.",
    }


@pytest.mark.works(of=(read_fixed_width, Readings))
def test_totals_of_several_days_are_told_and_not_spread(tmp_path: Path) -> None:
    missing = dict.fromkeys((10, 11, 12), "-9999   ")
    file = read_weather(
        fixed(tmp_path, missing, dly("MDPR", {12: cell(254)}), dly("DAPR", {12: cell(3)}))
    )
    assert np.isnan(file.weather.precipitation[9:12]).all()
    assert messages(file) == {
        "weather-multi-day-totals": "1 total of several days, 1.00 in on 3 days in all, is not in "
        "the daily rain: 1.00 in over 3 days to 2026-02-12. Their days count as days without a "
        "value; a rule that fills them does not know of these totals."
    }


@pytest.mark.works(of=(read_fixed_width,))
def test_malformed_lines_of_fixed_width_are_named(tmp_path: Path) -> None:
    whole = dly("PRCP", same(0))
    path = write(
        tmp_path,
        dly("TMAX", same(56)),
        "not a line of the archive",
        whole[:100],
        whole.replace("    0  7", "   O0  7", 1),
        dly("TMIN", {30: cell(5)}),
        dly("TMIN", same(5), month="202613"),
        name="a.dly",
    )
    assert faults_of(path).splitlines() == [
        "a.dly line 2: 'not a line of the arc' does not begin with station, year, month and "
        "element in 21 characters. Get the file anew, or take the line out.",
        "a.dly line 3: the line ends after 100 characters, within the 28 days of 2026-02. A whole "
        "line has 269. Get the file anew, or take the line out.",
        "a.dly line 4: PRCP 'O0' of day 1 is not a whole number. The columns have shifted, or the "
        "line was edited. A value stands in 5 characters, its three flags behind it.",
        "a.dly line 5: TMIN has a value on day 30, and 2026-02 has 28 days. Write -9999 there.",
        "a.dly line 6: '202613' is not a year and a month, like 202605.",
    ]


@pytest.mark.works(of=(read_fixed_width,))
def test_blanks_that_an_editor_took_from_the_end_do_no_harm(tmp_path: Path) -> None:
    lines = [
        dly(element, {**same(value), 29: " " * 8, 30: " " * 8, 31: " " * 8}).rstrip()
        for element, value in (("PRCP", 30), ("TMAX", 56), ("TMIN", -28))
    ]
    weather = read_weather(write(tmp_path, *lines, name="a.dly")).weather
    assert weather.precipitation == pytest.approx(np.full(28, 0.003))


@pytest.mark.works(of=(read_fixed_width,))
def test_one_of_several_stations_must_be_chosen(tmp_path: Path) -> None:
    other = "USX00000002"
    lines = [
        dly(element, same(value), at=at)
        for at, rain in ((STATION, 10), (other, 20))
        for element, value in (("PRCP", rain), ("TMAX", 56), ("TMIN", -28))
    ]
    path = write(tmp_path, *lines, name="two.dly")
    assert faults_of(path) == (
        "two.dly: it holds 2 stations: USX00000001, USX00000002. Choose one under [weather] in "
        'job.toml, like station = "USX00000001".'
    )
    assert faults_of(path, station="USX9") == (
        "two.dly: no station 'USX9' is in it. It holds USX00000001, USX00000002. Correct station."
    )
    file = read_weather(path, WeatherChoice(station=other))
    assert file.weather.precipitation[0] == pytest.approx(0.002)


# Rows by station


def rows(element: str, *values: str, flags: str = ",,,7,0700") -> list[str]:
    return [
        f"{STATION},202405{day:02},{element},{value}{flags}" for day, value in enumerate(values, 1)
    ]


@pytest.mark.by_hand(of=(read_by_station,))
def test_rows_by_station_may_stand_in_any_order(tmp_path: Path) -> None:
    lines = [
        *rows("TMIN", "50", "61"),
        *reversed(rows("PRCP", "0", "254")),
        *rows("WT01", "1"),
        *rows("TMAX", "200", "211"),
        *rows("AWND", "43", "-9999"),
    ]
    file = read_weather(write(tmp_path, *lines))
    assert file.kind == "GHCN-Daily by station"
    assert file.weather.precipitation == pytest.approx([0, 25.4 / 1000])
    assert file.weather.temperature_max == pytest.approx([20.0, 21.1])
    assert file.weather.series("wind") == pytest.approx([4.3, NAN], nan_ok=True)


@pytest.mark.works(of=(read_by_station,))
def test_rows_by_station_that_are_malformed_are_named(tmp_path: Path) -> None:
    lines = [
        *rows("PRCP", "0", "2.5"),
        f"{STATION},20240532,PRCP,0,,,7,",
        f"{STATION},20240503",
        *rows("TMAX", "200"),
        *rows("TMIN", "50"),
    ]
    assert faults_of(write(tmp_path, *lines)).splitlines() == [
        "weather.csv line 2: PRCP '2.5' is not a whole number. This form holds tenths of mm and of "
        "degC in whole numbers. Get the file anew.",
        "weather.csv line 3: '20240532' is not a day, like 20260514.",
        "weather.csv line 4: the row has 2 cells. Station, day, element and value are needed, then "
        "three flags. Get the file anew, or take the row out.",
    ]


@pytest.mark.works(of=(read_weather,))
def test_a_day_that_stands_twice_counts_once_or_is_a_fault(tmp_path: Path) -> None:
    lines = [*rows("PRCP", "10", "20"), *rows("TMAX", "200", "210"), *rows("TMIN", "50", "60")]
    twice = read_weather(write(tmp_path, *lines, *rows("PRCP", "10")))
    assert twice.weather.precipitation == pytest.approx([0.001, 0.002])
    assert messages(twice) == {
        "weather-day-twice": "1 reading stands twice with the same value. Each counts once."
    }
    assert faults_of(write(tmp_path, *lines, *rows("PRCP", "11"))) == (
        "weather.csv line 7: PRCP of 2024-05-01 is 11 here and 10 on line 1. Keep one."
    )


# Columns by element

ACCESS = (
    '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES",'
    '"TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"'
)


def access(day: str, rain: str, tmax: str, tmin: str, flags: str = ",,7,0700") -> str:
    return (
        f'"{STATION}","{day}","42.61","-93.2","360.0","NO SUCH PLACE, IA US","{rain}","{flags}",'
        f'"{tmax}",",,7","{tmin}",",,7"'
    )


@pytest.mark.by_hand(of=(read_access,))
def test_columns_by_element_are_in_tenths_with_flags_in_one_cell(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        ACCESS,
        access("2024-02-28", "  127", "  56", " -28"),
        access("2024-02-29", "0", "", "-17", "T,,7"),
        access("2024-03-01", "900", "100", "0", ",S,7"),
    )
    file = read_weather(path)
    assert (file.kind, file.station) == ("GHCN-Daily access", STATION)
    assert file.weather.precipitation == pytest.approx([0.0127, 0.0, NAN], nan_ok=True)
    assert file.weather.temperature_max == pytest.approx([5.6, NAN, 10.0], nan_ok=True)
    assert file.weather.latitude == pytest.approx(42.61 * np.pi / 180)
    assert file.weather.elevation == 360.0
    assert messages(file) == {
        "weather-flagged-dropped": "1 reading that failed a check of the archive is left out: "
        "PRCP 1 S (far from its neighbours). Their days count as days without a value.",
        "weather-traces": "1 trace counts as 0: 1 of PRCP.",
    }


@pytest.mark.by_hand(of=(read_access,))
def test_an_order_in_other_units_is_noticed_and_can_be_said(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        ACCESS,
        access("2024-05-01", "0.00", "68", "41"),
        access("2024-05-02", "0.50", "50", "32"),
    )
    assert faults_of(path) == (
        "weather.csv line 3: PRCP 0.50 is not a whole number, and the archive gives out tenths of "
        "mm and of degC in whole numbers. A file that was ordered in other units needs units = "
        '"metric" or units = "standard" under [weather].'
    )
    standard = read_weather(path, WeatherChoice(units="standard")).weather
    assert standard.precipitation == pytest.approx([0, 0.0127])
    assert standard.temperature_max == pytest.approx([20, 10])
    metric = write(tmp_path, ACCESS, access("2024-05-01", "12.7", "20.0", "5.0"))
    assert read_weather(metric, WeatherChoice(units="metric")).weather.precipitation == (
        pytest.approx([0.0127])
    )


@pytest.mark.works(of=(kind_of_weather,))
def test_a_daily_summary_of_hourly_reports_is_refused(tmp_path: Path) -> None:
    head = '"STATION","DATE","TEMP","TEMP_ATTRIBUTES","PRCP","PRCP_ATTRIBUTES","FRSHTT"'
    path = write(tmp_path, head, '"72548094908","2024-05-01","61.2","24","99.99","I","000000"')
    assert faults_of(path) == (
        "weather.csv line 1: it is a daily summary of hourly reports: columns TEMP and FRSHTT, "
        "inches and degF, 99.99 where rain is missing and 0.00 where none was reported. Its rain "
        "cannot be told from missing rain. Get GHCN-Daily of the same station."
    )


# Daymet

PIXEL = (
    "Latitude: 42.61  Longitude: -93.2",
    "X & Y on Lambert Conformal Conic: 553000.1 101000.2",
    "Tile: 11746",
    "Elevation: 352 meters",
    "All years; all variables; Daymet Software Version 4.0",
    "How to cite: see the data set",
    "",
    "year,yday,dayl (s),prcp (mm/day),srad (W/m^2),swe (kg/m^2),tmax (deg c),tmin (deg c),vp (Pa)",
)


def pixel(year: int, yday: int, rain: str = "0.00", *, warmer: float = 0.0) -> str:
    mild = f"{5.25 + warmer:.2f},{-3.5 + warmer:.2f},480.00"
    return f"{year},{yday},31541.06,{rain},{90.72 + 10 * warmer:.2f},0.00,{mild}"


@pytest.mark.by_hand(of=(read_daymet,))
def test_a_pixel_gives_rain_radiation_and_vapour_pressure(tmp_path: Path) -> None:
    file = read_weather(write(tmp_path, *PIXEL, pixel(2025, 1), pixel(2025, 2, "7.31")))
    weather = file.weather
    assert file.kind == "Daymet"
    assert weather.first_day == datetime.date(2025, 1, 1)
    assert weather.precipitation == pytest.approx([0, 7.31 / 1000])
    assert weather.series("solar_mj_m2_day")[0] == pytest.approx(90.72 * 31541.06 / 1e6)
    assert weather.series("vapour_actual_kpa")[0] == pytest.approx(0.48)
    assert weather.latitude == pytest.approx(42.61 * np.pi / 180)
    assert weather.elevation == 352


@pytest.mark.works(of=(read_daymet,))
def test_a_leap_year_of_a_pixel_has_its_leap_day_and_lacks_its_last(tmp_path: Path) -> None:
    lines = [
        pixel(2024, day, "60.00" if day == 60 else "0.00", warmer=20 * (150 < day < 300))
        for day in range(1, 366)
    ]
    weather = read_weather(write(tmp_path, *PIXEL, *lines, pixel(2025, 1))).weather
    assert weather.days == 367
    assert str(weather.day[59]) == "2024-02-29"
    assert weather.precipitation[59] == pytest.approx(0.060)
    assert [str(day) for day in weather.day[weather.missing("precipitation")]] == ["2024-12-31"]


@pytest.mark.works(of=(read_daymet, kind_of_weather))
def test_what_is_wrong_with_a_pixel_is_named(tmp_path: Path) -> None:
    path = write(tmp_path, *PIXEL, pixel(2024, 366), "2025,1,31541.06,0.00", "2025,x" + ",1" * 7)
    assert faults_of(path).splitlines() == [
        "weather.csv line 9: day 366 of 2024 is not in the calendar of this data set, which has "
        "365 days in every year. Correct the row, or take it out.",
        "weather.csv line 10: the row has 4 cells for 9 columns. The file was cut short. Get it "
        "anew, or take the row out.",
        "weather.csv line 11: '2025, x' is not a year and a day of the year, like 2025, 134.",
    ]
    inches = write(tmp_path, PIXEL[-1].replace("mm/day", "in/day"), pixel(2025, 1))
    assert faults_of(inches) == (
        "weather.csv line 1: the column 'prcp' is in 'in/day'. The data set has it in mm/day. Get "
        "the file anew, or write it as a plain file."
    )
    assert faults_of(write(tmp_path, "<!DOCTYPE html>", "<p>Internal Server Error")) == (
        "weather.csv line 1: it is the message of a server and holds no weather. Get the file anew."
    )
    assert faults_of(write(tmp_path, "")) == "weather.csv: it is empty. Get the file anew."


# Plain

HEAD = "date,rain [in],tmax [degF],tmin [degF]"


@pytest.mark.by_hand(of=(read_plain,))
def test_a_plain_file_has_units_in_its_first_row(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "date,rain [in],tmax [degF],tmin [degF],snow depth [in],humidity [%],wind [mph],"
        "radiation [W/m2],vapour pressure [kPa]",
        "2026-05-02,T,M,41,0,60,,200,1.2",
        "2026-05-01,0.50,68,32,T,70,10,150,1.1",
    )
    weather = read_weather(path).weather
    assert weather.precipitation == pytest.approx([0.0127, 0.0])
    assert weather.temperature_max == pytest.approx([20.0, NAN], nan_ok=True)
    assert weather.temperature_min == pytest.approx([0.0, 5.0])
    assert weather.series("snow_depth").tolist() == [0.0, 0.0]
    assert weather.series("humidity_mean") == pytest.approx([0.7, 0.6])
    assert weather.series("wind") == pytest.approx([10 * 1609.344 / 3600, NAN], nan_ok=True)
    assert weather.series("solar_mj_m2_day") == pytest.approx([150 * 0.0864, 200 * 0.0864])
    assert weather.series("vapour_actual_kpa") == pytest.approx([1.1, 1.2])


@pytest.mark.law(of=(read_plain,))
def test_the_unit_of_a_column_does_not_matter(tmp_path: Path) -> None:
    inches = read_weather(write(tmp_path, HEAD, "2026-05-01,0.5,68,41", "2026-05-02,0,50,23"))
    for head, first, second in (
        ("date,rain [mm],tmax [degC],tmin [degC]", "12.7,20,5", "0,10,-5"),
        ("date,rain [mm/day],tmax [C],tmin [deg C]", "12.7,20,5", "0,10,-5"),
        ("date,rain [cm],tmax [degF],tmin [degC]", "1.27,68,5", "0,50,-5"),
    ):
        other = read_weather(write(tmp_path, head, f"2026-05-01,{first}", f"2026-05-02,{second}"))
        for name in ("precipitation", "temperature_max", "temperature_min"):
            assert other.weather.series(name) == pytest.approx(inches.weather.series(name))


@pytest.mark.works(of=(read_plain, WeatherChoice))
def test_headings_of_another_file_can_be_said(tmp_path: Path) -> None:
    path = write(tmp_path, "DAY,PREC [in],TX [degF],TN [degF]", "2026-05-01,0.5,68,41")
    names = {"date": "DAY", "rain": "PREC", "tmax": "TX", "tmin": "TN"}
    weather = read_weather(path, WeatherChoice(columns=names)).weather
    assert weather.precipitation == pytest.approx([0.0127])
    assert faults_of(path, columns={**names, "wind": "W"}) == (
        "weather.csv line 1: there is no column 'w'. The columns are day, prec, tx, tn. Name it in "
        "the first row."
    )


@pytest.mark.works(of=(read_plain, read_weather))
def test_faults_of_a_plain_file_are_named_at_once(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD, "5/1/2026,0.5,68,41", "2026-05-02,wet,68,41", "2026-05-32,0,1,0")
    assert faults_of(path).splitlines() == [
        "weather.csv line 2: date '5/1/2026' is not a date, nor are 1 more below it. Write "
        "year-month-day, like 2026-05-14.",
        "weather.csv line 3: rain 'wet' is not a number. Write digits, T for a trace of rain or "
        "snow, or leave it blank where nothing was measured.",
    ]
    assert faults_of(write(tmp_path, "date,rain,tmax [in],tmin [degF]", "2026-05-02,0,1,0")) == (
        "weather.csv line 1: the column 'rain' has no unit. Write it behind the name, like "
        "rain [in].\n"
        "weather.csv line 1: tmax: '1 in' is a length; asked for is a temperature. Write it in "
        "degC or degF."
    )
    assert faults_of(write(tmp_path, "date,rain [in]", "2026-05-02,0")) == (
        "weather.csv: it has no tmax and no tmin in the days that are taken; it has rain. Rain, "
        "tmax and tmin are needed. Check from and to, the station and the columns under [weather]."
    )
    assert faults_of(write(tmp_path, HEAD, "2026-05-01,0.5,41,68", "2026-05-02,0,50,50")) == (
        "weather.csv line 2: tmin 68 on 2026-05-01 is above tmax 41 degF. The lowest cannot lie "
        "above the highest. Correct the day, or blank both."
    )


@pytest.mark.works(of=(read_weather,))
def test_missing_days_stay_open_and_a_span_can_be_taken(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        HEAD,
        "2024-02-27,0.1,40,20",
        "2024-03-01,0.2,40,20",
        "2024-03-02,NA,40,20",
        "1924-03-02,0.9,40,20",
    )
    choice = WeatherChoice(first=datetime.date(2024, 2, 27), last=datetime.date(2024, 3, 1))
    weather = read_weather(path, choice).weather
    assert weather.precipitation / 0.0254 == pytest.approx([0.1, NAN, NAN, 0.2], nan_ok=True)
    assert read_weather(path).weather.days == 36_526


@pytest.mark.works(of=(read_weather,))
def test_a_mistyped_year_is_noticed(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD, "2024-02-27,0.1,40,20", "0224-02-28,0.2,40,20")
    assert faults_of(path) == (
        "weather.csv: it runs from 0224-02-28 to 2024-02-27. Correct the year that is mistyped."
    )


@pytest.mark.works(of=(read_weather, kind_of_weather))
def test_a_kind_that_is_stated_must_be_that_of_the_file(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD, "2026-05-01,0.5,68,41")
    assert faults_of(path, kind="Daymet") == (
        "weather.csv: it is not of the kind 'Daymet' but 'plain'. Leave kind out under [weather], "
        "or name another file."
    )


@pytest.mark.works(of=(read_weather,))
def test_weather_of_another_place_is_told(tmp_path: Path) -> None:
    path = write(tmp_path, *PIXEL, pixel(2025, 1))
    file = read_weather(path, WeatherChoice(latitude_deg=40.0))
    assert file.weather.latitude == pytest.approx(40 * np.pi / 180)
    assert messages(file) == {
        "weather-other-place": "latitude under [weather], 40 deg, is not that of the file, 42.61 "
        "deg. What is typed is used. Check that the file is of the right station."
    }
