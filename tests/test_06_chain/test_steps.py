# SPDX-License-Identifier: Apache-2.0
"""Small arithmetic of the chain, what an edit changed, runners-up, cautions and price items."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import FOOT, corbel_inputs
from tilewater.basis.errors import UnknownName
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.alternatives import runners_up
from tilewater.chain.bed import top_of_cut
from tilewater.chain.cautions import caution_findings
from tilewater.chain.changes import compare_results, flatten, member_name
from tilewater.chain.design import design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.chain.main_parts import main_roughness, outlet_level, station_difference
from tilewater.chain.money import price_item
from tilewater.chain.plain import plain
from tilewater.chain.removal_parts import percent_of, settled_reduction, share_of_load
from tilewater.chain.result import result_record
from tilewater.chain.surcharge import surcharge_findings
from tilewater.chain.verdict import binding_of, open_items
from tilewater.practices.bed.system_steps import add_pipes


@pytest.mark.by_hand(of=(top_of_cut, outlet_level, station_difference))
def test_lengths_and_levels_by_hand():
    assert printed("107.1") == top_of_cut(96.5, 5.3)
    assert outlet_level(1180.95, 10 / 12) == pytest.approx(1181.7833, abs=1e-4)
    assert station_difference(290.0, 140.0) == 150.0


@pytest.mark.by_hand(of=(percent_of, share_of_load))
def test_percent_and_share_of_a_load():
    assert printed("12.8") == percent_of(268.0, 2095.0)
    assert share_of_load(2095.0, 0.661) == pytest.approx(1384.8, abs=0.1)


@pytest.mark.by_hand(of=(settled_reduction,))
def test_a_reduction_is_settled_where_both_ends_agree():
    assert settled_reduction(33.0, 80.0, 0.30) == pytest.approx(0.33)
    assert settled_reduction(5.0, 29.0, 0.30) == pytest.approx(0.29)
    torn = settled_reduction(12.0, 62.0, 0.30)
    assert isinstance(torn, Unknown)
    assert "12 to 62 percent" in torn.why


@pytest.mark.law(of=(settled_reduction,))
@given(low=st.floats(0, 100), more=st.floats(0, 100), limit=st.floats(0.05, 0.9))
def test_a_settled_reduction_stands_on_the_side_of_both_ends(low, more, limit):
    found = settled_reduction(low, low + more, limit)
    if is_unknown(found):
        assert low / 100 < limit <= (low + more) / 100
    else:
        assert (found >= limit) == (low / 100 >= limit) == ((low + more) / 100 >= limit)


@pytest.mark.works(of=(main_roughness,))
def test_a_rougher_main_has_the_larger_n():
    concrete, smooth = (main_roughness(m, 0.25) for m in ("concrete", "smooth plastic"))
    assert smooth < concrete < main_roughness("corrugated plastic", 0.25)
    assert concrete == 0.013


@pytest.mark.works(of=(compare_results, flatten, member_name))
def test_an_edit_tells_what_turned_and_what_moved():
    before = design_bed(corbel_inputs())
    after = design_bed(corbel_inputs({"bed.width_bottom_m": 20 * FOOT}))
    old, new = (result_record(design, (), "0") for design in (before, after))
    found = compare_results(old, new)
    assert (found.verdict.before, found.verdict.after) == (
        "fits with open items",
        "does not fit",
    )
    turned = {change.key: (change.before, change.after) for change in found.turned}
    assert turned["criteria.605-share-of-peak.result"] == ("holds", "short")
    moved = {change.key for change in found.moved}
    assert "bed.width_bottom_m" in moved
    assert "bed.length_bottom_m" not in moved
    same = compare_results(old, old)
    assert (same.turned, same.moved) == ((), ())
    assert flatten(old)["field.low-1.standing_m"] == pytest.approx(2.80 * FOOT)
    assert member_name({"spot": "low-1", "status": "holds"}) == "low-1"


@pytest.mark.works(of=(runners_up, binding_of))
def test_runners_up_say_what_stopped_them():
    narrow, short = runners_up(design_bed(corbel_inputs({"bed.width_bottom_m": 27 * FOOT})))
    assert "1 ft narrower: floor 96.5 by 26 ft" in narrow.what
    assert "1 ft shorter: floor 95.5 by 27 ft" in short.what
    assert "falls short" in narrow.why_not
    assert runners_up(design_bed(corbel_inputs({"bed.width_bottom_m": Unknown("open")}))) == ()
    stuck = design_bed(corbel_inputs({"bed.width_bottom_m": 20 * FOOT})).governs
    assert stuck is not None
    assert "falls short" in stuck.text


@pytest.mark.works(of=(caution_findings, surcharge_findings))
def test_cautions_follow_the_depth_of_the_cut():
    def codes(**changes: float) -> set[str]:
        renamed = {f"site.{key}": value for key, value in changes.items()}
        return {finding.code for finding in design_bed(corbel_inputs(renamed)).findings}

    deep, shallow = codes(), codes(ground_at_bed_m=1184.6 * FOOT)
    assert {"utility-locate", "confined-space", "cut-egress", "cut-protection"} <= deep
    assert "confined-space" in shallow
    assert not {"cut-egress", "cut-protection"} & shallow
    assert "surcharge-reaches-ground" in deep


@pytest.mark.works(of=(price_item,))
def test_quantities_are_paid_by_items_of_the_price_file():
    trace = design_bed(corbel_inputs()).trace
    assert price_item(trace, "lining") == "lining-plastic"
    assert price_item(trace, "pipe-bypass") == "solid-pipe-10-in"
    assert price_item(trace, "anchor-inlet") == "anchor-concrete"
    assert price_item(trace, "woodchips") == "woodchips"
    bare = design_bed(corbel_inputs({"bed.lining": Unknown("open")})).trace
    assert bare.value("inputs.price.lining.usd").measure == "say what it is made of"
    assert is_unknown(bare.value("cost.total_usd"))


@pytest.mark.works(of=(open_items, plain))
def test_a_missing_price_is_an_open_item_and_no_zero():
    design = design_bed(corbel_inputs({"price.woodchips.usd": Unknown("no price", "ask a bid")}))
    assert "inputs.price.woodchips.usd" in {item.key for item in design.open_items}
    assert plain(design.trace, "cost.total_usd") is None
    assert plain(design.trace, "cost.items.excavation.usd") > 0


@pytest.mark.works(of=(JobInputs.changed,))
def test_an_input_that_is_not_there_is_not_changed():
    with pytest.raises(UnknownName, match="Nothing was changed"):
        corbel_inputs({"bed.colour": 1.0})


@pytest.mark.works(of=(add_pipes,))
def test_a_pipe_that_is_not_listed_is_named_once_in_words() -> None:
    job = corbel_inputs()
    cut = replace(job, givens=tuple(g for g in job.givens if ".pipe.feed." not in g.key))
    flow = design_bed(cut).trace.value("capacity.criterion.flow_m3_s")

    assert flow == Unknown(
        "not known: pipe with the use feed",
        "list it under [pipe.NAME] of the job",
        ("system.feed.listed",),
    )
