# SPDX-License-Identifier: Apache-2.0
"""First weeks of a new bed: pore volumes by hand, boards in their order."""

from itertools import pairwise
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import INCH
from tilewater.basis.errors import OutOfDomain
from tilewater.practices.bed.start_up import (
    FLUSH,
    SET,
    days_to_flush,
    flow_through,
    least_flow,
    pore_volume,
    pore_volumes_per_day,
    season_of_most_flushing,
    start_up_steps,
    step_begins,
    step_ends,
)

INLET = tuple(board * INCH for board in (8, 8, 8, 8, 4))
HALF_DAY = 43200.0


@pytest.mark.by_hand(of=(pore_volume, pore_volumes_per_day, days_to_flush, least_flow))
def test_pore_volumes_of_corbel_farm_by_hand() -> None:
    """434.8 CY at 0.61 are 7,161 ft3; 0.20 cfs are 17,280 ft3 a day."""
    volume = pore_volume(434.8 * 27, 0.61)
    per_day = pore_volumes_per_day(0.20, volume)

    assert printed("7161") == volume
    assert 17280 / 7161 == pytest.approx(per_day, rel=1e-4)
    assert 3 * 7161 / 17280 == pytest.approx(days_to_flush(3, per_day), rel=1e-4)
    assert 7161 / (1.7 * 86400) == pytest.approx(least_flow(volume, 1.7 * 86400), rel=1e-4)
    assert days_to_flush(3, 0.0) == inf


@pytest.mark.by_hand(of=(start_up_steps, step_begins, step_ends))
def test_three_boards_over_three_to_ten_pore_volumes() -> None:
    """At 0.5 a day: 3, 6.5 and 10 pore volumes are 6, 13 and 20 days."""
    stack = (8 * INCH, 6 * INCH, 4 * INCH)
    steps = start_up_steps(INLET, stack, 0.5, 3.0, 10.0, HALF_DAY)

    assert [(s.from_day, s.to_day) for s in steps] == [(0, 6), (6, 13), (13, 20), (20, inf)]
    assert [s.outlet_boards for s in steps] == [(), stack[:1], stack[:2], stack]
    assert (steps[0].why, steps[-1].why) == (FLUSH, SET)
    assert (step_begins(steps, 2), step_ends(steps, 2), step_ends(steps, 4)) == (6, 13, inf)


@pytest.mark.law(of=(start_up_steps,))
@given(
    boards=st.integers(0, 8),
    per_day=st.floats(0.01, 20),
    first=st.floats(0, 5),
    more=st.floats(0, 10),
    pace=st.floats(0, 300000),
)
def test_boards_only_rise_and_never_faster_than_the_pace(
    boards: int, per_day: float, first: float, more: float, pace: float
) -> None:
    stack = (0.2,) * boards
    steps = start_up_steps(INLET, stack, per_day, first, first + more, pace)

    assert len(steps) == boards + 1
    assert (steps[0].from_day, steps[-1].to_day) == (0.0, inf)
    assert steps[-1].outlet_boards == stack
    for before, after in pairwise(steps):
        assert before.to_day == after.from_day
        assert len(after.outlet_boards) == len(before.outlet_boards) + 1
        assert (before.to_day - before.from_day) * 86400 >= pace
    if boards:
        assert steps[-1].from_day * per_day >= first + more - 1e-6


@pytest.mark.practice(of=(season_of_most_flushing, flow_through))
def test_a_bed_is_started_when_the_drains_run_most() -> None:
    assert season_of_most_flushing(winter=0.6, late_spring=2.4, summer=0.2) == "late-spring"
    assert flow_through(0.3, 0.2) == 0.2
    assert flow_through(0.1, 0.2) == 0.1


@pytest.mark.works(of=(start_up_steps, pore_volumes_per_day))
def test_a_bed_that_nothing_flows_through_has_no_plan() -> None:
    with pytest.raises(OutOfDomain) as dry:
        start_up_steps(INLET, (0.2,), 0.0, 3.0, 10.0, HALF_DAY)
    with pytest.raises(OutOfDomain, match=r"^volume is 0 m3\. A bed holds water"):
        pore_volumes_per_day(0.1, 0.0)

    assert str(dry.value) == (
        "per_day is 0 1/day. A bed is flushed by a flow. "
        "Start it in a season in which the drains run."
    )
