# SPDX-License-Identifier: Apache-2.0
"""Flow at a drainage coefficient, as printed by pages that follow the Engineering Field Handbook.

The pages were read, their addresses not kept.
"""

import pytest

from tests.digits import printed
from tilewater.hydraulics.pipes import drainage_flow

FOOT = 0.3048
ACRE = 43560 * FOOT**2
INCH_PER_DAY = FOOT / 12 / 86400
CFS = FOOT**3


@pytest.mark.published("efh14", "example of a calculation page, from memory", of=(drainage_flow,))
def test_forty_acres_at_half_an_inch():
    assert (
        printed("0.840") == drainage_flow(40 * ACRE, drainage_coefficient=0.5 * INCH_PER_DAY) / CFS
    )


@pytest.mark.published("efh14", "table of a page read second-hand", of=(drainage_flow,))
@pytest.mark.parametrize(
    ("inches", "cfs_per_acre", "litres_per_hectare"),
    [
        (1 / 4, "0.0105", "0.73"),
        (3 / 8, "0.0158", "1.10"),
        (1 / 2, "0.0210", "1.47"),
        (3 / 4, "0.0315", "2.20"),
    ],
)
def test_flow_of_an_acre_and_of_a_hectare(inches, cfs_per_acre, litres_per_hectare):
    coefficient = inches * INCH_PER_DAY
    assert printed(cfs_per_acre) == drainage_flow(ACRE, drainage_coefficient=coefficient) / CFS
    assert (
        printed(litres_per_hectare) == drainage_flow(1e4, drainage_coefficient=coefficient) * 1000
    )
