# SPDX-License-Identifier: Apache-2.0
"""What is told first of what falls short, and a record of flow that nobody has sent yet."""

from functools import cache
from pathlib import Path

import pytest

from tests.jobs import corbel_inputs, with_givens
from tests.merridew import merridew_inputs
from tilewater.basis.trace import Given
from tilewater.basis.unknown import Unknown
from tilewater.chain.compare_contenders import stops_of
from tilewater.chain.design import Design, design_bed, design_practice
from tilewater.chain.practices import PRACTICES
from tilewater.chain.removal import add_removal
from tilewater.chain.verdict import (
    BANK_RANGE,
    BANK_STUDY,
    UNDER_THE_DITCH,
    binding_of,
    open_items,
    reasons,
    short_in_order,
)
from tilewater.tasks.checking import job_inputs

VERLING = Path(__file__).parents[2] / "examples" / "verling-farm"


@cache
def at_verling(practice: str) -> Design:
    return design_practice(job_inputs(VERLING)[0], PRACTICES[practice], by_days=False)


@pytest.mark.works(of=(binding_of, short_in_order))
def test_a_floor_under_ditch_water_is_told_before_anything_worse_by_its_scale():
    design = at_verling("bed")
    assert design.governs is not None
    assert design.governs.key == "elevations.floor_water-spring"
    slacks = [
        float(design.trace.value(f"{r.key}.slack"))
        for r in short_in_order(design.trace)
        if not r.key.startswith(UNDER_THE_DITCH)
    ]
    assert slacks == sorted(slacks)
    assert min(slacks) < design.governs.slack
    buffer = at_verling("buffer").governs
    assert buffer is not None
    assert buffer.key == "elevations.bypass_over_ditch-spring"


@pytest.mark.law(of=(reasons, stops_of))
def test_a_rule_that_falls_short_in_four_seasons_is_one_reason():
    design = at_verling("bed")
    every, told = short_in_order(design.trace), reasons(design.trace)
    assert len(told) < len(every)
    assert told[0] == every[0]
    floors = [r.key for r in told if r.key.startswith("elevations.floor_water")]
    assert floors == ["elevations.floor_water-spring"]  # the season in which it is worst
    assert [r.key for r in every if r in told] == [r.key for r in told]
    assert stops_of(design)[0] == "Floor of the bed above ordinary ditch water, spring"


@pytest.mark.works(of=(design_bed, add_removal))
def test_a_record_of_flow_that_nobody_has_sent_leaves_its_rule_open():
    record = Unknown("the record has not been sent", "ask for it")
    job = with_givens(
        corbel_inputs(), Given("inputs.record.daily_depth_m_s", record, "m/s", "Daily drain flow")
    )
    share = design_bed(job).trace.value("capacity.criterion.share_of_annual_flow")
    assert isinstance(share, Unknown)
    assert "inputs.record.daily_depth_m_s" in share.causes


@pytest.mark.works(of=(open_items,))
def test_a_bank_that_may_slide_is_open_until_somebody_judged_it():
    inputs = merridew_inputs()
    design = design_practice(inputs, PRACTICES["buffer"], by_days=False)
    assert any(item.key == BANK_RANGE for item in design.open_items)
    judged = inputs.changed({BANK_STUDY: "R. Lindqvist, 2026-10-02: stable at this head"})
    after = design_practice(judged, PRACTICES["buffer"], by_days=False)
    assert not any(item.key == BANK_RANGE for item in after.open_items)
