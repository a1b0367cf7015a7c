# SPDX-License-Identifier: Apache-2.0
"""Whether finished work is within its tolerance, told from the noise of its shots.

A deviation that noise alone could make of perfect work is no fault; it is not known.
"""

from math import sqrt
from statistics import NormalDist
from typing import Literal

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.told import feet

Status = Literal["holds", "short", "not known"]

FALSE_ALARM = 0.01
"""Share of perfect works that noise alone may make fall short, over all comparisons of one."""
NOISE_SHARE = 0.5
"""Noise over tolerance from which an instrument cannot judge it. Common practice."""


def noise_of_mean(**noises: float) -> float:
    """Noise of a mean of shots whose errors do not depend on each other.

    Parameters
    ----------
    **noises : float
        One standard deviation of each shot. [m]

    Returns
    -------
    float
        One standard deviation of the mean. [m]

    Notes
    -----
    s = sqrt(sum s_i^2) / n    (derived)

    Shots of one set-up share the error of that set-up, which no mean takes away: a check on a
    benchmark shows it.

    References
    ----------
    derived, the variance of a mean
    """
    values = tuple(noises.values())
    return sqrt(sum(each**2 for each in values)) / len(values)


def largest_noise(**noises: float) -> float:
    """Noise of the least certain of some shots.

    Parameters
    ----------
    **noises : float
        One standard deviation of each shot. [m]

    Returns
    -------
    float
        The largest. [m]

    Notes
    -----
    s = max s_i    (derived)

    References
    ----------
    derived, the largest of them
    """
    return max(noises.values())


def noise_factor(comparisons: float) -> float:
    """How many standard deviations noise alone may reach in one of so many comparisons.

    Parameters
    ----------
    comparisons : float
        How many are made of one thing, such as the shots and reaches of one pipe. [-]

    Returns
    -------
    float
        Standard deviations. [-]

    Raises
    ------
    OutOfDomain
        If nothing is compared.

    Notes
    -----
    k = F^-1(1 - a / (2 m)), a = 0.01    (bonferroni1936)

    Two of many shots of a perfect pipe lie beyond two standard deviations; this factor is widened
    so that of a hundred perfect pipes, all their shots taken together, at most one falls short.

    References
    ----------
    bonferroni1936, the sum of the chances
    """
    if comparisons < 1:
        raise OutOfDomain(
            f"comparisons is {comparisons:g} -. At least one comparison is made. Shoot the work."
        )
    return NormalDist().inv_cdf(1.0 - FALSE_ALARM / (2.0 * comparisons))


def tolerance_status(
    off: float, *, below: float, above: float, noise: float, factor: float
) -> Status:
    """Whether a deviation is within its tolerance, beyond it, or not to be told from noise.

    Parameters
    ----------
    off : float
        Deviation; positive is higher or more. [m]
    below, above : float
        How far it may lie below and above its design. [m]
    noise : float
        One standard deviation of what was shot. [m]
    factor : float
        Standard deviations that noise alone may reach, see `noise_factor`. [-]

    Returns
    -------
    "holds", "short" or "not known"
        Not known where it lies outside, and noise alone could put perfect work there. [-]

    Notes
    -----
    -b <= d <= a holds; else |d| <= k s is not known; else it is short    (derived)

    References
    ----------
    derived, a deviation against two limits
    """
    if -below <= off <= above:
        return "holds"
    return "not known" if abs(off) <= factor * noise else "short"


def noise_against_tolerance(noise: float, allowed: float, *, subject: str) -> tuple[Finding, ...]:
    """Report shots that scatter too much for the tolerance they are held against.

    Parameters
    ----------
    noise : float
        One standard deviation of the shots. [m]
    allowed : float
        How far the work may lie off. [m]
    subject : str
        What was shot, in words of the trade. [-]

    Returns
    -------
    tuple of Finding
        Empty where the noise is at most half the tolerance. [-]

    Notes
    -----
    s <= t / 2    (practice)

    References
    ----------
    practice, the scatter of an instrument against what it judges
    """
    if noise <= NOISE_SHARE * allowed:
        return ()
    return (
        Finding(
            "noise-over-half-tolerance",
            "caution",
            subject,
            f"Its shots scatter by {feet(noise)}, more than half the tolerance of "
            f"{feet(allowed)}. Use a level or a laser.",
            value=noise,
            operator="<=",
            limit=NOISE_SHARE * allowed,
            unit="m",
            source="practice",
        ),
    )
