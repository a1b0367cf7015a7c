# SPDX-License-Identifier: Apache-2.0
"""Labels keep their room and their order; scales are those of the rule."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import FOOT
from tilewater.documents.profile.rails import spread, spread_between
from tilewater.documents.scales import Figures, fitting_scale, round_step
from tilewater.documents.sheet import Sheet

HAIR = 1e-6  # mm, arithmetic

rails = st.lists(
    st.tuples(st.floats(0.0, 500.0), st.floats(1.0, 80.0)), min_size=1, max_size=12
).map(lambda pairs: sorted(pairs))


@pytest.mark.law(of=(spread,))
@given(rails)
def test_labels_have_their_room_and_keep_their_order(tags: list[tuple[float, float]]) -> None:
    places, rooms = [place for place, _ in tags], [room for _, room in tags]
    moved = spread(places, rooms)
    for (low, high), (first, second) in zip(pairwise(moved), pairwise(rooms), strict=True):
        assert high - low >= (first + second) / 2 - HAIR
    assert sum(moved) == pytest.approx(sum(places), abs=1e-3)


@pytest.mark.law(of=(spread,))
@given(st.lists(st.integers(0, 40), min_size=1, max_size=9, unique=True))
def test_labels_that_do_not_touch_stay(places: list[int]) -> None:
    apart = [20.0 * place for place in sorted(places)]
    assert apart == pytest.approx(spread(apart, [20.0] * len(apart)))


@pytest.mark.by_hand(of=(spread,))
def test_two_labels_at_one_place_part_evenly() -> None:
    assert [93.5, 106.5] == pytest.approx(spread([100.0, 100.0], [13.0, 13.0]))


@pytest.mark.law(of=(spread_between,))
@given(rails)
def test_labels_stay_between_two_ends_where_they_have_room(tags: list[tuple[float, float]]) -> None:
    places, rooms = [place for place, _ in tags], [room for _, room in tags]
    low, high = -20.0, -20.0 + sum(rooms) + 30.0
    moved = spread_between(places, rooms, low, high)
    assert moved[0] - rooms[0] / 2 >= low - HAIR
    assert moved[-1] + rooms[-1] / 2 <= high + HAIR
    for (left, right), (first, second) in zip(pairwise(moved), pairwise(rooms), strict=True):
        assert right - left >= (first + second) / 2 - HAIR


@pytest.mark.by_hand(of=(fitting_scale,))
def test_largest_scale_of_the_rule_that_fits() -> None:
    # 193 ft at 20 ft to the inch are 9.65 in; 20 ft are 240 in
    assert 240.0 == pytest.approx(fitting_scale(193 * FOOT, 9.7 * 25.4, "us"))
    assert printed("9.65") == 193 * 12 / fitting_scale(193 * FOOT, 9.7 * 25.4, "us")
    assert 360.0 == pytest.approx(fitting_scale(193 * FOOT, 9.6 * 25.4, "us"))
    # 25 m at 1:250 are 100 mm
    assert 250.0 == fitting_scale(25.0, 100.1, "si")
    assert 400.0 == fitting_scale(25.0, 99.9, "si")


@pytest.mark.by_hand(of=(round_step,))
def test_steps_of_an_axis_are_round() -> None:
    assert [1.0, 0.2, 5.0, 20.0] == [round_step(x, 8.0) for x in (8.4, 2.0, 45.0, 150.0)]


@pytest.mark.works(of=(Figures,))
def test_figures_are_those_of_the_reader() -> None:
    us, si = Figures("us"), Figures("si")
    assert ("1184.20", "360.944") == (us.elevation(360.94416), si.elevation(360.94416))
    assert ("20.35 ft", "6.203 m") == (us.length(6.20268), si.length(6.20268))
    assert 1200 / 3937 == pytest.approx(Figures("us", "us survey foot").metre_per_unit)


@pytest.mark.works(of=(Sheet,))
def test_label_knows_whether_it_has_room() -> None:
    sheet = Sheet(400.0)
    first = sheet.text((100.0, 50.0), "bank top 1185.75")
    assert not sheet.has_room((first.x1 - 5.0, 50.0), "ground 1186.00")
    assert sheet.has_room((first.x1 + 5.0, 50.0), "ground 1186.00")
    assert sheet.has_room((100.0, 65.0), "ground 1186.00")
