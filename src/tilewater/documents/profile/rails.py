# SPDX-License-Identifier: Apache-2.0
"""Labels side by side without touching: each as near to its place as the others leave it."""

from collections.abc import Sequence
from dataclasses import dataclass

from tilewater.documents.drawing.frame import Point
from tilewater.documents.drawing.metrics import CAP
from tilewater.documents.drawing.model import SMALL, Part
from tilewater.documents.profile.plot import Plot, width_of_parts

ROW = 3.6
"""Height of a label in a rail, white included. [mm]"""


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


def spread_between(
    places: Sequence[float], rooms: Sequence[float], low: float, high: float
) -> list[float]:
    """Places spread, and moved inside two ends as far as they have room there."""
    if not places:
        return []
    halves = [room / 2 for room in rooms]
    held = [
        min(max(place, low + half), high - half) for place, half in zip(places, halves, strict=True)
    ]
    moved = spread(held, rooms)
    for index in reversed(range(len(moved))):
        moved[index] = min(moved[index], high - halves[index])
        high = moved[index] - halves[index]
    for index, half in enumerate(halves):
        moved[index] = max(moved[index], low + half)
        low = moved[index] + half
    return moved


@dataclass(frozen=True)
class Tag:
    """A label of a rail: where the thing is on the ground, what is said of it."""

    at: Point
    parts: tuple[Part, ...]
    layer: str = "label"

    @property
    def width(self) -> float:
        """Room that it takes. [mm]"""
        return width_of_parts(self.parts)


def rail_width(tags: Sequence[Tag]) -> float:
    """Room of the longest label. [mm]"""
    return max((tag.width for tag in tags), default=0.0)


def rail_height(tags: Sequence[Tag]) -> float:
    """Room that labels take under each other. [mm]"""
    return ROW * len(tags)


LEAD = 5.0
"""From the edge of the section to the labels. [mm]"""
_BACK, _GAP = 1.2, 0.8


def upright_rail(
    plot: Plot, edge: float, tags: Sequence[Tag], side: str, low: float, high: float
) -> None:
    """Write labels under each other beside an upright edge of the section.

    A fine line runs level from each thing to the edge, then to its label.

    Parameters
    ----------
    plot : Plot
    edge : float
        Of the section on paper. [mm]
    tags : sequence of Tag
    side : "left" or "right"
        Of the edge, where the labels stand.
    low, high : float
        Heights between which they stand. [mm]
    """
    ordered = sorted(tags, key=lambda tag: tag.at[1])
    places = [plot.frame.paper(tag.at)[1] for tag in ordered]
    heights = spread_between(places, [ROW] * len(ordered), low, high)
    way = -1.0 if side == "left" else 1.0
    x = edge + way * LEAD
    for tag, height in zip(ordered, heights, strict=True):
        start = plot.frame.paper(tag.at)
        elbow = (edge + way * _GAP, start[1])
        plot.rule((start, elbow, (x - way * _BACK, height), (x - way * _GAP, height)))
        plot.write(
            (x, height - CAP * SMALL / 2),
            tag.parts,
            layer=tag.layer,
            across="right" if side == "left" else "left",
        )
