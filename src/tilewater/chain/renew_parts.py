# SPDX-License-Identifier: Apache-2.0
"""Arithmetic of the options of a renewal: years, water, nitrogen, money, signs."""

import numpy as np

from tilewater.basis.errors import OutOfDomain
from tilewater.economics.estimate import cost_per_mass
from tilewater.economics.value import annual_cost
from tilewater.monitoring.renewal import (
    LONGEST_YEARS,
    Decline,
    Floats,
)
from tilewater.practices.bed._route import DaySeries

STEP_YEARS = 0.25
"""In which the years of a bed in two parts are walked. [years]"""


def numbers_of(**values: float) -> tuple[float, ...]:
    """Several numbers as a list.

    Parameters
    ----------
    values : float
        In one unit, by name. [-]

    Returns
    -------
    tuple of float
        In the order of the names. [-]

    Notes
    -----
    one after the other    (derived)

    References
    ----------
    derived, a list
    """
    return tuple(values.values())


def start_of_renewal(ages: Floats, age_now: float) -> Floats:
    """Age at which chips are due: when they fall short, or today where that has passed.

    Parameters
    ----------
    ages : array
        Age at which each draw falls short. [years]
    age_now : float
        On the day that is asked for. [years]

    Returns
    -------
    array
        Age. [years]

    Notes
    -----
    t = max(t_end, t_now)    (derived)

    References
    ----------
    derived, no earlier than today
    """
    return np.maximum(ages, age_now)


def years_of_part(seen: Decline, start: Floats, needed: float, new_share: float) -> Floats:
    """Years until a bed falls short again of whose length a share got new chips.

    Parameters
    ----------
    seen : Decline
        Of the chips; new ones are taken to be like them. [-]
    start : array
        Age of the chips that stay when the new ones come, by draw. [years]
    needed : float
        Conductivity that the criterion asks for. [m/s]
    new_share : float
        Share of the flow length that is new. [-]

    Returns
    -------
    array
        By draw, at most 60. [years]

    Notes
    -----
    1 / K(t) = s / K(t) of new + (1 - s) / K(start + t), walked by quarter years    (bear1972)

    References
    ----------
    bear1972, layers across the flow
    """
    years = np.full(start.size, LONGEST_YEARS)
    holds = np.ones(start.size, bool)
    stays = np.exp(seen.log_new - seen.per_year * start)
    for ahead in np.arange(0.0, LONGEST_YEARS, STEP_YEARS):
        faded = np.exp(-seen.per_year * ahead)
        new, old = np.exp(seen.log_new) * faded, stays * faded
        falls = holds & (1.0 / (new_share / new + (1.0 - new_share) / old) < needed)
        years[falls] = ahead
        holds &= ~falls
    return years


def years_used(ages: Floats, age_now: float, share: float) -> float:
    """Years that new chips add where they come today, while the old ones still serve.

    Parameters
    ----------
    ages : array
        Age at which each draw falls short, of old chips and of new. [years]
    age_now : float
        Of the old chips. [years]
    share : float
        Share of the draws that get so many or fewer. [-]

    Returns
    -------
    float
        Years. [years]

    Notes
    -----
    t_now + t_end - max(t_now, t_end) = min(t_now, t_end)    (derived)

    References
    ----------
    derived, what the old chips would still have served is not added
    """
    return float(np.quantile(np.minimum(ages, age_now), share))


def middle_of(first: float, second: float) -> float:
    """Age half way through some years.

    Parameters
    ----------
    first : float
        Age at their beginning. [years]
    second : float
        How many there are. [years]

    Returns
    -------
    float
        Age. [years]

    Notes
    -----
    t = t_0 + n / 2    (derived)

    References
    ----------
    derived, a mean
    """
    return first + 0.5 * second


def share_of_water(inflow: Floats, capacity: float) -> float:
    """Share of the water of many days that a capacity takes.

    Parameters
    ----------
    inflow : array
        Mean flow of each day. [m3/s]
    capacity : float
        Flow that goes through whole. [m3/s]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    share = sum min(Q, Qc) / sum Q    (derived)

    References
    ----------
    derived, steady days
    """
    total = float(np.nansum(inflow))
    if total <= 0.0:
        raise OutOfDomain("No water comes on any day. A share needs some. See the drain flow.")
    return float(np.nansum(np.minimum(inflow, capacity))) / total


def share_of_series(series: DaySeries, capacity: float) -> float:
    """Share of the water of every day that a capacity takes; see `share_of_water`.

    Parameters
    ----------
    series : DaySeries
        What the days bring. [-]
    capacity : float
        Flow that goes through whole. [m3/s]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    share = sum min(Q, Qc) / sum Q    (derived)

    References
    ----------
    derived, steady days
    """
    return share_of_water(np.asarray(series.inflow, np.float64), capacity)


def mean_removed(removed: float, share_then: float, share_now: float) -> float:
    """Nitrogen removed in a year once less of the water is treated.

    Parameters
    ----------
    removed : float
        Now, in a year. [kg]
    share_then, share_now : float
        Share of the water that goes through the bed. [-]

    Returns
    -------
    float
        In a year. [kg]

    Notes
    -----
    N' = N s' / s; that the rest stays longer is not counted    (derived)

    References
    ----------
    derived, as the treated water
    """
    return removed * share_then / share_now


def mass_over_years(per_year: float, years: float) -> float:
    """Nitrogen removed over some years.

    Parameters
    ----------
    per_year : float
        In a year. [kg]
    years : float
        Years. [years]

    Returns
    -------
    float
        Altogether. [kg]

    Notes
    -----
    N = n t    (derived)

    References
    ----------
    derived, a product
    """
    return per_year * years


def cost_of_mass(cost: float, rate: float, years: float, per_year: float) -> float:
    """Cost of a kilogram over the years that it buys.

    Parameters
    ----------
    cost : float
        Now. [USD]
    rate : float
        Discount rate a year. [-]
    years : float
        Years bought. [years]
    per_year : float
        Nitrogen removed in a year. [kg]

    Returns
    -------
    float
        Cost of a kilogram. [USD/kg]

    Raises
    ------
    OutOfDomain
        If no years are bought or nothing is removed.

    Notes
    -----
    c = P (A/P) / n    (fraser2005)

    References
    ----------
    fraser2005, appendix A
    """
    return cost_per_mass(float(annual_cost(cost, rate=rate, years=years)), per_year)


def ratio_of(value: float, first: float) -> float:
    """One value over an earlier one.

    Parameters
    ----------
    value, first : float
        In one unit. [-]

    Returns
    -------
    float
        Ratio. [-]

    Notes
    -----
    value / first    (derived)

    References
    ----------
    derived, a ratio
    """
    return value / first


def best_of_last(shares: tuple[float, ...], years: float) -> float:
    """Largest of the last shares of a list.

    Parameters
    ----------
    shares : tuple of float
        One for each year, in their order. [-]
    years : float
        How many count. [years]

    Returns
    -------
    float
        Largest; where it lies below a limit, all do. [-]

    Raises
    ------
    OutOfDomain
        If there are fewer.

    Notes
    -----
    max of the last n    (derived)

    References
    ----------
    derived, all below a limit if the largest is
    """
    count = int(years)
    if len(shares) < count:
        raise OutOfDomain(
            f"{len(shares)} years are given. The sign takes {count}. Give more, or wait a year."
        )
    return max(shares[-count:])


def count_of(**stand: bool) -> float:
    """How many signs stand.

    Parameters
    ----------
    stand : bool
        Whether each does. [-]

    Returns
    -------
    float
        Number. [-]

    Notes
    -----
    n = number of those that stand    (derived)

    References
    ----------
    derived, counting
    """
    return float(sum(stand.values()))
