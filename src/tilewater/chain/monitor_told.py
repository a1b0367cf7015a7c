# SPDX-License-Identifier: Apache-2.0
"""Steps behind the loads: rates with their volume, and what a careful reader asks of the record."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.monitor_parts import (
    limited_days_of,
    limited_removed,
    mean_retention,
    quality_of,
)
from tilewater.chain.monitor_steps import HERE, VOLUMES, place_key
from tilewater.chain.monitor_water_parts import left_out_share_of
from tilewater.monitoring.loads import flow_weighted_mean_of
from tilewater.monitoring.quality import lag_found
from tilewater.monitoring.removal_rate import removal_rate_of


def add_told(trace: Trace) -> None:
    """Record rates and the questions to the record."""
    trace.compute(
        _k("left_out_share"),
        left_out_share_of,
        unit="-",
        title="Share of the period that is in no load",
        water=_k("water"),
        start_s=_k("start_s"),
        end_s=_k("end_s"),
    )
    for name, load, title in (
        ("mean_in_mg_per_l", "bed_in_kg", "Nitrate that went in, flow-weighted"),
        ("mean_out_mg_per_l", "bed_out_kg", "Nitrate that came out, flow-weighted"),
    ):
        trace.compute(
            _k(name),
            flow_weighted_mean_of,
            unit="mg/L",
            title=title,
            load_kg=_k(f"loads.{load}"),
            volume_m3=_k("treated_m3"),
        )
    _add_rates(trace)
    _add_quality(trace)
    _add_retention(trace)


def _add_retention(trace: Trace) -> None:
    """Time that water stays, where the porosity is known, and whether it matters to pairs."""
    porosity, inlet = "inputs.media.porosity_effective", _k("nitrate.half.inlet")
    if not trace.known(_k("wet_volume_m3"), porosity, _k("water"), inlet):
        return
    trace.compute(
        _k("retention_s"),
        mean_retention,
        unit="s",
        title="Time that water stays, mean of the time with flow",
        water=_k("water"),
        volume_m3=_k("wet_volume_m3"),
        porosity=porosity,
    )
    if trace.known(_k("retention_s")):
        trace.findings.extend(lag_found(trace.value(inlet), float(trace.value(_k("retention_s")))))


def _k(name: str) -> str:
    return f"{HERE}.{name}"


def _add_rates(trace: Trace) -> None:
    for key, name in (("wet_volume_m3", "wet"), ("chip_volume_m3", "chips")):
        if _k(key) not in trace:
            continue
        trace.compute(
            _k(f"rate.{name}_g_per_m3_day"),
            removal_rate_of,
            unit="g/m3/day",
            title=f"Removal rate on the {VOLUMES[key][0].lower()}{VOLUMES[key][1:]}",
            removed_kg=_k("loads.removed_kg"),
            volume_m3=_k(key),
            days=_k("flow_days"),
        )
    outlet, inlet = place_key(trace, "half", "outlet"), place_key(trace, "half", "inlet")
    trace.compute(
        _k("limited_days"),
        limited_days_of,
        unit="days",
        title="Days on which nitrate ran out",
        water=_k("water"),
        outlet=outlet,
    )
    if _k("wet_volume_m3") in trace and trace.known(_k("limited_days")):
        trace.compute(
            _k("rate.unlimited_g_per_m3_day"),
            limited_removed,
            unit="g/m3/day",
            title="Removal rate on the wet volume, days on which nitrate ran out left out",
            water=_k("water"),
            inlet=inlet,
            outlet=outlet,
            volume_m3=_k("wet_volume_m3"),
        )


def _add_quality(trace: Trace) -> None:
    samples = {place: _k(f"samples.{place}") for place in ("inlet", "outlet")}
    trace.compute(
        _k("quality"),
        quality_of,
        unit="",
        title="What a careful reader asks of the record",
        water=_k("water"),
        errors=_k("errors_all"),
        **samples,
    )
    if trace.known(_k("quality")):
        trace.findings.extend(trace.value(_k("quality")))
    _tell_of_straight_lines(trace)


def _tell_of_straight_lines(trace: Trace) -> None:
    keys = [_k("loads.removed_kg"), _k("removed_kg.p10"), _k("removed_kg.p90")]
    if not trace.known(*keys):
        return
    value, low, high = (float(trace.value(key)) for key in keys)
    if low <= value <= high:
        return
    trace.findings.append(
        Finding(
            "monitor-line-outside",
            "caution",
            "Removed",
            "Straight lines between the samples give a removal outside of the range that flow and "
            "samples leave open. The drop of nitrate follows the flow, and flows between the "
            "samples were others. Lean on the range, and sample storms.",
            value,
            source="derived",
        )
    )
