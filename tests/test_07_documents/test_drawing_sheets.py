# SPDX-License-Identifier: Apache-2.0
"""Drawings stand together on a sheet without sharing room."""

import pytest

from tilewater.documents.drawing.frame import paper_frame
from tilewater.documents.drawing.model import Drawing, Sheet
from tilewater.documents.drawing.sheets import GAP, beside, stacked


def drawing(title: str, width_mm: float, height_mm: float) -> Drawing:
    return Drawing(title, paper_frame(width_mm, height_mm), (), about=f"about {title}")


def corners(sheet: Sheet) -> list[tuple[str, float, float]]:
    return [(each.drawing.title, each.left_mm, each.bottom_mm) for each in sheet]


@pytest.mark.by_hand(of=(beside,))
def test_drawings_in_a_row_are_level_at_their_tops() -> None:
    sheet = beside((drawing("plan", 100.0, 80.0), drawing("legend", 30.0, 20.0)))
    assert (sheet.title, sheet.about) == ("plan", "about plan")
    assert (sheet.width_mm, sheet.height_mm) == (100.0 + GAP + 30.0, 80.0)
    assert corners(sheet) == [("plan", 0.0, 0.0), ("legend", 100.0 + GAP, 80.0 - 20.0)]


@pytest.mark.by_hand(of=(stacked,))
def test_drawings_stand_below_each_other_while_there_is_room() -> None:
    one, two, three = (drawing(title, 50.0, 40.0) for title in ("one", "two", "three"))
    first, second = stacked((one, two, three), 80.0 + GAP)
    assert (first.title, first.about) == ("one; two", "about one; about two")
    assert corners(first) == [("one", 0.0, 40.0 + GAP), ("two", 0.0, 0.0)]
    assert first.height_mm == 80.0 + GAP
    assert corners(second) == [("three", 0.0, 0.0)]
    assert len(stacked((one, two, three), 80.0)) == 3


@pytest.mark.works(of=(stacked,))
def test_a_drawing_higher_than_the_room_has_a_sheet_of_its_own() -> None:
    high = drawing("high", 50.0, 90.0)
    assert [sheet.height_mm for sheet in stacked((high, drawing("low", 60.0, 10.0)), 40.0)] == [
        90.0,
        10.0,
    ]
    assert stacked((), 40.0) == ()
