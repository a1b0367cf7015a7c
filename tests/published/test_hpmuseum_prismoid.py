# SPDX-License-Identifier: Apache-2.0
"""Museum of HP Calculators, forum archive: a program for the prismoidal rule, with examples."""

import math

import pytest

from tests.digits import printed
from tilewater.basis.solids import prismoid_volume

PLACE = "examples of the thread"


@pytest.mark.published("hpmuseum-prismoid", PLACE, of=(prismoid_volume,))
def test_pyramid() -> None:
    assert printed("160.000") == prismoid_volume(8.0 * 6.0, 4.0 * 3.0, 0.0, length=10.0)


@pytest.mark.published("hpmuseum-prismoid", PLACE, of=(prismoid_volume,))
def test_taller_pyramid() -> None:
    assert printed("241.359") == prismoid_volume(64.0, 16.0, 0.0, length=11.313708)


@pytest.mark.published("hpmuseum-prismoid", PLACE, of=(prismoid_volume,))
def test_rectangular_prism() -> None:
    assert printed("288.000") == prismoid_volume(48.0, 48.0, 48.0, length=6.0)


@pytest.mark.published("hpmuseum-prismoid", PLACE, of=(prismoid_volume,))
def test_cylinder() -> None:
    base = math.pi * 12.0**2

    assert printed("10857.344") == prismoid_volume(base, base, base, length=24.0)


@pytest.mark.published("hpmuseum-prismoid", PLACE, of=(prismoid_volume,))
@pytest.mark.parametrize(("radius", "volume"), [(3.0, "113.1"), (12.0, "7238.229")])
def test_sphere(radius: float, volume: str) -> None:
    middle = math.pi * radius**2

    assert printed(volume) == prismoid_volume(0.0, middle, 0.0, length=2.0 * radius)


@pytest.mark.published("hpmuseum-prismoid", PLACE, of=(prismoid_volume,))
def test_barrel() -> None:
    assert printed("0.200") == prismoid_volume(0.1178, 0.2749, 0.1178, length=0.9)
