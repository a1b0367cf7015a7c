# SPDX-License-Identifier: Apache-2.0
"""What a page is made of: plain records, without a word on how they are set.

Every word in them is shown as it stands. Nothing here is read as markup, so that a name with a `#`
or a `$` in it is only a name.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Style = Literal["", "bold", "muted", "binds", "code", "small"]
Align = Literal["left", "right", "point"]
Paper = Literal["us-letter", "a4"]

_NUMBER = re.compile(r"([-$]*\d[\d,]*(?:[+:]\d+)?)((?:\.\d+)?)(| ?[^\W\d_][^\s,;:+]*| ?[%/°]\S*)")
"""A number, a station or a slope, with at most one word of a unit behind it."""


@dataclass(frozen=True)
class Run:
    """Words in one style; `to` names the place that they lead to, `at` the place that they are."""

    text: str
    style: Style = ""
    to: str = ""
    at: str = ""


Words = str | Run | tuple[str | Run, ...]
"""Words of a line, each part in its own style."""


@dataclass(frozen=True)
class Number:
    """A number as printed, cut where columns line up: before its point, after it, and its unit."""

    whole: str
    rest: str
    unit: Words = ""
    style: Style = ""


def number(text: str, mark: Run | None = None, style: Style = "") -> Number | Words:
    """A printed value for a column that lines up; words stay words.

    Parameters
    ----------
    text : str
        As the formatter prints it: `0.930 cfs`, `$1,750`.
    mark : Run or None
        What stands small behind it, such as where it comes from.
    style : str
        Style of the digits.
    """
    match = _NUMBER.fullmatch(text)
    if match is None:
        return Run(text, style) if mark is None else (Run(text, style), " ", mark)
    return Number(match[1], match[2], _behind(match[3], mark), style)


def _behind(unit: str, mark: Run | None) -> Words:
    """A unit and the mark behind it; in one run where it can be, which is set sooner."""
    if mark is None:
        return Run(unit, "muted")
    if mark.style == "small" and not (mark.to or mark.at):
        return Run(f"{unit} {mark.text}", "small")
    return Run(unit, "muted"), " ", mark


Cell = Words | Number


@dataclass(frozen=True)
class Column:
    """A column: its head, how it lines up, and whether it takes the room that is left."""

    head: Words
    align: Align = "left"
    wide: bool = False
    share: float = 1.0


@dataclass(frozen=True)
class Heading:
    """A heading that also stands in the outline; `new_page` begins a page."""

    text: str
    level: int = 1
    new_page: bool = False


@dataclass(frozen=True)
class Paragraph:
    """Words in lines."""

    words: Words
    style: Literal["", "lead", "note", "large"] = ""


@dataclass(frozen=True)
class Items:
    """A list; each item may have words of the second rank under it."""

    items: tuple[Words, ...]


@dataclass(frozen=True)
class Table:
    """Rows under heads that are repeated on each page; a rule stands over a row in `ruled`."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    ruled: tuple[int, ...] = ()
    small: bool = False


@dataclass(frozen=True)
class Letter:
    """A letter of an equation: its name, what it means, and its value where all steps share it."""

    name: str
    meaning: str
    value: str = ""


@dataclass(frozen=True)
class Formula:
    """How a number is worked: a name, equation lines, and what its letters mean."""

    title: str
    lines: tuple[str, ...] = ()
    prose: str = ""
    letters: tuple[Letter, ...] = ()
    notes: str = ""


@dataclass(frozen=True)
class Worked:
    """A number with its mark on the left and its value on the right; what was put in below."""

    mark: Run
    title: str
    value: Words
    below: str = ""


@dataclass(frozen=True)
class Figure:
    """A drawing at its true size on paper, with the words for who cannot see it."""

    svg: str
    width_mm: float
    height_mm: float
    caption: str
    alt: str


@dataclass(frozen=True)
class Banner:
    """The first thing on a document: title, what it is about, and the answer in words."""

    title: str
    about: tuple[str, ...]
    answer: str = ""
    detail: Words = ""
    binds: str = ""


@dataclass(frozen=True)
class Seal:
    """Empty room for a seal, with words that say so, and lines for a signature."""

    statement: str
    room: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Form:
    """A ruled table to write on by hand; the shares of its columns part the width of the page."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Words, ...], ...]
    row_mm: float = 8.0


@dataclass(frozen=True)
class NewPage:
    """A page ends here."""


@dataclass(frozen=True)
class Lying:
    """Headings and figures on pages of their own that lie on their long side."""

    blocks: "tuple[Heading | Figure, ...]"


@dataclass(frozen=True)
class Contents:
    """The table of contents in two columns; `lines` is how many headings it has."""

    lines: int
    depth: int = 2


Block = (
    Heading
    | Paragraph
    | Items
    | Table
    | Formula
    | Worked
    | Figure
    | Banner
    | Seal
    | Form
    | NewPage
    | Lying
    | Contents
)


def in_order(blocks: "tuple[Block, ...]") -> "Iterator[Block]":
    """Blocks as they follow each other, those of pages that lie among them."""
    for block in blocks:
        if isinstance(block, Lying):
            yield from block.blocks
        else:
            yield block


@dataclass(frozen=True)
class Document:
    """Pages of one document.

    Attributes
    ----------
    title : str
        Title in the properties of the file.
    head : str
        Left of the head of every page.
    kind : str
        Right of the head of every page: what document this is.
    foot : str
        Left of the foot of every page; the number of the page stands right.
    paper : "us-letter" or "a4"
    blocks : tuple of Block
    """

    title: str
    head: str
    kind: str
    foot: str
    paper: Paper
    blocks: tuple[Block, ...]
