# SPDX-License-Identifier: Apache-2.0
"""What an edit moved, in words: what binds now, which rows turned."""

from functools import cache

import pytest

from tests.held import EXAMPLES
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_moves import what_moves


@cache
def held() -> HeldJob:
    return HeldJob(EXAMPLES / "corbel-farm")


@pytest.mark.works(of=(what_moves,))
def test_what_binds_now_is_said_first_and_then_what_bound_before():
    before, after = held().first(), held().first({"boards.inlet": "48 in"})
    moves = what_moves(before, after)
    assert before.record is not None
    assert after.record is not None
    assert moves.now_binds == after.record["governs"]["text"]
    assert moves.sentences[0] == f"Now binds: {moves.now_binds}."
    assert moves.sentences[1] == f"Bound before: {before.record['governs']['text']}."
    assert moves.sentences[2] == "Verdict now: does not fit; before: fits with open items."
    assert "Clear soil over standing water at low-1: holds, now short." in moves.sentences
    keys = {change.key for change in moves.moved}
    assert "capacity.criterion.flow_m3_s" in keys


@pytest.mark.works(of=(what_moves,))
def test_where_nothing_moved_it_still_binds():
    moves = what_moves(held().first(), held().first())
    assert moves.now_binds == ""
    assert moves.moved == moves.turned == ()
    (only,) = moves.sentences
    assert only.startswith("Still binds: ")


@pytest.mark.works(of=(what_moves,))
def test_an_edit_at_fault_says_its_fault():
    moves = what_moves(held().first(), held().first({"boards.inlet": "3 lb"}))
    assert moves.moved == moves.turned == ()
    (only,) = moves.sentences
    assert only.startswith("job.toml line 212: boards.inlet: '3 lb' is a weight")
    back = what_moves(held().first({"boards.inlet": "3 lb"}), held().first())
    assert back.sentences[0].startswith("Now binds: ")


@pytest.mark.works(of=(what_moves,))
def test_a_first_answer_beside_a_refined_one_is_compared_by_what_both_say():
    moves = what_moves(held().first(), held().refined())
    heads = {change.key.partition(".")[0] for change in (*moves.moved, *moves.turned)}
    assert heads.isdisjoint({"removal", "decides", "advice", "side_effects", "alternatives"})
