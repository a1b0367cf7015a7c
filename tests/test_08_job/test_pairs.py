# SPDX-License-Identifier: Apache-2.0
"""Lists of pairs: order is checked, a fault names the pair, the file and the line."""

import tomllib
from typing import Any

import pytest

from tests.jobs import FARM, farm_text_without
from tilewater.basis.errors import BadInputFile
from tilewater.job.pairs import Pairs
from tilewater.job.reading import job_of_text

FOOT = 0.3048
CFS = FOOT**3
TEXT = farm_text_without("ditch.section")
LINE = TEXT[: TEXT.index('stage = "season table"')].count("\n") + 2


def job_with(lines: str) -> Any:
    text = TEXT.replace('stage = "season table"\n', f'stage = "rule"\n{lines}\n', 1)
    tomllib.loads(text)
    return job_of_text(text, FARM)


def fault_of(lines: str) -> str:
    with pytest.raises(BadInputFile) as raised:
        job_with(lines)
    return str(raised.value)


@pytest.mark.works(of=(Pairs,))
def test_pairs_are_held_in_si() -> None:
    job = job_with('rule = [["0 cfs", "1179.4 ft"], ["0.9 cfs", "1181.2 ft"]]')
    low, high = job.file.ditch.rule
    assert low == pytest.approx((0.0, 1179.4 * FOOT))
    assert high == pytest.approx((0.9 * CFS, 1181.2 * FOOT))
    given = next(g for g in job.givens if g.key == "inputs.ditch.rule")
    assert given.origin.line == LINE
    assert given.origin.text == "0 cfs, 1179.4 ft, 0.9 cfs, 1181.2 ft"


@pytest.mark.works(of=(Pairs,))
@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ('"0 cfs"', "'0 cfs' is not a list of pairs. Write it like [["),
        (
            '[["0 cfs", "1179.4 ft"]]',
            "it has 1 pair. 2 at least are needed, like [[",
        ),
        (
            '[["0 cfs", "1179.4 ft"], ["1 cfs"]]',
            "pair 2 is '['1 cfs']'. A pair is drain flow and ditch level. Write the list like [[",
        ),
        (
            '[["0 cfs", "1179.4 ft"], ["1", "1181 ft"]]',
            "pair 2: '1' has no unit. Write 1 cfs or 28.3 L/s.",
        ),
        (
            '[["1 cfs", "1179.4 ft"], ["0.5 cfs", "1181 ft"]]',
            "pair 2 has 0.5 cfs after 1 cfs. Drain flow rises from pair to pair. "
            "List them in that order.",
        ),
        (
            '[["0 cfs", "1181.4 ft"], ["0.5 cfs", "1181 ft"]]',
            "pair 2 falls to 1181 ft from 1181.4 ft. Ditch level never falls while drain flow "
            "rises. Check the two readings.",
        ),
    ],
)
def test_a_fault_names_the_pair(typed: str, message: str) -> None:
    assert fault_of(f"rule = {typed}").startswith(f"job.toml line {LINE}: ditch.rule: {message}")


@pytest.mark.works(of=(Pairs,))
def test_a_section_may_have_an_upright_wall_but_not_go_back() -> None:
    wall = '[["0 ft", "1186 ft"], ["0 ft", "1179 ft"], ["9 ft", "1186 ft"]]'
    job = job_with(f"[ditch.section]\npoints = {wall}")
    assert len(job.file.ditch.section.points) == 3
    back = wall.replace('["0 ft", "1179 ft"]', '["12 ft", "1179 ft"]')
    assert fault_of(f"[ditch.section]\npoints = {back}").endswith(
        "ditch.section.points: pair 3 has 9 ft after 12 ft. Distance rises from pair to pair. "
        "List them in that order."
    )
