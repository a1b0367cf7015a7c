# SPDX-License-Identifier: Apache-2.0
"""Johnson, G. (2023). Calibration of two V-notch boards in one structure, Boone County, Iowa, 2022.

Flow in gpm, head H in inches above the notch: upper set 1.4774 H^2.3217, middle set
0.9478 H^2.5388. That both notches are of 45 degrees is inferred, not stated; so the formula is only
held to a band.
"""

import math

import pytest

from tests.digits import printed
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
