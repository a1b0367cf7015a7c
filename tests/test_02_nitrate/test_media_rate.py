# SPDX-License-Identifier: Apache-2.0
"""A rate carried to another age of the chips and to abounding nitrate."""

import math

import numpy as np
import pytest

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.nitrate.kinetics import outlet_nitrate_tanks
from tilewater.nitrate.media_rate import rate_at_age, rate_where_nitrate_abounds

DEFAULTS = {"flush": 1.2, "flush_years": 0.5, "decline_per_year": 0.015}


@pytest.mark.by_hand(of=(rate_at_age,))
def test_flush_fades_and_chips_decline() -> None:
    assert 6 * (1 + 1.2) == pytest.approx(rate_at_age(6.0, 0.0, **DEFAULTS), rel=1e-12)
    assert 6 * (1 + 1.2 * math.exp(-2)) * 0.985 == pytest.approx(
        rate_at_age(6.0, 1.0, **DEFAULTS), rel=1e-12
    )
    assert 6 * 0.985**20 == pytest.approx(rate_at_age(6.0, 20.0, **DEFAULTS), rel=1e-12)


@pytest.mark.by_hand(of=(rate_at_age,))
def test_seven_years_by_the_defaults_as_the_notes_say() -> None:
    new, two, seven = rate_at_age(1.0, np.array([0.0, 2.0, 7.0]), **DEFAULTS)

    assert printed("0.41") == seven / new
    assert printed("0.91") == seven / two


@pytest.mark.by_hand(of=(rate_where_nitrate_abounds,))
@pytest.mark.parametrize("half", [0.0, 2.5, 7.2])
def test_largest_rate_gives_back_the_rate_that_was_seen(half: float) -> None:
    most = rate_where_nitrate_abounds(6.0, nitrate_mg_per_l=10.0, half_saturation_mg_per_l=half)

    assert most * 10 / (half + 10) == pytest.approx(6.0, rel=1e-12)


@pytest.mark.law(of=(rate_where_nitrate_abounds,))
def test_a_short_stay_removes_what_the_seen_rate_says_whatever_the_half_saturation() -> None:
    for Km in (0.1, 2.5, 8.0):
        most = rate_where_nitrate_abounds(6.0, nitrate_mg_per_l=10.0, half_saturation_mg_per_l=Km)
        left = outlet_nitrate_tanks(
            10.0, 1e-4, max_rate_mg_per_l_day=most, half_saturation_mg_per_l=Km, tanks=1
        )
        assert (10.0 - left) / 1e-4 == pytest.approx(6.0, rel=1e-3)


@pytest.mark.works(of=(rate_at_age, rate_where_nitrate_abounds))
def test_what_has_no_meaning_is_refused() -> None:
    with pytest.raises(OutOfDomain, match=r"years is -1 years. It cannot be negative."):
        rate_at_age(6.0, -1.0, **DEFAULTS)
    with pytest.raises(OutOfDomain, match=r"nitrate_mg_per_l is 0 mg/L. It must be above zero."):
        rate_where_nitrate_abounds(6.0, nitrate_mg_per_l=0.0, half_saturation_mg_per_l=2.5)
