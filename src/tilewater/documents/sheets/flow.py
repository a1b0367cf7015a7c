# SPDX-License-Identifier: Apache-2.0
"""Words and tables flow into columns, and over more sheets where one has no room.

The largest usual size of type in which all stands on one sheet is taken, the columns about equally
high; where even the least size has no room, the rest stands on further sheets of the same name.
"""

from collections.abc import Iterator, Sequence

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.sheets.measure import height_of, is_squeezed, least_of, parted
from tilewater.documents.sheets.record import (
    GAP,
    LEAST_PT,
    SIZES_PT,
    Block,
    Box,
    SheetPage,
    Title,
)

NARROW = 88.0
"""Least width of a column of words. [mm]"""
HAIR = 0.05
"""Room for the rounding of arithmetic. [mm]"""
TRIES = 9
"""Halvings until columns are equally high to less than a line."""
Room = tuple[float, float, float, float]
"""Left, top, width and height on a sheet. [mm]"""


def columns_of(room: Room, most: int = 2) -> int:
    """How many columns stand beside each other in a room."""
    return max(1, min(most, int((room[2] + GAP) / (NARROW + GAP))))


def poured(
    blocks: Sequence[Block], width_mm: float, height_mm: float, size_pt: float
) -> tuple[tuple[Block, ...], ...]:
    """Blocks in columns of one width and height, one filled after the other.

    Raises
    ------
    OutOfDomain
        If a piece that cannot be parted is higher than a column.
    """
    columns: list[tuple[Block, ...]] = []
    current: list[Block] = []
    left, queue = height_mm, list(blocks)
    while queue:
        block = queue.pop(0)
        need = height_of(block, width_mm, size_pt)
        kept = least_of(queue[0], width_mm, size_pt) if isinstance(block, Title) and queue else 0.0
        if need + kept <= left + HAIR:
            current.append(block)
            left -= need
            continue
        head, rest = (None, block) if kept else parted(block, width_mm, size_pt, left)
        if head is not None:
            current.append(head)
        elif not current:
            raise OutOfDomain(
                f"A sheet has {height_mm:.0f} mm for a piece that needs {need + kept:.0f} mm. "
                "Use larger paper."
            )
        columns.append(tuple(current))
        current, left = [], height_mm
        if rest is not None:
            queue.insert(0, rest)
    return (*columns, tuple(current)) if current else tuple(columns)


def set_in(room: Room, blocks: Sequence[Block], columns: int, size_pt: float) -> tuple[Box, ...]:
    """Boxes of columns about equally high; none where they have no room in this size."""
    left, top, width, height = room
    wide = (width - (columns - 1) * GAP) / columns
    try:
        if len(poured(blocks, wide, height, size_pt)) > columns:
            return ()
    except OutOfDomain:
        return ()
    low, high = 0.0, height
    for _ in range(TRIES):
        middle = (low + high) / 2
        if _fits(blocks, wide, middle, size_pt, columns):
            high = middle
        else:
            low = middle
    made = poured(blocks, wide, high, size_pt)
    return tuple(
        Box(left + number * (wide + GAP), top, wide, height, each, size_pt=size_pt)
        for number, each in enumerate(made)
    )


def _fits(blocks: Sequence[Block], wide: float, high: float, size_pt: float, columns: int) -> bool:
    try:
        return len(poured(blocks, wide, high, size_pt)) <= columns
    except OutOfDomain:
        return False


def largest_in(room: Room, blocks: Sequence[Block], most: int = 2) -> tuple[Box, ...]:
    """The boxes of the largest size that has room; none where no size has."""
    for may_squeeze in (False, True):
        for size in SIZES_PT:
            for columns in range(columns_of(room, most), 0, -1):
                wide = (room[2] - (columns - 1) * GAP) / columns
                if is_squeezed(blocks, wide, size) and not may_squeeze:
                    continue
                if boxes := set_in(room, blocks, columns, size):
                    return boxes
    return ()


def flowed(
    title: str, blocks: Sequence[Block], body: tuple[float, float], *, most: int = 2
) -> Iterator[SheetPage]:
    """Sheets of words and tables: one where they have room, else as many as they need.

    Parameters
    ----------
    title : str
        Of the first sheet; further ones are counted.
    blocks : sequence of Block
    body : tuple of float
        Width and height of a sheet beside its strip. [mm]
    most : int
        Most columns beside each other.

    Yields
    ------
    SheetPage
    """
    room = (0.0, 0.0, *body)
    if boxes := largest_in(room, blocks, most):
        yield SheetPage(title, boxes)
        return
    columns, size, made = _poured_over(blocks, body, columns_of(room, most))
    wide = (body[0] - (columns - 1) * GAP) / columns
    for first in range(0, len(made), columns):
        boxes = tuple(
            Box(number * (wide + GAP), 0.0, wide, body[1], each, size_pt=size)
            for number, each in enumerate(made[first : first + columns])
        )
        number = first // columns + 1
        yield SheetPage(title if number == 1 else f"{title}, {number}", boxes)


def _poured_over(
    blocks: Sequence[Block], body: tuple[float, float], most: int
) -> tuple[int, float, tuple[tuple[Block, ...], ...]]:
    """Columns on as few sheets as they take, in the largest type that takes no more sheets."""
    found: list[tuple[int, bool, float, int, tuple[tuple[Block, ...], ...]]] = []
    for columns in range(most, 0, -1):
        wide = (body[0] - (columns - 1) * GAP) / columns
        for size in SIZES_PT:
            try:
                made = poured(blocks, wide, body[1], size)
            except OutOfDomain:
                continue
            squeezed = is_squeezed(blocks, wide, size)
            found.append((-(-len(made) // columns), squeezed, -size, columns, made))
    if not found:
        poured(blocks, body[0], body[1], LEAST_PT)
    _, _, size, columns, made = min(found, key=lambda each: each[:4])
    return columns, -size, made
