# SPDX-License-Identifier: Apache-2.0
"""Quantities and clocks of a bed by hand: floor 22.5 by 96.5 ft, 3.5 ft of chips, 5.3 ft of cut."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import FOOT, YARD
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.solids import pit_area, pit_volume
from tilewater.practices.bed.aging import lined_share
from tilewater.practices.bed.earthwork import (
    area_times_depth,
    backfill_volume,
    cut_slope,
    disturbed_area,
    fabric_area,
    spoil_volume,
    spread,
    with_allowance,
)
from tilewater.practices.bed.emptying import higher_of
from tilewater.practices.bed.groundwater_steps import reserve, top_of_cover
from tilewater.practices.bed.ladder import top_of_media
from tilewater.practices.bed.life import carbon_years
from tilewater.practices.bed.steps import lower_of
from tilewater.practices.bed.system_parts import total_of
from tilewater.practices.rules import difference, same
from tilewater.practices.wetness import drain_elevation_at_spot

LENGTH, WIDTH = 96.5 * FOOT, 22.5 * FOOT


def pit(depth: float, side_slope: float = 1.0) -> float:
    return float(pit_volume(LENGTH, WIDTH, side_slope=side_slope, depth=depth * FOOT))


@pytest.mark.by_hand(of=(with_allowance, pit_volume))
def test_chips_neat_and_to_order():
    neat = 3.5 / 6 * (22.5 * 96.5 + 4 * 26.0 * 100.0 + 29.5 * 103.5)
    assert printed("9,114.3") == neat
    assert printed("337.6") == pit(3.5) / YARD**3 == pytest.approx(neat / 27)
    assert printed("388") == with_allowance(pit(3.5), 0.15) / YARD**3


@pytest.mark.by_hand(of=(cut_slope, pit_volume, spread))
def test_soil_is_a_question_of_money():
    assert [cut_slope(soil, 0.0) for soil in ("stable rock", "A", "B", "C")] == [0, 0.75, 1.0, 1.5]
    assert cut_slope("B", 2.0) == 2.0  # the media's own sides may be flatter
    assert printed("557.4") == pit(5.3, cut_slope("B", 1.0)) / YARD**3
    assert printed("628.5") == pit(5.3, cut_slope("C", 1.0)) / YARD**3
    assert printed("7.95") == spread(5.3, 1.5)


@pytest.mark.by_hand(of=(backfill_volume, spoil_volume, area_times_depth, pit_area))
def test_soil_back_and_soil_left():
    top = float(pit_area(LENGTH, WIDTH, side_slope=1.0, height=5.3 * FOOT))
    crown = area_times_depth(top, 0.25 * FOOT)
    assert printed("32.8") == crown / YARD**3 == pytest.approx(33.1 * 107.1 * 0.25 / 27)
    back = backfill_volume(pit(5.3), pit(3.5), top, 0.25 * FOOT)
    assert printed("252.6") == back / YARD**3
    assert printed("304.7") == spoil_volume(pit(5.3), back, 1.0, 1.0) / YARD**3
    # 304.7 x 1.25 is 380.9; unrounded the soil left is 304.74 CY of bank
    assert printed("380.9") == spoil_volume(pit(5.3), back, 1.0, 1.25) / YARD**3
    assert spoil_volume(10.0, 20.0, 1.1, 1.25) == pytest.approx(1.25 * (10 - 22))


@pytest.mark.by_hand(of=(fabric_area, disturbed_area))
def test_fabric_and_ground_to_seed():
    fabric = fabric_area(LENGTH, WIDTH, 1.0, 3.5 * FOOT, 2 * FOOT, 0.10)
    assert printed("406") == fabric / YARD**2 == pytest.approx(31.5 * 105.5 * 1.10 / 9)
    seeded = disturbed_area(LENGTH, WIDTH, 5.3 * FOOT, 15 * FOOT) / FOOT**2
    assert seeded == pytest.approx((96.5 + 2 * 20.3) * (22.5 + 2 * 20.3))


@pytest.mark.by_hand(of=(carbon_years,))
def test_carbon_clock_by_hand():
    # 258.1 m3 of 215 kg/m3, 49 percent carbon, half of it usable, 1.07 kg a kg of nitrogen
    years = 0.5 * 0.49 * 215 * 258.1 / (1.07 * 200)
    assert carbon_years(258.1, 215.0, 200.0) == pytest.approx(years)
    with pytest.raises(OutOfDomain, match="See what the bed removes first"):
        carbon_years(258.1, 215.0, 0.0)


@pytest.mark.by_hand(of=(top_of_media, top_of_cover, reserve, difference, drain_elevation_at_spot))
def test_levels_are_sums_and_differences():
    assert top_of_media(1180.70, 3.5) == pytest.approx(1184.20)
    assert top_of_cover(1186.00, 1184.20) == pytest.approx(1.8)
    assert top_of_cover(1184.00, 1184.20) == 0
    assert reserve(1184.39, 1182.20) == pytest.approx(2.19)
    assert difference(1184.20, 1182.70) == pytest.approx(1.50)
    assert drain_elevation_at_spot(1187.00, 4.0) == 1183.00


@pytest.mark.by_hand(of=(lined_share,))
def test_only_a_lining_lines():
    assert [lined_share(word) for word in ("geotextile", "plastic", "none")] == [1, 1, 0]


@pytest.mark.law(of=(lower_of, higher_of, total_of, same, difference))
@given(first=st.floats(-1e4, 1e4), second=st.floats(-1e4, 1e4))
def test_lower_and_higher_make_up_both(first, second):
    assert lower_of(first, second) <= higher_of(first, second)
    both = total_of(one=lower_of(first, second), other=higher_of(first, second))
    assert both == total_of(one=first, other=second)
    assert difference(same(first), first) == 0
