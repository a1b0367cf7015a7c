# SPDX-License-Identifier: Apache-2.0
"""A range after a measurement: what was thought before, weighed with what was measured.

A normal or lognormal range and a measurement with a stated error meet in closed form: each counts
by the inverse of its variance. A range whose two sides spread differently keeps them apart, each
narrowed by itself, which is exact where they are alike. What was measured of an outcome rather
than of a parameter has no closed form; there the draws are weighed by how well they agree with it.
"""

import math
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np

from tilewater.basis.domain import refuse
from tilewater.basis.findings import Finding
from tilewater.nitrate.parameter_ranges import QUANTILES, ParameterRange, Values

NORMAL = NormalDist()
FAR = 2.0
"""Standard deviations of the difference beyond which thought and measured do not agree."""
FEW = 50.0
"""Draws that count, below which quantiles of weighed draws are rough."""


@dataclass(frozen=True)
class Measured:
    """A measurement of a parameter.

    Attributes
    ----------
    value : float
        In the unit of its range. [-]
    error : float
        Standard deviation, as a share of the value for a lognormal range, else in its unit. [-]
    """

    value: float
    error: float


def updated_range(prior: ParameterRange, measured: Measured) -> ParameterRange:
    """Range of a parameter after a measurement.

    Parameters
    ----------
    prior : ParameterRange
        What was thought before; normal or lognormal. [-]
    measured : Measured
        What was measured, and how well. [-]

    Returns
    -------
    ParameterRange
        Never wider on either side. [-]

    Raises
    ------
    OutOfDomain
        If the range is triangular or uniform, the error not above 0, or the value cannot be.

    Notes
    -----
    k = s^2 / (s^2 + e^2);  m' = m + k (x - m);  s'^2 = s^2 e^2 / (s^2 + e^2)    (lindley1972)

    A lognormal range is taken by its logarithms, with e^2 = ln(1 + share^2). s is that of the side
    on which the measurement lies for m', and each side's own for s'.

    References
    ----------
    lindley1972, normal law and normal measurement
    """
    if prior.kind not in ("normal", "lognormal"):
        raise refuse(
            prior.slug, measured.value, prior.unit, "A normal or lognormal range", "Weigh the draws"
        )
    if not measured.error > 0.0:
        raise refuse("error", measured.error, prior.unit, "It lies above 0", "State it")
    is_log = prior.kind == "lognormal"
    if (is_log and not measured.value > 0.0) or not prior.least <= measured.value <= prior.most:
        allowed = f"It lies above 0 and from {prior.least:g} to {prior.most:g}"
        raise refuse(prior.slug, measured.value, prior.unit, allowed, "Check the value")
    middle, below, above = _normal(prior)
    found = math.log(measured.value) if is_log else measured.value
    noise = math.sqrt(math.log1p(measured.error**2)) if is_log else measured.error
    own = below if found < middle else above
    middle += own**2 / (own**2 + noise**2) * (found - middle)
    low = middle + _score(prior.low_means) * _narrowed(below, noise)
    high = middle + _score(prior.high_means) * _narrowed(above, noise)
    back = (math.exp(v) if is_log else v for v in (low, middle, high))
    low, middle, high = (float(v) for v in back)
    return replace(prior, low=low, mid=middle, high=high)


def updated_range_range(prior: ParameterRange, measured: Measured) -> tuple[Finding, ...]:
    """Say where a measurement lies far from what was thought."""
    is_log = prior.kind == "lognormal"
    middle, below, above = _normal(prior)
    found = math.log(measured.value) if is_log else measured.value
    noise = math.sqrt(math.log1p(measured.error**2)) if is_log else measured.error
    apart = (found - middle) / math.hypot(below if found < middle else above, noise)
    if abs(apart) <= FAR:
        return ()
    return (
        Finding(
            "measured-far-from-range",
            "caution",
            prior.slug,
            f"{prior.slug} was measured as {measured.value:.3g} {prior.unit}; {prior.low:.3g} to "
            f"{prior.high:.3g} was thought before, and {abs(apart):.1f} standard deviations lie "
            "between. Check the measurement and its error before it is leaned on.",
            value=measured.value,
            unit=prior.unit,
            source=prior.source,
        ),
    )


def weights_of_draws(values: Values, measured: float, error: float) -> Values:
    """Weight of each draw after a measurement of what it foretold.

    Parameters
    ----------
    values : array
        What each draw foretold, in the unit of the measurement. [-]
    measured : float
        What was measured. [-]
    error : float
        Standard deviation of that, with what one season differs from the long run. [-]

    Returns
    -------
    array
        Weights that add up to 1. [-]

    Raises
    ------
    OutOfDomain
        If the error is not above 0.

    Notes
    -----
    w_i ~ exp(-(y_i - y)^2 / 2 e^2)    (lindley1972)

    References
    ----------
    lindley1972, normal measurement; draws stand for the law before
    """
    if not error > 0.0:
        raise refuse("error", error, "", "It lies above 0", "State how well it was measured")
    logs = -0.5 * ((values - measured) / error) ** 2
    weights = np.exp(logs - logs.max())
    return np.asarray(weights / weights.sum())


def weights_of_draws_range(values: Values, measured: float, error: float) -> tuple[Finding, ...]:
    """Say where only few of the draws agree with what was measured.

    Parameters
    ----------
    values : array
        What each draw foretold, in the unit of the measurement. [-]
    measured : float
        What was measured. [-]
    error : float
        Standard deviation of that. [-]

    Returns
    -------
    tuple of Finding
        Empty where 50 draws or more count.
    """
    count = draws_that_count(weights_of_draws(values, measured, error))
    if count >= FEW:
        return ()
    return (
        Finding(
            "few-draws-agree",
            "caution",
            "Draws",
            f"Only {count:.0f} of {values.size} draws count after the measurement; {FEW:.0f} are "
            "wanted. It lies at the edge of what was thought possible: check it, and its error.",
            value=count,
            operator=">=",
            limit=FEW,
            source="kish1965",
        ),
    )


def draws_that_count(weights: Values) -> float:
    """Number of equal draws that tell as much as weighed ones.

    Parameters
    ----------
    weights : array
        Weights that add up to 1. [-]

    Returns
    -------
    float
        From 1 to the number of draws. [-]

    Notes
    -----
    n = 1 / sum of w^2    (kish1965)

    References
    ----------
    kish1965, unequal weights
    """
    return float(1.0 / np.sum(weights**2))


def quantile_of_weighed(values: Values, weights: Values, share: float) -> float:
    """Quantile of draws that weigh differently.

    Parameters
    ----------
    values : array
        Draws, in their own unit. [-]
    weights : array
        Weight of each. [-]
    share : float
        Share of the weight below it. [-]

    Returns
    -------
    float
        Quantile, in the unit of the draws. [-]

    Notes
    -----
    straight lines between the draws, each at the weight below and half its own    (derived)

    References
    ----------
    derived, empirical quantile with weights
    """
    order = np.argsort(values, kind="stable")
    own = weights[order]
    place = np.cumsum(own) - 0.5 * own
    return float(np.interp(share * own.sum(), place, values[order]))


def _normal(prior: ParameterRange) -> tuple[float, float, float]:
    """Middle and spread of both sides, of the value or of its logarithm."""
    values = (prior.low, prior.mid, prior.high)
    low, middle, high = (math.log(v) for v in values) if prior.kind == "lognormal" else values
    return (
        middle,
        (low - middle) / _score(prior.low_means),
        (high - middle) / _score(prior.high_means),
    )


def _score(means: str) -> float:
    return NORMAL.inv_cdf(QUANTILES[means])


def _narrowed(spread: float, noise: float) -> float:
    return spread * noise / math.hypot(spread, noise)
