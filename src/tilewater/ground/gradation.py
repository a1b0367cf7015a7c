# SPDX-License-Identifier: Apache-2.0
"""Gradation of woodchips: what is read off a curve of sieves, and what bounds it.

A curve is held as sizes of the sieves from the largest down, and the share of the mass that passes
each. Between two sieves the curve is taken straight over the logarithm of the size, and only where
the larger is at most `WIDEST_STEP` times the smaller: a sieve that is missing leaves a size not
known, while the two sieves beside it still bound the share that passes. Nothing is drawn on beyond
the largest or the smallest sieve. What a job asks of its chips, and what an eye rejects, is not
judged here. Masses become shares in `sieving`.
"""

from itertools import pairwise
from math import exp, log

from tilewater.basis.errors import NoSolution, OutOfDomain

WIDEST_STEP = 2.0
"""Largest ratio of two neighbouring sieves between which the curve is read. [-]"""
GRACE = 1e-6
"""A size typed in inches and one typed in millimetres are the same within this share. [-]"""

Shares = tuple[float, ...]
Sizes = tuple[float, ...]


def need_curve(sizes: Sizes, other: Shares) -> None:
    """Hold a curve to have a value for each sieve, from the largest down.

    Parameters
    ----------
    sizes : tuple of float
        Openings of the sieves. [m]
    other : tuple of float
        Shares, or masses. [-]

    Raises
    ------
    OutOfDomain
        If their counts differ, or the openings do not fall.
    """
    if len(sizes) != len(other) or not sizes:
        raise OutOfDomain(
            f"{len(sizes)} sieves stand beside {len(other)} values. Each sieve has one. "
            "Write both again."
        )
    if any(a <= b for a, b in pairwise(sizes)) or sizes[-1] <= 0.0:
        raise OutOfDomain(
            "The openings do not fall from sieve to sieve. List each sieve once, from the largest "
            "down."
        )


def share_passing_at(sizes: Sizes, passing: Shares, size: float) -> float:
    """Share of the mass that passes an opening.

    Parameters
    ----------
    sizes : tuple of float
        Openings of the sieves, from the largest down. [m]
    passing : tuple of float
        Share passing each. [-]
    size : float
        The opening asked about. [m]

    Returns
    -------
    float
        Share passing it; that of the sieve where there is one. [-]

    Raises
    ------
    NoSolution
        If no two sieves near enough stand beside it.

    Notes
    -----
    P = P_s + (P_l - P_s) ln(d / d_s) / ln(d_l / d_s)    (sieve-arithmetic)

    Read between two sieves only where d_l / d_s is 2 at most (practice).

    References
    ----------
    sieve-arithmetic, straight over the logarithm of the size
    """
    need_curve(sizes, passing)
    for opening, share in zip(sizes, passing, strict=True):
        if abs(opening - size) <= GRACE * size:
            return share
    if size > sizes[0] and passing[0] >= 1.0:
        return 1.0
    for (large, above), (small, below) in pairwise(zip(sizes, passing, strict=True)):
        if small < size < large and large / small <= WIDEST_STEP * (1.0 + GRACE):
            return below + (above - below) * log(size / small) / log(large / small)
    raise NoSolution(
        f"No sieve of {_millimetres(size)} was used, and none near enough on both sides. The share "
        f"that passes it is not known; put a sieve of {_millimetres(size)} into the stack."
    )


def least_passing_at(sizes: Sizes, passing: Shares, size: float) -> float:
    """Share of the mass that passes an opening at least.

    Parameters
    ----------
    sizes : tuple of float
        Openings of the sieves, from the largest down. [m]
    passing : tuple of float
        Share passing each. [-]
    size : float
        The opening asked about. [m]

    Returns
    -------
    float
        Share that passes the next smaller sieve. [-]

    Notes
    -----
    P(d) >= P(d_s) for d_s <= d    (sieve-arithmetic)

    References
    ----------
    sieve-arithmetic, what passes a smaller sieve passes a larger one
    """
    need_curve(sizes, passing)
    pairs = zip(sizes, passing, strict=True)
    return max((share for opening, share in pairs if opening <= size * (1 + GRACE)), default=0.0)


def most_passing_at(sizes: Sizes, passing: Shares, size: float) -> float:
    """Share of the mass that passes an opening at most.

    Parameters
    ----------
    sizes : tuple of float
        Openings of the sieves, from the largest down. [m]
    passing : tuple of float
        Share passing each. [-]
    size : float
        The opening asked about. [m]

    Returns
    -------
    float
        Share that passes the next larger sieve. [-]

    Notes
    -----
    P(d) <= P(d_l) for d_l >= d    (sieve-arithmetic)

    References
    ----------
    sieve-arithmetic, what stays on a larger sieve stays on a smaller one
    """
    need_curve(sizes, passing)
    pairs = zip(sizes, passing, strict=True)
    return min((share for opening, share in pairs if opening >= size * (1 - GRACE)), default=1.0)


def share_between(larger: float, smaller: float) -> float:
    """Share of the mass between two openings.

    Parameters
    ----------
    larger, smaller : float
        Shares that pass the larger and the smaller opening. [-]

    Returns
    -------
    float
        Share that passes the one and stays on the other. [-]

    Notes
    -----
    R = P_larger - P_smaller    (sieve-arithmetic)

    References
    ----------
    sieve-arithmetic, cumulative mass retained
    """
    return larger - smaller


def size_at_share(sizes: Sizes, passing: Shares, share: float) -> float:
    """Size that a share of the mass is finer than: D10, D50, D60.

    Parameters
    ----------
    sizes : tuple of float
        Openings of the sieves, from the largest down. [m]
    passing : tuple of float
        Share passing each. [-]
    share : float
        Share that is finer. [-]

    Returns
    -------
    float
        The size. [m]

    Raises
    ------
    NoSolution
        If the curve does not reach the share, or only between sieves too far apart.

    Notes
    -----
    ln D = ln d_s + (P - P_s) / (P_l - P_s) ln(d_l / d_s)    (sieve-arithmetic)

    Where a stretch of the curve is level, its smaller end is taken.

    References
    ----------
    sieve-arithmetic, straight over the logarithm of the size
    """
    need_curve(sizes, passing)
    curve = tuple(zip(sizes, passing, strict=True))
    for (small, below), (large, above) in pairwise(reversed(curve)):
        if below <= share <= above:
            if below == share:
                return small
            if large / small > WIDEST_STEP * (1.0 + GRACE):
                raise NoSolution(
                    f"D{share * 100:.0f} lies between the sieves of {_millimetres(small)} and "
                    f"{_millimetres(large)}, which are too far apart to read it. Put a sieve "
                    "between them into the stack."
                )
            return exp(log(small) + (share - below) / (above - below) * log(large / small))
    beyond = "smallest" if curve[-1][1] > share else "largest"
    raise NoSolution(
        f"D{share * 100:.0f} lies beyond the {beyond} sieve. It is not drawn on. Add a sieve there."
    )


def uniformity_coefficient(d60: float, d10: float) -> float:
    """How wide a gradation is: D60 over D10.

    Parameters
    ----------
    d60, d10 : float
        Sizes that 60 and 10 percent are finer than. [m]

    Returns
    -------
    float
        Uniformity coefficient; 1 where all is of one size. [-]

    Raises
    ------
    OutOfDomain
        If a size is not positive.

    Notes
    -----
    Cu = D60 / D10    (sieve-arithmetic)

    References
    ----------
    sieve-arithmetic, definition
    """
    if not (d60 > 0.0 and d10 > 0.0):
        raise OutOfDomain("size is 0 mm. A size of a chip is more than 0. Check the sieves.")
    return d60 / d10


def _millimetres(size: float) -> str:
    return f"{size * 1000:.3g} mm ({size / 0.0254:.3g} in)"
