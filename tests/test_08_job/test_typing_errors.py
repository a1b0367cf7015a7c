# SPDX-License-Identifier: Apache-2.0
"""What people mistype in a job file, and that the message shows the way back."""

from pathlib import Path

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.fields import Quantity, Setting, Wrong
from tilewater.job.reading import job_of_text

EXAMPLE = Path(__file__).parents[2] / "examples" / "corbel-farm"


def faults_of(old: str, new: str) -> str:
    text = (EXAMPLE / "job.toml").read_text(encoding="utf-8")
    assert old in text
    with pytest.raises(BadInputFile) as raised:
        job_of_text(text.replace(old, new, 1), EXAMPLE)
    return str(raised.value)


def line_of(words: str) -> int:
    text = (EXAMPLE / "job.toml").read_text(encoding="utf-8")
    return text[: text.index(words)].count("\n") + 1


@pytest.mark.works(of=job_of_text)
def test_misspelled_key_is_shown_with_the_missing_one() -> None:
    key, table = line_of("lateral_depth ="), line_of("[drainage]")
    assert faults_of("lateral_depth =", "lateral_dpeth =") == (
        f"job.toml line {table}: drainage.lateral_depth is missing: depth of the laterals. "
        f"Line {key} has 'lateral_dpeth'. "
        'Write lateral_depth = "4 ft", or lateral_depth = "unknown".'
    )


@pytest.mark.works(of=job_of_text)
def test_misspelled_table_is_shown_with_the_missing_one() -> None:
    message = faults_of("[drainage]", "[drianage]")
    assert message.startswith("job.toml: the table [drainage] is missing: ")
    assert f". Line {line_of('[drainage]')} has 'drianage'. Write [drainage] with " in message


@pytest.mark.works(of=job_of_text)
def test_key_that_stands_twice_is_named() -> None:
    line = line_of("lateral_depth =")
    assert faults_of("lateral_depth =", 'area = "60 acre"\nlateral_depth =') == (
        f"job.toml line {line}: area stands twice in [drainage]. Keep one."
    )
    assert faults_of("\n[job]", "\nformat = 1\n[job]") == (
        f"job.toml line {line_of('[job]')}: format stands twice above the first table. Keep one."
    )
    assert faults_of("[main]", "[drainage]") == (
        f"job.toml line {line_of('[main]')}: [drainage] stands twice. "
        "Keep one, with the lines of both below it."
    )


@pytest.mark.works(of=Quantity)
@pytest.mark.parametrize(
    ("typed", "write"),
    [("3 ft 6 in", "3.5"), ("3' 6\"", "3.5"), ("3'-4\"", "3.3333"), ("3 ft 6 3/4 in", "3.5625")],
)
def test_feet_and_inches_are_shown_in_feet(typed: str, write: str) -> None:
    depth = Quantity("Depth", kind="length", example="4 ft")
    with pytest.raises(Wrong) as raised:
        depth.read(typed, Setting())
    assert str(raised.value) == f"'{typed}' is in feet and inches. Write {write} ft."


@pytest.mark.works(of=Quantity)
def test_station_that_cannot_be_read_is_told_how_to_write_one() -> None:
    assert faults_of('"1+40"', '"1+4x"') == (
        f"job.toml line {line_of('station_diversion =')}: main.station_diversion: '1+4x' is not a "
        "station. A station is hundreds of feet, a plus and two digits. Write it like 1+40."
    )
