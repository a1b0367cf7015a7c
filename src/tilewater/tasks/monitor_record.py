# SPDX-License-Identifier: Apache-2.0
"""The report of a measured practice as other programs read it: SI with the unit in each name."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.basis.units import from_si
from tilewater.chain.monitor_steps import ALONE, HERE, RANGED, TAILS
from tilewater.chain.plain import Record, plain
from tilewater.documents.measured.chart import daily
from tilewater.documents.words import Words
from tilewater.monitoring.concentration import METHODS, SUBSTITUTES, Nitrate
from tilewater.monitoring.intervals import Interval
from tilewater.monitoring.series import DAY, Floats

ALONE_NUMBERS = (
    "flow_days",
    "treated_m3",
    "bypass_m3",
    "total_m3",
    "wet_volume_m3",
    "chip_volume_m3",
    "left_out_share",
    "mean_in_mg_per_l",
    "mean_out_mg_per_l",
    "limited_days",
    "retention_s",
    "average_of_percents",
)
LOADS = ("total_in_kg", "bed_in_kg", "bed_out_kg", "bypass_kg", "removed_kg")


def monitor_record(trace: Trace, version: str, job: str) -> Record:
    """Everything that was worked out of the measurements, by the keys that `--explain` opens.

    Parameters
    ----------
    trace : Trace
        Of the design, with the steps of `chain.monitor_steps`.
    version, job : str
        Of the program; name of the job.

    Returns
    -------
    dict
        A value that is not known is None.
    """

    def of(name: str) -> Any:
        key = f"{HERE}.{name}"
        return plain(trace, key) if key in trace else None

    monitor: Record = {
        "from": moment(float(trace.value(f"{HERE}.start_s"))),
        "to": moment(float(trace.value(f"{HERE}.end_s"))),
        **{name: of(name) for name in ALONE_NUMBERS},
        "loads": {name: of(f"loads.{name}") for name in LOADS},
        "methods": {
            method: {name: of(f"methods.{method}.{name}") for name in LOADS}
            for method in METHODS
            if method != "linear"
        },
        "detection": {
            name: {load: of(f"detection.{name}.{load}") for load in LOADS}
            for name in SUBSTITUTES
            if name != "half"
        },
        "closure": {name: of(f"closure.{name}") for name in ("volume", "load", "cut_m3")},
        "error": {f"{name}_kg": of(f"error.{name}_kg") for name in ALONE},
        "rate": {
            name: of(f"rate.{name}")
            for name in ("wet_g_per_m3_day", "chips_g_per_m3_day", "unlimited_g_per_m3_day")
        },
        "index": {
            name: of(f"index.{name}")
            for name in ("first_m_s", "per_year", "per_year_p10", "per_year_p90")
        },
        "year": {
            "is_representative": of("year.is_representative"),
            "flow_days": {
                "measured": of("year.flow_days.measured"),
                "usual": of("year.flow_days.usual"),
            },
            "rain_m": {"measured": of("year.rain_m.measured"), "usual": of("year.rain_m.usual")},
        },
        "against": {
            name: of(f"against.{name}") for name in ("site_percent", "bed_percent", "treated_share")
        },
        "update": {place: of(f"update.posterior.{place}") for place in ("low", "mid", "high")},
    }
    for name in RANGED:
        tails = ("value", *TAILS) if f"{HERE}.{name}.value" in trace else tuple(TAILS)
        monitor[name] = {tail: of(f"{name}.{tail}") for tail in tails}
    rows = trace.value(f"{HERE}.intervals") if trace.known(f"{HERE}.intervals") else ()
    return {
        "tilewater": version,
        "job": job,
        "monitor": monitor,
        "intervals": [_row(each) for each in rows],
    }


def moment(time_s: float) -> str:
    """A time in universal time, to the minute."""
    return datetime.fromtimestamp(time_s, UTC).strftime("%Y-%m-%dT%H:%MZ")


def _row(each: Interval) -> Record:
    numbers = {
        name: float(value) if np.isfinite(value) else None
        for name, value in vars(each).items()
        if name not in ("start_s", "end_s")
    }
    return {"from": moment(each.start_s), "to": moment(each.end_s)} | numbers


def charted(trace: Trace, words: Words) -> Record:
    """Flow by the day and the samples, in the units of a reader: what a page draws.

    Parameters
    ----------
    trace : Trace
        With the steps of the report.
    words : Words
        Units of the reader.

    Returns
    -------
    dict
        Days since 1970-01-01, and a value or None for each of them.
    """
    water = trace.value(f"{HERE}.water")
    day, through = daily(water, water.treated.flow)
    _, past = daily(water, water.bypass.flow)
    unit = words.say(1.0, "flow").rpartition(" ")[2]
    flows = (("through", "through the practice", through), ("past", "past it", past))
    samples = [
        (place, title, _by_day(trace.value(f"{HERE}.nitrate.half.{place}"), day))
        for place, title in (("inlet", "filled: in"), ("outlet", "open: out"))
    ]
    return {
        "day": [int(each) for each in day],
        "groups": [
            {
                "title": "Flow, mean of the day",
                "unit": unit,
                "dots": False,
                "series": [_named(n, t, v, lambda x: from_si(x, unit), 4) for n, t, v in flows],
            },
            {
                "title": "Nitrate of the samples",
                "unit": "mg/L",
                "dots": True,
                "series": [_named(n, t, v, float, 2) for n, t, v in samples],
            },
        ],
    }


def _named(
    name: str, title: str, values: Floats, of: Callable[[float], float], digits: int
) -> Record:
    said = [round(float(of(float(v))), digits) if np.isfinite(v) else None for v in values]
    return {"name": name, "title": title, "values": said}


def _by_day(samples: Nitrate, day: Floats) -> Floats:
    """Samples on the days of the record; NaN on the others."""
    values = np.full(day.size, np.nan)
    at = np.searchsorted(day, np.floor(samples.time_s / DAY))
    inside = (at < day.size) & (samples.time_s >= day[0] * DAY)
    values[at[inside]] = samples.mg_per_l[inside]
    return values
