# SPDX-License-Identifier: Apache-2.0
"""Conductivity of the soil from tests in a hole: bailed auger holes, and slugs in a tube well.

Both reduce the readings of one hole. An auger hole averages the soil from its water table to a
little below its bottom; a slug the soil along its screen. What the survey of the county says of a
soil is neither, and how holes are put together is decided by the caller.
"""

import math
from functools import partial

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse, require_not_negative, require_positive
from tilewater.basis.findings import Finding
from tilewater.hydraulics.limits import outside

Readings = tuple[float, ...] | NDArray[np.float64]

UNITS = 86400.0 * 0.01
"""Metres a day of one centimetre a second: the published factors join these two. [-]"""
DEEP, SHALLOW = (4000.0, 20.0), (3600.0, 10.0)
"""Factor and addend for a hole far above the barrier, and for one that stands on it. [-]"""
USED = 0.75
"""Readings count down to this share of the first, before the funnel round the hole matters."""


def auger_hole_conductivity_ernst(
    water_depths: Readings,
    times: Readings,
    *,
    table_depth: float,
    hole_depth: float,
    barrier_depth: float,
    radius: float,
) -> float:
    """Conductivity from the rise of the water in an auger hole that was bailed.

    Depths are all below one mark, such as the ground. Of the readings those are used in which the
    hole has not yet filled by more than a quarter.

    Parameters
    ----------
    water_depths : array
        Depth of the water in the hole at each reading, the first after bailing. [m]
    times : array
        Time of each reading. [s]
    table_depth : float
        Depth of the water table at rest. [m]
    hole_depth : float
        Depth of the bottom of the hole. [m]
    barrier_depth : float
        Depth of the restrictive layer; infinite if none was met. [m]
    radius : float
        Radius of the hole. [m]

    Returns
    -------
    float
        Saturated conductivity, mostly lateral. [m/s]

    Raises
    ------
    OutOfDomain
        If depths and times do not go together, or a value is not where it can be.

    Notes
    -----
    K = C dy/dt, C = 4000 r / ((20 + H/r) (2 - y/H) y), K in m/day, dy/dt in cm/s    (ernst1950)

    H is the depth of water at rest, y the mean drawdown of the readings that are used. For a hole
    that stands on the barrier it is 3600 and 10 in the place of 4000 and 20; for one less than H/2
    above it we take what lies between in proportion. Both forms are remembered; they lie within
    20 percent of a solution in finite differences.

    References
    ----------
    ernst1950, approximate formula
    vanbeers1958, the two cases and their limits, from memory
    """
    y, t = _drawdowns(water_depths, times, table_depth)
    require_positive("radius", radius, "m", "Use half the width of the auger")
    depth = hole_depth - table_depth
    require_positive("hole_depth - table_depth", depth, "m", "The hole reaches under the water")
    require_not_negative(
        "barrier_depth - hole_depth", barrier_depth - hole_depth, "m", "Count from the same mark"
    )
    if y[0] > depth:
        raise refuse("water_depths", float(y[0]), "m", "Water stands in the hole", "Check them")
    use = y >= USED * y[0]
    use[:2] = True
    y, t = y[use], t[use]
    share = min(1.0, (barrier_depth - hole_depth) / (0.5 * depth))
    mean = float(0.5 * (y[0] + y[-1]))
    deep, shallow = (
        factor * radius / ((addend + depth / radius) * (2.0 - mean / depth) * mean * UNITS)
        for factor, addend in (DEEP, SHALLOW)
    )
    rate = float((y[0] - y[-1]) / (t[-1] - t[0]))
    return (share * deep + (1.0 - share) * shallow) * rate


def auger_hole_conductivity_ernst_range(
    water_depths: Readings,
    *,
    table_depth: float,
    hole_depth: float,
    radius: float,
) -> tuple[Finding, ...]:
    """Findings where an auger hole lies outside the range of the formula.

    Parameters
    ----------
    water_depths : array
        Depth of the water in the hole at each reading. [m]
    table_depth : float
        Depth of the water table at rest. [m]
    hole_depth : float
        Depth of the bottom of the hole. [m]
    radius : float
        Radius of the hole. [m]

    Returns
    -------
    tuple of Finding
    """
    depth, first = hole_depth - table_depth, water_depths[0] - table_depth
    second = water_depths[1] - table_depth
    found = partial(outside, source="vanbeers1958", code="auger-hole")
    return (
        *found("radius of the hole", radius, "m", low=0.03, high=0.07, advice=TAKE),
        *found("water in the hole at rest", depth, "m", low=0.2, high=2.0, advice=TAKE),
        *found(
            "drawdown over the water at rest",
            first / depth,
            "",
            low=0.2,
            advice="Bail the hole lower and read again",
        ),
        *found(
            "share of the drawdown at the second reading",
            second / first,
            "",
            low=0.75,
            advice="Read sooner after bailing; the funnel round the hole is felt",
        ),
    )


TAKE = "Take the conductivity as an estimate"


def slug_conductivity_hvorslev(
    displacements: Readings,
    times: Readings,
    *,
    casing_radius: float,
    screen_radius: float,
    screen_length: float,
) -> float:
    """Conductivity from the recovery of a tube well after a slug.

    Parameters
    ----------
    displacements : array
        Water above or below rest at each reading, all of one sign. [m]
    times : array
        Time of each reading. [s]
    casing_radius : float
        Inside radius of the tube where the water moves. [m]
    screen_radius : float
        Radius of the screen or of its gravel pack. [m]
    screen_length : float
        Length of the screen. [m]

    Returns
    -------
    float
        Saturated conductivity, mostly lateral. [m/s]

    Raises
    ------
    OutOfDomain
        If readings do not go together or recover, or a length is not above zero.

    Notes
    -----
    K = r^2 ln(L / R) / (2 L T0)    (hvorslev1951)

    T0 is the time in which the displacement falls to 37 percent, by least squares on its
    logarithm.

    References
    ----------
    hvorslev1951, well point in uniform soil, from memory
    """
    for name, value in (
        ("casing_radius", casing_radius),
        ("screen_radius", screen_radius),
        ("screen_length - screen_radius", screen_length - screen_radius),
    ):
        require_positive(name, value, "m", "Measure the tube")
    slope = _recovery(displacements, times)
    return casing_radius**2 * math.log(screen_length / screen_radius) * slope / (2 * screen_length)


def slug_conductivity_hvorslev_range(
    displacements: Readings, times: Readings, *, screen_radius: float, screen_length: float
) -> tuple[Finding, ...]:
    """Findings where a slug test lies outside the range of the formula, or is not straight.

    Parameters
    ----------
    displacements : array
        Water above or below rest at each reading. [m]
    times : array
        Time of each reading. [s]
    screen_radius : float
        Radius of the screen or of its gravel pack. [m]
    screen_length : float
        Length of the screen. [m]

    Returns
    -------
    tuple of Finding
    """
    found = partial(outside, source="hvorslev1951", code="slug-test")
    logs = np.log(np.abs(np.asarray(displacements, dtype=np.float64)))
    straight = float(np.corrcoef(logs, np.asarray(times, dtype=np.float64))[0, 1]) ** 2
    return (
        *found(
            "length of the screen over its radius",
            screen_length / screen_radius,
            "",
            low=8.0,
            advice=TAKE,
        ),
        *found(
            "straightness of the recovery (r squared)",
            straight,
            "",
            low=0.95,
            advice="Look at the readings; a bent recovery is two soils or a leaking seal",
        ),
    )


def geometric_mean(*values: float) -> float:
    """Geometric mean of conductivities that were measured the same way.

    Parameters
    ----------
    *values : float
        Conductivities. [m/s]

    Returns
    -------
    float
        Geometric mean. [m/s]

    Raises
    ------
    OutOfDomain
        If there is none, or one is not above zero.

    Notes
    -----
    K = exp(mean of ln K_i)    (practice)

    References
    ----------
    practice, conductivities scatter by factors
    """
    if not values:
        raise refuse("number of values", 0.0, "", "At least one is needed", "Test a hole")
    for value in values:
        require_positive("conductivity", value, "m/s", "Check the readings")
    return math.exp(sum(math.log(value) for value in values) / len(values))


def _pairs(first: Readings, times: Readings) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    values, t = np.array(first, dtype=np.float64), np.array(times, dtype=np.float64)
    if values.size != t.size or values.size < 2:
        raise refuse(
            "number of readings",
            float(values.size),
            "",
            f"Two or more are needed, each with its time; there are {t.size} times",
            "Give readings and times in the same order",
        )
    if np.any(np.diff(t) <= 0):
        raise refuse("times", float(t[-1]), "s", "Each is later than the one before", "Sort them")
    return values, t


def _drawdowns(
    water_depths: Readings, times: Readings, table_depth: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    depths, t = _pairs(water_depths, times)
    y = depths - table_depth
    if y[0] <= 0 or y[-1] >= y[0]:
        raise refuse(
            "water_depths",
            float(depths[-1]),
            "m",
            "The water stands below its rest and rises",
            "Check that all depths count from one mark",
        )
    return y, t


def _recovery(displacements: Readings, times: Readings) -> float:
    """Rate at which the logarithm of the displacement falls. [1/s]"""
    values, t = _pairs(displacements, times)
    if np.any(values * values[0] <= 0) or abs(values[-1]) >= abs(values[0]):
        raise refuse(
            "displacements",
            float(values[-1]),
            "m",
            "They are of one sign and shrink",
            "Leave out readings at rest",
        )
    return -float(np.polyfit(t, np.log(np.abs(values)), 1)[0])
