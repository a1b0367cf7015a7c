# SPDX-License-Identifier: Apache-2.0
"""Crests of every kind as sets of boards: sharp, thin plate, thick, notched, calibrated.

Each function turns a crest into the numbers of a `BoardSet`. Flow and levels over a set are in
`board_sets`.
"""

import math

from tilewater.basis.domain import refuse, require_finite, require_not_negative, require_positive
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics.calibrations import Calibration
from tilewater.hydraulics.rectangular_weirs import (
    FRANCIS,
    HEAD_CORRECTION,
    MOST_HEAD_PER_CREST_HEIGHT,
    RECTANGLE,
)
from tilewater.hydraulics.submerged_weirs import (
    CLEARLY_SHARP,
    RECTANGULAR_EXPONENT,
    V_NOTCH_EXPONENT,
)
from tilewater.hydraulics.weir_coefficients import (
    rectangular_coefficients_kindsvater_carter,
    v_notch_coefficients_kindsvater_shen,
)

NO_TOP = math.inf
ROUNDING = 1e-12
THICK_SHARE = 0.8
"""Flow over a square thick board under a low head, as a share of that over a sharp one."""


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


def board_set_sharp_kindsvater_carter(
    crest: float,
    sill: float,
    *,
    crest_height: float,
    crest_width: float,
    channel_width: float,
    leak: float = 0.0,
) -> BoardSet:
    """Set of boards that ends in a thin plate, Kindsvater and Carter.

    For a metal plate on the top board, with or without contracted ends.

    Parameters
    ----------
    crest : float
        Elevation of the edge of the plate. [m]
    sill : float
        Elevation of what the lowest board stands on. [m]
    crest_height : float
        Crest above the floor of the approach; infinite over deep water. [m]
    crest_width : float
        Length of the crest across the flow. [m]
    channel_width : float
        Width of the approach; infinite in a pond. [m]
    leak : float
        Area of the joints per height of wetted boards, times its coefficient. [m]

    Returns
    -------
    BoardSet

    Raises
    ------
    OutOfDomain
        If the crest lies below the sill or is wider than the channel, a height or width is not
        above zero or the leak negative.

    Notes
    -----
    Q = Ce (2/3) sqrt(2 g) (b + kb) (h + 0.001 m)^(3/2), Ce = base + rise h/P    (kindsvater1957)

    Up to h/P = 2, where the tests end, Ce rises; above it stays. Below 1 mm of head the added
    height is the head, so that no trickle is left at zero.

    References
    ----------
    kindsvater1957, from memory
    bos1989, coefficients, from memory
    iso1438, correction of the width, from memory
    """
    _require_boards(crest, sill, leak)
    require_positive("crest height", crest_height, "m", "Measure it from the floor upstream")
    require_positive("crest width", crest_width, "m", "Measure the crest across the flow")
    base, rise, correction = rectangular_coefficients_kindsvater_carter(crest_width / channel_width)
    full = RECTANGLE * (crest_width + correction)
    require_positive("effective crest width", full, "m", "Measure the crest")
    return _rectangular(crest, sill, float(full * base), leak)._replace(
        growth=float(full * rise / crest_height),
        growth_ends=MOST_HEAD_PER_CREST_HEIGHT * crest_height,
        head_added=HEAD_CORRECTION,
    )


def board_set_broad(
    crest: float, sill: float, *, crest_width: float, board_thickness: float, leak: float = 0.0
) -> BoardSet:
    """Set of boards whose top is thick and square, so that low heads lie on it.

    Parameters
    ----------
    crest : float
        Elevation of the top of the boards. [m]
    sill : float
        Elevation of what the lowest board stands on. [m]
    crest_width : float
        Width of the water over the boards. [m]
    board_thickness : float
        Thickness of the top board in the direction of the flow. [m]
    leak : float
        Area of the joints per height of wetted boards, times its coefficient. [m]

    Returns
    -------
    BoardSet

    Raises
    ------
    OutOfDomain
        If the crest lies below the sill, width or thickness is not above zero or the leak negative.

    Notes
    -----
    Q = 3.33 L h^(3/2) (0.8 + 0.2 min(h / (2 t), 1)) in feet and seconds    (practice)

    A convention: a low head on a square crest passes four fifths of a sharp one, as a long broad
    crest does (0.85 of its ideal flow, bos1989), 10 to 15 percent less between half and one
    thickness, the whole from two thicknesses on, where the jet springs clear.

    References
    ----------
    practice, 10 to 15 percent less on thick boards; the straight line between is a convention
    bos1989, square broad crest, from memory
    francis1883, from memory
    """
    _require_boards(crest, sill, leak)
    require_positive("crest width", crest_width, "m", "Measure between the board guides")
    require_positive("board thickness", board_thickness, "m", "Measure the top board")
    sharp = FRANCIS * crest_width
    springs = CLEARLY_SHARP * board_thickness
    return _rectangular(crest, sill, THICK_SHARE * sharp, leak)._replace(
        growth=(1.0 - THICK_SHARE) * sharp / springs, growth_ends=springs
    )


def board_set_v_notch(
    crest: float,
    sill: float,
    *,
    notch_angle: float,
    notch_depth: float,
    crest_width: float,
    leak: float = 0.0,
) -> BoardSet:
    """Set of boards with a V-notch in the top one, Kindsvater and Shen, overtopped or not.

    Parameters
    ----------
    crest : float
        Elevation of the point of the notch. [m]
    sill : float
        Elevation of what the lowest board stands on. [m]
    notch_angle : float
        Full angle of the notch. [rad]
    notch_depth : float
        Top of the board above the point of the notch. [m]
    crest_width : float
        Width of the board between its guides, notch included. [m]
    leak : float
        Area of the joints per height of wetted boards, times its coefficient. [m]

    Returns
    -------
    BoardSet

    Raises
    ------
    OutOfDomain
        If the point lies below the sill, the notch is wider than the board or has no meaning, or
        the leak is negative.

    Notes
    -----
    Q = Q_V(h) - Q_V(h - d) + 3.33 (L - 2 d tan(angle/2)) (h - d)^(3/2) above, in ft    (derived)

    Q_V is that of Kindsvater and Shen. Notches sawn into boards pass up to a third more
    (boone2022): calibrate them. Below 1 to 2 mm the added head is the head.

    References
    ----------
    shen1981, from memory
    francis1883, from memory
    derived, sum of the parts of a compound opening
    boone2022, two notches of one structure
    """
    _require_boards(crest, sill, leak)
    require_positive("notch depth", notch_depth, "m", "Measure from the point to the board's top")
    require_positive("crest width", crest_width, "m", "Measure between the board guides")
    scale, added = v_notch_coefficients_kindsvater_shen(notch_angle)
    beside = crest_width - 2.0 * notch_depth * math.tan(notch_angle / 2.0)
    if abs(beside) <= ROUNDING * crest_width:
        beside = 0.0
    require_not_negative("board beside the notch", beside, "m", "Check notch and crest width")
    return BoardSet(
        crest,
        sill,
        float(scale),
        0.0,
        0.0,
        float(added),
        V_NOTCH_EXPONENT,
        notch_depth,
        FRANCIS * beside,
        leak,
    )


def board_set_calibrated(crest: float, sill: float, *, calibration: Calibration) -> BoardSet:
    """Set of boards with its own calibration.

    The measured flows hold the leakage of the boards, so none is added.

    Parameters
    ----------
    crest : float
        Elevation from which the heads of the calibration count. [m]
    sill : float
        Elevation of what the lowest board stands on. [m]
    calibration : Calibration
        Fitted to this set. [-]

    Returns
    -------
    BoardSet

    Raises
    ------
    OutOfDomain
        If the crest lies below the sill or the calibration has no meaning.

    Notes
    -----
    Q = a h^m    (derived)

    Holds between the heads of the fit; see `calibration_range`.

    References
    ----------
    derived, power law of the fit
    chun2008, form of the calibration, from memory
    jove67971, abstract on calibrations of one structure
    """
    _require_boards(crest, sill, 0.0)
    require_positive(
        "flow at one metre", calibration.flow_at_one_metre, "m3/s", "Check the calibration"
    )
    require_positive("exponent", calibration.exponent, "", "Check the calibration")
    return BoardSet(
        crest,
        sill,
        calibration.flow_at_one_metre,
        0.0,
        0.0,
        0.0,
        calibration.exponent,
        NO_TOP,
        0.0,
        0.0,
    )


def joint_leak(flow: float, depth: float) -> float:
    """Opening of the joints of a set of boards, from the water that was caught below it.

    Fill to just under the crest with nothing behind the boards, and catch what comes through.

    Parameters
    ----------
    flow : float
        Flow through the joints. [m3/s]
    depth : float
        Water above the sill while it was caught, no higher than the crest. [m]

    Returns
    -------
    float
        Area of the joints per height of wetted boards, times its coefficient. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or the depth not above zero.

    Notes
    -----
    leak = Q / ((2/3) sqrt(2 g) H^(3/2))    (derived)

    Joints of one width from sill to crest, each flowing freely under its own depth.

    References
    ----------
    derived, openings in a row under their own depths
    practice, 0.01 to 0.2 L/s through the joints of a set
    """
    require_not_negative("flow", flow, "m3/s", "Give none where none was measured")
    require_finite("flow", flow, "m3/s", "Check the flow")
    require_positive("depth", depth, "m", "Measure it from the sill to the water")
    require_finite("depth", depth, "m", "Measure it from the sill to the water")
    return float(flow / (RECTANGLE * depth**1.5))


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
