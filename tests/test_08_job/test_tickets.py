# SPDX-License-Identifier: Apache-2.0
"""Tickets of trucks, and days with their time in the job file."""

from pathlib import Path

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.fields import Setting, Wrong
from tilewater.job.moments import Days, Moment
from tilewater.job.tickets import read_tickets, refused_tickets

YARD = 0.9144**3
TON = 907.18474


def tickets(
    folder: Path, *rows: str, head: str = "ticket,time,volume [CY],mass [ton],refused"
) -> Path:
    file = folder / "tickets.csv"
    file.write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    return file


def faults(file: Path) -> list[str]:
    with pytest.raises(BadInputFile) as raised:
        read_tickets(file)
    return str(raised.value).splitlines()


@pytest.mark.by_hand(of=(read_tickets, refused_tickets))
def test_tickets_are_read_in_yards_or_tons_in_the_order_of_their_time(tmp_path: Path):
    file = tickets(
        tmp_path,
        "12,2027-09-27 10:05,,5.51,",
        '11,2027-09-27 08:35,20.0,,"soil, sent back"',
    )
    first, second = read_tickets(file)
    assert (first.ticket, first.time, first.refused) == (
        "11",
        "2027-09-27 08:35",
        "soil, sent back",
    )
    assert first.volume == pytest.approx(20 * YARD)
    assert second.mass == pytest.approx(5.51 * TON)
    assert second.volume is None
    assert refused_tickets(file) == {"11"}
    assert refused_tickets(tmp_path / "none.csv") == frozenset()


@pytest.mark.works(of=(read_tickets,))
def test_every_fault_of_the_file_is_told_at_once(tmp_path: Path):
    file = tickets(
        tmp_path,
        "11,2027-09-27 08:35,20.0,,",
        "11,2027-09-27 09:35,20.0,,",
        "13,morning,20.0,,",
        "14,2027-09-27 09:35,,,",
        "15,2027-09-27 09:35,-3,,",
    )
    assert faults(file) == [
        "tickets.csv line 3: ticket 11 stands on line 2 already. Keep one of them.",
        "tickets.csv line 4: time 'morning' is no day and time. Write year-month-day hour:minute, "
        "like 2027-09-27 09:40.",
        "tickets.csv line 5: ticket 14 has neither volume nor mass. Write what it prints.",
        "tickets.csv line 6: volume -3 is no load. It is more than 0. Read the ticket again.",
    ]


@pytest.mark.works(of=(read_tickets,))
def test_a_file_without_volume_and_mass_is_told(tmp_path: Path):
    (told,) = faults(tickets(tmp_path, "11,2027-09-27 08:35", head="ticket,time"))
    assert told == (
        "tickets.csv line 1: there is neither a column 'volume' nor a column 'mass'. Write "
        "volume [CY] or mass [ton] in the first row."
    )


@pytest.mark.works(of=(Moment,))
def test_a_moment_is_held_with_its_time_where_one_was_noted():
    ask = Moment("Filed", example="2027-09-02 15:00")
    assert ask.read("2027-09-02T15:00", Setting()) == "2027-09-02 15:00"
    assert ask.read("2027-09-02", Setting()) == "2027-09-02"
    strict = Moment("Filed", example="2027-09-02 15:00", needs_time=True)
    with pytest.raises(Wrong) as raised:
        strict.read("2027-09-02", Setting())
    assert str(raised.value) == (
        "'2027-09-02' is no day with its time. Write year-month-day hour:minute in local time, "
        'like "2027-09-02 15:00".'
    )
    with pytest.raises(Wrong, match="is no day"):
        ask.read("2027-09-02 15:00+02:00", Setting())


@pytest.mark.works(of=(Days,))
def test_a_list_of_days_holds_days_only():
    ask = Days("Holidays", example="2027-09-03")
    assert ask.read(["2027-09-03"], Setting()) == ("2027-09-03",)
    with pytest.raises(Wrong, match="holds what is no day"):
        ask.read(["friday"], Setting())
