# SPDX-License-Identifier: Apache-2.0
"""Water along a main of several segments: against integration, closed forms and laws."""

import math
from itertools import pairwise

import fluids
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tests.digits import printed
from tests.jobs import CFS, FOOT, INCH
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics._pipe_run import PipeRun, depth_inside, level_upstream, normal_depth
from tilewater.hydraulics.grade_lines import (
    GradeNode,
    MainSegment,
    grade_line,
    grade_line_level,
    join_segments,
    level_down_for_level,
    segments_from,
)
from tilewater.hydraulics.pipes import (
    pipe_flow_full_manning,
    pipe_head_loss_full_manning,
    pipe_normal_depth_manning,
    pipe_slope_for_flow_full_manning,
)

G = 9.80665
STEPS = 0.001
"""Depth over diameter that the steps of a surface may miss."""
ROUNDING = 1e-12
KINK = 5e-5
"""Where the surface changes its kind between two flows. [m]"""

pipes = st.builds(
    lambda size, grade, length, n, k: PipeRun(grade * length, 0.0, size, length, n, k),
    size=st.floats(0.1, 0.6),
    grade=st.floats(-0.002, 0.02),
    length=st.floats(1, 800),
    n=st.floats(0.009, 0.02),
    k=st.sampled_from([0.0, 0.5, 0.9]),
)
flows = st.floats(1e-5, 0.2)
pools = st.floats(-0.5, 2.0)


def line_of(*grades: float, size: float = 0.25, n: float = 0.013) -> tuple[MainSegment, ...]:
    """Segments of 100 m on the given grades, from station 0 and elevation 0 up."""
    found, invert = [], 0.0
    for number, grade in enumerate(grades):
        up = invert + 100.0 * grade
        found.append(
            MainSegment(f"s{number}", 100.0 * number, 100.0 * number + 100, invert, up, size, n)
        )
        invert = up
    return tuple(found)


lines = st.lists(
    st.tuples(st.floats(20, 300), st.floats(-0.001, 0.01), st.sampled_from([0.15, 0.2, 0.25, 0.3])),
    min_size=1,
    max_size=4,
).map(lambda parts: built(parts))


def built(parts: list[tuple[float, float, float]]) -> tuple[MainSegment, ...]:
    found, station, invert = [], 0.0, 0.0
    for number, (length, grade, size) in enumerate(parts):
        up = invert + grade * length
        found.append(
            MainSegment(f"s{number}", station, station + length, invert, up, size, 0.013, 1.0, 0.5)
        )
        station, invert = station + length, up
    return tuple(found)


def surface_by_integration(
    flow: float, start: float, length: float, slope: float, diameter: float, n: float
) -> float:
    """Depth at the upper end: dy/dx = -(S0 - Sf) / (1 - Fr^2), x up the pipe, below 0.8 D."""

    def change(_: float, depths: list[float]) -> list[float]:
        angle = 2 * math.acos(1 - 2 * depths[0] / diameter)
        area = diameter**2 / 8 * (angle - math.sin(angle))
        radius = area / (diameter * angle / 2)
        width = diameter * math.sin(angle / 2)
        friction = (flow * n / (area * radius ** (2 / 3))) ** 2
        return [-(slope - friction) / (1 - flow**2 * width / (G * area**3))]

    found = solve_ivp(change, (0, length), [start], rtol=1e-9, atol=1e-10, method="LSODA")
    return float(found.y[0][-1])


@pytest.mark.oracle("scipy, initial value problem", of=(depth_inside, grade_line))
@pytest.mark.parametrize("share", [0.2, 0.5, 0.7])
@pytest.mark.parametrize("start", [0.55, 0.65, 0.8])
@pytest.mark.parametrize("length", [5.0, 40.0, 250.0])
def test_backwater_in_a_drain_is_that_of_the_differential_equation(share, start, length):
    flow = share * pipe_flow_full_manning(0.254, 0.0018, n=0.013)
    expected = surface_by_integration(flow, start * 0.254, length, 0.0018, 0.254, 0.013)
    segment = MainSegment("a", 0.0, length, 10.0, 10.0 + 0.0018 * length, 0.254, 0.013)
    *_, top = grade_line(flow, 10.0 + start * 0.254, (segment,))
    assert top.depth == pytest.approx(expected, abs=STEPS * 0.254)


@pytest.mark.oracle("fluids 1.3", of=(normal_depth, pipe_normal_depth_manning))
@pytest.mark.parametrize("share", [0.05, 0.3, 0.6, 0.95])
@pytest.mark.parametrize(("size", "grade", "n"), [(0.254, 0.0018, 0.013), (0.15, 0.01, 0.015)])
def test_depth_of_even_flow_gives_back_its_flow(share, size, grade, n):
    flow = share * pipe_flow_full_manning(size, grade, n=n)
    depth = normal_depth(flow, size, grade, n)
    angle = 2 * math.acos(1 - 2 * depth / size)
    area = size**2 / 8 * (angle - math.sin(angle))
    radius = area / (size * angle / 2)
    assert area * fluids.open_flow.V_Manning(radius, grade, n) == pytest.approx(flow, rel=1e-6)
    assert depth == pytest.approx(pipe_normal_depth_manning(flow, size, grade, n=n), rel=1e-6)


@pytest.mark.law(of=(level_upstream, depth_inside))
@given(pipe=pipes, flow=flows, pool=pools, more=st.floats(0, 0.5))
def test_more_water_anywhere_never_lowers_the_level_above(pipe, flow, pool, more):
    level = level_upstream(flow, pool, pipe)
    raised = level_upstream(flow, pool + more, pipe)
    assert level_upstream(flow * (1 + more), pool, pipe) >= level - 1e-9
    assert -ROUNDING <= raised - level <= more + STEPS * pipe.diameter
    assert level >= max(pool, pipe.invert_up, pipe.invert_down) - ROUNDING


@pytest.mark.law(of=(level_upstream,))
@given(pipe=pipes, flow=flows, drowned=st.floats(0, 2))
def test_a_pipe_under_water_at_both_ends_is_the_closed_form(pipe, flow, drowned):
    pool = max(pipe.invert_up, pipe.invert_down) + pipe.diameter + drowned
    loss = pipe_head_loss_full_manning(
        flow,
        pipe.diameter,
        length=pipe.length,
        n=pipe.n,
        entrance_coefficient=pipe.entrance,
        exit_coefficient=1.0,
    )
    assert level_upstream(flow, pool, pipe) == pytest.approx(pool + loss, rel=1e-9)


@pytest.mark.law(of=(level_upstream,))
@given(pipe=pipes, pool=pools)
def test_water_at_rest_is_level_and_no_flow_is_the_limit_of_a_small_one(pipe, pool):
    still = level_upstream(0.0, pool, pipe)
    assert still == max(pool, pipe.invert_up, pipe.invert_down)
    trickle = level_upstream(1e-9, pool, pipe)
    assert still - ROUNDING <= trickle <= still + 0.001 + 1e-5 * pipe.length


@pytest.mark.law(of=(depth_inside,))
@given(size=st.floats(0.1, 0.6), grade=st.floats(0.0005, 0.02), share=st.floats(0.05, 0.95))
def test_far_from_any_pool_the_flow_is_even(size, grade, share):
    flow = share * float(pipe_flow_full_manning(size, grade, n=0.013))
    length = 60.0 * size / grade
    even = normal_depth(flow, size, grade, 0.013)
    for pool in (-1.0, size):
        depth = depth_inside(flow, pool, PipeRun(grade * length, 0.0, size, length, 0.013, 0.5))
        if even > depth_inside(flow, -1.0, PipeRun(0.0, 0.0, size, 0.0, 0.013, 0.5)):
            assert depth == pytest.approx(even, abs=0.02 * size)


@pytest.mark.law(of=(grade_line, grade_line_level))
@given(line=lines, flow=st.floats(0, 0.15), pool=pools, at=st.floats(0, 1))
def test_energy_never_falls_on_the_way_up_and_the_level_rises_with_the_flow(line, flow, pool, at):
    """The level itself may fall on the way up, where a steep pipe runs fast into slower water."""
    station = at * line[-1].station_up
    nodes = grade_line(flow, pool, line, (station,))
    for low, high in pairwise(nodes):
        if low.segment == high.segment:
            gained = high.level - low.level + (high.velocity**2 - low.velocity**2) / (2 * G)
            assert gained >= -STEPS * 0.3
    assert all(node.level == pytest.approx(node.invert + node.depth) for node in nodes)
    level = grade_line_level(flow, pool, line, station)
    assert level in [pytest.approx(node.level) for node in nodes]
    assert grade_line_level(1.1 * flow, pool, line, station) >= level - KINK
    assert grade_line_level(flow, pool + 0.1, line, station) >= level - 1e-12


@pytest.mark.law(of=(level_down_for_level,))
@given(line=lines, flow=st.floats(0, 0.15), room=st.floats(0, 3), at=st.floats(0, 1))
def test_level_below_for_a_level_above_is_the_way_back(line, flow, room, at):
    station = at * line[-1].station_up
    level = max(one.invert_up for one in line) + room
    below = level_down_for_level(flow, level, line, station)
    if below == -math.inf:
        assert grade_line_level(flow, -50.0, line, station) > level
    else:
        assert grade_line_level(flow, below, line, station) == pytest.approx(level, abs=1e-6)
        assert below <= level


@pytest.mark.law(of=(grade_line, segments_from, join_segments))
@given(cut=st.floats(5, 395), flow=st.floats(0.001, 0.1), pool=st.floats(-0.5, 1.5))
def test_a_uniform_main_is_one_pipe_however_it_is_cut(cut, flow, pool):
    whole = line_of(0.002, 0.002, 0.002, 0.002)
    one = (MainSegment("one", 0.0, 400.0, 0.0, 0.8, 0.25, 0.013),)
    expected = grade_line_level(flow, pool, one, 400.0)
    assert grade_line_level(flow, pool, whole, 400.0) == pytest.approx(expected, abs=STEPS)
    upper = segments_from(whole, cut)
    assert upper[0].station_down == cut
    assert upper[0].invert_down == pytest.approx(0.002 * cut)
    middle = grade_line_level(flow, pool, whole, cut)
    assert grade_line_level(flow, middle, upper, 400.0) == pytest.approx(expected, abs=STEPS)


@pytest.mark.by_hand(of=(grade_line, GradeNode))
def test_surcharged_line_of_two_sizes_by_hand():
    """1.5 cfs, 10 in of 200 ft below and 8 in of 100 ft above, n 0.013; in feet."""
    lower = MainSegment("lower", 0.0, 200 * FOOT, 100 * FOOT, 100.4 * FOOT, 10 * INCH, 0.013)
    upper = MainSegment(
        "upper", 200 * FOOT, 300 * FOOT, 100.4 * FOOT, 100.6 * FOOT, 8 * INCH, 0.013
    )
    crown = 100 + 10 / 12

    def friction(inches: float) -> float:
        size = inches / 12
        area = math.pi * size**2 / 4
        return (1.5 * 0.013 / (1.486 * area * (size / 4) ** (2 / 3))) ** 2

    nodes = grade_line(1.5 * CFS, crown * FOOT, (lower, upper), (100 * FOOT,))
    assert [node.segment for node in nodes] == ["lower", "lower", "lower", "upper", "upper"]
    assert all(node.is_full for node in nodes)
    levels = [node.level / FOOT for node in nodes]
    at_joint = crown + 200 * friction(10)
    assert levels[1] == pytest.approx(crown + 100 * friction(10), abs=1e-3)
    assert levels[2] == levels[3] == pytest.approx(at_joint, abs=1e-3)
    assert levels[4] == pytest.approx(at_joint + 100 * friction(8), abs=2e-3)
    assert printed("2.75") == 1.5 / (math.pi * (10 / 12) ** 2 / 4)
    assert printed("2.75") == nodes[0].velocity / FOOT


@pytest.mark.by_hand(of=(grade_line,))
def test_a_stated_loss_is_so_many_velocity_heads():
    plain = MainSegment("a", 0.0, 50.0, 0.0, 0.1, 0.25, 0.013)
    lossy = MainSegment("a", 0.0, 50.0, 0.0, 0.1, 0.25, 0.013, 1.0, 1.5)
    above = MainSegment("b", 50.0, 60.0, 0.1, 0.12, 0.25, 0.013)
    flow, velocity = 0.06, 0.06 / (math.pi * 0.25**2 / 4)
    levels = [grade_line_level(flow, 1.0, (one, above), 60.0) for one in (plain, lossy)]
    assert levels[1] - levels[0] == pytest.approx(1.5 * velocity**2 / (2 * G))


@pytest.mark.by_hand(of=(grade_line,))
def test_each_segment_carries_its_share_of_the_flow():
    half = MainSegment("half", 0.0, 100.0, 0.0, 0.1, 0.25, 0.013, 0.5)
    slope = pipe_slope_for_flow_full_manning(0.03, 0.25, n=0.013)
    assert grade_line_level(0.06, 1.0, (half,), 100.0) == pytest.approx(1.0 + 100 * slope)


@pytest.mark.works(of=(join_segments, segments_from, grade_line_level))
def test_segments_that_do_not_meet_are_refused():
    a, b = line_of(0.002, 0.002)
    assert join_segments(b=b, a=a) == (a, b)
    far = MainSegment("far", 130.0, 200.0, 0.3, 0.5, 0.25, 0.013)
    with pytest.raises(OutOfDomain, match=r"segment far begins is 4\+26\.51, and s0 ends at 3\+28"):
        join_segments(a=a, far=far)
    with pytest.raises(OutOfDomain, match="whose upper end lies farther from the outlet"):
        join_segments(a=MainSegment("a", 100.0, 0.0, 0.2, 0.0, 0.25, 0.013))
    with pytest.raises(OutOfDomain, match="at least one"):
        join_segments()
    with pytest.raises(OutOfDomain, match="No segment of the main lies above"):
        segments_from((a, b), 300.0)
    with pytest.raises(OutOfDomain, match="first segment above begins at"):
        segments_from((b,), 20.0)
    with pytest.raises(OutOfDomain, match="the main is known from"):
        grade_line_level(0.01, 0.0, (a, b), 250.0)
