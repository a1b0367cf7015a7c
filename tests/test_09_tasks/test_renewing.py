# SPDX-License-Identifier: Apache-2.0
"""The verb that looks at what is left of a bed: page, record, memo, hand-over, messages."""

import json
import shutil
import zipfile
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from typer.testing import CliRunner

from tests.pages import Console
from tests.pdf import Paper
from tilewater.basis.errors import BadInputFile
from tilewater.cli.main import app
from tilewater.cli.renew_verb import renew
from tilewater.documents.pages.renew_page import answer, renew_page
from tilewater.documents.words import Words
from tilewater.tasks.renewing import (
    Renewed,
    memo_pdf,
    renew_job,
    renew_record,
    write_renewed,
)
from tools.package import ROOT

DAY = date(2031, 2, 1)
EXAMPLES = ROOT / "examples"


@cache
def built(day: date = DAY) -> Renewed:
    return renew_job(EXAMPLES / "corbel-built", day)


def page(renewed: Renewed, words: Words | None = None) -> str:
    console = Console(width=80, record=True, quiet=False)
    for part in renew_page(renewed.job.title, renewed.trace, words or Words()):
        console.print(part)
    return console.export_text()


@pytest.mark.works(of=(renew_job, renew_page, answer))
def test_the_page_says_what_is_left_with_its_band() -> None:
    told = page(built())
    assert "The bed takes its share of the peak for about" in told
    assert "P10 to P90" in told
    assert "New chips are not called for yet: 0 of 5 signs stand, 2 not known" in " ".join(
        told.split()
    )
    assert "Expected hydraulic life" in told
    assert "Aid is paid back where the practice is given up before." in told
    assert "design life" not in told
    assert "life 20" not in told
    assert "m3/s" not in told


@pytest.mark.works(of=(renew_page,))
def test_the_page_reads_in_metres_too() -> None:
    told = page(built(), Words("si"))
    assert "L/s" in told
    assert "a kilogram" in told
    assert " lb" not in told


@pytest.mark.works(of=(renew_record,))
def test_the_record_holds_both_clocks_signs_and_options() -> None:
    record = renew_record(built())
    json.dumps(record, allow_nan=False)
    assert record["carbon"]["clock_years"] > record["life_years"]["p90"]
    assert record["signs"]["treated"]["stands"] is None
    assert set(record["options"]) == {
        "renew-all", "renew-inlet-third", "leave", "convert", "abandon",
    }  # fmt: skip
    now, year_10 = record["capacity"]["now"], record["capacity"]["year-10"]
    assert now["with_readings"]["flow_m3_s"] > year_10["with_readings"]["flow_m3_s"]
    assert record["short"] is False


@pytest.mark.works(of=(renew_job, answer))
def test_a_bed_that_is_past_its_life_says_so_and_is_short() -> None:
    late = built(date(2055, 6, 1))
    assert late.short
    assert "most likely fell short of its share of the peak" in answer(late.trace, Words())


@pytest.mark.works(of=(answer,))
def test_without_the_day_of_filling_the_answer_says_what_to_write() -> None:
    bare = renew_job(EXAMPLES / "corbel-farm", DAY)
    assert answer(bare.trace, Words()) == (
        "What is left is not known for want of this: age of the chips. "
        "To know it: write filled under [renew] of the job."
    )
    assert not bare.short


@pytest.mark.works(of=(memo_pdf,))
def test_the_memo_carries_answer_options_and_cautions() -> None:
    paper = Paper(memo_pdf(built()))
    assert paper.length == 2
    assert "New chips in the inlet third" in paper.text
    assert "To open a bed is an excavation" in paper.text
    assert "common practice" in paper.text


@pytest.mark.works(of=(write_renewed,))
def test_a_hand_over_writes_the_archive_with_the_memo_in_it(tmp_path: Path) -> None:
    ignore = shutil.ignore_patterns("results", "issued")
    folder = Path(shutil.copytree(EXAMPLES / "corbel-built", tmp_path / "farm", ignore=ignore))
    renewed = renew_job(folder, DAY)
    assert write_renewed(renewed).files == ["renew.json", "renew.pdf"]
    written = write_renewed(renewed, archive=True)
    assert written.files == ["renew.json", "renew.pdf", "hand-over.zip"]
    assert written.troubles == []
    with zipfile.ZipFile(folder / "results" / "hand-over.zip") as archive:
        names = archive.namelist()
    assert any(name.endswith("job/job.toml") for name in names)
    assert any(name.endswith("results/renew.pdf") for name in names)


@pytest.mark.works(of=(renew,))
def test_the_command_says_what_is_no_day_and_what_has_no_chips(tmp_path: Path) -> None:
    runner = CliRunner()
    job = str(EXAMPLES / "corbel-built")
    wrong = runner.invoke(app, ["renew", job, "--on", "tomorrow", "--out", str(tmp_path)])
    assert isinstance(wrong.exception, BadInputFile)
    assert "'tomorrow' is no day. Write year-month-day, like 2031-02-01." in str(wrong.exception)
    buffer = runner.invoke(
        app, ["renew", str(EXAMPLES / "merridew-farm"), "--on", "2031-02-01", "--json"]
    )
    assert isinstance(buffer.exception, BadInputFile)
    assert "has nothing to renew" in str(buffer.exception)


@pytest.mark.works(of=(renew,))
def test_a_number_is_explained(tmp_path: Path) -> None:
    explained = CliRunner().invoke(
        app,
        [
            "renew",
            str(EXAMPLES / "corbel-built"),
            "--on",
            "2031-02-01",
            "--explain",
            "renew.observed.may-2029.conductivity_m_s",
        ],
    )
    assert explained.exit_code == 0
    assert "head loss" in explained.stdout
