# SPDX-License-Identifier: Apache-2.0
"""Steps that belong to ground water: uplift of the lining by stage, flotation of the boxes."""

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.trace import Trace
from tilewater.practices import uplift


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
    _add_stages(trace, none)
    add_boxes(trace)


def _add_stages(trace: Trace, none: str) -> None:
    compute = trace.compute
    geotextile = (
        trace.known("inputs.bed.lining") and trace.value("inputs.bed.lining") == "geotextile"
    )
    if geotextile:
        trace.findings.append(
            Finding(
                "geotextile-exchange",
                "note",
                "Lining",
                "Geotextile is not lifted by ground water but lets it in and out: ground water "
                "above the floor adds to the outflow and thins the nitrate, below it some is lost.",
                source="practice",
            )
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


def add_boxes(trace: Trace, structures: tuple[str, ...] = ("inlet", "outlet")) -> None:
    """Record what lifts the empty boxes of the structures, and the concrete that anchors them."""
    compute = trace.compute
    for structure in structures:
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
