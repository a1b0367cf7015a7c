# SPDX-License-Identifier: Apache-2.0
"""The section on the desk: what if something were moved, at once, and nothing is written."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from typer.testing import CliRunner

from tests.desks import copy_of, desk_of, edit, version_of
from tests.living import WORDS, answered, designed
from tilewater.cli import main
from tilewater.desk.bound import binds_of, now_binds, place_of, reserve_of
from tilewater.desk.five import FOLLOWS, five_of
from tilewater.desk.pages.section import Newest, refine, section, section_twin, try_edits
from tilewater.desk.rings import handles_at, rings_of, says
from tilewater.desk.seen import answer_record, look_of, see
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_water import LookedAt
from tilewater.tasks.roughing import start_from_rough

JOB = "/job/corbel-farm"
INLET = "boards.inlet"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    copy_of("corbel-farm", tmp_path)
    return tmp_path


@pytest.fixture
def desk(root: Path) -> TestClient:
    return desk_of(root)


def tried(desk: TestClient, **sent: Any) -> dict[str, Any]:
    answer = desk.post(f"{JOB}/try", json=sent)
    assert answer.status_code == 200, answer.text
    told: dict[str, Any] = answer.json()
    return told


def words_of(markup: str) -> str:
    """Words of markup, with plain spaces."""
    return re.sub(r"<[^>]*>", " ", markup).replace("\u00a0", " ")


@pytest.mark.works(of=(section,))
def test_the_section_comes_as_a_part_with_its_rings(desk: TestClient) -> None:
    part = desk.get(f"{JOB}/section?width=700")
    assert part.status_code == 200
    for name in ("inlet-boards", "outlet-boards", "bed-length", "media-depth", "looked-at-ditch"):
        assert f'data-handle="{name}"' in part.text
    assert 'data-handle="looked-at-flow"' in part.text
    assert 'role="slider"' in part.text
    assert 'aria-valuetext="36 in, 5 boards"' in part.text
    assert "<script" not in part.text
    assert " onclick=" not in part.text


@pytest.mark.works(of=(section_twin,))
def test_its_twin_says_every_step_and_what_it_does(desk: TestClient) -> None:
    record = desk.get(f"{JOB}/section.json").json()
    inlet = next(h for h in record["handles"] if h["name"] == "inlet-boards")
    now = inlet["steps"][inlet["index"]]
    assert now == {"says": "36 in, 5 boards", "edits": {INLET: "36 in"}}
    assert inlet["steps"][0]["says"] == "0 in, no boards"
    flow = next(h for h in record["handles"] if h["name"] == "looked-at-flow")
    assert not flow["saved"]
    assert set(flow["steps"][0]["looked_at"]) == {"flow_m3_s"}
    assert record["version"] == version_of(desk, "corbel-farm")


@pytest.mark.works(of=(try_edits, answer_record))
def test_a_step_is_answered_with_its_number_and_moves_all_that_is_shown(desk: TestClient) -> None:
    before = tried(desk, number=1)
    after = tried(desk, edits={INLET: "34 in"}, number=7)
    assert (before["number"], after["number"]) == (1, 7)
    assert not after["refined"]
    assert after["faults"] == []
    assert after["section"]["drawn"] != before["section"]["drawn"]
    assert after["five"] != before["five"]
    assert "0.152 cfs" in words_of(before["five"])
    assert "0.132 cfs" in words_of(after["five"])
    height = {one["slug"]: one["sentence"] for one in after["questions"]}["height"]
    assert "1184.03" in height
    assert after["now_binds"].startswith("Now binds: Years until")
    assert after["binds"].startswith("Years until")
    assert "does not fit" in after["state"]
    assert before["now_binds"] == ""


@pytest.mark.works(of=(try_edits, five_of))
def test_the_first_answer_leaves_no_old_range(desk: TestClient) -> None:
    assert tried(desk)["five"].count(FOLLOWS) == 2


@pytest.mark.works(of=(try_edits, refine, section))
def test_nothing_is_written_by_trying(desk: TestClient, root: Path) -> None:
    def on_disk() -> dict[Path, tuple[bytes, int]]:
        files = [path for path in root.rglob("*") if path.is_file()]
        return {path: (path.read_bytes(), path.stat().st_mtime_ns) for path in files}

    before, version = on_disk(), version_of(desk, "corbel-farm")
    for height in ("30 in", "28 in", "unknown"):
        tried(desk, edits={INLET: height, "bed.length_bottom": "90 ft"})
    tried(desk, looked_at={"flow_m3_s": 0.01, "ditch_stage_m": 360.0, "setting": "spring"})
    desk.get(f"{JOB}/section?flow_m3_s=0.01")
    assert on_disk() == before
    assert version_of(desk, "corbel-farm") == version


@pytest.mark.works(of=(try_edits,))
@pytest.mark.parametrize(
    ("edits", "words"),
    [
        ({INLET: "thirty"}, "thirty"),
        ({INLET: "36 acre"}, "acre"),
        ({"boards.heights": ["0 in"]}, "0 in"),
    ],
)
def test_a_step_that_cannot_stand_says_why_and_moves_nothing(
    desk: TestClient, edits: dict[str, Any], words: str
) -> None:
    told = tried(desk, edits=edits, number=3)
    assert told["section"] is None
    assert told["five"] == ""
    assert words in " ".join(fault["message"] for fault in told["faults"])
    assert told["number"] == 3


@pytest.mark.works(of=(try_edits,))
@pytest.mark.parametrize(
    "sent",
    [
        {"number": -1},
        {"number": "one"},
        {"width": 1e9},
        {"width": "wide"},
        {"edits": [1]},
        {"edits": {INLET: {"deep": "er"}}},
        {"looked_at": {"flow_m3_s": -1.0}},
        {"looked_at": {"flow_m3_s": "much"}},
        {"scale": [1.0, 1.0]},
        {"scale": [0.0, 1.0, 1.0, 2.0]},
        {"more": "than that"},
    ],
)
def test_what_makes_no_sense_is_refused(desk: TestClient, sent: dict[str, Any]) -> None:
    assert desk.post(f"{JOB}/try", json=sent).status_code == 422
    assert desk.post(f"{JOB}/try", content=b'{"number": 1').status_code == 422


@pytest.mark.works(of=(look_of, see, five_of))
def test_what_is_looked_at_is_said_and_the_design_comes_back(desk: TestClient) -> None:
    looked = tried(desk, looked_at={"flow_m3_s": 0.01})
    assert "that is looked at" in words_of(looked["five"])
    assert "water as looked at" in looked["section"]["caption"]
    assert "looked at" not in words_of(tried(desk)["five"])


@pytest.mark.works(of=(try_edits,))
def test_the_scale_of_a_drag_is_kept(desk: TestClient) -> None:
    at_rest = tried(desk)["section"]["scale"]
    dragged = tried(desk, edits={"bed.length_bottom": "110 ft"}, scale=at_rest)
    assert dragged["section"]["scale"] == pytest.approx(at_rest)
    let_go = tried(desk, edits={"bed.length_bottom": "110 ft"})
    assert let_go["section"]["scale"][0] < at_rest[0]


@pytest.mark.works(of=(section, try_edits))
def test_a_job_at_fault_says_so_and_comes_back(desk: TestClient, root: Path) -> None:
    edit(root / "corbel-farm", 'inlet = "36 in"', 'inlet = "thirty"')
    assert "Nothing can be drawn" in desk.get(f"{JOB}/section").text
    assert desk.get(f"{JOB}/section.json").status_code == 422
    told = tried(desk)
    assert told["section"] is None
    assert "thirty" in told["faults"][0]["message"]
    edit(root / "corbel-farm", 'inlet = "thirty"', 'inlet = "34 in"')
    assert tried(desk)["faults"] == []


@pytest.mark.works(of=(Newest,))
def test_an_older_question_of_a_page_is_given_up() -> None:
    newest = Newest()
    newest.asks("a", 4)
    assert newest.is_newest("a", 4)
    newest.asks("a", 6)
    newest.asks("b", 1)
    assert not newest.is_newest("a", 4)
    assert newest.is_newest("a", 6)
    newest.asks("a", 5)  # it came late
    assert newest.is_newest("a", 6)
    assert newest.is_newest("", 0)  # a program that says no page is never given up


@pytest.mark.works(of=(five_of, place_of, reserve_of, binds_of))
def test_the_five_stand_in_their_order_and_each_opens() -> None:
    five = five_of(answered("corbel-farm"), WORDS)
    assert [one.label for one in five] == [
        "Through the bed",
        "Time in the bed",
        "Water treated",
        "Nitrate removed",
        "Binds now",
    ]
    trace = designed("corbel-farm").trace
    for one in five:
        assert one.key in trace or one.follows
    assert five[4].value == "the bed"
    assert "at least 15.0\u00a0%; 1.4\u00a0% left" in five[4].below
    assert binds_of(designed("corbel-farm"), WORDS).says == "16.4 %, at least 15.0 %"


@pytest.mark.works(of=(five_of,))
def test_buffer_and_raised_outlet_have_their_own_words() -> None:
    buffer = five_of(answered("merridew-farm"), WORDS)
    assert [one.label for one in buffer[:2]] == ["Into the buffer, spring", "Time in the soil"]
    assert buffer[4].value == "the bank"
    raised = five_of(answered("corbel-farm", {"practice.kind": "raised"}), WORDS)
    assert raised[0].label == "Highest crest"
    assert raised[3].label == "Nitrate kept back"
    assert raised[4].value == "low spot 2+90"


@pytest.mark.works(of=(now_binds,))
def test_now_binds_only_where_something_moved() -> None:
    before, after = designed("corbel-farm"), designed("corbel-farm", {INLET: "40 in"})
    assert now_binds(before, before, WORDS) == ""
    assert now_binds(before, after, WORDS).startswith("Now binds: Top of the media")
    assert now_binds(None, after, WORDS) == ""


@pytest.mark.works(of=(says, rings_of, handles_at))
def test_a_step_is_named_as_the_trade_does() -> None:
    design = designed("corbel-farm")
    handles = {handle.name: handle for handle in handles_at(design, None)}
    inlet = handles["inlet-boards"]
    assert says(inlet, 0.9144, design, WORDS) == "36 in, 5 boards"
    assert says(inlet, 0.1016, design, WORDS) == "4 in, 1 board"
    assert says(handles["bed-length"], 30.48, design, WORDS) == "100.00 ft at the floor"
    assert says(handles["looked-at-ditch"], 359.54208, design, WORDS) == "1179.60 ft"
    looked = {h.name: h for h in handles_at(design, LookedAt(flow_m3_s=0.01))}
    assert looked["looked-at-flow"].value == 0.01
    assert looked["inlet-boards"].value == inlet.value


@pytest.mark.slow
@pytest.mark.works(of=(refine,))
def test_what_is_refined_is_what_the_command_line_says(desk: TestClient, root: Path) -> None:
    told = desk.post(f"{JOB}/refine", json={"edits": {INLET: "34 in"}, "number": 2}).json()
    assert told["refined"]
    assert FOLLOWS not in told["five"]
    edit(root / "corbel-farm", 'inlet = "36 in"', 'inlet = "34 in"')
    line = ["design", str(root / "corbel-farm"), "--json", "--out", str(root / "out")]
    printed = CliRunner().invoke(main.app, line)
    record = json.loads(printed.stdout)
    five, removed = words_of(told["five"]), record["removal"]["removed_kg"]
    low, high = (WORDS.say(removed[p], "mass", style="two figures") for p in ("p10", "p90"))
    assert f"{low.rsplit(' ', 1)[0]} to {high}" in five
    assert WORDS.say(record["capacity"]["criterion"]["flow_m3_s"], "flow") in five
    assert told["binds"] == record["governs"]["text"]


@pytest.mark.works(of=(five_of, start_from_rough))
def test_a_number_that_is_not_known_says_what_would_make_it_known(tmp_path: Path) -> None:
    said = {"area": "62 acre", "main": "10 in", "grade": "0.18 %", "strip": "190 x 62 ft"}
    start_from_rough(said, tmp_path / "job")
    five = five_of(HeldJob(tmp_path / "job").first(), WORDS)
    unknown = [one for one in five if one.value == "not known" and one.key]
    assert unknown
    assert all(one.below not in ("", "not known") for one in unknown), unknown
