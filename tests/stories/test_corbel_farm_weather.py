# SPDX-License-Identifier: Apache-2.0
"""The weather of the bundled example is the generator's, and is that of its invented county."""

import numpy as np
import pytest

from tilewater.basis.tables import read_table
from tilewater.hydrology.weather_generator import fennick_climate, mean_month_rain
from tilewater.job.weather import read_weather
from tools.sites.weather import CORBEL, drawn
from tools.sites.weather import written as text_of

INCH = 0.0254
WEATHER = drawn(CORBEL)
YEARS = range(1996 - 1970, 2026 - 1970)
ERRORS = 4.0
"""Standard errors of a mean of thirty years."""


@pytest.mark.works(of=(text_of, drawn))
def test_file_is_the_one_that_the_tool_writes() -> None:
    assert CORBEL.file.read_text(encoding="utf-8") == text_of(CORBEL, WEATHER)


@pytest.mark.pinned(of=(fennick_climate,))
def test_figures_of_the_climate_are_frozen() -> None:
    rain = read_table("tilewater.hydrology", "practice_fennick_rain")
    temperature = read_table("tilewater.hydrology", "practice_fennick_temperature")
    assert (rain.digest, temperature.digest) == ("02d554391841", "b9e8d49aea86")
    assert "INVENTED" in rain.notes[0]
    assert "INVENTED" in temperature.notes[0]


@pytest.mark.works(of=(drawn,))
def test_file_says_what_was_drawn_to_its_last_digit() -> None:
    written = read_weather(CORBEL.file).weather
    assert written.days == WEATHER.days == 10_958
    assert str(written.day[0]) == "1996-01-01"
    assert str(written.day[-1]) == "2025-12-31"
    assert np.abs(written.precipitation - WEATHER.precipitation).max() <= 0.00501 * INCH
    for name in ("temperature_max", "temperature_min"):
        assert np.abs(written.series(name) - WEATHER.series(name)).max() <= 0.501 * 5 / 9


@pytest.mark.practice(of=(drawn,))
def test_mean_year_and_its_spread_are_those_of_such_a_place() -> None:
    year = WEATHER.day.astype("datetime64[Y]").astype(int)
    depth = np.array([WEATHER.precipitation[year == each].sum() for each in np.unique(year)])
    assert depth.size == 30
    assert depth.mean() / INCH == pytest.approx(34.0, abs=0.5)
    assert depth.mean() == pytest.approx(mean_month_rain(fennick_climate().rain).sum(), abs=0.00762)
    assert 3.5 < depth.std(ddof=1) / INCH < 8
    assert 15 < depth.min() / INCH < 27
    assert 41 < depth.max() / INCH < 55


@pytest.mark.practice(of=(drawn,))
def test_months_and_extremes_are_those_of_such_a_place() -> None:
    figures = mean_month_rain(fennick_climate().rain)
    year = WEATHER.day.astype("datetime64[Y]").astype(int)
    months = np.array(
        [
            [
                WEATHER.precipitation[(year == each) & (WEATHER.month == month)].sum()
                for each in YEARS
            ]
            for month in range(1, 13)
        ]
    )
    means = months.mean(axis=1)
    assert np.all(np.abs(means - figures) < ERRORS * months.std(axis=1, ddof=1) / np.sqrt(30))
    assert means[[3, 4, 5]].sum() / means.sum() == pytest.approx(0.375, abs=0.05)
    assert 3.5 < WEATHER.precipitation.max() / INCH < 7
    assert 36 < WEATHER.temperature_max.max() < 42
    assert -38 < WEATHER.temperature_min.min() < -28
    wet = (WEATHER.precipitation > 0).mean() * 365.25
    assert 90 < wet < 115
