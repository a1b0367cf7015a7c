# SPDX-License-Identifier: Apache-2.0
"""Where the panels of a living section stand on a page of a width, and at which scale.

Beside each other on a wide page, under each other on a narrow one. While something is dragged the
scale is held, so that what is dragged stays under the hand.
"""

from dataclasses import dataclass
from math import ceil

from tilewater.documents.living.panel import BOX_PX, Panel, knots_of, plain_times

NARROW = 560.0
"""Below this width panels stand under each other. [px]"""
SHARE = 0.68
"""Of a wide page for the practice, where there is a field beside it. [-]"""
GAP, LEAST_FIELD = 26.0, 90.0
"""Between panels, and width of the field at least. [px]"""
LEFT, RIGHT, BOTTOM = 50.0, 10.0, 26.0
"""Room of the axis, at the right edge, and of the stations. [px]"""
TOP, NARROW_TOP = 64.0, 54.0
"""Room of labels over the highest part. [px]"""
TALLEST, LOWEST = 470.0, 290.0
"""Height of a drawing. [px]"""
FIELD_HEIGHT = 190.0
"""Height of the field on a narrow page. [px]"""


@dataclass(frozen=True)
class Scale:
    """The scale of a practice as it was when something was taken in the hand.

    Attributes
    ----------
    across, up : float
        Pixels to a metre.
    low, high : float
        Elevations at foot and head. [m]
    """

    across: float
    up: float
    low: float
    high: float


@dataclass(frozen=True)
class Extent:
    """How far something reaches, along and up, and its structures. [m]"""

    start: float
    end: float
    low: float
    high: float
    boxes: tuple[tuple[float, float], ...] = ()

    @property
    def plain(self) -> float:
        """Length outside its structures. [m]"""
        return self.end - self.start - sum(high - low for low, high in self.boxes)


@dataclass(frozen=True)
class Layout:
    """Panels, the page, and the scale of the practice."""

    practice: Panel
    field: Panel | None
    width: float
    height: float
    scale: Scale
    is_narrow: bool


def lay_out(
    practice: Extent, field: Extent | None, width: float, held: Scale | None = None
) -> Layout:
    """Lay a practice and its field out on a page.

    Parameters
    ----------
    practice : Extent
    field : Extent or None
    width : float
        Of the page. [px]
    held : Scale or None
        A scale to keep as far as there is room.

    Returns
    -------
    Layout
    """
    is_narrow = width < NARROW
    top = NARROW_TOP if is_narrow else TOP
    low, high = practice.low, practice.high
    if field is not None and not is_narrow:
        low, high = min(low, field.low), max(high, field.high)
    if held is not None:
        low, high = min(low, held.low), max(high, held.high)
    room = width - LEFT - RIGHT
    own = room if field is None or is_narrow else SHARE * (room - GAP)
    most = room if field is None or is_narrow else room - GAP - LEAST_FIELD
    boxes = len(practice.boxes) * BOX_PX
    across = (own - boxes) / practice.plain
    if held is not None:
        across = min(held.across, (most - boxes) / practice.plain)
        own = across * practice.plain + boxes
    tall = min(TALLEST, max(LOWEST, 0.52 * width))
    times = plain_times((tall - top - BOTTOM) / (high - low) / across)
    up = held.up if held is not None else times * across
    knots, _ = knots_of(practice.start, practice.end, practice.boxes, LEFT, LEFT + own)
    panel = Panel("practice", knots, low, high, top, up, up / across)
    height = panel.base + BOTTOM
    scale = Scale(across, up, low, high)
    if field is None:
        return Layout(panel, None, width, height, scale, is_narrow)
    if is_narrow:
        beside = _under(field, panel.base + BOTTOM, width)
        return Layout(panel, beside, width, beside.base + BOTTOM, scale, is_narrow)
    beside = _beside(field, panel, width - RIGHT)
    return Layout(panel, beside, width, height, scale, is_narrow)


def _beside(field: Extent, panel: Panel, right: float) -> Panel:
    """The field to the right of the practice, its heights at the same scale."""
    left = panel.right + GAP
    across = (right - left) / (field.end - field.start)
    times = ceil(panel.up / across - 1e-9)
    across = panel.up / times
    knots = ((field.start, left), (field.end, left + across * (field.end - field.start)))
    return Panel("field", knots, panel.low, panel.high, panel.top, panel.up, float(times))


def _under(field: Extent, top: float, width: float) -> Panel:
    """The field under the practice, as wide as the page."""
    left, right = LEFT, width - RIGHT
    across = (right - left) / (field.end - field.start)
    head = top + NARROW_TOP
    low, high = field.low, field.high
    times = plain_times((FIELD_HEIGHT - NARROW_TOP) / (high - low) / across)
    return Panel(
        "field", ((field.start, left), (field.end, right)), low, high, head, times * across, times
    )
