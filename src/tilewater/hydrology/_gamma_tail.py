# SPDX-License-Identifier: Apache-2.0
"""Where a share of the gamma distribution of unit scale lies above, for `frequency`.

Written out because the program leans on no library of statistics. The root is looked for between
two ends that hold it for certain, so that no starting guess can fail.
"""

import math

from tilewater.basis.roots import bracketed_root

SMALLEST = 1e-17
"""Terms below this share of the sum no longer change it."""
MOST_TERMS = 100_000
CLOSENESS = 1e-13
"""Of the root, in standard deviations."""


def gamma_quantile(form: float, share_below: float, share_above: float) -> float:
    """Value that a gamma variable of unit scale passes with a given chance.

    Both shares are given, so that the smaller keeps its digits.
    """
    upper = share_above < share_below
    target = share_above if upper else share_below
    # A gamma variable falls short of its mean no further than a normal one of the same variance,
    # and exceeds it by no more than that and the logarithm of the chance.
    below, above = -math.log(share_below), -math.log(share_above)
    low = max(form - math.sqrt(2.0 * form * below), 0.0)
    high = form + math.sqrt(2.0 * form * above) + above
    tolerance = CLOSENESS * math.sqrt(form)
    return bracketed_root(_surplus, low, high, (form, target, upper), tolerance)


def _surplus(value: float, form: float, target: float, upper: bool) -> float:
    """Tail beyond a value less the wanted one, falling for both tails."""
    tail = _tail(form, value, upper)
    return tail - target if upper else target - tail


def _tail(form: float, value: float, upper: bool) -> float:
    """Share above a value, or below it: by series below the mean, by fraction above it."""
    if value <= 0.0:
        return 1.0 if upper else 0.0
    density = math.exp(form * math.log(value) - value - math.lgamma(form + 1.0))
    if value < form + 1.0:
        below = density * _series(form, value)
        return 1.0 - below if upper else below
    above = density * form * _fraction(form, value)
    return above if upper else 1.0 - above


def _series(form: float, value: float) -> float:
    """Sum of x^n / ((a + 1) ... (a + n)), from n = 0."""
    term = total = 1.0
    for number in range(1, MOST_TERMS):
        term *= value / (form + number)
        total += term
        if term < SMALLEST * total:
            break
    return total


def _fraction(form: float, value: float) -> float:
    """Continued fraction of the upper tail, from its front (modified Lentz)."""
    b = value + 1.0 - form
    c, d = math.inf, 1.0 / b
    total = d
    for number in range(1, MOST_TERMS):
        a = -number * (number - form)
        b += 2.0
        d = 1.0 / (a * d + b)
        c = b + a / c
        total *= c * d
        if abs(c * d - 1.0) < 1e-16:
            break
    return total
