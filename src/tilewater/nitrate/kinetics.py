# SPDX-License-Identifier: Apache-2.0
"""How nitrate falls while water stays in pores: four laws, and the effect of temperature.

By the trade's habit concentrations are mg/L as N and times are days. Time is that of the water in
the pores, and a rate is per volume of pore water: a rate per volume of media is divided by the
porosity first. Dead corners, short cuts, oxygen and start-up are left to the caller.
"""

import numpy as np

from tilewater.basis.domain import (
    Number,
    refuse,
    require_finite,
    require_not_negative,
    require_positive,
)

NEWTON_STEPS = 8
"""Enough for double precision from any start: the steps close in from one side, by squares."""


def outlet_nitrate_zero_order(
    inlet_mg_per_l: Number, time_days: Number, *, rate_mg_per_l_day: Number
) -> Number:
    """Nitrate at the outlet where the rate does not depend on nitrate, until none is left.

    Parameters
    ----------
    inlet_mg_per_l : float or array
        Nitrate at the inlet, as N. [mg/L]
    time_days : float or array
        Time of the water in the pores. [days]
    rate_mg_per_l_day : float or array
        Removal per volume of pore water. [mg/L/day]

    Returns
    -------
    float or array
        Nitrate at the outlet, as N. [mg/L]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    C = C0 - r t, and 0 once that is used up    (levenspiel1999)

    Does as well as richer models above 2 mg/L (halaburka2017, abstract).

    References
    ----------
    levenspiel1999, zero-order reaction
    halaburka2017, abstract
    """
    _require_water(inlet_mg_per_l, time_days)
    require_not_negative("rate_mg_per_l_day", rate_mg_per_l_day, "mg/L/day", "Removal counts up")
    left = inlet_mg_per_l - rate_mg_per_l_day * time_days
    return np.maximum(left, 0.0)


def outlet_nitrate_first_order(
    inlet_mg_per_l: Number, time_days: Number, *, rate_per_day: Number
) -> Number:
    """Nitrate at the outlet where the rate is a share of the nitrate that is left.

    Parameters
    ----------
    inlet_mg_per_l : float or array
        Nitrate at the inlet, as N. [mg/L]
    time_days : float or array
        Time of the water in the pores. [days]
    rate_per_day : float or array
        Rate constant. [1/day]

    Returns
    -------
    float or array
        Nitrate at the outlet, as N. [mg/L]

    Raises
    ------
    OutOfDomain
        If a value is negative.

    Notes
    -----
    C = C0 exp(-k t)    (levenspiel1999)

    References
    ----------
    levenspiel1999, first-order reaction
    """
    _require_water(inlet_mg_per_l, time_days)
    require_not_negative("rate_per_day", rate_per_day, "1/day", "Removal counts up")
    return np.multiply(inlet_mg_per_l, np.exp(-rate_per_day * np.asarray(time_days)))


def outlet_nitrate_michaelis_menten(
    inlet_mg_per_l: Number,
    time_days: Number,
    *,
    max_rate_mg_per_l_day: Number,
    half_saturation_mg_per_l: Number,
) -> Number:
    """Nitrate at the outlet of plug flow where the rate fades as nitrate runs out.

    Parameters
    ----------
    inlet_mg_per_l : float or array
        Nitrate at the inlet, as N. [mg/L]
    time_days : float or array
        Time of the water in the pores. [days]
    max_rate_mg_per_l_day : float or array
        Removal per volume of pore water where nitrate abounds. [mg/L/day]
    half_saturation_mg_per_l : float or array
        Nitrate at which the rate is half of that, as N. [mg/L]

    Returns
    -------
    float or array
        Nitrate at the outlet, as N. [mg/L]

    Raises
    ------
    OutOfDomain
        If a value is negative or the half saturation not above zero.

    Notes
    -----
    (C0 - C) + Km ln(C0 / C) = r t    (michaelis1913)

    With u = C / Km it is u + ln u = y, solved for ln u by Newton's method from its upper side.
    Published half saturations disagree: 7.2 in a field bed (ghane2015), below 1 where zero order
    holds down to 2 mg/L (halaburka2017).

    References
    ----------
    michaelis1913, rate law
    levenspiel1999, integrated form
    ghane2015, abstract
    """
    _require_water(inlet_mg_per_l, time_days)
    _require_saturation(max_rate_mg_per_l_day, half_saturation_mg_per_l)
    start = np.divide(inlet_mg_per_l, half_saturation_mg_per_l)
    some = np.where(start > 0.0, start, 1.0)
    y = start + np.log(some) - max_rate_mg_per_l_day * time_days / half_saturation_mg_per_l
    log_u = np.where(y < 1.0, y, np.log(np.maximum(y, 1.0)))
    for _ in range(NEWTON_STEPS):
        u = np.exp(log_u)
        log_u = log_u - (log_u + u - y) / (1.0 + u)
    left: Number = np.where(start > 0.0, half_saturation_mg_per_l * np.exp(log_u), 0.0)[()]
    return left


def outlet_nitrate_tanks(
    inlet_mg_per_l: Number,
    time_days: Number,
    *,
    max_rate_mg_per_l_day: Number,
    half_saturation_mg_per_l: Number,
    tanks: int,
) -> Number:
    """Nitrate at the outlet of equal mixed tanks in a row that share the time.

    Parameters
    ----------
    inlet_mg_per_l : float or array
        Nitrate at the inlet, as N. [mg/L]
    time_days : float or array
        Time of the water in the pores of all tanks together. [days]
    max_rate_mg_per_l_day : float or array
        Removal per volume of pore water where nitrate abounds. [mg/L/day]
    half_saturation_mg_per_l : float or array
        Nitrate at which the rate is half of that, as N. [mg/L]
    tanks : int
        Number of tanks, a whole number; many make plug flow. [-]

    Returns
    -------
    float or array
        Nitrate at the outlet, as N. [mg/L]

    Raises
    ------
    OutOfDomain
        If a value is negative, the half saturation not above zero, or tanks no whole number from
        one up.

    Notes
    -----
    C = (sqrt(B^2 + 4 Km Cin) - B) / 2, B = Km - Cin + r t / N, tank by tank    (levenspiel1999)

    References
    ----------
    levenspiel1999, tanks in series
    michaelis1913, rate law
    """
    _require_water(inlet_mg_per_l, time_days)
    _require_saturation(max_rate_mg_per_l_day, half_saturation_mg_per_l)
    if tanks < 1 or tanks != int(tanks):
        raise refuse("tanks", tanks, "", "A whole number from 1 up is needed", "Round tau^2/s^2")
    removed = max_rate_mg_per_l_day * time_days / tanks
    nitrate = np.asarray(inlet_mg_per_l, dtype=np.float64)
    for _ in range(int(tanks)):
        b = half_saturation_mg_per_l - nitrate + removed
        product = 4.0 * half_saturation_mg_per_l * nitrate
        root = np.sqrt(b * b + product)
        # Two forms of one root: the first loses its digits where B is large and positive.
        rising = b + root
        nitrate = np.where(
            b > 0.0, 0.5 * product / np.where(rising > 0.0, rising, 1.0), 0.5 * (root - b)
        )
    left: Number = nitrate[()]
    return left


def rate_at_temperature(
    rate: Number, temperature: Number, *, q10: Number, reference: Number
) -> Number:
    """Rate at a temperature, from the rate at another.

    Parameters
    ----------
    rate : float or array
        Rate at the reference temperature, in any unit. [-]
    temperature : float or array
        Temperature of the water. [degC]
    q10 : float or array
        Factor of the rate for each 10 degrees, near 2. [-]
    reference : float or array
        Temperature at which the rate holds. [degC]

    Returns
    -------
    float or array
        Rate at the temperature, in the unit of `rate`. [-]

    Raises
    ------
    OutOfDomain
        If the rate is negative, the factor not above zero or a temperature no number.

    Notes
    -----
    r(T) = r(Tref) Q10^((T - Tref) / 10)    (levenspiel1999)

    Q10 from 1.8 to 3.1, rising with the age of the chips (maxwell-temperature, abstract); 2.15
    over many beds (addy2016, from memory).

    References
    ----------
    maxwell-temperature, abstract
    addy2016, temperature
    levenspiel1999, temperature dependency
    """
    require_not_negative("rate", rate, "", "Removal counts up")
    require_positive("q10", q10, "", "Use 2.15 if in doubt")
    require_finite("temperature", temperature, "degC", "Give the temperature of the water")
    require_finite("reference", reference, "degC", "Give the temperature of the rate")
    return np.multiply(rate, np.power(q10, (np.subtract(temperature, reference)) / 10.0))[()]


def _require_water(inlet_mg_per_l: Number, time_days: Number) -> None:
    require_not_negative("inlet_mg_per_l", inlet_mg_per_l, "mg/L", "Use 0 for a trace")
    require_not_negative("time_days", time_days, "days", "Give the time in the pores")


def _require_saturation(rate: Number, half_saturation: Number) -> None:
    require_not_negative("max_rate_mg_per_l_day", rate, "mg/L/day", "Removal counts up")
    require_positive(
        "half_saturation_mg_per_l",
        half_saturation,
        "mg/L",
        "Use the zero-order law where nothing fades",
    )
