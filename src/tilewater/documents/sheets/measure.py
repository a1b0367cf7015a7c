# SPDX-License-Identifier: Apache-2.0
"""How high blocks of a sheet are before they are set, and where they may be parted.

The layout sets each line one em high and a fifth of an em apart, so that what is measured here is
what is set.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.drawing.metrics import text_width
from tilewater.documents.drawing.model import Weight
from tilewater.documents.paper.letters import shown
from tilewater.documents.sheets.record import Blank, Block, Box, Columns, Lines, Picture, Title

MM_PER_PT = 25.4 / 72.0
APART = 0.2
"""From line to line, beside the line. [em]"""
PARAGRAPH = 0.45
"""From paragraph to paragraph. [em]"""
AFTER, AFTER_TITLE = 3.2, 1.4
"""Room below a block, and below a title. [mm]"""
TITLE_TIMES = 1.2
"""Size of a title over that of its text. [-]"""
INSET_X, INSET_Y = 1.2, 0.85
"""Room in a cell beside and above its words. [mm]"""
TALL = 8.0
"""Height of a row to write in. [mm]"""
LONE = 2
"""Fewest rows of a table that stand by themselves, before or after it is parted."""
COUNTED = 2.0
"""Room of the number before a paragraph. [em]"""
WRITTEN = 21.0
"""Least width of a column that is written in by hand. [mm]"""
MANY = 5
"""Columns from which on a table is of numbers: its words are not broken where they need not be."""
NARROWEST = 16.0
"""Least width of a column whose words are broken. [mm]"""
SLACK = 1.01
"""Widths are those of letters without kerning; this is kept for the rounding of the setter."""
HALVINGS = 30
LOOSE = 1.5
"""How much wider than it needs a table may be set. [-]"""


def em_of(size_pt: float) -> float:
    """An em. [mm]"""
    return size_pt * MM_PER_PT


@lru_cache(maxsize=20_000)
def wide_of(words: str, size_mm: float, weight: Weight = "regular") -> float:
    """Width of words as they are set, with a little for the rounding of the setter. [mm]"""
    return text_width(shown(words), size_mm, weight) * SLACK


@lru_cache(maxsize=20_000)
def rows_of(words: str, width_mm: float, size_mm: float, weight: Weight = "regular") -> int:
    """How many lines words take in a width."""
    rows, used = 1, 0.0
    blank = wide_of(" ", size_mm, weight)
    for word in words.split(" "):
        wide = wide_of(word, size_mm, weight)
        if used and used + blank + wide > width_mm:
            rows, used = rows + 1, wide
        else:
            used += wide + (blank if used else 0.0)
    return rows


def foot_of(boxes: Sequence[Box]) -> float:
    """How far down a sheet its boxes are filled. [mm]"""
    return max(
        (
            box.y_mm + box.height_mm
            if box.framed
            else box.y_mm
            + sum(height_of(block, box.width_mm, box.size_pt) for block in box.blocks)
            - AFTER
            for box in boxes
        ),
        default=0.0,
    )


@lru_cache(maxsize=20_000)
def height_of(block: Block, width_mm: float, size_pt: float) -> float:
    """Height of a block with the room below it. [mm]"""
    em = em_of(size_pt)
    if isinstance(block, Title):
        high = _lines(rows_of(block.text, width_mm, TITLE_TIMES * em, "semibold"), TITLE_TIMES * em)
        if block.note:
            high += APART * em + _lines(rows_of(block.note, width_mm, em), em)
        return high + AFTER_TITLE
    if isinstance(block, Lines):
        room = width_mm - (COUNTED * em if block.numbered else 0.0)
        each = [_lines(rows_of(words, room, em), em) for words in block.words]
        return sum(each) + PARAGRAPH * em * (len(each) - 1) + AFTER
    if isinstance(block, Picture):
        return block.height_mm + AFTER
    if isinstance(block, Blank):
        return block.height_mm + AFTER
    return sum(_heights(block, width_mm, size_pt)) + AFTER


def least_of(block: Block, width_mm: float, size_pt: float) -> float:
    """Height of the first piece of a block that may be parted. [mm]"""
    if isinstance(block, Lines):
        return height_of(replace(block, words=block.words[:1]), width_mm, size_pt)
    if isinstance(block, Columns):
        return height_of(replace(block, rows=block.rows[:LONE]), width_mm, size_pt)
    return height_of(block, width_mm, size_pt)


def parted(
    block: Block, width_mm: float, size_pt: float, room_mm: float
) -> tuple[Block | None, Block | None]:
    """What of a block stands in a room, and what is left of it."""
    if height_of(block, width_mm, size_pt) <= room_mm:
        return block, None
    pieces: tuple[object, ...] = ()
    if isinstance(block, Lines):
        pieces = block.words
    elif isinstance(block, Columns):
        pieces = block.rows
    fits, over = 0, len(pieces)  # so many stand there; so many do not
    while over - fits > 1:
        middle = (fits + over) // 2
        if height_of(_cut(block, middle)[0], width_mm, size_pt) <= room_mm:
            fits = middle
        else:
            over = middle
    if isinstance(block, Columns) and fits > LONE and len(pieces) - fits < LONE:
        fits = len(pieces) - LONE
    if isinstance(block, Columns) and fits < LONE < len(pieces):
        fits = 0
    return _cut(block, fits) if fits else (None, block)


def _cut(block: Block, at: int) -> tuple[Block, Block]:
    if isinstance(block, Lines):
        head = replace(block, words=block.words[:at])
        return head, replace(block, words=block.words[at:], first=block.first + at)
    if isinstance(block, Columns):
        return replace(block, rows=block.rows[:at]), replace(block, rows=block.rows[at:])
    return block, block


def is_squeezed(blocks: Sequence[Block], width_mm: float, size_pt: float) -> bool:
    """Whether a table that is read, not written in, has to break its words in a width."""
    em = em_of(size_pt)
    for table in blocks:
        if isinstance(table, Columns) and len(table.heads) >= MANY:
            need = (
                max(wide_of(row[i], em) for row in (table.heads, *table.rows)) + 2 * INSET_X + 0.2
                for i in range(len(table.heads))
            )
            if sum(need) > width_mm:
                return True
    return False


def widths_of(table: Columns, width_mm: float, size_pt: float) -> tuple[float, ...]:
    """Widths of the columns of a table. [mm]

    Raises
    ------
    OutOfDomain
        If its columns cannot stand beside each other.
    """
    em = em_of(size_pt)
    need = [
        max(wide_of(row[i], em) for row in (table.heads, *table.rows)) + 2 * INSET_X + 0.2
        for i in range(len(table.heads))
    ]
    if table.tall:
        need = [max(w, WRITTEN) if i in _blank(table) else w for i, w in enumerate(need)]
    least = [
        w if table.tall and i in _blank(table) else max(NARROWEST, _longest_word(table, i, em))
        for i, w in enumerate(need)
    ]
    for given in (table.wide, tuple(i for i in range(len(need)) if i not in table.wide)):
        if sum(need) > width_mm:
            need = _narrowed(need, least, given, width_mm)
    over = sum(need) - width_mm
    if over > 1e-9:
        raise OutOfDomain(
            f"A table of a sheet with the columns {', '.join(filter(None, table.heads))} is "
            f"{over:.0f} mm wider than its room. Use larger paper."
        )
    return _spread(table, need, -over)


def _narrowed(
    need: list[float], least: list[float], which: Sequence[int], width_mm: float
) -> list[float]:
    """Widths of which the widest of some columns give, alike, until all stand in a width."""
    low, high = 0.0, max(need)
    for _ in range(HALVINGS):
        most = (low + high) / 2
        tried = [
            max(min(w, most), min(w, least[i])) if i in which else w for i, w in enumerate(need)
        ]
        if sum(tried) > width_mm:
            high = most
        else:
            low = most
    return [max(min(w, low), min(w, least[i])) if i in which else w for i, w in enumerate(need)]


def _spread(table: Columns, need: list[float], spare: float) -> tuple[float, ...]:
    """Give the room that is left: to what is written in by hand, else to all, but not too much."""
    blank = _blank(table)
    if table.tall and blank:
        wide = [i for i in blank if i in table.wide] or blank
        return tuple(w + (spare / len(wide) if i in wide else 0.0) for i, w in enumerate(need))
    spare = min(spare, (LOOSE - 1.0) * sum(need))
    return tuple(w + spare / len(need) for w in need)


def _blank(table: Columns) -> list[int]:
    """Columns in which nothing stands yet."""
    return [i for i in range(len(table.heads)) if not any(row[i] for row in table.rows)]


def _longest_word(table: Columns, index: int, em: float) -> float:
    words = (word for row in (table.heads, *table.rows) for word in row[index].split(" "))
    return max(wide_of(word, em) for word in words) + 2 * INSET_X + 0.2


def _heights(table: Columns, width_mm: float, size_pt: float) -> list[float]:
    em, widths = em_of(size_pt), widths_of(table, width_mm, size_pt)
    made = []
    for number, row in enumerate((table.heads, *table.rows)):
        rows = max(
            rows_of(words, wide - 2 * INSET_X, em) for words, wide in zip(row, widths, strict=True)
        )
        high = _lines(rows, em) + 2 * INSET_Y
        made.append(max(high, TALL) if table.tall and number else high)
    return made


def _lines(rows: int, em: float) -> float:
    return em * (rows + APART * (rows - 1))


def heights_of(table: Columns, width_mm: float, size_pt: float) -> tuple[float, ...]:
    """Heights of the rows of a table, its head first. [mm]"""
    return tuple(_heights(table, width_mm, size_pt))
