# SPDX-License-Identifier: Apache-2.0
"""Points for the rover, hubs with cuts, a shift on site, the ground of a locate request."""

import csv
import json
import shutil
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from typer.testing import CliRunner

from tests.pages import Console
from tilewater.basis.errors import BadInputFile
from tilewater.chain.stake import add_stakes
from tilewater.chain.stake_parts import hub_of_line_end
from tilewater.chain.stake_shift import Shift, moved_inputs, shifted
from tilewater.cli.main import app
from tilewater.cli.stake_verb import stake
from tilewater.documents.pages.stake_page import stake_page
from tilewater.documents.words import Words
from tilewater.tasks.staking import (
    USUAL,
    Staked,
    keep_columns,
    locate_geojson,
    rover_columns,
    rover_text,
    stake_job,
    write_staked,
)
from tools.package import ROOT

FEET = 0.3048
HUB = "bed-lower-near"


@cache
def farm() -> Staked:
    return stake_job(ROOT / "examples" / "corbel-farm")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "examples" / "corbel-farm", tmp_path / "farm")
    return tmp_path / "farm"


def add(folder: Path, text: str) -> None:
    job = folder / "job.toml"
    job.write_text(f"{job.read_text(encoding='utf-8')}\n{text}\n", encoding="utf-8")


def page(staked: Staked) -> str:
    console = Console(width=80, record=True, quiet=False)
    for part in stake_page(staked.job.title, staked.stakes, staked.shifted, Words()):
        console.print(part)
    return console.export_text()


@pytest.mark.works(of=(stake_job,))
def test_every_corner_of_the_floor_and_every_pipe_end_has_its_grade():
    names = {point.name: point for point in farm().stakes.points}
    trace = farm().design.trace
    for corner in ("lower-near", "lower-far", "upper-far", "upper-near"):
        assert names[f"bed-floor-{corner}"].height == trace.value("bed.floor_inlet_m")
    assert names["pipe-feed-upper"].height == trace.value("inputs.main.invert_diversion_m")
    assert names["pipe-return-lower"].height == trace.value("inputs.bed.return_invert_m")
    laid = [p for p in trace.names("inputs.pipe") if f"inputs.pipe.{p}.points" in trace]
    staked = {name for name in names if name.startswith("pipe-")}
    assert len(staked) >= 2 * (len(laid) - 1)


@pytest.mark.law(of=(stake_job,))
def test_hubs_stand_outside_of_all_that_is_dug():
    cut = dict(farm().design.trace.steps)["plan.outlines.bed-cut"].value
    low, high = min(s for s, _ in cut), max(s for s, _ in cut)
    left, right = min(o for _, o in cut), max(o for _, o in cut)
    for hub in farm().stakes.hubs:
        inside = low < hub.station < high and left < hub.offset < right
        assert not inside, hub.name


@pytest.mark.by_hand(of=(stake_job,))
def test_a_hub_that_was_shot_gets_its_cut(folder: Path):
    """Hub at 1186.12 over a floor at 1180.70: a cut of 5.42 ft."""
    add(folder, f'[hub.{HUB}]\nheight = "1186.12 ft"\n\n[hub.nowhere]\nheight = "1186 ft"')
    staked = stake_job(folder)
    (hub,) = (hub for hub in staked.stakes.hubs if hub.name == HUB)
    assert hub.cut == pytest.approx(5.42 * FEET, abs=1e-6)
    assert "C 5.42" in page(staked)
    assert any(note.code == "stake-no-such-hub" for note in staked.notes)


@pytest.mark.works(of=(rover_text, rover_columns, keep_columns))
def test_columns_are_those_asked_and_are_remembered(folder: Path):
    staked = stake_job(folder)
    columns = rover_columns(staked, ("point", "east", "north"))
    first = next(csv.reader(rover_text(staked, columns).splitlines()))
    point = staked.stakes.points[0]
    assert first == [point.name, f"{point.east / FEET:.3f}", f"{point.north / FEET:.3f}"]
    keep_columns(staked, columns)
    again = stake_job(folder)
    assert rover_columns(again, ()) == columns
    assert rover_columns(farm(), ()) == USUAL
    with pytest.raises(BadInputFile, match="no column of a stake"):
        rover_columns(staked, ("point", "latitude"))


@pytest.mark.works(of=(rover_text,))
def test_heads_and_separator_are_those_of_the_rover(folder: Path):
    names = '["Pt", "N", "E", "Z", "Code"]'
    add(folder, f'[stake]\nseparator = "tab"\nheads = {names}')
    staked = stake_job(folder)
    lines = rover_text(staked, USUAL).splitlines()
    assert lines[0].split("\t") == ["Pt", "N", "E", "Z", "Code"]
    with pytest.raises(BadInputFile, match="Give one name for each"):
        rover_text(staked, USUAL[:3])


@pytest.mark.works(of=(rover_text,))
def test_the_file_is_in_the_foot_of_the_grid(folder: Path):
    job = folder / "job.toml"
    text = job.read_text(encoding="utf-8")
    feet = 'foot = "international foot"'
    assert feet in text
    job.write_text(text.replace(feet, 'foot = "us survey foot"'), encoding="utf-8")
    columns = ("point", "north", "east")
    for survey, usual in zip(
        csv.reader(rover_text(stake_job(folder), columns).splitlines()),
        csv.reader(rover_text(farm(), columns).splitlines()),
        strict=True,
    ):
        assert survey[0] == usual[0]
        for side in (1, 2):
            assert float(survey[side]) == pytest.approx(float(usual[side]), abs=0.002)


@pytest.mark.by_hand(of=(moved_inputs, shifted))
def test_an_invert_follows_the_grade_when_the_works_move_up():
    """0.25 ft in 140 ft is 0.179 percent: 4 ft up raises the invert by 0.007 ft."""
    done = stake_job(ROOT / "examples" / "corbel-farm", up="4 ft").shifted
    assert done is not None
    levels = {title: (before, after) for title, before, after in done.levels}
    before, after = levels["Invert of the main at the inlet structure"]
    assert (after - before) / FEET == pytest.approx(4 * 0.25 / 140, abs=1e-6)
    before, after = levels["Floor of the bed at its inlet"]
    assert before == after


@pytest.mark.works(of=(shifted,))
def test_the_technician_approves_only_what_is_small_and_harmless():
    small = stake_job(ROOT / "examples" / "corbel-farm", right="0.5 ft").shifted
    far = stake_job(ROOT / "examples" / "corbel-farm", right="3 ft").shifted
    assert small is not None
    assert far is not None
    assert small.may_approve == "technician"
    assert far.may_approve == "engineer"
    assert "more than the technician may move" in far.why


@pytest.mark.law(of=(moved_inputs,))
def test_a_shift_and_its_way_back_leave_the_job_as_it_was():
    inputs = farm().job.inputs
    there = moved_inputs(inputs, Shift(3.0, -2.0))
    back = moved_inputs(there, Shift(-3.0, 2.0))
    for before, after in zip(inputs.givens, back.givens, strict=True):
        if isinstance(before.value, float):
            assert after.value == pytest.approx(before.value, abs=1e-9)
    assert there != inputs


@pytest.mark.works(of=(write_staked, locate_geojson))
def test_the_ground_of_a_locate_request_is_written_where_the_point_is_known(folder: Path):
    written = write_staked(stake_job(folder), USUAL)
    assert "locate.kml" not in written.files
    assert any("latitude" in why for _, why in written.troubles)
    text = (folder / "job.toml").read_text(encoding="utf-8")
    line = 'azimuth = "68.50 deg"'
    assert line in text
    known = f'{line}\nlatitude = "42.9612 deg"\nlongitude = "-93.7925 deg"'
    (folder / "job.toml").write_text(text.replace(line, known), encoding="utf-8")
    staked = stake_job(folder)
    written = write_staked(staked, USUAL)
    assert {"locate.kml", "locate.geojson"} <= set(written.files)
    shape = json.loads((folder / "results" / "locate.geojson").read_text(encoding="utf-8"))
    ring = shape["features"][0]["geometry"]["coordinates"][0]
    assert ring[0] == ring[-1]
    doubled = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(ring))
    assert doubled > 0.0, "outer rings run counter-clockwise"
    kml = ElementTree.parse(folder / "results" / "locate.kml").getroot()
    found = kml.find(".//{http://www.opengis.net/kml/2.2}coordinates")
    assert found is not None
    assert len((found.text or "").split()) == 5


@pytest.mark.works(of=(stake,))
def test_the_verb_shows_writes_and_explains(folder: Path):
    run = CliRunner()
    shown = run.invoke(app, ["stake", str(folder)])
    assert shown.exit_code == 0
    assert "Tape checks" in shown.stdout
    assert "101.06 ft" in shown.stdout
    as_json = run.invoke(app, ["stake", str(folder), "--json"])
    record = json.loads(as_json.stdout)
    assert {"points", "hubs", "tapes"} <= set(record)
    key = "stake.hubs.bed-lower-near.north_m"
    why = run.invoke(app, ["stake", str(folder), "--explain", key])
    assert "sin a" in why.stdout


@pytest.mark.by_hand(of=(hub_of_line_end, add_stakes))
def test_a_line_has_a_hub_beyond_both_ends_and_a_tape_along_it():
    staked = stake_job(ROOT / "examples" / "merridew-farm")
    hubs = {hub.name: hub for hub in staked.stakes.hubs}
    # the line runs square to the main at 0+60, from 550.4 ft left to 550.4 ft right
    assert hubs["distribution-start"].offset == pytest.approx(-560.4 * FEET, abs=0.01)
    assert hubs["distribution-end"].offset == pytest.approx(560.4 * FEET, abs=0.01)
    assert hubs["distribution-end"].station == pytest.approx(60.0 * FEET, abs=0.01)
    (tape,) = (tape for tape in staked.stakes.tapes if tape.outline == "distribution")
    assert (tape.first, tape.second) == ("stake-1", "stake-24")
    assert tape.distance == pytest.approx(1100.8 * FEET, abs=0.01)
