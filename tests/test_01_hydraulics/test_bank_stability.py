# SPDX-License-Identifier: Apache-2.0
"""Banks: long slopes, wedges and circles, and what a range of factors says."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.bank_stability import (
    BankSoil,
    bank_factor_bishop,
    bank_height_culmann,
    bank_range_findings,
    slope_factor_infinite,
)

LOAM = BankSoil(5e3, math.radians(28), 19e3)
TAYLOR = 0.05
"""Taylor took another balance of the circle; charts are read to two digits besides."""


@pytest.mark.by_hand(of=(slope_factor_infinite,))
def test_a_long_slope_of_2_to_1_dry_and_seeping():
    """c 5 kPa, 28 degrees, 19 kN/m3, 2 m, 26.565 degrees."""
    slope = math.radians(26.565)
    for share, factor in ((0.0, "1.392"), (1.0, "0.843")):
        assert printed(factor) == slope_factor_infinite(
            LOAM, depth=2.0, slope_angle=slope, saturated_share=share
        )


@pytest.mark.by_hand(of=(bank_height_culmann,))
@pytest.mark.parametrize(
    ("cohesion", "friction", "weight", "slope", "height"),
    [(10e3, 20, 18e3, 70, "5.493"), (5e3, 25, 19e3, 60, "4.57")],
)
def test_height_of_a_wedge(cohesion, friction, weight, slope, height):
    soil = BankSoil(cohesion, math.radians(friction), weight)
    assert printed(height) == bank_height_culmann(soil, slope_angle=math.radians(slope))
    assert math.inf == bank_height_culmann(soil, slope_angle=math.radians(friction - 1))


@pytest.mark.published("taylor1948", "stability numbers, from memory", of=(bank_factor_bishop,))
@pytest.mark.parametrize(
    ("slope", "friction", "number"),
    [
        (89.9, 0, 0.261),
        (60, 0, 0.191),
        (60, 10, 0.138),
        (60, 20, 0.097),
        (45, 15, 0.083),
        (45, 20, 0.062),
        (60, 25, 0.079),
        (75, 15, 0.154),
    ],
)
def test_circle_at_the_stability_number_is_just_in_balance(slope, friction, number):
    height, weight = 5.0, 18e3
    soil = BankSoil(number * weight * height, math.radians(friction), weight)
    factor = bank_factor_bishop(soil, height=height, slope_angle=math.radians(slope))
    assert factor == pytest.approx(1.0, abs=TAYLOR)


@pytest.mark.law(of=(bank_factor_bishop,))
@settings(max_examples=15)
@given(
    slope=st.floats(30, 80),
    height=st.floats(1.0, 4.0),
    water=st.floats(0.0, 1.0),
    gradient=st.floats(0.0, 0.2),
)
def test_water_and_height_lower_the_factor(slope, height, water, gradient):
    def factor(high: float, wet: float, rises: float) -> float:
        return bank_factor_bishop(
            LOAM,
            height=high,
            slope_angle=math.radians(slope),
            water_at_face=wet,
            water_gradient=rises,
        )

    dry, wet = factor(height, 0.0, 0.0), factor(height, water * height, gradient)
    assert 0 < wet <= dry * (1 + 1e-6)
    assert factor(1.3 * height, 0.0, 0.0) < dry


@pytest.mark.law(of=(slope_factor_infinite,))
def test_dry_sand_stands_at_its_angle_of_friction():
    sand = BankSoil(0.0, math.radians(33), 18e3)
    assert 1.0 == pytest.approx(
        slope_factor_infinite(sand, depth=1.0, slope_angle=math.radians(33), saturated_share=0.0)
    )


@pytest.mark.works(of=(bank_range_findings,))
@pytest.mark.parametrize(
    ("least", "most", "severity"),
    [(1.5, 2.2, "note"), (1.1, 2.2, "caution"), (0.9, 1.4, "caution"), (0.5, 0.9, "fails")],
)
def test_a_range_is_said_as_a_range(least, most, severity):
    (finding,) = bank_range_findings(least, most)
    assert finding.severity == severity
    assert f"from {least:.2f} to {most:.2f}" in finding.message


@pytest.mark.works(of=(BankSoil, bank_factor_bishop))
def test_banks_that_are_none_are_refused():
    with pytest.raises(OutOfDomain, match="An overhanging face"):
        bank_factor_bishop(LOAM, height=2.0, slope_angle=2.0)
    with pytest.raises(OutOfDomain, match="unit_weight is 0"):
        BankSoil(1e3, 0.5, 0.0)
