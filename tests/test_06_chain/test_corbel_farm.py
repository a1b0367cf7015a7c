# SPDX-License-Identifier: Apache-2.0
"""Corbel Farm through the whole chain, beside the table done by hand. US units.

Shares are held within one percent point and levels within 0.02 ft: the chain may come to count pipe
losses that the hand table leaves out.
"""

import pytest

from tests.digits import printed
from tests.jobs import CFS, FOOT, INCH, YARD, corbel_inputs, fitting_inputs
from tilewater.chain.alternatives import runners_up
from tilewater.chain.design import Design, design_bed
from tilewater.chain.result import result_record

POINT = 0.01
LEVEL = 0.02


@pytest.fixture(scope="module")
def design() -> Design:
    return design_bed(corbel_inputs())


@pytest.mark.by_hand(of=(design_bed,))
@pytest.mark.parametrize(
    ("key", "hand"),
    [
        ("capacity.criterion.share_of_peak", 0.174),
        ("capacity.spring.share_of_peak", 0.166),
        ("capacity.new.share_of_peak", 0.384),
    ],
)
def test_shares_of_the_peak(design, key, hand):
    assert design.trace.value(key) == pytest.approx(hand, abs=POINT)


@pytest.mark.by_hand(of=(design_bed,))
@pytest.mark.parametrize(
    ("key", "hand"),
    [
        ("drain_flow.equivalent_depth_m", 2.60),
        ("capacity.spring.bypass_head_m", 0.341),
        ("field_storm.head_m", 0.385),
        ("field.low-1.standing_m", 2.80),
        ("field.low-1.storm_m", 2.15),
        ("field.low-1.midway_m", 1.09),
        ("field.low-2.standing_m", 3.20),
        ("field.low-2.storm_m", 2.20),
        ("field.low-2.midway_m", 1.14),
        ("highest_crest_m", 1184.31),
        ("uplift.finished.groundwater_limit_m", 1184.39),
        ("elevations.inlet_crest.elevation_m", 1184.20),
        ("elevations.outlet_crest.elevation_m", 1182.70),
        ("quantities.cut_depth_m", 5.30),
    ],
)
def test_levels_and_depths(design, key, hand):
    assert design.trace.value(key) / FOOT == pytest.approx(hand, abs=LEVEL)


@pytest.mark.by_hand(of=(design_bed,))
def test_flows_weights_and_volumes(design):
    def value(key: str) -> float:
        return float(design.trace.value(key))

    assert printed("0.930") == value("drain_flow.candidates_m3_s.main_full") / CFS
    assert printed("0.977") == value("drain_flow.candidates_m3_s.drainage_coefficient") / CFS
    assert printed("1.7") == value("drain_flow.candidates_m3_s.laterals") / CFS
    assert design.trace.value("drain_flow.controlled_by") == "main"
    assert printed("3.93") == 100 * value("capacity.criterion.conductivity_20_m_s")
    assert printed("1,667") == value("pool_reach_m") / FOOT
    assert printed("2.95") == value("uplift.finished.ratio")
    assert printed("0.93") == value("uplift.media_placed.ratio")
    assert printed("8.75") == value("flotation.outlet.anchor_m3") / FOOT**3
    assert printed("434.8") == value("quantities.woodchips.quantity") / YARD**3
    assert printed("707.2") == value("quantities.excavation.quantity") / YARD**3
    steeper = design_bed(corbel_inputs({"site.soil_type": "C"})).trace
    assert printed("782.2") == float(steeper.value("quantities.excavation.quantity")) / YARD**3


@pytest.mark.by_hand(of=(design_bed,))
def test_boards_and_what_binds(design):
    def stack(name: str) -> list[float]:
        return [round(board / INCH, 6) for board in design.trace.value(f"boards.{name}.stack_m")]

    assert stack("inlet-design") == [8, 8, 8, 8, 4]
    assert stack("outlet-design") == [8, 8, 8]
    assert design.governs is not None
    assert design.governs.key == "field.low-1.midway"
    assert printed("0.09") == design.governs.slack  # of one foot


@pytest.mark.by_hand(of=(design_bed,))
@pytest.mark.parametrize(
    ("season", "hours"), [("warm", ("2.5", "22", "47")), ("cold", ("3.4", "31", "65"))]
)
def test_hours_to_drain(design, season, hours):
    for percent, time in zip((50, 90, 95), hours, strict=True):
        assert printed(time) == design.trace.value(f"drain_down.{season}_{percent}_s") / 3600


@pytest.mark.by_hand(of=(design_bed,))
def test_a_low_spot_seven_tenths_lower_asks_for_lower_boards(design):
    """Ground 1186.30 at 2+90 and 2.0 ft over the storm grade line as the only rule."""
    wet = design_bed(
        corbel_inputs(
            {
                "spot.low-1.ground_m": 1186.30 * FOOT,
                "limits.storm_m": 2.0 * FOOT,
                "limits.midway_m": 0.0,
                "limits.standing_m": 0.0,
            }
        )
    )
    assert wet.verdict == "does not fit"
    assert wet.trace.value("field.low-1.storm.status") == "short"
    assert printed("1.45") == wet.trace.value("field.low-1.storm_m") / FOOT
    assert wet.trace.value("highest_crest_m") / FOOT == pytest.approx(1183.645, abs=0.001)


@pytest.mark.by_hand(of=(design_bed,))
def test_rungs_of_the_ladder(design):
    def rung(name: str) -> float:
        return float(design.trace.value(f"elevations.{name}.value_m")) / FOOT

    assert printed("1.50") == rung("driving_head")  # 1184.20 - 1182.70
    assert printed("1.00") == rung("inlet_rim")  # 1187.00 - 1186.00
    assert printed("0.60") == rung("outlet_crest-spring")  # 1182.70 - 1182.10
    assert printed("1.35") == rung("main_outlet-winter")  # 1180.95 - 1179.60
    assert printed("0.09") == rung("return_fall")  # 1180.70 - 1180.61
    into_main = design_bed(corbel_inputs({"bed.return_invert_m": 1180.99 * FOOT}))
    assert printed("0.29") == into_main.trace.value("bed.dead_pool_m") / FOOT
    assert into_main.trace.value("criteria.605-drainable.status") == "short"


@pytest.mark.by_hand(of=(design_bed,))
def test_porosity_moves_time_and_no_quantity(design):
    other = design_bed(corbel_inputs({"media.porosity_effective": 0.45}))
    ratio = other.trace.value("capacity.new.retention_h") / design.trace.value(
        "capacity.new.retention_h"
    )
    assert ratio == pytest.approx(0.45 / 0.61)
    for step in design.trace:
        if step.key.startswith("quantities."):
            assert other.trace.value(step.key) == step.value
    flatter = design_bed(corbel_inputs({"bed.side_slope": 1.5}))
    for item in ("woodchips", "lining", "cover-fabric", "excavation", "seeding"):
        key = f"quantities.{item}.quantity"
        assert flatter.trace.value(key) > design.trace.value(key)


@pytest.mark.works(of=(design_bed,))
def test_unknown_stays_unknown_and_a_job_with_every_answer_fits(design):
    assert design.verdict == "fits with open items"
    assert {"inputs.site.utilities", "inputs.people.easements"} <= {
        item.key for item in design.open_items
    }
    assert design_bed(fitting_inputs()).verdict == "fits"


@pytest.mark.works(of=(result_record, runners_up))
def test_record_holds_every_number_and_no_cost_is_lost(design):
    record = result_record(design, runners_up(design), "0")
    assert record["verdict"] == design.verdict
    assert len(record["alternatives"]) == 2
    items = sum(item["usd"] for item in record["cost"]["items"].values())
    assert record["cost"]["subtotal_usd"] == pytest.approx(items)
    assert record["cost"]["total_usd"] == pytest.approx(1.1 * items)
