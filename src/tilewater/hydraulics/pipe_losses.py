# SPDX-License-Identifier: Apache-2.0
"""Grade lines of pipes that run full: friction, entrance and exit, and the least grade.

All take a sign: where water runs back through a full pipe its flow, slope and loss are negative.
Losses of structures, bends and perforations are added by the caller as coefficients.
"""

from typing import TypeVar

import numpy as np

from tilewater.basis.domain import Number, require_finite, require_not_negative, require_positive
from tilewater.basis.unit_table import STANDARD_GRAVITY
from tilewater.hydraulics.pipe_sections import pipe_area_full
from tilewater.hydraulics.pipe_velocities import N_ADVICE, pipe_slope_for_velocity_full_manning

N = TypeVar("N", float, Number)

GRAVITY = float(STANDARD_GRAVITY)
ENTRANCE = 0.5  # from memory: 0.5 for a sharp edge flush with the wall, 0.9 for a projecting pipe
EXIT = 1.0  # from memory: all of the velocity head is lost in still water
COEFFICIENT_ADVICE = "A loss takes head away. Check the coefficient"


def pipe_slope_for_flow_full_manning(flow: N, diameter: N, *, n: N) -> N:
    """Slope of the grade line that drives a flow through a full pipe.

    Steeper than the pipe, it is the surcharged grade line; gentler, the pipe would not run full.

    Parameters
    ----------
    flow : float or array
        Flow, negative where it runs back. [m3/s]
    diameter : float or array
        Inside diameter. [m]
    n : float or array
        Manning roughness. [-]

    Returns
    -------
    float or array
        Friction slope, with the sign of the flow. [-]

    Raises
    ------
    OutOfDomain
        If diameter or roughness is not above zero.

    Notes
    -----
    S = (n Q / (A R^(2/3)))^2, A = pi D^2/4, R = D/4    (manning1891)

    References
    ----------
    manning1891
    """
    require_finite("flow", flow, "m3/s", "Check the flow")
    return pipe_slope_for_velocity_full_manning(flow / pipe_area_full(diameter), diameter, n=n)


def pipe_head_loss_full_manning(
    flow: N,
    diameter: N,
    *,
    length: N,
    n: N,
    entrance_coefficient: float = ENTRANCE,
    exit_coefficient: float = EXIT,
) -> N:
    """Head that a flow loses in a full pipe between two pools.

    Parameters
    ----------
    flow : float or array
        Flow, negative where it runs back. [m3/s]
    diameter : float or array
        Inside diameter. [m]
    length : float or array
        Length of the pipe. [m]
    n : float or array
        Manning roughness. [-]
    entrance_coefficient : float
        Velocity heads lost at the entrance, 0.5 to 0.9. [-]
    exit_coefficient : float
        Velocity heads lost at the exit. [-]

    Returns
    -------
    float or array
        Upstream pool above downstream pool, with the sign of the flow. [m]

    Raises
    ------
    OutOfDomain
        If length or a coefficient is negative, or diameter or roughness not above zero.

    Notes
    -----
    h = S L + (k_entrance + k_exit) V^2 / (2 g)    (usbr2001)

    S is that of `pipe_slope_for_flow_full_manning`. The two coefficients are from memory. Both
    ends must be under water.

    References
    ----------
    manning1891
    usbr2001, losses at entrance and exit, from memory
    """
    _require_losses(length, entrance_coefficient, exit_coefficient)
    velocity = flow / pipe_area_full(diameter)
    velocity_head = velocity * np.abs(velocity) / (2.0 * GRAVITY)
    friction = pipe_slope_for_flow_full_manning(flow, diameter, n=n) * length
    loss: N = friction + (entrance_coefficient + exit_coefficient) * velocity_head
    return loss


def pipe_flow_full_for_head_manning(
    head: N,
    diameter: N,
    *,
    length: N,
    n: N,
    entrance_coefficient: float = ENTRANCE,
    exit_coefficient: float = EXIT,
) -> N:
    """Flow through a full pipe between two pools.

    Parameters
    ----------
    head : float or array
        Upstream pool above downstream pool, negative where the water runs back. [m]
    diameter : float or array
        Inside diameter. [m]
    length : float or array
        Length of the pipe. [m]
    n : float or array
        Manning roughness. [-]
    entrance_coefficient : float
        Velocity heads lost at the entrance, 0.5 to 0.9. [-]
    exit_coefficient : float
        Velocity heads lost at the exit. [-]

    Returns
    -------
    float or array
        Flow, with the sign of the head. [m3/s]

    Raises
    ------
    OutOfDomain
        If length or a coefficient is negative, all losses are zero, or diameter or roughness is
        not above zero.

    Notes
    -----
    V = sqrt(h / (L n^2 / (D/4)^(4/3) + (k_entrance + k_exit) / (2 g))), Q = A V    (derived)

    The equation of `pipe_head_loss_full_manning` solved for the flow.

    References
    ----------
    manning1891
    derived, from the head loss of a full pipe
    """
    _require_losses(length, entrance_coefficient, exit_coefficient)
    require_finite("head", head, "m", "Check the two water levels")
    area = pipe_area_full(diameter)
    require_positive("n", n, "", N_ADVICE)
    friction = length * n**2 / (diameter / 4.0) ** (4.0 / 3.0)
    loss = friction + (entrance_coefficient + exit_coefficient) / (2.0 * GRAVITY)
    require_positive("loss at 1 m/s", loss, "m", "Give a length or a coefficient")
    flow: N = area * np.sign(head) * np.sqrt(np.abs(head) / loss)
    return flow


def pipe_head_loss_uniform_outflow_manning(flow: N, diameter: N, *, length: N, n: N) -> N:
    """Friction in a full distribution pipe that loses its flow evenly along its length.

    Parameters
    ----------
    flow : float or array
        Flow that enters; none is left at the far end. [m3/s]
    diameter : float or array
        Inside diameter. [m]
    length : float or array
        Length of the pipe. [m]
    n : float or array
        Manning roughness. [-]

    Returns
    -------
    float or array
        Loss of head from the near to the far end, velocity head not counted. [m]

    Raises
    ------
    OutOfDomain
        If the length is negative or diameter or roughness not above zero.

    Notes
    -----
    h = S(Q_in) L / 3    (christiansen1942)

    The limit of many outlets; derived here from Q = Q_in (1 - x/L). Water that leaves evenly is an
    assumption: more leaves near the inlet where friction is large.

    References
    ----------
    christiansen1942, limit of many outlets, from memory
    manning1891
    """
    require_not_negative("length", length, "m", "Check the two stations")
    return pipe_slope_for_flow_full_manning(flow, diameter, n=n) * length / 3.0


def _require_losses(length: Number, entrance: float, exit_: float) -> None:
    require_not_negative("length", length, "m", "Check the two stations")
    require_finite("length", length, "m", "Check the two stations")
    require_not_negative("entrance coefficient", entrance, "", COEFFICIENT_ADVICE)
    require_not_negative("exit coefficient", exit_, "", COEFFICIENT_ADVICE)
