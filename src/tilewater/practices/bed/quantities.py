# SPDX-License-Identifier: Apache-2.0
"""Quantities of a bed from its solids, each with the key it is explained by.

Chips are counted neat in place; what is ordered is for the contractor. Bank, loose and compacted
soil are told apart.
"""

from tilewater.basis.solids import pit_area, pit_cover_area, pit_sheet_area, pit_volume
from tilewater.basis.trace import Trace
from tilewater.practices.rules import difference, same

CUT_SLOPES = {"stable rock": 0.0, "A": 0.75, "B": 1.0, "C": 1.5}
"""Steepest slope of an open cut by soil type, horizontal to vertical (29 CFR 1926 subpart P)."""


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
    compute(
        "quantities.cut_slope",
        cut_slope,
        unit="-",
        title="Side slope of the cut",
        soil_type="inputs.site.soil_type",
        side_slope="inputs.bed.side_slope",
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
    trace.compute(
        "quantities.excavation.quantity",
        pit_volume,
        unit="m3",
        title="Excavation, bank",
        bottom_length="bed.length_bottom_m",
        bottom_width="bed.width_bottom_m",
        side_slope="quantities.cut_slope",
        depth="quantities.cut_depth_m",
    )


def _add_media(trace: Trace) -> None:
    trace.compute(
        "bed.media_volume_m3",
        pit_volume,
        unit="m3",
        title="Volume of the media",
        bottom_length="bed.length_bottom_m",
        bottom_width="bed.width_bottom_m",
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
    compute(
        "quantities.top_area_m2",
        pit_area,
        unit="m2",
        title="Top of the cut",
        bottom_length="bed.length_bottom_m",
        bottom_width="bed.width_bottom_m",
        side_slope="quantities.cut_slope",
        height="quantities.cut_depth_m",
    )
    compute(
        "quantities.backfill.quantity",
        backfill_volume,
        unit="m3",
        title="Soil back over and around the media, with crown, compacted",
        excavation="quantities.excavation.quantity",
        media="bed.media_volume_m3",
        top_area="quantities.top_area_m2",
        crown="inputs.bed.crown_m",
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
    margin = trace.constant(
        "quantities.working_margin_m",
        4.572,
        "Disturbed strip round the cut",
        unit="m",
        source="practice",
    )
    compute(
        "quantities.seeding.quantity",
        disturbed_area,
        unit="m2",
        title="Ground to seed and mulch",
        length="bed.length_bottom_m",
        width="bed.width_bottom_m",
        cut_margin="quantities.cut_margin_m",
        margin=margin,
    )
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


def _add_sheets(trace: Trace) -> None:
    common = {
        "bottom_length": "bed.length_bottom_m",
        "bottom_width": "bed.width_bottom_m",
        "side_slope": "inputs.bed.side_slope",
        "depth": "inputs.bed.media_depth_m",
        "lap": "inputs.estimate.lap_m",
    }
    trace.compute(
        "quantities.lining.quantity",
        pit_sheet_area,
        unit="m2",
        title="Lining of bottom and sides, in one piece with laps",
        **common,
    )
    trace.compute(
        "quantities.cover-fabric.quantity",
        fabric_area,
        unit="m2",
        title="Fabric over the media",
        allowance="inputs.estimate.fabric_allowance",
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
    ("anti-seep-collar", 4.0, "Anti-seep collars, two at each structure"),
    ("temporary-tile-flow", 1.0, "Keeping the tile flowing while building"),
    ("dewatering", 1.0, "Dewatering of the hole"),
    ("erosion-control", 1.0, "Erosion control"),
    ("rigid-outlet", 2.0, "Rigid outlet pipe with guard"),
    ("outlet-rock", 1.0, "Rock at the outlets"),
    ("corner-post", 4.0, "Corner posts"),
    ("lid-lock", 2.0, "Lid locks"),
)
"""Pieces and lump sums that every bed needs: item, count, words."""


def cut_slope(soil_type: str, side_slope: float) -> float:
    """Side slope of the open cut.

    Parameters
    ----------
    soil_type : str
        "stable rock", "A", "B" or "C". [-]
    side_slope : float
        Side slope of the media, horizontal to vertical. [-]

    Returns
    -------
    float
        The flatter of the two, horizontal to vertical. [-]

    Notes
    -----
    z = max(z_soil, z_media), z_soil 0, 3/4, 1, 1 1/2    (osha1926p)

    References
    ----------
    osha1926p, appendix B, from memory
    """
    return max(CUT_SLOPES[soil_type], side_slope)


def spread(depth: float, slope: float) -> float:
    """Horizontal spread of a slope.

    Parameters
    ----------
    depth : float
        Height of the slope. [m]
    slope : float
        Horizontal to vertical. [-]

    Returns
    -------
    float
        Horizontal length. [m]

    Notes
    -----
    x = z d    (derived)

    References
    ----------
    derived, a product
    """
    return depth * slope


def with_allowance(amount: float, allowance: float) -> float:
    """An amount with an allowance on it.

    Parameters
    ----------
    amount : float
        Neat amount. [m3]
    allowance : float
        Share added. [-]

    Returns
    -------
    float
        Amount to order. [m3]

    Notes
    -----
    V = (1 + a) V_neat    (practice)

    References
    ----------
    practice, settling and waste of chips
    """
    return amount * (1 + allowance)


def backfill_volume(excavation: float, media: float, top_area: float, crown: float) -> float:
    """Compacted soil over and around the media, with a crown.

    Parameters
    ----------
    excavation, media : float
        Volumes of the hole and of the media. [m3]
    top_area : float
        Top of the cut. [m2]
    crown : float
        Mean height of the crown. [m]

    Returns
    -------
    float
        Volume. [m3]

    Notes
    -----
    V = V_hole - V_media + crown A_top    (practice)

    References
    ----------
    practice, crowned cover
    """
    return excavation - media + crown * top_area


def spoil_volume(excavation: float, backfill: float, shrink: float, swell: float) -> float:
    """Loose soil left over.

    Parameters
    ----------
    excavation : float
        Bank volume of the hole. [m3]
    backfill : float
        Compacted volume put back. [m3]
    shrink : float
        Bank volume per compacted volume. [-]
    swell : float
        Loose volume per bank volume. [-]

    Returns
    -------
    float
        Loose volume; negative where soil must be brought. [m3]

    Notes
    -----
    V = swell (V_bank - shrink V_compacted)    (practice)

    References
    ----------
    practice, shrink and swell of soil
    """
    return swell * (excavation - shrink * backfill)


def disturbed_area(length: float, width: float, cut_margin: float, margin: float) -> float:
    """Ground that is disturbed: the top of the cut and a strip round it.

    Parameters
    ----------
    length, width : float
        Floor of the bed. [m]
    cut_margin : float
        Top of the cut outside the floor. [m]
    margin : float
        Strip round the cut. [m]

    Returns
    -------
    float
        Area. [m2]

    Notes
    -----
    A = (L + 2 (c + m))(W + 2 (c + m))    (practice)

    References
    ----------
    practice, working strip round a hole
    """
    reach = 2 * (cut_margin + margin)
    return (length + reach) * (width + reach)


def area_times_depth(area: float, depth: float) -> float:
    """Volume of a layer.

    Parameters
    ----------
    area : float
        Area. [m2]
    depth : float
        Thickness. [m]

    Returns
    -------
    float
        Volume. [m3]

    Notes
    -----
    V = A d    (derived)

    References
    ----------
    derived, a product
    """
    return area * depth


def fabric_area(
    bottom_length: float,
    bottom_width: float,
    side_slope: float,
    depth: float,
    lap: float,
    allowance: float,
) -> float:
    """Fabric over the media, half a lap beyond each edge, with an allowance for joints.

    Parameters
    ----------
    bottom_length, bottom_width : float
        Floor of the bed. [m]
    side_slope : float
        Horizontal to vertical of the media's sides. [-]
    depth : float
        Depth of the media. [m]
    lap : float
        Laps of two edges together. [m]
    allowance : float
        Share added for joints. [-]

    Returns
    -------
    float
        Area of the fabric. [m2]

    Notes
    -----
    A = (1 + a)(L + 2 z d + lap)(W + 2 z d + lap)    (practice)

    References
    ----------
    practice, fabric over the media
    """
    area = pit_cover_area(
        bottom_length, bottom_width, side_slope=side_slope, depth=depth, lap=lap / 2
    )
    return float((1 + allowance) * area)
