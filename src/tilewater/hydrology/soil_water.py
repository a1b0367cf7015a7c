# SPDX-License-Identifier: Apache-2.0
"""Water that roots can reach, that rises to them from the table, and that passes down to it."""

import math

import numpy as np

from tilewater.basis.domain import Number, refuse, require_not_negative, require_positive
from tilewater.basis.errors import OutOfDomain


def available_water(water_capacity: Number, root_depth: Number) -> Number:
    """Water that roots can take from a full soil.

    Parameters
    ----------
    water_capacity : float or array
        Water between field capacity and wilting, over the volume of soil. [-]
    root_depth : float or array
        Depth of the roots. [m]

    Returns
    -------
    float or array
        Depth of water. [m]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    TAW = w Z    (allen1998, eq. 82)

    References
    ----------
    allen1998, eq. 82
    """
    require_not_negative("water_capacity", water_capacity, "", "Give 17 percent as 0.17")
    require_not_negative("root_depth", root_depth, "m", "Give the depth of the roots")
    return water_capacity * root_depth


def stress_factor_fao56(depletion: Number, available: Number, *, depletion_share: Number) -> Number:
    """Share of its demand that a crop takes from a soil of some depletion.

    Parameters
    ----------
    depletion : float or array
        Water missing from the root zone. [m]
    available : float or array
        Water that roots can take from a full soil. [m]
    depletion_share : float or array
        Share of it from which the crop takes less. [-]

    Returns
    -------
    float or array
        Share. [-]

    Raises
    ------
    OutOfDomain
        If the depletion is negative, the available water not above zero, or the share not below 1.

    Notes
    -----
    Ks = (TAW - D) / ((1 - p) TAW) between 0 and 1    (allen1998, eq. 84)

    References
    ----------
    allen1998, eq. 84
    """
    require_not_negative("depletion", depletion, "m", "A full soil has 0")
    require_positive("available", available, "m", "Give the water that roots can take")
    if not np.all(np.less(depletion_share, 1.0)):
        raise OutOfDomain(
            f"depletion_share is {float(np.max(depletion_share)):g}. It must be below 1. "
            f"Give 50 percent as 0.5."
        )
    left = np.subtract(available, depletion) / ((1.0 - depletion_share) * available)
    return np.clip(left, 0.0, 1.0)[()]


def upward_flux_factor_gardner(exponent: Number) -> Number:
    """Factor of the largest steady flux that rises from a water table.

    Parameters
    ----------
    exponent : float or array
        Power n of the suction in K = a / (s^n + b). [-]

    Returns
    -------
    float or array
        Factor. [-]

    Raises
    ------
    OutOfDomain
        If the exponent is not above 1.

    Notes
    -----
    A = (pi / (n sin(pi / n)))^n    (gardner1958)

    References
    ----------
    gardner1958
    """
    if not np.all(np.greater(exponent, 1.0)):
        raise refuse("exponent", exponent, "", "It must be above 1", "Use 2 for clay, 3 for loam")
    angle = np.divide(math.pi, exponent)
    return ((angle / np.sin(angle)) ** exponent)[()]


def upward_flux_gardner(rise: Number, *, suction_coefficient: Number, exponent: Number) -> Number:
    """Largest steady flux that rises from a water table to the roots.

    Parameters
    ----------
    rise : float or array
        From the water table up to the roots. [m]
    suction_coefficient : float or array
        a in K = a / (s^n + b), with the suction s in m. [m/s]
    exponent : float or array
        Power n of the suction. [-]

    Returns
    -------
    float or array
        Flux. [m/s]

    Raises
    ------
    OutOfDomain
        If the rise is not above zero, the coefficient negative or the exponent not above 1.

    Notes
    -----
    q = A a / H^n, A = (pi / (n sin(pi / n)))^n    (gardner1958)

    References
    ----------
    gardner1958
    """
    require_positive("rise", rise, "m", "Roots that stand in the table need no rise")
    require_not_negative("suction_coefficient", suction_coefficient, "m/s", "Give a in m and s")
    return upward_flux_factor_gardner(exponent) * suction_coefficient / np.power(rise, exponent)[()]


def percolation_time_gardner(
    way: Number, *, suction_coefficient: float, conductivity: float, loss_per_metre: float
) -> Number:
    """Mean delay of a little water on its way from the roots down to the water table.

    Parameters
    ----------
    way : float or array
        From the roots down to the water table. [m]
    suction_coefficient : float
        a in K = a / (s^3 + b), with the suction s in m. [m/s]
    conductivity : float
        Conductivity of full soil, a / b. [m/s]
    loss_per_metre : float
        Water that a metre of suction takes from full soil, over the volume of soil. [1/m]

    Returns
    -------
    float or array
        Delay. [s]

    Raises
    ------
    OutOfDomain
        If the way or the loss is negative, or a conductivity not above zero.

    Notes
    -----
    T = C (L^5 / (20 a) + L^2 / (2 K))    (derived)

    In any store that answers its inflow in proportion the mean delay is what it holds over the flux
    of a steady flow, here that of Richards in a soil of the conductivity above (gardner1958) that
    loses C s. A store of more water is quicker: the more it holds, the better the soil conducts.

    References
    ----------
    derived, first moment of the answer to a pulse
    gardner1958, the conductivity
    """
    require_not_negative("way", way, "m", "Roots that stand in the table have 0")
    require_positive("suction_coefficient", suction_coefficient, "m/s", "Give a in m and s")
    require_positive("conductivity", conductivity, "m/s", "Give that of full soil")
    require_not_negative("loss_per_metre", loss_per_metre, "1/m", "Give about 0.05")
    by_suction = np.power(way, 5) / (20.0 * suction_coefficient)
    return (loss_per_metre * (by_suction + np.power(way, 2) / (2.0 * conductivity)))[()]
