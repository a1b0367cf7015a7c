# SPDX-License-Identifier: Apache-2.0
"""How deep the frost goes into moist soil after a winter: a check of the depth that a county gives.

The design depth is that of the county. The formula here is remembered, leaves out snow other than
through one factor, and says nothing about chips through which water moves.
"""

from tilewater.basis.domain import Number, require_not_negative, require_positive, require_share

DAY = 86400.0
FUSION = 334e3
"""Heat that a kilogram of water gives up as it freezes. [J/kg]"""
TURF = 0.5
"""Freezing index of a surface of turf under snow over that of the air; from memory. [-]"""
FROZEN_LOAM = 1.7
"""Conductivity of frozen moist loam for heat; from memory. [W/m/K]"""
MOIST_LOAM = 1600.0 * 0.20 * FUSION
"""Heat of freezing of loam of 1,600 kg/m3 with 20 percent of water; from memory. [J/m3]"""


def latent_heat_of_soil(dry_density: Number, moisture: Number) -> Number:
    """Heat that a volume of soil gives up as its water freezes.

    Parameters
    ----------
    dry_density : float or array
        Dry soil in place. [kg/m3]
    moisture : float or array
        Water over dry soil, by weight. [kg/kg]

    Returns
    -------
    float or array
        Heat per volume. [J/m3]

    Raises
    ------
    OutOfDomain
        If the density is not above zero or the moisture negative.

    Notes
    -----
    L = rho w L_f    (aldrich1953)

    References
    ----------
    aldrich1953, latent heat of a soil
    """
    require_positive("dry_density", dry_density, "kg/m3", "Give the dry density in place")
    require_not_negative("moisture", moisture, "", "Give 20 percent as 0.20")
    return dry_density * moisture * FUSION


def frost_depth_stefan(
    freezing_index: Number,
    *,
    surface_factor: Number = TURF,
    heat_conductivity: Number = FROZEN_LOAM,
    latent_heat: Number = MOIST_LOAM,
    coefficient: Number = 1.0,
) -> Number:
    """Depth that frost reaches in moist soil, by its latent heat alone.

    For a look at whether a frost depth and a freezing index belong together, not for design.

    Parameters
    ----------
    freezing_index : float or array
        Days times degrees below freezing of the air, summed over the winter. [degC-day]
    surface_factor : float or array
        Freezing index of the ground surface over that of the air. [-]
    heat_conductivity : float or array
        Conductivity of the frozen soil for heat. [W/m/K]
    latent_heat : float or array
        Heat that the soil gives up as it freezes. [J/m3]
    coefficient : float or array
        Berggren's correction for the heat that the soil holds above freezing, 0 to 1; 1 leaves it
        out, which is Stefan's formula and the deepest. [-]

    Returns
    -------
    float or array
        Depth. [m]

    Raises
    ------
    OutOfDomain
        If the index is negative, a property of the soil not above zero, or the coefficient no
        share.

    Notes
    -----
    z = c sqrt(2 k n I / L),  I in K s    (stefan1891)

    With a coefficient below 1 it is the modified Berggren formula (aldrich1953). Snow, drifting and
    moving ground water are left out; the frost is then less deep.

    References
    ----------
    stefan1891, thickness of ice
    aldrich1953, modified Berggren formula
    """
    require_not_negative("freezing_index", freezing_index, "degC-day", "Give the sum as positive")
    require_positive("surface_factor", surface_factor, "", "Turf under snow has about 0.5")
    require_positive("heat_conductivity", heat_conductivity, "W/m/K", "Give that of frozen soil")
    require_positive("latent_heat", latent_heat, "J/m3", "Give that of the moist soil")
    require_share("coefficient", coefficient, "Give 1 for Stefan's formula")
    seconds = DAY * freezing_index
    return coefficient * (2.0 * heat_conductivity * surface_factor * seconds / latent_heat) ** 0.5
