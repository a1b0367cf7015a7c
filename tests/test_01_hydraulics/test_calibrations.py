# SPDX-License-Identifier: Apache-2.0
"""Calibrations: the straight line through the logarithms, its errors, and what is refused."""

import math

import numpy as np
import pytest
from scipy import stats

from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydraulics.calibration_fits import (
    calibrate_boards,
    calibrate_boards_range,
    calibrate_boards_zero,
)
from tilewater.hydraulics.calibrations import (
    calibration_of_coefficients,
    calibration_of_fit,
    calibration_range,
    calibration_scatter,
    calibration_uncertainty,
)

FOOT = 0.3048
INCH = FOOT / 12
GPM = 231 * INCH**3 / 60
HEADS = (0.021, 0.044, 0.063, 0.087, 0.118, 0.149)
FLOWS = (0.0018, 0.0049, 0.0090, 0.0139, 0.0225, 0.0309)


@pytest.mark.oracle("scipy 1.17 linregress", of=(calibrate_boards, calibration_scatter))
def test_fit_is_the_straight_line_of_a_statistics_library():
    fit = calibrate_boards(HEADS, FLOWS)
    x, y = np.log(HEADS), np.log(FLOWS)
    line = stats.linregress(x, y)
    left = y - line.intercept - line.slope * x

    assert fit.calibration.exponent == pytest.approx(line.slope, rel=1e-12)
    assert fit.calibration.flow_at_one_metre == pytest.approx(math.exp(line.intercept), rel=1e-12)
    assert fit.error_of_exponent == pytest.approx(line.stderr, rel=1e-9)
    assert fit.error_of_coefficient == pytest.approx(line.intercept_stderr, rel=1e-9)
    assert calibration_scatter(fit) == pytest.approx(math.sqrt(sum(left**2) / 4), rel=1e-9)


@pytest.mark.oracle("numpy polyfit", of=(calibration_uncertainty,))
@pytest.mark.parametrize("head", [0.01, 0.07, 0.15, 0.5])
def test_uncertainty_at_a_head_is_that_of_a_new_point_on_the_line(head):
    fit = calibrate_boards(HEADS, FLOWS)
    _, covariance = np.polyfit(np.log(HEADS), np.log(FLOWS), 1, cov=True)
    at = np.array([math.log(head), 1.0])
    expected = math.sqrt(fit.standard_error**2 + at @ covariance @ at)

    assert calibration_uncertainty(head, fit) == pytest.approx(expected, rel=1e-8)


@pytest.mark.by_hand(of=(calibrate_boards, calibration_of_fit))
def test_flows_on_a_power_law_give_it_back():
    law = calibration_of_fit(calibrate_boards(HEADS, [0.6 * h**1.5 for h in HEADS]))

    assert law.flow_at_one_metre == pytest.approx(0.6, rel=1e-12)
    assert law.exponent == pytest.approx(1.5, rel=1e-12)
    assert (law.head_lowest, law.head_highest) == (0.021, 0.149)


@pytest.mark.law(of=(calibrate_boards,))
def test_units_of_the_measurements_do_not_change_the_exponent():
    metres = calibrate_boards(HEADS, FLOWS)
    inches = calibrate_boards([h / INCH for h in HEADS], [q / GPM for q in FLOWS])

    assert inches.calibration.exponent == pytest.approx(metres.calibration.exponent, rel=1e-12)
    assert inches.standard_error == pytest.approx(metres.standard_error, rel=1e-10)


@pytest.mark.by_hand(of=(calibrate_boards_zero,))
@pytest.mark.parametrize("zero", [-0.012, 0.0, 0.015])
def test_a_staff_that_is_off_is_found_and_the_law_is_over_the_crest(zero):
    fit = calibrate_boards_zero([h + zero for h in HEADS], [0.6 * h**1.5 for h in HEADS])

    assert fit.head_zero == pytest.approx(zero, abs=1e-7)
    assert fit.calibration.exponent == pytest.approx(1.5, abs=1e-5)
    assert fit.calibration.head_lowest == pytest.approx(0.021, abs=1e-7)


@pytest.mark.works(of=(calibrate_boards_zero,))
def test_points_that_do_not_tell_the_zero_are_refused():
    with pytest.raises(NoSolution) as refused:
        calibrate_boards_zero([0.1, 0.2, 0.3, 0.4], [0.01, 0.01, 0.3, 3.0])

    assert str(refused.value) == (
        "The points do not tell where the flow begins. The zero of the heads must show in them. "
        "Survey the crest, or measure small flows as well."
    )


@pytest.mark.works(of=(calibrate_boards, calibrate_boards_zero))
@pytest.mark.parametrize(
    ("function", "heads", "flows", "message"),
    [
        (
            calibrate_boards,
            (0.1, 0.2),
            (0.01, 0.03),
            "number of measurements is 2. At least 3 are needed. "
            "Measure more flows, small ones too.",
        ),
        (
            calibrate_boards_zero,
            (0.1, 0.2, 0.3),
            (0.01, 0.03, 0.06),
            "number of measurements is 3. At least 4 are needed. "
            "Measure more flows, small ones too.",
        ),
        (
            calibrate_boards,
            (0.1, 0.2, 0.3),
            (0.01, 0.03),
            "number of measured flows is 2. Each of the 3 heads needs one flow. "
            "List them in the same order.",
        ),
        (
            calibrate_boards,
            (0.1, 0.2, 0.0),
            (0.01, 0.03, 0.06),
            "measured head is 0 m. It must be above zero. "
            "Leave out points without flow over the crest.",
        ),
        (
            calibrate_boards,
            (0.1, 0.1, 0.1),
            (0.01, 0.03, 0.06),
            "measured head is 0.1 m. It must differ between points. Measure more.",
        ),
    ],
)
def test_measurements_that_tell_nothing_are_refused(function, heads, flows, message):
    with pytest.raises(OutOfDomain) as refused:
        function(heads, flows)

    assert message == str(refused.value)


@pytest.mark.works(of=(calibrate_boards_range,))
def test_a_mixed_up_unit_and_scattered_points_are_told():
    codes = [
        [finding.code for finding in calibrate_boards_range(heads, flows)]
        for heads, flows in (
            (HEADS, FLOWS),
            (HEADS, [h**0.9 for h in HEADS]),
            (HEADS, [q * s for q, s in zip(FLOWS, (1, 1.6, 1, 1.6, 1, 1.6), strict=True)]),
        )
    ]

    assert codes == [[], ["rating-exponent-low"], ["rating-scatter-high"]]


@pytest.mark.by_hand(of=(calibration_of_coefficients,))
def test_gallons_and_inches_become_metres():
    law = calibration_of_coefficients(
        1.4774,
        2.3217,
        head_lowest=1 * INCH,
        head_highest=6 * INCH,
        head_unit="in",
        flow_unit="gpm",
    )

    assert law.flow_at_one_metre == pytest.approx(1.4774 * GPM / INCH**2.3217, rel=1e-12)


@pytest.mark.works(of=(calibration_range,))
def test_heads_outside_the_fit_are_told():
    law = calibrate_boards(HEADS, FLOWS).calibration

    assert [f.code for f in calibration_range(0.01, law)] == ["rating-head-low"]
    assert [f.code for f in calibration_range(0.10, law)] == []
    assert [f.code for f in calibration_range(np.array([0.1, 0.2]), law)] == ["rating-head-high"]
