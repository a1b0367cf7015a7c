# SPDX-License-Identifier: Apache-2.0
"""The woodchip bed as water meets it: its shape, its media, how long the water stays.

Depths count from the floor of the bed. What flows through it is a matter of the whole between main
and ditch: see `system`.
"""

from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.media import residence_time


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
