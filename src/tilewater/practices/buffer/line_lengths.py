# SPDX-License-Identifier: Apache-2.0
"""Lengths of a distribution line: as laid, as it feeds, and what it takes of its strip."""

from collections.abc import Sequence

from tilewater.basis.domain import refuse, require_not_negative, require_positive


def laid_length(branches: Sequence[float]) -> float:
    """Length of perforated line as it is laid, roots and all.

    Parameters
    ----------
    branches : sequence of float
        Length of each branch. [m]

    Returns
    -------
    float
        Sum. [m]

    Notes
    -----
    L = sum(L_i)    (derived)

    References
    ----------
    derived, a sum
    """
    return float(sum(branches))


def length_of_strip_used(branches: Sequence[float], solid_at_structure: float) -> float:
    """Length of strip that a line takes up, its solid pipe at the structure counted.

    Parameters
    ----------
    branches : sequence of float
        Perforated length of each branch. [m]
    solid_at_structure : float
        Solid pipe of each branch at the structure. [m]

    Returns
    -------
    float
        Length. [m]

    Notes
    -----
    sum(L_i) + N s    (derived)

    References
    ----------
    derived, a sum
    """
    return laid_length(branches) + len(branches) * solid_at_structure


def feeding_branches(branches: Sequence[float], tree_length: float = 0.0) -> tuple[float, ...]:
    """Length of each branch that lets water out, what is laid solid for trees taken off.

    Parameters
    ----------
    branches : sequence of float
        Length of each branch. [m]
    tree_length : float
        Length laid solid within reach of roots, taken off all branches alike. [m]

    Returns
    -------
    tuple of float
        Feeding lengths. [m]

    Raises
    ------
    OutOfDomain
        If the trees take the whole line.

    Notes
    -----
    L_i (1 - trees / sum(L))    (derived)

    References
    ----------
    derived, a share of each
    """
    require_not_negative("tree_length", tree_length, "m", "Use 0 where no tree stands")
    total = laid_length(branches)
    if tree_length >= total:
        raise refuse(
            "tree_length",
            tree_length,
            "m",
            f"The line is {total:.4g} m long and would feed nowhere",
            "Move the line away from the trees or take the trees down",
        )
    return tuple(each * (1.0 - tree_length / total) for each in branches)


def share_of_length(used: float, available: float) -> float:
    """Share of the strip that the line uses.

    Parameters
    ----------
    used : float
        Length of strip that the line takes up. [m]
    available : float
        Length of strip that a line could use. [m]

    Returns
    -------
    float
        Share; above 1 where the line is longer than the strip. [-]

    Raises
    ------
    OutOfDomain
        If the strip has no length.

    Notes
    -----
    share = L / L_available    (derived)

    References
    ----------
    derived, a ratio
    """
    require_positive("available", available, "m", "Tape the strip")
    return used / available


def longest_line(branches: Sequence[float], available: float, solid_at_structure: float) -> float:
    """Perforated line that a strip has room for, or as much as is laid where that is more.

    Parameters
    ----------
    branches : sequence of float
        Perforated length of each branch. [m]
    available : float
        Length of strip that a line could use. [m]
    solid_at_structure : float
        Solid pipe of each branch at the structure. [m]

    Returns
    -------
    float
        Sum over all branches. [m]

    Notes
    -----
    max(L_available - N s, sum(L_i))    (derived)

    References
    ----------
    derived, a difference
    """
    return max(available - len(branches) * solid_at_structure, laid_length(branches))


def longest_feeding_line(
    branches: Sequence[float], available: float, solid_at_structure: float, tree_length: float = 0.0
) -> float:
    """Longest line that could let water out, what is laid solid for trees taken off.

    Parameters
    ----------
    branches : sequence of float
        Perforated length of each branch. [m]
    available : float
        Length of strip that a line could use. [m]
    solid_at_structure : float
        Solid pipe of each branch at the structure. [m]
    tree_length : float
        Length laid solid within reach of roots. [m]

    Returns
    -------
    float
        Sum over all branches. [m]

    Notes
    -----
    max(L_available - N s, sum(L_i)) - trees    (derived)

    References
    ----------
    derived, a difference
    """
    return longest_line(branches, available, solid_at_structure) - tree_length
