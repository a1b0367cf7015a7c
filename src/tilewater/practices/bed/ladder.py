# SPDX-License-Identifier: Apache-2.0
"""The ladder of elevations from rim to ditch, by season, and what ground water lifts."""

from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics.weirs import weir_head_rectangular_francis
from tilewater.hydrology.drain_flow import least_of
from tilewater.practices import uplift
from tilewater.practices.bed.steps import DESIGN
from tilewater.practices.boards import crest_elevation
from tilewater.practices.rules import add_rung, same


def add_crests(trace: Trace) -> None:
    """Record the crest of the design setting under its name in the ladder."""
    for structure in ("inlet", "outlet"):
        trace.compute(
            f"elevations.{structure}_crest.elevation_m",
            same,
            unit="m",
            title=f"Crest of the {structure} boards, design setting",
            value=f"boards.{structure}-{DESIGN}.crest_m",
        )


def add_ladder(trace: Trace) -> None:
    """Record every rung whose pair of elevations has a rule."""
    inlet, outlet = "elevations.inlet_crest.elevation_m", "elevations.outlet_crest.elevation_m"
    media_top = "elevations.media_top.elevation_m"
    trace.compute(
        "bed.media_top_m",
        top_of_media,
        unit="m",
        title="Top of the media",
        floor="bed.floor_m",
        media_depth="inputs.bed.media_depth_m",
    )
    zero = trace.constant("rules.none_m", 0.0, "No less than level", unit="m", source="derived")
    for structure in ("inlet", "outlet"):
        given = f"inputs.structure.{structure}"
        add_rung(
            trace,
            f"{structure}_rim",
            f"Rim of the {structure} structure above the ground",
            upper=f"{given}.rim_m",
            lower=f"{given}.ground_m",
            limit="rules.rim-above-ground_m",
            elevation=f"{given}.rim_m",
            scale="freeboard",
            where=f"{structure} structure",
        )
    add_rung(
        trace,
        "inlet_crest",
        "Crest of the inlet boards under the highest crest that the field allows",
        upper="highest_crest_m",
        lower=inlet,
        limit=zero,
        elevation=f"boards.inlet-{DESIGN}.crest_m",
        where="inlet structure",
    )
    add_rung(
        trace,
        "media_top",
        "Top of the media above the inlet crest",
        upper="bed.media_top_m",
        lower=inlet,
        limit=zero,
        elevation="bed.media_top_m",
        where="bed",
        exact=True,
    )
    add_rung(
        trace,
        "ground_at_bed",
        "Ground above the top of the media",
        upper="inputs.site.ground_at_bed_m",
        lower=media_top,
        limit="rules.cover_m",
        elevation="inputs.site.ground_at_bed_m",
        scale="freeboard",
        where="bed",
    )
    add_rung(
        trace,
        "driving_head",
        "Inlet crest above outlet crest",
        upper=inlet,
        lower=outlet,
        limit="rules.driving-head_m",
        elevation=inlet,
        where="bed",
    )
    add_rung(
        trace,
        "floor_outlet",
        "Floor of the bed above the invert of its outlet pipe",
        upper="inputs.bed.floor_outlet_m",
        lower="inputs.bed.outlet_invert_m",
        limit=zero,
        elevation="inputs.bed.floor_outlet_m",
        where="bed",
        exact=True,
    )
    add_rung(
        trace,
        "return_fall",
        "Invert of the bed's outlet pipe above the end of its return",
        upper="inputs.bed.outlet_invert_m",
        lower="inputs.bed.return_invert_m",
        limit=zero,
        elevation="inputs.bed.outlet_invert_m",
        where="return",
    )
    _add_peak(trace)
    _add_season_crests(trace)
    _add_ditch(trace)


def _add_peak(trace: Trace) -> None:
    """Water in the inlet structure at the largest physical flow, the bed shut off."""
    trace.compute(
        "bypass.head_m",
        weir_head_rectangular_francis,
        unit="m",
        title="Head over the bypass crest at the largest physical flow, bed shut off",
        flow="drain_flow.peak_for_bypass_m3_s",
        crest_width="inputs.structure.inlet.crest_width_m",
    )
    trace.compute(
        "bypass.level_m",
        crest_elevation,
        unit="m",
        title="Water in the inlet structure at the largest physical flow",
        sill="elevations.inlet_crest.elevation_m",
        height="bypass.head_m",
    )
    add_rung(
        trace,
        "inlet_rim_storm",
        "Rim of the inlet structure above its water at the largest physical flow",
        upper="inputs.structure.inlet.rim_m",
        lower="bypass.level_m",
        limit="rules.none_m",
        elevation="inputs.structure.inlet.rim_m",
        scale="freeboard",
        where="inlet structure",
    )
    bypasses = [
        name
        for name in trace.names("inputs.pipe")
        if trace.value(f"inputs.pipe.{name}.use") == "bypass"
    ]
    if not bypasses:
        trace.give(
            Given(
                "bypass.diameter_m",
                Unknown("no pipe with the use bypass is listed", "list it under [pipe.NAME]"),
                "m",
                "Diameter of the bypass",
            )
        )
    else:
        trace.compute(
            "bypass.diameter_m",
            least_of,
            unit="m",
            title="Diameter of the bypass",
            **{name.replace("-", "_"): f"inputs.pipe.{name}.diameter_m" for name in bypasses},
        )
    trace.require(
        Requirement(
            key="bypass",
            title="Bypass no smaller than the main",
            value="bypass.diameter_m",
            operator=">=",
            limit="inputs.main.diameter_m",
            unit="m",
            scale=0.0508,
            where="bypass",
            exact=True,
        )
    )


def _add_season_crests(trace: Trace) -> None:
    for season in trace.names("inputs.season"):
        if f"inputs.season.{season}.inlet_boards_m" not in trace:
            continue
        crest = f"boards.inlet-{season}.crest_m"
        add_rung(
            trace,
            f"inlet_crest-{season}",
            f"Crest of the inlet boards under the highest crest that the field allows, {season}",
            upper="highest_crest_m",
            lower=crest,
            limit="rules.none_m",
            elevation=crest,
            where="inlet structure",
        )


def _add_ditch(trace: Trace) -> None:
    seasons = trace.names("inputs.season")
    if not seasons:
        trace.give(
            Given(
                "ditch.stage_m",
                Unknown("no ditch stage is given", "read the stage on a staff through one spring"),
                "m",
                "Stage of the ditch",
            )
        )
        for name, words, upper in (
            ("main_outlet", "Outlet of the main", "inputs.main.invert_outlet_m"),
            ("outlet_crest_stage", "Outlet crest", f"boards.outlet-{DESIGN}.crest_m"),
        ):
            add_rung(
                trace,
                name,
                f"{words} above the water in the ditch",
                upper=upper,
                lower="ditch.stage_m",
                limit="rules.outlet-freeboard_m",
                elevation=upper,
                where="ditch",
            )
    for season in seasons:
        given = f"inputs.season.{season}"
        add_rung(
            trace,
            f"main_outlet-{season}",
            f"Outlet of the main above ordinary ditch water, {season}",
            upper="inputs.main.invert_outlet_m",
            lower=f"{given}.ditch_stage_m",
            limit="rules.outlet-freeboard_m",
            elevation="inputs.main.invert_outlet_m",
            scale="freeboard",
            where="ditch",
        )
        add_rung(
            trace,
            f"return_end-{season}",
            f"End of the bed's return above ordinary ditch water, {season}",
            upper="inputs.bed.return_invert_m",
            lower=f"{given}.ditch_stage_m",
            limit="rules.return-freeboard_m",
            elevation="inputs.bed.return_invert_m",
            scale="freeboard",
            where="ditch",
        )
        crest = f"boards.outlet-{season}.crest_m"
        add_rung(
            trace,
            f"outlet_crest-{season}",
            f"Outlet crest above the high stage of the ditch, {season}",
            upper=crest,
            lower=f"{given}.ditch_high_m",
            limit="rules.none_m",
            elevation=crest,
            where="outlet structure",
        )


def add_uplift(trace: Trace) -> None:
    """Record uplift by stage of building, the empty-bed limit, and the boxes."""
    compute = trace.compute
    none = trace.constant("uplift.no_load_kg_m2", 0.0, "Nothing on the lining", source="derived")
    depths = {
        "media_depth": "inputs.bed.media_depth_m",
        "media_density": "inputs.weights.chips_kg_per_m3",
    }
    bare = trace.constant("uplift.no_cover_m", 0.0, "No cover yet", unit="m", source="derived")
    compute(
        "uplift.cover_m",
        top_of_cover,
        unit="m",
        title="Soil over the media",
        ground="inputs.site.ground_at_bed_m",
        media_top="bed.media_top_m",
    )
    for stage, cover in (("media_placed", bare), ("finished", "uplift.cover_m")):
        compute(
            f"uplift.{stage}.load_kg_m2",
            uplift.load_on_lining,
            unit="kg/m2",
            title=f"Weight on the lining, {stage.replace('_', ' ')}",
            cover_depth=cover,
            cover_density="inputs.weights.cover_soil_kg_per_m3",
            **depths,
        )
        compute(
            f"uplift.{stage}.ratio",
            uplift.uplift_ratio,
            unit="-",
            title=f"Weight over uplift at the design water table, {stage.replace('_', ' ')}",
            load=f"uplift.{stage}.load_kg_m2",
            groundwater="inputs.groundwater.finished_m",
            floor="bed.floor_m",
        )
    geotextile = (
        trace.known("inputs.bed.lining") and trace.value("inputs.bed.lining") == "geotextile"
    )
    for stage, load, level in (
        ("liner_only", none, "inputs.groundwater.building_m"),
        ("media_placed", "uplift.media_placed.load_kg_m2", "inputs.groundwater.building_m"),
        ("finished", "uplift.finished.load_kg_m2", "inputs.groundwater.finished_m"),
    ):
        compute(
            f"uplift.{stage}.groundwater_limit_m",
            uplift.groundwater_limit,
            unit="m",
            title=f"Highest ground water for an empty bed, {stage.replace('_', ' ')}",
            load=load,
            floor="bed.floor_m",
            factor="inputs.weights.factor",
        )
        if not geotextile:
            trace.compute(
                f"uplift.{stage}.reserve_m",
                reserve,
                unit="m",
                title=f"Reserve of ground water, {stage.replace('_', ' ')}",
                limit=f"uplift.{stage}.groundwater_limit_m",
                level=level,
            )
            trace.require(
                Requirement(
                    key=f"uplift.{stage}",
                    title=f"Lining stays down, {stage.replace('_', ' ')}, bed empty",
                    value=f"uplift.{stage}.reserve_m",
                    operator=">=",
                    limit="rules.none_m",
                    unit="m",
                    scale=SCALES["elevation"],
                    where="bed",
                )
            )
    for structure in ("inlet", "outlet"):
        given = f"inputs.structure.{structure}"
        compute(
            f"flotation.{structure}.uplift_kg",
            uplift.box_uplift,
            unit="kg",
            title=f"Water that the empty {structure} box displaces",
            groundwater="inputs.groundwater.flotation_m",
            floor=f"{given}.floor_m",
            length=f"{given}.box_length_m",
            width=f"{given}.box_width_m",
        )
        compute(
            f"flotation.{structure}.anchor_m3",
            uplift.anchor_volume,
            unit="m3",
            title=f"Concrete that anchors the {structure} box",
            uplift=f"flotation.{structure}.uplift_kg",
            weight=f"{given}.box_weight_kg",
            concrete_density="inputs.weights.concrete_kg_per_m3",
            factor="inputs.weights.factor",
        )


def top_of_media(floor: float, media_depth: float) -> float:
    """Top of the media.

    Parameters
    ----------
    floor : float
        Floor of the bed. [m]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    top = floor + d    (derived)

    References
    ----------
    derived, a sum
    """
    return floor + media_depth


def top_of_cover(ground: float, media_top: float) -> float:
    """Depth of soil over the media, up to the old ground.

    Parameters
    ----------
    ground : float
        Ground at the bed. [m]
    media_top : float
        Top of the media. [m]

    Returns
    -------
    float
        Depth; 0 where the media reach the ground. [m]

    Notes
    -----
    cover = max(0, ground - top)    (derived)

    References
    ----------
    derived, a difference
    """
    return max(0.0, ground - media_top)


def reserve(limit: float, level: float) -> float:
    """How far a level lies under its limit.

    Parameters
    ----------
    limit, level : float
        Elevations. [m]

    Returns
    -------
    float
        Limit minus level. [m]

    Notes
    -----
    reserve = limit - level    (derived)

    References
    ----------
    derived, a difference
    """
    return limit - level
