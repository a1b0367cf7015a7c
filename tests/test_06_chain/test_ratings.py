# SPDX-License-Identifier: Apache-2.0
"""The boards' own crest, notch and calibration move everything that stands on them."""

import math
from collections.abc import Mapping
from typing import Any

import pytest

from tests.digits import printed
from tests.jobs import CFS, FOOT, INCH, corbel_inputs, with_givens
from tilewater.basis.told import in_units
from tilewater.basis.trace import Given
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.design import Design, design_bed
from tilewater.chain.explain import explain
from tilewater.chain.result_boards import bypass_head_record, old_main_record, rating_record
from tilewater.hydraulics.board_sets import board_set_flow, joint_leak
from tilewater.practices.bed.board_kinds import crest_kind, is_notched, ratings_of
from tilewater.practices.bed.board_steps import add_board_sets, set_key
from tilewater.practices.bed.old_main_steps import add_old_main, crown_of_main
from tilewater.practices.bed.rating_steps import (
    add_bypass_head,
    add_rating_uncertainties,
    in_feet,
)
from tilewater.practices.boards import notch_point, radians_of

GPM = 231 * INCH**3 / 60
HEADS = (1.0, 2.0, 3.0, 4.5, 6.0)
SCATTER = (1.03, 0.96, 1.02, 0.98, 1.01)

Values = Mapping[str, Any]


def rating(name: str = "own", **fields: Any) -> dict[str, Any]:
    """Inputs of one rating; by default measured on the bypass boards, a tenth under Francis."""
    measured = {
        "heads_m": tuple(h * INCH for h in HEADS),
        "flows_m3_s": tuple(
            0.9 * 3.33 * 1.17 * (h / 12) ** 1.5 * CFS * s
            for h, s in zip(HEADS, SCATTER, strict=True)
        ),
        "zero": "at the crest",
    }
    said = {"structure": "inlet", "set": "bypass", "by": "R. Lindqvist", "date": "2026-04-12"}
    return {f"rating.{name}.{k}": v for k, v in (said | (fields or measured)).items()}


def designed(more: Values | None = None, **changes: Any) -> Design:
    job = corbel_inputs({key.replace("__", "."): value for key, value in changes.items()})
    extra = (Given(f"inputs.{k}", v, "", f"Input {k}") for k, v in (more or {}).items())
    return design_bed(with_givens(job, *extra))


def codes(design: Design) -> list[str]:
    return [finding.code for finding in design.findings]


def head_ft(design: Design) -> float:
    return float(design.trace.value("field_storm.head_m")) / FOOT


@pytest.mark.by_hand(of=(in_feet,))
def test_a_head_out_of_range_is_told_in_feet():
    """0.0279 m over 0.3048 is 0.0915 ft, 0.03 m is 0.0984 ft; what is no length stays."""
    told = in_feet("Head is 0.0279 m, below the 0.03 m from which 1.5 mm holds.")
    assert in_units(told, "us") == ("Head is 0.09 ft, below the 0.10 ft from which 1.5 mm holds.")


@pytest.mark.by_hand(of=(add_board_sets, add_bypass_head, bypass_head_record))
def test_corbel_farm_stands_on_sharp_boards_good_to_ten_percent():
    trace = designed().trace
    record = bypass_head_record(trace, "field_storm")

    assert rating_record(trace, "inlet", "design")["kind"] == "sharp"
    assert printed("0.385") == record["head_m"] / FOOT
    assert printed("0.36") == record["head_low_m"] / FOOT
    assert printed("0.41") == record["head_high_m"] / FOOT
    assert record["rating_uncertainty"] == 0.10


@pytest.mark.works(of=(add_board_sets, rating_record))
def test_every_setting_has_its_set_of_boards():
    trace = designed().trace
    crests = {
        setting: trace.value(set_key("outlet", setting)).crest / FOOT
        for setting in ("design", "winter", "spring", "summer", "autumn")
    }

    assert crests["design"] == pytest.approx(1180.70 + 24 / 12)
    assert crests["summer"] == crests["autumn"] == pytest.approx(1180.70 + 10 / 12)


@pytest.mark.by_hand(of=(add_board_sets, add_bypass_head, ratings_of))
def test_a_calibration_takes_the_place_of_the_sharp_crest_everywhere():
    sharp, own = designed(), designed(rating())
    record = rating_record(own.trace, "inlet", "design")
    spot = "field.low-1.storm_m"

    assert head_ft(own) == pytest.approx(head_ft(sharp) / 0.9 ** (2 / 3), rel=0.02)
    assert own.trace.value(spot) < sharp.trace.value(spot)
    assert own.trace.value("highest_crest_m") < sharp.trace.value("highest_crest_m")
    assert own.trace.value("bypass.level_m") > sharp.trace.value("bypass.level_m")
    assert (record["kind"], record["name"]) == ("calibrated", "own")
    assert own.trace.value(record["set"]).exponent == pytest.approx(1.5, abs=0.03)
    assert own.trace.value("rating.own.calibration").head_highest == pytest.approx(6 * INCH)
    assert rating_record(own.trace, "outlet", "design")["kind"] == "sharp"


@pytest.mark.works(of=(add_board_sets,))
def test_explaining_a_calibrated_set_leads_to_the_measured_flows():
    trace = designed(rating()).trace
    (boards,) = explain(trace, "boards.inlet-design.rating.coefficient")
    (law,) = explain(trace, dict(boards.step.inputs)["calibration"])
    (fit,) = explain(trace, dict(law.step.inputs)["fit"])

    assert boards.step.key == "structure.inlet.set-design"
    assert dict(fit.step.inputs)["flows"] == "inputs.rating.own.flows_m3_s"


@pytest.mark.by_hand(of=(add_rating_uncertainties, add_bypass_head))
def test_the_scatter_of_the_measurements_is_the_uncertainty_and_grows_outside_them():
    trace = designed(rating()).trace
    scatter = float(trace.value("structure.inlet.rating_uncertainty"))
    logs = [math.log(each) for each in SCATTER]

    assert scatter == pytest.approx(math.sqrt(sum(x * x for x in logs) / 3), rel=0.1)
    assert trace.value("field_storm.rating_uncertainty") > scatter
    assert trace.value("bypass.rating_uncertainty") > trace.value("field_storm.rating_uncertainty")


@pytest.mark.works(of=(add_bypass_head,))
def test_a_storm_above_the_measured_heads_is_told_in_feet():
    found = next(f for f in designed(rating()).findings if f.code == "rating-head-high")

    assert found.subject == "inlet boards"
    assert "rating.own was fitted from 0.08 to 0.50 ft. Treat the flow as an estimate" in (
        found.message
    )


@pytest.mark.by_hand(of=(add_board_sets,))
def test_a_published_law_is_taken_in_its_own_units():
    law = {
        "coefficient": 1.4774,
        "exponent": 2.3217,
        "head_unit": "in",
        "flow_unit": "gpm",
        "fitted_from_m": INCH,
        "fitted_to_m": 6 * INCH,
    }
    design = designed(rating(**law, structure="outlet", set="outlet"))
    boards = design.trace.value(set_key("outlet"))

    assert board_set_flow(boards.crest + 3 * INCH, boards.sill, boards) / GPM == pytest.approx(
        1.4774 * 3**2.3217, rel=1e-9
    )
    assert is_unknown(design.trace.value("structure.outlet.rating_uncertainty"))


@pytest.mark.works(of=(add_board_sets, ratings_of))
def test_the_later_of_two_ratings_is_used_and_the_other_told():
    later = rating("new", **{k.rpartition(".")[2]: v for k, v in rating().items()})
    design = designed(rating() | later | {"rating.own.date": "2027-05-01"})
    messages = [f.message for f in design.findings if f.code == "rating-not-used"]

    assert ratings_of(design.trace, "inlet") == ("new", "own")
    assert messages == [
        "rating.new is not used: rating.own of the same set is the later one. "
        "Take it out, or correct it."
    ]


@pytest.mark.works(of=(add_board_sets,))
def test_a_rating_of_other_boards_is_not_used():
    design = designed(rating() | {"rating.own.set": "feed"})

    assert crest_kind(design.trace, "inlet") == "sharp"
    assert [f.message for f in design.findings if f.code == "rating-not-used"] == [
        "rating.own is not used: no flow is computed over feed boards of the inlet. "
        "Take it out, or correct it."
    ]


@pytest.mark.works(of=(add_board_sets,))
@pytest.mark.parametrize(
    ("changes", "more", "measure"),
    [
        ({"structure__inlet__crest_kind": "calibrated"}, {}, "give it as [rating.NAME]"),
        ({"structure__inlet__crest_kind": "broad"}, {}, "measure the top board"),
        (
            {"structure__inlet__crest_kind": "v notch"},
            {"structure.inlet.notch_depth_m": 0.15},
            "hold a template to it",
        ),
        (
            {"structure__inlet__crest_kind": Unknown("answered unknown", "look at the top board")},
            {},
            "look at the top board",
        ),
        (
            {},
            rating(coefficient=1.5),
            "give heads and flows, or coefficient, exponent, their units and the fitted heads",
        ),
    ],
)
def test_what_a_crest_lacks_stays_unknown_and_never_fits(changes, more, measure):
    design = designed(more, **changes)

    assert is_unknown(design.trace.value(set_key("inlet")))
    assert is_unknown(design.trace.value("field_storm.head_m"))
    assert design.verdict != "fits"
    assert measure in design.trace.value("field.low-1.storm_m").measure
    assert design.trace.value("field.low-1.storm.status") == "not known"


@pytest.mark.practice(of=(add_board_sets,))
def test_a_thick_board_raises_no_storm_that_springs_clear_of_it():
    thick = {"structure.inlet.board_thickness_m": 1.5 * INCH}
    design = designed(thick, structure__inlet__crest_kind="broad")

    assert head_ft(design) == pytest.approx(head_ft(designed()), rel=1e-9)
    assert design.trace.value("structure.inlet.rating_uncertainty") == 0.15
    thick = {"structure.inlet.board_thickness_m": 5 * INCH}
    assert head_ft(designed(thick, structure__inlet__crest_kind="broad")) > head_ft(designed())


@pytest.mark.by_hand(of=(add_board_sets, is_notched, notch_point, radians_of))
def test_the_crest_of_a_notched_board_is_the_point_of_its_notch():
    notch = {"structure.inlet.notch_angle_deg": 45.0, "structure.inlet.notch_depth_m": 6 * INCH}
    design = designed(notch, structure__inlet__crest_kind="v notch")
    trace = design.trace
    boards = trace.value(set_key("inlet"))
    plain = designed().trace

    assert trace.value("structure.inlet.notch_angle") == pytest.approx(math.pi / 4)
    assert boards.crest / FOOT == pytest.approx(1181.20 + 3.0 - 0.5)
    assert trace.value("boards.inlet-design.rim_down_m") == plain.value(
        "boards.inlet-design.rim_down_m"
    )
    assert trace.value("bypass.level_m") == pytest.approx(
        boards.crest + trace.value("bypass.head_m")
    )
    assert "notch-overtopped-high" in codes(design)


@pytest.mark.works(of=(add_board_sets,))
def test_a_notch_that_the_crest_does_not_name_is_told():
    design = designed({"structure.inlet.notch_depth_m": 0.15})

    assert "notch-not-used" in codes(design)
    assert rating_record(design.trace, "inlet", "design")["kind"] == "sharp"


@pytest.mark.works(of=(add_board_sets,))
def test_without_boards_the_sill_is_the_crest_whatever_the_boards_are():
    design = designed(rating(), boards__inlet_m=0.0, season__autumn__inlet_boards_m=0.0)
    boards = design.trace.value(set_key("inlet", "autumn"))

    assert boards.exponent == 1.5
    assert boards.crest == boards.sill


@pytest.mark.by_hand(of=(add_board_sets, joint_leak))
def test_a_leak_is_counted_over_the_height_of_the_boards():
    leak = {"structure.inlet.joint_leak_m3_s": 3 * GPM}
    trace = designed(leak).trace
    expected = 3 * GPM / (2 / 3 * math.sqrt(2 * 9.80665) * (3 * FOOT) ** 1.5)

    assert trace.value(set_key("inlet")).leak == pytest.approx(expected, rel=1e-9)
    assert trace.value(set_key("outlet")).leak == 0.0
    assert trace.value("field_storm.head_m") < designed().trace.value("field_storm.head_m")
    assert "leak-in-rating" in codes(designed(leak | rating()))


@pytest.mark.by_hand(of=(add_old_main, crown_of_main, old_main_record))
def test_standing_water_over_the_crown_of_the_old_main():
    places = old_main_record(designed().trace)
    crown = 1181.20 + 10 / 12

    assert places["diversion"]["crown_m"] / FOOT == pytest.approx(crown)
    assert places["diversion"]["standing_head_m"] / FOOT == pytest.approx(1184.20 - crown)
    assert places["low-1"]["standing_head_m"] / FOOT == pytest.approx(
        1184.20 - (crown + 0.0018 * 150)
    )
    assert places["junction-15"]["standing_head_m"] < 0.0
    assert places["diversion"]["storm_head_m"] / FOOT == pytest.approx(
        1184.20 - crown + 0.385, abs=1e-3
    )


@pytest.mark.practice(of=(add_old_main,))
@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({}, False),
        ({"boards__inlet_m": 46 * INCH}, True),
        ({"boards__inlet_m": 46 * INCH, "main__material": "corrugated plastic"}, False),
        ({"boards__inlet_m": 46 * INCH, "main__material": Unknown("?", "look")}, True),
    ],
)
def test_open_joints_under_more_than_three_feet_are_told(changes, told):
    found = [f for f in designed(**changes).findings if f.code == "old-main-under-head"]

    assert bool(found) == told
    if told:
        assert "more than the 3.0 ft that the trade lets open joints hold" in found[0].message


@pytest.mark.law(of=(add_board_sets,))
@pytest.mark.parametrize("share", [0.7, 0.9, 1.1, 1.3])
def test_boards_that_pass_more_never_raise_the_water_in_the_field(share):
    more = rating(
        heads_m=tuple(h * INCH for h in HEADS),
        flows_m3_s=tuple(share * 3.33 * 1.17 * (h / 12) ** 1.5 * CFS for h in HEADS),
        zero="at the crest",
    )
    own, sharp = designed(more).trace, designed().trace
    lower = own.value("field.low-2.storm_level_m") <= sharp.value("field.low-2.storm_level_m")

    assert lower == (share >= 1.0)
    assert (own.value("highest_crest_m") >= sharp.value("highest_crest_m")) == lower
