# SPDX-License-Identifier: Apache-2.0
"""The rows of standard 604 on a buffer: what each judges, how each limit is known."""

import pytest

from tests.buffers import designed
from tests.digits import printed
from tests.jobs import FOOT
from tilewater.criteria.standards import Confirmation, confirm_rows, judge_row, read_standard

ROWS = read_standard("604", "2020").rows


def judged(changes=None, *, holes=True, rows=ROWS):
    trace = designed({"buffer.note": "judged"} | (changes or {}), holes=holes)
    for row in rows:
        judge_row(trace, row, binding=not row.alternative, where="buffer")
    return {row.name: trace.value(f"criteria.{row.code}.status") for row in rows}, trace


@pytest.mark.works(of=(read_standard,))
def test_no_limit_was_read_in_the_standard_itself():
    sources = {row.source for row in ROWS}
    assert {row.name for row in ROWS if row.text_status == "memory"} == {"cover"}
    assert {"johnson-604", "ars-buffers", "successful-farming2021", "msu-buffers"} <= sources
    assert all(row.source != "nrcs604" for row in ROWS if row.text_status == "read")


@pytest.mark.published(
    "johnson-604", "5 percent, or as much as practical for the length", of=(read_standard,)
)
def test_the_flow_rule_has_two_arms():
    arms = {row.name: row for row in ROWS if row.alternative}
    assert printed("0.05") == arms["share-of-capacity"].limit
    assert printed("1.0") == arms["length-used"].limit
    assert len(arms) == 2


@pytest.mark.published("ars-buffers", "perennial buffer of 30 ft", of=(read_standard,))
def test_width_asked_of_a_strip():
    (row,) = (row for row in ROWS if row.name == "width")
    assert printed("30") == row.limit / FOOT


@pytest.mark.published(
    "successful-farming2021", "p. 41: 1.2 percent to 2.5 ft", of=(read_standard,)
)
def test_organic_matter_asked_of_the_soil():
    by_name = {row.name: row for row in ROWS}
    assert printed("1.2") == 100 * by_name["organic-matter"].limit
    assert printed("2.5") == by_name["organic-depth"].limit / FOOT


@pytest.mark.published("msu-buffers", "channel deeper than 8 ft", of=(read_standard,))
def test_height_of_bank_that_asks_for_a_study():
    (row,) = (row for row in ROWS if row.name == "bank")
    assert printed("8") == row.limit / FOOT


@pytest.mark.works(of=(judge_row,))
def test_the_farm_holds_every_row():
    statuses, trace = judged()
    assert set(statuses.values()) == {"holds"}
    assert {r.where for r in trace.requirements if r.key.startswith("criteria.")} == {"buffer"}


@pytest.mark.works(of=(judge_row,))
def test_a_tight_soil_holds_by_its_length_only_and_both_arms_are_shown():
    statuses, _ = judged(holes=False)
    assert statuses["share-of-capacity"] == "short"
    assert statuses["length-used"] == "holds"
    assert statuses["flow"] == "holds"
    shorter, _ = judged({"inputs.buffer.branches_m": (200 * FOOT, 200 * FOOT)}, holes=False)
    assert (shorter["flow"], shorter["length-used"]) == ("short", "short")


@pytest.mark.works(of=(judge_row,))
@pytest.mark.parametrize(
    ("key", "value", "row"),
    [
        ("inputs.buffer.width_m", 25 * FOOT, "width"),
        ("inputs.buffer_soil.organic_carbon", 0.006, "organic-matter"),
        ("inputs.buffer_soil.organic_depth_m", 1.0 * FOOT, "organic-depth"),
        ("inputs.buffer_soil.sand_depth_m", 3 * FOOT, "sand"),
        ("inputs.ditch.bank_top_m", 746.0 * FOOT, "bank"),
        ("inputs.buffer.ground_at_line_m", 744.0 * FOOT, "cover"),
        ("inputs.buffer.line_fall_m", 0.3 * FOOT, "level"),
        ("inputs.buffer.solid_at_structure_m", 5 * FOOT, "solid-pipe"),
        ("inputs.buffer.vegetation", "annual", "vegetation"),
    ],
)
def test_each_row_falls_short_by_its_own_value_and_is_not_known_without_it(key, value, row):
    statuses, _ = judged({key: value})
    assert statuses[row] == "short"
    assert judged({key: None})[0][row] == "not known"


@pytest.mark.works(of=(judge_row,))
def test_a_studied_bank_may_be_higher():
    high = {"inputs.ditch.bank_top_m": 747.0 * FOOT}
    assert judged(high)[0]["bank"] == "short"
    assert judged(high | {"inputs.buffer.bank_study": "A. Berg, stands"})[0]["bank"] == "holds"


@pytest.mark.works(of=(confirm_rows,))
def test_the_limit_on_organic_matter_may_be_confirmed_otherwise():
    word = Confirmation("604-organic-matter", "A. Berg", "2026-11-20", "Indiana 2021", 0.0129)
    rows = confirm_rows(ROWS, (word,))
    statuses, _ = judged({"inputs.buffer_soil.organic_carbon": 0.00715}, rows=rows)
    assert statuses["organic-matter"] == "short"
    assert judged({"inputs.buffer_soil.organic_carbon": 0.00715})[0]["organic-matter"] == "holds"
