# SPDX-License-Identifier: Apache-2.0
"""The scene of a long section says what the trace says, and leaves out what nobody knows."""

import pytest

from tests.digits import printed
from tests.jobs import FOOT, corbel_inputs, with_givens
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import design_bed
from tilewater.chain.scene import LongSection, long_section_scene
from tilewater.chain.scene_water import read_lines, read_seasons
from tilewater.chain.scene_way import read_ditch, read_way
from tilewater.hydraulics.media import bed_surface_depth

NOBODY = Unknown("nobody knows")
CLOSE = 1e-9  # m, arithmetic


@pytest.fixture(scope="module")
def trace() -> Trace:
    return design_bed(corbel_inputs()).trace


@pytest.fixture(scope="module")
def scene(trace: Trace) -> LongSection:
    return long_section_scene(trace)


def without(*keys: str) -> LongSection:
    return long_section_scene(design_bed(corbel_inputs(dict.fromkeys(keys, NOBODY))).trace)


@pytest.mark.by_hand(of=(long_section_scene, read_way))
def test_parts_lie_end_to_end_along_the_way(scene: LongSection) -> None:
    assert scene.outflow is not None
    assert scene.drain is not None
    assert scene.feed is not None
    assert scene.media is not None
    # return, box, pipe from the bed, floor, feed, box
    assert printed("22.00") == scene.outflow.high / FOOT
    assert printed("24.00") == scene.outlet.high / FOOT
    assert printed("44.80") == (22.0 + 2.0 + 20.8) == pytest.approx(scene.drain.high / FOOT)
    assert printed("141.30") == (44.8 + 96.5) == pytest.approx(scene.media.high / FOOT)
    assert printed("161.65") == (141.3 + 20.35) == pytest.approx(scene.feed.high / FOOT)
    assert printed("163.65") == scene.length / FOOT
    # flow between the middles of end slopes of 1:1, chips 3.5 ft deep
    assert printed("43.05") == (44.8 - 3.5 / 2) == pytest.approx(scene.media.flow_low / FOOT)
    assert printed("143.05") == (141.3 + 3.5 / 2) == pytest.approx(scene.media.flow_high / FOOT)


@pytest.mark.works(of=(long_section_scene, read_way))
def test_of_several_cells_the_first_is_drawn() -> None:
    cells = (
        Given(f"inputs.cell.{name}.length_bottom_m", length * FOOT, "m", "Length")
        for name, length in (("south", 80.0), ("north", 96.5))
    )
    scene = long_section_scene(design_bed(with_givens(corbel_inputs(), *cells)).trace)

    assert scene.media is not None
    assert ("south", 80.0) == (
        scene.media.cell,
        pytest.approx((scene.media.high - scene.media.low) / FOOT),
    )


@pytest.mark.by_hand(of=(read_ditch,))
def test_bank_stands_where_the_cut_says(scene: LongSection) -> None:
    # 5.3 ft of cut at 1:1 outside the toe, then 31 ft to the bank top; bank 1.5:1, 6.85 ft high
    bank, toe, far_toe, far = [(x / FOOT, z / FOOT) for x, z in scene.ditch.outline]
    assert printed("8.50") == (44.8 - 5.3 - 31.0) == pytest.approx(bank[0])
    assert printed("-1.775") == (8.5 - 1.5 * 6.85) == pytest.approx(toe[0])
    assert printed("-6.775") == far_toe[0]
    assert printed("-17.05") == (-6.775 - 1.5 * 6.85) == pytest.approx(far[0])
    assert [1185.75, 1178.90, 1178.90, 1185.75] == pytest.approx(
        [bank[1], toe[1], far_toe[1], far[1]]
    )


@pytest.mark.works(of=(read_lines, read_seasons))
def test_every_line_and_season_has_its_levels(scene: LongSection, trace: Trace) -> None:
    assert {"criterion", "spring", "new"} <= {line.name for line in scene.lines}
    assert "criterion" == scene.lines[0].name
    assert ["winter", "spring", "summer", "autumn"] == [line.name for line in scene.seasons]
    for line in (*scene.lines, *scene.seasons):
        assert 6 == len(line.nodes)
        for node, level in line.nodes:
            assert level.key.endswith(f"levels_m.{node}")
            assert trace.value(level.key) == level.elevation


@pytest.mark.works(of=(long_section_scene,))
def test_surface_is_that_of_the_flow_through_the_chips(scene: LongSection, trace: Trace) -> None:
    line, media, shape = scene.lines[0], scene.media, trace.value("bed.shape")
    assert media is not None
    chips, floor = trace.value("capacity.criterion.media"), trace.value("bed.floor_mean_m")
    up, down = (line.level(node).elevation for node in ("inlet_end", "outlet_end"))  # type: ignore[union-attr]
    assert (media.flow_high, up) == pytest.approx(line.surface[0], abs=CLOSE)
    assert (media.flow_low, down) == pytest.approx(line.surface[-1], abs=CLOSE)
    heights = [z for _, z in line.surface]
    assert heights == sorted(heights, reverse=True)
    x, z = line.surface[10]
    assert z == pytest.approx(
        floor
        + bed_surface_depth(
            media.flow_high - x,
            up - floor,
            down - floor,
            length=shape.length,
            width=shape.width,
            side_slope=shape.side_slope,
            conductivity=chips.conductivity,
            inertia=chips.inertia,
            media_depth=shape.media_depth,
        )
    )
    assert z > (up + down) / 2  # it bends downward, steeper towards the outlet


@pytest.mark.works(of=(long_section_scene,))
def test_every_level_has_a_key_of_the_trace(scene: LongSection, trace: Trace) -> None:
    levels = [level for _, level in scene.groundwater]
    for box in (scene.inlet, scene.outlet):
        levels += [each for each in (box.floor, box.sill, box.rim, box.ground) if each is not None]
        levels += [setting.crest for setting in box.settings]
    assert scene.main is not None
    levels += [spot.ground for spot in scene.main.spots]
    levels += [spot.storm for spot in scene.main.spots if spot.storm is not None]
    assert len(levels) > 20
    assert all(trace.value(level.key) == level.elevation for level in levels)


@pytest.mark.works(of=(long_section_scene,))
@pytest.mark.parametrize(
    ("key", "what"),
    [
        ("pipe.feed.length_m", "the feed"),
        ("pipe.return.diameter_m", "the return"),
        ("bed.length_bottom_m", "the bed"),
        ("structure.outlet.rim_m", "the rim of the outlet structure"),
        ("ditch.bottom_m", "the bottom of the ditch"),
        ("season.spring.ditch_stage_m", "ordinary water of the ditch, spring"),
        ("media.conductivity_new_m_s", "water of the criterion line"),
        ("groundwater.flotation_m", "groundwater, flotation"),
        ("spot.low-1.ground_m", "spot low-1"),
        ("main.invert_outlet_m", "the main past the bed"),
    ],
)
def test_what_is_not_known_is_left_out_and_listed(key: str, what: str) -> None:
    scene = without(key)
    (reason,) = (each for each in scene.missing if what in each.what)
    assert reason.why


@pytest.mark.works(of=(long_section_scene,))
def test_a_gap_keeps_the_place_of_a_pipe_of_unknown_length() -> None:
    scene = without("pipe.feed.length_m")
    assert scene.feed is None
    assert scene.media is not None
    assert scene.inlet.low > scene.media.high
    assert () == scene.lines


@pytest.mark.works(of=(long_section_scene,))
def test_nothing_known_is_a_scene_with_nothing_on_it() -> None:
    floats = [given.key for given in corbel_inputs().givens if isinstance(given.value, float)]
    scene = without(*(key.removeprefix("inputs.") for key in floats))
    assert (None, None, None, None) == (scene.outflow, scene.drain, scene.feed, scene.media)
    assert () == scene.lines + scene.seasons
    assert scene.main is None
    assert len(scene.missing) > 10
