# SPDX-License-Identifier: Apache-2.0
"""Emptying, first weeks, winter and lid card as the engineer reads them."""

import io

import pytest

from tests.jobs import FOOT, corbel_inputs
from tests.pages import Console
from tilewater.basis.trace import Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import design_bed
from tilewater.documents.pages.said import Part
from tilewater.documents.pages.summary_season import emptying, lid_card, start_up, winter
from tilewater.documents.words import Words

OPEN = Unknown("nobody knows", "look")

pytestmark = pytest.mark.works(of=(emptying, start_up, winter, lid_card))


def text(block: Part | None) -> str:
    """Words of a block on one line, each blank one wide."""
    console = Console(width=110, file=io.StringIO(), record=True)
    console.print(block)
    return " ".join(console.export_text().split())


def trace_of(**changes: object) -> Trace:
    return design_bed(
        corbel_inputs({key.replace("__", "."): value for key, value in changes.items()})
    ).trace


@pytest.fixture(scope="module")
def farm() -> Trace:
    return trace_of()


def test_each_season_says_its_boards_and_what_comes_out(farm: Trace) -> None:
    page = text(emptying(farm, Words("us")))

    assert "warm 2.5 h 22.4 h 47.2 h" in page
    assert "spring 36 / 24 in 100.0 % 63.3 % 1.40 ft + holds" in page
    assert "autumn 14 / 10 in 100.0 %" in page
    assert "spring 914 / 610 mm 100.0 % 63.3 % 0.427 m + holds" in text(emptying(farm, Words("si")))


def test_first_weeks_go_board_by_board(farm: Trace) -> None:
    page = text(start_up(farm, Words("us")))

    assert "Start-up new chips, begun in spring" in page
    assert "0 to 2 none first flush" in page
    assert "from 5 8 + 8 + 8 in the boards of the design" in page
    assert "summer 0.0200 cfs 0.24 12 days 41 days" in page


def test_one_board_is_pulled_without_waiting_for_the_next() -> None:
    page = text(emptying(trace_of(boards__outlet_m=4 * FOOT / 12), Words("us")))

    assert "first to the last" not in page
    assert "one board in 12 h" not in page


def test_a_return_that_rises_is_not_said_to_carry_nothing() -> None:
    page = text(emptying(trace_of(bed__return_invert_m=1180.99 * FOOT), Words("us")))

    assert "the return does not fall" in page
    assert "0.00 cfs" not in page


def test_winter_says_what_stands_and_what_the_melt_finds(farm: Trace) -> None:
    page = text(winter(farm, Words("us")))

    assert "boards may be frozen in from 12-10 to 03-15" in page
    assert "those of winter from the first frost to the melt" in page
    assert "water 1 degC" in page
    assert "feed 4.13 ft + holds" in page


def test_lid_card_forbids_the_season_with_the_high_ground_water(farm: Trace) -> None:
    wet = trace_of(season__spring__groundwater_m=1184.6 * FOOT, season__summer__groundwater_m=OPEN)
    bare = trace_of(bed__feed_gate=OPEN, bed__lining="geotextile")

    assert "never while the ground water stands above 1184.39 ft to empty shut the feed gate" in (
        text(lid_card(farm, Words("us")))
    )
    assert "above 1184.39 ft; do not empty in spring; not known for summer" in text(
        lid_card(wet, Words("us"))
    )
    page = text(lid_card(bare, Words("us")))
    assert "at any ground water; it comes in through the fabric" in page
    assert "only while the drains stand still: nothing known shuts the feed" in page


def test_what_is_not_known_is_said_once_and_never_as_a_number() -> None:
    blank = trace_of(frost__frozen_from=OPEN, season__spring__ditch_high_m=OPEN)

    assert "snowmelt not known" in text(winter(blank, Words("us")))
    assert "spring 36 / 24 in 100.0 % not known not known" in text(emptying(blank, Words("us")))
