# SPDX-License-Identifier: Apache-2.0
"""Chaplin, M. Water properties, table of physical data by temperature."""

import pytest

from tests.digits import printed
from tilewater.hydraulics.water import density_kell, viscosity_patek

PLACE = "dynamic viscosity in cP, density in kg/m3"
OTHER_DATUM = pytest.mark.xfail(
    reason="the table takes 1.0020 cP at 20 degC, the correlation 1.0016", strict=True
)
OTHER_ROUNDING = pytest.mark.xfail(reason="995.65 was rounded up in the table", strict=True)


@pytest.mark.published("chaplin-water", PLACE, of=(viscosity_patek,))
@pytest.mark.parametrize(
    ("temperature", "centipoise"),
    [
        (0.0, "1.792"),
        pytest.param(10.0, "1.307", marks=OTHER_DATUM),
        (20.0, "1.002"),
        (30.0, "0.797"),
        (40.0, "0.653"),
    ],
)
def test_viscosity(temperature: float, centipoise: str) -> None:
    assert printed(centipoise) == 1e3 * viscosity_patek(temperature)


@pytest.mark.published("chaplin-water", PLACE, of=(density_kell,))
@pytest.mark.parametrize(
    ("temperature", "density"),
    [
        (0.0, "999.8"),
        (10.0, "999.7"),
        (20.0, "998.2"),
        pytest.param(30.0, "995.7", marks=OTHER_ROUNDING),
        (40.0, "992.2"),
        (50.0, "988.0"),
        (60.0, "983.2"),
        (80.0, "971.8"),
        (100.0, "958.4"),
    ],
)
def test_density(temperature: float, density: str) -> None:
    assert printed(density) == density_kell(temperature)
