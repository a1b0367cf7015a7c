# SPDX-License-Identifier: Apache-2.0
"""How easily media let water through: by temperature, by age, by the gradient of the test.

Conductivities go in and out in m/s, as reported at 20 degrees unless a temperature is asked for.
What the media of one job are, and how far such numbers scatter, is not decided here.
"""

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive
from tilewater.basis.unit_table import STANDARD_GRAVITY
from tilewater.hydraulics.water import REPORTED_AT, kinematic_viscosity

GRAVITY = float(STANDARD_GRAVITY)


def conductivity_at_temperature(conductivity: Number, temperature: Number) -> Number:
    """Hydraulic conductivity in water of another temperature.

    Only the linear part of the resistance follows viscosity; the inertial part does not.

    Parameters
    ----------
    conductivity : float or array
        Saturated hydraulic conductivity at 20 degC. [m/s]
    temperature : float or array
        Temperature of the water. [degC]

    Returns
    -------
    float or array
        Conductivity at that temperature. [m/s]

    Raises
    ------
    OutOfDomain
        If the conductivity is not above zero, or the temperature is no number.

    Notes
    -----
    K(T) = K(20) nu(20) / nu(T), since K = k g / nu    (bear1972)

    References
    ----------
    bear1972, permeability and hydraulic conductivity
    patek2009, viscosity
    kell1975, density
    """
    require_positive("conductivity", conductivity, "m/s", "Give it at 20 degC")
    return conductivity * (kinematic_viscosity(REPORTED_AT) / kinematic_viscosity(temperature))


def conductivity_at_age(
    conductivity_new: Number,
    age_years: Number,
    *,
    conductivity_aged: Number,
    aged_years: Number,
) -> Number:
    """Hydraulic conductivity of media of some age, between two stated conductivities and beyond.

    Parameters
    ----------
    conductivity_new : float or array
        Conductivity of the new media. [m/s]
    age_years : float or array
        Age asked for. [years]
    conductivity_aged : float or array
        Conductivity of the same kind of media when aged. [m/s]
    aged_years : float or array
        Age at which that was measured. [years]

    Returns
    -------
    float or array
        Conductivity at the age asked for. [m/s]

    Raises
    ------
    OutOfDomain
        If a conductivity or the age of measurement is not above zero, or the age is negative.

    Notes
    -----
    K(t) = K0 exp(-r t), r = ln(K0 / K1) / t1    (derived)

    An even decline each year is a judgement. Beyond `aged_years` it is an extrapolation.

    References
    ----------
    christianson2010, new chips
    christianson2020, chips of 9.25 years
    derived, exponential decline between two conductivities
    """
    advice = "Give the conductivity at 20 degC"
    require_positive("conductivity_new", conductivity_new, "m/s", advice)
    require_positive("conductivity_aged", conductivity_aged, "m/s", advice)
    require_positive("aged_years", aged_years, "years", "Give the age of the aged media")
    require_not_negative("age_years", age_years, "years", "Count from the day of filling")
    decline = np.log(np.divide(conductivity_new, conductivity_aged)) / aged_years
    return np.multiply(conductivity_new, np.exp(-decline * age_years))[()]


def forchheimer_inertia_ward(conductivity: Number, *, ward_coefficient: Number) -> Number:
    """Inertial resistance of media, estimated from their conductivity.

    Parameters
    ----------
    conductivity : float or array
        Saturated hydraulic conductivity at 20 degC, from a test at a small gradient. [m/s]
    ward_coefficient : float or array
        Ward's coefficient, 0.55 for many media. [-]

    Returns
    -------
    float or array
        Inertia b of the gradient i = v / K + b v^2; the same at any temperature. [s2/m2]

    Raises
    ------
    OutOfDomain
        If the conductivity is not above zero or the coefficient is negative.

    Notes
    -----
    b = c / (g sqrt(k)), k = K nu(20) / g    (ward1964)

    Found with granular media; for flat chips 0.3 to 0.9 is a judgement.

    References
    ----------
    ward1964, coefficient 0.55
    """
    require_positive("conductivity", conductivity, "m/s", "Give it at 20 degC")
    require_not_negative("ward_coefficient", ward_coefficient, "", "Use 0.55 if in doubt")
    permeability = conductivity * (kinematic_viscosity(REPORTED_AT) / GRAVITY)
    return np.divide(ward_coefficient, GRAVITY * np.sqrt(permeability))[()]


def filter_velocity_forchheimer(
    gradient: Number, *, conductivity: Number, inertia: Number
) -> Number:
    """Flow per area of media that runs full under a gradient.

    Parameters
    ----------
    gradient : float or array
        Fall of the head per length. [m/m]
    conductivity : float or array
        Saturated hydraulic conductivity at the temperature of the water. [m/s]
    inertia : float or array
        Inertia of the media. [s2/m2]

    Returns
    -------
    float or array
        Filter velocity, in the direction of the fall. [m/s]

    Raises
    ------
    OutOfDomain
        If the conductivity is not above zero or the inertia is negative.

    Notes
    -----
    v = 2 K i / (1 + sqrt(1 + 4 b K^2 i)), the root of i = v / K + b v^2    (forchheimer1901)

    Written so that it stays exact where the inertia vanishes.

    References
    ----------
    forchheimer1901, quadratic resistance
    """
    require_positive("conductivity", conductivity, "m/s", "Give it at the water's temperature")
    require_not_negative("inertia", inertia, "s2/m2", "Use 0 for Darcy's law")
    linear = conductivity * gradient
    bend = np.sqrt(1.0 + 4.0 * inertia * conductivity * np.abs(linear))
    return np.divide(2.0 * linear, 1.0 + bend)[()]


def conductivity_share_seen(gradient: Number, *, conductivity: Number, inertia: Number) -> Number:
    """Share of the true conductivity that a test at some gradient shows.

    A column tested at a steep gradient seems tighter than the same media in a bed.

    Parameters
    ----------
    gradient : float or array
        Gradient of the test. [m/m]
    conductivity : float or array
        True conductivity, at a vanishing gradient. [m/s]
    inertia : float or array
        Inertia of the media. [s2/m2]

    Returns
    -------
    float or array
        Velocity over gradient, divided by the true conductivity. [-]

    Raises
    ------
    OutOfDomain
        If the gradient or the conductivity is not above zero, or the inertia is negative.

    Notes
    -----
    share = (v / i) / K    (forchheimer1901)

    References
    ----------
    forchheimer1901, quadratic resistance
    """
    require_positive("gradient", gradient, "m/m", "Give the gradient of the test")
    velocity = filter_velocity_forchheimer(gradient, conductivity=conductivity, inertia=inertia)
    return np.divide(velocity, gradient * conductivity)[()]
