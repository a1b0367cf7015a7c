# SPDX-License-Identifier: Apache-2.0
"""How much of the spread of an answer comes from each uncertain number, and how sure that is.

First-order shares come from draws that exist already: whatever law they were drawn by, only the
order of a parameter's values counts. Total shares, which hold what a parameter does together with
others, need a sample of their own in which one parameter at a time is drawn anew. Every share
stands beside its standard error; a share that is less than twice its error is told from nothing by
nobody. Shares may come out a little below zero and are left so.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse
from tilewater.basis.errors import OutOfDomain

Array = NDArray[np.float64]

NORMAL = NormalDist()
TERMS = 8
"""Shapes that an effect is made of; more follow sharper bends and carry more noise."""
GROUPS = 32
"""Groups of draws that are left out one by one for a standard error."""
DRAWS_PER_TERM = 8
"""Draws for each shape of each parameter, at the least."""
LEAST_DRAWS = 64
"""Draws below which shares say nothing."""


@dataclass(frozen=True)
class Share:
    """A share of a variance with its standard error.

    Attributes
    ----------
    share, error : float
        Of the variance. [-]
    """

    share: float
    error: float

    @property
    def is_told(self) -> bool:
        """Whether it is told from nothing: more than twice its error."""
        return self.share > 2.0 * self.error


@dataclass(frozen=True)
class VarianceShares:
    """Where the variance of one output comes from.

    Attributes
    ----------
    first : mapping of str to Share
        What each parameter does alone, by name.
    together : Share
        What their sum explains; what is left of 1 is what parameters do with each other.
    """

    first: Mapping[str, Share]
    together: Share


def first_shares(parameters: Mapping[str, Array], output: Array) -> VarianceShares:
    """Shares of the variance of an output that each parameter explains alone.

    Parameters
    ----------
    parameters : mapping of str to array
        Draws by name, apart from each other. [-]
    output : array
        What each draw gave, in its own unit. [-]

    Returns
    -------
    VarianceShares
        Of the parameters alone and of all together. [-]

    Raises
    ------
    OutOfDomain
        If draws are too few, or the output is not finite or does not vary.

    Notes
    -----
    y = mean + sum over i and m of b_im g_m(rank of x_i) + e    (derived)
    S_i = sum over m of (b_im^2 - its own error squared) / V    (tissot2012)
    together = 1 - V_e / V    (derived)
    error: groups of draws left out one by one, (g - 1)/g sum of (S_g - mean)^2    (efron1982)

    g: normal score, its square, six cosines, made apart from each other and of variance 1.
    Latin hypercube draws vary less than the errors say where effects simply add up.

    References
    ----------
    plischke2010, smooth shapes of the order of given draws
    tissot2012, less what noise gives by itself
    derived, all parameters fitted at once, so that the noise of one is not that of another
    efron1982, groups left out
    """
    values = _checked(output)
    names, count = tuple(parameters), len(parameters)
    terms = min(TERMS, values.size // (DRAWS_PER_TERM * count))
    if terms < 1:
        least = float(DRAWS_PER_TERM * count)
        raise refuse("output", float(values.size), "draws", f"At least {least:g}", "Draw more")
    shapes = np.hstack([_shapes(parameters[name], terms) for name in names])
    centred = values - values.mean()
    columns = np.column_stack([np.ones(values.size), shapes, centred])
    everything = columns.T @ columns
    whole = _additive(everything, count)
    without = np.array(
        [
            _additive(everything - columns[group].T @ columns[group], count)
            for group in groups_of(values.size)
        ]
    )
    shares = [
        Share(float(s), float(e)) for s, e in zip(whole, jackknife_errors(without), strict=True)
    ]
    return VarianceShares(dict(zip(names, shares, strict=False)), shares[-1])


def total_share(base: Array, redrawn: Array) -> Share:
    """Share of the variance that is left where all but one parameter are known.

    Parameters
    ----------
    base : array of shape (n,)
        What each of n draws gave. [-]
    redrawn : array of shape (n,)
        What they gave with that parameter drawn anew. [-]

    Returns
    -------
    Share
        Of the parameter alone and with all others. [-]

    Raises
    ------
    OutOfDomain
        If the two differ in length, are too few, or do not vary.

    Notes
    -----
    T = sum of (f(A) - f(A with x of B))^2 / (2 n V)    (jansen1999)
    V of both halves of the pairs;  error: groups of pairs left out one by one    (efron1982)

    References
    ----------
    jansen1999, differences of pairs
    saltelli2010, one parameter drawn anew at a time
    efron1982, groups left out
    """
    if base.shape != redrawn.shape or base.size < GROUPS:
        raise refuse(
            "redrawn",
            float(redrawn.size),
            "draws",
            f"As many as the base, {GROUPS} or more",
            "Draw",
        )
    pairs = np.column_stack([base, redrawn])
    if not pairs.var() > 0.0:
        raise refuse("variance", 0.0, "", "It lies above 0", "Leave out what does not vary")

    def share_of(kept: NDArray[np.int64]) -> float:
        some = pairs[kept]
        return float(0.5 * np.mean((some[:, 0] - some[:, 1]) ** 2) / some.var())

    every = np.arange(base.size)
    return Share(share_of(every), jackknifed(share_of, base.size))


def year_share(by_draw_and_year: Array) -> Share:
    """Share of the variance of single years that the weather of the year explains alone.

    Parameters
    ----------
    by_draw_and_year : array of shape (draws, years)
        What each draw gave in each year, every draw in every year. [-]

    Returns
    -------
    Share
        Of the years of the record. [-]

    Raises
    ------
    OutOfDomain
        If there are fewer than 3 years, or nothing varies.

    Notes
    -----
    S = (V_between - V_within / n) / V,  V_between of the means of the years    (derived)
    error: years left out one by one    (efron1982)

    References
    ----------
    efron1982, one left out
    derived, a table of two ways with one value in each place
    """
    draws, years = by_draw_and_year.shape
    if years < 3:
        raise refuse("years", float(years), "", "Three or more", "Give a longer record")
    if not np.all(np.isfinite(by_draw_and_year)) or not by_draw_and_year.var() > 0.0:
        raise refuse("variance", float(by_draw_and_year.var()), "", "Above 0", "Check the draws")

    def share_of(values: Array) -> float:
        between = float(values.mean(axis=0).var())
        noise = float((values - values.mean(axis=0)).var()) / draws
        return float((between - noise) / values.var())

    without = np.array([share_of(np.delete(by_draw_and_year, y, axis=1)) for y in range(years)])
    return Share(share_of(by_draw_and_year), float(jackknife_errors(without)))


def are_apart(one: Share, other: Share) -> bool:
    """Whether two shares differ by more than twice the error of their difference.

    Parameters
    ----------
    one, other : Share
        Shares of the same variance. [-]

    Returns
    -------
    bool
        False where nobody can tell which is the larger. [-]

    Notes
    -----
    |S_1 - S_2| > 2 sqrt(e_1^2 + e_2^2)    (derived)

    References
    ----------
    derived, two standard errors of a difference
    """
    return abs(one.share - other.share) > 2.0 * float(np.hypot(one.error, other.error))


def groups_of(count: int, groups: int = GROUPS) -> tuple[NDArray[np.int64], ...]:
    """Numbers of the draws of each group, the same for any number of threads.

    Parameters
    ----------
    count : int
        Draws. [-]
    groups : int
        Groups. [-]

    Returns
    -------
    tuple of array of int
        By group. [-]
    """
    return tuple(np.arange(g, count, groups, dtype=np.int64) for g in range(groups))


def jackknifed(of: Callable[[NDArray[np.int64]], float], count: int, groups: int = GROUPS) -> float:
    """Standard error of what a function gives of the draws that are kept.

    Parameters
    ----------
    of : callable
        Of the numbers of the draws that are kept. [-]
    count : int
        Draws. [-]
    groups : int
        Groups that are left out one by one. [-]

    Returns
    -------
    float
        In the unit of what the function gives. [-]

    Notes
    -----
    e^2 = (g - 1)/g sum of (x_g - mean)^2    (efron1982)

    References
    ----------
    efron1982, groups left out
    """
    every = np.arange(count)
    without = [of(np.delete(every, group)) for group in groups_of(count, groups)]
    return float(jackknife_errors(np.array(without)))


def _checked(output: Array) -> Array:
    values = np.asarray(output, dtype=np.float64)
    if values.ndim != 1 or values.size < LEAST_DRAWS:
        raise refuse(
            "output", float(values.size), "draws", f"At least {LEAST_DRAWS} draws", "Draw more"
        )
    if not np.all(np.isfinite(values)):
        raise OutOfDomain(
            f"output holds {int(np.sum(~np.isfinite(values)))} draws that are no numbers. "
            "Every draw gives a number. Leave out what is not known of every draw."
        )
    if not values.var() > 0.0:
        raise refuse("variance", 0.0, "", "It lies above 0", "Leave out what does not vary")
    return values


def _shapes(values: Array, terms: int) -> Array:
    """Shapes of the order of the draws of a parameter, apart from each other, each of variance 1.

    Normal scores and their squares first, since most laws have tails; cosines for the rest.
    """
    ranked = np.empty((values.size, terms))
    ranked[np.argsort(values, kind="stable")] = _shapes_in_order(values.size, terms)
    return ranked


@cache
def _shapes_in_order(n: int, terms: int) -> Array:
    places = (np.arange(n) + 0.5) / n
    score = np.array([NORMAL.inv_cdf(float(p)) for p in places])
    shapes = [np.ones(n), score, score**2]
    shapes += [np.cos(np.pi * m * places) for m in range(1, terms - 1)]
    apart, _ = np.linalg.qr(np.column_stack(shapes[: terms + 1]))
    return np.asarray(np.sqrt(n) * apart[:, 1:])


def _additive(products: Array, parameters: int) -> Array:
    """Shares of the parameters alone, and that of their sum last.

    From the sums of products of 1, the shapes and the output, the output last.
    """
    n, of_output = float(products[0, 0]), products[:-1, -1]
    inverse = np.linalg.inv(products[:-1, :-1])
    slopes = inverse @ of_output
    terms = slopes.size - 1
    unexplained = float(products[-1, -1] - of_output @ slopes) / (n - 1 - terms)
    variance = float(products[-1, -1] - of_output[0] ** 2 / n) / (n - 1)
    squares = slopes[1:] ** 2 - unexplained * np.diag(inverse)[1:]
    alone = squares.reshape(parameters, -1).sum(axis=1) / variance
    return np.append(alone, 1.0 - unexplained / variance)


def jackknife_errors(without: Array) -> Array:
    """Standard errors from what is found with each group left out.

    Parameters
    ----------
    without : array of shape (groups, ...)
        By group left out. [-]

    Returns
    -------
    array
        In the unit of each column. [-]

    Notes
    -----
    e^2 = (g - 1)/g sum of (x_g - mean)^2    (efron1982)

    References
    ----------
    efron1982, groups left out
    """
    count = without.shape[0]
    spread = np.sum((without - without.mean(axis=0)) ** 2, axis=0)
    return np.asarray(np.sqrt((count - 1) / count * spread))
