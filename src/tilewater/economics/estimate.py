# SPDX-License-Identifier: Apache-2.0
"""From quantities and unit prices to what a practice costs.

Beside the plain products of the design stand those of a bid: quantities as they are printed, money
in exact cents.
"""

import math
from decimal import ROUND_HALF_UP, Decimal

CENT = Decimal("0.01")
BUILT_BEDS = 108.0
"""Construction of eight beds by the volume of their chips (maxwell-cost). [USD/m3]"""
FIGURES = 3
"""Figures of a bid quantity below a hundred units; more are whole units."""


def extension(quantity: float, unit_price: float) -> float:
    """Price of an item.

    Parameters
    ----------
    quantity : float
        Quantity of the item, in coherent SI or counts. [-]
    unit_price : float
        Price of one such unit. [USD]

    Returns
    -------
    float
        Price of the item. [USD]

    Notes
    -----
    price = quantity x unit price    (derived)

    References
    ----------
    derived, extension of a bid item
    """
    return quantity * unit_price


def sum_of(**amounts: float) -> float:
    """Sum of amounts.

    Parameters
    ----------
    **amounts : float
        The amounts. [USD]

    Returns
    -------
    float
        Their sum. [USD]

    Notes
    -----
    total = sum of the amounts    (derived)

    References
    ----------
    derived, a sum
    """
    return float(sum(amounts.values()))


def share_of_amount(amount: float, share: float) -> float:
    """A share of an amount.

    Parameters
    ----------
    amount : float
        The amount. [USD]
    share : float
        The share. [-]

    Returns
    -------
    float
        Share times amount. [USD]

    Notes
    -----
    part = share x amount    (derived)

    References
    ----------
    derived, a product
    """
    return share * amount


def cost_of_built_beds(media_volume: float) -> float:
    """What beds of that size cost where they were built, in dollars of their years.

    Parameters
    ----------
    media_volume : float
        Volume of the media. [m3]

    Returns
    -------
    float
        Cost of construction. [USD]

    Notes
    -----
    C = 108 USD/m3 x V    (maxwell-cost)

    A mean over eight beds in one state, with a spread of more than half of it: a sanity line, no
    estimate. The same beds in prices of 2023 cost 16,020 / 12,250 times as much.

    References
    ----------
    maxwell-cost, abstract
    """
    return BUILT_BEDS * media_volume


def cost_per_mass(annual_cost: float, annual_mass: float) -> float:
    """Cost of a kilogram removed.

    Parameters
    ----------
    annual_cost : float
        Cost of a year. [USD]
    annual_mass : float
        Nitrate nitrogen removed in a year. [kg]

    Returns
    -------
    float
        Cost per kilogram; infinite where nothing is removed. [USD]

    Notes
    -----
    c = C / M    (derived)

    References
    ----------
    derived, a quotient
    """
    return annual_cost / annual_mass if annual_mass > 0 else float("inf")


def exact(value: float | Decimal) -> Decimal:
    """A number as it was typed, without the last bits of binary arithmetic.

    Parameters
    ----------
    value : float or Decimal
        The number. [-]

    Returns
    -------
    Decimal
        The same number, to nine places. [-]

    Notes
    -----
    0.1 + 0.2 is 0.3    (derived)

    References
    ----------
    derived, rounding
    """
    return value if isinstance(value, Decimal) else Decimal(f"{value:.9f}").normalize()


def to_the_cent(amount: Decimal) -> Decimal:
    """An amount of money to the cent, a half cent going up.

    Parameters
    ----------
    amount : Decimal
        The amount. [USD]

    Returns
    -------
    Decimal
        The amount in whole cents. [USD]

    Notes
    -----
    Halves go away from zero, as on a bill.    (practice)

    References
    ----------
    practice, rounding of money
    """
    return amount.quantize(CENT, ROUND_HALF_UP)


def bid_quantity(quantity: float, unit_size: float) -> Decimal:
    """Quantity that is bid and paid, in its bid unit.

    Parameters
    ----------
    quantity : float
        Quantity in coherent SI, or a count. [-]
    unit_size : float
        What one bid unit is in the same SI unit; 1 for what is counted. [-]

    Returns
    -------
    Decimal
        Number of bid units, to three figures or to the whole unit. [-]

    Notes
    -----
    n = quantity / unit size, to three figures below 100    (practice)

    The digits are those that sheets and reports print, so that a bidder, the engineer and
    whoever pays multiply the same number. A half goes up, as on paper.

    References
    ----------
    practice, digits of a bid quantity
    derived, a quotient
    """
    number = quantity / unit_size
    before_point = math.floor(math.log10(abs(number))) + 1 if number else FIGURES
    step = Decimal(1).scaleb(-max(0, FIGURES - before_point))
    # twelve digits first, so that the last bit of a unit cannot turn a half
    return Decimal(f"{number:.12g}").quantize(step, ROUND_HALF_UP)


def extension_to_the_cent(quantity: Decimal, unit_price: Decimal) -> Decimal:
    """Amount of a bid item: quantity times unit price.

    Parameters
    ----------
    quantity : Decimal
        Bid quantity in its bid unit. [-]
    unit_price : Decimal
        Price of one bid unit. [USD]

    Returns
    -------
    Decimal
        The amount, to the cent. [USD]

    Notes
    -----
    amount = quantity x unit price    (derived)

    References
    ----------
    derived, extension of a bid item
    """
    return to_the_cent(exact(quantity) * exact(unit_price))


def sum_to_the_cent(**amounts: Decimal) -> Decimal:
    """Sum of amounts of money, exact.

    Parameters
    ----------
    **amounts : Decimal
        The amounts. [USD]

    Returns
    -------
    Decimal
        Their sum. [USD]

    Notes
    -----
    total = sum of the amounts    (derived)

    References
    ----------
    derived, a sum
    """
    return to_the_cent(sum((exact(amount) for amount in amounts.values()), Decimal(0)))


def share_to_the_cent(amount: Decimal, share: float) -> Decimal:
    """A share of an amount of money, to the cent.

    Parameters
    ----------
    amount : Decimal
        The amount. [USD]
    share : float
        The share. [-]

    Returns
    -------
    Decimal
        Share times amount. [USD]

    Notes
    -----
    part = share x amount    (derived)

    References
    ----------
    derived, a product
    """
    return to_the_cent(exact(amount) * exact(share))
