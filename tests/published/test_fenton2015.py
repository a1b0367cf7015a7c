# SPDX-License-Identifier: Apache-2.0
"""Fenton, J. D. (2015). Calculating flow over rectangular sharp-edged weirs.

Equation 24, a smooth fit of the coefficient over all widths, with kh = 1 mm.
"""

import math

import pytest

from tilewater.hydraulics.weirs import weir_flow_rectangular_kindsvater_carter

SMOOTH_FIT = 0.013  # one formula for all widths; it is farthest off at h/P = 2
HEAD, WIDTH = 0.3, 10.0  # wide, so that the correction of the width does not count


@pytest.mark.published(
    "fenton2015", "eq. 24, address not kept", of=(weir_flow_rectangular_kindsvater_carter,)
)
@pytest.mark.parametrize("width_ratio", [0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0])
@pytest.mark.parametrize("head_per_height", [0.1, 0.5, 1.0, 1.5, 2.0])
def test_interpolated_coefficient_follows_the_smooth_fit(width_ratio, head_per_height):
    fit = 0.589 - 0.008 * head_per_height
    fit += width_ratio**2 * (0.013 + 0.083 * head_per_height)
    crest_width = width_ratio * WIDTH
    flow = weir_flow_rectangular_kindsvater_carter(
        HEAD, HEAD / head_per_height, crest_width=crest_width, channel_width=WIDTH
    )
    frictionless = 2 / 3 * math.sqrt(2 * 9.80665) * crest_width * (HEAD + 0.001) ** 1.5
    assert flow / frictionless == pytest.approx(fit, rel=SMOOTH_FIT)
