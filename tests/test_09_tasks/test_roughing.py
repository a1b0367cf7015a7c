# SPDX-License-Identifier: Apache-2.0
"""The rough answer as it is said, printed, explained and turned into a job."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from tilewater.basis.errors import UnitMismatch
from tilewater.basis.unknown import Unknown
from tilewater.cli.main import app
from tilewater.cli.verbs import show_rough
from tilewater.documents.pages.rough_page import rough_page
from tilewater.tasks.checking import check_job
from tilewater.tasks.roughing import ask_of, rough_of, rough_record, start_from_rough

FOOT = 0.3048
SAID = {
    "area": "62 acre",
    "main": "10 in",
    "grade": "0.18 %",
    "ditch": "1.35 ft",
    "strip": "190 x 82 ft",
    "nitrate": "14.2 mg/L",
}


@pytest.mark.works(of=(ask_of,))
@pytest.mark.parametrize(
    ("strip", "feet"),
    [
        ("190 x 82 ft", (190, 82)),
        ("190 ft by 82 ft", (190, 82)),
        ("190 ft × 10 m", (190, 10 / FOOT)),
        ("1,900 x 82 ft", (1900, 82)),
    ],
)
def test_strips_are_read_as_people_say_them(strip: str, feet: tuple[float, float]) -> None:
    ask = ask_of(SAID | {"strip": strip})
    assert (ask.strip_length, ask.strip_width) == pytest.approx([f * FOOT for f in feet])


@pytest.mark.works(of=(ask_of,))
def test_grade_two_levels_and_ditch_water_over_the_pipe() -> None:
    said = {k: v for k, v in SAID.items() if k != "grade"}
    ask = ask_of(said | {"levels": "1180.95 ft, 1181.20 ft, 140 ft", "ditch": "0.5 ft over"})
    assert ask.slope == pytest.approx(0.25 / 140)
    assert ask.ditch_below == pytest.approx(-0.5 * FOOT)
    assert ask_of(SAID | {"ditch": "1.35 ft below"}).ditch_below == pytest.approx(1.35 * FOOT)
    assert isinstance(ask_of(SAID | {"nitrate": "unknown"}).nitrate_mg_per_l, Unknown)


@pytest.mark.works(of=(ask_of, rough_of))
@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"area": ""}, "Without --area"),
        ({"area": "62"}, "--area: '62' has no unit"),
        ({"main": "-10 in"}, "--main is -10 in"),
        ({"grade": "0 %"}, "no fall"),
        ({"levels": "1 ft, 2 ft, 3 ft"}, "Give one of them"),
        ({"strip": "190 ft"}, "not two lengths"),
        ({"strip": "0 x 82 ft"}, "no ground"),
        ({"nitrate": "-1 mg/L"}, "below zero"),
        ({"grade": "", "levels": "1180 ft, 1181 ft"}, "not three lengths"),
    ],
)
def test_what_cannot_be_read_is_answered_in_words(wrong: dict[str, str], message: str) -> None:
    with pytest.raises(UnitMismatch, match=message):
        rough_of(SAID | wrong)


@pytest.mark.works(of=(start_from_rough,))
def test_one_more_word_makes_a_job_folder(tmp_path: Path) -> None:
    folder = tmp_path / "new job"
    start_from_rough(SAID, folder)
    job = check_job(folder)
    assert job.value("inputs.drainage.area_m2") == pytest.approx(62 * 4046.8564224)
    assert job.value("inputs.main.slope") == pytest.approx(0.0018)
    assert job.value("inputs.nitrate.mean_mg_per_l") == pytest.approx(14.2)


@pytest.mark.works(of=(rough_record, rough_page, show_rough))
def test_the_verb_prints_one_page_a_record_and_a_reason(tmp_path: Path) -> None:
    words = [f"--{name}={value}" for name, value in SAID.items()]
    runner = CliRunner()
    page = runner.invoke(app, ["rough", *words])
    assert page.exit_code == 0
    assert "For the telephone only" in page.output
    assert len(page.output.splitlines()) < 66, "one page"
    record = json.loads(runner.invoke(app, ["rough", *words, "--json"]).output)
    assert record["bed"]["chips_m3"]["p10"] < record["bed"]["chips_m3"]["p90"]
    assert [len(record["stops"]), len(record["shots"])] == [3, 5]
    why = runner.invoke(app, ["rough", *words, "--explain", "rough.all.main_full_m3_s"])
    assert "manning" in why.output.lower()
    begun = runner.invoke(app, ["rough", *words, "--begin", str(tmp_path / "begun")])
    assert (tmp_path / "begun" / "job.toml").exists()
    assert "Written" in begun.output
