# SPDX-License-Identifier: Apache-2.0
"""The package of data and the hand-over: what is in them, the same bytes, and no way out."""

import csv
import io
import json
import os
import shutil
from datetime import date, datetime
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.pdf import Paper
from tilewater.basis.errors import BadInputFile, OutOfDomain
from tilewater.documents.handing.letter import Handed, letter_blocks, letter_pdf
from tilewater.job.checksums import digest_of, read_checksums
from tilewater.tasks import packed_files
from tilewater.tasks.archive import archive_of
from tilewater.tasks.checking import check_job
from tilewater.tasks.data_package import NO_LICENCE, data_package, flag_words
from tilewater.tasks.handing_over import hand_over
from tilewater.tasks.measuring_inputs import measurements
from tilewater.tasks.packed_files import files_of_folder
from tools.package import ROOT

FARM = ROOT / "examples/corbel-built"
DAY = date(2031, 1, 15)


def opened(content: bytes) -> dict[str, bytes]:
    with ZipFile(io.BytesIO(content)) as archive:
        assert archive.testzip() is None
        return {name: archive.read(name) for name in archive.namelist()}


def rows(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(content.decode("utf-8"))))


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    folder = tmp_path / "farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results", "issued"))
    return folder


@pytest.fixture(scope="module")
def package() -> dict[str, bytes]:
    return opened(data_package(check_job(FARM), {"monitor": {"removed_kg": 12.5}}))


@pytest.mark.works(of=(data_package,))
def test_the_package_holds_tables_results_and_the_files_as_received(package: dict[str, bytes]):
    assert {
        "README.txt",
        "as-received/loggers/inlet.csv",
        "checksums.txt",
        "data/corrections.csv",
        "data/gaps.csv",
        "data/inlet.csv",
        "data/samples.csv",
        "results/monitor.json",
    } <= set(package)
    assert package["as-received/loggers/inlet.csv"] == (FARM / "loggers/inlet.csv").read_bytes()
    assert json.loads(package["results/monitor.json"]) == {"removed_kg": 12.5}
    readme = package["README.txt"].decode()
    assert "Licence: CC BY 4.0, by leave of J. Corbel" in readme
    assert "edited: an offset or drift was added, see corrections.csv" in readme
    assert "caution: inlet has 1 single readings far off both neighbours" in readme


@pytest.mark.oracle("datetime of CPython", of=(data_package,))
def test_times_of_the_package_are_one_moment_twice(package: dict[str, bytes]):
    table = rows(package["data/inlet.csv"])
    read = measurements(check_job(FARM)).loggers["inlet"].series
    assert list(table[0]) == ["time [UTC]", "time [local]", "water elevation [m]", "mark"]
    assert len(table) == read.time_s.size
    for row, time_s, value in zip(table, read.time_s, read.value, strict=True):
        assert datetime.fromisoformat(row["time [UTC]"]).timestamp() == time_s
        assert datetime.fromisoformat(row["time [local]"]).timestamp() == time_s
        assert abs(float(row["water elevation [m]"]) - value) <= 0.00005000001
    assert {row["time [local]"][-6:] for row in table} == {"-06:00", "-05:00"}
    assert {row["mark"] for row in table} == {"edited", "edited; doubted"}


@pytest.mark.works(of=(data_package, flag_words))
def test_what_is_below_detection_has_no_number(package: dict[str, bytes]):
    table = rows(package["data/samples.csv"])
    below = [row for row in table if row["below detection"] == "yes"]
    assert len(below) == 3
    assert {row["nitrate [mg/L as N]"] for row in below} == {""}
    assert {row["limit of detection [mg/L as N]"] for row in below} == {"0.2"}
    assert [row["second bottle"] for row in table].count("yes") == 1
    assert flag_words(0) == ""
    assert flag_words(3) == "edited; frozen"


@pytest.mark.works(of=(data_package, archive_of))
def test_the_same_job_gives_the_same_bytes_and_checksums_fit(package: dict[str, bytes]):
    job = check_job(FARM)
    assert data_package(job) == data_package(job)
    listed = read_checksums(package["checksums.txt"].decode())
    assert listed == {n: digest_of(c) for n, c in package.items() if n != "checksums.txt"}


@pytest.mark.works(of=(data_package,))
def test_a_licence_that_is_not_stated_is_said_so(farm: Path):
    job = farm / "job.toml"
    text = job.read_text()
    job.write_text(text.replace('licence = "CC BY 4.0, by leave of J. Corbel"\n', ""))
    assert NO_LICENCE in opened(data_package(check_job(farm)))["README.txt"].decode()


@pytest.mark.works(of=(data_package,))
def test_words_of_the_laboratory_are_no_formulas(farm: Path):
    lab = farm / "loggers/lab.csv"
    lab.write_text(lab.read_text().replace("3101,", '"=1+1",'))
    table = rows(opened(data_package(check_job(farm)))["data/samples.csv"])
    assert table[0]["sample"] == "'=1+1"


@pytest.mark.works(of=(hand_over,))
def test_a_hand_over_holds_the_folder_and_how_to_read_it(farm: Path):
    (farm / "results").mkdir()
    (farm / "results/design.json").write_text("{}")
    (farm / "results/hand-over.zip").write_text("an earlier one")
    (farm / ".secret").write_text("no")
    whole = hand_over(farm, day=DAY)
    assert whole == hand_over(farm / "job.toml", day=DAY)
    found = opened(whole)
    for name in ("job.toml", "weather.csv", "results/design.json", "loggers/lab.csv"):
        assert found[f"job/{name}"] == (farm / name).read_bytes()
    assert "job/.secret" not in found
    assert "job/results/hand-over.zip" not in found
    assert "README.txt" in opened(found["data-package.zip"])
    letter = " ".join(Paper(found["letter.pdf"]).text.split())
    assert "2031-01-15" in letter
    assert "Utility locate: number and date of the ticket" not in letter
    assert "Ticket 272450118, filed 2027-09-02 15:00" in letter
    table = {row["key"]: row for row in rows(found["reading/inputs.csv"])}
    assert table["inputs.main.diameter_m"]["value"] == "0.254"
    assert table["inputs.main.diameter_m"]["as typed"] == "10 in"
    assert json.loads(found["reading/job.schema.json"])["title"] == "Tilewater job file"
    assert read_checksums(found["checksums.txt"].decode()) == {
        name: digest_of(content) for name, content in found.items() if name != "checksums.txt"
    }


@pytest.mark.works(of=(letter_pdf, letter_blocks))
def test_the_letter_tells_what_is_open_and_what_can_hurt():
    open_items = (("Utility locate", "call the one-call center"),)
    handed = Handed("Farm", (("Owner", "J. Corbel"),), "2031-01-15", (), (), open_items, (), ())
    words = " ".join(Paper(letter_pdf(handed)).text.split())
    assert "2031-01-15" in words
    assert "J. Corbel" in words
    assert "call the one-call center" in words
    assert "Never climb into a structure" in words
    assert "Draft, to be read and signed by who hands over" in words
    plain = Handed("Farm", (), "", (), (), (), ("Look.",), ("a: it is a link.",))
    told = " ".join(Paper(letter_pdf(plain)).text.split())
    assert "date: ____________" in told
    assert "Every question of the job file is answered." in told
    assert "Not in the archive: a: it is a link." in told


@pytest.mark.works(of=(files_of_folder, hand_over))
@pytest.mark.skipif(not hasattr(os, "symlink"), reason="links are not made here")
def test_no_link_is_followed_and_nothing_outside_is_read(farm: Path, tmp_path: Path):
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret.txt").write_text("a secret")
    (farm / "link.txt").symlink_to(outside / "secret.txt")
    (farm / "linked").symlink_to(outside, target_is_directory=True)
    (farm / "loop").symlink_to(farm, target_is_directory=True)
    shutil.move(farm / "prices.csv", outside / "prices.csv")
    job = farm / "job.toml"
    job.write_text(job.read_text().replace('"prices.csv"', '"../outside/prices.csv"'))
    found = opened(hand_over(farm))
    assert not any(b"a secret" in content for content in found.values())
    assert not any("link" in name or "loop" in name or "prices" in name for name in found)
    readme = found["reading/README.txt"].decode()
    assert "link.txt: it is a link, or its name cannot be that of a file anywhere." in readme
    assert "../outside/prices.csv: the job names it, but it lies outside its folder" in readme


@pytest.mark.works(of=(files_of_folder,))
def test_a_folder_without_bounds_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(packed_files, "MOST_FILES", 3)
    for i in range(5):
        (tmp_path / f"{i}.txt").write_text("x")
    with pytest.raises(BadInputFile, match="holds more than 512 MB or 3 files"):
        files_of_folder(tmp_path)
    monkeypatch.undo()
    monkeypatch.setattr(packed_files, "DEEPEST", 2)
    deep = tmp_path / "a/b/c"
    deep.mkdir(parents=True)
    (deep / "d.txt").write_text("x")
    found = files_of_folder(tmp_path)
    assert "a/b/c/d.txt" not in found.files
    assert found.left_out == ("c: it is more than 2 folders deep.",)


@pytest.mark.works(of=(archive_of,))
@pytest.mark.parametrize("name", ["../x", "/x", "a/../../x", "C:/x", "a\\b", "", "a/", "a\n"])
def test_no_name_leads_out_of_an_archive(name: str):
    with pytest.raises(OutOfDomain, match="is no name in an archive"):
        archive_of({name: b""})
