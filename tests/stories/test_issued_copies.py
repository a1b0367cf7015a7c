# SPDX-License-Identifier: Apache-2.0
"""An engineer issues a copy, changes the job, issues again, and a file is altered meanwhile."""

import json
import os
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from tests.jobs import farm_text_without
from tilewater.basis.errors import BadInputFile
from tilewater.cli.main import run
from tilewater.job.issued import issued_copies
from tilewater.tasks import issuing
from tilewater.tasks.designing import design_job
from tilewater.tasks.issuing import issue_design, issue_words

pytestmark = pytest.mark.works(of=(run, issue_design))

WORDS = ("--issue", "Review copy", "--by", "R. Lindqvist")


@dataclass(frozen=True)
class Done:
    """What a command left: its exit code and what it printed."""

    returncode: int
    stdout: str
    stderr: str


Command = Callable[..., Done]


@pytest.fixture
def tilewater(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Command:
    def call(*words: str | Path) -> Done:
        monkeypatch.setenv("COLUMNS", "110")
        monkeypatch.setattr(sys, "argv", ["tilewater", *map(str, words)])
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            run()
        printed = capsys.readouterr()
        return Done(int(left.value.code or 0), printed.out, printed.err)

    return call


class Today(date):
    """The day on which these stories happen."""

    @classmethod
    def today(cls) -> "Today":
        return cls(2026, 11, 16)


@pytest.fixture(autouse=True)
def same_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tilewater.cli.main.date", Today)


@pytest.fixture(autouse=True)
def few_papers(monkeypatch: pytest.MonkeyPatch) -> None:
    """One small paper in the place of all, which have tests of their own."""

    def papers(outcome: object, units: str, status: str = "") -> dict[str, Callable[[], bytes]]:
        return {"report.pdf": lambda: f"{status}, {units}".encode()}

    monkeypatch.setattr("tilewater.tasks.papers.papers_of", papers)
    monkeypatch.setattr(issuing, "papers_of", papers)


@pytest.fixture
def farm(tmp_path: Path, tilewater: Command) -> Path:
    folder = tmp_path / "Höfe 2026" / "Käthes Feld"
    tilewater("start", folder, "--example", "corbel-farm")
    (folder / "job.toml").write_text(farm_text_without("weather"), encoding="utf-8")
    return folder


def edit(file: Path, old: str, new: str) -> int:
    """Change a text in a file; the line it stands on."""
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1


def copies(folder: Path) -> list[Path]:
    return [copy.folder for copy in issued_copies(folder)]


def unlocked(path: Path) -> Path:
    path.parent.chmod(0o755)
    path.chmod(0o644)
    return path


def inside(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def lines(page: str) -> list[str]:
    return [" ".join(line.split()) for line in page.splitlines()]


def test_copy_holds_inputs_results_and_who_issued_it(farm: Path, tilewater: Command) -> None:
    done = tilewater("design", farm, *WORDS, "--note", "für J. Corbel")
    assert done.returncode == 0
    (folder,) = copies(farm)
    assert folder.name == "2026-11-16-01-review-copy"
    assert f"Issued: {folder}" in done.stderr.splitlines()
    files = inside(folder)
    assert set(files) == {
        "inputs/job.toml",
        "inputs/borings.csv",
        "inputs/nitrate.csv",
        "inputs/prices.csv",
        "inputs/survey/shots.csv",
        "results/design.json",
        "results/report.pdf",
        "issue.toml",
        "checksums.txt",
    }
    for name in ("job.toml", "survey/shots.csv"):
        assert files[f"inputs/{name}"] == (farm / name).read_bytes()
    assert json.loads(files["results/design.json"])["verdict"] == "fits with open items"
    assert files["results/report.pdf"].decode() == (
        "Review copy 2026-11-16-01, R. Lindqvist, with open items, us"
    )
    slip = tomllib.loads(files["issue.toml"].decode())
    assert ("Review copy", "R. Lindqvist", "für J. Corbel", "2026-11-16") == (
        slip["status"],
        slip["by"],
        slip["note"],
        slip["date"],
    )
    assert slip["verdict"] == "fits with open items"
    assert any("call the one-call center" in item for item in slip["open_items"])
    assert slip["before"] == ""


@pytest.mark.skipif(shutil.which("sha256sum") is None, reason="sha256sum is not installed")
def test_anyone_can_check_a_copy_without_the_program(farm: Path, tilewater: Command) -> None:
    tilewater("design", farm, *WORDS)
    (folder,) = copies(farm)
    check = ["sha256sum", "--check", "--strict", "--quiet", "checksums.txt"]
    assert subprocess.run(check, cwd=folder, check=False).returncode == 0
    listed = (folder / "checksums.txt").read_text(encoding="utf-8").splitlines()
    assert set(inside(folder)) - {"checksums.txt"} == {line[66:] for line in listed}


def test_second_copy_says_what_changed_since_the_first(farm: Path, tilewater: Command) -> None:
    tilewater("design", farm, *WORDS)
    line = edit(farm / "job.toml", 'width_bottom = "30 ft"', 'width_bottom = "12 ft"')
    at_shot = edit(farm / "survey" / "shots.csv", "140,", "940,")
    with (farm / "job.toml").open("a", encoding="utf-8") as file:
        file.write('\n[overrule.ten]\nkey = "life.carbon_years"\nvalue = "40 years"\n')
        file.write('by = "R. L."\ndate = "2026-03-02"\nreason = "old chips"\n')
    done = tilewater("design", farm, "--issue", "For bids", "--by", "R. Lindqvist", "--json")
    assert done.returncode == 1
    first, second = copies(farm)
    assert second.name == "2026-11-16-02-for-bids"
    since = json.loads(done.stdout)["changed_since_issued"]
    assert since["copy"] == first.name
    assert since["verdict"] == {"before": "fits with open items", "after": "does not fit"}
    width, shots = since["inputs"]
    assert ("bed.width_bottom", "30 ft", "12 ft", "job.toml", line) == (
        width["key"],
        width["before"],
        width["after"],
        width["file"],
        width["line"],
    )
    assert ("survey.shots", "survey/shots.csv", at_shot) == (
        shots["key"],
        shots["file"],
        shots["line"],
    )
    assert shots["title"] == "File of shots: 1 line new, 1 line gone"
    (decision,) = since["decisions"]
    assert decision["before"] is None
    assert decision["after"].startswith("life.carbon_years; 40 years; R. L.")
    turned = {rule["key"] for rule in since["rules"]}
    assert "criteria.605-share-of-peak.result" in turned
    slip = tomllib.loads((second / "issue.toml").read_text(encoding="utf-8"))
    assert slip["before"] == first.name
    assert f"bed.width_bottom: 30 ft -> 12 ft (job.toml line {line})" in slip["changed"]["inputs"]
    assert slip["changed"]["verdict"] == "fits with open items -> does not fit"
    assert json.loads((second / "results" / "design.json").read_text(encoding="utf-8")) == (
        json.loads(done.stdout)
    )


def test_page_tells_what_changed_since_the_last_copy(farm: Path, tilewater: Command) -> None:
    assert "issued copy" not in tilewater("design", farm, *WORDS).stdout
    page = tilewater("design", farm).stdout.partition("Since the last issued copy")[2]
    assert "Nothing changed." in page
    line = edit(farm / "job.toml", 'width_bottom = "30 ft"', 'width_bottom = "12 ft"')
    page = tilewater("design", farm).stdout.partition("Since the last issued copy")[2]
    found = lines(page)
    assert "verdict fits with open items, now: does not fit" in found
    assert f"input Width of the bottom 30 ft 12 ft job.toml {line}" in found
    assert "Width of the floor 30.00 ft 12.00 ft" in found
    assert "Share of the peak flow that the bed takes holds short" in found


def test_altered_file_is_caught_by_check_and_by_design(farm: Path, tilewater: Command) -> None:
    tilewater("design", farm, *WORDS)
    (folder,) = copies(farm)
    edit(unlocked(folder / "inputs" / "job.toml"), '"30 ft"', '"12 ft"')
    for verb in ("check", "design"):
        done = tilewater(verb, farm)
        assert done.returncode == 0
        told = " ".join(done.stderr.split())
        assert f"issued/{folder.name}: inputs/job.toml is not as it was issued." in told
        assert "edit the job and issue a new copy" in told
    assert "Since the last issued copy" not in done.stdout
    record = json.loads(tilewater("design", farm, "--json").stdout)
    assert record["changed_since_issued"] is None
    assert not record["issued"][0]["is_as_issued"]
    (copy,) = json.loads(tilewater("check", farm, "--json").stdout)["issued"]
    assert copy["faults"] == ["inputs/job.toml is not as it was issued"]
    page = lines(tilewater("check", farm).stdout)
    assert f"{folder.name} Review copy, R. Lindqvist: not as issued" in page


def test_changes_count_from_the_last_copy_that_is_sound(farm: Path, tilewater: Command) -> None:
    for _ in range(2):
        tilewater("design", farm, *WORDS)
    first, second = copies(farm)
    unlocked(second / "results" / "design.json").write_text("{}", encoding="utf-8")
    record = json.loads(tilewater("design", farm, "--json").stdout)
    assert record["changed_since_issued"]["copy"] == first.name


def test_copies_never_change_afterwards(farm: Path, tilewater: Command) -> None:
    tilewater("design", farm, *WORDS)
    (folder,) = copies(farm)
    before = inside(folder)
    edit(farm / "job.toml", 'width_bottom = "30 ft"', 'width_bottom = "31 ft"')
    tilewater("design", farm, *WORDS)
    tilewater("check", farm)
    assert before == inside(folder)
    assert all(copy.is_sound for copy in issued_copies(farm))


def test_frozen_inputs_are_a_job_of_their_own(farm: Path, tilewater: Command) -> None:
    tilewater("design", farm, *WORDS)
    (folder,) = copies(farm)
    again = json.loads(tilewater("design", folder / "inputs", "--json", "--out", farm).stdout)
    frozen = json.loads((folder / "results" / "design.json").read_text(encoding="utf-8"))
    for key in ("verdict", "governs", "bed", "capacity", "cost"):
        assert again[key] == frozen[key]


def test_files_from_outside_the_job_folder_go_into_the_copy(farm: Path, tilewater: Command) -> None:
    shared = farm.parent / "shared"
    shared.mkdir()
    for name in ("prices.csv", "borings.csv"):
        shutil.move(farm / name, shared / name)
    edit(farm / "job.toml", '"prices.csv"', '"../shared/prices.csv"')
    borings = (shared / "borings.csv").as_posix()
    edit(farm / "job.toml", '"borings.csv"', f'"{borings}"')
    tilewater("design", farm, *WORDS)
    (folder,) = copies(farm)
    slip = tomllib.loads((folder / "issue.toml").read_text(encoding="utf-8"))
    assert slip["outside"] == {
        borings: "inputs/outside/borings.csv",
        "../shared/prices.csv": "inputs/outside/prices.csv",
    }
    for name in ("prices.csv", "borings.csv"):
        assert (folder / "inputs" / "outside" / name).read_bytes() == (shared / name).read_bytes()
    edit(shared / "prices.csv", "mobilization", "Mobilization")
    (change,) = json.loads(tilewater("design", farm, "--json").stdout)["changed_since_issued"][
        "inputs"
    ]
    assert change["file"] == "../shared/prices.csv"


@pytest.mark.skipif(os.name == "nt", reason="links need rights there")
def test_linked_inputs_are_copied_as_files(farm: Path, tilewater: Command) -> None:
    elsewhere = farm.parent / "prices of 2026.csv"
    shutil.move(farm / "prices.csv", elsewhere)
    (farm / "prices.csv").symlink_to(elsewhere)
    tilewater("design", farm, *WORDS)
    (folder,) = copies(farm)
    kept = folder / "inputs" / "prices.csv"
    assert not kept.is_symlink()
    assert kept.read_bytes() == elsewhere.read_bytes()


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--issue", "draft"), "--issue: the copy needs the name of who answers for it."),
        (("--issue", "draft", "--by", "  "), "--issue: the copy needs the name"),
        (("--issue", " ", "--by", "R. L."), "issued: the copy has no status."),
        (("--issue", "draft", "--by", "R. L.\x07"), "issued: the name has a letter that cannot"),
        (("--issue", "d" * 61, "--by", "R. L."), "issued: the status has 61 letters, and 60"),
        (("--by", "R. L."), "--by: it belongs to a copy that is issued."),
        (("--note", "x"), "--note: it belongs to a copy that is issued."),
        ((*WORDS, "--no-papers"), "--issue: a copy is issued with all its papers."),
        ((*WORDS, "--explain", "bed.length_m"), "--issue: a copy is issued with all its papers."),
    ],
)
def test_words_of_a_copy_belong_together(
    farm: Path, tilewater: Command, words: tuple[str, ...], message: str
) -> None:
    done = tilewater("design", farm, *words)
    assert (2, "") == (done.returncode, done.stdout)
    assert done.stderr.startswith(message)
    assert done.stderr.endswith("Nothing was issued.\n")
    assert not (farm / "issued").exists()


def test_job_at_fault_is_not_issued(farm: Path, tilewater: Command) -> None:
    edit(farm / "job.toml", '"62 acre"', '"62"')
    done = tilewater("design", farm, *WORDS)
    assert done.returncode == 2
    assert "drainage.area" in done.stderr
    assert not (farm / "issued").exists()


def test_folder_that_takes_no_copy_is_told_after_the_design(farm: Path, tilewater: Command) -> None:
    (farm / "issued").write_text("mine", encoding="utf-8")
    done = tilewater("design", farm, *WORDS)
    assert done.returncode == 2
    assert "Fits with open items" in done.stdout
    (line,) = (line for line in done.stderr.splitlines() if line.endswith("Nothing was issued."))
    assert line.startswith(f"{farm / 'issued'}: no copy can be kept there: ")
    assert (farm / "issued").read_text(encoding="utf-8") == "mine"


def test_input_that_changed_during_the_design_is_not_issued(farm: Path) -> None:
    outcome = design_job(farm)
    edit(farm / "prices.csv", "mobilization", "Mobilization")
    with pytest.raises(BadInputFile) as caught:
        issue_design(outcome, issue_words("draft", "R. L."), date(2026, 3, 2), "us")
    assert str(caught.value) == (
        "prices.csv: it was changed while the design was made. Issue again. Nothing was issued."
    )
    assert not (farm / "issued").exists()


def test_paper_that_cannot_be_made_stops_the_issue(
    farm: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails() -> bytes:
        raise ModuleNotFoundError("no", name="typst")

    monkeypatch.setattr(issuing, "papers_of", lambda *_: {"report.pdf": fails})
    with pytest.raises(BadInputFile) as caught:
        issue_design(design_job(farm), issue_words("draft", "R. L."), date(2026, 3, 2), "us")
    assert str(caught.value) == (
        "report.pdf: it cannot be made: typst is not installed. Nothing was issued."
    )
    assert not (farm / "issued").exists()


def test_copies_follow_each_other(farm: Path) -> None:
    words = issue_words("draft", "R. L.")
    issue_design(design_job(farm), words, date(2026, 3, 2), "us")
    with pytest.raises(BadInputFile, match="set the clock of this machine right"):
        issue_design(design_job(farm), words, date(2026, 3, 1), "us")
    stale = design_job(farm)
    issue_design(design_job(farm), words, date(2026, 3, 2), "us")
    with pytest.raises(BadInputFile, match="another copy was issued"):
        issue_design(stale, words, date(2026, 3, 2), "us")
    assert ["2026-03-02-01-draft", "2026-03-02-02-draft"] == [c.name for c in copies(farm)]


def test_seal_is_the_one_that_the_next_copy_holds(farm: Path) -> None:
    words = issue_words("draft", "R. L.")
    first = issue_design(design_job(farm), words, date(2026, 3, 2), "us")
    issue_design(design_job(farm), words, date(2026, 3, 9), "us")
    (_, copy) = issued_copies(farm)
    assert (copy.before, copy.before_checksums) == (first.folder.name, first.seal)


@pytest.fixture
def read_only_farm(farm: Path) -> Iterator[Path]:
    """The job in a folder that takes no file; skipped for a user who may do all."""
    farm.chmod(0o555)
    try:
        if os.access(farm, os.W_OK):
            pytest.skip("this user may write everywhere")
        yield farm
    finally:
        farm.chmod(0o755)


def test_read_only_folder_takes_no_copy_and_no_results(
    read_only_farm: Path, tilewater: Command
) -> None:
    done = tilewater("design", read_only_farm)
    assert done.returncode == 0
    assert "Not written: results: permission denied. Name a folder with --out." in done.stderr
    done = tilewater("design", read_only_farm, *WORDS)
    assert done.returncode == 2
    assert "no copy can be kept there: permission denied. Nothing was issued." in done.stderr
