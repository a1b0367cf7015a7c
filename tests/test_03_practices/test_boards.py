# SPDX-License-Identifier: Apache-2.0
"""Stacks of boards: never above the wanted crest, fewest boards, tallest lowest."""

from itertools import combinations_with_replacement

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import FOOT, INCH
from tilewater.basis.errors import OutOfDomain
from tilewater.practices.boards import (
    board_stack,
    crest_elevation,
    rim_down,
    stack_height,
    stack_heights,
)

TENTH = INCH / 10
"""Boards of the brute search are whole tenths of an inch, so that heights compare exactly."""


def inches(target: float, *heights: float, seal_gap: float = 0.0) -> tuple[float, ...]:
    """Stack in inches, from the sill up."""
    stack = board_stack(
        target * INCH, board_heights=[h * INCH for h in heights], seal_gap=seal_gap * INCH
    )
    return tuple(round(board / INCH, 6) for board in stack)


@pytest.mark.by_hand(of=(board_stack,))
def test_corbel_farm_stands_on_boards_of_8_6_and_4_inches():
    assert inches(36, 8, 6, 4) == (8, 8, 8, 8, 4)
    assert inches(24, 8, 6, 4) == (8, 8, 8)


@pytest.mark.by_hand(of=(board_stack,))
@pytest.mark.parametrize(
    ("target", "stack"),
    [
        (36, (7, 7, 7, 5, 5, 5)),
        (24, (7, 7, 5, 5)),
        (34.3, (7, 7, 5, 5, 5, 5)),
        (26, (7, 7, 7, 5)),
        (29.3, (7, 7, 5, 5, 5)),
    ],
)
def test_boards_of_7_and_5_inches_are_never_rounded_up(target, stack):
    assert inches(target, 7, 5) == stack
    assert sum(stack) <= target


@pytest.mark.by_hand(of=(board_stack, stack_height))
def test_a_seal_under_each_board_counts():
    # two boards of 8.25 are 16.5; 8.25 + 6.25 is 14.5; without a seal 8 + 8 would be 16
    assert inches(17, 8, 6, seal_gap=0.25) == (8, 8)
    assert printed("16.5") == stack_height([8 * INCH] * 2, seal_gap=0.25 * INCH) / INCH
    # three of 8.25 are 24.75, too tall for 24.5, where boards without a seal would fit
    assert inches(24.5, 8, seal_gap=0.25) == (8, 8)
    assert inches(24.5, 8) == (8, 8, 8)


@pytest.mark.by_hand(of=(board_stack, stack_height))
def test_fewest_boards_win_over_tall_ones_low():
    # 12 of 8 and 4, or of 6 and 6: as many boards, so the tallest lies lowest
    assert inches(12, 8, 6, 4) == (8, 4)
    # 18 of three 6s or of 8 + 6 + 4: again as many; 14 of 8 + 6 beats 6 + 4 + 4
    assert inches(18, 8, 6, 4) == (8, 6, 4)
    assert inches(14, 8, 6, 4) == (8, 6)
    assert inches(3.9, 8, 6, 4) == ()
    assert stack_height(()) == 0


@pytest.mark.by_hand(of=(rim_down, crest_elevation, stack_height))
def test_card_tells_what_to_measure_down_from_the_rim():
    crest = crest_elevation(1181.20 * FOOT, stack_height([7 * INCH] * 3 + [5 * INCH] * 3))
    assert printed("1184.20") == crest / FOOT
    assert printed("33.6") == rim_down(1187.00 * FOOT, crest) / INCH
    assert printed("54.6") == rim_down(1187.00 * FOOT, 1182.45 * FOOT) / INCH


@pytest.mark.by_hand(of=(crest_elevation, board_stack))
def test_lowered_crest_of_the_low_spot_variant_takes_29_inches():
    # highest crest 1183.645 is 29.3 in above the invert 1181.20; 29 in stands at 1183.617
    wanted = (1183.645 - 1181.20) * FOOT
    assert printed("29.3") == wanted / INCH
    stack = board_stack(wanted, board_heights=[7 * INCH, 5 * INCH])
    assert printed("1183.617") == crest_elevation(1181.20 * FOOT, stack_height(stack)) / FOOT


def best_of_all(target: int, heights: list[int], gap: int) -> tuple[int, ...]:
    """Best stack by trying every one; heights in tenths of an inch."""
    most = target // (min(heights) + gap)
    every = [
        tuple(sorted(stack, reverse=True))
        for count in range(most + 1)
        for stack in combinations_with_replacement(heights, count)
        if sum(stack) + gap * count <= target
    ]
    return max(every, key=lambda s: (sum(s) + gap * len(s), -len(s), s))


@pytest.mark.oracle("a search of every stack", of=(board_stack,))
@given(
    target=st.integers(0, 400),
    heights=st.lists(st.integers(30, 150), min_size=1, max_size=3, unique=True),
    gap=st.integers(0, 5),
)
def test_no_other_stack_is_better(target, heights, gap):
    stack = board_stack(
        target * TENTH, board_heights=[h * TENTH for h in heights], seal_gap=gap * TENTH
    )
    assert tuple(round(board / TENTH) for board in stack) == best_of_all(target, heights, gap)


@pytest.mark.law(of=(board_stack, stack_height))
@given(
    target=st.floats(0, 2),
    heights=st.lists(st.floats(0.05, 0.4), min_size=1, max_size=4),
    gap=st.floats(0, 0.01),
)
def test_no_stack_rises_above_its_target(target, heights, gap):
    stack = board_stack(target, board_heights=heights, seal_gap=gap)
    height = stack_height(stack, seal_gap=gap)
    assert height <= target + 1e-6  # boards within a micrometre are the same height
    assert target - height < min(heights) + gap
    assert list(stack) == sorted(stack, reverse=True)


@pytest.mark.works(of=(board_stack,))
def test_boards_without_height_are_refused():
    with pytest.raises(OutOfDomain, match="Every board height must be above 0 m"):
        board_stack(0.5, board_heights=[0.2, 0.0])
    with pytest.raises(OutOfDomain, match="List the heights that can be bought"):
        board_stack(0.5, board_heights=[])
    with pytest.raises(OutOfDomain, match="cannot be lower"):
        board_stack(-0.1, board_heights=[0.2])


@pytest.mark.by_hand(of=(stack_heights,))
def test_every_stack_up_to_a_height_is_listed_once():
    # of 8, 6 and 4 in up to 19 in: 4, 6, 8, 4+6, 6+6, 6+8, 8+8, 6+6+6
    heights = stack_heights(19 * INCH, board_heights=[8 * INCH, 6 * INCH, 4 * INCH])
    assert [round(height / INCH, 6) for height in heights] == [0, 4, 6, 8, 10, 12, 14, 16, 18]
    # two boards of 7 and a seal of 0.25 each are 14.5
    heights = stack_heights(15 * INCH, board_heights=[7 * INCH], seal_gap=0.25 * INCH)
    assert [round(height / INCH, 6) for height in heights] == [0, 7.25, 14.5]


@pytest.mark.law(of=(stack_heights, board_stack))
@given(st.lists(st.integers(20, 200), min_size=1, max_size=3), st.integers(0, 20))
def test_every_listed_height_is_what_would_be_stacked_for_it(tenths, gap):
    boards, seal_gap = [h * TENTH for h in tenths], gap * TENTH
    heights = stack_heights(700 * TENTH, board_heights=boards, seal_gap=seal_gap)
    assert list(heights) == sorted(set(heights))
    for height in heights:
        stack = board_stack(height, board_heights=boards, seal_gap=seal_gap)
        assert stack_height(stack, seal_gap=seal_gap) == pytest.approx(height, abs=1e-6)


@pytest.mark.works(of=(stack_heights,))
@pytest.mark.parametrize("boards", [[], [0.0], [0.1, -0.1]])
def test_without_boards_nothing_can_be_listed(boards):
    with pytest.raises(OutOfDomain, match="must be above 0 m"):
        stack_heights(1.0, board_heights=boards)
