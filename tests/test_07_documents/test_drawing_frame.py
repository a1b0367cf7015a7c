# SPDX-License-Identifier: Apache-2.0
"""Ground falls on paper to scale and back; scales are usual ones and said."""

import re

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.drawing.frame import Frame, Sides, fitted_frame, paper_frame
from tilewater.documents.drawing.furniture import (
    length_words,
    scale_words,
    size_words,
    station_ticks,
    units_note,
)
from tilewater.documents.drawing.model import Text
from tilewater.documents.scales import US_STEPS

HAIR = 1e-6
places = st.tuples(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
scales = st.floats(1.0, 5000.0)


@pytest.mark.law(of=(Frame.paper, Frame.ground))
@given(places, places, scales, scales)
def test_paper_and_ground_undo_each_other(
    low: tuple[float, float], point: tuple[float, float], across: float, up: float
) -> None:
    frame = Frame(low, 100.0, 100.0, across, up)
    assert pytest.approx(point, abs=1e-5) == frame.ground(frame.paper(point))


@pytest.mark.law(of=(Frame.moved,))
@given(places, scales, scales, st.floats(-90.0, 90.0), st.floats(-90.0, 90.0))
def test_a_move_is_as_long_on_paper_at_any_scale(
    point: tuple[float, float], across: float, up: float, right: float, high: float
) -> None:
    frame = Frame(point, 100.0, 100.0, across, up)
    assert pytest.approx((right, high), abs=1e-5) == frame.paper(frame.moved(point, right, high))


@pytest.mark.by_hand(of=(Frame.paper,))
def test_thirty_metres_at_1_to_200_are_150_mm() -> None:
    frame = Frame((100.0, 350.0), 400.0, 200.0, 200.0, 50.0)
    assert pytest.approx((30.0 / 200 * 1000, 2.0 / 50 * 1000)) == frame.paper((130.0, 352.0))
    assert pytest.approx(4.0) == frame.exaggeration


@pytest.mark.law(of=(fitted_frame,))
@given(
    st.floats(0.5, 800.0),
    st.floats(0.5, 80.0),
    st.sampled_from(["us", "si"]),
    st.booleans(),
)
def test_the_ground_is_inside_its_room_at_a_usual_scale(
    long: float, tall: float, units: str, exaggerated: bool
) -> None:
    free = Sides(20.0, 30.0, 25.0, 10.0)
    frame = fitted_frame(
        (5.0, 300.0),
        (5.0 + long, 300.0 + tall),
        width_mm=400.0,
        height_mm=250.0,
        units=units,  # type: ignore[arg-type]
        free=free,
        exaggerated=exaggerated,
    )
    x0, y0 = frame.paper((5.0, 300.0))
    x1, y1 = frame.paper((5.0 + long, 300.0 + tall))
    assert x0 >= 20.0 - HAIR
    assert x1 <= 375.0 + HAIR
    assert y0 >= 30.0 - HAIR
    assert y1 <= 240.0 + HAIR
    assert frame.exaggeration >= 1.0 - HAIR
    assert exaggerated or frame.scale_x == frame.scale_y
    if units == "us":
        assert any(abs(frame.scale_x / (12 * step) - 1) < HAIR for step in US_STEPS)


@pytest.mark.works(of=(fitted_frame,))
def test_ground_without_size_or_paper_is_refused() -> None:
    with pytest.raises(
        OutOfDomain, match=re.escape("The ground to draw is 0 m by 0 m. It must have a size.")
    ):
        fitted_frame((0, 0), (0, 0), width_mm=100, height_mm=100, units="us")
    with pytest.raises(
        OutOfDomain, match=re.escape("50 m have 0 mm of paper. The smallest usual scale")
    ):
        fitted_frame(
            (0, 0), (50, 1), width_mm=100, height_mm=100, units="us", free=Sides(60.0, 0, 40.0, 0)
        )
    with pytest.raises(
        OutOfDomain, match=re.escape("width_mm is 0. A frame has a size. Give a larger one.")
    ):
        paper_frame(0.0, 10.0)


@pytest.mark.by_hand(of=(paper_frame,))
def test_a_frame_without_ground_counts_in_millimetres() -> None:
    assert (30.0, 20.0) == paper_frame(100.0, 50.0).paper((30.0, 20.0))


@pytest.mark.by_hand(of=(scale_words,))
def test_scales_are_said_as_on_the_rule() -> None:
    level = Frame((0, 0), 1, 1, 240.0, 240.0)
    steep = Frame((0, 0), 1, 1, 240.0, 48.0)
    assert "Scale 1 in = 20 ft" == scale_words(level, "us")
    assert "Scale across 1 in = 20 ft, up 1 in = 4 ft: heights drawn 5 times" == scale_words(
        steep, "us"
    )
    assert "Scale 1 : 250" == scale_words(Frame((0, 0), 1, 1, 250.0, 250.0), "si")


@pytest.mark.works(of=(units_note, length_words, size_words))
def test_lengths_are_in_hundredths_of_a_foot_and_sizes_in_inches() -> None:
    assert "98.43" == length_words(30.0, "us")
    assert "30.000" == length_words(30.0, "si")
    assert "6 in" == size_words(0.1524, "us")
    assert (
        "Lengths and elevations in decimal US survey feet, pipe and boards in inches."
        == units_note("us", "us survey foot")
    )
    assert "Lengths and elevations in metres, pipe and boards in millimetres." == units_note("si")


@pytest.mark.law(of=(station_ticks,))
@given(st.floats(-200.0, 200.0), st.floats(1.0, 300.0), st.sampled_from([120.0, 240.0, 600.0]))
def test_stations_are_those_between_the_ends(start: float, long: float, scale: float) -> None:
    frame = Frame((start, 0.0), 500.0, 50.0, scale, scale)
    assume(long < 0.5 * scale)
    made = station_ticks(frame, 1.0, start, start + long, "us")
    texts = [entity for entity in made if isinstance(entity, Text)]
    for text in texts:
        assert start - HAIR <= text.at[0] <= start + long + HAIR
        hundreds, feet = text.plain.lstrip("-").split("+")
        said = 100 * float(hundreds) + float(feet)
        assert pytest.approx(said, abs=0.06) == abs(text.at[0]) / 0.3048
