# SPDX-License-Identifier: Apache-2.0
"""Numbers of a measured time beside other years, and of the trend of flow over head drop."""

import datetime

import numpy as np
from numpy.typing import NDArray

from tilewater.monitoring.conductivity_index import IndexDays, Trend, index_of_days
from tilewater.monitoring.series import DAY, Floats, Series
from tilewater.monitoring.water_record import WaterRecord
from tilewater.monitoring.year_kind import YearKind, kind_of_year

EPOCH = datetime.date(1970, 1, 1).toordinal()
LEAST_FLOW = 1e-6
"""Flow below which a day counts as dry: a hundredth of a gallon a minute. [m3/s]"""
DRY = ("less than usual", "as usual", "more than usual")
Days = NDArray[np.int64]


def days_like_these(day: Days, start_s: float, end_s: float) -> Days:
    """Rows of a long record that hold the same days of the year as a measured time.

    Parameters
    ----------
    day : array
        Days of the long record. [days]
    start_s : float
        Begin of the measured time. [s]
    end_s : float
        Its end. [s]

    Returns
    -------
    array
        One row for each whole stretch of the long record, as rows of it. [days]

    Notes
    -----
    the same month and day, in every year that holds the whole stretch    (derived)

    References
    ----------
    derived, the same days of the year
    """
    first = datetime.date.fromordinal(EPOCH + int(start_s // DAY))
    length = max(round((end_s - start_s) / DAY), 1)
    begin = [
        int(np.searchsorted(day, datetime.date(year, first.month, min(first.day, 28)).toordinal()))
        for year in range(
            datetime.date.fromordinal(int(day[0])).year,
            datetime.date.fromordinal(int(day[-1])).year + 1,
        )
        if datetime.date(year, first.month, min(first.day, 28)).toordinal() >= day[0]
    ]
    rows = [start + np.arange(length) for start in begin if start + length <= day.size]
    return np.asarray(rows, np.int64).reshape(len(rows), length)


def flow_of_years(flow: Floats, days: Days) -> Floats:
    """Days with flow in each year's same days.

    Parameters
    ----------
    flow : array
        Of each day of the long record. [m3/s]
    days : array
        Rows of it, one row for each year. [days]

    Returns
    -------
    array
        One number for each year. [days]

    Notes
    -----
    count of days with Q > 1e-6 m3/s    (derived)

    References
    ----------
    derived, a count
    """
    return np.asarray(np.sum(flow[days] > LEAST_FLOW, axis=1), np.float64)


def rain_of_years(precipitation: Floats, days: Days) -> Floats:
    """Rain of each year's same days.

    Parameters
    ----------
    precipitation : array
        Of each day of the long record. [m]
    days : array
        Rows of it, one row for each year. [days]

    Returns
    -------
    array
        One depth for each year. [m]

    Notes
    -----
    P = sum of the days    (derived)

    References
    ----------
    derived, a sum
    """
    return np.asarray(np.sum(precipitation[days], axis=1), np.float64)


def flow_days_measured(water: WaterRecord, midnights_s: Floats) -> float:
    """Days with flow in the measured time.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    midnights_s : array
        Begin of each day by the clocks on site, ascending. [s]

    Returns
    -------
    float
        Days whose mean flow by both ways is above 1e-6 m3/s. [days]

    Notes
    -----
    count of days with Q > 1e-6 m3/s    (derived)

    References
    ----------
    derived, a count
    """
    both = np.nan_to_num(water.treated.flow + water.bypass.flow)
    which = np.searchsorted(midnights_s, water.time_s, side="right")
    volume = np.bincount(which, both * water.step_s)
    return float(np.sum(volume > LEAST_FLOW * DAY))


def rain_measured(rain: Series, start_s: float, end_s: float) -> float:
    """Rain of the measured time.

    Parameters
    ----------
    rain : Series
        Since the reading before. [m]
    start_s : float
        Begin. [s]
    end_s : float
        End. [s]

    Returns
    -------
    float
        Depth. [m]

    Notes
    -----
    P = sum of the readings    (derived)

    References
    ----------
    derived, a sum
    """
    return float(np.nansum(rain.between(start_s, end_s).value))


def year_kind(measured: float, others: Floats) -> YearKind:
    """A measured time among the same days of other years.

    Parameters
    ----------
    measured : float
        Rain, or days with flow. [-]
    others : array
        The same of other years. [-]

    Returns
    -------
    YearKind

    Notes
    -----
    rank = share of years below    (derived)

    References
    ----------
    derived, a rank
    """
    return kind_of_year(measured, others, DRY)


def usual_of(kind: YearKind) -> float:
    """Middle of the other years.

    Parameters
    ----------
    kind : YearKind
        Of the measured time. [-]

    Returns
    -------
    float
        In the unit of what was measured. [-]
    """
    return kind.usual


def is_usual(measured: float, low: float, high: float) -> str:
    """Where a measured number lies in the range that was designed for.

    Parameters
    ----------
    measured : float
        As measured. [-]
    low : float
        P10 of the design. [-]
    high : float
        P90 of the design. [-]

    Returns
    -------
    str
        inside, below or above.

    Notes
    -----
    P10 <= x <= P90    (derived)

    References
    ----------
    derived, a comparison
    """
    return "below" if measured < low else "above" if measured > high else "inside"


def index_days(
    water: WaterRecord,
    level_inlet: Series,
    level_outlet: Series,
    temperature: Series,
    floor: float,
    length: float,
    width: float,
    side_slope: float,
    media_depth: float,
) -> IndexDays:
    """Flow per wet section and gradient of each day, brought to 20 C.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    level_inlet : Series
        Elevation of the pool above the bed. [m]
    level_outlet : Series
        Elevation of the pool below it. [m]
    temperature : Series
        Of the water. [degC]
    floor : float
        Elevation of the floor of the bed. [m]
    length : float
        Flow length. [m]
    width : float
        Width of the floor. [m]
    side_slope : float
        Of the sides, horizontal to vertical. [-]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    IndexDays
        See `monitoring.conductivity_index.index_of_days`. [m/s]

    Notes
    -----
    I = Q L / (A dh) * mu(T) / mu(20 C)    (derived)

    References
    ----------
    derived, conductivity goes as one over the viscosity
    """
    upper, lower, warm = (
        _on(series, water.time_s) for series in (level_inlet, level_outlet, temperature)
    )
    depth = np.clip(0.5 * (upper + lower) - floor, 0.01, media_depth)
    flow = np.where(water.treated.filled, 0.0, np.nan_to_num(water.treated.flow))
    section = width * depth + side_slope * depth**2
    return index_of_days(water.time_s, flow, upper - lower, warm, section, length, 0.5)


def trend_per_year(trend: Trend) -> float:
    """Trend of flow per wet section and gradient.

    Parameters
    ----------
    trend : Trend
        Of its logarithm. [1/year]

    Returns
    -------
    float
        A share per year. [1/year]
    """
    return trend.per_year


def trend_low(trend: Trend) -> float:
    """Trend of flow per wet section and gradient, P10.

    Parameters
    ----------
    trend : Trend
        Of its logarithm. [1/year]

    Returns
    -------
    float
        A share per year. [1/year]
    """
    return trend.low


def trend_high(trend: Trend) -> float:
    """Trend of flow per wet section and gradient, P90.

    Parameters
    ----------
    trend : Trend
        Of its logarithm. [1/year]

    Returns
    -------
    float
        A share per year. [1/year]
    """
    return trend.high


def trend_first(trend: Trend) -> float:
    """Flow per wet section and gradient at the beginning of the record.

    Parameters
    ----------
    trend : Trend
        Of its logarithm. [1/year]

    Returns
    -------
    float
        At 20 C. [m/s]
    """
    return trend.first


def _on(series: Series, time_s: Floats) -> Floats:
    """A series on another axis of time; NaN beyond its ends, and where it is NaN."""
    return np.asarray(np.interp(time_s, series.time_s, series.value, np.nan, np.nan))
