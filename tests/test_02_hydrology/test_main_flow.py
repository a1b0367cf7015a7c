# SPDX-License-Identifier: Apache-2.0
"""Capacity of a main in segments, where it floods, and how much of the area it brings."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import ACRE, CFS, FOOT, INCH
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.hydraulics.grade_lines import MainSegment, grade_line_level, segments_from
from tilewater.hydraulics.pipes import pipe_flow_full_manning
from tilewater.hydrology.drain_flow import main_flow_surcharged_boards, main_flow_surcharged_free
from tilewater.hydrology.main_flow import (
    area_apart,
    area_at_diversion,
    area_below,
    flow_share,
    limiting_segment,
    main_flow_full,
    main_flow_to_ground_boards,
    main_flow_to_ground_free,
    place_of_least,
    segment_flow_full,
)

LEVEL = 1e-5  # m, of a level at a flow that was searched to 1e-9 m3/s


def uniform(size: float, grade: float, length: float, parts: int) -> tuple[MainSegment, ...]:
    """One grade and size, surveyed in so many segments from station and elevation 0."""
    step = length / parts
    return tuple(
        MainSegment(
            f"s{i}", i * step, (i + 1) * step, grade * i * step, grade * (i + 1) * step, size, 0.013
        )
        for i in range(parts)
    )


mains = st.builds(
    uniform,
    size=st.floats(0.1, 0.6),
    grade=st.floats(0.0005, 0.005),
    length=st.floats(50, 900),
    parts=st.integers(1, 4),
)


@pytest.mark.law(of=(main_flow_to_ground_free, main_flow_surcharged_free))
@given(line=mains, cover=st.floats(0.3, 2.5), at=st.floats(0.05, 1))
def test_segments_of_a_uniform_main_flood_where_the_closed_form_says_boards_out(line, cover, at):
    size, station = line[0].diameter, at * line[-1].station_up
    ground = line[0].slope * station + size + cover
    expected = main_flow_surcharged_free(ground, station, size, size, 0.013)
    found = main_flow_to_ground_free(ground, station, size, line)
    assert found == pytest.approx(expected, rel=1e-5, abs=1e-8)


@pytest.mark.law(of=(main_flow_to_ground_boards, main_flow_surcharged_boards))
@given(line=mains, over=st.floats(0.05, 1), room=st.floats(0.05, 2), at=st.floats(0.05, 1))
def test_segments_of_a_uniform_main_flood_where_the_closed_form_says_boards_in(
    line, over, room, at
):
    """The crest stands over the crown as far up as the spot, so that the main is full to there."""
    size, station = line[0].diameter, at * line[-1].station_up
    crest = line[0].slope * station + size + over
    boards = board_set_sharp_francis(crest, sill=0.0, crest_width=0.36)
    expected = main_flow_surcharged_boards(crest + room, station, crest, 0.36, size, 0.013)
    found = main_flow_to_ground_boards(crest + room, station, boards, line)
    assert found == pytest.approx(expected, rel=1e-5, abs=1e-8)


@pytest.mark.law(of=(main_flow_to_ground_free,))
@given(line=mains, cover=st.floats(0.3, 2.5), at=st.floats(0.05, 1), narrow=st.floats(0.6, 1))
def test_a_narrower_segment_never_lets_more_water_pass(line, cover, at, narrow):
    station = at * line[-1].station_up
    ground = line[0].slope * station + line[0].diameter + cover
    pinched = (replace(line[0], diameter=narrow * line[0].diameter), *line[1:])
    wide = main_flow_to_ground_free(ground, station, line[0].diameter, line)
    found = main_flow_to_ground_free(ground, station, line[0].diameter, pinched)
    assert found <= wide + 1e-8
    level = grade_line_level(found, line[0].diameter, pinched, station)
    assert level == pytest.approx(ground, abs=LEVEL)


@pytest.mark.by_hand(of=(main_flow_full, limiting_segment, segment_flow_full))
def test_the_least_segment_limits_the_main():
    """10 in at 0.18 % carries 0.930 cfs; 12 in at 0.05 % carries 0.797, by its ratio."""
    upper = MainSegment("upper", 300.0, 400.0, 0.3, 0.48, 10 * INCH, 0.013)
    lower = MainSegment("lower", 100.0, 300.0, 0.2, 0.3, 12 * INCH, 0.013)
    by_ratio = 0.930 * (12 / 10) ** (8 / 3) * (0.0005 / 0.0018) ** 0.5
    assert printed("0.797") == by_ratio
    assert printed("0.930") == main_flow_full((upper,)) / CFS
    assert printed("0.797") == main_flow_full((lower, upper)) / CFS
    assert limiting_segment((lower, upper)) == "lower"
    above = segments_from((lower, upper), 310.0)
    assert main_flow_full(above) == pytest.approx(main_flow_full((upper,)))


@pytest.mark.by_hand(of=(main_flow_full, flow_share, area_below))
def test_a_segment_that_drains_half_the_area_allows_twice_its_own_flow():
    six = MainSegment("six", 300.0, 400.0, 0.3, 0.48, 6 * INCH, 0.013)
    own = pipe_flow_full_manning(6 * INCH, 0.0018, n=0.013)
    assert main_flow_full((replace(six, flow_share=flow_share(31.0, 62.0)),)) == 2 * own
    below = area_below(62.0, east=12.4)
    assert main_flow_full((replace(six, flow_share=flow_share(below, 62.0)),)) == pytest.approx(
        own / 1.2
    )
    with pytest.raises(OutOfDomain, match="area_above is 0"):
        flow_share(1.0, 0.0)


@pytest.mark.works(of=(main_flow_full, segment_flow_full))
def test_a_segment_that_falls_the_wrong_way_carries_only_under_pressure():
    back = MainSegment("back", 0.0, 100.0, 0.1, 0.0, 0.25, 0.013)
    good = MainSegment("good", 100.0, 200.0, 0.0, 0.2, 0.25, 0.013)
    assert segment_flow_full(0.25, back.slope, 0.013) == 0.0
    assert main_flow_full((back, good)) == main_flow_full((good,))
    with pytest.raises(NoSolution, match=r"No segment of the main has fall \(back\)"):
        main_flow_full((back,))


@pytest.mark.works(of=(main_flow_to_ground_free, main_flow_to_ground_boards, place_of_least))
def test_ground_under_resting_water_floods_at_no_flow():
    (one,) = uniform(0.25, 0.002, 100.0, 1)
    boards = board_set_sharp_francis(1.0, sill=0.0, crest_width=0.36)
    assert main_flow_to_ground_free(0.4, 50.0, 0.5, (one,)) == 0.0
    assert main_flow_to_ground_boards(0.9, 50.0, boards, (one,)) == 0.0
    with pytest.raises(OutOfDomain, match="the main is known from"):
        main_flow_to_ground_free(2.0, 500.0, 0.25, (one,))
    with pytest.raises(NoSolution, match="No flow brings water"):
        main_flow_to_ground_free(1e12, 50.0, 0.25, (one,))
    assert place_of_least(low_1=2.0, junction_9=1.5) == "junction-9"


@pytest.mark.by_hand(of=(area_at_diversion, area_apart))
def test_what_joins_below_is_not_seen_by_the_practice():
    east = area_apart(12 * ACRE, "below the diversion")
    west = area_apart(8 * ACRE, "above the diversion")
    own = area_apart(5 * ACRE, "same outlet, own main")
    assert (east, west, own) == (12 * ACRE, 0.0, 5 * ACRE)
    above = area_at_diversion(62 * ACRE, east=east, west=west, own=own)
    assert above / ACRE == pytest.approx(62 - 12 - 5)
    assert area_at_diversion(62 * ACRE) == 62 * ACRE
    with pytest.raises(OutOfDomain, match=r"parts of drainage\.area"):
        area_at_diversion(10.0, east=10.0)


@pytest.mark.by_hand(of=(main_flow_to_ground_free,))
def test_a_narrow_stretch_floods_the_spot_above_it():
    """100 ft of 6 in under 500 ft of 10 in, full, n 0.013; ground 5 ft over the crown. US units."""
    six = MainSegment("six", 0.0, 100 * FOOT, 0.0, 0.2 * FOOT, 6 * INCH, 0.013)
    ten = MainSegment("ten", 100 * FOOT, 600 * FOOT, 0.2 * FOOT, 1.2 * FOOT, 10 * INCH, 0.013)

    def carries(inches: float) -> float:
        """Flow at a slope of one."""
        size = inches / 12
        return 1.486 / 0.013 * math.pi * size**2 / 4 * (size / 4) ** (2 / 3)

    flow = ((5 + 0.5 - 0.5) / (100 / carries(6) ** 2 + 500 / carries(10) ** 2)) ** 0.5
    found = main_flow_to_ground_free(5.5 * FOOT, 600 * FOOT, 0.5 * FOOT, (six, ten))
    assert found / CFS == pytest.approx(flow, rel=1e-3)
