# SPDX-License-Identifier: Apache-2.0
"""Masses on sieves: the share that passes each, what was lost, moisture, several trucks.

What is read off the curve between the sieves stands in `gradation`.
"""

from tilewater.basis.errors import OutOfDomain
from tilewater.ground.gradation import Shares, Sizes, need_curve


def shares_passing(sizes: Sizes, retained: Shares, pan: float) -> Shares:
    """Share of the mass that passes each sieve.

    Parameters
    ----------
    sizes : tuple of float
        Openings of the sieves, from the largest down. [m]
    retained : tuple of float
        Mass that stays on each. [kg]
    pan : float
        Mass in the pan. [kg]

    Returns
    -------
    tuple of float
        Share passing each sieve. [-]

    Raises
    ------
    OutOfDomain
        If sizes do not fall from sieve to sieve, a mass is negative, or there is no mass.

    Notes
    -----
    P_i = 1 - (m_1 + ... + m_i) / (m_1 + ... + m_n + m_pan)    (sieve-arithmetic)

    References
    ----------
    sieve-arithmetic, cumulative mass retained
    das-sieve, question 2.1
    """
    need_curve(sizes, retained)
    if min((*retained, pan)) < 0.0:
        raise OutOfDomain(
            f"mass is {min((*retained, pan)):g} kg. A mass on a sieve cannot be negative. "
            "Read the balance sheet again."
        )
    total = sum(retained) + pan
    if total <= 0.0:
        raise OutOfDomain("mass is 0 kg. Something must lie on the sieves. Weigh them again.")
    passing, gone = [], 0.0
    for mass in retained:
        gone += mass
        passing.append(max(0.0, 1.0 - gone / total))
    return tuple(passing)


def mass_loss(before: float, retained: Shares, pan: float) -> float:
    """Share of the mass that was lost in sieving; negative where more was weighed than put in.

    Parameters
    ----------
    before : float
        Mass put on the sieves. [kg]
    retained : tuple of float
        Mass that stays on each. [kg]
    pan : float
        Mass in the pan. [kg]

    Returns
    -------
    float
        Loss over the mass before. [-]

    Raises
    ------
    OutOfDomain
        If the mass before is not positive.

    Notes
    -----
    l = (m_before - m_sieves) / m_before    (sieve-arithmetic)

    All masses in one state: all wet, or all dry.

    References
    ----------
    sieve-arithmetic, mass balance
    """
    if not before > 0.0:
        raise OutOfDomain(f"mass before is {before:g} kg. It is more than 0. Weigh the sample.")
    return (before - sum(retained) - pan) / before


def moisture_dry_basis(wet: float, dry: float) -> float:
    """Water of a moisture sample over its dry mass.

    Parameters
    ----------
    wet, dry : float
        Mass before and after the oven. [kg]

    Returns
    -------
    float
        Moisture on the dry basis. [kg/kg]

    Raises
    ------
    OutOfDomain
        If the dry mass is not positive, or above the wet one.

    Notes
    -----
    w = (m_wet - m_dry) / m_dry    (sieve-arithmetic)

    References
    ----------
    sieve-arithmetic, definition of moisture
    """
    if not 0.0 < dry <= wet:
        raise OutOfDomain(
            f"dry mass is {dry:g} kg and wet mass {wet:g} kg. Dry is more than 0 and no more than "
            "wet. Read the oven sheet again."
        )
    return (wet - dry) / dry


def dry_mass(wet: float, moisture: float) -> float:
    """Dry mass of what was weighed wet.

    Parameters
    ----------
    wet : float
        Mass as weighed. [kg]
    moisture : float
        Moisture on the dry basis. [kg/kg]

    Returns
    -------
    float
        Dry mass. [kg]

    Notes
    -----
    m_dry = m_wet / (1 + w)    (sieve-arithmetic)

    With one moisture for all sizes the shares on the sieves stay as they are; fines hold more water
    than coarse chips, so weighed wet their share reads high.

    References
    ----------
    sieve-arithmetic, definition of moisture
    """
    return wet / (1.0 + moisture)


def mean_of_shares(**shares: float) -> float:
    """Mean of a share over several trucks, each truck counted once.

    Parameters
    ----------
    shares : float
        Share of each truck, under its name. [-]

    Returns
    -------
    float
        Mean. [-]

    Notes
    -----
    mean = (P_1 + ... + P_n) / n    (derived)

    References
    ----------
    derived, plain mean
    """
    return sum(shares.values()) / len(shares)


def largest_share(**shares: float) -> float:
    """Largest share of several trucks.

    Parameters
    ----------
    shares : float
        Share of each truck, under its name. [-]

    Returns
    -------
    float
        The largest. [-]

    Notes
    -----
    worst = max(P_1, ..., P_n)    (derived)

    References
    ----------
    derived, the truck that is worst
    """
    return max(shares.values())


def smallest_share(**shares: float) -> float:
    """Smallest share of several trucks.

    Parameters
    ----------
    shares : float
        Share of each truck, under its name. [-]

    Returns
    -------
    float
        The smallest. [-]

    Notes
    -----
    worst = min(P_1, ..., P_n)    (derived)

    References
    ----------
    derived, the truck that is worst
    """
    return min(shares.values())
