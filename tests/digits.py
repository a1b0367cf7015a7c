# SPDX-License-Identifier: Apache-2.0
"""Comparison with digits as a source prints them.

A printed number stands for every value that rounds to it, so its own last digit is the tolerance.
Any other tolerance is a named constant in the test that needs it, with its reason.
"""

import math
from decimal import Decimal

# Decimal fractions have no exact binary form; this only lets a value at the very half through.
HALF_DIGIT_GRACE = 1e-9


class Printed:
    """A number as printed; equal to every value within half of its last digit."""

    __array_ufunc__ = None  # numpy scalars on the other side leave the comparison to us
    __hash__ = None  # type: ignore[assignment]  # equality is not transitive

    def __init__(self, digits: str) -> None:
        number = Decimal(digits.replace(",", ""))
        exponent = number.as_tuple().exponent
        if not isinstance(exponent, int):
            raise ValueError(f"'{digits}' is not a finite number. Copy the digits as printed.")
        self.digits = digits
        self.value = float(number)
        self.half_digit = 0.5 * 10.0**exponent

    def __eq__(self, other: object) -> bool:
        distance = abs(float(other) - self.value)  # type: ignore[arg-type]
        return distance <= self.half_digit * (1 + HALF_DIGIT_GRACE) and not math.isnan(distance)

    def __repr__(self) -> str:
        low, high = self.value - self.half_digit, self.value + self.half_digit
        return f"printed {self.digits} ({low:.10g} to {high:.10g})"


def printed(digits: str) -> Printed:
    """Return the printed number `digits`, to stand on the left: `printed("0.155") == value`.

    A number rounded to hundreds is written with its exponent: `printed("12e2")` is 1150 to 1250.
    """
    return Printed(digits)
