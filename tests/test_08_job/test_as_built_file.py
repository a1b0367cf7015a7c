# SPDX-License-Identifier: Apache-2.0
"""Shots of finished work as a file has them: noise, stations, faults in words of their table."""

from pathlib import Path
from typing import Any

import pytest

from tests.jobs import FOOT
from tilewater.basis.errors import BadInputFile
from tilewater.job.as_built_file import read_as_built

GRID = {"point": "P", "north": "N", "east": "E", "height": "Z", "note": "D", "rms": "R"}
HEAD = "P,N,E,Z,D,R\n"


def read(folder: Path, text: str, columns: dict[str, str], **more: Any) -> Any:
    """What a file of such columns holds."""
    (folder / "shots.csv").write_text(text, encoding="utf-8")
    values = {"shots": "shots.csv"} | more
    given: dict[str, Any] = {f"inputs.as_built.{key}": value for key, value in values.items()}
    given |= {f"inputs.as_built.columns.{key}": name for key, name in columns.items()}
    given |= {"inputs.site.foot": "us survey foot", "inputs.site.vertical_datum": "NAVD88"}
    return read_as_built(folder, given.get)


@pytest.mark.by_hand(of=(read_as_built,))
def test_shots_are_read_in_the_foot_of_the_grid_with_their_noise(tmp_path: Path) -> None:
    survey_foot = 1200 / 3937
    found = read(
        tmp_path, f"{HEAD}1,5000,7000,998.40,sill inlet,0.01\n2,5001,7001,998.5,rim,\n", GRID
    )
    first, second = found.shots
    assert first.height == pytest.approx(998.40 * survey_foot)
    assert first.place == pytest.approx((5000 * survey_foot, 7000 * survey_foot))
    assert first.noise == pytest.approx(0.01 * survey_foot)
    assert second.noise is None
    assert not found.by_station
    assert first.noise != pytest.approx(0.01 * FOOT, rel=1e-9)


@pytest.mark.works(of=(read_as_built,))
def test_a_book_names_stations_and_offsets(tmp_path: Path) -> None:
    columns = {"point": "P", "station": "S", "offset": "O", "height": "Z"}
    found = read(tmp_path, "P,S,O,Z\na,140,-2.5,998.4\n", columns)
    assert found.by_station
    assert found.shots[0].place == pytest.approx((140 * 1200 / 3937, -2.5 * 1200 / 3937))
    assert not [f for f in found.findings if f.code.startswith("north-east")]
    with pytest.raises(BadInputFile) as raised:
        read(tmp_path, "P,S,O,Z\na,140,-2.5,998.4\n", columns | {"station": "Sta"})
    (fault,) = raised.value.faults
    assert fault.where == "as_built.columns.station"
    assert "Correct station in [as_built.columns]" in fault.message


@pytest.mark.works(of=(read_as_built,))
def test_a_point_used_twice_keeps_both_shots_under_two_keys(tmp_path: Path) -> None:
    found = read(tmp_path, f"{HEAD}A 1,0,0,9,inv,\nA 1,3,0,9,inv,\n", GRID)
    assert [shot.key for shot in found.shots] == ["a-1", "a-1-line-3"]
    assert [f.subject for f in found.findings if f.code == "point-number-twice"] == [
        "as-built point A 1"
    ]


@pytest.mark.works(of=(read_as_built,))
@pytest.mark.parametrize("rms", ["good", "-0.01"])
def test_a_scatter_that_is_none_is_a_fault_with_its_line(tmp_path: Path, rms: str) -> None:
    with pytest.raises(BadInputFile, match=f"shots.csv line 2: rms '{rms}' is no scatter"):
        read(tmp_path, f"{HEAD}1,0,0,9,inv,{rms}\n", GRID)


@pytest.mark.works(of=(read_as_built,))
def test_without_a_file_nothing_is_read(tmp_path: Path) -> None:
    assert read_as_built(tmp_path, {}.get) is None
