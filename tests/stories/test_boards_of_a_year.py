# SPDX-License-Identifier: Apache-2.0
"""The owner of the built farm runs his boards: the card, a date that moves, the log beside it."""

import json
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from tests.desks import EXAMPLES, copy_of, edit
from tilewater.chain.design import design_practice
from tilewater.chain.operate import add_operation
from tilewater.chain.operate_told import operation_findings
from tilewater.chain.practices import PRACTICES
from tilewater.cli.main import app
from tilewater.cli.operate_verb import operate
from tilewater.tasks.checking import job_inputs
from tilewater.tasks.operating import operate_job

BUILT = "corbel-built"
KNOTS = 0.002
"""What the knots of two tables may move a sum."""


def run(*words: str) -> Any:
    return CliRunner().invoke(app, ["operate", *words])


def record_of(job: Path, out: Path, *more: str) -> dict[str, Any]:
    done = run(str(job), "--json", "--out", str(out), "--on", "2029-05-25", *more)
    assert 0 == done.exit_code, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def boards_of(record: dict[str, Any]) -> dict[str, list[Any]]:
    """Boards by the day on which they are set."""
    return {
        each["from"]: [(board["set"], board["stack_in"]) for board in each["boards"]]
        for each in record["periods"]
    }


@pytest.mark.slow
@pytest.mark.works(of=(operate, operate_job, add_operation))
def test_a_year_of_boards_and_a_planting_ten_days_later(tmp_path: Path):
    job = copy_of(BUILT, tmp_path)
    first = record_of(job, tmp_path / "first")
    assert ["04-17", "05-15", "09-11", "11-13"] == [each["from"] for each in first["periods"]]
    rows = {row["name"]: row for row in first["rows"]}
    # free drainage in field work costs nitrate, and what is not kept is said
    assert "field work" in rows["set-once"]["short"]
    assert [] == rows[first["chosen"]]["short"]
    assert rows[first["chosen"]]["gain_kg"]["p50"] < 0.0
    assert all(wet["usual_run_days"] <= wet["limit_days"] for wet in rows[first["chosen"]]["wet"])
    # the log of May 2029 has 28 in on the sill that stands, the card of that sill asks for others
    assert ["inlet"] == first["now"]["differing"]

    edit(job, 'planting = "05-01"', 'planting = "05-11"')
    edit(job, 'planting_ends = "05-14"', 'planting_ends = "05-24"')
    later = record_of(job, tmp_path / "later")
    assert ["04-27", "05-25", "09-11", "11-13"] == [each["from"] for each in later["periods"]]
    hangs = {each["from"]: each["rests_on"] for each in later["periods"]}
    assert all("planting" in " ".join(hangs[day]) for day in ("04-27", "05-25"))
    assert not any("planting" in " ".join(hangs[day]) for day in ("09-11", "11-13"))
    same = ("09-11", "11-13")
    assert [boards_of(first)[day] for day in same] == [boards_of(later)[day] for day in same]

    explained = run(str(job), "--explain", f"operate.row.{later['chosen']}.removed_kg.p50")
    assert 0 == explained.exit_code
    assert "Nitrate nitrogen taken out in a year" in " ".join(explained.stdout.split())


@pytest.mark.works(of=(operate,))
def test_a_day_that_is_none_is_at_fault():
    done = run("examples/corbel-built", "--on", "yesterday")
    assert done.exit_code != 0


@pytest.mark.slow
@pytest.mark.works(of=(add_operation,))
@pytest.mark.parametrize("kind", ["buffer", "raised"])
def test_a_buffer_and_a_raised_outlet_are_searched_too(kind: str):
    inputs = job_inputs(EXAMPLES / "merridew-farm")[0]
    trace = design_practice(inputs, PRACTICES[kind]).trace
    operation = add_operation(trace, kind)
    assert operation.is_searched
    assert ("set-once", "seasons", "out") == tuple(row.name for row in operation.rows)[-3:]
    removed = {
        row.name: trace.value(f"operate.row.{row.name}.mean_removed_kg.p50")
        for row in operation.rows
    }
    assert 0.0 == pytest.approx(removed["out"], abs=1e-9)
    assert max(removed.values()) == pytest.approx(removed[operation.chosen], rel=0.05)
    # the boards of the design take out what the design says, days and draws being the same
    if kind == "buffer":
        told = trace.value("operate.row.seasons.mean_removed_kg.p50")
        assert told == pytest.approx(trace.value("days.long_run_removed_kg.p50"))


@pytest.mark.slow
@pytest.mark.works(of=(add_operation,))
def test_the_seasons_of_a_bed_take_out_what_its_design_says():
    trace = design_practice(job_inputs(EXAMPLES / "corbel-farm")[0], PRACTICES["bed"]).trace
    operation = add_operation(trace, "bed")
    told = trace.value("operate.row.seasons.mean_removed_kg.p50")
    # a table for other settings has its knots elsewhere, which moves the sums a little
    assert told == pytest.approx(trace.value("days.long_run_removed_kg.p50"), rel=KNOTS)
    assert "set-once" == operation.chosen  # setting once is as good, and it is said
    worth = next(f for f in operation_findings(trace, operation) if f.code == "boards-worth")
    assert worth.message.startswith("Setting the boards once is as good: in a mean year ")
