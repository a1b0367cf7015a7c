# SPDX-License-Identifier: Apache-2.0
"""Waiting time of a locate request in working hours, days of a ticket, ground disturbed."""

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.ground.notices import earliest_dig, ground_disturbed, last_day_of_ticket

HOUR = 3600.0
LABOR_DAY = ("2026-09-07",)


@pytest.mark.by_hand(of=(earliest_dig,))
def test_a_request_before_labor_day_waits_over_it():
    # Thu 3 Sep 15:00: 9 h to midnight, Fri 24 h, then no Sat, Sun, Mon; 15 h of Tuesday are left
    assert 9 + 24 + 15 == 48
    assert earliest_dig("2026-09-03 15:00", 24 * HOUR, LABOR_DAY) == "2026-09-04 15:00"
    assert earliest_dig("2026-09-03 15:00", 48 * HOUR, LABOR_DAY) == "2026-09-08 15:00"
    assert earliest_dig("2027-09-02 15:00", 48 * HOUR, ("2027-09-06",)) == "2027-09-07 15:00"


@pytest.mark.by_hand(of=(earliest_dig,))
def test_a_request_on_a_day_off_begins_with_the_next_working_day():
    # filed on Saturday: Monday is Labor Day, so Tuesday and Wednesday are counted whole
    assert earliest_dig("2026-09-05 10:00", 48 * HOUR, LABOR_DAY) == "2026-09-10 00:00"


@pytest.mark.by_hand(of=(earliest_dig,))
def test_waiting_may_begin_with_the_next_working_day():
    # filed Monday 14 Sep: Tuesday and Wednesday whole
    assert (
        earliest_dig("2026-09-14 15:00", 48 * HOUR, (), "the next working day")
        == "2026-09-17 00:00"
    )


@pytest.mark.law(of=(earliest_dig,))
@given(
    st.datetimes(datetime(2026, 1, 1), datetime(2030, 1, 1)),
    st.floats(0.0, 200.0),
    st.floats(0.0, 200.0),
)
def test_more_waiting_never_ends_sooner_nor_on_a_weekend(
    filed: datetime, hours: float, more: float
):
    text = filed.isoformat(sep=" ", timespec="minutes")
    first = earliest_dig(text, hours * HOUR)
    assert first <= earliest_dig(text, (hours + more) * HOUR)
    assert datetime.fromisoformat(first).weekday() != 6
    assert (datetime.fromisoformat(first) - datetime.fromisoformat(text)).total_seconds() >= (
        hours * HOUR - 60.0
    )


@pytest.mark.practice(of=(last_day_of_ticket,))
def test_a_ticket_of_twenty_days_ends_twenty_days_later():
    assert last_day_of_ticket("2027-09-02 15:00", 20) == "2027-09-22"
    with pytest.raises(OutOfDomain, match="good for 1 day at least"):
        last_day_of_ticket("2027-09-02 15:00", 0)


@pytest.mark.by_hand(of=(ground_disturbed,))
def test_disturbed_ground_is_the_sum_of_its_pieces():
    assert ground_disturbed(works=900.0, spoil=550.0, pad=370.0) == 900.0 + 550.0 + 370.0


@pytest.mark.works(of=(earliest_dig,))
def test_a_waiting_time_below_nothing_is_refused():
    with pytest.raises(OutOfDomain, match="Waiting is 0 h or more"):
        earliest_dig("2026-09-03 15:00", -1.0)
    with pytest.raises(OutOfDomain, match="does not end within"):
        earliest_dig("2026-09-03 15:00", 24 * HOUR * 400)
