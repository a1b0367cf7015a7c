# SPDX-License-Identifier: Apache-2.0
"""Drawings set together on sheets: beside each other, or below each other while there is room."""

from collections.abc import Iterable, Sequence

from tilewater.documents.drawing.model import Drawing, Placed, Sheet

GAP = 6.0
"""Room between drawings. [mm]"""


def beside(drawings: Sequence[Drawing]) -> Sheet:
    """Set drawings in a row, level at their tops; the sheet has the name of the first.

    Parameters
    ----------
    drawings : sequence of Drawing

    Returns
    -------
    Sheet
        As large as they need.
    """
    high = max(drawing.frame.height_mm for drawing in drawings)
    placed, x = [], 0.0
    for drawing in drawings:
        placed.append(Placed(drawing, x, high - drawing.frame.height_mm))
        x += drawing.frame.width_mm + GAP
    return Sheet(drawings[0].title, x - GAP, high, tuple(placed), drawings[0].about)


def stacked(
    drawings: Iterable[Drawing], height_mm: float, *, first_mm: float | None = None
) -> tuple[Sheet, ...]:
    """Set drawings below each other, on a new sheet where the last has no room.

    Parameters
    ----------
    drawings : iterable of Drawing
    height_mm : float
        Height that no sheet goes over unless one drawing alone does. [mm]
    first_mm : float or None
        The same of the first sheet, where it has less room. [mm]

    Returns
    -------
    tuple of Sheet
        As large as they need.
    """
    piles: list[list[Drawing]] = []
    for drawing in drawings:
        room = first_mm if len(piles) == 1 and first_mm is not None else height_mm
        if piles and _height([*piles[-1], drawing]) <= room:
            piles[-1].append(drawing)
        else:
            piles.append([drawing])
    return tuple(map(_pile, piles))


def _pile(drawings: list[Drawing]) -> Sheet:
    high = y = _height(drawings)
    placed = []
    for drawing in drawings:
        placed.append(Placed(drawing, 0.0, y - drawing.frame.height_mm))
        y -= drawing.frame.height_mm + GAP
    wide = max(drawing.frame.width_mm for drawing in drawings)
    title = "; ".join(drawing.title for drawing in drawings)
    about = "; ".join(drawing.about for drawing in drawings if drawing.about)
    return Sheet(title, wide, high, tuple(placed), about)


def _height(drawings: list[Drawing]) -> float:
    return sum(drawing.frame.height_mm + GAP for drawing in drawings) - GAP
