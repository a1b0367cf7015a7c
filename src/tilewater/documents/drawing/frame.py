# SPDX-License-Identifier: Apache-2.0
"""How ground falls on paper: the frame of a drawing, its scales, and the choice of usual scales.

A point on the ground is in metres, as it is and never exaggerated. A point on paper is in
millimetres from the lower left corner of the frame, up positive.
"""

from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.units import System
from tilewater.documents.scales import fitting_scale

Point = tuple[float, float]
MM = 1000.0
"""Millimetres of a metre."""


@dataclass(frozen=True)
class Frame:
    """The paper of one drawing and where the ground falls on it.

    Attributes
    ----------
    low : tuple of float
        Point of the ground in the lower left corner. [m]
    width_mm, height_mm : float
        Size on paper. [mm]
    scale_x, scale_y : float
        Metres of ground on a metre of paper, across and up. [-]
    """

    low: Point
    width_mm: float
    height_mm: float
    scale_x: float
    scale_y: float

    def __post_init__(self) -> None:
        for name in ("width_mm", "height_mm", "scale_x", "scale_y"):
            value = getattr(self, name)
            if not value > 0.0:
                raise OutOfDomain(f"{name} is {value:g}. A frame has a size. Give a larger one.")

    @property
    def exaggeration(self) -> float:
        """How much heights are drawn larger than lengths."""
        return self.scale_x / self.scale_y

    @property
    def high(self) -> Point:
        """Point of the ground in the upper right corner. [m]"""
        return self.ground((self.width_mm, self.height_mm))

    def paper(self, point: Point) -> Point:
        """Where a point of the ground falls on paper. [mm]"""
        (x, y), (x0, y0) = point, self.low
        return (x - x0) * MM / self.scale_x, (y - y0) * MM / self.scale_y

    def ground(self, point: Point) -> Point:
        """Point of the ground that falls on a point of the paper. [m]"""
        (x, y), (x0, y0) = point, self.low
        return x0 + x * self.scale_x / MM, y0 + y * self.scale_y / MM

    def moved(self, point: Point, right_mm: float, up_mm: float) -> Point:
        """A point of the ground, moved by millimetres of paper. [m]"""
        return point[0] + right_mm * self.scale_x / MM, point[1] + up_mm * self.scale_y / MM


@dataclass(frozen=True)
class Sides:
    """Room kept free inside a frame. [mm]"""

    left: float = 0.0
    bottom: float = 0.0
    right: float = 0.0
    top: float = 0.0


def paper_frame(width_mm: float, height_mm: float) -> Frame:
    """A frame for what has no ground, as a table or a legend: a metre is a millimetre."""
    return Frame((0.0, 0.0), width_mm, height_mm, MM, MM)


def fitted_frame(
    low: Point,
    high: Point,
    *,
    width_mm: float,
    height_mm: float,
    units: System,
    free: Sides | None = None,
    exaggerated: bool = False,
) -> Frame:
    """The frame in which a box of ground stands in the middle at the largest usual scale.

    Parameters
    ----------
    low, high : tuple of float
        Corners of the box. [m]
    width_mm, height_mm : float
        Size of the frame on paper. [mm]
    units : "us" or "si"
        Whose usual scales.
    free : Sides
        Room around the box for labels. [mm]
    exaggerated : bool
        Whether heights have a scale of their own. It is never smaller than that of lengths.

    Returns
    -------
    Frame

    Raises
    ------
    OutOfDomain
        If the box is empty, the free room leaves nothing, or the smallest usual scale is too large.
    """
    free = free or Sides()
    room_x = width_mm - free.left - free.right
    room_y = height_mm - free.bottom - free.top
    long, tall = high[0] - low[0], high[1] - low[1]
    if min(long, tall) < 0.0 or max(long, tall) == 0.0:
        raise OutOfDomain(
            f"The ground to draw is {long:g} m by {tall:g} m. It must have a size. "
            "Give its lower left corner first."
        )
    across = _usual(long, room_x, units)
    up = _usual(tall, room_y, units)
    scale_x = max(across, up)
    scale_y = up if exaggerated else scale_x
    left = free.left + (room_x - long * MM / scale_x) / 2
    bottom = free.bottom + (room_y - tall * MM / scale_y) / 2
    corner = low[0] - left * scale_x / MM, low[1] - bottom * scale_y / MM
    return Frame(corner, width_mm, height_mm, scale_x, scale_y)


def _usual(length: float, room_mm: float, units: System) -> float:
    ratio = fitting_scale(length, room_mm, units)
    if length * MM / ratio > room_mm + 1e-9:
        raise OutOfDomain(
            f"{length:g} m have {room_mm:g} mm of paper. "
            f"The smallest usual scale is 1 : {ratio:g}. Give more paper or draw less."
        )
    return ratio
