# SPDX-License-Identifier: Apache-2.0
"""Flow through openings under water: orifices, gates, the slot under raised boards.

Submerged openings take a sign: where the water outside is higher the flow comes back negative. An
opening that is not covered is a weir and belongs to `weirs`; a piped opening has friction and
belongs to `pipe_losses`.
"""

import math
from typing import TypeVar

import numpy as np

from tilewater.basis import unit_table
from tilewater.basis.domain import Number, require_finite, require_not_negative, require_positive
from tilewater.basis.findings import Finding
from tilewater.hydraulics.limits import outside

N = TypeVar("N", float, Number)

GRAVITY = float(unit_table.STANDARD_GRAVITY)
ROOT_2G = math.sqrt(2.0 * GRAVITY)
SHARP_EDGE = 0.61
LEVEL_ADVICE = "Check the water levels"


def orifice_flow_submerged(head_difference: N, *, area: N, coefficient: float = SHARP_EDGE) -> N:
    """Flow through an opening under water on both sides.

    Parameters
    ----------
    head_difference : float or array
        Upstream water level above the downstream one; negative where water flows back. [m]
    area : float or array
        Area of the opening. [m2]
    coefficient : float
        Coefficient of discharge, 0.61 for a sharp edge. [-]

    Returns
    -------
    float or array
        Flow, with the sign of the difference. [m3/s]

    Raises
    ------
    OutOfDomain
        If the area is negative or the coefficient not above zero.

    Notes
    -----
    Q = Cd A sqrt(2 g dh)    (usbr2001)

    References
    ----------
    usbr2001, submerged orifices; coefficient from memory
    """
    require_finite("head difference", head_difference, "m", LEVEL_ADVICE)
    _require_opening(area, coefficient)
    flow: N = (
        coefficient * area * ROOT_2G * np.sign(head_difference) * np.sqrt(np.abs(head_difference))
    )
    return flow


def orifice_head_difference_submerged(flow: N, *, area: N, coefficient: float = SHARP_EDGE) -> N:
    """Difference of water levels that drives a flow through an opening under water.

    Parameters
    ----------
    flow : float or array
        Flow, negative where water flows back. [m3/s]
    area : float or array
        Area of the opening. [m2]
    coefficient : float
        Coefficient of discharge, 0.61 for a sharp edge. [-]

    Returns
    -------
    float or array
        Upstream water level above the downstream one, with the sign of the flow. [m]

    Raises
    ------
    OutOfDomain
        If area or coefficient is not above zero.

    Notes
    -----
    dh = (Q / (Cd A))^2 / (2 g)    (usbr2001)

    References
    ----------
    usbr2001, submerged orifices; coefficient from memory
    """
    require_finite("flow", flow, "m3/s", "Check the flow")
    require_positive("area", area, "m2", "Check the size of the opening")
    _require_opening(area, coefficient)
    velocity = flow / (coefficient * area)
    difference: N = velocity * np.abs(velocity) / (2.0 * GRAVITY)
    return difference


def orifice_flow_free(head: N, *, area: N, coefficient: float = SHARP_EDGE) -> N:
    """Flow through a covered opening into the air.

    Parameters
    ----------
    head : float or array
        Water level above the centre of the opening. [m]
    area : float or array
        Area of the opening. [m2]
    coefficient : float
        Coefficient of discharge, 0.61 for a sharp edge. [-]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If the head or the area is negative or the coefficient not above zero.

    Notes
    -----
    Q = Cd A sqrt(2 g h)    (usbr2001)

    For heads that cover the opening; below, it is a weir.

    References
    ----------
    usbr2001, free orifices; coefficient from memory
    """
    require_not_negative("head", head, "m", LEVEL_ADVICE)
    require_finite("head", head, "m", LEVEL_ADVICE)
    _require_opening(area, coefficient)
    flow: N = coefficient * area * ROOT_2G * np.sqrt(head)
    return flow


def orifice_flow_free_range(head: Number, *, opening_height: Number) -> tuple[Finding, ...]:
    """Findings where the water does not cover the opening.

    Parameters
    ----------
    head : float or array
        Water level above the centre of the opening. [m]
    opening_height : float or array
        Height of the opening. [m]

    Returns
    -------
    tuple of Finding

    References
    ----------
    derived, the water must reach the top of the opening
    """
    return outside(
        "head over half the height of the opening",
        2.0 * head / opening_height,
        "",
        code="orifice-cover",
        source="derived",
        low=1.0,
        advice="The opening flows as a weir. Use a weir formula",
    )


def slot_flow_free(
    depth_upstream: N, *, opening_height: N, opening_width: N, coefficient: float = SHARP_EDGE
) -> N:
    """Flow under a gate or raised boards on the floor, into low water.

    Parameters
    ----------
    depth_upstream : float or array
        Upstream water level above the floor. [m]
    opening_height : float or array
        Height of the slot above the floor. [m]
    opening_width : float or array
        Width of the slot. [m]
    coefficient : float
        Coefficient of discharge on the whole depth. [-]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If depth or opening is negative or the coefficient not above zero.

    Notes
    -----
    Q = Cd a b sqrt(2 g h1)    (usbr2001)

    For slots that are low against the depth; `slot_flow_free_contracted` counts the jet. See
    `slot_flow_free_range`.

    References
    ----------
    usbr2001, gates; coefficient from memory
    """
    require_not_negative("upstream depth", depth_upstream, "m", LEVEL_ADVICE)
    area = _slot_area(opening_height, opening_width)
    return orifice_flow_free(depth_upstream, area=area, coefficient=coefficient)


def slot_flow_free_contracted(
    depth_upstream: N, *, opening_height: N, opening_width: N, contraction: float = SHARP_EDGE
) -> N:
    """Flow under a gate or raised boards on the floor, with the depth of the contracted jet.

    Parameters
    ----------
    depth_upstream : float or array
        Upstream water level above the floor. [m]
    opening_height : float or array
        Height of the slot above the floor. [m]
    opening_width : float or array
        Width of the slot. [m]
    contraction : float
        Depth of the jet as a share of the slot. [-]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If the depth is not above zero, the opening negative or the contraction not above zero.

    Notes
    -----
    Q = Cc a b sqrt(2 g h1) / sqrt(1 + Cc a/h1)    (derived)

    Energy from the pool to the jet of depth Cc a, without loss.

    References
    ----------
    derived, energy from pool to jet
    usbr2001, gates; contraction from memory
    """
    require_positive("upstream depth", depth_upstream, "m", LEVEL_ADVICE)
    free = slot_flow_free(
        depth_upstream,
        opening_height=opening_height,
        opening_width=opening_width,
        coefficient=contraction,
    )
    flow: N = free / np.sqrt(1.0 + contraction * opening_height / depth_upstream)
    return flow


def slot_flow_free_range(
    depth_upstream: Number, *, opening_height: Number, opening_width: Number
) -> tuple[Finding, ...]:
    """Findings where the water does not reach the board above a slot.

    Parameters
    ----------
    depth_upstream : float or array
        Upstream water level above the floor. [m]
    opening_height : float or array
        Height of the slot above the floor. [m]
    opening_width : float or array
        Width of the slot. [m]

    Returns
    -------
    tuple of Finding

    References
    ----------
    derived, the water must reach the top of the opening
    """
    return outside(
        "upstream depth over the height of the slot",
        depth_upstream / opening_height,
        "",
        code="slot-cover",
        source="derived",
        low=1.0,
        advice="The slot flows as a weir. Use a weir formula",
    )


def slot_flow_submerged(
    depth_upstream: N,
    depth_downstream: N,
    *,
    opening_height: N,
    opening_width: N,
    coefficient: float = SHARP_EDGE,
) -> N:
    """Flow under a gate or raised boards between two pools that cover the slot.

    Parameters
    ----------
    depth_upstream : float or array
        Upstream water level above the floor. [m]
    depth_downstream : float or array
        Downstream water level above the floor. [m]
    opening_height : float or array
        Height of the slot above the floor. [m]
    opening_width : float or array
        Width of the slot. [m]
    coefficient : float
        Coefficient of discharge, 0.61 for a sharp edge. [-]

    Returns
    -------
    float or array
        Flow, negative where the downstream pool is the higher. [m3/s]

    Raises
    ------
    OutOfDomain
        If a depth or the opening is negative or the coefficient not above zero.

    Notes
    -----
    Q = Cd a b sqrt(2 g (h1 - h2))    (usbr2001)

    References
    ----------
    usbr2001, submerged orifices; coefficient from memory
    """
    require_not_negative("upstream depth", depth_upstream, "m", LEVEL_ADVICE)
    require_not_negative("downstream depth", depth_downstream, "m", LEVEL_ADVICE)
    area = _slot_area(opening_height, opening_width)
    return orifice_flow_submerged(
        depth_upstream - depth_downstream, area=area, coefficient=coefficient
    )


def _slot_area(opening_height: N, opening_width: N) -> N:
    require_not_negative("opening height", opening_height, "m", "Check the size of the opening")
    require_not_negative("opening width", opening_width, "m", "Check the size of the opening")
    return opening_height * opening_width


def _require_opening(area: Number, coefficient: float) -> None:
    require_not_negative("area", area, "m2", "Check the size of the opening")
    require_positive("coefficient", coefficient, "", "Take 0.61 for a sharp edge")
