# SPDX-License-Identifier: Apache-2.0
"""Calibrations of one set of boards: a power of the head, where it holds, how well it is known.

Two sets of one structure differ by 6 to 56 percent, so every set has its own. The law itself is in
`ratings`, its fit to measurements in `calibration_fits`, the set of boards made of it in
`board_sets`.
"""

import math
from dataclasses import dataclass

from tilewater.basis.domain import Number, refuse, require_not_negative, require_positive
from tilewater.basis.findings import Finding
from tilewater.basis.units import to_si
from tilewater.hydraulics.ratings import weir_flow_power_law_range

HEAD_ADVICE = "Leave out points without flow over the crest"
UNIT_ADVICE = "Check the units of heads and flows, and that heads count from the crest"


@dataclass(frozen=True)
class Calibration:
    """A power law of the head for one set of boards, and where it holds.

    Attributes
    ----------
    flow_at_one_metre : float
        Flow at a head of 1 m. [m3/s]
    exponent : float
        Power of the head. [-]
    head_lowest, head_highest : float
        Heads over the crest between which it was fitted. [m]
    """

    flow_at_one_metre: float
    exponent: float
    head_lowest: float
    head_highest: float


@dataclass(frozen=True)
class PowerFit:
    """A calibration with how well the measurements tell it.

    Attributes
    ----------
    calibration : Calibration
    points : int
        Number of measurements.
    standard_error : float
        Scatter of the flows about the law, as a share. [-]
    error_of_coefficient : float
        Standard error of the flow at one metre, as a share. [-]
    error_of_exponent : float
        Standard error of the exponent. [-]
    correlation : float
        Of the two errors. [-]
    head_zero : float
        What the staff read at the crest, if that was fitted. [m]
    """

    calibration: Calibration
    points: int
    standard_error: float
    error_of_coefficient: float
    error_of_exponent: float
    correlation: float
    head_zero: float = 0.0


def calibration_of_fit(fit: PowerFit) -> Calibration:
    """The power law of a fit.

    Parameters
    ----------
    fit : PowerFit
        A fit to measurements. [-]

    Returns
    -------
    Calibration

    Notes
    -----
    Q = a h^m    (derived)

    References
    ----------
    derived, part of the fit
    """
    return fit.calibration


def calibration_of_coefficients(
    coefficient: float,
    exponent: float,
    *,
    head_lowest: float,
    head_highest: float,
    head_unit: str,
    flow_unit: str,
) -> Calibration:
    """A power law that somebody else fitted, in the units in which it was published.

    Parameters
    ----------
    coefficient : float
        Flow at one unit of head, in `flow_unit`. [-]
    exponent : float
        Power of the head. [-]
    head_lowest : float
        Lowest head of the fit. [m]
    head_highest : float
        Highest head of the fit. [m]
    head_unit : str
        Unit of the head in the published equation. [-]
    flow_unit : str
        Unit of the flow in the published equation. [-]

    Returns
    -------
    Calibration

    Raises
    ------
    OutOfDomain
        If a number is not above zero or the range of heads is empty.

    Notes
    -----
    a = c U_Q / U_h^m, the units U in metres and seconds    (derived)

    References
    ----------
    derived, change of units
    """
    require_positive("coefficient", coefficient, "", UNIT_ADVICE)
    require_positive("exponent", exponent, "", UNIT_ADVICE)
    require_not_negative("lowest head of the fit", head_lowest, "m", "Check the fitted range")
    if not head_highest > head_lowest:
        raise refuse(
            "highest head of the fit",
            head_highest,
            "m",
            f"It lies above the lowest, {head_lowest:.3g} m",
            "Check the fitted range",
        )
    at_one_metre = coefficient * to_si(1.0, flow_unit) / to_si(1.0, head_unit) ** exponent
    return Calibration(float(at_one_metre), exponent, head_lowest, head_highest)


def calibration_scatter(fit: PowerFit) -> float:
    """Scatter of the measured flows about their calibration, as a share.

    Parameters
    ----------
    fit : PowerFit
        A fit to measurements. [-]

    Returns
    -------
    float
        Standard error of one flow. [-]

    Notes
    -----
    s = sqrt(sum(e^2) / (n - 2)), e in ln Q    (derived)

    References
    ----------
    derived, straight line by least squares
    """
    return fit.standard_error


def calibration_uncertainty(head: float, fit: PowerFit) -> float:
    """Uncertainty of a flow by a calibration at one head, as a share.

    Least amid the measured heads; it grows outside them.

    Parameters
    ----------
    head : float
        Water level above the crest or the point of the notch. [m]
    fit : PowerFit
        A fit to measurements. [-]

    Returns
    -------
    float
        Standard error of the flow. [-]

    Raises
    ------
    OutOfDomain
        If the head is not above zero.

    Notes
    -----
    u^2 = s^2 + u_a^2 + 2 r u_a u_m ln h + (u_m ln h)^2, h in metres    (derived)

    References
    ----------
    derived, propagation through a straight line by least squares
    """
    require_positive("head", head, "m", HEAD_ADVICE)
    x = math.log(head)
    of_line = (
        fit.error_of_coefficient**2
        + 2.0 * fit.correlation * fit.error_of_coefficient * fit.error_of_exponent * x
        + (fit.error_of_exponent * x) ** 2
    )
    return math.sqrt(fit.standard_error**2 + max(of_line, 0.0))


def calibration_range(head: Number, calibration: Calibration) -> tuple[Finding, ...]:
    """Findings where a head is outside those of a calibration.

    Parameters
    ----------
    head : float or array
        Water level above the crest or the point of the notch. [m]
    calibration : Calibration
        The power law. [-]

    Returns
    -------
    tuple of Finding

    References
    ----------
    derived, range of the fit as given
    """
    return weir_flow_power_law_range(
        head, head_lowest=calibration.head_lowest, head_highest=calibration.head_highest
    )
