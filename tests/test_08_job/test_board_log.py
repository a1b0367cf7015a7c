# SPDX-License-Identifier: Apache-2.0
"""The log of the boards: what it holds, what it is at fault with, which crest stood when."""

from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.board_log import (
    Boards,
    BoardSet,
    append_change,
    change_row,
    crest_at,
    height_of_tape,
    read_board_changes,
)
from tilewater.job.times import zone_of

INCH, FOOT = 0.0254, 0.3048
SILL, RIM = 1181.20 * FOOT, 1187.00 * FOOT
INLET = BoardSet(SILL, RIM, RIM - SILL)
OUTLET = BoardSet(1180.70 * FOOT, RIM, RIM - 1180.70 * FOOT)
BOARDS = Boards({"inlet": INLET, "outlet": OUTLET}, (8 * INCH, 6 * INCH, 4 * INCH))
DAY = 86400.0


def log(folder: Path, *rows: str, head: str = "time,set,stack [in],rim_down [in],who,note") -> Path:
    path = folder / "boards-log.csv"
    path.write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    return path


def faults_of(path: Path) -> list[str]:
    with pytest.raises(BadInputFile) as caught:
        read_board_changes(path, BOARDS)
    return [str(fault) for fault in caught.value.faults]


@pytest.mark.by_hand(of=(read_board_changes,))
def test_a_stack_and_a_tape_give_the_same_crest(tmp_path):
    # 5.80 ft from sill to rim are 69.6 in; 36 in of boards leave 33.6 in under the rim
    path = log(
        tmp_path, "2027-12-01 09:30,inlet,36,,T. Hale,", "2028-04-17 10:00,bypass,,33.6,T. Hale,"
    )
    first, second = read_board_changes(path, BOARDS)
    assert first.crest_m == pytest.approx(SILL + 36 * INCH)
    assert second.crest_m == pytest.approx(first.crest_m)
    assert ("inlet", "inlet") == (first.set, second.set)
    assert pytest.approx([8 * INCH] * 4 + [4 * INCH]) == first.stack_m


@pytest.mark.works(of=(read_board_changes,))
def test_boards_are_written_from_the_sill_up(tmp_path):
    (change,) = read_board_changes(log(tmp_path, "2027-12-01 09:30,outlet,8+8+8,,,"), BOARDS)
    assert change.height_m == pytest.approx(24 * INCH)


@pytest.mark.works(of=(read_board_changes,))
def test_times_are_those_of_the_site(tmp_path):
    path = log(tmp_path, "2028-07-01 09:00,inlet,36,,,")
    (summer,) = read_board_changes(path, BOARDS, zone_of("America/Chicago"))
    (universal,) = read_board_changes(path, BOARDS)
    assert summer.time_s - universal.time_s == 5 * 3600  # daylight saving: 5 h behind


@pytest.mark.works(of=(read_board_changes,))
def test_two_stacks_at_one_time_are_told_with_both_lines(tmp_path):
    path = log(tmp_path, "2028-04-17 10:00,inlet,36,,,", "2028-04-17 10:00,inlet,20,,,")
    assert [
        "boards-log.csv line 3: the inlet boards have two stacks at one time: 36 in in line 2, "
        "20 in here. Correct the time of one, or take it out."
    ] == faults_of(path)


@pytest.mark.works(of=(read_board_changes,))
def test_the_same_change_written_twice_counts_once(tmp_path):
    path = log(tmp_path, "2028-04-17 10:00,inlet,36,,,", "2028-04-17 10:00,inlet,36,,,again")
    assert len(read_board_changes(path, BOARDS)) == 1


@pytest.mark.works(of=(height_of_tape, read_board_changes))
def test_a_tape_that_fits_no_stack_names_the_nearest(tmp_path):
    # 69.6 in of structure less 66.1 in leave 3.5 in; less 67.6 in 2 in, between none and 4 in
    assert height_of_tape(66.1 * INCH, INLET, BOARDS) == pytest.approx(4 * INCH)
    assert [
        "boards-log.csv line 2: 67.6 in down from the rim fits no stack of these boards. The "
        "nearest are 0 in (rim down 69.6 in) and 4 in (rim down 65.6 in). Measure again to the "
        "top board."
    ] == faults_of(log(tmp_path, "2028-04-17 10:00,inlet,,67.6,,"))


@pytest.mark.works(of=(read_board_changes,))
def test_every_fault_is_told_at_once(tmp_path):
    path = log(
        tmp_path,
        "yesterday,inlet,36,,,",
        "2028-04-17 10:00,gate,36,,,",
        "2028-04-18 10:00,inlet,,,,",
        "2028-04-19 10:00,inlet,5,,,",
    )
    assert [
        "boards-log.csv line 2: 'yesterday' is no time. Write it like 2027-12-01 09:30.",
        "boards-log.csv line 3: 'gate' is no set of boards of this job. Write one of inlet, "
        "bypass, outlet.",
        "boards-log.csv line 4: neither stack nor rim_down is given. Give one of them.",
        "boards-log.csv line 5: a stack of 5 in cannot be made of these boards. The nearest are "
        "4 in and 6 in. Write the height above the sill.",
    ] == faults_of(path)


@pytest.mark.works(of=(crest_at,))
def test_a_crest_stands_until_the_next_change_and_is_not_known_before_the_first(tmp_path):
    path = log(tmp_path, "1970-01-02 00:00,inlet,36,,,", "1970-01-04 00:00,inlet,20,,,")
    times = np.array([0.0, 1.0, 2.9, 3.0, 9.0]) * DAY
    crests = crest_at(read_board_changes(path, BOARDS), "inlet", times)
    assert np.isnan(crests[0])
    assert [36, 36, 20, 20] == pytest.approx(list((crests[1:] - SILL) / INCH))


@pytest.mark.works(of=(append_change, change_row))
def test_a_change_that_is_added_can_be_read(tmp_path):
    path = tmp_path / "boards-log.csv"
    append_change(path, change_row(datetime(2028, 4, 17, 9, 5), "inlet", 36 * INCH, "T, H", "=1+1"))
    (change,) = read_board_changes(path, BOARDS)
    assert ("T, H", "'=1+1", 2) == (change.who, change.note, change.line)
    assert change.height_m == pytest.approx(36 * INCH)
