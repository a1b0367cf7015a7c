# SPDX-License-Identifier: Apache-2.0
"""Water in a bed of chips: how long it stays, how it drains, and when the laws are strained.

Every name about media is found here: flow and surface come from `bed_flow`, conductivity by
temperature, age and gradient from `media_conductivity`. Which media a job uses is not decided here.
"""

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive, require_share
from tilewater.basis.findings import Finding
from tilewater.hydraulics.bed_flow import (
    bed_flow_darcy,
    bed_flow_forchheimer,
    bed_surface_depth,
    bed_wet_volume,
)
from tilewater.hydraulics.limits import outside
from tilewater.hydraulics.media_conductivity import (
    conductivity_at_age,
    conductivity_at_temperature,
    conductivity_share_seen,
    filter_velocity_forchheimer,
    forchheimer_inertia_ward,
)
from tilewater.hydraulics.water import REPORTED_AT, kinematic_viscosity

__all__ = [
    "bed_flow_darcy",
    "bed_flow_forchheimer",
    "bed_mean_depth_dupuit",
    "bed_surface_depth",
    "bed_volume_for_residence",
    "bed_wet_volume",
    "conductivity_at_age",
    "conductivity_at_temperature",
    "conductivity_share_seen",
    "drain_down_time_boussinesq",
    "filter_velocity_forchheimer",
    "forchheimer_inertia_ward",
    "media_range",
    "residence_time",
]

BOUSSINESQ_DECAY = 1.115
SURFACE_SLOPE_MOST = 0.1
LINEAR_REYNOLDS_MOST = 10.0
SHARE_SEEN_LEAST = 0.9


def bed_mean_depth_dupuit(depth_upstream: Number, depth_downstream: Number) -> Number:
    """Mean depth of the water in a bed with upright sides, by Darcy's law.

    Parameters
    ----------
    depth_upstream : float or array
        Water above the floor at the inlet end. [m]
    depth_downstream : float or array
        Water above the floor at the outlet end. [m]

    Returns
    -------
    float or array
        Mean over the length, larger than the mean of the two ends. [m]

    Raises
    ------
    OutOfDomain
        If a depth is negative or both are zero.

    Notes
    -----
    hm = (2/3) (h1^3 - h2^3) / (h1^2 - h2^2)    (dupuit1863)

    Written as (2/3) (h1^2 + h1 h2 + h2^2) / (h1 + h2), which also holds for equal depths.

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    advice = "Count from the floor of the bed"
    require_not_negative("depth_upstream", depth_upstream, "m", advice)
    require_not_negative("depth_downstream", depth_downstream, "m", advice)
    both = np.add(depth_upstream, depth_downstream)
    require_positive("depth_upstream + depth_downstream", both, "m", "An empty bed has no surface")
    squares = depth_upstream**2 + depth_upstream * depth_downstream + depth_downstream**2
    return np.divide(2.0 * squares, 3.0 * both)[()]


def residence_time(wet_volume: Number, flow: Number, *, porosity: Number) -> Number:
    """Time that water stays in the pores of a bed, were it all used evenly.

    Parameters
    ----------
    wet_volume : float or array
        Media under water, with its pores. [m3]
    flow : float or array
        Flow through the bed. [m3/s]
    porosity : float or array
        Porosity that the water passes: effective for solutes, drainable or total. [-]

    Returns
    -------
    float or array
        Residence time. [s]

    Raises
    ------
    OutOfDomain
        If the volume is negative, the flow not above zero or the porosity no share.

    Notes
    -----
    t = n V / Q    (levenspiel1999)

    References
    ----------
    levenspiel1999, space time
    """
    require_not_negative("wet_volume", wet_volume, "m3", "Give the media under water")
    require_positive("flow", flow, "m3/s", "A bed without flow has no residence time")
    require_share("porosity", porosity, "Give 61 percent as 0.61")
    return porosity * wet_volume / flow


def bed_volume_for_residence(flow: Number, time: Number, *, porosity: Number) -> Number:
    """Volume of wet media that holds a flow for a time.

    Parameters
    ----------
    flow : float or array
        Flow through the bed. [m3/s]
    time : float or array
        Residence time wanted. [s]
    porosity : float or array
        Porosity that the water passes: effective for solutes, drainable or total. [-]

    Returns
    -------
    float or array
        Media under water, with its pores. [m3]

    Raises
    ------
    OutOfDomain
        If the flow or the time is negative, or the porosity is no share or zero.

    Notes
    -----
    V = Q t / n    (levenspiel1999)

    References
    ----------
    levenspiel1999, space time
    """
    require_not_negative("flow", flow, "m3/s", "Give the flow through the bed")
    require_not_negative("time", time, "s", "Give the residence time wanted")
    require_share("porosity", porosity, "Give 61 percent as 0.61")
    require_positive("porosity", porosity, "", "Give 61 percent as 0.61")
    return flow * time / porosity


def drain_down_time_boussinesq(
    share_drained: Number,
    *,
    depth: Number,
    length: Number,
    conductivity: Number,
    drainable_porosity: Number,
) -> Number:
    """Time until a closed bed has let go a share of the water that can drain.

    The outlet end is open at the floor, the other end closed. What lies below the outlet never
    drains and is no part of the share.

    Parameters
    ----------
    share_drained : float or array
        Share of the drainable water that has left, below 1. [-]
    depth : float or array
        Depth of the water at the closed upstream end at the start. [m]
    length : float or array
        Length of the whole bed. [m]
    conductivity : float or array
        Saturated hydraulic conductivity at the temperature of the water. [m/s]
    drainable_porosity : float or array
        Water let go per volume of media. [-]

    Returns
    -------
    float or array
        Time since the outlet was opened. [s]

    Raises
    ------
    OutOfDomain
        If the share is not from 0 to below 1, the porosity no share, or another value not above
        zero.

    Notes
    -----
    t = s / (1 - s) / (1.115 K D / (f L^2))    (boussinesq1904)

    The surface keeps one shape while it sinks, from the start; inertia and the sides' slope are
    left out.

    References
    ----------
    boussinesq1904, recession of a water table on a level floor
    """
    require_share("share_drained", share_drained, "Give 95 percent as 0.95")
    require_positive("1 - share_drained", 1.0 - share_drained, "", "The last drop never leaves")
    require_positive("depth", depth, "m", "Give the water at the closed end")
    require_positive("length", length, "m", "Give the whole length of the bed")
    require_positive("conductivity", conductivity, "m/s", "Give it at the water's temperature")
    require_share("drainable_porosity", drainable_porosity, "Give 45 percent as 0.45")
    decay = BOUSSINESQ_DECAY * conductivity * depth
    storage = drainable_porosity * length**2
    return share_drained / (1.0 - share_drained) * storage / decay


def media_range(
    depth_upstream: float,
    depth_downstream: float,
    *,
    length: float,
    conductivity: float,
    inertia: float,
    grain_diameter: float,
    test_gradient: float | None = None,
) -> tuple[Finding, ...]:
    """Findings where the laws of flow through media, or the test of the media, are strained.

    Parameters
    ----------
    depth_upstream : float
        Water above the floor at the inlet end. [m]
    depth_downstream : float
        Water above the floor at the outlet end. [m]
    length : float
        Way of the water through the media. [m]
    conductivity : float
        Saturated hydraulic conductivity. [m/s]
    inertia : float
        Inertia of the media. [s2/m2]
    grain_diameter : float
        Median size of the media. [m]
    test_gradient : float, optional
        Gradient at which the conductivity was tested, None if it is not known. [m/m]

    Returns
    -------
    tuple of Finding
        Empty when nothing is strained.
    """
    slope = abs(depth_upstream - depth_downstream) / length
    velocity = filter_velocity_forchheimer(slope, conductivity=conductivity, inertia=inertia)
    reynolds = velocity * grain_diameter / kinematic_viscosity(REPORTED_AT)
    found = outside(
        "mean slope of the water surface in the bed",
        slope,
        "",
        code="bed-surface-slope",
        source="practice",
        advice="Lengthen the bed or lower the head; the flow is no longer level",
        high=SURFACE_SLOPE_MOST,
    ) + outside(
        "Reynolds number in the media",
        reynolds,
        "",
        code="bed-reynolds",
        source="hassanizadeh1987",
        advice="Darcy's law over-predicts here; use the flow with inertia",
        high=LINEAR_REYNOLDS_MOST,
        severity="note",
    )
    return (
        found
        if test_gradient is None
        else found + _test_range(test_gradient, conductivity, inertia)
    )


def _test_range(gradient: float, conductivity: float, inertia: float) -> tuple[Finding, ...]:
    seen = float(conductivity_share_seen(gradient, conductivity=conductivity, inertia=inertia))
    if seen >= SHARE_SEEN_LEAST:
        return ()
    message = (
        f"The conductivity was tested at a gradient of {gradient:.3g}, where media like these show "
        f"about {seen:.0%} of what they show in a bed. A test at a few percent of gradient is "
        f"needed. Test again, or treat the reported value as low."
    )
    return (
        Finding(
            "conductivity-test-steep",
            "caution",
            "gradient of the conductivity test",
            message,
            seen,
            ">=",
            SHARE_SEEN_LEAST,
            "",
            "forchheimer1901",
        ),
    )
