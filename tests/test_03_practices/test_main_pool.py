# SPDX-License-Identifier: Apache-2.0
"""Raised water in a main of segments, against the forms for a uniform main."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.grade_lines import MainSegment, grade_line_level
from tilewater.hydraulics.pipes import pipe_slope_for_flow_full_manning
from tilewater.practices.main_pool import (
    crest_for_midway_segments,
    crest_for_storm_segments,
    pool_reach_segments,
    storm_rise_segments,
)
from tilewater.practices.wetness import (
    Laterals,
    crest_for_midway,
    crest_for_storm,
    midway_clear_soil,
    pool_reach,
    storm_rise,
)

LATERALS = Laterals(18.0, 0.8, 9e-6, 9e-6)
FLUX = 1e-7
uniform = st.builds(
    lambda size, grade, length: (
        MainSegment("a", 0.0, length / 2, 0.0, grade * length / 2, size, 0.013),
        MainSegment("b", length / 2, length, grade * length / 2, grade * length, size, 0.013),
    ),
    size=st.floats(0.15, 0.4),
    grade=st.floats(0.0008, 0.004),
    length=st.floats(80, 400),
)


@pytest.mark.law(of=(storm_rise_segments, storm_rise))
@given(line=uniform, flow=st.floats(0.005, 0.1), head=st.floats(0.02, 0.2), at=st.floats(0, 1))
def test_a_drowned_uniform_main_rises_as_the_closed_form_says(line, flow, head, at):
    size, station = line[0].diameter, at * line[-1].station_up
    crest = line[-1].invert_up + size
    slope = pipe_slope_for_flow_full_manning(flow, size, n=0.013)
    expected = storm_rise(head, slope, station)
    assert storm_rise_segments(crest, head, flow, station, line) == pytest.approx(expected)


@pytest.mark.law(of=(crest_for_storm_segments, crest_for_midway_segments))
@given(line=uniform, flow=st.floats(0.005, 0.1), head=st.floats(0.02, 0.2), deep=st.floats(1, 3))
def test_highest_crests_of_a_drowned_uniform_main_are_those_of_the_closed_form(
    line, flow, head, deep
):
    size, station = line[0].diameter, line[-1].station_up
    slope = pipe_slope_for_flow_full_manning(flow, size, n=0.013)
    rise = storm_rise(head, slope, station)
    ground = line[-1].invert_up + size + rise + deep + 1.0
    expected = crest_for_storm(ground, 0.4, rise)
    found = crest_for_storm_segments(ground, 0.4, head, flow, station, line)
    assert found == pytest.approx(expected, abs=1e-7)
    midway = crest_for_midway(ground, 0.3, ground - 1.2, rise, FLUX, LATERALS)
    place = {"head": head, "flow": flow, "station": station, "segments": line}
    found = crest_for_midway_segments(ground, 0.3, ground - 1.2, FLUX, LATERALS, **place)
    if math.isinf(midway) or midway > line[-1].invert_up + size:
        assert found == pytest.approx(midway, abs=1e-7)


@pytest.mark.law(of=(crest_for_storm_segments, crest_for_midway_segments, storm_rise_segments))
@given(
    line=uniform, flow=st.floats(0.001, 0.1), head=st.floats(0.02, 0.2), ground=st.floats(0.5, 4)
)
def test_water_at_the_highest_crest_just_keeps_the_limit(line, flow, head, ground):
    station = line[-1].station_up
    crest = crest_for_storm_segments(ground, 0.4, head, flow, station, line)
    if crest > -math.inf:
        level = crest + storm_rise_segments(crest, head, flow, station, line)
        assert ground - level == pytest.approx(0.4, abs=1e-6)
    place = {"head": head, "flow": flow, "station": station, "segments": line}
    crest = crest_for_midway_segments(ground, 0.3, ground - 1.2, FLUX, LATERALS, **place)
    if crest > -math.inf:
        level = crest + storm_rise_segments(crest, head, flow, station, line)
        left = midway_clear_soil(ground, level, ground - 1.2, FLUX, LATERALS)
        assert left == pytest.approx(0.3, abs=1e-5)


@pytest.mark.works(of=(crest_for_storm_segments,))
def test_no_crest_helps_where_the_main_itself_fills_to_the_limit():
    (line,) = (MainSegment("a", 0.0, 100.0, 0.0, 0.2, 0.15, 0.013),)
    high = grade_line_level(0.1, -5.0, (line,), 100.0)
    assert crest_for_storm_segments(high, 0.1, 0.1, 0.1, 100.0, (line,)) == -math.inf


@pytest.mark.by_hand(of=(pool_reach_segments, pool_reach))
def test_pool_on_two_grades_by_hand():
    lower = MainSegment("a", 40.0, 140.0, 10.0, 10.2, 0.25, 0.013)
    upper = MainSegment("b", 140.0, 240.0, 10.2, 10.3, 0.25, 0.013)
    line = (lower, upper)
    assert pool_reach_segments(10.1, line) == pytest.approx(50)
    assert pool_reach_segments(10.25, line) == pytest.approx(100 + 50)
    assert pool_reach_segments(10.4, line) == pytest.approx(200 + 100)  # carried on at 0.1 %
    assert pool_reach_segments(9.9, line) == 0.0
    assert pool_reach_segments(10.1, (lower,)) == pytest.approx(pool_reach(10.1, 10.0, 0.002))
    flat = MainSegment("b", 140.0, 240.0, 10.2, 10.2, 0.25, 0.013)
    with pytest.raises(OutOfDomain, match="Survey the main farther up"):
        pool_reach_segments(10.4, (lower, flat))
