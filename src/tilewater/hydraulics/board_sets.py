# SPDX-License-Identifier: Apache-2.0
"""One set of stop boards between two pools: its flow and the levels on both sides.

A `BoardSet` holds what the compiled solvers need of a set of boards: where its crest stands, the
flow over it at one metre of head, how that grows, and what leaks through the joints. Water may
stand above the crest on either side, and flows back where the lower pool is the higher. How a
crest of any kind becomes such a set is in `board_crests`; heads outside the tests of a formula are
told by the `..._range` functions of `weirs`.
"""

from tilewater.basis.domain import (
    refuse,
    require_finite,
    require_not_negative,
    require_share,
)
from tilewater.hydraulics._board_set import (
    BoardSet,
    board_flow,
    board_level_downstream,
    board_level_upstream,
)
from tilewater.hydraulics.board_crests import (
    board_set_broad,
    board_set_calibrated,
    board_set_sharp_francis,
    board_set_sharp_kindsvater_carter,
    board_set_v_notch,
    joint_leak,
)

__all__ = [
    "BoardSet",
    "board_head_free",
    "board_head_free_high",
    "board_head_free_low",
    "board_set_broad",
    "board_set_calibrated",
    "board_set_flow",
    "board_set_level_downstream",
    "board_set_level_upstream",
    "board_set_sharp_francis",
    "board_set_sharp_kindsvater_carter",
    "board_set_v_notch",
    "joint_leak",
]

LEVEL_ADVICE = "Check the water levels"


def board_set_flow(upstream: float, downstream: float, boards: BoardSet) -> float:
    """Flow over and through a set of boards between two pools.

    Parameters
    ----------
    upstream : float
        Water level above the boards. [m]
    downstream : float
        Water level below the boards. [m]
    boards : BoardSet
        The set of boards. [-]

    Returns
    -------
    float
        Flow, negative where the downstream level is the higher. [m3/s]

    Raises
    ------
    OutOfDomain
        If a level is no number.

    Notes
    -----
    Q = (c + c' h) (h + k)^m (1 - (h2/h)^m)^0.385 + leak    (villemonte1947)

    h and h2 are the heads over the crest on the higher and the lower side.

    References
    ----------
    villemonte1947, form as seen in the documentation of a hydraulic library
    francis1883, from memory
    """
    require_finite("upstream level", upstream, "m", LEVEL_ADVICE)
    require_finite("downstream level", downstream, "m", LEVEL_ADVICE)
    return board_flow(upstream, downstream, boards)


def board_set_level_upstream(flow: float, downstream: float, boards: BoardSet) -> float:
    """Level of the upper pool that sends a flow over a set of boards.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    downstream : float
        Water level below the boards. [m]
    boards : BoardSet
        The set of boards. [-]

    Returns
    -------
    float
        Water level above the boards. At no flow it is the highest of the downstream level and the
        crest, or the sill where the joints leak. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or a value is no number.

    Notes
    -----
    The equation of `board_set_flow`, searched    (derived)

    References
    ----------
    derived, one root of a rising function
    villemonte1947, form as seen in the documentation of a hydraulic library
    """
    _require_flow(flow)
    require_finite("downstream level", downstream, "m", LEVEL_ADVICE)
    return board_level_upstream(flow, downstream, boards)


def board_set_level_downstream(flow: float, upstream: float, boards: BoardSet) -> float:
    """Highest level of the lower pool that still lets a flow pass a set of boards.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    upstream : float
        Water level above the boards. [m]
    boards : BoardSet
        The set of boards. [-]

    Returns
    -------
    float
        Water level below the boards; minus infinity where the boards do not pass the flow even
        into air. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or a value is no number.

    Notes
    -----
    The equation of `board_set_flow`, searched    (derived)

    References
    ----------
    derived, one root of a falling function
    villemonte1947, form as seen in the documentation of a hydraulic library
    """
    _require_flow(flow)
    require_finite("upstream level", upstream, "m", LEVEL_ADVICE)
    return board_level_downstream(flow, upstream, boards)


def board_head_free(flow: float, boards: BoardSet) -> float:
    """Head over the crest of a set of boards for a flow into air.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    boards : BoardSet
        The set of boards. [-]

    Returns
    -------
    float
        Water level above the crest; negative where the joints alone pass the flow. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or no number.

    Notes
    -----
    Q = (c + c' h) (h + k)^m + leak, for h    (derived)

    c, c', k and m are those of the set; for a sharp crest c = 3.33 L in feet, m = 1.5.

    References
    ----------
    derived, one root of a rising function
    francis1883, from memory
    """
    _require_flow(flow)
    return board_level_upstream(flow, boards.sill, boards) - boards.crest


def board_head_free_low(flow: float, boards: BoardSet, uncertainty: float) -> float:
    """Head over the crest for a flow into air, if the boards pass more than they are rated.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    boards : BoardSet
        The set of boards. [-]
    uncertainty : float
        Of the rated flow, as a share. [-]

    Returns
    -------
    float
        Water level above the crest. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or the uncertainty no share below one.

    Notes
    -----
    h of the rated flow Q / (1 + u)    (derived)

    References
    ----------
    derived, head of a rating that is too low by its uncertainty
    """
    _require_uncertainty(uncertainty)
    return board_head_free(flow / (1.0 + uncertainty), boards)


def board_head_free_high(flow: float, boards: BoardSet, uncertainty: float) -> float:
    """Head over the crest for a flow into air, if the boards pass less than they are rated.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    boards : BoardSet
        The set of boards. [-]
    uncertainty : float
        Of the rated flow, as a share. [-]

    Returns
    -------
    float
        Water level above the crest. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or the uncertainty no share below one.

    Notes
    -----
    h of the rated flow Q / (1 - u)    (derived)

    References
    ----------
    derived, head of a rating that is too high by its uncertainty
    """
    _require_uncertainty(uncertainty)
    return board_head_free(flow / (1.0 - uncertainty), boards)


def _require_flow(flow: float) -> None:
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")


def _require_uncertainty(uncertainty: float) -> None:
    require_share("uncertainty", uncertainty, "Give it as a share of the flow")
    if uncertainty >= 1.0:
        raise refuse("uncertainty", uncertainty, "", "It lies below 1", "Calibrate the boards anew")
