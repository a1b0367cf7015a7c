# SPDX-License-Identifier: Apache-2.0
"""Fit of a calibration to heads and flows that were measured on one set of boards.

A straight line by least squares through the logarithms; what it yields is in `calibrations`.
"""

import math
from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse, require_finite, require_positive
from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.hydraulics.calibrations import HEAD_ADVICE, UNIT_ADVICE, Calibration, PowerFit
from tilewater.hydraulics.limits import outside

FEWEST_POINTS = 3
FEWEST_POINTS_ZERO = 4
LEAST_EXPONENT, MOST_EXPONENT = 1.2, 2.8
MOST_SCATTER = 0.15
BELOW, ABOVE = 0.5, 0.9
"""How far the zero is looked for: below, in highest heads; above, in lowest heads."""
STEPS_OF_ZERO = 200
CLOSE = 1e-9
"""Closeness of a fitted zero. [m]"""
GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0


def calibrate_boards(heads: Sequence[float], flows: Sequence[float]) -> PowerFit:
    """Power law through heads and flows measured on one set of boards.

    Parameters
    ----------
    heads : sequence of float
        Water levels above the crest or the point of the notch. [m]
    flows : sequence of float
        Flows measured with them, leakage of the boards included. [m3/s]

    Returns
    -------
    PowerFit

    Raises
    ------
    OutOfDomain
        If there are fewer than three pairs, a value is not above zero, or all heads are the same.

    Notes
    -----
    ln Q = ln a + m ln h, by least squares; s^2 = sum(e^2) / (n - 2)    (derived)

    s, the scatter of ln Q, is the scatter of the flow as a share where it is small. Covariance of
    ln a and m by the usual formulas of a straight line. See `calibrate_boards_range`.

    References
    ----------
    derived, straight line by least squares
    chun2008, form of the calibration, from memory
    """
    head, flow = _pairs(heads, flows, FEWEST_POINTS)
    return _fit(head, flow, 0.0, len(head) - 2)


def calibrate_boards_range(heads: Sequence[float], flows: Sequence[float]) -> tuple[Finding, ...]:
    """Findings where a calibration is unlike any crest, or its points scatter.

    Parameters
    ----------
    heads : sequence of float
        Water levels above the crest or the point of the notch. [m]
    flows : sequence of float
        Flows measured with them. [m3/s]

    Returns
    -------
    tuple of Finding

    References
    ----------
    practice, exponents of 1.37 for narrow boxes to 2.5 for a V-notch
    """
    return _findings(calibrate_boards(heads, flows))


def calibrate_boards_zero(heads: Sequence[float], flows: Sequence[float]) -> PowerFit:
    """Power law through heads and flows whose zero is not sure, the zero fitted as well.

    Only where the staff was not set to the crest: three numbers from few points are less sure than
    two. The law then holds for heads over the crest itself.

    Parameters
    ----------
    heads : sequence of float
        Water levels on a staff whose zero is not that of the crest. [m]
    flows : sequence of float
        Flows measured with them, leakage of the boards included. [m3/s]

    Returns
    -------
    PowerFit
        Its errors are those at the fitted zero.

    Raises
    ------
    OutOfDomain
        If there are fewer than four pairs, a value is not above zero, or all heads are the same.
    NoSolution
        If the points do not tell where the zero lies.

    Notes
    -----
    ln Q = ln a + m ln(h - e), by least squares over a, m and e; s^2 = sum(e^2) / (n - 3)  (derived)

    e, what the staff reads at the crest, is looked for from half the highest head below zero to
    0.9 of the lowest above.

    References
    ----------
    derived, straight line by least squares, the zero by trying
    """
    head, flow = _pairs(heads, flows, FEWEST_POINTS_ZERO)

    def misfit(zero: float) -> float:
        return _misfit(head, flow, zero)

    zeros = np.linspace(-BELOW * np.max(head), ABOVE * np.min(head), STEPS_OF_ZERO + 1)
    best = int(np.argmin([misfit(float(zero)) for zero in zeros]))
    if best in (0, STEPS_OF_ZERO):
        raise NoSolution(
            "The points do not tell where the flow begins. The zero of the heads must show in "
            "them. Survey the crest, or measure small flows as well."
        )
    zero = _least(misfit, float(zeros[best - 1]), float(zeros[best + 1]))
    return _fit(head, flow, zero, len(head) - 3)


def calibrate_boards_zero_range(
    heads: Sequence[float], flows: Sequence[float]
) -> tuple[Finding, ...]:
    """Findings where a calibration with a fitted zero is unlike any crest, or its points scatter.

    Parameters
    ----------
    heads : sequence of float
        Water levels on a staff whose zero is not that of the crest. [m]
    flows : sequence of float
        Flows measured with them. [m3/s]

    Returns
    -------
    tuple of Finding

    References
    ----------
    practice, exponents of 1.37 for narrow boxes to 2.5 for a V-notch
    """
    return _findings(calibrate_boards_zero(heads, flows))


def _pairs(
    heads: Sequence[float], flows: Sequence[float], fewest: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    head, flow = np.asarray(heads, dtype=float), np.asarray(flows, dtype=float)
    if len(head) != len(flow):
        raise refuse(
            "number of measured flows",
            len(flow),
            "",
            f"Each of the {len(head)} heads needs one flow",
            "List them in the same order",
        )
    if len(head) < fewest:
        raise refuse(
            "number of measurements",
            len(head),
            "",
            f"At least {fewest} are needed",
            "Measure more flows, small ones too",
        )
    for name, values, unit in (("measured head", head, "m"), ("measured flow", flow, "m3/s")):
        require_positive(name, values, unit, HEAD_ADVICE)
        require_finite(name, values, unit, HEAD_ADVICE)
    if np.ptp(head) == 0.0:
        raise refuse(
            "measured head", float(head[0]), "m", "It must differ between points", "Measure more"
        )
    return head, flow


def _misfit(head: NDArray[np.float64], flow: NDArray[np.float64], zero: float) -> float:
    """Sum of the squared errors of ln Q."""
    x, y = np.log(head - zero), np.log(flow)
    slope = float(np.cov(x, y, bias=True)[0, 1] / np.var(x))
    return float(np.sum((y - y.mean() - slope * (x - x.mean())) ** 2))


def _fit(
    head: NDArray[np.float64], flow: NDArray[np.float64], zero: float, freedom: int
) -> PowerFit:
    x, y = np.log(head - zero), np.log(flow)
    middle, spread = float(x.mean()), float(np.sum((x - x.mean()) ** 2))
    exponent = float(np.sum((x - middle) * y)) / spread
    scatter = math.sqrt(_misfit(head, flow, zero) / freedom)
    of_exponent = scatter / math.sqrt(spread)
    of_coefficient = scatter * math.sqrt(1.0 / len(x) + middle**2 / spread)
    return PowerFit(
        Calibration(
            math.exp(float(y.mean()) - exponent * middle),
            exponent,
            float(head.min()) - zero,
            float(head.max()) - zero,
        ),
        len(x),
        scatter,
        of_coefficient,
        of_exponent,
        -middle / math.sqrt(spread / len(x) + middle**2),
        zero,
    )


def _least(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function with one valley between two ends is least, by the golden section."""
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    while high - low > CLOSE:
        if function(left) < function(right):
            high = right
        else:
            low = left
        left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    return 0.5 * (low + high)


def _findings(fit: PowerFit) -> tuple[Finding, ...]:
    exponent = outside(
        "exponent of the calibration",
        fit.calibration.exponent,
        "",
        code="rating-exponent",
        source="practice",
        low=LEAST_EXPONENT,
        high=MOST_EXPONENT,
        advice=UNIT_ADVICE,
    )
    scatter = outside(
        "scatter of the measured flows about their calibration",
        fit.standard_error,
        "",
        code="rating-scatter",
        source="practice",
        high=MOST_SCATTER,
        advice="Measure again, with time for the level to settle",
    )
    return (*exponent, *scatter)
