# SPDX-License-Identifier: Apache-2.0
"""Keep, take back, do again: only what was typed is written, and never over another's change."""

import difflib
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from tests.desks import copy_of, desk_of, edit, version_of
from tilewater.desk.pages.keep import keep, posted_of, redo, undo
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_saving import in_the_way

JOB = "/job/corbel-farm"
PART = {"hx-request": "true"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return copy_of("corbel-farm", tmp_path)


@pytest.fixture
def desk(folder: Path) -> TestClient:
    return desk_of(folder.parent)


def text_of(folder: Path) -> str:
    return (folder / "job.toml").read_bytes().decode("utf-8")


def changed(before: str, after: str) -> list[str]:
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[0] in "+-"]


def send(desk: TestClient, **fields: str) -> dict[str, str]:
    return {"version": version_of(desk, "corbel-farm"), "units": "us", **fields}


@pytest.mark.works(of=(keep,))
def test_a_keep_changes_its_own_line_and_leaves_every_comment(desk: TestClient, folder: Path):
    before = text_of(folder)
    fields = send(desk) | {"main.diameter": "12", "question": "tile"}
    answer = desk.post(f"{JOB}/keep", data=fields, headers=PART)
    assert answer.status_code == 200
    assert answer.headers["hx-trigger"] == "job-changed"
    assert answer.json() == {
        "version": version_of(desk, "corbel-farm"),
        "can_undo": True,
        "can_redo": False,
    }
    comment = "  # owner says 12: that is the metal stub in the bank. Measured in the pit."
    assert changed(before, text_of(folder)) == [
        f'- diameter = "10 in"{comment}',
        f'+ diameter = "12 in"{comment}',
    ]


@pytest.mark.works(of=(undo, redo))
def test_what_was_kept_is_taken_back_and_done_again_byte_for_byte(desk: TestClient, folder: Path):
    before = text_of(folder)
    desk.post(f"{JOB}/keep", data=send(desk) | {"main.slope": "0.2"}, headers=PART)
    kept = text_of(folder)
    assert kept != before
    taken = desk.post(f"{JOB}/undo", json={"version": version_of(desk, "corbel-farm")})
    assert taken.json()["can_redo"]
    assert text_of(folder) == before
    again = desk.post(f"{JOB}/redo", data=send(desk), headers=PART)
    assert again.headers["hx-trigger"] == "job-changed"
    assert text_of(folder) == kept
    nothing = desk.post(f"{JOB}/redo", data=send(desk), headers=PART)
    assert nothing.status_code == 200
    assert "hx-trigger" not in nothing.headers


@pytest.mark.works(of=(keep,))
def test_a_stale_version_writes_nothing(desk: TestClient, folder: Path):
    old = version_of(desk, "corbel-farm")
    desk.post(f"{JOB}/keep", data=send(desk) | {"main.slope": "0.2"})
    kept = text_of(folder)
    late = desk.post(f"{JOB}/keep", json={"version": old, "edits": {"main.slope": "0.3 %"}})
    assert late.status_code == 409
    assert late.json()["version"] == version_of(desk, "corbel-farm") != old
    assert "another page changed the file" in late.json()["moved"][0]
    assert text_of(folder) == kept


@pytest.mark.works(of=(keep,))
def test_an_edit_made_elsewhere_is_shown_beside_what_is_typed(desk: TestClient, folder: Path):
    fields = send(desk) | {"main.slope": "0.2", "question": "tile"}
    edit(folder, '"J. Corbel"', '"J. Corbel the younger"')
    on_disk = text_of(folder)
    moved = desk.post(f"{JOB}/keep", data=fields, headers=PART)
    assert moved.status_code == 409
    assert moved.headers["hx-retarget"] == "#form-told"
    assert "+owner = &#34;J. Corbel the younger&#34;" in moved.text
    assert "<td>0.18 %</td><td>0.2 %</td>" in moved.text
    assert "Read the file again and lay my edit over it" in moved.text
    assert "Leave my edit in the box" in moved.text
    assert text_of(folder) == on_disk
    without_script = desk.post(f"{JOB}/undo", data=fields)
    assert without_script.status_code == 409
    again = desk.post(f"{JOB}/keep", data=send(desk) | {"main.slope": "0.2"}, headers=PART)
    assert again.status_code == 200
    assert len(changed(on_disk, text_of(folder))) == 2


@pytest.mark.works(of=(keep,))
def test_without_script_what_is_typed_stays_in_its_box_over_the_file_as_it_is(
    desk: TestClient, folder: Path
):
    fields = send(desk) | {"main.slope": "0.2", "question": "tile"}
    edit(folder, '"J. Corbel"', '"J. Corbel the younger"')
    page = desk.post(f"{JOB}/keep", data=fields)
    assert page.status_code == 409
    assert 'name="main.slope" value="0.2"' in page.text
    assert f'name="version" value="{version_of(desk, "corbel-farm")}"' in page.text


@pytest.mark.works(of=(keep,))
def test_a_fault_stands_at_its_box_with_what_was_typed(desk: TestClient, folder: Path):
    before = text_of(folder)
    fields = send(desk) | {"main.slope": "steep", "main.diameter": "12", "question": "tile"}
    refused = desk.post(f"{JOB}/keep", data=fields, headers=PART)
    assert refused.status_code == 422
    assert 'value="steep"' in refused.text
    assert 'value="12"' in refused.text
    wrong = refused.text.partition('id="about-main.slope"')[2].partition("</p>")[0]
    assert '<span class="fault">' in wrong
    assert "steep" in wrong
    assert "main.slope:" not in wrong
    assert text_of(folder) == before


@pytest.mark.works(of=(keep,))
def test_a_fault_of_a_new_entry_stands_at_the_boxes_of_the_new_entry(desk: TestClient):
    fields = send(desk) | {"question": "field", "+spot": "low-3", "+spot.kind": "low spot"}
    fields |= {"+spot.station": "far away", "+spot.ground": "1187"}
    refused = desk.post(f"{JOB}/keep", data=fields, headers=PART)
    wrong = refused.text.partition('id="about-+spot.station"')[2].partition("</p>")[0]
    assert '<span class="fault">' in wrong
    assert 'name="+spot" value="low-3"' in refused.text


@pytest.mark.works(of=(keep,))
def test_an_entry_is_added_and_taken_out_again(desk: TestClient, folder: Path):
    before = text_of(folder)
    fields = {"+spot": "low-3", "+spot.kind": "low spot", "+spot.station": "7+10"}
    added = desk.post(f"{JOB}/keep", data=send(desk) | fields, headers=PART)
    assert added.status_code == 200
    assert "[spot.low-3]" in text_of(folder)
    taken = {"take-out": "spot.low-3"}
    desk.post(f"{JOB}/keep", data=send(desk) | taken, headers=PART)
    rest = changed(before, text_of(folder))
    assert [line[2:].strip() for line in rest if line[2:].strip()] == []


@pytest.mark.works(of=(keep, posted_of))
def test_a_program_is_answered_in_json(desk: TestClient, folder: Path):
    version = version_of(desk, "corbel-farm")
    sent = {"version": version, "edits": {"boards.inlet": "10 furlong"}}
    refused = desk.post(f"{JOB}/keep", json=sent)
    assert refused.status_code == 422
    (fault,) = refused.json()["faults"]
    assert fault["where"] == "boards.inlet"
    assert isinstance(fault["line"], int)
    for edits, words in (
        ({"main.colour": "red"}, "The job file has no place for 'main.colour'."),
        ({"main": {"slope": 1}}, "edits are texts"),
        ([], "edits are texts"),
    ):
        answer = desk.post(f"{JOB}/keep", json={"version": version, "edits": edits})
        assert answer.status_code == 422
        assert answer.json()["faults"][0]["message"].startswith(words)
    strange = b'{"version": "a", "edits": {"job.title": "\\ud800"}}'
    for body in (b"{", b"[]", b'{"edits": {}}', strange, b"[" * 100_000, b'{"version": NaN}'):
        answer = desk.post(
            f"{JOB}/keep", content=body, headers={"content-type": "application/json"}
        )
        assert answer.status_code == 422
        assert answer.json()["faults"]


@pytest.mark.works(of=(keep,))
def test_a_form_without_script_leads_back_to_its_question(desk: TestClient):
    answer = desk.post(f"{JOB}/keep", data=send(desk) | {"main.slope": "0.2", "question": "tile"})
    assert answer.status_code == 303
    assert answer.headers["location"] == f"{JOB}/ask/tile"


@pytest.mark.works(of=(keep, in_the_way))
def test_a_job_with_two_faults_is_mended_one_by_one(folder: Path):
    edit(folder, 'slope = "0.18 %"', 'slope = "0.18"')
    edit(folder, 'inlet = "36 in"', 'inlet = "36"')
    desk = desk_of(folder.parent)
    page = desk.get(f"{JOB}/ask/height").text
    assert "boards.inlet" in page
    assert "/ask/tile?box=main.slope" in page
    fields = send(desk) | {"boards.inlet": "36", "question": "height"}
    first = desk.post(f"{JOB}/keep", data=fields | {"boards.inlet": "36 in"}, headers=PART)
    assert first.status_code == 200
    assert [fault.where for fault in HeldJob(folder).faults] == ["main.slope"]
    worse = desk.post(f"{JOB}/keep", data=send(desk) | {"main.slope": "0.2 ft"}, headers=PART)
    assert worse.status_code == 422
    desk.post(f"{JOB}/keep", data=send(desk) | {"main.slope": "0.2 %"}, headers=PART)
    assert HeldJob(folder).faults == ()


@pytest.mark.works(of=(in_the_way,))
def test_a_sound_job_is_never_given_a_fault(folder: Path):
    held = HeldJob(folder)
    before = text_of(folder)
    for edits in ({"main.slope": "steep"}, {"structure.inlet": None}, {"estimate.prices": "no"}):
        after = held.first(edits).faults
        assert after
        assert in_the_way((), after, edits) == after
    assert text_of(folder) == before


@pytest.mark.works(of=(keep,))
def test_the_units_beside_the_boxes_are_those_the_form_was_shown_in(desk: TestClient, folder: Path):
    desk.cookies.set("tilewater-units", "si")
    page = desk.get(f"{JOB}/ask/practice").text
    assert 'name="units" value="si"' in page
    desk.cookies.clear()
    fields = send(desk) | {"site.widest_cut": "3", "units": "si"}
    assert desk.post(f"{JOB}/keep", data=fields, headers=PART).status_code == 200
    assert 'widest_cut = "3 m"' in text_of(folder)
