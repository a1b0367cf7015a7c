# SPDX-License-Identifier: Apache-2.0
"""The days before and while a bed is built, through the command line."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from tests.desks import copy_of
from tilewater.cli.inspect_verb import inspect
from tilewater.cli.main import app

LOCATE = re.compile(r"\[locate\]\n(?:[^\[\n].*\n)*")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return copy_of("corbel-built", tmp_path, "job")


def look(folder: Path, part: str, day: str) -> tuple[int, dict[str, Any], str]:
    """Exit code, the part of the record, and what stands beside it."""
    done = CliRunner().invoke(app, ["inspect", str(folder), "--only", part, "--on", day, "--json"])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done.exit_code, json.loads(done.stdout)["parts"][part], done.stderr


@pytest.mark.works(of=(inspect,))
def test_nobody_digs_before_the_ticket_is_good(folder: Path):
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    file.write_text(LOCATE.sub("", text), encoding="utf-8")
    code, part, _ = look(folder, "gates", "2027-09-20")
    assert code == 1
    assert not part["gates"]["dig"]["open"]
    missing = [row["what"] for row in part["gates"]["dig"]["rows"] if row["state"] == "missing"]
    assert missing == ["locate ticket"]

    file.write_text(text, encoding="utf-8")
    for day, is_open in (("2027-09-06", False), ("2027-09-07", True), ("2027-10-16", False)):
        _, part, _ = look(folder, "gates", day)
        assert part["gates"]["dig"]["open"] is is_open, day
    assert part["locate"]["earliest"] == "2027-09-07 15:00"


@pytest.mark.works(of=(inspect,))
def test_a_load_of_nails_is_rejected_and_its_sheet_lies_in_the_results(folder: Path):
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    first = text.index('nails = "no"')
    file.write_text(text[:first] + 'nails = "yes"' + text[first + 12 :], encoding="utf-8")
    code, part, told = look(folder, "chips", "2027-10-01")
    assert code == 1
    assert part["loads"]["truck-4471"]["verdict"] == "reject"
    assert part["loads"]["truck-4471"]["reasons"] == [
        "nails, wire, plastic or pallet wood seen in the load: rejected whatever the sieves say"
    ]
    assert (folder / "results" / "chips-sheet.pdf").read_bytes().startswith(b"%PDF")
    assert "chips-sheet.pdf" in told


@pytest.mark.works(of=(inspect,))
def test_a_number_of_a_sieve_test_opens_to_its_equation(folder: Path):
    key = "chips.tests.truck-4471.d50_diameter_m"
    words = ["inspect", str(folder), "--only", "chips", "--on", "2027-10-01", "--explain", key]
    done = CliRunner().invoke(app, words)
    assert done.exit_code == 0
    assert "ln D = ln d_s" in done.stdout
    assert "chips.tests.truck-4471.passing" in done.stdout
    assert "sieve-arithmetic" in done.stdout
