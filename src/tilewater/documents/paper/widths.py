# SPDX-License-Identifier: Apache-2.0
"""Room that the columns of a table need, from the widths of the letters.

Worked here once and not by the typesetter, which would set every cell several times to find it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from tilewater.documents.drawing.metrics import CAP, text_width
from tilewater.documents.paper.blocks import Cell, Number, Run, Table, Words

SIZE, SMALL_SIZE = 9.5, 8.0
"""Sizes of letters in a table, as in `layout.typ`. [pt]"""
INSETS, SMALL_INSETS = (2.8, 4.0), (2.5, 2.8)
"""White above and below the letters of a cell, as in `layout.typ`. [pt]"""
SMALL, CODE = 0.86, 1.2
"""Letters of the small style, and of the code style, which are as wide as each other. [-]"""
SLACK = 1.5
"""What a column is wider than its widest cell. [pt]"""
GAP = 9.0
"""White between two columns, half of it on each side. [pt]"""
LEAST_WIDE = 90.0
"""Least room of a column that takes what is left. [pt]"""
HEAD = 52.0
"""Head that is not wrapped, however narrow its column. [pt]"""
PAGE = {"us-letter": 487.0, "a4": 470.0}
"""Width of the lines of a page. [pt]"""


@dataclass(frozen=True)
class Layout:
    """Widths of columns, None for one that takes what is left, and white behind numbers. [pt]

    Attributes
    ----------
    widths : tuple of float or None
    pads : tuple of tuple of float
        A row of pads for each row of the table; 0 for what is no number.
    heights : tuple of float or None
        Height of each row whose cells all stand on one line; None for one that the typesetter has
        to set before its height is known.
    """

    widths: tuple[float | None, ...]
    pads: tuple[tuple[float, ...], ...]
    heights: tuple[float | None, ...]


def layout_of(table: Table, paper: str) -> Layout:
    """Widths of the columns of a table, the white behind each number, the heights of its rows.

    Parameters
    ----------
    table : Table
        The table.
    paper : str
        Size of the page.

    Returns
    -------
    Layout
        All that the typesetter need not find out.
    """
    size = SMALL_SIZE if table.small else SIZE
    widths: list[float | None] = []
    pads = []
    for place, column in enumerate(table.columns):
        cells = [row[place] for row in table.rows]
        tails = [_tail(cell, size) for cell in cells]
        room = max((tail for tail in tails if tail is not None), default=0.0)
        padded = column.align == "point"
        behind = [room - tail if padded and tail is not None else 0.0 for tail in tails]
        pads.append(behind)
        if column.wide:
            widths.append(None)
            continue
        widest = max((width_of(c, size) + b for c, b in zip(cells, behind, strict=True)), default=0)
        words = (_width(word, SMALL_SIZE) for word in _parts_by_word(column.head))
        head = max(*words, min(_width(column.head, SMALL_SIZE), HEAD), 0.0)
        widths.append(max(widest, head) + GAP + SLACK)
    fitted = _fitted(table, widths, PAGE[paper])
    by_row = tuple(zip(*pads, strict=True))
    return Layout(fitted, by_row, tuple(_heights(table, fitted, by_row, PAGE[paper])))


def _heights(
    table: Table,
    widths: tuple[float | None, ...],
    pads: tuple[tuple[float, ...], ...],
    page: float,
) -> Iterator[float | None]:
    size = SMALL_SIZE if table.small else SIZE
    left = page - sum(w for w in widths if w is not None)
    shares = sum(c.share for c, w in zip(table.columns, widths, strict=True) if w is None)
    rooms = [
        (left * c.share / shares if w is None else w) - GAP
        for c, w in zip(table.columns, widths, strict=True)
    ]
    line = CAP * size + sum(SMALL_INSETS if table.small else INSETS)
    for row, behind in zip(table.rows, pads, strict=True):
        on_one_line = all(
            is_one_line(cell) and width_of(cell, size) + pad <= room
            for cell, pad, room in zip(row, behind, rooms, strict=True)
        )
        yield line if on_one_line else None


def is_one_line(cell: Cell) -> bool:
    """Whether nothing in a cell begins a new line."""
    parts = cell if isinstance(cell, tuple) else (cell,)
    return not any(isinstance(part, Run) and "\n" in part.text for part in parts)


def _fitted(table: Table, widths: list[float | None], page: float) -> tuple[float | None, ...]:
    """Widths that leave room; the widest columns of words give way first and wrap."""
    fitted = list(widths)
    while True:
        fixed = sum(w for w in fitted if w is not None)
        if fixed + LEAST_WIDE * fitted.count(None) <= page:
            return tuple(fitted)
        words = [
            (w, place)
            for place, w in enumerate(fitted)
            if w is not None and table.columns[place].align == "left" and w > LEAST_WIDE
        ]
        if not words:
            return tuple(fitted)
        fitted[max(words)[1]] = None


def width_of(cell: Cell, size: float) -> float:
    """Width of a cell on one line. [pt]"""
    if isinstance(cell, Number):
        weight: Words = Run(cell.whole + cell.rest, cell.style)
        return _width(weight, size) + _width(cell.unit, size)
    return _width(cell, size)


def _tail(cell: Cell, size: float) -> float | None:
    if not isinstance(cell, Number):
        return None
    return _width(Run(cell.rest, cell.style), size) + _width(cell.unit, size)


def _width(words: Words, size: float) -> float:
    parts = words if isinstance(words, tuple) else (words,)
    return sum(_part_width(part, size) for part in parts)


def _part_width(part: str | Run, size: float) -> float:
    if isinstance(part, str):
        return text_width(part, size)
    if part.style in ("bold", "binds"):
        return text_width(part.text, size, "semibold")
    scale = {"small": SMALL, "code": CODE}.get(part.style, 1.0)
    return max(text_width(line, size * scale) for line in part.text.split("\n"))


def _parts_by_word(words: Words) -> list[str | Run]:
    """Each word of a head, which may wrap between them."""
    parts = words if isinstance(words, tuple) else (words,)
    found: list[str | Run] = []
    for part in parts:
        if isinstance(part, str):
            found += part.split()
        else:
            found.append(part)
    return found
