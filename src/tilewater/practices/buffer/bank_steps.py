# SPDX-License-Identifier: Apache-2.0
"""Steps of the bank: its height, the gradients, where water comes out, how safely it stands."""

from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.hydraulics.bank_stability import bank_range_findings
from tilewater.hydraulics.seepage_face import narrow_buffer_findings
from tilewater.practices.boards import crest_elevation
from tilewater.practices.buffer import bank
from tilewater.practices.buffer.givens import LINE, SOIL, needed, or_default
from tilewater.practices.rules import difference


def add_bank(trace: Trace) -> None:
    """Record height, gradients, seep and the range of factors of safety."""
    _add_height(trace)
    _add_seep(trace)
    _add_factors(trace)


def _add_height(trace: Trace) -> None:
    for key, title in (
        ("inputs.ditch.bank_top_m", "Top of the bank"),
        ("inputs.ditch.bottom_m", "Bottom of the ditch"),
    ):
        needed(trace, key, title, "m", "shoot it")
    trace.compute(
        "buffer.bank_height_m",
        difference,
        unit="m",
        title="Height of the bank above the bottom of the ditch",
        upper="inputs.ditch.bank_top_m",
        lower="inputs.ditch.bottom_m",
    )


def _add_seep(trace: Trace) -> None:
    compute = trace.compute
    compute(
        "buffer.gradient",
        bank.line_gradient,
        unit="-",
        title="Mean gradient from line to ditch",
        head_line="buffer.head_line_m",
        head_stream="buffer.head_stream_m",
        width="buffer.width_m",
    )
    compute(
        "buffer.seep_height_m",
        bank.seep_height,
        unit="m",
        title="Top of the seepage face above the restrictive layer",
        flow="buffer.flow_m3_s",
        length="buffer.line_length_m",
        head_stream="buffer.head_stream_m",
        soil="buffer.soil",
    )
    compute(
        "buffer.seep_m",
        crest_elevation,
        unit="m",
        title="Elevation up to which water comes out of the bank",
        sill=f"{LINE}.barrier_m",
        height="buffer.seep_height_m",
    )
    _add_exit(trace)
    if trace.known("buffer.head_line_m", "buffer.width_m"):
        trace.findings.extend(
            narrow_buffer_findings(
                float(trace.value("buffer.head_line_m")), width=float(trace.value("buffer.width_m"))
            )
        )


def _add_exit(trace: Trace) -> None:
    compute = trace.compute
    compute(
        "buffer.exit_gradient",
        bank.seep_gradient,
        unit="-",
        title="Mean gradient with which water leaves the bank",
        flow="buffer.flow_m3_s",
        length="buffer.line_length_m",
        seep="buffer.seep_height_m",
        soil="buffer.soil",
    )
    compute(
        "buffer.exit_gradient_limit",
        bank.allowed_gradient,
        unit="-",
        title="A third of the gradient that lifts the soil",
        porosity=or_default(trace, f"{SOIL}.porosity_effective"),
    )
    trace.require(
        Requirement(
            key="buffer.exit",
            title="Gradient with which water leaves the bank",
            value="buffer.exit_gradient",
            operator="<=",
            limit="buffer.exit_gradient_limit",
            unit="-",
            scale=0.3,
            where="bank",
        )
    )


def _add_factors(trace: Trace) -> None:
    slope = needed(trace, f"{LINE}.bank_slope", "Slope of the bank", "-", "shoot it")
    trace.compute(
        "buffer.seep_above_toe_m",
        difference,
        unit="m",
        title="Seep above the bottom of the ditch",
        upper="buffer.seep_m",
        lower="inputs.ditch.bottom_m",
    )
    for end in ("low", "high"):
        trace.compute(
            f"buffer.bank_soil_{end}",
            bank.bank_soil,
            unit="",
            title=f"Strength of the bank, {end}",
            cohesion=or_default(trace, f"{SOIL}.cohesion_{end}_pa"),
            friction_deg=or_default(trace, f"{SOIL}.friction_{end}_deg"),
            density=or_default(trace, f"{SOIL}.unit_weight_kg_per_m3"),
        )
        trace.compute(
            f"buffer.bank_factors_{end}",
            bank.factors_of_safety,
            unit="-",
            title=f"Factors of safety of the bank by simple models, strength {end}",
            soil=f"buffer.bank_soil_{end}",
            height="buffer.bank_height_m",
            slope=slope,
            seep_above_toe="buffer.seep_above_toe_m",
            water_gradient="buffer.gradient",
        )
    both = {end: f"buffer.bank_factors_{end}" for end in ("low", "high")}
    for name, function, words in (
        ("low", bank.least_factor, "Lowest"),
        ("high", bank.largest_factor, "Highest"),
    ):
        trace.compute(
            f"buffer.bank_factor_{name}",
            function,
            unit="-",
            title=f"{words} factor of safety of the bank by simple models",
            **both,
        )
    if trace.known("buffer.bank_factor_low", "buffer.bank_factor_high"):
        trace.findings.extend(
            bank_range_findings(
                float(trace.value("buffer.bank_factor_low")),
                float(trace.value("buffer.bank_factor_high")),
            )
        )
