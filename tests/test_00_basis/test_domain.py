# SPDX-License-Identifier: Apache-2.0
"""Refusals say what is wrong, what is allowed and what to do, in one form."""

import math

import numpy as np
import pytest

from tilewater.basis.domain import (
    Number,
    refuse,
    require_finite,
    require_not_negative,
    require_positive,
    require_share,
)
from tilewater.basis.errors import OutOfDomain


@pytest.mark.works(of=(require_positive,))
@pytest.mark.parametrize("value", [0.0, np.array([1.0, 0.0])])
def test_zero_is_not_positive(value: Number) -> None:
    with pytest.raises(OutOfDomain) as refused:
        require_positive("length", value, "m", "Give the length of the bed")

    assert str(refused.value) == (
        "length is 0 m. It must be above zero. Give the length of the bed."
    )


@pytest.mark.works(of=(require_not_negative,))
@pytest.mark.parametrize("value", [-0.12, np.array([0.0, -0.12, 3.0])])
def test_negative_is_refused(value: Number) -> None:
    with pytest.raises(OutOfDomain) as refused:
        require_not_negative("head", value, "m", "Check which of crest and water is the lower")

    assert str(refused.value) == (
        "head is -0.12 m. It cannot be negative. Check which of crest and water is the lower."
    )


@pytest.mark.works(of=(require_share,))
@pytest.mark.parametrize("value", [1.5, np.array([[0.5, 1.5]])])
def test_more_than_all_is_no_share(value: Number) -> None:
    with pytest.raises(OutOfDomain) as refused:
        require_share("porosity", value, "Give 61 percent as 0.61")

    assert str(refused.value) == (
        "porosity is 1.5. A share lies between 0 and 1. Give 61 percent as 0.61."
    )


@pytest.mark.works(of=(require_finite,))
@pytest.mark.parametrize("value", [math.inf, np.array([math.inf])])
def test_infinity_is_refused(value: Number) -> None:
    with pytest.raises(OutOfDomain) as refused:
        require_finite("temperature", value, "degC", "Give the water temperature")

    assert str(refused.value) == (
        "temperature is inf degC. A number is needed. Give the water temperature."
    )


@pytest.mark.works(of=(require_positive, require_not_negative, require_share, require_finite))
@pytest.mark.parametrize("value", [math.nan, np.array([1.0, math.nan])])
def test_what_is_no_number_is_refused(value: Number) -> None:
    for refusal in (
        lambda: require_positive("x", value, "m", "Fill the gap"),
        lambda: require_not_negative("x", value, "m", "Fill the gap"),
        lambda: require_share("x", value, "Fill the gap"),
        lambda: require_finite("x", value, "m", "Fill the gap"),
    ):
        with pytest.raises(OutOfDomain, match="x is nan"):
            refusal()


@pytest.mark.works(of=(require_positive, require_not_negative, require_share, require_finite))
def test_ends_of_what_is_allowed_pass() -> None:
    assert require_positive("x", np.array([1e-300]), "m", "") is None
    assert require_not_negative("x", 0.0, "m", "") is None
    assert require_share("x", np.array([0.0, 1.0]), "") is None
    assert require_finite("x", -1e300, "m", "") is None


@pytest.mark.works(of=(refuse,))
def test_an_array_is_named_in_the_message() -> None:
    assert "[1. 2.] m" in str(refuse("depth", np.array([1.0, 2.0]), "m", "A", "B"))
