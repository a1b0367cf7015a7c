# SPDX-License-Identifier: Apache-2.0
"""The woodchip bed between its boards: how much goes through, how long it stays.

Depths count from the floor of the bed. Water reaches the bed at the depth of the diversion's bypass
crest (more, when water goes over it) and leaves over the boards of the outlet structure. Pipe
losses are not part of these functions.
"""

from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics.media import bed_flow_forchheimer, residence_time
from tilewater.hydraulics.weirs import weir_flow_rectangular_francis, weir_head_rectangular_francis

HEAD_TOLERANCE = 1e-8
"""Closeness of the solved heads. [m]"""


@dataclass(frozen=True)
class BedShape:
    """The media as water meets it.

    Attributes
    ----------
    length : float
        Flow length between the middles of the end slopes. [m]
    width : float
        Bottom width. [m]
    side_slope : float
        Horizontal to vertical. [-]
    media_depth : float
        Depth of the media; water above it is head without area. [m]
    """

    length: float
    width: float
    side_slope: float
    media_depth: float


@dataclass(frozen=True)
class Media:
    """The media at an age and a temperature.

    Attributes
    ----------
    conductivity : float
        Saturated conductivity. [m/s]
    inertia : float
        Forchheimer's inertial coefficient. [s2/m2]
    """

    conductivity: float
    inertia: float


@dataclass(frozen=True)
class OutletBoards:
    """The outlet structure as the bed feels it.

    Attributes
    ----------
    crest_depth : float
        Crest of the boards above the floor of the bed. [m]
    crest_width : float
        Clear length of the crest. [m]
    tailwater_depth : float
        Water below the outlet above the floor of the bed; it rules where it stands above the water
        that the boards hold. [m]
    """

    crest_depth: float
    crest_width: float
    tailwater_depth: float = 0.0


def flow_length(length_bottom: float, side_slope: float, media_depth: float) -> float:
    """Flow length of a bed with sloping ends.

    Parameters
    ----------
    length_bottom : float
        Length of the floor. [m]
    side_slope : float
        Horizontal to vertical of the ends. [-]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    float
        Length between the middles of the end slopes. [m]

    Notes
    -----
    L = L_b + z d    (derived)

    References
    ----------
    derived, mean length of a pit with sloping ends
    """
    return length_bottom + side_slope * media_depth


def mean_width(width_bottom: float, side_slope: float, media_depth: float) -> float:
    """Width of the media at half its depth.

    Parameters
    ----------
    width_bottom : float
        Width of the floor. [m]
    side_slope : float
        Horizontal to vertical of the sides. [-]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    float
        Width at half depth. [m]

    Notes
    -----
    W = b + z d    (derived)

    References
    ----------
    derived, mean width of a trapezoid
    """
    return width_bottom + side_slope * media_depth


def downstream_depth(flow: float, outlet: OutletBoards) -> float:
    """Depth at the outlet end of the bed for a flow.

    Parameters
    ----------
    flow : float
        Flow over the outlet boards. [m3/s]
    outlet : OutletBoards
        Crest, its length and the tailwater. [-]

    Returns
    -------
    float
        Depth above the floor of the bed. [m]

    Notes
    -----
    d2 = max(crest + h(Q), tailwater), h by Francis without end contractions    (derived)

    References
    ----------
    derived, a free weir below the tailwater of which the higher level rules
    """
    head = weir_head_rectangular_francis(max(flow, 0.0), crest_width=outlet.crest_width)
    return max(outlet.crest_depth + head, outlet.tailwater_depth)


def bed_flow_over_boards(
    depth_upstream: float, shape: BedShape, media: Media, outlet: OutletBoards
) -> float:
    """Flow through the bed and over its outlet boards for a depth at the inlet.

    Parameters
    ----------
    depth_upstream : float
        Depth at the inlet end of the bed above its floor. [m]
    shape : BedShape
        Size of the media. [-]
    media : Media
        Conductivity and inertia. [-]
    outlet : OutletBoards
        Outlet boards and tailwater. [-]

    Returns
    -------
    float
        Flow; 0 where the inlet stands no higher than the outlet. [m3/s]

    Raises
    ------
    OutOfDomain
        If the inlet depth is negative.

    Notes
    -----
    Q_bed(d1, d2) = Q,  d2 = max(crest + h(Q), tailwater)    (derived)

    Q_bed is the falling water surface of `bed_flow_forchheimer`; h(Q) is the head over sharp boards
    without end contractions.

    References
    ----------
    derived, bed and outlet weir solved together
    """
    if depth_upstream < 0:
        raise OutOfDomain(
            f"depth_upstream is {depth_upstream:.4g} m. The water must stand above the floor of "
            "the bed. Check the inlet crest against the floor."
        )
    lowest = max(outlet.crest_depth, outlet.tailwater_depth, 0.0)
    if depth_upstream <= lowest:
        return 0.0

    def through(depth: float) -> float:
        return float(
            bed_flow_forchheimer(
                depth_upstream,
                depth,
                length=shape.length,
                width=shape.width,
                side_slope=shape.side_slope,
                conductivity=media.conductivity,
                inertia=media.inertia,
                media_depth=shape.media_depth,
            )
        )

    def surplus(depth: float) -> float:
        head = max(0.0, depth - outlet.crest_depth)
        return through(depth) - float(
            weir_flow_rectangular_francis(head, crest_width=outlet.crest_width, contractions=0)
        )

    if surplus(lowest) <= 0.0:  # the tailwater rules: the boards pass more than the bed gives
        return through(lowest)
    depth = bracketed_root(surplus, lowest, depth_upstream, (), HEAD_TOLERANCE)
    return through(depth)


def bypass_head_in_balance(
    inflow: float,
    crest_depth: float,
    crest_width: float,
    shape: BedShape,
    media: Media,
    outlet: OutletBoards,
) -> float:
    """Head over the bypass crest when what does not go through the bed goes over the boards.

    Parameters
    ----------
    inflow : float
        Flow that comes down the main. [m3/s]
    crest_depth : float
        Bypass crest above the floor of the bed. [m]
    crest_width : float
        Clear length of the bypass crest. [m]
    shape : BedShape
        Size of the media. [-]
    media : Media
        Conductivity and inertia. [-]
    outlet : OutletBoards
        Outlet boards and tailwater. [-]

    Returns
    -------
    float
        Head over the bypass crest; 0 where the bed takes all. [m]

    Notes
    -----
    Q_bed(crest + h) + Q_weir(h) = Q_in    (derived)

    References
    ----------
    derived, bed and bypass boards share the level at the diversion
    """

    def surplus(head: float) -> float:
        over = float(weir_flow_rectangular_francis(head, crest_width=crest_width, contractions=0))
        return bed_flow_over_boards(crest_depth + head, shape, media, outlet) + over - inflow

    if surplus(0.0) >= 0.0:
        return 0.0
    highest = float(weir_head_rectangular_francis(inflow, crest_width=crest_width))
    return bracketed_root(surplus, 0.0, highest, (), HEAD_TOLERANCE)


def retention_hours(wet_volume: float, porosity: float, flow: float) -> float:
    """Time that water stays in the bed, in hours.

    Parameters
    ----------
    wet_volume : float
        Volume of the wetted media. [m3]
    porosity : float
        Porosity of the kind that is printed beside the result. [-]
    flow : float
        Flow through the bed. [m3/s]

    Returns
    -------
    float
        Mean residence time. [h]

    Raises
    ------
    OutOfDomain
        If no water flows: the time has no meaning.

    Notes
    -----
    t = phi V / Q    (practice)

    References
    ----------
    practice, plug flow through the wetted pores
    """
    if flow <= 0:
        raise OutOfDomain(
            f"flow through the bed is {flow:.4g} m3/s. Time in the bed needs a flow above 0. "
            "Raise the inlet crest or lower the outlet crest."
        )
    return float(residence_time(wet_volume, flow, porosity=porosity)) / 3600.0


def dead_pool(leaves_at: float, floor: float) -> float:
    """Depth of water that can never drain out of the bed.

    Parameters
    ----------
    leaves_at : float
        Highest invert that the water must pass below the bed. [m]
    floor : float
        Lowest floor of the bed. [m]

    Returns
    -------
    float
        Depth left standing; 0 where all drains. [m]

    Notes
    -----
    pool = max(0, invert - floor)    (derived)

    References
    ----------
    derived, water does not leave below the invert it must pass
    """
    return max(0.0, leaves_at - floor)


def share_of_flow(flow: float, peak: float) -> float:
    """Share of a peak flow that goes through the practice.

    Parameters
    ----------
    flow, peak : float
        Flow through the practice and the peak it is measured against. [m3/s]

    Returns
    -------
    float
        Ratio. [-]

    Raises
    ------
    OutOfDomain
        If the peak is not above 0.

    Notes
    -----
    share = Q / Q_peak    (derived)

    References
    ----------
    derived, ratio of flows
    """
    if peak <= 0:
        raise OutOfDomain(
            f"peak is {peak:.4g} m3/s. A share needs a peak above 0. Check main and area."
        )
    return flow / peak
