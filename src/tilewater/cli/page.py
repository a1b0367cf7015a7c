# SPDX-License-Identifier: Apache-2.0
"""What a page in the terminal is made of: headings, plain tables, a status as word and shape.

Bold and dim carry the order of importance; the one colour marks what binds and nothing else. All
of it reads the same without colour, on light and on dark ground.
"""

import sys
from collections.abc import Iterable, Sequence
from typing import Any

from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

ACCENT = "bold #a3285c"
SHAPES = {"holds": "+ holds", "short": "! short", "not known": "? not known"}
WIDEST = 110
"""Lines longer than this are hard to follow; a wider terminal keeps white beside them."""


class _Paper(Console):
    """A console that leaves no blanks at the ends of lines in a file or a pipe."""

    def print(self, *objects: Any, **options: Any) -> None:
        if self.is_terminal or self.record:
            super().print(*objects, **options)
            return
        with self.capture() as taken:
            super().print(*objects, **options)
        self.file.write("".join(f"{line.rstrip()}\n" for line in taken.get().splitlines()))


def paper() -> Console:
    """The console of the result."""
    console = _Paper(highlight=False, soft_wrap=False, emoji=False, markup=False)
    if console.width > WIDEST:
        console.width = WIDEST
    return console


def margin() -> Console:
    """The console of findings, notes and progress: beside the result, never in it."""
    console = _Paper(stderr=True, highlight=False, emoji=False, markup=False)
    if console.width > WIDEST:
        console.width = WIDEST
    return console


def lenient_streams() -> None:
    """Print what a terminal has no letter for as a question mark, and go on."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def status(word: str, *, binds: bool = False) -> Text:
    """A status as a shape and a word."""
    style = ACCENT if binds else {"holds": "", "short": "bold"}.get(word, "italic")
    return Text(SHAPES.get(word, word), style)


def block(title: str, note: str, *body: RenderableType) -> RenderableType:
    """A heading, what it is about, and its rows a little to the right."""
    head = Text(title, "bold")
    if note:
        head.append(f"  {note}", "dim not bold")
    return Group(Text(), head, *(Padding(part, (0, 0, 0, 2), expand=False) for part in body))


def rows(
    heads: Sequence[str],
    lines: Iterable[Sequence[RenderableType]],
    *,
    right: Iterable[int] = (),
    wide: Iterable[int] = (),
) -> Table:
    """Rows under dim heads; numbers to the right, words wrapped in the wide columns."""
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=any(heads))
    to_right, wrapped = set(right), set(wide)
    for place, head in enumerate(heads):
        table.add_column(
            Text(head, "dim"),
            justify="right" if place in to_right else "left",
            no_wrap=place not in wrapped,
            overflow="fold",
        )
    for line in lines:
        table.add_row(*line)
    return table


def pairs(lines: Iterable[tuple[str, RenderableType]]) -> Table:
    """A label and what stands beside it."""
    return rows(("", ""), ((Text(label, "dim"), value) for label, value in lines), wide=(1,))


def dim(words: str) -> Text:
    """Words of the second rank."""
    return Text(words, "dim")
