# SPDX-License-Identifier: Apache-2.0
"""A job file asks for what its practice needs, and for no more."""

import re
from pathlib import Path

import pytest

from tilewater.basis.errors import BadInputFile
from tilewater.job.practices import kinds_of, stood_in_for, with_stand_ins
from tilewater.job.reading import job_of_text
from tilewater.job.words import Choices

FOLDER = Path(__file__).parents[2] / "examples" / "corbel-farm"
FARM = (FOLDER / "job.toml").read_text(encoding="utf-8")


def without(text: str, *tables: str) -> str:
    for table in tables:
        text = re.sub(rf"(?ms)^\[{re.escape(table)}\].*?(?=^\[)", "", text)
    return text


def of_kind(kind: str, text: str = FARM) -> str:
    return text.replace("[media]", f"[practice]\nkind = {kind}\n\n[media]", 1)


@pytest.mark.works(of=(with_stand_ins, stood_in_for, kinds_of))
def test_a_buffer_needs_no_tables_of_a_bed() -> None:
    text = without(of_kind('"buffer"'), "bed", "structure.outlet")
    job = job_of_text(text, FOLDER)
    keys = [given.key for given in job.givens]
    assert not [key for key in keys if key.startswith(("inputs.bed.", "inputs.structure.outlet."))]
    assert "inputs.media.conductivity_new_m_s" in keys, "what is there is kept"


@pytest.mark.works(of=(stood_in_for,))
@pytest.mark.parametrize("kind", ['"bed"', '["bed", "buffer"]', '"choose"'])
def test_a_bed_still_needs_them(kind: str) -> None:
    with pytest.raises(BadInputFile, match=r"the table \[bed\] is missing"):
        job_of_text(without(of_kind(kind), "bed"), FOLDER)


@pytest.mark.works(of=(Choices.read,))
@pytest.mark.parametrize(
    ("kind", "value"), [('"Buffer"', "buffer"), ('["bed", "buffer"]', ("bed", "buffer"))]
)
def test_kinds_are_a_word_or_a_list_in_flow_order(kind: str, value: object) -> None:
    job = job_of_text(of_kind(kind), FOLDER)
    assert [g.value for g in job.givens if g.key == "inputs.practice.kind"] == [value]


@pytest.mark.works(of=(Choices.read,))
@pytest.mark.parametrize(
    ("kind", "message"),
    [
        ('"wetland"', "not one of the choices"),
        ('["bed", "bed"]', "cannot follow each other"),
        ('["bed", "raised"]', "cannot follow each other"),
        ("[]", "an empty list"),
    ],
)
def test_what_is_no_practice_is_answered(kind: str, message: str) -> None:
    with pytest.raises(BadInputFile, match=message):
        job_of_text(of_kind(kind), FOLDER)
