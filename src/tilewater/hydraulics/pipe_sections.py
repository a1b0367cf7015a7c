# SPDX-License-Identifier: Apache-2.0
"""Geometry of the water in a round pipe: area, wetted perimeter, hydraulic radius, top width.

All of it in the angle that the water surface subtends at the centre of the pipe. How much flows
is in `pipes`.
"""

import math
from typing import TypeVar

import numpy as np

from tilewater.basis.domain import Number, refuse, require_finite, require_positive

N = TypeVar("N", float, Number)

DEPTH_ADVICE = "Take the full section where the pipe runs full"


def pipe_surface_angle(depth: N, diameter: N) -> N:
    """Angle that the water surface subtends at the centre of a pipe.

    Parameters
    ----------
    depth : float or array
        Depth of water above the invert, 0 to `diameter`. [m]
    diameter : float or array
        Inside diameter. [m]

    Returns
    -------
    float or array
        Angle, 0 in an empty pipe and 2 pi in a full one. [rad]

    Raises
    ------
    OutOfDomain
        If the depth is negative or above the diameter, or the diameter not above zero.

    Notes
    -----
    angle = 2 acos(1 - 2 y/D) = 4 asin(sqrt(y/D))    (chow1959)

    The second form keeps its digits in shallow water.

    References
    ----------
    chow1959, section geometry, circle
    """
    require_positive("diameter", diameter, "m", "Check the inside diameter")
    require_finite("diameter", diameter, "m", "Check the inside diameter")
    share = np.asarray(depth / diameter)
    if not np.all((share >= 0) & (share <= 1)):
        worst = np.broadcast_to(depth, share.shape)[~((share >= 0) & (share <= 1))].flat[0]
        raise refuse("depth", float(worst), "m", "It lies between 0 and the diameter", DEPTH_ADVICE)
    angle: N = 4.0 * np.arcsin(np.sqrt(depth / diameter))
    return angle


def pipe_area_full(diameter: N) -> N:
    """Inside area of a pipe.

    Parameters
    ----------
    diameter : float or array
        Inside diameter. [m]

    Returns
    -------
    float or array
        Area. [m2]

    Raises
    ------
    OutOfDomain
        If the diameter is not above zero.

    Notes
    -----
    A = pi D^2 / 4    (chow1959)

    References
    ----------
    chow1959, section geometry, circle
    """
    require_positive("diameter", diameter, "m", "Check the inside diameter")
    return math.pi * diameter**2 / 4.0


def pipe_area_wetted(depth: N, diameter: N) -> N:
    """Area of the water in a pipe.

    Parameters
    ----------
    depth : float or array
        Depth of water above the invert. [m]
    diameter : float or array
        Inside diameter. [m]

    Returns
    -------
    float or array
        Area. [m2]

    Raises
    ------
    OutOfDomain
        If the depth is not within the pipe.

    Notes
    -----
    A = (angle - sin angle) D^2 / 8    (chow1959)

    References
    ----------
    chow1959, section geometry, circle
    """
    angle = pipe_surface_angle(depth, diameter)
    area: N = (angle - np.sin(angle)) * diameter**2 / 8.0
    return area


def pipe_perimeter_wetted(depth: N, diameter: N) -> N:
    """Length of pipe wall that the water touches in a section.

    Parameters
    ----------
    depth : float or array
        Depth of water above the invert. [m]
    diameter : float or array
        Inside diameter. [m]

    Returns
    -------
    float or array
        Wetted perimeter. [m]

    Raises
    ------
    OutOfDomain
        If the depth is not within the pipe.

    Notes
    -----
    P = angle D / 2    (chow1959)

    References
    ----------
    chow1959, section geometry, circle
    """
    return pipe_surface_angle(depth, diameter) * diameter / 2.0


def pipe_hydraulic_radius(depth: N, diameter: N) -> N:
    """Hydraulic radius of the water in a pipe: area over wetted perimeter.

    Parameters
    ----------
    depth : float or array
        Depth of water above the invert. [m]
    diameter : float or array
        Inside diameter. [m]

    Returns
    -------
    float or array
        Hydraulic radius, zero in an empty pipe. [m]

    Raises
    ------
    OutOfDomain
        If the depth is not within the pipe.

    Notes
    -----
    R = (1 - sin angle / angle) D / 4    (chow1959)

    References
    ----------
    chow1959, section geometry, circle
    """
    angle = pipe_surface_angle(depth, diameter)
    # numpy's sinc(x) is sin(pi x)/(pi x) and is 1 at zero, where the quotient has no value
    radius: N = (1.0 - np.sinc(angle / math.pi)) * diameter / 4.0
    return radius


def pipe_top_width(depth: N, diameter: N) -> N:
    """Width of the water surface in a pipe.

    Parameters
    ----------
    depth : float or array
        Depth of water above the invert. [m]
    diameter : float or array
        Inside diameter. [m]

    Returns
    -------
    float or array
        Width, zero in an empty and in a full pipe. [m]

    Raises
    ------
    OutOfDomain
        If the depth is not within the pipe.

    Notes
    -----
    T = 2 sqrt(y (D - y))    (chow1959)

    References
    ----------
    chow1959, section geometry, circle
    """
    pipe_surface_angle(depth, diameter)  # refuses a depth outside the pipe
    width: N = 2.0 * np.sqrt(depth * (diameter - depth))
    return width
