# SPDX-License-Identifier: Apache-2.0
"""How heavy and how stiff water is at a temperature.

Conductivity of media and soil is reported at 20 degrees and falls with the viscosity of colder
water; nothing else of the program needs these properties. Fresh water at the pressure of the air;
salt, ice and pressure are left out.
"""

import numpy as np

from tilewater.basis.domain import Number, require_finite
from tilewater.basis.findings import Finding
from tilewater.hydraulics.limits import outside

REPORTED_AT = 20.0
"""Temperature at which laboratories report a conductivity. [degC]"""
ZERO_CELSIUS = 273.15

# patek2009: viscosity in uPa s is the sum of a (T / 300 K)^b
VISCOSITY_TERMS = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))
# kell1975, upper polynomial in degrees Celsius, lowest power first
DENSITY_TERMS = (
    999.83952,
    16.945176,
    -7.9870401e-3,
    -46.170461e-6,
    105.56302e-9,
    -280.54253e-12,
)
DENSITY_DIVISOR = 16.879850e-3


def viscosity_patek(temperature: Number) -> Number:
    """Dynamic viscosity of water at the pressure of the air.

    Parameters
    ----------
    temperature : float or array
        Temperature of the water. [degC]

    Returns
    -------
    float or array
        Dynamic viscosity. [Pa.s]

    Raises
    ------
    OutOfDomain
        If the temperature is no number.

    Notes
    -----
    mu = 1e-6 sum a (T / 300)^b, T in kelvin, four terms    (patek2009)

    Holds from -20 to 110 degC (patek2009, from memory); `viscosity_patek_range` reports what
    lies outside.

    References
    ----------
    patek2009, equation of the viscosity at 0.1 MPa
    kestin1978, another correlation, within 0.1 percent of it from 0 to 40 degC
    """
    require_finite("temperature", temperature, "degC", "Give the temperature of the water")
    reduced = (temperature + ZERO_CELSIUS) / 300.0
    micropascal_seconds = sum(a * reduced**b for a, b in VISCOSITY_TERMS)
    return 1e-6 * micropascal_seconds


def viscosity_patek_range(temperature: Number) -> tuple[Finding, ...]:
    """Findings where the temperature lies outside the range of the viscosity.

    Parameters
    ----------
    temperature : float or array
        Temperature of the water. [degC]

    Returns
    -------
    tuple of Finding
        Empty when all is within.
    """
    return outside(
        "water temperature",
        temperature,
        "degC",
        code="water-temperature",
        source="patek2009",
        advice="Check the temperature and its unit",
        low=-20.0,
        high=110.0,
    )


def density_kell(temperature: Number) -> Number:
    """Density of water at the pressure of the air.

    Parameters
    ----------
    temperature : float or array
        Temperature of the water. [degC]

    Returns
    -------
    float or array
        Density. [kg/m3]

    Raises
    ------
    OutOfDomain
        If the temperature is no number.

    Notes
    -----
    rho = (999.84 + 16.945 T - ... - 2.8e-10 T^5) / (1 + 0.01688 T)    (kell1975)

    Holds from 0 to 150 degC (kell1975, from memory).

    References
    ----------
    kell1975, equation of the density at one atmosphere
    """
    require_finite("temperature", temperature, "degC", "Give the temperature of the water")
    top = sum(term * temperature**power for power, term in enumerate(DENSITY_TERMS))
    return top / (1.0 + DENSITY_DIVISOR * temperature)


def kinematic_viscosity(temperature: Number) -> Number:
    """Kinematic viscosity of water.

    Parameters
    ----------
    temperature : float or array
        Temperature of the water. [degC]

    Returns
    -------
    float or array
        Kinematic viscosity. [m2/s]

    Raises
    ------
    OutOfDomain
        If the temperature is no number.

    Notes
    -----
    nu = mu / rho    (patek2009)

    References
    ----------
    patek2009, viscosity
    kell1975, density
    """
    return np.divide(viscosity_patek(temperature), density_kell(temperature))[()]
