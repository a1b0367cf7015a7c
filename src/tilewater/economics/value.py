# SPDX-License-Identifier: Apache-2.0
"""Money of different years made comparable: present value and what it comes to each year.

Rates are real rates a year, payments fall at the end of a year. What things cost, and who pays,
is not the business of this module.
"""

import math

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive


def capital_recovery_factor(rate: Number, years: Number) -> Number:
    """Yearly payment that pays off one dollar over a number of years.

    Parameters
    ----------
    rate : float or array
        Discount rate a year, 0.04 for 4 percent; 0 is allowed. [-]
    years : float or array
        Number of yearly payments. [years]

    Returns
    -------
    float or array
        Share of the sum to be paid each year. [1/year]

    Raises
    ------
    OutOfDomain
        If the rate is negative or the years not above zero.

    Notes
    -----
    A/P = i (1 + i)^n / ((1 + i)^n - 1)    (fraser2005)

    Written as i / (1 - (1 + i)^-n); at a rate of zero it is 1 / n.

    References
    ----------
    fraser2005, appendix A
    """
    require_not_negative("rate", rate, "", "Give 4 percent as 0.04")
    require_positive("years", years, "years", "Give the life in years")
    paid_off = -np.expm1(-np.log1p(rate) * np.asarray(years))
    some = np.where(paid_off > 0.0, paid_off, 1.0)
    return np.where(paid_off > 0.0, rate / some, np.divide(1.0, years))[()]


def present_value(amount: Number, *, rate: Number, years: Number) -> Number:
    """Value today of one payment some years ahead.

    Parameters
    ----------
    amount : float or array
        Payment in dollars of today. [USD]
    rate : float or array
        Discount rate a year, 0.04 for 4 percent. [-]
    years : float or array
        Years ahead. [years]

    Returns
    -------
    float or array
        Present value. [USD]

    Raises
    ------
    OutOfDomain
        If the rate or the years are negative.

    Notes
    -----
    P = F (1 + i)^-n    (fraser2005)

    References
    ----------
    fraser2005, appendix A
    """
    require_not_negative("rate", rate, "", "Give 4 percent as 0.04")
    require_not_negative("years", years, "years", "Count from today")
    today: Number = np.multiply(amount, np.exp(-np.log1p(rate) * np.asarray(years)))[()]
    return today


def present_value_of_replacements(
    amount: float, *, interval_years: float, horizon_years: float, rate: float
) -> float:
    """Value today of replacing something at even intervals within a horizon.

    The first purchase is not counted, nor a replacement that would fall on the last day.

    Parameters
    ----------
    amount : float
        Cost of one replacement in dollars of today. [USD]
    interval_years : float
        Years between replacements. [years]
    horizon_years : float
        Years looked at. [years]
    rate : float
        Discount rate a year, 0.04 for 4 percent. [-]

    Returns
    -------
    float
        Present value of all replacements. [USD]

    Raises
    ------
    OutOfDomain
        If the rate or the horizon is negative or the interval not above zero.

    Notes
    -----
    P = sum of F (1 + i)^-(k T) for k T below the horizon    (fraser2005)

    References
    ----------
    fraser2005, appendix A
    """
    require_positive("interval_years", interval_years, "years", "Give the life of one")
    require_not_negative("horizon_years", horizon_years, "years", "Give the years looked at")
    # A hair less, so that 7.2 years at 2.4 are three intervals and not three and a bit.
    number = math.ceil(horizon_years / interval_years - 1e-9) - 1
    due = (interval_years * k for k in range(1, number + 1))
    return math.fsum(float(present_value(amount, rate=rate, years=years)) for years in due)


def annual_cost(
    present_value_of_all: Number, *, rate: Number, years: Number, upkeep_per_year: Number = 0.0
) -> Number:
    """Even yearly cost of something over its years, upkeep included.

    Parameters
    ----------
    present_value_of_all : float or array
        First cost and the present value of replacements. [USD]
    rate : float or array
        Discount rate a year, 0.04 for 4 percent. [-]
    years : float or array
        Years looked at. [years]
    upkeep_per_year : float or array
        What is spent each year. [USD/year]

    Returns
    -------
    float or array
        Cost a year. [USD/year]

    Raises
    ------
    OutOfDomain
        If the rate is negative or the years not above zero.

    Notes
    -----
    A = P (A/P) + upkeep    (fraser2005)

    References
    ----------
    fraser2005, appendix A
    """
    return present_value_of_all * capital_recovery_factor(rate, years) + upkeep_per_year
