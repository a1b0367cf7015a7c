# SPDX-License-Identifier: Apache-2.0
"""What a set of sheets is made of, before it is set: sheets, boxes on them, what stands in a box.

Lengths are millimetres of paper. Words are shown as they stand; nothing in them is markup.
"""

from dataclasses import dataclass, field
from typing import Literal

from tilewater.documents.drawing.model import Drawing

Align = Literal["left", "right"]


@dataclass(frozen=True)
class SheetPaper:
    """A size of paper.

    Attributes
    ----------
    name : str
        As the trade calls it.
    width_mm, height_mm : float
        Lying. [mm]
    times : float
        How much larger it is than the sheet it is laid out as: 2 for one that is printed at half
        size on that sheet. [-]
    """

    name: str
    width_mm: float
    height_mm: float
    times: float = 1.0

    @property
    def laid_width_mm(self) -> float:
        """Width that a sheet is laid out on. [mm]"""
        return self.width_mm / self.times

    @property
    def laid_height_mm(self) -> float:
        """Height that a sheet is laid out on. [mm]"""
        return self.height_mm / self.times


PAPERS = {
    "11x17": SheetPaper("11 x 17 in", 431.8, 279.4),
    "22x34": SheetPaper("22 x 34 in", 863.6, 558.8, 2.0),
    "letter": SheetPaper("8.5 x 11 in", 279.4, 215.9),
    "a3": SheetPaper("A3", 420.0, 297.0),
}
"""Sizes a set is made in, by what one types."""

BIND, EDGE, STRIP, GAP = 15.0, 8.0, 60.0, 5.0
"""Left edge for binding, the other edges, width of the title strip, room between boxes. [mm]"""
LEAST_PT, SIZES_PT = 9.0, (11.5, 11.0, 10.5, 10.0, 9.5, 9.0)
"""Least size of type on a sheet, and the sizes that words are tried in. [pt]"""


@dataclass(frozen=True)
class Title:
    """A heading in a box; below it may stand a scale or what it is about."""

    text: str
    note: str = ""


@dataclass(frozen=True)
class Lines:
    """Paragraphs; those of `numbered` are counted from `first`."""

    words: tuple[str, ...]
    numbered: bool = False
    quiet: bool = False
    first: int = 1


@dataclass(frozen=True)
class Picture:
    """A drawing at its own size, and how many metres of ground a metre of its paper is. [mm, -]

    Attributes
    ----------
    svg : str
    width_mm, height_mm : float
        [mm]
    alt : str
    ratio : float
        Metres of ground on a metre of the sheet, across. [-]
    name : str
        Of its own file.
    drawing : Drawing or None
        What it shows, in ground coordinates.
    """

    svg: str
    width_mm: float
    height_mm: float
    alt: str
    ratio: float = 0.0
    name: str = ""
    drawing: Drawing | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True)
class Columns:
    """A table: heads, how each column lines up, rows.

    Attributes
    ----------
    heads : tuple of str
    rows : tuple of tuple of str
    right : tuple of int
        Columns of numbers.
    wide : tuple of int
        Columns that take the room that is left.
    tall : bool
        Whether rows leave room to write in by hand.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()
    wide: tuple[int, ...] = ()
    tall: bool = False


@dataclass(frozen=True)
class Blank:
    """Room to write in by hand, with what belongs there. [mm]"""

    words: str
    height_mm: float = 9.0


Block = Title | Lines | Picture | Columns | Blank


@dataclass(frozen=True)
class Box:
    """Blocks one below the other in a place of the sheet; from the upper left corner. [mm, pt]"""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    blocks: tuple[Block, ...]
    framed: bool = False
    size_pt: float = LEAST_PT


@dataclass(frozen=True)
class SheetPage:
    """One sheet."""

    title: str
    boxes: tuple[Box, ...]
    scale: str = ""


@dataclass(frozen=True)
class Revision:
    """A row of the revision block."""

    number: str
    date: str
    words: str
    by: str


@dataclass(frozen=True)
class Strip:
    """What every sheet says in its title strip.

    Attributes
    ----------
    project, place, owner, prepared_by, date : str
    status : str
        What the set is for, such as "for review".
    status_words : str
        What that means: "not for construction".
    datum : str
        Vertical datum, grid, foot.
    signed : str
        Sign-off as typed; "" leaves room to sign by hand.
    revisions : tuple of Revision
    office : tuple of str
        Lines of the office's own.
    logo_svg : str
        Its logo; "" where there is none.
    """

    project: str
    place: str
    owner: str
    prepared_by: str
    date: str
    status: str
    status_words: str
    datum: str
    signed: str = ""
    revisions: tuple[Revision, ...] = ()
    office: tuple[str, ...] = ()
    logo_svg: str = ""


@dataclass(frozen=True)
class SheetSet:
    """A set of sheets as it is pressed."""

    title: str
    paper: SheetPaper
    strip: Strip
    sheets: tuple[SheetPage, ...] = field(default_factory=tuple)


def body_of(paper: SheetPaper) -> tuple[float, float]:
    """Width and height of a sheet beside its title strip. [mm]"""
    return (
        paper.laid_width_mm - BIND - EDGE - STRIP - 2 * GAP,
        paper.laid_height_mm - 2 * EDGE - 2 * GAP,
    )
