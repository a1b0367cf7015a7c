# SPDX-License-Identifier: Apache-2.0
"""An answer begins with one of a few words; what does not answer leaves the question open."""

import pytest

from tests.jobs import FARM, corbel_inputs
from tilewater.basis.errors import BadInputFile
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import design_bed
from tilewater.job.reading import job_of_text
from tilewater.job.words import Answer

TEXT = (FARM / "job.toml").read_text(encoding="utf-8")
TYPED = 'consent_upstream = "not needed, the pool ends below the line"'


def consent(words: str) -> object:
    assert TYPED in TEXT
    job = job_of_text(TEXT.replace(TYPED, f"consent_upstream = {words}"), FARM)
    return next(g.value for g in job.givens if g.key == "inputs.main.consent_upstream")


@pytest.mark.works(of=(Answer,))
@pytest.mark.parametrize(
    ("typed", "held"),
    [
        ("given", "given"),
        ("Given, letter of 2026-04-11", "given, letter of 2026-04-11"),
        ("yes: letter of 2026-04-11", "given, letter of 2026-04-11"),
        ("YES", "given"),
        ("no", "refused"),
        ("refused, E. Strand by telephone", "refused, E. Strand by telephone"),
        ("not needed while the pool ends below", "not needed, while the pool ends below"),
    ],
)
def test_an_answer_is_held_by_its_word(typed: str, held: str) -> None:
    assert held == consent(f'"{typed}"')


@pytest.mark.works(of=(Answer,))
@pytest.mark.parametrize("typed", ["letter of 2026-04-11", "yesterday he said so", "nobody asked"])
def test_words_that_do_not_answer_leave_the_question_open(typed: str) -> None:
    found = consent(f'"{typed}"')
    assert isinstance(found, Unknown)
    assert f"'{typed}' does not begin with given, refused or not needed" == found.why
    assert "write given, refused or not needed first, then what you have of it" == found.measure


@pytest.mark.works(of=(Answer,))
def test_a_number_is_no_answer() -> None:
    with pytest.raises(BadInputFile, match=r"Write given, refused or not needed first\."):
        consent("12")


@pytest.mark.law(of=(design_bed,))
def test_only_consent_that_is_given_lets_the_pool_pass_the_line() -> None:
    rules = {}
    for word in ("given, letter of 2026-04-11", "refused", "not needed", "yes"):
        changes = {"main.property_line_station_m": 300.0, "main.consent_upstream": word}
        trace = design_bed(corbel_inputs(changes), by_days=False).trace
        rules[word] = [r.key for r in trace.requirements if r.key == "property_line"]
    assert [] == rules.pop("given, letter of 2026-04-11")
    assert all(found == ["property_line"] for found in rules.values())
