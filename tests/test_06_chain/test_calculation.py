# SPDX-License-Identifier: Apache-2.0
"""The calculation holds every step of a design once, and each leads to what was put in."""

from functools import cache

import pytest

from tests.jobs import corbel_inputs
from tilewater.basis.requirement import slack_of, status_of
from tilewater.basis.trace import Given, Origin, Overrule, Trace
from tilewater.chain.calculation import (
    OTHER,
    RULE,
    Calculation,
    calculation,
    chapter_of,
)
from tilewater.chain.calculation_groups import carried_from, common_beginning, sisters_of
from tilewater.chain.calculation_methods import method_text
from tilewater.chain.design import design_bed
from tilewater.hydraulics.pipe_materials import drainage_flow
from tilewater.practices.rules import difference, same


@cache
def farm() -> tuple[Trace, Calculation]:
    trace = design_bed(corbel_inputs()).trace
    return trace, calculation(trace)


@pytest.mark.works(of=(calculation,))
def test_every_step_stands_in_it_once() -> None:
    trace, found = farm()
    listed = [e.step.key for e in (*found.inputs, *found.fixed)]
    listed += [e.step.key for c in found.chapters for g in c.groups for e in g.entries]
    listed += list(found.carried)
    for ruling in found.rulings:
        key = ruling.requirement.key
        listed += [f"{key}{end}" for end in (".operator", ".status", ".scale", ".slack")]
    assert sorted(trace.steps) == sorted(listed)
    assert set(trace.steps) == set(found.marks)


@pytest.mark.works(of=(calculation, carried_from))
def test_what_is_only_carried_has_value_and_mark_of_its_original() -> None:
    trace, found = farm()
    assert found.carried
    for key, origin in found.carried.items():
        assert origin not in found.carried
        assert found.marks[origin] == found.marks[key]
        assert trace.value(origin) == trace.value(key) or trace.value(key) is trace.value(origin)


@pytest.mark.works(of=(carried_from,))
def test_a_copy_that_the_engineer_overruled_is_a_number_of_its_own() -> None:
    why = Overrule("bed.copy_m", 3.0, "R. L.", "2026-11-16", "as measured")
    trace = Trace.start(
        (Given("inputs.a_m", 2.0, "m", "A", Origin("job.toml", 3)),), overrules=(why,)
    )
    trace.compute("bed.copy_m", same, unit="m", title="Copy", value="inputs.a_m")
    trace.compute("bed.other_m", same, unit="m", title="Other", value="bed.copy_m")
    assert {"bed.other_m": "bed.copy_m"} == calculation(trace).carried


@pytest.mark.works(of=(calculation,))
def test_marks_tell_steps_apart() -> None:
    _, found = farm()
    marks = [
        mark
        for key, mark in found.marks.items()
        if not mark.startswith(RULE) and key not in found.carried
    ]
    assert len(marks) == len(set(marks))


@pytest.mark.works(of=(calculation,))
def test_marks_count_up_through_a_chapter() -> None:
    _, found = farm()
    for chapter in found.chapters:
        numbers = [int(e.mark[1:]) for g in chapter.groups for e in g.entries]
        assert list(range(1, len(numbers) + 1)) == numbers


@pytest.mark.works(of=(calculation,))
def test_what_was_put_in_carries_the_mark_under_which_it_stands() -> None:
    trace, found = farm()
    for chapter in found.chapters:
        for group in chapter.groups:
            for entry in group.entries:
                assert tuple((name, step.key) for name, step, _ in entry.inputs) == tuple(
                    (name, found.carried.get(key, key))
                    for name, key in trace.steps[entry.step.key].inputs
                )
                assert all(found.marks[step.key] == mark for _, step, mark in entry.inputs)


@pytest.mark.works(of=(calculation,))
def test_a_method_stands_once_in_its_chapter() -> None:
    _, found = farm()
    for chapter in found.chapters:
        functions = [method.function for group in chapter.groups for method in group.methods]
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
    assert [] == [e.step.key for c in others for g in c.groups for e in g.entries]


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
    ((entry,),) = (group.entries for group in chapter.groups)
    assert "X1" == entry.mark
    assert [("upper", "i1"), ("lower", "i1")] == [(name, mark) for name, _, mark in entry.inputs]


# ---- methods on the same inputs ----


@pytest.mark.works(of=(sisters_of,))
def test_a_title_is_whole_again_from_its_head_and_its_row() -> None:
    _, found = farm()
    together = [g for c in found.chapters for g in c.groups if len(g.methods) > 1]
    assert together
    for group in together:
        for words, entries in group.rows:
            assert 1 == len({entry.step.inputs for entry in entries})
            for head, entry in zip(group.heads, entries, strict=True):
                assert head in entry.step.title
                assert words in entry.step.title
                assert len(entry.step.title) - len(head) - len(words) <= len(", ")


@pytest.mark.works(of=(sisters_of,))
def test_the_levels_along_the_water_stand_in_one_table() -> None:
    _, found = farm()
    (levels,) = (
        g
        for c in found.chapters
        for g in c.groups
        if any(method.function.endswith("level_inlet_end") for method in g.methods)
    )
    assert 6 == len(levels.heads)
    assert "Water at the inlet end of the media" in levels.heads
    assert "criterion line" in [words for words, _ in levels.rows]


@pytest.mark.works(of=(calculation,))
def test_rows_of_one_method_are_told_apart() -> None:
    _, found = farm()
    for chapter in found.chapters:
        for group in chapter.groups:
            rows = [words for words, _ in group.rows]
            assert len(rows) == len(set(rows)), group.methods[0].function


@pytest.mark.by_hand(of=(common_beginning,))
def test_the_common_beginning_of_texts() -> None:
    assert "Water in the " == common_beginning(["Water in the bed", "Water in the main"])
    assert "" == common_beginning(["a", "b"])
    assert "same" == common_beginning(["same", "same"])
