# SPDX-License-Identifier: Apache-2.0
"""Shapes that share room and lines that cross are found, many at once as one by one."""

from math import cos, pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.documents.drawing.crossings import (
    TOUCH,
    as_boxes,
    as_lines,
    cross,
    pairs_share_room,
    share_room,
)
from tilewater.documents.drawing.frame import Point

Corners = tuple[Point, ...]
SLACK = 1e-3
"""Nearer than this to touching, either answer is right. [mm]"""

points = st.tuples(st.floats(-10.0, 10.0), st.floats(-10.0, 10.0))
lines = st.tuples(points, points)
sizes = st.floats(0.1, 8.0)


def box(at: Point, wide: float, high: float, turn: float = 0.0) -> Corners:
    """A rectangle about its lower left corner."""
    c, s = cos(turn), sin(turn)
    corners = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    return tuple((at[0] + c * x - s * y, at[1] + s * x + c * y) for x, y in corners)


boxes = st.builds(box, points, sizes, sizes, st.floats(0.0, 2 * pi))


def inside(line: tuple[Point, Point], wide: float, high: float, by: float) -> bool:
    """Whether a piece of a line is inside an upright box from 0, clipped side by side."""
    (xa, ya), (xb, yb) = line
    enter, leave = 0.0, 1.0
    for start, way, size in ((xa, xb - xa, wide), (ya, yb - ya, high)):
        if abs(way) < 1e-12:
            if not by < start < size - by:
                return False
            continue
        ends = sorted(((by - start) / way, (size - by - start) / way))
        enter, leave = max(enter, ends[0]), min(leave, ends[1])
    return enter < leave


@pytest.mark.by_hand(of=(share_room,))
def test_shapes_share_room_where_they_overlap_not_where_they_touch() -> None:
    here = as_boxes([box((0.0, 0.0), 4.0, 2.0)])
    others = [box((3.0, 1.0), 4.0, 2.0), box((4.0, 0.0), 4.0, 2.0), box((5.0, 0.0), 4.0, 2.0)]
    assert [True, False, False] == share_room(here, as_boxes(others))[0].tolist()
    through = as_lines([((-1.0, 1.0), (5.0, 1.0)), ((1.0, 0.5), (2.0, 1.5))])
    beside = as_lines([((-1.0, 2.0), (5.0, 2.0)), ((3.0, 3.0), (6.0, 0.0)), ((5.0, 0.0),) * 2])
    assert share_room(here, through).all()
    assert not share_room(here, beside).any()


@pytest.mark.by_hand(of=(share_room,))
def test_a_turned_box_passes_a_corner_that_its_upright_box_would_hit() -> None:
    turned = as_boxes([box((0.0, 0.0), 10.0, 1.0, pi / 4)])
    corner, middle = box((5.0, 1.0), 1.0, 1.0), box((3.0, 3.0), 1.0, 1.0)
    assert [False, True] == share_room(turned, as_boxes([corner, middle]))[0].tolist()


@pytest.mark.by_hand(of=(cross,))
def test_lines_cross_where_their_ends_lie_on_either_side() -> None:
    level = as_lines([((0.0, 0.0), (10.0, 0.0))])
    others = [
        ((5.0, -1.0), (5.0, 1.0)),
        ((10.0, 0.0), (12.0, 3.0)),
        ((5.0, 1.0), (5.0, 2.0)),
        ((11.0, 0.0), (12.0, 0.0)),
    ]
    assert [True, True, False, False] == cross(level, as_lines(others))[0].tolist()


@pytest.mark.law(of=(share_room,))
@given(lines, sizes, sizes)
def test_a_line_runs_through_a_box_where_clipping_leaves_a_piece_of_it(
    line: tuple[Point, Point], wide: float, high: float
) -> None:
    found = bool(share_room(as_boxes([box((0.0, 0.0), wide, high)]), as_lines([line]))[0, 0])
    if inside(line, wide, high, SLACK):
        assert found
    if not inside(line, wide, high, -SLACK):
        assert not found


@pytest.mark.law(of=(share_room, cross))
@given(st.lists(boxes, max_size=5), st.lists(lines, max_size=5))
def test_each_pair_is_answered_as_if_it_were_asked_alone(
    some: list[Corners], drawn: list[tuple[Point, Point]]
) -> None:
    shapes, strokes = as_boxes(some), as_lines(drawn)
    for table, left, right in (
        (share_room(shapes, shapes), shapes, shapes),
        (share_room(shapes, strokes), shapes, strokes),
        (share_room(strokes, shapes), strokes, shapes),
    ):
        alone = [
            pairs_share_room(left, np.repeat(right[i : i + 1], len(left), axis=0))
            for i in range(len(right))
        ]
        assert table.T.tolist() == [each.tolist() for each in alone]
    assert (share_room(shapes, strokes) == share_room(strokes, shapes).T).all()
    assert (cross(strokes, strokes) == cross(strokes, strokes).T).all()


@pytest.mark.works(of=(share_room, cross))
def test_what_is_not_a_number_meets_nothing() -> None:
    nothing = np.full((1, 2, 2), np.nan)
    assert not share_room(nothing, as_boxes([box((0.0, 0.0), 4.0, 2.0)])).any()
    assert not cross(nothing, as_lines([((0.0, 0.0), (1.0, 1.0))])).any()
    assert TOUCH < SLACK
