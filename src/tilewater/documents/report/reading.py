# SPDX-License-Identifier: Apache-2.0
"""Numbers of a design as a page wants them: in words, and with the mark of their step."""

from dataclasses import dataclass, field
from typing import Any

from tilewater.basis.trace import Step, Trace
from tilewater.basis.units import Style
from tilewater.chain.calculation import Calculation
from tilewater.documents.paper.blocks import Cell, Run, number
from tilewater.documents.report.material import ReportMaterial
from tilewater.documents.words import NOT_KNOWN, Words, kind_of, step_value

TWO: Style = "two figures"
SHAPES = {"holds": "+ holds", "short": "! short", "not known": "? not known"}


@dataclass(frozen=True)
class Reading:
    """A design to be read, and the calculation that its numbers are marked by."""

    material: ReportMaterial
    calculation: Calculation
    _said: dict[str, str] = field(default_factory=dict)

    @property
    def trace(self) -> Trace:
        """Steps of the design."""
        return self.material.trace

    @property
    def words(self) -> Words:
        """Numbers in the units of the reader."""
        return self.material.words

    def value(self, key: str) -> Any:
        """Value behind a key; unknown where there is no such step."""
        return step_value(self.trace, key)

    def known(self, *keys: str) -> bool:
        """Whether all of these are there and known."""
        return self.trace.known(*keys)

    def say(self, key: str, kind: str = "", *, style: Style = "plain", unit: bool = True) -> str:
        """The value behind a key as printed; the kind is read from key and unit if not said."""
        if key not in self.trace:
            return NOT_KNOWN
        step = self.trace.steps[key]
        if kind == "percent":
            return self.words.percent(step.value, two_figures=style == TWO)
        if kind == "hours":
            return self.words.time(step.value, unit)
        if not kind and style == "plain" and unit:
            return self.words.of_step(step)
        kind = kind or kind_of(key, step.unit) or "number"
        return self.words.say(step.value, kind, style=style, unit=unit)

    def said(self, step: Step) -> str:
        """The value of a step as printed; worked once, since many steps take the same one in."""
        if step.key not in self._said:
            self._said[step.key] = self.words.of_step(step)
        return self._said[step.key]

    def text(self, key: str) -> str:
        """A text behind a key; "" where it is not known."""
        return str(self.value(key)) if self.known(key) else ""

    def cell(self, key: str, kind: str = "", *, style: Style = "plain", unit: bool = True) -> Cell:
        """The value behind a key for a column that lines up, with the mark of its step."""
        return number(self.say(key, kind, style=style, unit=unit), self.mark(key))

    def mark(self, key: str) -> Run | None:
        """Mark of a step, leading to where it is worked; None where there is no such step."""
        mark = self.calculation.marks.get(key)
        return None if mark is None else Run(f"[{mark}]", "small", to=mark)

    def marks(self, *keys: str) -> tuple[str | Run, ...]:
        """Marks of several steps, blanks between them."""
        found = [mark for key in keys if (mark := self.mark(key)) is not None]
        return tuple(part for mark in found for part in (" ", mark))

    def binds(self, key: str) -> bool:
        """Whether this rule is the one that binds."""
        governs = self.material.design.governs
        return governs is not None and governs.key == key

    def status(self, key: str) -> Run:
        """Status of a rule as a shape and a word."""
        word = self.text(f"{key}.status") or NOT_KNOWN
        style = "binds" if self.binds(key) else "bold" if word == "short" else ""
        return Run(SHAPES.get(word, word), style)  # type: ignore[arg-type]


def sentence(text: str) -> str:
    """Words with a capital letter and a full stop."""
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?:" else ".")
