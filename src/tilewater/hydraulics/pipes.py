# SPDX-License-Identifier: Apache-2.0
"""What a drain pipe carries: Manning's equation, full and part full.

`slope` is the grade of the pipe where it runs part full, and the slope of the grade line where it
runs full; a surcharged main carries more than its grade says. Every name of the pipes is found
here; `pipe_sections` holds the geometry, `pipe_velocities` the velocities, `pipe_losses` the grade
lines of full pipes and `pipe_materials` roughness, limits of velocity and drained areas.
"""

import math
from typing import TypeVar

from tilewater.basis.domain import Number, require_finite, require_not_negative
from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics.limits import outside
from tilewater.hydraulics.pipe_losses import (
    pipe_flow_full_for_head_manning,
    pipe_head_loss_full_manning,
    pipe_head_loss_uniform_outflow_manning,
    pipe_slope_for_flow_full_manning,
)
from tilewater.hydraulics.pipe_materials import (
    PipeRoughness,
    drainage_flow,
    drained_area,
    pipe_materials,
    pipe_roughness_entry,
    pipe_roughness_manning,
    pipe_velocity_least,
    pipe_velocity_limit,
    pipe_velocity_range,
    pipe_velocity_soils,
)
from tilewater.hydraulics.pipe_sections import (
    pipe_area_full,
    pipe_area_wetted,
    pipe_hydraulic_radius,
    pipe_perimeter_wetted,
    pipe_surface_angle,
    pipe_top_width,
)
from tilewater.hydraulics.pipe_velocities import (
    pipe_slope_for_velocity_full_manning,
    pipe_velocity_full_manning,
    pipe_velocity_manning,
    velocity_manning,
)

__all__ = [
    "PipeRoughness",
    "drainage_flow",
    "drained_area",
    "pipe_area_full",
    "pipe_area_wetted",
    "pipe_flow_full_for_head_manning",
    "pipe_flow_full_manning",
    "pipe_flow_full_manning_range",
    "pipe_flow_largest_manning",
    "pipe_flow_manning",
    "pipe_flow_manning_range",
    "pipe_head_loss_full_manning",
    "pipe_head_loss_uniform_outflow_manning",
    "pipe_hydraulic_radius",
    "pipe_materials",
    "pipe_normal_depth_manning",
    "pipe_perimeter_wetted",
    "pipe_roughness_entry",
    "pipe_roughness_manning",
    "pipe_slope_for_flow_full_manning",
    "pipe_slope_for_velocity_full_manning",
    "pipe_surface_angle",
    "pipe_top_width",
    "pipe_velocity_full_manning",
    "pipe_velocity_least",
    "pipe_velocity_limit",
    "pipe_velocity_manning",
    "pipe_velocity_range",
    "pipe_velocity_soils",
    "velocity_manning",
]

N = TypeVar("N", float, Number)

# Drain pipe and tile lie between the smoothest plastic and the roughest corrugated metal that
# chow1959 lists for drains; the low end is remembered from efh14.
SMOOTHEST = 0.009
ROUGHEST = 0.021
TWO_DEPTHS_FROM = 0.82  # share of the diameter above which a flow stands at two depths


def pipe_flow_full_manning(diameter: N, slope: N, *, n: N) -> N:
    """Flow in a pipe that runs full.

    With the grade of the pipe it is the capacity without surcharge; with the slope of a steeper
    grade line it is the flow under pressure.

    Parameters
    ----------
    diameter : float or array
        Inside diameter. [m]
    slope : float or array
        Slope of the grade line, or of the pipe when it runs just full. [-]
    n : float or array
        Manning roughness. [-]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If the slope is negative or diameter or roughness not above zero.

    Notes
    -----
    Q = (1/n) A R^(2/3) S^(1/2), A = pi D^2/4, R = D/4    (manning1891)

    See `pipe_flow_full_manning_range` for the roughness of drain pipe.

    References
    ----------
    manning1891
    """
    return pipe_area_full(diameter) * pipe_velocity_full_manning(diameter, slope, n=n)


def pipe_flow_full_manning_range(
    diameter: Number, slope: Number, *, n: Number
) -> tuple[Finding, ...]:
    """Findings where a roughness is none of drain pipe.

    Parameters
    ----------
    diameter : float or array
        Inside diameter. [m]
    slope : float or array
        Slope of the grade line. [-]
    n : float or array
        Manning roughness. [-]

    Returns
    -------
    tuple of Finding

    References
    ----------
    chow1959, table 5-6
    """
    return outside(
        "Manning roughness of the pipe",
        n,
        "",
        code="pipe-roughness",
        source="chow1959",
        low=SMOOTHEST,
        high=ROUGHEST,
        advice="Take a roughness from the table of pipe materials, or say where this one is from",
    )


def pipe_flow_manning(depth: N, diameter: N, slope: N, *, n: N) -> N:
    """Flow in a pipe that runs part full.

    Parameters
    ----------
    depth : float or array
        Depth of water above the invert. [m]
    diameter : float or array
        Inside diameter. [m]
    slope : float or array
        Grade of the pipe. [-]
    n : float or array
        Manning roughness, the same at all depths. [-]

    Returns
    -------
    float or array
        Flow, at most 1.076 of the full one, at 0.938 of the diameter. [m3/s]

    Raises
    ------
    OutOfDomain
        If the depth is not within the pipe, the slope is negative, or diameter or roughness is
        not above zero.

    Notes
    -----
    Q = (1/n) A R^(2/3) S^(1/2)    (manning1891)

    Measured pipes show more roughness part full; the surplus of flow over the full pipe is seldom
    reached. See `pipe_flow_manning_range`.

    References
    ----------
    manning1891
    chow1959, section geometry, circle
    """
    return pipe_area_wetted(depth, diameter) * pipe_velocity_manning(depth, diameter, slope, n=n)


def pipe_flow_manning_range(
    depth: Number, diameter: Number, slope: Number, *, n: Number
) -> tuple[Finding, ...]:
    """Findings where a pipe stands so full that its depth is not steady.

    Parameters
    ----------
    depth : float or array
        Depth of water above the invert. [m]
    diameter : float or array
        Inside diameter. [m]
    slope : float or array
        Grade of the pipe. [-]
    n : float or array
        Manning roughness. [-]

    Returns
    -------
    tuple of Finding

    References
    ----------
    chow1959, section geometry, circle
    """
    nearly_full = outside(
        "share of the pipe's diameter under water",
        depth / diameter,
        "",
        code="pipe-depth",
        source="chow1959",
        high=TWO_DEPTHS_FROM,
        severity="note",
        advice="A flow stands at two depths here and may fill the pipe. Count it as full",
    )
    return (*pipe_flow_full_manning_range(diameter, slope, n=n), *nearly_full)


def pipe_flow_largest_manning(diameter: N, slope: N, *, n: N) -> N:
    """Largest flow of a pipe that runs part full.

    Parameters
    ----------
    diameter : float or array
        Inside diameter. [m]
    slope : float or array
        Grade of the pipe. [-]
    n : float or array
        Manning roughness. [-]

    Returns
    -------
    float or array
        Flow, 1.0757 of the full one. [m3/s]

    Raises
    ------
    OutOfDomain
        If the slope is negative or diameter or roughness not above zero.

    Notes
    -----
    Where dQ/dangle = 0: 3 angle - 5 angle cos angle + 2 sin angle = 0    (derived)

    References
    ----------
    manning1891
    derived, maximum of A R^(2/3) of a circle
    """
    return LARGEST_RATIO * pipe_flow_full_manning(diameter, slope, n=n)


def pipe_normal_depth_manning(flow: float, diameter: float, slope: float, *, n: float) -> float:
    """Depth at which a pipe carries a flow, the lower of two.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    diameter : float
        Inside diameter. [m]
    slope : float
        Grade of the pipe. [-]
    n : float
        Manning roughness, the same at all depths. [-]

    Returns
    -------
    float
        Depth above the invert, 0 to 0.938 of the diameter. [m]

    Raises
    ------
    OutOfDomain
        If flow or slope is negative or diameter or roughness not above zero.
    NoSolution
        If the flow is above the largest that the pipe carries part full.

    Notes
    -----
    Q/Q_full = (angle - sin angle)^(5/3) / (2 pi angle^(2/3)),  y = D sin(angle/4)^2    (chow1959)

    From 1 to 1.076 of the full flow a second, higher depth exists; the lower is returned.

    References
    ----------
    chow1959, section geometry, circle
    manning1891
    """
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")
    full = pipe_flow_full_manning(diameter, slope, n=n)
    if flow == 0.0:
        return 0.0
    if flow > LARGEST_RATIO * full * (1.0 + ROUNDING):
        raise NoSolution(
            f"flow is {flow:.4g} m3/s. A pipe of {diameter:.4g} m at a slope of {slope:.4g} "
            f"carries at most {LARGEST_RATIO * full:.4g} m3/s with a free surface. "
            f"Take a larger pipe or more grade, or compute it as a full pipe under pressure."
        )
    ratio = min(flow / full, LARGEST_RATIO)
    angle = bracketed_root(_flow_surplus, 0.0, LARGEST_ANGLE, (ratio,), ANGLE_TOLERANCE)
    return float(diameter * math.sin(angle / 4.0) ** 2)


def _flow_surplus(angle: float, ratio: float) -> float:
    """Flow at a surface angle over the full flow, less a ratio."""
    if angle == 0.0:
        return -ratio
    return math.cbrt((angle - math.sin(angle)) ** 5 / angle**2) / (2.0 * math.pi) - ratio


def _slope_of_flow(angle: float) -> float:
    """Zero where the flow is largest; the sign of dQ/dangle."""
    return 3.0 * angle - 5.0 * angle * math.cos(angle) + 2.0 * math.sin(angle)


ANGLE_TOLERANCE = 1e-13
ROUNDING = 1e-12  # a flow computed at the largest may come out a digit above it
LARGEST_ANGLE = bracketed_root(_slope_of_flow, math.pi, 2.0 * math.pi, (), ANGLE_TOLERANCE)
LARGEST_RATIO = _flow_surplus(LARGEST_ANGLE, 0.0)
