# SPDX-License-Identifier: Apache-2.0
"""Uniform flow in an open channel of any surveyed section, by Manning's equation.

One roughness holds for the whole section: a channel with wide berms is to be split before it
comes here. Backwater of a culvert, a bridge or another ditch is not in it. The geometry is in
`channel_sections`, and what high water marks say of the roughness in `channel_marks`.
"""

import math

from tilewater.basis.domain import (
    refuse,
    require_finite,
    require_not_negative,
    require_positive,
)
from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics.channel_sections import ChannelSection, channel_wetted
from tilewater.hydraulics.limits import outside

LEVEL_TOLERANCE = 1e-9
SMOOTHEST = 0.016  # straight uniform earth, just finished
ROUGHEST = 0.15  # floodway with heavy timber and brush


def channel_flow_manning(level: float, section: ChannelSection, slope: float, *, n: float) -> float:
    """Flow of a channel at a water level, uniform flow.

    Parameters
    ----------
    level : float
        Elevation of the water surface. [m]
    section : ChannelSection
        The channel. [m]
    slope : float
        Slope of the bed along the reach. [-]
    n : float
        Manning roughness, the same at all depths. [-]

    Returns
    -------
    float
        Flow; zero at and below the lowest point. [m3/s]

    Raises
    ------
    OutOfDomain
        If the slope is negative or the roughness not above zero.
    NoSolution
        If the water stands above the lower bank of the section.

    Notes
    -----
    Q = (1/n) A R^(2/3) S^(1/2)    (manning1891)

    References
    ----------
    manning1891
    chow1959, sec. 6-4
    """
    require_not_negative("slope", slope, "", "Shoot the bed at both ends of the reach")
    require_finite("slope", slope, "", "Shoot the bed at both ends of the reach")
    require_positive("n", n, "", "Take a roughness from a table of channels")
    water = channel_wetted(level, section)
    if water.perimeter == 0.0:
        return 0.0
    return water.area * math.cbrt(water.area / water.perimeter) ** 2 * math.sqrt(slope) / n


def channel_normal_level_manning(
    flow: float, section: ChannelSection, slope: float, *, n: float
) -> float:
    """Water level at which a channel carries a flow, uniform flow.

    Parameters
    ----------
    flow : float
        Flow of the channel. [m3/s]
    section : ChannelSection
        The channel. [m]
    slope : float
        Slope of the bed along the reach. [-]
    n : float
        Manning roughness, the same at all depths. [-]

    Returns
    -------
    float
        Elevation of the water surface, the lowest that carries the flow. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative, or slope or roughness is not above zero.
    NoSolution
        If the flow is more than the section carries to the top of its lower bank.

    Notes
    -----
    level with (1/n) A R^(2/3) S^(1/2) = Q    (manning1891)

    Where water just wets a flat berm the equation for the whole section carries less than a
    little below; the lower level is given.

    References
    ----------
    manning1891
    chow1959, sec. 6-6, normal depth
    """
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")
    require_positive("slope", slope, "", "Shoot the bed at both ends of the reach")
    low = section.bottom
    if flow == 0.0:
        return low
    brim = section.brim
    for high in sorted({z for z in section.elevation if low < z <= brim}):
        if _flow_surplus(high, flow, section, slope, n) >= 0.0:
            above = math.nextafter(low, math.inf)
            if _flow_surplus(above, flow, section, slope, n) >= 0.0:
                return low  # water spills into a side of the section at this very level
            bracket = (above, high, (flow, section, slope, n), LEVEL_TOLERANCE)
            return bracketed_root(_flow_surplus, *bracket)
        low = high
    raise NoSolution(
        f"flow is {flow:.4g} m3/s. The section carries "
        f"{channel_flow_manning(brim, section, slope, n=n):.4g} m3/s to the top of its lower bank "
        f"at {brim:.2f} m. Survey the ground beyond the banks, or check flow, slope and roughness."
    )


def channel_normal_level_manning_range(
    flow: float, section: ChannelSection, slope: float, *, n: float
) -> tuple[Finding, ...]:
    """Findings where a roughness is none of earth channels and streams.

    Parameters
    ----------
    flow : float
        Flow of the channel. [m3/s]
    section : ChannelSection
        The channel. [m]
    slope : float
        Slope of the bed along the reach. [-]
    n : float
        Manning roughness. [-]

    Returns
    -------
    tuple of Finding

    References
    ----------
    chow1959, table 5-6, excavated channels and natural streams
    """
    return outside(
        "Manning roughness of the ditch",
        n,
        "",
        code="channel-roughness",
        source="chow1959",
        low=SMOOTHEST,
        high=ROUGHEST,
        advice="Take a roughness from a table of channels, or say where this one is from",
    )


def channel_roughness_manning(
    flow: float, level: float, section: ChannelSection, slope: float
) -> float:
    """Roughness at which a channel carries a known flow at a known level.

    Parameters
    ----------
    flow : float
        Flow of the channel. [m3/s]
    level : float
        Elevation of the water surface, as a mark or a staff shows it. [m]
    section : ChannelSection
        The channel. [m]
    slope : float
        Slope of the bed along the reach. [-]

    Returns
    -------
    float
        Manning roughness. [-]

    Raises
    ------
    OutOfDomain
        If flow or slope is not above zero, or the level is not above the bottom.
    NoSolution
        If the level is above the lower bank of the section.

    Notes
    -----
    n = A R^(2/3) S^(1/2) / Q    (manning1891)

    References
    ----------
    manning1891
    """
    require_positive("flow", flow, "m3/s", "A mark needs the flow that left it")
    require_positive("slope", slope, "", "Shoot the bed at both ends of the reach")
    if not level > section.bottom:
        raise refuse(
            "level", level, "m", f"It must be above the bottom, {section.bottom:.2f} m", "Check it"
        )
    return channel_flow_manning(level, section, slope, n=1.0) / flow


def _flow_surplus(
    level: float, flow: float, section: ChannelSection, slope: float, n: float
) -> float:
    return channel_flow_manning(level, section, slope, n=n) - flow
