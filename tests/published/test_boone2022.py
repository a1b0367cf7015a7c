# SPDX-License-Identifier: Apache-2.0
"""Johnson, G. (2023). Calibration of two V-notch boards in one structure, Boone County, Iowa, 2022.

Flow in gpm, head H in inches above the notch: upper set 1.4774 H^2.3217, middle set
0.9478 H^2.5388. That both notches are of 45 degrees is inferred, not stated; so the formula is only
held to a band.
"""

import math

import pytest

from tests.digits import printed
from tilewater.hydraulics.board_sets import (
    board_head_free,
    board_set_calibrated,
    board_set_flow,
    board_set_v_notch,
)
from tilewater.hydraulics.calibrations import calibration_of_coefficients
from tilewater.hydraulics.weirs import (
    weir_flow_power_law,
    weir_flow_v_notch_kindsvater_shen,
    weir_head_power_law,
)

INCH = 0.0254
GPM = 231 * INCH**3 / 60
UPPER = (1.4774, 2.3217)
MIDDLE = (0.9478, 2.5388)
CALIBRATION = "calibration of the upper and middle boards"


def flow_gpm(board, inches):
    gpm, exponent = board
    at_one_metre = gpm * GPM / INCH**exponent
    return (
        weir_flow_power_law(inches * INCH, flow_at_one_metre=at_one_metre, exponent=exponent) / GPM
    )


@pytest.mark.published("boone2022", CALIBRATION, of=(weir_flow_power_law, weir_head_power_law))
@pytest.mark.parametrize("board", [UPPER, MIDDLE], ids=["upper", "middle"])
@pytest.mark.parametrize("inches", [1, 3, 6])
def test_calibration_in_inches_and_gallons_is_kept_in_metres(board, inches):
    gpm, exponent = board
    assert flow_gpm(board, inches) == pytest.approx(gpm * inches**exponent, rel=1e-12)
    head = weir_head_power_law(
        gpm * inches**exponent * GPM,
        flow_at_one_metre=gpm * GPM / INCH**exponent,
        exponent=exponent,
    )
    assert head == pytest.approx(inches * INCH, rel=1e-12)


@pytest.mark.published("boone2022", CALIBRATION, of=(weir_flow_power_law,))
def test_two_boards_of_one_structure_differ_by_6_to_56_percent():
    assert printed("1.56") == flow_gpm(UPPER, 1) / flow_gpm(MIDDLE, 1)
    assert printed("1.06") == flow_gpm(UPPER, 6) / flow_gpm(MIDDLE, 6)


@pytest.mark.published("boone2022", CALIBRATION, of=(weir_flow_v_notch_kindsvater_shen,))
@pytest.mark.parametrize("inches", [3, 4, 5, 6])
def test_boards_in_a_structure_pass_up_to_a_third_more_than_the_formula(inches):
    formula = weir_flow_v_notch_kindsvater_shen(inches * INCH, notch_angle=math.radians(45)) / GPM
    for board in (UPPER, MIDDLE):
        assert 1.0 < flow_gpm(board, inches) / formula < 1.34


TABLE = {
    "upper": (UPPER, {1: "1.48", 3: "18.93", 6: "94.65"}),
    "middle": (MIDDLE, {1: "0.95", 3: "15.42", 6: "89.60"}),
}


def boards_of(board):
    gpm, exponent = board
    law = calibration_of_coefficients(
        gpm,
        exponent,
        head_lowest=1 * INCH,
        head_highest=6 * INCH,
        head_unit="in",
        flow_unit="gpm",
    )
    return board_set_calibrated(0.0, -0.5, calibration=law)


@pytest.mark.published(
    "boone2022",
    CALIBRATION,
    of=(calibration_of_coefficients, board_set_calibrated, board_set_flow, board_head_free),
)
@pytest.mark.parametrize("name", TABLE)
@pytest.mark.parametrize("inches", [1, 3, 6])
def test_a_set_of_boards_keeps_its_calibration_in_both_directions(name, inches):
    (gpm, exponent), _ = TABLE[name]
    boards = boards_of((gpm, exponent))
    flow = board_set_flow(inches * INCH, -0.5, boards)

    assert flow / GPM == pytest.approx(gpm * inches**exponent, rel=1e-12)
    assert board_head_free(flow, boards) / INCH == pytest.approx(inches, rel=1e-9)
    assert board_set_flow(-0.5, inches * INCH, boards) == -flow


@pytest.mark.by_hand(of=(calibration_of_coefficients, board_set_calibrated, board_set_flow))
@pytest.mark.parametrize("name", TABLE)
@pytest.mark.parametrize("inches", [1, 3, 6])
def test_flows_worked_out_from_the_two_equations_are_met(name, inches):
    board, flows = TABLE[name]

    assert printed(flows[inches]) == board_set_flow(inches * INCH, -0.5, boards_of(board)) / GPM


@pytest.mark.published("boone2022", CALIBRATION, of=(board_set_calibrated, board_head_free))
def test_one_flow_stands_at_two_heads_over_two_boards_of_one_structure():
    """37 gpm, some 4 inches: the heads differ by a sixteenth of an inch to a quarter."""
    upper, middle = (
        board_head_free(37 * GPM, boards_of(board)) / INCH for board in (UPPER, MIDDLE)
    )

    assert upper == pytest.approx((37 / 1.4774) ** (1 / 2.3217), rel=1e-9)
    assert middle == pytest.approx((37 / 0.9478) ** (1 / 2.5388), rel=1e-9)
    assert 1 / 16 < middle - upper < 1 / 4


@pytest.mark.published("boone2022", CALIBRATION, of=(board_set_v_notch, board_set_calibrated))
@pytest.mark.parametrize("inches", [3, 4, 5, 6])
def test_an_uncalibrated_notch_passes_up_to_a_third_less_than_the_measured_ones(inches):
    notch = board_set_v_notch(
        0.0, -0.5, notch_angle=math.radians(45), notch_depth=0.3, crest_width=0.4
    )
    formula = board_set_flow(inches * INCH, -0.5, notch)
    for board in (UPPER, MIDDLE):
        assert 1.0 < board_set_flow(inches * INCH, -0.5, boards_of(board)) / formula < 1.34
