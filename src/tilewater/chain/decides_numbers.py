# SPDX-License-Identifier: Apache-2.0
"""What decides, number by number: shares of single years, and one of many shares with its error."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from tilewater.chain.variance_shares import Array, Share, VarianceShares, first_shares, year_share
from tilewater.practices.bed.year_sums import REMOVED

YEAR = "weather-year"
"""Name of the weather of the year among what decides."""
LEAST_SHARE = 0.005
"""Share below which a parameter is not shown."""


@dataclass(frozen=True)
class YearShares:
    """Where the variance of single years comes from.

    Attributes
    ----------
    first : mapping of str to Share
        What each parameter does alone, and the weather of the year, by name.
    together : Share
        What all of these do alone.
    """

    first: Mapping[str, Share]
    together: Share


def told_of(shares: VarianceShares | YearShares) -> tuple[str, ...]:
    """Names of what is told from nothing and is half a percent or more, the largest first."""
    told = [(n, s) for n, s in shares.first.items() if s.is_told and s.share >= LEAST_SHARE]
    return tuple(name for name, _ in sorted(told, key=lambda item: -item[1].share))


def shares_of_single_years(
    parameters: Mapping[str, Array], sums: Array, whole: np.ndarray
) -> YearShares:
    """Shares of the spread of what single years remove, with the weather of the year among them.

    Parameters
    ----------
    parameters : mapping of str to array of shape (draws,)
        Draws by name. [-]
    sums : array of shape (draws, years, 6)
        Sums by year. [-]
    whole : array of bool
        Years that are whole. [-]

    Returns
    -------
    YearShares
        Of single years of the record. [-]

    Notes
    -----
    S_i = S_i of the mean year V_means / V_years;  S_year of the means of the years    (derived)

    The age of the chips goes with the years of the record and is counted with their weather.

    References
    ----------
    derived, a table of draws and years
    """
    table = np.asarray(sums[:, whole, REMOVED], dtype=np.float64)
    mean_year = first_shares(parameters, table.mean(axis=1))
    part = float(table.mean(axis=1).var() / table.var())
    first = {
        name: Share(part * each.share, part * each.error) for name, each in mean_year.first.items()
    }
    year = year_share(table)
    alone = Share(
        part * mean_year.together.share + year.share,
        float(np.hypot(part * mean_year.together.error, year.error)),
    )
    return YearShares({**first, YEAR: year}, alone)


def share_of_one(shares: VarianceShares | YearShares, name: str) -> float:
    """Share of the variance that one parameter explains alone.

    Parameters
    ----------
    shares : VarianceShares or YearShares
        Of all. [-]
    name : str
        Which. [-]

    Returns
    -------
    float
        Share of the variance. [-]

    Notes
    -----
    S = S_i of that name    (derived)

    References
    ----------
    derived, one of many
    """
    return shares.first[name].share


def error_of_one(shares: VarianceShares | YearShares, name: str) -> float:
    """Standard error of the share of one parameter.

    Parameters
    ----------
    shares : VarianceShares or YearShares
        Of all. [-]
    name : str
        Which. [-]

    Returns
    -------
    float
        In terms of the share. [-]

    Notes
    -----
    e = e_i of that name    (derived)

    References
    ----------
    derived, one of many
    """
    return shares.first[name].error


def total_of_one(shares: Mapping[str, Share], name: str) -> float:
    """Share of the variance that one parameter explains with all others.

    Parameters
    ----------
    shares : mapping of str to Share
        Of all. [-]
    name : str
        Which. [-]

    Returns
    -------
    float
        Share of the variance. [-]

    Notes
    -----
    T = T_i of that name    (derived)

    References
    ----------
    derived, one of many
    """
    return shares[name].share


def total_error_of_one(shares: Mapping[str, Share], name: str) -> float:
    """Standard error of the total share of one parameter.

    Parameters
    ----------
    shares : mapping of str to Share
        Of all. [-]
    name : str
        Which. [-]

    Returns
    -------
    float
        In terms of the share. [-]

    Notes
    -----
    e = e_i of that name    (derived)

    References
    ----------
    derived, one of many
    """
    return shares[name].error


def share_of_all(shares: VarianceShares | YearShares) -> float:
    """Share of the variance that parameters explain without each other.

    Parameters
    ----------
    shares : VarianceShares or YearShares
        Of all. [-]

    Returns
    -------
    float
        What is left of 1 they do together. [-]

    Notes
    -----
    S = what the sum of all explains    (derived)

    References
    ----------
    derived, one of many
    """
    return shares.together.share


def error_of_all(shares: VarianceShares | YearShares) -> float:
    """Standard error of what parameters explain without each other.

    Parameters
    ----------
    shares : VarianceShares or YearShares
        Of all. [-]

    Returns
    -------
    float
        In terms of the share. [-]

    Notes
    -----
    e = e of the sum    (derived)

    References
    ----------
    derived, one of many
    """
    return shares.together.error
