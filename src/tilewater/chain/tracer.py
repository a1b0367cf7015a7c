# SPDX-License-Identifier: Apache-2.0
"""Steps of a tracer test, added onto a finished design: pore volume, curve, every index, the tail.

Left to the job is what was put in and what came out. The water that stands in the bed is that of
the design for the mean flow of the test, its boards and the chips at their age, at 20 degC, where
no wells told it.
"""

from dataclasses import dataclass

from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Origin, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.tracer_parts import (
    above_background,
    mean_over_time,
    pores_of,
    tracer_number,
)
from tilewater.monitoring.tracer import (
    Floats,
    TracerSummary,
    tracer_summary,
    tracer_summary_with_tail,
    tracer_tail,
)
from tilewater.monitoring.tracer_checks import effective_porosity_by_tracer, tracer_findings
from tilewater.practices.bed.life import media_at_age
from tilewater.practices.bed.system import wet_media_volume
from tilewater.practices.bed.system_steps import path_key
from tilewater.practices.rules import same

NUMBERS = (
    ("recovery", "", "-", "Tracer found over tracer put in"),
    ("mean_residence", "_s", "s", "Mean time in the bed"),
    ("nominal_residence", "_s", "s", "Time that pore volume over flow says"),
    ("tanks", "", "-", "Equal tanks in series, from the spread"),
    ("tanks_by_peak", "", "-", "Equal tanks in series, from the peak"),
    ("dispersion_number", "", "-", "Dispersion number"),
    ("peak_time", "_s", "s", "Time of the peak"),
    ("t10", "_s", "s", "A tenth of what was found had left"),
    ("t16", "_s", "s", "16 percent of it had left"),
    ("t50", "_s", "s", "Half of it had left"),
    ("t90", "_s", "s", "Nine tenths of it had left"),
    ("morrill_index", "", "-", "Morrill index t90/t10"),
    ("short_circuit_index", "", "-", "Short-circuit index t16/t50"),
    ("baffle_factor", "", "-", "Baffle factor t10/tn"),
    ("peak_ratio", "", "-", "Peak over nominal time tp/tn"),
    ("effective_volume_ratio", "", "-", "Effective volume ratio e"),
    ("dead_share", "", "-", "Share of the pore volume that takes no part"),
    ("effective_volume_by_volume", "", "-", "Effective volume ratio by water that passed"),
    ("hydraulic_efficiency", "", "-", "Hydraulic efficiency e (1 - 1/N)"),
    ("last_share", "", "-", "Last sample over the peak"),
)
"""Attribute of the summary, what its key ends with, unit, title."""


@dataclass(frozen=True)
class CurveRead:
    """A curve as it stands in its file, in SI; `flow` is None where the file has none."""

    file: str
    time: Floats
    found: Floats
    flow: Floats | None


def add_tracer(trace: Trace, name: str, curve: CurveRead, age_years: float | None) -> None:
    """Record a tracer test and all that it says.

    Parameters
    ----------
    trace : Trace
        Of a finished design. [-]
    name : str
        Of the test. [-]
    curve : CurveRead
        As it stands in its file. [-]
    age_years : float or None
        Of the chips on that day; None where nothing tells it. [years]
    """
    here, given = f"tracer.{name}", f"inputs.tracer.{name}"
    origin = Origin(file=curve.file)
    trace.give(Given(f"{here}.time_s", curve.time, "s", "Times of the samples", origin))
    trace.give(Given(f"{here}.found_kg_per_m3", curve.found, "kg/m3", "As reported", origin))
    trace.compute(
        f"{here}.curve_kg_per_m3",
        above_background,
        unit="kg/m3",
        title="Tracer above the background",
        found=f"{here}.found_kg_per_m3",
        background_mg_per_l=f"{given}.background_mg_per_l",
    )
    _add_flow(trace, here, given, curve, origin)
    _add_pores(trace, here, given, age_years)
    inputs = {
        "time": f"{here}.time_s",
        "concentration": f"{here}.curve_kg_per_m3",
        "flow": f"{here}.flow",
        "mass_injected": f"{given}.mass_kg",
        "pore_volume": f"{here}.pore_volume_m3",
    }
    title = f"Summary of tracer test {name}"
    trace.compute(f"{here}.summary", tracer_summary, unit="", title=title, **inputs)
    _add_numbers(trace, here, here, "")
    trace.compute(
        f"{here}.porosity_shown",
        effective_porosity_by_tracer,
        unit="-",
        title="Effective porosity that the test shows",
        mean_residence=f"{here}.mean_residence_s",
        flow=f"{here}.mean_flow_m3_s",
        wet_volume=f"{here}.wet_volume_m3",
    )
    if not trace.known(f"{here}.summary"):
        return
    summary: TracerSummary = trace.value(f"{here}.summary")
    trace.findings.extend(tracer_findings(summary, name))
    _add_tail(trace, here, inputs, name)


def _add_numbers(trace: Trace, here: str, summary: str, words: str) -> None:
    for attribute, ending, unit, title in NUMBERS:
        named = f"tracer.names.{attribute}"
        if named not in trace:
            trace.constant(named, attribute, "Name of a number of a test", source="derived")
        trace.compute(
            f"{here}.{attribute}{ending}",
            tracer_number,
            unit=unit,
            title=f"{title}{words}",
            summary=f"{summary}.summary",
            name=named,
        )


def _add_flow(trace: Trace, here: str, given: str, curve: CurveRead, origin: Origin) -> None:
    if curve.flow is not None:
        trace.give(Given(f"{here}.flow", curve.flow, "m3/s", "Flow of each sample", origin))
        trace.compute(
            f"{here}.mean_flow_m3_s",
            mean_over_time,
            unit="m3/s",
            title="Mean flow of the test",
            time=f"{here}.time_s",
            values=f"{here}.flow",
        )
        return
    key, title = f"{given}.flow_m3_s", "Flow through the bed in the test"
    if key not in trace or trace.value(key) is None:
        missing = Unknown(
            "the flow of the tracer test is not given",
            f"a column flow in {curve.file}, or flow in the table of the test",
            (f"{here}.flow",),
        )
        trace.give(Given(f"{here}.flow", missing, "m3/s", title))
    else:
        trace.compute(f"{here}.flow", same, unit="m3/s", title=title, value=key)
    trace.compute(
        f"{here}.mean_flow_m3_s", same, unit="m3/s", title="Mean flow", value=f"{here}.flow"
    )


def _add_pores(trace: Trace, here: str, given: str, age_years: float | None) -> None:
    wet, stated = f"{here}.wet_volume_m3", f"{given}.wet_volume_m3"
    title = "Media under water in the test"
    if stated in trace and trace.value(stated) is not None:
        trace.compute(wet, same, unit="m3", title=title, value=stated)
    elif "life.task" not in trace:
        why = "the design has no bed whose wet media could be worked out"
        missing = Unknown(why, "measure the water in wells in the bed", (wet,))
        trace.give(Given(wet, missing, "m3", title))
    else:
        age = trace.constant(
            f"{here}.age_years",
            0.0 if age_years is None else age_years,
            "Age of the chips in the test" + (", taken as new" if age_years is None else ""),
            unit="years",
            source="derived",
        )
        trace.compute(
            f"{here}.media",
            media_at_age,
            unit="",
            title="Media in the test, water of 20 degC",
            task="life.task",
            age=age,
        )
        trace.compute(
            wet,
            wet_media_volume,
            unit="m3",
            title=f"{title}, boards of the design",
            flow=f"{here}.mean_flow_m3_s",
            tailwater="system.free_m",
            path=path_key(),
            shape="bed.shape",
            media=f"{here}.media",
        )
    trace.compute(
        f"{here}.pore_volume_m3",
        pores_of,
        unit="m3",
        title="Water in the wet media",
        wet_volume=wet,
        porosity="inputs.media.porosity_effective",
    )


def _add_tail(trace: Trace, here: str, inputs: dict[str, str], name: str) -> None:
    times, found = trace.value(inputs["time"]), trace.value(inputs["concentration"])
    try:
        tracer_tail(times, found)
    except NoSolution as no_tail:
        trace.findings.append(
            Finding("tracer-no-tail", "note", f"Tracer test {name}", str(no_tail))
        )
        return
    trace.compute(
        f"{here}.tail",
        tracer_tail,
        unit="",
        title="Decline beyond the last sample",
        time=inputs["time"],
        concentration=inputs["concentration"],
    )
    title = f"Summary of tracer test {name}, tail extrapolated"
    trace.compute(
        f"{here}.with_tail.summary",
        tracer_summary_with_tail,
        unit="",
        title=title,
        tail=f"{here}.tail",
        **inputs,
    )
    _add_numbers(trace, f"{here}.with_tail", f"{here}.with_tail", ", tail extrapolated")
