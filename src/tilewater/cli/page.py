# SPDX-License-Identifier: Apache-2.0
"""How a page is shown in the terminal: headings, plain tables, a status as word and shape.

Bold and dim carry the order of importance; the one colour marks what binds and nothing else. All
of it reads the same without colour, on light and on dark ground.
"""

from typing import Any

from rich.console import Console, RenderableType
from rich.console import Group as RichGroup
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from tilewater.documents.pages.said import Block, Group, Part, Rows, Said

ACCENT = "bold #a3285c"
STYLES = {"": "", "strong": "bold", "quiet": "dim", "binds": ACCENT, "aside": "italic"}
"""How the terminal shows each tone."""
WIDEST = 110
"""Lines longer than this are hard to follow; a wider terminal keeps white beside them."""


SHOWN = (Said, Rows, Group, Block)
"""What `shown` turns into something that rich can print."""


class _Paper(Console):
    """A console that leaves no blanks at the ends of lines in a file or a pipe."""

    def print(self, *objects: Any, **options: Any) -> None:
        """Print what rich can show and parts of a page alike."""
        objects = tuple(shown(o) if isinstance(o, SHOWN) else o for o in objects)
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


def shown(part: Part) -> RenderableType:
    """A part of a page as the terminal shows it."""
    match part:
        case str():
            return part
        case Said():
            return _text(part)
        case Rows():
            return _table(part)
        case Group():
            return RichGroup(*(shown(each) for each in part.parts))
        case Block():
            head = Text(part.title, "bold")
            if part.note:
                head.append(f"  {part.note}", "dim not bold")
            inside = (Padding(shown(each), (0, 0, 0, 2), expand=False) for each in part.body)
            return RichGroup(Text(), head, *inside)


def _text(said: Said) -> Text:
    return Text.assemble(*((run.words, STYLES[run.tone]) for run in said.runs))


def _table(table: Rows) -> Table:
    """Rows under dim heads; numbers to the right, words wrapped in the wide columns."""
    made = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=any(table.heads))
    for place, head in enumerate(table.heads):
        made.add_column(
            Text(head, "dim"),
            justify="right" if place in table.right else "left",
            no_wrap=place not in table.wide,
            overflow="fold",
            min_width=table.least.get(place),
        )
    for line in table.lines:
        made.add_row(*(shown(cell) for cell in line))
    return made
