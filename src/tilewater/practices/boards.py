# SPDX-License-Identifier: Apache-2.0
"""Stacks of stop logs (boards) made of the heights that can be bought.

Heights count from the sill, as surveyed, not from the pipe invert. A target is only a wish: what is
built, printed and computed with is the stack.
"""

import math
from collections.abc import Iterator, Sequence
from functools import lru_cache

from tilewater.basis.errors import NoSolution, OutOfDomain

HEIGHT_TOLERANCE = 1e-6
"""Heights closer than this are the same height. [m]"""


def board_stack(
    target: float, *, board_heights: Sequence[float], seal_gap: float = 0.0
) -> tuple[float, ...]:
    """Boards that reach nearest to a target without rising above it, from the sill up.

    Among stacks of the same height the one with the fewest boards is taken, then the one with the
    tallest board lowest. The taller boards lie below.

    Parameters
    ----------
    target : float
        Wanted height of the stack above the sill. [m]
    board_heights : sequence of float
        Heights that can be bought, any number of each. [m]
    seal_gap : float
        What the seal adds under each board. [m]

    Returns
    -------
    tuple of float
        Heights of the boards from the sill up; empty if no board is low enough. [m]

    Raises
    ------
    OutOfDomain
        If the target is negative or no positive board height is given.

    Notes
    -----
    stack = argmax of sum(h_i + g), sum(h_i + g) <= target    (practice)

    References
    ----------
    practice, boards are never rounded up past the wanted crest
    """
    if target < 0:
        raise OutOfDomain(
            f"target is {target:.4g} m. A stack stands on the sill and cannot be lower. "
            "Check the crest against the surveyed sill."
        )
    heights = tuple(sorted((float(h) for h in board_heights), reverse=True))
    if not heights or heights[-1] <= 0:
        raise OutOfDomain(
            f"board_heights is {heights}. Every board height must be above 0 m. "
            "List the heights that can be bought."
        )
    return _best_stack(float(target), heights, float(seal_gap))


def stack_heights(
    highest: float, *, board_heights: Sequence[float], seal_gap: float = 0.0
) -> tuple[float, ...]:
    """Height of every stack that can be built up to a height.

    Parameters
    ----------
    highest : float
        Above the sill. [m]
    board_heights : sequence of float
        Heights that can be bought, any number of each. [m]
    seal_gap : float
        What the seal adds under each board. [m]

    Returns
    -------
    tuple of float
        Rising, no board first. [m]

    Raises
    ------
    OutOfDomain
        If no positive board height is given.

    Notes
    -----
    H = sum(h_i + g) <= highest    (practice)

    References
    ----------
    practice, stop logs with a seal under each board
    """
    if not board_heights or min(board_heights) <= 0:
        raise OutOfDomain(
            f"board_heights is {tuple(board_heights)}. Every board height must be above 0 m. "
            "List the heights that can be bought."
        )
    found, open_ends = {0: 0.0}, [0.0]
    while open_ends:
        below = open_ends.pop()
        for height in board_heights:
            stack = below + height + seal_gap
            step = round(stack / HEIGHT_TOLERANCE)
            if stack <= highest + HEIGHT_TOLERANCE and step not in found:
                found[step] = stack
                open_ends.append(stack)
    return tuple(sorted(found.values()))


def stackable_heights(
    board_heights: Sequence[float], *, seal_gap: float = 0.0, room: float
) -> list[float]:
    """Heights up to a limit that boards can be stacked to.

    Parameters
    ----------
    board_heights : sequence of float
        Heights that can be bought, any number of each. [m]
    seal_gap : float
        What the seal adds under each board. [m]
    room : float
        Highest stack. [m]

    Returns
    -------
    list of float
        Heights from the lowest. [m]

    Notes
    -----
    H = sum(h_i + g)    (practice)

    References
    ----------
    practice, sums of what can be bought
    """
    boards = {round((float(height) + seal_gap) / HEIGHT_TOLERANCE) for height in board_heights}
    reached, most = {0}, round(room / HEIGHT_TOLERANCE)
    new = {0}
    while new:
        new = {low + board for low in new for board in boards if low + board <= most} - reached
        reached |= new
    return [height * HEIGHT_TOLERANCE for height in sorted(reached) if height > 0]


def stack_height(stack: Sequence[float], *, seal_gap: float = 0.0) -> float:
    """Height of a stack of boards above the sill.

    Parameters
    ----------
    stack : sequence of float
        Board heights from the sill up. [m]
    seal_gap : float
        What the seal adds under each board. [m]

    Returns
    -------
    float
        Height of the top board's upper edge above the sill. [m]

    Notes
    -----
    H = sum(h_i + g)    (practice)

    References
    ----------
    practice, stop logs with a seal under each board
    """
    return float(sum(stack)) + seal_gap * len(stack)


def crest_elevation(sill: float, height: float) -> float:
    """Elevation of the crest of a stack of boards.

    Parameters
    ----------
    sill : float
        Surveyed elevation of the sill. [m]
    height : float
        Height of the stack above the sill. [m]

    Returns
    -------
    float
        Elevation of the crest. [m]

    Notes
    -----
    crest = sill + H    (derived)

    References
    ----------
    derived, elevations as sums
    """
    return sill + height


def notch_point(top: float, notch_depth: float) -> float:
    """Elevation of the point of a notch, the lowest that water goes over.

    Parameters
    ----------
    top : float
        Elevation of the upper edge of the notched board. [m]
    notch_depth : float
        Top of the board above the point of the notch. [m]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    point = top - d    (derived)

    References
    ----------
    derived, elevations as differences
    """
    return top - notch_depth


def radians_of(angle_deg: float) -> float:
    """An angle in radians.

    Parameters
    ----------
    angle_deg : float
        The angle. [deg]

    Returns
    -------
    float
        The same angle. [rad]

    Notes
    -----
    angle = pi/180 of the angle in degrees    (derived)

    References
    ----------
    derived, change of units
    """
    return math.radians(angle_deg)


def rim_down(rim: float, crest: float) -> float:
    """Distance to measure down from the rim to the top board.

    Parameters
    ----------
    rim : float
        Elevation of the rim. [m]
    crest : float
        Elevation of the crest. [m]

    Returns
    -------
    float
        Rim minus crest. [m]

    Notes
    -----
    down = rim - crest    (derived)

    References
    ----------
    derived, elevations as differences
    """
    return rim - crest


@lru_cache(maxsize=512)
def _best_stack(target: float, heights: tuple[float, ...], seal_gap: float) -> tuple[float, ...]:
    best: tuple[float, ...] = ()
    for stack in _stacks(target + HEIGHT_TOLERANCE, heights, seal_gap):
        if _rank(stack, seal_gap) > _rank(best, seal_gap):
            best = stack
    if len(best) > 60:
        raise NoSolution(
            f"A stack of {len(best)} boards is asked for. At most 60 make sense. "
            "Check the board heights and the target."
        )
    return best


def _rank(stack: tuple[float, ...], seal_gap: float) -> tuple[int, int, tuple[float, ...]]:
    steps = round(stack_height(stack, seal_gap=seal_gap) / HEIGHT_TOLERANCE)
    return steps, -len(stack), stack


def _stacks(
    room: float, heights: tuple[float, ...], seal_gap: float
) -> Iterator[tuple[float, ...]]:
    """Every stack, taller boards lower, that nothing more fits onto."""
    tallest, *rest = heights
    most = int(room / (tallest + seal_gap))
    if not rest:
        yield (tallest,) * most
        return
    for count in range(most, -1, -1):
        lower = (tallest,) * count
        for upper in _stacks(room - count * (tallest + seal_gap), tuple(rest), seal_gap):
            yield lower + upper
