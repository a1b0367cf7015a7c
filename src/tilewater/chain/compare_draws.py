# SPDX-License-Identifier: Apache-2.0
"""Draws of two practices side by side: how often one does better, and what that hangs on.

Draw 7 of every practice has the same nitrate and stands on the same days, so that draws are
compared in pairs: ranges that overlap may still be apart in nearly every pair, and ranges that
hardly do may not.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain

Array = NDArray[np.float64]

TOLD_APART = 0.9
"""Share of the draws in which one must do better to be called so; judgement. [-]"""
LEAST_DRAWS = 16
"""Pairs below which nothing is said of them. [-]"""


@dataclass(frozen=True)
class Hinge:
    """What the difference of two practices hangs on most.

    Attributes
    ----------
    name : str
        Name of the parameter.
    correlation : float
        Rank correlation with the difference. [-]
    """

    name: str
    correlation: float


def share_better(first: Array, second: Array) -> float:
    """Share of the draws in which the first is larger.

    Parameters
    ----------
    first, second : array
        Draws of both, in pairs; the longer is cut to the shorter. [-]

    Returns
    -------
    float
        Share; a draw in which both are the same counts for neither. [-]

    Raises
    ------
    OutOfDomain
        If there are too few pairs.

    Notes
    -----
    P = n(x_i > y_i) / n    (derived)

    References
    ----------
    derived, a count of pairs
    """
    count = _pairs(first, second)
    return float(np.mean(first[:count] > second[:count]))


def share_less(first: Array, second: Array) -> float:
    """Share of the draws in which the first is smaller.

    Parameters
    ----------
    first, second : array
        Draws of both, in pairs; the longer is cut to the shorter. [-]

    Returns
    -------
    float
        Share; a draw in which both are the same counts for neither. [-]

    Raises
    ------
    OutOfDomain
        If there are too few pairs.

    Notes
    -----
    P = n(x_i < y_i) / n    (derived)

    References
    ----------
    derived, a count of pairs
    """
    return share_better(second, first)


def difference_of_draws(first: Array, second: Array) -> Array:
    """The first less the second, draw by draw.

    Parameters
    ----------
    first, second : array
        Draws of both, in pairs; the longer is cut to the shorter. [-]

    Returns
    -------
    array
        Differences. [-]

    Raises
    ------
    OutOfDomain
        If there are too few pairs.

    Notes
    -----
    d_i = x_i - y_i    (derived)

    References
    ----------
    derived, differences of pairs
    """
    count = _pairs(first, second)
    return np.asarray(first[:count] - second[:count], dtype=np.float64)


def rank_correlation(values: Array, other: Array) -> float:
    """Rank correlation of two series of draws.

    Parameters
    ----------
    values, other : array
        Draws in pairs, as many of both. [-]

    Returns
    -------
    float
        From -1 to 1; 0 where one of them never changes. [-]

    Notes
    -----
    r = cov(rank x, rank y) / (s(rank x) s(rank y))    (spearman1904)

    Values that are the same share the mean of their ranks.

    References
    ----------
    spearman1904, correlation of ranks
    """
    first, second = _ranks(values), _ranks(other)
    spread = float(first.std() * second.std())
    if spread == 0.0:
        return 0.0
    return float(np.mean((first - first.mean()) * (second - second.mean())) / spread)


def hinge_of(difference: Array, drawn: Mapping[str, Array]) -> Hinge:
    """Parameter that goes most with the difference of two practices.

    Parameters
    ----------
    difference : array
        Of the draws, in pairs. [-]
    drawn : mapping of str to array
        Draws of each parameter by name, in the same order. [-]

    Returns
    -------
    Hinge
        Its name and its rank correlation; of two alike the first by name.

    Raises
    ------
    OutOfDomain
        If no parameter was drawn.

    Notes
    -----
    argmax |r(x_k, d)|    (spearman1904)

    References
    ----------
    spearman1904, correlation of ranks
    """
    if not drawn:
        raise OutOfDomain(
            "0 parameters were drawn. A difference hangs on at least one. Draw the practices."
        )
    found = [
        Hinge(name, rank_correlation(drawn[name][: difference.size], difference))
        for name in sorted(drawn)
    ]
    return max(found, key=lambda hinge: abs(hinge.correlation))


def cost_of_draws(annual_cost: float, removed: Array) -> Array:
    """Cost of a kilogram by draw.

    Parameters
    ----------
    annual_cost : float
        Cost of a year. [USD]
    removed : array
        Removed or kept back in a mean year, by draw. [kg]

    Returns
    -------
    array
        Cost; infinite where nothing is removed. [USD]

    Notes
    -----
    c_i = C / M_i    (derived)

    References
    ----------
    derived, a quotient
    """
    some = removed > 0.0
    return np.where(some, annual_cost / np.where(some, removed, 1.0), np.inf)


def mass_for_money(annual_cost: float, removed: Array) -> Array:
    """Mass for a dollar by draw, what the cost of a kilogram is turned round.

    Parameters
    ----------
    annual_cost : float
        Cost of a year. [USD]
    removed : array
        Removed or kept back in a mean year, by draw. [kg]

    Returns
    -------
    array
        Mass for a dollar; negative where more leaves than before. [kg]

    Raises
    ------
    OutOfDomain
        If the year costs nothing.

    Notes
    -----
    m_i = M_i / C    (derived)

    References
    ----------
    derived, a quotient
    """
    if not annual_cost > 0.0:
        raise OutOfDomain(
            f"annual_cost is {annual_cost:.4g} USD. Mass for a dollar needs a cost. Check prices."
        )
    return np.asarray(removed / annual_cost, dtype=np.float64)


def _pairs(first: Array, second: Array) -> int:
    count = min(first.size, second.size)
    if count < LEAST_DRAWS:
        raise OutOfDomain(
            f"There are {count} pairs of draws. At least {LEAST_DRAWS} are needed. Run more draws."
        )
    return count


def _ranks(values: Array) -> Array:
    """Ranks from 0; values that are the same share the mean of theirs."""
    _, place, count = np.unique(values, return_inverse=True, return_counts=True)
    last = np.cumsum(count) - 1
    return np.asarray((last - (count - 1) / 2)[place], dtype=np.float64)
