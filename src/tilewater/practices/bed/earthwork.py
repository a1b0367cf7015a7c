# SPDX-License-Identifier: Apache-2.0
"""Arithmetic of holes, soil and sheets for the bid quantities of a bed."""

from tilewater.basis.solids import pit_cover_area

CUT_SLOPES = {"stable rock": 0.0, "A": 0.75, "B": 1.0, "C": 1.5}
"""Steepest slope of an open cut by soil type, horizontal to vertical (29 CFR 1926 subpart P)."""


def cut_slope(soil_type: str, side_slope: float, slope_above_media: float = 0.0) -> float:
    """Side slope of the open cut, one slope from the floor to the ground.

    Parameters
    ----------
    soil_type : str
        "stable rock", "A", "B" or "C". [-]
    side_slope : float
        Side slope of the media, horizontal to vertical. [-]
    slope_above_media : float
        Slope that the job asks for above the media; 0 where it asks for none. [-]

    Returns
    -------
    float
        The flattest of them, horizontal to vertical. [-]

    Notes
    -----
    z = max(z_soil, z_media, z_above), z_soil 0, 3/4, 1, 1 1/2    (osha1926p)

    References
    ----------
    osha1926p, appendix B, from memory
    """
    return max(CUT_SLOPES[soil_type], side_slope, slope_above_media)


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


def backfill_under_topsoil(all_soil: float, topsoil: float) -> float:
    """Compacted soil put back under the topsoil that is put back over it.

    Parameters
    ----------
    all_soil : float
        All soil over and around the media, topsoil among it. [m3]
    topsoil : float
        Topsoil stripped and put back. [m3]

    Returns
    -------
    float
        Volume; none where the topsoil is all there is room for. [m3]

    Notes
    -----
    V = max(0, V_all - V_topsoil)    (practice)

    References
    ----------
    practice, each soil paid once
    """
    return max(0.0, all_soil - topsoil)


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
