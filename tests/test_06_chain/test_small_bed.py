# SPDX-License-Identifier: Apache-2.0
"""A small bed as it is commonly built, through the whole chain.

Common practice, no source: a bed about 20 by 80 ft in a hole about 4 ft deep under an 8 in main
takes some 170 CY of chips, of which 200 are ordered, and costs 10,000 to 12,000 dollars of the late
2010s. The site is invented.
"""

import pytest

from tests.jobs import ACRE, FOOT, YARD, corbel_inputs
from tilewater.basis.solids import pit_volume
from tilewater.chain.design import Design, design_bed
from tilewater.practices.bed.earthwork import with_allowance

CHIPS, ORDERED = 170, 200  # CY
DEPTH = CHIPS * 27 / (20 * 80)  # ft of chips between upright sides: 2.87 in a hole of 4
PRICE_LEVEL = 1.35
"""Prices of 2026 over those of the late 2010s; judgement, good to a tenth."""
SMALL_JOB = {
    "mobilization": 800.0,  # one excavator from the next town
    "dewatering": 0.0,  # a dry hole in autumn
    "temporary-tile-flow": 300.0,  # the main is cut once, at the structure
    "inlet-structure": 1500.0,  # for 8 in pipe
    "outlet-structure": 1200.0,
}
"""Prices of 2026 where a small job differs from the list of the larger one. [USD]"""


@pytest.fixture(scope="module")
def bed() -> Design:
    floor = 1182.00
    return design_bed(
        corbel_inputs(
            {
                "drainage.area_m2": 30 * ACRE,
                "main.diameter_m": 8 / 12 * FOOT,
                "site.soil_type": "stable rock",  # cut with upright sides, as small beds are
                "site.ground_at_bed_m": (floor + 4) * FOOT,
                "bed.length_bottom_m": 80 * FOOT,
                "bed.width_bottom_m": 20 * FOOT,
                "bed.side_slope": 0.0,
                "bed.media_depth_m": DEPTH * FOOT,
                "bed.floor_inlet_m": floor * FOOT,
                "bed.floor_outlet_m": floor * FOOT,
                "bed.outlet_invert_m": floor * FOOT,
                "bed.return_invert_m": (floor - 0.1) * FOOT,
                "structure.outlet.sill_m": floor * FOOT,
                "boards.outlet_m": 1.0 * FOOT,
                "pipe.above.length_m": 0.0,
                "pipe.bypass.length_m": 0.0,  # beside the main: the old line is the bypass
            }
            | {f"price.{item}.usd": price for item, price in SMALL_JOB.items()}
        )
    )


@pytest.mark.practice(of=(design_bed, pit_volume))
def test_chips_fill_the_hole_to_the_depth_that_is_usual(bed):
    assert DEPTH == pytest.approx(3.0, abs=0.5)  # a foot of soil over them in a hole of 4 ft
    chips = float(bed.trace.value("quantities.woodchips.quantity")) / YARD**3
    assert chips == pytest.approx(CHIPS, rel=0.10)
    cover = float(bed.trace.value("uplift.cover_m")) / FOOT
    assert 1.0 <= cover <= 1.5


@pytest.mark.practice(of=(design_bed, with_allowance))
def test_order_is_a_tenth_to_a_quarter_above_neat(bed):
    order = float(bed.trace.value("quantities.chips-order.quantity")) / YARD**3
    neat = float(bed.trace.value("quantities.woodchips.quantity")) / YARD**3
    assert 1.10 <= order / neat <= 1.25
    assert 1.10 <= ORDERED / CHIPS <= 1.25


@pytest.mark.practice(of=(design_bed,))
def test_cost_is_that_of_small_beds_within_a_factor_of_one_and_a_half(bed):
    """What is paid, so without contingency, in dollars of the stated year brought back."""
    assert bed.trace.value("inputs.estimate.price_year") == 2026
    then = float(bed.trace.value("cost.subtotal_usd")) / PRICE_LEVEL
    assert 10_000 / 1.5 <= then <= 12_000 * 1.5


@pytest.mark.practice(of=(design_bed,))
def test_life_is_told_by_two_clocks(bed):
    permeability = float(bed.trace.value("life.permeability_years"))
    carbon = float(bed.trace.value("life.carbon_years"))
    assert 3 < permeability < 60
    assert carbon > permeability  # beds are replaced for clogging long before they run out of wood
