# SPDX-License-Identifier: Apache-2.0
"""What the examples are told, without a day of weather: which rows refuse a bed, and which do not.

The bed of Verling Farm takes its share of the flow and holds it long enough; it must be refused
all the same.
"""

from dataclasses import replace
from functools import cache

import pytest

from tests.digits import printed
from tests.jobs import CFS, FOOT
from tilewater.chain.bed import BED
from tilewater.chain.buffer import BUFFER
from tilewater.chain.design import Design, design_practice
from tilewater.tasks.checking import check_job
from tools.package import ROOT

BY_DAYS = ("inputs.weather.", "inputs.field.")


PRACTICES = {"bed": BED, "buffer": BUFFER}


@cache
def design_of(example: str, practice: str) -> Design:
    job = check_job(ROOT / "examples" / example).inputs
    dry = tuple(given for given in job.givens if not given.key.startswith(BY_DAYS))
    return design_practice(replace(job, givens=dry), PRACTICES[practice], by_days=False)


def short(design: Design) -> set[str]:
    rows = design.trace.requirements
    return {r.key for r in rows if r.binding and design.trace.value(f"{r.key}.status") == "short"}


def holds(design: Design, key: str) -> bool:
    return str(design.trace.value(f"{key}.status")) == "holds"


def feet(design: Design, key: str) -> float:
    return float(design.trace.value(key)) / FOOT


@pytest.mark.works(of=design_practice)
def test_merridew_refuses_a_bed_for_its_ditch_its_easement_and_its_uplift() -> None:
    bed = design_of("merridew-farm", "bed")
    assert bed.verdict == "does not fit"
    assert {
        "elevations.main_outlet-autumn",
        "elevations.floor_water-spring",
        "widest_cut",
        "uplift.liner_only",
    } <= short(bed)
    assert printed("-0.31") == feet(bed, "elevations.main_outlet-autumn.value_m")
    assert printed("38.3") == feet(bed, "footprint.across_m")
    # by flow and time alone it would pass
    assert holds(bed, "criteria.605-share-of-peak")
    assert holds(bed, "criteria.605-retention")


@pytest.mark.works(of=design_practice)
def test_merridew_takes_a_buffer_by_its_whole_length() -> None:
    buffer = design_of("merridew-farm", "buffer")
    assert short(buffer) == set()
    assert holds(buffer, "widest_cut")
    assert holds(buffer, "criteria.604-flow")
    # the ditch in spring leaves the other arm short
    assert str(buffer.trace.value("criteria.604-share-of-capacity.status")) == "short"
    conductivity = float(buffer.trace.value("buffer.conductivity_m_s")) / FOOT * 86400
    assert conductivity == pytest.approx(9.0, abs=0.1)


@pytest.mark.works(of=design_practice)
def test_verling_refuses_the_short_wide_bed_that_passes_on_paper() -> None:
    bed = design_of("verling-farm", "bed")
    assert holds(bed, "criteria.605-share-of-peak")
    assert holds(bed, "criteria.605-retention")
    assert holds(bed, "criteria.605-life")
    assert bed.verdict == "does not fit"
    assert {
        "elevations.floor_water-spring",
        "elevations.return_end-spring",
        "elevations.driving_head",
        "board_step",
        "footprint.length",
        "right_of_way",
        "property_line",
    } <= short(bed)
    assert abs(feet(bed, "highest_crest_m") * 3937 / 1200 * FOOT - 718.435) < 0.005
    assert printed("0.609") == float(bed.trace.value("drain_flow.peak_for_share_m3_s")) / CFS


@pytest.mark.works(of=design_practice)
def test_verling_refuses_a_buffer_too() -> None:
    buffer = design_of("verling-farm", "buffer")
    assert buffer.verdict == "does not fit"
    assert {"criteria.604-width", "property_line"} <= short(buffer)


@pytest.mark.works(of=design_practice)
@pytest.mark.parametrize("practice", PRACTICES)
def test_sorrel_takes_either(practice: str) -> None:
    design = design_of("sorrel-farm", practice)
    assert short(design) == set()
    assert design.verdict == "fits with open items"
