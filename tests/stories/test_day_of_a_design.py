# SPDX-License-Identifier: Apache-2.0
"""An engineer asks what one day did in the bed: the verb design with a number and a day."""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from shutil import copytree, ignore_patterns

import pytest

from tests.jobs import FARM
from tilewater.cli.main import run

pytestmark = pytest.mark.works(of=(run,))

Call = Callable[..., tuple[int, str, str]]
ASKED = ("--explain", "removal.removed_kg.p50", "--day")


@pytest.fixture
def design(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Call:
    """The verb on a copy of Corbel Farm: exit code, result, notes."""
    farm = tmp_path / "corbel-farm"
    copytree(FARM, farm, ignore=ignore_patterns("results"))

    def call(*words: str) -> tuple[int, str, str]:
        monkeypatch.setenv("COLUMNS", "80")
        monkeypatch.setattr(sys, "argv", ["tilewater", "design", str(farm), *words])
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            run()
        assert not (farm / "results").exists()
        printed = capsys.readouterr()
        return int(left.value.code or 0), printed.out, printed.err

    return call


def test_the_day_is_worked_again_and_nothing_is_written(design: Call) -> None:
    code, page, _ = design(*ASKED, "2011-05-03")
    assert code == 0
    assert "What the day brings  2011-05-03" in page
    assert "compiled run has the same numbers for the day" in " ".join(page.split())
    assert "tilewater water JOB --explain water.flow_m3_s --day 2011-05-03" in page


def test_the_day_is_told_to_other_programs(design: Call) -> None:
    _, page, _ = design(*ASKED, "2011-05-03", "--json")
    record = json.loads(page)
    assert (record["day"], record["setting"]) == ("2011-05-03", "spring")
    assert record["same_as_run"]


def test_the_drain_flow_of_a_day_is_worked_again_here_too(design: Call) -> None:
    _, page, _ = design("--explain", "water.flow_m3_s", "--day", "2011-05-03")
    assert "What drains in the 24 hours that follow" in page


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((*ASKED, "2031-01-01"), "They run from 1996-01-01 to 2025-12-31. Choose a day within."),
        ((*ASKED, "May"), "Write it like 2011-05-03."),
        (("--day", "2011-05-03"), "Write --explain removal.removed_kg.p50 --day 2011-05-03."),
        (
            ("--explain", "bed.length_m", "--day", "2011-05-03"),
            "'bed.length_m' does not rest on days that were worked one by one.",
        ),
    ],
)
def test_a_day_that_cannot_be_worked_is_answered(
    words: tuple[str, ...], said: str, design: Call
) -> None:
    code, page, notes = design(*words)
    assert (code, page) == (2, "")
    assert said in notes
