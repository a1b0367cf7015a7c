# SPDX-License-Identifier: Apache-2.0
"""What must hold for any pipe, weir and opening, whatever the numbers."""

import math
from functools import partial

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tilewater.hydraulics.openings import (
    orifice_flow_submerged,
    orifice_head_difference_submerged,
)
from tilewater.hydraulics.pipes import (
    drainage_flow,
    drained_area,
    pipe_flow_full_for_head_manning,
    pipe_flow_full_manning,
    pipe_flow_largest_manning,
    pipe_flow_manning,
    pipe_head_loss_full_manning,
    pipe_normal_depth_manning,
    pipe_slope_for_flow_full_manning,
    pipe_velocity_manning,
)
from tilewater.hydraulics.weirs import (
    weir_flow_power_law,
    weir_flow_rectangular_francis,
    weir_flow_rectangular_kindsvater_carter,
    weir_flow_rectangular_rehbock,
    weir_flow_v_notch_kindsvater_shen,
    weir_flow_v_notch_overtopped,
    weir_head_power_law,
    weir_head_rectangular_francis,
    weir_head_rectangular_francis_villemonte,
    weir_head_rectangular_kindsvater_carter,
    weir_head_v_notch_kindsvater_shen,
    weir_head_v_notch_overtopped,
    weir_submergence_factor_villemonte,
)

ROUND_OFF = 1e-12
ROUND_TRIP = 1e-8  # of the tolerance of the searched head in a head of 1 mm

diameters = st.floats(0.05, 1.0)
slopes = st.floats(1e-4, 0.05)
roughnesses = st.floats(0.009, 0.025)
heads = st.floats(0.001, 1.0)
widths = st.floats(0.15, 3.0)
heights = st.floats(0.1, 3.0)
shares = st.floats(0.0, 1.0)
angles = st.floats(math.radians(20), math.radians(120))

francis = partial(weir_flow_rectangular_francis, crest_width=0.4, contractions=0)
contracted = partial(weir_flow_rectangular_francis, crest_width=0.4, contractions=2)
thin_plate = partial(
    weir_flow_rectangular_kindsvater_carter,
    crest_height=0.5,
    crest_width=0.3,
    channel_width=0.6,
)
straight_line = partial(weir_flow_rectangular_rehbock, crest_height=0.5, crest_width=0.4)
notch = partial(weir_flow_v_notch_kindsvater_shen, notch_angle=math.radians(45))
board = partial(
    weir_flow_v_notch_overtopped,
    notch_angle=math.radians(45),
    notch_depth=0.2,
    crest_width=0.35,
)
rating = partial(weir_flow_power_law, flow_at_one_metre=0.5, exponent=1.4)
RATINGS = [francis, contracted, thin_plate, straight_line, notch, board, rating]
NAMES = ["francis", "contracted", "thin plate", "straight line", "notch", "board", "rating"]
RATED = (
    weir_flow_rectangular_francis,
    weir_flow_rectangular_kindsvater_carter,
    weir_flow_rectangular_rehbock,
    weir_flow_v_notch_kindsvater_shen,
    weir_flow_v_notch_overtopped,
    weir_flow_power_law,
)


@pytest.mark.law(of=RATED)
@pytest.mark.parametrize("flow", RATINGS, ids=NAMES)
@given(lower=st.floats(0.0, 0.6), step=st.floats(1e-9, 0.5))  # contracted, it turns at 1.2 m
def test_flow_rises_with_the_head(flow, lower, step):
    assume(lower + step > lower)
    assert flow(lower) < flow(lower + step)


@pytest.mark.law(of=RATED)
@pytest.mark.parametrize("flow", RATINGS, ids=NAMES)
def test_no_head_no_flow(flow):
    assert flow(0.0) == 0.0


@pytest.mark.law(of=RATED)
@pytest.mark.parametrize("flow", RATINGS, ids=NAMES)
@given(series=st.lists(st.floats(0.0, 1.0), min_size=1, max_size=8))
def test_a_series_of_heads_gives_the_flows_of_each(flow, series):
    together = flow(np.array(series))
    assert isinstance(together, np.ndarray)
    assert together == pytest.approx([flow(head) for head in series], rel=ROUND_OFF, abs=0)


@pytest.mark.law(of=(weir_flow_v_notch_overtopped,))
@given(angle=angles, depth=st.floats(0.05, 0.5), spare=st.floats(0.0, 0.5))
def test_the_flow_does_not_jump_where_the_notch_is_full(angle, depth, spare):
    geometry = {
        "notch_angle": angle,
        "notch_depth": depth,
        "crest_width": 2 * depth * math.tan(angle / 2) + spare,
    }
    below = weir_flow_v_notch_overtopped(depth * (1 - 1e-9), **geometry)
    above = weir_flow_v_notch_overtopped(depth * (1 + 1e-9), **geometry)
    assert below == pytest.approx(above, rel=1e-7)


@pytest.mark.law(of=(weir_flow_v_notch_overtopped,))
@given(head=st.floats(0.0, 0.2))
def test_a_board_whose_notch_is_not_full_is_a_notch(head):
    assert board(head) == notch(head)


@pytest.mark.law(of=(weir_submergence_factor_villemonte,))
@given(
    upstream=st.floats(0.0, 2.0),
    downstream=st.floats(-2.0, 3.0),
    exponent=st.sampled_from([1.5, 2.5]),
)
def test_tailwater_leaves_a_share_between_nothing_and_all(upstream, downstream, exponent):
    factor = weir_submergence_factor_villemonte(upstream, downstream, exponent=exponent)
    assert 0.0 <= factor <= 1.0
    assert (factor == 0.0) == (downstream > 0.0 and downstream >= upstream)
    higher = weir_submergence_factor_villemonte(upstream, downstream + 0.01, exponent=exponent)
    assert higher <= factor


@pytest.mark.law(of=(weir_submergence_factor_villemonte,))
@given(pairs=st.lists(st.tuples(st.floats(0.0, 1.0), st.floats(-1.0, 1.0)), min_size=1, max_size=8))
def test_a_series_of_levels_gives_the_factors_of_each(pairs):
    upstream, downstream = np.array(pairs).T
    together = weir_submergence_factor_villemonte(upstream, downstream, exponent=1.5)
    alone = [weir_submergence_factor_villemonte(*pair, exponent=1.5) for pair in pairs]
    assert together == pytest.approx(alone, rel=ROUND_OFF, abs=0)


@pytest.mark.law(of=(weir_head_rectangular_francis, weir_flow_rectangular_francis))
@given(head=heads, width=widths, contractions=st.sampled_from([0, 1, 2]))
def test_francis_turns_round(head, width, contractions):
    assume(contractions == 0 or head < width)
    crest = {"crest_width": width, "contractions": contractions}
    flow = weir_flow_rectangular_francis(head, **crest)
    assert weir_head_rectangular_francis(flow, **crest) == pytest.approx(head, rel=ROUND_TRIP)


@pytest.mark.law(
    of=(weir_head_rectangular_kindsvater_carter, weir_flow_rectangular_kindsvater_carter)
)
@given(head=heads, height=heights, channel=widths, ratio=st.floats(0.1, 1.0))
def test_kindsvater_carter_turns_round(head, height, channel, ratio):
    crest = {"crest_width": ratio * channel, "channel_width": channel}
    flow = weir_flow_rectangular_kindsvater_carter(head, height, **crest)
    turned = weir_head_rectangular_kindsvater_carter(flow, height, **crest)
    assert turned == pytest.approx(head, rel=ROUND_TRIP)


@pytest.mark.law(of=(weir_head_v_notch_kindsvater_shen, weir_flow_v_notch_kindsvater_shen))
@given(head=heads, angle=angles)
def test_notch_turns_round(head, angle):
    flow = weir_flow_v_notch_kindsvater_shen(head, notch_angle=angle)
    turned = weir_head_v_notch_kindsvater_shen(flow, notch_angle=angle)
    assert turned == pytest.approx(head, rel=ROUND_TRIP)


@pytest.mark.law(of=(weir_head_v_notch_overtopped, weir_head_power_law))
@given(head=heads)
def test_board_and_rating_turn_round(head):
    geometry = {"notch_angle": math.radians(45), "notch_depth": 0.2, "crest_width": 0.35}
    turned = weir_head_v_notch_overtopped(board(head), **geometry)
    assert turned == pytest.approx(head, rel=ROUND_TRIP)
    turned = weir_head_power_law(rating(head), flow_at_one_metre=0.5, exponent=1.4)
    assert turned == pytest.approx(head, rel=ROUND_TRIP)


@pytest.mark.law(of=(weir_head_rectangular_francis_villemonte,))
@given(flow=st.floats(0.01, 0.5), tailwater=st.floats(-0.5, 1.0), width=widths)
def test_tailwater_raises_the_pool_and_the_pool_carries_the_flow(flow, tailwater, width):
    head = weir_head_rectangular_francis_villemonte(flow, tailwater, crest_width=width)
    assert head >= weir_head_rectangular_francis(flow, crest_width=width) * (1 - ROUND_TRIP)
    assert head > tailwater
    left = weir_submergence_factor_villemonte(head, tailwater, exponent=1.5)
    carried = left * weir_flow_rectangular_francis(head, crest_width=width)
    # Close to the tailwater the flow changes without bound with the head.
    assert carried == pytest.approx(flow, rel=1e-3)


@pytest.mark.law(of=(pipe_normal_depth_manning, pipe_flow_manning, pipe_flow_largest_manning))
@given(share=shares, diameter=diameters, slope=slopes, n=roughnesses)
def test_normal_depth_carries_the_flow_and_is_the_lower_one(share, diameter, slope, n):
    largest = pipe_flow_largest_manning(diameter, slope, n=n)
    depth = pipe_normal_depth_manning(share * largest, diameter, slope, n=n)
    assert 0.0 <= depth <= 0.9382 * diameter
    carried = pipe_flow_manning(depth, diameter, slope, n=n)
    assert carried == pytest.approx(share * largest, rel=1e-6, abs=1e-14)


@pytest.mark.law(of=(pipe_flow_manning, pipe_velocity_manning, pipe_flow_full_manning))
@given(share=shares, diameter=diameters, slope=slopes, n=roughnesses)
def test_flow_in_a_pipe_lies_between_nothing_and_the_largest(share, diameter, slope, n):
    flow = pipe_flow_manning(share * diameter, diameter, slope, n=n)
    assert 0.0 <= flow <= pipe_flow_largest_manning(diameter, slope, n=n) * (1 + ROUND_OFF)
    series = pipe_flow_manning(np.array([0.0, share * diameter, diameter]), diameter, slope, n=n)
    full = pipe_flow_full_manning(diameter, slope, n=n)
    assert series == pytest.approx([0.0, flow, full], rel=1e-9, abs=0)


@pytest.mark.law(of=(pipe_flow_full_manning,))
@given(diameter=diameters, slope=slopes, n=roughnesses, scale=st.floats(0.1, 10.0))
def test_capacity_goes_with_its_powers_of_diameter_slope_and_roughness(diameter, slope, n, scale):
    flow = pipe_flow_full_manning(diameter, slope, n=n)
    wider = pipe_flow_full_manning(scale * diameter, slope, n=n)
    steeper = pipe_flow_full_manning(diameter, scale * slope, n=n)
    rougher = pipe_flow_full_manning(diameter, slope, n=scale * n)
    assert wider == pytest.approx(flow * scale ** (8 / 3), rel=ROUND_OFF)
    assert steeper == pytest.approx(flow * math.sqrt(scale), rel=ROUND_OFF)
    assert rougher == pytest.approx(flow / scale, rel=ROUND_OFF)


@pytest.mark.law(of=(pipe_slope_for_flow_full_manning, pipe_flow_full_manning))
@given(diameter=diameters, slope=slopes, n=roughnesses)
def test_the_grade_line_of_the_full_flow_is_the_grade(diameter, slope, n):
    flow = pipe_flow_full_manning(diameter, slope, n=n)
    assert pipe_slope_for_flow_full_manning(flow, diameter, n=n) == pytest.approx(slope)
    assert pipe_slope_for_flow_full_manning(-flow, diameter, n=n) == pytest.approx(-slope)


@pytest.mark.law(of=(pipe_head_loss_full_manning, pipe_flow_full_for_head_manning))
@given(head=st.floats(-3.0, 3.0), diameter=diameters, length=st.floats(0.0, 500.0), n=roughnesses)
def test_head_loss_turns_round_in_both_directions(head, diameter, length, n):
    assume(head == 0.0 or abs(head) > 1e-9)
    flow = pipe_flow_full_for_head_manning(head, diameter, length=length, n=n)
    assert flow * head >= 0.0
    loss = pipe_head_loss_full_manning(flow, diameter, length=length, n=n)
    assert loss == pytest.approx(head, rel=1e-9)


@pytest.mark.law(of=(drainage_flow, drained_area))
@given(area=st.floats(1.0, 1e7), coefficient=st.floats(1e-8, 1e-6))
def test_area_and_flow_turn_round(area, coefficient):
    flow = drainage_flow(area, drainage_coefficient=coefficient)
    assert drained_area(flow, drainage_coefficient=coefficient) == pytest.approx(area)


@pytest.mark.law(of=(orifice_flow_submerged, orifice_head_difference_submerged))
@given(difference=st.floats(-2.0, 2.0), area=st.floats(1e-4, 1.0))
def test_orifice_turns_round_in_both_directions(difference, area):
    assume(difference == 0.0 or abs(difference) > 1e-9)
    flow = orifice_flow_submerged(difference, area=area)
    assert flow * difference >= 0.0
    turned = orifice_head_difference_submerged(flow, area=area)
    assert turned == pytest.approx(difference, rel=1e-9)
