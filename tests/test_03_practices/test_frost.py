# SPDX-License-Identifier: Apache-2.0
"""Boards that are frozen in, over the turn of the year, and soil over what may freeze."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.jobs import FOOT, INCH
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.practices.bed.frost import (
    SeasonBoards,
    day_of_year,
    days_after,
    frost_in_media,
    is_frozen,
    moves_in_frost,
    season_before_frost,
    soil_over_pipe,
)
from tilewater.practices.bed.frost_steps import soil_over_feed

HIGH, LOW = (36 * INCH,), (10 * INCH,)
days = st.integers(0, 365).map(lambda n: (date(2024, 1, 1) + timedelta(n)).isoformat()[5:])


def year(winter: str, spring: str, spring_boards: tuple[float, ...]) -> tuple[SeasonBoards, ...]:
    return (
        SeasonBoards("winter", winter, HIGH, HIGH),
        SeasonBoards("spring", spring, HIGH, spring_boards),
        SeasonBoards("summer", "06-15", HIGH, LOW),
    )


@pytest.mark.by_hand(of=(is_frozen, days_after, day_of_year))
def test_a_winter_goes_over_the_turn_of_the_year() -> None:
    assert [is_frozen(day, "12-10", "03-15") for day in ("12-09", "12-10", "01-20", "03-16")] == [
        False,
        True,
        True,
        False,
    ]
    assert (31 + 29, 366) == (day_of_year("02-29"), day_of_year("12-31"))
    assert 31 + 31 == days_after("12-01", "02-01")


@pytest.mark.practice(of=(moves_in_frost,))
def test_other_boards_in_the_frost_are_found_and_the_same_boards_are_not() -> None:
    window = ("12-10", "03-31")
    late = moves_in_frost(year("12-15", "03-20", HIGH), *window)
    early = moves_in_frost(year("12-01", "03-20", LOW), *window)

    assert [season.name for season in late] == ["winter"]
    assert [season.name for season in early] == ["spring"]
    assert moves_in_frost(year("12-01", "03-20", HIGH), *window) == ()
    assert moves_in_frost(year("12-10", "04-01", LOW), *window)[0].name == "winter"


@pytest.mark.law(of=(season_before_frost,))
@given(first=days, second=days, frozen=days)
def test_the_season_that_began_last_stands_in_the_frost(
    first: str, second: str, frozen: str
) -> None:
    found = season_before_frost(frozen, early_winter=first, summer=second)
    starts = {"early-winter": first, "summer": second}
    assert days_after(starts[found], frozen) == min(days_after(s, frozen) for s in starts.values())
    assert is_frozen(frozen, frozen, frozen)


@pytest.mark.law(of=(is_frozen, days_after))
@given(day=days, start=days, end=days)
def test_a_day_is_in_the_frost_or_in_the_rest_of_the_year(day: str, start: str, end: str) -> None:
    assert days_after(start, day) + days_after(day, start) in (0, 366)
    if is_frozen(day, start, end):
        assert days_after(start, day) + days_after(day, end) == days_after(start, end)


@pytest.mark.by_hand(of=(soil_over_pipe, soil_over_feed, frost_in_media))
def test_soil_over_the_feed_and_frost_in_the_chips() -> None:
    """Ground 1186.0, invert 1181.2, 8 in: 4.13 ft; 3.5 ft of frost under 1.8 ft of soil."""
    pipe = PipeRun(1181.2 * FOOT, 1180.7 * FOOT, 8 * INCH, 6.0, 0.012, 0.5)
    cover = soil_over_feed(1186.0 * FOOT, pipe)

    assert 1186.0 - 1181.2 - 8 / 12 == pytest.approx(cover / FOOT)
    assert cover == soil_over_pipe(1186.0 * FOOT, 1181.2 * FOOT, 8 * INCH)
    assert 3.5 - 1.8 == pytest.approx(frost_in_media(3.5, 1.8))
    assert frost_in_media(1.5, 1.8) == 0.0
