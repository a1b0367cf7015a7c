# SPDX-License-Identifier: Apache-2.0
"""Saving a job: comments kept, nobody's change overwritten, nothing half written."""

import os
import stat
from pathlib import Path

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job import writing
from tilewater.job.reading import Job, read_job
from tilewater.job.template import copy_example
from tilewater.job.writing import ChangedOnDisk, save_job, write_in_one_step


@pytest.fixture
def job(tmp_path: Path) -> Job:
    return copy_example("corbel-farm", tmp_path / "Höfe 2026" / "Käthes Feld")


def on_disk(job: Job) -> str:
    return (job.folder / "job.toml").read_bytes().decode("utf-8")


@pytest.mark.works(of=(save_job,))
def test_a_save_changes_one_value_and_keeps_the_comment_behind_it(job: Job) -> None:
    saved = save_job(job, {"main.diameter": "12 in"})
    changed = [
        line
        for line, before in zip(on_disk(job).splitlines(), job.text.splitlines(), strict=True)
        if line != before
    ]

    assert len(changed) == 1
    assert changed[0].startswith('diameter = "12 in"  # ')
    assert saved == read_job(job.folder)
    assert saved.file.main.diameter == 0.3048


@pytest.mark.works(of=(save_job,))
def test_an_overrule_is_added_and_withdrawn(job: Job) -> None:
    parts = {"key": "bed.length_m", "value": "100 ft", "by": "R. Lindqvist"}
    parts |= {"date": "2026-12-01", "reason": "fits the strip"}
    saved = save_job(job, {f"overrule.bed-length.{key}": part for key, part in parts.items()})
    again = save_job(saved, {"overrule.bed-length": None})

    assert saved.overrules[0].value == 30.48
    assert again.overrules == ()


@pytest.mark.works(of=(save_job,))
def test_the_change_of_another_program_is_not_overwritten(job: Job) -> None:
    theirs = job.text.replace('soil_type = "B"', 'soil_type = "C"')
    (job.folder / "job.toml").write_bytes(theirs.encode("utf-8"))
    with pytest.raises(ChangedOnDisk) as raised:
        save_job(job, {"main.diameter": "12 in"})
    fault = raised.value.faults[0]
    mine = job.text.splitlines()[(fault.line or 0) - 1]
    yours = theirs.splitlines()[(fault.line or 0) - 1]

    assert theirs == on_disk(job)
    assert fault.message == (
        f"another program changed the file since it was read: '{mine}' is now "
        f"'{yours}'. Nothing was saved. Read the job again and repeat the edit."
    )
    assert '-soil_type = "B"' in raised.value.difference
    assert '+soil_type = "C"' in raised.value.difference


@pytest.mark.works(of=(save_job,))
@pytest.mark.parametrize(
    ("theirs", "said"),
    [
        ("{text}# at the end\n", "'# at the end' is new"),
        ("{short}", "'mark = \"spike in the corner post\"' is gone"),
        ("{windows}", "its line ends are not the same"),
    ],
)
def test_every_sort_of_change_is_named(theirs: str, said: str, job: Job) -> None:
    short = job.text.removesuffix('mark = "spike in the corner post"\n')
    changed = theirs.format(text=job.text, short=short, windows=job.text.replace("\n", "\r\n"))
    (job.folder / "job.toml").write_bytes(changed.encode("utf-8"))
    with pytest.raises(ChangedOnDisk) as raised:
        save_job(job, {"main.diameter": "12 in"})

    assert raised.value.faults[0].message == (
        f"another program changed the file since it was read: {said}. "
        "Nothing was saved. Read the job again and repeat the edit."
    )


@pytest.mark.works(of=(save_job,))
def test_an_edit_that_makes_no_job_is_not_saved(job: Job) -> None:
    with pytest.raises(BadInputFile, match=r"main\.diameter: '12' has no unit"):
        save_job(job, {"main.diameter": "12"})

    assert on_disk(job) == job.text


@pytest.mark.works(of=(write_in_one_step,))
def test_a_write_that_fails_leaves_the_old_file_and_no_rest(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(descriptor: int) -> None:
        raise OSError("disk full")

    names = sorted(path.name for path in job.folder.iterdir())
    monkeypatch.setattr(writing.os, "fsync", fails)
    with pytest.raises(OSError, match="disk full"):
        save_job(job, {"main.diameter": "12 in"})

    assert on_disk(job) == job.text
    assert names == sorted(path.name for path in job.folder.iterdir())


@pytest.mark.works(of=(write_in_one_step,))
@pytest.mark.skipif(os.name == "nt", reason="rights of this kind are not there")
def test_a_save_keeps_the_rights_of_the_file(job: Job) -> None:
    path = job.folder / "job.toml"
    path.chmod(0o640)
    save_job(job, {"main.diameter": "12 in"})

    assert stat.S_IMODE(path.stat().st_mode) == 0o640


@pytest.mark.works(of=(save_job,))
@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_a_linked_job_file_is_saved_where_it_lies(job: Job, tmp_path: Path) -> None:
    path, real = job.folder / "job.toml", tmp_path / "kept elsewhere.toml"
    path.replace(real)
    path.symlink_to(real)
    save_job(job, {"main.diameter": "12 in"})

    assert path.is_symlink()
    assert 'diameter = "12 in"' in real.read_text(encoding="utf-8")
