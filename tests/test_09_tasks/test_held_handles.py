# SPDX-License-Identifier: Apache-2.0
"""What of a held job can be moved: by steps that exist, to places that the chain agrees with."""

from functools import cache
from pathlib import Path

import pytest

from tests.held import EXAMPLES, copied
from tilewater.basis.units import to_si
from tilewater.chain.design import Design
from tilewater.chain.looked_at import LookedAt
from tilewater.job.edits import Edit
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_handle import MOST, even_steps, typed, with_value
from tilewater.tasks.held_handles import Handle, edit_at, edit_of, handles_of, looked_at_of

INCH, FOOT = 0.0254, 0.3048


@cache
def held(farm: str) -> HeldJob:
    return HeldJob(EXAMPLES / farm)


@cache
def handles(farm: str, kind: str = "") -> dict[str, Handle]:
    edits: dict[str, Edit] = {"practice.kind": kind} if kind else {}
    return {handle.name: handle for handle in handles_of(designed(farm, edits))}


def designed(farm: str, edits: dict[str, Edit]) -> Design:
    design = held(farm).first(edits).design
    assert design is not None
    return design


@pytest.mark.works(of=(handles_of,))
def test_the_handles_of_a_bed_are_its_boards_sizes_and_pipes():
    names = set(handles("corbel-farm"))
    seasons = ("winter", "spring", "summer", "autumn")
    assert names == {
        *(f"{box}-boards" for box in ("inlet", "outlet")),
        *(f"{box}-boards-{season}" for box in ("inlet", "outlet") for season in seasons),
        *("bed-length", "bed-width", "media-depth", "looked-at-flow", "looked-at-ditch"),
        *(f"pipe-{pipe}" for pipe in ("bypass", "feed", "header-inlet", "header-outlet")),
        *("pipe-bed-to-outlet", "pipe-return"),
    }


@pytest.mark.works(of=(handles_of,))
def test_the_handles_of_a_buffer_are_both_sets_of_boards_its_strip_and_its_line():
    names = {name for name in handles("merridew-farm") if "-boards-" not in name}
    assert names == {
        *("bypass-boards", "head-boards", "buffer-width", "branch-1", "branch-2", "buffer-pipe"),
        *("looked-at-flow", "looked-at-ditch"),
    }


@pytest.mark.works(of=(handles_of,))
def test_the_handles_of_a_raised_outlet_are_its_boards():
    found = handles("corbel-farm", "raised")
    assert [name for name in found if name.startswith("raised-boards")] == [
        "raised-boards",
        *(f"raised-boards-{season}" for season in ("winter", "spring", "summer", "autumn")),
    ]
    assert found["raised-boards-winter"].paths == ("season.winter.inlet_boards",)


@pytest.mark.by_hand(of=(handles_of,))
def test_boards_of_8_6_and_4_inches_reach_every_even_height_from_4_inches_up():
    boards = handles("corbel-farm")["inlet-boards"]
    inches = [round(step / INCH, 6) for step in boards.steps]
    rim_over_sill = (1187.00 - 1181.20) * 12  # 69.6 in
    assert inches == [0.0, *range(4, int(rim_over_sill), 2)]
    assert boards.typed(inches.index(32.0)) == "32 in"
    assert boards.datum_m == pytest.approx(1181.20 * FOOT)
    assert boards.place_m == pytest.approx((1181.20 + 3.0) * FOOT)


@pytest.mark.law(of=(edit_at, edit_of, handles_of))
@pytest.mark.parametrize(
    ("farm", "name"),
    [
        ("corbel-farm", "inlet-boards"),
        ("corbel-farm", "outlet-boards-summer"),
        ("corbel-farm", "bed-length"),
        ("corbel-farm", "bed-width"),
        ("corbel-farm", "media-depth"),
        ("corbel-farm", "pipe-feed"),
        ("merridew-farm", "bypass-boards"),
        ("merridew-farm", "head-boards-spring"),
        ("merridew-farm", "buffer-width"),
        ("merridew-farm", "branch-2"),
        ("verling-farm", "head-boards"),
    ],
)
def test_a_handle_that_was_moved_stands_where_it_was_moved_to(farm: str, name: str):
    handle = handles(farm)[name]
    assert handle.index is not None
    for index in (0, handle.index, handle.index + 2, len(handle.steps) - 1):
        answer = held(farm).first(edit_at(handle, index))
        assert answer.faults == ()
        assert answer.design is not None
        moved = next(each for each in handles_of(answer.design) if each.name == name)
        assert moved.value == pytest.approx(handle.steps[index], abs=2e-6)
        assert moved.datum_m == pytest.approx(handle.datum_m)
        assert edit_of(handle, handle.steps[index]) == edit_at(handle, index)


@pytest.mark.law(of=(handles_of,))
@pytest.mark.parametrize("farm", ["corbel-farm", "merridew-farm", "verling-farm"])
def test_steps_rise_and_the_present_value_is_one_of_them(farm: str):
    for handle in handles(farm).values():
        assert list(handle.steps) == sorted(set(handle.steps))
        assert handle.value in handle.steps
        assert handle.low == handle.steps[0] <= handle.steps[-1] == handle.high
        assert len(handle.steps) <= MOST + 2
        assert handle.is_saved == (not handle.name.startswith("looked-at"))


@pytest.mark.works(of=(handles_of,))
def test_the_crest_of_a_handle_is_that_of_the_drawing():
    trace = designed("corbel-farm", {}).trace
    for name, key in (
        ("inlet-boards", "boards.inlet-design.crest_m"),
        ("outlet-boards-summer", "boards.outlet-summer.crest_m"),
        ("media-depth", "bed.media_top_m"),
    ):
        assert handles("corbel-farm")[name].place_m == pytest.approx(trace.value(key), abs=1e-9)


@pytest.mark.works(of=(edit_at,))
def test_a_branch_moves_alone():
    branch = handles("merridew-farm")["branch-2"]
    least = typed(branch.low, "length", "us")
    assert edit_at(branch, 0) == {"buffer.branches": ["525 ft", least]}


@pytest.mark.works(of=(edit_at,))
def test_a_bed_that_was_searched_for_stays_as_large_as_it_was_found():
    found = designed("corbel-farm", {"bed.size": "smallest that passes"})
    length = next(each for each in handles_of(found) if each.name == "bed-length")
    width = float(found.trace.value("bed.width_bottom_m"))
    edits = edit_of(length, to_si(80.0, "ft"))
    assert edits == {
        "bed.length_bottom": "80 ft",
        "bed.width_bottom": typed(width, "width", "us"),
        "bed.size": "as given",
    }
    after = designed("corbel-farm", edits).trace
    assert after.value("bed.length_bottom_m") == pytest.approx(80 * FOOT)
    assert after.value("bed.width_bottom_m") == pytest.approx(width)


@pytest.mark.works(of=(edit_of, looked_at_of))
def test_flow_and_ditch_are_looked_at_and_never_edits():
    flow, ditch = (handles("corbel-farm")[f"looked-at-{name}"] for name in ("flow", "ditch"))
    assert edit_of(flow, 0.01) == edit_of(ditch, 360.0) == {}
    seen = looked_at_of(flow, 0.0101, LookedAt())
    assert seen.flow_m3_s is not None
    assert seen.flow_m3_s == pytest.approx(0.0101, rel=0.05)
    both = looked_at_of(ditch, 360.0, seen)
    assert both.flow_m3_s == seen.flow_m3_s
    assert both.ditch_stage_m == pytest.approx(360.0, abs=0.025 * FOOT)
    winter = looked_at_of(handles("corbel-farm")["inlet-boards-winter"], 1.0, both)
    assert winter == LookedAt(both.flow_m3_s, both.ditch_stage_m, "winter")


@pytest.mark.works(of=(handles_of,))
def test_what_is_not_known_has_no_handle(tmp_path: Path):
    job = HeldJob(copied(tmp_path))
    edits: dict[str, Edit] = {"boards.heights": "unknown", "bed.length_bottom": "unknown"}
    design = job.first(edits).design
    assert design is not None
    names = {handle.name for handle in handles_of(design)}
    assert not any("boards" in name for name in names)
    assert "bed-length" not in names
    assert "bed-width" in names


@pytest.mark.works(of=(handles_of,))
def test_a_job_in_metres_is_moved_by_metric_steps():
    design = held("corbel-farm").first({"job.units": "si"}).design
    assert design is not None
    found = {handle.name: handle for handle in handles_of(design)}
    assert edit_of(found["bed-length"], 27.1) == {"bed.length_bottom": "27 m"}
    assert edit_of(found["inlet-boards"], 0.8128) == {"boards.inlet": "81.28 cm"}


@pytest.mark.law(of=(even_steps, with_value))
@pytest.mark.parametrize("high", [1.0, 99.7, 1e4])
def test_steps_are_never_too_many(high: float):
    steps = even_steps(0.25, 0.1, high, 0.4)
    assert 0.4 in steps
    assert len(steps) <= MOST + 2
    assert with_value((1.0, 2.0), 2.0 + 1e-9) == (1.0, 2.0 + 1e-9)
    assert with_value((1.0, 2.0), None) == (1.0, 2.0)
