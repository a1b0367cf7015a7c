# SPDX-License-Identifier: Apache-2.0
"""The seasons for which the ditch is computed; a job without seasons has one, the year."""

from dataclasses import dataclass

from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.practices.bed.settings import DESIGN

YEAR = "year"
WORDS = {"stage": "Ordinary water of the ditch", "high": "High water of the ditch"}
SPOKEN = {"stage": "ordinary", "high": "high"}


@dataclass(frozen=True)
class SeasonKeys:
    """A season with the keys of its days.

    Attributes
    ----------
    name : str
    boards : str
        Setting of the boards in it.
    first, last : str
        Keys of its first and last day.
    """

    name: str
    boards: str
    first: str
    last: str

    @property
    def word(self) -> str:
        """The season as the name of an argument."""
        return argument_name(self.name)

    @property
    def is_listed(self) -> bool:
        """Whether the job has this season, not only the year that stands for all."""
        return self.boards != DESIGN

    def key(self, what: str) -> str:
        """Key of a value of the ditch in this season."""
        return f"ditch.{self.name}.{what}"

    def given(self, what: str) -> str:
        """Key of an input of this season."""
        return f"inputs.season.{self.name}.{what}"


def seasons_of(trace: Trace) -> tuple[SeasonKeys, ...]:
    """Seasons of a job, or the whole year where it has none."""
    names = trace.names("inputs.season")
    if names:
        return tuple(
            SeasonKeys(n, n, f"inputs.season.{n}.from", f"inputs.season.{n}.to") for n in names
        )
    ends = [
        trace.constant(f"ditch.{YEAR}.{end}", day, f"{title} of the year", source="derived")
        for end, day, title in (("first", "01-01", "First day"), ("last", "12-31", "Last day"))
    ]
    return (SeasonKeys(YEAR, DESIGN, *ends),)


def give_unknown(
    trace: Trace,
    key: str,
    title: str,
    why: str,
    measure: str,
    *,
    unit: str = "m",
    causes: tuple[str, ...] = (),
) -> str:
    """Record a value as not known, with why and what to measure, and return its key."""
    trace.give(Given(key, Unknown(why, measure, causes), unit, title))
    return key
