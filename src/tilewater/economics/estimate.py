# SPDX-License-Identifier: Apache-2.0
"""From quantities and unit prices to what a practice costs."""


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
