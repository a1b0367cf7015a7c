# SPDX-License-Identifier: Apache-2.0
"""Volumes and areas of holes and of the sheets that line and cover them.

A hole has a level rectangular floor and sides of one slope all around, horizontal per vertical.
Swell and shrink of soil come from `earthwork`. Ground that is not level, prices and what is paid
are not the business of this module.
"""

import numpy as np

from tilewater.basis.domain import Number, require_not_negative
from tilewater.basis.earthwork import bank_volume_for_fill, compacted_volume, loose_volume

__all__ = [
    "bank_volume_for_fill",
    "compacted_volume",
    "loose_volume",
    "pit_area",
    "pit_cover_area",
    "pit_sheet_area",
    "pit_surface_area",
    "pit_volume",
    "prismoid_volume",
    "slope_length",
]


def prismoid_volume(
    area_first: Number, area_middle: Number, area_last: Number, *, length: Number
) -> Number:
    """Volume between two parallel areas, by the prismoidal rule.

    Parameters
    ----------
    area_first : float or array
        Area at one end. [m2]
    area_middle : float or array
        Area half way, measured, not the mean of the ends. [m2]
    area_last : float or array
        Area at the other end. [m2]
    length : float or array
        Distance between the ends. [m]

    Returns
    -------
    float or array
        Volume. [m3]

    Raises
    ------
    OutOfDomain
        If an area or the length is negative.

    Notes
    -----
    V = L (A1 + 4 Am + A2) / 6    (hpmuseum-prismoid)

    Exact where the area is a cubic of the distance, as in every hole with plane sides.

    References
    ----------
    hpmuseum-prismoid, rule and examples
    """
    for name, area in (
        ("area_first", area_first),
        ("area_middle", area_middle),
        ("area_last", area_last),
    ):
        require_not_negative(name, area, "m2", "Give the area of the section")
    require_not_negative("length", length, "m", "Give the distance between the ends")
    return length * (area_first + 4.0 * area_middle + area_last) / 6.0


def pit_area(
    bottom_length: Number, bottom_width: Number, *, side_slope: Number, height: Number
) -> Number:
    """Level area of a hole at some height above its floor.

    Parameters
    ----------
    bottom_length : float or array
        Length of the floor. [m]
    bottom_width : float or array
        Width of the floor. [m]
    side_slope : float or array
        Horizontal per vertical, 0 for upright sides. [m/m]
    height : float or array
        Height above the floor. [m]

    Returns
    -------
    float or array
        Area. [m2]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    A = (L + 2 z h) (W + 2 z h)    (derived)

    References
    ----------
    derived, geometry
    """
    _require_pit(bottom_length, bottom_width, side_slope)
    require_not_negative("height", height, "m", "Count from the floor up")
    spread = 2.0 * side_slope * height
    return (bottom_length + spread) * (bottom_width + spread)


def pit_volume(
    bottom_length: Number, bottom_width: Number, *, side_slope: Number, depth: Number
) -> Number:
    """Volume of a hole from its floor to some depth of fill or digging.

    Parameters
    ----------
    bottom_length : float or array
        Length of the floor. [m]
    bottom_width : float or array
        Width of the floor. [m]
    side_slope : float or array
        Horizontal per vertical, 0 for upright sides. [m/m]
    depth : float or array
        From the floor to the top. [m]

    Returns
    -------
    float or array
        Volume. [m3]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    V = h (A(0) + 4 A(h/2) + A(h)) / 6    (hpmuseum-prismoid)

    References
    ----------
    hpmuseum-prismoid, rule
    """
    at = [
        pit_area(bottom_length, bottom_width, side_slope=side_slope, height=depth * share)
        for share in (0.0, 0.5, 1.0)
    ]
    return prismoid_volume(*at, length=depth)


def pit_surface_area(
    bottom_length: Number, bottom_width: Number, *, side_slope: Number, depth: Number
) -> Number:
    """Area of floor and sides of a hole.

    Parameters
    ----------
    bottom_length : float or array
        Length of the floor. [m]
    bottom_width : float or array
        Width of the floor. [m]
    side_slope : float or array
        Horizontal per vertical, 0 for upright sides. [m/m]
    depth : float or array
        From the floor to the top of the lined sides. [m]

    Returns
    -------
    float or array
        Area. [m2]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    A = L W + 2 (L + W + 2 z h) h sqrt(1 + z^2)    (derived)

    References
    ----------
    derived, geometry
    """
    _require_pit(bottom_length, bottom_width, side_slope)
    require_not_negative("depth", depth, "m", "Count from the floor up")
    half_around = bottom_length + bottom_width + 2.0 * side_slope * depth
    return bottom_length * bottom_width + 2.0 * half_around * slope_length(
        depth, side_slope=side_slope
    )


def slope_length(depth: Number, *, side_slope: Number) -> Number:
    """Length of a side of a hole, measured up the slope.

    Parameters
    ----------
    depth : float or array
        Height of the side. [m]
    side_slope : float or array
        Horizontal per vertical, 0 for an upright side. [m/m]

    Returns
    -------
    float or array
        Length up the slope. [m]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    s = h sqrt(1 + z^2)    (derived)

    References
    ----------
    derived, geometry
    """
    require_not_negative("depth", depth, "m", "Count from the floor up")
    require_not_negative("side_slope", side_slope, "m/m", "Give horizontal per vertical")
    return np.multiply(depth, np.sqrt(1.0 + side_slope**2))[()]


def pit_sheet_area(
    bottom_length: Number,
    bottom_width: Number,
    *,
    side_slope: Number,
    depth: Number,
    lap: Number,
) -> Number:
    """Area of a rectangular sheet in one piece that lines a hole and laps over its edge.

    Larger than the lined area: the corners fold.

    Parameters
    ----------
    bottom_length : float or array
        Length of the floor. [m]
    bottom_width : float or array
        Width of the floor. [m]
    side_slope : float or array
        Horizontal per vertical, 0 for upright sides. [m/m]
    depth : float or array
        From the floor to the top of the lined sides. [m]
    lap : float or array
        What lies over the edge on each side. [m]

    Returns
    -------
    float or array
        Area of the sheet. [m2]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    A = (L + 2 (s + lap)) (W + 2 (s + lap)), s = h sqrt(1 + z^2)    (derived)

    References
    ----------
    derived, geometry
    """
    _require_pit(bottom_length, bottom_width, side_slope)
    require_not_negative("depth", depth, "m", "Count from the floor up")
    require_not_negative("lap", lap, "m", "Give what lies over the edge")
    beyond = 2.0 * (slope_length(depth, side_slope=side_slope) + lap)
    return (bottom_length + beyond) * (bottom_width + beyond)


def pit_cover_area(
    bottom_length: Number,
    bottom_width: Number,
    *,
    side_slope: Number,
    depth: Number,
    lap: Number,
) -> Number:
    """Area of a rectangular sheet that covers a filled hole and laps over its edge.

    Parameters
    ----------
    bottom_length : float or array
        Length of the floor. [m]
    bottom_width : float or array
        Width of the floor. [m]
    side_slope : float or array
        Horizontal per vertical, 0 for upright sides. [m/m]
    depth : float or array
        From the floor to the top of the fill. [m]
    lap : float or array
        What lies over the edge on each side. [m]

    Returns
    -------
    float or array
        Area of the sheet. [m2]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    A = (L + 2 z h + 2 lap) (W + 2 z h + 2 lap)    (derived)

    References
    ----------
    derived, geometry
    """
    _require_pit(bottom_length, bottom_width, side_slope)
    require_not_negative("depth", depth, "m", "Count from the floor up")
    require_not_negative("lap", lap, "m", "Give what lies over the edge")
    beyond = 2.0 * (side_slope * depth + lap)
    return (bottom_length + beyond) * (bottom_width + beyond)


def _require_pit(length: Number, width: Number, side_slope: Number) -> None:
    require_not_negative("bottom_length", length, "m", "Give the length of the floor")
    require_not_negative("bottom_width", width, "m", "Give the width of the floor")
    require_not_negative("side_slope", side_slope, "m/m", "Give horizontal per vertical")
