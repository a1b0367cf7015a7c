# SPDX-License-Identifier: Apache-2.0
"""Segments, submains, surface inlets and the pump of a job, through the whole chain."""

import re
from functools import cache

import pytest

from tests.digits import printed
from tests.jobs import ACRE, CFS, FARM, FOOT, corbel_inputs, inputs_of
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.areas import add_areas
from tilewater.chain.design import Design, design_bed
from tilewater.chain.explain import explain
from tilewater.chain.inlets import clean_share, inlets_bring_water, judge_inlets
from tilewater.chain.main_findings import exposed_inverts, judge_exposed, tell_of_main
from tilewater.chain.main_line import add_main
from tilewater.chain.main_parts import (
    invert_on_grade,
    level_over_crest,
    segment_grade,
    velocity_full,
    velocity_limit_by_soil,
)
from tilewater.chain.pumping import add_pumping, pump_capacity_key
from tilewater.chain.result import result_record
from tilewater.chain.right_tile import judge_tile, share_of_full
from tilewater.chain.segments import LINE_ABOVE, add_segments
from tilewater.job.reading import job_of_text

SEGMENT = re.compile(r"^\[segment\.[^\[]*", re.MULTILINE)
CANDIDATES = "drain_flow.candidates_m3_s"
WHOLE = """
[segment.past-the-bed]
from = "0+00"
to = "1+40"
invert_down = "1180.95 ft"
invert_up = "1181.202 ft"
diameter = "10 in"
material = "concrete"
found = "dug"
joints = "good"

[segment.field]
from = "1+40"
to = "20+70"
invert_down = "1181.202 ft"
invert_up = "1184.676 ft"
diameter = "10 in"
material = "concrete"
found = "dug"
found_up = "from a map"
joints = "good"
"""
PINCHED = """
[segment.pinch]
from = "1+40"
to = "3+40"
invert_down = "1181.20 ft"
invert_up = "1181.56 ft"
diameter = "8 in"
material = "concrete"
found = "probed"
joints = "offset"
roots = "blocking"
"""
EAST = """
[submain.east]
joins = "below the diversion"
area = "12 acre"
diameter = "4 in"
slope = "0.2 %"
material = "clay"
"""
PUMP = """
[pump]
capacity = "450 gpm"
float_on = "1176.5 ft"
float_off = "1174.5 ft"
sump_area = "28 ft2"
"""


@cache
def designed(more: str = "", *edits: tuple[str, str]) -> Design:
    """Corbel Farm without its segments, with more tables at its end and some lines edited."""
    text = SEGMENT.sub("", (FARM / "job.toml").read_text(encoding="utf-8"))
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    return design_bed(inputs_of(job_of_text(text + more, FARM)))


def without_segments() -> Design:
    """Corbel Farm as a uniform main."""
    return designed()


def codes(design: Design) -> set[str]:
    return {finding.code for finding in design.findings}


def value(design: Design, key: str) -> float:
    return float(design.trace.value(key))


@pytest.mark.law(of=(add_segments, add_main, add_areas))
def test_segments_of_a_uniform_main_change_nothing() -> None:
    plain, surveyed = without_segments(), designed(WHOLE)
    keys = [f"{CANDIDATES}.{name}" for name in ("main_full", "main_surcharged")]
    keys += ["highest_crest_m", "pool_reach_m", "field_storm.flow_m3_s"]
    for spot in plain.trace.names("field"):
        keys += [
            f"field.{spot}.{kind}_m" for kind in ("rise", "storm", "midway", "crest_for_storm")
        ]
        keys += [f"drain_flow.surcharged.{spot}.{end}" for end in ("flow_m3_s", "boards_in_m3_s")]
    for key in keys:
        assert value(surveyed, key) == pytest.approx(value(plain, key), rel=3e-3), key
    assert surveyed.verdict == plain.verdict


@pytest.mark.by_hand(of=(add_segments,))
def test_a_pinched_stretch_above_the_diversion_limits_the_main() -> None:
    design = designed(PINCHED)
    carries = 0.930 * (8 / 10) ** (8 / 3)  # the same grade and roughness
    assert printed("0.513") == carries
    assert printed("0.513") == value(design, f"{CANDIDATES}.main_full") / CFS
    assert design.trace.value("main.limiting_segment") == "pinch"
    assert [one.name for one in design.trace.value(LINE_ABOVE)] == ["pinch", "stated-above"]
    assert {"main-stated-below", "main-stated-above", "main-unlike-segments"} <= codes(design)
    flooded = value(design, "main.water_reaches_ground_m3_s")
    assert flooded < value(without_segments(), "main.water_reaches_ground_m3_s")


@pytest.mark.works(of=(tell_of_main, judge_exposed, exposed_inverts))
def test_condition_of_a_segment_is_said_in_plain_words() -> None:
    design = designed(PINCHED)
    assert {"segment-joints-offset", "segment-roots-blocking", "old-main"} <= codes(design)
    exposed = design.trace.value("main.exposed_inverts")
    assert isinstance(exposed, Unknown)
    assert exposed.why == "no invert of the main was dug up and shot"
    assert "main.exposed" in {item.key for item in design.open_items}
    assert value(designed(WHOLE), "main.exposed_inverts") == 2.0
    assert "segment-assumed" in codes(designed(WHOLE))
    assert exposed_inverts(first=0.0, second=40.0) == 2.0
    one = exposed_inverts(first=0.0)
    assert isinstance(one, Unknown)
    assert one.why == "only one invert of the main was dug up and shot"


@pytest.mark.works(of=(tell_of_main,))
def test_grade_and_velocity_of_a_segment_are_told() -> None:
    flat = PINCHED.replace('"1181.56 ft"', '"1181.21 ft"')
    back = PINCHED.replace('"1181.56 ft"', '"1181.10 ft"')
    steep = PINCHED.replace('"1181.56 ft"', '"1184.20 ft"') + 'soil = "sand and sandy loam"\n'
    assert "segment-velocity-low" in codes(designed(flat))
    assert "segment-velocity-fines" in codes(designed(PINCHED.replace("1181.56", "1181.40")))
    assert "segment-velocity-high" in codes(designed(steep))
    assert "segment-velocity-soil" in codes(designed(PINCHED.replace("1181.56", "1184.20")))
    fallen = designed(back)
    assert "segment-falls-back" in codes(fallen)
    assert fallen.trace.value("main.limiting_segment") == "stated-above"


@pytest.mark.works(of=(tell_of_main,))
def test_a_limit_below_the_diversion_and_a_part_of_the_area_are_told() -> None:
    below = WHOLE.replace('diameter = "10 in"', 'diameter = "8 in"', 1)
    assert "main-limited-below" in codes(designed(below))
    upper = PINCHED.replace('"1+40"', '"9+40"').replace('"3+40"', '"20+70"')
    lower = WHOLE.replace('"20+70"', '"9+40"').replace('"1184.676 ft"', '"1182.642 ft"')
    upper = upper.replace('"1181.20 ft"', '"1182.642 ft"').replace('"1181.56 ft"', '"1184.676 ft"')
    design = designed(lower + upper)
    assert "segment-share-not-stated" in codes(design)
    assert printed("0.513") == value(design, f"{CANDIDATES}.main_full") / CFS
    half = designed(lower + upper + 'area = "31 acre"\n')
    assert half.trace.value("main.limiting_segment") == "field"
    assert printed("0.930") == value(half, f"{CANDIDATES}.main_full") / CFS
    assert value(half, "main.segments.pinch.flow_share") == 0.5


@pytest.mark.by_hand(of=(tell_of_main,))
def test_a_main_under_the_coefficient_is_told() -> None:
    """0.513 cfs full where 62 acres ask 3/8 in a day, 0.977 cfs: 52 percent; 0.930 is enough."""
    lower = WHOLE.replace('"20+70"', '"9+40"').replace('"1184.676 ft"', '"1182.642 ft"')
    upper = PINCHED.replace('"1+40"', '"9+40"').replace('"3+40"', '"20+70"')
    upper = upper.replace('"1181.20 ft"', '"1182.642 ft"').replace('"1181.56 ft"', '"1184.676 ft"')
    pinched = designed(lower + upper)
    (told,) = (f for f in pinched.findings if f.code == "main-under-coefficient")

    assert 52 == int(100 * 0.513 / 0.977)
    assert "Full it carries 0.513 cfs, 52% of what the drainage coefficient asks" in told.message
    assert "main-under-coefficient" not in codes(designed(WHOLE))


@pytest.mark.works(of=(add_segments,))
def test_a_gap_between_segments_is_not_bridged() -> None:
    gap = WHOLE.replace('to = "1+40"', 'to = "1+00"')
    design = designed(gap)
    full = design.trace.value(f"{CANDIDATES}.main_full")
    assert isinstance(full, Unknown)
    assert design.verdict != "fits"
    assert any("give the stretch between as a segment" in f.message for f in design.findings)


@pytest.mark.works(of=(add_segments, judge_exposed))
def test_an_unknown_of_a_segment_travels_to_what_leans_on_it() -> None:
    design = designed(WHOLE.replace('"1184.676 ft"', '"unknown"'))
    cause = "inputs.segment.field.invert_up_m"
    for key in (f"{CANDIDATES}.main_full", "field.low-1.rise_m", "drain_flow.peak_for_share_m3_s"):
        unknown = design.trace.value(key)
        assert isinstance(unknown, Unknown)
        assert cause in unknown.causes
    assert cause in {item.key for item in design.open_items}


@pytest.mark.by_hand(of=(add_areas,))
def test_only_the_area_above_the_diversion_counts_for_the_bed() -> None:
    whole, part = without_segments(), designed(WHOLE + EAST)
    assert value(part, "drain_flow.area_above_m2") / ACRE == pytest.approx(50)
    for key in (
        f"{CANDIDATES}.drainage_coefficient",
        f"{CANDIDATES}.laterals",
        "drain_flow.mean_annual_volume_m3",
        "drain_flow.annual_load_kg",
    ):
        assert value(part, key) == pytest.approx(value(whole, key) * 50 / 62)
    for key in ("drain_flow.site_volume_m3", "drain_flow.site_load_kg"):
        assert value(part, key) == pytest.approx(value(whole, key))
    site = value(part, "removal.site_percent.p50") * value(part, "drain_flow.site_load_kg")
    assert site / 100 == pytest.approx(value(part, "removal.removed_kg.p50"))
    assert value(part, "main.segments.past-the-bed.flow_share") == pytest.approx(62 / 50)
    assert {"area-not-seen", "submain-short"} <= codes(part)
    above = designed(EAST.replace("below the", "above the"))
    assert value(above, "drain_flow.area_above_m2") / ACRE == pytest.approx(62)
    assert "area-not-seen" not in codes(above)


@pytest.mark.works(of=(add_areas,))
def test_a_submain_of_which_nothing_is_known_leaves_the_flow_open() -> None:
    for field, was in (("joins", '"below the diversion"'), ("area", '"12 acre"')):
        design = designed(EAST.replace(f"{field} = {was}", f'{field} = "unknown"'))
        assert is_unknown(design.trace.value("drain_flow.peak_for_share_m3_s"))
        assert f"inputs.submain.east.{field}" in {
            item.key.removesuffix("_m2") for item in design.open_items
        }


@pytest.mark.works(of=(judge_inlets, inlets_bring_water, clean_share))
def test_what_becomes_of_the_water_of_surface_inlets_is_asked() -> None:
    some = ('surface_inlets = "none"', 'surface_inlets = "some"')

    def answered(word: str) -> Design:
        return designed("", (some[0], f'{some[1]}\nsurface_inlet_water = "{word}"'))

    silent = designed("", some)
    assert silent.trace.value("surface_inlets.status") == "not known"
    assert "surface_inlets" in {item.key for item in silent.open_items}
    assert silent.verdict != "fits"
    taken = answered("taken in")
    assert taken.trace.value("surface_inlets.status") == "short"
    assert taken.verdict == "does not fit"
    assert "inlet-water-taken-in" in codes(taken)
    settled = answered("settled first")
    assert settled.trace.value("surface_inlets.status") == "holds"
    assert "inlet-water-settled" in codes(settled)
    kept, none = answered("kept out"), without_segments()
    assert kept.trace.value("surface_inlets.status") == "holds"
    wet = design_bed(
        corbel_inputs({"drainage.surface_inlets": "some", "drainage.conductivity_m_s": 1e-7})
    )
    assert inlets_bring_water(silent.trace)
    assert not inlets_bring_water(kept.trace)
    assert not inlets_bring_water(none.trace)
    assert "supplies" not in dict(wet.trace.steps["drain_flow.physical_limit_m3_s"].inputs)
    assert "surface_inlets" not in {r.key for r in none.trace.requirements}
    assert (clean_share("taken in"), clean_share("settled first")) == (0.0, 1.0)


@pytest.mark.works(of=(judge_inlets,))
def test_not_knowing_whether_there_are_inlets_leaves_the_row_open() -> None:
    design = design_bed(corbel_inputs({"drainage.surface_inlets": Unknown("open")}))
    assert design.trace.value("surface_inlets.status") == "not known"


@pytest.mark.practice(of=(judge_tile, share_of_full))
@pytest.mark.parametrize(
    ("flow", "code"), [("0.15", "right-tile"), ("0.24", "right-tile-perhaps"), ("0.50", "")]
)
def test_a_main_that_hardly_runs_in_spring_may_be_the_wrong_one(flow: str, code: str) -> None:
    edit = ("flow_days = 200", f'flow_days = 200\nwet_season_flow = "{flow} cfs"')
    design = designed("", edit)
    assert value(design, "main.wet_season_share") == pytest.approx(float(flow) / 0.930, rel=1e-3)
    assert {c for c in codes(design) if c.startswith("right-tile")} == ({code} - {""})
    assert "stub-unlike-main" in codes(design)
    alike = design_bed(corbel_inputs({"main.stub_diameter_m": 10 * FOOT / 12}))
    assert "stub-unlike-main" not in codes(alike)


@pytest.mark.by_hand(of=(add_pumping, pump_capacity_key))
def test_a_pump_sends_pulses_that_the_bed_must_take() -> None:
    design = designed(PUMP)
    assert printed("1.00") == value(design, f"{CANDIDATES}.pump") / CFS  # 450 gpm
    assert value(design, "drain_flow.peak_for_bypass_m3_s") == value(design, f"{CANDIDATES}.pump")
    assert printed("56.0") == value(design, "pump.sump_volume_m3") / FOOT**3
    assert printed("16.1") == value(design, "pump.starts_most_per_hour")  # 1.0026 * 900 / 56
    assert value(design, "pump.past_bed_m3") == 0.0
    assert {"pump-starts-often", "pump-pulse", "pump-sump", "pump-before-practice"} <= codes(design)
    pond = designed(PUMP.replace('"28 ft2"', '"4000 ft2"'))
    assert value(pond, "pump.past_bed_m3") > 0.0
    assert "pump-starts-often" not in codes(pond)
    (pulse,) = [f for f in pond.findings if f.code == "pump-pulse"]
    assert pulse.severity == "caution"


@pytest.mark.works(of=(add_pumping, pump_capacity_key))
def test_a_pump_of_which_less_is_known_says_what_is_missing() -> None:
    bare = designed('\n[pump]\nfloat_on = "1176.5 ft"\n')
    assert is_unknown(bare.trace.value("drain_flow.peak_for_share_m3_s"))
    assert bare.verdict != "fits"
    (told,) = [f for f in bare.findings if f.code == "pump-cycle-not-known"]
    assert "float_off, sump_area" in told.message
    edit = ("flow_days = 200", 'flow_days = 200\npump_capacity = "300 gpm"')
    twice = designed(PUMP, edit)
    assert "pump-stated-twice" in codes(twice)
    old = designed("", edit)
    assert printed("0.668") == value(old, f"{CANDIDATES}.pump") / CFS
    assert "pump-before-practice" not in codes(old)


@pytest.mark.works(of=(result_record, explain))
def test_record_of_the_main_says_segments_limit_and_ground() -> None:
    record = result_record(designed(WHOLE + EAST + PUMP), (), "0")
    main = record["main"]
    assert [one["name"] for one in main["segments"]] == ["past-the-bed", "field"]
    assert main["limiting_segment"] == "field"
    assert main["where"] == "junction-15"
    assert main["water_reaches_ground_m3_s"] > main["segments"][1]["flow_full_m3_s"]
    assert (
        main["segments"][1]["level_up_boards_in_m"] > main["segments"][1]["level_up_boards_out_m"]
    )
    assert record["submains"][0]["joins"] == "below the diversion"
    assert record["pump"]["past_bed_m3"] == 0.0
    plain = result_record(without_segments(), (), "0")
    assert plain["drain_flow"]["area_above_m2"] == pytest.approx(62 * ACRE)
    assert (plain["submains"], plain["pump"]) == ([], {})
    assert plain["main"]["where"] == "junction-15"


@pytest.mark.by_hand(
    of=(segment_grade, invert_on_grade, velocity_full, level_over_crest, velocity_limit_by_soil)
)
def test_small_formulas_of_a_segment() -> None:
    assert segment_grade(1181.20, 1180.95, 140.0, 0.0) == pytest.approx(0.25 / 140)
    assert invert_on_grade(1181.20, 0.0018, 290.0, 140.0) == pytest.approx(1181.47)
    assert velocity_full(0.05, 0.25) == pytest.approx(0.05 / 0.049087, rel=1e-4)
    assert level_over_crest(1184.20, 0.385) == pytest.approx(1184.585)
    assert printed("6.0") == velocity_limit_by_soil("silty clay loam") / FOOT
