# SPDX-License-Identifier: Apache-2.0
"""An engineer at the command line: start, check, design, edit, compare, ask for a source."""

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from shutil import copyfile
from typing import Any

import pytest

from tests.jobs import farm_text_without
from tilewater.cli.main import run
from tilewater.tasks import papers
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-farm"
QUICK = {"numba", "scipy", "polars", "pandas", "fastapi", "shapely", "pyproj", "matplotlib"}

pytestmark = pytest.mark.works(of=(run,))


@dataclass(frozen=True)
class Done:
    """What a command left: its exit code and what it printed."""

    returncode: int
    stdout: str
    stderr: str


Command = Callable[..., Done]


@pytest.fixture
def tilewater(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Command:
    """The program as a person calls it, without a new process for each call."""

    def call(*words: str | Path, width: int = 80) -> Done:
        monkeypatch.setenv("COLUMNS", str(width))
        monkeypatch.setattr(sys, "argv", ["tilewater", *map(str, words)])
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            run()
        printed = capsys.readouterr()
        return Done(int(left.value.code or 0), printed.out, printed.err)

    return call


@pytest.fixture(autouse=True)
def few_papers(monkeypatch: pytest.MonkeyPatch) -> None:
    """The long section in the place of all papers, which take their time and have own tests."""
    whole = papers.papers_of
    name = "long-section.svg"

    def only_one(*of: Any) -> papers.Papers:
        return {name: whole(*of)[name]}

    monkeypatch.setattr(papers, "papers_of", only_one)


@pytest.fixture
def farm(tmp_path: Path, tilewater: Command) -> Path:
    folder = tmp_path / "corbel-farm"
    done = tilewater("start", folder, "--example", "corbel-farm")
    assert done.returncode == 0, done.stderr
    # One answer without thirty years of days is quick; the days have stories of their own.
    (folder / "job.toml").write_text(farm_text_without("weather"), encoding="utf-8")
    return folder


@pytest.fixture
def farm_by_days(farm: Path) -> Path:
    copyfile(FARM / "job.toml", farm / "job.toml")
    return farm


def edit(folder: Path, old: str, new: str) -> None:
    file = folder / "job.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def test_version(tilewater: Command) -> None:
    done = tilewater("--version")
    assert (0, "tilewater 0.1.0\n", "") == (done.returncode, done.stdout, done.stderr)


def test_python_runs_the_package_as_the_program() -> None:
    words = [sys.executable, "-m", "tilewater", "--version"]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert done.stdout == "tilewater 0.1.0\n"


def test_template_is_a_job_that_can_be_checked_and_designed(
    tmp_path: Path, tilewater: Command
) -> None:
    printed = tilewater("start", "--template")
    (tmp_path / "job.toml").write_text(printed.stdout, encoding="utf-8")
    assert tilewater("check", tmp_path).returncode == 0
    done = tilewater("design", tmp_path)
    assert done.returncode == 0, done.stderr
    assert "Not known" in done.stdout.splitlines()[2]


def test_started_job_knows_that_it_knows_nothing(tmp_path: Path, tilewater: Command) -> None:
    assert tilewater("start", tmp_path / "new").returncode == 0
    done = tilewater("check", tmp_path / "new")
    assert done.returncode == 0
    assert "Not known yet" in done.stdout


def test_start_takes_a_few_answers(tmp_path: Path, tilewater: Command) -> None:
    answers = ("--answer", 'main.diameter="8 in"', "--answer", "drainage.area=40 acre")

    done = tilewater("start", tmp_path / "new", *answers)

    text = (tmp_path / "new" / "job.toml").read_text(encoding="utf-8")
    assert done.returncode == 0
    assert 'diameter = "8 in"' in text
    assert 'area = "40 acre"' in text


def test_start_says_how_an_answer_is_written(tmp_path: Path, tilewater: Command) -> None:
    done = tilewater("start", tmp_path / "new", "--answer", "main.diameter")

    assert done.returncode == 2
    assert done.stderr == (
        "--answer 'main.diameter' has no '='. Write it like --answer main.diameter=\"10 in\".\n"
    )


def test_start_never_overwrites(farm: Path, tilewater: Command) -> None:
    before = (farm / "job.toml").read_bytes()
    for words in (("start", farm), ("start", farm, "--example", "corbel-farm")):
        done = tilewater(*words)
        assert (2, "") == (done.returncode, done.stdout)
        assert "Nothing was written. Choose another folder." in done.stderr
    assert before == (farm / "job.toml").read_bytes()


def test_start_without_a_folder_says_what_to_write(tilewater: Command) -> None:
    done = tilewater("start")
    assert (2, "start needs a folder. Write tilewater start my-job.\n") == (
        done.returncode,
        done.stderr,
    )


def test_check_says_what_was_read_and_keeps_findings_apart(farm: Path, tilewater: Command) -> None:
    done = tilewater("check", farm)
    assert done.returncode == 0
    assert "No faults." in done.stdout
    assert "15 nitrate samples" in done.stdout
    assert "2 shots have no fixed position" in done.stderr
    assert "fixed position" not in done.stdout


def test_every_fault_is_a_line_and_no_traceback(farm: Path, tilewater: Command) -> None:
    edit(farm, '"62 acre"', '"62"')
    edit(farm, 'media_depth = "3.5 ft"', 'media_depth = "3.5 gallons"')
    for verb in ("check", "design"):
        done = tilewater(verb, farm)
        assert (2, "") == (done.returncode, done.stdout)
        first, second = done.stderr.splitlines()
        assert first.startswith("job.toml line 50: drainage.area: '62' has no unit. Write 62 acre")
        assert second.startswith("job.toml line ")
        assert "gallons" in second


def test_folder_without_a_job_is_the_input_at_fault(tmp_path: Path, tilewater: Command) -> None:
    done = tilewater("design", tmp_path / "nowhere")
    assert done.returncode == 2
    assert "Name a job folder, or make one with tilewater start." in done.stderr
    assert "Traceback" not in done.stderr


def test_design_begins_with_the_verdict_and_what_binds(farm: Path, tilewater: Command) -> None:
    done = tilewater("design", farm, width=200)
    assert done.returncode == 0
    title, _, verdict, binds, more = done.stdout.splitlines()[:5]
    assert title.strip() == "Corbel Farm, outlet at the north ditch"
    assert verdict == "Fits with open items  1 rule not known, 4 open items"
    assert (
        "Tightest: share of the peak flow that the bed takes: "
        "16.4 % where at least 15.0 % is asked, 1.4 % to spare"
    ) == " ".join(f"{binds} {more}".split())
    assert "Written to " in done.stderr
    assert (farm / "results" / "design.json").is_file()


def test_design_by_days_gives_the_range_of_draws(farm_by_days: Path, tilewater: Command) -> None:
    done = tilewater("design", farm_by_days, width=200)
    assert done.returncode == 0
    assert "a year of 30 simulated years, P10 to P90 of 1024 draws" in done.stdout
    assert "of the draws keep the rule" in done.stdout
    page = " ".join(done.stdout.split())
    assert "Of 1,024 draws of chips and kinetics keep it: share of peak " in page
    for rule in ("share of annual flow", "ten year day", "life"):
        assert f", {rule} " in page
    assert "Counted on simulated days." in page


def test_design_draws_the_long_section_and_says_where(farm: Path, tilewater: Command) -> None:
    done = tilewater("design", farm, width=200)
    drawn = farm / "results" / "long-section.svg"
    where, files = done.stderr.splitlines()[-2:]
    assert where == f"Written to {drawn.parent}:"
    assert "long-section.svg" in files
    assert "1184.20" in drawn.read_text(encoding="utf-8")
    tilewater("design", farm, "--units", "si")
    assert "360.944" in drawn.read_text(encoding="utf-8")


@pytest.mark.parametrize("width", [80, 120])
def test_page_keeps_its_width_and_has_no_escapes(
    farm: Path, width: int, tilewater: Command
) -> None:
    done = tilewater("design", farm, width=width)
    assert max(map(len, done.stdout.splitlines())) <= width
    assert "\x1b" not in done.stdout + done.stderr
    for head in ("Water", "Bed", "Boards", "Elevations", "Field", "Criteria", "Removal", "Life"):
        assert any(line.startswith(head) for line in done.stdout.splitlines()), head
    assert "8 + 8 + 8 + 8 + 4 in" in done.stdout


def test_json_is_the_result_alone(farm: Path, tilewater: Command) -> None:
    done = tilewater("design", farm, "--json")
    record = json.loads(done.stdout)
    assert record["verdict"] == "fits with open items"
    assert record["job"] == "corbel-farm"
    assert json.loads((farm / "results" / "design.json").read_text(encoding="utf-8")) == record
    assert "Utilities" in done.stderr


def test_units_change_the_page_and_not_the_json(farm: Path, tilewater: Command) -> None:
    assert "360.944 m" in tilewater("design", farm, "--units", "si").stdout
    first = tilewater("design", farm, "--json").stdout
    assert first == tilewater("design", farm, "--json", "--units", "si").stdout


def test_bed_that_is_too_short_falls_short_and_says_so(farm: Path, tilewater: Command) -> None:
    assert tilewater("design", farm).returncode == 0
    earlier = farm / "results" / "design.json"
    kept = farm.parent / "earlier.json"
    kept.write_bytes(earlier.read_bytes())
    edit(farm, 'width_bottom = "30 ft"', 'width_bottom = "12 ft"')
    done = tilewater("design", farm, "--compare-with", kept, width=200)
    assert done.returncode == 1
    assert "Does not fit" in done.stdout
    assert "\nShort: " in done.stdout
    assert " is asked, " in done.stdout
    assert "! short" in done.stdout
    assert "fits with open items, now: does not fit" in done.stdout
    assert (farm / "results" / "design-before.json").read_bytes() == kept.read_bytes()


def test_out_names_another_folder(farm: Path, tmp_path: Path, tilewater: Command) -> None:
    out = tmp_path / "elsewhere"
    assert tilewater("design", farm, "--out", out).returncode == 0
    assert (out / "design.json").is_file()
    assert (out / "long-section.svg").is_file()
    assert not (farm / "results").exists()


def test_explain_follows_a_number_and_writes_nothing(farm: Path, tilewater: Command) -> None:
    done = tilewater("design", farm, "--explain", "capacity.criterion.flow_m3_s")
    assert done.returncode == 0
    assert "0.152 cfs" in done.stdout
    assert "boards.inlet-design.crest_m" in done.stdout
    assert not (farm / "results").exists()
    wrong = tilewater("design", farm, "--explain", "capacity.criterion.flwo_m3_s")
    assert wrong.returncode == 2
    assert "Did you mean capacity.criterion.flow_m3_s?" in wrong.stderr


def test_a_process_of_its_own_ends_without_a_traceback(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", "from tilewater.cli.main import run; run()", "check", tmp_path],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (2, "") == (done.returncode, done.stdout)
    assert "Traceback" not in done.stderr
    assert done.stderr.startswith("job.toml: there is no job.toml in ")


def test_explain_answers_other_programs_too(farm: Path, tilewater: Command) -> None:
    done = tilewater("design", farm, "--explain", "bed.media_volume_m3", "--json")
    (found,) = json.loads(done.stdout)
    assert found["key"] == "bed.media_volume_m3"
    assert found["equation"]


@pytest.mark.parametrize("words", [("--version",), ("check", FARM)])
def test_no_verb_loads_a_heavy_library(words: tuple[str | Path, ...]) -> None:
    code = (
        "import sys\nfrom tilewater.cli.main import run\ntry:\n    run()\nfinally:\n"
        "    print(*{m.partition('.')[0] for m in sys.modules}, file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *map(str, words)], capture_output=True, text=True, check=True
    )
    assert not QUICK & set(done.stderr.splitlines()[-1].split())


def test_comparison_names_rules_that_turned_by_their_titles(
    farm: Path, tmp_path: Path, tilewater: Command
) -> None:
    earlier = tmp_path / "earlier.json"
    earlier.write_text(tilewater("design", farm, "--json").stdout, encoding="utf-8")
    edit(farm, 'width_bottom = "30 ft"', 'width_bottom = "12 ft"')
    page = tilewater("design", farm, "--compare-with", earlier, width=110).stdout
    lines = [" ".join(line.split()) for line in page.partition("Since then")[2].splitlines()]
    assert "Width of the floor 30.00 ft 12.00 ft" in lines
    assert "Share of the peak flow that the bed takes holds short" in lines


def test_comparison_with_itself_finds_nothing(
    farm: Path, tmp_path: Path, tilewater: Command
) -> None:
    earlier = tmp_path / "earlier.json"
    earlier.write_text(tilewater("design", farm, "--json").stdout, encoding="utf-8")
    page = tilewater("design", farm, "--compare-with", earlier).stdout.partition("Since then")[2]
    assert "fits with open items, as before" in page
    assert "Nothing else changed." in page


def test_many_open_items_follow_the_design(tmp_path: Path, tilewater: Command) -> None:
    tilewater("start", tmp_path / "new")
    page = tilewater("design", tmp_path / "new").stdout
    assert "Nothing could be judged, so nothing binds." in page
    assert "Not known  the capacity cannot be judged yet; 1" in page
    assert "not known by not known" not in page
    assert "not known on not known" not in page
    assert page.index("\nCriteria") < page.index("\nOpen items")
    assert "No price for woodchips, topsoil" in page


def test_check_explains_an_input_without_a_design(farm: Path, tilewater: Command) -> None:
    done = tilewater("check", farm, "--explain", "main.diameter_m")
    assert done.returncode == 0
    assert '"10 in"' in done.stdout
    assert "254 mm" in done.stdout


def test_help_says_what_the_exit_codes_mean(tilewater: Command) -> None:
    page = " ".join(tilewater("--help").stdout.split())
    assert "Exit 0: done. 1: a requirement falls short. 2: the input is at fault." in page


def test_page_in_a_pipe_ends_no_line_with_blanks(farm: Path, tilewater: Command) -> None:
    done = tilewater("design", farm)
    lines = done.stdout.splitlines() + done.stderr.splitlines()
    assert [] == [line for line in lines if line != line.rstrip()]


def test_decisions_of_people_print_who_when_and_why(farm: Path, tilewater: Command) -> None:
    who = 'by = "R. Lindqvist"\ndate = "2026-03-02"\n'
    edit(farm, 'ground = "1187.00 ft"', 'ground = "unknown"')
    with (farm / "job.toml").open("a", encoding="utf-8") as file:
        file.write(f'\n[confirm.time]\nrow = "retention"\nedition = "2020"\n{who}')
        file.write(f'\n[assume.low]\nkey = "spot.low-1.ground"\nvalue = "1187 ft"\n{who}')
        file.write('reason = "hand level"\n')
    page = " ".join(tilewater("design", farm).stdout.split())
    assert "R. Lindqvist, 2026-03-02: hand level" in page
    assert "confirmed: Retention time at the flow of the criterion line, by R. Lindqvist" in page
    assert "sizes go in whole feet" not in page


def test_other_units_say_in_what_sizes_go(farm: Path, tilewater: Command) -> None:
    assert "sizes go in whole feet" in tilewater("design", farm, "--units", "si").stdout


def test_comparison_tells_seasons_of_a_rule_together_and_no_bare_key(
    farm: Path, tmp_path: Path, tilewater: Command
) -> None:
    earlier = tmp_path / "earlier.json"
    earlier.write_text(tilewater("design", farm, "--json").stdout, encoding="utf-8")
    edit(farm, 'inlet_boards = "36 in"', 'inlet_boards = "40 in"')
    edit(farm, 'outlet_boards = "10 in"', 'outlet_boards = "6 in"')
    with (farm / "job.toml").open("a", encoding="utf-8") as file:
        file.write('\n[overrule.ten]\nkey = "life.carbon_years"\nvalue = "40 years"\n')
        file.write('by = "R. L."\ndate = "2026-03-02"\nreason = "old chips"\n')
    page = tilewater("design", farm, "--compare-with", earlier, width=110).stdout
    lines = [" ".join(line.split()) for line in page.partition("Since then")[2].splitlines()]
    crest = "Crest of the inlet boards under the highest crest that the field allows"
    (turned, moved) = (line for line in lines if line.startswith(crest[:40]))
    assert turned.endswith(" holds short")
    assert moved.endswith(" 0.11 ft -0.22 ft")
    measure = "Measure down from the rim to the inlet boards, winter, spring, summer setting"
    assert f"{measure} 33.6 in 29.6 in" in lines
    assert [] == [line for line in lines if "_" in line or "overrules" in line]
    assert [] == [line for line in lines if line.startswith("elevations")]


def test_comparison_speaks_of_money_for_a_pound_and_of_rates(
    farm: Path, tmp_path: Path, tilewater: Command
) -> None:
    earlier = tmp_path / "earlier.json"
    earlier.write_text(tilewater("design", farm, "--json").stdout, encoding="utf-8")
    edit(farm, 'width_bottom = "30 ft"', 'width_bottom = "12 ft"')
    page = tilewater("design", farm, "--compare-with", earlier, width=110).stdout
    (line,) = [x for x in page.splitlines() if "Cost of a pound removed, low rate" in x]
    assert line.count("/lb") == 2
    assert ", p10" not in page.partition("Since then")[2]
