# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to the bed: its depths, its shape and its media by age and water."""

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.hydraulics.media import (
    conductivity_at_age,
    conductivity_at_temperature,
    forchheimer_inertia_ward,
)
from tilewater.practices.bed import capacity
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.cells import add_cells, cell_names
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.size_steps import add_size
from tilewater.practices.rules import difference, same

LEVEL = 0.015
"""Fall of a floor that counts as level. [m]"""
COLD = {
    "spring": "inputs.media.spring_temperature_c",
    "snowmelt": "inputs.frost.melt_temperature_c",
}
"""Water of the lines that are not at the reference temperature."""


def add_depths(trace: Trace) -> None:
    """Record the lowest and the mean floor, and the crests above the mean one."""
    compute = trace.compute
    compute(
        "bed.floor_m",
        lower_of,
        unit="m",
        title="Lowest floor of the bed",
        first="inputs.bed.floor_inlet_m",
        second="inputs.bed.floor_outlet_m",
    )
    compute(
        "bed.floor_mean_m",
        mean_of_two,
        unit="m",
        title="Mean floor of the bed, which the flow is computed over as if level",
        first="inputs.bed.floor_inlet_m",
        second="inputs.bed.floor_outlet_m",
    )
    if trace.known("bed.floor_m", "bed.floor_mean_m"):
        fall = 2 * (float(trace.value("bed.floor_mean_m")) - float(trace.value("bed.floor_m")))
        if fall > LEVEL:
            trace.findings.append(
                Finding(
                    "floor-not-level",
                    "caution",
                    "Floor of the bed",
                    f"The floor falls {feet(fall)}. The flow is computed as over a level "
                    "floor at the mean height; make it level, or take the capacity as an estimate.",
                    value=fall,
                    operator="<=",
                    limit=LEVEL,
                    unit="m",
                    source="derived",
                )
            )
    for structure in ("inlet", "outlet"):
        compute(
            f"bed.depth_{structure}_crest_m",
            difference,
            unit="m",
            title=f"Crest of the {structure} boards above the floor of the bed",
            upper=f"boards.{structure}-{DESIGN}.crest_m",
            lower="bed.floor_mean_m",
        )


def add_shape(trace: Trace) -> None:
    """Record media by age and temperature, the size of the bed and its flow geometry."""
    compute = trace.compute
    for line in ("criterion", "spring", "new"):
        add_media(trace, line)
    add_size(trace)
    compute(
        "bed.length_m",
        capacity.flow_length,
        unit="m",
        title="Flow length, between the middles of the end slopes",
        length_bottom="bed.length_bottom_m",
        side_slope="inputs.bed.side_slope",
        media_depth="inputs.bed.media_depth_m",
    )
    compute(
        "bed.width_mean_m",
        capacity.mean_width,
        unit="m",
        title="Width of the media at half its depth",
        width_bottom="bed.width_bottom_m",
        side_slope="inputs.bed.side_slope",
        media_depth="inputs.bed.media_depth_m",
    )
    if cell_names(trace):
        add_cells(trace)
    else:
        compute(
            "bed.shape",
            BedShape,
            unit="",
            title="The media as water meets it",
            length="bed.length_m",
            width="bed.width_bottom_m",
            side_slope="inputs.bed.side_slope",
            media_depth="inputs.bed.media_depth_m",
        )
    for key, source in (
        ("bed.side_slope", "inputs.bed.side_slope"),
        ("bed.media_depth_m", "inputs.bed.media_depth_m"),
        ("bed.floor_inlet_m", "inputs.bed.floor_inlet_m"),
        ("bed.floor_outlet_m", "inputs.bed.floor_outlet_m"),
    ):
        step = trace.steps[source]
        compute(key, same, unit=step.unit, title=step.title, value=source)


def add_media(trace: Trace, line: str) -> None:
    """Record the media of a line, at its age and temperature."""
    here = f"capacity.{line}"
    age = "inputs.media.design_year"
    if line == "new":
        age = trace.constant(f"{here}.age_new", 0.0, "New media", unit="years", source="derived")
    trace.compute(f"{here}.age_years", same, unit="years", title="Age of the media", value=age)
    trace.compute(
        f"{here}.temperature_c",
        same,
        unit="degC",
        title="Temperature of the water",
        value=COLD.get(line, "inputs.media.reference_temperature_c"),
    )
    trace.compute(
        f"{here}.conductivity_20_m_s",
        conductivity_at_age,
        unit="m/s",
        title="Conductivity of the media at that age, 20 degC",
        conductivity_new="inputs.media.conductivity_new_m_s",
        age_years=f"{here}.age_years",
        conductivity_aged="inputs.media.conductivity_aged_m_s",
        aged_years="inputs.media.aged_years",
    )
    trace.compute(
        f"{here}.conductivity_m_s",
        conductivity_at_temperature,
        unit="m/s",
        title="Conductivity of the media at that age and temperature",
        conductivity=f"{here}.conductivity_20_m_s",
        temperature=f"{here}.temperature_c",
    )
    trace.compute(
        f"{here}.inertia_s2_m2",
        forchheimer_inertia_ward,
        unit="s2/m2",
        title="Inertial coefficient of the media",
        conductivity=f"{here}.conductivity_20_m_s",
        ward_coefficient="inputs.media.ward_coefficient",
    )
    trace.compute(
        f"{here}.media",
        Media,
        unit="",
        title="The media at that age and temperature",
        conductivity=f"{here}.conductivity_m_s",
        inertia=f"{here}.inertia_s2_m2",
    )


def lower_of(first: float, second: float) -> float:
    """Lower of two elevations.

    Parameters
    ----------
    first, second : float
        Elevations. [m]

    Returns
    -------
    float
        The lower. [m]

    Notes
    -----
    z = min(z1, z2)    (derived)

    References
    ----------
    derived, the lower of two
    """
    return min(first, second)


def mean_of_two(first: float, second: float) -> float:
    """Mean of two elevations.

    Parameters
    ----------
    first, second : float
        Elevations. [m]

    Returns
    -------
    float
        Their mean. [m]

    Notes
    -----
    z = (z1 + z2) / 2    (derived)

    References
    ----------
    derived, a mean
    """
    return (first + second) / 2
