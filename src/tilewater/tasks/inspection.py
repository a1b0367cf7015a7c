# SPDX-License-Identifier: Apache-2.0
"""One thing looked at on site, and what every look begins with: the job, its design, the day.

A part is made by a module of its own from an `Inspection`. Its steps stand on its own trace, or are
added onto that of the design, so that `--explain` opens each of its numbers.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import TypeAlias

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.units import System
from tilewater.basis.unknown import is_unknown
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design, design_practice
from tilewater.chain.plain import Record
from tilewater.chain.practice import Practice
from tilewater.chain.practices import CHOOSE, first_practice, kind_of
from tilewater.documents.pages.said import Part as Said
from tilewater.documents.words import Words
from tilewater.tasks.checking import Checked
from tilewater.tasks.reader import words_for

STANDS = ("as_built.shots", "observed", "logger", "tracer")
"""Where a job tells of works that stand: shots of them, or readings of a bed that runs."""
Make: TypeAlias = Callable[[], bytes | str]
"""Gives the content of a file."""
Page: TypeAlias = Callable[[Words], tuple[Said, ...]]
"""Gives the blocks of a part in the words of a reader."""


@dataclass(frozen=True)
class Inspection:
    """What a look at the works begins with.

    Attributes
    ----------
    job : Checked
        The job as read.
    day : date
        The day of the look.
    system : "us" or "si"
        Units of the papers.
    by_days : bool
        Whether rules that rest on daily flow are judged too, where a part runs the design again.
    only : str
        Key of the one part that is asked for; "" for all.
    """

    job: Checked
    day: date
    system: System = "us"
    by_days: bool = True
    only: str = ""

    @cached_property
    def design(self) -> Design:
        """The design of the job, without its days; computed when a part first asks for it."""
        return design_practice(self.job.inputs, self.practice, by_days=False)

    @cached_property
    def practice(self) -> Practice:
        """The practice that the job asks for; where it is to be chosen, the one that is chosen."""
        if kind_of(self.job.inputs) == CHOOSE:
            return design_asked(self.job.inputs).design.practice
        return first_practice(self.job.inputs)

    @property
    def is_to_be_built(self) -> bool:
        """Whether nothing of the job tells yet that the practice stands."""
        begins = tuple(f"inputs.{place}" for place in STANDS)
        return not any(
            given.key.startswith(begins) and not is_unknown(given.value)
            for given in self.job.inputs.givens
        )

    @property
    def words(self) -> Words:
        """How values become text on the papers of this look."""
        return words_for(self.job, self.system)


@dataclass(frozen=True)
class Part:
    """One thing looked at on site.

    Attributes
    ----------
    key : str
        Its name: "chips", "supply", "grade", "built", "gates" or "holds".
    title : str
    trace : Trace
        Where `--explain` finds its numbers.
    record : dict
        The part as other programs read it, SI with the unit in each name.
    page : callable
        Gives its blocks in the words of a reader.
    notes : tuple of Finding
    files : mapping of str to callable
        What is written into the folder of the results.
    short : bool
        Whether something of it falls short.
    """

    key: str
    title: str
    trace: Trace = field(repr=False)
    record: Record = field(repr=False)
    page: Page = field(repr=False)
    notes: tuple[Finding, ...] = ()
    files: Mapping[str, Make] = field(default_factory=dict)
    short: bool = False
