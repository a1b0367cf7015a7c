# SPDX-License-Identifier: Apache-2.0
"""The clock of carbon: what lies in the chips, what nitrate, oxygen and leaching take in a year.

Denitrification alone hardly empties a bed. Oxygen that comes with the water, carbon that leaves
dissolved, and wood that stands dry between floods take more; each is counted by itself, with how
sure it is. How fast the same chips lose their conductivity is another clock: see `renewal`.
"""

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive, require_share

CARBON_PER_NITROGEN = 1.07
"""Mass of carbon for a mass of nitrate nitrogen, 5 CH2O to 4 NO3. [kg/kg]"""
CARBON_PER_OXYGEN = 0.375
"""Mass of carbon for a mass of oxygen, CH2O to O2, 12 to 32. [kg/kg]"""
OXYGEN_MG_PER_L = 8.0
"""Oxygen of drain water; 7 to 9 in columns fed with it (maxwell2018). [mg/L]"""
DISSOLVED_MG_PER_L = 4.0
"""Dissolved carbon that aged chips let go, 2.8 to 4.6 in columns (maxwell2018). [mg/L]"""
WET_HALF_LIFE_YEARS = 35.0
"""Wood that stays under water, from memory of moorman2010. [years]"""
DRY_HALF_LIFE_YEARS = 4.6
"""Shallow wood, often dry; maxwell2018 quotes moorman2010. [years]"""


def carbon_in_chips(volume: Number, dry_density: Number, carbon_share: Number) -> Number:
    """Carbon that lies in a bed.

    Parameters
    ----------
    volume : float or array
        Of the media. [m3]
    dry_density : float or array
        Dry, in place. [kg/m3]
    carbon_share : float or array
        Of dry wood. [-]

    Returns
    -------
    float or array
        Carbon. [kg]

    Raises
    ------
    OutOfDomain
        If a volume or density is not above zero, or the share is no share.

    Notes
    -----
    C = c w V    (derived)

    References
    ----------
    derived, mass of dry wood times its share of carbon
    """
    require_positive("volume", volume, "m3", "Give the volume of the media")
    require_positive("dry_density", dry_density, "kg/m3", "Give it dry and in place")
    require_share("carbon_share", carbon_share, "Common are 0.47 to 0.50")
    return volume * dry_density * carbon_share


def carbon_for_nitrogen(removed_per_year: Number) -> Number:
    """Carbon that denitrification takes in a year.

    Parameters
    ----------
    removed_per_year : float or array
        Nitrate nitrogen removed in a year. [kg]

    Returns
    -------
    float or array
        Carbon. [kg/year]

    Raises
    ------
    OutOfDomain
        If the removal is negative.

    Notes
    -----
    C = 1.07 N, from 5 CH2O + 4 NO3-    (derived)

    References
    ----------
    derived, stoichiometry; growth of the microbes is not counted
    """
    require_not_negative("removed_per_year", removed_per_year, "kg/year", "Check the loads")
    return CARBON_PER_NITROGEN * removed_per_year


def carbon_for_oxygen(water_per_year: Number, oxygen_mg_per_l: Number) -> Number:
    """Carbon that the oxygen of the water takes in a year.

    Parameters
    ----------
    water_per_year : float or array
        Through the bed in a year. [m3]
    oxygen_mg_per_l : float or array
        Dissolved oxygen of the water that comes. [mg/L]

    Returns
    -------
    float or array
        Carbon. [kg/year]

    Raises
    ------
    OutOfDomain
        If a quantity is negative.

    Notes
    -----
    C = 12/32 O2 V, from CH2O + O2    (derived)

    References
    ----------
    derived, stoichiometry
    maxwell2018, oxygen of 7 to 9 mg/L was gone within an hour
    """
    require_not_negative("water_per_year", water_per_year, "m3", "Check the flow")
    require_not_negative("oxygen_mg_per_l", oxygen_mg_per_l, "mg/L", "Use 8 if in doubt")
    return CARBON_PER_OXYGEN * 1e-3 * oxygen_mg_per_l * water_per_year


def carbon_leached(water_per_year: Number, dissolved_mg_per_l: Number) -> Number:
    """Carbon that leaves dissolved in a year.

    Parameters
    ----------
    water_per_year : float or array
        Through the bed in a year. [m3]
    dissolved_mg_per_l : float or array
        What the water takes up in the bed. [mg/L]

    Returns
    -------
    float or array
        Carbon; more in the first weeks of new chips. [kg/year]

    Raises
    ------
    OutOfDomain
        If a quantity is negative.

    Notes
    -----
    C = c V    (derived)

    References
    ----------
    maxwell2018, 2.8 to 4.6 mg/L from chips five years old
    """
    require_not_negative("water_per_year", water_per_year, "m3", "Check the flow")
    require_not_negative("dissolved_mg_per_l", dissolved_mg_per_l, "mg/L", "Use 4 if in doubt")
    return 1e-3 * dissolved_mg_per_l * water_per_year


def carbon_clock(
    carbon: Number,
    usable_share: Number,
    for_nitrogen: Number,
    for_oxygen: Number,
    leached: Number,
) -> Number:
    """Years until the carbon that can be had is used.

    Parameters
    ----------
    carbon : float or array
        In the chips. [kg]
    usable_share : float or array
        What microbes get before the wood is spent. [-]
    for_nitrogen, for_oxygen, leached : float or array
        Taken in a year. [kg/year]

    Returns
    -------
    float or array
        Years from filling. [years]

    Raises
    ------
    OutOfDomain
        If nothing is taken or the share is no share.

    Notes
    -----
    t = u C / (C_N + C_O2 + C_leached)    (derived)

    Wood that stands dry decays faster; a half of it went in 4.6 years (moorman2010).

    References
    ----------
    derived, what is there over what goes
    moorman2010, wood lost where it was often dry
    """
    require_positive("carbon", carbon, "kg", "Give the carbon in the chips")
    require_share("usable_share", usable_share, "Use 0.5 if in doubt")
    taken = for_nitrogen + for_oxygen + leached
    require_positive("carbon taken", taken, "kg/year", "Give removal or flow")
    return usable_share * carbon / taken


def wood_left(age_years: Number, half_life_years: Number) -> Number:
    """Share of the wood that is left at an age.

    Parameters
    ----------
    age_years : float or array
        Of the chips. [years]
    half_life_years : float or array
        In which half of it goes. [years]

    Returns
    -------
    float or array
        Share. [-]

    Raises
    ------
    OutOfDomain
        If the age is negative or the half-life not above zero.

    Notes
    -----
    left = 2^(-t / T)    (moorman2010)

    References
    ----------
    moorman2010, half-lives of wet and of often dry wood, from memory
    maxwell2018, that of shallow wood as quoted there
    """
    require_not_negative("age_years", age_years, "years", "Count from the day of filling")
    require_positive("half_life_years", half_life_years, "years", "Wet wood has about 35")
    return np.exp2(-np.divide(age_years, half_life_years))[()]
