# SPDX-License-Identifier: Apache-2.0
"""Removal of a buffer at a steady flow, by two laws, as steps of a trace call it."""

from tilewater.nitrate.kinetics import (
    outlet_nitrate_first_order,
    outlet_nitrate_zero_order,
    rate_at_temperature,
)
from tilewater.nitrate.oxygen import oxic_time_days, time_past_oxygen
from tilewater.practices.buffer.choices import BufferSite, best_width_first_order

REFERENCE_C = 15.0
"""Temperature at which the rates are stated. [degC]"""


def oxic_days_of(oxygen: float, uptake: float, temperature: float, q10: float) -> float:
    """Days until oxygen is low enough, at the temperature of the water.

    Parameters
    ----------
    oxygen : float
        In the drain water. [mg/L]
    uptake : float
        Taken up by the soil in a day, at 15 degC. [mg/L/day]
    temperature : float
        Of the water. [degC]
    q10 : float
        Factor of the uptake per 10 degC. [-]

    Returns
    -------
    float
        Time. [days]

    Notes
    -----
    t = (O2 - 4.5) / (u Q10^((T - 15)/10))    (srb-tracer)

    References
    ----------
    srb-tracer, abstract
    levenspiel1999, temperature dependency
    """
    warm = rate_at_temperature(uptake, temperature, q10=q10, reference=REFERENCE_C)
    return oxic_time_days(oxygen, uptake_mg_per_l_day=float(warm))


def removal_first_order(
    travel_days: float, oxic_days: float, rate_per_day: float, temperature: float, q10: float
) -> float:
    """Share of the nitrate that enters which is removed, by the first-order law.

    Parameters
    ----------
    travel_days : float
        Time from line to ditch. [days]
    oxic_days : float
        Until oxygen is low enough. [days]
    rate_per_day : float
        Rate at 15 degC. [1/day]
    temperature : float
        Of the water. [degC]
    q10 : float
        Factor of the rate per 10 degC. [-]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    1 - exp(-k (t - t_oxic))    (levenspiel1999)

    References
    ----------
    levenspiel1999, first-order reaction
    srb-tracer, oxygen first
    """
    rate = float(rate_at_temperature(rate_per_day, temperature, q10=q10, reference=REFERENCE_C))
    days = time_past_oxygen(travel_days, oxic_days)
    return float(1.0 - outlet_nitrate_first_order(1.0, days, rate_per_day=rate))


def removal_zero_order(
    travel_days: float,
    oxic_days: float,
    rate_g_per_m3_day: float,
    porosity: float,
    nitrate_mg_per_l: float,
    temperature: float,
    q10: float,
) -> float:
    """Share of the nitrate that enters which is removed, by the zero-order law.

    Parameters
    ----------
    travel_days : float
        Time from line to ditch. [days]
    oxic_days : float
        Until oxygen is low enough. [days]
    rate_g_per_m3_day : float
        Rate per volume of soil at 15 degC. [g/m3/day]
    porosity : float
        Effective. [-]
    nitrate_mg_per_l : float
        Of the drain water, as N. [mg/L]
    temperature : float
        Of the water. [degC]
    q10 : float
        Factor of the rate per 10 degC. [-]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    min(1, r (t - t_oxic) / (n C))    (levenspiel1999)

    References
    ----------
    levenspiel1999, zero-order reaction
    kellogg2005, rates per weight of soil
    """
    if nitrate_mg_per_l <= 0:
        return 0.0
    rate = rate_at_temperature(rate_g_per_m3_day, temperature, q10=q10, reference=REFERENCE_C)
    days = time_past_oxygen(travel_days, oxic_days)
    left = outlet_nitrate_zero_order(
        nitrate_mg_per_l, days, rate_mg_per_l_day=float(rate) / porosity
    )
    return float(1.0 - left / nitrate_mg_per_l)


def removed_load(annual_load: float, treated_share: float, removal: float) -> float:
    """Nitrate nitrogen that a buffer takes out in a mean year.

    Parameters
    ----------
    annual_load : float
        That reaches it in a mean year. [kg]
    treated_share : float
        Share of the water that enters it. [-]
    removal : float
        Share of the nitrate that enters which is removed. [-]

    Returns
    -------
    float
        Nitrogen. [kg]

    Notes
    -----
    M = load x share x removal    (derived)

    References
    ----------
    derived, a product
    """
    return annual_load * treated_share * removal


def percent_of(share: float) -> float:
    """A share in percent.

    Parameters
    ----------
    share : float
        Share. [-]

    Returns
    -------
    float
        The same. [%]

    Notes
    -----
    100 x share    (derived)

    References
    ----------
    derived, change of units
    """
    return 100.0 * share


def site_of(
    length: float,
    width: float,
    head_line: float,
    head_stream: float,
    conductivity: float,
    porosity: float,
    rate_per_day: float,
    oxic_days: float,
) -> BufferSite:
    """A buffer at its heads, first order.

    Parameters
    ----------
    length, width : float
        Line that feeds, and width of the strip. [m]
    head_line, head_stream : float
        Above the restrictive layer. [m]
    conductivity : float
        Lateral. [m/s]
    porosity : float
        Effective. [-]
    rate_per_day : float
        First-order rate. [1/day]
    oxic_days : float
        Until oxygen is low enough. [days]

    Returns
    -------
    BufferSite

    References
    ----------
    derived, a record
    """
    return BufferSite(
        length,
        width,
        head_line,
        head_stream,
        conductivity,
        porosity,
        rate_per_day=rate_per_day,
        oxic_days=oxic_days,
    )


def best_width_of(site: BufferSite) -> float:
    """Width that removes most where flow always exceeds what the buffer takes.

    Parameters
    ----------
    site : BufferSite
        The buffer. [-]

    Returns
    -------
    float
        Width. [m]

    Notes
    -----
    `best_width_first_order`    (derived)

    References
    ----------
    derived, most of (1/W)(1 - exp(-W^2/W0^2))
    mceachran2020, abstract
    """
    return best_width_first_order(
        head_fall=site.head_line - site.head_stream,
        conductivity=site.conductivity,
        porosity=site.porosity,
        rate_per_day=site.rate_per_day,
        factor=site.factor,
    )
