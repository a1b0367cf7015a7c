# SPDX-License-Identifier: Apache-2.0
"""What only a run of the field knows: its water balance, what it holds, how often it is limited."""

from tilewater.hydrology.crops import Crop
from tilewater.hydrology.evapotranspiration import evapotranspiration_form
from tilewater.hydrology.field import FieldRun, WaterBalance
from tilewater.hydrology.field_parts import FieldDrains, FieldSoil

YEAR_DAYS = 365.25


def days_limited(run: FieldRun) -> float:
    """Days of a mean year on which the main holds the drains back.

    Parameters
    ----------
    run : FieldRun
        The field day by day. [-]

    Returns
    -------
    float
        Days. [days]

    Notes
    -----
    d = 365.25 x share of days on which the drains would give more    (derived)

    References
    ----------
    derived, a count
    """
    return YEAR_DAYS * run.days_of("limited") / run.weather.days


def water_held_by_roots(
    soil: FieldSoil, drains: FieldDrains, rotation: tuple[Crop, ...]
) -> tuple[float, ...]:
    """Water that the soil holds for each crop, from field capacity to wilting.

    Parameters
    ----------
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains; roots reach no deeper. [-]
    rotation : tuple of Crop
        Crops with their full depth of roots. [-]

    Returns
    -------
    tuple of float
        Depth of water for each crop in turn. [m]

    Notes
    -----
    W = c min(Z, drain depth)    (derived)

    References
    ----------
    derived, water over a volume times its depth
    """
    return tuple(soil.water_capacity * min(crop.root_depth, drains.depth) for crop in rotation)


def water_that_drains(soil: FieldSoil, drains: FieldDrains) -> float:
    """Water that drains from a field whose table falls from the ground to the drains.

    Parameters
    ----------
    soil : FieldSoil
        The soil. [-]
    drains : FieldDrains
        The drains. [-]

    Returns
    -------
    float
        Depth of water. [m]

    Notes
    -----
    W = f depth    (derived)

    References
    ----------
    derived, drainable pores over the depth of the drains
    """
    return soil.drainable_porosity * drains.depth


def balance_of(run: FieldRun) -> WaterBalance:
    """Where the water of the record went.

    Parameters
    ----------
    run : FieldRun
        The field day by day. [-]

    Returns
    -------
    WaterBalance
        Depths over the whole record. [m]

    Notes
    -----
    P + snow missed = drains + inlets + runoff + ET + deep + side + change    (derived)

    References
    ----------
    derived, the water balance of a field
    """
    return run.balance


def balance_year(balance: WaterBalance, run: FieldRun, part: str) -> float:
    """One part of the water balance in a mean year.

    Parameters
    ----------
    balance : WaterBalance
        Of the whole record. [m]
    run : FieldRun
        The field day by day. [-]
    part : str
        Name of the part. [-]

    Returns
    -------
    float
        Depth in a year of 365.25 days. [m]

    Notes
    -----
    D = 365.25 x total / days    (derived)

    References
    ----------
    derived, mean of the record
    """
    return YEAR_DAYS * float(getattr(balance, part)) / run.weather.days


def evapotranspiration_name(run: FieldRun) -> str:
    """Form of the reference evapotranspiration, which the recorded elements decide.

    Parameters
    ----------
    run : FieldRun
        The field day by day. [-]

    Returns
    -------
    str
        "Penman-Monteith" or "Hargreaves-Samani". [-]

    Notes
    -----
    Penman-Monteith with radiation and humidity, else Hargreaves-Samani    (allen1998)

    References
    ----------
    allen1998, chapter 4
    """
    return evapotranspiration_form(run.weather).form
