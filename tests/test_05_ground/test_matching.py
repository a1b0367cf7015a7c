# SPDX-License-Identifier: Apache-2.0
"""What a shot is of: code, name, place; and why it is of nothing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.ground.matching import (
    WORDS,
    Element,
    code_of_note,
    distance_along,
    distance_of,
    match_shot,
)

PIPE = frozenset({"invert", "pipe_top"})
FEED = Element("feed", PIPE, ((10.0, 0.0), (10.0, 20.0)))
BYPASS = Element("bypass", PIPE, ((0.0, 0.0), (40.0, 0.0)))
BED = Element("bed", frozenset({"floor"}), ((0, 5), (30, 5), (30, 15), (0, 15)), is_outline=True)
INLET = Element("inlet structure", frozenset({"sill"}), ((40.0, 0.0),))
PARTS = (FEED, BYPASS, BED, INLET)
CREW = {**WORDS, "invert": ("INV", "PI", *WORDS["invert"])}


@pytest.mark.works(of=(code_of_note,))
@pytest.mark.parametrize(
    ("note", "code", "rest"),
    [
        ("INV FEED", "invert", "feed"),
        ("inv-feed 2", "invert", "feed 2"),
        ("PI", "invert", ""),
        ("Floor corner", "corner", ""),
        ("top of pipe, feed", "pipe_top", "feed"),
        ("PIPE", "", ""),
        ("", "", ""),
        ("invertebrate", "", ""),
    ],
)
def test_the_longest_word_of_a_code_is_taken(note: str, code: str, rest: str) -> None:
    assert code_of_note(note, CREW) == (code, rest)


@pytest.mark.works(of=(match_shot,))
def test_a_name_goes_before_the_nearest_place() -> None:
    near_bypass = (11.0, 0.5)
    assert match_shot("INV", near_bypass, PARTS, words=CREW, reach=3.0).element == "bypass"
    assert match_shot("INV FEED", near_bypass, PARTS, words=CREW, reach=3.0).element == "feed"
    assert match_shot("sill inlet", None, PARTS, words=CREW, reach=3.0).element == "inlet structure"
    assert match_shot("FLOOR", (15.0, 10.0), PARTS, words=CREW, reach=3.0).element == "bed"


@pytest.mark.works(of=(match_shot,))
@pytest.mark.parametrize(
    ("note", "place", "why"),
    [
        ("", (0.0, 0.0), "it has no code"),
        ("XYZ", (0.0, 0.0), "its code 'XYZ' is none that is known"),
        ("INV", (0.0, 90.0), "it lies too far from feed, the nearest it may be of"),
        ("INV BYPASS", (0.0, 90.0), "it lies too far from bypass, which its note names"),
        ("CHIPS", (0.0, 0.0), "the design has nothing that takes a shot of chips"),
        ("INV", None, "its note names no part, and nothing tells where it lies"),
    ],
)
def test_what_is_of_nothing_says_why(
    note: str, place: tuple[float, float] | None, why: str
) -> None:
    match = match_shot(note, place, PARTS, words=CREW, reach=3.0)
    assert match.element == ""
    assert match.why == why


@pytest.mark.law(of=(distance_of,))
@given(st.floats(0.0, 30.0), st.floats(5.0, 15.0))
def test_inside_an_outline_nothing_is_far(x: float, y: float) -> None:
    assert distance_of((x, y), BED) == 0.0


@pytest.mark.law(of=(distance_along, distance_of))
@given(st.floats(0.0, 60.0), st.floats(-2.0, 2.0))
def test_distance_along_a_bent_line_is_that_walked(walked: float, away: float) -> None:
    line = ((0.0, 0.0), (30.0, 0.0), (30.0, 30.0))
    station, offset = (walked, away) if walked <= 30.0 else (30.0 + away, walked - 30.0)
    if min(abs(walked - 30.0), 30.0) > 2.5:  # clear of the bend, where the other leg may be nearer
        assert distance_along(line, station, offset) == pytest.approx(walked, abs=1e-9)
        assert distance_of((station, offset), Element("x", PIPE, line)) == pytest.approx(abs(away))
