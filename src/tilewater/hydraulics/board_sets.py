# SPDX-License-Identifier: Apache-2.0
"""One set of stop boards between two pools: how its crest is turned into numbers, flow and levels.

A `BoardSet` holds what the compiled solvers need of a set of boards: where its crest stands, the
flow over it at one metre of head, how that grows, and what leaks through the joints. Water may
stand above the crest on either side, and flows back where the lower pool is the higher. Heads
outside the tests of a formula are told by the `..._range` functions of `weirs`; the fit of
measured flows is in `calibrations`.
"""

import math

from tilewater.basis.domain import refuse, require_finite, require_not_negative, require_positive
from tilewater.hydraulics._board_set import (
    BoardSet,
    board_flow,
    board_level_downstream,
    board_level_upstream,
)
from tilewater.hydraulics.rectangular_weirs import FRANCIS
from tilewater.hydraulics.submerged_weirs import RECTANGULAR_EXPONENT

__all__ = [
    "BoardSet",
    "board_head_free",
    "board_set_flow",
    "board_set_level_downstream",
    "board_set_level_upstream",
    "board_set_sharp_francis",
]

NO_TOP = math.inf
LEVEL_ADVICE = "Check the water levels"


def board_set_sharp_francis(
    crest: float, sill: float, *, crest_width: float, leak: float = 0.0
) -> BoardSet:
    """Set of boards whose top edge works as a sharp crest, Francis.

    Between its guides a board has no contracted ends.

    Parameters
    ----------
    crest : float
        Elevation of the top edge of the boards. [m]
    sill : float
        Elevation of what the lowest board stands on. [m]
    crest_width : float
        Width of the water over the boards. [m]
    leak : float
        Area of the joints per height of wetted boards, times its coefficient. [m]

    Returns
    -------
    BoardSet

    Raises
    ------
    OutOfDomain
        If the crest lies below the sill, the width is not above zero or the leak negative.

    Notes
    -----
    Q = 3.33 L h^(3/2) in feet and seconds    (francis1883)

    Good to about 10 percent in a box in the field, from a head of about two board thicknesses on.

    References
    ----------
    francis1883, from memory
    """
    _require_boards(crest, sill, leak)
    require_positive("crest width", crest_width, "m", "Measure between the board guides")
    return _rectangular(crest, sill, FRANCIS * crest_width, leak)


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


def _rectangular(crest: float, sill: float, coefficient: float, leak: float) -> BoardSet:
    """A set whose coefficient stays as it is."""
    return BoardSet(
        crest, sill, coefficient, 0.0, 0.0, 0.0, RECTANGULAR_EXPONENT, NO_TOP, 0.0, leak
    )


def _require_boards(crest: float, sill: float, leak: float) -> None:
    require_finite("crest", crest, "m", "Check the survey")
    require_finite("sill", sill, "m", "Check the survey")
    require_not_negative("leak", leak, "m", "Give none where none was measured")
    require_finite("leak", leak, "m", "Give none where none was measured")
    if crest < sill:
        raise refuse(
            "crest", crest, "m", f"It cannot lie below the sill, {sill:.4g} m", "Check both"
        )


def _require_flow(flow: float) -> None:
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")
