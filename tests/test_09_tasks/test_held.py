# SPDX-License-Identifier: Apache-2.0
"""A job held open: edits are kept, taken back, and never written over another's."""

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.held import copied
from tilewater.basis.errors import BadInputFile
from tilewater.job.edits import Edit
from tilewater.tasks.held import HeldJob, JobMoved

LOWER: dict[str, Edit] = {"boards.inlet": "30 in"}


def text_of(job: Path) -> str:
    return (job / "job.toml").read_bytes().decode("utf-8")


def change(job: Path, old: str, new: str, file: str = "job.toml") -> None:
    """Edit a file as another program would."""
    path = job / file
    before = path.read_text(encoding="utf-8")
    assert old in before
    path.write_text(before.replace(old, new, 1), encoding="utf-8")


@pytest.mark.works(of=(HeldJob,))
def test_a_job_is_held_as_it_was_read(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    assert held.text == text_of(job)
    assert held.job is not None
    assert held.job.name == "corbel-farm"
    assert held.faults == ()
    assert not held.changed_on_disk()
    assert not held.can_undo
    assert not held.can_redo
    assert HeldJob(job / "job.toml").version == held.version


@pytest.mark.works(of=(HeldJob.keep,))
def test_an_edit_is_kept_with_every_comment(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    before = held.text
    version = held.keep(LOWER, version=held.version)
    assert version == held.version
    after = text_of(job)
    assert after == held.text == before.replace('inlet = "36 in"', 'inlet = "30 in"')
    assert after.count("#") == before.count("#")


@pytest.mark.law(of=(HeldJob.keep, HeldJob.reread))
def test_what_was_kept_reads_back_as_the_same_version(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    version = held.keep(LOWER, version=held.version)
    held.reread()
    assert held.version == version == HeldJob(job).version
    assert held.can_undo


@pytest.mark.law(of=(HeldJob.undo, HeldJob.redo))
@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_taking_back_restores_the_text_byte_for_byte(tmp_path: Path, ends: str):
    job = copied(tmp_path)
    file = job / "job.toml"
    file.write_bytes(file.read_bytes().replace(b"\n", ends.encode()))
    held = HeldJob(job)
    texts, versions = [file.read_bytes()], [held.version]
    for boards in ("30 in", "28 in", None):
        edits: dict[str, Edit] = {"season.winter.inlet_boards": boards}
        versions.append(held.keep(edits, version=held.version))
        texts.append(file.read_bytes())
    assert len(set(texts)) == len(set(versions)) == 4
    for text, version in zip(texts[-2::-1], versions[-2::-1], strict=True):
        assert held.undo(version=held.version) == version
        assert file.read_bytes() == text
    assert not held.can_undo
    assert held.undo(version=held.version) == versions[0]
    for text, version in zip(texts[1:], versions[1:], strict=True):
        assert held.redo(version=held.version) == version
        assert file.read_bytes() == text
    assert not held.can_redo


@pytest.mark.works(of=(HeldJob.keep,))
def test_a_new_edit_ends_what_could_be_done_again(tmp_path: Path):
    held = HeldJob(copied(tmp_path))
    held.keep(LOWER, version=held.version)
    held.undo(version=held.version)
    assert held.can_redo
    held.keep({"boards.inlet": "28 in"}, version=held.version)
    assert not held.can_redo


@pytest.mark.works(of=(HeldJob.keep,))
def test_an_edit_that_changes_nothing_is_no_step(tmp_path: Path):
    held = HeldJob(copied(tmp_path))
    assert held.keep({"boards.inlet": "36 in"}, version=held.version) == held.version
    assert not held.can_undo


@pytest.mark.works(of=(HeldJob.keep, JobMoved))
@pytest.mark.parametrize("act", ["keep", "undo", "redo"])
def test_an_edit_of_another_program_is_noticed_and_never_written_over(tmp_path: Path, act: str):
    job = copied(tmp_path)
    held = HeldJob(job)
    held.keep({"boards.outlet": "22 in"}, version=held.version)
    held.keep({"boards.outlet": "20 in"}, version=held.version)
    held.undo(version=held.version)
    change(job, 'slope = "0.18 %"', 'slope = "0.19 %"')
    theirs = text_of(job)
    assert held.changed_on_disk()
    more = {"edits": LOWER} if act == "keep" else {}
    with pytest.raises(JobMoved, match=r"0\.18 %.* is now .*0\.19 %") as moved:
        getattr(held, act)(version=held.version, **more)
    assert "Nothing was saved. Read the job again and repeat the edit." in str(moved.value)
    assert moved.value.faults[0].line == 67
    assert '+slope = "0.19 %"' in moved.value.difference
    assert text_of(job) == theirs


@pytest.mark.works(of=(HeldJob.reread,))
def test_an_edit_of_another_program_becomes_a_step_once_it_is_read(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    first = held.version
    held.keep(LOWER, version=held.version)
    ours = text_of(job)
    held.undo(version=held.version)
    held.redo(version=held.version)
    change(job, 'slope = "0.18 %"', 'slope = "0.19 %"')
    held.reread()
    assert not held.changed_on_disk()
    assert not held.can_redo
    held.undo(version=held.version)
    assert text_of(job) == ours
    assert held.undo(version=held.version) == first


@pytest.mark.works(of=(HeldJob.keep, JobMoved))
def test_a_data_file_that_moved_is_noticed_by_its_name(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    before = held.first().record
    change(job, ",", ",", "prices.csv")
    assert not held.changed_on_disk(), "written anew with the same content"
    prices = (job / "prices.csv").read_text(encoding="utf-8")
    (job / "prices.csv").write_text(f"{prices}\n", encoding="utf-8")
    assert held.changed_on_disk()
    with pytest.raises(JobMoved, match=r"^prices.csv: another program changed the file"):
        held.keep(LOWER, version=held.version)
    version = held.version
    held.reread()
    assert held.version != version
    assert not held.can_undo, "a change of a data file is no step"
    assert held.first().record == before


@pytest.mark.works(of=(HeldJob.changed_on_disk,))
def test_a_change_that_keeps_size_and_time_for_a_clock_is_told_by_time_of_writing(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    stamp = (job / "job.toml").stat()
    change(job, 'slope = "0.18 %"', 'slope = "0.19 %"')
    os.utime(job / "job.toml", ns=(stamp.st_atime_ns, stamp.st_mtime_ns + 1))
    assert held.changed_on_disk()
    (job / "job.toml").unlink()
    assert held.changed_on_disk()
    with pytest.raises(BadInputFile, match=r"there is no job.toml"):
        held.reread()
    assert held.job is not None, "what was held is held still"


@pytest.mark.works(of=(HeldJob.keep, JobMoved))
def test_a_page_that_was_made_before_another_one_saved_is_refused(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    shown = held.version
    held.keep(LOWER, version=shown)
    kept = text_of(job)
    with pytest.raises(JobMoved, match="another page changed the file") as moved:
        held.keep({"boards.outlet": "20 in"}, version=shown)
    assert "'inlet = \"36 in\"' is now 'inlet = \"30 in\"'" in str(moved.value)
    with pytest.raises(JobMoved, match="the job was saved or read again"):
        held.undo(version="of another job")
    assert text_of(job) == kept


@pytest.mark.law(of=(HeldJob.keep,))
def test_of_many_pages_that_save_at_once_no_edit_is_lost(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    shown = held.version

    def save(inches: int) -> int | None:
        try:
            held.keep({"boards.inlet": f"{inches} in"}, version=shown)
        except JobMoved:
            return None
        return inches

    with ThreadPoolExecutor(8) as pool:
        saved = [inches for inches in pool.map(save, range(10, 34, 2)) if inches is not None]
    assert len(saved) == 1
    assert f'inlet = "{saved[0]} in"' in text_of(job)
    held.undo(version=held.version)
    assert held.version == shown


@pytest.mark.works(of=(HeldJob,))
def test_a_job_with_faults_is_held_and_can_be_mended(tmp_path: Path):
    job = copied(tmp_path)
    change(job, 'inlet = "36 in"', 'inlet = "36 lb"')
    held = HeldJob(job)
    assert held.job is None
    assert [fault.where for fault in held.faults] == ["boards.inlet"]
    answer = held.first()
    assert answer.design is None
    assert answer.faults == held.faults
    assert held.first({"boards.inlet": "36 in"}).design is not None
    held.keep({"boards.inlet": "36 in"}, version=held.version)
    assert held.faults == ()
    held.undo(version=held.version)
    assert 'inlet = "36 lb"' in text_of(job)


@pytest.mark.works(of=(HeldJob,))
def test_a_job_that_is_no_toml_is_held_with_its_fault(tmp_path: Path):
    job = copied(tmp_path)
    change(job, "[bed]", "[bed")
    held = HeldJob(job)
    (fault,) = held.faults
    assert "it cannot be read as TOML" in fault.message
    assert held.first(LOWER).faults == (fault,)
    with pytest.raises(BadInputFile):
        held.keep(LOWER, version=held.version)
    change(job, "[bed", "[bed]")
    held.reread()
    assert held.faults == ()
    assert held.can_undo


@pytest.mark.works(of=(HeldJob.keep,))
def test_an_edit_that_is_at_fault_is_not_kept(tmp_path: Path):
    job = copied(tmp_path)
    held = HeldJob(job)
    before = held.text
    with pytest.raises(BadInputFile, match="30 lb"):
        held.keep({"boards.inlet": "30 lb"}, version=held.version)
    assert text_of(job) == before == held.text
    assert not held.can_undo


@pytest.mark.works(of=(HeldJob,))
def test_a_folder_without_a_job_cannot_be_held(tmp_path: Path):
    with pytest.raises(BadInputFile, match=r"there is no job.toml"):
        HeldJob(tmp_path)
