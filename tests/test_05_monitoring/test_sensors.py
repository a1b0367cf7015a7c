# SPDX-License-Identifier: Apache-2.0
"""Depth from pressure, drift from readings by hand, and marks of readings that are no water."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.monitoring.sensors import (
    between_times,
    drift_of_checks,
    may_be_ice,
    months_of,
    spikes,
    stands_still,
    water_over_sensor,
)

QUARTER = 900.0
DAY = 86400.0
FIRST_OF_JUNE = 1843430400.0  # 2028-06-01
FIRST_OF_FEBRUARY = 1832976000.0  # 2028-02-01


@pytest.mark.by_hand(of=(water_over_sensor,))
def test_a_metre_of_water_is_its_weight():
    pressure = np.array([101325.0 + 1000.0 * 9.80665])
    assert water_over_sensor(pressure, 101325.0) == pytest.approx(1.0, rel=1e-12)
    warm = water_over_sensor(pressure, 101325.0, np.array([25.0]))
    assert printed("1.0030") == warm[0]  # 1000 / 997.05
    cold = water_over_sensor(pressure, 101325.0, np.array([10.0]))
    assert printed("1.0003") == cold[0]  # 1000 / 999.70


@pytest.mark.by_hand(of=(between_times,))
def test_another_logger_is_read_straight_between_its_readings():
    time = np.array([-1.0, 0.0, 5.0, 10.0, 15.0, 20.0, 21.0])
    found = between_times(
        time, np.array([0.0, 10.0, 20.0]), np.array([1.0, 3.0, 7.0]), longest_span=10.0
    )
    assert np.array_equal(found, [np.nan, 1.0, 2.0, 3.0, 5.0, 7.0, np.nan], equal_nan=True)
    wide = between_times(time, np.array([0.0, 20.0]), np.array([1.0, 7.0]), longest_span=10.0)
    assert np.array_equal(wide, [np.nan, 1.0, np.nan, np.nan, np.nan, 7.0, np.nan], equal_nan=True)
    with pytest.raises(OutOfDomain, match="The other logger has 0 readings"):
        between_times(time, np.array([0.0]), np.array([np.nan]), longest_span=10.0)


@pytest.mark.by_hand(of=(drift_of_checks,))
def test_drift_runs_straight_from_check_to_check():
    time = np.array([0.0, 10.0, 20.0, 30.0, 40.0])
    added = drift_of_checks(time, np.array([10.0, 30.0]), np.array([0.02, 0.06]))
    assert added == pytest.approx([0.02, 0.02, 0.04, 0.06, 0.06])
    with pytest.raises(OutOfDomain):
        drift_of_checks(time, np.array([30.0, 10.0]), np.array([0.0, 0.0]))


@pytest.mark.law(of=(drift_of_checks,))
@given(
    offset=st.floats(-1, 1),
    drift=st.floats(-0.1, 0.1),
    shape=st.lists(st.floats(0, 2), min_size=2, max_size=50),
)
def test_a_straight_drift_is_taken_out_whole(offset: float, drift: float, shape: list[float]):
    time = np.arange(len(shape), dtype=float)
    true = np.array(shape)
    shown = true - offset - drift * time
    ends = np.array([0, len(shape) - 1])
    added = drift_of_checks(time, time[ends], (true - shown)[ends])
    assert shown + added == pytest.approx(true, abs=1e-9)


@pytest.mark.practice(of=(stands_still, may_be_ice, months_of))
def test_water_that_stands_still_for_two_days_is_ice_in_winter_and_doubted_in_summer():
    for start, is_winter in ((FIRST_OF_JUNE, False), (FIRST_OF_FEBRUARY, True)):
        time = start + np.arange(0, 5 * DAY, QUARTER)
        depth = 0.5 + 0.01 * np.sin(np.arange(time.size) / 7)
        depth[100:300] = 0.5  # 50 hours
        depth[320:400] = 0.4  # 20 hours
        still = stands_still(time, depth)
        assert still[100:300].all()
        assert not still[310:].any()
        assert may_be_ice(time, still, None).any() == is_winter
    assert months_of(np.array([FIRST_OF_JUNE, FIRST_OF_FEBRUARY])).tolist() == [6, 2]


@pytest.mark.practice(of=(may_be_ice,))
def test_ice_is_told_by_the_temperature_where_there_is_one():
    time = FIRST_OF_FEBRUARY + np.arange(4) * QUARTER
    warm = np.array([1.0, 0.0, -0.5, np.nan])
    still = np.array([True, False, False, True])
    assert may_be_ice(time, still, warm).tolist() == [False, True, True, True]


@pytest.mark.practice(of=(spikes,))
def test_a_spike_is_off_both_neighbours_and_a_flood_is_none():
    depth = np.array([0.5, 0.5, 1.2, 0.51, 0.5, 0.2, 0.5, 0.7, 0.9, 1.1, 1.3, 1.3])
    assert np.flatnonzero(spikes(depth)).tolist() == [2, 5]
    assert not spikes(np.array([0.1, 0.9])).any()


@pytest.mark.law(of=(spikes, stands_still))
@given(depth=st.lists(st.one_of(st.floats(-5, 5), st.just(float("nan"))), max_size=60))
def test_marks_are_as_many_as_readings(depth: list[float]):
    values = np.array(depth)
    time = np.arange(values.size) * QUARTER
    assert spikes(values).size == stands_still(time, values).size == values.size
