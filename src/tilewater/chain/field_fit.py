# SPDX-License-Identifier: Apache-2.0
"""The soil of a job fitted to its measured drain flow: beside the chain, never part of a design.

The field is run with free drains, since a record is mostly taken before anything is built; what the
job states itself is left alone. Nothing is written here, and no design rests on a fit that is not
typed into the job.
"""

import numpy as np

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.trace import Trace
from tilewater.chain.water import RECORD, RECORD_DAYS
from tilewater.chain.water_field import ENDINGS, FIELD, FIRST_CROP_YEAR, RUN
from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.field import simulate_field
from tilewater.hydrology.field_bounds import bounds_of
from tilewater.hydrology.field_calibration import FREE, FieldFit, FlowDays, fit_soil
from tilewater.hydrology.field_parts import FieldSoil

JOB = "job.toml"


def field_key(slug: str) -> str:
    """Key of the job file that holds a value of the soil, `field.water_capacity`."""
    return f"field.{bounds_of(slug).names[0]}"


def free_values(trace: Trace) -> tuple[str, ...]:
    """Values of the soil that a job leaves to the defaults, by their rows."""
    return tuple(slug for slug in FREE if not _is_stated(trace, slug))


def _is_stated(trace: Trace, slug: str) -> bool:
    name = bounds_of(slug).names[0]
    return any(f"{FIELD}.{name}{ending}" in trace for ending in ("", *ENDINGS.values()))


def fit_field(trace: Trace) -> FieldFit:
    """Fit what a job does not state of its soil to its record of drain flow.

    Parameters
    ----------
    trace : Trace
        The water side of the job. [-]

    Returns
    -------
    FieldFit
        The fit, with each half of the years tried on the other. [-]

    Raises
    ------
    BadInputFile
        If the job has no record, no weather on its days, or states every value.
    OutOfDomain
        If too few years were measured.
    """
    if RECORD not in trace or RECORD_DAYS not in trace:
        raise _refused(
            "drainage.record", "no drain flow was measured. Name a file of it under [drainage]."
        )
    if RUN not in trace or not trace.known(RUN):
        raise _refused(
            "weather.file",
            "the field is not known day by day, so nothing can be fitted to the record. "
            "tilewater water tells what is missing.",
        )
    free = free_values(trace)
    if not free:
        names = ", ".join(field_key(slug).removeprefix("field.") for slug in FREE)
        raise _refused("field", f"{names} are all stated; take out what may be fitted.")
    weather: DailyWeather = trace.value("water.weather")
    flow = _on_days_of(weather, trace.value(RECORD_DAYS), trace.value(RECORD))
    month = weather.dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
    first = int(trace.value(FIRST_CROP_YEAR)) if FIRST_CROP_YEAR in trace else None
    drains, cold = trace.value("water.drains"), trace.value("water.cold")
    rotation = trace.value("water.rotation")
    there = np.flatnonzero(np.isfinite(flow))
    if there.size == 0:
        raise _refused("weather.file", "no day of the weather is a day of the drain flow record.")
    span = slice(int(there[0]), int(there[-1]) + 1)

    def run(soil: FieldSoil) -> Series:
        days = simulate_field(
            weather, soil=soil, drains=drains, cold=cold, rotation=rotation, first_year=first
        )
        return days.drain_flow[span].copy()

    days = FlowDays(flow[span], weather.years[span], month[span])
    return fit_soil(run, days, soil=trace.value("water.soil"), free=free)


def _on_days_of(weather: DailyWeather, day: np.ndarray, flow: Series) -> Series:
    """Measured flow by the days of the weather, nan where there is none."""
    place = (day.astype("datetime64[D]") - np.datetime64(weather.first_day, "D")).astype(np.int64)
    inside = (place >= 0) & (place < weather.days)
    found = np.full(weather.days, np.nan)
    found[place[inside]] = flow[inside]
    return found


def _refused(key: str, message: str) -> BadInputFile:
    return BadInputFile(Fault(JOB, None, key, message))
