# SPDX-License-Identifier: Apache-2.0
"""The calculation holds every step of a design once, and each leads to what was put in."""

from functools import cache

import pytest

from tests.jobs import corbel_inputs
from tilewater.basis.requirement import slack_of, status_of
from tilewater.basis.trace import Given, Origin, Trace
from tilewater.chain.calculation import (
    OTHER,
    RULE,
    Calculation,
    calculation,
    chapter_of,
)
from tilewater.chain.calculation_methods import method_text
from tilewater.chain.design import design_bed
from tilewater.hydraulics.pipe_materials import drainage_flow
from tilewater.practices.rules import difference


@cache
def farm() -> tuple[Trace, Calculation]:
    trace = design_bed(corbel_inputs()).trace
    return trace, calculation(trace)


@pytest.mark.works(of=(calculation,))
def test_every_step_stands_in_it_once() -> None:
    trace, found = farm()
    listed = [e.step.key for e in (*found.inputs, *found.fixed)]
    listed += [e.step.key for c in found.chapters for m in c.methods for e in m.entries]
    for ruling in found.rulings:
        key = ruling.requirement.key
        listed += [f"{key}{end}" for end in (".operator", ".status", ".scale", ".slack")]
    assert sorted(trace.steps) == sorted(listed)
    assert set(trace.steps) == set(found.marks)


@pytest.mark.works(of=(calculation,))
def test_marks_tell_steps_apart() -> None:
    _, found = farm()
    marks = [mark for mark in found.marks.values() if not mark.startswith(RULE)]
    assert len(marks) == len(set(marks))


@pytest.mark.works(of=(calculation,))
def test_marks_count_up_through_a_chapter() -> None:
    _, found = farm()
    for chapter in found.chapters:
        numbers = [int(e.mark[1:]) for m in chapter.methods for e in m.entries]
        assert list(range(1, len(numbers) + 1)) == numbers


@pytest.mark.works(of=(calculation,))
def test_what_was_put_in_carries_the_mark_under_which_it_stands() -> None:
    trace, found = farm()
    for chapter in found.chapters:
        for method in chapter.methods:
            for entry in method.entries:
                assert trace.steps[entry.step.key].inputs == tuple(
                    (name, step.key) for name, step, _ in entry.inputs
                )
                assert all(found.marks[step.key] == mark for _, step, mark in entry.inputs)


@pytest.mark.works(of=(calculation,))
def test_a_method_stands_once_in_its_chapter() -> None:
    _, found = farm()
    for chapter in found.chapters:
        functions = [method.text.function for method in chapter.methods]
        assert len(functions) == len(set(functions))


@pytest.mark.works(of=(chapter_of,))
def test_the_longest_group_says_the_chapter() -> None:
    assert ("F", "Field") == chapter_of("water.spot.low-1.boards_in.run")
    assert ("D", "Drain flow") == chapter_of("water.run")
    assert OTHER == chapter_of("nobody.knows")


@pytest.mark.works(of=(chapter_of,))
def test_no_step_of_a_bed_is_without_a_chapter() -> None:
    _, found = farm()
    others = (chapter for chapter in found.chapters if chapter.title == OTHER[1])
    assert [] == [e.step.key for c in others for m in c.methods for e in m.entries]


@pytest.mark.works(of=(method_text,))
def test_a_method_tells_its_equation_letters_and_source() -> None:
    text = method_text(f"{drainage_flow.__module__}.{drainage_flow.__qualname__}")
    assert (("Q = A DC", "efh14"),) == text.equations
    assert ("area", "Drained area. [m2]") == text.parameters[0]
    assert ["efh14"] == [source.key for source in text.sources]


@pytest.mark.works(of=(method_text,))
def test_letters_that_share_a_line_stay_together() -> None:
    text = method_text(f"{difference.__module__}.{difference.__qualname__}")
    assert (("upper, lower", "Elevations. [m]"),) == text.parameters


@pytest.mark.works(of=(calculation, status_of, slack_of))
def test_a_trace_without_rules_has_a_calculation_too() -> None:
    trace = Trace.start((Given("inputs.a_m", 2.0, "m", "A", Origin("job.toml", 3)),))
    trace.compute(
        "nobody.knows_m", difference, unit="m", title="D", upper="inputs.a_m", lower="inputs.a_m"
    )
    found = calculation(trace)
    assert () == found.rulings
    assert () == found.judging
    (chapter,) = found.chapters
    ((entry,),) = (method.entries for method in chapter.methods)
    assert "X1" == entry.mark
    assert [("upper", "i1"), ("lower", "i1")] == [(name, mark) for name, _, mark in entry.inputs]
