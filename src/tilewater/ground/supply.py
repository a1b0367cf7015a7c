# SPDX-License-Identifier: Apache-2.0
"""Chips by the truck: tons to volume, what is delivered, what is used against what is filled.

Volumes are as the chips lie in the truck. They settle when they are placed; the order of a design
allows for it.
"""

from tilewater.basis.errors import OutOfDomain


def volume_of_load(mass: float, bulk_density: float) -> float:
    """Volume of a load that was weighed.

    Parameters
    ----------
    mass : float
        As weighed, with its water. [kg]
    bulk_density : float
        Of chips in the truck, with their water. [kg/m3]

    Returns
    -------
    float
        Volume as it lies in the truck. [m3]

    Raises
    ------
    OutOfDomain
        If the bulk density is not positive.

    Notes
    -----
    V = m / rho    (derived)

    References
    ----------
    derived, definition of bulk density
    """
    if not bulk_density > 0.0:
        raise OutOfDomain(
            f"bulk density is {bulk_density:g} kg/m3. It is more than 0. Weigh a known volume."
        )
    return mass / bulk_density


def volume_delivered(**volumes: float) -> float:
    """Chips that were brought and taken.

    Parameters
    ----------
    volumes : float
        Each load that was not refused, under its ticket. [m3]

    Returns
    -------
    float
        Their sum. [m3]

    Notes
    -----
    V = V_1 + ... + V_n    (derived)

    References
    ----------
    derived, a sum
    """
    return sum(volumes.values())


def least_delivery(needed: float, tolerance: float) -> float:
    """Delivery that is let pass as whole.

    Parameters
    ----------
    needed : float
        Chips needed, as they lie in the truck. [m3]
    tolerance : float
        Shortfall that is let pass. [-]

    Returns
    -------
    float
        Least delivery. [m3]

    Notes
    -----
    V_least = V_needed (1 - t)    (practice)

    References
    ----------
    practice, tolerance of a delivery
    """
    return needed * (1.0 - tolerance)


def chips_used(delivered: float, stockpile: float) -> float:
    """Chips that have gone into the bed.

    Parameters
    ----------
    delivered : float
        Brought and taken up to then. [m3]
    stockpile : float
        Still on the pad. [m3]

    Returns
    -------
    float
        Chips used. [m3]

    Raises
    ------
    OutOfDomain
        If more lies on the pad than was brought.

    Notes
    -----
    V_used = V_delivered - V_pad    (derived)

    References
    ----------
    derived, a difference
    """
    if stockpile > delivered:
        raise OutOfDomain(
            f"stockpile is {stockpile:.1f} m3 and delivered are {delivered:.1f} m3. No more can "
            "lie on the pad than was brought. Check the tickets and the pad."
        )
    return delivered - stockpile


def chips_planned(needed: float, share: float) -> float:
    """Chips that a share of the bed should have taken.

    Parameters
    ----------
    needed : float
        Chips for the whole bed. [m3]
    share : float
        Share of the bed that is filled. [-]

    Returns
    -------
    float
        Chips by plan. [m3]

    Notes
    -----
    V_plan = s V_needed    (derived)

    References
    ----------
    derived, a share
    """
    return share * needed


def most_used(planned: float, tolerance: float) -> float:
    """Use of chips that is let pass as by plan.

    Parameters
    ----------
    planned : float
        Chips by plan. [m3]
    tolerance : float
        Excess that is let pass. [-]

    Returns
    -------
    float
        Most that may be used. [m3]

    Notes
    -----
    V_most = V_plan (1 + t)    (practice)

    References
    ----------
    practice, tolerance of a delivery
    """
    return planned * (1.0 + tolerance)


def chips_at_end(used_chips: float, share: float) -> float:
    """Chips that the whole bed will take if it goes on so.

    Parameters
    ----------
    used_chips : float
        Chips used so far. [m3]
    share : float
        Share of the bed that is filled. [-]

    Returns
    -------
    float
        Chips for the whole bed. [m3]

    Raises
    ------
    OutOfDomain
        If nothing is filled yet.

    Notes
    -----
    V_end = V_used / s    (derived)

    References
    ----------
    derived, in proportion
    """
    if not share > 0.0:
        raise OutOfDomain("share is 0. Nothing is filled yet, so nothing can be told of the end.")
    return used_chips / share
