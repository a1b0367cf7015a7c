# SPDX-License-Identifier: Apache-2.0
"""What is typed in a box, and what the job file then says.

A box shows a quantity as a number with its unit beside it. A bare number takes that unit; whatever
else is typed is written as it is typed, in any unit. What the box shows and what it gives back are
the same, so that a box nobody touched changes nothing.
"""

import re
from dataclasses import dataclass
from typing import Any

from tilewater.basis.unit_table import KINDS
from tilewater.basis.units import System, unit_label
from tilewater.job.edits import Edit
from tilewater.job.fields import UNKNOWN, Ask, Quantities, Quantity, Wrong
from tilewater.job.pairs import Pairs
from tilewater.job.words import Choices, Texts, Year

_NUMBER = re.compile(
    r"[+-]?\s*(?:\d+\s+\d+/\d+|\d+/\d+|\d{1,3}(?:,\d{3})+(?:\.\d*)?|\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
)
NOT_KNOWN = (UNKNOWN, "not known")
"""Words that answer a question with "nobody knows"."""


@dataclass(frozen=True)
class Shown:
    """A value in a box: its text, and the unit that stands beside it."""

    text: str
    unit: str = ""


def shown_of(ask: Ask, raw: Any, system: System) -> Shown:
    """How a value of the job file stands in its box.

    Parameters
    ----------
    ask : Ask
        What the file asks for there.
    raw : Any
        As TOML gives it; None where it is not given.
    system : "us" or "si"
        Units of the reader, for a box that is empty.

    Returns
    -------
    Shown
        Text and unit.
    """
    if is_not_known(raw):
        return Shown("", usual_unit(ask, system))
    if isinstance(ask, Pairs):
        return Shown(_pair_lines(raw))
    if isinstance(ask, Quantities):
        return _shown_list(ask, raw, system)
    if isinstance(raw, list):
        return Shown(", ".join(str(each) for each in raw))
    if raw is None:
        return Shown("", usual_unit(ask, system))
    text = ("true" if raw else "false") if isinstance(raw, bool) else str(raw)
    if isinstance(ask, Quantity):
        number, unit = split(text)
        if unit and number:
            return Shown(number, unit)
        return Shown(text, "" if _NUMBER.fullmatch(text) else usual_unit(ask, system))
    return Shown(text)


def edit_of(ask: Ask, text: str, unit: str) -> Edit:
    """What the job file says when a text stands in a box.

    Parameters
    ----------
    ask : Ask
        What the file asks for there.
    text : str
        As typed; blank takes the value out of the file.
    unit : str
        Unit beside the box, which a bare number takes.

    Returns
    -------
    Edit
        Value of TOML.

    Raises
    ------
    Wrong
        If a line of pairs is no pair.
    """
    text = " ".join(text.split()) if not isinstance(ask, Pairs) else text.strip()
    if not text:
        return None
    if text.casefold() in NOT_KNOWN:
        return UNKNOWN
    if isinstance(ask, Pairs):
        return _pairs(ask, text)  # type: ignore[return-value]
    if isinstance(ask, Quantities):
        return [str(_with_unit(part, unit)) for part in _parts(text)]
    if isinstance(ask, Texts) or (isinstance(ask, Choices) and "," in text):
        return _parts(text)
    if isinstance(ask, Quantity):
        return _quantity(ask, text, unit)
    if isinstance(ask, Year) and re.fullmatch(r"\d{4}", text):
        return int(text)
    return text


def is_not_known(raw: Any) -> bool:
    """Whether a value of the file is the answer that nobody knows."""
    return isinstance(raw, str) and raw.strip().casefold() == UNKNOWN


def usual_unit(ask: Ask, system: System) -> str:
    """Unit beside an empty box: that of its default, of its example, or of the other system."""
    if isinstance(ask, Pairs):
        return ""
    if not isinstance(ask, Quantity):
        return ""
    kind = KINDS[ask.kind]
    example = split((ask.default or ask.example).partition(",")[0].strip())[1]
    if ask.bare or (kind.bare and not example):
        return example
    if kind.name == KINDS["station"].name or not example or example == kind.us.unit:
        return unit_label(ask.kind, system)
    return example


def split(text: str) -> tuple[str, str]:
    """A quantity as typed, in number and unit; what is no such thing is all number."""
    text = text.strip()
    match = _NUMBER.match(text)
    if match is None or not match.end():
        return text, ""
    rest = text[match.end() :]
    if rest and not (rest[0].isspace() or rest[0].isalpha() or rest[0] in "%°µμ'\""):
        return text, ""  # a station, a slope of a bank
    return match[0].strip(), rest.strip()


def _with_unit(text: str, unit: str) -> str:
    return f"{text} {unit}" if unit and _NUMBER.fullmatch(text) else text


def _quantity(ask: Quantity, text: str, unit: str) -> Edit:
    """A bare number stays a number of TOML where the field takes one without a unit."""
    told = _with_unit(text, unit)
    if told == text and ask.is_plain and re.fullmatch(r"[+-]?\d+", text):
        return int(text)
    if told == text and ask.is_plain and re.fullmatch(r"[+-]?\d+\.\d+", text):
        return float(text)
    return told


def _shown_list(ask: Quantities, raw: Any, system: System) -> Shown:
    """Numbers of a list with the one unit they share, else each with its own."""
    if not isinstance(raw, list):
        return Shown("" if raw is None else str(raw), usual_unit(ask, system))
    parts = [split(str(each)) for each in raw]
    units = {unit for _, unit in parts}
    if len(units) == 1:
        return Shown(", ".join(number for number, _ in parts), units.pop())
    return Shown(", ".join(str(each) for each in raw), usual_unit(ask, system))


def _parts(text: str) -> list[str]:
    return [part.strip() for part in re.split(r"[,;\n]", text) if part.strip()]


def _pair_lines(raw: Any) -> str:
    if not isinstance(raw, list):
        return "" if raw is None else str(raw)
    return "\n".join(
        ", ".join(map(str, pair)) if isinstance(pair, list) else str(pair) for pair in raw
    )


def _pairs(ask: Pairs, text: str) -> list[list[str]]:
    found = []
    for number, line in enumerate(filter(str.strip, re.split(r"[;\n]", text)), start=1):
        pair = [part.strip() for part in re.split(r"[,\t]", line)]
        if len(pair) != 2 or not all(pair):
            raise Wrong(
                f"line {number} is '{line.strip()}'. A line is {ask.first.title.lower()}, a comma "
                f"and {ask.second.title.lower()}. Write it like {_example_line(ask)}."
            )
        found.append(pair)
    return found


def _example_line(ask: Pairs) -> str:
    return ask.example.partition(",")[0].strip().replace(":", ",", 1).replace(" ,", ",")
