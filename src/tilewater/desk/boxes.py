# SPDX-License-Identifier: Apache-2.0
"""What a form of the desk is made of: boxes, the entries they stand in, the sections of a table."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from tilewater.basis.units import System

Sort = Literal["line", "lines", "choice"]


@dataclass(frozen=True)
class Option:
    """One answer of a choice: what is written, and how it reads."""

    value: str
    words: str


@dataclass(frozen=True)
class Box:
    """A box of a form.

    Attributes
    ----------
    path : str
        In the job file, `main.diameter`; begins with `+` in an entry that is new.
    title, about : str
        Label; what one should know when filling it in.
    sort : "line", "lines" or "choice"
    text, was : str
        What stands in it, and what the file says.
    unit, second : str
        Unit beside it, which a bare number takes; "" for none.
    options : tuple of Option
    is_unknown, was_unknown : bool
        Whether "not known" is the answer, and was.
    may_be_unknown : bool
    taken : str
        What is taken in the place of an answer, with its source, where none is given.
    shadow : str
        What stands in grey in an empty box.
    fault : str
    key : str
        Of the number in the trace.
    is_seldom : bool
        Whether it may be left out, and is.
    is_file : bool
        Whether the name of a file of the job folder is asked for.
    is_looked_for : bool
        Whether the page was opened for it.
    """

    path: str
    title: str
    about: str
    sort: Sort
    text: str
    was: str
    unit: str = ""
    options: tuple[Option, ...] = ()
    is_unknown: bool = False
    was_unknown: bool = False
    may_be_unknown: bool = True
    taken: str = ""
    shadow: str = ""
    fault: str = ""
    key: str = ""
    is_seldom: bool = False
    is_file: bool = False
    is_looked_for: bool = False


@dataclass(frozen=True)
class Entry:
    """Boxes of one table, or of one entry under a name.

    Attributes
    ----------
    path, title : str
    boxes : tuple of Box
    is_named : bool
        Whether it is an entry that can be taken out of the file.
    """

    path: str
    title: str
    boxes: tuple[Box, ...]
    is_named: bool = False

    @property
    def usual(self) -> tuple[Box, ...]:
        """Boxes that are answered, or should be."""
        return tuple(box for box in self.boxes if not box.is_seldom)

    @property
    def seldom(self) -> tuple[Box, ...]:
        """Boxes that may be left out, and are."""
        return tuple(box for box in self.boxes if box.is_seldom)


@dataclass(frozen=True)
class Section:
    """A table of the job file as a form shows it.

    Attributes
    ----------
    table, title, about, state : str
        Its key, its name, what it is for, how it is answered in words.
    entries : tuple of Entry
    new : Entry or None
        Boxes of an entry that could be added, where entries stand under names.
    rows : Box or None
        Box for rows pasted from a spreadsheet, where entries stand under names.
    is_open : bool
        Whether it opens at once.
    """

    table: str
    title: str
    about: str
    state: str
    entries: tuple[Entry, ...]
    new: Entry | None = None
    rows: Box | None = None
    is_open: bool = False

    @property
    def boxes(self) -> Iterator[Box]:
        """Every box of it."""
        for entry in (*self.entries, *((self.new,) if self.new else ())):
            yield from entry.boxes
        if self.rows:
            yield self.rows


@dataclass(frozen=True)
class Filled:
    """What a form is filled with.

    Attributes
    ----------
    data : mapping
        The job file as TOML gives it.
    system : "us" or "si"
        Units of the reader.
    typed : mapping of str to str
        What was typed and not kept, by path.
    unknown : frozenset of str
        Paths where "not known" was ticked, of those in `typed`.
    faults : mapping of str to str
        What is wrong with it, by path.
    looked_for : str
        Path of the box that is looked for.
    """

    data: Mapping[str, Any]
    system: System = "us"
    typed: Mapping[str, str] = field(default_factory=dict)
    unknown: frozenset[str] = frozenset()
    faults: Mapping[str, str] = field(default_factory=dict)
    looked_for: str = ""
