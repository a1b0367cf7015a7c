# SPDX-License-Identifier: Apache-2.0
"""Flow through a V-notch, and over the board when the notch is full.

The form is that of the water measurement handbooks, (8/15) Ce sqrt(2 g) tan(angle/2) h^2.5; some
libraries leave out a factor of 0.754 and give a third more. Boards cut with a saw differ between
two in one structure: prefer a calibration, see `ratings`.
"""

import math
from functools import partial
from typing import TypeVar

import numpy as np

from tilewater.basis import unit_table
from tilewater.basis.domain import (
    Number,
    require_finite,
    require_not_negative,
    require_positive,
)
from tilewater.basis.findings import Finding
from tilewater.hydraulics.head_search import head_for_flow
from tilewater.hydraulics.limits import outside
from tilewater.hydraulics.rectangular_weirs import FRANCIS
from tilewater.hydraulics.weir_coefficients import v_notch_coefficients_kindsvater_shen

N = TypeVar("N", float, Number)

FOOT = float(unit_table.FOOT)

SMALLEST_ANGLE = math.radians(25.0)
LARGEST_ANGLE = math.radians(100.0)
LEAST_HEAD = 0.2 * FOOT
MOST_HEAD = 1.25 * FOOT
HEAD_ADVICE = "Check which of notch and water level is the lower"


def weir_flow_v_notch_kindsvater_shen(head: N, *, notch_angle: N) -> N:
    """Flow through a V-notch in a thin plate, Kindsvater and Shen.

    For a notch that is not full, far from floor and walls.

    Parameters
    ----------
    head : float or array
        Water level above the point of the notch. [m]
    notch_angle : float or array
        Full angle of the notch. [rad]

    Returns
    -------
    float or array
        Flow, zero at zero head. [m3/s]

    Raises
    ------
    OutOfDomain
        If the head is negative or the angle not between 0 and 160 degrees.

    Notes
    -----
    Q = Ce (8/15) sqrt(2 g) tan(angle/2) (h + k)^(5/2)    (shen1981)

    Ce = 0.607165052 - 8.74466963e-4 a + 6.10393334e-6 a^2    (usbr2001)
    k = 0.0144902648 - 3.3955535e-4 a + 3.29819003e-6 a^2 - 1.06215442e-8 a^3 in ft    (usbr2001)

    with a the angle in degrees; both fits are from memory. Tested from 25 to 100 degrees and
    for heads from 0.2 ft; see `weir_flow_v_notch_kindsvater_shen_range`.

    References
    ----------
    shen1981, from memory
    usbr2001, ch. 7 sec. 7; fits from memory
    """
    require_not_negative("head", head, "m", HEAD_ADVICE)
    require_finite("head", head, "m", HEAD_ADVICE)
    scale, correction = v_notch_coefficients_kindsvater_shen(notch_angle)
    flow: N = (head > 0.0) * scale * (head + correction) ** 2.5
    return flow


def weir_flow_v_notch_kindsvater_shen_range(
    head: Number, *, notch_angle: Number
) -> tuple[Finding, ...]:
    """Findings where head or angle of a V-notch is outside the tests.

    Parameters
    ----------
    head : float or array
        Water level above the point of the notch. [m]
    notch_angle : float or array
        Full angle of the notch. [rad]

    Returns
    -------
    tuple of Finding

    References
    ----------
    usbr2001, ch. 7 sec. 7; the upper head from memory
    """
    heads = outside(
        "head over the notch",
        head,
        "m",
        code="notch-head",
        source="usbr2001",
        low=LEAST_HEAD,
        high=MOST_HEAD,
        advice="Treat the flow as an estimate, or calibrate the notch where it stands",
    )
    angles = outside(
        "angle of the notch",
        notch_angle,
        "rad",
        code="notch-angle",
        source="usbr2001",
        low=SMALLEST_ANGLE,
        high=LARGEST_ANGLE,
        advice="Treat the flow as an estimate, or calibrate the notch where it stands",
    )
    return (*heads, *angles)


def weir_head_v_notch_kindsvater_shen(flow: N, *, notch_angle: N) -> N:
    """Head over a V-notch for a flow, Kindsvater and Shen.

    Parameters
    ----------
    flow : float or array
        Flow. [m3/s]
    notch_angle : float or array
        Full angle of the notch. [rad]

    Returns
    -------
    float or array
        Water level above the point of the notch. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative or the angle not between 0 and 160 degrees.

    Notes
    -----
    h = (Q / (Ce (8/15) sqrt(2 g) tan(angle/2)))^(2/5) - k    (shen1981)

    A flow below the trickle in which the equation ends at zero head has a head of zero.

    References
    ----------
    shen1981, from memory
    usbr2001, ch. 7 sec. 7; fits from memory
    """
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")
    scale, correction = v_notch_coefficients_kindsvater_shen(notch_angle)
    head: N = np.maximum((flow / scale) ** 0.4 - correction, 0.0)
    return head


def weir_flow_v_notch_overtopped(head: N, *, notch_angle: N, notch_depth: N, crest_width: N) -> N:
    """Flow through a V-notch and, when it is full, over the whole board.

    Parameters
    ----------
    head : float or array
        Water level above the point of the notch. [m]
    notch_angle : float or array
        Full angle of the notch. [rad]
    notch_depth : float or array
        Top of the board above the point of the notch. [m]
    crest_width : float or array
        Width of the board between its slots, notch included. [m]

    Returns
    -------
    float or array
        Flow, zero at zero head and without a jump where the notch is full. [m3/s]

    Raises
    ------
    OutOfDomain
        If the head is negative, the angle not between 0 and 160 degrees, the depth not above zero
        or the notch wider than the board.

    Notes
    -----
    Q = Q_V(h) up to the top of the board    (shen1981)
    Q = Q_V(h) - Q_V(h - d) + 3.33 (b - 2 d tan(angle/2)) (h - d)^(3/2) above, in ft    (derived)

    Q_V(h) - Q_V(h - d) is the flow through the notch and the column of water above it; the rest of
    the board is a crest by Francis. Not tested against measurements: a notch that is overtopped
    needs its own calibration.

    References
    ----------
    shen1981, from memory
    francis1883, from memory
    derived, sum of the parts of a compound opening
    jove67971, abstract on notches that are overtopped
    """
    require_positive("notch depth", notch_depth, "m", "Measure from the point to the board's top")
    through_notch = weir_flow_v_notch_kindsvater_shen(head, notch_angle=notch_angle)
    shoulders = crest_width - 2.0 * notch_depth * np.tan(notch_angle / 2.0)
    # A notch as wide as its board leaves nothing beside it, not minus a rounding error.
    shoulders = np.where(np.abs(shoulders) <= 1e-12 * crest_width, 0.0, shoulders)[()]
    require_not_negative("board beside the notch", shoulders, "m", "Check notch and crest width")
    scale, correction = v_notch_coefficients_kindsvater_shen(notch_angle)
    above = np.maximum(head - notch_depth, 0.0)
    missing = scale * ((above + correction) ** 2.5 - correction**2.5)
    flow: N = through_notch - missing + FRANCIS * shoulders * above**1.5
    return flow


def weir_flow_v_notch_overtopped_range(
    head: Number, *, notch_angle: Number, notch_depth: Number, crest_width: Number
) -> tuple[Finding, ...]:
    """Findings where a notch is overtopped, or outside the tests below its top.

    Parameters
    ----------
    head : float or array
        Water level above the point of the notch. [m]
    notch_angle : float or array
        Full angle of the notch. [rad]
    notch_depth : float or array
        Top of the board above the point of the notch. [m]
    crest_width : float or array
        Width of the board between its slots. [m]

    Returns
    -------
    tuple of Finding

    References
    ----------
    usbr2001, ch. 7 sec. 7; the upper head from memory
    jove67971, abstract on notches that are overtopped
    """
    overtopped = outside(
        "head over the depth of the notch",
        head / notch_depth,
        "",
        code="notch-overtopped",
        source="jove67971",
        high=1.0,
        advice="The board flows over its whole width. Calibrate it where it stands",
    )
    within = weir_flow_v_notch_kindsvater_shen_range(head, notch_angle=notch_angle)
    return (*within, *overtopped)


def weir_head_v_notch_overtopped(
    flow: float, *, notch_angle: float, notch_depth: float, crest_width: float
) -> float:
    """Head over a notched board for a flow, notch full or not.

    Parameters
    ----------
    flow : float
        Flow. [m3/s]
    notch_angle : float
        Full angle of the notch. [rad]
    notch_depth : float
        Top of the board above the point of the notch. [m]
    crest_width : float
        Width of the board between its slots, notch included. [m]

    Returns
    -------
    float
        Water level above the point of the notch. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative, or the notch has no meaning.

    Notes
    -----
    The equation of `weir_flow_v_notch_overtopped`, searched.

    References
    ----------
    derived, sum of the parts of a compound opening
    """
    rating = partial(
        weir_flow_v_notch_overtopped,
        notch_angle=notch_angle,
        notch_depth=notch_depth,
        crest_width=crest_width,
    )
    return head_for_flow(rating, flow)
