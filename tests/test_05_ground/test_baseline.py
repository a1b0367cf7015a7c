# SPDX-License-Identifier: Apache-2.0
"""Stations and offsets on the grid, and back; outlines beside the line."""

from math import cos, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.ground.baseline import (
    Baseline,
    baseline_of_legs,
    east_at,
    grid_of_station_offset,
    line_length,
    north_at,
    offset_at,
    station_at,
    station_offset_of_grid,
)
from tilewater.ground.outlines import (
    closed,
    distance_between,
    length_beside,
    nearest_on_line,
    parallel_line,
    rectangle_beside,
    shortest_between,
    side_of,
)

FINE = 1e-6  # m, a coordinate of a million metres in doubles
WAY = st.floats(-500.0, 500.0)
TURN = st.floats(-pi, pi)


def due_east() -> Baseline:
    return baseline_of_legs(1000.0, 2000.0, pi / 2)


@pytest.mark.by_hand(of=(grid_of_station_offset, north_at, east_at))
def test_right_of_a_line_to_the_east_is_south() -> None:
    assert (1000.0 - 3.0, 2000.0 + 40.0) == pytest.approx(
        grid_of_station_offset(due_east(), 40.0, 3.0)
    )
    assert 997.0 == pytest.approx(north_at(due_east(), 40.0, 3.0))
    assert 2040.0 == pytest.approx(east_at(due_east(), 40.0, 3.0))


@pytest.mark.by_hand(of=(baseline_of_legs, grid_of_station_offset))
def test_known_point_need_not_be_the_beginning() -> None:
    line = baseline_of_legs(1000.0, 2000.0, radians(30.0), station=50.0)
    # 40 m on from the known point at 30 degrees: cos 30 = 0.8660254, sin 30 = 0.5
    assert (1000.0 + 40 * 0.8660254, 2000.0 + 40 * 0.5) == pytest.approx(
        grid_of_station_offset(line, 90.0, 0.0), abs=FINE
    )
    assert (1000.0 - 20 * 0.8660254, 2000.0 - 20 * 0.5) == pytest.approx(
        grid_of_station_offset(line, 30.0, 0.0), abs=FINE
    )


@pytest.mark.by_hand(of=(baseline_of_legs, station_offset_of_grid, station_at, offset_at))
def test_line_that_turns_right_by_a_square_corner() -> None:
    line = baseline_of_legs(0.0, 0.0, 0.0, bends=((100.0, pi / 2),))
    assert (100.0, 30.0) == pytest.approx(grid_of_station_offset(line, 130.0, 0.0))
    assert (95.0, 30.0) == pytest.approx(grid_of_station_offset(line, 130.0, 5.0))
    assert (130.0, 5.0) == pytest.approx(station_offset_of_grid(line, 95.0, 30.0))
    # 4 m north and 3 m west of the corner no square reaches the line: 5 m to the corner, left
    assert (100.0, -5.0) == pytest.approx(station_offset_of_grid(line, 104.0, -3.0))
    assert 100.0 == station_at(line, 104.0, -3.0)
    assert pytest.approx(-5.0) == offset_at(line, 104.0, -3.0)


@pytest.mark.law(of=(grid_of_station_offset, station_offset_of_grid))
@given(north=st.floats(-4e6, 4e6), east=st.floats(-4e6, 4e6), azimuth=TURN, at=WAY, off=WAY)
def test_there_and_back_is_the_same_place(
    north: float, east: float, azimuth: float, at: float, off: float
) -> None:
    line = baseline_of_legs(north, east, azimuth)
    back = station_offset_of_grid(line, *grid_of_station_offset(line, at, off))
    assert (at, off) == pytest.approx(back, abs=FINE)


@pytest.mark.law(of=(grid_of_station_offset, station_offset_of_grid))
@given(azimuth=TURN, turn=st.floats(-1.0, 1.0), at=st.floats(20.0, 180.0), off=st.floats(-8, 8))
def test_there_and_back_over_a_bend(azimuth: float, turn: float, at: float, off: float) -> None:
    line = baseline_of_legs(50.0, 60.0, azimuth, bends=((100.0, azimuth + turn),))
    near = abs(off) * abs(sin(turn) / (1 + cos(turn)))  # where squares of both legs cross
    if abs(at - 100.0) <= near + 1e-6:
        return
    back = station_offset_of_grid(line, *grid_of_station_offset(line, at, off))
    assert (at, off) == pytest.approx(back, abs=FINE)


@pytest.mark.law(of=(baseline_of_legs, grid_of_station_offset))
@given(azimuth=TURN, side=st.floats(10.0, 500.0), count=st.integers(3, 12))
def test_regular_traverse_closes(azimuth: float, side: float, count: int) -> None:
    turn = 2 * pi / count
    bends = tuple((side * i, azimuth + turn * i) for i in range(1, count))
    line = baseline_of_legs(4e5, 8e5, azimuth, bends=bends)
    assert (4e5, 8e5) == pytest.approx(grid_of_station_offset(line, side * count, 0.0), abs=FINE)


@pytest.mark.law(of=(grid_of_station_offset,))
@given(azimuth=TURN, a=st.tuples(WAY, WAY), b=st.tuples(WAY, WAY))
def test_distances_are_the_same_on_the_grid(
    azimuth: float, a: tuple[float, float], b: tuple[float, float]
) -> None:
    line = baseline_of_legs(1e6, 2e6, azimuth)
    grid = [grid_of_station_offset(line, *place) for place in (a, b)]
    assert line_length((a, b)) == pytest.approx(line_length(grid), abs=FINE)


@pytest.mark.works(of=(baseline_of_legs,))
def test_bends_lie_up_the_line() -> None:
    with pytest.raises(OutOfDomain, match="List bends up the line"):
        baseline_of_legs(0.0, 0.0, 0.0, bends=((100.0, 0.1), (90.0, 0.2)))
    with pytest.raises(OutOfDomain, match="north is nan m"):
        baseline_of_legs(float("nan"), 0.0, 0.0)


@pytest.mark.by_hand(of=(rectangle_beside, closed))
def test_rectangle_on_either_side_and_turned() -> None:
    assert ((10, 5), (10, 9), (16, 9), (16, 5)) == rectangle_beside(10, 5, 6, 4)
    assert ((10, -5), (10, -9), (16, -9), (16, -5)) == rectangle_beside(10, -5, 6, 4)
    assert ((9, 4), (9, 10), (17, 10), (17, 4)) == rectangle_beside(10, 5, 6, 4, margin=1)
    assert ((9, -4), (9, -10), (17, -10), (17, -4)) == rectangle_beside(10, -5, 6, 4, margin=1)
    # a quarter turn clockwise: up the line becomes to the right, right becomes down the line
    turned = rectangle_beside(10, 5, 6, 4, turn=pi / 2)
    for found, stated in zip(turned, ((10, 5), (6, 5), (6, 11), (10, 11)), strict=True):
        assert stated == pytest.approx(found)
    assert 20.0 == pytest.approx(line_length(closed(turned)))
    with pytest.raises(OutOfDomain, match="length is 6 m with a margin of -3 m"):
        rectangle_beside(10, 5, 6, 4, margin=-3)


@pytest.mark.by_hand(of=(nearest_on_line, shortest_between, distance_between))
def test_shortest_way_between_two_lines() -> None:
    line = ((0.0, 0.0), (0.0, 10.0), (4.0, 13.0))
    assert (0.0, 6.0) == nearest_on_line((5.0, 6.0), line)
    assert (0.0, 0.0) == nearest_on_line((-3.0, -4.0), line)
    box = closed(rectangle_beside(3.0, 2.0, 5.0, 4.0))
    first, second = shortest_between(box, line)
    assert 3.0 == hypot(first[0] - second[0], first[1] - second[1]) == distance_between(box, line)
    assert 0.0 == distance_between(box, ((0.0, 4.0), (9.0, 4.0)))


@pytest.mark.by_hand(of=(parallel_line, side_of))
def test_parallel_line_keeps_its_distance_round_a_corner() -> None:
    line = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0))
    inside = parallel_line(line, 2.0, (3.0, 5.0))
    assert ((0.0, 2.0), (8.0, 2.0), (8.0, 10.0)) == inside
    outside = parallel_line(line, 2.0, (20.0, -5.0))
    assert ((0.0, -2.0), (12.0, -2.0), (12.0, 10.0)) == outside
    assert 3.0 == side_of((4.0, 3.0), line)  # left of the way east
    assert -5.0 == side_of((15.0, 4.0), line)  # right of the way north
    assert -5.0 == side_of((-8.0, -5.0), line)  # the first piece runs on back


@pytest.mark.by_hand(of=(length_beside,))
def test_length_on_one_side_of_a_line() -> None:
    line = ((33.0, -10.0), (33.0, 50.0))
    assert pytest.approx(33.0) == length_beside(((139.0, 0.0), (0.0, 0.0)), line, (0.0, 0.0))
    assert pytest.approx(9.5) == length_beside(((44.3, 36.0), (23.5, 36.0)), line, (0.0, 0.0))
    assert 0.0 == length_beside(((44.3, 36.0), (40.0, 36.0)), line, (0.0, 0.0))
    there_and_back = ((40.0, 0.0), (30.0, 0.0), (30.0, 5.0), (40.0, 5.0))
    assert pytest.approx(3 + 5 + 3) == length_beside(there_and_back, line, (0.0, 0.0))
