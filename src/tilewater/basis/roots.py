# SPDX-License-Identifier: Apache-2.0
"""One root of a continuous function between two ends where it has opposite signs.

Used wherever a flow, a depth or a time can only be found by trying. `bracketed_root` takes the
function. The compiled kernels, to which no function can be handed, walk the same search themselves:

    search = search_between(low, high, f(low), f(high), tolerance)
    while search.goes_on:
        search = search_on(search, f(search.x))
    root = search.x

Derivatives, several roots and systems of equations are not its business.
"""

from collections.abc import Callable
from typing import Any, NamedTuple

from tilewater.basis.errors import NoSolution

MOST_STEPS = 200


class Search(NamedTuple):
    """A search for a root, between two trials.

    Attributes
    ----------
    x : float
        Where to try next; the answer once the search is over.
    goes_on : bool
        Whether another trial is wanted.
    a, f_a : float
        The newest point and the function there.
    b, f_b : float
        The other end of the bracket.
    tolerance : float
        How far the answer may lie from the root.
    steps : int
        Trials so far.
    """

    x: float
    goes_on: bool
    a: float
    f_a: float
    b: float
    f_b: float
    tolerance: float
    steps: int


def search_between(
    low: float, high: float, at_low: float, at_high: float, tolerance: float
) -> Search:
    """Begin a search between two ends where the function has opposite signs.

    Parameters
    ----------
    low, high : float
        Ends of the bracket, in the unit of x. [-]
    at_low, at_high : float
        The function there, in its own unit. [-]
    tolerance : float
        How far the answer may lie from the root, in the unit of x. [-]

    Returns
    -------
    Search
        Over at once where an end is the root. Ends of one sign are not noticed here. [-]

    References
    ----------
    chandrupatla1997, whole paper
    """
    if at_high == 0.0:
        return Search(high, False, high, at_high, low, at_low, tolerance, 0)
    if at_low == 0.0:
        return Search(low, False, low, at_low, high, at_high, tolerance, 0)
    middle = high + 0.5 * (low - high)
    return Search(middle, True, high, at_high, low, at_low, tolerance, 0)


def search_on(search: Search, value: float) -> Search:
    """Take in the function at `search.x` and say where to try next.

    Parameters
    ----------
    search : Search
        The search so far. [-]
    value : float
        The function at `search.x`, in its own unit. [-]

    Returns
    -------
    Search
        With the next x, or the answer. [-]

    Notes
    -----
    Inverse quadratic interpolation where it is monotone between the ends, else the middle:
    phi^2 < xi and (1 - phi)^2 < 1 - xi    (chandrupatla1997)

    References
    ----------
    chandrupatla1997, whole paper
    """
    b, f_b = search.b, search.f_b
    c, f_c = search.a, search.f_a  # the point that is dropped
    if (value > 0.0) != (search.f_a > 0.0):
        b, f_b, c, f_c = search.a, search.f_a, search.b, search.f_b
    a, f_a = search.x, value
    tolerance, steps = search.tolerance, search.steps + 1
    if f_a == 0.0 or abs(b - a) <= tolerance or steps >= MOST_STEPS:
        best = a if abs(f_a) < abs(f_b) else b
        return Search(best, False, a, f_a, b, f_b, tolerance, steps)
    xi = (a - b) / (c - b)
    phi = (f_a - f_b) / (f_c - f_b)
    t = 0.5
    if phi * phi < xi and (1.0 - phi) * (1.0 - phi) < 1.0 - xi:
        t = f_a / (f_b - f_a) * f_c / (f_b - f_c) + (c - a) / (b - a) * f_a / (f_c - f_a) * f_b / (
            f_c - f_b
        )
    least = 0.5 * tolerance / abs(b - a)  # step over the root, so that both ends close in
    t = min(max(t, least), 1.0 - least)
    return Search(a + t * (b - a), True, a, f_a, b, f_b, tolerance, steps)


def bracketed_root(
    function: Callable[..., float],
    low: float,
    high: float,
    arguments: tuple[Any, ...],
    tolerance: float,
) -> float:
    """Root of a function between two ends with opposite signs.

    Halves the bracket, or takes an interpolating step where the last three points show that one
    is safe. Smooth functions need about eight evaluations, none more than a few times as many as
    pure halving.

    Parameters
    ----------
    function : callable
        Called as `function(x, *arguments)`.
    low : float
        One end of the bracket, in the unit of x. [-]
    high : float
        The other end, in the unit of x. [-]
    arguments : tuple
        What else the function needs, each in its own unit. [-]
    tolerance : float
        How far the answer may lie from the root, in the unit of x. [-]

    Returns
    -------
    float
        The root, in the unit of x. [-]

    Raises
    ------
    NoSolution
        If the function has the same sign at both ends, or is no number there.

    References
    ----------
    chandrupatla1997, whole paper
    """
    at_high, at_low = function(high, *arguments), function(low, *arguments)
    if not (at_high <= 0.0 <= at_low or at_low <= 0.0 <= at_high):
        raise NoSolution(
            "The function does not change sign between the two ends. It must be negative at one "
            "and positive at the other. Check the values the ends come from."
        )
    search = search_between(low, high, at_low, at_high, tolerance)
    while search.goes_on:
        search = search_on(search, function(search.x, *arguments))
    return search.x
