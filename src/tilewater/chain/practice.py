# SPDX-License-Identifier: Apache-2.0
"""What a practice offers to the chain: its name, its standard, and its steps."""

from collections.abc import Callable
from dataclasses import dataclass

from tilewater.basis.trace import Trace

Steps = Callable[[Trace], None]


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
    add : callable
        Records all of it that a day of flow does not change.
    add_days : callable
        Routes known days through it.
    add_removal : callable
        Records what it removes.
    tell_days : callable
        Says what the days rest on.
    judge_site : callable
        Holds it to ground and rights.
    """

    name: str
    words: str
    standard: str
    edition: str
    add: Steps
    add_days: Steps
    add_removal: Steps
    tell_days: Steps
    judge_site: Steps
