# SPDX-License-Identifier: Apache-2.0
"""US Bureau of Reclamation (2001). Water Measurement Manual, 3rd edition, chapter 7.

Lines of figure 7-5, C = c1 h/p + c2 in ft^(1/2)/s, from a copy whose address was not kept.
"""

import math

import pytest

from tests.digits import printed
from tilewater.hydraulics.weirs import (
    weir_flow_rectangular_kindsvater_carter,
    weir_flow_v_notch_kindsvater_shen,
    weir_flow_v_notch_kindsvater_shen_range,
)

FOOT = 0.3048
HEAD, WIDTH = 0.3, 10.0  # wide, so that the correction of the width does not count
SAME_TESTS = 0.007  # two readings of the lines of the same tests

LINES = {
    0.2: (-0.0087, 3.152),
    0.4: (0.0317, 3.164),
    0.5: (0.0612, 3.173),
    0.6: (0.0995, 3.178),
    0.7: (0.1602, 3.182),
    0.8: (0.2376, 3.189),
    0.9: (0.3447, 3.205),
    1.0: (0.4000, 3.220),
}


@pytest.mark.published(
    "usbr2001", "figure 7-5, coefficients", of=(weir_flow_rectangular_kindsvater_carter,)
)
@pytest.mark.parametrize("width_ratio", LINES)
@pytest.mark.parametrize("head_per_height", [0.1, 0.5, 1.0, 2.0])
def test_coefficient_of_a_rectangular_weir(width_ratio, head_per_height):
    c1, c2 = LINES[width_ratio]
    crest_width = width_ratio * WIDTH
    flow = weir_flow_rectangular_kindsvater_carter(
        HEAD, HEAD / head_per_height, crest_width=crest_width, channel_width=WIDTH
    )
    computed = flow / (crest_width * (HEAD + 0.001) ** 1.5) / math.sqrt(FOOT)
    assert computed == pytest.approx(c1 * head_per_height + c2, rel=SAME_TESTS)


@pytest.mark.published(
    "usbr2001", "ch. 7 sec. 7, text", of=(weir_flow_v_notch_kindsvater_shen_range,)
)
def test_v_notch_is_valid_from_25_to_100_degrees_and_from_two_tenths_of_a_foot():
    def codes(head_ft, degrees):
        found = weir_flow_v_notch_kindsvater_shen_range(
            head_ft * FOOT, notch_angle=math.radians(degrees)
        )
        return [finding.code for finding in found]

    assert codes(0.21, 26) == codes(0.5, 99) == []
    assert codes(0.19, 60) == ["notch-head-low"]
    assert codes(0.5, 24) == ["notch-angle-low"]
    assert codes(0.5, 101) == ["notch-angle-high"]


@pytest.mark.published(
    "usbr2001",
    "coefficient 0.578 and correction 0.85 mm of a 90 degree notch; the coefficient from memory",
    of=(weir_flow_v_notch_kindsvater_shen,),
)
def test_right_angled_notch_has_its_known_coefficient_and_head_correction():
    low, high = (
        weir_flow_v_notch_kindsvater_shen(head, notch_angle=math.pi / 2) ** 0.4
        for head in (0.1, 0.2)
    )
    slope = (high - low) / 0.1
    correction_mm = (low / slope - 0.1) * 1000
    assert printed("0.578") == slope**2.5 / (8 / 15 * math.sqrt(2 * 9.80665))
    assert correction_mm == pytest.approx(0.85, abs=0.05)


@pytest.mark.published(
    "cone1916",
    "1.343 h^2.48 in metres, as printed by a page whose address was not kept",
    of=(weir_flow_v_notch_kindsvater_shen,),
)
@pytest.mark.parametrize("head", [0.06, 0.1, 0.15, 0.2, 0.3, 0.38])
def test_right_angled_notch_follows_the_power_law_of_cone(head):
    flow = weir_flow_v_notch_kindsvater_shen(head, notch_angle=math.pi / 2)
    assert flow == pytest.approx(1.343 * head**2.48, rel=0.02)
