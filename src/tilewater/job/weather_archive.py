# SPDX-License-Identifier: Apache-2.0
"""Elements, units and flags of the archive GHCN-Daily, whatever the form of its files.

A value has three flags: how it was measured (T is a trace, P a zero that was presumed), which check
of quality it failed, and where it came from. A value that failed a check is dropped, as the archive
advises. Totals of several days are elements of their own (MDPR over DAPR days).
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from tilewater.job.weather_readings import (
    DEGC,
    DEGF,
    MM,
    PERCENT,
    Column,
    Measure,
    Readings,
    Span,
    measure_of,
    tenths,
)

MISSING = -9999
TRACE, PRESUMED = "T", "P"
STATIONS_SHOWN = 8
AS_GIVEN_OUT = "This form holds tenths of mm and of degC in whole numbers. Get the file anew."

_MINUTES = Measure("minutes", 1.0 / 60.0)
_METRES_PER_SECOND = measure_of("m/s", "velocity")

Units = Mapping[str, tuple[str, Measure]]
_COMMON: Units = {
    "TSUN": ("sunshine_hours", _MINUTES),
    "RHAV": ("humidity_mean", PERCENT),
    "RHMX": ("humidity_max", PERCENT),
    "RHMN": ("humidity_min", PERCENT),
}
_TENTHS: Units = {
    "PRCP": ("precipitation", tenths(MM, "mm")),
    "SNOW": ("snowfall", MM),
    "SNWD": ("snow_depth", MM),
    "TMAX": ("temperature_max", tenths(DEGC, "degC")),
    "TMIN": ("temperature_min", tenths(DEGC, "degC")),
    "AWND": ("wind", tenths(_METRES_PER_SECOND, "m/s")),
    "ADPT": ("dew_point", tenths(DEGC, "degC")),
    **_COMMON,
}
_METRIC: Units = {
    "PRCP": ("precipitation", MM),
    "SNOW": ("snowfall", MM),
    "SNWD": ("snow_depth", MM),
    "TMAX": ("temperature_max", DEGC),
    "TMIN": ("temperature_min", DEGC),
    "AWND": ("wind", _METRES_PER_SECOND),
    "ADPT": ("dew_point", DEGC),
    **_COMMON,
}
_STANDARD: Units = {
    "PRCP": ("precipitation", measure_of("in", "length")),
    "SNOW": ("snowfall", measure_of("in", "length")),
    "SNWD": ("snow_depth", measure_of("in", "length")),
    "TMAX": ("temperature_max", DEGF),
    "TMIN": ("temperature_min", DEGF),
    "AWND": ("wind", measure_of("mph", "velocity")),
    "ADPT": ("dew_point", DEGF),
    **_COMMON,
}
UNITS_ORDERED: Mapping[str, Units] = {"tenths": _TENTHS, "metric": _METRIC, "standard": _STANDARD}
_TOTAL, _TOTAL_DAYS = "MDPR", "DAPR"


class Archive:
    """Takes values with their flags into the readings."""

    def __init__(self, readings: Readings, units: Units, span: Span) -> None:
        self.readings = readings
        self.units = units
        self.days = span.ordinals
        self.total: dict[int, float] = {}
        self.total_days: dict[int, int] = {}

    def wants(self, code: str) -> bool:
        """Whether the element is one that is kept."""
        return code in self.units or code in (_TOTAL, _TOTAL_DAYS)

    def take(self, code: str, day: int, value: float, flags: Sequence[str], line: int) -> None:
        """Keep a value, or count why it is not kept."""
        measured, quality = flags[0], flags[1]
        if day not in self.days:
            return
        if quality:
            self.readings.dropped[code, quality] += 1
            return
        if code == _TOTAL_DAYS:
            self.total_days[day] = int(value)
            return
        if code == _TOTAL:
            self.total[day] = self.units["PRCP"][1](value)
            return
        if measured == TRACE:
            self.readings.traces[code] += 1
            value = 0.0
        elif measured == PRESUMED:
            self.readings.presumed[code] += 1
        element, measure = self.units[code]
        column = self.readings.columns.get(element)
        if column is None:
            column = self.readings.columns[element] = Column(element, code, measure)
        column.add(day, value, line)

    def close(self) -> None:
        """Join the totals of several days with the number of their days."""
        for day, depth in sorted(self.total.items()):
            self.readings.totals.append((day, depth, self.total_days.get(day, 0)))


def chosen_station(readings: Readings, there: Iterable[str], asked: str | None) -> str:
    """Station whose values are taken; "" with a fault where it cannot be told."""
    stations = sorted(set(there))
    shown = ", ".join(stations[:STATIONS_SHOWN])
    if len(stations) > STATIONS_SHOWN:
        shown += f" and {len(stations) - STATIONS_SHOWN} more"
    if asked is not None:
        if asked not in stations:
            message = f"no station '{asked}' is in it. It holds {shown}. Correct station."
            readings.fault(None, "station", message)
            return ""
        readings.station = asked
    elif len(stations) > 1:
        message = (
            f"it holds {len(stations)} stations: {shown}. Choose one under [weather] in job.toml, "
            f'like station = "{stations[0]}".'
        )
        readings.fault(None, "station", message)
        return ""
    elif stations:
        readings.station = stations[0]
    return readings.station


def ordinal_of(text: str) -> int | None:
    """Ordinal of a day written 20260514 or 2026-05-14; None where it is none."""
    try:
        return date.fromisoformat(text).toordinal()
    except ValueError:
        return None


def not_whole(code: str, cell: str, advice: str) -> str:
    """What to say of a value that is no whole number."""
    return f"{code} '{cell}' is not a whole number. {advice}"
