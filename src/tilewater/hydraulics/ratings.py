# SPDX-License-Identifier: Apache-2.0
"""Ratings that were fitted to measurements at one structure: a power of the head, with its range.

Published calibrations of one board and box differ by more than the formulas do, and two boards of
one structure by 6 to 56 percent. A calibration is kept per structure and set of boards, with the
heads between which it was fitted.
"""

from typing import TypeVar

import numpy as np

from tilewater.basis.domain import (
    Number,
    require_finite,
    require_not_negative,
    require_positive,
)
from tilewater.basis.findings import Finding

N = TypeVar("N", float, Number)

HEAD_ADVICE = "Check which of crest and water level is the lower"
EXPONENT_ADVICE = "A flow rises with the head, with a power of about 1.37 to 2.5"


def weir_flow_power_law(head: N, *, flow_at_one_metre: float, exponent: float) -> N:
    """Flow by a calibration of the form Q = a h^m.

    Parameters
    ----------
    head : float or array
        Water level above crest or notch, as it was read in the calibration. [m]
    flow_at_one_metre : float
        Flow at a head of 1 m. [m3/s]
    exponent : float
        Power of the head: near 1.5 for boards, 2.5 for a V-notch. [-]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If the head is negative, or the flow at one metre or the exponent not above zero.

    Notes
    -----
    Q = a h^m    (derived)

    Holds between the heads of the fit; see `weir_flow_power_law_range`.

    References
    ----------
    chun2008, form of the calibration, from memory
    jove67971, abstract on calibrations of one structure
    """
    require_not_negative("head", head, "m", HEAD_ADVICE)
    require_finite("head", head, "m", HEAD_ADVICE)
    require_positive(
        "flow at one metre", flow_at_one_metre, "m3/s", "Check the calibration and its units"
    )
    require_positive("exponent", exponent, "", EXPONENT_ADVICE)
    flow: N = flow_at_one_metre * head**exponent
    return flow


def weir_flow_power_law_width(
    head: N,
    *,
    flow_per_width_at_one_metre: float,
    exponent: float,
    crest_width: float,
    contraction: float = 0.0,
) -> N:
    """Flow by a calibration of the form Q = a (b - c h) h^m.

    Parameters
    ----------
    head : float or array
        Water level above the crest, as it was read in the calibration. [m]
    flow_per_width_at_one_metre : float
        Flow per metre of crest at a head of 1 m. [m2/s]
    exponent : float
        Power of the head: 1.37 to 1.5 for boards in narrow boxes. [-]
    crest_width : float
        Width b of the crest. [m]
    contraction : float
        Share c of the head that is lost from the width. [-]

    Returns
    -------
    float or array
        Flow. [m3/s]

    Raises
    ------
    OutOfDomain
        If the head or the contraction is negative, flow or exponent not above zero, or no
        width is left.

    Notes
    -----
    Q = a (b - c h) h^m    (derived)

    Holds between the heads of the fit; see `weir_flow_power_law_range`.

    References
    ----------
    chun2008, form of the calibration, from memory
    jove67971, abstract on calibrations of one structure
    """
    require_not_negative("contraction", contraction, "", "Check the calibration")
    width = crest_width - contraction * head
    require_positive("contracted crest width", width, "m", "Check width, head and contraction")
    per_width = weir_flow_power_law(
        head, flow_at_one_metre=flow_per_width_at_one_metre, exponent=exponent
    )
    flow: N = width * per_width
    return flow


def weir_flow_power_law_range(
    head: Number, *, head_lowest: float, head_highest: float
) -> tuple[Finding, ...]:
    """Findings where a head is outside those of the calibration.

    Parameters
    ----------
    head : float or array
        Water level above crest or notch. [m]
    head_lowest : float
        Lowest head of the fit. [m]
    head_highest : float
        Highest head of the fit. [m]

    Returns
    -------
    tuple of Finding

    References
    ----------
    derived, range of the fit as given
    """
    found = []
    lowest, highest = float(np.min(head)), float(np.max(head))
    subject = "head of a calibrated weir"
    fitted = f"{head_lowest:.3g} to {head_highest:.3g} m"
    for value, operator, limit, is_out in (
        (lowest, ">=", head_lowest, lowest < head_lowest),
        (highest, "<=", head_highest, highest > head_highest),
    ):
        if is_out:
            message = (
                f"The head is {value:.3g} m. The calibration was fitted from {fitted}. "
                f"Treat the flow as an estimate, or measure there."
            )
            code = "rating-head-low" if operator == ">=" else "rating-head-high"
            found.append(
                Finding(code, "caution", subject, message, value, operator, limit, "m", "derived")
            )
    return tuple(found)


def weir_head_power_law(flow: N, *, flow_at_one_metre: float, exponent: float) -> N:
    """Head by a calibration of the form Q = a h^m.

    Parameters
    ----------
    flow : float or array
        Flow. [m3/s]
    flow_at_one_metre : float
        Flow at a head of 1 m. [m3/s]
    exponent : float
        Power of the head. [-]

    Returns
    -------
    float or array
        Water level above crest or notch. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative, or the flow at one metre or the exponent not above zero.

    Notes
    -----
    h = (Q/a)^(1/m)    (derived)

    References
    ----------
    chun2008, form of the calibration, from memory
    jove67971, abstract on calibrations of one structure
    """
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")
    require_positive(
        "flow at one metre", flow_at_one_metre, "m3/s", "Check the calibration and its units"
    )
    require_positive("exponent", exponent, "", EXPONENT_ADVICE)
    head: N = (flow / flow_at_one_metre) ** (1.0 / exponent)
    return head
