# SPDX-License-Identifier: Apache-2.0
"""The bank of a buffer as steps of a trace call it: seep, gradients and factors of safety."""

import math

from tilewater.basis.unit_table import STANDARD_GRAVITY
from tilewater.hydraulics.bank_stability import (
    BankSoil,
    bank_factor_bishop,
    slope_factor_infinite,
)
from tilewater.hydraulics.line_exit import LineSoil
from tilewater.hydraulics.seepage_face import (
    critical_gradient,
    exit_gradient,
    mean_gradient,
    seepage_exit_height,
    void_ratio_of,
)

STEEPEST_DEG = 89.0
SKIN = 1.0
"""Depth of the layer that would slide along a long face. [m]"""
GRAINS = 2.65
"""Specific gravity of the grains. [-]"""


def seep_height(flow: float, length: float, head_stream: float, soil: LineSoil) -> float:
    """Height above the restrictive layer at which water comes out of the bank.

    Parameters
    ----------
    flow : float
        Flow into the buffer. [m3/s]
    length : float
        Length of line that feeds. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]
    soil : LineSoil
        Its conductivity counts. [-]

    Returns
    -------
    float
        Top of the seepage face. [m]

    Notes
    -----
    he = h2 + 0.742 a exp(-1.47 h2 / a), a = Q / (L K)    (derived)

    References
    ----------
    polubarinova1962, vertical face
    derived, fit to a solution in finite differences
    """
    return seepage_exit_height(flow / length, head_stream, conductivity=soil.conductivity)


def seep_gradient(flow: float, length: float, seep: float, soil: LineSoil) -> float:
    """Mean gradient with which water leaves the bank.

    Parameters
    ----------
    flow : float
        Flow into the buffer. [m3/s]
    length : float
        Length of line that feeds. [m]
    seep : float
        Top of the seepage face above the restrictive layer. [m]
    soil : LineSoil
        Its conductivity counts. [-]

    Returns
    -------
    float
        Gradient. [m/m]

    Notes
    -----
    i = Q / (L K he)    (darcy1856)

    References
    ----------
    darcy1856
    """
    return exit_gradient(flow / length, seep, conductivity=soil.conductivity)


def line_gradient(head_line: float, head_stream: float, width: float) -> float:
    """Mean gradient of the buffer from line to ditch.

    Parameters
    ----------
    head_line : float
        Head at the line. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]
    width : float
        Width of the strip. [m]

    Returns
    -------
    float
        Gradient. [m/m]

    Notes
    -----
    i = (h1 - h2) / W    (darcy1856)

    References
    ----------
    darcy1856
    """
    return mean_gradient(head_line, head_stream, width=width)


def allowed_gradient(porosity: float) -> float:
    """Gradient with which water may leave a bank: a third of that which lifts the soil.

    Parameters
    ----------
    porosity : float
        Of the soil. [-]

    Returns
    -------
    float
        Gradient. [m/m]

    Notes
    -----
    i = (1/3) (G - 1) / (1 + e), e = n / (1 - n)    (terzaghi1943)

    A factor of three is common practice.

    References
    ----------
    terzaghi1943, boiling of sand
    practice, factor of three
    """
    return critical_gradient(specific_gravity=GRAINS, void_ratio=void_ratio_of(porosity)) / 3.0


def bank_soil(cohesion: float, friction_deg: float, density: float) -> BankSoil:
    """Strength and weight of a bank, from what the job gives.

    Parameters
    ----------
    cohesion : float
        Effective cohesion. [Pa]
    friction_deg : float
        Effective angle of friction. [deg]
    density : float
        Wet density. [kg/m3]

    Returns
    -------
    BankSoil

    Notes
    -----
    weight = density g    (derived)

    References
    ----------
    derived, change of units
    """
    return BankSoil(cohesion, math.radians(friction_deg), density * float(STANDARD_GRAVITY))


def factors_of_safety(
    soil: BankSoil, height: float, slope: float, seep_above_toe: float, water_gradient: float
) -> tuple[float, ...]:
    """Factors of safety of a bank by the models there are.

    Parameters
    ----------
    soil : BankSoil
        Strength and weight. [-]
    height : float
        Top of the bank above its toe. [m]
    slope : float
        Horizontal to vertical. [m/m]
    seep_above_toe : float
        Height above the toe at which water comes out. [m]
    water_gradient : float
        Rise of the water table into the bank. [m/m]

    Returns
    -------
    tuple of float
        Circle without water and with it; long face dry and seeping over the seep's share. [-]

    Notes
    -----
    bishop1955 for circles, infinite slope for a skin of 1 m    (bishop1955)

    References
    ----------
    bishop1955, circles through the toe
    terzaghi1943, sliding along a plane
    """
    angle = min(math.atan2(1.0, slope), math.radians(STEEPEST_DEG))
    seep = min(height, max(0.0, seep_above_toe))
    circles = [
        bank_factor_bishop(
            soil, height=height, slope_angle=angle, water_at_face=wet, water_gradient=rises
        )
        for wet, rises in ((0.0, 0.0), (seep, max(0.0, water_gradient)))
    ]
    skins = [
        slope_factor_infinite(
            soil, depth=min(SKIN, height), slope_angle=angle, saturated_share=share
        )
        for share in (0.0, seep / height)
    ]
    return (*circles, *skins)


def least_factor(**factors: tuple[float, ...]) -> float:
    """Lowest factor of safety of all models and strengths.

    Parameters
    ----------
    **factors : tuple of float
        Factors by strength. [-]

    Returns
    -------
    float
        Lowest. [-]

    Notes
    -----
    min of all    (derived)

    References
    ----------
    derived, a range
    """
    return min(min(each) for each in factors.values())


def largest_factor(**factors: tuple[float, ...]) -> float:
    """Highest factor of safety of all models and strengths.

    Parameters
    ----------
    **factors : tuple of float
        Factors by strength. [-]

    Returns
    -------
    float
        Highest. [-]

    Notes
    -----
    max of all    (derived)

    References
    ----------
    derived, a range
    """
    return max(max(each) for each in factors.values())
