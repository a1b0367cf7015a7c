# SPDX-License-Identifier: Apache-2.0
"""What the largest values of the years say about a rarer one.

L-moments, the generalized extreme value distribution fitted by them, and the frequency factor of
Pearson III. `log_pearson3` fits that to logarithms, `frequency_bands` says how sure a quantile is,
`annual_maxima` finds the maxima of a daily series, `drain_peak` applies all of it to drain flow.
Floods known from before a record, and peaks known only to lie below a mark, are not its business.
"""

import math
from collections.abc import Sequence
from statistics import NormalDist
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import Number, refuse, require_finite
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.roots import bracketed_root
from tilewater.hydrology._gamma_tail import gamma_quantile

Values = Sequence[float] | NDArray[np.float64]

FEWEST = 4
"""Values that the fourth L-moment needs."""
HEAVIEST, LIGHTEST = -1.0 + 1e-9, 40.0
"""Shapes between which a GEV with a mean is looked for."""
SHAPE_STUDIED = 0.5
"""Shapes up to here, of either sign, for which the fit was studied (hosking1985). [-]"""
NEAR_GUMBEL = 1e-5
"""Shapes for which a series is closer than the equation."""
NEAR_NORMAL = 0.01
"""Skews for which a series in the skew is closer than the gamma distribution."""


class LMoments(NamedTuple):
    """L-moments of a sample.

    Attributes
    ----------
    l1 : float
        Mean, in the unit of the values.
    l2 : float
        Scale, half the mean difference of two values, in the unit of the values.
    t3 : float
        Ratio of skewness, l3 / l2. [-]
    t4 : float
        Ratio of kurtosis, l4 / l2. [-]
    """

    l1: float
    l2: float
    t3: float
    t4: float


class Gev(NamedTuple):
    """Parameters of a generalized extreme value distribution.

    Attributes
    ----------
    location : float
        In the unit of the values.
    scale : float
        In the unit of the values.
    shape : float
        Negative for the heavy tail, 0 for Gumbel, positive for one that ends above. [-]
    """

    location: float
    scale: float
    shape: float


def l_moments(values: Values) -> LMoments:
    """First two L-moments and the ratios of skewness and kurtosis.

    Parameters
    ----------
    values : array
        A sample of at least four that are not all equal, in any order, in its own unit. [-]

    Returns
    -------
    LMoments
        l1, l2, t3, t4.

    Raises
    ------
    OutOfDomain
        If there are fewer than four values, all are equal or one is no number.

    Notes
    -----
    b_r = (1/n) sum((i-1)...(i-r) / ((n-1)...(n-r)) x_i), x sorted upwards    (hosking1997)
    l1 = b0, l2 = 2 b1 - b0    (hosking1997)
    l3 = 6 b2 - 6 b1 + b0, l4 = 20 b3 - 30 b2 + 12 b1 - b0    (hosking1997)

    References
    ----------
    hosking1997, sec. 2.7
    """
    x = np.sort(np.asarray(values, dtype=np.float64))
    require_finite("values", x, "", "Leave the years without a value out")
    if x.size < FEWEST:
        raise OutOfDomain(
            f"The sample has {x.size} values. L-moments need at least {FEWEST}. "
            "Use a longer record."
        )
    if x[0] == x[-1]:
        raise OutOfDomain(
            f"All {x.size} values are {x[0]:g}. They must differ for a distribution. "
            "Look for a limit that every year reaches."
        )
    mean = float(x.mean())
    x -= mean  # a far origin would cost digits
    n, rank = x.size, np.arange(float(x.size))
    weight = np.ones(n)
    b = [0.0]
    for r in range(1, FEWEST):
        weight *= (rank - (r - 1)) / (n - r)
        b.append(float(weight @ x) / n)
    l2 = 2.0 * b[1]
    l3 = 6.0 * b[2] - 6.0 * b[1]
    l4 = 20.0 * b[3] - 30.0 * b[2] + 12.0 * b[1]
    return LMoments(mean, l2, l3 / l2, l4 / l2)


def fit_gev_l_moments(values: Values) -> Gev:
    """Generalized extreme value distribution that has the L-moments of a sample.

    Parameters
    ----------
    values : array
        Largest values of the years, in their own unit. [-]

    Returns
    -------
    Gev
        Location, scale, shape; a negative shape is the heavy tail.

    Raises
    ------
    OutOfDomain
        If there are fewer than four values, all are equal or one is no number.
    NoSolution
        If the sample is more lopsided than any such distribution.

    Notes
    -----
    2 (1 - 3^-k) / (1 - 2^-k) - 3 = t3    (hosking1985)
    scale = l2 k / ((1 - 2^-k) Gamma(1 + k))    (hosking1985)
    location = l1 - scale (1 - Gamma(1 + k)) / k    (hosking1985)

    The shape k is solved for, not taken from the usual approximation.

    References
    ----------
    hosking1985, by probability-weighted moments
    hosking1997, appendix A.6, the same by L-moments
    """
    moments = l_moments(values)
    if not _skewness_gev(LIGHTEST) < moments.t3 < _skewness_gev(HEAVIEST):
        raise NoSolution(
            f"The L-skewness is {moments.t3:.4g}. It must lie between -1 and 1. "
            "Use a longer record."
        )
    shape = bracketed_root(_skewness_surplus, HEAVIEST, LIGHTEST, (moments.t3,), 1e-14)
    log_gamma = math.lgamma(1.0 + shape)
    two = -math.expm1(-shape * math.log(2.0)) / shape if shape else math.log(2.0)
    scale = moments.l2 / two * math.exp(-log_gamma)
    if abs(shape) < NEAR_GUMBEL:
        euler = float(np.euler_gamma)
        shift = euler - (euler**2 / 2.0 + math.pi**2 / 12.0) * shape
    else:
        shift = -math.expm1(log_gamma) / shape
    return Gev(moments.l1 - scale * shift, scale, shape)


def fit_gev_l_moments_range(parameters: Gev) -> tuple[Finding, ...]:
    """Say where a fitted shape leaves what was studied.

    Parameters
    ----------
    parameters : Gev
        As fitted.

    Returns
    -------
    tuple of Finding
        Empty within the range.
    """
    if abs(parameters.shape) <= SHAPE_STUDIED:
        return ()
    tail = "so heavy a tail" if parameters.shape < 0 else "so sharp an upper end"
    return (
        Finding(
            "gev-shape-outside",
            "caution",
            "frequency",
            f"The fitted shape is {parameters.shape:.2f}; fits were studied from "
            f"{-SHAPE_STUDIED:g} to {SHAPE_STUDIED:g}. A record of this length seldom shows "
            f"{tail}; compare the other estimate.",
            parameters.shape,
            "",
            math.copysign(SHAPE_STUDIED, parameters.shape),
            "",
            "hosking1985",
        ),
    )


def quantile_gev(parameters: Gev | tuple[float, float, float], exceedance: Number) -> Number:
    """Value of a generalized extreme value distribution that is passed with a given chance.

    Parameters
    ----------
    parameters : Gev
        Location, scale, shape; a negative shape is the heavy tail. [-]
    exceedance : float or array
        Chance that a year passes the value, 0.1 for the ten-year one. [-]

    Returns
    -------
    float or array
        In the unit of location and scale. [-]

    Raises
    ------
    OutOfDomain
        If the chance is not between 0 and 1, or the scale not above zero.

    Notes
    -----
    x = location + scale (1 - (-ln(1 - p))^k) / k    (hosking1997)
    x = location - scale ln(-ln(1 - p)) where k = 0    (hosking1997)

    References
    ----------
    hosking1997, appendix A.6
    """
    location, scale, shape = parameters
    require_exceedance(exceedance)
    if not scale > 0:
        raise refuse("scale", scale, "", "It must be above zero", "Fit it to values that differ")
    y = -np.log(-np.log1p(-np.asarray(exceedance, dtype=np.float64)))
    reduced = y if shape == 0.0 else -np.expm1(-shape * y) / shape
    quantile: Number = (location + scale * reduced)[()]
    return quantile


def frequency_factor_pearson3(skew: Number, exceedance: Number) -> Number:
    """Standard deviations that a Pearson III quantile lies above the mean.

    Parameters
    ----------
    skew : float or array
        Skew coefficient. [-]
    exceedance : float or array
        Chance that a year passes the value. [-]

    Returns
    -------
    float or array
        Frequency factor, negative below the mean. [-]

    Raises
    ------
    OutOfDomain
        If the chance is not between 0 and 1 or the skew is no number.

    Notes
    -----
    a = 4 / G^2, K = (G/2) (x - a), Q(a, x) = p    (iacwd1982)

    Q is the upper tail of the gamma distribution, the lower one where G is negative; exact, not
    the usual cube. Within 0.01 of no skew the series of the quantile in G up to G^3:

    K = z + (z^2 - 1) G/6 + (z^3 - 7 z) G^2/144 - ...    (fisher1960)

    References
    ----------
    iacwd1982, appendix 3, the table that this replaces
    fisher1960, whole paper
    """
    require_exceedance(exceedance)
    require_finite("skew", skew, "", "Compute it from at least three values")
    pairs = np.broadcast(skew, exceedance)
    factors = np.array([_factor(float(G), float(p)) for G, p in pairs]).reshape(pairs.shape)
    factor: Number = factors[()]
    return factor


def require_exceedance(exceedance: Number) -> None:
    """Refuse a chance that is not between 0 and 1, ends excluded.

    Parameters
    ----------
    exceedance : float or array
        Chance that a year passes a value. [-]

    Raises
    ------
    OutOfDomain
        If any is 0 or less, 1 or more, or no number.
    """
    each = np.atleast_1d(exceedance)
    for outside in each[~((each > 0.0) & (each < 1.0))].flat:
        allowed, advice = (
            "It lies between 0 and 1, ends excluded",
            "Give 0.1 for the ten-year value",
        )
        raise refuse("exceedance", float(outside), "", allowed, advice)


def _skewness_gev(shape: float) -> float:
    """L-skewness of a GEV of this shape."""
    if shape == 0.0:
        return 2.0 * math.log(3.0) / math.log(2.0) - 3.0
    return 2.0 * math.expm1(-shape * math.log(3.0)) / math.expm1(-shape * math.log(2.0)) - 3.0


def _skewness_surplus(shape: float, wanted: float) -> float:
    return _skewness_gev(shape) - wanted


def _factor(G: float, p: float) -> float:  # noqa: N803 - symbols of the equation
    """Frequency factor for one skew and chance."""
    if abs(G) < NEAR_NORMAL:
        z = -NormalDist().inv_cdf(p)
        cubic = (z**4 - 6.0 * z * z + 3.0) / 2160.0 + 5.0 * (z * z - 1.0) / 1296.0
        return z + (z * z - 1.0) * G / 6.0 + (z**3 - 7.0 * z) * G**2 / 144.0 - cubic * G**3
    form = 4.0 / (G * G)
    x = gamma_quantile(form, 1.0 - p, p) if G > 0 else gamma_quantile(form, p, 1.0 - p)
    return 0.5 * G * (x - form)
