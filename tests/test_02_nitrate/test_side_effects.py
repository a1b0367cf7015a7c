# SPDX-License-Identifier: Apache-2.0
"""Days with nitrate used up, sulfide, and the nitrous oxide of published beds."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.nitrate.side_effects import (
    days_in_a_year,
    days_of_sulfide,
    days_used_up,
    nitrous_oxide,
    nitrous_oxide_share,
)


@pytest.mark.by_hand(of=(days_used_up, days_of_sulfide, days_in_a_year))
def test_days_are_counted():
    """Days: still; 0.2 mg/L in 1 day; 0.2 mg/L in 2 days; 5 mg/L in 2 days."""
    flow = np.array([0.0, 0.001, 0.001, 0.001])
    outlet = np.array([0.0, 0.2, 0.2, 5.0])
    used = days_used_up(flow, outlet, 0.5)
    assert used.tolist() == [False, True, True, False]
    sulfide = days_of_sulfide(used, np.array([0.0, 1.0, 2.0, 2.0]), 1.7 * 86400)
    assert sulfide.tolist() == [False, False, True, False]
    assert days_in_a_year(used) == 365.25 / 2
    with pytest.raises(OutOfDomain, match="At least one"):
        days_in_a_year(np.zeros(0, dtype=bool))


@pytest.mark.by_hand(of=(nitrous_oxide_share,))
def test_share_of_pilot_beds_is_the_arithmetic_of_two_abstracts():
    """478, 30 and 37 mg of N2O per m3 and day: 28/44 of it is N; 9.0 and 7.4 g of N removed."""
    at_two = 478 * 28 / 44 / 1000 / 9.0
    at_sixteen = 37 * 28 / 44 / 1000 / 7.4
    assert printed("0.034") == at_two
    assert printed("0.0032") == at_sixteen
    low, high = (nitrous_oxide_share(np.array([2.0, 16.0]), place) for place in ("low", "high"))
    assert low[0] < at_two < high[0]
    assert low[1] < at_sixteen < high[1]


@pytest.mark.published("brunton2024", "abstract, five full-size beds", of=(nitrous_oxide_share,))
def test_full_size_beds_give_half_a_percent():
    assert printed("0.005") == float(nitrous_oxide_share(np.array([8.0]), "mid")[0])


@pytest.mark.law(of=(nitrous_oxide_share, nitrous_oxide))
@given(st.floats(0.1, 100.0), st.floats(0.0, 50.0))
def test_longer_water_makes_no_more_and_places_keep_their_order(hours: float, removed: float):
    low, mid, high = (
        float(nitrous_oxide_share(np.array([hours]), p)[0]) for p in ("low", "mid", "high")
    )
    assert 0 < low < mid < high < 1
    assert float(nitrous_oxide_share(np.array([hours + 1]), "mid")[0]) <= mid
    year = nitrous_oxide(np.full(4, removed), np.full(4, hours / 24), "mid")
    assert year == pytest.approx(365.25 * removed * mid)
    with pytest.raises(OutOfDomain, match="low, mid or high"):
        nitrous_oxide_share(np.array([hours]), "middle")
