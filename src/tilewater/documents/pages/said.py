# SPDX-License-Identifier: Apache-2.0
"""What a page is made of before a door shows it: words, rows under heads, blocks with a heading.

The terminal and the desk show the same parts. A tone says how important words are, never a colour;
only what binds has a tone of its own. A cell may carry the key of the number it shows, so that a
door can lead from the number to where it comes from.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

Tone: TypeAlias = Literal["", "strong", "quiet", "binds", "aside"]
"""How words stand out: not, more, less, as what binds, or as not known."""

SHAPES = {"holds": "+ holds", "short": "! short", "not known": "? not known"}
"""A status as a shape and a word; it reads the same without colour."""


@dataclass(frozen=True)
class Run:
    """Words of one tone; the key is that of the number that they show, or "" for none."""

    words: str
    tone: Tone = ""
    key: str = ""


@dataclass
class Said:
    """Words in one or more tones.

    Attributes
    ----------
    runs : list of Run
        Its parts in their order.
    tone : str
        Tone of the first part and of what is added without a tone.
    """

    runs: list[Run]
    tone: Tone = ""

    def __init__(self, words: str = "", tone: Tone = "", key: str = "") -> None:
        self.runs = [Run(words, tone, key)] if words else []
        self.tone = tone

    @classmethod
    def assemble(cls, *parts: "str | tuple[str, Tone] | Said", tone: Tone = "") -> "Said":
        """Words put together from parts."""
        said = cls("", tone)
        for part in parts:
            if isinstance(part, tuple):
                said.append(part[0], part[1])
            else:
                said.append(part)
        return said

    def append(self, words: "str | Said", tone: Tone | None = None) -> "Said":
        """The same words with more behind them."""
        if isinstance(words, Said):
            self.runs += words.runs
        elif words:
            self.runs.append(Run(words, self.tone if tone is None else tone))
        return self

    @property
    def plain(self) -> str:
        """The words without their tones."""
        return "".join(run.words for run in self.runs)


Cell: TypeAlias = str | Said


@dataclass
class Rows:
    """Rows under quiet heads.

    Attributes
    ----------
    heads : tuple of str
        Head of each column; all empty where there is none.
    lines : tuple of tuple of Cell
        The rows.
    right, wide : frozenset of int
        Columns of numbers, set to the right; columns of words that may wrap.
    least : dict of int to int
        Letters that a column keeps at least.
    """

    heads: tuple[str, ...]
    lines: tuple[tuple[Cell, ...], ...]
    right: frozenset[int] = frozenset()
    wide: frozenset[int] = frozenset()
    least: dict[int, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Group:
    """Parts one below the other."""

    parts: "tuple[Part, ...]"


@dataclass(frozen=True)
class Block:
    """A heading, what it is about, and what stands under it."""

    title: str
    note: str
    body: "tuple[Part, ...]"


Part: TypeAlias = str | Said | Rows | Group | Block
"""Anything a page is made of."""


def status(word: str, *, binds: bool = False) -> Said:
    """A status as a shape and a word."""
    tones: dict[str, Tone] = {"holds": "", "short": "strong"}
    return Said(SHAPES.get(word, word), "binds" if binds else tones.get(word, "aside"))


def block(title: str, note: str, *body: Part) -> Block:
    """A heading, what it is about, and its rows."""
    return Block(title, note, body)


def group(*parts: Part) -> Group:
    """Parts one below the other, without a heading."""
    return Group(parts)


def rows(
    heads: Sequence[str],
    lines: Iterable[Sequence[Cell]],
    *,
    right: Iterable[int] = (),
    wide: Iterable[int] = (),
) -> Rows:
    """Rows under heads; numbers to the right, words wrapped in the wide columns."""
    made = tuple(tuple(line) for line in lines)
    return Rows(tuple(heads), made, frozenset(right), frozenset(wide))


def pairs(lines: Iterable[tuple[str, Cell]]) -> Rows:
    """A label and what stands beside it."""
    return rows(("", ""), ((dim(label), value) for label, value in lines), wide=(1,))


def dim(words: str) -> Said:
    """Words of the second rank."""
    return Said(words, "quiet")
