# SPDX-License-Identifier: Apache-2.0
"""Viscosity and density of water."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.water import (
    density_kell,
    kinematic_viscosity,
    viscosity_patek,
    viscosity_patek_range,
)

# Two correlations of the same measurements; kestin1978 claims 0.05 percent for its ratios.
TWO_CORRELATIONS = 1e-3


def viscosity_ratio_kestin(temperature: float) -> float:
    """mu(T) / mu(20) of kestin1978, from memory: another fit by other authors."""
    below = 20.0 - temperature
    bend = 1.2364 - 1.37e-3 * below + 5.7e-6 * below**2
    return float(10.0 ** (below / (temperature + 96.0) * bend))


@pytest.mark.oracle("Kestin's correlation, from memory", of=(viscosity_patek,))
@pytest.mark.parametrize("temperature", [0.0, 2.0, 5.0, 8.0, 12.0, 15.0, 25.0, 30.0, 40.0])
def test_viscosity_ratio_agrees_with_another_correlation(temperature: float) -> None:
    ratio = viscosity_patek(temperature) / viscosity_patek(20.0)

    assert viscosity_ratio_kestin(temperature) == pytest.approx(ratio, rel=TWO_CORRELATIONS)


@pytest.mark.by_hand(of=(kinematic_viscosity,))
def test_water_of_eight_degrees_is_stiffer_by_three_eighths() -> None:
    ratio = kinematic_viscosity(20.0) / kinematic_viscosity(8.0)

    assert 1001.57 / 1384.74 * 999.85 / 998.20 == pytest.approx(ratio, rel=1e-5)
    assert printed("0.7245") == ratio


@pytest.mark.law(of=(viscosity_patek, kinematic_viscosity))
@given(temperature=st.floats(-5.0, 60.0), step=st.floats(0.01, 20.0))
def test_warm_water_is_thinner(temperature: float, step: float) -> None:
    assert viscosity_patek(temperature + step) < viscosity_patek(temperature)
    assert kinematic_viscosity(temperature + step) < kinematic_viscosity(temperature)


@pytest.mark.law(of=(density_kell,))
def test_water_is_heaviest_at_four_degrees() -> None:
    temperatures = np.arange(0.0, 40.0, 0.01)

    assert printed("4.0") == temperatures[np.argmax(density_kell(temperatures))]


@pytest.mark.law(of=(viscosity_patek, density_kell, kinematic_viscosity))
def test_many_at_once_are_each_alone() -> None:
    temperatures = np.array([0.0, 8.0, 20.0])
    for function in (viscosity_patek, density_kell, kinematic_viscosity):
        assert [float(function(each)) for each in temperatures] == pytest.approx(
            list(function(temperatures)), rel=1e-15
        )


@pytest.mark.works(of=(viscosity_patek_range,))
def test_a_temperature_in_fahrenheit_is_noticed() -> None:
    (finding,) = viscosity_patek_range(150.0)

    assert "water-temperature-high" == finding.code
    assert finding.message.endswith("Check the temperature and its unit.")
    assert () == viscosity_patek_range(np.array([0.0, 25.0]))


@pytest.mark.works(of=(viscosity_patek,))
def test_no_number_is_refused() -> None:
    with pytest.raises(OutOfDomain, match=r"^temperature is nan degC\. A number is needed\."):
        viscosity_patek(float("nan"))
