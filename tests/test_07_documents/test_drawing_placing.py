# SPDX-License-Identifier: Apache-2.0
"""Labels find places where none collides, and those without are told."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.drawing.crossings import as_lines, cross
from tilewater.documents.drawing.frame import Frame
from tilewater.documents.drawing.measured import collisions, outside_frame, struck_texts
from tilewater.documents.drawing.model import Drawing, Leader, Line, Text
from tilewater.documents.drawing.placing import NEAR, RINGS, Label, Placement, place_labels

FRAME = Frame((0.0, 0.0), 120.0, 80.0, 1000.0, 200.0)
words = st.text("abcdefgh 0123456789.", min_size=1, max_size=14)
labels = st.lists(
    st.builds(
        Label,
        about=st.tuples(st.floats(0.0, 120.0), st.floats(0.0, 16.0)),
        lines=st.lists(words, min_size=1, max_size=3).map(tuple),
        side=st.sampled_from(["right", "above", "below left"]),
        always_led=st.booleans(),
    ),
    max_size=14,
)


def drawn(placement: Placement, *more: Line | Text) -> Drawing:
    """A drawing of labels in their places."""
    return Drawing("labels", FRAME, (*more, *placement.entities))


@pytest.mark.law(of=(place_labels, collisions, outside_frame))
@settings(max_examples=40)
@given(labels)
def test_no_two_labels_collide_and_none_leaves_its_frame(wanted: list[Label]) -> None:
    placement = place_labels(wanted, FRAME)
    drawing = drawn(placement)
    assert () == collisions(drawing)
    texts = {text.plain for text in drawing.entities if isinstance(text, Text)}
    assert not texts & set(outside_frame(drawing))
    rows = sum(isinstance(entity, Text) for entity in placement.entities)
    assert sum(len(label.lines) for label in wanted) == rows + sum(
        len(label.lines) for label in placement.unplaced
    )


@pytest.mark.law(of=(place_labels,))
@settings(max_examples=20)
@given(labels)
def test_the_same_labels_stand_in_the_same_places(wanted: list[Label]) -> None:
    assert place_labels(wanted, FRAME) == place_labels(wanted, FRAME)


@pytest.mark.law(of=(place_labels, cross))
@settings(max_examples=30)
@given(labels)
def test_leaders_cross_neither_each_other_nor_words(wanted: list[Label]) -> None:
    placement = place_labels(wanted, FRAME)
    leaders = [
        (FRAME.paper(each.points[0]), FRAME.paper(each.points[1]))
        for each in placement.entities
        if isinstance(each, Leader)
    ]
    lines = as_lines(leaders)
    assert not np.triu(cross(lines, lines), k=1).any()
    plain = tuple(
        Text(t.at, t.words, t.layer, t.size_mm, t.across, t.up)
        for t in placement.entities
        if isinstance(t, Text)
    )
    drawn_lines = tuple(e for e in placement.entities if isinstance(e, Leader))
    assert () == struck_texts(Drawing("plain", FRAME, (*drawn_lines, *plain)))


@pytest.mark.works(of=(place_labels,))
def test_a_label_alone_stands_beside_its_point_where_it_is_wanted() -> None:
    (text,) = place_labels([Label((60.0, 8.0), ("crest",), side="right")], FRAME).all_placed()
    assert isinstance(text, Text)
    assert pytest.approx((60.0 + NEAR, 8.0), abs=0.3) == (text.at[0], text.at[1])


@pytest.mark.works(of=(place_labels,))
def test_a_label_leaves_a_line_and_words_that_are_drawn() -> None:
    there = Text(FRAME.ground((61.0, 40.5)), "in the way", clear=True)
    line = Line(FRAME.ground((0.0, 43.0)), FRAME.ground((120.0, 43.0)), "ground")
    label = Label(FRAME.ground((60.0, 40.0)), ("crest 1184.20",))
    placement = place_labels([label], FRAME, (there, line))
    bare = tuple(
        Text(t.at, t.words, t.layer, t.size_mm, t.across, t.up)
        for t in placement.all_placed()
        if isinstance(t, Text)
    )
    assert () == collisions(drawn(placement, there))
    assert () == struck_texts(Drawing("", FRAME, (line, *bare)))


@pytest.mark.works(of=(Placement.all_placed,))
def test_labels_without_room_are_told_by_their_words() -> None:
    small = Frame((0.0, 0.0), 14.0, 5.0, 1000.0, 1000.0)
    wanted = [Label((6.0, 2.0), ("one",)), Label((6.0, 2.0), ("much too long", "for this"))]
    placement = place_labels(wanted, small)
    assert ("much too long / for this",) == tuple(each.plain for each in placement.unplaced)
    told = (
        "The drawing has no room for 1 of its labels: 'much too long / for this'. "
        "No text may lie on another. Give a larger sheet or fewer labels."
    )
    with pytest.raises(OutOfDomain, match=re.escape(told)):
        placement.all_placed()


@pytest.mark.works(of=(place_labels,))
def test_a_label_without_room_gets_the_first_choice() -> None:
    frame = Frame((0.0, 0.0), 30.0, 9.0, 1000.0, 1000.0)
    easy, hard = Label((15.0, 4.5), ("a",)), Label((15.0, 4.5), ("wide words",), leader=False)
    for order in ([easy, hard], [hard, easy]):
        assert () == place_labels(order, frame).unplaced
    assert max(RINGS) > NEAR
