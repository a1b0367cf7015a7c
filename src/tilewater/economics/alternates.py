# SPDX-License-Identifier: Apache-2.0
"""Alternates of a bid: items that are added, left out or replaced, and what that changes.

An alternate is priced beside the base and taken whole or not at all. Which one is taken is the
owner's choice, made before the lowest bid is named.
"""

from dataclasses import dataclass
from decimal import Decimal

from tilewater.economics.estimate import exact, to_the_cent


@dataclass(frozen=True)
class Added:
    """An item that an alternate adds.

    Attributes
    ----------
    item : str
        As the price book calls it.
    quantity : Decimal or None
        In `unit`; None where it is that of another item.
    unit : str
        Bid unit; "" where it is that of another item.
    like : str
        Item of the base whose quantity and unit it has; "" for none.
    """

    item: str
    quantity: Decimal | None = None
    unit: str = ""
    like: str = ""


@dataclass(frozen=True)
class Alternate:
    """What one alternate does to the base.

    Attributes
    ----------
    name, title : str
    left_out : tuple of str
        Items of the base that it leaves out.
    added : tuple of Added
        Items that it adds; one that replaces another stands in both.
    """

    name: str
    title: str
    left_out: tuple[str, ...] = ()
    added: tuple[Added, ...] = ()


def alternate_change(added: Decimal, left_out: Decimal) -> Decimal:
    """What an alternate adds to the base, or takes from it.

    Parameters
    ----------
    added : Decimal
        Amounts of the items that it adds. [USD]
    left_out : Decimal
        Amounts of the items of the base that it leaves out. [USD]

    Returns
    -------
    Decimal
        Above zero where the alternate costs more. [USD]

    Notes
    -----
    change = added - left out    (derived)

    References
    ----------
    derived, a difference
    """
    return to_the_cent(exact(added) - exact(left_out))


def total_with_alternate(base: Decimal, change: Decimal) -> Decimal:
    """Total of the base with an alternate.

    Parameters
    ----------
    base : Decimal
        Total of the base. [USD]
    change : Decimal
        What the alternate changes. [USD]

    Returns
    -------
    Decimal
        Base and change together. [USD]

    Notes
    -----
    total = base + change    (derived)

    References
    ----------
    derived, a sum
    """
    return to_the_cent(exact(base) + exact(change))
