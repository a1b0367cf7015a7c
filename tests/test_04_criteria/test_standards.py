# SPDX-License-Identifier: Apache-2.0
"""Standards as data files: every row is judged, remembered limits stay marked until confirmed."""

import pytest

from tests.jobs import FOOT, corbel_inputs
from tilewater.basis.errors import UnknownName
from tilewater.basis.findings import Finding
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import design_bed
from tilewater.criteria.standards import Confirmation, confirm_rows, judge_row, read_standard

ROWS = read_standard("605", "2020").rows
SIZES = [row for row in ROWS if row.alternative]


@pytest.mark.works(of=(read_standard, judge_row))
@pytest.mark.parametrize("row", ROWS, ids=[row.code for row in ROWS])
def test_the_chain_computes_what_every_row_judges(row):
    trace = design_bed(corbel_inputs()).trace
    assert row.value in trace
    assert trace.value(f"criteria.{row.code}.limit") == row.limit
    assert trace.value(f"criteria.{row.code}.status") in ("holds", "short", "not known")


@pytest.mark.works(of=(read_standard,))
def test_an_unknown_standard_names_those_there_are():
    with pytest.raises(UnknownName, match=r"No standard '606' .* Known: .*605-2020-national"):
        read_standard("606", "2020")


@pytest.mark.works(of=(read_standard,))
def test_a_remembered_limit_is_never_shown_as_read():
    remembered = {row.code for row in ROWS if row.text_status == "memory"}
    assert remembered == {"605-retention"}
    assert all(row.confirmed == "" for row in ROWS)


@pytest.mark.works(of=(confirm_rows,))
def test_a_confirmation_makes_a_row_read_and_may_change_its_limit():
    word = Confirmation("605-retention", "A. Berg", "2026-11-20", "Iowa 2021", limit=4.0)
    rows = {row.code: row for row in confirm_rows(ROWS, (word,))}
    changed = rows["605-retention"]
    assert (changed.limit, changed.text_status) == (4.0, "read")
    assert changed.confirmed == "A. Berg, 2026-11-20, edition Iowa 2021"
    assert [row for row in rows.values() if row.code != "605-retention"] == [
        row for row in ROWS if row.code != "605-retention"
    ]
    as_remembered = Confirmation("605-retention", "A. Berg", "2026-11-20", "Iowa 2021")
    assert [row.limit for row in confirm_rows(ROWS, (as_remembered,))] == [
        row.limit for row in ROWS
    ]


@pytest.mark.works(of=(judge_row, design_bed))
@pytest.mark.parametrize("chosen", SIZES, ids=[row.code for row in SIZES])
def test_only_the_chosen_way_of_sizing_binds(chosen):
    design = design_bed(corbel_inputs({"criteria.flow_option": chosen.alternative}))
    binding = [r.code for r in SIZES if design.requirement(f"criteria.{r.code}").binding]
    assert binding == [chosen.code]


@pytest.mark.works(of=(judge_row, design_bed))
def test_every_way_of_sizing_binds_while_none_is_chosen():
    design = design_bed(corbel_inputs({"criteria.flow_option": Unknown("not chosen")}))
    assert all(design.requirement(f"criteria.{row.code}").binding for row in SIZES)


@pytest.mark.works(of=(judge_row, design_bed))
def test_a_row_that_does_not_bind_does_not_decide():
    narrow = {"bed.width_bottom_m": 19 * FOOT}
    monitored = design_bed(
        corbel_inputs(narrow | {"criteria.flow_option": "monitored share of peak"})
    )
    assert monitored.trace.value("criteria.605-share-of-peak.status") == "short"
    assert monitored.trace.value("criteria.605-monitored-share-of-peak.status") == "holds"
    assert design_bed(corbel_inputs(narrow)).trace.value("criteria.605-share-of-peak.status") == (
        "short"
    )
    assert design_bed(corbel_inputs(narrow)).verdict == "does not fit"


@pytest.mark.works(of=(design_bed, Finding))
@pytest.mark.parametrize("part", ["standard", "edition"])
def test_a_job_that_names_no_standard_is_judged_by_one_and_told_so(part):
    design = design_bed(corbel_inputs({f"criteria.{part}": Unknown("answered unknown")}))
    assert f"{part}-not-named" in {finding.code for finding in design.findings}
    assert f"inputs.criteria.{part}" in {item.key for item in design.open_items}
    assert [row.code for row in design.rows] == [row.code for row in ROWS]
