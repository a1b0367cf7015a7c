# SPDX-License-Identifier: Apache-2.0
"""Auger logs: layers, mottles, water the next morning."""

from pathlib import Path

import pytest

from tests.digits import printed
from tilewater.basis.errors import BadInputFile
from tilewater.basis.units import from_si
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.job.borings import read_borings
from tools.package import ROOT

LOGS = ROOT / "examples" / "corbel-farm" / "borings.csv"
HEAD = "hole,ground [ft],from [ft],to [ft],texture,mottles,water next morning [ft]\n"


def write(tmp_path: Path, *rows: str, head: str = HEAD) -> Path:
    path = tmp_path / "borings.csv"
    path.write_text(head + "".join(f"{row}\n" for row in rows), encoding="utf-8")
    return path


def faults_of(path: Path) -> str:
    with pytest.raises(BadInputFile) as raised:
        read_borings(path)
    return str(raised.value)


@pytest.mark.by_hand(of=read_borings)
def test_depths_of_the_example_become_elevations() -> None:
    first, second = read_borings(LOGS).borings
    assert not isinstance(first.water, Unknown)
    assert printed("1180.47") == from_si(first.water, "ft")  # 1186.02 - 5.55
    assert first.mottles_from is not None
    assert printed("1182.22") == from_si(first.mottles_from, "ft")  # 1186.02 - 3.8
    assert printed("1176.14") == from_si(second.bottom, "ft")  # 1186.04 - 9.9
    assert [layer.texture for layer in second.layers if layer.is_water_bearing()] == ["sandy loam"]
    assert (first.station, first.offset) == pytest.approx((62 * 0.3048, 36 * 0.3048))


@pytest.mark.works(of=read_borings)
def test_findings_of_the_example() -> None:
    assert [finding.message for finding in read_borings(LOGS).findings] == [
        "In hole B-1 mottles begin at 1182.22 ft, above the water of that morning at 1180.47 ft. "
        "Water stands higher in a wet season.",
        "Hole B-2 has sandy loam from 1179.84 ft to 1179.44 ft. It carries water: hold it against "
        "the floor of the bed and against the bank.",
        "In hole B-2 mottles begin at 1182.24 ft, above the water of that morning at 1180.54 ft. "
        "Water stands higher in a wet season.",
    ]
    in_si = read_borings(LOGS).findings[0].in_units("si").message
    assert "mottles begin at 360.341 m, above" in in_si


@pytest.mark.works(of=read_borings)
def test_elevations_follow_the_foot_of_the_grid() -> None:
    (one, _), (other, _) = (
        read_borings(LOGS, foot=foot).borings for foot in ("international foot", "us survey foot")
    )
    assert other.ground / one.ground - 1 == pytest.approx(2e-6, rel=1e-3)


@pytest.mark.works(of=read_borings)
def test_dry_is_no_depth_and_not_looked_is_unknown(tmp_path: Path) -> None:
    path = write(
        tmp_path, "A,100,0,4,loam,none,dry", "B,100,0,4,loam,none,", "C,100,0,4,loam,none,unknown"
    )
    dry, blank, unknown = read_borings(path).borings
    assert dry.is_dry
    assert is_unknown(dry.water)
    assert blank.water == Unknown(
        "nobody looked into hole B the next morning",
        "look into the hole the morning after, or set a tube well",
    )
    assert not unknown.is_dry
    assert [f.message for f in read_borings(path).findings] == [
        f"Hole {hole} says nothing of water the next morning. Write its depth, or dry."
        for hole in "BC"
    ]


@pytest.mark.works(of=read_borings)
def test_gaps_in_a_log_are_reported(tmp_path: Path) -> None:
    path = write(tmp_path, "A,100,0.5,2,loam,none,dry", "A,,3,4,till,none,")
    assert [f.message for f in read_borings(path).findings] == [
        "The log of hole A says nothing between 100.00 ft and 99.50 ft. "
        "Look into the hole again, or add the layer.",
        "The log of hole A says nothing between 98.00 ft and 97.00 ft. "
        "Look into the hole again, or add the layer.",
    ]


@pytest.mark.works(of=read_borings)
def test_every_fault_of_a_log_is_named_at_once(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        "A,100,0,2,loam,none,9",
        "A,101,1,3,,none,",
        "A,,5,4,till,none,",
        ",,0,1,loam,none,",
        "B,high,0,1,loam,none,dry",
        "C,100,0,2,loam,none,9",
        "C,,1,3,till,none,",
    )
    assert faults_of(path) == (
        "borings.csv line 3: ground of hole A is '101' here and '100' on line 2. Write it once.\n"
        'borings.csv line 3: the layer has no texture. Write it, or "unknown".\n'
        "borings.csv line 4: the layer runs from 5 to 4. Depths count down from the ground, the "
        "smaller first. Correct one of them.\n"
        "borings.csv line 5: the row names no hole. Write it in each row.\n"
        "borings.csv line 6: ground: 'high' is not a number with a unit. "
        "Write it like 60 ft or 18.3 m.\n"
        "borings.csv line 7: water at 9 lies below the bottom of hole C. "
        "Write dry where no water was found.\n"
        "borings.csv line 8: this layer of hole C begins above the end of the one on line 7. "
        "Two layers cannot share a depth. Correct one of them."
    )


@pytest.mark.works(of=read_borings)
def test_depths_without_unit_are_refused(tmp_path: Path) -> None:
    path = write(tmp_path, "A,100 ft,0,2,loam,none,dry", head=HEAD.replace("to [ft]", "to"))
    assert faults_of(path) == ("borings.csv line 2: to: '2' has no unit. Write 2 ft or 0.61 m.")


@pytest.mark.works(of=read_borings)
def test_missing_columns_are_named(tmp_path: Path) -> None:
    path = write(tmp_path, "A,100", head="hole,grund [ft]\n")
    message = faults_of(path)
    assert message.splitlines()[0] == (
        "borings.csv line 1: there is no column 'ground'. The columns are hole, grund. "
        "Name it in the first row. Did you mean grund?"
    )
    assert len(message.splitlines()) == 6
    path.write_text(HEAD)
    assert faults_of(path) == (
        "borings.csv: it holds no row below the names of the columns. "
        "Add rows, or take it out of job.toml."
    )
    path.write_text("hole,hole,from [ft]\n1,2,3\n")
    assert "borings.csv line 1: two columns have the same name. Give each its own." in faults_of(
        path
    )
    rows = write(tmp_path, "A,100,0,2,loam,none,dry,wet, soft")
    assert faults_of(rows) == (
        "borings.csv line 2: the row has 9 cells for 7 columns. "
        "Put a text that holds a comma into double quotes."
    )
