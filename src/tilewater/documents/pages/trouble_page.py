# SPDX-License-Identifier: Apache-2.0
"""What to look at, in order, when a practice that runs does what it should not.

Plain words for who stands at the lid, each step with where it is from. Numbers of the design stand
beside the steps that need them.
"""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from importlib import resources

from tilewater.basis.trace import Trace
from tilewater.chain.explain import HONESTY, sources
from tilewater.documents.pages.said import Block, Part, Said, block
from tilewater.documents.words import Words, step_value

FIRST = (
    "Nobody climbs into a structure or leans in below its rim, whatever is wrong: gas gathers "
    "there. Boards are pulled with the hook, from above."
)
RIM_DOWN = "Measure down from the rim to the "
"""How titles of boards begin; the step says it already."""
NO_SEASON = "-design."
"""In the keys of the boards that a design is judged by; the card in the lid has seasons only."""


@dataclass(frozen=True)
class Step:
    """One thing to look at: what it tells, what to do then, its source, keys of numbers to it."""

    look: str
    tells: str
    then: str
    source: str
    numbers: tuple[tuple[str, str], ...]

    @property
    def label(self) -> str:
        """Where it is from, and how honest that is."""
        entry = sources()[self.source]
        seen = HONESTY[entry["seen"]]
        return seen if self.source == "practice" else f"{self.source}: {seen}"


@dataclass(frozen=True)
class Trouble:
    """One trouble with its steps in order; a caution where it can hurt."""

    name: str
    title: str
    first: str
    caution: str
    steps: tuple[Step, ...]


@cache
def troubles(*, has_bed: bool = True) -> tuple[Trouble, ...]:
    """Every trouble of a practice, with or without a bed of chips, in the order of the page."""
    file = resources.files("tilewater.documents.pages") / "troubles.toml"
    tables = tomllib.loads(file.read_text(encoding="utf-8"))
    return tuple(
        Trouble(
            name,
            table["title"],
            table["first"],
            table.get("caution", ""),
            tuple(
                _step(each)
                for each in table.values()
                if isinstance(each, dict) and (has_bed or "only" not in each)
            ),
        )
        for name, table in tables.items()
        if has_bed or "only" not in table
    )


def has_bed(trace: Trace | None) -> bool:
    """Whether a design has a bed of chips; one that is not known is taken to."""
    return trace is None or any(key.startswith("bed.") for key in trace.steps)


def _step(table: dict[str, object]) -> Step:
    numbers = table.get("numbers", [])
    listed = numbers if isinstance(numbers, list) else []
    pairs = tuple((key, kind) for key, _, kind in (str(n).partition("|") for n in listed))
    look, tells, then, source = (str(table[key]) for key in ("look", "tells", "then", "source"))
    return Step(look, tells, then, source, pairs)


def trouble_page(title: str, trace: Trace | None, words: Words) -> Iterator[Part]:
    """Blocks of the page in their order.

    Parameters
    ----------
    title : str
        Of the job.
    trace : Trace or None
        Of its design; None where there is none, and then no numbers are shown.
    words : Words
        Units of the reader.

    Returns
    -------
    iterator of Part
    """
    yield Said(title, "strong").append("  what to look at when something is wrong", "quiet")
    yield Said(FIRST, "binds")
    for trouble in troubles(has_bed=has_bed(trace)):
        yield trouble_block(trouble, trace, words)


def trouble_block(trouble: Trouble, trace: Trace | None, words: Words) -> Block:
    """A trouble with its steps as one block; steps stand one below the other, for a phone."""
    parts: list[Part] = [Said(trouble.first)]
    if trouble.caution:
        parts.append(Said(trouble.caution, "binds"))
    for number, step in enumerate(trouble.steps, start=1):
        parts.append(_said(number, step, trace, words))
    return block(trouble.title, "", *parts)


def _said(number: int, step: Step, trace: Trace | None, words: Words) -> Said:
    said = Said.assemble((f"{number}. {step.look}", "strong"))
    for line in () if trace is None else _numbers(step, trace, words):
        said.append("\n", "quiet").append(line)
    said.append(f"\n{step.tells} ", "").append(f"({step.label})", "quiet")
    return said.append(f"\nThen: {step.then}", "")


def _numbers(step: Step, trace: Trace, words: Words) -> Iterator[Said]:
    """Numbers of the design beside a step; each value leads to where it is from."""
    for pattern, kind in step.numbers:
        for key in (each for each in trace.steps if fnmatchcase(each, pattern)):
            if trace.known(key) and NO_SEASON not in key:
                found = trace.steps[key]
                value = step_value(trace, key)
                text = f"{value:.1f} h" if found.unit == "h" else words.say(value, kind)
                title = found.title.removeprefix(RIM_DOWN)
                yield Said.assemble((f"{title}: ", "quiet"), Said(text, "", key))
