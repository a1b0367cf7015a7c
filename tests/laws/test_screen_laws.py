# SPDX-License-Identifier: Apache-2.0
"""What must hold of any screening: what is not known is never taken for good."""

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.jobs import FARM, corbel_inputs, fitting_inputs
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain.inputs import JobInputs
from tilewater.chain.screen import Screen, screen_job
from tilewater.chain.screen_answers import CANNOT, answer_of
from tilewater.job.reading import read_job

BLANK = Unknown("nobody knows", "measure it")
FEW = settings(max_examples=12, deadline=None)


@cache
def job_of(name: str) -> JobInputs:
    """A job of which much is known, without its files; or one that could hold a bed."""
    if name == "fits":
        return fitting_inputs()
    job = read_job(FARM.parent / name)
    return JobInputs(job.name, job.givens, job.overrules, job.assumptions)


@cache
def screen_of(name: str) -> Screen:
    return screen_job(job_of(name))


def keys_of(name: str) -> list[str]:
    """Inputs that are known, less what nobody asks of a site."""
    return [
        given.key
        for given in job_of(name).givens
        if not is_unknown(given.value)
        and not given.key.startswith(("inputs.price.", "inputs.record."))
    ]


def statuses(screen: Screen) -> dict[tuple[str, str], str]:
    return {(row.practice, row.slug): row.status for a in screen.answers for row in a.rows}


@pytest.mark.law(of=(screen_job, answer_of))
@pytest.mark.parametrize("name", ["fits", "merridew-farm", "verling-farm"])
@FEW
@given(data=st.data())
def test_blanking_an_input_makes_no_answer_better(name, data):
    key = data.draw(st.sampled_from(keys_of(name)))
    before, after = screen_of(name), screen_job(job_of(name).changed({key: BLANK}))
    turned = statuses(after)
    for row, status in statuses(before).items():
        assert turned[row] in (status, "not known"), (key, row)
    for was, now in zip(before.answers, after.answers, strict=True):
        if now.could:
            assert was.could, key
        if was.answer == CANNOT and now.answer != CANNOT:
            assert now.open, key


@pytest.mark.law(of=(screen_job, answer_of))
@pytest.mark.parametrize("key", ["site.utilities", "people.easements", "bed.floor_inlet_m"])
def test_what_a_bed_rests_on_is_asked_for_when_it_is_blank(key):
    bed = screen_job(fitting_inputs().changed({f"inputs.{key}": BLANK})).answer("bed")
    assert not bed.could
    assert bed.open


@pytest.mark.law(of=(screen_job,))
def test_a_job_with_nothing_but_unknown_is_not_known():
    job = corbel_inputs()
    blank = job.changed({given.key: BLANK for given in job.givens})
    screen = screen_job(blank)
    assert {answer.answer for answer in screen.answers} == {"not known"}
    assert screen.measure
    assert not screen.nothing


@pytest.mark.law(of=(screen_job,))
@settings(max_examples=5, deadline=None)
@given(metres=st.floats(0.0, 2.5))
def test_a_higher_ditch_only_takes_head_away(metres):
    seasons = [f"inputs.season.{s}.ditch_stage_m" for s in ("winter", "spring", "summer", "autumn")]
    job = fitting_inputs()
    levels = {given.key: given.value for given in job.givens}
    raised = screen_job(job.changed({key: levels[key] + metres for key in seasons}))
    for name in ("floor_over_ditch_m", "outlet_over_ditch_m", "head_m"):
        before, after = (s.trace.value(f"screen.{name}") for s in (screen_of("fits"), raised))
        assert after == pytest.approx(before - metres)
