# SPDX-License-Identifier: Apache-2.0
"""Geometry of the water in an open channel of any section: area, wetted perimeter, top width.

A section is a row of points across the channel, as a rod and a level give them; a trapezoid is
the special case of four points. Water that stands behind a ridge of the ground, not joined to the
lowest point, does not count. How much flows is in `channels`.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from tilewater.basis.domain import refuse, require_not_negative, require_positive
from tilewater.basis.errors import NoSolution, OutOfDomain

TRAPEZOID_HEIGHT = 30.0
"""How far the sides of a trapezoid go up where no bank top ends them. [m]"""


class ChannelSection(NamedTuple):
    """A section across a channel, from one bank to the other.

    Attributes
    ----------
    distance : tuple of float
        Distance of each point from the first bank; it never goes back. [m]
    elevation : tuple of float
        Elevation of each point. [m]
    """

    distance: tuple[float, ...]
    elevation: tuple[float, ...]

    @property
    def bottom(self) -> float:
        """Elevation of the lowest point. [m]"""
        return min(self.elevation)

    @property
    def brim(self) -> float:
        """Level above which water leaves the section over its lower bank. [m]"""
        lowest = self.elevation.index(self.bottom)
        return min(max(self.elevation[: lowest + 1]), max(self.elevation[lowest:]))


class WettedSection(NamedTuple):
    """The part of a section that is under water.

    Attributes
    ----------
    area : float
        Across the flow. [m2]
    perimeter : float
        Ground under water. [m]
    top_width : float
        Water surface. [m]
    """

    area: float
    perimeter: float
    top_width: float


def channel_section_surveyed(across: Sequence[tuple[float, float]]) -> ChannelSection:
    """Section of a channel from surveyed points.

    Parameters
    ----------
    across : sequence of (float, float)
        Distance from the first bank and elevation of each point, in the order across. [m]

    Returns
    -------
    ChannelSection
        The section. [m]

    Raises
    ------
    OutOfDomain
        If there are fewer than three points, the distance goes back, or no bank rises on one side.

    References
    ----------
    derived, points joined by straight lines
    """
    distance = tuple(float(x) for x, _ in across)
    elevation = tuple(float(z) for _, z in across)
    if len(across) < 3:
        raise OutOfDomain(
            f"the section has {len(across)} points. A channel needs three at least: bank, bottom "
            "and bank. Survey it from bank top to bank top."
        )
    for before, after in pairwise(distance):
        if not after >= before:
            raise refuse(
                "distance", after, "m", f"It comes after {before:g} m", "List the points across"
            )
    section = ChannelSection(distance, elevation)
    if not section.brim > section.bottom:
        raise OutOfDomain(
            "the lowest point of the section is at its end. Ground must rise on both sides of the "
            "water. Survey it from bank top to bank top."
        )
    return section


def channel_section_trapezoid(
    bottom: float,
    bottom_width: float,
    side_slope: float,
    side_slope_right: float | None = None,
    height: float = TRAPEZOID_HEIGHT,
) -> ChannelSection:
    """Section of a channel with a level bottom and straight sides.

    Parameters
    ----------
    bottom : float
        Elevation of the bottom. [m]
    bottom_width : float
        Width of the bottom; zero makes a V. [m]
    side_slope : float
        Horizontal per vertical of the side, 0 for upright. [-]
    side_slope_right : float or None
        The same of the other side where it differs. [-]
    height : float
        Height of the sides above the bottom. [m]

    Returns
    -------
    ChannelSection
        The section. [m]

    Raises
    ------
    OutOfDomain
        If a width or a slope is negative, the height not above zero, or the channel has no width.

    References
    ----------
    chow1959, section geometry, trapezoid
    """
    right = side_slope if side_slope_right is None else side_slope_right
    require_not_negative("bottom width", bottom_width, "m", "Tape it across the bottom")
    for each in (side_slope, right):
        require_not_negative("side slope", each, "", "Write horizontal per vertical, like 1.5:1")
    require_positive("height", height, "m", "Check the bottom against the bank top")
    if bottom_width == 0 and side_slope == 0 and right == 0:
        raise refuse("bottom width", 0.0, "m", "Upright sides need a bottom", "Tape it")
    across = (0.0, side_slope * height, side_slope * height + bottom_width)
    top = bottom + height
    return ChannelSection((*across, across[2] + right * height), (top, bottom, bottom, top))


def channel_wetted(level: float, section: ChannelSection) -> WettedSection:
    """Area, wetted perimeter and top width of the water in a channel.

    Parameters
    ----------
    level : float
        Elevation of the water surface. [m]
    section : ChannelSection
        The channel. [m]

    Returns
    -------
    WettedSection
        All zero at and below the lowest point. [m]

    Raises
    ------
    NoSolution
        If the water stands above the lower bank of the section.

    Notes
    -----
    A = sum((y_i + y_i+1)/2 b_i), P = sum(sqrt(b_i^2 + dz_i^2)), T = sum(b_i)    (derived)

    References
    ----------
    derived, straight lines between the points, cut at the water surface
    """
    distance, z = section
    left = right = z.index(min(z))
    if not level > z[left]:
        return WettedSection(0.0, 0.0, 0.0)
    while left > 0 and z[left] < level:
        left -= 1
    while right < len(z) - 1 and z[right] < level:
        right += 1
    if z[left] < level or z[right] < level:
        raise NoSolution(
            f"level is {level:.2f} m. The section ends at {min(z[left], z[right]):.2f} m on its "
            "lower bank. Survey the ground beyond the banks."
        )
    area = perimeter = width = 0.0
    for i in range(left, right):
        low, high = sorted((z[i], z[i + 1]))
        if low >= level:
            continue
        wet = 1.0 if high <= level else (level - low) / (high - low)
        across = (distance[i + 1] - distance[i]) * wet
        area += across * (level - low + max(level - high, 0.0)) / 2.0
        perimeter += math.hypot(distance[i + 1] - distance[i], high - low) * wet
        width += across
    return WettedSection(area, perimeter, width)
