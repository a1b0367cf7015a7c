# SPDX-License-Identifier: Apache-2.0
"""Beds that pass by flow and time and still cannot be built: their reasons have rows."""

from dataclasses import replace

import pytest

from tests.jobs import FOOT, INCH, corbel_inputs
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Given, Origin
from tilewater.chain.bed import across_cut
from tilewater.chain.design import Design, design_bed
from tilewater.chain.ditch_share import share_under_crest
from tilewater.chain.inputs import JobInputs
from tilewater.practices.bed.ladder import smallest_board


def status(design: Design, row: str) -> str:
    return str(design.trace.value(f"{row}.status"))


def value(design: Design, key: str) -> float:
    return float(design.trace.value(key))


def with_widest_cut(width: float) -> JobInputs:
    job = corbel_inputs()
    widest = Given("inputs.site.widest_cut_m", width, "m", "Widest cut", Origin())
    return replace(job, givens=(*job.givens, widest))


@pytest.fixture(scope="module")
def farm() -> Design:
    return design_bed(corbel_inputs())


@pytest.mark.by_hand(of=(across_cut,))
def test_an_easement_for_trenches_refuses_a_pit() -> None:
    narrow = design_bed(with_widest_cut(3 * FOOT))
    assert value(narrow, "footprint.across_m") / FOOT == pytest.approx(30 + 2 * 5.3)
    assert across_cut(20.0, 30.0, 2.0) == 20.0 + 2 * 2.0
    assert status(narrow, "widest_cut") == "short"
    assert narrow.verdict == "does not fit"
    wide = design_bed(with_widest_cut(45 * FOOT))
    assert status(wide, "widest_cut") == "holds"


@pytest.mark.works(of=(design_bed,))
def test_without_an_easement_no_row_asks_for_one(farm: Design) -> None:
    assert "widest_cut" not in {row.key for row in farm.trace.requirements}


@pytest.mark.by_hand(of=(design_bed,))
def test_a_floor_under_ordinary_ditch_water_is_refused(farm: Design) -> None:
    assert value(farm, "elevations.floor_water-spring.value_m") / FOOT == pytest.approx(
        1180.70 - 1180.1
    )
    assert status(farm, "elevations.floor_water-spring") == "holds"
    wet = design_bed(corbel_inputs({"season.spring.ditch_stage_m": 1180.9 * FOOT}))
    assert value(wet, "elevations.floor_water-spring.value_m") / FOOT == pytest.approx(-0.2)
    assert status(wet, "elevations.floor_water-spring") == "short"


@pytest.mark.by_hand(of=(smallest_board,))
def test_a_head_smaller_than_one_board_is_refused(farm: Design) -> None:
    assert smallest_board((8 * INCH, 4 * INCH, 6 * INCH), 0.0) == pytest.approx(4 * INCH)
    assert smallest_board((8 * INCH,), 0.5 * INCH) == pytest.approx(8.5 * INCH)
    # inlet 36 in on 1181.20, outlet 24 in on 1180.70: 1.5 ft between the crests
    assert value(farm, "elevations.driving_head.value_m") / FOOT == pytest.approx(1.5)
    assert status(farm, "board_step") == "holds"
    # both sills level and the boards 36 and 32 in: a head of 4 in under boards of 8 in
    flat = design_bed(
        corbel_inputs(
            {
                "boards.heights_m": (8 * INCH, 36 * INCH, 38 * INCH),
                "boards.outlet_m": 38 * INCH,
            }
        )
    )
    head = 1181.20 + 36 / 12 - (1180.70 + 38 / 12)
    assert value(flat, "elevations.driving_head.value_m") / FOOT == pytest.approx(head)
    assert status(flat, "board_step") == "short"


@pytest.mark.works(of=(share_under_crest,))
def test_a_ditch_that_never_reaches_the_bypass_crest_needs_no_days(farm: Design) -> None:
    assert value(farm, "ditch.share_over_bypass") == 0.0
    assert status(farm, "ditch_over_bypass") == "holds"
    with pytest.raises(OutOfDomain, match="reserve"):
        share_under_crest(winter=0.3, spring=-0.1)


@pytest.mark.works(of=(design_bed,))
def test_a_ditch_over_the_bypass_crest_is_not_known_without_days() -> None:
    high = design_bed(corbel_inputs({"season.spring.ditch_high_m": 1184.5 * FOOT}))
    assert status(high, "ditch_over_bypass") == "not known"
    assert high.verdict != "fits"
