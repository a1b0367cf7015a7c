# SPDX-License-Identifier: Apache-2.0
"""Sets of boards: every crest agrees with its formula, and what leaks through the joints."""

import math
from functools import partial

import pytest

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
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
    joint_leak,
)
from tilewater.hydraulics.calibrations import Calibration
from tilewater.hydraulics.weirs import (
    weir_flow_power_law,
    weir_flow_rectangular_francis,
    weir_flow_rectangular_kindsvater_carter,
    weir_flow_v_notch_overtopped,
    weir_submergence_factor_villemonte,
)

FOOT = 0.3048
INCH = FOOT / 12
CFS = FOOT**3
GPM = 231 * INCH**3 / 60
G = 9.80665
CREST, SILL = 360.94, 360.03
WIDTH = 1.17 * FOOT
HEADS = (0.003, 0.01, 0.03, 0.05, 0.1, 0.15, 0.2, 0.3, 0.45)
ANGLE = math.radians(45)
LAW = Calibration(0.4709, 2.3217, 0.0254, 0.1524)
THICKNESS = 1.5 * INCH

SETS = {
    "francis": (
        board_set_sharp_francis(CREST, SILL, crest_width=WIDTH),
        partial(weir_flow_rectangular_francis, crest_width=WIDTH),
    ),
    "thin plate": (
        board_set_sharp_kindsvater_carter(
            CREST, SILL, crest_height=0.9, crest_width=WIDTH, channel_width=WIDTH
        ),
        partial(
            weir_flow_rectangular_kindsvater_carter,
            crest_height=0.9,
            crest_width=WIDTH,
            channel_width=WIDTH,
        ),
    ),
    "contracted thin plate": (
        board_set_sharp_kindsvater_carter(
            CREST, SILL, crest_height=0.3, crest_width=WIDTH, channel_width=3 * WIDTH
        ),
        partial(
            weir_flow_rectangular_kindsvater_carter,
            crest_height=0.3,
            crest_width=WIDTH,
            channel_width=3 * WIDTH,
        ),
    ),
    "v notch": (
        board_set_v_notch(CREST, SILL, notch_angle=ANGLE, notch_depth=0.15, crest_width=WIDTH),
        partial(
            weir_flow_v_notch_overtopped, notch_angle=ANGLE, notch_depth=0.15, crest_width=WIDTH
        ),
    ),
    "notch as wide as its board": (
        board_set_v_notch(
            CREST, SILL, notch_angle=math.radians(90), notch_depth=WIDTH / 2, crest_width=WIDTH
        ),
        partial(
            weir_flow_v_notch_overtopped,
            notch_angle=math.radians(90),
            notch_depth=WIDTH / 2,
            crest_width=WIDTH,
        ),
    ),
    "calibrated": (
        board_set_calibrated(CREST, SILL, calibration=LAW),
        partial(weir_flow_power_law, flow_at_one_metre=0.4709, exponent=2.3217),
    ),
}
BUILDERS = (
    board_set_sharp_francis,
    board_set_sharp_kindsvater_carter,
    board_set_v_notch,
    board_set_calibrated,
)


@pytest.mark.law(of=(*BUILDERS, board_set_flow))
@pytest.mark.parametrize("kind", SETS)
@pytest.mark.parametrize("head", HEADS)
def test_a_set_passes_what_the_formula_of_its_crest_says(kind, head):
    boards, formula = SETS[kind]
    expected = float(formula(head))

    assert board_set_flow(CREST + head, SILL, boards) == pytest.approx(expected, rel=1e-10)
    assert board_set_flow(SILL, CREST + head, boards) == pytest.approx(-expected, rel=1e-10)


@pytest.mark.law(of=(board_set_flow, weir_submergence_factor_villemonte))
@pytest.mark.parametrize("kind", SETS)
@pytest.mark.parametrize("behind", [-0.2, 0.0, 0.02, 0.1, 0.19, 0.1999])
def test_water_behind_a_set_takes_what_villemonte_says(kind, behind):
    boards, formula = SETS[kind]
    exponent = {"v notch": 2.5, "notch as wide as its board": 2.5, "calibrated": 2.3217}
    share = weir_submergence_factor_villemonte(0.2, behind, exponent=exponent.get(kind, 1.5))
    expected = float(formula(0.2)) * float(share)

    assert board_set_flow(CREST + 0.2, CREST + behind, boards) == pytest.approx(expected, rel=1e-9)


@pytest.mark.law(of=(board_set_sharp_kindsvater_carter,))
def test_a_thin_plate_stops_rising_where_its_tests_end():
    boards, _ = SETS["contracted thin plate"]
    end, beyond = (board_head_ratio(boards, head) for head in (0.6, 0.9))

    assert boards.growth_ends == pytest.approx(2 * 0.3)
    assert beyond == pytest.approx(end, rel=1e-12)


def board_head_ratio(boards, head):
    return board_set_flow(CREST + head, SILL, boards) / (head + 0.001) ** 1.5


@pytest.mark.by_hand(of=(board_head_free, board_set_sharp_francis))
def test_main_full_stands_0_385_ft_over_boards_of_1_17_ft():
    boards, _ = SETS["francis"]
    head = (0.930 / (3.33 * 1.17)) ** (2 / 3)

    assert printed("0.385") == head
    assert board_head_free(0.930 * CFS, boards) / FOOT == pytest.approx(head, rel=1e-9)


@pytest.mark.by_hand(of=(board_head_free_low, board_head_free_high))
def test_a_rating_good_to_ten_percent_leaves_a_range_of_the_head():
    boards, _ = SETS["francis"]
    head = (0.930 / (3.33 * 1.17)) ** (2 / 3)
    low = board_head_free_low(0.930 * CFS, boards, 0.10) / FOOT
    high = board_head_free_high(0.930 * CFS, boards, 0.10) / FOOT

    assert low == pytest.approx(head / 1.1 ** (2 / 3), rel=1e-9)
    assert high == pytest.approx(head / 0.9 ** (2 / 3), rel=1e-9)
    assert printed("0.36") == low
    assert printed("0.41") == high


@pytest.mark.practice(of=(board_set_broad,))
@pytest.mark.parametrize(
    ("thicknesses", "share"), [(0.5, 0.85), (1.0, 0.90), (1.5, 0.95), (2.0, 1.0), (4.0, 1.0)]
)
def test_low_heads_on_a_thick_board_pass_10_to_15_percent_less(thicknesses, share):
    boards = board_set_broad(CREST, SILL, crest_width=WIDTH, board_thickness=THICKNESS)
    head = thicknesses * THICKNESS
    sharp = weir_flow_rectangular_francis(head, crest_width=WIDTH)

    assert board_set_flow(CREST + head, SILL, boards) / sharp == pytest.approx(share, rel=1e-9)


@pytest.mark.by_hand(of=(board_set_broad,))
def test_the_lowest_heads_pass_what_a_long_square_crest_would():
    """Ideal broad crest (2/3)^1.5 sqrt(g), 0.848 of it on a square edge, from memory."""
    broad = 0.848 * (2 / 3) ** 1.5 * math.sqrt(G)
    boards = board_set_broad(CREST, SILL, crest_width=1.0, board_thickness=THICKNESS)

    assert boards.coefficient == pytest.approx(broad, rel=0.02)


@pytest.mark.by_hand(of=(joint_leak, board_set_flow))
def test_boards_leak_again_what_was_caught_below_them():
    caught, depth = 3 * GPM, CREST - SILL
    leak = joint_leak(caught, depth)
    boards = board_set_sharp_francis(CREST, SILL, crest_width=WIDTH, leak=leak)

    assert leak == pytest.approx(caught / (2 / 3 * math.sqrt(2 * G) * depth**1.5), rel=1e-12)
    assert board_set_flow(CREST, SILL, boards) == pytest.approx(caught, rel=1e-12)


@pytest.mark.by_hand(of=(board_set_flow,))
def test_joints_leak_less_under_low_water_and_under_water_on_both_sides():
    """Slots of one width: Q = leak sqrt(2g) times 2/3 H^1.5 free, times d sqrt(dh) drowned."""
    leak = 0.001
    boards = board_set_sharp_francis(CREST, SILL, crest_width=WIDTH, leak=leak)
    root, depth, behind = math.sqrt(2 * G), 0.5, 0.3
    free = 2 / 3 * (depth - behind) ** 1.5
    drowned = behind * math.sqrt(depth - behind)

    assert board_set_flow(SILL + depth, SILL - 1, boards) == pytest.approx(
        leak * root * 2 / 3 * depth**1.5, rel=1e-9
    )
    assert board_set_flow(SILL + depth, SILL + behind, boards) == pytest.approx(
        leak * root * (free + drowned), rel=1e-9
    )


@pytest.mark.by_hand(of=(board_set_level_upstream, board_head_free))
def test_a_leak_lowers_the_pool_even_where_the_water_behind_is_at_the_crest():
    dry = board_set_sharp_francis(CREST, SILL, crest_width=WIDTH)
    wet = dry._replace(leak=0.01)
    level = board_set_level_upstream(0.03, CREST, wet)

    assert level < board_set_level_upstream(0.03, CREST, dry)
    assert board_set_flow(level, CREST, wet) == pytest.approx(0.03, rel=1e-9)
    assert board_head_free(1e-4, wet) < 0.0


@pytest.mark.works(of=(board_set_level_downstream,))
def test_boards_that_cannot_pass_a_flow_have_no_level_below():
    boards, _ = SETS["francis"]

    assert board_set_level_downstream(0.05, CREST + 0.1, boards) == -math.inf
    assert board_set_level_downstream(0.0, CREST + 0.1, boards) == CREST + 0.1


REFUSED = [
    (
        lambda: board_set_sharp_francis(360.0, 360.1, crest_width=1.0),
        "crest is 360 m. It cannot lie below the sill, 360.1 m. Check both.",
    ),
    (
        lambda: board_set_sharp_francis(1.0, 0.0, crest_width=0.0),
        "crest width is 0 m. It must be above zero. Measure between the board guides.",
    ),
    (
        lambda: board_set_broad(1.0, 0.0, crest_width=1.0, board_thickness=0.0),
        "board thickness is 0 m. It must be above zero. Measure the top board.",
    ),
    (
        lambda: board_set_v_notch(1.0, 0.0, notch_angle=1.0, notch_depth=0.3, crest_width=0.2),
        "board beside the notch is -0.127781 m. It cannot be negative. "
        "Check notch and crest width.",
    ),
    (
        lambda: board_head_free(-1.0, SETS["francis"][0]),
        "flow is -1 m3/s. It cannot be negative. Check its direction.",
    ),
    (
        lambda: board_head_free_high(1.0, SETS["francis"][0], 1.0),
        "uncertainty is 1. It lies below 1. Calibrate the boards anew.",
    ),
    (
        lambda: joint_leak(0.001, 0.0),
        "depth is 0 m. It must be above zero. Measure it from the sill to the water.",
    ),
]


@pytest.mark.works(of=(board_set_sharp_francis, board_set_broad, board_set_v_notch, joint_leak))
@pytest.mark.parametrize(("call", "message"), REFUSED)
def test_what_has_no_meaning_is_refused(call, message):
    with pytest.raises(OutOfDomain) as refused:
        call()

    assert message == str(refused.value)
