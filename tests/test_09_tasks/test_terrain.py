# SPDX-License-Identifier: Apache-2.0
"""The terrain of a job: read in its units, held against the shots, drawn by its contours."""

from pathlib import Path

import pytest

from tests.desks import copy_of, desk_of, edit
from tilewater.basis.errors import BadInputFile
from tilewater.desk.pages.plan import terrain as terrain_page
from tilewater.job.reading import read_job
from tilewater.job.terrain import read_terrain
from tilewater.tasks.checking import check_job
from tilewater.tasks.later_files import check_every_file
from tilewater.tasks.terrain import lie_of, shots_of, terrain_files
from tools.sites.corbel_terrain import terrain_text

HEAD = "ncols 3\nnrows 2\nxllcorner 10\nyllcorner 20\ncellsize 2\nNODATA_value -9999\n"


def grid(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "terrain.asc"
    path.write_text(text)
    return path


@pytest.fixture
def built(tmp_path: Path) -> Path:
    return copy_of("corbel-built", tmp_path)


@pytest.mark.by_hand(of=(read_terrain,))
def test_the_first_row_lies_in_the_north_and_corners_are_half_a_cell_off(tmp_path: Path) -> None:
    path = grid(tmp_path, HEAD + "1 2 3\n4 -9999 6\n")
    terrain = read_terrain(path, height_unit=1.0, grid_unit=1.0)
    assert (terrain.east, terrain.north, terrain.cell) == (11.0, 21.0, 2.0)
    assert terrain.heights[1].tolist() == [1.0, 2.0, 3.0]
    assert terrain.heights[0, 0] == 4.0
    assert terrain.heights[0, 1] != terrain.heights[0, 1]


@pytest.mark.works(of=(read_terrain,))
@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "its head has no ncols"),
        (HEAD.replace("xllcorner", "xll"), "xllcorner and yllcorner"),
        (HEAD + "1 2 3\n", "1 rows of heights where its head says 2"),
        (HEAD + "1 2 3\n4 5\n", "line 8: the row has 2 heights"),
        (HEAD + "1 2 3\n4 five 6\n", "line 8: a height is not a number"),
        (HEAD.replace("cellsize 2", "cellsize two") + "1 2 3\n4 5 6\n", "'two' is not a number"),
        (HEAD.replace("ncols 3", "ncols 1") + "1\n2\n", "two of each at least"),
        (HEAD.replace("ncols 3", "ncols 9000000") + "1\n2\n", "6,000,000 cells at most"),
        (HEAD + "-9999 -9999 -9999\n-9999 -9999 -9999\n", "it holds no height"),
    ],
)
def test_what_is_no_grid_says_where_and_what_to_do(tmp_path: Path, text: str, says: str) -> None:
    with pytest.raises(BadInputFile, match=says):
        read_terrain(grid(tmp_path, text), height_unit=1.0, grid_unit=1.0)


@pytest.mark.works(of=(lie_of, shots_of))
def test_heights_in_metres_are_asked_for_and_never_taken_for_a_cliff(built: Path) -> None:
    shots = shots_of({given.key: given.value for given in check_job(built).inputs.givens})
    lie = lie_of(read_job(built), shots)
    assert lie is not None
    assert lie.against is not None
    assert abs(lie.against.median) < 0.1
    edit(built, 'heights = "m"\n', "")
    with pytest.raises(BadInputFile, match="appears to be in m"):
        lie_of(read_job(built), shots)


@pytest.mark.works(of=(lie_of,))
def test_a_terrain_elsewhere_is_told(built: Path) -> None:
    shots = shots_of({given.key: given.value for given in check_job(built).inputs.givens})
    far = tuple(tuple(value + 1e5 for value in column) for column in shots[:2])
    lie = lie_of(read_job(built), (*far, shots[2]))  # type: ignore[arg-type]
    assert lie is not None
    assert [finding.code for finding in lie.findings] == ["terrain-elsewhere"]


@pytest.mark.works(of=(terrain_files, check_every_file))
def test_check_reads_it_and_tells_its_faults(built: Path) -> None:
    assert any("66 by 76 heights" in line for line in check_every_file(built).files)
    (built / "terrain.asc").write_text("1 2 3")
    with pytest.raises(BadInputFile, match="its head has no ncols"):
        check_every_file(built)


@pytest.mark.works(of=(terrain_page,))
def test_the_plan_gets_its_contours(built: Path) -> None:
    with desk_of(built.parent) as desk:
        record = desk.get("/job/corbel-built/plan/terrain.json").json()
        page = desk.get("/job/corbel-built/plan").text
    heights = {f["properties"]["label"] for f in record["features"]} - {""}
    assert record["interval"] == "0.50 ft"
    assert {"1185.00", "1187.50"} <= heights
    assert "half within" in page


@pytest.mark.works(of=(terrain_text,))
def test_the_example_is_what_its_tool_makes() -> None:
    from tools.package import ROOT

    assert (ROOT / "examples/corbel-built/terrain.asc").read_text() == terrain_text()
