# SPDX-License-Identifier: Apache-2.0
"""Nothing outside the folder of the desk is read or written, whatever a job folder holds."""

import os
import re
from pathlib import Path

import pytest

from tests.desks import copy_of, desk_of, edit, version_of
from tilewater.desk.shelf import NoSuchJob, Shelf, is_speakable
from tilewater.job.file_names import LONGEST_NAME, lies_in, may_name, strange_name
from tilewater.tasks.checking import check_job
from tilewater.tasks.held import HeldJob

SECRET = "root:x:0:0:told to nobody"
OUTSIDE = "lies outside the folder that may be read here"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A folder of jobs beside a file that is nobody's business."""
    (tmp_path / "secret.csv").write_text(f"{SECRET}\n", encoding="utf-8")
    root = tmp_path / "jobs"
    root.mkdir()
    return root


@pytest.mark.works(of=(Shelf,))
def test_job_folders_are_found_by_name_and_nothing_else_is(root: Path) -> None:
    copy_of("corbel-farm", root)
    (root / "empty").mkdir()
    (root / "job.txt").write_text("", encoding="utf-8")
    shelf = Shelf(root)
    assert ["corbel-farm"] == [place.name for place in shelf.places()]
    for name in ("empty", "..", ".", "", "corbel-farm/", "../jobs/corbel-farm", "\x00", "C:"):
        with pytest.raises(NoSuchJob):
            shelf.held(name)


@pytest.mark.works(of=(Shelf,))
def test_a_folder_or_job_file_behind_a_link_is_no_job_of_the_folder(
    root: Path, tmp_path: Path
) -> None:
    other = copy_of("corbel-farm", tmp_path, "other")
    (root / "linked").symlink_to(other, target_is_directory=True)
    (root / "file-linked").mkdir()
    (root / "file-linked" / "job.toml").symlink_to(other / "job.toml")
    (root / "ring").symlink_to(root / "ring")
    assert [] == list(Shelf(root).places())


@pytest.mark.works(of=(Shelf,))
def test_a_folder_that_is_gone_has_no_jobs(root: Path) -> None:
    desk = desk_of(root)
    root.rmdir()
    assert desk.get("/").status_code == 200
    assert desk.get("/job/corbel-farm").status_code == 404


@pytest.mark.works(of=(is_speakable,))
def test_names_that_no_address_can_carry_are_left_out() -> None:
    assert is_speakable("Miller north (2)")
    assert is_speakable("mühle")
    assert not is_speakable("a\nb")
    assert not is_speakable("bad\udcff")
    assert not is_speakable("corbel-farm.json")


@pytest.mark.works(of=(Shelf,))
@pytest.mark.skipif(os.name == "nt", reason="such names cannot be made there")
def test_strange_names_of_folders_are_shown_as_they_are(root: Path) -> None:
    name = "a\"b'<i>&?# ü"
    copy_of("corbel-farm", root, name)
    copy_of("corbel-farm", root, "bad\udcff")
    desk = desk_of(root)
    answer = desk.get("/")
    assert answer.status_code == 200
    assert "<i>" not in answer.text
    assert [name] == [job["name"] for job in desk.get("/jobs.json").json()]
    (link,) = re.findall(r'<a href="(/job/[^"]*)"', answer.text)
    opened = desk.get(link)
    assert opened.status_code == 200
    ways = set(re.findall(r'(?:href|hx-get)="(/job/[^"?#]*)', opened.text))
    assert len(ways) > 9
    assert all(way.startswith(link) for way in ways)


@pytest.mark.works(of=(HeldJob, lies_in))
@pytest.mark.parametrize(
    "name", ["../../secret.csv", "../corbel-farm/../../secret.csv", "{root}/../secret.csv"]
)
def test_a_data_file_outside_is_not_read_by_the_desk(root: Path, name: str) -> None:
    farm = copy_of("corbel-farm", root)
    edit(farm, '"nitrate.csv"', f'"{name.format(root=root)}"')
    answer = desk_of(root).get("/job/corbel-farm")
    assert answer.status_code == 200
    assert OUTSIDE in answer.text
    assert SECRET not in answer.text
    faults = [fault for fault in HeldJob(farm, within=root).faults if OUTSIDE in fault.message]
    assert [("job.toml", "nitrate.samples")] == [(f.file, f.where) for f in faults]


@pytest.mark.works(of=(HeldJob, lies_in))
def test_a_data_file_behind_a_link_that_leads_outside_is_not_read(root: Path) -> None:
    farm = copy_of("corbel-farm", root)
    (farm / "nitrate.csv").unlink()
    (farm / "nitrate.csv").symlink_to(root.parent / "secret.csv")
    assert OUTSIDE in str(HeldJob(farm, within=root).faults)
    (farm / "ring.csv").symlink_to(farm / "ring.csv")
    assert not lies_in(farm / "ring.csv" / "x", root / "other")


@pytest.mark.works(of=(HeldJob,))
def test_a_file_beside_the_job_inside_the_folder_of_the_desk_is_read(root: Path) -> None:
    farm = copy_of("corbel-farm", root)
    (farm / "prices.csv").rename(root / "prices.csv")
    edit(farm, '"prices.csv"', '"../prices.csv"')
    assert () == HeldJob(farm, within=root).faults
    assert OUTSIDE in str(HeldJob(farm, within=farm).faults)  # where the desk is opened on it


@pytest.mark.works(of=(check_job,))
def test_the_command_line_reads_a_file_outside_and_says_so(root: Path) -> None:
    farm = copy_of("corbel-farm", root)
    (farm / "prices.csv").rename(root / "prices.csv")
    edit(farm, '"prices.csv"', '"../prices.csv"')
    (told,) = [note for note in check_job(farm).notes if note.code == "file-outside"]
    assert told.message == (
        "../prices.csv lies outside the job folder. It is read as it is there; a copy of the "
        "folder lacks it. Copy it into the job folder to keep both together."
    )
    assert not [n for n in check_job(copy_of("merridew-farm", root)).notes if n.code == told.code]


@pytest.mark.works(of=(strange_name,))
@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("CON", "device"),
        ("nul.csv", "device"),
        ("survey/COM1.txt", "device"),
        ("lpt¹", "device"),
        ("aux .csv", "device"),
        ("\\\\host\\share\\a.csv", "another machine"),
        ("//host/share/a.csv", "another machine"),
        ("a\x00b", "cannot be printed"),
        ("a\nb.csv", "cannot be printed"),
        ("x" * (LONGEST_NAME + 1), "longer than any"),
        ("a/" * 500 + "b", "longer than any"),
    ],
)
def test_a_name_that_is_no_file_anywhere_is_a_fault(root: Path, name: str, why: str) -> None:
    assert why in strange_name(name)
    assert not may_name(root, name, None)
    farm = copy_of("corbel-farm", root)
    typed = "".join(f"\\u{ord(c):04x}" if ord(c) < 32 or c in '"\\' else c for c in name)
    edit(farm, '"nitrate.csv"', f'"{typed}"')
    held = HeldJob(farm, within=root)
    assert why in str(held.faults)
    assert not held.changed_on_disk()


@pytest.mark.works(of=(strange_name,))
@pytest.mark.parametrize("name", ["console.csv", "null.csv", "survey/shots.csv", "com10.csv", "ü"])
def test_a_plain_name_is_no_fault(name: str) -> None:
    assert strange_name(name) == ""


@pytest.mark.works(of=(HeldJob,))
@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no such files here")
def test_what_is_no_plain_file_is_not_waited_for(root: Path) -> None:
    farm = copy_of("corbel-farm", root)
    (farm / "nitrate.csv").unlink()
    os.mkfifo(farm / "nitrate.csv")
    held = HeldJob(farm, within=root)
    assert "there is no file 'nitrate.csv'" in str(held.faults)
    edit(farm, '"nitrate.csv"', '"/dev/zero"')
    held.reread()
    assert OUTSIDE in str(held.faults)


@pytest.mark.works(of=(HeldJob,))
def test_an_issued_copy_behind_a_link_is_none(root: Path, tmp_path: Path) -> None:
    farm = copy_of("corbel-farm", root)
    (tmp_path / "2026-01-01-1").mkdir()
    (farm / "issued").mkdir()
    (farm / "issued" / "2026-01-01-1").symlink_to(tmp_path / "2026-01-01-1")
    answer = HeldJob(farm, within=root).first()
    assert not [note for note in answer.notes if note.code.startswith("issued")]


@pytest.mark.works(of=(Shelf,))
def test_one_job_that_cannot_be_read_keeps_nobody_from_the_others(root: Path) -> None:
    copy_of("corbel-farm", root)
    for name, content in (
        ("wide", "title".encode("utf-16")),
        ("deep", b"a = " + b"[" * 5000 + b"]" * 5000),
        ("vast", b"#" * (2 * 1024 * 1024)),
    ):
        (root / name).mkdir()
        (root / name / "job.toml").write_bytes(content)
    desk = desk_of(root)
    assert 4 == len(desk.get("/jobs.json").json())
    assert desk.get("/job/corbel-farm").status_code == 200
    for name in ("wide", "deep", "vast"):
        state = desk.get(f"/job/{name}/state")
        assert state.status_code == 200
        assert state.text in ("the job file cannot be read as it stands", "1 fault to mend")
        assert desk.get(f"/job/{name}").status_code in (200, 422)


@pytest.mark.works(of=(Shelf,))
def test_a_job_is_held_once_for_every_page(root: Path) -> None:
    copy_of("corbel-farm", root)
    desk = desk_of(root)
    before = version_of(desk, "corbel-farm")
    shelf: Shelf = desk.app.state.shelf  # type: ignore[attr-defined]
    assert shelf.held("corbel-farm") is shelf.held("corbel-farm")
    edit(root / "corbel-farm", '"36 in"', '"34 in"')
    assert desk.get("/job/corbel-farm").status_code == 200
    assert version_of(desk, "corbel-farm") != before


@pytest.mark.works(of=(Shelf,))
@pytest.mark.parametrize("inner", ["results", "issued"])
def test_nothing_is_written_through_a_link_that_leads_outside(
    root: Path, tmp_path: Path, inner: str
) -> None:
    farm = copy_of("corbel-farm", root)
    (tmp_path / "elsewhere").mkdir()
    (farm / inner).symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    desk = desk_of(root)
    for address in ("/job/corbel-farm", "/job/corbel-farm/papers"):
        answer = desk.get(address)
        assert answer.status_code == 422
        assert "a link that leads out of the folder of the desk" in answer.text
    assert desk.get("/job/corbel-farm/state").status_code == 200
    (farm / inner).unlink()
    assert desk.get("/job/corbel-farm").status_code == 200
