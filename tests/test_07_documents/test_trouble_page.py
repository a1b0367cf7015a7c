# SPDX-License-Identifier: Apache-2.0
"""Pages of trouble: steps in order, each with its source, numbers of the design beside them."""

import re

import pytest

from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.explain import sources
from tilewater.documents.pages.said import Said
from tilewater.documents.pages.trouble_page import (
    FIRST,
    has_bed,
    trouble_block,
    trouble_page,
    troubles,
)
from tilewater.documents.words import Words

US = Words("us")
LONGEST = 260
"""Letters of a step that a person reads at the lid."""


@pytest.mark.works(of=(troubles,))
def test_every_step_says_what_it_tells_what_to_do_and_where_it_is_from():
    assert [each.name for each in troubles()][:3] == ["bypassing", "smelling", "wet"]
    for trouble in troubles():
        assert len(trouble.steps) >= 3
        for step in trouble.steps:
            assert step.source in sources()
            assert step.label
            for words in (step.look, step.tells, step.then):
                assert 0 < len(words) <= LONGEST
                assert re.search(r"[.?]$", words)
    labels = {step.label for trouble in troubles() for step in trouble.steps}
    assert "common practice, no source" in labels
    assert "sulfide-woodchips: read" in labels
    assert "shih2011: from memory, not checked against the text; check your edition" in labels


@pytest.mark.works(of=(trouble_page,))
def test_the_page_begins_with_what_can_kill():
    title, first, *blocks = trouble_page("Farm", None, US)
    assert isinstance(title, Said)
    assert isinstance(first, Said)
    assert title.plain.startswith("Farm")
    assert (first.plain, first.runs[0].tone) == (FIRST, "binds")
    assert len(blocks) == len(troubles())
    smelling = next(each for each in troubles() if each.name == "smelling")
    assert "Nobody enters" in smelling.caution


@pytest.mark.works(of=(trouble_block,))
def test_numbers_of_the_design_stand_beside_the_steps_and_lead_to_their_source():
    trace = Trace.start(
        [
            Given(
                "boards.outlet-spring.rim_down_m",
                1.31064,
                "m",
                "Measure down from the rim to the outlet boards, spring setting",
            ),
            Given("boards.outlet-design.rim_down_m", 1.0, "m", "Measure down, design"),
            Given("side_effects.sulfide_days", 6.5, "days", "Days on which sulfide can form"),
            Given("side_effects.used_up_days", Unknown("not run"), "days", "Days used up"),
        ],
        (),
        (),
    )
    smelling = next(each for each in troubles() if each.name == "smelling")
    steps = [part for part in trouble_block(smelling, trace, US).body if isinstance(part, Said)]
    words = "\n".join(step.plain for step in steps)
    assert "\noutlet boards, spring setting: 51.6 in\n" in words
    assert "Days on which sulfide can form: 6.5 days" in words
    assert "design" not in words
    assert "Days used up" not in words
    keys = [run.key for step in steps for run in step.runs if run.key]
    assert keys == ["side_effects.sulfide_days", "boards.outlet-spring.rim_down_m"]
    assert "1. How much water goes over the outlet boards?" in words
    assert "(sulfide-woodchips: read)\nThen: Go on to the boards." in words
    bare = trouble_block(smelling, None, US).body
    assert not any(run.key for part in bare if isinstance(part, Said) for run in part.runs)


@pytest.mark.works(of=(troubles, has_bed))
def test_a_practice_without_chips_has_no_troubles_of_chips():
    buffer = troubles(has_bed=False)
    names = [each.name for each in buffer]
    assert {"smelling", "brown", "settled"}.isdisjoint(names)
    assert {"bypassing", "wet", "little", "dry", "bank", "readings"} == set(names)
    words = " ".join(f"{s.look} {s.tells}" for each in buffer for s in each.steps)
    assert "headers let less" not in words
    assert has_bed(None)
    assert not has_bed(Trace.start([Given("buffer.width_m", 10.0, "m", "Width")], (), ()))
