# SPDX-License-Identifier: Apache-2.0
"""What changed since the last issued copy is told by key, with both texts and the line."""

import json
from dataclasses import replace

import pytest

from tilewater.chain.since_issued import (
    SinceIssued,
    Typed,
    compare_typed,
    compare_with_issued,
    since_issued_record,
)

WIDTH = Typed("bed.width_bottom", "Width of the floor", "30 ft", "job.toml", 40)
RECORD = {
    "verdict": "fits",
    "governs": {"text": "retention"},
    "bed": {"width_bottom_m": 9.144, "side_slope": 1.0},
    "capacity": {"spring": {"flow_m3_s": 0.004}},
    "boards": [{"name": "inlet-design", "crest_m": 360.5}],
    "criteria": [{"code": "605-retention", "result": "holds"}],
    "requirements": [
        {"name": "criteria.605-retention", "status": "holds"},
        {"name": "footprint.width", "status": "holds"},
    ],
}


@pytest.mark.works(of=(compare_typed,))
def test_typed_values_are_compared_by_key() -> None:
    gone = Typed("main.slope", "Slope", "0.2 %", "job.toml", 12)
    new = Typed("bed.cover", "Cover", "2 ft", "job.toml", 41)
    wider = replace(WIDTH, text="36 ft", line=43)
    changes = compare_typed((gone, WIDTH), (wider, new))
    assert [
        ("bed.width_bottom", "30 ft", "36 ft", 43),
        ("bed.cover", None, "2 ft", 41),
        ("main.slope", "0.2 %", None, 12),
    ] == [(c.key, c.before, c.after, c.line) for c in changes]


@pytest.mark.works(of=(compare_typed,))
def test_value_on_another_line_is_no_change() -> None:
    assert compare_typed((WIDTH,), (replace(WIDTH, line=99),)) == ()


@pytest.mark.works(of=(compare_with_issued, SinceIssued))
def test_results_leave_out_what_they_say_of_copies() -> None:
    after = RECORD | {"issued": [{"name": "a"}], "changed_since_issued": {"copy": "a"}}
    same = SinceIssued(
        "a", "draft", "R. L.", "2026-03-02", (), (), compare_with_issued(RECORD, after)
    )
    assert same.is_same


@pytest.mark.works(of=(SinceIssued, since_issued_record))
def test_governing_numbers_are_told_apart() -> None:
    after = RECORD | {
        "bed": {"width_bottom_m": 10.0, "side_slope": 2.0},
        "boards": [{"name": "inlet-design", "crest_m": 340.0}],
        "criteria": [{"code": "605-retention", "result": "short"}],
        "requirements": [
            {"name": "criteria.605-retention", "status": "short"},
            {"name": "footprint.width", "status": "short"},
        ],
        "verdict": "does not fit",
    }
    since = SinceIssued(
        "a", "draft", "R. L.", "2026-03-02", (), (), compare_with_issued(RECORD, after)
    )
    assert ["bed.width_bottom_m", "boards.inlet-design.crest_m"] == [c.key for c in since.governing]
    record = since_issued_record(since)
    assert record is not None
    assert record == json.loads(json.dumps(record))
    assert record["verdict"] == {"before": "fits", "after": "does not fit"}
    turned = {"before": "holds", "after": "short"}
    assert record["rules"] == [
        {"key": "criteria.605-retention.result", **turned},
        {"key": "requirements.footprint.width.status", **turned},
    ]
    assert not since.is_same


@pytest.mark.works(of=(since_issued_record,))
def test_nothing_is_told_where_nothing_was_issued() -> None:
    assert since_issued_record(None) is None
