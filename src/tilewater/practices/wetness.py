# SPDX-License-Identifier: Apache-2.0
"""How dry the field stays behind raised water.

Three depths of clear soil at every lateral junction and low spot: over standing water at the
crest, over the grade line in the main in a storm, and midway between the laterals in the same
storm. Each has its own limit, and each gives the highest crest that still keeps it.
The storm is the main running just full with the practice shut off.
"""

import math
from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.groundwater import water_height_hooghoudt


@dataclass(frozen=True)
class Laterals:
    """What Hooghoudt asks of a field.

    Attributes
    ----------
    spacing : float
        Distance between the laterals. [m]
    equivalent_depth : float
        Equivalent depth to the barrier. [m]
    conductivity_below, conductivity_above : float
        Conductivity of the soil below and above the drains. [m/s]
    """

    spacing: float
    equivalent_depth: float
    conductivity_below: float
    conductivity_above: float


def pool_reach(crest: float, invert: float, slope: float) -> float:
    """Distance that the standing pool reaches up the main.

    Parameters
    ----------
    crest : float
        Elevation of the standing water at the structure. [m]
    invert : float
        Invert of the main at the structure. [m]
    slope : float
        Grade of the main. [-]

    Returns
    -------
    float
        Length of main that holds standing water; 0 where the crest is at or under the invert. [m]

    Raises
    ------
    OutOfDomain
        If the main has no grade.

    Notes
    -----
    reach = (crest - invert) / S    (derived)

    References
    ----------
    derived, a level pool on a uniform grade
    """
    if slope <= 0:
        raise OutOfDomain(
            f"slope is {slope:.4g} m/m. A pool ends only on a main that rises. "
            "Check the grade of the main."
        )
    return max(0.0, crest - invert) / slope


def drain_elevation_at_spot(ground: float, lateral_depth: float) -> float:
    """Elevation of the laterals at a spot.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    lateral_depth : float
        Depth of the laterals below ground. [m]

    Returns
    -------
    float
        Elevation of the drain. [m]

    Notes
    -----
    drain = ground - depth    (derived)

    References
    ----------
    derived, laterals at a uniform depth
    """
    return ground - lateral_depth


def standing_clear_soil(ground: float, crest: float, drain: float) -> float:
    """Clear soil over standing water.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    crest : float
        Elevation of the standing water at the structure. [m]
    drain : float
        Elevation of the drain at the spot; water does not stand below it. [m]

    Returns
    -------
    float
        Depth of soil above the water. [m]

    Notes
    -----
    clear = ground - max(crest, drain)    (derived)

    References
    ----------
    derived, a level pool that ends at the drain
    """
    return ground - max(crest, drain)


def storm_rise(head: float, grade_line: float, distance: float) -> float:
    """Rise of the water from the bypass crest to a spot up the main, the main just full.

    Parameters
    ----------
    head : float
        Head over the bypass crest at that flow, the practice shut off. [m]
    grade_line : float
        Slope of the grade line of the main running full. [-]
    distance : float
        Distance up the main from the structure to the spot. [m]

    Returns
    -------
    float
        Water level at the spot above the crest. [m]

    Notes
    -----
    rise = h + S x    (derived)

    References
    ----------
    derived, friction slope of a full pipe equals its grade at full flow
    """
    return head + grade_line * distance


def storm_water_level(crest: float, rise: float, drain: float) -> float:
    """Water level at a spot with the main just full and the practice shut off.

    Parameters
    ----------
    crest : float
        Elevation of the bypass crest. [m]
    rise : float
        Rise of the water from the crest to the spot. [m]
    drain : float
        Elevation of the drain at the spot, below which the level does not count. [m]

    Returns
    -------
    float
        Elevation of the water. [m]

    Notes
    -----
    level = max(crest + rise, drain)    (derived)

    References
    ----------
    derived, a grade line that ends at the drain
    """
    return max(crest + rise, drain)


def storm_clear_soil(ground: float, water_level: float) -> float:
    """Clear soil over the grade line of the main in a storm.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    water_level : float
        Elevation of the water in the main at the spot. [m]

    Returns
    -------
    float
        Depth of soil above the grade line. [m]

    Notes
    -----
    clear = ground - level    (derived)

    References
    ----------
    derived, difference of elevations
    """
    return ground - water_level


def midway_clear_soil(
    ground: float, water_level: float, drain: float, flux: float, laterals: Laterals
) -> float:
    """Clear soil midway between the laterals in the same storm.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    water_level : float
        Water level in the drains at the spot. [m]
    drain : float
        Elevation of the drain. [m]
    flux : float
        Drain flow per area of field. [m/s]
    laterals : Laterals
        Spacing, equivalent depth and conductivities. [-]

    Returns
    -------
    float
        Depth of soil above the water table midway. [m]

    Notes
    -----
    clear = ground - drain - H, H of Hooghoudt with the outlet at level - drain    (ritzema1994)

    References
    ----------
    ritzema1994, ch. 8; the raised outlet in the ellipse form is derived
    """
    height = water_height_hooghoudt(
        flux,
        outlet_height=water_level - drain,
        spacing=laterals.spacing,
        equivalent_depth=laterals.equivalent_depth,
        conductivity_below=laterals.conductivity_below,
        conductivity_above=laterals.conductivity_above,
    )
    return ground - drain - float(height)


def crest_for_standing(ground: float, limit: float) -> float:
    """Highest crest that keeps the limit on standing water at a spot.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    limit : float
        Clear soil to keep. [m]

    Returns
    -------
    float
        Elevation of the crest. [m]

    Notes
    -----
    crest = ground - limit    (derived)

    References
    ----------
    derived, standing_clear_soil turned round
    """
    return ground - limit


def crest_for_storm(ground: float, limit: float, rise: float) -> float:
    """Highest crest that keeps the limit on the storm grade line at a spot.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    limit : float
        Clear soil to keep. [m]
    rise : float
        Rise of the water from the crest to the spot. [m]

    Returns
    -------
    float
        Elevation of the crest. [m]

    Notes
    -----
    crest = ground - limit - rise    (derived)

    References
    ----------
    derived, storm_water_level turned round
    """
    return ground - limit - rise


def crest_for_midway(
    ground: float, limit: float, drain: float, rise: float, flux: float, laterals: Laterals
) -> float:
    """Highest crest that keeps the limit midway between the laterals at a spot.

    Parameters
    ----------
    ground : float
        Ground elevation at the spot. [m]
    limit : float
        Clear soil to keep midway. [m]
    drain : float
        Elevation of the drain at the spot. [m]
    rise : float
        Rise of the water from the crest to the spot. [m]
    flux : float
        Drain flow per area of field. [m/s]
    laterals : Laterals
        Spacing, equivalent depth and conductivities. [-]

    Returns
    -------
    float
        Elevation of the crest; minus infinity where the laterals alone, with a free outlet, already
        leave less clear soil than the limit. [m]

    Notes
    -----
    4 Ka E^2 + 8 Kb d E = 8 Kb d H + 4 Ka H^2 - q L^2; crest = drain + E - rise    (derived)

    References
    ----------
    derived, the ellipse form of Hooghoudt with a raised outlet solved for the outlet
    """
    height = ground - drain - limit
    linear = 8.0 * laterals.conductivity_below * laterals.equivalent_depth
    square = 4.0 * laterals.conductivity_above
    room = linear * height + square * height**2 - flux * laterals.spacing**2
    if height < 0 or room < 0:
        return -math.inf
    outlet = 2.0 * room / (linear + math.sqrt(linear**2 + 4.0 * square * room))
    return drain + outlet - rise
