# SPDX-License-Identifier: Apache-2.0
"""An engineer asks how much water drains: the verb water at the command line."""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from shutil import copytree, ignore_patterns

import pytest

from tests.jobs import FARM, farm_text_without
from tilewater.cli.main import run

pytestmark = pytest.mark.works(of=(run,))

Call = Callable[..., tuple[int, str, str]]


@pytest.fixture
def water(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Call:
    """The verb as a person calls it: exit code, result, notes."""

    def call(*words: str | Path) -> tuple[int, str, str]:
        monkeypatch.setenv("COLUMNS", "80")
        monkeypatch.setattr(sys, "argv", ["tilewater", "water", *map(str, words)])
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            run()
        printed = capsys.readouterr()
        return int(left.value.code or 0), printed.out, printed.err

    return call


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    folder = tmp_path / "corbel-farm"
    copytree(FARM, folder, ignore=ignore_patterns("results"))
    return folder


def test_the_page_begins_with_one_sentence_and_the_files_are_named(farm: Path, water: Call):
    code, page, notes = water(farm)
    assert code == 0
    assert page.splitlines()[2].startswith("The drains bring ")
    assert "\x1b" not in page + notes
    for name in ("drain-flow.csv", "drain-flow.svg", "drain-flow.pdf"):
        assert (farm / "results" / name).is_file()
        assert str(farm / "results" / name) in notes
    assert not (farm / "results" / "design.json").exists()


def test_json_is_the_result_alone(farm: Path, tmp_path: Path, water: Call):
    code, page, _ = water(farm, "--json", "--out", tmp_path / "out")
    record = json.loads(page)
    assert code == 0
    assert record["water"]["basis"] == "simulated"
    assert (tmp_path / "out" / "drain-flow.csv").is_file()
    assert not (farm / "results").exists()


def test_a_number_and_a_day_of_it_are_explained_and_nothing_is_written(farm: Path, water: Call):
    code, page, _ = water(farm, "--explain", "water.mean_annual_depth_m")
    assert (code, "D = 365.25 x 86400 x mean(q_i)" in page) == (0, True)
    code, page, _ = water(farm, "--explain", "water.flow_m3_s", "--day", "2011-05-03")
    assert code == 0
    assert "What drains in the 24 hours that follow" in page
    assert not (farm / "results").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--day", "2011-05-03"), "--day needs a number to explain."),
        (("--explain", "water.flow_m3_s", "--day", "May"), "Write it like 2011-05-03."),
        (("--explain", "water.flow_m3_s", "--day", "1931-05-03"), "is not in the weather."),
        (("--explain", "water.flwo_m3_s"), "Did you mean water.flow_m3_s?"),
    ],
)
def test_a_question_that_cannot_be_answered_is_at_fault(
    words: tuple[str, ...], said: str, farm: Path, water: Call
):
    code, page, notes = water(farm, *words)
    assert (code, page) == (2, "")
    assert said in notes


def test_a_limit_that_the_job_states_may_fall_short(farm: Path, water: Call):
    text = (farm / "job.toml").read_text(encoding="utf-8")
    text = text.replace('midway = "1.0 ft"\n', 'midway = "1.0 ft"\nwet_days = 1\n')
    (farm / "job.toml").write_text(text, encoding="utf-8")
    code, page, notes = water(farm)
    assert code == 1
    assert "! short" in page
    assert "too wet midway for more than" in " ".join(notes.split())


def test_a_job_without_weather_says_what_it_lacks(farm: Path, water: Call):
    (farm / "job.toml").write_text(farm_text_without("weather"), encoding="utf-8")
    code, page, _ = water(farm)
    assert code == 0
    assert "neither weather nor a record of daily drain flow is given" in " ".join(page.split())
    assert not (farm / "results").exists()
