# SPDX-License-Identifier: Apache-2.0
"""Quantities of a bed from its solids, each with the key it is explained by.

Chips are counted neat in place; what is ordered is for the contractor. Bank, loose and compacted
soil are told apart.
"""

from tilewater.basis.solids import pit_area, pit_sheet_area, pit_volume
from tilewater.basis.trace import Trace
from tilewater.practices.bed.cells import add_solid
from tilewater.practices.bed.earthwork import (
    area_times_depth,
    backfill_under_topsoil,
    backfill_volume,
    cut_slope,
    disturbed_area,
    fabric_area,
    spoil_volume,
    spread,
    with_allowance,
)
from tilewater.practices.rules import difference, same

PIT = {"length": "bottom_length", "width": "bottom_width"}
PLAN = {"length": "length", "width": "width"}
"""What a function calls length and width of the floor."""


def add_quantities(trace: Trace) -> None:
    """Record every bid quantity of the bed."""
    _add_cut(trace)
    _add_media(trace)
    _add_soil(trace)
    _add_sheets(trace)
    _add_pipes_and_pieces(trace)


def add_cut_margin(trace: Trace) -> None:
    """Record how far the top of the cut lies outside the floor."""
    compute = trace.compute
    compute(
        "quantities.cut_depth_m",
        difference,
        unit="m",
        title="Depth of the cut",
        upper="inputs.site.ground_at_bed_m",
        lower="bed.floor_m",
    )
    own = "inputs.bed.slope_above_media"
    compute(
        "quantities.cut_slope",
        cut_slope,
        unit="-",
        title="Side slope of the cut",
        soil_type="inputs.site.soil_type",
        side_slope="inputs.bed.side_slope",
        **({"slope_above_media": own} if trace.known(own) else {}),
    )
    compute(
        "quantities.cut_margin_m",
        spread,
        unit="m",
        title="Top of the cut outside the floor, on each side",
        depth="quantities.cut_depth_m",
        slope="quantities.cut_slope",
    )


def _add_cut(trace: Trace) -> None:
    add_solid(
        trace,
        "quantities.hole_m3",
        pit_volume,
        unit="m3",
        title="Hole, topsoil and all",
        sides=PIT,
        side_slope="quantities.cut_slope",
        depth="quantities.cut_depth_m",
    )


def _add_media(trace: Trace) -> None:
    add_solid(
        trace,
        "bed.media_volume_m3",
        pit_volume,
        unit="m3",
        title="Volume of the media",
        sides=PIT,
        side_slope="inputs.bed.side_slope",
        depth="inputs.bed.media_depth_m",
    )
    trace.compute(
        "quantities.woodchips.quantity",
        same,
        unit="m3",
        title="Woodchips, neat in place",
        value="bed.media_volume_m3",
    )
    trace.compute(
        "quantities.chips-order.quantity",
        with_allowance,
        unit="m3",
        title="Woodchips to order",
        amount="bed.media_volume_m3",
        allowance="inputs.estimate.order_allowance",
    )


def _add_soil(trace: Trace) -> None:
    compute = trace.compute
    add_solid(
        trace,
        "quantities.top_area_m2",
        pit_area,
        unit="m2",
        title="Top of the cut",
        sides=PIT,
        side_slope="quantities.cut_slope",
        height="quantities.cut_depth_m",
    )
    _add_topsoil(trace)
    compute(
        "quantities.fill_m3",
        backfill_volume,
        unit="m3",
        title="Soil back over and around the media, with crown and topsoil, compacted",
        excavation="quantities.hole_m3",
        media="bed.media_volume_m3",
        top_area="quantities.top_area_m2",
        crown="inputs.bed.crown_m",
    )
    compute(
        "quantities.backfill.quantity",
        backfill_under_topsoil,
        unit="m3",
        title="Soil back over and around the media, with crown, compacted, under the topsoil",
        all_soil="quantities.fill_m3",
        topsoil="quantities.topsoil.quantity",
    )
    compute(
        "quantities.spoil.quantity",
        spoil_volume,
        unit="m3",
        title="Spoil left over, loose",
        excavation="quantities.excavation.quantity",
        backfill="quantities.backfill.quantity",
        shrink="inputs.estimate.shrink",
        swell="inputs.estimate.swell",
    )
    _add_surface(trace)


def _add_surface(trace: Trace) -> None:
    margin = trace.constant(
        "quantities.working_margin_m",
        4.572,
        "Disturbed strip round the cut",
        unit="m",
        source="practice",
    )
    add_solid(
        trace,
        "quantities.seeding.quantity",
        disturbed_area,
        unit="m2",
        title="Ground to seed and mulch",
        sides=PLAN,
        cut_margin="quantities.cut_margin_m",
        margin=margin,
    )


def _add_topsoil(trace: Trace) -> None:
    """The topsoil over the hole, and what is left of the hole to be dug after it is stripped."""
    compute = trace.compute
    depth = trace.constant(
        "quantities.topsoil_depth_m",
        0.1524,
        "Topsoil stripped and put back",
        unit="m",
        source="practice",
    )
    compute(
        "quantities.topsoil.quantity",
        area_times_depth,
        unit="m3",
        title="Topsoil stripped and put back",
        area="quantities.top_area_m2",
        depth=depth,
    )
    compute(
        "quantities.excavation.quantity",
        difference,
        unit="m3",
        title="Excavation under the topsoil, bank",
        upper="quantities.hole_m3",
        lower="quantities.topsoil.quantity",
    )


def _add_sheets(trace: Trace) -> None:
    common = {
        "side_slope": "inputs.bed.side_slope",
        "depth": "inputs.bed.media_depth_m",
        "lap": "inputs.estimate.lap_m",
    }
    add_solid(
        trace,
        "quantities.lining.quantity",
        pit_sheet_area,
        unit="m2",
        title="Lining of bottom and sides, in one piece with laps",
        sides=PIT,
        **common,
    )
    add_solid(
        trace,
        "quantities.cover-fabric.quantity",
        fabric_area,
        unit="m2",
        title="Fabric over the media",
        allowance="inputs.estimate.fabric_allowance",
        sides=PIT,
        **common,
    )


def _add_pipes_and_pieces(trace: Trace) -> None:
    for pipe in trace.names("inputs.pipe"):
        step = trace.steps[f"inputs.pipe.{pipe}.length_m"]
        trace.compute(
            f"quantities.pipe-{pipe}.quantity",
            same,
            unit="m",
            title=f"Pipe: {pipe.replace('-', ' ')}",
            value=step.key,
        )
    for structure in ("inlet", "outlet"):
        trace.compute(
            f"quantities.anchor-{structure}.quantity",
            same,
            unit="m3",
            title=f"Anchor of the {structure} structure",
            value=f"flotation.{structure}.anchor_m3",
        )
    for item, count, words in PIECES:
        trace.constant(f"quantities.{item}.quantity", count, words, source="practice")


PIECES = (
    ("mobilization", 1.0, "Mobilization"),
    ("potholing", 4.0, "Locate support and potholing, hours"),
    ("inlet-structure", 1.0, "Diversion structure at the inlet"),
    ("outlet-structure", 1.0, "Outlet structure"),
    ("feed-gate", 1.0, "Gate on the feed, so that the bed can be shut off"),
    ("anti-seep-collar", 5.0, "Anti-seep collars, one on each pipe at a structure"),
    ("temporary-tile-flow", 1.0, "Keeping the tile flowing while building"),
    ("dewatering", 1.0, "Dewatering of the hole"),
    ("erosion-control", 1.0, "Erosion control"),
    ("rigid-outlet", 2.0, "Rigid outlet pipe with guard"),
    ("outlet-rock", 1.0, "Rock at the outlets"),
    ("corner-post", 4.0, "Corner posts"),
    ("lid-lock", 2.0, "Lid locks"),
)
"""Pieces and lump sums that every bed needs: item, count, words."""
