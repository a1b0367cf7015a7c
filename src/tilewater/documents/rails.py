# SPDX-License-Identifier: Apache-2.0
"""Labels side by side without touching: each as near to its place as the others leave it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from tilewater.documents.sheet import INK, MUTED, Part, Point, Sheet, text_width


def spread(places: Sequence[float], rooms: Sequence[float]) -> list[float]:
    """Places moved as little as possible so that each has its room; the order is kept.

    `places` rise; `rooms` are how much each takes, half on either side. Neighbours that would
    touch are moved together, by the mean of what each wanted (pooled least squares).
    """
    offsets, sums = [], 0.0
    for index, room in enumerate(rooms):
        sums += (rooms[index - 1] + room) / 2 if index else 0.0
        offsets.append(sums)
    blocks: list[tuple[float, int]] = []
    for place, offset in zip(places, offsets, strict=True):
        total, count = place - offset, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            before, number = blocks.pop()
            total, count = total + before, count + number
        blocks.append((total, count))
    moved = [total / count for total, count in blocks for _ in range(count)]
    return [shift + offset for shift, offset in zip(moved, offsets, strict=True)]


@dataclass(frozen=True)
class Tag:
    """A label of a rail: where the thing is, what is said of it."""

    at: Point
    parts: tuple[Part, ...]
    colour: str = INK
    bold: bool = False
    shift: float = 0.0
    """How far below its place the label would rather stand, clear of a line. [px]"""

    @property
    def text(self) -> str:
        """What is said, in one piece."""
        return "".join(piece for piece, _ in self.parts)


SIZE = 10.5
ROW = 13.0
"""Height of a label in a rail, white included."""


def upright_rail(
    sheet: Sheet,
    x: float,
    tags: Sequence[Tag],
    *,
    side: str,
    clear: str = "",
    high: float = -math.inf,
    low: float = math.inf,
) -> None:
    """Write labels under each other at `x`, on the "left" or "right" of what they name.

    All of them stand between the heights `high` and `low` of the sheet as far as they have room.
    """
    ordered = sorted(tags, key=lambda tag: tag.at[1] + tag.shift)
    if not ordered:
        return
    places = [min(max(tag.at[1] + tag.shift, high), low) for tag in ordered]
    heights = spread(places, [ROW] * len(ordered))
    over = max(0.0, heights[-1] - low) - max(0.0, high - heights[0])
    anchor, back = ("end", 3.0) if side == "left" else ("start", -3.0)
    for tag, height in zip(ordered, heights, strict=True):
        y = height - over
        sheet.line(((x + back, y), tag.at), stroke=MUTED, width=0.5)
        sheet.text(
            (x, y + 0.27 * SIZE),
            tag.parts,
            size=SIZE,
            colour=tag.colour,
            anchor=anchor,
            bold=tag.bold,
            clear=clear,
        )


def level_rail(sheet: Sheet, y: float, tags: Sequence[Tag], *, white: float = 10.0) -> None:
    """Write labels beside each other at `y`, under what they name."""
    ordered = sorted(tags, key=lambda tag: tag.at[0])
    rooms = [text_width(tag.text, SIZE, bold=tag.bold) + white for tag in ordered]
    middles = spread([tag.at[0] for tag in ordered], rooms)
    for tag, x in zip(ordered, middles, strict=True):
        sheet.line(((x, y - 0.85 * SIZE), tag.at), stroke=MUTED, width=0.5)
        sheet.text((x, y), tag.parts, size=SIZE, colour=tag.colour, anchor="middle", bold=tag.bold)
