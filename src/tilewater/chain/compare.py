# SPDX-License-Identifier: Apache-2.0
"""Practices of one outlet side by side: bed, buffer, raised outlet, both in a row, leaving it.

Each is designed by itself from the same job, so that adding one changes nothing of the others. All
are drawn alike: draw 7 has the same nitrate on the same days in each. It reads and writes no file.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tilewater.basis.trace import Given, Origin, Trace
from tilewater.chain.compare_contenders import (
    NAMES,
    NONE,
    ROW,
    WORDS,
    Contender,
    contender,
    missing_of,
)
from tilewater.chain.compare_pairs import MEASURES, Answer, Pair, add_pairs, answer
from tilewater.chain.compare_row import row_of
from tilewater.chain.compare_steps import REMOVED, add_owner, adopt
from tilewater.chain.compare_worth import Choice, add_choice
from tilewater.chain.days import DRAWS
from tilewater.chain.design import Design, design_practice
from tilewater.chain.inputs import JobInputs
from tilewater.chain.practice import Practice


@dataclass(frozen=True)
class PracticeComparison:
    """Practices of one outlet side by side.

    Attributes
    ----------
    job : JobInputs
        What all were computed from.
    contenders : tuple of Contender
        In the order of the page, what is not described among them.
    trace : Trace
        Every step of every design under the name of its practice, and the pairs.
    pairs : tuple of Pair
    answers : tuple of Answer
        Among those that may be built.
    choice : Choice or None
        What to measure before one is chosen; None where nothing can be weighed.
    """

    job: JobInputs
    contenders: tuple[Contender, ...]
    trace: Trace
    pairs: tuple[Pair, ...]
    answers: tuple[Answer, ...]
    choice: Choice | None

    def contender(self, name: str) -> Contender:
        """The contender of a name."""
        return next(each for each in self.contenders if each.name == name)

    @property
    def buildable(self) -> tuple[str, ...]:
        """Names of those of which nothing falls short."""
        return tuple(each.name for each in self.contenders if each.may_be_built)


def compare_practices(
    job: JobInputs,
    names: tuple[str, ...] = NAMES,
    *,
    design: Callable[[JobInputs, Practice], Design] = design_practice,
    tell: Callable[[str], None] = lambda _: None,
) -> PracticeComparison:
    """Design the practices that a job describes, and set them side by side.

    Parameters
    ----------
    job : JobInputs
        Inputs of the job. [-]
    names : tuple of str
        Which; any order gives the same. [-]
    design : callable
        Designs and judges a practice of a job. [-]
    tell : callable
        Takes the words of each before it is designed. [-]

    Returns
    -------
    PracticeComparison
    """
    trace, found = Trace(), {}
    for name in (n for n in NAMES if n in names and n != ROW):
        tell(WORDS[name])
        found[name] = contender(job, name, design)
        made = found[name].design
        if made is not None:
            adopt(trace, name, made.trace)
            add_owner(trace, found[name])
    if NONE in found:
        _leave(trace)
    if ROW in names:
        tell(WORDS[ROW])
        found[ROW] = _row(trace, job, found)
    contenders = tuple(found[name] for name in NAMES if name in found)
    pairs = add_pairs(trace, contenders)
    buildable = [each.name for each in contenders if each.may_be_built]
    answers = tuple(answer(pairs, buildable, measure) for measure in MEASURES)
    choice = add_choice(trace, contenders)
    return PracticeComparison(job, contenders, trace, pairs, answers, choice)


def _row(trace: Trace, job: JobInputs, found: dict[str, Contender]) -> Contender:
    missing = missing_of(job, ROW)
    parts = [found.get(name) for name in ("bed", "buffer")]
    bed, buffer = parts
    if missing or bed is None or buffer is None:
        wanted = missing or ("both of it among what is compared",)
        return Contender(ROW, WORDS[ROW], verdict="not described", missing=wanted)
    row = row_of(trace, bed, buffer)
    add_owner(trace, row)
    return row


def _leave(trace: Trace) -> None:
    """Nothing is removed and nothing is paid where all is left as it is."""
    origin = Origin(source="derived")
    nothing = np.zeros(DRAWS)
    title = "Removed where all is left as it is, by draw"
    trace.give(Given(f"{NONE}.{REMOVED}", nothing, "kg", title, origin))
    for key, unit, words in (
        ("owner.annual_usd", "USD", "Cost of a year"),
        ("owner.hours", "h", "Hours of the owner in a year"),
        ("owner.land_m2", "m2", "Ground that is taken"),
    ):
        title = f"{words} where all is left as it is"
        trace.give(Given(f"{NONE}.{key}", 0.0, unit, title, origin))
