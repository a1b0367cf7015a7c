# SPDX-License-Identifier: Apache-2.0
"""What a practice offers to the chain: its name, its standard, its inputs, and its steps."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from tilewater.basis.trace import Given, Trace
from tilewater.chain.inputs import JobInputs

Steps = Callable[[Trace], None]


@dataclass(frozen=True)
class Omission:
    """Inputs that a practice has no use for, though the job may state them for another.

    Attributes
    ----------
    keys : tuple of str
        Beginnings of keys, as regular expressions.
    pipe_uses : frozenset of str
        Uses of pipes that are no part of it.
    """

    keys: tuple[str, ...] = ()
    pipe_uses: frozenset[str] = frozenset()

    def applied_to(self, givens: tuple[Given, ...]) -> tuple[Given, ...]:
        """The inputs that are left."""
        pipes = [
            re.escape(given.key.removesuffix(".use")) + r"\."
            for given in givens
            if re.fullmatch(r"inputs\.pipe\.[^.]+\.use", given.key)
            and given.value in self.pipe_uses
        ]
        patterns = (*self.keys, *pipes)
        if not patterns:
            return givens
        other = re.compile("|".join(patterns))
        return tuple(given for given in givens if not other.match(given.key))


@dataclass(frozen=True)
class Practice:
    """A practice as the chain designs it.

    Attributes
    ----------
    name : str
        "bed", "buffer", ... as in the job and in the result.
    words : str
        What it is called on paper.
    standard, edition : str
        What it is judged by while the job leaves that open.
    has_ways : bool
        Whether the job chooses among the ways of its standard to set the flow.
    leaves_out : Omission
        Inputs of a job that only other practices have.
    add_boards : callable
        Records the boards of each setting and their ratings.
    add_crests : callable
        Records the crests of the design setting under their names in the ladder.
    add : callable
        Records all the rest of it that a day of flow does not change.
    add_days : callable
        Routes known days through it.
    add_removal : callable
        Records what it removes.
    tell_days : callable
        Says what the days rest on.
    judge_site : callable
        Holds it to ground and rights.
    add_section : callable
        Records what the section across it is drawn from.
    add_by_draw : callable
        Records by draw what its criteria judge.
    by_draw : mapping
        What a criterion judges, and the key of the same by draw.
    """

    name: str
    words: str
    standard: str
    edition: str
    has_ways: bool
    leaves_out: Omission
    add_boards: Steps
    add_crests: Steps
    add: Steps
    add_days: Steps
    add_removal: Steps
    tell_days: Steps
    judge_site: Steps
    add_section: Steps
    add_by_draw: Steps
    by_draw: Mapping[str, str]

    def givens_of(self, job: JobInputs) -> tuple[Given, ...]:
        """Inputs of a job less those that only other practices have."""
        return self.leaves_out.applied_to(job.givens)
