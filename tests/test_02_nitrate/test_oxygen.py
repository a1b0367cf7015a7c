# SPDX-License-Identifier: Apache-2.0
"""Oxygen before nitrate."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.nitrate.oxygen import oxic_time_days, time_past_oxygen


@pytest.mark.by_hand(of=(oxic_time_days, time_past_oxygen))
def test_oxygen_of_8_falls_to_4_5_at_2_a_day():
    assert (8.0 - 4.5) / 2.0 == oxic_time_days(8.0, uptake_mg_per_l_day=2.0)
    assert 0 == oxic_time_days(4.0, uptake_mg_per_l_day=2.0)
    assert list(time_past_oxygen(np.array([1.0, 3.0]), 1.75)) == [0.0, 1.25]


@pytest.mark.law(of=(time_past_oxygen,))
@given(time=st.floats(0, 1000), oxic=st.floats(0, 1000))
def test_no_time_is_gained(time, oxic):
    assert 0 <= time_past_oxygen(time, oxic) <= time


@pytest.mark.works(of=(oxic_time_days,))
def test_soil_that_takes_no_oxygen_is_refused():
    with pytest.raises(OutOfDomain, match="uptake_mg_per_l_day is 0"):
        oxic_time_days(8.0, uptake_mg_per_l_day=0.0)
