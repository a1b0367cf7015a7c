# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what was measured, as loads, percents, their ranges and what they rest on.

Keys are under `monitor.`. `monitor` adds them for arrays alone, `monitor_job` leads up to them from
the loggers of a job.
"""

from dataclasses import fields

from tilewater.basis.trace import Given, Origin, Trace
from tilewater.chain.monitor_parts import (
    closed_by_main,
    drawn_of,
    load_kept,
    nitrate_ready,
    percentile,
    spread_alone,
)
from tilewater.chain.monitor_water_parts import (
    cut_of,
    flow_days_of,
    total_volume_of,
    volume_bypassed,
    volume_treated,
    water_of,
)
from tilewater.monitoring.closure import closure_error_of
from tilewater.monitoring.concentration import METHODS, SUBSTITUTES
from tilewater.monitoring.load_draws import inlet_draws, removed_draws
from tilewater.monitoring.load_uncertainty import MeasurementErrors
from tilewater.monitoring.load_ways import load_by_main, load_into, load_out_of, load_past
from tilewater.monitoring.loads import (
    bed_percent_of,
    load_difference,
    site_percent_of,
    treated_share_of,
)

HERE = "monitor"
RANGED = {
    "removed_kg": ("removed_kg", "kg", "Removed"),
    "total_in_kg": ("total_in_kg", "kg", "Load that came"),
    "bed_in_kg": ("bed_in_kg", "kg", "Load into the practice"),
    "bed_out_kg": ("bed_out_kg", "kg", "Load out of the practice"),
    "bypass_kg": ("bypass_kg", "kg", "Load past the practice"),
    "site_percent": ("site_percent", "%", "Share of the site's load removed"),
    "bed_percent": ("bed_percent", "%", "Share removed of the load into the practice"),
    "treated_share": ("treated_share", "-", "Share of the water treated"),
}
"""Numbers that carry a range: member of the draws, unit, title."""
TAILS = {"p10": 0.1, "p50": 0.5, "p90": 0.9}
ALONE = {
    "flow": "rating of the boards",
    "zero": "zero of the loggers",
    "gaps": "gaps in the flow",
    "laboratory": "laboratory and bottles",
    "sampling": "time between samples, and each bottle",
}
"""Errors that are also shown alone, with their words."""


VOLUMES = {
    "wet_volume_m3": "Mean volume of media under water",
    "chip_volume_m3": "Full volume of the media",
}


def give(trace: Trace, name: str, value: object, unit: str, title: str, note: str = "") -> str:
    """Record something measured, and return its key."""
    key = f"{HERE}.{name}"
    trace.give(Given(key, value, unit, title, Origin(source="" if note else "derived", note=note)))
    return key


def give_errors(trace: Trace, errors: MeasurementErrors) -> None:
    """Record the errors of what was measured, each by itself, and together."""
    titles = {
        "zero_m": "Error of the zero of a logger",
        "laboratory": "Error of a single sample",
        "laboratory_common": "Error common to all samples",
        "storage": "Error by what happens to bottles",
        "sampling": "Error of a load by fewer than four samples",
    }
    names = [field.name for field in fields(errors)]
    for name in names:
        trace.constant(
            f"{HERE}.errors.{name}",
            getattr(errors, name),
            titles.get(name, f"Error of the rated flow, {name.removeprefix('flow_')}"),
            unit="m" if name == "zero_m" else "-",
            source="harmel2006",
        )
    trace.compute(
        f"{HERE}.errors_all",
        MeasurementErrors,
        unit="",
        title="Errors of what was measured",
        **{name: f"{HERE}.errors.{name}" for name in names},
    )


def add_measured(trace: Trace) -> None:
    """Record everything that follows from flows, samples, a period and errors."""
    _add_water(trace)
    _add_samples(trace)
    _add_loads(trace, f"{HERE}.loads", "linear", "half", "")
    _add_percents(trace)
    _add_closure(trace)
    for method, words in METHODS.items():
        if method != "linear":
            _add_loads(trace, f"{HERE}.methods.{method}", method, "half", f": {words}")
    for name in SUBSTITUTES:
        if name != "half":
            _add_loads(
                trace, f"{HERE}.detection.{name}", "linear", name, f", detection limit as {name}"
            )
    _add_ranges(trace)


def _k(name: str) -> str:
    return f"{HERE}.{name}"


def _add_water(trace: Trace) -> None:
    ways = {name: _k(f"logged.{name}") for name in trace.names(_k("logged"))}
    trace.compute(
        _k("water"),
        water_of,
        unit="m3/s",
        title="Flows on one axis of time",
        start_s=_k("start_s"),
        end_s=_k("end_s"),
        **ways,
    )
    for name, function, title in (
        ("treated_m3", volume_treated, "Water through the practice"),
        ("bypass_m3", volume_bypassed, "Water past the practice"),
        ("flow_days", flow_days_of, "Days with water through the practice"),
    ):
        unit = "days" if name == "flow_days" else "m3"
        trace.compute(_k(name), function, unit=unit, title=title, water=_k("water"))
    trace.compute(
        _k("treated_share.value"),
        treated_share_of,
        unit="-",
        title="Share of the water treated",
        treated_m3=_k("treated_m3"),
        bypass_m3=_k("bypass_m3"),
    )


def _add_samples(trace: Trace) -> None:
    for name, share in SUBSTITUTES.items():
        trace.constant(
            _k(f"substitute.{name}"),
            share,
            f"Share of the detection limit put in: {name}",
            unit="-",
            source="practice",
        )
        for place in trace.names(_k("samples")):
            trace.compute(
                _k(f"nitrate.{name}.{place}"),
                nitrate_ready,
                unit="mg/L",
                title=f"Samples made ready, {place}",
                samples=_k(f"samples.{place}"),
                substitute=_k(f"substitute.{name}"),
            )


def place_key(trace: Trace, substitute: str, place: str) -> str:
    """Key of the samples of a place; those of the inlet stand for a bypass not sampled."""
    key = _k(f"nitrate.{substitute}.{place}")
    return key if key in trace else _k(f"nitrate.{substitute}.inlet")


def _add_loads(trace: Trace, here: str, method: str, substitute: str, words: str) -> None:
    trace.constant(_k(f"method.{method}"), method, METHODS[method].capitalize(), source="derived")
    for name, function, title, place in (
        ("bed_in_kg", load_into, "Load into the practice", "inlet"),
        ("bed_out_kg", load_out_of, "Load out of the practice", "outlet"),
        ("bypass_kg", load_past, "Load past the practice", "bypass"),
    ):
        argument = {"inlet": "inlet", "outlet": "outlet", "bypass": "past"}[place]
        trace.compute(
            f"{here}.{name}",
            function,
            unit="kg",
            title=f"{title}{words}",
            water=_k("water"),
            method=_k(f"method.{method}"),
            **{argument: place_key(trace, substitute, place)},
        )
    trace.compute(
        f"{here}.removed_kg",
        load_difference,
        unit="kg",
        title=f"Removed{words}",
        load_in_kg=f"{here}.bed_in_kg",
        load_out_kg=f"{here}.bed_out_kg",
    )
    trace.compute(
        f"{here}.total_in_kg",
        load_kept,
        unit="kg",
        title=f"Load that came{words}",
        bed_in_kg=f"{here}.bed_in_kg",
        bypass_kg=f"{here}.bypass_kg",
    )


def _add_percents(trace: Trace) -> None:
    loads = _k("loads")
    trace.compute(
        _k("site_percent.value"),
        site_percent_of,
        unit="%",
        title="Share of the site's load removed",
        removed_kg=f"{loads}.removed_kg",
        bed_in_kg=f"{loads}.bed_in_kg",
        bypass_kg=f"{loads}.bypass_kg",
    )
    trace.compute(
        _k("bed_percent.value"),
        bed_percent_of,
        unit="%",
        title="Share removed of the load into the practice",
        removed_kg=f"{loads}.removed_kg",
        bed_in_kg=f"{loads}.bed_in_kg",
    )


def _add_closure(trace: Trace) -> None:
    trace.compute(
        _k("closure.cut_m3"),
        cut_of,
        unit="m3",
        title="Water below zero in a difference, cut off",
        water=_k("water"),
    )
    if _k("logged.total") not in trace:
        return
    trace.compute(
        _k("total_m3"),
        total_volume_of,
        unit="m3",
        title="Water that came by the main",
        water=_k("water"),
    )
    trace.compute(
        _k("closure.volume"),
        closure_error_of,
        unit="-",
        title="Closure error of the water",
        total=_k("total_m3"),
        treated=_k("treated_m3"),
        bypass=_k("bypass_m3"),
    )
    trace.compute(
        _k("closure.by_main_kg"),
        load_by_main,
        unit="kg",
        title="Load that came, by the main",
        water=_k("water"),
        inlet=place_key(trace, "half", "inlet"),
        method=_k("method.linear"),
    )
    trace.compute(
        _k("closure.load"),
        closed_by_main,
        unit="-",
        title="Closure error of the load",
        total=_k("closure.by_main_kg"),
        treated=_k("loads.bed_in_kg"),
        bypass=_k("loads.bypass_kg"),
    )


def _add_ranges(trace: Trace) -> None:
    inlet, outlet = place_key(trace, "half", "inlet"), place_key(trace, "half", "outlet")
    trace.compute(
        _k("between.inlet"),
        inlet_draws,
        unit="kg",
        title="Loads of the inlet as the samples leave them open",
        water=_k("water"),
        inlet=inlet,
        past=place_key(trace, "half", "bypass"),
        errors=_k("errors_all"),
    )
    trace.compute(
        _k("between.removed"),
        removed_draws,
        unit="kg",
        title="What was removed as the samples leave it open",
        water=_k("water"),
        inlet=inlet,
        outlet=outlet,
        errors=_k("errors_all"),
    )
    for only in ("", *ALONE):
        _add_draws(trace, only)
    for tail, share in TAILS.items():
        trace.constant(
            _k(f"tails.{tail}"), share, f"Share of the draws below {tail}", source="derived"
        )
    for name, (member, unit, title) in RANGED.items():
        which = trace.constant(_k(f"member.{name}"), member, title, source="derived")
        for tail in TAILS:
            trace.compute(
                _k(f"{name}.{tail}"),
                percentile,
                unit=unit,
                title=f"{title}, {tail}",
                draws=_k("draws.all"),
                member=which,
                share=_k(f"tails.{tail}"),
            )


def _add_draws(trace: Trace, only: str) -> None:
    """Loads as they may have been with one error alone, or with all of them."""
    which = trace.constant(
        _k(f"only.{only or 'all'}"), only, f"Errors drawn: {only or 'all'}", source="derived"
    )
    trace.compute(
        _k(f"draws.{only or 'all'}"),
        drawn_of,
        unit="",
        title=f"Loads as they may have been: {ALONE.get(only, 'every error')}",
        water=_k("water"),
        inlet=_k("between.inlet"),
        removed=_k("between.removed"),
        errors=_k("errors_all"),
        only=which,
    )
    if only:
        trace.compute(
            _k(f"error.{only}_kg"),
            spread_alone,
            unit="kg",
            title=f"Error of what was removed by {ALONE[only]}",
            draws=_k(f"draws.{only}"),
        )
