# SPDX-License-Identifier: Apache-2.0
"""Orifices, gates and the slot under raised boards."""

import math
import re

import pytest

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.openings import (
    orifice_flow_free,
    orifice_flow_free_range,
    orifice_flow_submerged,
    orifice_head_difference_submerged,
    slot_flow_free,
    slot_flow_free_contracted,
    slot_flow_free_range,
    slot_flow_submerged,
)

FOOT = 0.3048
CFS = FOOT**3
G = 9.80665
OTHER_GRAVITY = 2e-4  # the hand values of the notes use 9.81
US_GRAVITY = 32.174  # ft/s2
ROUND_OFF = 1e-12
SLOT = {"opening_height": 0.05, "opening_width": 0.3}


@pytest.mark.by_hand(of=(orifice_flow_submerged,))
def test_square_foot_under_half_a_foot_of_head():
    by_hand = 0.61 * 1.0 * math.sqrt(2 * US_GRAVITY * 0.5)
    flow = orifice_flow_submerged(0.5 * FOOT, area=FOOT**2) / CFS
    assert flow == pytest.approx(by_hand, rel=1e-5)
    assert flow == pytest.approx(3.4614, rel=5e-4)  # hand value with 32.2 ft/s2


@pytest.mark.by_hand(of=(orifice_flow_free,))
def test_four_inch_hole_under_half_a_metre():
    by_hand = 0.61 * math.pi * 0.1**2 / 4 * math.sqrt(2 * G * 0.5)
    flow = orifice_flow_free(0.5, area=math.pi * 0.1**2 / 4)
    assert flow == pytest.approx(by_hand, rel=ROUND_OFF)
    assert flow * 1000 == pytest.approx(15.006, rel=OTHER_GRAVITY)


@pytest.mark.by_hand(of=(slot_flow_free, slot_flow_free_contracted, slot_flow_submerged))
def test_slot_of_5_by_30_cm_under_60_cm_of_water():
    free = 0.61 * 0.05 * 0.3 * math.sqrt(2 * G * 0.6)
    contracted = free / math.sqrt(1 + 0.61 * 0.05 / 0.6)
    submerged = 0.61 * 0.05 * 0.3 * math.sqrt(2 * G * (0.6 - 0.3))
    assert slot_flow_free(0.6, **SLOT) == pytest.approx(free, rel=ROUND_OFF)
    assert slot_flow_free_contracted(0.6, **SLOT) == pytest.approx(contracted, rel=ROUND_OFF)
    assert slot_flow_submerged(0.6, 0.3, **SLOT) == pytest.approx(submerged, rel=ROUND_OFF)
    litres = [1000 * flow for flow in (free, contracted, submerged)]
    assert litres == pytest.approx([31.394, 30.625, 22.199], rel=OTHER_GRAVITY)


@pytest.mark.law(of=(orifice_flow_submerged, slot_flow_submerged, orifice_flow_free))
def test_no_head_no_flow_and_the_flow_turns_with_the_levels():
    assert orifice_flow_submerged(0.0, area=0.1) == 0.0
    assert orifice_flow_free(0.0, area=0.1) == 0.0
    assert slot_flow_submerged(0.4, 0.4, **SLOT) == 0.0
    assert slot_flow_submerged(0.4, 0.6, **SLOT) == -slot_flow_submerged(0.6, 0.4, **SLOT)


@pytest.mark.works(of=(orifice_flow_free_range, slot_flow_free_range))
def test_an_opening_that_is_not_covered_is_reported():
    assert orifice_flow_free_range(0.05, opening_height=0.1) == ()
    (low,) = orifice_flow_free_range(0.04, opening_height=0.1)
    assert (low.code, low.source) == ("orifice-cover-low", "derived")
    assert slot_flow_free_range(0.05, **SLOT) == ()
    (low,) = slot_flow_free_range(0.04, **SLOT)
    assert low.message == (
        "Upstream depth over the height of the slot is 0.8, below the 1 from which derived holds. "
        "The slot flows as a weir. Use a weir formula."
    )


@pytest.mark.works(of=(orifice_flow_free, orifice_head_difference_submerged, slot_flow_free))
@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: orifice_flow_free(-0.1, area=0.1),
            "head is -0.1 m. It cannot be negative. Check the water levels.",
        ),
        (
            lambda: orifice_flow_submerged(0.1, area=-0.1),
            "area is -0.1 m2. It cannot be negative. Check the size of the opening.",
        ),
        (
            lambda: orifice_head_difference_submerged(0.1, area=0.0),
            "area is 0 m2. It must be above zero. Check the size of the opening.",
        ),
        (
            lambda: orifice_flow_submerged(0.1, area=0.1, coefficient=0.0),
            "coefficient is 0. It must be above zero. Take 0.61 for a sharp edge.",
        ),
        (
            lambda: slot_flow_free(0.6, opening_height=-0.05, opening_width=0.3),
            "opening height is -0.05 m. It cannot be negative. Check the size of the opening.",
        ),
    ],
)
def test_what_has_no_meaning_is_refused_in_words(call, message):
    with pytest.raises(OutOfDomain, match=f"^{re.escape(message)}$"):
        call()


@pytest.mark.by_hand(of=(orifice_head_difference_submerged,))
def test_head_difference_of_an_orifice_in_its_printed_digits():
    by_hand = (0.015 / (0.61 * 0.00785398)) ** 2 / (2 * G)
    assert printed("0.4998") == by_hand
    difference = orifice_head_difference_submerged(0.015, area=0.00785398)
    assert difference == pytest.approx(by_hand, rel=ROUND_OFF)
