# SPDX-License-Identifier: Apache-2.0
"""Data files of a held job: read once, and again only where an edit bears on how they are read."""

from pathlib import Path

import pytest

from tests.held import copied
from tilewater.job.edits import edited
from tilewater.job.reading import Job, job_of_text, read_job
from tilewater.tasks import held_files
from tilewater.tasks.held import HeldJob
from tilewater.tasks.held_files import KEPT, FileMemory, Listening
from tilewater.tasks.outside_files import Reader, read_one, read_outside_files
from tilewater.tasks.outside_inputs import OutsideFiles, TypedInputs

READ: list[str] = []


@pytest.fixture
def watched(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Job, FileMemory]:
    """A job and the memory of its files; what is read goes into READ."""
    READ.clear()

    def read(found: OutsideFiles, reader: Reader, path: Path, inputs: TypedInputs) -> None:
        READ.append(path.name)
        read_one(found, reader, path, inputs)

    monkeypatch.setattr(held_files, "read_one", read)
    job = read_job(copied(tmp_path))
    names = ("weather.csv", "prices.csv", "nitrate.csv", "borings.csv", "survey/shots.csv")
    memory = FileMemory(frozenset(job.folder / name for name in names))
    memory.read(job)
    assert len(READ) == 5
    READ.clear()
    return job, memory


def with_edit(job: Job, key: str, value: str) -> Job:
    return job_of_text(edited(job.text, {key: value}), job.folder)


@pytest.mark.works(of=(FileMemory, Listening))
@pytest.mark.parametrize(
    ("key", "value", "again"),
    [
        ("boards.inlet", "30 in", []),
        ("bed.length_bottom", "80 ft", []),
        ("buffer.width", "40 ft", []),
        ("estimate.price_year", "2025", ["prices.csv"]),
        ("site.foot", "us survey foot", ["borings.csv", "shots.csv", "weather.csv"]),
        ("survey.columns.north", "east_ft", ["shots.csv"]),
        ("weather.from", "2000-01-01", ["weather.csv"]),
    ],
)
def test_a_file_is_read_again_where_an_edit_bears_on_it(
    watched: tuple[Job, FileMemory], key: str, value: str, again: list[str]
):
    job, memory = watched
    after = with_edit(job, key, value)
    found = memory.read(after)
    assert sorted(set(READ)) == sorted(again)
    anew = read_outside_files(after)
    assert [given.key for given in found.givens] == [given.key for given in anew.givens]
    assert repr(found.faults) == repr(anew.faults)
    assert found.findings == anew.findings
    READ.clear()
    memory.read(job)
    assert READ == [], "the first reading is kept beside the new one"


@pytest.mark.works(of=(FileMemory,))
def test_only_so_many_readings_of_a_file_are_kept(watched: tuple[Job, FileMemory]):
    job, memory = watched
    for year in range(2000, 2000 + KEPT):
        memory.read(with_edit(job, "weather.from", f"{year}-01-01"))
    READ.clear()
    memory.read(job)
    assert READ == ["weather.csv"]


@pytest.mark.works(of=(FileMemory,))
def test_a_file_that_only_an_edit_names_is_read_each_time(watched: tuple[Job, FileMemory]):
    job, memory = watched
    (job.folder / "other.csv").write_bytes((job.folder / "prices.csv").read_bytes())
    after = with_edit(job, "estimate.prices", "other.csv")
    memory.read(after)
    memory.read(after)
    assert READ == ["other.csv", "other.csv"]


@pytest.mark.works(of=(HeldJob.reread, FileMemory.take_over))
def test_after_a_save_only_the_file_that_moved_is_read_again(
    tmp_path: Path, watched: tuple[Job, FileMemory]
):
    del watched
    job = HeldJob(copied(tmp_path / "held"))
    READ.clear()
    job.keep({"boards.inlet": "30 in"}, version=job.version)
    assert READ == []
    prices = job.folder / "prices.csv"
    prices.write_text(prices.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    job.reread()
    assert READ == ["prices.csv"]
