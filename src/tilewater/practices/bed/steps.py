# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to the bed: shape, boards, three capacity lines, emptying, life."""

from tilewater.basis.trace import Trace
from tilewater.hydraulics.media import (
    bed_wet_volume,
    conductivity_at_age,
    conductivity_at_temperature,
    drain_down_time_boussinesq,
    forchheimer_inertia_ward,
)
from tilewater.practices.bed import capacity, life, sizing
from tilewater.practices.bed.capacity import BedShape, Media, OutletBoards
from tilewater.practices.boards import board_stack, crest_elevation, rim_down, stack_height
from tilewater.practices.rules import difference, same

DESIGN = "design"


def add_boards(trace: Trace) -> None:
    """Record the stacks of both structures, for the design setting and each season's own."""
    for structure in ("inlet", "outlet"):
        _add_stack(trace, structure, DESIGN, f"inputs.boards.{structure}_m")
        for season in trace.names("inputs.season"):
            own = f"inputs.season.{season}.{structure}_boards_m"
            target = own if own in trace else f"inputs.boards.{structure}_m"
            _add_stack(trace, structure, season, target)


def _add_stack(trace: Trace, structure: str, season: str, target: str) -> None:
    key = f"boards.{structure}-{season}"
    given = f"inputs.structure.{structure}"
    what = f"{structure} boards, {season} setting"
    trace.compute(
        f"{key}.stack_m",
        board_stack,
        unit="m",
        title=f"Stack of the {what}",
        target=target,
        board_heights="inputs.boards.heights_m",
        seal_gap="inputs.boards.seal_gap_m",
    )
    trace.compute(
        f"{key}.height_m",
        stack_height,
        unit="m",
        title=f"Height of the {what}",
        stack=f"{key}.stack_m",
        seal_gap="inputs.boards.seal_gap_m",
    )
    trace.compute(
        f"{key}.crest_m",
        crest_elevation,
        unit="m",
        title=f"Crest of the {what}",
        sill=f"{given}.sill_m",
        height=f"{key}.height_m",
    )
    trace.compute(
        f"{key}.rim_down_m",
        rim_down,
        unit="m",
        title=f"Measure down from the rim to the {what}",
        rim=f"{given}.rim_m",
        crest=f"{key}.crest_m",
    )


def add_depths(trace: Trace) -> None:
    """Record the floor that depths count from and the crests above it."""
    compute = trace.compute
    compute(
        "bed.floor_m",
        lower_of,
        unit="m",
        title="Floor of the bed that depths count from",
        first="inputs.bed.floor_inlet_m",
        second="inputs.bed.floor_outlet_m",
    )
    for structure in ("inlet", "outlet"):
        compute(
            f"bed.depth_{structure}_crest_m",
            difference,
            unit="m",
            title=f"Crest of the {structure} boards above the floor of the bed",
            upper=f"boards.{structure}-{DESIGN}.crest_m",
            lower="bed.floor_m",
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
    _add_size(trace)
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


def _add_size(trace: Trace) -> None:
    searched = trace.known("inputs.bed.size") and (
        trace.value("inputs.bed.size") == "smallest that passes"
    )
    if not searched:
        for side, words in (("length", "Length"), ("width", "Width")):
            trace.compute(
                f"bed.{side}_bottom_m",
                same,
                unit="m",
                title=f"{words} of the floor",
                value=f"inputs.bed.{side}_bottom_m",
            )
        return
    trace.compute(
        "bed.task",
        sizing.SizingTask,
        unit="",
        title="What the smallest bed must pass",
        media="capacity.criterion.media",
        outlet="bed.outlet_boards",
        depth_upstream="bed.depth_inlet_crest_m",
        peak="drain_flow.peak_for_share_m3_s",
        porosity="inputs.media.porosity_effective",
        share="sizing.share_limit",
        retention_h="sizing.retention_limit_h",
    )
    trace.compute(
        "bed.room",
        sizing.Room,
        unit="",
        title="Ground that may be used",
        length="inputs.bed.footprint_length_m",
        width="inputs.bed.footprint_width_m",
        side_slope="inputs.bed.side_slope",
        media_depth="inputs.bed.media_depth_m",
        cut_margin="quantities.cut_margin_m",
    )
    trace.compute(
        "bed.size_found",
        sizing.smallest_bed,
        unit="",
        title="Smallest bed that passes",
        task="bed.task",
        room="bed.room",
    )
    for side, words in (("length", "Length"), ("width", "Width")):
        trace.compute(
            f"bed.{side}_bottom_m",
            getattr(sizing, f"{side}_of"),
            unit="m",
            title=f"{words} of the floor of the smallest bed that passes",
            size="bed.size_found",
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


def add_emptying(trace: Trace) -> None:
    """Record what never drains and the hours to drain the rest, warm and cold."""
    compute = trace.compute
    lowest = "inputs.bed.outlet_invert_m"
    compute(
        "bed.leaves_at_m",
        higher_of,
        unit="m",
        title="Highest invert below the bed that its water must pass",
        first=lowest,
        second="inputs.bed.return_invert_m",
    )
    compute(
        "bed.dead_pool_m",
        capacity.dead_pool,
        unit="m",
        title="Water that can never drain out of the bed",
        leaves_at="bed.leaves_at_m",
        floor="bed.floor_m",
    )
    compute(
        "bed.lined_share",
        lined_share,
        unit="-",
        title="Sides of the media that are lined",
        lining="inputs.bed.lining",
    )
    for season, line in (("warm", "criterion"), ("cold", "spring")):
        for share in (0.5, 0.9, 0.95):
            percent = round(100 * share)
            drained = trace.constant(
                f"drain_down.share_{percent}", share, f"{percent} percent drained", source="derived"
            )
            compute(
                f"drain_down.{season}_{percent}_s",
                drain_down_time_boussinesq,
                unit="s",
                title=f"Time until {percent} percent has drained, {season} water",
                share_drained=drained,
                depth="bed.depth_inlet_crest_m",
                length="bed.length_m",
                conductivity=f"capacity.{line}.conductivity_m_s",
                drainable_porosity="inputs.media.porosity_drainable",
            )


def add_life(trace: Trace) -> None:
    """Record the two clocks: permeability and carbon."""
    compute = trace.compute
    compute(
        "life.task",
        life.LifeTask,
        unit="",
        title="Bed and media as they age",
        shape="bed.shape",
        outlet="bed.outlet_boards",
        depth_upstream="bed.depth_inlet_crest_m",
        conductivity_new="inputs.media.conductivity_new_m_s",
        conductivity_aged="inputs.media.conductivity_aged_m_s",
        aged_years="inputs.media.aged_years",
        ward_coefficient="inputs.media.ward_coefficient",
    )
    compute(
        "life.permeability_years",
        life.permeability_years,
        unit="years",
        title="Years until the bed no longer takes its share of the peak",
        task="life.task",
        peak="drain_flow.peak_for_share_m3_s",
        share="sizing.share_limit",
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


def higher_of(first: float, second: float) -> float:
    """Higher of two elevations.

    Parameters
    ----------
    first, second : float
        Elevations. [m]

    Returns
    -------
    float
        The higher. [m]

    Notes
    -----
    z = max(z1, z2)    (derived)

    References
    ----------
    derived, the higher of two
    """
    return max(first, second)


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


def lined_share(lining: str) -> float:
    """Share of bottom, sides and top that is lined.

    Parameters
    ----------
    lining : str
        "geotextile" or "plastic". [-]

    Returns
    -------
    float
        1 for a bed lined all round, with geotextile over the media in both cases. [-]

    Notes
    -----
    share = 1 for geotextile or plastic, else 0    (nrcs605summary)

    References
    ----------
    nrcs605summary, lining on bottom, sides and top
    """
    return 1.0 if lining in ("geotextile", "plastic") else 0.0
