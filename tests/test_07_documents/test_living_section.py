# SPDX-License-Identifier: Apache-2.0
"""The living section tells the truth: water, boards and limits stand where they are computed."""

from pathlib import Path

import pytest

from tests.held import copied, some_edits
from tests.living import Sketch, answered, designed, drawn, points_of
from tilewater.basis.units import System
from tilewater.documents.living.field import FieldView
from tilewater.documents.living.labels import Labels
from tilewater.documents.living.layout import Scale, lay_out
from tilewater.documents.living.panel import plain_times
from tilewater.documents.living.parts import between_banks, draw_box
from tilewater.documents.living.section import living_section
from tilewater.documents.living.stage import Binds
from tilewater.documents.words import Words
from tilewater.job.edits import Edit
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_water import LookedAt, scene_at

FOOT = 0.3048
HAIR = 0.002
"""What a hundredth of a pixel can hide, with room. [m]"""
FARMS = ("corbel-farm", "merridew-farm", "sorrel-farm", "verling-farm")
WIDTHS = (348.0, 620.0, 680.0, 840.0, 1180.0)
RAISED: dict[str, Edit] = {"practice.kind": "raised"}


@pytest.mark.works(of=(living_section,))
@pytest.mark.parametrize("width", WIDTHS)
def test_water_of_a_bed_stands_at_its_elevations(width: float) -> None:
    answer = answered("corbel-farm")
    sketch, trace = Sketch(drawn(answer, width)), designed("corbel-farm").trace
    levels = sketch.levels("water-line")
    here = "capacity.criterion.levels_m"
    assert levels[0] == pytest.approx(trace.value(f"{here}.diversion"), abs=HAIR)
    assert levels[-1] == pytest.approx(trace.value(f"{here}.outlet_box"), abs=HAIR)
    ends = trace.value(f"{here}.inlet_end"), trace.value(f"{here}.outlet_end")
    assert min(abs(level - ends[0]) for level in levels) < HAIR
    assert min(abs(level - ends[1]) for level in levels) < HAIR
    spring = sketch.levels("water-spring")
    assert spring[0] == pytest.approx(trace.value("capacity.spring.levels_m.diversion"), abs=HAIR)


@pytest.mark.works(of=(living_section,))
def test_water_follows_the_boards() -> None:
    high = Sketch(drawn(answered("corbel-farm"))).levels("water-line")[0]
    low = Sketch(drawn(answered("corbel-farm", {"boards.inlet": "28 in"}))).levels("water-line")[0]
    assert high - low == pytest.approx(8.0 / 12.0 * FOOT, abs=HAIR)


@pytest.mark.works(of=(living_section,))
@pytest.mark.parametrize("farm", ["merridew-farm", "sorrel-farm"])
def test_water_of_a_buffer_falls_from_the_line_to_the_ditch(farm: str) -> None:
    trace, sketch = designed(farm).trace, Sketch(drawn(answered(farm)))
    season = trace.value("buffer.criterion_season")
    (table,) = sketch.parts("water-line")
    points = points_of(table)
    assert points[0][0] < points[-1][0]  # the ditch stands to the left
    levels = [sketch.elevation(y) for _, y in points]
    assert levels == sorted(levels)
    at_line = trace.value("inputs.buffer.barrier_m") + trace.value(
        f"buffer.season.{season}.head_soil_m"
    )
    assert levels[-1] == pytest.approx(at_line, abs=HAIR)
    (ditch,) = sketch.parts("ditch-water")
    level = sketch.elevation(points_of(ditch)[0][1])
    assert level == pytest.approx(trace.value(f"ditch.{season}.stage_m"), abs=HAIR)


@pytest.mark.works(of=(living_section,))
def test_a_raised_outlet_holds_water_at_its_crest() -> None:
    trace, sketch = (
        designed("corbel-farm", RAISED).trace,
        Sketch(drawn(answered("corbel-farm", RAISED))),
    )
    crest = trace.value("boards.inlet-design.crest_m")
    assert sketch.levels("water-line")[0] == pytest.approx(crest, abs=HAIR)
    assert sketch.levels("pool", "field")[0] == pytest.approx(crest, abs=HAIR)


@pytest.mark.works(of=(draw_box,))
@pytest.mark.parametrize(
    ("farm", "edits", "structure"),
    [
        ("corbel-farm", {}, "inlet"),
        ("corbel-farm", {}, "outlet"),
        ("corbel-farm", {"boards.inlet": "34 in"}, "inlet"),
        ("corbel-farm", RAISED, "inlet"),
        ("merridew-farm", {}, "inlet"),
        ("merridew-farm", {"buffer.head_boards": "14 in"}, "head"),
    ],
)
def test_boards_are_as_many_and_as_high_as_they_are(
    farm: str, edits: dict[str, Edit], structure: str
) -> None:
    trace, sketch = designed(farm, edits).trace, Sketch(drawn(answered(farm, edits)))
    stack = trace.value(f"boards.{structure}-design.stack_m")
    boards = sketch.boards(structure)
    assert len(boards) == len(stack)
    assert len(stack) > 0
    sill = trace.value(f"boards.{structure}-design.crest_m") - sum(stack)
    for (foot, top), height in zip(boards, stack, strict=True):
        assert foot == pytest.approx(sill, abs=HAIR)
        seam = 0.3 * height  # white between boards, at most
        assert sill + height - seam - HAIR <= top <= sill + height + HAIR
        sill += height
    assert boards[-1][1] == pytest.approx(sill, abs=HAIR)


@pytest.mark.works(of=(FieldView,))
def test_clear_soil_and_its_limit_are_drawn_as_long_as_they_are() -> None:
    trace, sketch = designed("corbel-farm").trace, Sketch(drawn(answered("corbel-farm")))
    ground = trace.value("inputs.spot.low-1.ground_m")
    (arrow,) = sketch.parts("clear-low-1")
    top, foot = (sketch.elevation(y, "field") for _, y in points_of(arrow))
    gap = 1.0 / float(sketch.panel("field").attrib["data-up"])  # the tips stand off by a pixel
    assert top == pytest.approx(ground - gap, abs=HAIR)
    clear = trace.value("field.low-1.midway_m")
    assert foot == pytest.approx(ground - clear + gap, abs=HAIR)
    (limit,) = sketch.parts("limit-low-1")
    at = sketch.elevation(points_of(limit)[0][1], "field")
    assert at == pytest.approx(ground - trace.value("inputs.limits.midway_m"), abs=HAIR)


BINDING: list[tuple[str, dict[str, Edit], str]] = [
    ("corbel-farm", {}, "practice"),
    ("corbel-farm", {"boards.inlet": "40 in"}, "practice"),
    ("corbel-farm", {"limits.midway": "1.2 ft"}, "practice"),
    ("corbel-farm", {"limits.midway": "1.08 ft"}, "field"),
    ("corbel-farm", RAISED, "field"),
    ("merridew-farm", {}, "practice"),
    ("sorrel-farm", {}, "practice"),
    ("verling-farm", {}, "practice"),
]


@pytest.mark.works(of=(living_section,))
@pytest.mark.parametrize("width", [348.0, 840.0])
@pytest.mark.parametrize(("farm", "edits", "panel"), BINDING)
def test_what_binds_is_drawn_where_it_binds(
    farm: str, edits: dict[str, Edit], panel: str, width: float
) -> None:
    design, sketch = designed(farm, edits), Sketch(drawn(answered(farm, edits), width))
    assert design.governs is not None
    inside = [e for e in sketch.panel(panel).iter() if e.get("data-part") == "binds"]
    assert len(inside) == 1
    assert len(sketch.parts("binds")) == 1
    xs = [x for x, _ in points_of(inside[0])]
    if design.governs.where == "bed":
        (chips,) = sketch.parts("chips")
        bed = [x for x, _ in points_of(chips)]
        assert min(bed) <= min(xs) <= max(xs) <= max(bed)
    if panel == "field":
        (limit,) = sketch.parts(f"limit-{design.governs.where}")
        left, right = (x for x, _ in points_of(limit))
        assert xs[0] == pytest.approx((left + right) / 2, abs=0.02)
    said = [text.words for text in sketch.texts() if "binds" in text.words]
    spot = [text.words for text in sketch.texts() if "clear, least" in text.words]
    assert said or spot


@pytest.mark.works(of=(living_section,))
@pytest.mark.parametrize(
    ("farm", "edits"),
    [("corbel-farm", {}), ("corbel-farm", RAISED), ("merridew-farm", {}), ("sorrel-farm", {})],
)
@pytest.mark.parametrize("width", [348.0, 840.0])
def test_whatever_may_bind_has_a_place_in_the_drawing(
    farm: str, edits: dict[str, Edit], width: float
) -> None:
    answer, design = answered(farm, edits), designed(farm, edits)
    for one in design.trace.requirements:
        if not one.binding:
            continue
        binds = Binds(one.key, one.where, "as it is")
        sketch = Sketch(drawn(answer, width, binds=binds))
        spots = {wet.removeprefix("limit-") for wet in sketch.names() if wet.startswith("limit-")}
        is_far = one.key.startswith("field.") and one.where not in spots
        assert len(sketch.parts("binds")) == (0 if is_far else 1), one.key


@pytest.mark.works(of=(Labels,))
@pytest.mark.parametrize("farm", FARMS)
def test_no_words_lie_on_others_or_leave_the_page(farm: str) -> None:
    sweep = [some_edits(seed) for seed in range(4)]
    seen = 0
    empty: dict[str, Edit] = {}
    for edits in (*sweep, empty, RAISED):
        answer = answered(farm, edits)
        if answer.design is None:
            continue
        for width in WIDTHS:
            sketch = Sketch(drawn(answer, width))
            assert sketch.collisions() == [], (edits, width)
            assert sketch.outside() == [], (edits, width)
            seen += 1
    assert seen >= 2 * len(WIDTHS)


@pytest.mark.works(of=(Labels,))
def test_words_that_are_laid_anywhere_would_be_found_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Labels, "_is_free", lambda self, box: True)
    assert Sketch(drawn(answered("corbel-farm"), 348.0)).collisions() != []


@pytest.mark.works(of=(Labels,))
@pytest.mark.parametrize("units", ["us", "si"])
def test_a_wide_page_drops_no_number_that_matters(units: System) -> None:
    for farm in FARMS:
        living = drawn(answered(farm), 840.0, words=Words(units, "international foot"))
        assert [label for label in living.dropped if "binds" in label or "crest" in label] == []


@pytest.mark.works(of=(living_section,))
def test_what_is_looked_at_is_drawn_and_the_design_stays_dashed() -> None:
    answer = answered("corbel-farm")
    looked_at = LookedAt(flow_m3_s=0.005, ditch_stage_m=360.0)
    scene = scene_at(answer, looked_at)
    assert scene is not None
    sketch = Sketch(drawn(answer, looked_at=looked_at))
    level = scene.number("level_m")
    assert sketch.levels("water-line")[0] == pytest.approx(level, abs=HAIR)
    (ditch,) = sketch.parts("ditch-water")
    assert sketch.elevation(points_of(ditch)[0][1]) == pytest.approx(360.0, abs=HAIR)
    assert len(sketch.parts("water-criterion")) == 1
    assert "looked at" in " ".join(shown.words for shown in sketch.living.legend)


@pytest.mark.works(of=(lay_out, Scale))
def test_the_scale_is_held_while_something_is_dragged() -> None:
    before = drawn(answered("corbel-farm"))
    longer = designed("corbel-farm", {"bed.length_bottom": "110 ft"})
    words = Words("us", "international foot")
    held = living_section(longer, words, width=840.0, held=before.scale)
    own = living_section(longer, words, width=840.0)
    assert held.scale == before.scale
    assert own.scale is not None
    assert before.scale is not None
    assert own.scale.across < before.scale.across
    assert held.width == before.width


@pytest.mark.works(of=(living_section,))
def test_what_is_not_known_is_left_out_and_said() -> None:
    answer = answered("corbel-farm", {"bed.length_bottom": "unknown"})
    sketch = Sketch(drawn(answer))
    assert sketch.parts("chips") == []
    assert len(sketch.boards("inlet")) > 0
    assert "length" in " ".join(sketch.living.missing)


@pytest.mark.works(of=(living_section,))
def test_a_job_of_which_nothing_is_known_has_words_and_no_drawing() -> None:
    edits: dict[str, Edit] = {
        "structure.inlet.sill": "unknown",
        "structure.inlet.rim": "unknown",
        "structure.inlet.floor": "unknown",
        "structure.inlet.ground": "unknown",
        "ditch.bottom": "unknown",
        "ditch.bank_top": "unknown",
        "main.invert_outlet": "unknown",
        "main.invert_diversion": "unknown",
    }
    living = drawn(answered("corbel-farm", edits | RAISED))
    assert living.missing != ()


@pytest.mark.works(of=(living_section,))
def test_heights_are_drawn_a_plain_number_of_times_and_it_is_said() -> None:
    living = drawn(answered("corbel-farm"))
    assert living.scale is not None
    times = living.scale.up / living.scale.across
    assert times == pytest.approx(round(times))
    assert f"heights drawn {times:.0f} times" in living.about
    assert "NAVD88" in living.about


@pytest.mark.by_hand(of=(plain_times,))
def test_times_are_whole_and_below_four_halves() -> None:
    assert [plain_times(t) for t in (0.7, 1.4, 3.9, 4.2, 12.9)] == [0.7, 1.0, 3.5, 4.0, 12.0]


@pytest.mark.by_hand(of=(between_banks,))
def test_water_of_a_ditch_lies_between_its_banks() -> None:
    outline = [(4.0, 2.0), (2.0, 0.0), (0.0, 0.0), (-2.0, 2.0)]  # banks 1:1, bottom 2 m wide
    assert between_banks(outline, 1.0) == [(3.0, 1.0), (2.0, 0.0), (0.0, 0.0), (-1.0, 1.0)]
    over = between_banks(outline, 2.5)
    assert (over[0], over[-1]) == ((4.0, 2.5), (-2.0, 2.5))


@pytest.mark.works(of=(living_section,))
def test_of_a_bed_in_cells_the_one_that_is_drawn_is_named(tmp_path: Path) -> None:
    job = copied(tmp_path)
    with (job / "job.toml").open("a", encoding="utf-8") as file:
        file.write('\n[cell.a]\nwidth_bottom = "14 ft"\n\n[cell.b]\nwidth_bottom = "16 ft"\n')
    texts = [text.words for text in Sketch(drawn(HeldJob(job).first())).texts()]
    assert "cell a, floor 96.50 × 14.00 × 3.50 ft" in texts
