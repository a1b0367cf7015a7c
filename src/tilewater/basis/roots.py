# SPDX-License-Identifier: Apache-2.0
"""One root of a continuous function between two ends where it has opposite signs.

Used wherever a flow, a depth or a time can only be found by trying. It takes and returns plain
numbers in a plain loop, so that the compiled daily kernels can use this same source; derivatives,
several roots and systems of equations are not its business.
"""

from collections.abc import Callable
from typing import Any

from tilewater.basis.errors import NoSolution

MOST_STEPS = 200


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
        What else the function needs: numbers, each in its own unit, or named tuples of them. [-]
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

    Notes
    -----
    Inverse quadratic interpolation where it is monotone between the ends, else the middle:
    phi^2 < xi and (1 - phi)^2 < 1 - xi    (chandrupatla1997)

    References
    ----------
    chandrupatla1997, whole paper
    """
    a, b = high, low
    f_a, f_b = function(a, *arguments), function(b, *arguments)
    if f_a == 0.0:
        return a
    if f_b == 0.0:
        return b
    if not (f_a < 0.0 < f_b or f_b < 0.0 < f_a):
        raise NoSolution(
            "The function does not change sign between the two ends. It must be negative at one "
            "and positive at the other. Check the values the ends come from."
        )
    t = 0.5
    for _ in range(MOST_STEPS):
        x = a + t * (b - a)
        y = function(x, *arguments)
        if (y > 0.0) == (f_a > 0.0):
            c, f_c = a, f_a
        else:
            c, f_c = b, f_b
            b, f_b = a, f_a
        a, f_a = x, y  # a is the newest point, b the other end, c the point that was dropped
        if f_a == 0.0 or abs(b - a) <= tolerance:
            break
        xi = (a - b) / (c - b)
        phi = (f_a - f_b) / (f_c - f_b)
        t = 0.5
        if phi * phi < xi and (1.0 - phi) * (1.0 - phi) < 1.0 - xi:
            t = f_a / (f_b - f_a) * f_c / (f_b - f_c) + (c - a) / (b - a) * f_a / (
                f_c - f_a
            ) * f_b / (f_c - f_b)
        least = 0.5 * tolerance / abs(b - a)  # step over the root, so that both ends close in
        t = min(max(t, least), 1.0 - least)
    return a if abs(f_a) < abs(f_b) else b
