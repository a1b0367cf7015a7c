# SPDX-License-Identifier: Apache-2.0
"""Fall of a water table between parallel drains after rain has stopped, in closed form.

Heights count from the drains and are those of the steady table that gives the same flux. The water
above the drains goes with that height by a fixed factor; with one near 0.85 the flux falls as it
does in truth, though a falling table is more arched and stands higher midway for the same water.
Rain that goes on falling is the business of the daily kernel.
"""

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive, require_share
from tilewater.basis.errors import NoSolution

SHAPE_GLOVER = 8.0 / np.pi**2
"""Shape factor with which the fall at small heights is that of Glover and Dumm. [-]"""
SHAPE_VAN_SCHILFGAARDE = 8.0 / 9.0
"""Shape factor with which the fall is that of van Schilfgaarde. [-]"""


def water_height_after_hooghoudt(
    water_height: Number,
    time: Number,
    *,
    outlet_height: Number = 0.0,
    spacing: Number,
    equivalent_depth: Number,
    conductivity_below: Number,
    conductivity_above: Number,
    drainable_porosity: Number,
    shape_factor: Number,
) -> Number:
    """Water table midway between drains some time after rain has stopped.

    Parameters
    ----------
    water_height : float or array
        Water table midway at the start, above the drain. [m]
    time : float or array
        Time since then. [s]
    outlet_height : float or array
        Water held in the drains by a raised outlet, above the drain. [m]
    spacing : float or array
        Distance between drains. [m]
    equivalent_depth : float or array
        Equivalent depth below the drain; 0 for a drain on the barrier. [m]
    conductivity_below : float or array
        Saturated conductivity of the soil below the drain. [m/s]
    conductivity_above : float or array
        Saturated conductivity of the soil above the drain. [m/s]
    drainable_porosity : float or array
        Water that a fall of the table sets free, over the volume of soil. [-]
    shape_factor : float or array
        Water above the outlet level over that of a slab as high as the table. [-]

    Returns
    -------
    float or array
        Water table midway, above the drain; as it was where the outlet stands higher. [m]

    Raises
    ------
    OutOfDomain
        If a height, depth, conductivity or time is negative, or another value not above zero.

    Notes
    -----
    f C dH/dt = -q, q by Hooghoudt with the raised outlet, exact:    (derived)
    u = u0 e / (1 + u0 A (1 - e) / s), s = 2 A E + B, e = exp(-s t / (f C)), H = E + u    (derived)

    with A = 4 Ka / L^2 and B = 8 Kb d / L^2. With C = 8/9 and no outlet it is the formula of van
    Schilfgaarde (vanschilfgaarde1963); with C = 8/pi^2 and a low table that of Glover and Dumm
    (dumm1954) after its first days.

    References
    ----------
    derived, from the flux of hooghoudt1940 and a table that keeps its shape
    hooghoudt1940
    vanschilfgaarde1963
    dumm1954
    """
    require_not_negative("water_height", water_height, "m", "No water reaches a drain from below")
    require_not_negative("time", time, "s", "Count from the start")
    require_not_negative("outlet_height", outlet_height, "m", "Use 0 for a free outlet")
    _require_soil(
        spacing, equivalent_depth, conductivity_below, conductivity_above, drainable_porosity
    )
    require_share("shape_factor", shape_factor, "Give about 0.85")
    require_positive("shape_factor", shape_factor, "", "Give about 0.85")
    square = np.asarray(4.0 * conductivity_above / spacing**2)
    linear = 8.0 * conductivity_below * equivalent_depth / spacing**2
    slope = np.asarray(2.0 * square * outlet_height + linear)
    age = np.asarray(time) / (drainable_porosity * shape_factor)
    # Without a linear part the gain has the limit A t / (f C).
    safe = np.where(slope > 0.0, slope, 1.0)
    gain = np.where(slope > 0.0, -square * np.expm1(-safe * age) / safe, square * age)
    above = np.maximum(0.0, np.subtract(water_height, outlet_height))
    fallen = above - above * np.exp(-slope * age) / (1.0 + above * gain)
    return (water_height - fallen)[()]


def drawdown_time_van_schilfgaarde(
    height_first: Number,
    height_last: Number,
    *,
    spacing: Number,
    equivalent_depth: Number,
    conductivity: Number,
    drainable_porosity: Number,
) -> Number:
    """Time in which a water table midway between drains falls from one height to another.

    Parameters
    ----------
    height_first : float or array
        Water table midway at the start, above the drain. [m]
    height_last : float or array
        Water table midway at the end, above the drain. [m]
    spacing : float or array
        Distance between drains. [m]
    equivalent_depth : float or array
        Equivalent depth below the drain. [m]
    conductivity : float or array
        Saturated conductivity of the soil. [m/s]
    drainable_porosity : float or array
        Water that a fall of the table sets free, over the volume of soil. [-]

    Returns
    -------
    float or array
        Time. [s]

    Raises
    ------
    OutOfDomain
        If a value is not above zero.
    NoSolution
        If the table is to end no lower than it starts.

    Notes
    -----
    t = f S^2 ln(m0 (2 d + m) / (m (2 d + m0))) / (9 K d)    (vanschilfgaarde1963)

    References
    ----------
    vanschilfgaarde1963
    """
    require_positive("height_last", height_last, "m", "A table never quite reaches the drain")
    require_positive("equivalent_depth", equivalent_depth, "m", "Give the equivalent depth")
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")
    _require_soil(spacing, equivalent_depth, conductivity, conductivity, drainable_porosity)
    if not np.all(np.greater(height_first, height_last)):
        raise NoSolution(
            f"height_last is {float(np.max(height_last)):g} m. A table falls to less than its "
            f"first height. Exchange the two."
        )
    twice = 2.0 * equivalent_depth
    ratio = np.divide(height_first * (twice + height_last), height_last * (twice + height_first))
    return (drainable_porosity * spacing**2 * np.log(ratio) / (9.0 * conductivity))[
        ()
    ] / equivalent_depth


def spacing_glover_dumm(
    height_first: Number,
    height_last: Number,
    time: Number,
    *,
    equivalent_depth: Number,
    conductivity: Number,
    drainable_porosity: Number,
    first_shape: Number = 1.16,
) -> Number:
    """Distance between drains that brings a water table down in a given time.

    Parameters
    ----------
    height_first : float or array
        Water table midway at the start, above the drain. [m]
    height_last : float or array
        Water table midway at the end, above the drain. [m]
    time : float or array
        Time between. [s]
    equivalent_depth : float or array
        Equivalent depth below the drain. [m]
    conductivity : float or array
        Saturated conductivity of the soil. [m/s]
    drainable_porosity : float or array
        Water that a fall of the table sets free, over the volume of soil. [-]
    first_shape : float or array
        1.16 for a table that starts as a parabola of the fourth degree, 4/pi for a flat one. [-]

    Returns
    -------
    float or array
        Distance. [m]

    Raises
    ------
    OutOfDomain
        If a value is not above zero.
    NoSolution
        If the table is to end no lower than it starts.

    Notes
    -----
    L^2 = pi^2 K (d + h0/2) t / (f ln(1.16 h0 / h))    (dumm1954)

    One term of the series: it errs in the first days.

    References
    ----------
    dumm1954
    """
    require_positive("height_last", height_last, "m", "A table never quite reaches the drain")
    require_positive("time", time, "s", "Give the time of the fall")
    require_positive("conductivity", conductivity, "m/s", "Give it in m/s")
    _require_soil(1.0, equivalent_depth, conductivity, conductivity, drainable_porosity)
    if not np.all(np.greater(height_first, height_last)):
        raise NoSolution(
            f"height_last is {float(np.max(height_last)):g} m. A table falls to less than its "
            f"first height. Exchange the two."
        )
    thickness = equivalent_depth + 0.5 * np.asarray(height_first)
    ease = drainable_porosity * np.log(np.divide(first_shape * height_first, height_last))
    return (np.pi * np.sqrt(conductivity * thickness * time / ease))[()]


def _require_soil(
    spacing: Number,
    equivalent_depth: Number,
    conductivity_below: Number,
    conductivity_above: Number,
    drainable_porosity: Number,
) -> None:
    require_positive("spacing", spacing, "m", "Give the distance between drains")
    require_not_negative("equivalent_depth", equivalent_depth, "m", "Use 0 on the barrier")
    require_not_negative("conductivity_below", conductivity_below, "m/s", "Give it in m/s")
    require_not_negative("conductivity_above", conductivity_above, "m/s", "Give it in m/s")
    require_positive("drainable_porosity", drainable_porosity, "", "Give 5 percent as 0.05")
