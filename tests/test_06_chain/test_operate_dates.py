# SPDX-License-Identifier: Apache-2.0
"""Days on which boards may be moved: one date that moves takes with it only what hangs on it."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.chain.operate_dates import (
    OwnerDates,
    day_after,
    day_number,
    days_between,
    field_work,
    moved_by,
    owner_dates,
    season_dates,
    work_days,
)
from tilewater.hydrology.ditch_stage import is_in_season

DATES = {"planting": "05-01", "harvest": "09-25", "manure": "11-05"}
FROST = ("12-10", "03-15")


def year(**moved: str) -> OwnerDates:
    return owner_dates(14.0, *FROST, **(DATES | moved))


def day_of(dates: OwnerDates, name: str) -> str:
    return next(turn.day for turn in dates.turns if turn.name == name)


@pytest.mark.by_hand(of=(day_after, day_number, days_between))
def test_days_are_counted_over_the_turn_of_a_leap_year():
    assert "04-17" == day_after("05-01", -14)
    assert "01-03" == day_after("12-30", 4)  # 30, 31 of December, then 1, 2, 3
    assert "02-29" == day_after("02-28", 1)
    assert 31 + 29 + 31 + 30 + 1 == day_number("05-01")
    assert 3 + 1 == days_between("12-29", "01-02")  # to the 1st are 3, one more to the 2nd


@pytest.mark.by_hand(of=(owner_dates, field_work))
def test_boards_may_be_moved_ahead_of_field_work_after_it_and_about_the_frost():
    told = {turn.name: turn.day for turn in year().turns}
    assert {
        "after-frost": "03-16",
        "ahead-of-planting": "04-17",  # 14 days before May 1
        "after-planting": "05-16",  # May 1 and 14 days of planting, the day after
        "ahead-of-harvest": "09-11",
        "after-harvest": "10-24",  # Sep 25 and 28 days, the day after
        "ahead-of-manure": "10-22",
        "after-manure": "11-13",
        "before-frost": "12-09",
    } == told


@pytest.mark.works(of=(owner_dates, moved_by))
def test_planting_ten_days_later_moves_only_what_hangs_on_planting():
    later = year(planting="05-11")
    assert ("ahead-of-planting", "after-planting") == moved_by(year(), later)
    assert ("04-27", "05-26") == tuple(
        day_of(later, name) for name in ("ahead-of-planting", "after-planting")
    )
    rests = {turn.name: turn.rests_on for turn in year().turns}
    assert {"ahead-of-planting", "after-planting"} == {
        name for name, on in rests.items() if "planting" in on
    }


@pytest.mark.law(of=(owner_dates, moved_by))
@given(
    st.sampled_from(sorted(DATES)),
    st.integers(-20, 20),
)
def test_a_date_that_moves_takes_with_it_only_turns_that_rest_on_it(name: str, days: int):
    before, after = year(), year(**{name: day_after(DATES[name], days)})
    names = {turn.name: turn.rests_on for dates in (before, after) for turn in dates.turns}
    shared = {t.name for t in before.turns} & {t.name for t in after.turns}
    assert all(name in names[turn] for turn in moved_by(before, after) if turn in shared)


@pytest.mark.law(of=(owner_dates,))
@given(st.integers(0, 365), st.integers(0, 365), st.integers(0, 60))
def test_no_board_is_moved_in_the_frost_and_turns_are_in_order(a: int, b: int, ahead: int):
    dates = owner_dates(
        float(ahead), *FROST, planting=day_after("01-01", a), harvest=day_after("01-01", b)
    )
    frozen = is_in_season(*FROST)
    assert not any(frozen[day_number(turn.day) - 1] for turn in dates.turns)
    assert all(one.day < other.day for one, other in pairwise(dates.turns))


@pytest.mark.works(of=(season_dates,))
def test_the_seasons_stand_in_where_the_owner_has_not_said():
    dates = season_dates(*FROST, winter="12-01", spring="03-20", late_fall="12-20")
    assert ("start-of-spring", "start-of-winter", "start-of-late-fall") == tuple(
        turn.name for turn in dates.turns
    )
    assert "12-09" == day_of(dates, "start-of-late-fall")  # moved to before the frost
    assert ((), "the seasons of the job") == (dates.work, dates.basis)


@pytest.mark.by_hand(of=(work_days,))
def test_field_work_counts_from_the_days_ahead_of_it():
    days = work_days(owner_dates(14.0, *FROST, planting="05-01", planting_ends="05-14"))
    assert 14 + 14 == int(np.count_nonzero(days))
    assert days[day_number("04-17") - 1]
    assert not days[day_number("05-15") - 1]


@pytest.mark.works(of=(field_work,))
def test_work_cannot_end_before_it_begins():
    with pytest.raises(OutOfDomain) as caught:
        field_work(14.0, planting="05-10", planting_ends="05-01")
    assert str(caught.value) == (
        "planting_ends is 05-01. It cannot come before planting, 05-10. Check both dates."
    )
