# SPDX-License-Identifier: Apache-2.0
"""Where ground water leaves a bank: the seepage face above the stream, and the gradients there.

The flow through a buffer with a vertical face does not depend on the seepage face; the water table
near the bank, and what the bank has to stand, do. Heights count from the restrictive layer. How the
bank stands is in `bank_stability`.
"""

import math

from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.basis.findings import Finding
from tilewater.hydraulics.limits import outside

FACE_AT_DRY_STREAM = 0.742
"""Height of the seepage face over a dry stream, per flow over conductivity. [-]"""
FADES = 1.47
"""How fast it fades as the stream rises. [-]"""
ADVICE = "Count heads from the top of the restrictive layer"


def seepage_exit_height(
    flow_per_length: float, head_stream: float, *, conductivity: float
) -> float:
    """Height at which the water table comes out of a vertical bank.

    Parameters
    ----------
    flow_per_length : float
        Flow toward the stream per length of bank. [m2/s]
    head_stream : float
        Stage of the stream above the restrictive layer. [m]
    conductivity : float
        Lateral saturated conductivity of the bank. [m/s]

    Returns
    -------
    float
        Top of the seepage face above the restrictive layer; the stage itself without flow. [m]

    Raises
    ------
    OutOfDomain
        If the flow or the stage is negative or the conductivity not above zero.

    Notes
    -----
    he = h2 + 0.742 a exp(-1.47 h2 / a), a = q / K    (derived)

    0.742 is that of a wide buffer over a dry stream (polubarinova1962, from memory). How it fades
    is fitted to our own solution of the free surface, which it meets within 0.01 a. It holds for
    buffers wider than about 1.5 heads; a narrower one has a higher face still.

    References
    ----------
    polubarinova1962, vertical face without tailwater
    derived, fit to a solution in finite differences
    """
    require_not_negative("flow_per_length", flow_per_length, "m2/s", "Give the flow to the stream")
    require_not_negative("head_stream", head_stream, "m", ADVICE)
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")
    scale = flow_per_length / conductivity
    if scale == 0.0:
        return head_stream
    return head_stream + FACE_AT_DRY_STREAM * scale * math.exp(-FADES * head_stream / scale)


def mean_gradient(head_line: float, head_stream: float, *, width: float) -> float:
    """Fall of the head from line to stream over the way between them.

    Parameters
    ----------
    head_line : float
        Head at the distribution line above the restrictive layer. [m]
    head_stream : float
        Stage of the stream above the restrictive layer. [m]
    width : float
        Distance from line to stream. [m]

    Returns
    -------
    float
        Mean gradient. [m/m]

    Raises
    ------
    OutOfDomain
        If the width is not above zero.

    Notes
    -----
    i = (h1 - h2) / W    (darcy1856)

    References
    ----------
    darcy1856
    """
    require_positive("width", width, "m", "Give the distance from line to stream")
    return (head_line - head_stream) / width


def exit_gradient(flow_per_length: float, exit_height: float, *, conductivity: float) -> float:
    """Mean gradient with which ground water leaves a vertical face.

    Parameters
    ----------
    flow_per_length : float
        Flow toward the stream per length of bank. [m2/s]
    exit_height : float
        Height over which it leaves, stream and seepage face together. [m]
    conductivity : float
        Lateral saturated conductivity of the bank. [m/s]

    Returns
    -------
    float
        Mean gradient over that height; at the foot of the seepage face it is steeper. [m/m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or another value not above zero.

    Notes
    -----
    i = q / (K he)    (darcy1856)

    References
    ----------
    darcy1856
    """
    require_not_negative("flow_per_length", flow_per_length, "m2/s", "Give the flow to the stream")
    require_positive("exit_height", exit_height, "m", "A bank lets water out over some height")
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")
    return flow_per_length / (conductivity * exit_height)


def critical_gradient(*, specific_gravity: float, void_ratio: float) -> float:
    """Upward gradient at which soil without cohesion loses its weight.

    Parameters
    ----------
    specific_gravity : float
        Weight of the grains over that of water, near 2.65. [-]
    void_ratio : float
        Volume of the pores over that of the grains. [-]

    Returns
    -------
    float
        Critical gradient; the trade keeps the exit gradient under a third of it. [m/m]

    Raises
    ------
    OutOfDomain
        If the grains are lighter than water or the void ratio not above zero.

    Notes
    -----
    i_c = (G - 1) / (1 + e)    (terzaghi1943)

    References
    ----------
    terzaghi1943, boiling of sand
    """
    require_positive("specific_gravity - 1", specific_gravity - 1.0, "", "Use 2.65 if in doubt")
    require_positive("void_ratio", void_ratio, "", "Use 0.8 if in doubt")
    return (specific_gravity - 1.0) / (1.0 + void_ratio)


def void_ratio_of(porosity: float) -> float:
    """Void ratio of a soil from its porosity.

    Parameters
    ----------
    porosity : float
        Total porosity. [-]

    Returns
    -------
    float
        Volume of the pores over that of the grains. [-]

    Raises
    ------
    OutOfDomain
        If the porosity is not between 0 and 1.

    Notes
    -----
    e = n / (1 - n)    (terzaghi1943)

    References
    ----------
    terzaghi1943, weights and volumes
    """
    require_positive("porosity", porosity, "", "Give 45 percent as 0.45")
    require_positive("1 - porosity", 1.0 - porosity, "", "Give 45 percent as 0.45")
    return porosity / (1.0 - porosity)


def narrow_buffer_findings(head_line: float, *, width: float) -> tuple[Finding, ...]:
    """Findings where a buffer is too narrow for the height of its seepage face.

    Parameters
    ----------
    head_line : float
        Head at the distribution line above the restrictive layer. [m]
    width : float
        Distance from line to stream. [m]

    Returns
    -------
    tuple of Finding
    """
    require_positive("head_line", head_line, "m", ADVICE)
    return outside(
        "width of the buffer over the head at its line",
        width / head_line,
        "",
        code="buffer-narrow",
        source="derived",
        advice="Take the seepage face as higher than computed",
        low=1.5,
    )
