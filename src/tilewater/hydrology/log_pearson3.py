# SPDX-License-Identifier: Apache-2.0
"""Log-Pearson III fitted by moments to the largest values of the years.

For complete records of positive values: there the moments of Bulletin 17B and the expected moments
of its successor are the same but for the correction of bias. Years without flow are left out first
and brought back by `exceedance_among_flow_years`. Historic floods and censored peaks are not its
business.
"""

import math
from statistics import NormalDist
from typing import NamedTuple

import numpy as np

from tilewater.basis.domain import (
    Number,
    refuse,
    require_finite,
    require_not_negative,
    require_positive,
)
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.hydrology.frequency import Values, frequency_factor_pearson3, require_exceedance
from tilewater.hydrology.frequency_bands import Band, require_confidence

FEWEST = 3
"""Values that a skew needs."""


class LogPearson3(NamedTuple):
    """Moments of the common logarithms.

    Attributes
    ----------
    mean : float
        Of log10 of the values. [-]
    deviation : float
        Standard deviation. [-]
    skew : float
        Skew coefficient. [-]
    """

    mean: float
    deviation: float
    skew: float


def fit_log_pearson3_moments(values: Values) -> LogPearson3:
    """Mean, standard deviation and skew of the logarithms of a sample.

    Parameters
    ----------
    values : array
        Largest values of the years, all above zero, in their own unit. [-]

    Returns
    -------
    LogPearson3
        With the skew of the station; see `skew_weighted` to join a regional one.

    Raises
    ------
    OutOfDomain
        If there are fewer than three values, all are equal, or one is not above zero.

    Notes
    -----
    M = sum(x) / N, S^2 = sum((x - M)^2) / (N - 1), x = log10 of the values    (iacwd1982)
    G = N sum((x - M)^3) / ((N - 1) (N - 2) S^3)    (iacwd1982)

    References
    ----------
    iacwd1982, sec. V.B, eq. 2 to 4
    """
    given = np.asarray(values, dtype=np.float64)
    require_positive("values", given, "", "Leave years without flow out and count them")
    require_finite("values", given, "", "Leave the years without a value out")
    if given.size < FEWEST:
        raise OutOfDomain(
            f"The sample has {given.size} values. A skew needs at least {FEWEST}. "
            "Use a longer record."
        )
    if given.min() == given.max():
        raise OutOfDomain(
            f"All {given.size} values are {given[0]:g}. They must differ for a distribution. "
            "Look for a limit that every year reaches."
        )
    x = np.log10(given)
    n, mean = x.size, float(x.mean())
    off = x - mean
    deviation = math.sqrt(float(off @ off) / (n - 1))
    skew = n * float((off**3).sum()) / ((n - 1) * (n - 2) * deviation**3)
    return LogPearson3(mean, deviation, skew)


def skew_square_error_wallis(skew: Number, years: Number) -> Number:
    """Mean square error of the skew of a station.

    Parameters
    ----------
    skew : float or array
        Skew of the logarithms. [-]
    years : float or array
        Years of the record. [years]

    Returns
    -------
    float or array
        Mean square error. [-]

    Raises
    ------
    OutOfDomain
        If the number of years is not above zero.

    Notes
    -----
    MSE = 10^(A - B log10(N / 10))    (iacwd1982)
    A = -0.33 + 0.08 |G| up to |G| = 0.90, then -0.52 + 0.30 |G|    (iacwd1982)
    B = 0.94 - 0.26 |G| up to |G| = 1.50, then 0.55    (iacwd1982)

    References
    ----------
    iacwd1982, eq. 6, after simulations by Wallis and others
    """
    require_positive("years", years, "years", "Count the years with a value")
    size = np.abs(skew)
    A = np.where(size <= 0.90, -0.33 + 0.08 * size, -0.52 + 0.30 * size)
    B = np.where(size <= 1.50, 0.94 - 0.26 * size, 0.55)
    error: Number = (10.0 ** (A - B * np.log10(np.asarray(years) / 10.0)))[()]
    return error


def skew_weighted(
    skew: Number, square_error: Number, *, regional_skew: Number, regional_square_error: Number
) -> Number:
    """Skew of a station joined with that of its region.

    Parameters
    ----------
    skew : float or array
        Skew of the station. [-]
    square_error : float or array
        Its mean square error. [-]
    regional_skew : float or array
        Skew of the region, from a published study. [-]
    regional_square_error : float or array
        Its mean square error. [-]

    Returns
    -------
    float or array
        Weighted skew. [-]

    Raises
    ------
    OutOfDomain
        If an error is negative or both are zero.

    Notes
    -----
    G = (MSEr Gs + MSEs Gr) / (MSEr + MSEs)    (iacwd1982)

    Regional skews are of streams. None is published for drain flow, so that it is never assumed.

    References
    ----------
    iacwd1982, eq. 5
    """
    advice = "Take it from the study of the regional skew"
    require_not_negative("square_error", square_error, "", "Compute it from skew and years")
    require_not_negative("regional_square_error", regional_square_error, "", advice)
    both = square_error + regional_square_error
    require_positive("sum of the square errors", both, "", advice)
    return (regional_square_error * skew + square_error * regional_skew) / both


def quantile_log_pearson3(parameters: LogPearson3, exceedance: Number) -> Number:
    """Value of a log-Pearson III distribution that is passed with a given chance.

    Parameters
    ----------
    parameters : LogPearson3
        Mean, deviation and skew of the common logarithms.
    exceedance : float or array
        Chance that a year passes the value. [-]

    Returns
    -------
    float or array
        In the unit of the values fitted. [-]

    Raises
    ------
    OutOfDomain
        If the chance is not between 0 and 1.

    Notes
    -----
    log10 x = M + K S    (iacwd1982)

    References
    ----------
    iacwd1982, eq. 1
    """
    mean, deviation, skew = parameters
    quantile: Number = 10.0 ** (mean + deviation * frequency_factor_pearson3(skew, exceedance))
    return quantile


def band_log_pearson3(
    parameters: LogPearson3, exceedance: Number, *, years: int, confidence: float = 0.9
) -> Band:
    """Band within which the true quantile would mostly lie.

    Parameters
    ----------
    parameters : LogPearson3
        Mean, deviation and skew of the common logarithms.
    exceedance : float or array
        Chance that a year passes the value. [-]
    years : int
        Years from which mean and deviation were computed. [years]
    confidence : float
        Share of such bands that hold the true value; each end is missed by half the rest. [-]

    Returns
    -------
    Band
        Lower and upper end, in the unit of the values.

    Raises
    ------
    OutOfDomain
        If a chance is not between 0 and 1, or the years are too few for the confidence.

    Notes
    -----
    a = 1 - z^2 / (2 (N - 1)), b = K^2 - z^2 / N    (iacwd1982)
    K_low, K_high = (K -/+ sqrt(K^2 - a b)) / a    (iacwd1982)

    The skew counts as known, so that with the skew of a short record the band is too narrow.

    References
    ----------
    iacwd1982, appendix 9
    """
    require_exceedance(exceedance)
    require_confidence(confidence)
    z = NormalDist().inv_cdf(0.5 * (1.0 + confidence))
    a = 1.0 - z * z / (2.0 * (years - 1)) if years > 1 else 0.0
    if a <= 0.0:
        allowed = f"A band of confidence {confidence:g} needs more than {1.0 + z * z / 2.0:.3g}"
        raise refuse("years", years, "years", allowed, "Use a longer record")
    mean, deviation, skew = parameters
    factor = frequency_factor_pearson3(skew, exceedance)
    b = factor * factor - z * z / years
    root = np.sqrt(factor * factor - a * b)
    low: Number = 10.0 ** (mean + deviation * (factor - root) / a)
    high: Number = 10.0 ** (mean + deviation * (factor + root) / a)
    return Band(low, high)


def exceedance_among_flow_years(exceedance: float, *, flow_years: int, years: int) -> float:
    """Chance of passing a value, of the years with flow alone.

    Parameters
    ----------
    exceedance : float
        Chance that any year passes the value. [-]
    flow_years : int
        Years with flow. [years]
    years : int
        All years of the record. [years]

    Returns
    -------
    float
        Chance to use with a distribution fitted to the years with flow. From 1 upwards it says
        that dry years alone are too many: the value is 0. [-]

    Raises
    ------
    OutOfDomain
        If the chance is not between 0 and 1, no year has flow or more have it than there are.

    Notes
    -----
    p = p_flow flow_years / years    (iacwd1982)

    References
    ----------
    iacwd1982, appendix 5, conditional probability; turned round, without the fit anew that follows
    """
    require_exceedance(exceedance)
    if not 0 < flow_years <= years:
        allowed = f"It lies between 1 and the {years} years of the record"
        raise refuse("flow_years", flow_years, "years", allowed, "Count the years with flow")
    return exceedance * years / flow_years


def low_outlier_limit_grubbs_beck(parameters: LogPearson3, years: int) -> float:
    """Value below which a year is a low outlier.

    Parameters
    ----------
    parameters : LogPearson3
        Mean and deviation of the common logarithms, with the outlier.
    years : int
        Years of the record. [years]

    Returns
    -------
    float
        In the unit of the values. [-]

    Raises
    ------
    OutOfDomain
        If there are fewer than 10 or more than 149 years, for which the test has no table.

    Notes
    -----
    log10 x = M - KN S, KN = -0.9043 + 3.345 sqrt(log10 N) - 0.4046 log10 N    (stedinger1993)

    References
    ----------
    stedinger1993, sec. 18.6.3, fitted to the 10 percent table of iacwd1982, appendix 4
    """
    if not 10 <= years <= 149:
        allowed = "The test is tabled from 10 to 149 years"
        raise refuse("years", years, "years", allowed, "Look at the smallest values by eye")
    log_n = math.log10(years)
    factor = -0.9043 + 3.345 * math.sqrt(log_n) - 0.4046 * log_n
    limit: float = 10.0 ** (parameters.mean - factor * parameters.deviation)
    return limit


def fit_log_pearson3_moments_range(values: Values) -> tuple[Finding, ...]:
    """Say where low years bend a log-Pearson III fit.

    Parameters
    ----------
    values : array
        Largest values of the years, all above zero, in their own unit. [-]

    Returns
    -------
    tuple of Finding
        Empty where no year is a low outlier, or the record is too short to say.
    """
    given = np.asarray(values, dtype=np.float64)
    if not 10 <= given.size <= 149:
        return ()
    limit = low_outlier_limit_grubbs_beck(fit_log_pearson3_moments(given), given.size)
    low = int(np.count_nonzero(given < limit))
    if low == 0:
        return ()
    return (
        Finding(
            "log-pearson3-low-outlier",
            "caution",
            "frequency",
            f"{low} of {given.size} years lie so low that they bend the fit of log-Pearson III at "
            "its upper end. They are kept. Rely on the other estimate, or find out why they "
            "are low.",
            float(given.min()),
            ">=",
            limit,
            "",
            "stedinger1993",
        ),
    )
