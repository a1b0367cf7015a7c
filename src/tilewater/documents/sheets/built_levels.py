# SPDX-License-Identifier: Apache-2.0
"""Levels and lengths of finished work as they stand on a sheet: designed, built, difference."""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.chain.built_elements import Level
from tilewater.chain.built_grade import LaidRun, shot_key
from tilewater.chain.built_judged import part_key
from tilewater.chain.built_shots import Matched
from tilewater.documents.pages.built_page import signed
from tilewater.documents.words import Words, kind_of, step_value

NOT_SHOT = "not shot"
LENGTHS = ("length", "width", "chips, deep", "cover with crown")
"""Levels of the bed that are lengths."""
Row = tuple[str, str, str, str]


@dataclass(frozen=True)
class BuiltLevels:
    """Shots of finished work against the design.

    Attributes
    ----------
    trace : Trace
        Of the design, with the shots.
    levels : tuple of Level
    laid : tuple of LaidRun
    surveyed : str
        Day of the survey; "" where it is not stated.
    told : tuple of str
        What must be known of the shots.
    """

    trace: Trace
    levels: tuple[Level, ...]
    laid: tuple[LaidRun, ...]
    surveyed: str
    told: tuple[str, ...] = ()

    @property
    def is_empty(self) -> bool:
        """Whether no part of the works was shot; a check on a benchmark is none."""
        own = (level for level in self.levels if "benchmark" not in level.codes)
        levels = any(f"{part_key(level)}_m" in self.trace for level in own)
        return not levels and not any(_ends(self.trace, laid) for laid in self.laid)

    @property
    def status_words(self) -> str:
        """What the set is, before the number of the sheet is known."""
        day = f"surveyed {self.surveyed}" if self.surveyed else "day of the survey not stated"
        return f"drawn as designed; levels as built on {{sheet}}, {day}; by the engineer named"


def level_rows(built: BuiltLevels, words: Words) -> Iterator[Row]:
    """Levels of structures, bed, pipes and benchmarks; what was not shot says so."""
    for level in built.levels:
        if not _is_length(level) and level.what != "floor, worst shot":
            yield _row(built.trace, level, words)
    for laid in built.laid:
        yield from _run_rows(built.trace, laid, words)


def length_rows(built: BuiltLevels, words: Words) -> Iterator[Row]:
    """Lengths of the bed."""
    for level in built.levels:
        if _is_length(level):
            yield _row(built.trace, level, words)


def _is_length(level: Level) -> bool:
    return level.what in LENGTHS


def _row(trace: Trace, level: Level, words: Words) -> Row:
    here = part_key(level)
    kind = "length" if _is_length(level) else kind_of(f"{here}_m", "m") or "elevation"

    def say(key: str) -> str:
        return words.say(step_value(trace, key), kind, unit=False)

    design = say(level.design) if level.design else ""
    name = f"{level.element}: {level.what}"
    if f"{here}_m" not in trace:
        return name, design, NOT_SHOT, ""
    return name, design, say(f"{here}_m"), signed(trace, f"{here}.off_m", words)


def _ends(trace: Trace, laid: LaidRun) -> tuple[Matched, ...]:
    """The lowest and the highest shot of a pipe, among those held against the design."""
    known = [m for m in laid.shots if trace.known(f"{shot_key(laid, m)}.off_m")]
    return (known[0], known[-1]) if len(known) > 1 else tuple(known)


def _run_rows(trace: Trace, laid: LaidRun, words: Words) -> Iterator[Row]:
    name = f"pipe {laid.run.name}"
    ends = _ends(trace, laid)
    if not ends:
        yield f"{name}: invert", "", NOT_SHOT, ""
    for m in ends:
        own = shot_key(laid, m)
        along = words.say(step_value(trace, f"{own}.along_m"), "length")
        levels = (
            words.say(step_value(trace, f"{own}.{end}"), "elevation", unit=False)
            for end in ("design_invert_m", "invert_m")
        )
        design, built = levels
        yield (
            f"{name}: invert {along} from its lower end",
            design,
            built,
            signed(trace, f"{own}.off_m", words),
        )
