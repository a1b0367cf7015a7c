# SPDX-License-Identifier: Apache-2.0
"""Weather as recorded: what it refuses, what is odd about it, and how its gaps are filled."""

import datetime
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydrology.weather import (
    Weather,
    daily_weather,
    mean_annual_precipitation,
    weather_findings,
)
from tilewater.hydrology.weather_gaps import RULES, fill_gaps, missing_days

NAN = float("nan")
START = datetime.date(2023, 1, 1)
INCH = 0.0254


def weather(days: int = 6, **series: Any) -> Weather:
    """Days without rain, 10 degC wide, whose temperature rises by 1 degC a day."""
    warmth = np.arange(float(days))
    usual = {
        "precipitation": np.zeros(days),
        "temperature_max": warmth + 10.0,
        "temperature_min": warmth,
    }
    return Weather(START, **{**usual, **series})


def codes(found: Weather) -> dict[str, str]:
    return {finding.code: finding.message for finding in weather_findings(found)}


def years(count: int, rain: float, **more: Any) -> Weather:
    days = round(count * 365.25)
    return weather(days, precipitation=np.full(days, rain), **more)


def seasons(days: int) -> Any:
    return 10.0 - 15.0 * np.cos(2.0 * np.pi * np.arange(days) / 365.25)


@pytest.mark.works(of=(Weather,))
def test_arrays_cannot_be_written_to_and_are_no_longer_the_callers() -> None:
    rain = np.zeros(6)
    record = weather(precipitation=rain)
    rain[0] = 5.0
    assert record.precipitation[0] == 0.0
    with pytest.raises(ValueError, match="read-only"):
        record.precipitation[0] = 1.0


@pytest.mark.works(of=(Weather,))
def test_calendar_follows_leap_years() -> None:
    leap = Weather(datetime.date(2024, 2, 28), np.zeros(3), np.ones(3), np.zeros(3))
    assert leap.day_of_year.tolist() == [59, 60, 61]
    assert leap.month.tolist() == [2, 2, 3]
    assert [str(day) for day in leap.day] == ["2024-02-28", "2024-02-29", "2024-03-01"]


@pytest.mark.works(of=(Weather,))
@pytest.mark.parametrize(
    ("series", "message"),
    [
        (
            {"wind": np.ones(5)},
            "wind has 5 days and precipitation 6. Every element needs one value a day. Put not a "
            "number on days without one.",
        ),
        (
            {"precipitation": np.array([0, 0, -0.001, 0, 0, 0])},
            "precipitation is -0.001 m on 2023-01-03. Rain is zero or more. Correct the day, or "
            "put not a number there.",
        ),
        (
            {"temperature_min": np.array([0, 1, 2, 16.5, 4, 5])},
            "temperature_min is 3.5 degC above temperature_max on 2023-01-04. The lowest cannot "
            "lie above the highest. Correct the day.",
        ),
        (
            {"dew_point": np.array([0, np.inf, 2, 3, 4, 5])},
            "dew_point is not finite on 2023-01-02. A day has a value or none. Put not a number on "
            "days without one.",
        ),
    ],
)
def test_what_cannot_be_is_refused(series: dict[str, Any], message: str) -> None:
    with pytest.raises(OutOfDomain) as raised:
        weather(**series)
    assert str(raised.value) == message


@pytest.mark.works(of=(daily_weather,))
def test_wind_of_an_unknown_height_is_left_out() -> None:
    record = weather(latitude=0.73, elevation=360.0, wind=np.full(6, 4.0))
    assert daily_weather(record).wind is None
    at_ten = daily_weather(weather(latitude=0.73, wind=np.full(6, 4.0), wind_height=10.0))
    assert at_ten.wind is not None
    assert at_ten.wind_height == 10.0
    assert daily_weather(record).elevation == 360.0


@pytest.mark.works(of=(daily_weather,))
def test_computations_are_refused_days_without_a_value() -> None:
    gap = weather(latitude=0.73, precipitation=[0, NAN, 0, 0, 0, 0])
    with pytest.raises(OutOfDomain, match="missing on 1 days, first on 2023-01-02"):
        daily_weather(gap)
    with pytest.raises(OutOfDomain, match="latitude of the weather is not known"):
        daily_weather(weather())


@pytest.mark.by_hand(of=(mean_annual_precipitation,))
def test_mean_year_is_of_the_recorded_days() -> None:
    record = weather(precipitation=[0.002, NAN, 0.004, 0.0, NAN, 0.0])
    assert mean_annual_precipitation(record) == pytest.approx(0.006 / 4 * 365.25)


@pytest.mark.works(of=(weather_findings,))
def test_an_ordinary_record_has_nothing_to_tell() -> None:
    rain = np.tile([0.0, 0.0, 0.007], 21 * 366 // 3)
    warmth = seasons(rain.size)
    record = weather(
        rain.size, precipitation=rain, temperature_max=warmth + 6, temperature_min=warmth - 6
    )
    assert codes(record) == {}


@pytest.mark.works(of=(weather_findings,))
def test_odd_records_are_told() -> None:
    assert codes(years(21, 0.0065)) == {
        "weather-rain-unusual": "A mean year has 93.5 in of rain; where fields are drained by "
        "pipes it is 12 to 79 in. Check the unit and the place of the record."
    }
    assert codes(weather(61, precipitation=np.full(61, 0.003))) == {
        "weather-few-years": "The weather has 0.2 years; 20 or more show dry and wet years alike. "
        "Means and shares of it may be those of a dry or a wet spell."
    }
    rain = np.full(21 * 366, 0.003)
    rain[100:175] = 0.0
    assert codes(weather(rain.size, precipitation=rain)) == {
        "weather-long-dry": "No rain on 75 days in a row from 2023-04-11. A drought or a gauge "
        "that stuck; compare it with a station nearby."
    }


@pytest.mark.works(of=(weather_findings,))
def test_a_stuck_thermometer_is_told() -> None:
    highest, lowest = np.arange(7700.0) + 10, np.arange(7700.0)
    highest[40:47], lowest[40:47] = 50.0, 40.0
    record = weather(
        7700, precipitation=np.full(7700, 0.002), temperature_max=highest, temperature_min=lowest
    )
    assert codes(record) == {
        "weather-same-temperatures": "The same highest and lowest temperature stand on 7 days in a "
        "row from 2023-02-10. The thermometer stuck, or the days were filled. Blank them in the "
        "file to have them filled by a rule."
    }


@pytest.mark.works(of=(missing_days,))
def test_gaps_are_counted_with_the_longest() -> None:
    record = weather(precipitation=[NAN, 0, NAN, NAN, NAN, 0])
    gap = missing_days(record, "precipitation")
    assert gap is not None
    assert (gap.days, gap.gaps, gap.longest, gap.share) == (4, 2, 3, 4 / 6)
    assert str(gap) == (
        "4 of 6 days (66.67%), in 2 gaps, the longest 2023-01-03 to 2023-01-05 (3 days)"
    )
    assert missing_days(record, "temperature_max") is None
    alone = missing_days(weather(precipitation=[NAN, 0, NAN, 0, 0, 0]), "precipitation")
    assert str(alone) == "2 of 6 days (33.33%), each by itself, the first 2023-01-01"


@pytest.mark.works(of=(fill_gaps,))
def test_nothing_is_filled_without_a_rule() -> None:
    record = weather(precipitation=[0, NAN, 0, 0, 0, 0])
    done = fill_gaps(record, "none")
    assert [each.element for each in done.left] == ["precipitation"]
    assert done.filled == ()
    assert np.isnan(done.weather.precipitation[1])


@pytest.mark.works(of=(fill_gaps,))
def test_zero_rain_fills_rain_alone() -> None:
    record = weather(
        precipitation=[0.01, NAN, 0, 0, 0, 0], temperature_max=[10, 11, NAN, 13, 14, 15]
    )
    done = fill_gaps(record, "zero rain")
    assert done.weather.precipitation.tolist() == [0.01, 0, 0, 0, 0, 0]
    assert [each.element for each in done.left] == ["temperature_max"]
    both = fill_gaps(record, "zero rain", "nearest days")
    assert both.left == ()
    assert both.weather.temperature_max.tolist() == [10, 11, 12, 13, 14, 15]
    assert both.share == 1 / 6
    assert [finding.message for finding in both.findings] == [
        'rain is filled by "zero rain" on 1 of 6 days (16.67%), each by itself, the first '
        "2023-01-02. The rain of those days is lost to the balance.",
        'tmax is filled by "nearest days" on 1 of 6 days (16.67%), each by itself, the first '
        "2023-01-03. Each takes what lies on a straight line between the days beside the gap.",
    ]


@pytest.mark.by_hand(of=(fill_gaps,))
def test_nearest_days_are_joined_by_a_straight_line_and_held_at_the_ends() -> None:
    record = weather(precipitation=[NAN, 0.006, NAN, NAN, 0.0, NAN])
    filled = fill_gaps(record, "nearest days").weather.precipitation
    assert filled == pytest.approx([0.006, 0.006, 0.006 * 2 / 3, 0.006 / 3, 0.0, 0.0])


@pytest.mark.works(of=(fill_gaps,))
def test_nearest_days_do_not_stand_for_long_gaps() -> None:
    rain = np.zeros(10)
    rain[2:8] = NAN
    with pytest.raises(NoSolution) as raised:
        fill_gaps(weather(10, precipitation=rain), "nearest days")
    assert str(raised.value) == (
        "rain has no value from 2023-01-03 to 2023-01-08, 6 days. The nearest days stand for 5 "
        'days in a row at most. Use "mean of the day of year", or begin or end the record beside '
        "the gap."
    )


@pytest.mark.by_hand(of=(fill_gaps,))
def test_mean_of_the_day_of_year_is_that_of_15_days_in_all_years() -> None:
    rain = np.zeros(3 * 365)
    rain[365 + 3 : 365 + 5] = 0.015
    rain[365 + 20] = 0.900
    rain[730] = NAN
    done = fill_gaps(weather(3 * 365, precipitation=rain), "mean of the day of year")
    # 1 January: days 25 to 31 December and 1 to 8 January of three years, less the one missing;
    # the record begins on 1 January 2023, 2024 is a leap year whose day 366 counts with its own
    within = np.isin(np.arange(1, 367), [*range(1, 9), *range(360, 367)])
    day = weather(3 * 365).day_of_year
    there = ~np.isnan(rain)
    assert done.weather.precipitation[730] == pytest.approx(0.030 / np.sum(within[day - 1] & there))


@pytest.mark.works(of=(fill_gaps,))
def test_a_mean_of_a_few_values_is_refused() -> None:
    rain = np.zeros(6)
    rain[3] = NAN
    with pytest.raises(NoSolution) as raised:
        fill_gaps(weather(precipitation=rain), "mean of the day of year")
    assert str(raised.value) == (
        "rain has 5 values within 7 days of day 4 of the year, in all years together. A mean needs "
        "10. Give a longer record."
    )


@pytest.mark.works(of=(fill_gaps,))
def test_what_can_be_done_without_is_left_out_rather_than_made_up() -> None:
    wind = np.array([4.0, NAN, 4.0, 4.0, 4.0, 4.0])
    left = fill_gaps(weather(wind=wind), "none")
    assert left.weather.wind is None
    assert left.left == ()
    assert left.findings[0].message == (
        "wind has no value on 1 of 6 days (16.67%), each by itself, the first 2023-01-02. It is "
        "not used. Name a rule that fills it to use it."
    )
    mostly = np.array([4.0, NAN, NAN, NAN, NAN, 4.0])
    assert fill_gaps(weather(wind=mostly), "nearest days").weather.wind is None
    assert fill_gaps(weather(wind=wind), "nearest days").weather.series("wind")[1] == 4.0


@pytest.mark.works(of=(fill_gaps,))
def test_filled_temperatures_never_turn_round() -> None:
    record = weather(
        temperature_max=[10, 2, 10, 10, 10, 10], temperature_min=[8, NAN, 8, 8, NAN, 8]
    )
    done = fill_gaps(record, "nearest days")
    assert done.weather.temperature_min.tolist() == [8, 2, 8, 8, 8, 8]
    assert done.findings[-1].message == (
        "On 1 filled day the lowest temperature came out above the highest; there the filled one "
        "takes the value of the other."
    )


@pytest.mark.law(of=(fill_gaps,))
@given(
    rule=st.sampled_from(RULES[2:]),
    holes=st.lists(st.integers(0, 799), max_size=40, unique=True),
    seed=st.integers(0, 1000),
)
def test_rules_keep_what_was_recorded_and_stay_within_it(
    rule: Any, holes: list[int], seed: int
) -> None:
    full = np.random.default_rng(seed).exponential(0.005, 800)
    rain = full.copy()
    rain[holes] = NAN
    record = weather(800, precipitation=rain)
    try:
        done = fill_gaps(record, rule)
    except NoSolution:
        gap = missing_days(record, "precipitation")
        assert gap is not None
        assert gap.longest > 5
        return
    there = ~np.isnan(rain)
    filled = done.weather.precipitation
    assert np.array_equal(filled[there], full[there])
    assert filled.min() >= full[there].min()
    assert filled.max() <= full[there].max()
    assert sum(each.days for each in done.filled) == len(holes)
