# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to the bed: its shape and its three capacity lines."""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.hydraulics.media import (
    conductivity_at_age,
    conductivity_at_temperature,
    forchheimer_inertia_ward,
)
from tilewater.practices.bed import capacity, system_parts
from tilewater.practices.bed.board_steps import set_key
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.cells import add_cells, cell_names
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.bed.size_steps import add_size
from tilewater.practices.bed.system import (
    bed_flow_at_diversion,
    levels_along_bed,
    split_in_balance,
    wet_media_volume,
)
from tilewater.practices.bed.system_parts import (
    bed_flow_of,
    bypass_flow_of,
    level_of,
    pool_above,
)
from tilewater.practices.bed.system_steps import lower_main, path_key, tell_headers
from tilewater.practices.rules import difference, same

LEVEL = 0.015
"""Fall of a floor that counts as level. [m]"""
WORDS = {
    "criterion": "criterion line",
    "spring": "spring line",
    "new": "new media",
    "snowmelt": "snowmelt",
}
COLD = {
    "spring": "inputs.media.spring_temperature_c",
    "snowmelt": "inputs.frost.melt_temperature_c",
}
"""Water of the lines that are not at the reference temperature."""
NODES = {
    "diversion": "in the diversion structure",
    "inlet_header": "in the inlet header",
    "inlet_end": "at the inlet end of the media",
    "outlet_end": "at the outlet end of the media",
    "outlet_header": "in the outlet header",
    "outlet_box": "in the outlet structure",
}
"""Where the levels along the bed are recorded, from the diversion down."""


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


def add_capacity(trace: Trace) -> None:
    """Record the criterion line, the spring line and the line of new media."""
    for line in ("criterion", "new"):
        trace.compute(
            f"capacity.{line}.flow_m3_s",
            bed_flow_at_diversion,
            unit="m3/s",
            title=f"Flow through the bed, {WORDS[line]}",
            level=f"boards.inlet-{DESIGN}.crest_m",
            tailwater="system.free_m",
            path=path_key(),
            shape="bed.shape",
            media=f"capacity.{line}.media",
        )
        add_line(trace, line, "system.free_m")
    add_balance(
        trace,
        "capacity.spring",
        "spring line",
        inflow="drain_flow.candidates_m3_s.main_full",
        stage="ditch.ordinary_m",
        media="capacity.spring.media",
    )
    add_line(trace, "spring", "capacity.spring.tailwater_m")
    tell_headers(trace)


def add_balance(
    trace: Trace,
    here: str,
    words: str,
    *,
    inflow: str,
    stage: str,
    media: str,
    setting: str = DESIGN,
) -> None:
    """Record how an inflow divides between bed and bypass boards, and the head it makes."""
    compute = trace.compute
    compute(
        f"{here}.split",
        split_in_balance,
        unit="",
        title=f"How the inflow divides between bed and bypass, {words}",
        inflow=inflow,
        stage=stage,
        path=path_key(setting),
        shape="bed.shape",
        media=media,
        bypass="system.bypass.pipe",
        bypass_boards=set_key("inlet", setting),
        **lower_main(trace),
    )
    for name, function, unit, title in (
        ("flow_m3_s", bed_flow_of, "m3/s", "Flow through the bed"),
        ("bypass_flow_m3_s", bypass_flow_of, "m3/s", "Flow over the bypass boards"),
        ("level_m", level_of, "m", "Water in the diversion structure"),
    ):
        compute(
            f"{here}.{name}", function, unit=unit, title=f"{title}, {words}", split=f"{here}.split"
        )
    compute(
        f"{here}.bypass_head_m",
        difference,
        unit="m",
        title=f"Water in the diversion above the bypass crest, {words}",
        upper=f"{here}.level_m",
        lower=f"boards.inlet-{setting}.crest_m",
    )
    if lower_main(trace):
        compute(
            f"{here}.tailwater_m",
            pool_above,
            unit="m",
            title=f"Water where the return comes into the main, {words}",
            flow=inflow,
            level_down=stage,
            pipe="system.lower.pipe",
        )
    else:
        compute(
            f"{here}.tailwater_m",
            same,
            unit="m",
            title=f"Water where the return ends, {words}",
            value=stage,
        )


def add_levels(
    trace: Trace, here: str, words: str, *, tailwater: str, media: str, setting: str = DESIGN
) -> None:
    """Record the water level at every part between the diversion and the outlet box."""
    trace.compute(
        f"{here}.levels",
        levels_along_bed,
        unit="",
        title=f"Water levels along the bed, {words}",
        flow=f"{here}.flow_m3_s",
        tailwater=tailwater,
        path=path_key(setting),
        shape="bed.shape",
        media=media,
    )
    for node, title in NODES.items():
        trace.compute(
            f"{here}.levels_m.{node}",
            getattr(system_parts, f"level_{node}"),
            unit="m",
            title=f"Water {title}, {words}",
            levels=f"{here}.levels",
        )


def add_line(trace: Trace, line: str, tailwater: str, setting: str = DESIGN) -> None:
    """Record share, levels, wet media and time in the bed of a line whose flow is recorded."""
    here, words = f"capacity.{line}", WORDS[line]
    compute = trace.compute
    compute(
        f"{here}.share_of_peak",
        capacity.share_of_flow,
        unit="-",
        title=f"Share of the peak through the bed, {words}",
        flow=f"{here}.flow_m3_s",
        peak="drain_flow.peak_for_share_m3_s",
    )
    add_levels(trace, here, words, tailwater=tailwater, media=f"{here}.media", setting=setting)
    for side, node in (("upstream", "inlet_end"), ("downstream", "outlet_end")):
        compute(
            f"{here}.depth_{side}_m",
            difference,
            unit="m",
            title=f"Water at the {node.replace('_end', '')} end of the media, {words}",
            upper=f"{here}.levels_m.{node}",
            lower="bed.floor_mean_m",
        )
    compute(
        f"{here}.wet_volume_m3",
        wet_media_volume,
        unit="m3",
        title=f"Media under water, {words}",
        flow=f"{here}.flow_m3_s",
        tailwater=tailwater,
        path=path_key(),
        shape="bed.shape",
        media=f"{here}.media",
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
