# SPDX-License-Identifier: Apache-2.0
"""Frost depth from a freezing index: by hand, its laws, and the exact solution it comes from."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.special import erf

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.frost_depth import frost_depth_stefan, latent_heat_of_soil

DAY = 86400.0
indices = st.floats(0.0, 4000.0)


@pytest.mark.by_hand(of=(frost_depth_stefan, latent_heat_of_soil))
def test_a_winter_of_833_degree_days_by_hand() -> None:
    L = 1600 * 0.20 * 334e3
    z = math.sqrt(2 * 1.7 * 0.5 * 833.0 * 86400 / L)

    assert L == latent_heat_of_soil(1600.0, 0.20)
    assert z == pytest.approx(frost_depth_stefan(833.0), rel=1e-12)
    assert printed("3.51") == frost_depth_stefan(1500 * 5 / 9) / 0.3048


@pytest.mark.oracle("scipy.optimize.brentq", of=(frost_depth_stefan,))
@pytest.mark.parametrize("below", [0.5, 2.0, 5.0])
def test_it_is_the_shallow_end_of_the_exact_solution(below: float) -> None:
    """Neumann: sqrt(pi) x exp(x^2) erf(x) = Ste, z = 2 x sqrt(alpha t); ground at freezing."""
    k, heat, L, days = 1.7, 2.0e6, 1600 * 0.20 * 334e3, 100.0
    number = heat * below / L
    x = brentq(lambda x: math.sqrt(math.pi) * x * math.exp(x * x) * erf(x) - number, 1e-9, 3.0)
    exact = 2 * x * math.sqrt(k / heat * days * DAY)
    stefan = frost_depth_stefan(below * days, surface_factor=1.0)

    assert exact < stefan  # the cold that the frozen soil takes is left out
    assert stefan == pytest.approx(exact, rel=0.2 * number + 1e-6)


@pytest.mark.law(of=(frost_depth_stefan,))
@given(index=indices, times=st.floats(1.0, 4.0), coefficient=st.floats(0.0, 1.0))
def test_frost_goes_with_the_root_of_the_cold(
    index: float, times: float, coefficient: float
) -> None:
    depth = frost_depth_stefan(index)

    assert depth * times == pytest.approx(frost_depth_stefan(index * times**2), rel=1e-9)
    assert frost_depth_stefan(index, coefficient=coefficient) <= depth
    assert frost_depth_stefan(0.0) == 0.0


@pytest.mark.works(of=(frost_depth_stefan, latent_heat_of_soil))
def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(OutOfDomain, match=r"^freezing_index is -5 degC-day\. .* sum as positive"):
        frost_depth_stefan(-5.0)
    with pytest.raises(OutOfDomain, match=r"^coefficient is 1\.5\."):
        frost_depth_stefan(500.0, coefficient=1.5)
    with pytest.raises(OutOfDomain, match=r"^moisture is -0\.1\."):
        latent_heat_of_soil(1600.0, -0.1)
