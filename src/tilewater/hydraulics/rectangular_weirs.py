# SPDX-License-Identifier: Apache-2.0
"""Free flow over a rectangular crest: three formulas and where each was tested.

Boards in the slots of a structure are a full-width crest without side contractions, but thick and
square: see `weir_board_crest_range`. Water that stands above the crest downstream is in
`submerged_weirs`, the head for a flow in `weir_heads`.
"""

import math
from typing import TypeVar

import numpy as np

from tilewater.basis import unit_table
from tilewater.basis.domain import (
    Number,
    refuse,
    require_finite,
    require_not_negative,
    require_positive,
)
from tilewater.basis.findings import Finding
from tilewater.hydraulics.limits import outside
from tilewater.hydraulics.weir_coefficients import rectangular_coefficients_kindsvater_carter

N = TypeVar("N", float, Number)

FOOT = float(unit_table.FOOT)
GRAVITY = float(unit_table.STANDARD_GRAVITY)
RECTANGLE = 2.0 / 3.0 * math.sqrt(2.0 * GRAVITY)  # of a crest of 1 m without any loss

FRANCIS = 3.33 * math.sqrt(FOOT)  # 3.33 ft^(1/2)/s
CONTRACTION = 0.1  # of the head, lost from the width at each contracted end
REHBOCK_BASE = 3.27 * math.sqrt(FOOT)
REHBOCK_RISE = 0.40 * math.sqrt(FOOT)
HEAD_CORRECTION = 0.001  # m, kh of kindsvater1957

LEAST_HEAD = 0.03
LEAST_WIDTH = 0.15
LEAST_CREST_HEIGHT = 0.10
MOST_HEAD_PER_CREST_HEIGHT = 2.0
STRAIGHT_LINE_TO = 1.0  # h/P up to which the rise of REHBOCK_RISE keeps within 1 % of hulsing1967
HEAD_ADVICE = "Check which of crest and water level is the lower"
LOW_HEAD_ADVICE = "The jet clings to the crest. Treat the flow as an estimate"


def weir_flow_rectangular_francis(head: N, *, crest_width: N, contractions: int = 0) -> N:
    """Flow over a rectangular crest, Francis.

    The plain formula for boards; approach velocity and the height of the crest are not in it.

    Parameters
    ----------
    head : float or array
        Water level above the crest, upstream of the drawdown. [m]
    crest_width : float or array
        Length of the crest across the flow. [m]
    contractions : int
        Ends where the crest stops short of the wall: 0 between slots, 1 or 2. [-]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If the head is negative, the width not above zero, the number of contractions not 0, 1 or
        2, or the head so high that the contractions leave no width.

    Notes
    -----
    Q = 3.33 (L - 0.1 n h) h^(3/2) in feet and seconds    (francis1883)

    The constant is converted exactly: 3.33 sqrt(0.3048) = 1.8385 in metres. See
    `weir_flow_rectangular_francis_range`.

    References
    ----------
    francis1883, from memory
    """
    require_not_negative("head", head, "m", HEAD_ADVICE)
    require_finite("head", head, "m", HEAD_ADVICE)
    width = _contracted_width(head, crest_width, contractions)
    flow: N = FRANCIS * width * head**1.5
    return flow


def weir_flow_rectangular_francis_range(
    head: Number, *, crest_width: Number, contractions: int = 0
) -> tuple[Finding, ...]:
    """Findings where a head is outside the use of the Francis formula.

    Parameters
    ----------
    head : float or array
        Water level above the crest. [m]
    crest_width : float or array
        Length of the crest across the flow. [m]
    contractions : int
        Ends where the crest stops short of the wall. [-]

    Returns
    -------
    tuple of Finding

    References
    ----------
    francis1883, from memory
    """
    low = outside(
        "head over the crest",
        head,
        "m",
        code="weir-head",
        source="francis1883",
        low=LEAST_HEAD,
        advice=LOW_HEAD_ADVICE,
    )
    if contractions == 0:
        return low
    wide = outside(
        "head as a share of the crest width",
        head / crest_width,
        "",
        code="weir-head-share",
        source="francis1883",
        high=1.0 / 3.0,
        advice="The contracted jets meet. Use the formula of Kindsvater and Carter",
    )
    return (*low, *wide)


def weir_flow_rectangular_rehbock(
    head: N, crest_height: N, *, crest_width: N, contractions: int = 0
) -> N:
    """Flow over a rectangular crest with the rise of the coefficient in h/P, Rehbock type.

    Parameters
    ----------
    head : float or array
        Water level above the crest, upstream of the drawdown. [m]
    crest_height : float or array
        Crest above the floor of the approach. [m]
    crest_width : float or array
        Length of the crest across the flow. [m]
    contractions : int
        Ends where the crest stops short of the wall: 0, 1 or 2. [-]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If the head is negative, height or width not above zero, or no width is left.

    Notes
    -----
    Q = (3.27 + 0.40 h/P) (L - 0.1 n h) h^(3/2) in feet and seconds    (everett-weirs)

    Within 1 % of the curves of hulsing1967 up to h/P = 1, 4 % high at 2, 23 % at 5.

    References
    ----------
    everett-weirs, figure 3.2.13
    hulsing1967, curve of the vertical face
    """
    require_not_negative("head", head, "m", HEAD_ADVICE)
    require_finite("head", head, "m", HEAD_ADVICE)
    require_positive("crest height", crest_height, "m", "Measure it from the floor upstream")
    width = _contracted_width(head, crest_width, contractions)
    flow: N = (REHBOCK_BASE + REHBOCK_RISE * head / crest_height) * width * head**1.5
    return flow


def weir_flow_rectangular_rehbock_range(
    head: Number, crest_height: Number, *, crest_width: Number, contractions: int = 0
) -> tuple[Finding, ...]:
    """Findings where the straight line in h/P no longer follows the curve.

    Parameters
    ----------
    head : float or array
        Water level above the crest. [m]
    crest_height : float or array
        Crest above the floor of the approach. [m]
    crest_width : float or array
        Length of the crest across the flow. [m]
    contractions : int
        Ends where the crest stops short of the wall. [-]

    Returns
    -------
    tuple of Finding

    References
    ----------
    hulsing1967, curve of the vertical face
    """
    straight = outside(
        "head over the height of the crest",
        head / crest_height,
        "",
        code="weir-head-per-height",
        source="hulsing1967",
        high=STRAIGHT_LINE_TO,
        advice="The straight line gives too much here. Use the formula of Kindsvater and Carter",
    )
    francis = weir_flow_rectangular_francis_range(
        head, crest_width=crest_width, contractions=contractions
    )
    return (*francis, *straight)


def weir_flow_rectangular_kindsvater_carter(
    head: N, crest_height: N, *, crest_width: N, channel_width: N
) -> N:
    """Flow over a thin-plate rectangular weir, Kindsvater and Carter.

    Parameters
    ----------
    head : float or array
        Water level above the crest, upstream of the drawdown. [m]
    crest_height : float or array
        Crest above the floor of the approach; infinite over deep water. [m]
    crest_width : float or array
        Length of the crest across the flow. [m]
    channel_width : float or array
        Width of the approach; infinite in a pond. [m]

    Returns
    -------
    float or array
        Flow, zero at zero head. [m3/s]

    Raises
    ------
    OutOfDomain
        If the head is negative, a height or width not above zero, the crest wider than the
        channel, or the head so high that the coefficient has no meaning.

    Notes
    -----
    Q = Ce (2/3) sqrt(2 g) (b + kb) (h + 0.001 m)^(3/2), Ce = base + rise h/P    (kindsvater1957)

    base, rise and kb by b/B, between the rows of their tables on a straight line. About 3 % in the
    laboratory, 10 % in a structure in the field. Toward zero head the equation ends in a trickle of
    about 0.06 L/s per metre of crest; at zero head the flow is zero. See
    `weir_flow_rectangular_kindsvater_carter_range`.

    References
    ----------
    kindsvater1957, from memory
    bos1989, coefficients, from memory
    iso1438, correction of the width, from memory
    """
    require_not_negative("head", head, "m", HEAD_ADVICE)
    require_finite("head", head, "m", HEAD_ADVICE)
    require_positive("crest height", crest_height, "m", "Measure it from the floor upstream")
    require_positive("crest width", crest_width, "m", "Measure the crest across the flow")
    require_finite("crest width", crest_width, "m", "Measure the crest across the flow")
    base, rise, correction = rectangular_coefficients_kindsvater_carter(crest_width / channel_width)
    coefficient = base + (head / crest_height) * rise
    effective_width = crest_width + correction
    require_positive("effective coefficient", coefficient, "", "The head is beyond any test")
    require_positive("effective crest width", effective_width, "m", "Measure the crest")
    flow: N = (
        (head > 0.0) * RECTANGLE * coefficient * effective_width * (head + HEAD_CORRECTION) ** 1.5
    )
    return flow


def weir_flow_rectangular_kindsvater_carter_range(
    head: Number, crest_height: Number, *, crest_width: Number, channel_width: Number
) -> tuple[Finding, ...]:
    """Findings where a thin-plate weir is outside the range of its tests.

    Parameters
    ----------
    head : float or array
        Water level above the crest. [m]
    crest_height : float or array
        Crest above the floor of the approach. [m]
    crest_width : float or array
        Length of the crest across the flow. [m]
    channel_width : float or array
        Width of the approach. [m]

    Returns
    -------
    tuple of Finding

    References
    ----------
    iso1438, practical limitations, from memory
    """
    limits: tuple[tuple[str, Number, str, str, float | None, float | None, str], ...] = (
        ("head over the crest", head, "m", "weir-head", LEAST_HEAD, None, LOW_HEAD_ADVICE),
        (
            "head over the height of the crest",
            head / crest_height,
            "",
            "weir-head-per-height",
            None,
            MOST_HEAD_PER_CREST_HEIGHT,
            "Treat the flow as an estimate, or deepen the approach",
        ),
        (
            "height of the crest",
            crest_height,
            "m",
            "weir-crest-height",
            LEAST_CREST_HEIGHT,
            None,
            "Treat the flow as an estimate, or deepen the approach",
        ),
        (
            "width of the crest",
            crest_width,
            "m",
            "weir-crest-width",
            LEAST_WIDTH,
            None,
            "Treat the flow as an estimate, or calibrate the weir where it stands",
        ),
    )
    return tuple(
        finding
        for subject, value, unit, code, low, high, advice in limits
        for finding in outside(
            subject, value, unit, code=code, source="iso1438", low=low, high=high, advice=advice
        )
    )


def _contracted_width(head: N, crest_width: N, contractions: int) -> N:
    """Width that is left between the contracted ends."""
    require_positive("crest width", crest_width, "m", "Measure the crest across the flow")
    if contractions not in (0, 1, 2):
        raise refuse(
            "contractions",
            contractions,
            "",
            "A crest has 0, 1 or 2 contracted ends",
            "Count the ends that stop short of a wall",
        )
    width = crest_width - CONTRACTION * contractions * head
    if not np.all(np.asarray(width) > 0.0):
        raise refuse(
            "contracted crest width",
            float(np.min(width)),
            "m",
            "It must be above zero",
            "The head is far above a third of the crest width. Use another formula",
        )
    return width
