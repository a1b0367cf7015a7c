# SPDX-License-Identifier: Apache-2.0
"""The plan of the desk: coordinates are those of the chain, what is moved becomes typed edits."""

from pathlib import Path
from typing import Any

import pytest

from tests.desks import copy_of, desk_of, version_of
from tilewater.chain.plan_parts import POINTS
from tilewater.chain.scene_plan import plan_scene
from tilewater.desk.moving import edits_to, movable_of, movables, shifted, turned_towards
from tilewater.desk.moving_pipes import pipes_after
from tilewater.desk.pages import plan as plan_of_desk
from tilewater.documents.pages.plan_page import coordinates, distances
from tilewater.documents.plan_json import plan_record
from tilewater.documents.words import Words
from tilewater.tasks.held import HeldJob

FOOT = 0.3048
CORNERS = ("lower-near", "lower-far", "upper-far", "upper-near")
NEAR = 1e-6
"""Rounding of coordinates of millions of feet. [ft]"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return copy_of("corbel-farm", tmp_path_factory.mktemp("desk"))


@pytest.fixture(scope="module")
def held(folder: Path) -> HeldJob:
    return HeldJob(folder)


def of_kind(record: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    return [each for each in record["features"] if each["properties"]["kind"] == kind]


@pytest.mark.works(of=(plan_record, plan_of_desk.plan_twin))
def test_coordinates_of_the_map_are_those_that_the_chain_lays_out(
    folder: Path, held: HeldJob
) -> None:
    served = desk_of(folder.parent).get("/job/corbel-farm/plan.json").json()
    design = held.first().design
    assert design is not None
    (floor,) = of_kind(served, "floor")
    corners = floor["geometry"]["coordinates"][0]
    assert corners[0] == corners[-1]
    for corner, at in zip(CORNERS, corners, strict=False):
        for side, value in zip(("east", "north"), at, strict=True):
            chain = float(design.trace.value(f"{POINTS}.bed-floor-{corner}.{side}_m"))
            assert value == pytest.approx(chain / FOOT, abs=NEAR)


@pytest.mark.by_hand(of=(plan_record,))
def test_shots_lie_where_the_rover_put_them(folder: Path) -> None:
    served = desk_of(folder.parent).get("/job/corbel-farm/plan.json").json()
    shots = {each["properties"]["number"]: each for each in of_kind(served, "shot")}
    # 1187.620,4843727.953,101,3813166.872: height, east, point, north in feet of the grid
    assert shots["101"]["geometry"]["coordinates"] == pytest.approx([4843727.953, 3813166.872])
    assert shots["101"]["properties"]["label"] == "1187.62"
    # 112 and 113 were taken under the willow without a fixed position
    assert {each["properties"]["number"] for each in of_kind(served, "shot-not-used")} == {
        "112",
        "113",
    }


@pytest.mark.by_hand(of=(plan_record,))
def test_a_line_that_nobody_saw_is_not_drawn_as_sure(folder: Path) -> None:
    served = desk_of(folder.parent).get("/job/corbel-farm/plan.json").json()
    found = {each["properties"]["found"]: each for each in of_kind(served, "main")}
    assert found["dug"]["properties"]["is_sure"]
    assert not found["from a map"]["properties"]["is_sure"]
    assert "from a map" in found["from a map"]["properties"]["words"]


@pytest.mark.by_hand(of=(shifted, edits_to, movable_of))
def test_a_drag_along_the_main_moves_the_station_alone(held: HeldJob) -> None:
    design = held.first().design
    assert design is not None
    bed = movable_of(design, "bed")
    # azimuth 68.5 deg: 10 ft up the main are 10 sin 68.5 = 9.304 east, 10 cos 68.5 = 3.665 north
    points = shifted(design, bed, 9.3042, 3.6650, Words("us"))
    edits: dict[str, Any] = {**edits_to(design, bed, points, None, Words("us"))}
    # 0+44.3 and 10 ft
    assert edits["place.bed.station"] == "0+54.3"
    assert "place.bed.offset" not in edits
    # both ends of the header lie in the bed; the feed leaves the structure at 0.65 ft and ends
    # 10 ft farther along: sqrt(10^2 + 20.35^2) = 22.67 ft
    assert edits["pipe.header-inlet.points"] == [["1+50.30", "21.50 ft"], ["1+50.30", "50.50 ft"]]
    assert "pipe.header-inlet.length" not in edits
    assert edits["pipe.feed.points"] == [["1+40.30", "0.65 ft"], ["1+50.30", "21.00 ft"]]
    assert edits["pipe.feed.length"] == "22.67 ft"
    assert not [path for path in edits if "bypass" in path or "pipe.above" in path]


@pytest.mark.by_hand(of=(pipes_after, edits_to))
def test_a_turned_bed_takes_the_ends_of_its_pipes_along(held: HeldJob) -> None:
    design = held.first().design
    assert design is not None
    bed = movable_of(design, "bed")
    edits: dict[str, Any] = {**edits_to(design, bed, bed.points, 90.0, Words("us"))}
    assert edits["place.bed.turn"] == "90 deg"
    # about the corner 0+44.3, 21 ft: (96.0, 0.5) becomes (-0.5, 96.0), (96.0, 29.5) (-29.5, 96.0)
    assert edits["pipe.header-inlet.points"] == [["0+43.80", "117.00 ft"], ["0+14.80", "117.00 ft"]]


@pytest.mark.works(of=(pipes_after,))
def test_pipes_that_follow_end_where_the_design_wants_them(held: HeldJob) -> None:
    design = held.first().design
    assert design is not None
    bed = movable_of(design, "bed")
    points = [(bed.points[0][0] + 3.0, bed.points[0][1])]
    there = held.first(edits_to(design, bed, points, None, Words("us"))).design
    assert there is not None
    codes = {finding.code for finding in there.findings if finding.code.startswith("pipe")}
    assert codes <= {finding.code for finding in design.findings}


@pytest.mark.by_hand(of=(turned_towards,))
def test_a_ring_drawn_straight_away_from_the_main_turns_the_bed_square(held: HeldJob) -> None:
    design = held.first().design
    assert design is not None
    bed = movable_of(design, "bed")
    corner = [
        float(design.trace.value(f"{POINTS}.bed-floor-lower-near.{side}_m")) / FOOT
        for side in ("east", "north")
    ]
    # away from the main, right looking up: azimuth 158.5 deg, so sin = 0.3665, cos = -0.9304
    east, north = corner[0] + 100 * 0.3665, corner[1] - 100 * 0.9304
    assert turned_towards(design, bed, east, north, Words("us")) == 90.0


@pytest.mark.works(of=(plan_of_desk.try_it, distances))
def test_what_is_moved_is_measured_again_by_the_chain_and_written_nowhere(folder: Path) -> None:
    desk, before = desk_of(folder.parent), (folder / "job.toml").read_bytes()
    asked = {"name": "bed", "station": "0+54.3", "number": 7}
    answer = desk.post("/job/corbel-farm/plan/try", json=asked).json()
    assert answer["number"] == 7
    assert answer["edits"]["place.bed.station"] == "0+54.3"
    there = HeldJob(folder).first(answer["edits"]).design
    assert there is not None
    # the bank lies square to the main here, so 10 ft along it are 10 ft more
    bank = float(there.trace.value("plan.distances.bank_to_bed_cut_m")) / FOOT
    assert f"{bank:.2f} ft" in answer["told"]
    assert bank == pytest.approx(31.01 + 10.0, abs=0.02)
    (floor,) = of_kind(answer["plan"], "floor")
    assert floor["geometry"]["coordinates"][0][0][0] == pytest.approx(
        float(there.trace.value(f"{POINTS}.bed-floor-lower-near.east_m")) / FOOT, abs=NEAR
    )
    assert (folder / "job.toml").read_bytes() == before


@pytest.mark.works(of=(plan_of_desk.try_it,))
def test_a_place_that_cannot_be_read_is_told_and_moves_nothing(folder: Path) -> None:
    asked = {"name": "bed", "station": "beside the willow"}
    answer = desk_of(folder.parent).post("/job/corbel-farm/plan/try", json=asked).json()
    assert "beside the willow" in answer["faults"][0]
    assert answer["edits"] == {}


@pytest.mark.works(of=(plan_of_desk.keep,))
def test_a_kept_place_stands_in_the_file_and_an_old_page_cannot_keep(tmp_path: Path) -> None:
    folder = copy_of("corbel-farm", tmp_path)
    desk = desk_of(tmp_path)
    form = {"move": "bed", "station": "0+54.3", "offset": "21.0 ft", "turn": "0 deg"}
    form["version"] = version_of(desk, "corbel-farm")
    assert desk.post("/job/corbel-farm/plan/keep", data=form).status_code == 303
    text = (folder / "job.toml").read_text(encoding="utf-8")
    assert 'station = "0+54.3"' in text
    form["station"] = "0+60.0"
    refused = desk.post("/job/corbel-farm/plan/keep", data=form)
    assert refused.status_code == 409
    assert (folder / "job.toml").read_text(encoding="utf-8") == text


@pytest.mark.works(of=(movables,))
def test_the_line_of_a_buffer_moves_with_all_its_points(tmp_path: Path) -> None:
    copy_of("merridew-farm", tmp_path)
    desk = desk_of(tmp_path)
    asked = {"name": "line-distribution", "station": "0+65"}
    answer = desk.post("/job/merridew-farm/plan/try", json=asked).json()
    assert not answer["faults"]
    points = answer["edits"]["line.distribution.points"]
    assert [station for station, _ in points] == ["0+65.0", "0+65.0"]
    assert HeldJob(tmp_path / "merridew-farm").first(answer["edits"]).design is not None


@pytest.mark.works(of=(coordinates, plan_of_desk.plan, plan_of_desk.part))
def test_the_page_has_the_drawing_and_its_table_without_script(folder: Path) -> None:
    desk = desk_of(folder.parent)
    page = desk.get("/job/corbel-farm/plan").text
    assert "<svg" in page
    assert "floor of the bed, lower near" in page
    moved = desk.get("/job/corbel-farm/plan?move=bed&station=0%2B54.3").text
    assert "Keep it there" in moved
    assert "<script" not in desk.get("/job/corbel-farm/plan/part").text


@pytest.mark.works(of=(plan_scene, plan_record))
def test_without_a_place_in_the_grid_the_plan_says_how_it_is_drawn(tmp_path: Path) -> None:
    folder = copy_of("corbel-farm", tmp_path)
    answer = HeldJob(folder).first({"baseline.north": None, "baseline.east": None})
    assert answer.design is not None
    record = plan_record(plan_scene(answer.design.trace), "us")
    assert not record["grid"]["is_grid"]
    assert "station and offset" in record["grid"]["about"]
    (floor,) = of_kind(record, "floor")
    # place.bed: 0+44.3 and 21.0 ft, the offset drawn downward
    assert floor["geometry"]["coordinates"][0][0] == pytest.approx([44.3, -21.0])
