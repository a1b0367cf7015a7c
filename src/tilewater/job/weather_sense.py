# SPDX-License-Identifier: Apache-2.0
"""Weather in the wrong unit, noticed by its size.

Inches read as millimetres, tenths as whole degrees, Fahrenheit as Celsius are each off by so much
that no weather of a farmed place explains them. Limits here are of sense, wide enough for any place
where fields are drained; they say nothing about the quality of a record.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.units import join_or
from tilewater.job.flow_record import MANY
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

Values = NDArray[np.float64]
MANY_WET = 20
MANY_DAYS = 30
FEW = 0.1
"""Share of values below which they are wrong by themselves, and the unit of the rest is right."""
MOST_OF_A_YEAR = 300
"""Days of a record that holds a summer and a winter, or nearly."""


@dataclass(frozen=True)
class Whole:
    """What a column as a whole must be like.

    Attributes
    ----------
    of : callable
        The figure, or None where there are too few days for it.
    words : str
        What the figure is.
    low, high : float
        Within which it makes sense, in the unit shown.
    """

    of: Callable[[Values], float | None]
    words: str
    low: float
    high: float


@dataclass(frozen=True)
class Sense:
    """What makes sense for an element: each value, and the column as a whole.

    Attributes
    ----------
    low, high : float
        Of each value, in the unit of the record.
    shown : Measure
        Unit in which limits are told.
    whole : Whole or None
    others : tuple of Measure
        Units that a file may be in without saying so.
    """

    low: float
    high: float
    shown: Measure
    whole: Whole | None
    others: tuple[Measure, ...]


def _wet_mean(values: Values) -> float | None:
    wet = values[values > 0.0]
    return float(wet.mean()) if wet.size >= MANY_WET else None


def _mean(values: Values) -> float | None:
    return float(values.mean()) if values.size >= MANY_DAYS else None


def _mean_of_year(values: Values) -> float | None:
    return float(values.mean()) if values.size >= MOST_OF_A_YEAR else None


def _warmest(values: Values) -> float | None:
    return float(values.max()) if values.size >= MOST_OF_A_YEAR else None


_IN = measure_of("in", "length")
_MPS = measure_of("m/s", "velocity")
_MPH = measure_of("mph", "velocity")
_KMH = measure_of("km/h", "velocity")
_MJ = measure_of("MJ/m2/day", "radiation")
_WATT = measure_of("W/m2", "radiation")
_DEPTHS = (
    MM,
    _IN,
    tenths(MM, "mm"),
    Measure("hundredths of an inch", _IN.factor / 100.0),
    Measure("cm", 0.01),
)
_DEGREES = (DEGC, DEGF, tenths(DEGC, "degC"), Measure("kelvin", 1.0, -273.15))
_SHARES = (PERCENT, Measure("shares of 1", 1.0))
_KPA = Measure("kPa", 1.0)
_PRESSURES = (_KPA, Measure("Pa", 0.001), Measure("hPa", 0.1))

SENSE = {
    "precipitation": Sense(
        0.0, 0.5, MM, Whole(_wet_mean, "mean of the wet days", 0.0012, 0.030), _DEPTHS
    ),
    "temperature_max": Sense(
        -60.0, 57.0, DEGC, Whole(_warmest, "warmest day", 12.0, 57.0), _DEGREES
    ),
    "temperature_min": Sense(
        -70.0, 42.0, DEGC, Whole(_warmest, "warmest night", 8.0, 42.0), _DEGREES
    ),
    "dew_point": Sense(
        -75.0, 36.0, DEGC, Whole(_warmest, "highest dew point", 8.0, 36.0), _DEGREES
    ),
    "wind": Sense(
        0.0,
        45.0,
        _MPS,
        Whole(_mean, "mean wind", 0.7, 9.0),
        (_MPS, _MPH, _KMH, tenths(_MPS, "m/s")),
    ),
    "solar_mj_m2_day": Sense(
        0.0, 45.0, _MJ, Whole(_mean_of_year, "mean radiation", 5.0, 28.0), (_MJ, _WATT)
    ),
    "sunshine_hours": Sense(
        0.0, 24.0, Measure("h", 1.0), None, (Measure("h", 1.0), Measure("minutes", 1.0 / 60.0))
    ),
    "humidity_mean": Sense(0.0, 1.05, PERCENT, Whole(_mean, "mean humidity", 0.1, 1.0), _SHARES),
    "humidity_max": Sense(0.0, 1.05, PERCENT, Whole(_mean, "mean humidity", 0.1, 1.05), _SHARES),
    "humidity_min": Sense(0.0, 1.05, PERCENT, Whole(_mean, "mean humidity", 0.03, 1.0), _SHARES),
    "vapour_actual_kpa": Sense(
        0.0, 6.0, _KPA, Whole(_mean_of_year, "mean vapour pressure", 0.2, 4.0), _PRESSURES
    ),
    "snowfall": Sense(0.0, 2.0, MM, None, _DEPTHS),
    "snow_depth": Sense(0.0, 6.0, MM, None, _DEPTHS),
}


def tell_wrong_units(readings: Readings) -> None:
    """Keep a fault for each column, or each value, whose size makes no sense.

    Parameters
    ----------
    readings : Readings
        What was read; takes the faults.
    """
    for column in readings.columns.values():
        if column.values:
            for line, message in _wrong(column, readings.units_advice):
                readings.fault(line, column.label, message)


def _wrong(column: Column, advice: str) -> Iterator[tuple[int, str]]:
    sense = SENSE[column.element]
    raw = np.array(column.values)
    values = raw * column.measure.factor + column.measure.zero
    is_outside = (values < sense.low) | (values > sense.high)
    whole, figure = sense.whole, _figure(sense, values[~is_outside])
    if whole is not None and figure is not None:
        number = int(np.argmax(np.where(is_outside, -np.inf, raw)))
        yield (
            column.lines[number],
            f"{_reading(column, number)} and the rest do not make sense: the {whole.words} is "
            f"{_in(sense.shown, figure):.3g} {sense.shown.name}, and "
            f"{_range(sense, whole.low, whole.high)}. {_other_units(column, sense, raw)}{advice}",
        )
        return
    outside = np.flatnonzero(is_outside)
    allowed = _range(sense, sense.low, sense.high)
    if outside.size < FEW * raw.size:
        for number in outside[:MANY]:
            reading = f"{_reading(column, int(number))} makes no sense: {allowed}."
            yield column.lines[number], f"{reading} Correct the value, or blank it."
    elif outside.size:
        first = int(outside[0])
        yield (
            column.lines[first],
            f"{_reading(column, first)} and {outside.size - 1} more make no sense: {allowed}. "
            f"{_other_units(column, sense, raw)}{advice}",
        )


def _figure(sense: Sense, values: Values) -> float | None:
    """The figure of a column as a whole where it makes no sense."""
    if sense.whole is None:
        return None
    figure = sense.whole.of(values)
    if figure is None or sense.whole.low <= figure <= sense.whole.high:
        return None
    return figure


def _other_units(column: Column, sense: Sense, raw: Values) -> str:
    """Units in which the whole column would make sense, as a sentence; or nothing."""
    fitting = [
        measure.name
        for measure in sense.others
        if not _is_same(measure, column.measure) and _makes_sense(sense, measure, raw)
    ]
    return f"Read as {join_or(fitting)} it would make sense. " if fitting else ""


def _is_same(one: Measure, other: Measure) -> bool:
    return bool(np.isclose(one.factor, other.factor) and np.isclose(one.zero, other.zero))


def _makes_sense(sense: Sense, measure: Measure, raw: Values) -> bool:
    values = raw * measure.factor + measure.zero
    within = bool(np.all((values >= sense.low) & (values <= sense.high)))
    return within and _figure(sense, values) is None


def _reading(column: Column, number: int) -> str:
    day = date.fromordinal(column.days[number])
    return f"{column.label} {column.values[number]:g} {column.measure.name} on {day}"


def _range(sense: Sense, low: float, high: float) -> str:
    low, high = _in(sense.shown, low), _in(sense.shown, high)
    return f"{low:g} to {high:g} {sense.shown.name} does"


def _in(measure: Measure, value: float) -> float:
    return (value - measure.zero) / measure.factor
