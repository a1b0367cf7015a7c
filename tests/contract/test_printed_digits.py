# SPDX-License-Identifier: Apache-2.0
"""The comparison that every published value goes through."""

import math

import numpy as np
import pytest

from tests.digits import printed

pytestmark = pytest.mark.works


@pytest.mark.parametrize("value", [0.1545, 0.155, 0.15549, 0.1555, np.float64(0.1551)])
def test_printed_number_equals_what_rounds_to_it(value: float) -> None:
    assert printed("0.155") == value
    assert value == printed("0.155")


@pytest.mark.parametrize("value", [0.1544, 0.1556, -0.155, math.nan, math.inf])
def test_printed_number_differs_from_the_rest(value: float) -> None:
    assert printed("0.155") != value


@pytest.mark.parametrize(
    ("digits", "low", "high"),
    [
        ("12.65", 12.645, 12.655),
        ("1,234", 1233.5, 1234.5),
        ("12e2", 1150, 1250),
        ("-0.5", -0.55, -0.45),
    ],
)
def test_last_digit_is_the_tolerance(digits: str, low: float, high: float) -> None:
    width = high - low
    assert printed(digits) == low
    assert printed(digits) == high
    assert printed(digits) != low - 0.01 * width
    assert printed(digits) != high + 0.01 * width


def test_words_are_no_printed_number() -> None:
    with pytest.raises(ValueError, match="Copy the digits as printed"):
        printed("nan")


def test_failure_shows_the_interval() -> None:
    assert repr(printed("0.155")) == "printed 0.155 (0.1545 to 0.1555)"
