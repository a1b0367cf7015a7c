# SPDX-License-Identifier: Apache-2.0
"""What takes flow from a weir: water above the crest downstream, and the thickness of boards."""

from typing import TypeVar

import numpy as np

from tilewater.basis.domain import Number, require_finite, require_not_negative, require_positive
from tilewater.basis.findings import Finding, Severity

N = TypeVar("N", float, Number)

RECTANGULAR_EXPONENT = 1.5
V_NOTCH_EXPONENT = 2.5
VILLEMONTE = 0.385
CLEARLY_SHARP = 2.0  # heads over the thickness of a board
BARELY_SHARP = 1.5
FREE_FALL = 0.05  # m that the tailwater must lie below the crest for a free jet
LEVEL_ADVICE = "Check which of crest and water level is the lower"


def weir_submergence_factor_villemonte(
    head_upstream: N, head_downstream: N, *, exponent: float
) -> N:
    """Share of the free flow that is left when water stands above the crest downstream.

    Parameters
    ----------
    head_upstream : float or array
        Upstream water level above the crest. [m]
    head_downstream : float or array
        Downstream water level above the crest, negative below it. [m]
    exponent : float
        Exponent of the head in the free rating: 1.5 rectangular, 2.5 V-notch. [-]

    Returns
    -------
    float or array
        Factor, 0 to 1. [-]

    Raises
    ------
    OutOfDomain
        If the upstream head is negative or the exponent not above zero.

    Notes
    -----
    Qs/Q = (1 - (h2/h1)^n)^0.385    (villemonte1947)

    Tailwater at or below the crest gives 1. Tailwater as high as the water upstream, or higher,
    gives 0: nothing flows forward, and the flow back is that of the weir with the sides exchanged.

    References
    ----------
    villemonte1947, form as seen in the documentation of a hydraulic library
    """
    require_not_negative("upstream head", head_upstream, "m", LEVEL_ADVICE)
    require_finite("upstream head", head_upstream, "m", LEVEL_ADVICE)
    require_finite("downstream head", head_downstream, "m", LEVEL_ADVICE)
    require_positive("exponent", exponent, "", "Take 1.5 for a rectangular crest")
    above_crest = np.maximum(head_downstream, 0.0)
    level = above_crest >= head_upstream
    drowned = level & (above_crest > 0.0)
    share = np.where(level, drowned, above_crest / np.where(level, 1.0, head_upstream))
    factor: N = (1.0 - share**exponent) ** VILLEMONTE
    return factor


def weir_submergence_factor_villemonte_range(
    head_upstream: Number, head_downstream: Number, *, exponent: float
) -> tuple[Finding, ...]:
    """Findings where the tailwater is no longer clear of the crest, or covers it.

    Parameters
    ----------
    head_upstream : float or array
        Upstream water level above the crest. [m]
    head_downstream : float or array
        Downstream water level above the crest, negative below it. [m]
    exponent : float
        Exponent of the head in the free rating. [-]

    Returns
    -------
    tuple of Finding

    References
    ----------
    bos1989, ch. 5, clearance of the tailwater
    """
    highest = float(np.max(head_downstream))
    if highest <= -FREE_FALL:
        return ()
    covered = highest > 0.0
    state = "stands above the crest" if covered else "is close under the crest"
    message = (
        f"The tailwater {state}: {highest:.3g} m, where bos1989 asks for {-FREE_FALL:g} m or less. "
        f"The flow is reduced and less sure. Read both water levels, or raise the crest."
    )
    severity: Severity = "caution" if covered else "note"
    subject = "tailwater above the crest"
    finding = Finding(
        "weir-tailwater", severity, subject, message, highest, "<=", -FREE_FALL, "m", "bos1989"
    )
    return (finding,)


def weir_board_crest_range(head: Number, *, board_thickness: float) -> tuple[Finding, ...]:
    """Findings where a board is too thick for its head to be a sharp crest.

    Parameters
    ----------
    head : float or array
        Water level above the top of the boards. [m]
    board_thickness : float
        Thickness of the top board in the direction of the flow. [m]

    Returns
    -------
    tuple of Finding

    Raises
    ------
    OutOfDomain
        If the thickness is not above zero.

    References
    ----------
    practice, a head of 1.5 to 2 board thicknesses
    """
    require_positive("board thickness", board_thickness, "m", "Measure the top board")
    relative = float(np.min(head)) / board_thickness
    if relative >= CLEARLY_SHARP:
        return ()
    severity: Severity = "caution" if relative < BARELY_SHARP else "note"
    message = (
        f"The head over the boards is {relative:.2g} of their thickness. From {CLEARLY_SHARP:g} on "
        f"the crest works as a sharp one; below {BARELY_SHARP:g} it may pass 10 to 15 percent "
        f"less. Calibrate the boards, or bevel the top one."
    )
    subject = "head over the thickness of the boards"
    finding = Finding(
        "weir-board-thick",
        severity,
        subject,
        message,
        relative,
        ">=",
        CLEARLY_SHARP,
        "",
        "practice",
    )
    return (finding,)
