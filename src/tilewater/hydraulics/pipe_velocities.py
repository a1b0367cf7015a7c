# SPDX-License-Identifier: Apache-2.0
"""Velocity of uniform flow by Manning's equation, in any section and in pipes.

Which velocities keep a drain clean and its soil in place is in `pipe_materials`.
"""

from typing import TypeVar

import numpy as np

from tilewater.basis.domain import Number, require_finite, require_not_negative, require_positive
from tilewater.hydraulics.pipe_sections import pipe_hydraulic_radius

N = TypeVar("N", float, Number)

SLOPE_ADVICE = "A pipe laid back carries nothing by its grade. Check the two inverts"
N_ADVICE = "Take a roughness from the table of pipe materials"


def velocity_manning(hydraulic_radius: N, slope: N, *, n: N) -> N:
    """Mean velocity of uniform flow.

    Parameters
    ----------
    hydraulic_radius : float or array
        Area over wetted perimeter. [m]
    slope : float or array
        Slope of the grade line. [-]
    n : float or array
        Manning roughness, the number of the tables. [-]

    Returns
    -------
    float or array
        Velocity. [m/s]

    Raises
    ------
    OutOfDomain
        If radius or slope is negative or the roughness not above zero.

    Notes
    -----
    V = (1/n) R^(2/3) S^(1/2)    (manning1891)

    Holds for fully rough turbulent flow. The tables keep the number n in feet and in metres; the
    factor 1.486 of the US form is a rounded 0.3048^(-1/3).

    References
    ----------
    manning1891
    chow1959, sec. 5-6
    """
    require_not_negative("hydraulic radius", hydraulic_radius, "m", "Check area and perimeter")
    require_not_negative("slope", slope, "", SLOPE_ADVICE)
    require_finite("slope", slope, "", SLOPE_ADVICE)
    require_positive("n", n, "", N_ADVICE)
    velocity: N = hydraulic_radius ** (2.0 / 3.0) * np.sqrt(slope) / n
    return velocity


def pipe_velocity_full_manning(diameter: N, slope: N, *, n: N) -> N:
    """Mean velocity in a pipe that runs full.

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
        Velocity. [m/s]

    Raises
    ------
    OutOfDomain
        If the slope is negative or diameter or roughness not above zero.

    Notes
    -----
    V = (1/n) (D/4)^(2/3) S^(1/2)    (manning1891)

    References
    ----------
    manning1891
    """
    require_positive("diameter", diameter, "m", "Check the inside diameter")
    return velocity_manning(diameter / 4.0, slope, n=n)


def pipe_velocity_manning(depth: N, diameter: N, slope: N, *, n: N) -> N:
    """Mean velocity in a pipe that runs part full.

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
        Velocity, at most 1.14 of the full one, at 0.81 of the diameter. [m/s]

    Raises
    ------
    OutOfDomain
        If the depth is not within the pipe, the slope is negative, or diameter or roughness is
        not above zero.

    Notes
    -----
    V = (1/n) R^(2/3) S^(1/2)    (manning1891)

    References
    ----------
    manning1891
    chow1959, section geometry, circle
    """
    return velocity_manning(pipe_hydraulic_radius(depth, diameter), slope, n=n)


def pipe_slope_for_velocity_full_manning(velocity: N, diameter: N, *, n: N) -> N:
    """Grade at which a pipe that runs full has a velocity.

    With the least velocity that keeps silt moving it is the least grade of a drain.

    Parameters
    ----------
    velocity : float or array
        Mean velocity, negative where the water runs back. [m/s]
    diameter : float or array
        Inside diameter. [m]
    n : float or array
        Manning roughness. [-]

    Returns
    -------
    float or array
        Slope, with the sign of the velocity. [-]

    Raises
    ------
    OutOfDomain
        If diameter or roughness is not above zero.

    Notes
    -----
    S = (n V / (D/4)^(2/3))^2    (manning1891)

    References
    ----------
    manning1891
    """
    require_positive("diameter", diameter, "m", "Check the inside diameter")
    require_positive("n", n, "", N_ADVICE)
    slope: N = velocity * np.abs(velocity) * n**2 / (diameter / 4.0) ** (4.0 / 3.0)
    return slope
