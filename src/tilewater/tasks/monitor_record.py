# SPDX-License-Identifier: Apache-2.0
"""The report of a measured practice as other programs read it: SI with the unit in each name."""

from datetime import UTC, datetime
from typing import Any

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.chain.monitor_steps import ALONE, HERE, RANGED, TAILS
from tilewater.chain.plain import Record, plain
from tilewater.monitoring.concentration import METHODS, SUBSTITUTES
from tilewater.monitoring.intervals import Interval

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
        "flow_days": of("flow_days"),
        "treated_m3": of("treated_m3"),
        "bypass_m3": of("bypass_m3"),
        "total_m3": of("total_m3"),
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
        "wet_volume_m3": of("wet_volume_m3"),
        "chip_volume_m3": of("chip_volume_m3"),
        "limited_days": of("limited_days"),
        "average_of_percents": of("average_of_percents"),
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
