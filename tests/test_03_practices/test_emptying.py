# SPDX-License-Identifier: Apache-2.0
"""What comes out of an emptied bed, by hand: floor 96.5 by 30 ft, 1:1, 3.5 ft of water."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import CFS, FOOT, INCH
from tilewater.basis.errors import OutOfDomain
from tilewater.practices.bed.emptying import (
    depth_above_pool,
    drainable_water,
    feed_shut_offs,
    higher_of,
    highest_way_out,
    mean_outflow,
    return_flow_full,
    share_let_out,
    standing_depth,
    standing_pool,
    time_to_pull,
)
from tilewater.practices.bed.let_out import share_of_all, water_let_out

PIT = {"bottom_length": 96.5, "bottom_width": 30.0, "side_slope": 1.0}
HOUR = 3600.0


def volume(d: float) -> float:
    """Pit of 96.5 by 30 ft with 1:1 sides up to a depth, in ft3: the integral of its area."""
    return 96.5 * 30 * d + (96.5 + 30) * d**2 + 4 / 3 * d**3


@pytest.mark.by_hand(of=(share_let_out, drainable_water))
def test_spring_high_water_leaves_a_third_in_the_bed() -> None:
    """Ditch at 1182.1, floor 1180.7: 1.4 ft stay."""
    pool = standing_pool(higher_of(1180.70, 1182.1), 1180.70, 3.5)
    share = share_let_out(pool, 3.5, **PIT)

    assert 1.4 == pytest.approx(pool)
    assert 1 - volume(1.4) / volume(3.5) == pytest.approx(share, rel=1e-12)
    assert printed("0.633") == share
    assert 0.45 * volume(3.5) == pytest.approx(drainable_water(3.5, 0.45, **PIT), rel=1e-12)


@pytest.mark.by_hand(of=(highest_way_out, higher_of, standing_pool, depth_above_pool))
def test_water_stands_as_high_as_the_highest_thing_on_its_way() -> None:
    assert 1180.9 == highest_way_out(1180.70, 1180.9, 1180.61)
    assert 1181.0 == highest_way_out(1180.70, 1180.7, 1181.0)
    assert 1179.6 == higher_of(1179.6, 1179.2)
    assert (0.0, 0.25) == (
        standing_pool(1180.5, 1180.7, 3.5),
        standing_pool(1180.75, 1180.5, 3.5),
    )
    assert 3.5 == standing_pool(1185.0, 1180.7, 3.5)  # 4.3 ft of water over 3.5 ft of chips
    assert (2.1, 0.0) == (pytest.approx(depth_above_pool(3.5, 1.4)), depth_above_pool(1.0, 1.4))
    assert 3.0 == standing_depth(3.5, 3.0)


@pytest.mark.by_hand(of=(return_flow_full, mean_outflow))
def test_the_return_full_and_the_first_hour() -> None:
    """8 in at 0.09 ft in 22 ft, n 0.012: (1.486 / n) A R^(2/3) S^(1/2)."""
    area, radius, slope = 3.14159265 / 4 * (8 / 12) ** 2, 8 / 48, 0.09 / 22
    full = 1.486 / 0.012 * area * radius ** (2 / 3) * slope**0.5
    flow = return_flow_full(1180.70 * FOOT, 1180.61 * FOOT, 22 * FOOT, 8 * INCH, 0.012)

    assert full == pytest.approx(flow / CFS, rel=1e-3)
    assert 0.0 == return_flow_full(1180.6, 1180.7, 22.0, 0.2, 0.012)
    assert 0.5 * 5000 / 3600 == mean_outflow(0.5, 5000.0, HOUR)


@pytest.mark.by_hand(of=(share_of_all, water_let_out))
def test_cells_count_by_the_water_they_hold() -> None:
    """300 m3 of which a third comes out beside 100 m3 of which all does: half of 400."""
    large, small = water_let_out(300.0, 1 / 3), water_let_out(100.0, 1.0)

    assert (100.0, 100.0) == (pytest.approx(large), small)
    assert 0.5 == pytest.approx(share_of_all(400.0, large=large, small=small))
    with pytest.raises(OutOfDomain, match=r"^drainable is 0 m3\. A full bed has water"):
        share_of_all(0.0, large=0.0)


@pytest.mark.practice(of=(time_to_pull,))
def test_one_board_in_twelve_hours() -> None:
    assert 24 * HOUR == time_to_pull((0.2, 0.2, 0.2), 12 * HOUR)
    assert 0.0 == time_to_pull((), 12 * HOUR) == time_to_pull((0.2,), 12 * HOUR)


@pytest.mark.law(of=(share_let_out,))
@given(
    pool=st.floats(0, 4),
    higher=st.floats(0, 2),
    depth=st.floats(0.1, 2),
    side=st.floats(0, 2),
)
def test_higher_water_in_the_ditch_never_lets_more_out(
    pool: float, higher: float, depth: float, side: float
) -> None:
    pit = {"bottom_length": 30.0, "bottom_width": 8.0, "side_slope": side}
    low, high = (share_let_out(p, depth, **pit) for p in (pool, pool + higher))

    assert 0.0 <= high <= low <= 1.0
    assert share_let_out(0.0, depth, **pit) == 1.0
    assert share_let_out(depth, depth, **pit) == 0.0
    if side == 0.0 and pool < depth:
        assert low == pytest.approx(1 - pool / depth)


@pytest.mark.works(of=(feed_shut_offs, share_let_out))
def test_what_has_no_meaning_is_refused() -> None:
    assert [feed_shut_offs(word) for word in ("gate", "boards", "none")] == [1, 1, 0]
    with pytest.raises(OutOfDomain) as word:
        feed_shut_offs("valve")
    with pytest.raises(OutOfDomain, match=r"^depth is 0 m\. A full bed has water"):
        share_let_out(0.0, 0.0, **PIT)

    assert str(word.value) == (
        "feed_gate is valve. The feed is shut by a gate, by boards or by none. Write one of these."
    )
