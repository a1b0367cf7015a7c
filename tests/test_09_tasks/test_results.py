# SPDX-License-Identifier: Apache-2.0
"""Results are written whole, keep the one before, and can be compared."""

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.jobs import farm_text_without
from tilewater.basis.errors import BadInputFile, UnknownName
from tilewater.job.template import copy_example
from tilewater.tasks.checking import check_job
from tilewater.tasks.designing import Outcome, design_job
from tilewater.tasks.records import read_record
from tilewater.tasks.results import compare, write_results
from tilewater.tasks.starting import start
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    folder = tmp_path / "corbel-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results"))
    # One answer without thirty years of days is quick.
    (folder / "job.toml").write_text(farm_text_without("weather"), encoding="utf-8")
    return folder


def shortened(folder: Path) -> Outcome:
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('"96.5 ft"', '"60 ft"'), encoding="utf-8")
    return design_job(folder)


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


@pytest.mark.works(of=(write_results,))
def test_result_goes_into_results_and_nothing_else_changes(farm: Path) -> None:
    before = {path: path.read_bytes() for path in farm.rglob("*") if path.is_file()}
    outcome = design_job(farm)
    written = write_results(outcome)
    assert (written.folder, written.files) == (farm / "results", ["design.json"])
    record = json.loads((farm / "results" / "design.json").read_text(encoding="utf-8"))
    assert record == outcome.record
    after = {path: path.read_bytes() for path in farm.rglob("*") if path.is_file()}
    assert {"design.json", "checksums.txt"} == {path.name for path in set(after) - set(before)}
    assert before.items() <= after.items()


@pytest.mark.works(of=(write_results,))
def test_result_before_the_last_is_kept(farm: Path, tmp_path: Path) -> None:
    out = tmp_path / "elsewhere"
    write_results(design_job(farm), out)
    first = (out / "design.json").read_bytes()
    write_results(design_job(farm), out)
    assert names(out) == {"design.json", "checksums.txt"}
    write_results(shortened(farm), out)
    assert first == (out / "design-before.json").read_bytes()
    assert names(out) == {"design.json", "design-before.json", "checksums.txt"}


@pytest.mark.works(of=(write_results,))
def test_one_paper_that_cannot_be_written_hinders_no_other(farm: Path) -> None:
    def full() -> bytes:
        raise OSError(28, "No space left on device")

    def absent() -> bytes:
        raise ModuleNotFoundError("no", name="ezdxf")

    (farm / "results" / "owner.pdf").mkdir(parents=True)
    papers = {
        "report.pdf": full,
        "plan.dxf": absent,
        "owner.pdf": lambda: b"two pages",
        "plan.svg": lambda: b"<svg/>",
    }
    told: list[str] = []
    written = write_results(design_job(farm), papers=papers, tell=told.append)
    assert written.files == ["design.json", "plan.svg"]
    assert told == list(papers)
    names_at_fault, reasons = zip(*written.troubles, strict=True)
    assert names_at_fault == ("report.pdf", "plan.dxf", "owner.pdf")
    assert reasons[:2] == ("no space left on device", "ezdxf is not installed")
    assert names(farm / "results") == {"design.json", "plan.svg", "owner.pdf", "checksums.txt"}


@pytest.mark.works(of=(write_results,))
def test_file_of_a_person_is_kept_under_another_name(farm: Path) -> None:
    results = farm / "results"
    results.mkdir()
    (results / "report.pdf").write_text("mine", encoding="utf-8")
    (results / "notes.txt").write_text("mine too", encoding="utf-8")
    outcome, papers = design_job(farm), {"report.pdf": lambda: b"ours"}
    assert write_results(outcome, papers=papers).kept == [("report.pdf", "report.kept-1.pdf")]
    assert write_results(outcome, papers=papers).kept == []
    (results / "report.pdf").write_text("ours, with remarks", encoding="utf-8")
    assert write_results(outcome, papers=papers).kept == [("report.pdf", "report.kept-2.pdf")]
    assert (results / "report.kept-1.pdf").read_text(encoding="utf-8") == "mine"
    assert (results / "report.kept-2.pdf").read_text(encoding="utf-8") == "ours, with remarks"
    assert (results / "report.pdf").read_bytes() == b"ours"
    assert (results / "notes.txt").read_text(encoding="utf-8") == "mine too"


@pytest.mark.works(of=(write_results,))
def test_papers_of_an_earlier_design_do_not_stay(farm: Path) -> None:
    results = farm / "results"
    papers = {"report.pdf": lambda: b"first", "plan.svg": lambda: b"first"}
    write_results(design_job(farm), papers=papers)
    assert write_results(design_job(farm)).removed == []
    assert (results / "report.pdf").exists()
    (results / "plan.svg").write_text("edited", encoding="utf-8")
    assert write_results(shortened(farm)).removed == ["report.pdf"]
    assert (results / "plan.svg").read_text(encoding="utf-8") == "edited"


@pytest.mark.oracle("sha256sum", of=(write_results,))
@pytest.mark.skipif(shutil.which("sha256sum") is None, reason="sha256sum is not installed")
def test_results_have_checksums(farm: Path) -> None:
    folder = write_results(design_job(farm), papers={"plan.svg": lambda: b"<svg/>"}).folder
    check = ["sha256sum", "--check", "--strict", "checksums.txt"]
    assert subprocess.run(check, cwd=folder, capture_output=True, check=False).returncode == 0


@pytest.mark.works(of=(compare,))
def test_comparison_names_what_moved(farm: Path) -> None:
    written = write_results(design_job(farm)).folder / "design.json"
    changed = compare(written, shortened(farm))
    assert "bed.length_bottom_m" in {change.key for change in changed.moved}
    write_results(design_job(farm))
    same = compare(written, design_job(farm))
    assert not same.moved
    assert not same.turned


@pytest.mark.works(of=(read_record,))
@pytest.mark.parametrize(
    ("text", "what"),
    [("{", "it is not JSON"), ("[]", "it is no result of a design"), (None, "it cannot be read")],
)
def test_what_is_no_result_is_refused(tmp_path: Path, text: str | None, what: str) -> None:
    file = tmp_path / "old.json"
    if text is not None:
        file.write_text(text, encoding="utf-8")
    with pytest.raises(BadInputFile) as caught:
        read_record(file)
    expected = (
        f"old.json: {what}. "
        "Name a file written by tilewater design --json, such as results/design.json."
    )
    assert expected == str(caught.value)


@pytest.mark.works(of=(start, copy_example))
def test_start_copies_an_example_or_begins_anew(tmp_path: Path) -> None:
    assert start(tmp_path / "copy", example="corbel-farm").name == "copy"
    assert start(tmp_path / "new", answers={"main.diameter": "10 in"}).name == "new"
    with pytest.raises(UnknownName):
        start(tmp_path / "other", example="corbel-barn")


@pytest.mark.works(of=(write_results,))
def test_results_into_a_file_are_refused(farm: Path, tmp_path: Path) -> None:
    file = tmp_path / "afile"
    file.write_text("mine", encoding="utf-8")
    outcome = design_job(farm)
    for out in (file, file / "below"):
        with pytest.raises(BadInputFile) as caught:
            write_results(outcome, out)
        assert str(caught.value) == (
            f"{out}: it is a file or lies below one. Results are written into a folder. "
            "Name a folder with --out; it is made when it is not there."
        )
    assert file.read_text(encoding="utf-8") == "mine"


@pytest.mark.works(of=(start, copy_example))
@pytest.mark.parametrize("example", ["", "corbel-farm"])
def test_job_is_not_started_where_a_file_stands(tmp_path: Path, example: str) -> None:
    file = tmp_path / "afile"
    file.write_text("mine", encoding="utf-8")
    for folder in (file, file / "below"):
        with pytest.raises(BadInputFile) as caught:
            start(folder, example=example)
        assert str(caught.value) == (
            f"job.toml: {file} is a file, and a job needs a folder. "
            "Nothing was written. Choose another folder."
        )


@pytest.mark.works(of=(check_job,))
def test_data_file_is_no_job(farm: Path) -> None:
    with pytest.raises(BadInputFile) as caught:
        check_job(farm / "prices.csv")
    assert str(caught.value) == (
        f"prices.csv: it is no job folder. Name the folder that holds job.toml: {farm}."
    )
