# SPDX-License-Identifier: Apache-2.0
"""Uplift of an empty bed and flotation of a box, against the arithmetic of Corbel Farm."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import FOOT, PCF, POUND
from tilewater.basis.errors import OutOfDomain
from tilewater.practices.uplift import (
    WATER_DENSITY,
    anchor_volume,
    box_uplift,
    groundwater_limit,
    load_on_lining,
    uplift_ratio,
)

PSF = POUND / FOOT**2
FLOOR = 1180.70 * FOOT


def load(cover: float) -> float:
    return load_on_lining(3.5 * FOOT, 25 * PCF, cover * FOOT, 105 * PCF)


@pytest.mark.by_hand(of=(load_on_lining, uplift_ratio))
def test_uplift_by_stage_of_building():
    assert printed("93.6") == (1182.20 - 1180.70) * 62.4
    assert printed("276.5") == load(1.8) / PSF == pytest.approx(3.5 * 25 + 1.8 * 105)
    assert printed("2.95") == uplift_ratio(load(1.8), 1182.20 * FOOT, FLOOR)
    assert printed("0.93") == uplift_ratio(load(0.0), 1182.20 * FOOT, FLOOR)
    assert 0 == uplift_ratio(0.0, 1182.20 * FOOT, FLOOR)


@pytest.mark.by_hand(of=(groundwater_limit,))
def test_ground_water_that_an_empty_bed_bears():
    found = groundwater_limit(load(1.8), FLOOR, 1.2) / FOOT
    assert printed("1184.39") == found == pytest.approx(1180.70 + 276.5 / (1.2 * 62.4))


@pytest.mark.by_hand(of=(box_uplift, anchor_volume))
def test_anchor_of_the_outlet_structure():
    uplift = box_uplift(1185.00 * FOOT, FLOOR, 2.0 * FOOT, 1.3 * FOOT)
    assert printed("697.6") == uplift / POUND == pytest.approx(4.30 * 2.6 * 62.4)
    volume = anchor_volume(uplift, 180 * POUND, 150 * PCF, 1.2) / FOOT**3
    # the factor counts on the anchor's own uplift too: 150 - 1.2 x 62.4, not 150 - 62.4
    assert volume == pytest.approx((1.2 * 697.632 - 180) / (150 - 1.2 * 62.4))
    assert printed("8.75") == volume
    assert printed("7.5") == (1.2 * 697.632 - 180) / (150 - 62.4)


@pytest.mark.law(of=(uplift_ratio, groundwater_limit))
@given(weight=st.floats(1, 3000), factor=st.floats(1, 2))
def test_at_its_limit_the_ground_water_meets_the_factor(weight, factor):
    level = groundwater_limit(weight, 0.0, factor)
    assert uplift_ratio(weight, level, 0.0) == pytest.approx(factor)
    assert uplift_ratio(weight, -0.1, 0.0) == math.inf


@pytest.mark.law(of=(anchor_volume, box_uplift))
@given(depth=st.floats(0, 4), weight=st.floats(10, 500), factor=st.floats(1, 1.5))
def test_an_anchored_box_stays_down_with_the_factor(depth, weight, factor):
    uplift = box_uplift(depth, 0.0, 0.6, 0.4)
    volume = anchor_volume(uplift, weight, 2400.0, factor)
    down = weight + 2400.0 * volume
    up = factor * (uplift + WATER_DENSITY * volume)
    assert down >= up * (1 - 1e-12)
    if volume > 0:
        assert down == pytest.approx(up)


@pytest.mark.works(of=(anchor_volume,))
def test_an_anchor_lighter_than_water_is_refused():
    with pytest.raises(OutOfDomain, match="Check the density and the factor"):
        anchor_volume(300.0, 80.0, 1100.0, 1.2)
