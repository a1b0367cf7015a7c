# SPDX-License-Identifier: Apache-2.0
"""Screen an outlet at the desk: what could lie there, and the page that goes to the owner."""

import json
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.jobs import FARM
from tests.pdf import Paper
from tilewater.cli.main import run
from tilewater.documents.report.screen_paper import screen_pdf
from tilewater.tasks.screening import screen_folder

SHOWN = ("could hold a bed", "could hold a buffer", "look closer", "cannot", "not known")


@dataclass(frozen=True)
class Done:
    """What a command left: its exit code and what it printed."""

    returncode: int
    stdout: str
    stderr: str


Command = Callable[..., Done]


@pytest.fixture
def tilewater(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Command:
    """The program as a person calls it."""

    def call(*words: str | Path) -> Done:
        monkeypatch.setenv("COLUMNS", "100")
        monkeypatch.setattr(sys, "argv", ["tilewater", *map(str, words)])
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            run()
        printed = capsys.readouterr()
        return Done(int(left.value.code or 0), printed.out, printed.err)

    return call


@pytest.mark.works(of=(run, screen_pdf))
def test_verling_farm_is_told_no_in_the_first_sentence(tmp_path, tilewater):
    done = tilewater("screen", FARM.parent / "verling-farm", "--out", tmp_path)
    assert done.returncode == 1
    assert done.stdout.count("\n  cannot\n") == 3
    assert "on paper that is enough" in " ".join(done.stdout.split())
    paper = Paper((tmp_path / "screen.pdf").read_bytes())
    assert paper.length == 1
    answer = paper.text.partition("2026-11-20")[2].strip()
    assert answer.startswith("No: neither a woodchip bed nor a saturated buffer can lie")
    bed = paper.text.partition("Woodchip bed: cannot")[2].partition("Saturated buffer")[0]
    assert bed.count("–") == 3
    for jargon in ("invert", "crest", "Hooghoudt", "hydraulic"):
        assert jargon not in bed


@pytest.mark.works(of=(run, screen_folder))
def test_the_record_says_every_row_in_the_same_words(tmp_path, tilewater):
    done = tilewater("screen", FARM.parent / "verling-farm", "--json", "--out", tmp_path)
    record = json.loads(done.stdout)
    assert json.loads((tmp_path / "screen.json").read_text(encoding="utf-8")) == record
    assert record["rule"].startswith("Cannot: something that stops it falls short.")
    for answer in record["answers"].values():
        assert answer["answer"] in SHOWN
        for row in answer["rows"]:
            assert row["status"] in ("holds", "short", "not known")
            assert row["limit_known_by"] in ("read", "memory", "practice", "derived")
    assert record["drawn"]["passes_share_and_retention"] is True


@pytest.mark.works(of=(run,))
def test_a_number_of_a_screening_is_explained(tilewater):
    done = tilewater(
        "screen", FARM.parent / "verling-farm", "--explain", "screen.floor_over_ditch_m"
    )
    assert done.returncode == 0
    assert "Main where a bed would be fed above ordinary ditch water" in done.stdout
    assert "job.toml" in done.stdout


@pytest.mark.works(of=(run,))
def test_a_folder_from_the_telephone_is_not_known_and_says_what_to_measure(tmp_path, tilewater):
    job, out = tmp_path / "call", tmp_path / "out"
    said = ("--area", "62 acre", "--main", "10 in", "--grade", "0.18 %", "--nitrate", "14 mg/L")
    tilewater("rough", *said, "--begin", job)
    done = tilewater("screen", job, "--out", out)
    assert done.returncode == 0
    assert done.stdout.count("\n  not known\n") == 3
    assert "could hold" not in done.stdout.partition("Cannot:")[0]
    assert "Ground that may be used" in done.stdout
    words = Paper((out / "screen.pdf").read_bytes()).text
    assert "We cannot say yet: too little is known of this outlet." in words


@pytest.mark.works(of=(run,))
def test_a_fresh_folder_can_be_screened(tmp_path, tilewater):
    job = tmp_path / "fresh"
    tilewater("start", job, "--answer", 'main.diameter="10 in"')
    done = tilewater("screen", job, "--out", tmp_path / "out")
    assert done.returncode == 0
    assert done.stdout.count("\n  not known\n") == 3


@pytest.mark.works(of=(run,))
def test_all_rows_are_shown_where_they_are_asked_for(tmp_path, tilewater):
    done = tilewater("screen", FARM.parent / "merridew-farm", "--rows", "--out", tmp_path)
    assert done.returncode == 0
    assert "could hold a buffer" in done.stdout
    assert "Rows: saturated buffer" in done.stdout
    assert "read, stops" in done.stdout
