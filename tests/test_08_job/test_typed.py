# SPDX-License-Identifier: Apache-2.0
"""What was typed into a job file is told by key, title and line; its data files by name."""

import pytest

from tests.jobs import FARM
from tilewater.chain.since_issued import Typed
from tilewater.job.typed import NamedFile, is_decision, named_files, typed_values

TEXT = """format = 1
[bed]
width_bottom = "30 ft"  # as staked
[spot.low-1]
ground = "1187.00 ft"
[overrule.ten]
key = "life.carbon_years"
value = "40 years"
by = "R. L."
"""


@pytest.mark.works(of=(typed_values, is_decision))
def test_values_have_their_key_title_and_line() -> None:
    values = {typed.key: typed for typed in typed_values(TEXT)}
    assert (
        Typed("bed.width_bottom", "Width of the bottom", "30 ft", "job.toml", 3)
        == (values["bed.width_bottom"])
    )
    assert values["spot.low-1.ground"].title.endswith(", low-1")
    ten = values["overrule.ten"]
    assert ("Overrule ten", "life.carbon_years; 40 years; R. L.", 6) == (
        ten.title,
        ten.text,
        ten.line,
    )
    assert [key for key in values if is_decision(key)] == ["overrule.ten"]


@pytest.mark.works(of=(named_files,))
def test_named_files_are_those_of_the_example() -> None:
    text = (FARM / "job.toml").read_text(encoding="utf-8")
    assert ["survey/shots.csv", "borings.csv", "weather.csv", "nitrate.csv", "prices.csv"] == [
        file.name for file in named_files(text)
    ]


@pytest.mark.works(of=(named_files,))
def test_file_that_is_not_known_is_none() -> None:
    assert named_files('[survey]\nshots = "Unknown"\n') == ()
    (file,) = named_files('\ufeff[survey]\nshots = "../shots.csv"\n')
    assert file == NamedFile("survey.shots", "File of shots", "../shots.csv")
