# SPDX-License-Identifier: Apache-2.0
"""Collisions and texts outside their frame are found, also where texts are turned."""

import re
from dataclasses import replace

import pytest

from tests.drawings import one_of_each
from tilewater.basis.errors import OutOfDomain, UnknownName
from tilewater.documents.drawing.dimensions import GAP, chain, laid_out, words_of
from tilewater.documents.drawing.frame import Frame, paper_frame
from tilewater.documents.drawing.layers import DASHES, LAYERS, layer_of
from tilewater.documents.drawing.matters import MATTERS, matter_of
from tilewater.documents.drawing.measured import (
    box_of,
    collisions,
    outside_frame,
    struck_texts,
    text_boxes,
)
from tilewater.documents.drawing.metrics import ASCENT, CAP, DESCENT, text_width
from tilewater.documents.drawing.model import (
    SMALL,
    Circle,
    Dimension,
    Drawing,
    Entity,
    Line,
    Placed,
    Polyline,
    Sheet,
    Text,
)

PAPER = paper_frame(100.0, 50.0)
LEVEL = Frame((0.0, 0.0), 200.0, 100.0, 200.0, 200.0)
STEEP = Frame((0.0, 0.0), 200.0, 100.0, 200.0, 50.0)


def on_paper(*entities: Entity) -> Drawing:
    """A drawing of 100 mm by 50 mm whose coordinates are millimetres."""
    return Drawing("paper", PAPER, entities)


@pytest.mark.by_hand(of=(box_of,))
def test_a_box_is_as_wide_as_its_letters_and_as_high_as_the_type() -> None:
    wide = 4.0 * (0.497 + 0.249 + 0.497)
    box = box_of(Text((50.0, 20.0), "1.2", size_mm=4.0, across="middle", up="top"), PAPER)
    base = 20.0 - CAP * 4.0
    assert pytest.approx((50.0 - wide / 2, base - DESCENT * 4.0)) == box.corners[0]
    assert pytest.approx((50.0 + wide / 2, base + ASCENT * 4.0)) == box.corners[2]


@pytest.mark.by_hand(of=(box_of,))
def test_a_text_turned_upright_stands_up() -> None:
    flat = box_of(Text((50.0, 20.0), "1.2", size_mm=4.0), PAPER).corners
    turned = box_of(Text((50.0, 20.0), "1.2", size_mm=4.0, angle_deg=90.0), PAPER).corners
    for (x, y), corner in zip(flat, turned, strict=True):
        assert pytest.approx((50.0 - (y - 20.0), 20.0 + (x - 50.0))) == corner


@pytest.mark.works(of=(collisions,))
def test_texts_collide_where_their_boxes_share_room() -> None:
    one, two = Text((10.0, 10.0), "first"), Text((12.0, 10.5), "second")
    assert (("first", "second"),) == collisions(on_paper(one, two))
    assert () == collisions(on_paper(one, replace(two, at=(12.0, 14.0))))
    beside = replace(two, at=(10.0 + text_width("first", one.size_mm), 10.0))
    assert () == collisions(on_paper(one, beside))


@pytest.mark.works(of=(collisions,))
def test_a_turned_text_passes_a_corner_that_its_upright_box_would_hit() -> None:
    slanting = Text((10.0, 10.0), "a long slanting text", angle_deg=45.0)
    assert () == collisions(on_paper(slanting, Text((24.0, 10.0), "corner")))
    assert 1 == len(collisions(on_paper(slanting, Text((18.0, 18.0), "corner"))))


@pytest.mark.works(of=(collisions, outside_frame))
def test_drawings_on_one_sheet_are_seen_together() -> None:
    left = Placed(on_paper(Text((90.0, 10.0), "left drawing")), 0.0, 0.0)
    right = Placed(on_paper(Text((0.0, 10.0), "right drawing")), 100.0, 0.0)
    sheet = Sheet("both", 200.0, 50.0, (left, right))
    assert (("left drawing", "right drawing"),) == collisions(sheet)
    assert ("left drawing",) == outside_frame(sheet)
    assert ("paper", "left drawing") == outside_frame(replace(sheet, width_mm=150.0))


@pytest.mark.works(of=(outside_frame,))
def test_what_leaves_the_frame_is_named() -> None:
    drawing = on_paper(
        Text((98.0, 10.0), "too far right"),
        Text((1.0, 10.0), "inside"),
        Line((0.0, 0.0), (100.0, 50.0), "ground"),
        Polyline(((0.0, 0.0), (0.0, 51.0)), "grid"),
        Circle((99.0, 25.0), 2.0, "pipe"),
    )
    assert ("too far right", "Polyline on grid", "Circle on pipe") == outside_frame(drawing)


@pytest.mark.works(of=(struck_texts,))
def test_a_line_through_words_is_told_unless_they_are_kept_clear() -> None:
    line = Line((0.0, 10.5), (100.0, 10.5), "ground")
    text = Text((10.0, 10.0), "words")
    assert (("words", "ground"),) == struck_texts(on_paper(line, text))
    assert () == struck_texts(on_paper(line, replace(text, clear=True)))


@pytest.mark.works(of=(text_boxes, collisions, outside_frame))
def test_the_sample_has_no_collision_and_stays_in_its_frame() -> None:
    for exaggerated in (True, False):
        drawing = one_of_each(exaggerated=exaggerated)
        assert "98.43" in {box.words for box in text_boxes(drawing)}
        assert () == collisions(drawing)
        assert () == outside_frame(drawing)


@pytest.mark.by_hand(of=(laid_out,))
def test_a_dimension_line_is_as_long_on_paper_as_the_scale_says() -> None:
    level = Dimension((5.0, 2.0), (35.0, 3.0), (0.0, 1.0), "98.43", along="x")
    ends = laid_out(level, LEVEL).ends
    assert pytest.approx(30.0 / 200.0 * 1000.0) == ends[1][0] - ends[0][0]
    assert pytest.approx((5.0, 5.0)) == (ends[0][1], ends[1][1])
    upright = Dimension((5.0, 2.0), (8.0, 3.0), (10.0, 0.0), "3.28", along="y")
    tall = laid_out(upright, STEEP).ends
    assert pytest.approx(1.0 / 50.0 * 1000.0) == tall[1][1] - tall[0][1]
    assert pytest.approx(90.0) == laid_out(upright, STEEP).angle_deg


@pytest.mark.by_hand(of=(laid_out, words_of))
def test_words_stand_above_the_middle_of_their_line_and_read_from_the_left() -> None:
    askew = Dimension((8.0, 7.0), (4.0, 4.0), (4.0, 4.0), "16.40")
    placed = laid_out(askew, LEVEL)
    assert pytest.approx(36.8698976) == placed.angle_deg
    middle = 6.0 / 200 * 1000, 5.5 / 200 * 1000
    assert pytest.approx((middle[0] - GAP * 0.6, middle[1] + GAP * 0.8)) == placed.words_at
    assert words_of(askew, LEVEL).across == "middle"


@pytest.mark.works(of=(laid_out,))
def test_a_dimension_that_cannot_be_measured_is_refused() -> None:
    askew = Dimension((8.0, 7.0), (4.0, 4.0), (4.0, 4.0), "16.40")
    told = (
        "The dimension '16.40' runs askew on a drawing with heights drawn 4 times. "
        "Only lengths across or up can be measured there. Measure along x or y."
    )
    with pytest.raises(OutOfDomain, match=re.escape(told)):
        laid_out(askew, STEEP)
    with pytest.raises(OutOfDomain, match="has no length along y"):
        laid_out(replace(askew, end=(4.0, 7.0), along="y"), STEEP)


@pytest.mark.works(of=(chain,))
def test_words_wider_than_their_piece_are_lifted_out_of_the_way() -> None:
    points = [(float(x), 1.0) for x in (2, 12, 13, 14, 15, 25)]
    said = ["32.81", "3.28", "3.28", "3.28", "32.81"]
    made = chain(LEVEL, points, said, through=(0.0, 2.0))
    assert [0.0, SMALL + GAP, 2 * (SMALL + GAP), SMALL + GAP, 0.0] == [
        each.moved_mm[1] for each in made
    ]
    assert () == collisions(Drawing("chain", LEVEL, made))
    with pytest.raises(OutOfDomain, match="2 words stand for 2 points"):
        chain(LEVEL, points[:2], ["1", "2"], through=(0.0, 2.0))


@pytest.mark.works(of=(layer_of, matter_of))
def test_layers_have_the_weights_of_the_house() -> None:
    assert {0.5, 0.35, 0.25, 0.18} == {layer.width_mm for layer in LAYERS.values()}
    for name in ("hidden", "grade-line", "drain", "pipe-hidden"):
        assert 0.25 == layer_of(name).width_mm
        assert DASHES[layer_of(name).dashes]
    assert {matter.layer for matter in MATTERS.values()} <= set(LAYERS)


@pytest.mark.works(of=(Drawing, layer_of, matter_of))
def test_an_unknown_layer_or_matter_is_refused_at_once() -> None:
    with pytest.raises(UnknownName, match=r"No layer called 'grond'.*Did you mean ground\?"):
        on_paper(Line((0.0, 0.0), (1.0, 1.0), "grond"))
    with pytest.raises(UnknownName, match=r"No matter called 'chip'.*Did you mean chips\?"):
        on_paper(Circle((0.0, 0.0), 1.0, "pipe", "chip"))
