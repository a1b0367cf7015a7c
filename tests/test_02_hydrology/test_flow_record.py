# SPDX-License-Identifier: Apache-2.0
"""What a record of daily flow says, on records small enough to do by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.flow_record import (
    capacity_for_share,
    flow_days_per_year,
    mean_annual_depth,
    peak_daily_depth,
    share_within_capacity,
)

MM_DAY = 0.001 / 86400
RECORD = np.array([0.0, 1.0, 2.0, 5.0]) * MM_DAY
records = arrays(np.float64, st.integers(1, 60), elements=st.floats(0, 30)).map(
    lambda days: days * MM_DAY
)


@pytest.mark.by_hand(
    of=(peak_daily_depth, mean_annual_depth, flow_days_per_year, share_within_capacity)
)
def test_four_days_by_hand():
    assert peak_daily_depth(RECORD) == 5 * MM_DAY
    assert mean_annual_depth(RECORD) == pytest.approx((0 + 1 + 2 + 5) / 4 * 365.25 / 1000)
    assert flow_days_per_year(RECORD) == 365.25 * 3 / 4
    # within 1.5 mm a day: 0 + 1 + 1.5 + 1.5 of 8
    assert share_within_capacity(RECORD, 1e5, 1.5 * MM_DAY * 1e5) == pytest.approx(4 / 8)


@pytest.mark.by_hand(of=(capacity_for_share,))
def test_capacity_for_a_share_of_four_days():
    # 6 of 8 mm: 0 + 1 + 2 + c = 6 gives c = 3
    assert capacity_for_share(RECORD, 1e5, 6 / 8) == pytest.approx(3 * MM_DAY * 1e5)
    assert capacity_for_share(RECORD, 1e5, 1.0) == pytest.approx(5 * MM_DAY * 1e5)
    assert capacity_for_share(RECORD, 1e5, 0.0) == 0


@pytest.mark.law(of=(capacity_for_share, share_within_capacity))
@given(record=records, share=st.floats(0.01, 1))
def test_capacity_and_share_undo_each_other(record, share):
    if record.sum() <= 0:
        with pytest.raises(OutOfDomain, match="holds no flow at all"):
            share_within_capacity(record, 1e5, 0.1)
        return
    capacity = capacity_for_share(record, 1e5, share)
    assert share_within_capacity(record, 1e5, capacity) == pytest.approx(share, abs=1e-9)


@pytest.mark.law(of=(share_within_capacity,))
@given(record=records, low=st.floats(0, 0.05), more=st.floats(0, 0.05), area=st.floats(1e3, 1e6))
def test_more_capacity_never_catches_less_and_never_more_than_all(record, low, more, area):
    if record.sum() > 0:
        small = share_within_capacity(record, area, low)
        large = share_within_capacity(record, area, low + more)
        assert 0 <= small <= large + 1e-12
        assert large <= 1 + 1e-12
        half = share_within_capacity(record, area / 2, low / 2)
        assert half == pytest.approx(small, abs=1e-12)
    else:
        assert peak_daily_depth(record) == 0


@pytest.mark.works(of=(peak_daily_depth, mean_annual_depth, flow_days_per_year, capacity_for_share))
def test_an_empty_record_is_refused():
    for function in (peak_daily_depth, mean_annual_depth, flow_days_per_year):
        with pytest.raises(OutOfDomain, match="holds no day with a value"):
            function(np.array([]))
    with pytest.raises(OutOfDomain, match="Check the columns"):
        capacity_for_share(np.array([]), 1e5, 0.6)
