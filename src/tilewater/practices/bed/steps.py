# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to the bed: its shape and its three capacity lines."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.hydraulics.media import (
    bed_wet_volume,
    conductivity_at_age,
    conductivity_at_temperature,
    forchheimer_inertia_ward,
)
from tilewater.practices.bed import capacity
from tilewater.practices.bed.capacity import BedShape, Media, OutletBoards
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.size_steps import add_size
from tilewater.practices.rules import difference, same

LEVEL = 0.015
"""Fall of a floor that counts as level. [m]"""


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
                    f"The floor falls {fall / 0.3048:.2f} ft. The flow is computed as over a level "
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
    compute(
        "bed.outlet_boards",
        OutletBoards,
        unit="",
        title="Outlet boards as the bed feels them",
        crest_depth="bed.depth_outlet_crest_m",
        crest_width="inputs.structure.outlet.crest_width_m",
    )


def add_shape(trace: Trace) -> None:
    """Record media by age and temperature, the size of the bed and its flow geometry."""
    compute = trace.compute
    for line in ("criterion", "spring", "new"):
        _add_media(trace, line)
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


def _add_media(trace: Trace, line: str) -> None:
    here = f"capacity.{line}"
    age = "inputs.media.design_year"
    if line == "new":
        age = trace.constant(f"{here}.age_new", 0.0, "New media", unit="years", source="derived")
    temperature = "spring" if line == "spring" else "reference"
    trace.compute(f"{here}.age_years", same, unit="years", title="Age of the media", value=age)
    trace.compute(
        f"{here}.temperature_c",
        same,
        unit="degC",
        title="Temperature of the water",
        value=f"inputs.media.{temperature}_temperature_c",
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


def add_capacity(trace: Trace) -> None:
    """Record the criterion line, the spring line and the line of new media."""
    compute = trace.compute
    for line in ("criterion", "new"):
        here = f"capacity.{line}"
        compute(
            f"{here}.depth_upstream_m",
            same,
            unit="m",
            title="Water at the inlet end, at the bypass crest",
            value="bed.depth_inlet_crest_m",
        )
        _add_line(trace, line)
    compute(
        "capacity.spring.bypass_head_m",
        capacity.bypass_head_in_balance,
        unit="m",
        title="Head over the bypass boards, main full",
        inflow="drain_flow.candidates_m3_s.main_full",
        crest_depth="bed.depth_inlet_crest_m",
        crest_width="inputs.structure.inlet.crest_width_m",
        shape="bed.shape",
        media="capacity.spring.media",
        outlet="bed.outlet_boards",
    )
    compute(
        "capacity.spring.depth_upstream_m",
        sum_of_two,
        unit="m",
        title="Water at the inlet end, main full",
        first="bed.depth_inlet_crest_m",
        second="capacity.spring.bypass_head_m",
    )
    _add_line(trace, "spring")


def _add_line(trace: Trace, line: str) -> None:
    here = f"capacity.{line}"
    words = {"criterion": "criterion line", "spring": "spring line", "new": "new media"}[line]
    compute = trace.compute
    compute(
        f"{here}.flow_m3_s",
        capacity.bed_flow_over_boards,
        unit="m3/s",
        title=f"Flow through the bed, {words}",
        depth_upstream=f"{here}.depth_upstream_m",
        shape="bed.shape",
        media=f"{here}.media",
        outlet="bed.outlet_boards",
    )
    compute(
        f"{here}.share_of_peak",
        capacity.share_of_flow,
        unit="-",
        title=f"Share of the peak through the bed, {words}",
        flow=f"{here}.flow_m3_s",
        peak="drain_flow.peak_for_share_m3_s",
    )
    compute(
        f"{here}.depth_downstream_m",
        capacity.downstream_depth,
        unit="m",
        title=f"Water at the outlet end, {words}",
        flow=f"{here}.flow_m3_s",
        outlet="bed.outlet_boards",
    )
    compute(
        f"{here}.wet_volume_m3",
        bed_wet_volume,
        unit="m3",
        title=f"Media under water, {words}",
        depth_upstream=f"{here}.depth_upstream_m",
        depth_downstream=f"{here}.depth_downstream_m",
        length="bed.length_m",
        width="bed.width_bottom_m",
        side_slope="inputs.bed.side_slope",
        conductivity=f"{here}.conductivity_m_s",
        inertia=f"{here}.inertia_s2_m2",
        media_depth="inputs.bed.media_depth_m",
    )
    _add_retention(trace, line, words)


def _add_retention(trace: Trace, line: str, words: str) -> None:
    here = f"capacity.{line}"
    compute = trace.compute
    compute(
        f"{here}.porosity",
        same,
        unit="-",
        title="Porosity that the time in the bed counts",
        value="inputs.media.porosity_effective",
    )
    trace.constant(f"{here}.porosity_kind", "effective", "Kind of the porosity", source="derived")
    compute(
        f"{here}.retention_h",
        capacity.retention_hours,
        unit="h",
        title=f"Time in the bed, {words}",
        wet_volume=f"{here}.wet_volume_m3",
        porosity=f"{here}.porosity",
        flow=f"{here}.flow_m3_s",
    )
    compute(
        f"{here}.retention_drainable_h",
        capacity.retention_hours,
        unit="h",
        title=f"Time in the bed counted with drainable porosity, {words}",
        wet_volume=f"{here}.wet_volume_m3",
        porosity="inputs.media.porosity_drainable",
        flow=f"{here}.flow_m3_s",
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


def sum_of_two(first: float, second: float) -> float:
    """Sum of two heights.

    Parameters
    ----------
    first, second : float
        Heights. [m]

    Returns
    -------
    float
        Their sum. [m]

    Notes
    -----
    d = d1 + d2    (derived)

    References
    ----------
    derived, a sum
    """
    return first + second
