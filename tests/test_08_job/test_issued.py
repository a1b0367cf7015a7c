# SPDX-License-Identifier: Apache-2.0
"""An issued copy is whole or absent, read-only, numbered, and what became of it is found out."""

import os
import shutil
import stat
import subprocess
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

import pytest

from tilewater.job.issued import IssuedCopy, issued_copies, issued_findings, place_of
from tilewater.job.issued_writing import issue_copy, name_part

DAY = date(2026, 11, 16)
FILES = {"inputs/job.toml": b"format = 1\n", "inputs/survey/shots.csv": b"1,2\n"}
SLIP = b'status = "Entw\xc3\xbcrf"\nby = "R. Lindqvist"\n'


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "Höfe 2026" / "Käthes Feld"
    folder.mkdir(parents=True)
    return folder


def issue(job: Path, status: str = "review copy", day: date = DAY, slip: bytes = SLIP) -> Path:
    return issue_copy(job, day, status, lambda _: FILES | {"issue.toml": slip})


def unlocked(path: Path) -> Path:
    """A file of a copy, writable again as by someone who means it."""
    path.parent.chmod(0o755)
    if path.exists():
        path.chmod(0o644)
    return path


def only(job: Path) -> IssuedCopy:
    (copy,) = issued_copies(job)
    return copy


def told(job: Path) -> list[str]:
    return [f"{f.subject}: {f.message}" for f in issued_findings(job, issued_copies(job))]


@pytest.mark.works(of=(issue_copy, issued_copies, place_of))
def test_copy_has_its_files_and_is_sound(job: Path) -> None:
    folder = issue(job)
    assert folder == job / "issued" / "2026-11-16-01-review-copy"
    copy = only(job)
    assert copy.is_sound
    assert (copy.name, copy.date, copy.number) == (folder.name, "2026-11-16", 1)
    assert (copy.status, copy.by) == ("Entwürf", "R. Lindqvist")
    assert place_of(copy, "survey/shots.csv").read_bytes() == b"1,2\n"
    assert told(job) == []
    assert [folder] == list(folder.parent.iterdir())


@pytest.mark.works(of=(issue_copy,))
@pytest.mark.skipif(os.name == "nt", reason="rights of this kind are not there")
def test_copy_is_read_only(job: Path) -> None:
    folder = issue(job)
    for path in (folder, *folder.rglob("*")):
        assert not stat.S_IMODE(path.stat().st_mode) & 0o222, path


@pytest.mark.oracle("sha256sum", of=(issue_copy,))
@pytest.mark.skipif(shutil.which("sha256sum") is None, reason="sha256sum is not installed")
def test_anyone_can_check_a_copy(job: Path) -> None:
    folder = issue(job)
    check = ["sha256sum", "--check", "--strict", "checksums.txt"]
    done = subprocess.run(check, cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert ["inputs/job.toml", "inputs/survey/shots.csv", "issue.toml"] == [
        line.partition(":")[0] for line in done.stdout.splitlines()
    ]


@pytest.mark.works(of=(issue_copy, issued_copies))
def test_copies_of_a_day_are_numbered(job: Path) -> None:
    names = [issue(job, "draft").name, issue(job, "draft").name, issue(job, "for bids").name]
    assert names == ["2026-11-16-01-draft", "2026-11-16-02-draft", "2026-11-16-03-for-bids"]
    early = issue(job, "draft", date(2026, 3, 2)).name
    assert [early, *names] == [copy.name for copy in issued_copies(job)]


@pytest.mark.works(of=(issue_copy,))
def test_copies_issued_at_once_have_numbers_of_their_own(job: Path) -> None:
    with ThreadPoolExecutor(8) as pool:
        folders = list(pool.map(lambda _: issue(job), range(8)))
    assert {f"2026-11-16-0{n}-review-copy" for n in range(1, 9)} == {f.name for f in folders}
    assert all(copy.is_sound for copy in issued_copies(job))


@pytest.mark.works(of=(name_part,))
@pytest.mark.parametrize(
    ("status", "part"),
    [
        ("Review copy", "review-copy"),
        ("  Für die Vergabe / 2 ", "fur-die-vergabe-2"),
        ("../../etc", "etc"),
        ("検討", "copy"),
        ("x" * 99, "x" * 40),
    ],
)
def test_status_becomes_part_of_a_name(status: str, part: str) -> None:
    assert part == name_part(status)


@pytest.mark.works(of=(issue_copy,))
@pytest.mark.parametrize("stop", [OSError("disk full"), KeyboardInterrupt()])
def test_issue_that_is_stopped_leaves_nothing(job: Path, stop: BaseException) -> None:
    def contents(_: str) -> Mapping[str, bytes]:
        raise stop

    with pytest.raises(type(stop)):
        issue_copy(job, DAY, "draft", contents)
    assert not (job / "issued").exists()
    folder = issue(job)
    with pytest.raises(type(stop)):
        issue_copy(job, DAY, "draft", contents)
    assert [folder] == list((job / "issued").iterdir())


@pytest.mark.works(of=(issue_copy,))
def test_issue_that_fails_while_it_writes_leaves_nothing(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_: int) -> None:
        raise OSError("disk full")

    monkeypatch.setattr(os, "fsync", fails)
    with pytest.raises(OSError, match="disk full"):
        issue(job)
    assert list(job.iterdir()) == []


@pytest.mark.works(of=(issued_copies, issued_findings))
def test_file_that_was_altered_is_named(job: Path) -> None:
    folder = issue(job)
    unlocked(folder / "inputs" / "survey" / "shots.csv").write_bytes(b"1,3\n")
    assert not only(job).is_sound
    assert only(job).altered == {"inputs/survey/shots.csv"}
    assert told(job) == [
        "issued/2026-11-16-01-review-copy: inputs/survey/shots.csv is not as it was issued. "
        "An issued copy stays as it was signed. Put it back from a backup; "
        "to change the design, edit the job and issue a new copy."
    ]


@pytest.mark.works(of=(issued_copies,))
def test_files_that_are_missing_or_too_many_are_named(job: Path) -> None:
    folder = issue(job)
    unlocked(folder / "inputs" / "job.toml").unlink()
    unlocked(folder / "inputs" / "note.txt").write_text("mine", encoding="utf-8")
    (folder / "inputs" / ".DS_Store").write_text("", encoding="utf-8")
    assert only(job).faults == ("inputs/job.toml is missing", "inputs/note.txt was added")


@pytest.mark.works(of=(issued_copies,))
@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_link_in_the_place_of_a_file_is_told(job: Path, tmp_path: Path) -> None:
    folder = issue(job)
    shots = unlocked(folder / "inputs" / "survey" / "shots.csv")
    elsewhere = tmp_path / "shots.csv"
    shots.rename(elsewhere)
    shots.symlink_to(elsewhere)
    (unlocked(folder / "inputs" / "job.toml").parent / "round").symlink_to(folder)
    assert only(job).faults == (
        "inputs/survey/shots.csv is not as it was issued",
        "inputs/round was added",
    )


@pytest.mark.works(of=(issued_copies,))
@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_copies_may_lie_on_another_disk(job: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "big disk"
    elsewhere.mkdir()
    (job / "issued").symlink_to(elsewhere)
    issue(job)
    assert only(job).is_sound


@pytest.mark.works(of=(issued_copies,))
@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (None, "checksums.txt is missing, so none of its files can be verified"),
        ("scribble", "checksums.txt is not as it was issued: line 1 cannot be read"),
    ],
)
def test_list_that_cannot_be_read_is_told(job: Path, text: str | None, fault: str) -> None:
    listed = unlocked(issue(job) / "checksums.txt")
    listed.unlink()
    if text is not None:
        listed.write_text(text, encoding="utf-8")
    assert only(job).faults == (fault,)


@pytest.mark.works(of=(issued_copies, issued_findings))
def test_list_that_was_written_anew_is_found_out_by_the_next_copy(job: Path) -> None:
    first = issue(job)
    digest = (
        shutil.which("sha256sum")
        and subprocess.run(
            ["sha256sum", first / "checksums.txt"], capture_output=True, text=True, check=True
        ).stdout.split()[0]
    )
    if not digest:
        pytest.skip("sha256sum is not installed")
    slip = f'before = "{first.name}"\nbefore_checksums = "{digest}"\n'.encode()
    second = issue(job, slip=slip)
    assert told(job) == []
    shots = unlocked(first / "inputs" / "survey" / "shots.csv")
    shots.write_bytes(b"1,3\n")
    listed = unlocked(first / "checksums.txt")
    listed.write_bytes(
        subprocess.run(
            ["sha256sum", "inputs/job.toml", "inputs/survey/shots.csv", "issue.toml"],
            cwd=first,
            capture_output=True,
            check=True,
        ).stdout
    )
    (copy, _) = issued_copies(job)
    assert copy.faults == (f"checksums.txt is not the one that {second.name} was issued after",)
    for path in first.rglob("*"):
        path.chmod(0o755)
    shutil.rmtree(first)
    (line,) = told(job)
    assert line.startswith(f"issued/{first.name}: {second.name} was issued after it, and it is no")


@pytest.mark.works(of=(issued_copies, issued_findings))
def test_what_is_no_copy_is_left_alone(job: Path) -> None:
    issued = job / "issued"
    assert (issued_copies(job), told(job)) == ((), [])
    issued.write_text("mine", encoding="utf-8")
    (line,) = told(job)
    assert line.startswith("issued: it is no folder")
    issued.unlink()
    for name in ("letters", "2026-02-30-01-draft", ".building-2026-11-16-01"):
        (issued / name).mkdir(parents=True)
    assert issued_copies(job) == ()
    (line,) = told(job)
    assert line.startswith("issued/.building-2026-11-16-01: an issue was interrupted")
    assert issue(job).name == "2026-11-16-02-review-copy"
