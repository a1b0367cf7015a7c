# SPDX-License-Identifier: Apache-2.0
"""Weather in the wrong unit is refused by its size, with the unit in which it would make sense."""

import datetime
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import BadInputFile
from tilewater.hydrology.weather import ELEMENTS
from tilewater.hydrology.weather_generator import fennick_climate, invented_weather
from tilewater.job.weather import read_weather
from tilewater.job.weather_readings import (
    DEGC,
    DEGF,
    MM,
    PERCENT,
    Column,
    Measure,
    Readings,
    measure_of,
    tenths,
)
from tilewater.job.weather_sense import SENSE, Sense, tell_wrong_units

FIRST = datetime.date(2001, 1, 1).toordinal()
INCH = measure_of("in", "length")
MPS, MPH = measure_of("m/s", "velocity"), measure_of("mph", "velocity")
MJ, WATT = measure_of("MJ/m2/day", "radiation"), measure_of("W/m2", "radiation")
WEATHER = invented_weather(
    fennick_climate(), first_day=datetime.date(2001, 1, 1), days=1461, seed=3
)
SEASON = -np.cos(2 * np.pi * np.arange(1461) / 365.25)
TRUE = {
    "precipitation": WEATHER.precipitation,
    "temperature_max": WEATHER.temperature_max,
    "temperature_min": WEATHER.temperature_min,
    "wind": 4.0 + 2.0 * np.sin(np.arange(1461.0)),
    "solar_mj_m2_day": 14.0 + 9.0 * SEASON,
    "humidity_mean": 0.7 + 0.1 * SEASON,
    "vapour_actual_kpa": 1.1 + 0.8 * SEASON,
    "dew_point": 5.0 + 13.0 * SEASON,
}
AS_WRITTEN = {
    "precipitation": (MM, INCH, tenths(MM, "mm")),
    "temperature_max": (DEGC, DEGF, tenths(DEGC, "degC")),
    "temperature_min": (DEGC, DEGF, tenths(DEGC, "degC")),
    "wind": (MPS, tenths(MPS, "m/s")),
    "solar_mj_m2_day": (MJ, WATT),
    "humidity_mean": (PERCENT, Measure("shares of 1", 1.0)),
    "vapour_actual_kpa": (Measure("kPa", 1.0), Measure("Pa", 0.001)),
    "dew_point": (DEGC, DEGF, tenths(DEGC, "degC")),
}
MISTAKEN = [
    (element, written, taken)
    for element, units in AS_WRITTEN.items()
    for written in units
    for taken in units
    if written is not taken
]


def readings(element: str, written: Measure, taken: Measure) -> Readings:
    """A true series, written in one unit and taken for another."""
    raw = ((TRUE[element] - written.zero) / written.factor).tolist()
    days = list(range(FIRST, FIRST + len(raw)))
    column = Column(element, "x", taken, days, raw, list(range(2, len(raw) + 2)))
    return Readings("weather.csv", "plain", {element: column})


@pytest.mark.law(of=(tell_wrong_units,))
@pytest.mark.parametrize("element", AS_WRITTEN)
def test_true_weather_makes_sense_in_every_unit(element: str) -> None:
    for unit in AS_WRITTEN[element]:
        told = readings(element, unit, unit)
        tell_wrong_units(told)
        assert told.faults == []


@pytest.mark.law(of=(tell_wrong_units,))
@pytest.mark.parametrize(
    ("element", "written", "taken"),
    MISTAKEN,
    ids=[f"{element}-{one.name}-as-{other.name}" for element, one, other in MISTAKEN],
)
def test_weather_in_another_unit_is_noticed(element: str, written: Measure, taken: Measure) -> None:
    told = readings(element, written, taken)
    tell_wrong_units(told)
    (fault, *_) = told.faults
    asked = fault.message.partition("Read as ")[2].partition(" it would make sense.")[0]
    assert written.name in asked


@pytest.mark.law(of=(Measure, measure_of))
@given(value=st.floats(-500, 500), unit=st.sampled_from((MM, INCH, DEGC, DEGF, MPH, WATT, MJ)))
def test_a_unit_leads_there_and_back(value: float, unit: Measure) -> None:
    assert (unit(value) - unit.zero) / unit.factor == pytest.approx(value, abs=1e-9)


@pytest.mark.works(of=(Sense,))
def test_every_element_has_its_sense() -> None:
    assert set(SENSE) == set(ELEMENTS)


def refused(tmp_path: Path, head: str, rows: list[str]) -> str:
    path = tmp_path / "weather.csv"
    path.write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    with pytest.raises(BadInputFile) as raised:
        read_weather(path)
    return str(raised.value)


@pytest.mark.works(of=(tell_wrong_units,))
def test_inches_named_millimetres_are_refused_with_what_they_may_be(tmp_path: Path) -> None:
    rows = [f"2026-05-{day:02},{0.1 * (day % 7):.1f},20,10" for day in range(1, 32)]
    assert refused(tmp_path, "date,rain [mm],tmax [degC],tmin [degC]", rows) == (
        "weather.csv line 7: rain 0.6 mm on 2026-05-06 and the rest do not make sense: the mean of "
        "the wet days is 0.333 mm, and 1.2 to 30 mm does. Read as in or cm it would make sense. "
        "Correct the unit behind the name of the column, or the values."
    )


@pytest.mark.works(of=(tell_wrong_units,))
def test_fahrenheit_named_celsius_is_refused(tmp_path: Path) -> None:
    rows = [f"2026-07-{day:02},0,{80 + day % 5},50" for day in range(1, 32)]
    assert refused(tmp_path, "date,rain [in],tmax [degC],tmin [degF]", rows) == (
        "weather.csv line 2: tmax 81 degC on 2026-07-01 and 30 more make no sense: -60 to 57 degC "
        "does. Read as degF or tenths of degC it would make sense. Correct the unit behind the "
        "name of the column, or the values."
    )


@pytest.mark.works(of=(tell_wrong_units,))
def test_a_single_wrong_value_is_named_by_itself(tmp_path: Path) -> None:
    rows = [f"2026-07-{day:02},{99.99 if day == 9 else 0.2},80,50" for day in range(1, 32)]
    assert refused(tmp_path, "date,rain [in],tmax [degF],tmin [degF]", rows) == (
        "weather.csv line 10: rain 99.99 in on 2026-07-09 makes no sense: 0 to 500 mm does. "
        "Correct the value, or blank it."
    )
    rows = [f"2026-07-{day:02},0.2,{-99 if day == 9 else 80},-99" for day in range(1, 20)]
    assert refused(tmp_path, "date,rain [in],tmax [degF],tmin [degF]", rows).startswith(
        "weather.csv line 2: tmin -99 degF on 2026-07-01 and 18 more make no sense: -70 to 42 degC "
        "does. "
    )
