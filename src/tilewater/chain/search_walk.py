# SPDX-License-Identifier: Apache-2.0
"""The way of a search through the sizes: a coarse grid first, then ever smaller steps at the front.

The front holds every candidate that no other beats in both cost and nitrate. Around each of its
members the neighbours are asked, one axis or two at a time; when all are known the steps are
halved, down to one size. Which candidate is asked next depends on those before it and on nothing
else, so that a longer search begins with the whole of a shorter one.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

from tilewater.chain.search_axes import Candidate

START = 20_000
"""Candidates of the first grid, at most; a smaller problem is asked whole."""
NEAREST = 24
"""Candidates that fall short least, from which the search goes on while none passes."""


@dataclass(frozen=True)
class Tried:
    """What became of a candidate.

    Attributes
    ----------
    candidate : tuple of int
        Level of each axis; empty for the design itself.
    cost, annual : float or None
        Estimate, and cost of a year; None where it fell short before they were asked. [USD]
    removed : float or None
        Nitrate nitrogen taken out in a mean year at the middle of every range; None where it fell
        short before the days were asked. [kg]
    binds : str
        Key of the requirement with the least reserve, of those that fall short the worst.
    slack : float
        Its reserve, negative where it falls short. [-]
    short : tuple of str
        Keys of what falls short.
    doubtful : tuple of str
        Keys of what is kept at one end of the range of rates and not at the other.
    """

    candidate: Candidate
    cost: float | None
    annual: float | None
    removed: float | None
    binds: str
    slack: float
    short: tuple[str, ...]
    doubtful: tuple[str, ...] = ()

    @property
    def passes(self) -> bool:
        """Whether nothing that its size changes falls short."""
        return not self.short and None not in (self.cost, self.annual, self.removed)


def front_of(tried: Iterable[Tried]) -> tuple[Tried, ...]:
    """Those that pass and that no other beats in both cost and nitrate, from the cheapest up.

    Parameters
    ----------
    tried : iterable of Tried
        Candidates. [-]

    Returns
    -------
    tuple of Tried
        Rising in cost and in nitrate. [-]

    Notes
    -----
    kept where no other costs no more and removes no less; of equals the first in order    (derived)

    References
    ----------
    derived, order of two measures
    """
    kept: list[Tried] = []
    best = float("-inf")
    for each in sorted((t for t in tried if t.passes), key=_cheap_first):
        if amount(each.removed) > best:
            kept.append(each)
            best = amount(each.removed)
    return tuple(kept)


def amount(number: float | None) -> float:
    """A number of a candidate that passes, which has all of them.

    Parameters
    ----------
    number : float or None
        Cost or nitrate, in its own unit. [-]

    Returns
    -------
    float
        The same number. [-]

    References
    ----------
    derived, a copy
    """
    assert number is not None
    return number


def _cheap_first(each: Tried) -> tuple[float, float, Candidate]:
    return amount(each.cost), -amount(each.removed), each.candidate


class Walk:
    """Candidates in the order in which they are asked.

    Parameters
    ----------
    sizes : sequence of int
        Levels of each axis.
    ask : callable
        Asks candidates and gives back what became of them, in order; fewer where it was stopped.
    start : int
        Candidates of the first grid, at most.
    """

    def __init__(
        self,
        sizes: Sequence[int],
        ask: Callable[[Sequence[Candidate]], Sequence[Tried]],
        start: int = START,
    ) -> None:
        self.sizes, self.ask = tuple(sizes), ask
        self.tried: dict[Candidate, Tried] = {}
        self.places = coarse_places(self.sizes, start)

    def go(self) -> bool:
        """Walk to the end; False where it was stopped before."""
        if not self._ask(product(*self.places)):
            return False
        steps = [
            max(1, round((size - 1) / max(1, len(places) - 1) / 2))
            for size, places in zip(self.sizes, self.places, strict=True)
        ]
        while True:
            if not self._settle(steps):
                return False
            if max(steps) == 1:
                return True
            steps = [max(1, step // 2) for step in steps]

    def _settle(self, steps: Sequence[int]) -> bool:
        """Ask the neighbours of the front until it moves no more."""
        moves, done = moves_of(steps), set[Candidate]()
        while True:
            parents = [p for p in self._parents() if p not in done]
            if not parents:
                return True
            done.update(parents)
            if not self._ask(self._neighbours(parents, moves)):
                return False

    def _parents(self) -> list[Candidate]:
        """The front, spread so that its whole length is asked early; else what is nearest."""
        front = [each.candidate for each in front_of(self.tried.values())]
        if front:
            return spread(front)
        nearest = sorted(self.tried.values(), key=lambda t: (len(t.short), -t.slack, t.candidate))
        return [each.candidate for each in nearest[:NEAREST]]

    def _neighbours(
        self, parents: Sequence[Candidate], moves: Sequence[Candidate]
    ) -> Iterator[Candidate]:
        for parent in parents:
            for move in moves:
                there = tuple(place + step for place, step in zip(parent, move, strict=True))
                if all(0 <= p < size for p, size in zip(there, self.sizes, strict=True)):
                    yield there

    def _ask(self, candidates: Iterable[Candidate]) -> bool:
        new = [c for c in dict.fromkeys(candidates) if c not in self.tried]
        answers = self.ask(new)
        self.tried |= {each.candidate: each for each in answers}
        return len(answers) == len(new)


def coarse_places(sizes: Sequence[int], most: int) -> list[list[int]]:
    """Places of a coarse grid on each axis, ends included; all of them where they are few.

    Parameters
    ----------
    sizes : sequence of int
        Levels of each axis. [-]
    most : int
        Points of the grid, at most. [-]

    Returns
    -------
    list of list of int
        Places of each axis. [-]

    References
    ----------
    derived, as many on each axis as its square root asks
    """
    counts = [1] * len(sizes)
    points = 1
    while True:
        room = [
            axis
            for axis, size in enumerate(sizes)
            if counts[axis] < size and points // counts[axis] * (counts[axis] + 1) <= most
        ]
        if not room:
            break
        axis = max(room, key=lambda each: (sizes[each] / counts[each] ** 2, -each))
        points = points // counts[axis] * (counts[axis] + 1)
        counts[axis] += 1
    return [_even_places(size, count) for size, count in zip(sizes, counts, strict=True)]


def _even_places(size: int, count: int) -> list[int]:
    if count == 1:
        return [size // 2]
    return sorted({round(place * (size - 1) / (count - 1)) for place in range(count)})


def moves_of(steps: Sequence[int]) -> list[Candidate]:
    """Steps along one axis and along two at a time.

    Parameters
    ----------
    steps : sequence of int
        Step of each axis, in levels. [-]

    Returns
    -------
    list of tuple of int
        Moves. [-]

    References
    ----------
    derived, neighbours in a grid
    """
    axes = range(len(steps))
    moves = [{axis: sign * steps[axis]} for axis in axes for sign in (-1, 1)]
    moves += [
        {first: one * steps[first], second: two * steps[second]}
        for first, second in combinations(axes, 2)
        for one, two in ((-1, 1), (1, -1), (-1, -1), (1, 1))
    ]
    return [tuple(move.get(axis, 0) for axis in axes) for move in moves]


def spread(members: Sequence[Candidate]) -> list[Candidate]:
    """Members in an order that visits ends and middle first and fills in between them.

    Parameters
    ----------
    members : sequence of Candidate
        In their order. [-]

    Returns
    -------
    list of Candidate
        The same in another order. [-]

    References
    ----------
    derived, halving
    """
    order: list[int] = []
    count = len(members)
    parts = 1
    while len(order) < count:
        marks = (round(part * (count - 1) / parts) for part in range(parts + 1))
        order += [mark for mark in marks if mark not in order]
        parts *= 2
    return [members[place] for place in order]
