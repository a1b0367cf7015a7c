# SPDX-License-Identifier: Apache-2.0
"""What a practice removed, from arrays alone: `analyse`, and what it returns.

The verb adds the same steps to the trace of a design, so that every number it prints opens.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.monitor_steps import (
    HERE,
    RANGED,
    TAILS,
    VOLUMES,
    add_measured,
    give,
    give_errors,
)
from tilewater.chain.monitor_told import add_told
from tilewater.monitoring.load_uncertainty import MeasurementErrors, usual_errors
from tilewater.monitoring.series import Samples, Series
from tilewater.monitoring.stage_flow import FlowRecord, flow_as_measured


@dataclass(frozen=True)
class Ranged:
    """A number with its range: the value by straight lines between samples, P10, P50, P90."""

    value: float
    p10: float
    p50: float
    p90: float


@dataclass(frozen=True)
class Measured:
    """What was measured, as numbers.

    Attributes
    ----------
    trace : Trace
        Every number with its step, under `monitor.`.
    removed_kg, total_in_kg, bed_in_kg, bed_out_kg, bypass_kg : Ranged
        Loads of nitrogen. [kg]
    site_percent, bed_percent : Ranged
        Ratios of loads. [%]
    treated_share : Ranged
        Share of the water. [-]
    closure_error : float or None
        Of the volumes, where all three flows were logged; else None. [-]
    rate_wet_g_per_m3_day, rate_chips_g_per_m3_day : float or None
        On the wet and on the full volume of media. [g/m3/day]
    findings : tuple of Finding
    """

    trace: Trace
    removed_kg: Ranged
    total_in_kg: Ranged
    bed_in_kg: Ranged
    bed_out_kg: Ranged
    bypass_kg: Ranged
    site_percent: Ranged
    bed_percent: Ranged
    treated_share: Ranged
    closure_error: float | None
    rate_wet_g_per_m3_day: float | None
    rate_chips_g_per_m3_day: float | None
    findings: tuple[Finding, ...]


def analyse(
    flows: Mapping[str, FlowRecord | Series],
    samples: Mapping[str, Samples],
    *,
    start_s: float,
    end_s: float,
    errors: MeasurementErrors | None = None,
    wet_volume_m3: float | None = None,
    chip_volume_m3: float | None = None,
) -> Measured:
    """What a practice removed, from arrays alone.

    Parameters
    ----------
    flows : mapping of str to FlowRecord or Series
        "treated", "bypass", "total": treated, or both others. A Series is a flow in m3/s; a stage
        goes through `monitoring.stage_flow.stage_flow` first. [m3/s]
    samples : mapping of str to Samples
        "inlet" and "outlet"; "bypass" where it was sampled by itself. [mg/L]
    start_s, end_s : float
        The period, since 1970-01-01 in universal time. [s]
    errors : MeasurementErrors, optional
        Standard errors; the usual ones where none are given. [-]
    wet_volume_m3, chip_volume_m3 : float, optional
        Mean volume of media under water, and all of it. [m3]

    Returns
    -------
    Measured

    Raises
    ------
    NoSolution
        If flows or samples are too few for any load.
    """
    trace = Trace()
    for name, flow in flows.items():
        record = flow if isinstance(flow, FlowRecord) else flow_as_measured(flow)
        give(trace, f"logged.{name}", record, "m3/s", f"Flow as logged, {name}")
    for place, each in samples.items():
        give(trace, f"samples.{place}", each, "mg/L", f"Samples, {place}")
    give(trace, "start_s", start_s, "s", "Begin of the period")
    give(trace, "end_s", end_s, "s", "End of the period")
    give_errors(trace, errors or usual_errors())
    for key, volume in (("wet_volume_m3", wet_volume_m3), ("chip_volume_m3", chip_volume_m3)):
        if volume is not None:
            give(trace, key, volume, "m3", VOLUMES[key])
    add_measured(trace)
    add_told(trace)
    return measured_of(trace)


def ranged(trace: Trace, name: str) -> Ranged:
    """A number with its range, from the trace."""
    value = f"{HERE}.{name}.value"
    if value not in trace:
        value = f"{HERE}.loads.{name}"
    tails = (trace.value(f"{HERE}.{name}.{tail}") for tail in TAILS)
    return Ranged(*(float(each) for each in (trace.value(value), *tails)))


def measured_of(trace: Trace) -> Measured:
    """Numbers of a trace to which `add_measured` was added."""

    def known(name: str) -> float | None:
        key = f"{HERE}.{name}"
        return float(trace.value(key)) if trace.known(key) else None

    return Measured(
        trace,
        **{name: ranged(trace, name) for name in RANGED},
        closure_error=known("closure.volume"),
        rate_wet_g_per_m3_day=known("rate.wet_g_per_m3_day"),
        rate_chips_g_per_m3_day=known("rate.chips_g_per_m3_day"),
        findings=tuple(dict.fromkeys(trace.findings)),
    )


def is_measured(trace: Trace) -> bool:
    """Whether a trace holds loads with their range."""
    keys = [f"{HERE}.{name}.p50" for name in RANGED]
    keys += [f"{HERE}.{name}.value" for name in ("site_percent", "bed_percent", "treated_share")]
    return all(trace.known(key) for key in keys)
