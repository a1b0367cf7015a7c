# SPDX-License-Identifier: Apache-2.0
"""Snow that lies and melts, and frost that closes the ground, by daily mean temperature.

Snow is kept as the water in it. Neither wind nor sun is counted, and snow holds no melt water back.
"""

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive, require_share
from tilewater.basis.errors import OutOfDomain


def snow_share_linear(temperature: Number, *, snow_below: float, rain_above: float) -> Number:
    """Share of the precipitation that falls as snow.

    Parameters
    ----------
    temperature : float or array
        Mean temperature of the day. [degC]
    snow_below : float
        All snow at or below this temperature. [degC]
    rain_above : float
        All rain at or above this temperature. [degC]

    Returns
    -------
    float or array
        Share. [-]

    Raises
    ------
    OutOfDomain
        If the temperature for rain is not the higher.

    Notes
    -----
    s = (Tr - T) / (Tr - Ts) between 0 and 1    (noaa-rfs)

    References
    ----------
    noaa-rfs, rain and snow are parted between 0 and 2 degC, by default at 1
    """
    if not rain_above > snow_below:
        raise OutOfDomain(
            f"rain_above is {rain_above:g} degC and snow_below {snow_below:g}. Rain needs the "
            f"higher temperature. Give 2 and 0 for the usual split."
        )
    return np.clip(np.subtract(rain_above, temperature) / (rain_above - snow_below), 0.0, 1.0)[()]


def snowmelt_degree_day(
    temperature: Number, *, melt_mm_per_degc_day: Number, melt_base: Number = 0.0
) -> Number:
    """Most snow water that can melt in a day.

    Parameters
    ----------
    temperature : float or array
        Mean temperature of the day. [degC]
    melt_mm_per_degc_day : float or array
        Melt of a degree-day. [mm/degC/day]
    melt_base : float or array
        Mean temperature from which snow melts. [degC]

    Returns
    -------
    float or array
        Depth. [m]

    Raises
    ------
    OutOfDomain
        If the factor is negative.

    Notes
    -----
    M = c (T - Tb), not below zero    (neh630-11)

    References
    ----------
    neh630-11, degree-day method; 0.06 in a degF day where nothing is known
    """
    require_not_negative(
        "melt_mm_per_degc_day", melt_mm_per_degc_day, "mm/degC/day", "Give about 2.7"
    )
    warmth = np.maximum(0.0, np.subtract(temperature, melt_base))
    return (melt_mm_per_degc_day * warmth)[()] / 1000.0


def frost_index_molnau_bissell(
    index: Number,
    temperature: Number,
    snow: Number,
    *,
    kept: Number,
    cover_per_cm: Number,
    snow_density: Number,
) -> Number:
    """Frost index of the ground after a day.

    Parameters
    ----------
    index : float or array
        Index of the day before. [degC-day]
    temperature : float or array
        Mean temperature of the day. [degC]
    snow : float or array
        Water in the snow on the ground. [m]
    kept : float or array
        Share of the index that a day keeps. [-]
    cover_per_cm : float or array
        How a centimetre of snow shields the ground; its unit is 1/cm. [-]
    snow_density : float or array
        Density of the lying snow over that of water. [-]

    Returns
    -------
    float or array
        Index. [degC-day]

    Raises
    ------
    OutOfDomain
        If index or snow is negative, the share kept no share, or the density not above zero.

    Notes
    -----
    F = A F - T exp(-0.4 K d), d the snow depth in cm, not below zero    (molnau1983)

    References
    ----------
    molnau1983, continuous frozen ground index, as a public page quotes it
    """
    require_not_negative("index", index, "degC-day", "Frost counts as positive")
    require_not_negative("snow", snow, "m", "Give the water in the snow")
    require_share("kept", kept, "Give about 0.97")
    require_positive("snow_density", snow_density, "", "Give about 0.45")
    depth_cm = 100.0 * np.divide(snow, snow_density)
    return np.maximum(0.0, kept * index - temperature * np.exp(-0.4 * cover_per_cm * depth_cm))[()]
