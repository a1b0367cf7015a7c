# SPDX-License-Identifier: Apache-2.0
"""Cengel, Y., and Cimbala, J. (2006). Fluid Mechanics: Fundamentals and Applications."""

import pytest

from tests.digits import printed
from tilewater.hydraulics.pipes import velocity_manning


@pytest.mark.published(
    "cengel2006", "example as quoted in the text of a library", of=(velocity_manning,)
)
def test_velocity_of_a_channel_of_known_hydraulic_radius():
    assert printed("1.046778") == velocity_manning(0.2859, 0.005236, n=0.03)
