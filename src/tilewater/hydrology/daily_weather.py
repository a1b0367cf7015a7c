# SPDX-License-Identifier: Apache-2.0
"""A record of daily weather without gaps, as the computations take it.

Reading files and filling gaps is the business of the doors: here every day has a value or the
whole element is absent.
"""

import datetime
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain

Series = NDArray[np.float64]

SERIES = (
    "precipitation",
    "temperature_max",
    "temperature_min",
    "solar_mj_m2_day",
    "sunshine_hours",
    "vapour_actual_kpa",
    "dew_point",
    "humidity_max",
    "humidity_min",
    "humidity_mean",
    "wind",
)
LARGEST_DAY = 1.5
"""More rain than ever fell in a day: such a record is in another unit. [m]"""
COLDEST, HOTTEST = -70.0, 60.0
"""Temperatures that no place has had. [degC]"""


@dataclass(frozen=True, eq=False)
class DailyWeather:
    """Daily weather of one place, one value a day from the first day on.

    Series are copied and cannot be written to, so that what follows from them may be remembered.

    Attributes
    ----------
    first_day : datetime.date
    latitude : float
        North positive. [rad]
    precipitation : array
        Rain and melted snow of the gauge, as caught. [m]
    temperature_max, temperature_min : array
        [degC]
    elevation : float
        Above the sea. [m]
    solar_mj_m2_day : array or None
        Radiation of the sun at the ground. [MJ/m2/day]
    sunshine_hours : array or None
        Bright sunshine. [h]
    vapour_actual_kpa : array or None
        Mean actual vapour pressure. [kPa]
    dew_point : array or None
        Mean temperature of the dew point. [degC]
    humidity_max, humidity_min, humidity_mean : array or None
        Relative humidity, as shares. [-]
    wind : array or None
        Mean speed at `wind_height`. [m/s]
    wind_height : float
        Of the instrument above the ground. [m]
    """

    first_day: datetime.date
    latitude: float
    precipitation: Series
    temperature_max: Series
    temperature_min: Series
    elevation: float = 0.0
    solar_mj_m2_day: Series | None = None
    sunshine_hours: Series | None = None
    vapour_actual_kpa: Series | None = None
    dew_point: Series | None = None
    humidity_max: Series | None = None
    humidity_min: Series | None = None
    humidity_mean: Series | None = None
    wind: Series | None = None
    wind_height: float = 2.0

    def __post_init__(self) -> None:
        if not abs(self.latitude) <= math.pi / 2.0:
            raise OutOfDomain(
                f"latitude is {self.latitude:g} rad. It lies between the poles. Give it in radians."
            )
        days = self.precipitation.size
        if days == 0:
            raise OutOfDomain("The weather has 0 days. At least one is needed. Give a record.")
        for name in SERIES:
            series = getattr(self, name)
            if series is not None:
                self._require_days(name, series, days)
                own = np.array(series, dtype=np.float64)
                own.flags.writeable = False
                object.__setattr__(self, name, own)
        self._require_within("precipitation", self.precipitation, 0.0, LARGEST_DAY, "m")
        self._require_within("temperature_max", self.temperature_max, COLDEST, HOTTEST, "degC")
        self._require_within("temperature_min", self.temperature_min, COLDEST, HOTTEST, "degC")
        span = self.temperature_max - self.temperature_min
        if not np.all(span >= 0.0):
            day = int(np.argmin(span))
            raise OutOfDomain(
                f"temperature_min is {-span[day]:.3g} degC above temperature_max on "
                f"{self.day(day)}. The lowest cannot lie above the highest. Correct the day."
            )

    @property
    def days(self) -> int:
        """Number of days."""
        return self.precipitation.size

    @property
    def temperature(self) -> Series:
        """Mean temperature of each day, from its extremes. [degC]"""
        mean: Series = 0.5 * (self.temperature_max + self.temperature_min)
        return mean

    @property
    def dates(self) -> NDArray[np.datetime64]:
        """Date of each day."""
        return np.datetime64(self.first_day, "D") + np.arange(self.days)

    @property
    def day_of_year(self) -> Series:
        """Day of each day counted from 1 January, which is 1. [-]"""
        dates = self.dates
        since: Series = (dates - dates.astype("datetime64[Y]")).astype(np.float64)
        return since + 1.0

    @property
    def years(self) -> NDArray[np.int64]:
        """Calendar year of each day."""
        return self.dates.astype("datetime64[Y]").astype(np.int64) + 1970

    def day(self, number: int) -> datetime.date:
        """Date of a day counted from 0."""
        return self.first_day + datetime.timedelta(days=number)

    def number_of(self, date: datetime.date) -> int:
        """Number of a date, counted from 0."""
        number = (date - self.first_day).days
        if not 0 <= number < self.days:
            raise OutOfDomain(
                f"{date} is not in the weather. It runs from {self.first_day} to "
                f"{self.day(self.days - 1)}. Choose a day within."
            )
        return number

    def _require_days(self, name: str, series: Series, days: int) -> None:
        if series.size != days:
            raise OutOfDomain(
                f"{name} has {series.size} days and precipitation {days}. Every element needs one "
                f"value a day. Cut or fill the record."
            )
        missing = np.flatnonzero(~np.isfinite(series))
        if missing.size:
            raise OutOfDomain(
                f"{name} is missing on {missing.size} days, first on {self.day(int(missing[0]))}. "
                f"Every day needs a value. Fill the gaps by a named rule first."
            )

    def _require_within(
        self, name: str, series: Series, low: float, high: float, unit: str
    ) -> None:
        outside = np.flatnonzero((series < low) | (series > high))
        if outside.size:
            day = int(outside[0])
            raise OutOfDomain(
                f"{name} is {series[day]:g} {unit} on {self.day(day)}. It lies between {low:g} and "
                f"{high:g} {unit}. Check the unit of the record."
            )
