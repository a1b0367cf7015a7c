# SPDX-License-Identifier: Apache-2.0
"""Daily weather as it was recorded, gaps included, and what is odd about it.

A day without a value is not a number here. `weather_gaps` fills such days by a named rule; what
the computations take is a `daily_weather.DailyWeather`, which has none. Reading files is the
business of the job folder.
"""

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.told import inches
from tilewater.hydrology.daily_weather import DailyWeather, Series

NEEDED = ("precipitation", "temperature_max", "temperature_min")
"""Elements without which no field can be run."""
ADDED = (
    "solar_mj_m2_day",
    "sunshine_hours",
    "vapour_actual_kpa",
    "dew_point",
    "humidity_max",
    "humidity_min",
    "humidity_mean",
    "wind",
)
"""Elements that make the reference evapotranspiration better where they are recorded."""
SNOW = ("snowfall", "snow_depth")
"""Elements to look at; no computation takes them."""
ELEMENTS = (*NEEDED, *ADDED, *SNOW)

FEW_YEARS = 20.0
"""Below this the years of a record hardly show dry and wet ones alike."""
LONG_DRY = 60
"""Days in a row without rain that a stuck gauge explains as well as a drought."""
SAME_DAYS = 6
"""Days in a row with the very same highest and lowest temperature."""
USUAL_YEAR = (0.3, 2.0)
"""Rain of a mean year where fields are drained by pipes. [m]"""


@dataclass(frozen=True, eq=False)
class Weather:
    """Daily weather of one place as recorded; not a number on a day without a value.

    Attributes
    ----------
    first_day : datetime.date
    precipitation : array
        Rain and melted snow of the gauge, as caught. [m]
    temperature_max, temperature_min : array
        [degC]
    latitude : float or None
        North positive. [rad]
    elevation : float or None
        Above the sea. [m]
    wind_height : float or None
        Of the instrument above the ground. [m]
    solar_mj_m2_day, sunshine_hours, vapour_actual_kpa, dew_point, humidity_max, humidity_min, \
humidity_mean, wind : array or None
        As in `DailyWeather`.
    snowfall, snow_depth : array or None
        Fresh snow of the day, snow on the ground. [m]
    """

    first_day: datetime.date
    precipitation: Series
    temperature_max: Series
    temperature_min: Series
    latitude: float | None = None
    elevation: float | None = None
    wind_height: float | None = None
    solar_mj_m2_day: Series | None = None
    sunshine_hours: Series | None = None
    vapour_actual_kpa: Series | None = None
    dew_point: Series | None = None
    humidity_max: Series | None = None
    humidity_min: Series | None = None
    humidity_mean: Series | None = None
    wind: Series | None = None
    snowfall: Series | None = None
    snow_depth: Series | None = None

    def __post_init__(self) -> None:
        days = np.size(self.precipitation)
        if days == 0:
            raise OutOfDomain("The weather has 0 days. At least one is needed. Give a record.")
        for name in ELEMENTS:
            given = getattr(self, name)
            if given is None:
                continue
            series = np.array(given, dtype=np.float64)
            if series.shape != (days,):
                raise OutOfDomain(
                    f"{name} has {series.size} days and precipitation {days}. Every element needs "
                    "one value a day. Put not a number on days without one."
                )
            if np.isinf(series).any():
                raise OutOfDomain(
                    f"{name} is not finite on {self.date(int(np.argmax(np.isinf(series))))}. "
                    "A day has a value or none. Put not a number on days without one."
                )
            series.flags.writeable = False
            object.__setattr__(self, name, series)
        self._require_order()

    @property
    def days(self) -> int:
        """Number of days."""
        return int(self.precipitation.size)

    @property
    def day(self) -> NDArray[np.datetime64]:
        """Date of each day."""
        return np.datetime64(self.first_day, "D") + np.arange(self.days)

    @property
    def day_of_year(self) -> NDArray[np.int64]:
        """Day of each day counted from 1 January, which is 1."""
        day = self.day
        since: NDArray[np.int64] = (day - day.astype("datetime64[Y]")).astype(np.int64)
        return since + 1

    @property
    def month(self) -> NDArray[np.int64]:
        """Month of each day, 1 to 12."""
        return self.day.astype("datetime64[M]").astype(np.int64) % 12 + 1

    @property
    def years(self) -> float:
        """Length of the record in years of 365.25 days."""
        return self.days / 365.25

    @property
    def recorded(self) -> tuple[str, ...]:
        """Names of the elements that the record has."""
        return tuple(name for name in ELEMENTS if getattr(self, name) is not None)

    def series(self, name: str) -> Series:
        """One element by name; `OutOfDomain` where the record has none."""
        series = getattr(self, name) if name in ELEMENTS else None
        if series is None:
            raise OutOfDomain(
                f"The weather has no {name}. It has {', '.join(self.recorded)}. Choose one of them."
            )
        return np.asarray(series)

    def missing(self, name: str) -> NDArray[np.bool_]:
        """Which days of an element have no value."""
        return np.isnan(self.series(name))

    def date(self, number: int) -> datetime.date:
        """Date of a day counted from 0."""
        return self.first_day + datetime.timedelta(days=number)

    def with_series(self, **series: Series | None) -> "Weather":
        """The record with some elements replaced."""
        return replace(self, **series)  # type: ignore[arg-type]  # elements alone

    def _require_order(self) -> None:
        negative = np.flatnonzero(self.precipitation < 0.0)
        if negative.size:
            day = int(negative[0])
            raise OutOfDomain(
                f"precipitation is {self.precipitation[day]:g} m on {self.date(day)}. Rain is zero "
                "or more. Correct the day, or put not a number there."
            )
        turned = np.flatnonzero(self.temperature_min > self.temperature_max)
        if turned.size:
            day = int(turned[0])
            over = self.temperature_min[day] - self.temperature_max[day]
            raise OutOfDomain(
                f"temperature_min is {over:.3g} degC above temperature_max on {self.date(day)}. "
                "The lowest cannot lie above the highest. Correct the day."
            )


def daily_weather(weather: Weather) -> DailyWeather:
    """Weather without gaps, as the computations take it.

    Wind is left out where the height of its instrument is not known.

    Parameters
    ----------
    weather : Weather
        The record, its gaps filled. [-]

    Returns
    -------
    DailyWeather
        The same days. [-]

    Raises
    ------
    OutOfDomain
        If a day has no value or the latitude is not known.
    """
    if weather.latitude is None:
        raise OutOfDomain(
            "The latitude of the weather is not known. The radiation of the sun needs it. "
            "State it with the record."
        )
    added = {name: getattr(weather, name) for name in ADDED}
    if weather.wind_height is None:
        added["wind"] = None
    return DailyWeather(
        first_day=weather.first_day,
        latitude=weather.latitude,
        precipitation=weather.precipitation,
        temperature_max=weather.temperature_max,
        temperature_min=weather.temperature_min,
        elevation=0.0 if weather.elevation is None else weather.elevation,
        wind_height=2.0 if weather.wind_height is None else weather.wind_height,
        **added,
    )


def mean_annual_precipitation(weather: Weather) -> float:
    """Rain and melted snow of a mean year of a record.

    Parameters
    ----------
    weather : Weather
        The record; days without a value count as if they were like the others. [-]

    Returns
    -------
    float
        Depth per year of 365.25 days. [m]

    Raises
    ------
    OutOfDomain
        If no day has a value.

    Notes
    -----
    P = 365.25 x mean(p_i)    (derived)

    References
    ----------
    derived, mean of the recorded days
    """
    rain = weather.precipitation[~weather.missing("precipitation")]
    if rain.size == 0:
        raise OutOfDomain(
            "No day of the weather has rain recorded. At least one is needed. Check the record."
        )
    return float(rain.mean()) * 365.25


def weather_findings(weather: Weather) -> tuple[Finding, ...]:
    """What the engineer must know of a record before a field is run on it.

    Parameters
    ----------
    weather : Weather
        The record, with its gaps or without. [-]

    Returns
    -------
    tuple of Finding
        Few years, an unusual yearly rain, a gauge or a thermometer that may have stuck. [-]
    """
    return (
        *_few_years(weather),
        *_unusual_year(weather),
        *_long_dry(weather),
        *_same_temperatures(weather),
    )


def _few_years(weather: Weather) -> Iterator[Finding]:
    if weather.years < FEW_YEARS:
        yield Finding(
            "weather-few-years",
            "caution",
            "weather",
            f"The weather has {weather.years:.1f} years; {FEW_YEARS:.0f} or more show dry and wet "
            "years alike. Means and shares of it may be those of a dry or a wet spell.",
            value=weather.years,
            operator=">=",
            limit=FEW_YEARS,
            unit="years",
            source="practice",
        )


def _unusual_year(weather: Weather) -> Iterator[Finding]:
    if weather.missing("precipitation").all() or weather.years < 1.0:
        return
    depth = mean_annual_precipitation(weather)
    low, high = USUAL_YEAR
    if not low <= depth <= high:
        yield Finding(
            "weather-rain-unusual",
            "caution",
            "weather",
            f"A mean year has {inches(depth, '.1f')} of rain; where fields are drained by pipes it "
            f"is {inches(low, '.0f', bare=True)} to {inches(high, '.0f')}. "
            "Check the unit and the place of the record.",
            value=depth,
            operator="<=" if depth > high else ">=",
            limit=high if depth > high else low,
            unit="m",
            source="practice",
        )


def _long_dry(weather: Weather) -> Iterator[Finding]:
    runs = [run for run in _runs(weather.precipitation == 0.0) if run[1] - run[0] >= LONG_DRY]
    if runs:
        first, end = max(runs, key=lambda run: run[1] - run[0])
        others = f", the longest of {len(runs)} such times" if len(runs) > 1 else ""
        yield Finding(
            "weather-long-dry",
            "caution",
            "weather",
            f"No rain on {end - first} days in a row from {weather.date(first)}{others}. A drought "
            "or a gauge that stuck; compare it with a station nearby.",
            value=float(end - first),
            operator="<",
            limit=float(LONG_DRY),
            unit="days",
            source="practice",
        )


def _same_temperatures(weather: Weather) -> Iterator[Finding]:
    same = np.zeros(weather.days, dtype=bool)
    same[1:] = (np.diff(weather.temperature_max) == 0) & (np.diff(weather.temperature_min) == 0)
    runs = [run for run in _runs(same) if run[1] - run[0] + 1 >= SAME_DAYS]
    if runs:
        first, end = max(runs, key=lambda run: run[1] - run[0])
        days = end - first + 1
        yield Finding(
            "weather-same-temperatures",
            "caution",
            "weather",
            f"The same highest and lowest temperature stand on {days} days in a row from "
            f"{weather.date(first - 1)}. The thermometer stuck, or the days were filled. Blank "
            "them in the file to have them filled by a rule.",
            value=float(days),
            operator="<",
            limit=float(SAME_DAYS),
            unit="days",
            source="practice",
        )


def _runs(holds: NDArray[np.bool_]) -> Iterator[tuple[int, int]]:
    """First number and the one past the last of each run of days."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], holds.astype(np.int8), [0]))))
    yield from zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)
