# SPDX-License-Identifier: Apache-2.0
"""A practice at a flow and a ditch that somebody looks at; the design stays as it is."""

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.held import EXAMPLES, differing
from tilewater.basis.trace import Trace
from tilewater.chain.design import Design, design_practice
from tilewater.chain.looked_at import HERE, LookedAt, look_at
from tilewater.chain.practices import PRACTICES
from tilewater.chain.scene import long_section_scene
from tilewater.chain.scene_looked_at import looked_scene
from tilewater.practices.buffer.balance import split_of_inflow
from tilewater.practices.buffer.scene import buffer_section
from tilewater.tasks.checking import check_job
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_water import scene_at

FARMS = {"bed": "corbel-farm", "buffer": "merridew-farm", "raised": "corbel-farm"}
CLOSE = 1e-6
"""Closeness of a flow that is solved for. [m3/s]"""


@cache
def designed(kind: str) -> Design:
    inputs = check_job(EXAMPLES / FARMS[kind]).inputs
    return design_practice(inputs, PRACTICES[kind], by_days=False)


def numbers(kind: str, looked_at: LookedAt, *names: str) -> list[float]:
    trace = look_at(designed(kind), looked_at)
    return [float(trace.value(f"{HERE}.{name}")) for name in names]


@pytest.mark.law(of=(look_at,))
@settings(max_examples=12)
@given(st.sampled_from(["bed", "buffer"]), st.floats(0.0, 0.08), st.floats(-0.5, 2.0))
def test_what_comes_in_goes_through_or_past(kind: str, flow: float, over_bottom: float):
    bottom = float(designed(kind).trace.value("inputs.ditch.bottom_m"))
    through, past = numbers(
        kind, LookedAt(flow, bottom + over_bottom), "flow_m3_s", "bypass_flow_m3_s"
    )
    assert through + past == pytest.approx(flow, abs=CLOSE)
    assert through >= -CLOSE


@pytest.mark.law(of=(look_at,))
@pytest.mark.parametrize("kind", ["bed", "buffer", "raised"])
def test_more_water_or_a_higher_ditch_never_lowers_the_level(kind: str):
    bottom = float(designed(kind).trace.value("inputs.ditch.bottom_m"))
    flows = [numbers(kind, LookedAt(0.002 * n), "level_m")[0] for n in range(0, 20, 2)]
    ditches = [numbers(kind, LookedAt(0.01, bottom + 0.3 * n), "level_m")[0] for n in range(10)]
    for levels in (flows, ditches):
        assert levels == sorted(levels)
        assert levels[-1] > levels[0]


@pytest.mark.law(of=(look_at,))
def test_a_bed_in_a_season_with_the_main_full_is_that_of_the_chain():
    trace = designed("bed").trace
    for season in trace.names("seasons"):
        here = f"seasons.{season}.full"
        names = ("flow_m3_s", "bypass_flow_m3_s", "level_m", "levels_m.outlet_end")
        expected = [float(trace.value(f"{here}.{name}")) for name in names]
        assert numbers("bed", LookedAt(setting=season), *names) == expected


@pytest.mark.law(of=(look_at, split_of_inflow))
def test_a_buffer_with_the_water_just_at_its_crest_takes_the_flow_of_the_criterion():
    trace = designed("buffer").trace
    season = str(trace.value("buffer.criterion_season"))
    flow = float(trace.value("buffer.flow_m3_s"))
    looked_at = LookedAt(flow_m3_s=flow, setting=season)
    level, through = numbers("buffer", looked_at, "line_level_m", "flow_m3_s")
    assert through == pytest.approx(flow, rel=1e-3)
    assert level == pytest.approx(float(trace.value(f"boards.inlet-{season}.crest_m")), abs=2e-3)


@pytest.mark.law(of=(split_of_inflow,))
def test_a_trickle_goes_into_the_line_whole_and_stands_at_its_invert():
    trace = designed("buffer").trace
    invert = float(trace.value("inputs.buffer.line_invert_m"))
    level, through, past = numbers(
        "buffer", LookedAt(1e-5), "line_level_m", "flow_m3_s", "bypass_flow_m3_s"
    )
    assert (through, past) == (1e-5, 0.0)
    assert level >= invert
    level, through, share = numbers(
        "buffer", LookedAt(0.01, setting="autumn"), "line_level_m", "flow_m3_s", "share"
    )
    assert level < invert, "with the boards of harvest the water does not reach the line"
    assert through == share == 0.0


@pytest.mark.law(of=(look_at,))
@pytest.mark.parametrize("kind", ["bed", "buffer", "raised"])
def test_a_design_is_not_changed_by_being_looked_at(kind: str):
    design = designed(kind)
    before, findings = Trace(steps=dict(design.trace.steps)), list(design.trace.findings)
    scene = looked_scene(design, LookedAt(0.0, setting="no such season"))
    assert differing(design.trace, before) == []
    assert design.trace.findings == findings
    assert scene.looked_at.setting == "design"
    assert scene.number("inflow_m3_s") == 0.0
    assert not any(key.startswith(HERE) for key in design.trace.steps)


@pytest.mark.works(of=(looked_scene,))
def test_the_section_of_a_bed_is_the_same_with_one_more_water():
    design = designed("bed")
    scene = looked_scene(design, LookedAt(0.01))
    assert scene.long_section == long_section_scene(design.trace)
    assert scene.line is not None
    assert scene.line.flow == scene.number("flow_m3_s")
    (first, level), *_ = scene.line.nodes
    assert first == "diversion"
    assert level.elevation == pytest.approx(scene.number("level_m"), abs=1e-6)
    assert level.key == "looked_at.levels_m.diversion"
    assert scene.line.tailwater is not None
    assert scene.line.tailwater.elevation == scene.looked_at.ditch_stage_m
    heights = [elevation for _, elevation in scene.line.surface]
    assert heights == sorted(heights, reverse=True)


@pytest.mark.works(of=(looked_scene,))
def test_the_section_of_a_buffer_is_the_same_with_one_more_water():
    design = designed("buffer")
    scene = looked_scene(design, LookedAt(0.01))
    assert scene.buffer_section == buffer_section(design.trace)
    assert scene.water is not None
    assert scene.water.flow == scene.number("flow_m3_s")
    assert scene.water.ditch.elevation == scene.looked_at.ditch_stage_m
    (at_line, high), *_, (at_bank, low) = scene.water.table
    assert (at_line, at_bank) == (0.0, scene.buffer_section.width if scene.buffer_section else 0)
    assert high > low == pytest.approx(scene.water.ditch.elevation)


@pytest.mark.works(of=(looked_scene,))
def test_an_outlet_raised_in_season_has_its_main_and_its_level():
    scene = looked_scene(designed("raised"), LookedAt(0.01))
    assert scene.main is not None
    crest = float(scene.trace.value("boards.inlet-design.crest_m"))
    assert scene.number("level_m") == pytest.approx(
        crest + float(scene.trace.value("looked_at.bypass_head_m"))
    )


@pytest.mark.works(of=(looked_scene,))
def test_what_is_not_known_is_not_drawn():
    answer = HeldJob(EXAMPLES / "corbel-farm").first({"bed.length_bottom": "unknown"})
    scene = scene_at(answer)
    assert scene is not None
    assert scene.line is None
    assert scene.number("flow_m3_s") is None


@pytest.mark.works(of=(scene_at,))
def test_an_answer_with_faults_has_no_section():
    job = HeldJob(EXAMPLES / "corbel-farm")
    assert scene_at(job.first({"boards.inlet": "3 lb"})) is None
    scene = scene_at(job.first())
    assert scene is not None
    assert scene.looked_at.flow_m3_s == scene.number("inflow_m3_s") != 0.0
