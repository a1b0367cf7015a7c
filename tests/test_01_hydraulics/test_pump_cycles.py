# SPDX-License-Identifier: Apache-2.0
"""The cycle of a pump in its sump, and what a run of it brings. US units where said."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import FOOT
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.pump_cycles import (
    pulse_past_bed,
    pulse_volume,
    pump_rest_time,
    pump_run_time,
    pump_starts_most_per_hour,
    pump_starts_per_hour,
    room_in_media,
    sump_volume,
)

GPM = 3.785411784e-3 / 60


@pytest.mark.by_hand(of=(sump_volume, pump_run_time, pump_rest_time, pulse_volume))
def test_a_cycle_by_hand():
    """28 ft2 of sump, 2 ft between the floats, 450 gpm, 150 gpm of inflow."""
    volume = sump_volume(28 * FOOT**2, 1176.5 * FOOT, 1174.5 * FOOT)
    assert volume / FOOT**3 == pytest.approx(56)
    gallons = 56 * 7.48052
    run, rest = gallons / (450 - 150), gallons / 150
    assert printed("1.40") == run
    assert pump_run_time(volume, 450 * GPM, 150 * GPM) / 60 == pytest.approx(run, rel=1e-5)
    assert pump_rest_time(volume, 150 * GPM) / 60 == pytest.approx(rest, rel=1e-5)
    starts = pump_starts_per_hour(volume, 450 * GPM, 150 * GPM)
    assert starts == pytest.approx(60 / (run + rest), rel=1e-5)
    sent = pulse_volume(run * 60, 450 * GPM) / (7.48052 * FOOT**3)
    assert sent == pytest.approx(56 * 450 / 300 / 7.48052, rel=1e-4)


@pytest.mark.law(of=(pump_starts_per_hour, pump_starts_most_per_hour))
@given(volume=st.floats(0.1, 100), capacity=st.floats(0.001, 1), share=st.floats(0, 1.2))
def test_no_inflow_starts_a_pump_more_often_than_half_its_capacity(volume, capacity, share):
    starts = pump_starts_per_hour(volume, capacity, share * capacity)
    assert 0 <= starts <= pump_starts_most_per_hour(volume, capacity) * (1 + 1e-12)


@pytest.mark.practice(of=(pump_starts_most_per_hour,))
def test_a_sump_for_ten_starts_holds_a_quarter_of_six_minutes_of_the_pump():
    """V = T Q / 4, from memory."""
    assert pump_starts_most_per_hour(360 * 0.03 / 4, 0.03) == pytest.approx(10)


@pytest.mark.law(of=(pump_run_time, pulse_volume))
@given(volume=st.floats(0.1, 100), capacity=st.floats(0.001, 1), share=st.floats(0, 0.99))
def test_what_a_run_sends_is_the_sump_and_what_came_meanwhile(volume, capacity, share):
    run = pump_run_time(volume, capacity, share * capacity)
    assert pulse_volume(run, capacity) == pytest.approx(volume + share * capacity * run)


@pytest.mark.by_hand(of=(pulse_past_bed, room_in_media))
def test_what_a_run_sends_past_the_bed():
    assert pulse_past_bed(60.0, 600.0, 0.02, 30.0) == pytest.approx(60 - 12 - 30)
    assert pulse_past_bed(40.0, 600.0, 0.02, 30.0) == 0.0
    assert pulse_past_bed(math.inf, math.inf, 0.02, 30.0) == math.inf
    # floor 9 by 30, sides 1:1, 0.5 deep at rest: 30 (4.5 + 0.25) = 142.5
    shape = {"length": 30.0, "width": 9.0, "side_slope": 1.0}
    assert room_in_media(242.5, 0.5, 0.45, **shape) == pytest.approx(45)
    assert room_in_media(100.0, 0.5, 0.45, **shape) == 0.0


@pytest.mark.works(of=(sump_volume, pump_run_time, pump_rest_time, pump_starts_per_hour))
def test_a_pump_that_cannot_keep_up_runs_on_and_one_without_water_rests():
    assert pump_run_time(1.0, 0.02, 0.02) == math.inf
    assert pump_rest_time(1.0, 0.0) == math.inf
    assert pump_starts_per_hour(1.0, 0.02, 0.03) == 0.0
    with pytest.raises(OutOfDomain, match="Check the two floats"):
        sump_volume(2.0, 100.0, 100.5)
    with pytest.raises(OutOfDomain, match="Time the sump"):
        pump_run_time(1.0, 0.0, 0.01)
