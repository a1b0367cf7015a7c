# SPDX-License-Identifier: Apache-2.0
"""The steps of a buffer on Merridew Farm, against its hand arithmetic and by law."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.buffers import HOLES, MERRIDEW, designed, merridew
from tests.digits import printed
from tests.jobs import ACRE, CFS, FOOT, INCH, POUND
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.basis.unknown import is_unknown
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.practices.buffer.bank import (
    allowed_gradient,
    bank_soil,
    factors_of_safety,
    largest_factor,
    least_factor,
)
from tilewater.practices.buffer.board_steps import field_level, higher_crest
from tilewater.practices.buffer.givens import effective_radius_of, wetted_perimeter_of_line
from tilewater.practices.buffer.line import (
    flow_at_heads,
    flow_without_losses,
    head_in_soil,
    travel_days,
    travel_days_linear,
)
from tilewater.practices.buffer.line_lengths import (
    feeding_branches,
    length_of_strip_used,
    share_of_length,
)
from tilewater.practices.buffer.quantities import (
    backfill_of_trench,
    envelope_volume,
    solid_line,
    trench_volume,
)
from tilewater.practices.buffer.removal import (
    oxic_days_of,
    removal_first_order,
    removal_zero_order,
    removed_load,
)
from tilewater.practices.buffer.rules import flow_rule_604, height_unstudied, is_perennial
from tilewater.practices.buffer.scene import buffer_section
from tilewater.practices.buffer.soil import (
    factor_of_holes,
    head_above_barrier,
    head_of_line,
    mean_of_holes,
    organic_matter_of_carbon,
    survey_factor,
)
from tilewater.practices.buffer.steps import add_buffer

DAY = 86400.0
SPRING = {
    "inputs.season.spring.from": "03-20",
    "inputs.season.spring.to": "06-14",
    "inputs.season.spring.water_temperature_c": 8.0,
    "inputs.season.rest.from": "06-15",
    "inputs.season.rest.to": "03-19",
    "ditch.spring.stage_m": 741.0 * FOOT,
    "ditch.rest.stage_m": 738.0 * FOOT,
}


def codes(trace):
    return {finding.code: finding for finding in trace.findings}


@pytest.mark.by_hand(of=(add_buffer, flow_without_losses, head_of_line))
def test_flow_of_1100_feet_of_line():
    """h1 7.5, h2 3.0 ft, W 55 ft: (56.25 - 9) / 110 = 0.4295 ft2 a day per ft/day and foot."""
    trace = designed()
    by_hand = 9.0 * (7.5**2 - 3.0**2) / (2 * 55) * 1100
    flow = trace.value("buffer.flow_without_losses_m3_s")
    assert printed("9.0") == trace.value("buffer.conductivity_m_s") * DAY / FOOT
    assert by_hand == pytest.approx(flow * DAY / FOOT**3, rel=1e-9)
    assert printed("0.0492") == flow / CFS
    assert printed("7.9") == 100 * flow / trace.value("drain_flow.peak_for_share_m3_s")
    survey = designed(holes=False)
    assert survey.value("buffer.conductivity_from") == "soil survey"
    less = survey.value("buffer.flow_without_losses_m3_s")
    # the hand arithmetic rounds 9 um/s to 2.55 ft a day
    assert less / CFS == pytest.approx(0.0139 * 9e-6 * DAY / FOOT / 2.55, abs=5e-5)


@pytest.mark.by_hand(of=(add_buffer, flow_at_heads))
def test_losses_of_the_line_are_taken_off():
    """Trench 12 in with gravel 4 in high, 7.5 ft of soil: r = 2 ln(7.5 / 1.667) / (pi K).

    With h1 in the soil Q = L K (h1^2 - 9) / 110 and 7.5 - h1 = r Q / L, friction left out.
    """
    trace = designed()
    loss = 2 * math.log(7.5 / (20 / 12)) / math.pi  # ft per (K ft)
    k = 1 / 110
    h1 = (-1 + math.sqrt(1 + 4 * k * loss * (7.5 + k * loss * 9))) / (2 * k * loss)
    by_hand = 9.0 * 1100 * k * (h1**2 - 9)
    flow = trace.value("buffer.flow_m3_s") * DAY / FOOT**3
    assert flow == pytest.approx(by_hand, rel=0.01)  # friction takes the rest
    assert flow < by_hand
    assert flow < 0.9 * 4252.5
    assert trace.value("buffer.head_soil_m") < trace.value("buffer.head_line_m")


@pytest.mark.by_hand(of=(add_buffer, length_of_strip_used, share_of_length, flow_rule_604))
def test_the_flow_rule_by_both_arms():
    trace = designed()
    assert printed("1.00") == trace.value("buffer.length_share")
    assert codes(trace)["flow-rule-arms"].message.startswith("The first arm")
    tight = designed(holes=False)
    words = codes(tight)["flow-rule-arms"]
    assert "Only the second arm" in words.message
    assert "poor value" in words.message
    assert "100% of the length" in words.message
    assert tight.value("buffer.flow_rule") == 1.0
    short = designed({"inputs.buffer.branches_m": (300 * FOOT, 300 * FOOT)}, holes=False)
    assert short.value("buffer.flow_rule") == pytest.approx(640 / 1140)
    assert codes(short)["flow-rule-arms"].message.startswith("Neither arm")
    assert 0.07 / 0.05 == pytest.approx(flow_rule_604(0.07, 0.5, 0.05))


@pytest.mark.by_hand(of=(add_buffer,))
def test_spring_water_of_the_ditch_halves_the_flow():
    """h2 6.0 instead of 3.0 ft: 56.25 - 36 = 20.25 instead of 47.25."""
    trace = designed(SPRING)
    spring, rest = (
        trace.value(f"buffer.season.{name}.flow_without_losses_m3_s") for name in ("spring", "rest")
    )
    assert 20.25 / 47.25 == pytest.approx(spring / rest, rel=1e-9)
    assert trace.value("buffer.criterion_season") == "spring"
    assert trace.value("buffer.flow_m3_s") == trace.value("buffer.season.spring.flow_m3_s")
    chosen = designed(SPRING | {"inputs.buffer.criterion_season": "rest"})
    assert chosen.value("buffer.flow_m3_s") == trace.value("buffer.season.rest.flow_m3_s")


@pytest.mark.law(of=(add_buffer,))
@settings(max_examples=6)
@given(stage=st.floats(735.0, 742.4), rise=st.floats(0.05, 1.0))
def test_a_higher_ditch_never_takes_more(stage, rise):
    low = designed({"ditch.year.stage_m": stage * FOOT})
    high = designed({"ditch.year.stage_m": (stage + rise) * FOOT})
    assert high.value("buffer.flow_m3_s") <= low.value("buffer.flow_m3_s")


@pytest.mark.law(of=(add_buffer, head_above_barrier))
def test_a_ditch_as_high_as_the_crest_takes_nothing_and_the_time_is_not_known():
    trace = designed({"ditch.year.stage_m": 742.6 * FOOT})
    assert trace.value("buffer.flow_m3_s") == 0
    assert is_unknown(trace.value("buffer.travel_time_days"))
    assert head_above_barrier(734.0, 735.0) == 0


@pytest.mark.by_hand(of=(feeding_branches, solid_line, add_buffer))
def test_trees_are_passed_in_solid_pipe():
    """140 ft of willows: 960 of 1100 ft feed; solid pipe is 40 ft at the structure and the 140."""
    trace = designed({"inputs.buffer.tree_length_m": 140 * FOOT})
    assert printed("960.0") == trace.value("buffer.line_length_m") / FOOT
    assert printed("180.0") == trace.value("quantities.solid-line.quantity") / FOOT
    assert trace.value("buffer.length_share") == pytest.approx(1.0)
    ratio = trace.value("buffer.flow_without_losses_m3_s") / designed().value(
        "buffer.flow_without_losses_m3_s"
    )
    assert 960 / 1100 == pytest.approx(ratio)
    assert "roots-at-line" in codes(trace)
    with pytest.raises(OutOfDomain, match="would feed nowhere"):
        feeding_branches((10.0, 10.0), 20.0)


@pytest.mark.by_hand(of=(mean_of_holes, factor_of_holes, survey_factor))
def test_holes_kinds_and_their_ranges():
    trace = designed()
    for name, feet_per_day in HOLES.items():
        found = trace.value(f"buffer.hole.{name}.conductivity_m_s") * DAY / FOOT
        assert feet_per_day == pytest.approx(found, rel=1e-6)
    logs = [math.log(value) for value in HOLES.values()]
    mean = sum(logs) / 3
    spread = math.sqrt(sum((each - mean) ** 2 for each in logs) / 2)
    by_hand = math.exp(1.645 * spread / math.sqrt(3))
    assert max(1.2, by_hand) == pytest.approx(trace.value("buffer.conductivity_by.auger_factor"))
    assert trace.value("buffer.conductivity_low_m_s") == pytest.approx(
        trace.value("buffer.conductivity_m_s") / 1.2
    )
    wide = factor_of_holes(a=1.0, b=4.0, c=16.0)
    assert wide == pytest.approx(math.exp(1.645 * math.log(4) / math.sqrt(3)))
    assert factor_of_holes(a=1.0, b=4.0) == 2.0
    assert mean_of_holes(a=1.0, b=4.0) == pytest.approx(2.0)
    assert survey_factor(1e-6) == 4.0


@pytest.mark.works(of=(add_buffer,))
def test_kinds_of_conductivity_stand_side_by_side():
    trace = designed()
    season = "buffer.season.year"
    assert trace.value(f"{season}.flow_auger_m3_s") == trace.value("buffer.flow_m3_s")
    assert trace.value(f"{season}.flow_survey_m3_s") < 0.4 * trace.value("buffer.flow_m3_s")
    survey = designed({"inputs.buffer_soil.conductivity_from": "soil survey"})
    assert survey.value("buffer.conductivity_m_s") == 9e-6
    assert "survey-conductivity" in codes(survey)
    assert "share-hangs-on-conductivity" in codes(survey)
    few = designed({f"inputs.auger_hole.a{n}.{key}": None for n in (2, 3) for key in HOLE_KEYS})
    assert "few-holes" in codes(few)
    assert few.value("buffer.conductivity_high_m_s") == pytest.approx(
        2 * few.value("buffer.conductivity_m_s")
    )


HOLE_KEYS = ("radius_m", "depth_m", "water_table_m", "depths_m", "times_s")


@pytest.mark.by_hand(of=(add_buffer,))
def test_layers_are_one_kind_of_conductivity():
    """3.5 ft of 2 ft/day under 4 ft of 6 ft/day, water 7.5 ft deep: (7 + 24) / 7.5."""
    trace = designed(
        {
            "inputs.soil_layer.lower.top_m": 738.5 * FOOT,
            "inputs.soil_layer.lower.conductivity_m_s": 2 * FOOT / DAY,
            "inputs.soil_layer.upper.top_m": 744.0 * FOOT,
            "inputs.soil_layer.upper.conductivity_m_s": 6 * FOOT / DAY,
            "inputs.buffer_soil.conductivity_from": "layers",
        }
    )
    assert 31 / 7.5 == pytest.approx(trace.value("buffer.conductivity_m_s") * DAY / FOOT)


@pytest.mark.by_hand(of=(add_buffer, field_level, higher_crest))
def test_storm_head_over_the_boards_and_clear_soil_at_the_field_edge():
    """0.620 cfs over a 1.0-ft sharp board: (0.620 / 3.33)^(2/3) = 0.326 ft; 746.4 - 742.5 = 3.9."""
    trace = designed()
    assert printed("0.326") == trace.value("buffer.storm.head_m") / FOOT
    assert printed("3.90") == trace.value("buffer.field_edge.standing_m") / FOOT
    clear = 746.4 - (742.5 + 0.326 + 0.0035 * 60)
    assert printed("3.36") == clear  # at a crest of 742.5; 3.26 in the farm's own table at 742.6
    raised = designed({"inputs.buffer.head_boards_m": 62.1 * INCH})
    assert raised.value("buffer.field_crest.design_m") == pytest.approx((737.9 + 62.1 / 12) * FOOT)
    assert raised.value("buffer.flow_m3_s") == trace.value("buffer.flow_m3_s")
    assert higher_crest(2.0) == 2.0 == higher_crest(2.0, 1.0)


@pytest.mark.law(of=(field_level,))
@given(low=st.floats(0.5, 2.0), high=st.floats(0.5, 2.5), flow=st.floats(0.0, 0.05))
def test_head_boards_never_lower_the_water_of_the_field(low, high, flow):
    bypass = board_set_sharp_francis(low, 0.0, crest_width=0.35)
    head = board_set_sharp_francis(high, 0.0, crest_width=0.35)
    alone = field_level(flow, 0.2, bypass)
    assert field_level(flow, 0.2, bypass, head) >= max(alone, high) - 1e-9


@pytest.mark.by_hand(of=(add_buffer,))
def test_bank_and_gradient_of_the_farm():
    trace = designed()
    assert printed("7.7") == trace.value("buffer.bank_height_m") / FOOT
    assert printed("0.082") == trace.value("buffer.gradient")
    assert trace.value("buffer.seep_m") >= 738.0 * FOOT
    assert trace.value("buffer.exit.status") == "holds"
    low, high = (trace.value(f"buffer.bank_factor_{end}") for end in ("low", "high"))
    assert low < high
    assert codes(trace)["bank-range"].severity == "caution"


@pytest.mark.law(of=(factors_of_safety, bank_soil, least_factor, largest_factor))
def test_water_and_weak_soil_make_the_low_end():
    weak, strong = bank_soil(3e3, 22.0, 1940.0), bank_soil(8e3, 32.0, 1940.0)
    low = factors_of_safety(weak, 2.3, 1.5, 0.8, 0.08)
    high = factors_of_safety(strong, 2.3, 1.5, 0.8, 0.08)
    dry_circle, wet_circle, dry_face, wet_face = low
    assert wet_circle < dry_circle
    assert wet_face < dry_face
    assert all(a < b for a, b in zip(low, high, strict=True))
    assert least_factor(low=low, high=high) == min(low)
    assert largest_factor(low=low, high=high) == max(high)


@pytest.mark.by_hand(of=(allowed_gradient, organic_matter_of_carbon, height_unstudied))
def test_small_arithmetic_of_soil_and_bank():
    """n 0.444: e 0.8, (2.65 - 1) / 1.8 = 0.917, a third 0.306; 0.75 % carbon is 1.29 % matter."""
    assert printed("0.306") == allowed_gradient(0.8 / 1.8)
    assert printed("0.0129") == organic_matter_of_carbon(0.0075)
    assert height_unstudied(2.6) == 2.6
    assert height_unstudied(2.6, "A. Berg, 2026-03-01, stands") == 0.0
    assert is_perennial("perennial") == 1.0
    assert is_perennial("bare") == 0.0


@pytest.mark.by_hand(of=(travel_days, travel_days_linear, head_in_soil))
def test_travel_times_of_the_criterion_season():
    trace = designed()
    soil, pipe = trace.value("buffer.soil"), trace.value("buffer.pipe")
    h1, h2 = trace.value("buffer.head_soil_m"), trace.value("buffer.head_stream_m")
    K, W, n = soil.conductivity * DAY, soil.width, 0.35
    exact = 4 / 3 * n * W**2 * (h1**3 - h2**3) / (K * (h1**2 - h2**2) ** 2)
    assert exact == pytest.approx(trace.value("buffer.travel_time_days"))
    linear = 1.11 * n * W**2 / (K * (h1 - h2))
    assert linear == pytest.approx(trace.value("buffer.travel_time_linear_days"))
    flow = trace.value("buffer.flow_m3_s")
    assert h1 == pytest.approx(head_in_soil(flow, h2, pipe, soil))
    assert flow == pytest.approx(K / DAY * (h1**2 - h2**2) / (2 * W) * 1100 * FOOT)


@pytest.mark.by_hand(of=(oxic_days_of, removal_first_order, removal_zero_order, removed_load))
def test_removal_by_two_laws():
    """30 days at 10 degC, Q10 1.97, oxygen 8 falling to 4.5 at 2 a day, C 12 mg/L, n 0.35."""
    warm = 1.97 ** ((10 - 15) / 10)
    oxic = 3.5 / (2 * warm)
    assert oxic == pytest.approx(oxic_days_of(8.0, 2.0, 10.0, 1.97))
    first = 1 - math.exp(-0.1 * warm * (30 - oxic))
    assert first == pytest.approx(removal_first_order(30.0, oxic, 0.1, 10.0, 1.97))
    zero = 0.04 * warm / 0.35 * (30 - oxic) / 12
    assert zero == pytest.approx(removal_zero_order(30.0, oxic, 0.04, 0.35, 12.0, 10.0, 1.97))
    assert removal_zero_order(30.0, 0.0, 10.0, 0.35, 12.0, 10.0, 1.97) == 1.0
    assert removal_first_order(1.0, 3.0, 0.1, 10.0, 1.97) == 0.0
    share = treated_share_exponential(4252.5 / DAY, 0.0798)
    assert printed("0.460") == share
    assert printed("378") == removed_load(965.0, share, 0.85)
    assert 965 == pytest.approx(9.5 / 12 * FOOT * 38 * ACRE * 11.8 / 1000 / POUND, rel=0.001)


@pytest.mark.works(of=(add_buffer,))
def test_what_the_laws_say_stands_in_a_finding():
    found = codes(designed())["buffer-laws-differ"]
    assert "84 percent" in found.message
    assert "mean of site-years" in found.message


@pytest.mark.by_hand(of=(trench_volume, envelope_volume, backfill_of_trench, add_buffer))
def test_quantities_of_the_line():
    """1140 ft of trench, 1 ft wide, 3.6 ft and 0.1 m deep; gravel 1 ft by 4 in and 0.2 m."""
    trace = designed()
    trench = 1140 * FOOT * FOOT * (3.6 * FOOT + 0.1)
    assert trench == pytest.approx(trace.value("quantities.trench.quantity"))
    pipe = math.pi * (4 * INCH) ** 2 / 4
    gravel = 1100 * FOOT * (FOOT * (4 * INCH + 0.2) - pipe)
    assert gravel == pytest.approx(trace.value("quantities.envelope.quantity"))
    back = trench - gravel - 1140 * FOOT * pipe
    assert back == pytest.approx(trace.value("quantities.backfill.quantity"))
    assert trace.value("quantities.spoil.quantity") == pytest.approx(trench - back)
    assert trace.value("quantities.end-cap.quantity") == 2
    bare = designed({"inputs.buffer.envelope": "soil"})
    assert "quantities.envelope.quantity" not in bare


@pytest.mark.by_hand(of=(effective_radius_of, wetted_perimeter_of_line))
def test_perimeter_by_what_lies_round_the_line():
    assert effective_radius_of("soil") == 0.0051
    assert effective_radius_of("fabric sock") == 0.059
    assert effective_radius_of("soil", 0.016) == 0.016
    assert 2 * math.pi * 0.0051 == pytest.approx(wetted_perimeter_of_line("soil", 0.0051, 0.3, 0.1))
    assert 0.5 == pytest.approx(wetted_perimeter_of_line("gravel", 0.0051, 0.3, 0.1))
    bare, sock, gravel = (
        designed({"inputs.buffer.envelope": kind}).value("buffer.flow_m3_s")
        for kind in ("soil", "fabric sock", "gravel")
    )
    assert bare < sock < gravel


@pytest.mark.law(of=(add_buffer,))
@pytest.mark.parametrize("key", sorted(key for key in MERRIDEW if key.startswith("inputs.buffer")))
def test_an_answer_that_is_missing_is_never_guessed(key):
    """Without any one answer nothing fails, and no value of the whole improves."""
    whole, less = designed(), designed({key: None})
    unknown = {step.key for step in less if is_unknown(step.value)}
    if key not in ("inputs.buffer_soil.conductivity_survey_m_s",):
        assert unknown
    for name in ("buffer.flow_m3_s", "buffer.flow_rule", "buffer.travel_time_days"):
        assert is_unknown(less.value(name)) or less.value(name) == whole.value(name)


@pytest.mark.works(of=(buffer_section,))
def test_section_for_the_drawing():
    scene = buffer_section(designed(SPRING))
    assert scene.missing == ()
    assert [water.season for water in scene.waters] == ["spring", "rest"]
    spring = scene.waters[0]
    assert scene.width == 55 * FOOT
    assert spring.table[0][1] < spring.structure.elevation
    assert spring.table[-1] == (pytest.approx(55 * FOOT), pytest.approx(741.0 * FOOT))
    assert spring.seep is not None
    assert spring.seep.key == "buffer.seep_m"
    less = buffer_section(designed({"inputs.buffer.barrier_m": None}))
    assert less.waters == ()
    assert "inputs.buffer.barrier_m" in less.missing


@pytest.mark.works(of=(head_of_line,))
def test_a_crest_under_the_restrictive_layer_is_refused():
    with pytest.raises(NoSolution, match="under the restrictive layer"):
        head_of_line(734.0, 735.0)
    trace = merridew({"inputs.boards.inlet_m": 0.0, "inputs.buffer.barrier_m": 738.5 * FOOT})
    add_buffer(trace)
    assert is_unknown(trace.value("buffer.flow_m3_s"))
