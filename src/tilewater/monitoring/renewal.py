# SPDX-License-Identifier: Apache-2.0
"""The clock of permeability: how a conductivity declines, and what readings make of it.

A decline is many draws of a new conductivity and a yearly rate. Readings move every draw toward
what was seen, the more the less sure the draws were (a Kalman gain from the draws themselves), so
a reading overrides the curve by its error and no further. The capacity of a bed is not computed
here: what matters of it is one number, the conductivity below which it falls short.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.basis.errors import OutOfDomain

Floats = NDArray[np.float64]

LONGEST_YEARS = 60.0
"""The clock is not read beyond this. [years]"""
SEED = 2718
"""Of the errors that are drawn with the readings."""


@dataclass(frozen=True)
class Decline:
    """Draws of how a conductivity declines.

    Attributes
    ----------
    log_new : array
        Natural logarithm of the conductivity of new media in m/s, 20 degC. [-]
    per_year : array
        Decline of that logarithm. [1/year]
    """

    log_new: Floats
    per_year: Floats

    def at(self, age_years: float) -> Floats:
        """Conductivity of every draw at an age. [m/s]"""
        return np.exp(self.log_new - self.per_year * age_years)


def decline_of_draws(
    conductivity_new: Floats, conductivity_aged: Floats, aged_years: float
) -> Decline:
    """Decline of every draw from two conductivities.

    Parameters
    ----------
    conductivity_new, conductivity_aged : array
        At 20 degC. [m/s]
    aged_years : float
        Age of the second. [years]

    Returns
    -------
    Decline

    Raises
    ------
    OutOfDomain
        If a conductivity or the age is not above zero.

    Notes
    -----
    K(t) = K0 exp(-r t), r = ln(K0 / K1) / t1    (derived)

    References
    ----------
    derived, an even decline each year is a judgement
    """
    require_positive("conductivity_new", conductivity_new, "m/s", "Give it at 20 degC")
    require_positive("conductivity_aged", conductivity_aged, "m/s", "Give it at 20 degC")
    require_positive("aged_years", aged_years, "years", "Give the age of the aged media")
    new = np.log(conductivity_new)
    return Decline(new, (new - np.log(conductivity_aged)) / aged_years)


def decline_after_readings(
    decline: Decline, ages_years: tuple[float, ...], readings: tuple[float, ...], error: float
) -> Decline:
    """Decline once readings of the conductivity are taken in.

    Parameters
    ----------
    decline : Decline
        As it was thought before. [-]
    ages_years : tuple of float
        Age of the media at each reading. [years]
    readings : tuple of float
        Conductivity at 20 degC, read off head and flow. [m/s]
    error : float
        One standard deviation of a reading, as a share. [-]

    Returns
    -------
    Decline
        As many draws; those before where there is no reading.

    Raises
    ------
    OutOfDomain
        If there are not as many ages as readings, a reading or the error is not above zero, or an
        age is negative.

    Notes
    -----
    x' = x + C H' (H C H' + R)^-1 (y + e - H x),  x = (ln K0, r),  H = (1, -t)    (evensen1994)

    C is the covariance of the draws, R the error squared; e is drawn from R, so that the draws
    keep the spread that the readings leave.

    References
    ----------
    evensen1994, draws moved by readings
    """
    if len(ages_years) != len(readings):
        raise OutOfDomain(
            f"{len(ages_years)} ages and {len(readings)} readings are given. Each reading has "
            "one age. Give as many of each."
        )
    if not readings:
        return decline
    seen, ages = np.asarray(readings, np.float64), np.asarray(ages_years, np.float64)
    require_positive("reading", seen, "m/s", "Check head and flow")
    require_positive("error", error, "", "Use 0.25 if in doubt")
    require_not_negative("age", ages, "years", "Count from the day of filling")
    state = np.stack([decline.log_new, decline.per_year])
    sees = np.stack([np.ones_like(ages), -ages], axis=1)
    spread = np.cov(state)
    gain = spread @ sees.T @ np.linalg.inv(sees @ spread @ sees.T + error**2 * np.eye(ages.size))
    random = np.random.default_rng(SEED)
    noise = error * random.standard_normal((ages.size, state.shape[1]))
    moved = state + gain @ (np.log(seen)[:, None] + noise - sees @ state)
    return Decline(moved[0], moved[1])


def ages_at_conductivity(decline: Decline, conductivity: float) -> Floats:
    """Age at which each draw comes down to a conductivity.

    Parameters
    ----------
    decline : Decline
        The draws. [-]
    conductivity : float
        At 20 degC. [m/s]

    Returns
    -------
    array
        0 where new media lie below it, 60 where it is later or never. [years]

    Raises
    ------
    OutOfDomain
        If the conductivity is not above zero.

    Notes
    -----
    t = (ln K0 - ln K) / r    (derived)

    References
    ----------
    derived, the decline solved for its age
    """
    require_positive("conductivity", conductivity, "m/s", "Give what the criterion asks for")
    left = decline.log_new - np.log(conductivity)
    with np.errstate(divide="ignore", invalid="ignore"):
        ages = np.where(decline.per_year > 0.0, left / decline.per_year, LONGEST_YEARS)
    return np.where(left <= 0.0, 0.0, np.minimum(ages, LONGEST_YEARS))


def quantile_of_ages(ages: Floats, share: float) -> float:
    """Age by which a share of the draws is through.

    Parameters
    ----------
    ages : array
        Of the draws. [years]
    share : float
        From 0 to 1. [-]

    Returns
    -------
    float
        Age. [years]

    Notes
    -----
    quantile of the draws, between neighbours in a straight line    (derived)

    References
    ----------
    derived, order statistics
    """
    return float(np.quantile(ages, share))


def years_left(age_at_end: float, age_now: float) -> float:
    """Years that are left.

    Parameters
    ----------
    age_at_end : float
        Age at which the criterion is no longer met. [years]
    age_now : float
        Age on the day that is asked for. [years]

    Returns
    -------
    float
        Below zero where that day has passed. [years]

    Notes
    -----
    left = t_end - t_now    (derived)

    References
    ----------
    derived, a difference
    """
    return age_at_end - age_now


def share_past(ages: Floats, age_now: float) -> float:
    """Share of the draws whose end has passed.

    Parameters
    ----------
    ages : array
        Of the draws. [years]
    age_now : float
        Age on the day that is asked for. [years]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    p = number of t_end <= t_now over number of draws    (derived)

    References
    ----------
    derived, counting
    """
    return float(np.mean(ages <= age_now))


def conductivity_of_layers(new: float, aged: float, new_share: float) -> float:
    """Conductivity of a bed of which a share of the length is new.

    Parameters
    ----------
    new, aged : float
        Of the two parts. [m/s]
    new_share : float
        Share of the flow length that is new. [-]

    Returns
    -------
    float
        As if it were one. [m/s]

    Raises
    ------
    OutOfDomain
        If a conductivity is not above zero.

    Notes
    -----
    1 / K = s / K_new + (1 - s) / K_aged, one behind the other    (bear1972)

    References
    ----------
    bear1972, layers across the flow
    """
    require_positive("new", new, "m/s", "Give it at 20 degC")
    require_positive("aged", aged, "m/s", "Give it at 20 degC")
    return 1.0 / (new_share / new + (1.0 - new_share) / aged)


def sign_stands(value: float, limit: float, side: str) -> bool:
    """Whether a sign that chips are due stands.

    Parameters
    ----------
    value : float
        As measured. [-]
    limit : float
        Of the sign, in the same unit. [-]
    side : str
        "below" or "above": where the sign lies. [-]

    Returns
    -------
    bool

    Notes
    -----
    value < limit, or value > limit    (practice)

    References
    ----------
    practice, signs and their limits are the office's to change
    """
    return value < limit if side == "below" else value > limit
