# SPDX-License-Identifier: Apache-2.0
"""The way of a search through sizes, and the front that it keeps, on problems made for it."""

from collections.abc import Sequence
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tilewater.chain.search_axes import Candidate
from tilewater.chain.search_draws import Met, regrets_of, robust_of
from tilewater.chain.search_walk import (
    Tried,
    Walk,
    amount,
    coarse_places,
    front_of,
    moves_of,
    spread,
)

SIZES = (17, 13, 9)


def bed(candidate: Candidate, *, head: int = 3, most: int = 30) -> Tried:
    """An invented bed: long, wide and steep cost; wide and steep removes; some are not allowed."""
    long, wide, steep = candidate
    cost = 3.0 * long + 4.0 * wide + 1.0 * steep + 0.05 * long * wide
    removed = (long + 1) ** 0.5 * (wide + 1) ** 0.6 * (1 + 0.2 * steep)
    short = []
    if long + wide > most:
        short.append("room")
    if steep > long // 2 + head:
        short.append("head")
    slack = float(min(most - long - wide, long // 2 + head - steep))
    passes = not short
    return Tried(
        candidate,
        cost,
        cost / 10,
        removed if passes else None,
        short[0] if short else "room",
        slack,
        tuple(short),
    )


def walk_over(head: int, most: int, start: int) -> Walk:
    def ask(candidates: Sequence[Candidate]) -> list[Tried]:
        return [bed(candidate, head=head, most=most) for candidate in candidates]

    walk = Walk(SIZES, ask, start)
    assert walk.go()
    return walk


@pytest.mark.law(of=(Walk, front_of))
@settings(max_examples=25)
@given(head=st.integers(0, 6), most=st.integers(6, 30), start=st.integers(4, 200))
def test_the_front_of_a_walk_is_that_of_the_dense_grid(head: int, most: int, start: int) -> None:
    dense = front_of(bed(c, head=head, most=most) for c in product(*map(range, SIZES)))
    walk = walk_over(head, most, start)
    found = front_of(walk.tried.values())

    worth = [(amount(t.cost), amount(t.removed)) for t in found]
    for each in dense:
        best = max(removed for cost, removed in worth if cost <= amount(each.cost) + 1e-9)
        assert best >= 0.99 * amount(each.removed)
    assert found[-1].removed == dense[-1].removed


@pytest.mark.law(of=(Walk,))
def test_a_walk_asks_nothing_twice_and_less_than_all() -> None:
    asked: list[Candidate] = []

    def ask(candidates: Sequence[Candidate]) -> list[Tried]:
        asked.extend(candidates)
        return [bed(candidate) for candidate in candidates]

    assert Walk(SIZES, ask, 30).go()
    assert len(asked) == len(set(asked)) < 17 * 13 * 9


@pytest.mark.works(of=(Walk,))
def test_a_walk_ends_where_nobody_answers() -> None:
    def ask(candidates: Sequence[Candidate]) -> list[Tried]:
        return [bed(candidate) for candidate in candidates[:5]]

    walk = Walk(SIZES, ask, 30)

    assert not walk.go()
    assert len(walk.tried) == 5


@pytest.mark.law(of=(Walk,))
def test_a_walk_finds_its_way_where_no_bed_of_the_first_grid_passes() -> None:
    def ask(candidates: Sequence[Candidate]) -> list[Tried]:
        return [narrow(candidate) for candidate in candidates]

    def narrow(candidate: Candidate) -> Tried:
        away = abs(candidate[0] - 5) + abs(candidate[1] - 7) + abs(candidate[2] - 3)
        short = ("place",) if away else ()
        return Tried(candidate, 1.0, 0.1, None if away else 1.0, "place", -float(away), short)

    walk = Walk(SIZES, ask, 8)
    walk.go()

    assert [t.candidate for t in front_of(walk.tried.values())] == [(5, 7, 3)]


@pytest.mark.by_hand(of=(front_of,))
def test_a_front_by_hand() -> None:
    cost_and_removed = [(10, 5), (12, 4), (12, 6), (11, 5), (15, 9), (16, None), (20, 9)]
    tried = [
        Tried((n,), float(c), 1.0, None if r is None else float(r), "", 1.0, ())
        for n, (c, r) in enumerate(cost_and_removed)
    ]
    tried.append(Tried((9,), 1.0, 1.0, 99.0, "room", -1.0, ("room",)))

    assert [t.candidate[0] for t in front_of(tried)] == [0, 2, 4]


@pytest.mark.by_hand(of=(coarse_places, moves_of, spread))
def test_places_moves_and_order_by_hand() -> None:
    assert coarse_places((3, 2), 6) == [[0, 1, 2], [0, 1]]
    assert coarse_places((9, 1), 3) == [[0, 4, 8], [0]]
    assert moves_of((2, 1)) == [
        (-2, 0),
        (2, 0),
        (0, -1),
        (0, 1),
        (-2, 1),
        (2, -1),
        (-2, -1),
        (2, 1),
    ]
    assert spread([(0,), (1,), (2,), (3,), (4,)]) == [(0,), (4,), (2,), (1,), (3,)]


@pytest.mark.by_hand(of=(regrets_of, robust_of))
def test_regret_by_hand() -> None:
    """Kilograms cost 10 and 5 USD with one bed, 8 and 8 with the other: it is cheaper by 2, or
    dearer by 3."""
    one = Met(Tried((1,), 1.0, 100.0, 10.0, "", 1.0, ()), np.array([10.0, 20.0]), (), ())
    other = Met(Tried((2,), 2.0, 80.0, 10.0, "", 1.0, ()), np.array([10.0, 10.0]), (), ())

    first, second = regrets_of((one, other))

    # nine tenths of the way between the two draws, in order of regret
    assert first.regret == pytest.approx(0.0 + 0.9 * (2.0 - 0.0))
    assert second.regret == pytest.approx(0.0 + 0.9 * (3.0 - 0.0))
    assert (first.best_in, second.best_in) == (0.5, 0.5)
    assert robust_of((first, second)) is first
    doubtful, short = (
        regrets_of((Met(one.tried, one.removed, ("a",), s), other)) for s in ((), ("b",))
    )
    assert robust_of(doubtful) is not None
    assert [robust_of(w).tried.candidate for w in (doubtful, short)] == [(2,), (2,)]  # type: ignore[union-attr]
    assert robust_of(()) is None
