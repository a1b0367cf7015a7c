# SPDX-License-Identifier: Apache-2.0
"""Invented daily weather, the same for the same seed, from monthly figures of a climate.

For examples and tests: a place that does not exist needs weather that was never measured. It is no
substitute for a record. Its years differ less than real ones do, because nothing in it lasts longer
than some days; its storms have no season of their own within a month.

How a day comes about: whether it is wet depends on the day before (chain of two states); the depth
of a wet day is one of two exponentials; the mean temperature is a yearly wave, warmer or colder on
wet days, plus a swing that remembers the day before; the daily range is another wave, narrower on
wet days. Every random number is made from uniform ones here, so that the weather does not change
with the version of a library.
"""

import datetime
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import require_positive, require_share
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import Table, read_table
from tilewater.hydrology.daily_weather import Series
from tilewater.hydrology.weather import Weather

PACKAGE = "tilewater.hydrology"
YEAR = 365.25
MILLIMETRE = 0.001
MONTH_DAYS = (31.0, 28.25, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0)
"""Mean lengths of the months."""

_WET, _SIZE, _DEPTH, _SWING, _RANGE = range(5)
"""Streams of random numbers, one for each thing that is drawn."""


@dataclass(frozen=True)
class Wave:
    """A quantity that comes and goes with the year.

    Attributes
    ----------
    mean, wave : float
        Mean of the year, and how far it rises above it.
    peak_day : float
        Day of the year on which it is highest.
    """

    mean: float
    wave: float
    peak_day: float

    def at(self, day_of_year: NDArray[np.int64]) -> Series:
        """Value on each day of the year."""
        angle = 2.0 * math.pi * (day_of_year - self.peak_day) / YEAR
        value: Series = self.mean + self.wave * np.cos(angle)
        return value


@dataclass(frozen=True, eq=False)
class RainClimate:
    """How rain falls, month by month from January.

    Attributes
    ----------
    wet_after_dry, wet_after_wet : array of 12
        Chance of a wet day. [-]
    small_share : array of 12
        Share of wet days whose depth is of the small sort. [-]
    small, large : array of 12
        Mean depth of either sort. [m]
    """

    wet_after_dry: Series
    wet_after_wet: Series
    small_share: Series
    small: Series
    large: Series

    def __post_init__(self) -> None:
        for name in ("wet_after_dry", "wet_after_wet", "small_share", "small", "large"):
            figures = np.array(getattr(self, name), dtype=np.float64)
            if figures.shape != (12,):
                raise OutOfDomain(
                    f"{name} has {figures.size} figures. A climate has 12. Give one for each month."
                )
            if name in ("small", "large"):
                require_positive(name, figures, "m", "Give the mean depth of a wet day")
            else:
                require_share(name, figures, "Give a share between 0 and 1")
            figures.flags.writeable = False
            object.__setattr__(self, name, figures)


@dataclass(frozen=True)
class TemperatureClimate:
    """How temperature comes and goes.

    Attributes
    ----------
    mean_temperature, swing : Wave
        Mean of a day, and the standard deviation of days around it. [degC]
    carried_over : float
        Share of the swing that the next day keeps. [-]
    wet_over_dry : Wave
        By how much wet days are warmer than dry ones. [degC]
    range_dry, range_wet : Wave
        Mean of the highest less the lowest of a day. [degC]
    range_spread : float
        Standard deviation of the logarithm of that range. [-]
    """

    mean_temperature: Wave
    swing: Wave
    carried_over: float
    wet_over_dry: Wave
    range_dry: Wave
    range_wet: Wave
    range_spread: float


@dataclass(frozen=True)
class Climate:
    """Figures from which weather is invented.

    Attributes
    ----------
    rain : RainClimate
    temperature : TemperatureClimate
    """

    rain: RainClimate
    temperature: TemperatureClimate


def fennick_climate() -> Climate:
    """Climate of Fennick County, which does not exist.

    Returns
    -------
    Climate
        The invented figures that ship with the program. [-]
    """
    return invented_climate("fennick")


def invented_climate(county: str) -> Climate:
    """Climate of one of the counties of the bundled examples, none of which exists.

    Parameters
    ----------
    county : str
        "fennick", "anselm", "odell" or "brandreth".

    Returns
    -------
    Climate
        The invented figures that ship with the program. [-]
    """
    rain = read_table(PACKAGE, f"practice_{county}_rain")
    temperature = read_table(PACKAGE, f"practice_{county}_temperature")
    return Climate(
        RainClimate(
            wet_after_dry=rain.numbers("wet_after_dry"),
            wet_after_wet=rain.numbers("wet_after_wet"),
            small_share=rain.numbers("small_share"),
            small=rain.numbers("small_mm") * MILLIMETRE,
            large=rain.numbers("large_mm") * MILLIMETRE,
        ),
        TemperatureClimate(
            mean_temperature=_wave(temperature, "mean-temperature"),
            swing=_wave(temperature, "swing"),
            carried_over=_wave(temperature, "carried-over").mean,
            wet_over_dry=_wave(temperature, "wet-over-dry"),
            range_dry=_wave(temperature, "range-dry"),
            range_wet=_wave(temperature, "range-wet"),
            range_spread=_wave(temperature, "range-spread").mean,
        ),
    )


def wet_day_share(rain: RainClimate) -> Series:
    """Share of wet days in the long run, by month.

    Parameters
    ----------
    rain : RainClimate
        The figures. [-]

    Returns
    -------
    array of 12
        Shares. [-]

    Notes
    -----
    w = p01 / (1 + p01 - p11)    (richardson1981)

    References
    ----------
    richardson1981, chain of two states in balance
    """
    share: Series = rain.wet_after_dry / (1.0 + rain.wet_after_dry - rain.wet_after_wet)
    return share


def mean_wet_day(rain: RainClimate) -> Series:
    """Mean depth of a wet day, by month.

    Parameters
    ----------
    rain : RainClimate
        The figures. [-]

    Returns
    -------
    array of 12
        Depths. [m]

    Notes
    -----
    m = a b1 + (1 - a) b2    (woolhiser1982)

    References
    ----------
    woolhiser1982, mixed exponential distribution
    """
    depth: Series = rain.small_share * rain.small + (1.0 - rain.small_share) * rain.large
    return depth


def mean_month_rain(rain: RainClimate) -> Series:
    """Rain of a mean month, from January.

    Parameters
    ----------
    rain : RainClimate
        The figures. [-]

    Returns
    -------
    array of 12
        Depths. [m]

    Notes
    -----
    P = n w m    (derived)

    References
    ----------
    derived, days of the month times share of wet days times their mean depth
    """
    depth: Series = np.array(MONTH_DAYS) * wet_day_share(rain) * mean_wet_day(rain)
    return depth


def invented_weather(
    climate: Climate,
    *,
    first_day: datetime.date,
    days: int,
    seed: int,
    latitude: float | None = None,
    elevation: float | None = None,
) -> Weather:
    """Weather that was never measured.

    A longer one of the same seed and first day begins with the shorter.

    Parameters
    ----------
    climate : Climate
        The figures. [-]
    first_day : datetime.date
        First day.
    days : int
        Number of days. [days]
    seed : int
        Another seed gives other weather of the same climate. [-]
    latitude : float or None
        North positive. [rad]
    elevation : float or None
        Above the sea. [m]

    Returns
    -------
    Weather
        Rain and temperatures. [-]

    Raises
    ------
    OutOfDomain
        If the number of days is not positive.

    Notes
    -----
    wet(i) if u < p01 or p11, by wet(i-1)    (richardson1981)
    depth = -b ln(u), b = b1 with the share a, else b2    (woolhiser1982)
    T = m(d) + (wet - w) c(d) + s(d) z(i), z(i) = r z(i-1) + sqrt(1 - r2) e    (richardson1981)

    Departs from richardson1981: mean and range of a day are drawn in the place of its highest and
    lowest, so that the lowest never lies above the highest.

    References
    ----------
    richardson1981, sec. 2, from memory
    woolhiser1982, mixed exponential distribution
    """
    require_positive("days", float(days), "days", "Ask for at least one day")
    empty = np.zeros(days)
    calendar = Weather(first_day, empty, empty, empty)
    month = calendar.month - 1
    wet = _wet_days(climate.rain, month, seed)
    rain = np.where(wet, _depths(climate.rain, month, seed), 0.0)
    mean, span = _temperatures(climate, calendar.day_of_year, month, wet, seed)
    return Weather(
        first_day,
        rain,
        mean + 0.5 * span,
        mean - 0.5 * span,
        latitude=latitude,
        elevation=elevation,
    )


def _wave(table: Table, slug: str) -> Wave:
    row = table.row(slug)
    return Wave(row.number("mean"), row.number("wave"), row.number("peak_day"))


def _uniform(seed: int, stream: int, days: int, each: int = 1) -> NDArray[np.float64]:
    """Numbers above 0 and up to 1, one row of `each` a day."""
    generator = np.random.Generator(np.random.PCG64([seed, stream]))
    return 1.0 - generator.random((days, each))


def _normal(seed: int, stream: int, days: int) -> Series:
    """Normal numbers by the way of Box and Muller."""
    first, second = _uniform(seed, stream, days, 2).T
    drawn: Series = np.sqrt(-2.0 * np.log(first)) * np.cos(2.0 * math.pi * second)
    return drawn


def _wet_days(rain: RainClimate, month: NDArray[np.int64], seed: int) -> NDArray[np.bool_]:
    chance = _uniform(seed, _WET, month.size)[:, 0].tolist()
    after_dry, after_wet = rain.wet_after_dry.tolist(), rain.wet_after_wet.tolist()
    wet: list[bool] = []
    is_wet = chance[0] <= wet_day_share(rain)[month[0]]
    for drawn, number in zip(chance, month.tolist(), strict=True):
        if wet:
            is_wet = drawn <= (after_wet if is_wet else after_dry)[number]
        wet.append(bool(is_wet))
    return np.array(wet)


def _depths(rain: RainClimate, month: NDArray[np.int64], seed: int) -> Series:
    is_small = _uniform(seed, _SIZE, month.size)[:, 0] <= rain.small_share[month]
    mean = np.where(is_small, rain.small[month], rain.large[month])
    depth: Series = -mean * np.log(_uniform(seed, _DEPTH, month.size)[:, 0])
    return depth


def _temperatures(
    climate: Climate,
    day_of_year: NDArray[np.int64],
    month: NDArray[np.int64],
    wet: NDArray[np.bool_],
    seed: int,
) -> tuple[Series, Series]:
    """Mean and range of each day."""
    figures = climate.temperature
    kept = figures.carried_over
    fresh = math.sqrt(1.0 - kept * kept)
    swing = _normal(seed, _SWING, wet.size).tolist()
    for number in range(1, len(swing)):
        swing[number] = kept * swing[number - 1] + fresh * swing[number]
    shift = (wet - wet_day_share(climate.rain)[month]) * figures.wet_over_dry.at(day_of_year)
    mean = figures.mean_temperature.at(day_of_year) + shift
    mean += figures.swing.at(day_of_year) * np.array(swing)
    spread = figures.range_spread
    usual = np.where(wet, figures.range_wet.at(day_of_year), figures.range_dry.at(day_of_year))
    drawn = _normal(seed, _RANGE, wet.size)
    return mean, usual * np.exp(spread * drawn - 0.5 * spread * spread)
