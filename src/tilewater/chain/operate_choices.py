# SPDX-License-Identifier: Apache-2.0
"""Which stacks of boards a search asks: heights that the boards of the job can be stacked to.

No stack is taller than the tallest that the design or a season has: the design was held to its
limits and to the rules of its standard with those. A stack is named by its height above the sill in
inches, as one orders boards: `36`, `7_25`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from tilewater.practices.boards import HEIGHT_TOLERANCE, stack_heights

INCH = 0.0254
APART = 3.9 * INCH
"""Stacks nearer to each other than this are not both asked. [m]"""


@dataclass(frozen=True)
class Choice:
    """One setting of all sets of boards.

    Attributes
    ----------
    name : str
        Heights of its stacks in inches: `36-24`.
    heights : tuple of (str, float)
        Set and height of its stack above the sill. [m]
    """

    name: str
    heights: tuple[tuple[str, float], ...]

    def height(self, board_set: str) -> float:
        """Height of the stack of a set. [m]"""
        return dict(self.heights)[board_set]


def height_name(height: float) -> str:
    """A height in inches as part of a name.

    Parameters
    ----------
    height : float
        Above the sill. [m]

    Returns
    -------
    str
        `36`, or `7_25` for 7.25 in. [-]

    References
    ----------
    derived, digits
    """
    return f"{height / INCH:.2f}".rstrip("0").rstrip(".").replace(".", "_")


def setting_name(height: float) -> str:
    """Name of a setting under which a stack of any set is rated.

    Parameters
    ----------
    height : float
        Of the stack above the sill. [m]

    Returns
    -------
    str
        As `run-36`. [-]

    References
    ----------
    derived, digits
    """
    return f"run-{height_name(height)}"


def thinned_heights(
    highest: float,
    board_heights: Sequence[float],
    seal_gap: float,
    wanted: Iterable[float],
) -> tuple[float, ...]:
    """Heights that a search asks: all that are wanted, and others about 4 inches apart.

    Parameters
    ----------
    highest : float
        Above the sill. [m]
    board_heights : sequence of float
        Heights that can be bought. [m]
    seal_gap : float
        What the seal adds under each board. [m]
    wanted : iterable of float
        Stacks that are asked in any case, those of design and seasons. [m]

    Returns
    -------
    tuple of float
        Rising; 0, no board, first. [m]

    Raises
    ------
    OutOfDomain
        If no positive board height is given.

    Notes
    -----
    H = sum(h_i + g) <= highest, at least 4 in between two    (practice)

    References
    ----------
    practice, boards are bought in steps of 2 to 4 inches
    """
    found = [0.0, *(height for height in wanted if height <= highest + HEIGHT_TOLERANCE)]
    for height in reversed(stack_heights(highest, board_heights=board_heights, seal_gap=seal_gap)):
        if min(abs(height - other) for other in found) >= APART:
            found.append(height)
    kept: list[float] = []
    for height in sorted(found):
        if not kept or height - kept[-1] > HEIGHT_TOLERANCE:
            kept.append(height)
    return tuple(kept)


def choices_of_bed(
    inlet: Sequence[float],
    outlet: Sequence[float],
    inlet_sill: float,
    outlet_sill: float,
    wanted: Iterable[tuple[float, float]],
) -> tuple[Choice, ...]:
    """Settings of both structures of a bed.

    Parameters
    ----------
    inlet, outlet : sequence of float
        Heights of stacks. [m]
    inlet_sill, outlet_sill : float
        Elevations of the sills. [m]
    wanted : iterable of (float, float)
        Settings that are asked in any case. [m]

    Returns
    -------
    tuple of Choice
        Those with the outlet crest no higher than the inlet crest, and those that are wanted.

    Notes
    -----
    z_out + H_out <= z_in + H_in    (derived)

    References
    ----------
    derived, water runs from inlet to outlet
    """
    pairs = [
        (a, b)
        for a in inlet
        for b in outlet
        if outlet_sill + b <= inlet_sill + a + HEIGHT_TOLERANCE or b == 0.0
    ]
    return _named(("inlet", "outlet"), (*pairs, *wanted))


def choices_of_buffer(
    inlet: Sequence[float], head: Sequence[float], wanted: Iterable[tuple[float, float]]
) -> tuple[Choice, ...]:
    """Settings of the bypass boards of a buffer, and of its head boards.

    Parameters
    ----------
    inlet, head : sequence of float
        Heights of stacks; of the head boards up to those of the design. [m]
    wanted : iterable of (float, float)
        Settings that are asked in any case. [m]

    Returns
    -------
    tuple of Choice
        The head boards as tall as they may be, no taller than the bypass boards.

    Notes
    -----
    H_head = max of those <= H_bypass    (practice)

    References
    ----------
    practice, head boards that stand over the bypass boards would hold the field by themselves
    """
    pairs = [(a, max(h for h in head if h <= a + HEIGHT_TOLERANCE)) for a in inlet]
    return _named(("inlet", "head"), (*pairs, *wanted))


def choices_of_one(inlet: Sequence[float], wanted: Iterable[tuple[float]]) -> tuple[Choice, ...]:
    """Settings where one set of boards is moved, as at a raised outlet.

    Parameters
    ----------
    inlet : sequence of float
        Heights of stacks. [m]
    wanted : iterable of (float,)
        Settings that are asked in any case. [m]

    Returns
    -------
    tuple of Choice

    References
    ----------
    derived, one set of boards
    """
    return _named(("inlet",), (*((height,) for height in inlet), *wanted))


def _named(sets: tuple[str, ...], heights: Iterable[tuple[float, ...]]) -> tuple[Choice, ...]:
    found: dict[str, Choice] = {}
    for each in sorted(heights):
        name = "-".join(height_name(height) for height in each)
        found.setdefault(name, Choice(name, tuple(zip(sets, map(float, each), strict=True))))
    return tuple(found.values())


def tallest_for_free_drainage(crests: Sequence[float], lowest_lateral: float) -> float:
    """Highest crest that holds no water over the lowest lateral.

    Parameters
    ----------
    crests : sequence of float
        Elevations of the crests that can be set. [m]
    lowest_lateral : float
        Elevation of the lowest lateral of a spot. [m]

    Returns
    -------
    float
        The highest of those at or under the lateral; the lowest crest where there is none. [m]

    Notes
    -----
    max crest <= z_lateral    (derived)

    References
    ----------
    derived, a level pool that ends under the drains
    """
    under = [crest for crest in crests if crest <= lowest_lateral + HEIGHT_TOLERANCE]
    return float(np.max(under)) if under else float(np.min(crests))


def tuple_of(**values: float) -> tuple[float, ...]:
    """Values as a tuple, in their order.

    Parameters
    ----------
    **values : float
        By name. [m]

    Returns
    -------
    tuple of float
        The same. [m]

    References
    ----------
    derived, values put together
    """
    return tuple(values.values())


def largest_of(values: tuple[float, ...]) -> float:
    """The largest of some values.

    Parameters
    ----------
    values : tuple of float
        Heights. [m]

    Returns
    -------
    float
        The largest. [m]

    Notes
    -----
    H = max H_i    (derived)

    References
    ----------
    derived, the largest
    """
    return float(max(values))
