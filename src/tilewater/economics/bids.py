# SPDX-License-Identifier: Apache-2.0
"""Bids as read, and the arithmetic that sets them side by side.

The unit price governs: an amount that does not follow from it is corrected. Who is responsible, and
which bid is responsive, is a judgement of the owner and no business of this module.
"""

from dataclasses import dataclass, field
from decimal import Decimal

from tilewater.basis.errors import NoSolution
from tilewater.economics.estimate import exact, to_the_cent


@dataclass(frozen=True)
class BidLine:
    """One line of a bid as the bidder wrote it.

    Attributes
    ----------
    item : str
        As the schedule calls it.
    price : Decimal or None
        Unit price; None where the bidder wrote none.
    amount, quantity : Decimal or None
        Amount and quantity as written.
    line : int
        Line of the file.
    """

    item: str
    price: Decimal | None
    amount: Decimal | None = None
    quantity: Decimal | None = None
    line: int = 0


@dataclass(frozen=True)
class Bid:
    """A bid as read.

    Attributes
    ----------
    name, title : str
        Name in the job file, and of the bidder.
    file : str
    lines : dict of str to BidLine
        Lines of the base by item.
    alternates : dict of str to dict
        Lines of each alternate by item.
    total : Decimal or None
        Total of the base as written.
    set_aside : str
        Why the owner sets the bid aside; "" where he does not.
    """

    name: str
    title: str
    file: str
    lines: dict[str, BidLine]
    alternates: dict[str, dict[str, BidLine]] = field(default_factory=dict)
    total: Decimal | None = None
    set_aside: str = ""


def ratio_of_prices(price: Decimal, reference: Decimal) -> Decimal:
    """How many times a reference a price is.

    Parameters
    ----------
    price : Decimal
        The price. [USD]
    reference : Decimal
        What it is held against. [USD]

    Returns
    -------
    Decimal
        The ratio, to three places. [-]

    Raises
    ------
    NoSolution
        If the reference is zero.

    Notes
    -----
    r = price / reference    (derived)

    References
    ----------
    derived, a quotient
    """
    if not exact(reference):
        raise NoSolution("The reference price is 0 USD. A ratio needs a price above zero.")
    return round(exact(price) / exact(reference), 3)


def mean_price(**prices: Decimal) -> Decimal:
    """Mean of the prices of several bidders.

    Parameters
    ----------
    **prices : Decimal
        Price of each bidder. [USD]

    Returns
    -------
    Decimal
        Their mean, to the cent. [USD]

    Notes
    -----
    mean = sum of the prices / their number    (derived)

    References
    ----------
    derived, a mean
    """
    return to_the_cent(sum((exact(each) for each in prices.values()), Decimal(0)) / len(prices))


def share_beside(value: Decimal, reference: Decimal) -> float:
    """How far a value lies above a reference, as a share of it.

    Parameters
    ----------
    value : Decimal
        The value. [USD]
    reference : Decimal
        What it is held against. [USD]

    Returns
    -------
    float
        Below zero where the value is the smaller. [-]

    Raises
    ------
    NoSolution
        If the reference is zero.

    Notes
    -----
    s = (value - reference) / reference    (derived)

    References
    ----------
    derived, a quotient
    """
    if not exact(reference):
        raise NoSolution("The reference is 0 USD. A share needs an amount above zero.")
    return float((exact(value) - exact(reference)) / exact(reference))


def amount_written_off(written: Decimal, corrected: Decimal) -> Decimal:
    """How far an amount as written lies above what its unit price gives.

    Parameters
    ----------
    written : Decimal
        Amount or total as the bidder wrote it. [USD]
    corrected : Decimal
        The same from unit prices and quantities. [USD]

    Returns
    -------
    Decimal
        Zero where the bidder multiplied right. [USD]

    Notes
    -----
    error = written - corrected    (practice)

    References
    ----------
    practice, the unit price governs
    derived, a difference
    """
    return to_the_cent(exact(written) - exact(corrected))


def lead_of(low: Decimal, other: Decimal) -> Decimal:
    """Lead of the lowest bid before another.

    Parameters
    ----------
    low : Decimal
        Total of the lowest bid. [USD]
    other : Decimal
        Total of the other. [USD]

    Returns
    -------
    Decimal
        What it is lower. [USD]

    Notes
    -----
    lead = other - lowest    (derived)

    References
    ----------
    derived, a difference
    """
    return to_the_cent(exact(other) - exact(low))


def share_of_quantity(change: Decimal, quantity: Decimal) -> float:
    """A change beside the quantity that it changes.

    Parameters
    ----------
    change : Decimal
        Bid units more. [-]
    quantity : Decimal
        The bid quantity. [-]

    Returns
    -------
    float
        The share; below zero where there is less. [-]

    Notes
    -----
    s = dQ / Q    (derived)

    References
    ----------
    derived, a quotient
    """
    return float(exact(change) / exact(quantity))


def crossing_change(lead: Decimal, price_low: Decimal, price_other: Decimal) -> Decimal:
    """Change of a quantity at which another bid is as low.

    Parameters
    ----------
    lead : Decimal
        Total of the other bid less that of the lowest. [USD]
    price_low, price_other : Decimal
        Unit prices of the item in the lowest bid and in the other. [USD]

    Returns
    -------
    Decimal
        Bid units more, or fewer where below zero. [-]

    Raises
    ------
    NoSolution
        If both have the same unit price, so that the quantity changes nothing.

    Notes
    -----
    dQ = lead / (p_low - p_other)    (derived)

    References
    ----------
    derived, both totals set equal
    """
    difference = exact(price_low) - exact(price_other)
    if not difference:
        raise NoSolution("Both bids have the same unit price. No quantity of it changes the order.")
    return round(exact(lead) / difference, 3)


def total_at(total: Decimal, price: Decimal, change: Decimal) -> Decimal:
    """Total of a bid when the quantity of one item comes out different.

    Parameters
    ----------
    total : Decimal
        Corrected total of the bid. [USD]
    price : Decimal
        Its unit price of the item. [USD]
    change : Decimal
        Bid units more than in the schedule. [-]

    Returns
    -------
    Decimal
        The total then. [USD]

    Notes
    -----
    T' = T + p dQ    (derived)

    References
    ----------
    derived, a sum
    """
    return to_the_cent(exact(total) + exact(price) * exact(change))
