# SPDX-License-Identifier: Apache-2.0
"""Point files in any order of columns; foot and datum stated; nothing dropped in silence."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import BadInputFile
from tilewater.basis.units import Foot, from_si
from tilewater.job.points import PointFile, read_points
from tilewater.job.shots import FEET, Shot, duplicates, exchanged, set_aside, strays
from tools.package import ROOT
from tools.sites.corbel_farm import site

SHOTS = ROOT / "examples" / "corbel-farm" / "survey" / "shots.csv"
CREW = {
    "point": "pt",
    "north": "north_ft",
    "east": "east_ft",
    "height": "height_ft",
    "note": "note",
    "fix": "position",
}
NUMBERED = {"point": "1", "north": "2", "east": "3", "height": "4", "note": "5"}
MILLIONTH_OF_A_FOOT = 1e-6  # 64-bit numbers hold seven million feet to a billionth


def read(path: Path, columns: Mapping[str, str] | None = None, **more: Any) -> PointFile:
    stated = {"foot": "international foot", "vertical_datum": "NAVD88"} | more
    return read_points(path, NUMBERED if columns is None else columns, **stated)


def faults_of(path: Path, columns: Mapping[str, str] | None = None, **more: Any) -> str:
    with pytest.raises(BadInputFile) as raised:
        read(path, columns, **more)
    return str(raised.value)


@pytest.fixture
def points(tmp_path: Path) -> Path:
    return tmp_path / "points.csv"


@pytest.mark.works(of=read_points)
def test_example_is_read_by_the_names_of_its_columns() -> None:
    file = read(SHOTS, CREW)
    (stub,) = file.noted("metal stub")
    north, east = site.grid(0.0, 0.0)
    assert abs(from_si(stub.north, "ft") - north) < 0.1
    assert abs(from_si(stub.east, "ft") - east) < 0.1
    assert printed("1180.9") == from_si(stub.height, "ft")
    assert [shot.fix for shot in file.set_aside] == ["float", "float"]
    assert [finding.message for finding in file.findings] == [
        "2 shots have no fixed position and are not used: 112 (float), 113 (float). "
        "Shoot them again, or change drop_fix in [survey].",
        "Point 131 stands on lines 32 and 67, 139.47 ft apart. All are kept. "
        "Give each its own number.",
    ]
    assert len(file.named("131")) == 2


@pytest.mark.works(of=read_points)
@pytest.mark.parametrize(
    "text",
    [
        "1,3813100.25,4843520.5,1186.0,ground by, and over, the main\n",
        "1\t3813100.25\t4843520.5\t1186.0\tground by, and over, the main\n",
        "1 3813100.25 4843520.5 1186.0 ground by, and over, the main\n",
        "\ufeff# rover\n\n1;3813100.25;4843520.5;1186.0;ground by, and over, the main\n",
        'P,N,E,Z,D\n1,3813100.25,4843520.5,1186.0,"ground by, and over, the main"\n',
    ],
    ids=["comma", "tab", "space", "semicolon", "header"],
)
def test_any_separator_with_or_without_header(points: Path, text: str) -> None:
    points.write_text(text, encoding="utf-8")
    (shot,) = read(points).shots
    assert shot.note == "ground by, and over, the main"
    assert [from_si(v, "ft") for v in (shot.north, shot.east, shot.height)] == pytest.approx(
        [3813100.25, 4843520.5, 1186.0], abs=MILLIONTH_OF_A_FOOT
    )


@pytest.mark.works(of=read_points)
def test_note_ends_where_another_column_follows(points: Path) -> None:
    points.write_text("P,N,E,Z,D,time\n1,10.5,20.5,30,ground,12:04\n")
    assert read(points).shots[0].note == "ground"


@pytest.mark.works(of=read_points)
def test_columns_not_named_are_asked_for_with_the_first_rows(points: Path) -> None:
    points.write_text("1,3813100.25,4843520.50,1186.01,ground\n2,3813100.30,4843520.40,1186.02,\n")
    assert faults_of(points, {}) == (
        "points.csv: it is not said which column holds point, north, east and height. The file "
        "begins, line 1: 1 | 3813100.25 | 4843520.50 | 1186.01 | ground; "
        "line 2: 2 | 3813100.30 | 4843520.40 | 1186.02 | . Name the columns in [survey.columns] of "
        'job.toml by header or by number, like height = "2".'
    )
    assert faults_of(points, {"point": "1", "height": "4", "east": "3"}).startswith(
        "points.csv: it is not said which column holds north. The file begins, line 1:"
    )


@pytest.mark.works(of=read_points)
def test_wrong_names_and_numbers_are_answered_together(points: Path) -> None:
    points.write_text("Pt,Northing,Easting,Height\n1,10,20,30\n")
    columns = {"point": "Pt", "north": "Nothing", "east": "Easting", "height": "7"}
    assert faults_of(points, columns) == (
        "points.csv line 1: no single column is called 'Nothing'. Its first row is: "
        "Pt | Northing | Easting | Height. Correct north in [survey.columns] of job.toml. "
        "Did you mean Northing?\n"
        "points.csv line 1: there is no column 7; the first row has 4. "
        "Correct height in [survey.columns] of job.toml."
    )


@pytest.mark.works(of=read_points)
def test_every_bad_row_is_named_at_once(points: Path) -> None:
    points.write_text('1,10,20,30\n2,"3,813,100",20,30\n,10,20,30\n4,10,nan\n')
    assert faults_of(points) == (
        "points.csv line 2: north '3,813,100' is not a number. "
        "Write digits, with a point for decimals and nothing between thousands.\n"
        "points.csv line 3: the point has no number. Give it one.\n"
        "points.csv line 4: east 'nan' is not a number. "
        "Write digits, with a point for decimals and nothing between thousands.\n"
        "points.csv line 4: height '' is not a number. "
        "Write digits, with a point for decimals and nothing between thousands."
    )


@pytest.mark.by_hand(of=read_points)
def test_foot_and_datum_are_never_assumed() -> None:
    """3,813,100 ft x 2 / 1,000,000 = 7.63 ft; 4,843,520 ft x 2 / 1,000,000 = 9.69 ft."""
    assert faults_of(SHOTS, CREW, foot=None, vertical_datum=None) == (
        "job.toml: the foot of the grid is not stated. "
        'Write foot = "international foot" or "us survey foot". '
        "Read in the wrong one, shots.csv would lie 7.63 ft off in north and 9.69 ft off in east.\n"
        "job.toml: the vertical datum is not stated. "
        "Write vertical_datum, the datum of the benchmark that the crew checked into."
    )


@pytest.mark.works(of=read_points)
def test_file_that_holds_nothing_or_no_text_is_answered(points: Path) -> None:
    assert faults_of(points) == (
        "points.csv: it cannot be read. "
        "Put the file into the job folder, or correct its name in job.toml."
    )
    points.write_text("# only a comment\n\n")
    assert faults_of(points) == "points.csv: it holds no point. Export it again."
    points.write_bytes(b"1,10,20,30,68.5\xb0\n")
    assert faults_of(points) == (
        "points.csv: it is not UTF-8 text. Export it again as CSV in UTF-8."
    )


@pytest.mark.law(of=read_points)
@given(
    north=st.floats(-2e7, 2e7),
    east=st.floats(-2e7, 2e7),
    height=st.floats(-1000, 15000),
    foot=st.sampled_from(list(FEET)),
)
def test_coordinates_come_back_in_their_own_foot(
    tmp_path_factory: pytest.TempPathFactory, north: float, east: float, height: float, foot: Foot
) -> None:
    path = tmp_path_factory.getbasetemp() / "points.csv"
    path.write_text(f"1,{north!r},{east!r},{height!r},\n")
    (shot,) = read(path, foot=foot).shots
    back = [from_si(value, FEET[foot]) for value in (shot.north, shot.east, shot.height)]
    assert back == pytest.approx([north, east, height], abs=MILLIONTH_OF_A_FOOT, rel=0)


@pytest.mark.law(of=read_points)
@given(north=st.floats(1e5, 2e7))
def test_the_two_feet_differ_by_two_parts_in_a_million(
    tmp_path_factory: pytest.TempPathFactory, north: float
) -> None:
    path = tmp_path_factory.getbasetemp() / "points.csv"
    path.write_text(f"1,{north!r},0,0,\n")
    (one,) = read(path, foot="international foot").shots
    (other,) = read(path, foot="us survey foot").shots
    # 1200/3937 over 0.3048 is 1 + 2/999,998 by the two definitions
    assert other.north / one.north - 1 == pytest.approx(2 / 999_998, rel=1e-6)


@pytest.mark.works(of=(read_points, exchanged))
def test_exchanged_columns_are_noticed(points: Path) -> None:
    turned = CREW | {"north": "east_ft", "east": "north_ft"}
    last = read(SHOTS, turned).findings[-1]
    assert last.code == "north-east-exchanged"
    assert last.message == (
        "The column read as north is headed 'east_ft', the one read as east 'north_ft'. "
        "North and east look exchanged. Check north and east in [survey.columns]."
    )
    points.write_text("1,4843520.0,3813100.0,1186.0\n")
    known = (3813000 * 0.3048, 4843500 * 0.3048)
    (found,) = read(points, near=known).findings
    assert found.message == (
        "The points lie 444 km from the known point as read, and 0.0 km with north and east "
        "exchanged. North and east look exchanged. Check north and east in [survey.columns]."
    )
    assert read(points, near=(known[1], known[0])).findings == ()
    (found,) = read(points).findings
    assert (found.severity, found.message) == (
        "note",
        "Nothing here tells north from east: the file has no header and no known point was given. "
        "Compare one point with the control sheet.",
    )


@pytest.mark.works(of=(strays, duplicates, set_aside))
def test_what_looks_wrong_among_shots_is_reported() -> None:
    def shot(point: str, north: float, line: int, fix: str = "") -> Shot:
        return Shot(point, north, 0.0, 0.0, "", fix, line)

    good = (shot("1", 0.0, 1), shot("2", 30.48, 2), shot("3", 15.0, 3))
    assert list(strays(good)) == list(duplicates(good, "international foot")) == []
    (far,) = strays((*good, shot("4", 60_000.0, 4)))
    assert far.message == (
        "Point 4 on line 4 lies 60 km from the middle of the others. "
        "Check its coordinates, or take it out of the file."
    )
    (twice,) = duplicates((good[0], shot("1", 30.48, 9)), "international foot")
    assert twice.message == (
        "Point 1 stands on lines 1 and 9, 100.00 ft apart. All are kept. Give each its own number."
    )
    (aside,) = set_aside((shot("7", 0.0, 7, "Float"),))
    assert aside.message == (
        "1 shot has no fixed position and is not used: 7 (Float). "
        "Shoot it again, or change drop_fix in [survey]."
    )
