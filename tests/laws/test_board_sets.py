# SPDX-License-Identifier: Apache-2.0
"""Laws of boards between two pools: flow rises with the fall, and every level turns round."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.hydraulics.board_sets import (
    board_head_free,
    board_head_free_high,
    board_head_free_low,
    board_set_broad,
    board_set_calibrated,
    board_set_flow,
    board_set_level_downstream,
    board_set_level_upstream,
    board_set_sharp_francis,
    board_set_sharp_kindsvater_carter,
    board_set_v_notch,
)
from tilewater.hydraulics.calibrations import Calibration

widths = st.floats(0.15, 2.0)
leaks = st.one_of(st.just(0.0), st.floats(1e-6, 0.01))
bases = st.sampled_from([0.0, 360.0, 1800.0])
falls = st.floats(0.0, 0.6)
FLOW = 1e-9


@st.composite
def board_sets(draw, most_leak=leaks):
    """A set of boards with any crest, at the sea or high up."""
    sill, width, leak = draw(bases), draw(widths), draw(most_leak)
    crest = sill + draw(st.floats(0.0, 1.5))
    kind = draw(st.sampled_from(["sharp", "plate", "thick", "notch", "own"]))
    if kind == "sharp":
        return board_set_sharp_francis(crest, sill, crest_width=width, leak=leak)
    if kind == "plate":
        return board_set_sharp_kindsvater_carter(
            crest,
            sill,
            crest_height=draw(st.floats(0.1, 2.0)),
            crest_width=width,
            channel_width=width / draw(st.floats(0.1, 1.0)),
            leak=leak,
        )
    if kind == "thick":
        thick = draw(st.floats(0.005, 0.15))
        return board_set_broad(crest, sill, crest_width=width, board_thickness=thick, leak=leak)
    if kind == "notch":
        angle = draw(st.floats(math.radians(20), math.radians(120)))
        depth = draw(st.floats(0.1, 1.0)) * width / (2 * math.tan(angle / 2))
        return board_set_v_notch(
            crest, sill, notch_angle=angle, notch_depth=depth, crest_width=width, leak=leak
        )
    law = Calibration(draw(st.floats(0.1, 3.0)), draw(st.floats(1.3, 2.6)), 0.02, 0.2)
    return board_set_calibrated(crest, sill, calibration=law)


tight = board_sets(most_leak=st.just(0.0))


@pytest.mark.law(of=(board_set_flow,))
@given(boards=board_sets(), low=falls, rise=st.floats(1e-6, 0.5), behind=st.floats(-0.5, 1.0))
def test_more_water_above_or_less_below_never_passes_less(boards, low, rise, behind):
    upstream, downstream = boards.crest + low, boards.crest + behind
    flow = board_set_flow(upstream, downstream, boards)

    assert board_set_flow(upstream + rise, downstream, boards) >= flow - FLOW
    assert board_set_flow(upstream, downstream - rise, boards) >= flow - FLOW


@pytest.mark.law(of=(board_set_flow,))
@given(boards=board_sets(), one=st.floats(-1.0, 1.0), other=st.floats(-1.0, 1.0))
def test_exchanging_the_pools_turns_the_flow_round(boards, one, other):
    first, second = boards.crest + one, boards.crest + other

    assert board_set_flow(first, second, boards) == -board_set_flow(second, first, boards)
    assert board_set_flow(first, first, boards) == 0.0


@pytest.mark.law(of=(board_set_level_upstream,))
@given(boards=board_sets(), flow=st.floats(1e-6, 0.3), behind=st.floats(-1.0, 1.0))
def test_the_upper_level_sends_the_flow(boards, flow, behind):
    downstream = boards.crest + behind
    level = board_set_level_upstream(flow, downstream, boards)
    below, above = (board_set_flow(level + step, downstream, boards) for step in (-2e-12, 2e-12))

    assert level >= downstream
    assert below <= flow * (1 + 1e-9)
    assert above >= flow * (1 - 1e-9)


@pytest.mark.law(of=(board_set_level_downstream, board_set_level_upstream))
@given(boards=board_sets(), head=st.floats(0.01, 0.6), share=st.floats(0.05, 0.95))
def test_the_lower_level_lets_the_flow_pass(boards, head, share):
    upstream = boards.crest + head
    flow = share * board_set_flow(upstream, boards.sill - 1.0, boards)
    level = board_set_level_downstream(flow, upstream, boards)
    passed = [board_set_flow(upstream, level + step, boards) for step in (-2e-12, 2e-12)]

    assert boards.sill <= level < upstream
    assert passed[0] >= flow * (1 - 1e-9)
    assert passed[1] <= flow * (1 + 1e-9)
    assert board_set_level_upstream(flow, level, boards) == pytest.approx(upstream, abs=1e-7)


@pytest.mark.law(of=(board_head_free, board_head_free_low, board_head_free_high))
@given(boards=board_sets(), flow=st.floats(1e-5, 0.3), uncertainty=st.floats(0.0, 0.5))
def test_the_head_lies_in_its_range_and_the_range_widens(boards, flow, uncertainty):
    ends = [
        (board_head_free_low(flow, boards, u), board_head_free_high(flow, boards, u))
        for u in (uncertainty / 2, uncertainty)
    ]
    head = board_head_free(flow, boards)

    assert ends[1][0] - 1e-9 <= ends[0][0] <= head + 1e-9
    assert head - 1e-9 <= ends[0][1] <= ends[1][1] + 1e-9


@pytest.mark.law(of=(board_set_flow, board_set_v_notch))
@given(boards=tight, step=st.integers(0, 300))
def test_crest_swept_by_millimetres_shows_no_jump(boards, step):
    """Of a rising head the flow never jumps: a millimetre passes at most what its slope says."""
    head = step / 1000
    first, second, third = (
        board_set_flow(boards.crest + head + each / 1000, boards.sill, boards) for each in (0, 1, 2)
    )
    width = boards.wings + boards.coefficient + boards.growth * boards.growth_ends

    assert first <= second <= third
    assert second - first <= 4.0 * width * 0.001 * (head + 0.01) ** 0.3


@pytest.mark.law(of=(board_set_flow,))
@given(boards=tight, behind=st.floats(0.0, 0.3))
def test_tight_boards_that_stand_above_both_pools_pass_nothing(boards, behind):
    assert board_set_flow(boards.crest, boards.crest - behind, boards) == 0.0
