# SPDX-License-Identifier: Apache-2.0
"""Invented weather keeps to the figures of its climate and is the same for the same seed.

Bands of the statistics are four standard errors wide, each error worked out from the figures.
"""

import datetime
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.weather import Weather
from tilewater.hydrology.weather_generator import (
    MONTH_DAYS,
    Climate,
    RainClimate,
    fennick_climate,
    invented_weather,
    mean_month_rain,
    mean_wet_day,
    wet_day_share,
)

START = datetime.date(1996, 1, 1)
YEARS = 200
ERRORS = 4.0
"""Standard errors that a right generator stays within but for one case in 16,000."""
CLIMATE = fennick_climate()


@cache
def long_weather() -> Weather:
    return invented_weather(CLIMATE, first_day=START, days=round(YEARS * 365.25), seed=11)


def in_month(number: int) -> NDArray[np.bool_]:
    is_it: NDArray[np.bool_] = long_weather().month == number + 1
    return is_it


@pytest.mark.by_hand(of=(wet_day_share, mean_wet_day, mean_month_rain, fennick_climate))
def test_figures_of_june_worked_by_hand() -> None:
    share = 0.30 / (1 + 0.30 - 0.44)
    depth = 0.5 * 3.2 + 0.5 * 20.4
    assert wet_day_share(CLIMATE.rain)[5] == pytest.approx(share)
    assert mean_wet_day(CLIMATE.rain)[5] == pytest.approx(depth / 1000)
    assert mean_month_rain(CLIMATE.rain)[5] == pytest.approx(30 * share * depth / 1000)


@pytest.mark.works(of=(fennick_climate, mean_month_rain))
def test_a_mean_year_of_the_figures_has_about_34_inches() -> None:
    months = mean_month_rain(CLIMATE.rain)
    assert printed("34") == months.sum() / 0.0254
    assert 0.45 < months[3:7].sum() / months.sum() < 0.55
    assert sum(MONTH_DAYS) == 365.25


@pytest.mark.law(of=(invented_weather,))
def test_same_seed_same_weather_and_another_seed_another() -> None:
    one, same, other = (
        invented_weather(CLIMATE, first_day=START, days=800, seed=seed) for seed in (5, 5, 6)
    )
    for name in ("precipitation", "temperature_max", "temperature_min"):
        assert np.array_equal(one.series(name), same.series(name))
        assert not np.array_equal(one.series(name), other.series(name))


@pytest.mark.law(of=(invented_weather,))
def test_longer_weather_begins_with_the_shorter() -> None:
    short, long = (
        invented_weather(CLIMATE, first_day=START, days=days, seed=5) for days in (400, 900)
    )
    for name in ("precipitation", "temperature_max", "temperature_min"):
        assert np.array_equal(short.series(name), long.series(name)[:400])


@pytest.mark.law(of=(invented_weather,))
@pytest.mark.parametrize("month", range(12))
def test_wet_days_and_their_depth_are_those_of_the_month(month: int) -> None:
    rain = long_weather().precipitation[in_month(month)]
    figures = CLIMATE.rain
    share, kept = (
        wet_day_share(figures)[month],
        figures.wet_after_wet[month] - figures.wet_after_dry[month],
    )
    # days of a chain are worth (1 - r) / (1 + r) of as many days by themselves
    error = np.sqrt(share * (1 - share) / rain.size * (1 + kept) / (1 - kept))
    assert abs((rain > 0).mean() - share) < ERRORS * error
    wet = rain[rain > 0]
    mean = mean_wet_day(figures)[month]
    a, small, large = figures.small_share[month], figures.small[month], figures.large[month]
    variance = 2 * (a * small**2 + (1 - a) * large**2) - mean**2
    assert abs(wet.mean() - mean) < ERRORS * np.sqrt(variance / wet.size)


@pytest.mark.law(of=(invented_weather,))
@pytest.mark.parametrize("month", range(12))
def test_a_wet_day_makes_the_next_as_likely_wet_as_the_figures_say(month: int) -> None:
    wet = long_weather().precipitation > 0
    today = in_month(month)[1:]
    before = wet[:-1]
    for state, chance in (
        (True, CLIMATE.rain.wet_after_wet[month]),
        (False, CLIMATE.rain.wet_after_dry[month]),
    ):
        days = wet[1:][today & (before == state)]
        assert abs(days.mean() - chance) < ERRORS * np.sqrt(chance * (1 - chance) / days.size)


@pytest.mark.law(of=(invented_weather,))
def test_mean_temperature_of_each_month_follows_the_wave() -> None:
    weather = long_weather()
    middle = 0.5 * (weather.temperature_max + weather.temperature_min)
    figures = CLIMATE.temperature
    wave = figures.mean_temperature.at(weather.day_of_year)
    r = figures.carried_over
    for month in range(12):
        days = in_month(month)
        spread = figures.swing.at(weather.day_of_year)[days].mean() * 1.1
        error = spread / np.sqrt(days.sum() * (1 - r) / (1 + r))
        assert abs((middle - wave)[days].mean()) < ERRORS * error


@pytest.mark.law(of=(invented_weather,))
def test_a_swing_of_temperature_is_remembered_the_next_day_as_the_figures_say() -> None:
    weather = long_weather()
    figures = CLIMATE.temperature
    day, wet = weather.day_of_year, weather.precipitation > 0
    middle = 0.5 * (weather.temperature_max + weather.temperature_min)
    share = wet_day_share(CLIMATE.rain)[weather.month - 1]
    usual = figures.mean_temperature.at(day) + (wet - share) * figures.wet_over_dry.at(day)
    swing = (middle - usual) / figures.swing.at(day)
    error = np.sqrt((1 - figures.carried_over**2) / swing.size)
    assert abs(np.corrcoef(swing[1:], swing[:-1])[0, 1] - figures.carried_over) < ERRORS * error
    independent = swing.size * (1 - figures.carried_over) / (1 + figures.carried_over)
    assert abs(swing.mean()) < ERRORS / np.sqrt(independent)
    assert swing.std() == pytest.approx(1.0, abs=ERRORS / np.sqrt(2 * independent))


@pytest.mark.law(of=(invented_weather,))
def test_wet_days_are_milder_in_winter_cooler_in_summer_and_narrower_always() -> None:
    weather = long_weather()
    wet = weather.precipitation > 0
    span = weather.temperature_max - weather.temperature_min
    assert span.min() > 0
    for month, sign in ((0, 1), (6, -1)):
        days = in_month(month)
        middle = 0.5 * (weather.temperature_max + weather.temperature_min)
        assert sign * (middle[days & wet].mean() - middle[days & ~wet].mean()) > 0.5
        assert 2 < span[days & ~wet].mean() - span[days & wet].mean() < 5


@pytest.mark.works(of=(RainClimate, invented_weather, Climate))
def test_figures_that_cannot_be_are_refused() -> None:
    good = CLIMATE.rain
    with pytest.raises(OutOfDomain, match=r"small has 11 figures\. A climate has 12"):
        RainClimate(
            good.wet_after_dry, good.wet_after_wet, good.small_share, good.small[1:], good.large
        )
    with pytest.raises(OutOfDomain, match="wet_after_dry"):
        RainClimate(
            good.wet_after_dry + 1, good.wet_after_wet, good.small_share, good.small, good.large
        )
    with pytest.raises(OutOfDomain, match="days is 0 days"):
        invented_weather(CLIMATE, first_day=START, days=0, seed=1)
