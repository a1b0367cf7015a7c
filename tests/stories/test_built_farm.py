# SPDX-License-Identifier: Apache-2.0
"""The built farm is looked at: its inlet stands 0.06 ft high, and the lid card follows."""

import csv
import json
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner

from tests.jobs import FOOT, INCH
from tests.pdf import Paper
from tilewater.basis.told import in_units
from tilewater.basis.trace import Trace
from tilewater.chain.built_conforms import conformances
from tilewater.chain.built_lid import board_sets
from tilewater.chain.built_rerun import as_built_inputs, rerun
from tilewater.cli.inspect_verb import inspect
from tilewater.cli.main import app
from tilewater.documents.built.certificate import certificate
from tilewater.documents.pages.said import Block
from tilewater.documents.paper.blocks import Items
from tilewater.documents.words import Words
from tilewater.tasks.built_look import look_at_built
from tilewater.tasks.built_part import built_part
from tilewater.tasks.built_survey import survey_findings
from tilewater.tasks.checking import check_job
from tilewater.tasks.grade_part import grade_part
from tilewater.tasks.inspecting import Inspected, write_inspected
from tilewater.tasks.inspection import Inspection, Part
from tilewater.tasks.later_files import check_every_file
from tools.package import ROOT

FARM = ROOT / "examples" / "corbel-built"
DAY = date(2027, 10, 8)
OFF = "as-built-off-the-job"


@pytest.fixture(scope="module")
def inspection() -> Inspection:
    return Inspection(check_job(FARM), DAY, by_days=False)


@pytest.fixture(scope="module")
def built(inspection: Inspection) -> Part:
    part = built_part(inspection)
    assert part is not None
    return part


@pytest.fixture(scope="module")
def record(built: Part) -> dict:
    return built.record


@pytest.mark.by_hand(of=(rerun, board_sets))
def test_a_sill_six_hundredths_high_takes_the_crest_and_the_lid_card_along(record: dict) -> None:
    levels = {(row["part"], row["what"]): row for row in record["levels"]}
    sill = levels["inlet structure", "sill"]
    assert sill["off_m"] / FOOT == pytest.approx(1181.26 - 1181.20)
    assert sill["status"] == "short"
    inlet = next(row for row in record["boards"] if row["name"] == "inlet-design")
    assert inlet["after"]["stack_in"] == inlet["before"]["stack_in"] == [8, 8, 8, 8, 4]
    assert inlet["after"]["crest_m"] / FOOT == pytest.approx(1181.26 + 36 / 12)
    down = (1187.00 - 1184.26) * 12
    assert inlet["after"]["rim_down_in"] == pytest.approx(down)
    assert round(down, 1) == 32.9
    assert inlet["is_changed"]


@pytest.mark.by_hand(of=(conformances, built_part))
def test_the_inlet_conforms_with_effect_and_so_does_all(record: dict) -> None:
    words = {row["name"]: row["word"] for row in record["parts"]}
    assert words["inlet structure"] == "conforms with effect"
    assert words["outlet structure"] == words["bed"] == words["bypass"] == "conforms"
    assert record["in_all"] == "conforms with effect"
    assert record["newly_short"] == []
    stack = record["stacks"][0]
    assert stack["stack_in"] == [8, 8, 8, 6, 4]  # 34 in; 35.28 in would reach the designed crest
    assert stack["crest_m"] / FOOT == pytest.approx(1181.26 + 34 / 12)


@pytest.mark.works(of=(built_part, grade_part, survey_findings))
def test_levels_and_easts_exchanged_are_told_and_nothing_is_called_as_built(tmp_path: Path) -> None:
    folder = tmp_path / "exchanged"
    shutil.copytree(FARM, folder, ignore=shutil.ignore_patterns("results"))
    shots = folder / "survey" / "as-built.csv"
    text = shots.read_text(encoding="utf-8")
    heading = "Shot,North ft,East ft,Level ft"
    assert text.startswith(heading)
    exchanged = text.replace(heading, "Shot,North ft,Level ft,East ft", 1)
    shots.write_text(exchanged, encoding="utf-8")
    look = Inspection(check_job(folder), DAY, by_days=False)
    part = built_part(look)
    assert part is not None
    assert part.short
    assert {(row["word"], row["why"]) for row in part.record["parts"]} == {
        ("not known", "not shot")
    }
    notes = {note.code: note.message for note in part.notes}
    assert "as-built.csv, lines 2 to 62; shot 501 has 4843727.94 ft" in in_units(notes[OFF], "us")
    assert "likely exchanged" in notes[OFF]
    assert "Their codes are known" in notes["as-built-too-far"]
    assert "Correct the code" in notes["as-built-of-nothing"]
    blocks = {each.title: each for each in part.page(Words("us")) if isinstance(each, Block)}
    assert "The design run again" not in blocks
    assert "The design was not run again" in blocks
    assert blocks["Lid card"].note == "as designed: no sill was shot"
    grade = grade_part(look)
    assert grade is not None
    assert grade.short
    looked = look_at_built(look)
    assert looked is not None
    told = [each for each in certificate(looked.built, (), Words("us")) if isinstance(each, Items)]
    assert not any("against its tolerance" in item for each in told for item in each.items)
    assert any("inlet structure: not shot" in each.items for each in told)


@pytest.mark.works(of=(built_part, grade_part))
def test_shots_of_nothing_are_listed_with_the_reason(record: dict, inspection: Inspection) -> None:
    why = {row["point"]: row["why"] for row in record["unmatched"]}
    assert why == {
        "558": "it has no code",
        "559": "its code 'GATE STEM' is none that is known",
    }
    grade = grade_part(inspection)
    assert grade is not None
    pipes = grade.record["pipes"]
    assert not grade.short
    assert pipes["bypass"]["status"] == pipes["feed"]["status"] == "holds"
    used = sum(len(pipe["shots"]) for pipe in pipes.values())
    assert grade.record["shots"] == 60
    assert used + len(record["unmatched"]) < 60  # structures, bed and benchmarks have the rest


@pytest.mark.by_hand(of=(grade_part,))
def test_a_shot_on_top_of_the_feed_becomes_its_invert(inspection: Inspection) -> None:
    with (FARM / "survey" / "as-built.csv").open(encoding="utf-8") as file:
        rows = {row["Shot"]: row for row in csv.DictReader(file)}
    grade = grade_part(inspection)
    assert grade is not None
    for shot in grade.record["pipes"]["feed"]["shots"]:
        top = float(rows[shot["point"]]["Level ft"])
        assert shot["invert_m"] / FOOT == pytest.approx(top - 8 / 12 - 0.4 / 12)


@pytest.mark.works(of=(as_built_inputs, write_inspected))
def test_nothing_of_the_job_is_written(tmp_path: Path) -> None:
    job = tmp_path / "farm"
    shutil.copytree(FARM, job, ignore=shutil.ignore_patterns("results", "issued"))
    before = (job / "job.toml").read_bytes()
    looked = Inspection(check_job(job), DAY, by_days=False)
    part = built_part(looked)
    assert part is not None
    written = write_inspected(Inspected(looked, (part,)), tmp_path / "out")
    assert {"inspect.json", "as-built.csv", "as-built.pdf"} <= set(written.files)
    assert written.troubles == []
    assert (job / "job.toml").read_bytes() == before
    assert not (job / "results").exists()
    words = Paper((tmp_path / "out" / "as-built.pdf").read_bytes()).text
    for told in ("Certificate of completion, draft", "Not sealed", "32.9", "Red lines"):
        assert told in words
    table = (tmp_path / "out" / "as-built.csv").read_text(encoding="utf-8")
    assert "down from rim" in table
    assert "it has no code" in table


@pytest.mark.works(of=(built_part,))
def test_a_crest_over_the_highest_that_the_field_allows_does_not_conform(tmp_path: Path) -> None:
    job = tmp_path / "farm"
    shutil.copytree(FARM, job, ignore=shutil.ignore_patterns("results", "issued"))
    shots = job / "survey" / "as-built.csv"
    lines = shots.read_text(encoding="utf-8").splitlines()
    raised = [
        line.replace("1181.260", "1181.560") if line.endswith("SILL INLET,0.004,fixed") else line
        for line in lines
    ]
    assert raised != lines
    shots.write_text("\n".join(raised) + "\n", encoding="utf-8")
    part = built_part(Inspection(check_job(job), DAY, by_days=False))
    assert part is not None
    assert part.short
    assert part.record["in_all"] == "does not conform"
    words = {row["name"]: row["word"] for row in part.record["parts"]}
    assert words["inlet structure"] == "does not conform"
    assert words["bed"] == "conforms"
    keys = {row["key"] for row in part.record["newly_short"]}
    assert "elevations.inlet_crest" in keys


def farm_with(tmp_path: Path, change: Callable[[dict[str, str]], None]) -> Inspection:
    """The farm with its shots changed."""
    job = tmp_path / "farm"
    shutil.copytree(FARM, job, ignore=shutil.ignore_patterns("results", "issued"))
    path = job / "survey" / "as-built.csv"
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        change(row)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)
    return Inspection(check_job(job), DAY, by_days=False)


@pytest.mark.works(of=(grade_part, survey_findings))
def test_a_rover_that_scatters_is_told_so_and_calls_nothing_short(tmp_path: Path) -> None:
    def scatter(row: dict[str, str]) -> None:
        row["RMS ft"] = "0.04"

    part = grade_part(farm_with(tmp_path, scatter))
    assert part is not None
    assert not part.short
    told = [note for note in part.notes if note.code == "noise-over-half-tolerance"]
    assert "Use a level or a laser" in told[0].message
    assert "bypass" in told[0].subject
    assert part.record["pipes"]["bypass"]["status"] == "not known"


@pytest.mark.works(of=(grade_part, conformances))
def test_water_that_will_stand_does_not_conform(tmp_path: Path) -> None:
    def sag(row: dict[str, str]) -> None:
        if row["Shot"] == "506":  # 100 ft up the bypass
            row["Level ft"] = f"{float(row['Level ft']) - 0.15:.3f}"

    inspection = farm_with(tmp_path, sag)
    part = grade_part(inspection)
    assert part is not None
    assert part.short
    pipe = part.record["pipes"]["bypass"]
    assert pipe["standing_at_m"] / FOOT == pytest.approx(100, abs=0.1)
    assert 0.05 < pipe["standing_m"] / FOOT < 0.10
    assert "pipe-back-fall" in {note.code for note in part.notes}
    built = built_part(inspection)
    assert built is not None
    words = {row["name"]: (row["word"], row["why"]) for row in built.record["parts"]}
    assert words["bypass"] == ("does not conform", "water will stand in it")
    assert built.record["in_all"] == "does not conform"


@pytest.mark.works(of=(built_part, Trace))
def test_every_number_of_the_page_opens(built: Part) -> None:
    part = built
    keys = (
        "built.parts.inlet-structure.sill.off_m",
        "built.parts.bed.floor-worst-shot.status",
        "built.stack.inlet.crest_m",
        "built.paid.woodchips",
        "rerun.boards.inlet-design.rim_down_m",
        "rerun.capacity.criterion.flow_m3_s",
    )
    for key in keys:
        step = part.trace.steps[key]
        assert step.function
        assert all(source in part.trace for _, source in step.inputs)
    replaced = part.trace.steps["rerun.inputs.structure.inlet.sill_m"]
    assert dict(replaced.inputs)["value"] == "built.instead.structure.inlet.sill_m"


@pytest.mark.works(of=(inspect, check_every_file))
def test_the_command_line_shows_and_explains(tmp_path: Path) -> None:
    run = CliRunner().invoke
    out = str(tmp_path / "out")
    shown = run(app, ["inspect", str(FARM), "--only", "grade", "--out", out, "--json"])
    assert shown.exit_code == 0
    assert json.loads(shown.stdout)["parts"]["grade"]["pipes"]["return"]["status"] == "holds"
    explained = run(
        app, ["inspect", str(FARM), "--only", "grade", "--explain", "grade.feed.local_slope"]
    )
    assert explained.exit_code == 0
    assert "flattest reach" in explained.stdout.lower()
    files = check_every_file(FARM).files
    assert "as-built.csv: 60 shots of finished work" in files


@pytest.mark.by_hand(of=(built_part,))
def test_inches_on_the_card_are_inches(record: dict) -> None:
    outlet = next(row for row in record["boards"] if row["name"] == "outlet-design")
    crest, down = outlet["before"]["crest_m"], outlet["before"]["rim_down_in"]
    assert crest + down * INCH == pytest.approx(1187.00 * FOOT)
