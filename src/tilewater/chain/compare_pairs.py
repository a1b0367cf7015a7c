# SPDX-License-Identifier: Apache-2.0
"""Which practice removes more and which is cheaper a kilogram, pair by pair over their draws.

Nobody is called ahead of another whom it does not beat in nine draws of ten. Where two cannot be
told apart, the parameter that their difference hangs on most is named; what to measure is the
business of `compare_worth`.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.tables import read_table
from tilewater.basis.trace import Trace
from tilewater.chain.compare_contenders import NONE, ROW, Contender
from tilewater.chain.compare_draws import (
    TOLD_APART,
    Array,
    Hinge,
    difference_of_draws,
    hinge_of,
    share_better,
    share_less,
)
from tilewater.chain.compare_steps import KEPT, removed_key

MEASURES = {"removed": "takes out most nitrate", "usd_per_kg": "takes out the cheapest kilogram"}
"""What is compared, and what it is called when one is ahead."""


@dataclass(frozen=True)
class Pair:
    """Two practices side by side in one measure.

    Attributes
    ----------
    first, second : str
        Names.
    measure : str
        "removed" or "usd_per_kg".
    first_better, second_better : float
        Share of the draws in which each does better. [-]
    hinge : Hinge or None
        What their difference hangs on most; None where nothing was drawn.
    """

    first: str
    second: str
    measure: str
    first_better: float
    second_better: float
    hinge: Hinge | None

    @property
    def better(self) -> str:
        """The one that does better in nine draws of ten; "" where they cannot be told apart."""
        if self.first_better >= TOLD_APART:
            return self.first
        return self.second if self.second_better >= TOLD_APART else ""


@dataclass(frozen=True)
class Answer:
    """Who is ahead in one measure.

    Attributes
    ----------
    measure : str
    ahead : str
        Name of the one that beats every other; "" where nobody does.
    front : tuple of str
        Those that nobody beats, in the order of the page.
    """

    measure: str
    ahead: str
    front: tuple[str, ...]


def add_pairs(trace: Trace, contenders: Sequence[Contender]) -> tuple[Pair, ...]:
    """Record every pair of those that have draws, in both measures."""
    drawn = [c.name for c in contenders if c.is_described and removed_key(trace, c.name)]
    pairs = []
    for first, second in combinations(sorted(drawn), 2):
        pairs.append(_pair(trace, first, second, "removed"))
        costs = [f"{name}.owner.usd_per_kg_by_draw" for name in (first, second)]
        if NONE not in (first, second) and trace.known(*costs):
            pairs.append(_pair(trace, first, second, "usd_per_kg"))
    return tuple(pairs)


def _pair(trace: Trace, first: str, second: str, measure: str) -> Pair:
    here = f"pairs.{first}.{second}.{measure}"
    removes = measure == "removed"
    keys = [
        (removed_key(trace, name) or "") if removes else f"{name}.owner.usd_per_kg_by_draw"
        for name in (first, second)
    ]
    words = "removes more" if removes else "is cheaper a kilogram"
    shares = []
    for name, inputs in ((first, keys), (second, keys[::-1])):
        shares.append(
            trace.compute(
                f"{here}.{name}_better",
                share_better if removes else share_less,
                unit="-",
                title=f"Share of the draws in which {name} {words}",
                first=inputs[0],
                second=inputs[1],
            )
        )
    if not removes:
        keys = [f"{name}.owner.kg_per_usd_by_draw" for name in (first, second)]
    hinge = _hinge(trace, here, first, second, keys)
    return Pair(first, second, measure, float(shares[0]), float(shares[1]), hinge)


def _hinge(trace: Trace, here: str, first: str, second: str, keys: list[str]) -> Hinge | None:
    drawn = _drawn(trace, first) | _drawn(trace, second)
    if not drawn:
        return None
    trace.compute(
        f"{here}.difference_kg",
        difference_of_draws,
        unit="kg",
        title=f"{first} less {second}, by draw",
        first=keys[0],
        second=keys[1],
    )
    trace.compute(
        f"{here}.drawn",
        drawn_together,
        unit="",
        title=f"Values drawn for {first} and {second}",
        **drawn,
        **({"kept": KEPT} if trace.known(KEPT) else {}),
    )
    found: Hinge = trace.compute(
        f"{here}.hinge",
        hinge_of,
        unit="",
        title=f"What the difference of {first} and {second} hangs on most",
        difference=f"{here}.difference_kg",
        drawn=f"{here}.drawn",
    )
    return found


def _drawn(trace: Trace, name: str) -> dict[str, str]:
    """Keys of what was drawn, by practice; a row has that of both."""
    parts = ("bed", "buffer") if name == ROW else (name,)
    return {part: key for part in parts if (key := f"{part}.days.drawn") in trace}


def drawn_together(
    kept: NDArray[np.int64] | None = None, **drawn: Mapping[str, Array]
) -> dict[str, Array]:
    """Values drawn for several practices, by name; of one name all have the same.

    Parameters
    ----------
    kept : array of int or None
        Numbers of the draws that the bed's were weighed to. [-]
    **drawn : mapping of str to array
        Of each practice. [-]

    Returns
    -------
    dict of str to array
        Of all. [-]

    References
    ----------
    derived, a union
    """
    together = {name: values for each in drawn.values() for name, values in each.items()}
    return together if kept is None else {name: v[kept] for name, v in together.items()}


def answer(pairs: Sequence[Pair], names: Sequence[str], measure: str) -> Answer:
    """Who is ahead among some practices, and whom nobody beats.

    Parameters
    ----------
    pairs : sequence of Pair
        Every pair. [-]
    names : sequence of str
        Those that may be built, in the order of the page. [-]
    measure : str
        "removed" or "usd_per_kg". [-]

    Returns
    -------
    Answer
        One that is alone is ahead of nobody but is all the front.

    References
    ----------
    derived, each pair by itself
    """
    among = set(names)
    judged = [
        pair for pair in pairs if pair.measure == measure and {pair.first, pair.second} <= among
    ]
    known = {name for pair in judged for name in (pair.first, pair.second)}
    beaten = {
        pair.second if pair.better == pair.first else pair.first for pair in judged if pair.better
    }
    wins = {name: sum(pair.better == name for pair in judged) for name in names}
    front = tuple(name for name in names if name not in beaten and (name in known or not known))
    ahead = [name for name in names if known and wins[name] == len(known) - 1 > 0]
    return Answer(measure, ahead[0] if ahead else "", front)


@cache
def hinge_words(slug: str) -> str:
    """What a parameter is called, as two practices hang on it.

    Parameters
    ----------
    slug : str
        Its name. [-]

    Returns
    -------
    str
        In words.

    Raises
    ------
    UnknownName
        If there is no such parameter.
    """
    return read_table("tilewater.chain", "practice_hinges").row(slug).text("what")
