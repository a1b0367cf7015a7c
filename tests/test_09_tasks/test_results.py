# SPDX-License-Identifier: Apache-2.0
"""Results are written whole, keep the one before, and can be compared."""

import json
import shutil
from pathlib import Path

import pytest

from tilewater.basis.errors import BadInputFile, UnknownName
from tilewater.job.template import copy_example
from tilewater.tasks.checking import check_job
from tilewater.tasks.designing import Outcome, design_job
from tilewater.tasks.results import compare, read_record, write_results
from tilewater.tasks.starting import start
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    folder = tmp_path / "corbel-farm"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results"))
    return folder


def shortened(folder: Path) -> Outcome:
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('"96.5 ft"', '"60 ft"'), encoding="utf-8")
    return design_job(folder)


@pytest.mark.works(of=(write_results,))
def test_result_goes_into_results_and_nothing_else_changes(farm: Path) -> None:
    before = {path: path.read_bytes() for path in farm.rglob("*") if path.is_file()}
    outcome = design_job(farm)
    written = write_results(outcome)
    assert written == farm / "results" / "last.json"
    assert json.loads(written.read_text(encoding="utf-8"))["verdict"] == outcome.design.verdict
    after = {path: path.read_bytes() for path in farm.rglob("*") if path.is_file()}
    assert {written} == set(after) - set(before)
    assert before.items() <= after.items()


@pytest.mark.works(of=(write_results,))
def test_result_before_the_last_is_kept(farm: Path, tmp_path: Path) -> None:
    out = tmp_path / "elsewhere"
    first = write_results(design_job(farm), out).read_text(encoding="utf-8")
    write_results(design_job(farm), out)
    assert not (out / "previous.json").exists()
    write_results(shortened(farm), out)
    assert first == (out / "previous.json").read_text(encoding="utf-8")
    assert {"last.json", "previous.json"} == {path.name for path in out.iterdir()}


@pytest.mark.works(of=(compare,))
def test_comparison_names_what_moved(farm: Path) -> None:
    written = write_results(design_job(farm))
    changed = compare(written, shortened(farm))
    assert "bed.length_bottom_m" in {change.key for change in changed.moved}
    same = compare(write_results(design_job(farm)), design_job(farm))
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
        "Name a file written by tilewater design --json, such as results/last.json."
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
