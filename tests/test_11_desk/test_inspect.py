# SPDX-License-Identifier: Apache-2.0
"""The page of a look at the works: every part, its twin and files, and shots that are sent."""

from pathlib import Path

import pytest

from tests.desks import copy_of, desk_of, edit, version_of
from tests.pdf import Paper
from tilewater.desk.incoming import taken_in
from tilewater.desk.pages.inspect import Looks, inspect, inspect_file, inspect_twin

FARM = "corbel-built"


@pytest.mark.works(of=(inspect, inspect_twin, inspect_file, Looks))
def test_the_page_shows_grade_and_as_built_and_gives_the_papers(tmp_path: Path) -> None:
    copy_of(FARM, tmp_path)
    desk = desk_of(tmp_path)
    shown = desk.get(f"/job/{FARM}/inspect")
    assert shown.status_code == 200
    for words in ("Grade of pipes", "As built", "conforms with effect", "32.9", "GATE STEM"):
        assert words in shown.text
    parts = desk.get(f"/job/{FARM}/inspect.json").json()["parts"]
    assert parts["built"]["in_all"] == "conforms with effect"
    paper = desk.get(f"/job/{FARM}/inspect/file/as-built.pdf")
    assert paper.headers["content-type"] == "application/pdf"
    assert "rules that rest on daily flow" in Paper(paper.content).text
    table = desk.get(f"/job/{FARM}/inspect/file/as-built.csv")
    assert table.text.startswith("what,part,point,built,designed")
    assert desk.get(f"/job/{FARM}/inspect/file/other.pdf").status_code == 404


@pytest.mark.works(of=(inspect,))
def test_a_fault_in_the_shots_is_told_with_its_line(tmp_path: Path) -> None:
    folder = copy_of(FARM, tmp_path)
    edit(folder, 'height = "Level ft"', 'height = "Levels ft"')
    shown = desk_of(tmp_path).get(f"/job/{FARM}/inspect")
    assert shown.status_code == 422
    assert "as-built.csv line 1: no single column is called &#39;Levels ft&#39;" in shown.text
    assert "[as_built.columns] of job.toml" in shown.text


@pytest.mark.works(of=(taken_in, inspect))
def test_shots_are_sent_through_the_door_of_the_files(tmp_path: Path) -> None:
    copy_of("corbel-farm", tmp_path)
    desk = desk_of(tmp_path)
    before = desk.get("/job/corbel-farm/inspect")
    assert "Send shots of finished work" in before.text
    columns = {"point": "P", "north": "N", "east": "E", "height": "Z", "note": "C"}
    form = {f"as_built.columns.{name}": head for name, head in columns.items()}
    form |= {"version": version_of(desk, "corbel-farm"), "as_built.instrument": "level"}
    form["text"] = "P,N,E,Z,C\n1,3813151.31,4843650.26,1181.26,sill inlet\n"
    sent = desk.post("/job/corbel-farm/files/as-built", data=form)
    assert sent.status_code == 303
    record = desk.get("/job/corbel-farm/inspect.json").json()["parts"]["built"]
    words = {part["name"]: part["word"] for part in record["parts"]}
    assert words["inlet structure"] != "not known"
    assert words["feed"] == "not known"
