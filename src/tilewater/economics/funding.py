# SPDX-License-Identifier: Apache-2.0
"""Who pays for a practice: public sources one after the other, and what is left to the owner.

A source pays by the unit, a flat sum, or a percent of what is eligible; never more than its cap,
than the combined ceiling leaves, or than is still unpaid. What is eligible is incurred cost, the
lesser of actual and approved: a contingency is no cost. All amounts are exact to the cent.

Whether a program accepts another source beside it, and in which order, its own document says.
"""

from decimal import Decimal
from itertools import permutations

from tilewater.basis.errors import OutOfDomain
from tilewater.economics.estimate import exact, share_to_the_cent, to_the_cent

MOST_SOURCES = 4
"""Sources whose orders are all worked: 24 of them."""


def orders_of(sources: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Every order in which sources may pay; their own first, and alone where they are many."""
    if len(sources) > MOST_SOURCES:
        return (sources,)
    return tuple(permutations(sources))


def cost_with_overrun(amount: Decimal, overrun: float) -> Decimal:
    """What an amount comes to when it costs more than planned.

    Parameters
    ----------
    amount : Decimal
        The amount as planned. [USD]
    overrun : float
        Share that it costs more. [-]

    Returns
    -------
    Decimal
        The amount with the overrun. [USD]

    Notes
    -----
    C = (1 + r) C0    (derived)

    References
    ----------
    derived, a product
    """
    return to_the_cent(exact(amount) * (1 + exact(overrun)))


def eligible_cost(actual: Decimal, approved: float | None = None) -> Decimal:
    """Cost that a source takes into account: the lesser of actual and approved.

    Parameters
    ----------
    actual : Decimal
        Actual cost of the items that are eligible. [USD]
    approved : float or None
        Cost that the source approved; None where it approved none. [USD]

    Returns
    -------
    Decimal
        The lesser. [USD]

    Notes
    -----
    E = min(actual, approved)    (iac27-12)

    References
    ----------
    iac27-12, share of the lesser of eligible and estimated cost
    """
    if approved is None:
        return to_the_cent(exact(actual))
    return to_the_cent(min(exact(actual), exact(approved)))


def asked_per_unit(
    unit_rate: float, quantity: Decimal, approved_quantity: float | None = None
) -> Decimal:
    """What a source owes that pays by the unit.

    Parameters
    ----------
    unit_rate : float
        Payment for one unit. [USD]
    quantity : Decimal
        Quantity of the item as bid, in that unit. [-]
    approved_quantity : float or None
        Quantity that the source approved; the lesser counts. [-]

    Returns
    -------
    Decimal
        The payment before caps. [USD]

    Notes
    -----
    P = unit rate x min(quantity, approved)    (derived)

    References
    ----------
    derived, a product
    """
    counted = exact(quantity)
    if approved_quantity is not None:
        counted = min(counted, exact(approved_quantity))
    return to_the_cent(exact(unit_rate) * counted)


def asked_of_the_rest(percent: float, eligible: Decimal, before: Decimal) -> Decimal:
    """What a source owes that pays a share of what others leave.

    Parameters
    ----------
    percent : float
        Its share. [-]
    eligible : Decimal
        Cost that it takes into account. [USD]
    before : Decimal
        What sources before it pay. [USD]

    Returns
    -------
    Decimal
        The payment before caps. [USD]

    Notes
    -----
    P = p (E - paid before), not below zero    (derived)

    References
    ----------
    derived, a product
    """
    return share_to_the_cent(max(exact(eligible) - exact(before), Decimal(0)), percent)


def asked_of_the_cost(percent: float, eligible: Decimal) -> Decimal:
    """What a source owes that pays a share of all that is eligible.

    Parameters
    ----------
    percent : float
        Its share. [-]
    eligible : Decimal
        Cost that it takes into account. [USD]

    Returns
    -------
    Decimal
        The payment before caps. [USD]

    Notes
    -----
    P = p E    (derived)

    References
    ----------
    derived, a product
    """
    return share_to_the_cent(exact(eligible), percent)


def asked_flat(amount: float) -> Decimal:
    """What a source owes that pays a flat sum.

    Parameters
    ----------
    amount : float
        The sum. [USD]

    Returns
    -------
    Decimal
        The payment before caps. [USD]

    Notes
    -----
    P = amount    (derived)

    References
    ----------
    derived, a sum that is stated
    """
    return to_the_cent(exact(amount))


def combined_ceiling(**limits: Decimal) -> Decimal:
    """Most that all public sources may pay together.

    Parameters
    ----------
    **limits : Decimal
        Ceiling of each source that has one. [USD]

    Returns
    -------
    Decimal
        The least of them, whatever the order. [USD]

    Notes
    -----
    M = min of the ceilings    (derived)

    References
    ----------
    derived, every source's rule holds at once
    """
    return to_the_cent(min(exact(limit) for limit in limits.values()))


def payment(
    asked: Decimal,
    cost: Decimal,
    before: Decimal,
    cap: float | None = None,
    ceiling: Decimal | None = None,
) -> Decimal:
    """What a source pays in its turn.

    Parameters
    ----------
    asked : Decimal
        What it owes by its own rule. [USD]
    cost : Decimal
        What the practice costs. [USD]
    before : Decimal
        What sources before it pay. [USD]
    cap : float or None
        Most that it pays; None for no cap. [USD]
    ceiling : Decimal or None
        Most that public sources may pay together. [USD]

    Returns
    -------
    Decimal
        The payment. [USD]

    Raises
    ------
    OutOfDomain
        If more was paid before than the practice costs.

    Notes
    -----
    P = min(asked, cap, cost - before, ceiling - before), not below zero    (derived)

    References
    ----------
    derived, nobody is paid more than the bill
    """
    if exact(before) > exact(cost):
        raise OutOfDomain(
            f"before is {before} USD. It cannot be more than the cost of {cost} USD. "
            "Check what the sources before it pay."
        )
    most = [exact(asked), exact(cost) - exact(before)]
    if cap is not None:
        most.append(exact(cap))
    if ceiling is not None:
        most.append(exact(ceiling) - exact(before))
    return max(to_the_cent(min(most)), Decimal("0.00"))


def owner_share(cost: Decimal, **paid: Decimal) -> Decimal:
    """What is left to the owner.

    Parameters
    ----------
    cost : Decimal
        What the practice costs. [USD]
    **paid : Decimal
        What each source pays. [USD]

    Returns
    -------
    Decimal
        Cost less all payments. [USD]

    Notes
    -----
    owner = cost - sum of the payments    (derived)

    References
    ----------
    derived, a difference
    """
    return to_the_cent(exact(cost) - sum((exact(each) for each in paid.values()), Decimal(0)))


def owner_cash(cost: Decimal, **received: Decimal) -> Decimal:
    """What the owner has paid out and not got back yet.

    Parameters
    ----------
    cost : Decimal
        The bill of the contractor. [USD]
    **received : Decimal
        What sources have paid by then, to the owner or to the contractor. [USD]

    Returns
    -------
    Decimal
        Money that the owner must have at hand. [USD]

    Notes
    -----
    cash = cost - received    (derived)

    References
    ----------
    derived, a difference
    """
    return owner_share(cost, **received)
