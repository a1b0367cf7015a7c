# SPDX-License-Identifier: Apache-2.0
"""A traverse of a job: its courses typed or in a file, how it closes, its points."""

import json
import shutil
from itertools import pairwise
from math import atan2, degrees, hypot
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typer.testing import CliRunner

from tests.digits import printed
from tests.pages import Console
from tilewater.basis.errors import BadInputFile
from tilewater.basis.trace import Given, Trace
from tilewater.chain.stake_traverse import (
    add_traverse,
    closed_traverse,
    grid_courses,
    traverse_findings,
    traverse_record,
    way_between,
)
from tilewater.cli.main import app
from tilewater.cli.stake_verb import stake
from tilewater.documents.pages.stake_page import stake_page
from tilewater.documents.words import Words
from tilewater.tasks.later_files import check_every_file
from tilewater.tasks.staking import stake_job
from tilewater.tasks.traversing import traverse_file
from tools.package import ROOT

LOOP = "leg,azimuth [deg],length [m]\nB,76,80.40\nC,144,46.30\nD,241,72.80\nA,322,68.00\n"
"""N 76 E 80.40, S 36 E 46.30, S 61 W 72.80, N 38 W 68.00, as the source lists them."""
ROUNDED = 0.002
"""The printed sums are of four courses rounded to three digits. [m]"""
COORDINATES = st.floats(-900.0, 900.0)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "examples" / "corbel-farm", tmp_path / "farm")
    return tmp_path / "farm"


def add(folder: Path, text: str, legs: str = "") -> Path:
    job = folder / "job.toml"
    job.write_text(f"{job.read_text(encoding='utf-8')}\n{text}\n", encoding="utf-8")
    if legs:
        (folder / "traverse.csv").write_text(legs, encoding="utf-8")
    return folder


@pytest.mark.published("compass-rule", "misclosure and corrections", of=(stake_job, add_traverse))
def test_a_traverse_of_a_file_is_adjusted_as_printed(folder: Path):
    """Printed: misclosure 0.285 north; B lies 19.3653 north and 78.1055 east of the beginning."""
    staked = stake_job(add(folder, '[traverse]\nfile = "traverse.csv"', LOOP))
    done = staked.traverse
    assert done is not None
    assert done.names == ("start", "B", "C", "D", "A")
    assert done.north_error == pytest.approx(0.285, abs=ROUNDED)
    assert abs(done.east_error) == pytest.approx(0.311, abs=ROUNDED)
    north, east = done.points[1]
    assert north == pytest.approx(19.3653, abs=ROUNDED)
    assert east == pytest.approx(78.1055, abs=ROUNDED)
    assert printed("267.50") == done.length


@pytest.mark.by_hand(of=(stake_job, traverse_findings))
def test_a_traverse_that_closes_too_poorly_is_told(folder: Path):
    """267.50 over hypot(0.285, 0.311) = 267.50 / 0.422 = 634; 5,000 is asked."""
    staked = stake_job(add(folder, '[traverse]\nfile = "traverse.csv"', LOOP))
    assert staked.traverse is not None
    assert staked.traverse.precision == pytest.approx(267.50 / hypot(0.285, 0.311), rel=0.01)
    assert not staked.traverse.closes
    told = [note.message for note in staked.own_notes if note.code == "traverse-misclosure"]
    assert told == [
        f"The traverse closes to 1 in {staked.traverse.precision:,.0f}; 1 in 5,000 is asked. "
        "Look for the course that is wrong before its points are used."
    ]
    assert staked.record["traverse"]["closes"] is False


@pytest.mark.works(of=(stake_job, stake_page))
def test_typed_courses_run_between_benchmarks(folder: Path):
    """From BM 1 to BM 2 as their shots lie, in one course: it closes and ends at BM 2."""
    points = {p.name: p for p in stake_job(folder).stakes.points}
    a, b = points["benchmark-bm-1"], points["benchmark-bm-2"]
    north, east = b.north - a.north, b.east - a.east
    leg = (
        '[traverse]\nstart = "bm-1"\nend = "bm-2"\n[leg.to-2]\n'
        f'azimuth = "{degrees(atan2(east, north))} deg"\nlength = "{hypot(north, east)} m"'
    )
    staked = stake_job(add(folder, leg))
    assert staked.traverse is not None
    assert staked.traverse.closes
    assert staked.traverse.points[1] == pytest.approx((b.north, b.east), abs=1e-6)
    console = Console(width=90, record=True, quiet=False)
    for part in stake_page("", staked.stakes, None, Words(), staked.traverse):
        console.print(part)
    shown = console.export_text()
    assert "from bm-1 to bm-2" in shown
    assert f"{b.north / 0.3048:.2f}" in shown


@pytest.mark.works(of=(traverse_findings,))
def test_an_end_without_a_place_and_a_traverse_that_closes_nothing_are_told(folder: Path):
    text = '[traverse]\nend = "bm-9"\n[leg.a]\nazimuth = "10 deg"\nlength = "50 ft"'
    codes = {note.code for note in stake_job(add(folder, text)).told}
    assert "traverse-end" in codes


@pytest.mark.works(of=(traverse_file, check_every_file))
def test_what_is_wrong_in_the_file_is_told_with_its_line(folder: Path):
    bad = "leg,azimuth [deg],length [m]\nB,76,80.40\nB,north,46.30\nC,12,0\n"
    add(folder, '[traverse]\nfile = "traverse.csv"', bad)
    with pytest.raises(BadInputFile) as caught:
        check_every_file(folder)
    told = [(fault.line, fault.where) for fault in caught.value.faults]
    assert told == [(3, "leg"), (4, "length")]
    with pytest.raises(BadInputFile):
        stake_job(folder)


@pytest.mark.works(of=(stake,))
def test_the_verb_shows_the_traverse_and_explains_it(folder: Path):
    add(folder, '[traverse]\nfile = "traverse.csv"\nstart = "bm-1"', LOOP)
    run = CliRunner()
    shown = run.invoke(app, ["stake", str(folder)])
    assert shown.exit_code == 0
    assert "closes to 1 in 635" in shown.stdout
    as_json = json.loads(run.invoke(app, ["stake", str(folder), "--json"]).stdout)
    assert as_json["traverse"]["points"][0]["name"] == "bm-1"
    why = run.invoke(app, ["stake", str(folder), "--explain", "traverse.misclosure_m"])
    assert "e_N" in why.stdout


@pytest.mark.law(of=(add_traverse, grid_courses, way_between, traverse_record))
@given(st.lists(st.tuples(COORDINATES, COORDINATES), min_size=3, max_size=6, unique=True))
def test_courses_measured_without_error_close_at_their_points(points):
    """Azimuths and lengths of a polygon give its corners back."""
    ring = [*points, points[0]]
    legs = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(ring)]
    if min(hypot(*leg) for leg in legs) < 1.0:
        return
    trace = Trace.start([])
    for number, (north, east) in enumerate(legs):
        here = f"inputs.leg.l{number}"
        turn = degrees(atan2(east, north))
        trace.give(Given(f"{here}.azimuth_deg", turn, "deg", "azimuth"))
        trace.give(Given(f"{here}.length_m", hypot(north, east), "m", "length"))
    trace.give(Given("inputs.traverse.least_precision", 5000.0, "-", "least"))
    add_traverse(trace)
    done = closed_traverse(trace)
    assert done is not None
    assert done.misclosure < 1e-9 * done.length + 1e-9
    for found, wanted in zip(done.points, ring, strict=True):
        moved = wanted[0] - ring[0][0], wanted[1] - ring[0][1]
        assert found == pytest.approx(moved, abs=1e-6)
    assert traverse_record(done)["closes"]
