# SPDX-License-Identifier: Apache-2.0
"""The weather of the other bundled examples is the generator's, of figures that are frozen."""

import numpy as np
import pytest

from tilewater.basis.tables import read_table
from tilewater.hydrology.weather_generator import invented_climate, mean_month_rain
from tilewater.job.weather import read_weather
from tools.sites.weather import MERRIDEW, SORREL, VERLING, Place, drawn, written

INCH = 0.0254
NEAR = 0.3  # in, by which the seed was chosen

every_place = pytest.mark.parametrize(
    ("place", "year"),
    [(MERRIDEW, 40.0), (VERLING, 36.1), (SORREL, 37.1)],
    ids=[place.example for place in (MERRIDEW, VERLING, SORREL)],
)


@pytest.mark.pinned(of=(invented_climate,))
@pytest.mark.parametrize(
    ("county", "digests"),
    [
        ("anselm", ("13372221845f", "40696b87a3ec")),
        ("odell", ("6ccc42b153ae", "f7c9e668790a")),
        ("brandreth", ("bd209349c30a", "dc6c521e8ce1")),
    ],
)
def test_figures_of_the_climates_are_frozen(county: str, digests: tuple[str, str]) -> None:
    rain = read_table("tilewater.hydrology", f"practice_{county}_rain")
    temperature = read_table("tilewater.hydrology", f"practice_{county}_temperature")
    assert (rain.digest, temperature.digest) == digests
    assert "INVENTED" in rain.notes[0]
    assert "INVENTED" in temperature.notes[0]


@pytest.mark.works(of=(written, drawn))
@every_place
def test_file_is_the_one_that_the_tool_writes(place: Place, year: float) -> None:
    weather = drawn(place)
    assert place.file.read_text(encoding="utf-8") == written(place, weather)
    read = read_weather(place.file).weather
    assert (str(read.day[0]), str(read.day[-1])) == ("1996-01-01", "2025-12-31")
    assert read.precipitation.sum() / INCH / 30 == pytest.approx(year, abs=0.6)


@pytest.mark.works(of=(drawn,))
@every_place
def test_seed_is_the_first_whose_mean_year_is_that_of_the_figures(
    place: Place, year: float
) -> None:
    figures = mean_month_rain(invented_climate(place.county).rain).sum() / INCH
    assert figures == pytest.approx(year, abs=0.05)

    def off(seed: int) -> float:
        weather = drawn(Place(place.example, place.county, seed))
        return abs(weather.precipitation.sum() / INCH / 30 - figures)

    assert off(place.seed) < NEAR
    assert all(off(seed) >= NEAR for seed in range(1, place.seed))


@pytest.mark.practice(of=(drawn,))
@every_place
def test_extremes_are_those_of_such_a_place(place: Place, year: float) -> None:
    weather = drawn(place)
    number = weather.day.astype("datetime64[Y]").astype(int)
    depth = np.array([weather.precipitation[number == each].sum() for each in np.unique(number)])
    assert 0.6 * year < depth.min() / INCH < depth.max() / INCH < 1.5 * year
    assert 3.0 < weather.precipitation.max() / INCH < 7.5
    assert 33 < weather.temperature_max.max() < 43
    assert -35 < weather.temperature_min.min() < -16
