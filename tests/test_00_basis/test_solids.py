# SPDX-License-Identifier: Apache-2.0
"""Holes, sheets and soil.

L, W floor of the hole in feet, z side slope, h depth, s length up the slope.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.solids import (
    bank_volume_for_fill,
    compacted_volume,
    loose_volume,
    pit_area,
    pit_cover_area,
    pit_sheet_area,
    pit_surface_area,
    pit_volume,
    prismoid_volume,
    slope_length,
)

CUBIC_YARD = 27.0
SQUARE_YARD = 9.0


@pytest.mark.by_hand(of=(pit_area, prismoid_volume))
def test_chips_of_a_bed_by_three_areas() -> None:
    areas = [pit_area(96.5, 22.5, side_slope=1.0, height=h) for h in (0.0, 1.75, 3.5)]

    assert [22.5 * 96.5, 26.0 * 100.0, 29.5 * 103.5] == areas
    assert printed("337.6") == prismoid_volume(*areas, length=3.5) / CUBIC_YARD


@pytest.mark.by_hand(of=(pit_volume,))
@pytest.mark.parametrize(
    ("width", "depth", "side_slope", "cubic_yards"),
    [
        (22.5, 3.5, 1.0, "337.6"),
        (22.5, 5.3, 1.0, "557.4"),
        (22.5, 5.3, 1.5, "628.5"),
        (30.0, 3.5, 1.0, "434.8"),
        (30.0, 5.3, 1.0, "707.2"),
        (30.0, 5.3, 1.5, "782.2"),
    ],
)
def test_chips_and_excavation_of_two_beds(
    width: float, depth: float, side_slope: float, cubic_yards: str
) -> None:
    volume = pit_volume(96.5, width, side_slope=side_slope, depth=depth)

    assert printed(cubic_yards) == volume / CUBIC_YARD


@pytest.mark.by_hand(of=(pit_sheet_area, slope_length))
def test_sheet_in_one_piece_with_laps_of_two_feet() -> None:
    s = 3.5 * math.sqrt(2.0)
    by_hand = (22.5 + 2 * (s + 2)) * (96.5 + 2 * (s + 2))
    sheet = pit_sheet_area(96.5, 22.5, side_slope=1.0, depth=3.5, lap=2.0)

    assert by_hand == pytest.approx(sheet, rel=1e-14)
    assert printed("4018.5") == sheet
    assert printed("446.5") == sheet / SQUARE_YARD
    assert printed("4.95") == slope_length(3.5, side_slope=1.0)


@pytest.mark.by_hand(of=(pit_surface_area,))
def test_lined_area_of_the_same_bed() -> None:
    by_hand = 22.5 * 96.5 + 2 * (26.0 + 100.0) * 3.5 * math.sqrt(2.0)
    lined = pit_surface_area(96.5, 22.5, side_slope=1.0, depth=3.5)

    assert by_hand == pytest.approx(lined, rel=1e-14)
    assert printed("3418.6") == lined


@pytest.mark.by_hand(of=(pit_cover_area,))
def test_cover_laps_one_foot_on_each_side() -> None:
    assert 31.5 * 105.5 == pit_cover_area(96.5, 22.5, side_slope=1.0, depth=3.5, lap=1.0)


@pytest.mark.by_hand(of=(loose_volume,))
def test_spoil_swells_by_a_quarter() -> None:
    assert printed("380.9") == loose_volume(304.7, swell=0.25)


@pytest.mark.law(of=(compacted_volume, bank_volume_for_fill))
@given(volume=st.floats(0.0, 1e6), shrink=st.floats(0.0, 0.9))
def test_shrink_there_and_back(volume: float, shrink: float) -> None:
    fill = compacted_volume(volume, shrink=shrink)

    assert volume == pytest.approx(bank_volume_for_fill(fill, shrink=shrink), rel=1e-12)
    assert fill <= volume


@pytest.mark.law(of=(pit_volume, pit_surface_area, pit_sheet_area))
@given(
    length=st.floats(0.1, 100.0),
    width=st.floats(0.1, 50.0),
    side_slope=st.floats(0.0, 4.0),
    depth=st.one_of(st.just(0.0), st.floats(1e-6, 5.0)),
)
def test_hole_lies_between_its_box_and_its_widest_box(
    length: float, width: float, side_slope: float, depth: float
) -> None:
    volume = pit_volume(length, width, side_slope=side_slope, depth=depth)
    top = pit_area(length, width, side_slope=side_slope, height=depth)
    lined = pit_surface_area(length, width, side_slope=side_slope, depth=depth)
    sheet = pit_sheet_area(length, width, side_slope=side_slope, depth=depth, lap=0.0)
    rounding = 1.0 + 1e-12

    assert length * width * depth <= volume * rounding
    assert volume <= top * depth * rounding
    assert max(top, length * width) <= lined * rounding
    assert lined <= sheet * rounding


@pytest.mark.law(of=(pit_volume,))
@given(side_slope=st.floats(0.0, 3.0), depth=st.floats(0.01, 5.0))
def test_two_layers_hold_what_the_whole_holds(side_slope: float, depth: float) -> None:
    upper_floor = 0.4 * depth * side_slope * 2
    lower = pit_volume(20.0, 8.0, side_slope=side_slope, depth=0.4 * depth)
    upper = pit_volume(
        20.0 + upper_floor, 8.0 + upper_floor, side_slope=side_slope, depth=0.6 * depth
    )

    assert pit_volume(20.0, 8.0, side_slope=side_slope, depth=depth) == pytest.approx(
        lower + upper, rel=1e-12
    )


@pytest.mark.law(of=(pit_volume, pit_sheet_area, loose_volume))
def test_many_at_once_are_each_alone() -> None:
    depths = np.array([0.0, 1.0, 2.5])

    assert [float(pit_volume(30.0, 9.0, side_slope=1.0, depth=d)) for d in depths] == list(
        pit_volume(30.0, 9.0, side_slope=1.0, depth=depths)
    )
    assert [
        float(pit_sheet_area(30.0, 9.0, side_slope=1.0, depth=d, lap=0.5)) for d in depths
    ] == list(pit_sheet_area(30.0, 9.0, side_slope=1.0, depth=depths, lap=0.5))
    assert [0.0, 1.25, 3.125] == list(loose_volume(depths, swell=0.25))


@pytest.mark.works(of=(pit_area, pit_volume, prismoid_volume))
def test_messages_name_the_value() -> None:
    with pytest.raises(OutOfDomain, match=r"^height is -1 m\. It cannot be negative\."):
        pit_area(1.0, 1.0, side_slope=1.0, height=-1.0)
    with pytest.raises(OutOfDomain, match=r"^side_slope is -1 m/m\. .* Give horizontal per"):
        pit_volume(1.0, 1.0, side_slope=-1.0, depth=1.0)
    with pytest.raises(OutOfDomain, match=r"^area_middle is -2 m2\."):
        prismoid_volume(1.0, -2.0, 1.0, length=1.0)


@pytest.mark.works(of=(compacted_volume, bank_volume_for_fill))
def test_a_fill_cannot_vanish() -> None:
    with pytest.raises(OutOfDomain, match=r"^shrink is 10\. A share lies between 0 and 1\."):
        compacted_volume(1.0, shrink=10.0)
    with pytest.raises(OutOfDomain, match=r"^1 - shrink is 0\. It must be above zero\."):
        bank_volume_for_fill(1.0, shrink=1.0)
